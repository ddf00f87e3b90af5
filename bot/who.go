package bot

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

const (
	peopleMost = 10                  // members of a kind that are named in a group of more than namedMost
	quietAfter = 14 * 24 * time.Hour // when a member of such a group counts as quiet
)

// exportChoice gives all members as a table.
var exportChoice = []Choice{{Label: "All as a table", Intent: listen.Knitalong, Value: string(Export)}}

// A gathering is members who are at one row.
type gathering struct {
	part    int // -1 before the first row, then the index of the section, and past all of them at the end
	row     int // the number of the row in its section
	name    string
	members []session.Entrant
}

// An assembly is who has joined a knit-along, by where they are.
type assembly struct {
	at   []*gathering // those at which there is anybody, in the order of the pattern
	ends int          // the part past all sections
	now  time.Time
	*whereabouts
}

// who tells who is where.
func (d *directing) who(ctx context.Context) (Reply, error) {
	roster, err := d.store.Roster(ctx, d.about.ID)
	switch {
	case err != nil:
		return Reply{}, err
	case len(roster) == 0:
		return Reply{Said: d.nobodyJoined()}, nil
	}
	if len(roster) <= namedMost {
		inOrder(roster)
	}
	c, err := d.assembly(ctx, roster)
	if err != nil {
		return Reply{}, err
	}
	said := []string{capital(knitters(len(roster))) + " " + haveOrHas(len(roster)) + " joined " + titleOf(d.about)}
	if len(roster) <= namedMost {
		said[0] += "."
		for _, s := range c.at {
			said = append(said, c.gatheringWords(s))
		}
	} else {
		said[0] += ": " + c.counted() + "."
		said = append(said, c.quietOnes(roster))
	}
	said = append(said, c.stuckOnes(roster))
	if len(roster) > namedMost {
		said = append(said, "The table has all of them.")
	}
	return Reply{Said: strings.Join(slices.DeleteFunc(said, func(s string) bool { return s == "" }), " "), Choices: exportChoice}, nil
}

func (d *directing) nobodyJoined() string { return "Nobody has joined " + titleOf(d.about) + " yet." }

// assembly finds where everybody is.
func (d *directing) assembly(ctx context.Context, roster []session.Entrant) (*assembly, error) {
	w, err := d.whereabouts(ctx, d.about)
	if err != nil {
		return nil, err
	}
	c := &assembly{ends: len(w.pattern.Sections), now: d.now(), whereabouts: w}
	parts := map[string]int{}
	for i, name := range sectionsOf(w.pattern) {
		parts[name] = i
	}
	seen := map[[2]int]*gathering{}
	for _, e := range roster {
		p, i, err := w.at(ctx, e)
		if err != nil {
			return nil, err
		}
		key := [2]int{-1, 0}
		switch {
		case workedAll(e, p.Stitches()):
			key[0] = c.ends
		case i >= 0:
			key = [2]int{parts[p.Rows[i].Section.Name], p.Rows[i].Number}
		}
		s := seen[key]
		if s == nil {
			s = &gathering{part: key[0], row: key[1], name: "at the end"}
			switch {
			case i < 0:
				s.name = "before the first " + p.word(0)
			case key[0] < c.ends:
				s.name = p.rowName(i)
			}
			seen[key] = s
			c.at = append(c.at, s)
		}
		s.members = append(s.members, e)
	}
	slices.SortFunc(c.at, func(a, b *gathering) int { return cmp.Or(cmp.Compare(a.part, b.part), cmp.Compare(a.row, b.row)) })
	return c, nil
}

// gatheringWords names those at a row: "Round five of Brim: Ana Pell, quiet for two
// hours; and Wren, here just now."
func (c *assembly) gatheringWords(s *gathering) string {
	names := make([]string, len(s.members))
	for i, e := range s.members {
		names[i] = saidName(e.Name, 0)
		switch quiet := c.quiet(e); {
		case e.Seen.IsZero():
		case quiet < time.Minute:
			names[i] += ", here just now"
		default:
			names[i] += ", quiet for " + reader.Span(quiet)
		}
	}
	return capital(s.name) + ": " + strings.Join(names, "; ") + "."
}

// quiet is for how long a member has not been heard of.
func (c *assembly) quiet(e session.Entrant) time.Duration { return c.now.Sub(e.Seen) }

// counted says how many are in each section: "ten in Brim, and two at the end".
func (c *assembly) counted() string {
	counts := make([]int, c.ends+2)
	for _, s := range c.at {
		counts[s.part+1] += len(s.members)
	}
	var said []string
	for part, n := range counts {
		switch {
		case n == 0:
		case part == 0:
			said = append(said, reader.Number(n)+" before the first "+rowWord(c.pattern.Sections[0].Rounds))
		case part == c.ends+1:
			said = append(said, reader.Number(n)+" at the end")
		default:
			said = append(said, reader.Number(n)+" in "+reader.Name(c.pattern.Sections[part-1].Name))
		}
	}
	return namesUpTo(said, len(said))
}

// quietOnes names those who have been quiet for long, the longest first. Who has
// finished is not expected back.
func (c *assembly) quietOnes(roster []session.Entrant) string {
	var quiet []session.Entrant
	spots := map[session.Member]string{}
	for _, s := range c.at {
		for _, e := range s.members {
			if s.part < c.ends && !e.Seen.IsZero() && c.quiet(e) > quietAfter {
				quiet = append(quiet, e)
				spots[e.Member] = s.name
			}
		}
	}
	slices.SortFunc(quiet, func(a, b session.Entrant) int {
		return cmp.Or(a.Seen.Compare(b.Seen), cmp.Compare(a.Member, b.Member))
	})
	if len(quiet) == 0 {
		return "Nobody has been quiet for more than two weeks."
	}
	var said []string
	for _, e := range quiet[:min(len(quiet), peopleMost)] {
		said = append(said, saidName(e.Name, 0)+" for "+reader.Span(c.quiet(e))+", "+spotPhrase(spots[e.Member]))
	}
	return capital(reader.Number(len(quiet))) + " " + haveOrHas(len(quiet)) + " been quiet for more than two weeks: " + strings.Join(said, "; ") + andMore(len(quiet)) + "."
}

// stuckOnes names those who have asked for help, the newest first.
func (c *assembly) stuckOnes(roster []session.Entrant) string {
	stuck, _ := apart(roster, func(e session.Entrant) bool { return !e.Stuck.IsZero() })
	slices.SortFunc(stuck, func(a, b session.Entrant) int {
		return cmp.Or(b.Stuck.Compare(a.Stuck), cmp.Compare(a.Member, b.Member))
	})
	if len(stuck) == 0 {
		return "Nobody has asked for help."
	}
	var said []string
	for _, e := range stuck[:min(len(stuck), peopleMost)] {
		one := saidName(e.Name, 0) + ", " + ago(c.now.Sub(e.Stuck)) + ", " + spotPhrase(rowIDWords(c.pattern, e.StuckAt))
		if e.StuckAt != e.RowID {
			one += ", and has gone on since"
		}
		said = append(said, one)
	}
	return "Asked for help: " + strings.Join(said, "; ") + andMore(len(stuck)) + "."
}

// spotPhrase says where: "at round five of Brim", "before the first round".
func spotPhrase(name string) string {
	if strings.HasPrefix(name, "before ") {
		return name
	}
	return "at " + name
}

func andMore(of int) string {
	if more := of - peopleMost; more > 0 {
		return "; and " + reader.Number(more) + " more"
	}
	return ""
}

func haveOrHas(n int) string {
	if n == 1 {
		return "has"
	}
	return "have"
}
