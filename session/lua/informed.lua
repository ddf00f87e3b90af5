-- Notes that a member was told what a revision of the pattern has changed.
--
-- KEYS  1 the member's place (hash)   2 about the knit-along (hash)
-- ARGV  1 the revision (from 1)
-- Gives {code}:
--       told         done, or she was told of it or of a later one before
--       not-joined   the member has not joined, or has left; nothing was written
--       unknown      there is no such knit-along; nothing was written
local place, about = KEYS[1], KEYS[2]

local now, refusal = standing(place, about, 'event', '')
if not now then
  return refusal
end
if tonumber(ARGV[1]) > tonumber(now[TOLD]) then
  redis.call('HSET', place, 'told', ARGV[1])
end
return {'told'}
