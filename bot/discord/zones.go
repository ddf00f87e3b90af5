package discord

import (
	"slices"
	"strings"
	"sync"

	"clew/bot"
	"clew/bot/discord/rest"
)

// A zone is a time zone, with its name as it is searched.
type zone struct{ name, whole, place string }

var zones = sync.OnceValue(func() []zone {
	var all []zone
	for _, name := range bot.Zones() {
		whole := foldZone(name)
		all = append(all, zone{name, whole, whole[strings.LastIndexByte(whole, '/')+1:]})
	}
	return all
})

// foldZone gives a name as people may type it: in small letters, with spaces.
func foldZone(name string) string { return strings.ToLower(strings.ReplaceAll(name, "_", " ")) }

// zonesLike suggests time zones by what has been typed: first those whose place
// begins with it, then those whose name does, then those that have it in them.
func zonesLike(typed string) []rest.Suggestion {
	typed = foldZone(typed)
	var ranks [3][]rest.Suggestion
	for _, z := range zones() {
		rank := 2
		switch {
		case strings.HasPrefix(z.place, typed):
			rank = 0
		case strings.HasPrefix(z.whole, typed):
			rank = 1
		case !strings.Contains(z.whole, typed):
			continue
		}
		ranks[rank] = append(ranks[rank], rest.Suggestion{Name: z.name, Value: z.name})
	}
	found := slices.Concat(ranks[:]...)
	return found[:min(len(found), rest.MaxSuggestions)]
}
