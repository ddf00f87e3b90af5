-- Starts a knit-along with the first revision of its pattern.
--
-- KEYS  1 about the knit-along (hash)   2 its revisions (list)
-- ARGV  1 title   2 host   3 server, '' for none   4 channel
--       5 when, in ms since 1970   6 the pattern's text
-- Gives {code}:
--       started   done
--       exists    there is a knit-along of that id; nothing was written
if redis.call('EXISTS', KEYS[1]) == 1 then
  return {'exists'}
end
redis.call('HSET', KEYS[1], 'title', ARGV[1], 'host', ARGV[2], 'server', ARGV[3], 'channel', ARGV[4], 'started', ARGV[5],
  'revision', '1')
redis.call('RPUSH', KEYS[2], ARGV[6])
return {'started'}
