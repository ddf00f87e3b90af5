package fit

import "math"

// An Ease is how much larger the finished piece is than the body, in cm;
// negative is smaller. The zero Ease asks for the measure itself.
type Ease struct {
	Low, High float64
	Source    string // where the rule is from
}

// middle is the ease that is aimed at.
func (e Ease) middle() float64 { return (e.Low + e.High) / 2 }

// holds says that an ease lies in the range. Half a millimetre beside it is no
// difference that a knitted piece could show.
func (e Ease) holds(ease float64) bool {
	const slack = 0.05
	return ease >= e.Low-slack && ease <= e.High+slack
}

const commonPractice = "common practice"

// EaseOf gives the ease that suits a part of the body that measures so much
// around, in cm. All three are common practice, without a source: a hat is 2 to
// 5 cm smaller than the head, a sock about a tenth smaller than the foot (5
// to 15 in a hundred), a mitten up to 2 cm larger than the hand.
func EaseOf(b Body, around float64) Ease {
	switch b {
	case Hand:
		return Ease{Low: 0, High: 2, Source: commonPractice}
	case Foot:
		return Ease{Low: -0.15 * around, High: -0.05 * around, Source: commonPractice}
	}
	return Ease{Low: -5, High: -2, Source: commonPractice}
}

// bodies are the ranges that measures are likely in, in cm: from a baby born
// early to the largest hats, gloves and shoes that are sold; and one that many
// have, in both units.
var bodies = map[Body]struct {
	low, high float64
	example   [2]string // by Unit
}{
	Head: {25, 70, [...]string{"57 cm", "22 in"}},
	Hand: {8, 35, [...]string{"20 cm", "8 in"}},
	Foot: {8, 40, [...]string{"23 cm", "9 in"}},
}

// likelyBody refuses a measure that no body has, in the unit in which it was given.
// Where the number would be likely in the other unit, it asks whether that was
// meant.
func likelyBody(b Body, around float64, unit Unit) error {
	r, known := bodies[b]
	if !known {
		return failed(CodeBody, "a size is chosen by the head, the hand or the foot: say which of them was measured")
	}
	if math.IsNaN(around) || around <= 0 {
		return failed(CodeZero, "the %s has no measure yet: measure around it, and say how many centimetres or inches that is", b)
	}
	if around >= r.low && around <= r.high {
		return nil
	}
	number, code := inUnit(around, unit), CodeSmall
	if around > r.high {
		code = CodeLarge
	}
	advice := "check the number and its unit, such as " + r.example[unit]
	switch cm, inches := number, number*CentimetresPerInch; {
	case unit == Centimetres && inches >= r.low && inches <= r.high:
		advice = "did you mean " + written(number) + " inches?"
	case unit == Inches && cm >= r.low && cm <= r.high:
		advice = "did you mean " + written(number) + " centimetres?"
	case around > r.high && unit == Centimetres && around/CentimetresPerInch >= r.low && around/CentimetresPerInch <= r.high:
		advice = "did you mean " + written(around/CentimetresPerInch) + " centimetres?"
	}
	low, high := math.Round(2*inUnit(r.low, unit))/2, math.Round(2*inUnit(r.high, unit))/2
	return failed(code, "a %s of %s is not likely, since it measures %s to %s %s around: %s", b, FormatLength(around, unit), written(low), written(high), unit, advice)
}

// inUnit gives a length in a unit.
func inUnit(cm float64, unit Unit) float64 {
	if unit == Inches {
		return cm / CentimetresPerInch
	}
	return cm
}
