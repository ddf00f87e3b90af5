-- Makes the cards of members who joined before there were any, and gives them.
--
-- KEYS  1 the roster (hash)   2 the board (sorted set)
--       3- for each member the place (hash) and the log (list)
-- ARGV  1- the members, in the order of their places
-- Gives {'cards', the members' cards}; a card is '' for one who is not in.
local roster, board = KEYS[1], KEYS[2]

local cards = {'cards'}
for i, member in ipairs(ARGV) do
  local place, logKey = KEYS[2 * i + 1], KEYS[2 * i + 2]
  local made = redis.call('HGET', roster, member) or ''
  if made == '' and redis.call('ZSCORE', board, member) then
    local now = current(place, 'event', '')
    if now[1] then
      local newest = redis.call('LINDEX', logKey, 0)
      if newest and not now[SEEN] then
        now[SEEN] = string.match(newest, '^[^\t]*')
        redis.call('HSET', place, 'seen', now[SEEN])
      end
      made = card(now, visible(now))
      redis.call('HSET', roster, member, made)
    end
  end
  cards[#cards + 1] = made
end
return cards
