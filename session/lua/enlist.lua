-- Notes that a person has joined a knit-along, in place of having been told of it.
--
-- KEYS  1 the person (hash)
-- ARGV  1 the knit-along's id   2 when, in ms since 1970
-- Gives {code}:
--       enlisted   done; the person is on it where it is the only one joined, and
--                  else on none
--       same       the person is in that knit-along already; nothing was written,
--                  but that something is kept there, where that was not known
local person, id, at = KEYS[1], ARGV[1], ARGV[2]

local joined = redis.call('HEXISTS', person, 'joined:' .. id) == 1
if joined and redis.call('HEXISTS', person, 'kept:' .. id) == 1 then
  return {'same'}
end
local only = not has(person, 'joined:')

-- From here on every line may write.
complete(person)
redis.call('HSET', person, 'kept:' .. id, '1')
if joined then
  return {'same'}
end
redis.call('HSET', person, 'joined:' .. id, at)
redis.call('HDEL', person, 'told:' .. id)
if only then
  redis.call('HSET', person, 'on', id)
else
  redis.call('HDEL', person, 'on')
end
return {'enlisted'}
