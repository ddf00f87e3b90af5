-- Takes a member off the board; the place stays for the day of coming back.
--
-- KEYS  1 the member's place (hash)   2 about the knit-along (hash)
--       3 the roster (hash)           4 the board (sorted set)
-- ARGV  1 member   2 event id, '' for none
-- Gives {code}:
--       left         done
--       not-joined   the member has not joined, or has left; nothing was written
--       unknown      there is no such knit-along; nothing was written
--    or {code, '1' for one who has joined, '0' for one who has left}:
--       repeated     the event was answered before; nothing was written
local place, about, roster, board = KEYS[1], KEYS[2], KEYS[3], KEYS[4]
local member, event = ARGV[1], ARGV[2]

local now, refusal = standing(place, about, 'event', event)
if not now then
  if refusal[1] == 'repeated' then
    return {'repeated', refusal[2 + JOINED]}
  end
  return refusal
end
local to = after(now)
to[JOINED] = '0'
save(place, about, roster, member, now, to, 'event', event, '')
redis.call('ZREM', board, member)
return {'left'}
