-- Claims an edit of the board.
--
-- KEYS  1 about the knit-along (hash)
-- ARGV  1 when, in ms since 1970   2 the least time between two claims, in ms
-- Gives {code}:
--       none      the board has not changed since it was shown, or the last claim
--                 is not that long ago; nothing was written
--       unknown   there is no such knit-along; nothing was written
--    or {code, the change to be shown, the message to edit, '' for none, the change
--    shown last, the message that has or had the board last, '' for none}:
--       claimed   done
local about, at, spacing = KEYS[1], ARGV[1], tonumber(ARGV[2])

local kept = redis.call('HMGET', about, 'title', 'changes', 'shown', 'edited', 'boardmsg', 'boardwas')
if not kept[1] then
  return {'unknown'}
end
local changes, edited = kept[2] or '0', kept[4]
if changes == (kept[3] or '0') or edited and tonumber(at) - tonumber(edited) < spacing then
  return {'none'}
end
redis.call('HSET', about, 'edited', at)
return {'claimed', changes, kept[5] or '', kept[3] or '0', kept[5] or kept[6] or ''}
