-- Replaces the sessions of a knit-along.
--
-- KEYS  1 about the knit-along (hash)
-- ARGV  1 the time zone, '' for none   2 '1' to hold rows back, else ''
--       3- the sessions, as lua/sessions.lua has them
-- Gives {code}:
--       scheduled   done
--       same        they were so already; nothing was written
--       unknown     there is no such knit-along; nothing was written
local about = KEYS[1]

local kept = redis.call('HMGET', about, 'title', 'zone', 'hold')
if not kept[1] then
  return {'unknown'}
end
local was = sessions(about)
if (kept[2] or '') == ARGV[1] and (kept[3] or '') == ARGV[2] and same(was, 3) then
  return {'same'}
end

-- From here on every line may write.
for i, field in ipairs({'zone', 'hold'}) do
  if ARGV[i] == '' then
    redis.call('HDEL', about, field)
  else
    redis.call('HSET', about, field, ARGV[i])
  end
end
replace(about, was, 3)
redis.call('HINCRBY', about, 'changes', 1)
return {'scheduled'}
