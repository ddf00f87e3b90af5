package fit

import "fmt"

// Codes of the errors that this half of the package gives. Each names what is
// wrong with what was asked, for a program that wants to ask again.
const (
	CodeEmpty       = "empty"        // nothing was given
	CodeUnreadable  = "unreadable"   // it is no length, or no gauge
	CodeUnitMissing = "unit-missing" // a number alone
	CodeUnitMixed   = "unit-mixed"   // two units
	CodeUnitUnknown = "unit-unknown" // neither centimetres nor inches
	CodeZero        = "zero"
	CodeNegative    = "negative"
	CodeSmall       = "small" // below what is likely
	CodeLarge       = "large" // above what is likely
	CodeNoGauge     = "no-gauge"
	CodeNoRepeat    = "no-repeat"   // nothing in it repeats across, so that it can't be made wider
	CodeNoCastOn    = "no-cast-on"  // no number of stitches near the one that is wanted comes out
	CodeNoStitches  = "no-stitches" // nothing is on the needle that could be measured
	CodeShaped      = "shaped"      // it has no straight part that goes around
	CodeAround      = "around"      // nothing in it goes around such a body
	CodeBody        = "body"        // no part of the body that sizes are chosen by
	CodeSize        = "size"        // the pattern has no such size
)

// An Error says in one English sentence, with digits, what can't be done and
// what to do instead.
type Error struct {
	Code string // one of the codes above: for machines
	Said string // the sentence, without a full stop

	Barrier *Barrier // with CodeBreaks, where one number of rows is all there is to be told of: what it would break; nil else
}

// Error gives the sentence.
func (e *Error) Error() string { return e.Said }

func failed(code, format string, args ...any) *Error {
	return &Error{Code: code, Said: fmt.Sprintf(format, args...)}
}

// ErrNoGauge says that neither the pattern nor the knitter gives a gauge.
var ErrNoGauge = failed(CodeNoGauge, "the pattern gives no gauge: give your own, such as 22 sts and 30 rows = 10 cm")
