package patterns

import (
	"slices"
	"strings"
	"unicode"

	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// define reads the pattern's own abbreviations. One may use another wherever
// that stands.
func (r *reading) define() {
	if len(r.defs) > MaxAbbreviations {
		r.fail(r.defs[MaxAbbreviations].keyAt, "too-many-abbreviations", "a pattern has at most %d abbreviations of its own, and this is one more", MaxAbbreviations).
			Suggest("write some of them out where they are worked")
		r.pattern.stopped = true
		return
	}
	d := defining{reading: r, begun: make([]bool, len(r.defs)), done: make([]bool, len(r.defs))}
	for i := range r.defs {
		d.names = append(d.names, spaced(nameOf(d.text(i))))
	}
	for i := range r.defs {
		d.visit(i)
	}
}

// defining reads abbreviations in such an order that those which another one
// uses come before it.
type defining struct {
	*reading
	names       []string // of all abbreviations, spaced
	begun, done []bool
}

// spaced gives the words and numbers of a text in lower case, with one space
// around each, so that a name can be looked for.
func spaced(text string) string {
	return " " + strings.Join(strings.FieldsFunc(strings.ToLower(text), func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) }), " ") + " "
}

// text is the value of an Abbreviation line, and nameOf the name in it.
func (d *defining) text(i int) string { return d.src[d.defs[i].valueAt.Start:d.defs[i].valueAt.End] }

func nameOf(text string) string {
	name, _, _ := strings.Cut(text, "=")
	return strings.TrimSpace(name)
}

func (d *defining) visit(i int) {
	if d.begun[i] {
		return
	}
	d.begun[i] = true
	l, text := d.defs[i], d.text(i)
	_, body, _ := strings.Cut(text, "=")
	body = spaced(body)
	for used, word := range d.names {
		if used == i || word == "  " || !strings.Contains(body, word) { // one that uses its own name means the usual one
			continue
		}
		if d.visit(used); !d.done[used] {
			d.fail(l.valueAt, "abbreviation", "%s uses %s, which is defined by it in turn, so that neither says what is worked", problem.Quote(nameOf(text)), problem.Quote(nameOf(d.text(used)))).
				Suggest("write out in one of them what is worked")
			d.defineFailed(nameOf(text), l.valueAt)
			d.done[i] = true
			return
		}
	}
	d.definition(l)
	d.done[i] = true
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
