-- Notes that a person was told of knit-alongs, as the newest of those.
--
-- KEYS  1 the person (hash)
-- ARGV  1 when, in ms since 1970   2 how many are kept
--       3 how long one counts as told of just now, in ms   4- the ids
-- Gives {code}:
--       told   done
--       same   of each the person was told just now, or is in it; nothing was
--              written
local person, at, most, just = KEYS[1], tonumber(ARGV[1]), tonumber(ARGV[2]), tonumber(ARGV[3])

local told, newest = {}, 0
local fields = redis.call('HGETALL', person)
local joined = {}
for i = 1, #fields, 2 do
  if string.sub(fields[i], 1, 5) == 'told:' then
    local one = {id = string.sub(fields[i], 6), at = tonumber(fields[i + 1])}
    told[#told + 1], told[one.id], newest = one, one, math.max(newest, one.at)
  elseif string.sub(fields[i], 1, 7) == 'joined:' then
    joined[string.sub(fields[i], 8)] = true
  end
end
local new = {}
for i = 4, #ARGV do
  local one = told[ARGV[i]]
  if not joined[ARGV[i]] and not (one and one.at == newest and at - one.at < just) then
    new[#new + 1] = ARGV[i]
  end
end
if #new == 0 then
  return {'same'}
end

-- From here on every line may write. No two calls note the same time, so that it
-- can be told which came last.
complete(person)
at = string.format('%d', math.max(at, newest + 1))
for _, id in ipairs(new) do
  redis.call('HSET', person, 'told:' .. id, at)
  if not told[id] then
    told[#told + 1] = {id = id}
  end
  told[id] = nil
end
for _, one in ipairs(told) do
  one.at = tonumber(redis.call('HGET', person, 'told:' .. one.id))
end
table.sort(told, function(a, b) return a.at > b.at or a.at == b.at and a.id < b.id end)
for i = most + 1, #told do
  redis.call('HDEL', person, 'told:' .. told[i].id)
end
return {'told'}
