-- Takes one knit-along off what is kept of a person.
--
-- KEYS  1 the person (hash)
-- ARGV  1 the knit-along's id
--       2 'all' to remove the person with the last knit-along, else ''
-- Gives {code}:
--       parted   done, whether there was anything to do or not
local person, id = KEYS[1], ARGV[1]

redis.call('HDEL', person, 'joined:' .. id)
if redis.call('HGET', person, 'on') == id then
  redis.call('HDEL', person, 'on')
end
if ARGV[2] == 'all' then
  for _, field in ipairs(redis.call('HKEYS', person)) do
    if string.sub(field, 1, 7) == 'joined:' then
      return {'parted'}
    end
  end
  redis.call('DEL', person)
end
return {'parted'}
