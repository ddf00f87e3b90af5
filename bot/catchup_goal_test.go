package bot

import (
	"testing"
	"time"

	"clew/patterns"
	"clew/patterns/samples"
	"clew/session"
)

// Who has worked the stitches before a row is at that row, whatever binary fractions
// make of her share.
func TestAtShare(t *testing.T) {
	for _, s := range samples.All() {
		pattern, _ := patterns.Read([]byte(s.Text))
		for _, size := range append(pattern.Sizes, "") {
			laid, err := pattern.LayOut(patterns.Choice{Size: size})
			if err != nil {
				continue // a pattern with sizes has no plan without one
			}
			p := &plan{Plan: laid}
			for i, r := range p.Rows {
				if i+1 < len(p.Rows) && p.Rows[i+1].Worked == r.Worked {
					continue // nothing is worked in it
				}
				if found := p.atShare(float64(r.Worked) / float64(p.Stitches())); found != i {
					t.Errorf("%s in size %q: with the stitches before row %d worked she is found at row %d", s.Name, size, i, found)
				}
			}
			if found := p.atShare(1); found != len(p.Rows) {
				t.Errorf("%s in size %q: all is worked, and she is found at row %d", s.Name, size, found)
			}
		}
	}
}

// goalOf gives where the way leads of one of the cap's knitters among others.
func goalOf(t *testing.T, about session.About, roster []session.Entrant) goal {
	t.Helper()
	mine := roster[0]
	talk := &talk{Bot: &Bot{now: func() time.Time { return quayNow }}, about: about, plan: capPlans(t)[mine.Size]}
	talk.ask.Member = mine.Member
	talk.at = session.Place{Section: mine.Section, Row: mine.Row, Size: mine.Size, Revision: 1}
	return talk.goal(roster)
}

// The cap has Brim 1 to 6, Set-up 1, Ropes 1 to 16 and Crown 1 to 6: 7 rows before
// the second session, which is open, and 23 before the third.
func TestGoal(t *testing.T) {
	plans := capPlans(t)
	at := func(name, section string, row int) session.Entrant { return in(t, plans, name, "small", section, row) }
	hidden := func(e session.Entrant) session.Entrant {
		e.Hidden = true
		return e
	}
	for name, c := range map[string]struct {
		roster []session.Entrant
		want   goal // without the session that is open
	}{
		"alone, before the open session":  {[]session.Entrant{at("a", "Brim", 2)}, goal{row: 7, ahead: true, before: true, end: 23}},
		"alone, in it":                    {[]session.Entrant{at("a", "Ropes", 2)}, goal{row: 23, end: 23}},
		"the group has not come to it":    {[]session.Entrant{at("a", "Brim", 2), at("b", "Brim", 4)}, goal{row: 7, ahead: true, group: true, before: true, end: 23}},
		"the group is in it":              {[]session.Entrant{at("a", "Brim", 2), at("b", "Ropes", 4)}, goal{row: 10, ahead: true, group: true, end: 23}},
		"the group is behind it":          {[]session.Entrant{at("a", "Brim", 2), at("b", "Crown", 2)}, goal{row: 24, ahead: true, group: true, end: 23}},
		"she is behind it, and the group": {[]session.Entrant{at("a", "Crown", 1), at("b", "Crown", 4)}, goal{row: 26, ahead: true, group: true, end: 23}},
		"she alone is behind it":          {[]session.Entrant{at("a", "Crown", 2), at("b", "Ropes", 4)}, goal{row: 29, group: true, past: true, end: 23}},
		"where the group is":              {[]session.Entrant{at("a", "Ropes", 4), at("b", "Ropes", 4)}, goal{row: 23, group: true, end: 23}},
		"ahead of it":                     {[]session.Entrant{at("a", "Ropes", 5), at("b", "Ropes", 4)}, goal{row: 23, group: true, past: true, end: 23}},
		"of two the hidden one":           {[]session.Entrant{at("a", "Brim", 2), hidden(at("b", "Ropes", 4)), at("c", "Ropes", 6)}, goal{row: 12, ahead: true, group: true, end: 23}},
		"the middle one is hidden":        {[]session.Entrant{at("a", "Brim", 2), at("b", "Ropes", 2), hidden(at("c", "Ropes", 9)), at("d", "Crown", 2)}, goal{row: 8, ahead: true, group: true, end: 23}},
		"the two last ones are hidden":    {[]session.Entrant{at("a", "Brim", 2), hidden(at("b", "Ropes", 2)), hidden(at("c", "Ropes", 9)), at("d", "Crown", 2)}, goal{row: 24, ahead: true, group: true, end: 23}},
		"all others are hidden":           {[]session.Entrant{at("a", "Brim", 2), hidden(at("b", "Ropes", 2)), hidden(at("c", "Ropes", 9)), hidden(at("d", "Crown", 2))}, goal{row: 7, ahead: true, before: true, end: 23}},
	} {
		t.Run(name, func(t *testing.T) {
			found := goalOf(t, quay, c.roster)
			wantOpen := 2
			if !c.want.ahead && c.want.row > c.want.end { // the rest of her section
				wantOpen = 0
			}
			if found.open.Number != wantOpen {
				t.Errorf("of session %d, expected %d", found.open.Number, wantOpen)
			}
			found.open = session.Session{}
			if found != c.want {
				t.Errorf("found %+v, expected %+v", found, c.want)
			}
		})
	}
}

// Where those who are hidden could be known by the names of the others, what is told
// of half of the group is told by one who is named.
func TestMedianTellsNobodyHidden(t *testing.T) {
	plans := capPlans(t)
	at := func(name, section string, row int, hidden bool) session.Entrant {
		e := in(t, plans, name, "small", section, row)
		e.Hidden = hidden
		return e
	}
	for name, c := range map[string]struct {
		roster []session.Entrant
		want   string // "" where nothing is told
	}{
		"all are named":          {[]session.Entrant{at("a", "Brim", 2, false), at("b", "Ropes", 9, false), at("c", "Crown", 2, false)}, "At least half of the group is at round nine of Ropes or further."},
		"the middle is hidden":   {[]session.Entrant{at("a", "Brim", 2, false), at("b", "Ropes", 9, true), at("c", "Crown", 2, false)}, "At least half of the group is at round two of Brim or further."},
		"beside one named":       {[]session.Entrant{at("a", "Brim", 2, false), at("b", "Ropes", 9, true), at("c", "Ropes", 9, false)}, "At least half of the group is at round nine of Ropes or further."},
		"before one not begun":   {[]session.Entrant{at("a", "Brim", 0, false), at("b", "Ropes", 9, true), at("c", "Crown", 2, false)}, ""},
		"the last is hidden too": {[]session.Entrant{at("a", "Brim", 2, true), at("b", "Ropes", 9, true), at("c", "Crown", 2, false)}, ""},
		"all are hidden":         {[]session.Entrant{at("a", "Brim", 2, true), at("b", "Ropes", 9, true), at("c", "Crown", 2, true)}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			f := factsOf(quay, c.roster, plans["small"], quayNow)
			found := ""
			if f.middle != nil {
				found = f.groupWords(60)
			}
			if found != c.want {
				t.Errorf("found %q, expected %q", found, c.want)
			}
		})
	}
}

func TestListApart(t *testing.T) {
	for want, names := range map[string][]string{
		"":                                nil,
		"wrap and turn":                   {"wrap and turn"},
		"yarn over and bobble":            {"yarn over", "bobble"},
		"pick up and knit, and bobble":    {"pick up and knit", "bobble"},
		"bobble, slip, and wrap and turn": {"bobble", "slip", "wrap and turn"},
	} {
		if found := listApart(names); found != want {
			t.Errorf("found %q, expected %q", found, want)
		}
	}
}
