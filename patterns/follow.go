package patterns

import (
	"slices"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// A follower works rows one after the other. Where one goes wrong, it is not
// known how many stitches the writer meant to have after it; so the follower
// goes on with each of the counts that would explain the mistake, and tells in
// the end what the likeliest of them leaves to be told: the one with the fewest
// mistakes. So one mistake is told once, and a second one is told as well.
type follower struct {
	threads []thread // the likeliest first; one where nothing has gone wrong
	home    int      // a count that is come back to: the width of a panel; 0 for none
	blind   bool     // nothing is known of the count
	extra   int      // stitches worked beside those that are laid out, see extraMost
}

// A thread is one reading of the rows so far.
type thread struct {
	fabric   fabric.Fabric
	real     bool  // it is what the pattern makes, with nothing guessed
	cost     int   // what speaks against it, see the costs below
	told     *told // what is to be told if it is right, the last first
	lost     bool  // a row that could not be read, or relied on, may have changed the count by any number
	unmarked bool  // markers or held stitches may be missing that such a row has placed
	shaped   bool  // the count has changed since one was stated
	lag      int   // the panels of the section were laid out on so many stitches fewer than there were
}

// A told problem, and those before it. It keeps where the mistake itself stands:
// a row that is worked as an earlier one, and an abbreviation used again, repeat it.
type told struct {
	problem.Problem
	at     problem.Span
	before *told
}

// What speaks against a thread, and how far threads are kept.
const (
	mistakeCost = 4 // something is to be told
	changeCost  = 3 // a row that could not be read, or relied on, is taken to have changed the count
	earlierCost = 4 // a row that does not work is right, and the count has been wrong since it was stated
	keptCost    = 4 // more than that of the likeliest
	keptThreads = 6
)

// Limits of what is done to find out what was meant.
const (
	searchReach = 8         // stitches more or fewer that a row may have been meant for
	settleReach = 12        // a row settles the count when it works on none so much larger
	extraMost   = 3_000_000 // stitches worked in one size
)

// noCount is what a row states that states no count.
const noCount = -1

// A task is one row to be worked.
type task struct {
	body    []instruction.Node
	how     fabric.Row
	stated  int                // the count that it states, or noCount
	panel   *instruction.Strip // set for a row of a panel, which is proved by itself
	word    func(*problem.Problem) *problem.Problem
	differs func(count int) *problem.Problem
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

// fits says that the row could be worked and leaves the count that it states.
func (t task) fits(r fabric.Result) bool {
	return r.Problem == nil && (t.stated == noCount || t.stated == r.After.Count())
}

// An outcome is what came of one row.
type outcome struct {
	fabric.Result
	before fabric.Fabric
	real   bool // the row could be worked on what the rows before it leave
}

func follow(f fabric.Fabric) follower { return follower{threads: []thread{{fabric: f, real: true}}} }

// fabric is the likeliest.
func (f *follower) fabric() fabric.Fabric { return f.threads[0].fabric }

// problems gives what is to be told.
func (f *follower) problems() []problem.Problem {
	var out []problem.Problem
	for t := f.threads[0].told; t != nil; t = t.before {
		out = append(out, t.Problem)
	}
	slices.Reverse(out)
	return out
}

// sound says that nothing has gone wrong.
func (f *follower) sound() bool { return f.threads[0].real && f.threads[0].told == nil }

// work works a row.
func (f *follower) work(t task) outcome {
	if f.blind {
		return f.workBlind(t)
	}
	var o outcome
	var next []thread
	shown := max(0, slices.IndexFunc(f.threads, func(th thread) bool { return th.real }))
	for i, th := range f.threads {
		did := t.work(th.fabric)
		if i > 0 {
			f.spent(th.fabric.Count())
		}
		if i == shown {
			o = outcome{Result: did, before: th.fabric, real: th.real && did.Problem == nil}
		}
		next = append(next, f.after(th, did, t)...)
	}
	f.keep(next)
	return o
}

// after gives the threads that a thread goes on as.
func (f *follower) after(th thread, did fabric.Result, t task) []thread {
	had := th.fabric
	th.fabric = did.After
	p := did.Problem
	switch {
	case t.fits(did):
		th.shaped = t.stated == noCount && (th.shaped || did.After.Count() != had.Count())
		th.lost = th.lost && t.stated == noCount
		return []thread{th}
	case p == nil:
		p = t.differs(did.After.Count())
	case th.unmarked && (p.Code == "marker-missing" || p.Code == "not-held"):
		th.real = false
		return []thread{th}
	default:
		th.real = false
	}
	wrong := th
	wrong.tell(p, t)
	if t.stated != noCount && did.Problem == nil {
		return append([]thread{wrong, wrong.on(t.stated)}, f.regained(th, had, t)...)
	}
	return append(f.meant(wrong, had, t), f.regained(th, had, t)...)
}

// meant gives the counts that a row may have been meant to leave that does not
// work on what it had.
func (f *follower) meant(wrong thread, had fabric.Fabric, t task) []thread {
	if t.stated != noCount {
		return []thread{wrong.on(t.stated)}
	}
	made, have := wrong.fabric.Count(), had.Count()
	uses, leaves, found := f.search(had, t)
	var out []thread
	if found && uses != leaves { // a row of increases or decreases: who knows how many
		wrong.lost = true
		out = append(out, wrong.on(max(0, have+leaves-uses)), wrong.on(made), wrong.on(leaves), wrong.on(have))
	} else {
		out = append(out, wrong.on(have))
		if !wrong.shaped {
			wrong.cost += earlierCost
		}
		out = append(out, wrong.on(made), wrong.on(leaves))
	}
	if f.home > 0 {
		out = append(out, wrong.on(f.home))
	}
	return out
}

// regained takes it that the row which could not be read or relied on has
// changed the count, so that this one is right.
func (f *follower) regained(th thread, had fabric.Fabric, t task) []thread {
	if !th.lost {
		return nil
	}
	th.real = false
	th.cost += changeCost
	if t.stated != noCount {
		th.lost = false
		return []thread{th.on(t.stated)}
	}
	if _, leaves, found := f.search(had, t); found {
		return []thread{th.on(leaves)}
	}
	return nil
}

// tell adds what is to be told, unless it is the same mistake as one before.
func (th *thread) tell(p *problem.Problem, t task) {
	at := p.Span
	if p.Code == "too-many-yarns" { // each one after the first too many is as well
		at = problem.Span{}
	}
	for before := th.told; before != nil; before = before.before {
		if before.at == at && before.Code == p.Code {
			return
		}
	}
	th.cost += mistakeCost
	th.told = &told{*t.word(p), at, th.told}
}

// on gives the thread with another count.
func (th thread) on(count int) thread {
	if count != th.fabric.Count() {
		th.fabric, th.real = th.fabric.Resized(min(count, instruction.MaxStitches)), false
	}
	return th
}

// keep keeps the likeliest threads: of those with one count the one that costs
// least, and none that costs much more than the best. What the pattern makes is
// kept as long as it can be worked.
func (f *follower) keep(threads []thread) {
	slices.SortStableFunc(threads, func(a, b thread) int { return a.cost - b.cost })
	var kept []thread
	most := keptThreads
	if f.extra > extraMost {
		most = 1
	}
	for _, th := range threads {
		switch {
		case slices.ContainsFunc(kept, func(k thread) bool {
			return k.fabric.Count() == th.fabric.Count() && k.fabric.Ahead() == th.fabric.Ahead() && (k.real || !th.real)
		}):
		case th.real, len(kept) < most && th.cost <= threads[0].cost+keptCost:
			kept = append(kept, th)
		}
	}
	f.threads = kept
}

// search looks for the nearest count on which a row works, and gives what it
// uses and leaves there.
func (f *follower) search(start fabric.Fabric, t task) (uses, leaves int, found bool) {
	for d := 1; d <= searchReach; d++ {
		for _, count := range []int{start.Count() - d, start.Count() + d} {
			if count <= 0 || count > instruction.MaxStitches || f.spent(count) {
				continue
			}
			if did := t.work(start.Resized(count)); t.fits(did) {
				return count, did.After.Count(), true
			}
		}
	}
	return 0, 0, false
}

// spent counts a row of so many stitches, worked to find out what was meant. It says that there have
// been enough.
func (f *follower) spent(stitches int) bool {
	f.extra += 1 + stitches
	return f.extra > extraMost
}

// workBlind passes over rows until one works on one count of stitches alone.
func (f *follower) workBlind(t task) outcome {
	start := f.fabric()
	o := outcome{before: start}
	for count := 1; count <= instruction.MaxStitches && !f.spent(count); count++ {
		did := t.work(start.Resized(count))
		if !t.fits(did) {
			continue
		}
		o.Result, o.before = did, start.Resized(count)
		for d := 1; d <= settleReach; d++ {
			if f.spent(count) || t.fits(t.work(start.Resized(count+d))) {
				f.pass(unread{rounds: t.how.Rounds, stated: t.stated})
				return outcome{before: start, Result: fabric.Result{After: f.fabric()}}
			}
		}
		th := f.threads[0]
		th.fabric, th.real = did.After, false
		f.threads, f.blind = []thread{th}, false
		return o
	}
	f.pass(unread{rounds: t.how.Rounds, stated: t.stated})
	o.After = f.fabric()
	return o
}

// An unread row is one that could not be read.
type unread struct {
	rounds bool
	stated int                // the count that it states, or noCount
	body   []instruction.Node // what could be read of it
	size   int
	vague  bool // it may have changed the count by any number
	near   bool // it may have changed the count by a stitch or two
	marks  bool // it may have placed markers or put stitches on hold
}

// pass passes over a row that could not be read.
func (f *follower) pass(u unread) {
	var next []thread
	for i, by := range append([]int{0}, f.changes(u)...) {
		for _, th := range f.threads {
			th.real = false
			th.unmarked = th.unmarked || u.marks
			count := th.fabric.Count()
			switch {
			case u.stated != noCount:
				count = u.stated
			case u.vague:
				th.lost = true
			case len(u.body) > 0:
				count = th.fabric.Work(u.body, fabric.Row{Rounds: u.rounds, Size: u.size}).After.Count()
			}
			if !u.rounds {
				th.fabric = th.fabric.Begin(false, th.fabric.Side().Other())
			}
			if i > 0 {
				th.cost += changeCost
			}
			if count += by; count >= 0 {
				next = append(next, th.on(count))
			}
		}
	}
	f.blind = f.blind && u.stated == noCount
	f.keep(next)
}

// changes gives by how much an abbreviation that is not known may have changed
// the count. That depends on how many stitches the rest of the row leaves to it:
// with none it is an increase, with one it may be worked into it several times,
// and more of them it may join.
func (f *follower) changes(u unread) []int {
	start := f.fabric()
	if u.stated != noCount || !u.near || f.blind || f.spent(4*start.Count()) {
		return nil
	}
	rest := func(left int) bool {
		return start.Resized(start.Count()-left).Work(u.body, fabric.Row{Rounds: u.rounds, Size: u.size}).Problem == nil
	}
	switch {
	case rest(0) && rest(1): // it goes to the end, whatever there is
		return []int{1, -1, 2, -2}
	case rest(0):
		return []int{1}
	case rest(1):
		return []int{1, 2}
	case rest(2):
		return []int{-1}
	case rest(3):
		return []int{-1, -2}
	}
	return nil
}

// miss goes past rows that are missing.
func (f *follower) miss(rows int, rounds bool) {
	for i := range f.threads {
		th := &f.threads[i]
		th.real = false
		if !rounds && rows%2 == 1 {
			th.fabric = th.fabric.Begin(false, th.fabric.Side().Other())
		}
	}
}

// begin readies the needle for a section, or turns the work to a side.
func (f *follower) begin(rounds bool, side instruction.Side) {
	for i := range f.threads {
		f.threads[i].fabric = f.threads[i].fabric.Begin(rounds, side)
	}
}

// need goes on with the count that panels need; p says that it is not the one
// there is.
func (f *follower) need(count int, p func(have int) *problem.Problem) {
	for i := range f.threads {
		th := &f.threads[i]
		have := th.fabric.Count()
		if have == count {
			continue
		}
		if !f.blind && !th.lost {
			th.tell(p(have), task{word: func(p *problem.Problem) *problem.Problem { return p }})
			th.lag = have - count
		}
		*th = th.on(count)
		th.lost = false
	}
	f.blind = false
	f.keep(f.threads)
}

// endPanels takes it that either the panels or the needle had the right count.
func (f *follower) endPanels() {
	next := f.threads
	for i, th := range f.threads {
		if th.lag != 0 {
			f.threads[i].lag = 0
			lag := th.lag
			th.lag = 0
			next = append(next, th.on(max(0, th.fabric.Count()+lag)))
		}
	}
	f.keep(next)
}

// castOn begins a new piece, with what is likeliest to have been made so far.
func (f *follower) castOn(n instruction.Number, size int) {
	th := f.threads[0]
	th.fabric = th.fabric.CastOn(n.At(size))
	th.lost, th.lag = false, 0
	f.threads, f.blind = []thread{th}, len(n.Values) != 1 && size >= len(n.Values)
}

// lose takes it that rows whose numbers could not be read have changed the
// count, and may have placed markers.
func (f *follower) lose(marks bool) {
	for i := range f.threads {
		th := &f.threads[i]
		th.lost, th.real = true, false
		th.unmarked = th.unmarked || marks
	}
}
