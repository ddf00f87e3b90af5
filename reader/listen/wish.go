package listen

// FitKind is what was asked about the fit. Its text is the word that `clew hear` prints.
type FitKind string

// What can be asked about the fit. LeaveOut and WorkAll change the plan, so they are given only when every word of the
// utterance is accounted for; the others are answered and change nothing.
const (
	Sizes    FitKind = "sizes"        // which size fits: a measure, a person, or nobody yet
	Gauge    FitKind = "gauge"        // so many stitches and rows are mine; with neither, which gauge is wanted
	Shorter  FitKind = "shorter"      // by Number; 0 for no length said
	Longer   FitKind = "longer"       // by Number; 0 for no length said
	ToLength FitKind = "length"       // Number long
	Width    FitKind = "measurements" // the finished measurements, of Section or of the whole
	Offers   FitKind = "offers"       // which rows may be left out, of Section or of the whole
	LeaveOut FitKind = "leaveout"     // Leave rows, of Section if one was named
	WorkAll  FitKind = "workall"      // leave out nothing
	CastOn   FitKind = "caston"       // how many stitches to cast on for Number; 0 for no width said
)

var fitKinds = []FitKind{Sizes, Gauge, Shorter, Longer, ToLength, Width, Offers, LeaveOut, WorkAll, CastOn}

// changes reports whether the wish changes the plan, so that it must not be acted on by a guess.
func (k FitKind) changes() bool { return k == LeaveOut || k == WorkAll }

// The units of a length, as FitWish tells them.
const (
	Centimetres = "cm"
	Inches      = "in"
	MixedUnits  = "mixed" // two units that don't go together were said
)

// FitWish is what was asked about the fit in particular. Numbers are as they were said, 0 to 9,999 with a fraction; 0 is none.
type FitWish struct {
	Kind FitKind

	Body   string // of Sizes: head, hand or foot, or "" for none named
	Person string // of Sizes: who it is for, in lower case, with small numbers in letters: "toddler", "two year old"

	Number float64 // the length or the measure around
	Unit   string  // its unit: "cm", "in", "mixed", or "" where none was said

	Stitches, Rows float64 // of Gauge: so many stitches and rows, 0 where unsaid
	Over           float64 // to this length: "to ten centimetres", "to the inch"; 0 where unsaid
	OverUnit       string  // "cm", "in", "mixed", or ""

	HasNumber bool // a length, a measure or a gauge was said: tells a nought from none

	Leave   int    // of LeaveOut: how many rows, 1 to 9,999, or -1 for as many as may be; of Offers: how many were asked about, 0 where unsaid
	Section string // in lower case, words that may name a section or a part; "" for none
}

// YarnWish is what was said of the yarn in particular. Numbers are as they were said, 0 to 9,999 with a fraction.
type YarnWish struct {
	Had, Left       float64
	HasHad, HasLeft bool   // they tell a nought from none
	Unit            string // "g", "m", "yd", "oz", or "" where none was said
	Mixed           bool   // what there was and what is left were said in two units; Unit is that of what is left
	Yarn            string // in lower case, words that may name the yarn: "gray"; "" for none
}

// What Heard.Look tells of a picture that was asked for.
const (
	LookChart  = "chart"  // in symbols
	LookFabric = "fabric" // as it should look
)
