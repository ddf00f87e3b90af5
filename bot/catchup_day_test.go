package bot

import (
	"strings"
	"testing"
	"time"

	"clew/reader/listen"
)

// The days are worked out by hand on the calendar of 2026 and after; the clocks of
// Amsterdam go back on the twenty-fifth of October 2026.
func TestDayOf(t *testing.T) {
	zone := zoneOf("Europe/Amsterdam")
	saturday := time.Date(2026, 10, 24, 19, 30, 0, 0, zone)
	for name, c := range map[string]struct {
		day  listen.Day
		want string
	}{
		"today":              {listen.Day{HasIn: true}, "2026-10-24"},
		"over the change":    {listen.Day{HasIn: true, In: 2}, "2026-10-26"},
		"the same weekday":   {listen.Day{HasWeekday: true, Weekday: time.Saturday}, "2026-10-31"},
		"sunday":             {listen.Day{HasWeekday: true, Weekday: time.Sunday}, "2026-10-25"},
		"friday week":        {listen.Day{HasWeekday: true, Weekday: time.Friday, Week: 1}, "2026-11-06"},
		"the third":          {listen.Day{Date: 3}, "2026-11-03"},
		"the thirty-first":   {listen.Day{Date: 31}, "2026-10-31"},
		"of a month past":    {listen.Day{Date: 1, Month: time.March}, "2027-03-01"},
		"of this month":      {listen.Day{Date: 24, Month: time.October}, "2026-10-24"},
		"leap day":           {listen.Day{Date: 29, Month: time.February}, "2028-02-29"},
		"with a year":        {listen.Day{Date: 5, Month: time.May, Year: 2027}, "2027-05-05"},
		"no such day at all": {listen.Day{Date: 31, Month: time.April}, "2026-10-24"},
	} {
		if found := dayOf(c.day, saturday).Format(time.DateOnly); found != c.want {
			t.Errorf("%s: found %s, expected %s", name, found, c.want)
		}
	}
}

func TestWithinWords(t *testing.T) {
	passages := func() []passage {
		return []passage{{0, []string{"One two."}}, {5, []string{"Three four five.", "Three.", ""}}, {9, []string{"Six seven.", ""}}}
	}
	for most, want := range map[int]string{
		7: "One two. Three four five. Six seven.", 6: "One two. Three four five.", 5: "One two. Three four five.", 4: "One two. Three.", 2: "One two.", 1: "One two.",
	} {
		if found := withinWords(passages(), most); found != want {
			t.Errorf("%d words: found %q, expected %q", most, found, want)
		}
	}
}

// A part is told piece by piece, as many at once as there are words for.
func TestInFullInPieces(t *testing.T) {
	fifty := strings.Repeat("word ", 49) + "word."
	p := part{name: "pieces", tell: func(*way) []string { return []string{fifty, fifty, fifty, fifty, strings.Repeat(fifty+" ", 9)} }}
	w := &way{talk: &talk{plan: capPlan(t, "small")}}
	for from, want := range []int{3, 4, 4, 4, 0, 0} {
		said, next := w.inFull(p, from)
		if next != want || (next > 0) != strings.Contains(said, "Say tell me more to go on.") {
			t.Errorf("from %d: found %d as the next, expected %d: %s", from, next, want, said)
		}
	}
}
