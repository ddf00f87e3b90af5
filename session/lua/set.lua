-- Changes some of a member's settings and leaves the others.
--
-- KEYS  1 the member's place (hash)   2 about the knit-along (hash)
--       3 the roster (hash)
-- ARGV  1 member   2 event id, '' for none
--       3- name, value, name, value ...; an empty value removes the setting
-- Gives {code, stored answer, the state's fields}:
--       set          the fields are those after the change
--       repeated     the event was answered before; nothing was written
--    or {code} alone, with nothing written:
--       not-joined   the member has not joined, or has left
--       unknown      there is no such knit-along
--
-- The settings field holds one `name=value` a line, in the order of the names,
-- so that the same settings are always the same text.
local place, about, roster = KEYS[1], KEYS[2], KEYS[3]
local member, event = ARGV[1], ARGV[2]

local now, refusal = standing(place, about, 'event', event)
if not now then
  return refusal
end
local values = {}
for name, value in string.gmatch(now[SETTINGS], '([^=\n]+)=([^\n]*)\n') do
  values[name] = value
end
for i = 3, #ARGV, 2 do
  values[ARGV[i]] = ARGV[i + 1]
end
local lines = {}
for name, value in pairs(values) do
  if value ~= '' then
    lines[#lines + 1] = name .. '=' .. value .. '\n'
  end
end
table.sort(lines)
local to = after(now)
to[SETTINGS] = table.concat(lines)

-- From here on every line may write.
save(place, about, roster, member, now, to, 'event', event, '')
return reply('set', '', to)
