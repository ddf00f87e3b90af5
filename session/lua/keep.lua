-- Enters a knit-along in the index of those in which something of a person is kept.
--
-- KEYS  1 the person (hash)
-- ARGV  1 the knit-along's id
-- Gives {code}:
--       kept   done
--       same   it was entered already; nothing was written
local person, field = KEYS[1], 'kept:' .. ARGV[1]

if redis.call('HEXISTS', person, field) == 1 then
  return {'same'}
end
complete(person)
redis.call('HSET', person, field, '1')
return {'kept'}
