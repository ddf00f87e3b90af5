package bot

import (
	"slices"
	"strings"

	"clew/patterns/problem"
	"clew/reader"
	"clew/session"
)

// pastLast is the step of one who has worked the last row: more than any row
// has, so that it stays past the last step whichever way rows are read.
const pastLast = 1 << 20

// here is the index of the row that the member works: -1 before she has begun.
func (t *talk) here() int { return t.plan.rowAt(t.at) }

// rowAt is the index of the row at a place: -1 before the first row.
func (p *plan) rowAt(at session.Place) int {
	if at.Row == 0 {
		return -1
	}
	if i, ok := p.Find(at.Section, at.Row); ok {
		return i
	}
	return p.Nearest(at.Section, at.Row)
}

// finished says that at is past the last row.
func (p *plan) finished(at session.Place) bool {
	return at.Step >= pastLast && p.rowAt(at) == len(p.Whole().Rows)-1
}

// lastStep is the last step of row i as the member hears it.
func (t *talk) lastStep(i int) int { return len(t.words(t.plan, i).StepTexts()) - 1 }

// word is what row i is called.
func (p *plan) word(i int) string {
	if len(p.Rows) == 0 {
		return rowWord(p.Pattern.Rounds)
	}
	return rowWord(p.Rows[max(0, i)].Rounds)
}

func rowWord(rounds bool) string {
	if rounds {
		return "round"
	}
	return "row"
}

// word is what the row is called where the member is.
func (t *talk) word() string { return t.plan.word(t.here()) }

// rowName names row i: "round five of Lanterns".
func (p *plan) rowName(i int) string {
	return p.word(i) + " " + reader.Number(p.Rows[i].Number) + " of " + reader.Name(p.Rows[i].Section.Name)
}

// lastOf is the number of a section's last row, in the pattern's numbering.
func (p *plan) lastOf(section string) int {
	last := 0
	for _, r := range p.Whole().Rows {
		if r.Section.Name == section {
			last = r.Number
		}
	}
	return last
}

// sectionWords names row i's section where it is another than the member's and
// reading the row does not name it.
func (t *talk) sectionWords(i int) string {
	if t.plan.Rows[i].Section.Name == t.at.Section {
		return ""
	}
	return SectionUnsaid(t.plan.Plan, i)
}

// named finds the row that was asked for by number: in the section that was
// named, else in the one where the member is, else in the only one that has
// such a row. It is -1 with a sentence where there is none, or where several
// could be meant.
func (t *talk) named() (int, string) {
	if len(t.plan.Rows) == 0 {
		return -1, t.notOpen()
	}
	number := t.heard.Number
	wanted := t.plan.sectionsLike(t.heard.Section)
	if t.heard.Section == "" {
		if i, ok := t.plan.Find(t.at.Section, number); ok {
			return i, ""
		}
	}
	if len(wanted) == 0 {
		return -1, t.plan.noSection(t.heard.Section)
	}
	var found []int
	for _, section := range wanted {
		if i, ok := t.plan.Find(section, number); ok {
			found = append(found, i)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], ""
	case len(found) > 1:
		return -1, t.plan.whichSection(found)
	case len(wanted) == 1 && t.plan.isCut() && number > 0 && number <= t.plan.lastOf(wanted[0]):
		return -1, "No " + t.plan.word(t.plan.Nearest(wanted[0], number)) + " " + reader.Number(number) + " of " + reader.Name(wanted[0]) + " is open." + t.opensLater()
	case len(wanted) == 1:
		word := t.plan.word(t.plan.Nearest(wanted[0], number))
		return -1, reader.Name(wanted[0]) + " has no " + word + " " + reader.Number(number) + "; its last is " + word + " " + reader.Number(t.plan.lastOf(wanted[0])) + "."
	}
	return -1, "There is no " + t.word() + " " + reader.Number(number) + " in " + t.plan.all() + "." + t.opensLater()
}

// noSection says that no section has a name, and offers the nearest.
func (p *plan) noSection(name string) string { return p.noneCalled("section", name, p.sectionNames()) }

// all is what the rows of the plan are together.
func (p *plan) all() string {
	if p.isCut() {
		return "what is open"
	}
	return "this pattern"
}

// noneCalled says that none of some sections or panels has a name, and offers the
// nearest, or all.
func (p *plan) noneCalled(what, name string, names []string) string {
	said := "There is no " + what + " called " + nameOf(name) + " in " + p.all() + ". "
	if len(names) == 0 {
		return strings.TrimSpace(said)
	}
	all := make([]string, len(names))
	for i, own := range names {
		all[i] = bare(own)
	}
	if near := problem.Nearest(bare(within(name)), all); near != "" {
		return said + "Did you mean " + names[slices.Index(all, near)] + "?"
	}
	if p.isCut() {
		return said + "So far the " + what + "s are " + list(names, "and") + "."
	}
	return said + "Its " + what + "s are " + list(names, "and") + "."
}

// whichSection asks which of several rows of one number is meant.
func (p *plan) whichSection(found []int) string {
	sections := make([]string, len(found))
	for j, i := range found {
		sections[j] = reader.Name(p.Rows[i].Section.Name)
	}
	row := p.word(found[0]) + " " + reader.Number(p.Rows[found[0]].Number)
	return "There is a " + row + " in " + list(sections, "and") + ". Name the section too, such as " + row + " of " + sections[0] + "."
}

// sectionsLike gives the sections of a name; where none has it, those with the
// name in theirs, such as "Heel flap" and "Heel turn" for "heel". Without a
// name it gives all.
func (p *plan) sectionsLike(name string) []string {
	var like []string
	for _, s := range p.Pattern.Sections {
		own, asked := singular(s.Name), singular(name)
		switch {
		case own == asked:
			return []string{s.Name}
		case strings.Contains(" "+own+" ", " "+asked+" ") || name == "":
			like = append(like, s.Name)
		}
	}
	return like
}

// singular gives a name in bare words, each without the s that makes it plural.
func singular(name string) string {
	words := strings.Fields(bare(reader.Name(name)))
	for i, w := range words {
		words[i] = strings.TrimSuffix(w, "s")
	}
	return strings.Join(words, " ")
}

func (p *plan) sectionNames() []string {
	var names []string
	for _, s := range p.Pattern.Sections {
		names = append(names, reader.Name(s.Name))
	}
	return names
}
