package samples_test

import (
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/samples"
	"clew/patterns/stitch"
)

// faces draws stitches in the order in which a right-side row works them: | is
// a knit, . a purl.
func faces(loops []fabric.Loop) string {
	var b strings.Builder
	for _, l := range loops {
		if l.Face == stitch.Knit {
			b.WriteByte('|')
		} else {
			b.WriteByte('.')
		}
	}
	return b.String()
}

func reversed(s string) string {
	var b strings.Builder
	for i := len(s) - 1; i >= 0; i-- {
		b.WriteByte(s[i])
	}
	return b.String()
}

// The float as it was drawn on paper before it was written down: thirteen
// stitches after each of its rounds, fifteen while the glint stands.
var float = []string{
	"....|||||....", "....|||||....",
	"...||.|.||...", "...||.|.||...",
	"..||..|..||..", "..||..|..||..",
	".||...|...||.", ".||...|...||.",
	".||...|...||.", ".||...|...||.",
	".||...|||...||.", ".||...|||...||.",
	".||...|...||.", ".||...|...||.",
	".||...|...||.", ".||...|...||.",
	"..||..|..||..", "..||..|..||..",
	"...||.|.||...", "...||.|.||...",
	"....|||||....", "....|||||....",
	"....|||||....", "....|||||....",
}

// gores cuts the stitches of a round of the hat in six and gives, of each,
// what lies between the frames.
func gores(loops []fabric.Loop, size int) []string {
	var floats []string
	gore := len(loops) / 6
	for i := range 6 {
		floats = append(floats, faces(loops[i*gore+4+size:(i+1)*gore-1-size]))
	}
	return floats
}

func TestFloatLooksAsDrawn(t *testing.T) {
	p := read(t, samples.First().Name)
	for size, name := range p.Sizes {
		plan := layOut(t, p, patterns.Choice{Size: name})
		for i, want := range float {
			at, found := plan.Find("Floats", i+1)
			if !found {
				t.Fatalf("%s: round %d is missing", name, i+1)
			}
			for _, got := range gores(plan.Rows[at].After.Loops(), size) {
				if got != want {
					t.Errorf("%s, round %d:\n%s\nwant\n%s", name, i+1, got, want)
				}
				if got != reversed(got) {
					t.Errorf("%s, round %d is not symmetrical: %s", name, i+1, got)
				}
			}
		}
	}
}

// After its last round the band shows what it showed before its first, so that
// floats can stand above one another, and so they do with rows left out.
func TestFloatCloses(t *testing.T) {
	p := read(t, samples.First().Name)
	for i, size := range p.Sizes {
		for _, choice := range choices(p.Optionals(i)) {
			plan := layOut(t, p, patterns.Choice{Size: size, LeftOut: choice})
			first, _ := plan.Find("Floats", 1)
			last, _ := plan.Find("Floats", 24)
			if before, after := faces(plan.Rows[first].Before.Loops()), faces(plan.Rows[last].After.Loops()); before != after {
				t.Errorf("%s, %v: the faces before and after the floats\n%s\n%s", size, choice, before, after)
			}
		}
	}
}

// In every cross of the hat the strand in front is a rope of two knits. It
// passes over a purl, and where the ropes cross, over the other rope.
func TestCrossesCarryKnits(t *testing.T) {
	p := read(t, samples.First().Name)
	plan := layOut(t, p, patterns.Choice{})
	crosses := 0
	for _, r := range plan.Rows {
		for _, c := range r.Crossings {
			crosses++
			front, behind := faces(c.Front), faces(c.Behind)
			if front != "||" || (behind != "." && behind != "||") {
				t.Errorf("%s round %d: %q passes over %q", r.Section.Name, r.Number, front, behind)
			}
		}
	}
	// Six floats: two sides, three steps out and three in, and a cross of the ropes at both ends.
	if want := 6 * (2*(3+3) + 2); crosses != want {
		t.Errorf("%d crosses; want %d", crosses, want)
	}
}

// Knits travel by one stitch a round at most, but where the ropes cross.
func TestFloatTravelsSmoothly(t *testing.T) {
	for i := 1; i < len(float); i++ {
		before, after := strings.Index(float[i-1], "||"), strings.Index(float[i], "||")
		if before-after > 1 || after-before > 1 {
			t.Errorf("from round %d to round %d the rope moves from %d to %d", i, i+1, before, after)
		}
	}
}

// Both halves of the kerchief have the same stitches in every row, and the
// markers stand beside the middle one.
func TestKerchiefIsSymmetrical(t *testing.T) {
	p := read(t, "gull-kerchief")
	for _, size := range p.Sizes {
		for _, r := range layOut(t, p, patterns.Choice{Size: size}).Rows {
			loops := r.After.Loops()
			if shown := faces(loops); shown != reversed(shown) {
				t.Errorf("%s, %s row %d is not symmetrical: %s", size, r.Section.Name, r.Number, shown)
			}
			marks := r.After.Markers()
			if len(loops) > 9 && (len(marks) != 2 || marks[0] != len(loops)/2 || marks[1] != marks[0]+1) {
				t.Errorf("%s, %s row %d: markers at %v of %d stitches", size, r.Section.Name, r.Number, marks, len(loops))
			}
		}
	}
}

// In the lace the holes of a row are made up for by its decreases, but for the
// four of the edges and the middle.
func TestGullsAreFlat(t *testing.T) {
	p := read(t, "gull-kerchief")
	plan := layOut(t, p, patterns.Choice{})
	for _, want := range []struct{ row, holes, joined int }{
		{1, 4 + 2*9*2, 2 * 9 * 2}, // nine gulls in each half, a yarn over and a decrease on either wing
		{3, 4 + 2*9*2, 2 * 9 * 2}, // the same one step on
		{5, 4 + 2*9*2, 2 * 9},     // the wings meet in a double decrease
		{13, 4 + 2*10*2, 2 * 10},  // one gull more in each half
	} {
		at, _ := plan.Find("Gulls", want.row)
		holes, joined := 0, 0
		for _, l := range plan.Rows[at].After.Loops() {
			if l.Marks&fabric.Fresh != 0 {
				holes++
			}
			if l.Marks&fabric.Joined != 0 {
				joined++
			}
		}
		if holes != want.holes || joined != want.joined {
			t.Errorf("row %d has %d holes and %d decreases; want %d and %d", want.row, holes, joined, want.holes, want.joined)
		}
	}
}

// The cowl's colors as drawn on paper: M and C are stitches of the stones and
// the mortar, six of them across.
func TestCobbles(t *testing.T) {
	want := map[int]string{1: "CCCCCC", 2: "CCCCCC", 3: "MMMMMC", 6: "MMMMMC", 7: "CCCCCC", 9: "MMCMMM", 12: "MMCMMM", 15: "MMMMMC", 48: "MMCMMM", 50: "CCCCCC"}
	p := read(t, "cobble-cowl")
	for _, size := range p.Sizes {
		plan := layOut(t, p, patterns.Choice{Size: size})
		for row, stone := range want {
			at, _ := plan.Find("Cobbles", row)
			r := plan.Rows[at]
			var b strings.Builder
			for _, l := range r.After.Loops() {
				b.WriteString(r.After.YarnName(l.Yarn)[:1])
			}
			if b.String() != strings.Repeat(stone, r.After.Count()/6) {
				t.Errorf("%s, round %d: %s", size, row, b.String())
			}
		}
	}
}
