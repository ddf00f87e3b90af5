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
	old, err := t.planOf(ctx, t.ask.Knitalong, stored)
	if err != nil && !errors.Is(err, errUnfit) { // one that can't be laid out any more tells nothing
		return at, nil, "", err
	}
	leftOut, err := t.stillLeftOut(ctx, old, pattern, at)
	if err != nil {
		return at, nil, "", err
	}
	if at.LeftOut != "" && leftOut == "" {
		notice += "The " + rowWord(pattern.Rounds) + "s that you left out can't be left out of it, so you hear them all. "
	}
	at.LeftOut = leftOut
	if p, err = t.planOf(ctx, t.ask.Knitalong, at); err != nil {
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
	v, err := t.choose(ctx, p, at, 0, leave)
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
