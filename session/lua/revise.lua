-- Adds a revision of the pattern and makes it the current one.
--
-- KEYS  1 about the knit-along (hash)   2 its revisions (list)
-- ARGV  1 the pattern's text
-- Gives {code, the current revision}:
--       revised   the text was added
--       same      the current revision has this very text; nothing was written
--    or {code} alone:
--       unknown   there is no such knit-along; nothing was written
local revision = redis.call('HGET', KEYS[1], 'revision')
if not revision then
  return {'unknown'}
end
if redis.call('LINDEX', KEYS[2], -1) == ARGV[1] then
  return {'same', revision}
end
revision = tostring(redis.call('RPUSH', KEYS[2], ARGV[1]))
redis.call('HSET', KEYS[1], 'revision', revision)
return {'revised', revision}
