-- Put before every script that works on a member's place hash.
--
-- The hash holds the nine fields below; `undo`, the slot of the newest move
-- that can be taken back, with `undo#0` to `undo#49`, the places left by those
-- moves; and for each kind of event (`event`, `stumble`) the slot of the newest
-- one under the kind's name, `<kind>#0` to `<kind>#15` the ids, and `<kind>:<id>`
-- the answer given to it. No text that a field holds has a control character
-- in it, so tabs can part them where several share one value.

local FIELDS = {'section', 'row', 'step', 'revision', 'size', 'leftout', 'done', 'settings', 'joined'}
local PLACE = 6 -- the first six fields say where the member is
local DONE, SETTINGS, JOINED = 7, 8, 9
local UNDOS = 50
local EVENTS = 16
local LOGGED = 200

-- current reads the nine fields; every one is false when there is no hash.
local function current(place)
  return redis.call('HMGET', place, unpack(FIELDS))
end

-- reply is what every script here returns: a code, the answer stored with a
-- repeated event (else empty), then the nine fields.
local function reply(code, answer, now)
  return {code, answer, unpack(now)}
end

-- absent tells why a member has no place: nobody of that name joined, or there
-- is no such knit-along.
local function absent(about)
  if redis.call('EXISTS', about) == 0 then
    return {'unknown'}
  end
  return {'not-joined'}
end

-- known gives the answer stored with an event, or false when it is new.
local function known(place, kind, id)
  if id == '' then
    return false
  end
  return redis.call('HGET', place, kind .. ':' .. id)
end

-- differs tells whether the member is somewhere else than the six arguments
-- from ARGV[first] on say.
local function differs(now, first)
  for i = 1, PLACE do
    if now[i] ~= ARGV[first + i - 1] then
      return true
    end
  end
  return false
end

-- remember stores an event's answer and forgets the sixteenth before it.
local function remember(place, kind, id, answer)
  if id == '' then
    return
  end
  local slot = (tonumber(redis.call('HGET', place, kind) or '0') + 1) % EVENTS
  local oldest = redis.call('HGET', place, kind .. '#' .. slot)
  if oldest then
    redis.call('HDEL', place, kind .. ':' .. oldest)
  end
  redis.call('HSET', place, kind, slot, kind .. '#' .. slot, id, kind .. ':' .. id, answer)
end

-- log adds one move to the member's log: when, how, the place left and the
-- place reached.
local function log(key, at, how, from, to)
  local entry = {at, how, table.concat(from, '\t', 1, PLACE), table.concat(to, '\t', 1, PLACE)}
  if redis.call('LPUSH', key, table.concat(entry, '\t')) > LOGGED then
    redis.call('LTRIM', key, 0, LOGGED - 1)
  end
end
