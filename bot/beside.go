package bot

import (
	"context"
	"slices"
	"strings"

	"clew/patterns"
	"clew/patterns/compare"
	"clew/patterns/fit"
	"clew/reader"
	"clew/session"
)

// An aside is something that a corrected text changes beside the stitches of its rows.
type aside struct {
	what string // "the gauge", "a note"
	said string // a sentence with what it is now
	row  int    // of a tip: the index of its row in the new plan; else -1
}

// asides gives what a new plan changes beside the stitches of the rows, as far as may
// be told of it: all that its pattern has, which may be cut.
func asides(made *compare.Comparison, old, now *patterns.Plan, unit fit.Unit) []aside {
	was, is, open := old.Whole().Pattern, now.Whole().Pattern, now.Pattern
	found := slices.Concat(gaugeAsides(was, is, open, unit), yarnAsides(was, is, open, now.Size))
	switch needles := is.ForSize(is.Needles, now.Size); {
	case was.ForSize(was.Needles, now.Size) == needles:
	case open != is: // they may name a section that is held back
		found = append(found, aside{"the needles", "The needles are different now; ask your host which.", -1})
	default:
		found = append(found, lineAside("the needles", "are", needles))
	}
	return slices.Concat(found, noteAsides(was, is, open, now.Size), tipAsides(made, old, now))
}

// gaugeAsides compares the gauge of the header, and those of sections of one name.
func gaugeAsides(was, is, open *patterns.Pattern, unit fit.Unit) []aside {
	var found []aside
	header := &patterns.Section{}
	add := func(what string, before, after *patterns.Section) {
		old, _ := fit.GaugeOf(was, before, nil)
		now, given := fit.GaugeOf(is, after, nil)
		switch {
		case old == now:
		case given:
			found = append(found, aside{what, capital(what) + " is different now: " + reader.Gauge(now, is.Rounds, unit) + ".", -1})
		default:
			found = append(found, aside{what, capital(what) + " is no longer given.", -1})
		}
	}
	add("the gauge", header, header)
	for _, after := range open.Sections {
		i := slices.IndexFunc(was.Sections, func(s *patterns.Section) bool { return s.Name == after.Name })
		if i >= 0 && (was.Sections[i].Gauge != nil || after.Gauge != nil) {
			add("the gauge of "+reader.Name(after.Name), was.Sections[i], after)
		}
	}
	return found
}

// yarnAsides tells the yarns of a size that are not as they were.
func yarnAsides(was, is, open *patterns.Pattern, size int) []aside {
	lines := func(p *patterns.Pattern) []string {
		said := make([]string, len(p.Yarns))
		for i, y := range p.Yarns {
			said[i] = p.ForSize(y.Text, size)
		}
		return said
	}
	old, now, told := lines(was), lines(is), lines(open)
	if slices.Equal(slices.Sorted(slices.Values(old)), slices.Sorted(slices.Values(now))) {
		return nil
	}
	if changed, _ := apart(told, func(line string) bool { return !slices.Contains(old, line) }); len(changed) > 0 {
		told = changed
	}
	return []aside{lineAside("the yarn", "is", strings.Join(told, "; "))}
}

// lineAside tells of a line of the header.
func lineAside(what, verb, line string) aside {
	if words := sentence(reader.Plain(line)); words != "" {
		return aside{what, capital(what) + " " + verb + " different now: " + words, -1}
	}
	return aside{what, capital(what) + " " + verb + " no longer given.", -1}
}

// noteAsides tells the notes that are new, and of those that are gone that they are.
func noteAsides(was, is, open *patterns.Pattern, size int) []aside {
	missing := func(from, in *patterns.Pattern) []string {
		return slices.DeleteFunc(slices.Clone(from.Notes), func(note string) bool {
			return slices.ContainsFunc(in.Notes, func(n string) bool { return in.ForSize(n, size) == from.ForSize(note, size) })
		})
	}
	gone, come := missing(was, is), missing(is, was)
	var found []aside
	for k, note := range come {
		words := " is new: "
		if k < len(gone) {
			words = " is different now: "
		}
		if slices.Contains(open.Notes, note) {
			found = append(found, aside{"a note", "A note" + words + sentence(reader.Plain(open.ForSize(note, size))), -1})
		}
	}
	for range max(0, len(gone)-len(come)) {
		found = append(found, aside{"a note", "A note is no longer in it.", -1})
	}
	return found
}

// tipAsides tells the tips to rows that were there before.
func tipAsides(made *compare.Comparison, old, now *patterns.Plan) []aside {
	var found []aside
	for i, r := range old.Rows {
		j, kept := made.Carry(i)
		if !kept || j >= len(now.Rows) || slices.Equal(r.Tips, now.Rows[j].Tips) {
			continue
		}
		name := reader.RowName(now, j)
		said := "The tip to " + name + " is no longer in it."
		if tips := now.Rows[j].Tips; len(tips) > 0 {
			said = "There is another tip to " + name + ": " + sentence(reader.Plain(strings.Join(tips, " ")))
		}
		found = append(found, aside{"a tip to " + name, said, j})
	}
	return found
}

// asidesSince gives what corrections since a place have changed beside the stitches,
// as far as she may be told of it. The place may be of an earlier text.
func (t *talk) asidesSince(ctx context.Context, then, now session.Place) ([]aside, error) {
	then.LeftOut, now.LeftOut = "", ""
	made, err := t.comparison(ctx, t.ask.Knitalong, then, now)
	if made == nil || err != nil {
		return nil, err
	}
	cut := made.now.upTo(made.now.openRows(t.about, t.now()))
	return asides(made.Comparison, made.old.Plan, cut.Plan, t.unit()), nil
}

// toHear leaves out the notes and tips that she has yet to hear in their place.
func toHear(found []aside, p *patterns.Plan, at session.Place) []aside {
	heard, begun := -1, at.Row > 0
	if begun {
		heard, _ = p.Find(at.Section, at.Row)
	}
	return slices.DeleteFunc(found, func(a aside) bool { return a.row > heard || a.what == "a note" && !begun })
}

// asideWords tells them in full, where that takes no more than so many bytes; else
// what they are of, and how to hear them.
func asideWords(found []aside, most int) string {
	if words := asidesInFull(found); len(words) <= most {
		return words
	}
	return capital(asideNames(found)) + " " + areDifferent(found) + " now. Say what has changed to hear it. "
}

func asidesInFull(found []aside) string {
	var words strings.Builder
	for _, a := range found {
		words.WriteString(a.said + " ")
	}
	return words.String()
}

// asideNames names what is changed: "the gauge, the yarn and two notes".
func asideNames(found []aside) string {
	var names []string
	notes, tips := 0, 0
	for _, a := range found {
		switch {
		case a.what == "a note":
			notes++
		case a.row >= 0:
			tips++
		default:
			names = append(names, a.what)
		}
	}
	if notes > 0 {
		names = append(names, countOf(notes, "note"))
	}
	if tips > 0 {
		names = append(names, countOf(tips, "tip"))
	}
	return list(names, "and")
}

func countOf(n int, what string) string {
	if n == 1 {
		return "a " + what
	}
	return reader.Number(n) + " " + plural(what, n)
}

func areDifferent(found []aside) string {
	if len(found) == 1 && found[0].what != "the needles" {
		return "is different"
	}
	return "are different"
}
