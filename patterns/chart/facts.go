package chart

// CutRows and CutStitches are what a picture was cut to.
const (
	CutRows     = "rows"
	CutStitches = "stitches"
)

// Facts are what can be said of a picture in words.
type Facts struct {
	Fabric      bool
	Name        string   // of the section, or the panel; of several sections, the first
	Sections    []string // in the order of the rows, each once
	Rounds      bool
	First, Last int // row numbers as written
	Least, Most int // stitches on the needle over these rows
	Times       int // the repeat that is drawn once stands so often side by side; 0 or 1: all is drawn
	Here        int // number of the marked row; 0 for none
	Strands     []StrandFact
	Yarns       []string // names in the order in which they come; empty where there is one alone
	Cut         string   // "", CutRows or CutStitches
	Whole       [2]int   // with Cut: first and last row that were asked for
}

// A StrandKind is what strands do in a row.
type StrandKind uint8

// The kinds.
const (
	Part       StrandKind = iota // two strands move apart
	Meet                         // two strands come together
	CrossLeft                    // strands cross, the one in front to the left
	CrossRight                   // strands cross, the one in front to the right
)

// A StrandFact is what strands do in one row.
type StrandFact struct {
	Row     int // its number, as written
	Kind    StrandKind
	Strands int // how many take part
	Times   int // how often it stands side by side in what is drawn
}
