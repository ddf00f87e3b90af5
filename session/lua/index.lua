-- Put before every script that works on a person's hash.
--
-- The hash holds `on`, `units` and `voice`; `joined:<id>` and `told:<id>`, in ms
-- since 1970, for each knit-along joined and not left, or told of and not joined;
-- and `kept:<id>` for each in which anything of the person may be kept, with `kept`
-- where those are complete. One of an earlier version has no `kept` yet.

-- complete enters in the index what an earlier version knew.
local function complete(person)
  if redis.call('HEXISTS', person, 'kept') == 1 then
    return
  end
  for _, field in ipairs(redis.call('HKEYS', person)) do
    local id = string.match(field, '^joined:(.*)$') or string.match(field, '^told:(.*)$')
    if id then
      redis.call('HSET', person, 'kept:' .. id, '1')
    end
  end
  redis.call('HSET', person, 'kept', '1')
end

-- has tells whether the hash has a field that begins so.
local function has(person, opening)
  for _, field in ipairs(redis.call('HKEYS', person)) do
    if string.sub(field, 1, #opening) == opening then
      return true
    end
  end
  return false
end

