-- Takes back a member's newest move that was not taken back yet.
--
-- KEYS  1 the member's place (hash)   2 about the knit-along (hash)
--       3 the roster (hash)           4 the board (sorted set)
--       5 the member's log (list)
-- ARGV  1 member   2 event id, '' for none
--       3-8 the place to leave and 9-14 the place to return to: section, row,
--       step (from 0), revision (from 1), size, rows left out
--       15 unused: the stitches done come back with the place   16 how   17 when,
--       in ms since 1970   18 the answer to store with the event   19 the member's
--       name, '' to keep what was known   20 stitches of the whole pattern, used
--       where none came back with the place; '' for not known
--       21 '1' where the answer tells what has changed, else ''
--       22 '1' where it tells to rest, else ''
-- Gives {code, stored answer, the state's fields}:
--       moved      the fields are those after the move was taken back
--       repeated   the event was answered before; nothing was written
--       stale      the member is not at the place to leave, or there is no move
--                  whose taking back leads to the place to return to; nothing
--                  was written
--    or {code} alone, with nothing written:
--       not-joined   the member has not joined, or has left
--       unknown      there is no such knit-along
local place, about, roster, board, logKey = KEYS[1], KEYS[2], KEYS[3], KEYS[4], KEYS[5]
local member, event, how, at, answer = ARGV[1], ARGV[2], ARGV[16], ARGV[17], ARGV[18]

local now, refusal = standing(place, about, 'event', event, 3)
if not now then
  return refusal
end
local left, all, slot = undoable(place, now)
if not left or differs(left, 9) then
  return reply('stale', '', now)
end
local to = after(now)
for i = 1, DONE do
  to[i] = left[i]
end
if known(all) then
  to[ALL] = all
elseif ARGV[20] ~= '' then
  to[ALL] = ARGV[20]
elseif to[4] ~= now[4] or to[5] ~= now[5] or to[6] ~= now[6] then
  to[ALL] = '0' -- it was counted for another pattern, or another size of it
end
said(to, ARGV[19], ARGV[21], ARGV[22], at)
moving(to, at)

-- From here on every line may write.
redis.call('HDEL', place, 'undo#' .. slot)
save(place, about, roster, member, now, to, 'event', event, answer, 'undo', (slot - 1) % UNDOS)
if now[DONE] ~= to[DONE] then
  redis.call('ZADD', board, to[DONE], member)
end
log(logKey, at, how, now, to)
return reply('moved', '', to)
