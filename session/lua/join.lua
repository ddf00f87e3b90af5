-- Lets a member join, or come back after leaving. A place that is there is kept.
--
-- KEYS  1 the member's place (hash)   2 about the knit-along (hash)
--       3 the roster (hash)           4 the board (sorted set)
-- ARGV  1 member   2 event id, '' for none
--       3-8 the place to start from: section, row, step (from 0), revision
--       (from 1), size, rows left out
--       9 settings, as the settings field holds them   10 when, in ms since 1970
--       11 the member's name and 12 stitches of the whole pattern, each '' to keep
--       what was known
-- Gives {code, '', the state's fields}:
--       joined     the fields are those after joining
--       in         the member is in already; the event, the name and the time alone
--                  were noted
--       repeated   the event was answered before, or has no id and the member is in
--                  already; nothing was written
--    or {code} alone, with nothing written:
--       unknown    there is no such knit-along
local place, about, roster, board = KEYS[1], KEYS[2], KEYS[3], KEYS[4]
local member, event, at, name, all = ARGV[1], ARGV[2], ARGV[10], ARGV[11], ARGV[12]

if redis.call('EXISTS', about) == 0 then
  return {'unknown'}
end
local now = current(place, 'event', event)
if now[STORED] or now[JOINED] == '1' and event == '' then
  return reply('repeated', '', now)
end
local to, code = after(now), 'in'
if not now[1] then
  for i = 1, PLACE do
    to[i] = ARGV[2 + i]
  end
  to[DONE], to[SETTINGS], to[TOLD] = '0', ARGV[9], to[4]
end
-- The place may be another than the one to start from; then so are the stitches.
if all ~= '' and not known(to[ALL]) and to[4] == ARGV[6] and to[5] == ARGV[7] and to[6] == ARGV[8] then
  to[ALL] = all
end
said(to, name, '', '', at)
if now[JOINED] ~= '1' then
  code, to[JOINED], to[ENTERED] = 'joined', '1', at
end

-- From here on every line may write.
save(place, about, roster, member, now, to, 'event', event, '')
if code == 'joined' then
  redis.call('ZADD', board, to[DONE], member)
end
return reply(code, '', to)
