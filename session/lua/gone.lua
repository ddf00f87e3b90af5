-- Notes that the message with the board is not there any more.
--
-- KEYS  1 about the knit-along (hash)
-- ARGV  1 the message
-- Gives {code}:
--       noted     done
--       same      the board is in no such message; nothing was written
--       unknown   there is no such knit-along; nothing was written
local about, message = KEYS[1], ARGV[1]

local kept = redis.call('HMGET', about, 'title', 'boardmsg')
if not kept[1] then
  return {'unknown'}
end
if kept[2] ~= message then
  return {'same'}
end
redis.call('HDEL', about, 'boardmsg')
redis.call('HSET', about, 'boardwas', message)
redis.call('HINCRBY', about, 'changes', 1)
return {'noted'}
