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
// early to the largest hats, gloves and shoes that are sold.
var bodies = map[Body]struct{ low, high float64 }{
	Head: {25, 70},
	Hand: {8, 35},
	Foot: {8, 40},
}

// likelyBody refuses a measure that no body has. Where the number would be
// likely in the other unit, it asks whether that was meant.
func likelyBody(b Body, around float64) error {
	r, known := bodies[b]
	if !known {
		return failed(CodeBody, "a size is chosen by the head, the hand or the foot: say which of them was measured")
	}
	code, meant := CodeSmall, ""
	switch {
	case math.IsNaN(around) || around <= 0:
		return failed(CodeZero, "the %s has no measure yet: measure around it, and say how many centimetres or inches that is", b)
	case around < r.low:
		if inches := around; inches*CentimetresPerInch >= r.low && inches*CentimetresPerInch <= r.high {
			meant = ", or did you mean " + written(inches) + " inches?"
		}
	case around > r.high:
		code = CodeLarge
		if cm := around / CentimetresPerInch; cm >= r.low && cm <= r.high {
			meant = ", or did you mean " + written(cm) + " centimetres?"
		}
	default:
		return nil
	}
	return failed(code, "a %s of %s is not likely, since it measures %s to %s cm around: check the number and its unit%s",
		b, FormatLength(around, Centimetres), written(r.low), written(r.high), meant)
}
