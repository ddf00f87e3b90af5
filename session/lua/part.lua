-- Notes that a person has left knit-alongs; what is kept there stays.
--
-- KEYS  1 the person (hash)
-- ARGV  1- the knit-alongs' ids
-- Gives {code}:
--       parted   done
--       same     the person was in none of them; nothing was written
local person = KEYS[1]

local gone, on = {}, redis.call('HGET', person, 'on')
for _, id in ipairs(ARGV) do
  if redis.call('HEXISTS', person, 'joined:' .. id) == 1 then
    gone[#gone + 1] = 'joined:' .. id
  end
  if on == id then
    gone[#gone + 1] = 'on'
  end
end
if #gone == 0 then
  return {'same'}
end
complete(person)
redis.call('HDEL', person, unpack(gone))
return {'parted'}
