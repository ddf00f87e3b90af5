-- Counts one stumble over a row, once for each event.
--
-- KEYS  1 the member's place (hash)   2 about the knit-along (hash)
--       3 the stumbles (hash)
-- ARGV  1 event id, '' for none   2 the field to count in: row number, a tab,
--       section, a tab, kind
-- Gives {code}:
--       counted      done
--       repeated     the event was counted before; nothing was written; an empty
--                    text and the state's fields follow
--       not-joined   the member has not joined, or has left; nothing was written
--       unknown      there is no such knit-along; nothing was written
local place, about, stumbles = KEYS[1], KEYS[2], KEYS[3]

local now, refusal = standing(place, about, 'stumble', ARGV[1])
if not now then
  return refusal
end
remember(place, now, 'stumble', ARGV[1], '')
redis.call('HINCRBY', stumbles, ARGV[2], 1)
return {'counted'}
