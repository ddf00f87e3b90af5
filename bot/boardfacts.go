package bot

import (
	"cmp"
	"slices"
	"time"

	"golang.org/x/text/collate"
	"golang.org/x/text/language"

	"clew/patterns"
	"clew/session"
)

// namedMost is how many members may have joined for the board to name them. Of
// more, nobody listens to all the names.
const namedMost = 25

// A spot is where in the pattern somebody is, in the order in which it is worked and
// whatever the size: the section's place among all, and the number of the row in it.
// The zero spot is before the first row.
type spot struct {
	section int // from 1
	row     int
}

func (s spot) compare(other spot) int {
	return cmp.Or(cmp.Compare(s.section, other.section), cmp.Compare(s.row, other.row))
}

// A knitter is a member as the board shows one.
type knitter struct {
	name     string // as the platform shows it; anything at all
	hidden   bool
	finished bool
	at       session.RowID // Row is 0 before the first row
	spot     spot
	done     float64 // the share of her stitches that is worked, 0 to 1; below 0 where it is not known
}

// boardFacts is what a board tells, of whatever length.
type boardFacts struct {
	about    session.About
	now      time.Time
	pattern  *patterns.Pattern
	places   map[string]int // of the sections, by name, from 1
	knitters []knitter      // all; by name where they are few enough to be named
	hidden   int            // how many of them wish not to be named
	finished int            // how many have worked all of it
	open     *openFacts
	planned  *session.Session // none is open, and this one is the first to be; else nil
	middle   *knitter         // half of the knitters are where this one is, or further; nil where it is not told
	share    float64          // how far the pattern is open, 0 to 1 of the stitches; 0 says nothing of it
}

// openFacts is how the group stands against the open session.
type openFacts struct {
	session.Session
	in, end int // how many are in it, and how many have come to its last row or further
}

// several says that there are so many knitters that what is told of the group
// tells nothing of one of them.
func (f *boardFacts) several() bool { return len(f.knitters) > 2 }

// named says that there are few enough to be named.
func (f *boardFacts) named() bool { return len(f.knitters) <= namedMost }

// factsOf works out what the board tells of a knit-along at a moment. The plan is
// that of the current text in its first size: sizes differ by stitches, and it says
// how far a session goes.
func factsOf(about session.About, entrants []session.Entrant, p *plan, now time.Time) *boardFacts {
	f := &boardFacts{about: about, now: now, pattern: p.Pattern, places: map[string]int{}, knitters: make([]knitter, len(entrants))}
	for i, s := range p.Pattern.Sections {
		f.places[s.Name] = i + 1
	}
	for i, e := range entrants {
		k := f.knitter(e)
		f.knitters[i] = k
		f.hidden += count(k.hidden)
		f.finished += count(k.finished)
	}
	if f.named() {
		sortByName(f.knitters)
	}
	if f.several() {
		f.middle = f.median()
	}
	if about.Closed {
		return f
	}
	if open, ok := about.Opened(now); ok {
		f.open = f.standing(open)
		f.share = p.shareUpTo(open.Last)
	} else if first, ok := about.NextToOpen(now); ok {
		f.planned = &first
	}
	return f
}

func count(one bool) int {
	if one {
		return 1
	}
	return 0
}

func (f *boardFacts) knitter(e session.Entrant) knitter {
	k := knitter{name: e.Name, hidden: e.Hidden, at: e.RowID, done: -1}
	if e.All > 0 {
		k.done = float64(e.Done) / float64(e.All)
		k.finished = e.Done >= e.All
	}
	switch {
	case k.finished:
		k.spot = spot{section: len(f.pattern.Sections) + 1}
	case e.Row > 0:
		k.spot = f.spotOf(e.RowID)
		f.withhold(&k)
	}
	return k
}

// withhold shows one who is at a row that is held back at the last that is open:
// rows may be held back after somebody has come to them.
func (f *boardFacts) withhold(k *knitter) {
	if !f.about.Hold {
		return
	}
	open, _ := f.about.Opened(f.now)
	if last := f.spotOf(open.Last); k.spot.compare(last) > 0 {
		k.at, k.spot = open.Last, last
	}
}

// spotOf gives where a row is. One whose section is not in the current text any more
// is before the first: she is led to a row of it when she next asks.
func (f *boardFacts) spotOf(at session.RowID) spot {
	if place := f.places[at.Section]; place > 0 {
		return spot{place, at.Row}
	}
	return spot{}
}

// sortByName orders knitters as people look names up, whatever the script, and those
// of no name last; equal names by how they are spelled, and then by where they are,
// so that a board that has not changed reads the same.
func sortByName(knitters []knitter) {
	order := collate.New(language.English)
	slices.SortStableFunc(knitters, func(a, b knitter) int {
		one, other := visible(a.name), visible(b.name)
		return cmp.Or(count(one == "")-count(other == ""), order.CompareString(one, other), cmp.Compare(a.name, b.name), a.spot.compare(b.spot))
	})
}

// median gives a knitter whose row at least half of all are at, or past; nil where
// that would tell the row of one who is hidden: it could be known by the names of all
// the others.
func (f *boardFacts) median() *knitter {
	order := make([]*knitter, len(f.knitters))
	for i := range order {
		order[i] = &f.knitters[i]
	}
	slices.SortFunc(order, func(a, b *knitter) int {
		return cmp.Or(b.spot.compare(a.spot), count(b.hidden)-count(a.hidden))
	})
	order = order[(len(order)-1)/2:]
	if !f.named() || !order[0].hidden {
		return order[0]
	}
	i := slices.IndexFunc(order, func(k *knitter) bool { return !k.hidden })
	if i < 0 || order[i].at.Row == 0 { // it is not true that half are at the beginning
		return nil
	}
	return order[i]
}

// standing counts how the group stands against a session.
func (f *boardFacts) standing(s session.Session) *openFacts {
	open := &openFacts{Session: s}
	first, last := f.spotOf(s.First), f.spotOf(s.Last)
	for _, k := range f.knitters {
		switch {
		case k.spot.compare(last) >= 0:
			open.end++
		case k.spot.compare(first) >= 0:
			open.in++
		}
	}
	return open
}

// A crowd is how many knitters are in a section.
type crowd struct {
	section *patterns.Section
	n       int
}

// crowds counts the knitters of each section in which there is one, in order, and
// those before the first row.
func (f *boardFacts) crowds() (crowds []crowd, beginning int) {
	in := make([]int, len(f.pattern.Sections)+2)
	for _, k := range f.knitters {
		in[k.spot.section]++
	}
	for i, s := range f.pattern.Sections {
		if n := in[i+1]; n > 0 {
			crowds = append(crowds, crowd{s, n})
		}
	}
	return crowds, in[0]
}

// A nearest is the row of whoever is nearest to a session's end and not past it.
type nearest struct {
	session.Session
	at session.RowID
}

// nearestToEnds gives, for each session that has opened or in which somebody is, who
// is nearest to its end among those who are in it.
func (f *boardFacts) nearestToEnds() []nearest {
	var found []nearest
	for _, s := range f.about.Sessions {
		if f.about.Stage(s.Number, f.now) == session.Planned && f.about.Hold {
			continue
		}
		first, last := f.spotOf(s.First), f.spotOf(s.Last)
		var best *knitter
		for i := range f.knitters {
			k := &f.knitters[i]
			if k.at.Row > 0 && k.spot.compare(first) >= 0 && k.spot.compare(last) <= 0 && (best == nil || k.spot.compare(best.spot) > 0) {
				best = k
			}
		}
		if best != nil {
			found = append(found, nearest{s, best.at})
		}
	}
	return found
}

// shareUpTo is how much of the stitches is worked once a row is.
func (p *plan) shareUpTo(last session.RowID) float64 {
	all := p.Stitches()
	i, ok := p.Find(last.Section, last.Row)
	if !ok {
		i = p.Nearest(last.Section, last.Row)
	}
	switch {
	case all == 0:
		return 0
	case i+1 < len(p.Rows):
		return float64(p.Rows[i+1].Worked) / float64(all)
	}
	return 1
}
