package listen

import (
	"math"
	"slices"
	"strings"
)

// bodies are the parts that a size is measured on, as they are said.
var bodies = map[string]string{"head": "head", "heads": "head", "hed": "head", "hand": "hand", "hands": "hand", "palm": "hand", "foot": "foot", "feet": "foot", "fit": "foot"}

// add sets what was asked or said in particular.
func (u *utterance) add(h *Heard, c candidate) {
	switch h.Intent {
	case Fit:
		h.Number, h.HasNumber = 0, false // it is the wish that has numbers
		if c.rule.fit != "" {
			h.Fit = fitWish(c.rule.fit, c.state, u.picked(c.state))
		}
	case Yarn:
		if c.picked == 0 {
			return
		}
		h.Yarn = yarnWish(u.picked(c.state))
		if h.Yarn.HasLeft && h.Yarn.Left == math.Trunc(h.Yarn.Left) {
			h.Number, h.HasNumber = int(h.Yarn.Left), true
		}
	case Picture:
		h.Look = lookOf(u.words)
	}
}

func fitWish(kind FitKind, s state, picked map[slot][]word) *FitWish {
	w := &FitWish{Kind: kind, Section: s.section, Body: bodies[spell(picked[slotBody])], Person: personOf(picked[slotPerson])}
	measure := readLength(picked[slotMeasure])
	w.Number, w.Unit = measure.value, measure.unit
	over := readLength(picked[slotOver])
	w.Over, w.OverUnit = over.value, over.unit
	w.Stitches, w.Rows = readLength(picked[slotStitches]).value, readLength(picked[slotRows]).value
	w.HasNumber = picked[slotMeasure] != nil || picked[slotStitches] != nil || picked[slotRows] != nil
	switch {
	case picked[slotMost] != nil:
		w.Leave = -1
	case kind == LeaveOut || kind == Offers:
		w.Leave = s.number
	}
	if kind == LeaveOut && w.Leave == 0 {
		w.Kind = Offers
	}
	return w
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
	had, left := readAmount(picked[slotHad]), readAmount(picked[slotLeft])
	w := &YarnWish{Had: had.value, Left: left.value, HasHad: picked[slotHad] != nil, HasLeft: picked[slotLeft] != nil, Unit: left.unit, Yarn: spell(picked[slotYarn])}
	if w.Unit == "" {
		w.Unit = had.unit
	}
	w.Mixed = w.HasHad && w.HasLeft && had.unit != "" && had.unit != w.Unit || had.unit == MixedUnits || left.unit == MixedUnits
	if w.Unit == MixedUnits {
		w.Unit = ""
	}
	return w
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
	return fit && yarn && (h.Look == "" || h.Look == other.Look)
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
