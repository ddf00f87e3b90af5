-- Notes what of the board is shown, and by which message.
--
-- KEYS  1 about the knit-along (hash)
-- ARGV  1 the change that is shown   2 the message, '' for none
-- Gives {code}:
--       shown     done
--       same      that, or a later change, was noted before; nothing was written
--       unknown   there is no such knit-along; nothing was written
local about, change, message = KEYS[1], ARGV[1], ARGV[2]

local kept = redis.call('HMGET', about, 'title', 'shown', 'boardmsg')
if not kept[1] then
  return {'unknown'}
end
local shown = kept[2] or '0'
if tonumber(change) < tonumber(shown) or change == shown and message == (kept[3] or '') then
  return {'same'}
end

-- From here on every line may write.
redis.call('HSET', about, 'shown', change)
if message == '' then
  redis.call('HDEL', about, 'boardmsg')
  if kept[3] then
    redis.call('HSET', about, 'boardwas', kept[3])
  end
else
  redis.call('HSET', about, 'boardmsg', message)
end
return {'shown'}
