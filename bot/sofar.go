package bot

import (
	"errors"
	"math"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
)

// soFar says how long what is done is by now, and how much of all it is.
func (t *talk) soFar(w listen.FitWish) (Reply, error) {
	if t.here() < 0 {
		return t.sayFit("You have not begun yet, so there is nothing to measure. Say next row to begin."), nil
	}
	section, why := t.sectionToMeasure(w.Section)
	if why != "" {
		return t.sayFit(why), nil
	}
	row := t.here()
	if t.plan.finished(t.at) {
		row = len(t.plan.Rows)
	}
	p, err := fit.SoFar(t.plan.Whole(), row, section, t.ownGauge())
	if err != nil && !errors.Is(err, fit.ErrNoGauge) {
		return t.refuseFit(err)
	}
	return t.sayFit(t.progress(p, section, err == nil)), nil
}

// sectionToMeasure finds the section of a name, none where no name was said, or a
// sentence.
func (t *talk) sectionToMeasure(name string) (section *patterns.Section, why string) {
	if name == "" {
		return nil, ""
	}
	like := t.plan.sectionsLike(name)
	var found []string
	for _, r := range t.plan.Rows {
		for _, one := range like {
			if r.First && r.Section.Name == one {
				section, found = r.Section, append(found, one)
			}
		}
	}
	switch {
	case len(found) == 0:
		return nil, t.plan.noSection(name)
	case len(found) > 1:
		return nil, "Which one is that: " + list(namesOf(found), "or") + "?"
	}
	return section, ""
}

// progress puts into words how far she is with her piece, or with a section.
func (t *talk) progress(p fit.Progress, section *patterns.Section, measured bool) string {
	it, word := "Your piece", rowWord(t.plan.Pattern.Rounds)
	if section != nil {
		it, word = capital(reader.Name(section.Name)), rowWord(section.Rounds)
	}
	switch {
	case p.Done == 0 && section == nil:
		return "You are on the first " + word + " of your piece, so there is nothing to measure yet."
	case p.Done == 0:
		return it + " is not begun yet: no " + word + " of it is done."
	}
	said := ""
	switch {
	case !measured:
		said = "The pattern gives no gauge, so its length can't be told; measure it, or say your gauge. "
	case p.Done == p.Rows:
		said = it + " is " + t.length(p.Length) + " long. "
	case t.length(p.Length) == t.length(p.InAll):
		said = it + " is " + t.length(p.Length) + " long so far, which is nearly its whole length. "
	default:
		said = it + " is " + t.length(p.Length) + " long so far, of " + t.length(p.InAll) + ". "
	}
	if p.Done == p.Rows {
		return said + "All of it is worked."
	}
	left, are := p.Rows-p.Done, " are left"
	if left == 1 {
		are = " is left"
	}
	return said + "That is " + shareWords(p.Share) + " stitches; " + reader.Number(left) + " " + plural(word, left) + are + t.withThis(section, left) + "."
}

// withThis says that the row that she is on counts among those that are left.
func (t *talk) withThis(section *patterns.Section, left int) string {
	switch {
	case section != nil && t.plan.Rows[t.here()].Section != section:
		return ""
	case left == 1:
		return ", the one that you are on"
	}
	return ", with the one that you are on"
}

// shares are parts in words, each up to where the next is nearer.
var shares = []struct {
	part  float64
	words string
}{
	{0, "only a few of its"}, {0.1, "about a tenth of all"}, {0.2, "about a fifth of all"}, {0.25, "about a quarter of all"}, {1.0 / 3, "about a third of all"},
	{0.4, "about two fifths of all"}, {0.5, "about half of all"}, {0.6, "about three fifths of all"}, {2.0 / 3, "about two thirds of all"},
	{0.75, "about three quarters of all"}, {0.8, "about four fifths of all"}, {0.9, "about nine tenths of all"}, {1, "nearly all of its"},
}

func shareWords(share float64) string {
	nearest := shares[0]
	for _, s := range shares {
		if math.Abs(s.part-share) < math.Abs(nearest.part-share) {
			nearest = s
		}
	}
	return nearest.words
}
