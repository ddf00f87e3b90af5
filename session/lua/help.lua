-- Names a member a helper of a knit-along, or dismisses one.
--
-- KEYS  1 about the knit-along (hash)
-- ARGV  1 member   2 'names' or 'dismisses'   3 the most helpers that there may be
-- Gives {code}:
--       helped    done, or it was so already
--       full      there are as many helpers as there may be; nothing was written
--       unknown   there is no such knit-along; nothing was written
local about, field, names, most = KEYS[1], 'helper:' .. ARGV[1], ARGV[2] == 'names', tonumber(ARGV[3])

if redis.call('EXISTS', about) == 0 then
  return {'unknown'}
end
if not names then
  redis.call('HDEL', about, field)
  return {'helped'}
end
local helpers = 0
for _, name in ipairs(redis.call('HKEYS', about)) do
  if name == field then
    return {'helped'}
  end
  if string.sub(name, 1, 7) == 'helper:' then
    helpers = helpers + 1
  end
end
if helpers >= most then
  return {'full'}
end
redis.call('HSET', about, field, '1')
return {'helped'}
