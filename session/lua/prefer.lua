-- Changes what a person prefers; an empty value leaves that one as it was.
--
-- KEYS  1 the person (hash)
-- ARGV  1 the knit-along that the person is on   2 units   3 voice
-- Gives {code}:
--       preferred    done
--       not-joined   the person has not joined that knit-along; nothing was written
local person, on = KEYS[1], ARGV[1]

if on ~= '' and redis.call('HEXISTS', person, 'joined:' .. on) == 0 then
  return {'not-joined'}
end
for i, field in ipairs({'on', 'units', 'voice'}) do
  if ARGV[i] ~= '' and redis.call('HGET', person, field) ~= ARGV[i] then
    redis.call('HSET', person, field, ARGV[i])
  end
end
return {'preferred'}
