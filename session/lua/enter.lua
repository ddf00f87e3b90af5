-- Enters a knit-along in its server's index.
--
-- KEYS  1 the server's index (hash)
-- ARGV  1 the knit-along's id   2 its entry: channel, a tab, title; and for one
--       that is closed a tab and "closed"
--       3 how many open ones the server may have; '' for one that is closed
-- Gives {code}:
--       changed   done
--       same      the entry was so already; nothing was written
--       crowded   the server has as many open ones as it can have; nothing was
--                 written
local index, id, entry = KEYS[1], ARGV[1], ARGV[2]

if redis.call('HGET', index, id) == entry then
  return {'same'}
end
local most = tonumber(ARGV[3])
if most then
  local all, open = redis.call('HGETALL', index), 0
  for i = 1, #all, 2 do
    local _, tabs = string.gsub(all[i + 1], '\t', '')
    if tabs == 1 and all[i] ~= id then
      open = open + 1
    end
  end
  if open >= most then
    return {'crowded'}
  end
end
redis.call('HSET', index, id, entry)
return {'changed'}
