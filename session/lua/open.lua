-- Opens a session, with those ahead of it that are not open yet.
--
-- KEYS  1 about the knit-along (hash)
-- ARGV  1 the session's number   2 when, in ms since 1970
-- Gives {code}:
--       opened       done
--       same         it was open by then; nothing was written
--       no-session   there is no session of that number; nothing was written
--       unknown      there is no such knit-along; nothing was written
local about, number, at = KEYS[1], tonumber(ARGV[1]), ARGV[2]

if redis.call('EXISTS', about) == 0 then
  return {'unknown'}
end
local list = sessions(about)
if not list[number] then
  return {'no-session'}
end
if open(list[number], at) then
  return {'same'}
end

-- From here on every line may write.
for n = 1, number do
  if not open(list[n], at) then
    redis.call('HSET', about, 'session:' .. n, at .. '\t' .. list[n].rest)
  end
end
settle(about)
redis.call('HINCRBY', about, 'changes', 1)
return {'opened'}
