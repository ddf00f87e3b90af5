-- Counts one stumble over a row, once for each event.
--
-- KEYS  1 the member's place (hash)   2 the stumbles (hash)
--       3 about the knit-along (hash)
-- ARGV  1 event id, '' for none   2 the row's field: row number, a tab, section
-- Gives {code}:
--       counted      done
--       repeated     the event was counted before; nothing was written
--       not-joined   the member has not joined, or has left; nothing was written
--       unknown      there is no such knit-along; nothing was written
local place, stumbles, about = KEYS[1], KEYS[2], KEYS[3]

local now = current(place, 'stumble', ARGV[1])
if not now[1] then
  return absent(about)
end
if now[STORED] then
  return {'repeated'}
end
if now[JOINED] ~= '1' then
  return {'not-joined'}
end
remember(place, now, 'stumble', ARGV[1], '')
redis.call('HINCRBY', stumbles, ARGV[2], 1)
return {'counted'}
