-- Gives the place that taking back a member's newest move would return to. It
-- writes nothing.
--
-- KEYS  1 the member's place (hash)   2 about the knit-along (hash)
-- Gives {code, the six fields of that place}:
--       undoable     it is that place
--    or {code} alone:
--       nothing      there is no move to take back
--       not-joined   the member has not joined, or has left
--       unknown      there is no such knit-along
local place, about = KEYS[1], KEYS[2]

local now, refusal = standing(place, about, 'event', '')
if not now then
  return refusal
end
local to = undoable(place, now)
if not to then
  return {'nothing'}
end
return {'undoable', unpack(to, 1, PLACE)}
