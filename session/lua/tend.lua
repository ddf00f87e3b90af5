-- Enters a knit-along among those that are tended.
--
-- KEYS  1 those of the platform (sorted set)
-- ARGV  1 the knit-along's id   2 the change of its board with which it was opened
-- Gives {code}:
--       tended   done
--       same     it was entered with that change, or a later one; nothing was
--                written
local tended, id, change = KEYS[1], ARGV[1], tonumber(ARGV[2])

local was = redis.call('ZSCORE', tended, id)
if was and tonumber(was) >= change then
  return {'same'}
end
redis.call('ZADD', tended, ARGV[2], id)
return {'tended'}
