-- Claims the announcement of a session.
--
-- KEYS  1 about the knit-along (hash)
-- ARGV  1 when, in ms since 1970   2 for how long a claim is good, in ms
-- Gives {code}:
--       none      no session has opened that is neither announced nor claimed, or
--                 the knit-along is closed; nothing was written
--       unknown   there is no such knit-along; nothing was written
--    or {code, number, the session as lua/sessions.lua has it, what it is open by}:
--       claimed   done
local about, at, lease = KEYS[1], ARGV[1], tonumber(ARGV[2])

local kept = redis.call('HMGET', about, 'title', 'closed')
if not kept[1] then
  return {'unknown'}
end
if kept[2] then
  return {'none'}
end
for n, one in ipairs(sessions(about)) do
  local claimed = one.claimed and tonumber(at) - tonumber(one.claimed) < lease
  if open(one, at) and not one.announced and not claimed then
    redis.call('HSET', about, 'claimed:' .. n, at)
    return {'claimed', tostring(n), one.text, one.by}
  end
end
return {'none'}
