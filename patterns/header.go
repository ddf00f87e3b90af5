package patterns

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// keys are the words that begin a line, as they are written.
var keys = []string{"Pattern", "By", "Worked", "Sizes", "Cast on", "Gauge", "Needles", "Yarn", "Abbreviation", "Note",
	"Panel", "Section", "Across", "Row", "Round", "Tip"}

func known(key string) bool {
	return slices.ContainsFunc(keys, func(k string) bool { return strings.EqualFold(k, key) })
}

// header reads a line of the header.
func (r *reading) header(l textLine) {
	if !known(l.key) {
		fail := r.fail(l.keyAt, "unknown-key", "%q is no key that Clew knows", l.name)
		if near := nearestKey(l.name); near != "" {
			fail.Suggest("did you mean %s?", near)
		} else {
			fail.Suggest("the keys are: %s", strings.Join(keys, ", "))
		}
		r.unsure()
		return
	}
	if r.panel != nil || r.section != nil {
		r.fail(l.keyAt, "misplaced", "%s belongs in the header, above the first panel and section", l.name)
		return
	}
	if first, twice := r.seen[l.key]; twice && l.key != "abbreviation" && l.key != "note" && l.key != "yarn" {
		r.fail(l.keyAt, "twice", "%s stands in line %d already", l.name, problem.Locate([]byte(r.src), first.Start).Line)
		return
	}
	r.seen[l.key] = l.keyAt
	value := l.value(r.src)
	if value == "" {
		r.fail(l.keyAt, "empty-value", "nothing stands behind %s", l.name)
		return
	}
	switch l.key {
	case "pattern":
		r.pattern.Title = value
	case "by":
		r.pattern.By = value
	case "worked":
		r.pattern.Rounds = r.worked(l)
	case "cast on":
		r.pattern.CastOn = r.count(l)
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

// unsure notes that a line of the open panel or section could not be read.
func (r *reading) unsure() {
	if r.panel != nil {
		r.panel.unsure = true
	}
	if r.section != nil {
		r.section.unsure = true
	}
}

func nearestKey(name string) string {
	lower := make([]string, len(keys))
	for i, k := range keys {
		lower[i] = strings.ToLower(k)
	}
	if near := problem.Nearest(strings.ToLower(name), lower); near != "" {
		return keys[slices.Index(lower, near)]
	}
	return ""
}

// needed reports the keys that a pattern can't be without.
func (r *reading) needed() {
	first := problem.Span{}
	for _, key := range []struct{ name, example string }{
		{"Pattern", "Pattern: the title"}, {"Worked", "Worked: in rounds, or: Worked: in rows"}, {"Cast on", "Cast on: 96"},
	} {
		if _, found := r.seen[strings.ToLower(key.name)]; !found {
			r.fail(first, "missing-key", "the header has no %s line", key.name).Suggest("write: %s", key.example)
			first.End++ // each is told, though all stand at the beginning of the file
		}
	}
	if len(r.pattern.Sections) == 0 {
		r.fail(problem.Span{Start: len(r.src), End: len(r.src)}, "no-rows", "the pattern has no section and no rows").Suggest("write: Section: Brim, and below it: Round 1: k to end")
	}
}

// sectionKey reads a header key that a section carries for itself.
func (r *reading) sectionKey(l textLine) {
	switch l.key {
	case "worked":
		r.section.Rounds = r.worked(l)
	case "gauge":
		r.section.Gauge = r.gauge(l)
	case "cast on":
		n := r.count(l)
		r.section.CastOn = &n
	}
}

func (r *reading) worked(l textLine) bool {
	switch strings.ToLower(strings.TrimSuffix(l.value(r.src), ".")) {
	case "in rounds", "in the round", "in round":
		return true
	case "in rows", "flat", "back and forth", "in row":
		return false
	}
	r.fail(l.valueAt, "worked", "%q was found where in rounds or in rows was expected", l.value(r.src)).Suggest("write: Worked: in rounds, or: Worked: in rows")
	return false
}

func (r *reading) count(l textLine) instruction.Number {
	n, problems := instruction.ParseCount(r.src, l.valueAt, r.pattern.SizeCount())
	r.problems = append(r.problems, problems...)
	return n
}

// sizes reads "small (medium, large)".
func (r *reading) sizes(l textLine) {
	value := l.value(r.src)
	first, rest, more := strings.Cut(value, "(")
	names := []string{first}
	if more {
		rest, after, closed := strings.Cut(rest, ")")
		if !closed || strings.Trim(after, " .") != "" {
			r.fail(l.valueAt, "sizes", "the sizes after the first stand in one pair of parentheses").Suggest("write: Sizes: small (medium, large)")
		}
		names = append(names, strings.Split(rest, ",")...)
	} else if strings.Contains(first, ",") {
		names = strings.Split(first, ",")
	}
	for _, name := range names {
		name = strings.Join(strings.Fields(name), " ")
		switch {
		case name == "":
			r.fail(l.valueAt, "sizes", "a size has no name").Suggest("write: Sizes: small (medium, large)")
		case slices.ContainsFunc(r.pattern.Sizes, func(s string) bool { return strings.EqualFold(s, name) }):
			r.fail(l.valueAt, "sizes", "the size %q stands twice", name)
		default:
			r.pattern.Sizes = append(r.pattern.Sizes, name)
		}
	}
	if len(r.pattern.Sizes) > MaxSizes {
		r.fail(l.valueAt, "too-many-sizes", "%d sizes stand here; a pattern has at most %d", len(r.pattern.Sizes), MaxSizes)
	}
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
