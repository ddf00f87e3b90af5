package chart

// CutRows and CutStitches are what a picture was cut to.
const (
	CutRows     = "rows"
	CutStitches = "stitches"
)

// Facts are what can be said of a picture in words. Rows are told by their
// numbers as written; where there are several sections, a fact names its own.
type Facts struct {
	Fabric      bool
	Name        string   // of the section, or the panel; of several sections, the first
	Sections    []string // in the order of the rows, each once
	Rounds      bool
	First, Last int // row numbers as written
	Least, Most int // stitches on the needle over these rows, after each and before the first
	Times       int // the repeat that is drawn once stands so often side by side; 0 or 1: all is drawn
	Here        int // number of the marked row; 0 for none
	Strands     []StrandFact
	Textures    []TextureFact
	Stitches    []StitchFact
	Yarns       []string // names in the order in which they come; empty where there is one alone
	Cut         string   // "", CutRows or CutStitches
	Whole       [2]int   // with Cut: first and last row that were asked for
	Drawn       int      // stitches of each row that are drawn, where there is no room for all; 0: all of them
	DrawnFrom   int      // with Drawn: the first of them, counted from 1 at the right edge
	DrawnRow    int      // with Drawn of a chart: the row whose stitches these are; 0: the first
	Repeats     [2]int   // with Drawn: how many repeats are drawn of how many, drawn larger so that they can be seen; 0: the rows have none
	WholeFrom   int      // with Times: from this row on all stitches are drawn; 0: of no row
	Again       RowRepeat
}

// A RowRepeat is rows that are worked again and again. In a chart all of them
// are drawn.
type RowRepeat struct {
	First, Last int // their numbers, as written, the first time
	Times       int // how often they are worked in all; 0 for none
}

// A StrandKind is what strands do in a row.
type StrandKind uint8

// The kinds.
const (
	Part       StrandKind = iota // two strands move apart
	Meet                         // two strands come together
	CrossLeft                    // strands cross, the one in front to the left
	CrossRight                   // strands cross, the one in front to the right
	MoveLeft                     // a strand moves to the left over the ground, with no other to part from or to meet
	MoveRight                    // the same to the right
)

// A StrandFact is what strands do. Strands that part or move may do so over
// several rows: that is one fact, with the row in which it begins. For strands
// that meet it is the row in which they come together.
type StrandFact struct {
	Section     string
	Row         int // its number, as written
	First, Last int // all the rows that it goes on for; a cross has one
	Kind        StrandKind
	Strands     int // how many take part, each time
	Times       int // how often it stands side by side in what is drawn
}

// A Texture is what the right side of plain rows shows.
type Texture uint8

// The textures.
const (
	Mixed   Texture = iota // none of the others; no fact tells of it
	Smooth                 // knits alone
	Bumpy                  // purls alone
	Ridges                 // rows of knits and rows of purls by turns, such as garter stitch
	Ribbing                // columns of knits and purls, the same in each row: see Knits and Purls
	Seed                   // knits and purls by turns in the row, and above each other
	Blocks                 // knits and purls by turns in the row, which change places: see Knits, Purls and Every
	Ridged                 // knits, with rows of purls that stand as ridges: see Rows
)

// A Place is where in its rows a texture is seen.
type Place uint8

// The places.
const (
	Everywhere Place = iota
	AtEdges          // of a flat piece: Stitches at each
	Strips           // Stitches side by side, so in Times places
	Rest             // everywhere but at the edges
	Ground           // the stitches beside strands that cross or move
)

// A TextureFact is the texture of rows in a run.
type TextureFact struct {
	Section      string
	First, Last  int
	Texture      Texture
	Knits, Purls int   // Ribbing and Blocks: how many stand side by side; 0 of ribs that are not even
	Every        int   // Blocks: after how many rows they change places
	Rows         []int // Ridged: the numbers of the rows of purls
	Shaped       bool  // Smooth, Bumpy and Ridges: some rows also decrease or increase
	Place        Place
	Stitches     int // AtEdges and Strips: how many are so
	Times        int // Strips: in how many places, in what is drawn
}

// A StitchKind is what a StitchFact tells of.
type StitchKind uint8

// The kinds.
const (
	Narrower StitchKind = iota // the rows decrease: see From and To
	Wider                      // they increase
	Holes                      // yarn overs
	Bobbles
	Beads
	Slipped // stitches slipped without being worked
	Bars    // such stitches with the yarn held in front of them on the right side
	BoundOff
	OnHold
	ShortRows // rows that turn before their end; PerRow is the most that stay unworked
)

// A StitchFact is what can be seen of single stitches, in rows that follow each
// other. Rows between them that have none of it don't end it.
type StitchFact struct {
	Section     string
	Kind        StitchKind
	First, Last int   // row numbers as written
	Rows        int   // how many of them have it
	In          []int // their numbers
	PerRow      int   // the most in one row
	From, To    int   // Narrower and Wider: stitches before the first and after the last
}
