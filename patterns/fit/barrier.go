package fit

import (
	"fmt"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/stitch"
)

// A Why is what would break.
type Why uint8

// The kinds.
const (
	WhyWork    Why = iota // the rows that follow can't be worked: Detail says why
	WhySide               // the next right-side row would fall on the wrong side
	WhyRepeat             // Panel would work a row twice
	WhySkip               // Panel would skip Missed rows
	WhyEarly              // Panel would end Missed rows early
	WhyTexture            // the rows themselves, or those of Panel, repeat every Missed rows, and would be cut
	WhyMotif              // Panel would miss Missed crosses, or, with 0, increases or decreases: it would not be itself
	WhyFaces              // Row would find other stitches than it expects: Detail says which
	WhyMarkers            // Row would not find the markers where it expects them
	WhyHeld               // Row would not find the stitches on hold that it expects
	WhyYarn               // Row would find stitches in another yarn, or another yarn in use
	WhyEnd                // Section would end with Missed stitches more (below 0: fewer), or, with 0, as Detail says
	WhyDoubt              // what follows would look like a mistake: Detail says how
)

// A Barrier is a number of rows that can't be left out, and what it would break.
type Barrier struct {
	Group   patterns.Optional
	Rows    int // of the group
	Why     Why
	Rounds  bool   // the rows there are rounds
	Section string // where it would break; empty where that is not known
	Row     int    // the number of the next row there; 0 where the section ends
	Panel   string
	Missed  int
	Detail  string // one clause
}

// Error says it in one sentence: "leaving out 1 round of Floats: the Pebble edge
// would repeat a round".
func (b *Barrier) Error() string {
	owner := b.Group.Owner
	if b.Group.Panel {
		owner = "the panel " + owner
	}
	return fmt.Sprintf("leaving out %s of %s: %s", counted(b.Rows, rowWord(b.Rounds)), owner, b.breaks())
}

// breaks is what would break, as a clause.
func (b *Barrier) breaks() string {
	word := rowWord(b.Rounds)
	next := fmt.Sprintf("%s %d of %s", word, b.Row, b.Section)
	switch b.Why {
	case WhyWork:
		return fmt.Sprintf("the %ss that follow can't be worked: %s", word, b.Detail)
	case WhySide:
		return "the next right-side row would fall on the wrong side"
	case WhyRepeat:
		return fmt.Sprintf("the %s would repeat a %s", b.Panel, word)
	case WhySkip:
		return fmt.Sprintf("the %s would skip %s", b.Panel, counted(b.Missed, word))
	case WhyEarly:
		return fmt.Sprintf("the %s would end %s early", b.Panel, counted(b.Missed, word))
	case WhyTexture:
		of := b.Section
		if b.Panel != "" {
			of = b.Panel
		}
		return fmt.Sprintf("the pattern of %s, which repeats every %d %ss, would be cut", of, b.Missed, word)
	case WhyMotif:
		return "the " + b.Panel + " would miss its " + b.motif()
	case WhyMarkers:
		return "the markers would not be where " + next + " expects them"
	case WhyHeld:
		return "the stitches on hold would not be those that " + next + " expects"
	case WhyYarn:
		return next + " would not find the yarn that it expects"
	case WhyEnd:
		return b.ends()
	}
	return b.Detail
}

func (b *Barrier) motif() string {
	switch b.Missed {
	case 0:
		return "increases and decreases"
	case 1:
		return "cross"
	}
	return "crosses"
}

func (b *Barrier) ends() string {
	switch {
	case b.Missed > 0:
		return fmt.Sprintf("%s would end with %s more", b.Section, counted(b.Missed, "stitch"))
	case b.Missed < 0:
		return fmt.Sprintf("%s would end with %s fewer", b.Section, counted(-b.Missed, "stitch"))
	}
	return b.Section + " would end with " + b.Detail
}

func rowWord(rounds bool) string {
	if rounds {
		return "round"
	}
	return "row"
}

// counted is "1 row", "2 rows", "2 stitches".
func counted(n int, word string) string {
	switch {
	case n == 1:
		return "1 " + word
	case word == "stitch":
		return fmt.Sprintf("%d stitches", n)
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// atSeam tells what a row finds in place of what it finds in the full plan.
func atSeam(row *patterns.Row, found, wanted fabric.Fabric, d fabric.Difference) *Barrier {
	b := &Barrier{Rounds: row.Rounds, Section: row.Section.Name, Row: row.Number}
	next := fmt.Sprintf("%s %d of %s", rowWord(row.Rounds), row.Number, row.Section.Name)
	switch d {
	case fabric.OtherSide:
		b.Why = WhySide
	case fabric.OtherYarn:
		b.Why = WhyYarn
	case fabric.OtherMarkers:
		b.Why = WhyMarkers
	case fabric.OtherHeld:
		b.Why = WhyHeld
	case fabric.OtherCount:
		b.Why, b.Detail = WhyFaces, fmt.Sprintf("%s would find %s, and expects %d", next, counted(found.Count(), "stitch"), wanted.Count())
	default:
		b.Why = WhyFaces
		stands, expects := firstFaces(found, wanted)
		b.Detail = fmt.Sprintf("%s would stand where %s expects %s", stands, next, expects)
	}
	return b
}

// atEnd tells how a section ends in place of how it ends in the full plan.
func atEnd(row *patterns.Row, found, wanted fabric.Fabric, d fabric.Difference) *Barrier {
	b := &Barrier{Why: WhyEnd, Rounds: row.Rounds, Section: row.Section.Name}
	switch d {
	case fabric.OtherSide:
		b.Why = WhySide
	case fabric.OtherCount:
		b.Missed = found.Count() - wanted.Count()
	case fabric.OtherYarn:
		b.Detail = "another yarn"
	case fabric.OtherMarkers:
		b.Detail = "markers in other places"
	case fabric.OtherHeld:
		b.Detail = "other stitches on hold"
	default:
		stands, expects := firstFaces(found, wanted)
		b.Detail = fmt.Sprintf("%s where it should end with %s", stands, expects)
	}
	return b
}

// firstFaces gives what stands where the faces of two needles differ first:
// stitch by stitch where they have as many, else run by run.
func firstFaces(found, wanted fabric.Fabric) (stands, expects string) {
	a, b := found.Loops(), wanted.Loops()
	if len(a) != len(b) {
		return "other stitches", "its own"
	}
	for i := range a {
		if a[i].Face != b[i].Face {
			return faceWord(a[i].Face), faceWord(b[i].Face)
		}
	}
	return "other stitches", "its own"
}

func faceWord(f stitch.Face) string {
	if f == stitch.Purl {
		return "purls"
	}
	return "knits"
}
