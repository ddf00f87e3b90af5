package patterns

import (
	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// An unread row is one that could not be read.
type unread struct {
	rounds bool
	stated int                // the count that it states, or noCount
	body   []instruction.Node // what could be read of it
	meant  []instruction.Node // what it likely was meant to say
	size   int
	vague  bool // it may have changed the count by any number
	near   bool // it may have changed the count by a stitch or two
	marks  bool // it may have placed markers or put stitches on hold
}

// work works what a row says as far as it could be read, or was meant to say.
func (u unread) work(f fabric.Fabric, body []instruction.Node) fabric.Result {
	return f.Work(body, fabric.Row{Rounds: u.rounds, Size: u.size})
}

// pass passes over a row that could not be read.
func (f *follower) pass(u unread) {
	changes := f.changes(u)
	var next []thread
	for _, th := range f.threads {
		start := th.fabric
		count := start.Count()
		th.real = false
		th.unmarked = th.unmarked || u.marks
		th.lost = th.lost && u.stated == noCount || u.vague && u.stated == noCount
		switch {
		case u.stated != noCount:
			count = u.stated
		case !u.vague && len(u.body) > 0:
			count = net(u.work(start, u.body))
		}
		if !u.rounds {
			th.fabric = start.Begin(false, start.Side().Other())
		}
		next = append(next, th.on(count))
		if u.stated != noCount {
			continue
		}
		if by, found := f.meantChange(u, start); found {
			next = append(next, th.at(start.Count()+by, closeCost))
			continue
		}
		for _, by := range changes {
			next = append(next, th.at(count+by, changeCost))
		}
	}
	f.blind = f.blind && u.stated == noCount
	f.keep(next)
}

// meantChange is by how much a row changes the count that works as it was
// likely meant.
func (f *follower) meantChange(u unread, start fabric.Fabric) (by int, found bool) {
	if len(u.meant) == 0 || f.spent(start.Count()) {
		return 0, false
	}
	did := u.work(start, u.meant)
	return did.After.Count() - start.Count(), did.Problem == nil
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
		return u.work(start.Resized(start.Count()-left), u.body).Problem == nil
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
