package patterns

import (
	"slices"
	"strings"
	"unicode"

	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// define reads the pattern's own abbreviations, which may use those above them.
func (r *reading) define() {
	for i, l := range r.defs {
		if i == MaxAbbreviations {
			r.fail(l.keyAt, "too-many-abbreviations", "a pattern has at most %d abbreviations of its own, and this is one more", MaxAbbreviations).
				Suggest("write some of them out where they are worked")
			r.pattern.stopped = true
			return
		}
		r.definition(l)
	}
}

func (r *reading) definition(l textLine) {
	text := r.src[l.valueAt.Start:l.valueAt.End]
	equals := strings.IndexByte(text, '=')
	if equals < 0 {
		r.fail(l.valueAt, "abbreviation", "an abbreviation and its meaning are joined by =, and there is none").Suggest("write: Abbreviation: T5R = sl 3 to cn, hold in back, k2, p3 from cn")
		name, _, _ := strings.Cut(text, " ")
		r.defineFailed(name, l.valueAt)
		return
	}
	name := strings.TrimSpace(text[:equals])
	nameAt := problem.Span{Start: l.valueAt.Start, End: l.valueAt.Start + len(name)}
	bodyAt := problem.Span{Start: l.valueAt.Start + equals + 1, End: l.valueAt.End}
	in, problems := instruction.Parse(r.src, bodyAt, r.options())
	r.problems = append(r.problems, problems...)
	switch {
	case !strings.ContainsFunc(name, unicode.IsLetter):
		r.fail(l.valueAt, "abbreviation", "a name was expected before the =, with a letter in it").Suggest("write: Abbreviation: T5R = sl 3 to cn, hold in back, k2, p3 from cn")
	case r.pattern.Abbreviations.Find(name) != nil:
		r.fail(nameAt, "twice", "%s is defined already", problem.Quote(name)).Suggest("keep one of the two, or give this one another name")
	case len(problems) > 0:
		r.defineFailed(name, bodyAt)
	case !r.pattern.Abbreviations.Define(&instruction.Definition{Name: name, Body: in.Body, Span: bodyAt}):
		r.fail(nameAt, "abbreviation", "%s is too long for an abbreviation", problem.Quote(name)).
			Suggest("give it a name of at most %d letters and digits", instruction.MaxName)
	}
}

// defineFailed takes an abbreviation whose meaning can't be read, so that it
// is told once and not wherever it is used.
func (r *reading) defineFailed(name string, at problem.Span) {
	if r.pattern.Abbreviations.Define(&instruction.Definition{Name: name, Span: at}) {
		r.failed[name] = true
	}
}

// usesFailed says that nodes use an abbreviation that can't be read.
func (r *reading) usesFailed(nodes []instruction.Node) bool {
	if len(r.failed) == 0 {
		return false
	}
	return slices.ContainsFunc(nodes, func(n instruction.Node) bool {
		switch n := n.(type) {
		case *instruction.Macro:
			return r.failed[n.Name] || r.usesFailed(n.Body)
		case *instruction.Repeat:
			return r.usesFailed(n.Body)
		case *instruction.Into:
			return r.usesFailed(n.Body)
		case *instruction.Cross:
			return slices.ContainsFunc(n.Parts, func(p instruction.Part) bool { return r.usesFailed(p.Body) })
		}
		return false
	})
}
