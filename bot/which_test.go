package bot

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"clew/session"
)

// Knit-alongs are told of by title, and those of one title are told apart by when
// they were started. A thousand take no longer than a thousand names do.
func TestTitlesOf(t *testing.T) {
	begun := time.Date(2031, 10, 4, 19, 30, 0, 0, time.UTC)
	at := func(id, title string, minutes int) session.About {
		return session.About{ID: id, Title: title, Started: begun.Add(time.Duration(minutes) * time.Minute)}
	}
	of := []session.About{at("d", "hat", 3), at("a", "Mat", 0), at("c", "Hat", 1), at("b", "Hat!", 3)}
	sortByTitle(of)
	if found, want := titlesOf(of), []string{"Hat the first", "Hat the second", "hat the third", "Mat"}; !slices.Equal(found, want) {
		t.Errorf("found %q, expected %q", found, want)
	}
	many := make([]session.About, 1000)
	for i := range many {
		many[i] = at(fmt.Sprint("k", i), fmt.Sprint("Hat number ", i), i)
	}
	names := testing.AllocsPerRun(1, func() {
		for _, about := range many {
			bare(titleOf(about))
		}
	})
	if all := testing.AllocsPerRun(1, func() { titlesOf(many) }); all > 3*names {
		t.Errorf("titles of a thousand take %v allocations, their names alone %v", all, names)
	}
}
