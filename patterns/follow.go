package patterns

import (
	"slices"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// A follower works rows one after the other. Where one goes wrong, it believes
// that the writer meant what her own text says: a row that can't be read leaves
// the count as it was, and one that doesn't fit changes it by as much as it
// would elsewhere. Beside that it keeps other counts that would explain the
// mistake, and tells in the end what the likeliest of them leaves to be told.
// Another count has to explain several later mistakes before it is believed. So
// one mistake is told once, and ten are told as ten.
type follower struct {
	threads []thread // the likeliest first; one where nothing has gone wrong
	home    int      // a count that is come back to: the width of a panel; 0 for none
	blind   bool     // nothing is known of the count
	extra   int      // stitches worked beside those that are laid out, see extraMost
}

// What speaks against a thread, and how far threads are kept. A change of the
// count has to explain two later mistakes more than it leaves, or one where it
// is nearly as likely as none: so one is that a later row bears out.
const (
	mistakeCost = 4  // something is to be told
	closeCost   = 3  // a change that is nearly as likely as none
	changeCost  = 7  // any other change
	keptCost    = 11 // more than that of the likeliest
	keptThreads = 10
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
		if t.stated != noCount || fixed(t.body) {
			th.lost = false
			if th.claimed {
				th.cost -= changeCost - closeCost
			}
			th.claimed = false
		}
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
	wrong.claimed = false
	wrong.tell(p, t)
	if did.Problem == nil { // the count that it states is another
		return append([]thread{wrong, wrong.claims(t.stated)}, f.regained(th, had, t)...)
	}
	return append(f.meant(wrong, had, did, t), f.regained(th, had, t)...)
}

// meant gives the counts that a row may have been meant to leave that does not
// work on what it had: first the one that comes of its own increases and
// decreases.
func (f *follower) meant(wrong thread, had fabric.Fabric, did fabric.Result, t task) []thread {
	likely, others := had.Count(), []int{did.After.Count()}
	if uses, leaves, found := f.search(had, t, searchReach); found {
		likely, others = net(did), append(others, had.Count(), leaves)
		wrong.lost = wrong.lost || uses != leaves // a row of increases or decreases: who knows how many
	}
	if t.stated != noCount {
		others = append(others, t.stated)
	}
	if f.home > 0 {
		others = append(others, f.home)
	}
	out := []thread{wrong.on(likely)}
	for _, count := range others {
		if count != likely {
			out = append(out, wrong.claims(count))
		}
	}
	return out
}

// regained takes it that the row which could not be read or relied on has
// changed the count, so that this one is right. That is likely where this one
// states a count, and leaves it.
func (f *follower) regained(th thread, had fabric.Fabric, t task) []thread {
	if !th.lost {
		return nil
	}
	reach := searchReach
	if t.stated != noCount {
		reach = max(reach, had.Count()/2)
	}
	_, leaves, found := f.search(had, t, reach)
	switch {
	case !found:
		return nil
	case t.stated != noCount:
		th.lost = false
		return []thread{th.at(leaves, closeCost)}
	}
	th.cost += closeCost
	return []thread{th.claims(leaves)}
}

// net is the count after a row that takes nothing from stitches that were made
// up for it.
func net(did fabric.Result) int { return max(0, did.After.Count()-did.Lacking) }

// fixed says that nodes use a number of stitches that they name themselves.
func fixed(nodes []instruction.Node) bool {
	return !slices.ContainsFunc(nodes, func(n instruction.Node) bool {
		switch n := n.(type) {
		case *instruction.Work:
			return n.Extent.Reach != instruction.Times
		case *instruction.Repeat:
			return n.Extent.Reach != instruction.Times || !fixed(n.Body)
		case *instruction.Macro:
			return !fixed(n.Body)
		case *instruction.AsLooks, *instruction.Turn:
			return true
		}
		return false
	})
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
func (f *follower) search(start fabric.Fabric, t task, reach int) (uses, leaves int, found bool) {
	for d := 1; d <= reach; d++ {
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
			next = append(next, th.at(th.fabric.Count()+lag, closeCost))
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
