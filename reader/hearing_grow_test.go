package reader_test

import (
	"strings"

	"pgregory.net/rapid"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// find gives a stitch of the table.
func find(abbr string) *stitch.Stitch {
	s := stitch.Find(abbr)
	if s == nil {
		panic("no stitch is called " + abbr)
	}
	return s
}

// A grower grows rows that come out even: it knows at every place how many
// stitches are still to be used.
type grower struct {
	*rapid.T
	size   int
	rounds bool
	held   int // stitches on hold that may be returned
	depth  int // groups around what is grown
}

func (g *grower) upTo(n int, what string) int {
	if n <= 1 {
		return max(n, 0)
	}
	return rapid.IntRange(1, n).Draw(g.T, what)
}

func (g *grower) chance(oneIn int, what string) bool {
	return rapid.IntRange(1, oneIn).Draw(g.T, what) == oneIn
}

// number is n in the size that is worked, and sometimes another one in others.
func (g *grower) number(n int) instruction.Number {
	if !g.chance(5, "by size") {
		return instruction.N(n)
	}
	values := []int{n + 3, n + 5}
	values[g.size] = n
	return instruction.Number{Values: values}
}

func (g *grower) times(n int) instruction.Extent { return instruction.Extent{N: g.number(n)} }

// row grows a row for a needle: the parts between its markers, each used up to
// the marker, or a short row that turns.
func (g *grower) row(f fabric.Fabric) []instruction.Node {
	n := f.Ahead()
	if g.chance(8, "one stitch all the way") {
		return []instruction.Node{&instruction.Work{Stitch: find(g.pick("k", "p", "sl")), TBL: g.chance(3, "tbl"), Extent: instruction.Extent{Reach: instruction.ToEnd}}}
	}
	if n > 1 && g.chance(6, "short row") {
		return g.shortRow(n)
	}
	var body []instruction.Node
	done := 0
	for _, at := range markersAhead(f) {
		body = append(body, g.upToPlace(at-done, instruction.ToMarker)...)
		done = at
		if g.chance(2, "slip or remove") {
			body = append(body, &instruction.Marker{Act: instruction.SlipMarker})
		} else {
			body = append(body, &instruction.Marker{Act: instruction.RemoveMarker})
		}
	}
	if g.chance(2, "measured by the end") {
		body = append(body, g.upToPlace(n-done, instruction.ToLast)...)
	} else {
		body = append(body, g.list(n-done)...)
	}
	if g.held > 0 && g.chance(3, "return held") {
		back := g.upTo(g.held, "held stitches")
		body = append(body, &instruction.Held{N: g.number(back), Return: true}, g.plain(back))
	}
	return body
}

// markersAhead gives how many stitches lie ahead of each marker but those at
// the very ends.
func markersAhead(f fabric.Fabric) []int {
	var at []int
	for _, m := range f.Markers() {
		if f.Ahead() < f.Count() {
			return nil // after a short row the markers are left where they are
		}
		if m > 0 && m < f.Count() {
			at = append(at, m)
		}
	}
	if f.Side() == instruction.WS {
		for i, m := range at {
			at[i] = f.Count() - m
		}
		for i, j := 0, len(at)-1; i < j; i, j = i+1, j-1 {
			at[i], at[j] = at[j], at[i]
		}
	}
	return at
}

// upToPlace grows what uses n stitches up to a marker or the end, the last of
// it at times measured by that place.
func (g *grower) upToPlace(n int, reach instruction.Reach) []instruction.Node {
	last := g.upTo(n, "measured by the place")
	body := g.list(n - last)
	before := 0
	if last > 1 && g.chance(2, "before the place") {
		before = g.upTo(last-1, "stop before the place")
	}
	if before == 0 && reach == instruction.ToLast {
		reach = instruction.ToEnd
	}
	body = append(body, g.measured(last-before, instruction.Extent{Reach: reach, N: instruction.N(before)}))
	return append(body, g.list(before)...)
}

// measured is something that uses n stitches, as many times as come out even,
// told by a reach.
func (g *grower) measured(n int, reach instruction.Extent) instruction.Node {
	divisor := g.divisor(n)
	switch {
	case g.chance(3, "measured stitch") || n == 0:
		return &instruction.Work{Stitch: find(g.pick("k", "p")), Extent: reach}
	case divisor == 2 && g.chance(2, "measured decrease"):
		return &instruction.Work{Stitch: find(g.pick("k2tog", "ssk", "skp")), Extent: reach}
	case g.chance(4, "as it looks"):
		return &instruction.AsLooks{Opposite: g.chance(2, "opposite"), Extent: reach}
	}
	return &instruction.Repeat{Body: g.group(divisor), Extent: reach}
}

// divisor gives a number that n can be divided by.
func (g *grower) divisor(n int) int {
	var all []int
	for d := 1; d <= n; d++ {
		if n%d == 0 {
			all = append(all, d)
		}
	}
	if len(all) == 0 {
		return 1
	}
	return rapid.SampledFrom(all).Draw(g.T, "divisor")
}

// group grows a group's body that uses n stitches.
func (g *grower) group(n int) []instruction.Node {
	g.depth++
	body := g.list(n)
	g.depth--
	return body
}

// shortRow works some of n stitches and turns, at times twice.
func (g *grower) shortRow(n int) []instruction.Node {
	part := g.upTo(n-1, "worked before the turn")
	if g.chance(2, "turn in the middle") {
		body := []instruction.Node{g.plain(part), &instruction.Turn{}}
		if back := g.upTo(part, "worked back"); !g.chance(3, "to the end") {
			return append(body, g.plain(back), &instruction.Turn{Wrap: back < part})
		}
		return append(body, &instruction.Work{Stitch: find("p"), Extent: instruction.Extent{Reach: instruction.ToEnd}})
	}
	body := append([]instruction.Node{g.plain(1)}, g.list(part-1)...) // a row that leaves nothing on the right needle does not turn
	return append(body, &instruction.Turn{Wrap: n > part && g.chance(2, "wrap")})
}

func (g *grower) plain(n int) instruction.Node {
	return &instruction.Work{Stitch: find(g.pick("k", "p")), Extent: g.times(n)}
}

func (g *grower) pick(names ...string) string { return rapid.SampledFrom(names).Draw(g.T, "pick") }

// list grows nodes that use n stitches.
func (g *grower) list(n int) []instruction.Node {
	var body []instruction.Node
	for n > 0 {
		nodes, used := g.some(n)
		body, n = append(body, nodes...), n-used
	}
	return body
}

// some grows something that uses at most n stitches, and says how many.
func (g *grower) some(n int) ([]instruction.Node, int) {
	one := func(node instruction.Node, used int) ([]instruction.Node, int) { return []instruction.Node{node}, used }
	switch kind := rapid.IntRange(0, 19).Draw(g.T, "kind"); {
	case kind < 5:
		return one(g.counted(n))
	case kind < 8:
		return one(g.stitch(n))
	case kind < 9:
		return g.passes(n)
	case kind < 12 && g.depth < 4:
		each := g.upTo(min(n, 12), "uses of the group")
		count := g.upTo(min(n/each, 9), "times of the group")
		return one(&instruction.Repeat{Body: g.group(each), Extent: g.times(count)}, each*count)
	case kind < 13:
		return one(g.into(), 1)
	case kind < 14:
		return one(g.cross(n))
	case kind < 15:
		used := g.upTo(min(n, 6), "uses of the abbreviation")
		return one(&instruction.Macro{Name: "Trellis", Body: g.group(used)}, used)
	case kind < 16:
		used := g.upTo(n, "as it looks")
		return one(&instruction.AsLooks{Opposite: g.chance(3, "opposite"), Extent: g.times(used)}, used)
	case kind < 17:
		return one(g.aside(), 0)
	case kind < 19 && g.depth < 3:
		return one(g.panel(n))
	}
	return one(g.plain(1), 1)
}

// panel grows a panel's row, which may measure by the panel's end.
func (g *grower) panel(n int) (instruction.Node, int) {
	width := g.upTo(min(n, 20), "width of the panel")
	depth := g.depth
	g.depth = 3 // no panel in a panel
	var body []instruction.Node
	if g.chance(2, "measured by the panel") {
		body = g.upToPlace(width, instruction.ToLast)
	} else {
		body = g.group(width)
	}
	g.depth = depth
	return &instruction.Strip{Panel: g.pick("Seed edge", "Lantern", "Rope 2", "O'Hara, left", "Crête", "Round 4"), Row: 1, Width: width, Body: body}, width
}

// aside is what counts as no stitch.
func (g *grower) aside() instruction.Node {
	switch g.pick("bead", "yarn", "marker", "beads", "markers") {
	case "bead":
		return &instruction.Bead{}
	case "yarn":
		return &instruction.Yarn{Name: g.pick("MC", "CC", "cc2", "Old blue", "Moss 7")}
	case "beads":
		return &instruction.Repeat{Body: []instruction.Node{&instruction.Bead{}}, Extent: g.times(g.upTo(3, "beads"))}
	}
	return &instruction.Marker{Act: instruction.PlaceMarker}
}

// parsed gives the nodes of a short instruction.
func parsed(text string) []instruction.Node {
	in, problems := instruction.Parse(text, problem.Span{End: len(text)}, instruction.Options{})
	if len(problems) > 0 {
		panic(text + ": " + problems[0].Message)
	}
	return in.Body
}

// into grows what goes into one stitch.
func (g *grower) into() instruction.Node {
	parts := []string{g.pick("k1", "p1", "k1 tbl")}
	for range g.upTo(3, "more of the same stitch") {
		parts = append(parts, g.pick("yo", "k1, p1", "yo, k1", "[yo, k1] 2 times", "[k1, p1] 4 times", "k1 tbl, p1", "yo 2, k1", "with CC, p1", "ssk 2", "skp"))
	}
	return parsed("(" + strings.Join(parts, ", ") + ") in next st")[0]
}
