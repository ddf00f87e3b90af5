package fit

import (
	"slices"
	"strings"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// yarnStitches is how many stitches of a plan are worked in one yarn.
type yarnStitches struct {
	name    string
	several bool      // there are others
	castOn  float64   // with which the plan begins
	rows    []float64 // of each row, what is cast on before it included
}

func (y *yarnStitches) total() float64 {
	sum := 0.0
	for _, n := range y.rows {
		sum += n
	}
	return sum
}

func (y *yarnStitches) inYarn() string {
	if !y.several {
		return ""
	}
	return " in " + y.name
}

// runsOut gives the index of the row, from row on, in which left is used up at so
// much each stitch; -1 for none.
func (y *yarnStitches) runsOut(row int, left, each float64) int {
	for i := row; i < len(y.rows); i++ {
		if left -= each * y.rows[i]; left < -1e-9 {
			return i
		}
	}
	return -1
}

// yarnNamed counts the stitches in the yarn of a name, or in the only one.
func yarnNamed(plan *patterns.Plan, name string) (*yarnStitches, error) {
	all := yarnsOf(plan)
	name = strings.TrimSpace(name)
	if len(all) == 1 && (name == "" || all[0].name == "") {
		return all[0], nil
	}
	var names []string
	for _, y := range all {
		if strings.EqualFold(y.name, name) {
			return y, nil
		}
		names = append(names, y.name)
	}
	if name == "" {
		return nil, failed(CodeYarnName, "the pattern is worked in several yarns: say which one, %s", strings.Join(names, " or "))
	}
	return nil, failed(CodeYarnName, "no yarn of the pattern is called %q; there is %s", name, strings.Join(names, " and "))
}

// yarnsOf counts the stitches of each yarn. A yarn that is only cast on with,
// before another is taken up by its name, is taken for that one.
func yarnsOf(plan *patterns.Plan) []*yarnStitches {
	rows := plan.Rows
	last := rows[len(rows)-1].After
	all := []*yarnStitches{{rows: make([]float64, len(rows))}}
	for i := 1; last.YarnName(uint8(i)) != ""; i++ {
		all = append(all, &yarnStitches{name: last.YarnName(uint8(i)), rows: make([]float64, len(rows))})
	}
	for i, r := range rows {
		if len(all) == 1 {
			all[0].rows[i] = float64(stitchesAhead(plan, i))
		} else {
			for _, act := range plan.Acts(i) {
				all[act.Yarn].rows[i] += stitchesOf(act.Node, act.Stitch, len(act.Uses), len(act.Makes))
			}
		}
		if r.First && r.Section.CastOn != nil && i > 0 {
			all[castOnYarn(r)].rows[i] += float64(r.Before.Count())
		}
	}
	all[0].castOn = float64(rows[0].Before.Count())
	if len(all) > 1 && all[0].total() == 0 {
		all[1].castOn = all[0].castOn
		all = all[1:]
	}
	if len(all) > 1 {
		for _, y := range all {
			y.several = true
		}
		if all[0].name == "" {
			all[0].name = unnamed(plan.Pattern, all[1:])
		}
	}
	return all
}

// stitchesAhead is how many stitches a row works: those before it, but for those
// that a short row leaves.
func stitchesAhead(plan *patterns.Plan, i int) int64 {
	if i+1 < len(plan.Rows) {
		return plan.Rows[i+1].Worked - plan.Rows[i].Worked
	}
	return plan.Stitches() - plan.Rows[i].Worked
}

// stitchesOf is how many stitches' worth of yarn an act takes.
func stitchesOf(n instruction.Node, s *stitch.Stitch, uses, makes int) float64 {
	switch n.(type) {
	case *instruction.Held, *instruction.Marker, *instruction.Turn, *instruction.Yarn, *instruction.Bead:
		return 0
	}
	switch {
	case s != nil && s.Kind == stitch.Slip:
		return 0
	case makes == 0: // bound off
		return float64(uses)
	}
	return float64(makes)
}

// castOnYarn is the yarn that a piece is cast on with.
func castOnYarn(r *patterns.Row) uint8 {
	if loops := r.Before.Loops(); len(loops) > 0 {
		return loops[0].Yarn
	}
	return 0
}

// unnamed names the yarn that a pattern takes up without saying its name: by its
// first Yarn line that is about none of the others, else by the Council's
// abbreviation for a main color.
func unnamed(p *patterns.Pattern, others []*yarnStitches) string {
	for _, y := range p.Yarns {
		name := yarnName(y.Text)
		if !slices.ContainsFunc(others, func(o *yarnStitches) bool { return strings.EqualFold(o.name, name) }) {
			return name
		}
	}
	return "MC"
}

// yarnName is the name that a Yarn line begins with: "MC" of "MC (the stones),
// wool of DK weight, 45 g".
func yarnName(text string) string {
	if i := strings.IndexAny(text, "(,:;"); i >= 0 {
		text = text[:i]
	}
	return strings.TrimSpace(text)
}

// A Need is what a Yarn line of the pattern says that a size needs, against what
// there is.
type Need struct {
	Yarn   string  // the name that the line begins with
	Grams  float64 // that the pattern says it needs
	Had    float64 // grams
	Answer Answer  // Close: less than a tenth is missing, which a looser or a tighter hand may make up for
}

// PatternNeeds compares what there is of a yarn before casting on with the
// weight that the pattern's Yarn line gives for a size. With several lines,
// name is what the line begins with, or a word of it. It fails with an *Error
// for amounts that can't be, for metres and yards, and where no line gives a weight or
// it is not clear which is meant.
func PatternNeeds(p *patterns.Pattern, size int, name string, had float64, unit YarnUnit) (Need, error) {
	if _, err := sizeName(p, size); err != nil {
		return Need{}, err
	}
	if unit != Grams && unit != Ounces {
		return Need{}, failed(CodeUnitUnknown, "the pattern gives the yarn by weight: say how many grams or ounces there are")
	}
	if err := (Weighed{Had: had, Unit: unit}).check(yarnMeasures[unit]); err != nil {
		return Need{}, err
	}
	var lines []patterns.Yarn
	var names []string
	for _, y := range p.Yarns {
		if len(y.Grams.Values) == 0 {
			continue
		}
		names = append(names, yarnName(y.Text))
		if name = strings.TrimSpace(name); name == "" || strings.Contains(strings.ToLower(y.Text), strings.ToLower(name)) {
			lines = append(lines, y)
		}
	}
	exact := slices.DeleteFunc(slices.Clone(lines), func(y patterns.Yarn) bool { return !strings.EqualFold(yarnName(y.Text), name) })
	if len(exact) == 1 {
		lines = exact
	}
	switch {
	case len(names) == 0:
		return Need{}, failed(CodeYarnUnknown, "the pattern does not say how much yarn it needs")
	case len(lines) == 0:
		return Need{}, failed(CodeYarnName, "no yarn of the pattern is called %q; there is %s", name, strings.Join(names, " and "))
	case len(lines) > 1:
		return Need{}, failed(CodeYarnName, "the pattern is worked in several yarns: say which one, %s", strings.Join(names, " or "))
	}
	n := Need{Yarn: yarnName(lines[0].Text), Grams: float64(lines[0].Grams.At(size)), Had: had}
	if unit == Ounces {
		n.Had *= GramsPerOunce
	}
	n.Answer = answer(n.Had, (1-spread)*n.Grams, n.Grams)
	return n, nil
}
