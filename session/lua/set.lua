-- Changes some of a member's settings and leaves the others.
--
-- KEYS  1 the member's place (hash)   2 about the knit-along (hash)
-- ARGV  name, value, name, value ...; an empty value removes the setting
-- Gives {code, '', the nine fields}:
--       set          the fields are those after the change
--    or {code} alone, with nothing written:
--       not-joined   the member has not joined, or has left
--       unknown      there is no such knit-along
--
-- The settings field holds one `name=value` a line, in the order of the names,
-- so that the same settings are always the same text.
local place, about = KEYS[1], KEYS[2]

local now, refusal = standing(place, about, 'event', '')
if not now then
  return refusal
end
local values = {}
for name, value in string.gmatch(now[SETTINGS], '([^=\n]+)=([^\n]*)\n') do
  values[name] = value
end
for i = 1, #ARGV, 2 do
  values[ARGV[i]] = ARGV[i + 1]
end
local lines = {}
for name, value in pairs(values) do
  if value ~= '' then
    lines[#lines + 1] = name .. '=' .. value .. '\n'
  end
end
table.sort(lines)
local settings = table.concat(lines)
if settings ~= now[SETTINGS] then
  redis.call('HSET', place, 'settings', settings)
  now[SETTINGS] = settings
end
return reply('set', '', now)
