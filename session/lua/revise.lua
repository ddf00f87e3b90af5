-- Adds a revision of the pattern and makes it the current one.
--
-- KEYS  1 about the knit-along (hash)   2 its revisions (list)
-- ARGV  1 the pattern's text   2 'keep' for the sessions that there are, else
--       'replace'   3- with that, the sessions, as lua/sessions.lua has them; a
--       session of a number that there was opens when it did
-- Gives {code, the current revision}:
--       revised   the text was added
--       same      the current revision has this very text; nothing was written
--    or {code} alone:
--       unknown   there is no such knit-along; nothing was written
local about, revisions = KEYS[1], KEYS[2]

local revision = redis.call('HGET', about, 'revision')
if not revision then
  return {'unknown'}
end
if redis.call('LINDEX', revisions, -1) == ARGV[1] then
  return {'same', revision}
end
local was = sessions(about)

-- From here on every line may write.
revision = tostring(redis.call('RPUSH', revisions, ARGV[1]))
redis.call('HSET', about, 'revision', revision)
if ARGV[2] == 'replace' then
  for n = 1, math.min(#was, #ARGV - 2) do -- a host may have opened one meanwhile
    ARGV[2 + n] = string.gsub(ARGV[2 + n], '^%d+', was[n].opens)
  end
  replace(about, was, 3)
end
redis.call('HINCRBY', about, 'changes', 1)
return {'revised', revision}
