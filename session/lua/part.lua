-- Takes one knit-along off what is kept of a person.
--
-- KEYS  1 the person (hash)
-- ARGV  1 the knit-along's id
--       2 'all' to remove also that the person was told of it, and the person with
--       the last knit-along joined; else ''
-- Gives {code}:
--       parted   done
--       same     the person was not in that knit-along, and nothing was changed
local person, id = KEYS[1], ARGV[1]

local changed = redis.call('HDEL', person, 'joined:' .. id)
if redis.call('HGET', person, 'on') == id then
  changed = redis.call('HDEL', person, 'on')
end
if ARGV[2] == 'all' then
  changed = math.max(changed, redis.call('HDEL', person, 'told:' .. id))
  for _, field in ipairs(redis.call('HKEYS', person)) do
    if string.sub(field, 1, 7) == 'joined:' then
      return {changed == 1 and 'parted' or 'same'}
    end
  end
  changed = math.max(changed, redis.call('DEL', person))
end
return {changed == 1 and 'parted' or 'same'}
