package bot

import (
	"context"
	"slices"
	"strings"
	"time"

	"clew/patterns/survey"
	"clew/reader"
	"clew/session"
)

// lateAfter is how long after its time an announcement comes late.
const lateAfter = time.Minute

// An opening is what an announcement tells of a session.
type opening struct {
	session.Session
	about                      session.About
	now                        time.Time
	rows, begin, end, stitches spread       // over all sizes
	news                       []survey.New // of all sizes, each once
	first, last                string       // its rows, as the first size has them; the same where it has one
	lasts                      spread       // the number of the last, where that is in one section in all sizes
	section                    string       // that section
	unusual                    string       // the first row that is not routine; "" for none
	later                      bool         // in some sizes that comes later
	word                       string       // what its rows are called
}

// A spread is the least and the most of a figure.
type spread struct {
	least, most int64
	known       bool
}

func (s *spread) add(n int64) {
	if !s.known {
		*s = spread{n, n, true}
	}
	s.least, s.most = min(s.least, n), max(s.most, n)
}

// announcement is what is posted when a session opens.
//
// Errors: those of session.Store.Pattern; errUnfit; errNotYet.
func (b *Bot) announcement(ctx context.Context, about session.About, opened session.Session) (Post, error) {
	plans, err := b.allSizes(ctx, about)
	if err != nil {
		return Post{}, err
	}
	o := openingOf(about, opened, plans, b.now())
	return Post{Knitalong: about.ID, Channel: about.Channel, Texts: o.texts(), Choices: postChoices}, nil
}

// allSizes gives the plans of the current text in all its sizes.
func (b *Bot) allSizes(ctx context.Context, about session.About) ([]*plan, error) {
	pattern, err := b.pattern(ctx, revision{about.ID, about.Revision})
	if err != nil {
		return nil, err
	}
	sizes := pattern.Sizes
	if len(sizes) == 0 {
		sizes = []string{""}
	}
	plans := make([]*plan, len(sizes))
	for i, size := range sizes {
		if plans[i], err = b.planOf(ctx, about.ID, session.Place{Revision: about.Revision, Size: size}); err != nil {
			return nil, err
		}
	}
	return plans, nil
}

// openingOf works out what an announcement tells, from the plans of all sizes. A size
// that has none of the rows is passed over.
func openingOf(about session.About, opened session.Session, plans []*plan, now time.Time) opening {
	o := opening{Session: opened, about: about, now: now}
	unusual := -1
	var whole *plan // the first size that has some of its rows
	known := map[string]bool{}
	for _, p := range plans {
		from, to := p.rowsOf(opened)
		if from >= to {
			continue
		}
		if whole == nil {
			whole = p
			o.word, o.first, o.last = p.word(from), p.rowName(from), p.rowName(to-1)
			o.section = p.Rows[to-1].Section.Name
		}
		if r := p.Rows[to-1]; r.Section.Name == o.section {
			o.lasts.add(int64(r.Number))
		}
		s := survey.Of(p.Plan, from, to)
		o.rows.add(int64(to - from))
		o.begin.add(int64(s.Begin))
		o.end.add(int64(s.End))
		o.stitches.add(s.Stitches)
		for _, n := range s.New {
			if name := reader.NewName(n); !known[name] {
				known[name] = true
				o.news = append(o.news, n)
			}
		}
		switch {
		case s.FirstUnusual < 0:
			o.later = o.later || o.unusual != ""
		case o.unusual == "" && p == whole:
			unusual, o.unusual = s.FirstUnusual-from, p.rowName(s.FirstUnusual)
		case s.FirstUnusual-from < unusual || o.unusual == "":
			unusual, o.unusual, o.later = s.FirstUnusual-from, p.rowName(s.FirstUnusual), true
		case s.FirstUnusual-from > unusual:
			o.later = true
		}
	}
	return o
}

// rowsOf gives the rows of a session, from one index up to another. In a size that
// has not its first or last row it is what lies between.
func (p *plan) rowsOf(s session.Session) (from, to int) {
	from, ok := p.Find(s.First.Section, s.First.Row)
	if !ok {
		from = p.Nearest(s.First.Section, s.First.Row) + 1
	}
	last, ok := p.Find(s.Last.Section, s.Last.Row)
	if !ok {
		last = p.Nearest(s.Last.Section, s.Last.Row)
	}
	return from, last + 1
}

// textsMost bounds the ways in which one thing is told.
const textsMost = 12

// texts tells it in ever fewer words: at first all that is new is explained, then
// less of it, and then none.
func (o opening) texts() []string {
	var texts []string
	for explained := min(len(o.news), textsMost); explained >= 0; explained-- {
		texts = append(texts, strings.Join(o.lines(explained, true, 60), "\n"))
	}
	return append(texts, strings.Join(o.lines(0, false, 24), "\n"))
}

func (o opening) lines(explained int, names bool, most int) []string {
	title := ""
	if own := curt(reader.Name(within(o.Title)), most); own != "" {
		title = ": " + own
	}
	which := "Session " + reader.Number(o.Number)
	if n := len(o.about.Sessions); n > 1 && n >= o.Number {
		which += " of " + reader.Number(n)
	}
	lines := []string{which + " of " + curt(titleOf(o.about), most) + " is open" + title + "."}
	if late := o.now.Sub(o.Opens); !o.Opens.IsZero() && late > lateAfter {
		lines = append(lines, "This comes late: it was to open "+reader.Moment(o.Opens, o.now, zoneOf(o.about.Zone))+".")
	}
	if !o.rows.known { // a correction has taken them all out of the pattern
		return lines
	}
	lines = append(lines, o.rowWords(most), o.countWords(), o.newWords(names, explained))
	for _, n := range o.news[:explained] {
		lines = append(lines, reader.NewHowTo(n))
	}
	return given(append(lines, o.unusualWords(), o.timeWords())...)
}

// rowWords says which rows a session has, and how many.
func (o opening) rowWords(most int) string {
	if o.first == o.last && o.rows.most == 1 {
		return "It is " + o.first + " alone."
	}
	first, last, by, bound := cutRow(o.first, most), cutRow(o.last, most), "", ""
	if o.lasts.least != o.lasts.most {
		_, section, _ := strings.Cut(last, " of ")
		last, bound = o.word+" "+reader.Number(int(o.lasts.most))+" of "+section, " at the most"
	}
	if o.rows.least != o.rows.most {
		by = " by size"
	}
	if start, section, ok := strings.Cut(first, " of "); ok && strings.HasSuffix(last, " of "+section) {
		first = start
	}
	return "It goes from " + first + " to " + last + bound + ", " + o.rows.words() + " " + o.word + "s in all" + by + "."
}

// cutRow cuts the section's name in the name of a row.
func cutRow(name string, most int) string {
	row, section, _ := strings.Cut(name, " of ")
	return row + " of " + curt(section, most)
}

// words says a figure: "twelve", "twelve to sixteen".
func (s spread) words() string {
	if s.least == s.most {
		return reader.Number(int(s.least))
	}
	return reader.Number(int(s.least)) + " to " + reader.Number(int(s.most))
}

// countWords says how many stitches there are at its beginning and at its end.
func (o opening) countWords() string {
	by := ""
	if o.begin.least != o.begin.most || o.end.least != o.end.most {
		by = ", by size"
	}
	of := plural("stitch", int(o.begin.most))
	switch {
	case o.begin == o.end:
		return "You begin and end with " + o.begin.words() + " " + of + by + "."
	case o.end.most == 0:
		return "You begin with " + o.begin.words() + " " + of + by + ", and at its end none is left."
	}
	return "You begin with " + o.begin.words() + " " + of + " and end with " + o.end.words() + by + "."
}

// newWords says what no row before it has.
func (o opening) newWords(names bool, explained int) string {
	n := len(o.news)
	switch {
	case n == 0 && o.Number == 1: // to knit and to purl is nothing to tell of
		return ""
	case n == 0:
		return "No stitch in it is new."
	case names && n == 1 && explained == n: // each how-to names its own
		return "One thing in it is new."
	case names && explained == n:
		return capital(reader.Number(n)) + " things in it are new."
	case !names && n == 1:
		return "One thing in it is new. Say explain, and its name, to hear how it is worked."
	case !names:
		return capital(reader.Number(n)) + " things in it are new. Say explain, and a name, to hear how one is worked."
	}
	all := make([]string, n)
	for i, one := range o.news {
		all[i] = reader.NewName(one)
	}
	words := "New in it: " + listApart(all) + "."
	if explained < n {
		words += " Say explain, and a name, to hear how one is worked."
	}
	return words
}

// listApart lists the names of what is new, which may have an "and" of their own:
// "pick up and knit, and yarn over".
func listApart(names []string) string {
	if len(names) > 1 && slices.ContainsFunc(names, func(name string) bool { return strings.Contains(name, " and ") }) {
		names = slices.Clone(names)
		names[min(len(names)-2, listMost-1)] += ","
	}
	return list(names, "and")
}

// unusualWords says where to look up from plain rows.
func (o opening) unusualWords() string {
	switch {
	case o.rows.most == 1 && o.unusual != "":
		return "It is not a routine one."
	case o.rows.most == 1:
		return ""
	case o.unusual == "":
		return "Its " + o.word + "s are all routine."
	case o.later:
		return "Its first unusual " + o.word + " is " + o.unusual + "; in some sizes it comes later."
	}
	return "Its first unusual " + o.word + " is " + o.unusual + "."
}

// timeWords says how long it takes somebody of whom nothing is known.
func (o opening) timeWords() string {
	at := func(stitches int64) string {
		return reader.Span(time.Duration(float64(stitches) / session.PaceGuess * float64(time.Minute)))
	}
	takes := "about " + at(o.stitches.least)
	if most := at(o.stitches.most); most != at(o.stitches.least) {
		least, unit := at(o.stitches.least), most[strings.LastIndexByte(most, ' ')+1:]
		takes = strings.TrimSuffix(least, " "+unit) + " to " + most + ", by size"
	}
	return "At " + reader.Number(session.PaceGuess) + " stitches a minute it takes " + takes + ". That is an estimate, and your hands may be faster or slower."
}
