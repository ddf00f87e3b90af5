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
// until a later row fits one count alone.
type follower struct {
	fabric   fabric.Fabric
	home     int   // a count that is come back to: the width of a panel; 0 for none
	others   []int // in doubt: what the count may be besides that of the fabric
	doubt    bool  // a row went wrong, and no later one has settled the count
	certain  bool  // in doubt: the count is surely that of the fabric or one of the others
	blind    bool  // nothing is known of the count
	guessed  bool  // the fabric is no longer what the pattern makes
	unmarked bool  // markers or held stitches may be missing that an unread row has placed
	extra    int   // rows worked to find out what was meant, see extraMost
	told     map[toldAt]bool
}

// A toldAt is where a problem stands that has been told: a row that is worked
// as an earlier one, and an abbreviation used again, repeat its mistake.
type toldAt struct {
	problem.Span
	code string
}

// Limits of what is done to find out what was meant.
const (
	searchReach = 8   // stitches more or fewer that a row may have been meant for
	settleReach = 12  // a row settles the count when it works on none so much larger
	lookAhead   = 3   // rows after the one in doubt
	extraMost   = 400 // rows worked in one size
)

// noCount is what a row states that states no count.
const noCount = -1

// A task is one row to be worked.
type task struct {
	body   []instruction.Node
	how    fabric.Row
	stated int                // the count that it states, or noCount
	panel  *instruction.Strip // set for a row of a panel, which is proved by itself
}

// work works the row. That of a panel is worked inside the panel, whatever
// width it has there.
func (t task) work(f fabric.Fabric) fabric.Result {
	if t.panel == nil {
		return f.Work(t.body, t.how)
	}
	strip := *t.panel
	strip.Width, strip.Body = f.Count(), t.body
	return f.Work([]instruction.Node{&strip}, t.how)
}

// An outcome is what came of one row.
type outcome struct {
	fabric.Result
	before  fabric.Fabric
	wrong   *problem.Problem // to be told
	differs bool             // the stated count differs, to be told
	worked  bool             // on the stitches that the rows before it leave
}

// work works a row. The rows after it, as far as they can be read, help to
// tell a mistake from what follows from one.
func (f *follower) work(t task, after []task) outcome {
	o := f.workOn(t, after)
	if o.wrong != nil {
		at := toldAt{o.wrong.Span, o.wrong.Code}
		if o.wrong.Code == "too-many-yarns" { // each one after the first too many is as well
			at.Span = problem.Span{}
		}
		if f.told[at] {
			o.wrong = nil
		} else if f.told == nil {
			f.told = map[toldAt]bool{}
		}
		f.told[at] = true
	}
	return o
}

func (f *follower) workOn(t task, after []task) outcome {
	switch {
	case f.blind:
		o := outcome{before: f.fabric}
		f.pass(1, t.how.Rounds, t.stated, false)
		o.After = f.fabric
		return o
	case f.doubt:
		return f.inDoubt(t, after)
	}
	o := outcome{before: f.fabric, Result: t.work(f.fabric), worked: !f.guessed}
	f.fabric = o.After
	switch {
	case o.Problem != nil:
		o.worked = false
		if !f.excused(o.Problem) {
			o.wrong = o.Problem
		}
		f.goOn(o, t)
	case t.stated != noCount && t.stated != o.After.Count():
		o.differs = true
		f.doubt, f.certain, f.others = true, true, []int{t.stated}
	}
	return o
}

// inDoubt works a row on each of the counts there may be.
func (f *follower) inDoubt(t task, after []task) outcome {
	start := f.fabric
	tried := make([]outcome, 0, 1+len(f.others))
	for _, count := range append([]int{start.Count()}, f.others...) {
		tried = append(tried, on(start, count, t))
	}
	fits := slices.DeleteFunc(slices.Clone(tried), func(o outcome) bool { return !o.fits(t) })
	if len(fits) == 0 {
		return f.noneFits(tried, t, after)
	}
	o := fits[0]
	o.worked = !f.guessed && o.before.Count() == start.Count()
	f.guessed = f.guessed || !o.worked
	f.fabric, f.others = o.After, nil
	for _, other := range fits[1:] {
		f.mayBe(other.After.Count())
	}
	f.doubt = t.stated == noCount && (len(f.others) > 0 || !f.settles(o, t))
	return o
}

// noneFits decides whether a row that works on none of the counts is a mistake
// of its own. It is where the counts are certain; else where the rows after it
// work, though it does not.
func (f *follower) noneFits(tried []outcome, t task, after []task) outcome {
	o, own := tried[0], f.certain
	for _, each := range tried {
		if !own && f.goesOn(each, after) {
			o, own = each, true
		}
	}
	switch {
	case o.Problem == nil && own:
		o.differs, f.guessed = true, true
		f.fabric, f.certain, f.others = o.After, true, []int{t.stated}
		return o
	case o.Problem == nil:
	case !f.excused(o.Problem) && (own || !aboutCount(o.Problem)):
		o.wrong = o.Problem
	}
	f.goOn(o, t)
	return o
}

// goesOn says that the next rows work on what a wrong row had before it, or
// leaves; the first of them that does not work on any count decides.
func (f *follower) goesOn(o outcome, after []task) bool {
	for _, start := range []fabric.Fabric{o.After, o.After.Resized(o.before.Count())} {
		for i, next := range after {
			if i == lookAhead || f.spent() {
				break
			}
			does := on(start, start.Count(), next)
			if !does.fits(next) {
				break
			}
			if next.stated != noCount || f.settles(does, next) || !on(start, start.Count()+1, next).fits(next) {
				return true
			}
			start = does.After
		}
	}
	return false
}

// on works a row on a count of stitches.
func on(f fabric.Fabric, count int, t task) outcome {
	if count != f.Count() {
		f = f.Resized(count)
	}
	return outcome{before: f, Result: t.work(f)}
}

// fits says that the row could be worked and leaves the count that it states.
func (o outcome) fits(t task) bool {
	return o.Problem == nil && (t.stated == noCount || t.stated == o.After.Count())
}

// settles says that a row works on this count of stitches alone. A repeat to
// the end does not settle it: it fits other counts as well.
func (f *follower) settles(o outcome, t task) bool {
	for d := 1; d <= settleReach; d++ {
		if f.spent() || on(o.before, o.before.Count()+d, t).fits(t) {
			return false
		}
	}
	return true
}

// goOn readies the follower for the rows after one that went wrong.
func (f *follower) goOn(o outcome, t task) {
	f.guessed = true
	f.others = nil
	f.fabric = o.After
	if t.stated != noCount {
		f.settle(t.stated)
		return
	}
	f.doubt, f.certain = true, f.home > 0
	if meant, found := f.search(o.before, t); found {
		f.mayBe(meant.After.Count())
	}
	f.mayBe(o.before.Count())
	f.mayBe(f.home)
}

// mayBe adds a count that there may be.
func (f *follower) mayBe(count int) {
	if count > 0 && count != f.fabric.Count() && !slices.Contains(f.others, count) {
		f.others = append(f.others, count)
	}
}

// search looks for the nearest count on which a row works.
func (f *follower) search(start fabric.Fabric, t task) (outcome, bool) {
	for d := 1; d <= searchReach; d++ {
		for _, count := range []int{start.Count() - d, start.Count() + d} {
			if count <= 0 || count > instruction.MaxStitches || f.spent() {
				continue
			}
			if o := on(start, count, t); o.fits(t) {
				return o, true
			}
		}
	}
	return outcome{}, false
}

// spent counts a row worked to find out what was meant.
func (f *follower) spent() bool {
	f.extra++
	return f.extra > extraMost
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
		f.settle(stated)
		return
	}
	f.doubt, f.certain = true, false
}

// settle goes on with a count that is sure.
func (f *follower) settle(count int) {
	if count != f.fabric.Count() {
		f.fabric, f.guessed = f.fabric.Resized(min(count, instruction.MaxStitches)), true
	}
	f.doubt, f.others, f.blind = false, nil, false
}

// need goes on with the count that panels need. It says false when that is
// not the count there is, and nothing explains it.
func (f *follower) need(count int) bool {
	have, inDoubt := f.fabric.Count(), f.doubt || f.blind
	if count == have || f.blind || slices.Contains(f.others, count) {
		f.settle(count)
		return true
	}
	others, excused := append(f.others, have), inDoubt && !f.certain
	f.settle(count)
	f.doubt, f.certain, f.others = inDoubt, false, others
	return excused
}

// castOn begins a new piece.
func (f *follower) castOn(n instruction.Number, size int) {
	f.fabric = f.fabric.CastOn(n.At(size))
	f.doubt, f.others, f.blind = false, nil, len(n.Values) == 0
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
