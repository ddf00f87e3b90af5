-- Closes a knit-along, or opens it again.
--
-- KEYS  1 about the knit-along (hash)
-- ARGV  1 '1' to close it, '' to open it
-- Gives {code, server, channel, title}:
--       changed   done
--       same      it was so already; nothing was written
--    or {code} alone:
--       unknown   there is no such knit-along; nothing was written
local about, closed = KEYS[1], ARGV[1]

local was = redis.call('HMGET', about, 'server', 'channel', 'title', 'closed')
if not was[3] then
  return {'unknown'}
end
if (was[4] or '') == closed then
  return {'same', unpack(was, 1, 3)}
end
if closed == '' then
  redis.call('HDEL', about, 'closed')
else
  redis.call('HSET', about, 'closed', closed)
end
redis.call('HINCRBY', about, 'changes', 1)
return {'changed', unpack(was, 1, 3)}
