-- Takes a member off the board; the place stays for the day of coming back.
--
-- KEYS  1 the member's place (hash)   2 the board (sorted set)
--       3 about the knit-along (hash)
-- ARGV  1 member   2 event id, '' for none
-- Gives {code}:
--       left         done
--       not-joined   the member has not joined, or has left; nothing was written
--       unknown      there is no such knit-along; nothing was written
--    or {code, '1' for one who has joined, '0' for one who has left}:
--       repeated     the event was answered before; nothing was written
local place, board, about = KEYS[1], KEYS[2], KEYS[3]
local member, event = ARGV[1], ARGV[2]

local now, refusal = standing(place, about, 'event', event)
if not now then
  if refusal[1] == 'repeated' then
    return {'repeated', refusal[2 + JOINED]}
  end
  return refusal
end
remember(place, now, 'event', event, '', 'joined', '0')
redis.call('ZREM', board, member)
return {'left'}
