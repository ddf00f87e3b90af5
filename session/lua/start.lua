-- Starts a knit-along with the first revision of its pattern.
--
-- KEYS  1 about the knit-along (hash)   2 its revisions (list)
-- ARGV  1 title   2 host   3 server, '' for none   4 channel
--       5 when, in ms since 1970   6 the pattern's text
--       7 the time zone, '' for none   8 '1' to hold rows back, else ''
--       9- the sessions, as lua/sessions.lua has them
-- Gives {code}:
--       started   done
--       exists    there is a knit-along of that id; nothing was written
local about, revisions = KEYS[1], KEYS[2]

if redis.call('EXISTS', about) == 1 then
  return {'exists'}
end
redis.call('HSET', about, 'title', ARGV[1], 'host', ARGV[2], 'server', ARGV[3], 'channel', ARGV[4], 'started', ARGV[5],
  'revision', '1')
for i, field in ipairs({'zone', 'hold'}) do
  if ARGV[6 + i] ~= '' then
    redis.call('HSET', about, field, ARGV[6 + i])
  end
end
redis.call('RPUSH', revisions, ARGV[6])
replace(about, {}, 9)
return {'started'}
