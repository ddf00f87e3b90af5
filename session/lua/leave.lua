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

local now = current(place, 'event', '')
if not now[1] then
  return absent(about)
end
if now[JOINED] ~= '1' then
  return {'not-joined'}
end
redis.call('HSET', place, 'joined', '0')
redis.call('ZREM', board, ARGV[1])
return {'left'}
