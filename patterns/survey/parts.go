package survey

import "clew/patterns"

// mostAgain bounds how many rows are looked for as coming again.
const mostAgain = 64

// parts cuts rows into stretches that are routine and rows that are not: at each row
// the longest stretch that begins there, or of two the one that is easier to tell.
func parts(plan *patterns.Plan, from, to int) []Part {
	rows := kindsOf(plan, from, to)
	var all []Part
	for i := from; i < to; {
		end := i + 1
		for end < to && plan.Rows[end].Section == plan.Rows[i].Section {
			end++
		}
		for begin := i; i < end; {
			best := Part{Kind: Unusual, From: i, To: i + 1}
			for _, find := range []func(begin, i, end int) Part{rows.knit, rows.purl, rows.stocking, rows.asLooks, rows.same, rows.inTurn, rows.again} {
				if p := find(begin, i, end); p.Kind != Unusual && (best.Kind == Unusual || p.To > best.To) {
					best = p
				}
			}
			all = append(all, best)
			i = best.To
		}
	}
	return rows.every(all)
}

// leastEvery is of how many rows at least it is said that they are every second one.
const leastEvery = 3

// every puts single rows of knit and purl stitches that are worked alike, each with one
// other row between it and the next, into one part.
func (k rowKinds) every(all []Part) []Part {
	var out []Part
	taken := make(map[int]bool) // by the first row
	for n, p := range all {
		if taken[p.From] {
			continue
		}
		last := n
		for last+2 < len(all) && k.comesAgain(all[last], all[last+1], all[last+2]) {
			last += 2
		}
		if (last-n)/2+1 >= leastEvery {
			p = Part{Kind: Every, From: p.From, To: all[last].To, Each: p.Kind}
			for ; last > n; last -= 2 {
				taken[all[last].From] = true
				if all[last].Kind != p.Each {
					p.Each = Unusual
				}
			}
		}
		out = append(out, p)
	}
	return out
}

// comesAgain says that the first and the last of three single rows of a section are
// alike, and have knit and purl stitches alone.
func (k rowKinds) comesAgain(first, between, last Part) bool {
	a, b := k.at(first.From), k.at(last.From)
	return first.Rows() == 1 && between.Rows() == 1 && last.Rows() == 1 &&
		k.plan.Rows[first.From].Section == k.plan.Rows[last.From].Section && a.simple && b.simple &&
		(k.alike(first.From, last.From) || first.Kind != Unusual && first.Kind == last.Kind)
}

// rowKinds are what the rows plan.Rows[from:] are like.
type rowKinds struct {
	plan *patterns.Plan
	from int
	of   []rowKind
}

// while gives a part from row i on, for as long as a row is so.
func (k rowKinds) while(kind Kind, i, end int, is func(i int) bool) Part {
	p := Part{Kind: kind, From: i, To: i}
	for p.To < end && is(p.To) {
		p.To++
	}
	if p.To == i {
		p.Kind = Unusual
	}
	return p
}

func (k rowKinds) at(i int) rowKind { return k.of[i-k.from] }

func (k rowKinds) knit(_, i, end int) Part {
	return k.while(Knit, i, end, func(i int) bool { return k.at(i).knit })
}

func (k rowKinds) purl(_, i, end int) Part {
	return k.while(Purl, i, end, func(i int) bool { return k.at(i).purl })
}

func (k rowKinds) asLooks(_, i, end int) Part {
	return k.while(AsLooks, i, end, func(i int) bool { return k.at(i).asLooks })
}

func (k rowKinds) stocking(_, i, end int) Part {
	return k.while(Stocking, i, end, func(i int) bool { return k.at(i).stocking })
}

// same finds one row over and over: at least three of them, or two plain ones.
func (k rowKinds) same(_, i, end int) Part {
	p := k.while(Same, i, end, func(j int) bool { return k.alike(i, j) })
	if p.Rows() < 2 || p.Rows() < 3 && !k.at(i).plain {
		p.Kind = Unusual
	}
	return p
}

// inTurn finds two rows in turn, each of them at least twice, and as often.
func (k rowKinds) inTurn(_, i, end int) Part {
	p := k.while(InTurn, i, end, func(j int) bool { return j < i+2 || k.alike(j-2, j) })
	p.To -= p.Rows() % 2
	if p.Rows() < 4 {
		p.Kind = Unusual
	}
	return p
}

// again finds rows that are worked as those right before them, as far as those are told.
func (k rowKinds) again(begin, i, end int) Part {
	best := Part{Kind: Unusual, From: i, To: i}
	for period := 3; period <= min(mostAgain, i-begin); period++ {
		if !k.alike(i-period, i) {
			continue
		}
		p := k.while(Again, i, end, func(j int) bool { return k.alike(j-period, j) })
		p.To -= p.Rows() % period
		if p.As = i - period; p.Rows() >= period && p.To > best.To {
			best = p
		}
	}
	return best
}

// alike says that two rows are worked alike, or that they say the same.
func (k rowKinds) alike(i, j int) bool {
	a, b := k.at(i), k.at(j)
	return a.worked == b.worked || a.written == b.written
}
