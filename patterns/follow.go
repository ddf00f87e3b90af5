package patterns

import (
	"slices"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// A follower works rows one after the other. When one goes wrong it goes on
// with the stitches that the writer is likely to have meant, so that one
// mistake is told once: it keeps every count that would explain the mistake,
// until a later row fits one of them alone.
type follower struct {
	fabric   fabric.Fabric
	others   []int // in doubt: what the count may be besides that of the fabric
	doubt    bool  // a row went wrong, and no later one has settled the count
	certain  bool  // in doubt: the count is surely that of the fabric or one of the others
	guessed  bool  // the fabric is no longer what the pattern makes
	unmarked bool  // markers or held stitches may be missing that an unread row has placed
	blind    bool  // nothing is known of the count
	searches int   // how often a count was searched for
}

// Limits of the search for a count on which a row that went wrong would work.
const (
	searchReach = 8  // stitches more or fewer
	searchMost  = 20 // times in one size
)

// noCount is what a row states that states no count.
const noCount = -1

// An outcome is what came of one row.
type outcome struct {
	fabric.Result
	before  fabric.Fabric
	wrong   *problem.Problem // to be told
	differs bool             // the stated count differs, to be told
	worked  bool             // on the stitches that the rows before it leave
}

// work works a row that states a count, or noCount.
func (f *follower) work(body []instruction.Node, how fabric.Row, stated int) outcome {
	switch {
	case f.blind:
		o := outcome{before: f.fabric}
		f.pass(1, how.Rounds, stated, false)
		o.After = f.fabric
		return o
	case f.doubt:
		return f.inDoubt(body, how, stated)
	}
	o := outcome{before: f.fabric, Result: f.fabric.Work(body, how), worked: !f.guessed}
	f.fabric = o.After
	switch {
	case o.Problem != nil:
		o.worked = false
		if !f.excused(o.Problem) {
			o.wrong = o.Problem
		}
		f.goOn(o, body, how, stated)
	case stated != noCount && stated != o.After.Count():
		o.differs = true
		f.doubt, f.certain, f.others = true, true, []int{stated}
	}
	return o
}

// inDoubt works a row on each of the counts there may be.
func (f *follower) inDoubt(body []instruction.Node, how fabric.Row, stated int) outcome {
	start := f.fabric
	tried := make([]outcome, 0, 1+len(f.others))
	for _, count := range append([]int{start.Count()}, f.others...) {
		tried = append(tried, on(start, count, body, how))
	}
	fits := slices.DeleteFunc(slices.Clone(tried), func(o outcome) bool { return !o.fits(stated) })
	if len(fits) == 0 && !f.certain {
		if o, found := f.search(start, body, how, stated); found {
			fits = append(fits, o)
		}
	}
	if len(fits) == 0 {
		o := tried[0]
		switch {
		case o.Problem == nil:
			o.differs = f.certain
		case f.certain && !f.excused(o.Problem), !aboutCount(o.Problem) && !f.excused(o.Problem):
			o.wrong = o.Problem
		}
		f.goOn(o, body, how, stated)
		return o
	}
	o := fits[0]
	o.worked = !f.guessed && o.before.Count() == start.Count()
	f.guessed = f.guessed || !o.worked
	f.fabric, f.others = o.After, nil
	for _, other := range fits[1:] {
		f.mayBe(other.After.Count())
	}
	settled := stated != noCount || !on(start, o.before.Count()+1, body, how).fits(stated)
	f.doubt = len(f.others) > 0 || !settled
	return o
}

// on works a row on a count of stitches.
func on(f fabric.Fabric, count int, body []instruction.Node, how fabric.Row) outcome {
	if count != f.Count() {
		f = f.Resized(count)
	}
	return outcome{before: f, Result: f.Work(body, how)}
}

// fits says that the row could be worked and leaves the count that it states.
func (o outcome) fits(stated int) bool {
	return o.Problem == nil && (stated == noCount || stated == o.After.Count())
}

// goOn readies the follower for the rows after one that went wrong.
func (f *follower) goOn(o outcome, body []instruction.Node, how fabric.Row, stated int) {
	f.guessed = true
	f.others = nil
	if stated != noCount {
		f.fabric, f.doubt = o.After.Resized(min(stated, instruction.MaxStitches)), false
		return
	}
	f.fabric, f.doubt, f.certain = o.After, true, false
	if meant, found := f.search(o.before, body, how, stated); found {
		f.mayBe(meant.After.Count())
	}
	f.mayBe(o.before.Count())
}

// mayBe adds a count that there may be.
func (f *follower) mayBe(count int) {
	if count != f.fabric.Count() && !slices.Contains(f.others, count) && len(f.others) < 4 {
		f.others = append(f.others, count)
	}
}

// search looks for the nearest count on which a row works.
func (f *follower) search(start fabric.Fabric, body []instruction.Node, how fabric.Row, stated int) (outcome, bool) {
	if f.searches++; f.searches > searchMost {
		return outcome{}, false
	}
	for d := 1; d <= searchReach; d++ {
		for _, count := range []int{start.Count() - d, start.Count() + d} {
			if count <= 0 || count > instruction.MaxStitches {
				continue
			}
			if o := on(start, count, body, how); o.fits(stated) {
				return o, true
			}
		}
	}
	return outcome{}, false
}

// pass passes over rows that can't be read. Of the last one the stated count
// may be known; marks says that they may have placed markers or held stitches.
func (f *follower) pass(rows int, rounds bool, stated int, marks bool) {
	if !rounds && rows%2 == 1 {
		f.fabric = f.fabric.Begin(false, f.fabric.Side().Other())
	}
	f.guessed = true
	f.unmarked = f.unmarked || marks
	if stated != noCount {
		f.need(stated)
		return
	}
	f.doubt, f.certain = true, false
}

// need goes on with the count that what follows surely needs. It says whether
// that can be the one there is.
func (f *follower) need(count int) bool {
	have := f.fabric.Count()
	expected := count == have || f.doubt && (slices.Contains(f.others, count) || !f.certain)
	if count != have {
		f.fabric, f.guessed = f.fabric.Resized(min(count, instruction.MaxStitches)), true
	}
	f.doubt, f.others, f.blind = false, nil, false
	return expected
}

// castOn begins a new piece.
func (f *follower) castOn(n int) {
	f.fabric = f.fabric.CastOn(n)
	f.doubt, f.others, f.blind = false, nil, false
}

// excused says that a problem may come from a row that could not be read.
func (f *follower) excused(p *problem.Problem) bool {
	return f.unmarked && (p.Code == "marker-missing" || p.Code == "not-held")
}

// aboutCount says that a problem is one of too many or too few stitches.
func aboutCount(p *problem.Problem) bool {
	switch p.Code {
	case "short", "unworked", "uneven", "panel-room", "panel-width", "past-beginning", "turn":
		return true
	}
	return false
}
