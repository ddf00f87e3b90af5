-- Takes back a member's newest move that was not taken back yet.
--
-- KEYS  1 the member's place (hash)   2 the member's log (list)
--       3 the board (sorted set)      4 about the knit-along (hash)
-- ARGV  1 member   2 event id, '' for none
--       3-8 the place to leave and 9-14 the place to return to: section, row,
--       step (from 0), revision (from 1), size, rows left out
--       15 unused: the stitches done come back with the place   16 how   17 when,
--       in ms since 1970   18 the answer to store with the event
-- Gives {code, stored answer, the nine fields}:
--       moved      the fields are those after the move was taken back
--       repeated   the event was answered before; nothing was written
--       stale      the member is not at the place to leave, or there is no move
--                  whose taking back leads to the place to return to; nothing
--                  was written
--    or {code} alone, with nothing written:
--       not-joined   the member has not joined, or has left
--       unknown      there is no such knit-along
local place, logKey, board, about = KEYS[1], KEYS[2], KEYS[3], KEYS[4]
local member, event, how, at, answer = ARGV[1], ARGV[2], ARGV[16], ARGV[17], ARGV[18]

local now, refusal = standing(place, about, 'event', event, 3)
if not now then
  return refusal
end
local to, slot = undoable(place, now)
if not to or differs(to, 9) then
  return reply('stale', '', now)
end

-- From here on every line may write.
to[SETTINGS], to[JOINED] = now[SETTINGS], now[JOINED]
redis.call('HDEL', place, 'undo#' .. slot)
remember(place, now, 'event', event, answer,
  'section', to[1], 'row', to[2], 'step', to[3], 'revision', to[4], 'size', to[5], 'leftout', to[6],
  'done', to[DONE], 'undo', (slot - 1) % UNDOS)
if now[DONE] ~= to[DONE] then
  redis.call('ZADD', board, to[DONE], member)
end
log(logKey, at, how, now, to)
return reply('moved', '', to)
