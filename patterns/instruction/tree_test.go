package instruction

import (
	"fmt"
	"strings"
	"testing"

	"clew/patterns/problem"
	"clew/patterns/stitch"

	"pgregory.net/rapid"
)

// children gives the parts of a node that stand in the same text: not what an
// abbreviation or the name of a cross stands for.
func children(n Node) [][]Node {
	switch n := n.(type) {
	case *Repeat:
		return [][]Node{n.Body}
	case *Into:
		return [][]Node{n.Body}
	case *Cross:
		if !n.Named.Zero() {
			return nil
		}
		var all [][]Node
		for _, part := range n.Parts {
			all = append(all, part.Body)
		}
		return all
	}
	return nil
}

// numbers gives the numbers of a node that were written.
func numbers(n Node) []Number {
	switch n := n.(type) {
	case *Work:
		return []Number{n.Extent.N}
	case *Repeat:
		return []Number{n.Extent.N}
	case *Held:
		return []Number{n.N}
	case *AsLooks:
		return []Number{n.Extent.N}
	case *AsRows:
		return []Number{n.From, n.To}
	case *RepeatRows:
		return []Number{n.From, n.To, n.Last, n.Times}
	}
	return nil
}

// checkPositions holds a tree against the text that it was read from: spans lie
// inside the one around them, in order and apart, and the text of each node
// alone reads as that node.
func checkPositions(src string, nodes []Node, around problem.Span, opts Options, across bool) error {
	from := around.Start
	for _, n := range nodes {
		at := n.Pos()
		if at.Start < from || at.End <= at.Start || at.End > around.End {
			return fmt.Errorf("%T stands at %v, behind %d and inside %v was expected, in %q", n, at, from, around, src)
		}
		from = at.End
		for _, number := range numbers(n) {
			if s := number.Span; s != (problem.Span{}) && (s.Start < at.Start || s.End > at.End || s.End <= s.Start) {
				return fmt.Errorf("a number of %T at %v stands at %v in %q", n, at, s, src)
			}
		}
		if at != around || len(nodes) > 1 { // else it is the part of a repeat with the same text
			alone, _, problems := read(src, at, opts, across)
			if len(problems) > 0 {
				return fmt.Errorf("%q alone has problems: %v", src[at.Start:at.End], problems)
			}
			if diff := different([]Node{n}, alone, true); diff != "" {
				return fmt.Errorf("%q alone is another tree:\n%s", src[at.Start:at.End], diff)
			}
		}
		for _, body := range children(n) {
			if err := checkPositions(src, body, at, opts, across); err != nil {
				return err
			}
		}
	}
	return nil
}

// around is wider than any tree, so that the position check tries the whole
// row too.
func around(src string) problem.Span { return problem.Span{Start: 0, End: len(src) + 1} }

func TestPositions(t *testing.T) {
	for _, c := range table(t) {
		if len(c.Problems) > 0 {
			continue
		}
		t.Run(c.Name, func(t *testing.T) {
			opts := options(t, c)
			for _, text := range c.Spellings {
				nodes, _, _ := read(text, whole(text), opts, c.Across)
				if err := checkPositions(text, nodes, around(text), opts, c.Across); err != nil {
					t.Error(err)
				}
			}
		})
	}
}

// A row that stands inside a longer text has the same tree, moved.
func TestPositionsInsideAFile(t *testing.T) {
	before, row := "Row 1: k2 ]]\nRow 2: ", "k2, [p2,\n  zork] 3 times"
	src := before + row + "\nRow 3: [["
	_, problems := Parse(src, problem.Span{Start: len(before), End: len(before) + len(row)}, Options{})
	if len(problems) != 1 {
		t.Fatalf("one problem was expected: %v", problems)
	}
	if at := problem.Locate([]byte(src), problems[0].Start); at != (problem.Position{Line: 3, Col: 3}) {
		t.Errorf("the problem stands at %v", at)
	}
}

const treeSizes = 3

// trees draws canonical trees: every kind of node, nested, with every number
// by size or for all.
type trees struct {
	t    *rapid.T
	opts Options
}

func (g trees) int(low, high int) int { return rapid.IntRange(low, high).Draw(g.t, "n") }

func (g trees) bool() bool { return rapid.Bool().Draw(g.t, "yes") }

func (g trees) number(low int) Number {
	if g.int(0, 3) > 0 {
		return N(g.int(low, 6))
	}
	n := Number{Values: make([]int, treeSizes)}
	for i := range n.Values {
		n.Values[i] = g.int(0, 6)
	}
	return n
}

func (g trees) measured() Extent {
	return []Extent{{Reach: ToEnd}, {ToLast, g.number(1)}, {ToMarker, g.number(0)}}[g.int(0, 2)]
}

func (g trees) extent() Extent {
	if g.bool() {
		return Extent{Times, g.number(0)}
	}
	return g.measured()
}

func (g trees) list(depth int) []Node {
	nodes := make([]Node, g.int(1, 3))
	for i := range nodes {
		nodes[i] = g.node(depth)
	}
	return nodes
}

func (g trees) node(depth int) Node {
	if depth == 0 {
		return g.work()
	}
	switch g.int(0, 12) {
	case 0, 1:
		return &Repeat{Body: g.list(depth - 1), Extent: g.extent()}
	case 2:
		return &Into{Body: g.list(depth - 1)}
	case 3:
		return namedCross(problem.Span{}, g.crossName())
	case 4:
		return g.longhand()
	case 5:
		d := g.opts.Abbreviations.Find("T5R")
		return &Macro{Name: d.Name, Body: d.Body, size: d.size}
	case 6:
		return &Marker{Act: MarkerAct(g.int(0, 2))}
	case 7:
		return &Turn{Wrap: g.bool()}
	case 8:
		return &Yarn{Name: rapid.SampledFrom([]string{"MC", "CC", "A", "2", "dark blue", "yarn B2"}).Draw(g.t, "yarn")}
	case 9:
		return &Bead{}
	case 10:
		return &Held{N: g.number(0), Return: g.bool()}
	case 11:
		n := &AsLooks{Opposite: g.bool(), Extent: g.measured()}
		if !n.Opposite && g.bool() {
			n.Extent = Extent{Times, g.number(0)}
		}
		return n
	}
	return g.work()
}

func (g trees) work() *Work {
	s := rapid.SampledFrom(stitch.All()).Draw(g.t, "stitch")
	w := &Work{Stitch: s, TBL: g.bool(), Extent: g.extent()}
	if s.Kind == stitch.Slip {
		w.Manner = Manner(g.int(0, 15))
	}
	return w
}

func (g trees) crossName() stitch.Cross {
	if g.int(0, 5) == 0 {
		return stitch.Cross{Front: 1, Back: 1, Twist: true, Left: g.bool()}
	}
	return stitch.Cross{Front: g.int(1, stitch.MaxStrand), Middle: g.int(0, 3), Back: g.int(1, stitch.MaxStrand), Left: g.bool(), Purl: g.bool()}
}

// strand is a body that takes n stitches, at least one.
func (g trees) strand(n int) []Node {
	var body []Node
	for n > 0 {
		k := g.int(1, n)
		s := knit
		if g.bool() {
			s = purl
		}
		switch {
		case k%2 == 0 && g.bool():
			body = append(body, &Repeat{Body: []Node{&Work{Stitch: s, Extent: Extent{Times, N(2)}}}, Extent: Extent{Times, N(k / 2)}})
			if k == 2 {
				body = body[:len(body)-1] // "[k2] once" is the same as k2 in a cross
				body = append(body, &Work{Stitch: stitch.Find("k2tog"), Extent: once()})
			}
		case k == 1 && g.bool():
			body = append(body, &Into{Body: []Node{&Work{Stitch: s, Extent: once()}, &Work{Stitch: s, Extent: once()}}})
		default:
			body = append(body, &Work{Stitch: s, TBL: g.bool(), Extent: Extent{Times, N(k)}})
		}
		n -= k
	}
	return body
}

func (g trees) longhand() Node {
	waiting := [3]int{FromFirst: g.int(1, 5)}
	c := &Cross{Slipped: []Slipped{{waiting[FromFirst], Hold(g.int(0, 2))}}}
	if g.bool() {
		waiting[FromSecond] = g.int(1, 5)
		c.Slipped = append(c.Slipped, Slipped{waiting[FromSecond], Hold(g.int(0, 2))})
	}
	for waiting[FromFirst]+waiting[FromSecond] > 0 {
		from := Source(g.int(0, 2))
		if from == FromLeft {
			c.Parts = append(c.Parts, Part{From: from, Body: g.strand(g.int(1, 3))})
			continue
		}
		if waiting[from] == 0 {
			continue
		}
		n := g.int(1, waiting[from])
		waiting[from] -= n
		if from == FromSecond || g.int(0, 3) > 0 {
			c.Parts = append(c.Parts, Part{From: from, Body: g.strand(n)})
			continue
		}
		c.Parts = append(c.Parts, Part{Returned: n})
		if waiting[FromFirst]+waiting[FromSecond] == 0 && g.bool() {
			c.Parts = append(c.Parts, Part{From: FromLeft, Body: []Node{&Work{Stitch: stitch.Find("k2tog"), Extent: once()}}})
		}
	}
	return c
}

// row draws a row, and now and then what can only be a whole one.
func (g trees) row() []Node {
	from := g.int(1, 9)
	span := [2]Number{N(from), N(from + g.int(0, 3))}
	switch g.int(0, 11) {
	case 0:
		return []Node{&AsRows{From: span[0], To: span[1]}}
	case 1:
		return []Node{&RepeatRows{From: span[0], To: span[1], Times: g.maybe()}}
	case 2:
		return []Node{&RepeatRows{Last: N(from), Times: g.maybe()}}
	case 3:
		return []Node{&Panels{}}
	}
	return g.list(3)
}

func (g trees) maybe() Number {
	if g.bool() {
		return Number{}
	}
	return g.number(1)
}

func treeOpts(t interface{ Fatal(...any) }) Options {
	opts := Options{Sizes: treeSizes, Abbreviations: &Abbreviations{}}
	text := "sl 3 to cn, hold in back, k2, p3 from cn"
	in, problems := Parse(text, whole(text), opts)
	if len(problems) > 0 || !opts.Abbreviations.Define(&Definition{Name: "T5R", Body: in.Body}) {
		t.Fatal("T5R could not be defined")
	}
	return opts
}

// Any tree, printed and parsed, is the same tree, at the right places.
func TestPrintedTreesParse(t *testing.T) {
	opts := treeOpts(t)
	rapid.Check(t, func(rt *rapid.T) {
		tree := trees{rt, opts}.row()
		text := Print(tree, AllSizes)
		in, problems := Parse(text, whole(text), opts)
		for _, p := range problems {
			if p.Code == "too-large" {
				rt.Skip("more stitches than a row has")
			}
		}
		if len(problems) > 0 {
			rt.Fatalf("%q has problems: %v", text, problems)
		}
		if diff := sameTree(tree, in.Body); diff != "" {
			rt.Fatalf("%q is another tree:\n%s", text, diff)
		}
		if again := Print(in.Body, AllSizes); again != text {
			rt.Fatalf("%q prints %q", text, again)
		}
		if err := checkPositions(text, in.Body, around(text), opts, false); err != nil {
			rt.Fatal(err)
		}
		for size := range treeSizes {
			checkOneSize(rt, tree, size)
		}
	})
}

// checkOneSize holds the text for one size: it has that size's numbers, and is
// itself canonical.
func checkOneSize(t *rapid.T, tree []Node, size int) {
	text := Print(tree, size)
	if text == "" {
		return
	}
	opts := treeOpts(t)
	opts.Sizes = 1
	in, problems := Parse(text, whole(text), opts)
	if len(problems) > 0 {
		t.Fatalf("in size %d, %q has problems: %v", size, text, problems)
	}
	if again := Print(in.Body, AllSizes); again != text {
		t.Fatalf("in size %d, %q prints %q", size, text, again)
	}
}

// Every kind of node is drawn, or the property above proves less than it says.
func TestTreesDrawEveryKind(t *testing.T) {
	opts := treeOpts(t)
	seen := map[string]bool{}
	var note func(nodes []Node)
	note = func(nodes []Node) {
		for _, n := range nodes {
			seen[strings.TrimPrefix(fmt.Sprintf("%T", n), "*instruction.")] = true
			for _, body := range children(n) {
				note(body)
			}
		}
	}
	rapid.Check(t, func(rt *rapid.T) { note(trees{rt, opts}.row()) })
	for _, kind := range []string{"Work", "Repeat", "Into", "Cross", "Macro", "Marker", "Turn", "Yarn", "Bead", "Held", "AsLooks", "Panels", "AsRows", "RepeatRows"} {
		if !seen[kind] {
			t.Errorf("no %s was drawn", kind)
		}
	}
}
