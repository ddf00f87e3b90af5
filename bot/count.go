package bot

import (
	"context"
	"strings"

	"clew/reader"
	"clew/session"
)

// A tally is a moment at which the member may have counted: after a row, or
// after casting on.
type tally struct {
	done  int // index of the row just finished; -1 for casting on
	right int // stitches that should be on the needle
	off   int // how many more were counted
}

// counts answers one who has counted, and notes a row after which it was wrong.
func (t *talk) counts(ctx context.Context) Reply {
	if t.heard.HasNumber {
		if took := t.tally(t.here(), t.heard.Number); took.off != 0 {
			t.stumble(ctx, session.Miscounted, took.done)
		}
	}
	return t.say(t.count())
}

// count compares the stitches that the member counted with those that should
// be on the needle after the row just finished, and says which places in it
// could have lost or gained what differs.
func (t *talk) count() string {
	i := t.here()
	if !t.heard.HasNumber {
		return t.countTold(i)
	}
	counted := t.heard.Number
	took := t.tally(i, counted)
	where := t.after(took.done)
	if took.off == 0 {
		said := capital(reader.Number(counted)) + " is right " + where
		if took.done < i && t.plan.Rows[i].After.Count() == counted || took.done == i && i >= 0 && t.plan.Rows[i].Before.Count() == counted {
			said = capital(reader.Number(counted)) + " is right, before and after " + t.plan.rowName(i)
		}
		return said + "."
	}
	said := "There should be " + stitches(took.right) + " " + where + ". You have " + reader.Number(max(took.off, -took.off)) + " too " + fewOrMany(took.off) + ". "
	if took.done < 0 {
		return said + "Count once more, and then cast on anew or mend it in the first " + t.plan.word(0) + "."
	}
	return said + t.causes(took)
}

// tally finds the moment at which the member counted. She may have finished the
// row that she heard last, or have asked for the next one already. The count
// that is right is taken; else the one whose row explains the difference, the
// nearer one, and at last the row that she heard last.
func (t *talk) tally(i, counted int) tally {
	if i < 0 {
		right := t.plan.Pattern.CastOn.At(t.plan.Size)
		return tally{-1, right, counted - right}
	}
	r := t.plan.Rows[i]
	now := tally{i, r.After.Count(), counted - r.After.Count()}
	before := tally{i - 1, r.Before.Count(), counted - r.Before.Count()}
	if r.First && r.Section.CastOn != nil { // a new piece
		before.done = -1
	}
	switch {
	case t.plan.finished(t.at), now.off == 0:
		return now
	case before.off == 0, t.stepwise() && t.at.Step < t.lastStep(i): // in the middle of a row only the one before it is finished
		return before
	}
	explainsNow, explainsBefore := t.explained(now), t.explained(before)
	if explainsBefore && !explainsNow || explainsBefore == explainsNow && abs(before.off) < abs(now.off) {
		return before
	}
	return now
}

func abs(n int) int { return max(n, -n) }

// after words the moment after row i.
func (t *talk) after(i int) string {
	if i < 0 {
		return "after casting on"
	}
	return "after " + t.plan.rowName(i)
}

// countTold says how many stitches there should be.
func (t *talk) countTold(i int) string {
	switch {
	case i < 0:
		return "There should be " + stitches(t.plan.Pattern.CastOn.At(t.plan.Size)) + " after casting on."
	case t.plan.finished(t.at):
		return "There should be " + stitches(t.plan.Rows[i].After.Count()) + " at the end of the pattern."
	}
	r := t.plan.Rows[i]
	if before, after := r.Before.Count(), r.After.Count(); before != after {
		return "There should be " + stitches(before) + " before " + t.plan.rowName(i) + ", and " + reader.Number(after) + " after it."
	}
	return "There should be " + stitches(r.Before.Count()) + ", before and after " + t.plan.rowName(i) + "."
}

// explained says that a single slip in the row just finished would come to the
// difference.
func (t *talk) explained(took tally) bool {
	return took.done >= 0 && len(slips(t.plan.Rows[took.done].Body, t.plan.Size, took.off)) > 0
}

// causes says what could have gone wrong in the row.
func (t *talk) causes(took tally) string {
	r, word := t.plan.Rows[took.done], t.plan.word(took.done)
	look := "look below the needle for a dropped stitch, and in the " + word + " for two worked as one"
	if took.off > 0 {
		look = "look for yarn laid over the needle by accident, and for a stitch split in two"
	}
	found := slips(r.Body, t.plan.Size, took.off)
	switch {
	case len(found) == 1:
		return "Perhaps " + found[0] + ". If not, " + look + "."
	case len(found) > 1:
		return "In that " + word + " it may be one of these: " + strings.Join(found, "; or ") + ". If none, " + look + "."
	case len(effects(r.Body, t.plan.Size)) == 0:
		return "That " + word + " neither adds nor takes away a stitch. " + capital(look) + "; if that is not it, it came about earlier."
	}
	return "No one slip in that " + word + " comes to so many, so count it part by part. First " + look + "."
}

func fewOrMany(off int) string {
	if off < 0 {
		return "few"
	}
	return "many"
}
