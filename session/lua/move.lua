-- Moves a member from one place to another, once for each event.
--
-- KEYS  1 the member's place (hash)   2 the member's log (list)
--       3 the board (sorted set)      4 about the knit-along (hash)
-- ARGV  1 member   2 event id, '' for none
--       3-8 the place to leave and 9-14 the place to reach: section, row,
--       step (from 0), revision (from 1), size, rows left out
--       15 stitches done at the place reached   16 how   17 when, in ms since
--       1970   18 the answer to store with the event
-- Gives {code, stored answer, the nine fields}:
--       moved      the fields are those after the move
--       repeated   the event was answered before; nothing was written
--       stale      the member is not at the place to leave; nothing was written
--    or {code} alone, with nothing written:
--       not-joined   the member has not joined, or has left
--       unknown      there is no such knit-along
local place, logKey, board, about = KEYS[1], KEYS[2], KEYS[3], KEYS[4]
local member, event, done, how, at, answer = ARGV[1], ARGV[2], ARGV[15], ARGV[16], ARGV[17], ARGV[18]

local now, refusal = standing(place, about, 'event', event, 3)
if not now then
  return refusal
end

-- From here on every line may write.
local to = {}
for i = 1, PLACE do
  to[i] = ARGV[8 + i]
end
to[DONE], to[SETTINGS], to[JOINED] = done, now[SETTINGS], now[JOINED]
if not differs(now, 9) and now[DONE] == done then
  remember(place, now, 'event', event, answer)
  return reply('moved', '', to) -- the same place: nothing for undo to take back
end
local slot = (tonumber(now[UNDO] or '0') + 1) % UNDOS
remember(place, now, 'event', event, answer,
  'section', to[1], 'row', to[2], 'step', to[3], 'revision', to[4], 'size', to[5], 'leftout', to[6],
  'done', done, 'undo', slot, 'undo#' .. slot, table.concat(now, '\t', 1, DONE))
if now[DONE] ~= done then
  redis.call('ZADD', board, done, member)
end
log(logKey, at, how, now, to)
return reply('moved', '', to)
