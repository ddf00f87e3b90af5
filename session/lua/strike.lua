-- Takes knit-alongs in which nothing of a person is kept any more off what is kept
-- of the person, who goes with the last one.
--
-- KEYS  1 the person (hash)
-- ARGV  1- the knit-alongs' ids
-- Gives {code}:
--       gone     nothing of the person is left, whether there was any or not
--       struck   done, and something is kept in another knit-along
local person = KEYS[1]

if redis.call('EXISTS', person) == 0 then
  return {'gone'}
end
complete(person)
for _, id in ipairs(ARGV) do
  redis.call('HDEL', person, 'kept:' .. id, 'joined:' .. id, 'told:' .. id)
  if redis.call('HGET', person, 'on') == id then
    redis.call('HDEL', person, 'on')
  end
end
if has(person, 'kept:') then
  return {'struck'}
end
redis.call('DEL', person)
return {'gone'}
