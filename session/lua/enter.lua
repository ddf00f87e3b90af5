-- Enters a knit-along in its server's index.
--
-- KEYS  1 the server's index (hash)
-- ARGV  1 the knit-along's id   2 its entry: channel, a tab, title; and for one
--       that is closed a tab and "closed"
-- Gives {code}:
--       changed   done
--       same      the entry was so already; nothing was written
local index, id, entry = KEYS[1], ARGV[1], ARGV[2]

if redis.call('HGET', index, id) == entry then
  return {'same'}
end
redis.call('HSET', index, id, entry)
return {'changed'}
