package bot

import (
	"slices"
	"strings"

	"clew/patterns"
	"clew/session"
)

// A rowList has every row that a pattern has in any of its sizes, in order.
type rowList struct {
	sections []rowSection
	rows     []session.RowID
	at       map[session.RowID]int // where a row is in rows
}

// A rowSection is one section of a rowList.
type rowSection struct {
	*patterns.Section
	numbers []int // of its rows, in order
}

// rowsOf lists the rows of a sound pattern. Errors are those of LayOut.
func rowsOf(p *patterns.Pattern) (*rowList, error) {
	has := map[session.RowID]bool{}
	for size := range p.SizeCount() {
		choice := patterns.Choice{}
		if len(p.Sizes) > 0 {
			choice.Size = p.Sizes[size]
		}
		laid, err := p.LayOut(choice)
		if err != nil {
			return nil, err
		}
		for _, r := range laid.Rows {
			has[session.RowID{Section: r.Section.Name, Row: r.Number}] = true
		}
	}
	l := &rowList{at: map[session.RowID]int{}}
	for _, s := range p.Sections {
		of := rowSection{Section: s}
		for id := range has {
			if id.Section == s.Name {
				of.numbers = append(of.numbers, id.Row)
			}
		}
		if len(of.numbers) == 0 {
			continue
		}
		slices.Sort(of.numbers)
		l.sections = append(l.sections, of)
		for _, n := range of.numbers {
			id := session.RowID{Section: s.Name, Row: n}
			l.at[id] = len(l.rows)
			l.rows = append(l.rows, id)
		}
	}
	return l, nil
}

// section finds a section by its name, whatever its case and the space in it; nil
// where there is none.
func (l *rowList) section(name string) *rowSection {
	for i := range l.sections {
		if foldName(l.sections[i].Name) == foldName(name) {
			return &l.sections[i]
		}
	}
	return nil
}

func foldName(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

func (s *rowSection) first() session.RowID { return session.RowID{Section: s.Name, Row: s.numbers[0]} }

func (s *rowSection) last() session.RowID {
	return session.RowID{Section: s.Name, Row: s.numbers[len(s.numbers)-1]}
}

func (s *rowSection) word() string { return rowWord(s.Rounds) }
