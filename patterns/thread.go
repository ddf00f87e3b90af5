package patterns

import (
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// A thread is one reading of the rows so far.
type thread struct {
	fabric   fabric.Fabric
	real     bool  // it is what the pattern makes, with nothing guessed
	cost     int   // what speaks against it, see the costs below
	told     *told // what is to be told if it is right, the last first
	lost     bool  // a row that could not be read, or relied on, may have changed the count by any number
	unmarked bool  // markers or held stitches may be missing that such a row has placed
	claimed  bool  // its count is claimed by the row that was wrong, and waits to be borne out
	lag      int   // the panels of the section were laid out on so many stitches fewer than there were
}

// A told problem, and those before it. It keeps where the mistake itself stands:
// a row that is worked as an earlier one, and an abbreviation used again, repeat it.
type told struct {
	problem.Problem
	at     problem.Span
	before *told
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
	if count = min(count, instruction.MaxStitches); count != th.fabric.Count() {
		th.fabric, th.real = th.fabric.Resized(count), false
	}
	return th
}

// claims gives the thread with another count that the row itself names. The
// next row that works on that count alone, or states it, bears it out.
func (th thread) claims(count int) thread {
	th = th.at(count, changeCost)
	th.claimed = true
	return th
}

// at gives the thread with another count, against which so much speaks.
func (th thread) at(count, cost int) thread {
	th.cost += cost
	th.real = false
	return th.on(max(0, count))
}
