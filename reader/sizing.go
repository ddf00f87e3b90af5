package reader

import (
	"cmp"
	"slices"

	"clew/patterns"
	"clew/patterns/fit"
)

var bodyWords = [...]string{fit.Head: "head", fit.Hand: "hand", fit.Foot: "foot"}

// Sizing says which size suits: what it measures, how that compares with what
// was measured, and what the sizes beside it would come to. Who is the person
// of the table whose body it is, such as "toddler"; empty is the listener.
func Sizing(s fit.Sizing, p *patterns.Pattern, who string, unit fit.Unit) string {
	return sized{s, p, shortName(who, ""), unit, s.Best}.said()
}

// SizingBeside is Sizing that says of another size as well how it compares: size, as
// an index of the pattern's sizes.
func SizingBeside(s fit.Sizing, p *patterns.Pattern, size int, who string, unit fit.Unit) string {
	t := sized{s, p, shortName(who, ""), unit, s.Best}
	i := slices.IndexFunc(s.Sizes, func(w fit.SizeWidth) bool { return w.Size == size })
	if i < 0 || i == s.Best {
		return t.said()
	}
	t.beside = i
	asked := s.Sizes[i]
	said := capital(t.name(asked)) + " is " + Length(asked.Width, unit) + t.way() + ", " + t.compared(t.ease(asked))
	if t.Best = i; t.forBody() && !t.usual() {
		said += ", which " + t.judged()
	}
	t.Best = s.Best
	return joined(t.said(), said+".")
}

func (t sized) said() string {
	s, unit := t.Sizing, t.unit
	best := s.Sizes[s.Best]
	said := "It is " + Length(best.Width, unit) + t.way() + ", " + t.compared(t.ease(best)) + "."
	switch {
	case len(s.Sizes) > 1:
		said = capital(t.name(best)) + " " + t.verdict() + ". " + said
	case t.forBody():
		said = "The pattern has one size. " + said + " That " + t.judged() + "."
	default:
		said = "The pattern has one size. " + said
	}
	if t.forBody() && !t.usual() {
		said += " Usual is " + t.easeRange() + "."
	}
	if t.forBody() && t.who != "" {
		said += " " + capital(t.whose()) + " is about " + Length(s.Around, unit) + " around."
	}
	return joined(said, t.neighbours())
}

// A sized puts a sizing into words.
type sized struct {
	fit.Sizing
	pattern *patterns.Pattern
	who     string
	unit    fit.Unit
	beside  int // another of Sizes, which is told of by itself; Best for none
}

// forBody says that a body was measured; else a finished width is wanted.
func (t sized) forBody() bool { return t.Wanted != fit.Ease{} }

func (t sized) whose() string {
	if t.who == "" {
		return "your " + bodyWords[t.Body]
	}
	return article(t.who) + "'s " + bodyWords[t.Body]
}

func (t sized) way() string {
	if t.Sideways || t.Section == nil || t.Section.Rounds {
		return " around"
	}
	return " wide"
}

func (t sized) name(w fit.SizeWidth) string {
	return "size " + shortName(t.pattern.Sizes[w.Size], "without a name")
}

// ease is a size's width less what it is to fit, both as they are said.
func (t sized) ease(w fit.SizeWidth) int { return marks(w.Width, t.unit) - marks(t.Around, t.unit) }

// usual goes by the lengths as they are said, so that a listener who compares
// them finds it right.
func (t sized) usual() bool {
	ease := t.ease(t.Sizes[t.Best])
	return marks(t.Wanted.Low, t.unit) <= ease && ease <= marks(t.Wanted.High, t.unit)
}

// verdict says how well the best of several sizes does.
func (t sized) verdict() string {
	switch {
	case !t.forBody():
		return "comes nearest"
	case t.usual():
		return t.judged() + " best"
	}
	return "comes nearest, but " + t.judged()
}

// judged says how a size fits the body.
func (t sized) judged() string {
	switch {
	case t.usual():
		return "suits " + t.whose()
	case t.ease(t.Sizes[t.Best]) < marks(t.Wanted.Low, t.unit):
		return "is tighter than usual"
	}
	return "is looser than usual"
}

// compared says a width beside what it is to fit.
func (t sized) compared(ease int) string {
	to := t.whose()
	if t.who != "" {
		to = "the " + bodyWords[t.Body]
	}
	if !t.forBody() {
		to = "you want"
	}
	switch {
	case ease < 0:
		return lengthOf(-ease, t.unit) + " less than " + to
	case ease > 0:
		return lengthOf(ease, t.unit) + " more than " + to
	case t.forBody():
		return "the same as " + to
	}
	return "just what you want"
}

// easeRange says the ease that suits.
func (t sized) easeRange() string {
	low, high := marks(t.Wanted.Low, t.unit), marks(t.Wanted.High, t.unit)
	switch {
	case low == 0 && high == 0:
		return "the same"
	case high == 0:
		return "up to " + lengthOf(-low, t.unit) + " less"
	case low == 0:
		return "up to " + lengthOf(high, t.unit) + " more"
	case high < 0:
		return lengths(-high, -low, t.unit) + " less"
	case low > 0:
		return lengths(low, high, t.unit) + " more"
	}
	return "between " + lengthOf(-low, t.unit) + " less and " + lengthOf(high, t.unit) + " more"
}

// neighbours says what the next narrower and the next wider size come to.
func (t sized) neighbours() string {
	sizes := slices.Clone(t.Sizes)
	slices.SortStableFunc(sizes, func(a, b fit.SizeWidth) int { return cmp.Compare(a.Width, b.Width) })
	best := slices.Index(sizes, t.Sizes[t.Best])
	said := ""
	alone := func(i int) bool { return t.beside != t.Best && sizes[i] == t.Sizes[t.beside] }
	if best > 0 && !alone(best-1) {
		said = t.name(sizes[best-1]) + " would be " + Length(sizes[best-1].Width, t.unit)
	}
	if best+1 < len(sizes) && !alone(best+1) {
		if said == "" {
			said = t.name(sizes[best+1]) + " would be "
		} else {
			said += ", and " + t.name(sizes[best+1]) + " "
		}
		said += Length(sizes[best+1].Width, t.unit)
	}
	if said == "" {
		return ""
	}
	return capital(said) + "."
}
