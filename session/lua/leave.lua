-- Takes a member off the board; the place stays for the day of coming back.
--
-- KEYS  1 the member's place (hash)   2 the board (sorted set)
--       3 about the knit-along (hash)
-- ARGV  1 member
-- Gives {code}:
--       left         done
--       not-joined   the member has not joined, or has left; nothing was written
--       unknown      there is no such knit-along; nothing was written
local place, board, about = KEYS[1], KEYS[2], KEYS[3]

local now, refusal = standing(place, about, 'event', '')
if not now then
  return refusal
end
redis.call('HSET', place, 'joined', '0')
redis.call('ZREM', board, ARGV[1])
return {'left'}
