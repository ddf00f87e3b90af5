-- Takes back a member's newest move that was not taken back yet.
--
-- KEYS  1 the member's place (hash)   2 the member's log (list)
--       3 the board (sorted set)      4 about the knit-along (hash)
-- ARGV  1 member   2 event id, '' for none
--       3-8 the place that the caller believes the member to be at: section,
--       row, step (from 0), revision (from 1), size, rows left out
--       9 when, in ms since 1970
-- Gives {code, stored answer, the nine fields}:
--       moved      the fields are those after the move was taken back
--       repeated   the event was answered before; nothing was written
--       stale      the member is somewhere else; nothing was written
--       nothing    there is no move to take back; nothing was written
--    or {code} alone, with nothing written:
--       not-joined   the member has not joined, or has left
--       unknown      there is no such knit-along
local place, logKey, board, about = KEYS[1], KEYS[2], KEYS[3], KEYS[4]
local member, event, at = ARGV[1], ARGV[2], ARGV[9]

local now, refusal = standing(place, about, 'event', event, 3)
if not now then
  return refusal
end
local to, slot = undoable(place, now)
if not to then
  return reply('nothing', '', now)
end

-- From here on every line may write.
to[SETTINGS], to[JOINED] = now[SETTINGS], now[JOINED]
redis.call('HDEL', place, 'undo#' .. slot)
remember(place, now, 'event', event, '',
  'section', to[1], 'row', to[2], 'step', to[3], 'revision', to[4], 'size', to[5], 'leftout', to[6],
  'done', to[DONE], 'undo', (slot - 1) % UNDOS)
if now[DONE] ~= to[DONE] then
  redis.call('ZADD', board, to[DONE], member)
end
log(logKey, at, 'undo', now, to)
return reply('moved', '', to)
