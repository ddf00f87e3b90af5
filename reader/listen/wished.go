package listen

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// bodies are the parts that a size is measured on, as they are said.
var bodies = map[string]string{"head": "head", "heads": "head", "hed": "head", "hand": "hand", "hands": "hand", "palm": "hand", "foot": "foot", "feet": "foot", "fit": "foot"}

// add sets what was asked or said in particular. It is false where a day was named that there is not.
func (u *utterance) add(h *Heard, c candidate) bool {
	switch h.Intent {
	case Catchup:
		h.Number, h.HasNumber = 0, false // it is the day that has numbers
		if c.picked > 0 {
			day, ok := readDay(u.picked(c.state))
			h.Until = &day
			return ok
		}
	case Fit:
		h.Number, h.HasNumber = 0, false // it is the wish that has numbers
		if c.rule.fit != "" {
			h.Fit = fitWish(c.rule.fit, c.state, u.picked(c.state))
		}
	case Yarn:
		if c.picked == 0 {
			return true
		}
		h.Yarn = yarnWish(u.picked(c.state))
		if h.Yarn.HasLeft && h.Yarn.Left >= 0 && h.Yarn.Left <= maxNumber && h.Yarn.Left == math.Trunc(h.Yarn.Left) {
			h.Number, h.HasNumber = int(h.Yarn.Left), true
		}
	case Picture:
		h.Look = lookOf(u.words)
		if last := u.lastRow(c.state); last > 0 {
			h.Number, h.Last = min(h.Number, last), max(h.Number, last)
		}
		if u.picked(c.state)[slotPanel] != nil {
			h.Section = "panel " + h.Section
		}
	case Settings:
		h.Unit = unitNamed(u.picked(c.state)[slotUnit])
	}
	return true
}

// lastRow is the last of the rows that a state names, or 0.
func (u *utterance) lastRow(s state) int {
	picked := u.picked(s)
	return int(max(readLength(picked[slotLast]).value, readLength(picked[slotAlso]).value))
}

func fitWish(kind FitKind, s state, picked map[slot][]word) *FitWish {
	w := &FitWish{Kind: kind, Section: s.section, Body: bodies[spell(picked[slotBody])], Person: personOf(picked[slotPerson]), More: picked[slotMore] != nil}
	if owner := picked[slotOwner]; owner != nil {
		w.Person = strings.TrimSuffix(personOf(owner), "s")
	}
	measure := readLength(picked[slotMeasure])
	w.Number, w.Unit = measure.value, measure.unit
	if unit := unitNamed(picked[slotUnit]); unit != "" {
		w.Unit = unit
	}
	w.setGauge(picked)
	w.HasNumber = picked[slotMeasure] != nil || picked[slotStitches] != nil || picked[slotRows] != nil
	switch {
	case picked[slotMost] != nil:
		w.Leave = -1
	case picked[slotFrom] != nil:
		w.setRows(picked)
	case kind == LeaveOut || kind == Offers:
		w.Leave = s.number
	}
	if spell(picked[slotMore]) == "another" && w.Leave == 0 {
		w.Leave = 1
	}
	if kind == LeaveOut && w.Leave == 0 && w.From == 0 {
		w.Kind = Offers
	}
	return w
}

// setGauge sets what was said of a gauge. Rows that are counted over another length than the stitches are reckoned to theirs; over
// one in another unit, they aren't.
func (w *FitWish) setGauge(picked map[slot][]word) {
	over, rowsOver := readLength(picked[slotOver]), readLength(picked[slotRowsOver])
	w.Over, w.OverUnit = over.value, over.unit
	w.Stitches, w.Rows = readSigned(picked[slotStitches]), readSigned(picked[slotRows])
	switch {
	case over.value == 0:
		w.Over, w.OverUnit = rowsOver.value, rowsOver.unit
	case rowsOver.unit != "" && over.unit != "" && rowsOver.unit != over.unit:
		w.OverUnit = MixedUnits
	case rowsOver.value > 0:
		w.Rows *= over.value / rowsOver.value
	}
}

// setRows sets rows that were named by their numbers. Two that don't follow each other are no range, and a question.
func (w *FitWish) setRows(picked map[slot][]word) {
	row := func(s slot) int { return int(readLength(picked[s]).value) }
	first, last, also := row(slotFrom), row(slotLast), row(slotAlso)
	switch {
	case picked[slotLast] != nil:
		w.From, w.To = min(first, last), max(first, last)
	case picked[slotAlso] == nil:
		w.From, w.To = first, first
	case first-also == 1 || also-first == 1:
		w.From, w.To = min(first, also), max(first, also)
	}
	if w.From == 0 {
		w.From, w.To = 0, 0 // rows are counted from one
	}
}

// unitNamed gives the unit of length that the words name, or "".
func unitNamed(ws []word) string {
	switch name := spell(ws); name {
	case "metric":
		return Centimetres
	case "imperial":
		return Inches
	default:
		return lengthUnits[name].name
	}
}

var digitNames = strings.Fields("zero one two three four five six seven eight nine")

// personOf gives the words for a person, with small numbers as they are spelt: "two year old", however it was heard.
func personOf(ws []word) string {
	var words []string
	for _, w := range ws {
		if w.num.scale == digit {
			w.text = digitNames[w.num.value]
		}
		words = append(words, w.text)
	}
	return strings.Join(words, " ")
}

// readLength reads a length with a unit or without; of no words, none.
func readLength(ws []word) quantity {
	return firstOf(ws, kPer, kFraction)
}

// readSigned reads a number that minus may stand before; of no words, 0.
func readSigned(ws []word) float64 {
	if len(ws) > 1 && minusWords[ws[0].text] {
		return -readLength(ws[1:]).value
	}
	return readLength(ws).value
}

var minusWords = wordSet("minus negative")

// readAmount reads so much yarn, with a unit or without; of no words, none.
func readAmount(ws []word) quantity {
	return firstOf(ws, kAmount, kFraction)
}

func firstOf(ws []word, kinds ...kind) quantity {
	for _, k := range kinds {
		if q, ok := readQuantity(k, ws); ok {
			return q
		}
	}
	return quantity{}
}

func yarnWish(picked map[slot][]word) *YarnWish {
	had, left, used := readAmount(picked[slotHad]), readAmount(picked[slotLeft]), readAmount(picked[slotUsed])
	w := &YarnWish{HasHad: picked[slotHad] != nil, HasLeft: picked[slotLeft] != nil, HasUsed: picked[slotUsed] != nil, Yarn: spell(picked[slotYarn])}
	if each, ok := readQuantity(kAmount, picked[slotYarn]); ok { // "two balls of fifty grams"
		had, left, used, w.Yarn = had.balls(each), left.balls(each), used.balls(each), ""
	}
	w.Had, w.Left, w.Used = had.value, left.of(had), used.of(had)
	w.Unit = cmp.Or(left.unit, used.unit, had.unit)
	w.Mixed = had.unit != "" && had.unit != w.Unit || w.Unit == MixedUnits
	if w.Unit == MixedUnits {
		w.Unit = ""
	}
	if w.HasHad && w.HasUsed && !w.Mixed {
		w.Left, w.HasLeft = w.Had-w.Used, true
	}
	return w
}

// balls is q in the unit of what one ball holds, where q is so many balls.
func (q quantity) balls(each quantity) quantity {
	if q.unit == ballUnit {
		q.value, q.unit = q.value*each.value, each.unit
	}
	return q
}

// of is the value of q, or of such a part of the whole where it is a part alone: half of a hundred grams.
func (q quantity) of(whole quantity) float64 {
	if q.part && whole.value > 0 {
		return q.value * whole.value
	}
	return q.value
}

// cautious makes a wish that changes the plan a question about it: rows are left out only where that is what was asked, and no more.
func (h Heard) cautious() Heard {
	if h.Fit != nil && h.Fit.Kind.changes() {
		asked := *h.Fit
		asked.Kind = Offers
		h.Fit = &asked
	}
	return h
}

// wishesFor reports whether h asks for nothing in particular that other doesn't ask for.
func (h Heard) wishesFor(other Heard) bool {
	fit := h.Fit == nil || other.Fit != nil && *h.Fit == *other.Fit
	yarn := h.Yarn == nil || other.Yarn != nil && *h.Yarn == *other.Yarn
	day := h.Until == nil || other.Until != nil && *h.Until == *other.Until
	return fit && yarn && day && (h.Part == "" || h.Part == other.Part) && (h.Setting == "" || h.Setting == other.Setting) && (h.Look == "" || h.Look == other.Look) && (h.Unit == "" || h.Unit == other.Unit) && (h.Last == 0 || h.Last == other.Last)
}

// changes reports whether what was heard changes a place, a membership or a plan.
func (h Heard) changes() bool {
	return h.Intent.Moves() || h.Fit != nil && h.Fit.Kind.changes()
}

// Words that tell the chart in symbols from the fabric as it should look.
var (
	chartWords  = wordSet("chart charts graph graphs diagram diagrams symbol symbols")
	fabricWords = wordSet("look looks looking fabric knitted knitting seeing")
)

// lookOf tells which picture the words ask for. Whoever looks at one ("have a look at the picture") doesn't say which.
func lookOf(ws []word) string {
	if slices.ContainsFunc(ws, func(w word) bool { return chartWords[w.text] }) {
		return LookChart
	}
	for i, w := range ws {
		at := i+1 < len(ws) && strings.HasPrefix(ws[i+1].text, "at")
		if fabricWords[w.text] && !at {
			return LookFabric
		}
	}
	return ""
}
