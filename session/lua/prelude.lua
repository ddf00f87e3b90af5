-- Put before every script that works on a member's place hash.
--
-- The hash holds the fields of MEMBER, of which those that are not known are
-- missing; `undo`, the slot of the newest move that can be taken back, with
-- `undo#0` to `undo#49`, the places left by those moves; and for each kind of event
-- (`event`, `stumble`) the slot of the newest one under the kind's name, `<kind>#0`
-- to `<kind>#15` the ids, and `<kind>:<id>` the answer given to it. No text that a field holds has a
-- control character in it, so tabs can part them where several share one value.
--
-- The roster has a card for each member who is in, made of these fields, so that
-- nobody has to read every place to see how far the group is. `changes` of the
-- knit-along counts what the group's board would show otherwise than before.

local PLACE = 6 -- the first six fields say where the member is
local ROW, DONE, SETTINGS, JOINED, ALL, TOLD, MOVED, SINCE, RESTED = 2, 7, 8, 9, 10, 11, 12, 13, 14
local FIELDS = 14 -- those that make up a reply
local NAME, ENTERED, SEEN, STUCK, STUCKAT = 15, 16, 17, 18, 19
local MEMBER = {
  'section', 'row', 'step', 'revision', 'size', 'leftout', -- where the member is
  'done', 'settings', 'joined', -- stitches done; name=value a line; '1' or '0'
  'all', -- stitches of the whole pattern
  'told', -- the newest revision whose changes the member was told of
  'moved', 'since', 'rested', -- ms: the newest move, the first since a break, told to rest
  'name', -- as others see it
  'entered', 'seen', -- ms: the newest joining, and the newest request
  'stuck', 'stuckat', -- ms: asked for help, and where: section, a tab, row
}
local UNDO, NEWEST, STORED = 20, 21, 22
local UNDOS = 50
local EVENTS = 16
local LOGGED = 200
local BREAK = 600000 -- ms without a move

-- current reads the fields of MEMBER, every one false when there is no hash; the
-- newest slots; and the answer stored with an event of a kind, false when the
-- event is new or its id empty, for none is stored under that. A member of whom it
-- was never noted what she was told of knows the revision that she knits.
local function current(place, kind, id)
  local now = redis.call('HMGET', place,
    'section', 'row', 'step', 'revision', 'size', 'leftout', 'done', 'settings', 'joined',
    'all', 'told', 'moved', 'since', 'rested', 'name', 'entered', 'seen', 'stuck', 'stuckat',
    'undo', kind, kind .. ':' .. id)
  now[TOLD] = now[TOLD] or now[4]
  return now
end

-- reply is what every script here returns: a code, the answer stored with a
-- repeated event (else empty), then the fields that make up a state.
local function reply(code, answer, now)
  return {code, answer, unpack(now, 1, FIELDS)}
end

-- known tells whether a figure for the stitches of the whole pattern is one.
local function known(all)
  return all and all ~= '' and all ~= '0'
end

-- later gives the later of two times in ms; either may be false for none.
local function later(a, b)
  if not a or b and tonumber(b) > tonumber(a) then
    return b
  end
  return a
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
-- there, as the first seven fields are; the stitches of the whole pattern there, nil
-- where an earlier version kept the move; and the move's slot. It gives nil where
-- there is no move to take back.
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
  local all = table.remove(to, DONE + 1)
  return to, all, slot
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

-- after gives what a member's fields are to be, for a script to change.
local function after(now)
  return {unpack(now, 1, STUCKAT)}
end

-- visible gives what others may see of a member on the board.
local function visible(of)
  local hidden = string.find('\n' .. (of[SETTINGS] or ''), '\nboard=hidden\n', 1, true) and '1' or ''
  return table.concat({of[NAME] or '', hidden, of[1], of[ROW], of[DONE], of[ALL] or ''}, '\t')
end

-- card gives a member's card: what is visible (name, '1' for hidden, section, row,
-- done, all), revision, size, entered, seen, stuck, and the section and the row of
-- stuckat. What is not known is empty.
local function card(of, shown)
  return table.concat({shown, of[4], of[5], of[ENTERED] or '', of[SEEN] or '', of[STUCK] or '', of[STUCKAT] or '\t'}, '\t')
end

-- save makes of a member's fields those that they are to be, stores an event's
-- answer, and renews the member's card. Further fields and values may follow.
local function save(place, about, roster, member, now, to, kind, event, answer, ...)
  local fields = {...}
  for i, name in ipairs(MEMBER) do
    if to[i] and to[i] ~= now[i] or i == TOLD then
      fields[#fields + 1] = name
      fields[#fields + 1] = to[i]
    end
  end
  remember(place, now, kind, event, answer, unpack(fields))
  local shown = visible(to)
  if to[JOINED] == '1' then
    redis.call('HSET', roster, member, card(to, shown))
  else
    redis.call('HDEL', roster, member)
  end
  if now[JOINED] ~= to[JOINED] or visible(now) ~= shown then
    redis.call('HINCRBY', about, 'changes', 1)
  end
end

-- said makes what an answer says part of the fields that are to be: the member's
-- name and the stitches of the whole pattern, each '' to keep what was known; that
-- the answer tells what has changed up to the revision reached, and that it tells to
-- rest, each '1' or ''; and when.
local function said(to, name, told, rests, at)
  if name ~= '' then
    to[NAME] = name
  end
  if told == '1' and tonumber(to[4]) > tonumber(to[TOLD]) then
    to[TOLD] = to[4]
  end
  if rests == '1' then
    to[RESTED] = later(to[RESTED], at)
  end
  to[SEEN] = later(to[SEEN], at)
end

-- moving notes that a member moved: the moves since the last break go on, or begin.
local function moving(to, at)
  if not to[SINCE] or tonumber(at) - tonumber(to[MOVED]) >= BREAK then
    to[SINCE] = at
  end
  to[MOVED] = later(to[MOVED], at)
end

-- log adds one move to the member's log: when, how, the place left, the place
-- reached, and the stitches done at either.
local function log(key, at, how, from, to)
  local entry = {at, how, table.concat(from, '\t', 1, PLACE), table.concat(to, '\t', 1, PLACE), from[DONE], to[DONE]}
  if redis.call('LPUSH', key, table.concat(entry, '\t')) > LOGGED then
    redis.call('LTRIM', key, 0, LOGGED - 1)
  end
end
