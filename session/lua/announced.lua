-- Notes that a session was announced, which the board that stands does not show yet
-- where the time alone has opened it.
--
-- KEYS  1 about the knit-along (hash)
-- ARGV  1 the session's number   2 when, in ms since 1970
-- Gives {code}:
--       noted        done
--       same         it was noted before; nothing was written
--       no-session   there is no session of that number; nothing was written
--       unknown      there is no such knit-along; nothing was written
local about, number, at = KEYS[1], ARGV[1], ARGV[2]

local kept = redis.call('HMGET', about, 'title', 'session:' .. number, 'announced:' .. number, 'boardmsg')
if not kept[1] then
  return {'unknown'}
end
if not kept[2] then
  return {'no-session'}
end
if kept[3] then
  return {'same'}
end

-- From here on every line may write.
redis.call('HSET', about, 'announced:' .. number, at)
redis.call('HDEL', about, 'claimed:' .. number)
settle(about)
if kept[4] then
  redis.call('HINCRBY', about, 'changes', 1)
end
return {'noted'}
