package worked

import (
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// worked is a stitch, as it is worked.
type worked struct {
	stitch *stitch.Stitch
	tbl    bool
	manner instruction.Manner
}

// purlwise is the stitch as it is worked where a slip that does not say how is one that
// is slipped purlwise.
func (w worked) purlwise() worked {
	if w.stitch.Kind == stitch.Slip && w.manner&instruction.Knitwise == 0 {
		w.manner |= instruction.Purlwise
	}
	return w
}

// A run is a stitch that is worked alike, one after the other.
type run struct {
	worked
	count int
	last  int // of them, those that were said together last: in "sl 1, sl 2" two
}

// decreases are those that have a name and are written out as well: so many stitches
// slipped knitwise, one stitch worked, the slipped ones passed over it.
//
// Source: the table of stitches, which has how each is worked; FORMAT.md, 6, has how
// they are written out. Where that says nothing of the slip, a decrease is meant, and
// the table's spellings of it have no more.
var decreases = []struct {
	slips             int
	works, over, name *stitch.Stitch
}{
	{1, stitch.Find("k"), stitch.Find("psso"), stitch.Find("skp")},
	{1, stitch.Find("k2tog"), stitch.Find("psso"), stitch.Find("sk2p")},
	{2, stitch.Find("k"), stitch.Find("p2sso"), stitch.Find("s2kp")},
}

// follow adds a run to those before it, and puts the name of a decrease in the place
// of its parts.
func follow(runs []run, next run) []run {
	n := len(runs)
	if next.stitch.Kind == stitch.PassOver && next.count == 1 && n >= 2 && runs[n-1].count == 1 {
		slip, work := runs[n-2], runs[n-1]
		for _, d := range decreases {
			if next.stitch != d.over || work.worked != (worked{stitch: d.works}) || !slipped(slip, d.slips) {
				continue
			}
			runs = runs[:n-2]
			if slip.count -= d.slips; slip.count > 0 {
				slip.last = 0
				runs = append(runs, slip)
			}
			return follow(runs, run{worked{stitch: d.name}, 1, 1})
		}
	}
	if n > 0 && runs[n-1].worked == next.worked {
		runs[n-1].count += next.count
		runs[n-1].last = next.last
		return runs
	}
	return append(runs, next)
}

// slipped says that the last of a run are n stitches slipped together as a decrease has
// them, knitwise: two that are slipped one by one lie otherwise.
func slipped(r run, n int) bool {
	return r.stitch.Kind == stitch.Slip && !r.tbl && (r.manner == 0 || r.manner == instruction.Knitwise) && r.last >= n
}

// increases are the stitches that are worked into the front and the back of one, and
// what they are written out as: each part is worked through the front loop and the back
// loop in turn. Source: the table of stitches, as to how each is worked.
var increases = []struct {
	parts, name *stitch.Stitch
	count       int
}{
	{stitch.Find("k"), stitch.Find("kfb"), 2},
	{stitch.Find("p"), stitch.Find("pfb"), 2},
	{stitch.Find("k"), stitch.Find("kfbf"), 3},
}

// named gives the stitch that has a name for what is worked into one stitch, or nil.
func named(body []instruction.Node) *stitch.Stitch {
	for _, inc := range increases {
		found := len(body) == inc.count
		for i := 0; found && i < len(body); i++ {
			w, ok := body[i].(*instruction.Work)
			found = ok && w.Stitch == inc.parts && w.Count == 1 && w.Manner == 0 && w.TBL == (i%2 == 1)
		}
		if found {
			return inc.name
		}
	}
	return nil
}
