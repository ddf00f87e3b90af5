-- Removes everything that a knit-along holds of a member.
--
-- KEYS  1 the member's place (hash)   2 about the knit-along (hash)
--       3 the roster (hash)           4 the board (sorted set)
--       5 the member's log (list)
-- ARGV  1 member   2 who stands for a host who was forgotten
-- Gives {code, title, then of each '1' where there was one, else '0': the place,
-- the name among the helpers, the name of the host; how many moves there were; and
-- '1' where it is closed, and has a board that is to be shown once more, else '0'}:
--       forgotten   nothing of the member is left, whether there was any or not
local place, about, roster, board, logKey = KEYS[1], KEYS[2], KEYS[3], KEYS[4], KEYS[5]
local member, nobody = ARGV[1], ARGV[2]

local was = redis.call('HMGET', about, 'title', 'host')
local hosted = was[2] == member
local moves = redis.call('LLEN', logKey)

-- From here on every line may write.
local placed = redis.call('DEL', place)
redis.call('DEL', logKey)
local shown = redis.call('ZREM', board, member)
redis.call('HDEL', roster, member)
local helped = redis.call('HDEL', about, 'helper:' .. member)
if hosted then
  redis.call('HSET', about, 'host', nobody)
end
if shown == 1 then
  redis.call('HINCRBY', about, 'changes', 1)
end
local after = redis.call('HMGET', about, 'closed', 'boardmsg', 'changes', 'shown')
local stale = after[1] and after[2] and after[3] ~= after[4]
return {'forgotten', was[1] or '', tostring(placed), tostring(helped), hosted and '1' or '0', tostring(moves),
  stale and '1' or '0'}
