package compare

import (
	"slices"

	"clew/patterns"
)

// A part is the rows of one section of a plan: from..to-1.
type part struct{ from, to int }

// A pair is a section that is in both plans.
type pair struct{ old, new part }

// partsOf gives the sections of a plan that have rows, in order.
func partsOf(p *patterns.Plan) []part {
	var parts []part
	for i, r := range p.Rows {
		if i == 0 || r.Section != p.Rows[i-1].Section {
			parts = append(parts, part{i, i})
		}
		parts[len(parts)-1].to = i + 1
	}
	return parts
}

// match finds which section of the new plan each of the old one is, and which row.
func (w *working) match() {
	for i := range w.newOf {
		w.newOf[i] = -1
	}
	old, new := partsOf(w.old), partsOf(w.new)
	i, j := 0, 0
	for _, same := range inBoth(w.names(w.old, old), w.names(w.new, new)) {
		w.renamed(old[i:same[0]], new[j:same[1]])
		w.pairUp(pair{old[same[0]], new[same[1]]})
		i, j = same[0]+1, same[1]+1
	}
	w.renamed(old[i:], new[j:])
}

func (w *working) names(p *patterns.Plan, parts []part) []string {
	names := make([]string, len(parts))
	for i, part := range parts {
		names[i] = p.Rows[part.from].Section.Name
	}
	return names
}

// inBoth gives the indexes of names that stand in two lists in the same order, of as
// many as can be. A name stands in a list at most once.
func inBoth(a, b []string) [][2]int {
	at := make(map[string]int, len(b))
	for j, name := range b {
		at[name] = j
	}
	var both [][2]int
	var length, before []int // of the longest run that ends with each of both, and the one before it there, or -1
	longest := -1
	for i, name := range a {
		j, found := at[name]
		if !found {
			continue
		}
		most, last := 0, -1
		for k, earlier := range both {
			if earlier[1] < j && length[k] > most {
				most, last = length[k], k
			}
		}
		both, length, before = append(both, [2]int{i, j}), append(length, most+1), append(before, last)
		if longest < 0 || most+1 > length[longest] {
			longest = len(both) - 1
		}
	}
	var run [][2]int
	for k := longest; k >= 0; k = before[k] {
		run = append(run, both[k])
	}
	slices.Reverse(run)
	return run
}

// renameReach is how many new sections are looked at to find what an old one is called
// now.
const renameReach = 4

// renamed pairs up sections between two that are in both plans, where their names are
// in one plan alone and most of their rows are alike.
func (w *working) renamed(old, new []part) {
	alone := func(p *patterns.Plan, part part, other *patterns.Plan) bool {
		return !slices.ContainsFunc(other.Pattern.Sections, func(s *patterns.Section) bool { return s.Name == p.Rows[part.from].Section.Name })
	}
	for _, o := range old {
		if !alone(w.old, o, w.new) {
			continue
		}
		for j, n := range new[:min(renameReach, len(new))] {
			if p := (pair{o, n}); alone(w.new, n, w.old) && w.mostlyAlike(p) {
				w.pairUp(p)
				new = new[j+1:]
				break
			}
		}
	}
}

// pairUp notes that two sections are one, and which of their rows are.
func (w *working) pairUp(p pair) {
	w.sections = append(w.sections, p)
	for i, j := range w.numbers(p) {
		w.newOf[i] = j
	}
}

// numbers gives the rows of two sections that have the same numbers.
func (w *working) numbers(p pair) func(yield func(i, j int) bool) {
	return func(yield func(i, j int) bool) {
		for i, j := p.old.from, p.new.from; i < p.old.to && j < p.new.to; {
			switch a, b := w.old.Rows[i].Number, w.new.Rows[j].Number; {
			case a < b:
				i++
			case a > b:
				j++
			default:
				if !yield(i, j) {
					return
				}
				i, j = i+1, j+1
			}
		}
	}
}

// mostlyAlike says that more than half of the rows of two sections are worked alike.
func (w *working) mostlyAlike(p pair) bool {
	few, many := p.old.to-p.old.from, p.new.to-p.new.from
	if few > many {
		few, many = many, few
	}
	if 2*few <= many {
		return false
	}
	alike := 0
	for i, j := range w.numbers(p) {
		if w.alike(i, j) || w.follows(i, j) {
			alike++
		}
	}
	return 2*alike > many
}
