package patterns

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// header reads a line of the header.
func (r *reading) header(l textLine) {
	if !known(l.key) {
		r.unknownKey(l)
		return
	}
	if r.panel != nil || r.section != nil {
		r.fail(l.keyAt, "misplaced", "%s belongs in the header, above the first panel and section", l.name).Suggest("move it up")
		return
	}
	if r.stands(l, r.seen) {
		return
	}
	value := l.value(r.src)
	switch l.key {
	case "pattern":
		r.pattern.Title = value
		r.checkName(l.valueAt, value)
	case "by":
		r.pattern.By = value
	case "worked":
		r.pattern.Rounds = r.worked(l, r.pattern.Rounds)
	case "cast on":
		if r.pattern.CastOn = r.count(l); len(r.pattern.CastOn.Values) > 0 && r.pattern.CastOn.Max() == 0 {
			r.fail(l.valueAt, "count-missing", "a pattern begins with at least one stitch").Suggest("write how many are cast on, such as: Cast on: 96")
			r.pattern.CastOn = instruction.Number{}
		}
	case "gauge":
		r.pattern.Gauge = r.gauge(l)
	case "needles":
		r.pattern.Needles = value
	case "yarn":
		r.pattern.Yarns = append(r.pattern.Yarns, Yarn{value, r.grams(l, value)})
	case "abbreviation":
		r.defs = append(r.defs, l)
	case "note":
		r.pattern.Notes = append(r.pattern.Notes, value)
	}
}

// needed reports the keys that a pattern can't be without.
func (r *reading) needed() {
	first := problem.Span{Start: r.begins(), End: r.begins()}
	for _, key := range []struct{ name, example string }{
		{"Pattern", "Pattern: the title"}, {"Worked", "Worked: in rounds, or: Worked: in rows"}, {"Cast on", "Cast on: 96"},
	} {
		if _, found := r.seen[keyOf(key.name)]; !found {
			r.fail(first, "missing-key", "the header has no %s line", key.name).Suggest("write: %s", key.example)
		}
	}
	if len(r.pattern.Sections) == 0 {
		r.fail(problem.Span{Start: len(r.src), End: len(r.src)}, "no-rows", "the pattern has no section and no rows").Suggest("write: Section: Brim, and below it: Round 1: k to end")
	}
}

// begins is where the text of the file begins.
func (r *reading) begins() int {
	if strings.HasPrefix(r.src, byteOrderMark) {
		return len(byteOrderMark)
	}
	return 0
}

// sectionKey reads a header key that a section carries for itself.
func (r *reading) sectionKey(l textLine) {
	if r.stands(l, r.sectionSeen) {
		return
	}
	if len(r.section.Lines) > 0 {
		r.fail(l.keyAt, "misplaced", "%s stands below rows of its section", l.name).Suggest("move it up, right under the Section line")
		return
	}
	switch l.key {
	case "worked":
		r.section.Rounds = r.worked(l, r.pattern.Rounds)
	case "gauge":
		r.section.Gauge = r.gauge(l)
	case "cast on":
		n := r.count(l)
		r.section.CastOn = &n
	}
}

// stands notes a key that may stand once, and tells of one that stands again
// or has no value.
func (r *reading) stands(l textLine, seen map[string]problem.Span) bool {
	if first, twice := seen[l.key]; twice && l.key != "abbreviation" && l.key != "note" && l.key != "yarn" {
		r.fail(l.keyAt, "twice", "%s stands in line %d already", l.name, problem.Locate(r.pattern.text, first.Start).Line).
			Suggest("keep one of the two")
		return true
	}
	seen[l.key] = l.keyAt
	if l.valueAt.Start >= l.valueAt.End {
		r.fail(l.keyAt, "empty-value", "nothing stands behind %s", l.name).Suggest("write its value, or take the line out")
		return true
	}
	return false
}

// worked reads "in rounds" or "in rows"; otherwise is what is taken when it
// can't be read.
func (r *reading) worked(l textLine, otherwise bool) bool {
	value, _, _ := strings.Cut(strings.TrimSuffix(l.value(r.src), "."), "(") // "in rows (flat)"
	switch strings.ToLower(strings.TrimSpace(value)) {
	case "in rounds", "in the round", "in round":
		return true
	case "in rows", "flat", "back and forth", "in row":
		return false
	}
	r.fail(l.valueAt, "worked", "%s was found where in rounds or in rows was expected", problem.Quote(l.value(r.src))).Suggest("write: Worked: in rounds, or: Worked: in rows")
	return otherwise
}

func (r *reading) count(l textLine) instruction.Number {
	n, problems := instruction.ParseCount(r.src, l.valueAt, r.pattern.SizeCount())
	r.problems = append(r.problems, problems...)
	if slices.ContainsFunc(problems, func(p problem.Problem) bool { return p.Code != "size-list" }) {
		return instruction.Number{} // its rows are read as if nothing were known of it
	}
	return n // of a list that is too short, the sizes that it has
}

var gaugeForm = regexp.MustCompile(`(?i)^(\d+(?:\.\d+)?)\s*(?:sts?|stitches)\s*(?:and|,|&|x|by)?\s*(\d+(?:\.\d+)?)\s*(?:rows?|rounds?|rnds?)\s*(?:=|to|over|per|in)\s*(\d+(?:\.\d+)?)\s*(cm|in|inch|inches|")\.?$`)

// centimetersPerInch is exact: the international inch.
const centimetersPerInch = 2.54

func (r *reading) gauge(l textLine) *Gauge {
	m := gaugeForm.FindStringSubmatch(strings.NewReplacer("″", `"`, "”", `"`, "×", "x").Replace(l.value(r.src)))
	if m == nil {
		r.fail(l.valueAt, "gauge", "the gauge can't be read").Suggest("write: Gauge: 22 sts and 30 rounds = 10 cm")
		return nil
	}
	g := &Gauge{Span: l.valueAt}
	for i, field := range []*float64{&g.Stitches, &g.Rows, &g.Centimeters} {
		*field, _ = strconv.ParseFloat(m[i+1], 64) // the form above lets only numbers through
	}
	if !strings.EqualFold(m[4], "cm") {
		g.Centimeters *= centimetersPerInch
	}
	if g.Stitches == 0 || g.Rows == 0 || g.Centimeters == 0 {
		r.fail(l.valueAt, "gauge", "a gauge of zero can't be knitted").Suggest("write: Gauge: 22 sts and 30 rounds = 10 cm")
		return nil
	}
	return g
}

var gramsForm = regexp.MustCompile(`(\d{1,5})(?:\s*\(([\d,\s]*)\))?\s*g\.?$`)

// grams reads the weight at the end of a Yarn line.
func (r *reading) grams(l textLine, value string) instruction.Number {
	m := gramsForm.FindStringSubmatch(value)
	if m == nil {
		return instruction.Number{}
	}
	n := instruction.Number{Span: l.valueAt}
	for _, digits := range append([]string{m[1]}, strings.FieldsFunc(m[2], func(c rune) bool { return c == ',' || c == ' ' })...) {
		grams, _ := strconv.Atoi(digits) // the form above lets only digits through
		n.Values = append(n.Values, grams)
	}
	if len(n.Values) > 1 && len(n.Values) != r.pattern.SizeCount() {
		r.fail(l.valueAt, "size-list", "%d weights stand here, and the pattern has %d sizes", len(n.Values), r.pattern.SizeCount()).
			Suggest("give one weight for each size, or one for all")
	}
	return n
}
