-- Put before every script that works on a member's place hash.
--
-- The hash holds the first nine fields that current reads; `undo`, the slot of
-- the newest move that can be taken back, with `undo#0` to `undo#49`, the places
-- left by those moves; and for each kind of event (`event`, `stumble`) the slot
-- of the newest one under the kind's name, `<kind>#0` to `<kind>#15` the ids,
-- and `<kind>:<id>` the answer given to it. No text that a field holds has a
-- control character in it, so tabs can part them where several share one value.

local PLACE = 6 -- the first six fields say where the member is
local DONE, SETTINGS, JOINED = 7, 8, 9
local FIELDS = 9 -- those that make up a reply
local UNDO, NEWEST, STORED = 10, 11, 12
local UNDOS = 50
local EVENTS = 16
local LOGGED = 200

-- current reads the nine fields, every one false when there is no hash; the
-- newest slots; and the answer stored with an event of a kind, false when the
-- event is new or its id empty, for none is stored under that.
local function current(place, kind, id)
  return redis.call('HMGET', place,
    'section', 'row', 'step', 'revision', 'size', 'leftout', 'done', 'settings', 'joined',
    'undo', kind, kind .. ':' .. id)
end

-- reply is what every script here returns: a code, the answer stored with a
-- repeated event (else empty), then the nine fields.
local function reply(code, answer, now)
  return {code, answer, unpack(now, 1, FIELDS)}
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

-- standing reads the place of a member who is in, as current does. Where nothing
-- can be done for the member it gives nil and the reply that refuses: unknown (no
-- such knit-along), not-joined, repeated (the event was answered before), or, where
-- ARGV[believed] on names the place that the caller believes in, stale. The reply
-- to an event answered before comes first, for the member may have left since.
local function standing(place, about, kind, event, believed)
  local now = current(place, kind, event)
  if not now[1] then
    return nil, {redis.call('EXISTS', about) == 0 and 'unknown' or 'not-joined'}
  end
  if now[STORED] then
    return nil, reply('repeated', now[STORED], now)
  end
  if now[JOINED] ~= '1' then
    return nil, {'not-joined'}
  end
  if believed and differs(now, believed) then
    return nil, reply('stale', '', now)
  end
  return now
end

-- undoable gives the place that the newest move left, with the stitches done
-- there, as the first seven fields are, and the move's slot; nil where there is
-- no move to take back.
local function undoable(place, now)
  local slot = tonumber(now[UNDO] or '0')
  local left = redis.call('HGET', place, 'undo#' .. slot)
  if not left then
    return nil
  end
  local to = {}
  for value in string.gmatch(left .. '\t', '([^\t]*)\t') do
    to[#to + 1] = value
  end
  return to, slot
end

-- remember stores an event's answer, with the fields and values given, and
-- forgets the sixteenth event before it.
local function remember(place, now, kind, id, answer, ...)
  if id == '' then
    if select('#', ...) > 0 then
      redis.call('HSET', place, ...)
    end
    return
  end
  local slot = (tonumber(now[NEWEST] or '0') + 1) % EVENTS
  local oldest = redis.call('HGET', place, kind .. '#' .. slot)
  if oldest then
    redis.call('HDEL', place, kind .. ':' .. oldest)
  end
  redis.call('HSET', place, kind, slot, kind .. '#' .. slot, id, kind .. ':' .. id, answer, ...)
end

-- log adds one move to the member's log: when, how, the place left and the
-- place reached.
local function log(key, at, how, from, to)
  local entry = {at, how, table.concat(from, '\t', 1, PLACE), table.concat(to, '\t', 1, PLACE)}
  if redis.call('LPUSH', key, table.concat(entry, '\t')) > LOGGED then
    redis.call('LTRIM', key, 0, LOGGED - 1)
  end
end
