-- Takes a knit-along out of the index of those in which something of a person is
-- kept, where it was entered for what then was not to be. One that the person is in
-- or was told of stays.
--
-- KEYS  1 the person (hash)
-- ARGV  1 the knit-along's id
-- Gives {code}:
--       unkept   done
--       same     it stays; nothing was written
local person, id = KEYS[1], ARGV[1]

if redis.call('HEXISTS', person, 'joined:' .. id) == 1 or redis.call('HEXISTS', person, 'told:' .. id) == 1 then
  return {'same'}
end
redis.call('HDEL', person, 'kept:' .. id)
if redis.call('HLEN', person) == 1 and redis.call('HEXISTS', person, 'kept') == 1 then
  redis.call('DEL', person) -- nothing is kept, and that alone is not worth keeping
end
return {'unkept'}
