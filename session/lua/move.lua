-- Moves a member from one place to another, once for each event.
--
-- KEYS  1 the member's place (hash)   2 about the knit-along (hash)
--       3 the roster (hash)           4 the board (sorted set)
--       5 the member's log (list)
-- ARGV  1 member   2 event id, '' for none
--       3-8 the place to leave and 9-14 the place to reach: section, row,
--       step (from 0), revision (from 1), size, rows left out
--       15 stitches done at the place reached   16 how   17 when, in ms since
--       1970   18 the answer to store with the event   19 the member's name and
--       20 stitches of the whole pattern, each '' to keep what was known
--       21 '1' where the answer tells what has changed, else ''
--       22 '1' where it tells to rest, else ''
-- Gives {code, stored answer, the state's fields}:
--       moved      the fields are those after the move
--       repeated   the event was answered before; nothing was written
--       stale      the member is not at the place to leave; nothing was written
--    or {code} alone, with nothing written:
--       not-joined   the member has not joined, or has left
--       unknown      there is no such knit-along
local place, about, roster, board, logKey = KEYS[1], KEYS[2], KEYS[3], KEYS[4], KEYS[5]
local member, event, done, how, at, answer = ARGV[1], ARGV[2], ARGV[15], ARGV[16], ARGV[17], ARGV[18]

local now, refusal = standing(place, about, 'event', event, 3)
if not now then
  return refusal
end
local to = after(now)
for i = 1, PLACE do
  to[i] = ARGV[8 + i]
end
to[DONE] = done
if ARGV[20] ~= '' then
  to[ALL] = ARGV[20]
end
said(to, ARGV[19], ARGV[21], ARGV[22], at)

-- From here on every line may write.
if not differs(now, 9) and now[DONE] == done then
  save(place, about, roster, member, now, to, 'event', event, answer)
  return reply('moved', '', to) -- the same place: nothing for undo to take back
end
moving(to, at)
local slot = (tonumber(now[UNDO] or '0') + 1) % UNDOS
save(place, about, roster, member, now, to, 'event', event, answer,
  'undo', slot, 'undo#' .. slot, table.concat(now, '\t', 1, DONE) .. '\t' .. (now[ALL] or ''))
if now[DONE] ~= done then
  redis.call('ZADD', board, done, member)
end
log(logKey, at, how, now, to)
return reply('moved', '', to)
