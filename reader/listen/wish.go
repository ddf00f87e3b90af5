package listen

// FitKind is what was asked about the fit. Its text is the word that `clew hear` prints.
type FitKind string

// What can be asked about the fit. LeaveOut and WorkAll change the plan, so they are given only when every word of the
// utterance is accounted for. A gauge and PatternGauge say what lengths are reckoned with. The others are answered and change nothing.
const (
	Sizes    FitKind = "sizes"        // which size fits: a measure, a person, or nobody yet
	Gauge    FitKind = "gauge"        // so many stitches and rows are mine; with neither, which gauge is wanted
	Shorter  FitKind = "shorter"      // by Number; 0 for no length said. By a number of rows it is Offers
	Longer   FitKind = "longer"       // by Number, or by so many Rows; 0 for no length said
	ToLength FitKind = "length"       // Number long
	Wider    FitKind = "wider"        // by Number; 0 for no width said
	Narrower FitKind = "narrower"     // by Number; 0 for no width said
	ToWidth  FitKind = "width"        // Number wide
	Width    FitKind = "measurements" // the finished measurements, of Section or of the whole; in Unit if one was said
	SoFar    FitKind = "sofar"        // how long what is knitted is by now, of Section or of the whole; in Unit if one was said
	Offers   FitKind = "offers"       // which rows may be left out, or are, of Section or of the whole
	LeaveOut FitKind = "leaveout"     // Leave rows, or the rows From to To, of Section if one was named
	WorkAll  FitKind = "workall"      // leave out nothing
	CastOn   FitKind = "caston"       // how many stitches to cast on for Number; 0 for no width said

	PatternGauge FitKind = "patterngauge" // reckon with the pattern's gauge again
)

var fitKinds = []FitKind{Sizes, Gauge, Shorter, Longer, ToLength, Wider, Narrower, ToWidth, Width, SoFar, Offers, LeaveOut, WorkAll, CastOn, PatternGauge}

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
	Person string // of Sizes: who it is for, or whose Body was named, in lower case, with small numbers in letters: "toddler", "two year old"

	Number float64 // the length or the measure around
	Unit   string  // its unit: "cm", "in", "mixed", or "" where none was said

	Stitches, Rows float64 // of Gauge: so many stitches and rows, 0 where unsaid, below 0 where minus was said. Of Longer: Rows alone
	Over           float64 // to this length: "to ten centimetres", "to the inch"; 0 where unsaid. Rows said to another length are reckoned to this one
	OverUnit       string  // "cm", "in", "mixed" (of rows to another unit too), or ""

	HasNumber bool // a length, a measure or a gauge was said: tells a nought from none

	Leave    int  // of LeaveOut: how many rows, 1 to 9,999, -1 for as many as may be, or 0 where From says which; of Offers: how many were asked about, 0 where unsaid
	More     bool // of LeaveOut and Offers: besides those that are left out already
	From, To int  // of LeaveOut and Offers: the first and the last row by number, 1 to 9,999, From no more than To; 0 for none named

	Section string // in lower case, words that may name a section or a part; "" for none
}

// YarnWish is what was said of the yarn in particular. Numbers are as they were said, 0 to 9,999 with a fraction.
type YarnWish struct {
	Had, Left, Used          float64 // where Had and Used were said, Left is what that leaves: below 0 where more was used than there was
	HasHad, HasLeft, HasUsed bool    // they tell a nought from none
	Unit                     string  // "g", "m", "yd", "oz", "ball" (a skein and a hank too), or "" where none was said
	Mixed                    bool    // what there was and what is left or used were said in two units; Unit is that of what is left or used
	Yarn                     string  // in lower case, words that may name the yarn: "gray"; "" for none
}

// What Heard.Look tells of a picture that was asked for.
const (
	LookChart  = "chart"  // in symbols
	LookFabric = "fabric" // as it should look
)
