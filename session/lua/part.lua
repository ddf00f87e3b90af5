-- Notes that a person has left a knit-along; what is kept there stays.
--
-- KEYS  1 the person (hash)
-- ARGV  1 the knit-along's id
-- Gives {code}:
--       parted   done
--       same     the person was not in that knit-along; nothing was written
local person, id = KEYS[1], ARGV[1]

local on = redis.call('HGET', person, 'on') == id
if not on and redis.call('HEXISTS', person, 'joined:' .. id) == 0 then
  return {'same'}
end
complete(person)
redis.call('HDEL', person, 'joined:' .. id)
if on then
  redis.call('HDEL', person, 'on')
end
return {'parted'}
