package bot

import (
	"context"
	"errors"
	"slices"

	"clew/patterns"
	"clew/patterns/compare"
	"clew/reader"
	"clew/session"
)

// A carried is a place of one text of the pattern in another.
type carried struct {
	at    session.Place
	plan  *plan  // by which she knits there
	words string // what has become of her size, her row and what she leaves out; "" where all is as it was
	gone  bool   // her row is not in it, so that she is at another
}

// carry finds where a stored place is in a revision of the pattern, and the plan by
// which she knits there. The place stays in the store as it is until the member
// moves, and every earlier place that undo goes back to is carried over in the same
// way, so that a correction shifts nobody and takes up no move.
func (t *talk) carry(ctx context.Context, stored session.Place, number int) (carried, error) {
	c := carried{at: stored}
	c.at.Revision = number
	var err error
	if number == stored.Revision {
		c.plan, err = t.planOf(ctx, t.ask.Knitalong, c.at)
		return c, err
	}
	pattern, err := t.pattern(ctx, revision{t.ask.Knitalong, number})
	if err != nil {
		return c, err
	}
	if !hasSize(pattern, stored.Size) {
		if c.at.Size = ""; len(pattern.Sizes) == 0 {
			c.words = "It now comes in one size. "
		} else {
			c.at.Size = pattern.Sizes[0]
			c.words = "It no longer has your size, so you now hear size " + reader.Name(c.at.Size) + ". "
		}
	}
	old, err := t.planOf(ctx, t.ask.Knitalong, stored)
	if err != nil && !errors.Is(err, errUnfit) { // one that can't be laid out any more tells nothing
		return c, err
	}
	if c.at.LeftOut, err = t.stillLeftOut(ctx, old, pattern, c.at); err != nil {
		return c, err
	}
	if stored.LeftOut != "" && c.at.LeftOut == "" {
		c.words += "The " + rowWord(pattern.Rounds) + "s that you left out can't be left out of it, so you hear them all. "
	}
	if c.plan, err = t.planOf(ctx, t.ask.Knitalong, c.at); err != nil {
		return c, err
	}
	made, err := t.comparison(ctx, t.ask.Knitalong, stored, c.at)
	if err != nil {
		return c, err
	}
	c.toRow(made, old)
	return c, nil
}

// toRow finds the row of a place of an old plan in the new one, by what a comparison
// of the two tells. It is nil where they can't be compared, and so may the old plan
// be.
func (c *carried) toRow(made *comparison, old *plan) {
	from := c.at
	switch {
	case made == nil || from.Row == 0:
		c.at = carryRow(old, c.plan, c.at)
		if c.at.Row != from.Row {
			c.words += c.goneWords(from, true)
		}
		return
	}
	i := old.rowAt(from)
	j, kept := made.Carry(i)
	otherwise := made.changed(i)
	if !kept { // by its place, where a section has another name and other rows
		name := renamed(sectionsOf(old.Pattern), sectionsOf(c.plan.Pattern), from.Section)
		if k, ok := c.plan.Find(name, from.Row); ok {
			j, kept, otherwise = k, true, true
		}
	}
	r := c.plan.Rows[j]
	c.at.Section, c.at.Row = r.Section.Name, r.Number
	switch last := j == len(c.plan.Rows)-1; {
	case from.Step >= pastLast && last && old.finished(from): // she has worked all, and still has
	case !kept:
		c.at.Step = 0
		c.words += c.goneWords(from, made.keptBefore(i))
	case from.Step >= pastLast && !last && old.finished(from):
		c.at.Step = 0
		c.words += "It now goes on after what was its last " + c.plan.word(j) + ", so you are at that one again. "
	case otherwise: // it has other steps
		c.at.Step = 0
	}
	if kept && c.at.Section != from.Section {
		c.words += "Your section is now called " + reader.Name(c.at.Section) + ". "
	}
}

// goneWords says that her row is gone, and what she does now; and notes it. before says
// that a row before hers is left, at which she is then.
func (c *carried) goneWords(from session.Place, before bool) string {
	c.gone = true
	i := c.plan.rowAt(c.at)
	gone := "Your " + c.plan.word(i) + ", " + reader.Number(from.Row) + " of " + reader.Name(from.Section) + ", is no longer in the pattern"
	if !before {
		return gone + ", nor is any before it, so you are at " + c.plan.rowName(i) + ", where it now begins. Take back all but what you cast on; then say again to hear it. "
	}
	have := ""
	if n := c.plan.Rows[i].After.Count(); n > 0 {
		have = ", so that you have " + stitches(n)
	}
	goOn := "; then say next row to go on. "
	if i == len(c.plan.Rows)-1 {
		goOn = "; there the pattern ends. "
	}
	return gone + ", and you now stand after " + c.plan.rowName(i) + ". Take back what you worked after that" + have + goOn
}

// A comparing names two plans of one size that are compared.
type comparing struct{ old, now choice }

// A comparison is what the second of them changes of the first.
type comparison struct {
	*compare.Comparison
	old, now *plan
}

func (c *comparison) stitches() int64 { return c.old.Stitches() + c.now.Stitches() }

// changed says that row i of the old plan is worked otherwise in the new one.
func (c *comparison) changed(i int) bool {
	return slices.ContainsFunc(c.Changes, func(one compare.Change) bool { return one.Kind == compare.Changed && one.Old == i })
}

// keptBefore says that a row before row i of the old plan is in the new one.
func (c *comparison) keptBefore(i int) bool {
	for i--; i >= 0; i-- {
		if _, kept := c.Carry(i); kept {
			return true
		}
	}
	return false
}

// comparison compares the plans of two places; it is nil where they are of different
// sizes, or one can't be laid out any more.
func (b *Bot) comparison(ctx context.Context, knitalong string, was, is session.Place) (*comparison, error) {
	if was.Size != is.Size {
		return nil, nil
	}
	old, err := b.planOf(ctx, knitalong, was)
	if errors.Is(err, errUnfit) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	now, err := b.planOf(ctx, knitalong, is)
	if err != nil {
		return nil, err
	}
	of := comparing{choiceOf(knitalong, was), choiceOf(knitalong, is)}
	return b.compared.get(ctx, of, func(context.Context) (*comparison, error) {
		return &comparison{compare.Of(old.Plan, now.Plan), old, now}, nil
	})
}

// stillLeftOut gives the rows left out at a place of an old plan as a new text of
// the pattern has them, where its sections and panels may have new names; nothing
// where they can't be left out of it. The old plan may be nil.
func (t *talk) stillLeftOut(ctx context.Context, old *plan, p *patterns.Pattern, at session.Place) (string, error) {
	if at.LeftOut == "" {
		return "", nil
	}
	leave, err := patterns.ParseLeftOut(at.LeftOut)
	if err != nil {
		return "", err
	}
	if old != nil {
		was, is := slices.Concat(sectionsOf(old.Pattern), panelsOf(old.Pattern)), slices.Concat(sectionsOf(p), panelsOf(p))
		for i, l := range leave {
			if name := renamed(was, is, l.Owner); name != "" {
				leave[i].Owner = name
			}
		}
	}
	at.LeftOut = ""
	v, err := t.choose(ctx, p, at, 0, allOpen, leave)
	if err != nil || v.against != nil {
		return "", err
	}
	return patterns.FormatLeftOut(leave), nil
}

func sectionsOf(p *patterns.Pattern) []string {
	names := make([]string, len(p.Sections))
	for i, s := range p.Sections {
		names[i] = s.Name
	}
	return names
}

func panelsOf(p *patterns.Pattern) []string {
	names := make([]string, len(p.Panels))
	for i, panel := range p.Panels {
		names[i] = panel.Name
	}
	return names
}

func hasSize(p *patterns.Pattern, size string) bool {
	return slices.Contains(p.Sizes, size) || size == "" && len(p.Sizes) == 0
}

// carryRow finds a row of an old plan in a new one: by section and number;
// where its section has a new name, by number there; else the nearest row
// before it that is in both. The old plan may be nil.
func carryRow(old, p *plan, at session.Place) session.Place {
	if at.Row == 0 {
		at.Section = p.Rows[0].Section.Name
		return at
	}
	if old != nil && at.Step >= pastLast && !p.finished(at) {
		at.Step = 0 // what was the last row no longer is
	}
	if _, ok := p.Find(at.Section, at.Row); ok {
		return at
	}
	if old != nil {
		name := renamed(sectionsOf(old.Pattern), sectionsOf(p.Pattern), at.Section)
		if _, ok := p.Find(name, at.Row); ok {
			at.Section = name
			return at
		}
	}
	i := 0
	if old == nil {
		i = p.Nearest(at.Section, at.Row)
	} else {
		for j := old.rowAt(at); j >= 0; j-- {
			if k, ok := p.Find(old.Rows[j].Section.Name, old.Rows[j].Number); ok {
				i = k
				break
			}
		}
	}
	at.Section, at.Row, at.Step = p.Rows[i].Section.Name, p.Rows[i].Number, 0
	return at
}

// renamed gives the new name of a section, of those of an old text and of a new
// one: that of the one in the same position, where no other changed its place. It
// is empty where that can't be told.
func renamed(old, now []string, section string) string {
	if len(old) != len(now) {
		return ""
	}
	name := ""
	for i, was := range old {
		if was == section {
			name = now[i]
		} else if was != now[i] && slices.Contains(old, now[i]) {
			return ""
		}
	}
	return name
}
