package bot

import (
	"context"
	"errors"
	"slices"

	"clew/patterns"
	"clew/reader"
	"clew/session"
)

// carry finds where a stored place is in the current text of the pattern, and
// the plan by which she knits there. The place stays in the store as it is
// until the member moves, and every earlier place that undo goes back to is
// carried over in the same way, so that a correction shifts nobody and takes
// up no move. A notice tells what has changed for her.
func (t *talk) carry(ctx context.Context, stored session.Place) (at session.Place, p *plan, notice string, err error) {
	at = stored
	at.Revision = t.about.Revision
	if at.Revision == stored.Revision {
		p, err = t.planOf(ctx, t.ask.Knitalong, at)
		return at, p, "", err
	}
	notice = "The pattern has changed since you came here. "
	pattern, err := t.pattern(ctx, revision{t.ask.Knitalong, at.Revision})
	if err != nil {
		return at, nil, "", err
	}
	if !hasSize(pattern, at.Size) {
		if at.Size = ""; len(pattern.Sizes) == 0 {
			notice += "It now comes in one size. "
		} else {
			at.Size = pattern.Sizes[0]
			notice += "It no longer has your size, so you now hear size " + reader.Name(at.Size) + ". "
		}
	}
	if p, err = t.planOf(ctx, t.ask.Knitalong, at); errors.Is(err, errUnfit) && at.LeftOut != "" {
		at.LeftOut = ""
		notice += "The rows that you left out can't be left out of it, so you hear them all. "
		p, err = t.planOf(ctx, t.ask.Knitalong, at)
	}
	if err != nil {
		return at, nil, "", err
	}
	old, err := t.planOf(ctx, t.ask.Knitalong, stored)
	if err != nil && !errors.Is(err, errUnfit) { // one that can't be laid out any more tells nothing
		return at, nil, "", err
	}
	from := at
	at = carryRow(old, p, at)
	switch {
	case at.Row != from.Row:
		notice += "Your row is no longer in it; the nearest before it is " + p.rowName(p.rowAt(at)) + ". "
	case at.Row > 0 && at.Section != from.Section:
		notice += "Your section is now called " + reader.Name(at.Section) + ". "
	}
	return at, p, notice, nil
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
	if name := renamed(old, p, at.Section); name != "" {
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

// renamed gives the new name of a section of the old plan: that of the section
// in the same position, where no other section changed its place. It is empty
// where that can't be told.
func renamed(old, p *plan, section string) string {
	if old == nil || len(old.Pattern.Sections) != len(p.Pattern.Sections) {
		return ""
	}
	name := ""
	for i, s := range old.Pattern.Sections {
		now := p.Pattern.Sections[i].Name
		if s.Name == section {
			name = now
		} else if s.Name != now && slices.ContainsFunc(old.Pattern.Sections, func(o *patterns.Section) bool { return o.Name == now }) {
			return ""
		}
	}
	return name
}
