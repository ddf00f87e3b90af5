-- Notes that a member asks for help where she is, once for each event.
--
-- KEYS  1 the member's place (hash)   2 about the knit-along (hash)
--       3 the roster (hash)
-- ARGV  1 member   2 event id, '' for none   3 when, in ms since 1970
-- Gives {code, stored answer, the state's fields}:
--       stuck        done
--       repeated     the event was answered before; nothing was written
--    or {code} alone, with nothing written:
--       not-joined   the member has not joined, or has left
--       unknown      there is no such knit-along
local place, about, roster = KEYS[1], KEYS[2], KEYS[3]
local member, event, at = ARGV[1], ARGV[2], ARGV[3]

local now, refusal = standing(place, about, 'event', event)
if not now then
  return refusal
end
local to = after(now)
to[STUCK], to[STUCKAT] = at, now[1] .. '\t' .. now[ROW]
to[SEEN] = later(to[SEEN], at)
save(place, about, roster, member, now, to, 'event', event, '')
return reply('stuck', '', to)
