-- Removes everything that a knit-along holds of a member.
--
-- KEYS  1 the member's place (hash)   2 the member's log (list)
--       3 the board (sorted set)       4 about the knit-along (hash)
-- ARGV  1 member
-- Gives {code}:
--       forgotten   nothing of the member is left, whether there was any or not
redis.call('DEL', KEYS[1], KEYS[2])
redis.call('ZREM', KEYS[3], ARGV[1])
redis.call('HDEL', KEYS[4], 'helper:' .. ARGV[1])
return {'forgotten'}
