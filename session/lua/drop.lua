-- Takes a knit-along from among those that are tended.
--
-- KEYS  1 those of the platform (sorted set)
-- ARGV  1 the knit-along's id   2 the change of its board that was the last
-- Gives {code}:
--       dropped   done
--       same      it was not there, or was opened again after that change; nothing
--                 was written
local tended, id, change = KEYS[1], ARGV[1], tonumber(ARGV[2])

local was = redis.call('ZSCORE', tended, id)
if not was or tonumber(was) > change then
  return {'same'}
end
redis.call('ZREM', tended, id)
return {'dropped'}
