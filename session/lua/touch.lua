-- Counts a change of the board, so that it is shown anew.
--
-- KEYS  1 about the knit-along (hash)
-- Gives {code}:
--       touched   done
--       unknown   there is no such knit-along; nothing was written
if redis.call('EXISTS', KEYS[1]) == 0 then
  return {'unknown'}
end
redis.call('HINCRBY', KEYS[1], 'changes', 1)
return {'touched'}
