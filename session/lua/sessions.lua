-- Put before every script that works on the sessions of a knit-along.
--
-- They are fields of the hash about it, so that whoever reads that reads all at
-- one moment: `session:1` and on hold opens, first row, its section, last row, its
-- section and title, parted by tabs; opens is in ms since 1970, 0 where a host
-- opens it. `announced:1` is when the session was announced, `claimed:1` when a
-- process has last set out to. `due` is when the earliest opens that is not
-- announced; it is missing where none is known. `changes` counts what changed on
-- the board.

-- sessions reads them, in order, each with the time that it is open by: its own,
-- or that of a later one where that comes first, since no session is open before
-- those ahead of it are. It is nil for one that waits for a host.
local function sessions(about)
  local list = {}
  while true do
    local n = #list + 1
    local one = redis.call('HMGET', about, 'session:' .. n, 'announced:' .. n, 'claimed:' .. n)
    if not one[1] then
      break
    end
    list[n] = {text = one[1], announced = one[2], claimed = one[3]}
    list[n].opens, list[n].rest = string.match(one[1], '^(%d+)\t(.*)$')
  end
  local by
  for n = #list, 1, -1 do
    local opens = list[n].opens
    if opens ~= '0' and (not by or tonumber(opens) < tonumber(by)) then
      by = opens
    end
    list[n].by = by
  end
  return list
end

-- open tells whether a session is open at a time.
local function open(one, at)
  return one.by and tonumber(one.by) <= tonumber(at)
end

-- settle makes `due` agree with the sessions.
local function settle(about)
  for _, one in ipairs(sessions(about)) do
    if one.by and not one.announced then
      redis.call('HSET', about, 'due', one.by)
      return
    end
  end
  redis.call('HDEL', about, 'due')
end

-- same tells whether the sessions read are the arguments from ARGV[first] on.
local function same(was, first)
  if #was ~= #ARGV - first + 1 then
    return false
  end
  for n, one in ipairs(was) do
    if one.text ~= ARGV[first + n - 1] then
      return false
    end
  end
  return true
end

-- replace puts the arguments from ARGV[first] on in place of the sessions read.
local function replace(about, was, first)
  local most = #ARGV - first + 1
  for n = 1, most do
    redis.call('HSET', about, 'session:' .. n, ARGV[first + n - 1])
  end
  for n = most + 1, #was do
    redis.call('HDEL', about, 'session:' .. n, 'announced:' .. n, 'claimed:' .. n)
  end
  settle(about)
end
