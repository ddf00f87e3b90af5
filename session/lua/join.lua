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
--       in         the member is in already; the event alone was remembered
--       repeated   the event was answered before, or has no id and the member is in
--                  already; nothing was written
--    or {code} alone, with nothing written:
--       unknown    there is no such knit-along
local place, board, about = KEYS[1], KEYS[2], KEYS[3]
local member, event = ARGV[1], ARGV[2]

if redis.call('EXISTS', about) == 0 then
  return {'unknown'}
end
local now = current(place, 'event', event)
if now[STORED] or now[JOINED] == '1' and event == '' then
  return reply('repeated', '', now)
end

-- From here on every line may write.
if now[JOINED] == '1' then
  remember(place, now, 'event', event, '')
  return reply('in', '', now)
end
if not now[1] then
  for i = 1, PLACE do
    now[i] = ARGV[2 + i]
  end
  now[DONE], now[SETTINGS] = '0', ARGV[9]
end
now[JOINED] = '1'
remember(place, now, 'event', event, '',
  'section', now[1], 'row', now[2], 'step', now[3], 'revision', now[4], 'size', now[5], 'leftout', now[6],
  'done', now[DONE], 'settings', now[SETTINGS], 'joined', now[JOINED])
redis.call('ZADD', board, now[DONE], member)
return reply('joined', '', now)
