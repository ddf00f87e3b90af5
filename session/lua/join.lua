-- Lets a member join, or come back after leaving. A place that is there is kept.
--
-- KEYS  1 the member's place (hash)   2 the board (sorted set)
--       3 about the knit-along (hash)
-- ARGV  1 member   2 event id, '' for none
--       3-8 the place to start from: section, row, step (from 0), revision
--       (from 1), size, rows left out
--       9 settings, as the settings field holds them
-- Gives {code, '', the nine fields}:
--       joined     the fields are those after joining
--       repeated   the event was answered before, or the member is in already;
--                  nothing was written
--    or {code} alone, with nothing written:
--       unknown    there is no such knit-along
local place, board, about = KEYS[1], KEYS[2], KEYS[3]
local member, event = ARGV[1], ARGV[2]

if redis.call('EXISTS', about) == 0 then
  return {'unknown'}
end
local now = current(place)
if now[JOINED] == '1' or known(place, 'event', event) then
  return reply('repeated', '', now)
end

-- From here on every line may write.
if not now[1] then
  for i = 1, PLACE do
    now[i] = ARGV[2 + i]
  end
  now[DONE], now[SETTINGS] = '0', ARGV[9]
end
now[JOINED] = '1'
local values = {}
for i, field in ipairs(FIELDS) do
  values[2 * i - 1], values[2 * i] = field, now[i]
end
redis.call('HSET', place, unpack(values))
redis.call('ZADD', board, now[DONE], member)
remember(place, 'event', event, '')
return reply('joined', '', now)
