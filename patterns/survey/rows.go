package survey

import (
	"hash/maphash"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
	"clew/patterns/worked"
)

// A rowKind is what one row is like.
type rowKind struct {
	simple          bool // knit and purl stitches alone
	plain           bool // simple, and worked on all the stitches that there are
	knit, purl      bool // all of them are knitted, or purled
	stocking        bool // in rows: knitted on the right side, or purled on the wrong one
	asLooks         bool // worked as they look
	worked, written uint64
}

// kindsOf tells what rows are like.
func kindsOf(plan *patterns.Plan, from, to int) rowKinds {
	k := rowKinds{plan: plan, from: from, of: make([]rowKind, to-from)}
	yarn := ""
	for _, r := range plan.Rows[:from] {
		yarn = worked.YarnAfter(r.Body, yarn)
	}
	seed := maphash.MakeSeed()
	texts := map[*instruction.Node]uint64{} // rows that are worked as others share what is written
	var key []byte
	for i := range k.of {
		r := plan.Rows[from+i]
		row := &k.of[i]
		*row = kindOf(r, yarn)
		key, yarn = worked.Key(key[:0], r.Body, yarn)
		row.worked = maphash.Bytes(seed, key)
		if len(r.Written) == 0 {
			continue
		}
		text, known := texts[&r.Written[0]]
		if !known {
			text = maphash.String(seed, instruction.Print(r.Written, plan.Size))
			texts[&r.Written[0]] = text
		}
		row.written = text
	}
	return k
}

// kindOf tells what a row is like, but for how it is written.
func kindOf(r *patterns.Row, yarn string) rowKind {
	t := tally{yarn: yarn}
	t.list(r.Body)
	whole := r.Unworked() == 0 && r.Before.Ahead() == r.Before.Count()
	simple := !t.other && t.knits+t.purls > 0
	if !simple || !whole {
		return rowKind{simple: simple}
	}
	k := rowKind{simple: true, plain: true, knit: t.purls == 0, purl: t.knits == 0}
	k.stocking = !r.Rounds && (r.Side == instruction.RS && k.knit || r.Side == instruction.WS && k.purl)
	k.asLooks = sameFaces(r)
	return k
}

// sameFaces says that every stitch of a plain row that works all of them shows what
// it showed before.
func sameFaces(r *patterns.Row) bool {
	before, after := r.Before.Loops(), r.After.Loops()
	if len(before) != len(after) {
		return false
	}
	for i := range before {
		if before[i].Face != after[i].Face {
			return false
		}
	}
	return true
}

// isPlain says that a row has knit and purl stitches alone, in one yarn, be it another
// one than that of the row before.
func isPlain(r *patterns.Row) bool {
	var t tally
	body := r.Body
	for len(body) > 0 {
		if _, ok := body[0].(*instruction.Yarn); !ok {
			break
		}
		body = body[1:]
	}
	t.list(body)
	return !t.other && r.Unworked() == 0 && t.knits+t.purls > 0
}

// A tally counts the plain stitches of a row, and notes whether it has anything else.
type tally struct {
	yarn         string // in use
	knits, purls int    // how many places of the row's tree work some
	other        bool
}

func (t *tally) list(nodes []instruction.Node) {
	for _, n := range nodes {
		switch n := n.(type) {
		case *instruction.Work:
			t.work(n)
		case *instruction.Repeat:
			if n.Count > 0 {
				t.list(n.Body)
			}
		case *instruction.Marker:
			t.other = t.other || n.Act != instruction.SlipMarker
		case *instruction.Yarn:
			t.other = t.other || stitch.Key(n.Name) != t.yarn
		case *instruction.AsLooks, *instruction.Strip, *instruction.Macro:
			t.list(worked.Inside(n))
		default:
			t.other = true
		}
		if t.other {
			return
		}
	}
}

func (t *tally) work(w *instruction.Work) {
	switch {
	case w.Count == 0:
	case !plain(w):
		t.other = true
	case w.Stitch == knit:
		t.knits++
	default:
		t.purls++
	}
}
