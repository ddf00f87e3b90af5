package fabric_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// aFabric draws a needle on which a few rows have been worked.
func aFabric(t *rapid.T) (f fabric.Fabric, rounds bool) {
	rounds = rapid.Bool().Draw(t, "ring")
	f = fabric.CastOn(rapid.IntRange(1, 20).Draw(t, "stitches")).Begin(rounds, instruction.SideUnsaid)
	for range rapid.IntRange(0, 3).Draw(t, "rows before") {
		text := rapid.SampledFrom(beginnings[1:]).Draw(t, "row before")
		if rapid.Bool().Draw(t, "free") {
			text = aRow(t, 1, 4) + ", k to end"
		}
		if did := f.Work(parse(t, text), fabric.Row{Rounds: rounds}); did.Problem == nil {
			f = did.After
		}
	}
	return f, rounds
}

// snapshot is everything that can be seen of a fabric, copied.
func snapshot(f fabric.Fabric) any {
	var yarns []string
	for _, l := range f.Loops() {
		yarns = append(yarns, f.YarnName(l.Yarn))
	}
	return []any{slices.Clone(f.Loops()), slices.Clone(f.Markers()), f.Held(), f.Ahead(), f.Side(), yarns}
}

func TestWorkChangesNothingBefore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, rounds := aFabric(t)
		nodes := parse(t, aRow(t, 0, 5))
		before := snapshot(f)
		first := f.Work(nodes, fabric.Row{Rounds: rounds})
		after := snapshot(first.After)
		second := f.Work(nodes, fabric.Row{Rounds: rounds})
		first.After.Work(nodes, fabric.Row{Rounds: rounds})
		first.After.Resized(3).Work(nodes, fabric.Row{})
		first.After.Begin(!rounds, instruction.WS).Work(nodes, fabric.Row{Rounds: !rounds})
		switch {
		case !reflect.DeepEqual(snapshot(f), before):
			t.Fatalf("working changed the needle it began on: %v, was %v", snapshot(f), before)
		case !reflect.DeepEqual(snapshot(first.After), after):
			t.Fatalf("working on changed the needle it began on: %v, was %v", snapshot(first.After), after)
		case !reflect.DeepEqual(snapshot(second.After), after) || !reflect.DeepEqual(first.Problem, second.Problem):
			t.Fatalf("worked twice from the same needle it came out differently")
		}
	})
}

// net is by how much a worked tree changes the count, told from its counts
// alone.
func net(t failer, nodes []instruction.Node) int {
	n := 0
	for _, node := range nodes {
		switch node := node.(type) {
		case *instruction.Work:
			switch node.Stitch.Abbr {
			case "sl":
			case "psso":
				n -= node.Count
			case "p2sso":
				n -= 2 * node.Count
			default:
				known, ok := slowStitches[node.Stitch.Abbr]
				if !ok {
					t.Fatalf("no net for %s", node.Stitch.Abbr)
				}
				n += node.Count * (len(known.makes) - known.uses)
			}
		case *instruction.Repeat:
			n += node.Count * net(t, node.Body)
		case *instruction.Into:
			for _, inner := range node.Body { // the first stitch is the one it is worked into
				n += inner.(*instruction.Work).Count
			}
			n--
		case *instruction.Held:
			if node.Return {
				n += node.Count
			} else {
				n -= node.Count
			}
		case *instruction.Cross:
			for _, part := range node.Parts {
				n += net(t, part.Body)
			}
		}
	}
	return n
}

func TestCountsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, rounds := aFabric(t)
		text := aRow(t, 0, 5) + rapid.SampledFrom(endings).Draw(t, "ending")
		did := f.Work(parse(t, text), fabric.Row{Rounds: rounds})
		if did.Problem != nil {
			return
		}
		if change := net(t, did.Done); did.After.Count() != f.Count()+change {
			t.Fatalf("%q on %d: %d stitches after, and what was done comes to %+d: %s",
				text, f.Count(), did.After.Count(), change, instruction.Print(did.Done, 0))
		}
		again := f.Work(did.Done, fabric.Row{Rounds: rounds})
		if again.Problem != nil || !slices.Equal(again.After.Loops(), did.After.Loops()) {
			t.Fatalf("%q, then what was done of it, %q: %v, or other stitches", text, instruction.Print(did.Done, 0), again.Problem)
		}
	})
}

// Where a row went wrong, the guess still has all stitches ahead, and no
// repeat of it is refused for another reason than the first.
func TestGuessIsWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, rounds := aFabric(t)
		text := aRow(t, 0, 5)
		if strings.Contains(text, " turn") || strings.HasPrefix(text, "turn") || strings.Contains(text, "w&t") {
			return // a short row stops where it says
		}
		did := f.Work(parse(t, text), fabric.Row{Rounds: rounds})
		if did.Problem == nil {
			return
		}
		if did.Problem.Message == "" || did.Problem.Code == "" || did.Problem.Start < 0 || did.Problem.End > len(text) || did.Problem.Start >= did.Problem.End {
			t.Fatalf("%q: a problem without words or place: %+v", text, *did.Problem)
		}
		if did.After.Ahead() != did.After.Count() {
			t.Fatalf("%q on %d: %d of %d stitches are ahead after %q", text, f.Count(), did.After.Ahead(), did.After.Count(), did.Problem.Message)
		}
	})
}

func TestTurningTwiceKeepsTheOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, rounds := aFabric(t)
		did := f.Work(parse(t, "turn, turn"), fabric.Row{Rounds: rounds})
		if did.Problem != nil {
			t.Fatal(did.Problem.Message)
		}
		for i, l := range did.After.Loops() {
			if l.Column != f.Loops()[i].Column || l.Face != f.Loops()[i].Face {
				t.Fatalf("stitch %d is %v, was %v", i, l, f.Loops()[i])
			}
		}
		if did.After.Side() != f.Side() || did.After.Ahead() != f.Ahead() || !slices.Equal(did.After.Markers(), f.Markers()) {
			t.Fatalf("%s, %d ahead, markers %v; was %s, %d, %v", did.After.Side(), did.After.Ahead(), did.After.Markers(), f.Side(), f.Ahead(), f.Markers())
		}
	})
}

// Working stitches as they present changes no face, and against it every one;
// what it comes to, worked for itself, is the same.
func TestAsTheyPresent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, rounds := aFabric(t)
		if f.Ahead() == 0 {
			return // all bound off, or turned at the edge
		}
		same := f.Work(parse(t, "work sts as they present"), fabric.Row{Rounds: rounds})
		other := f.Work(parse(t, "opposite"), fabric.Row{Rounds: rounds})
		if same.Problem != nil || other.Problem != nil {
			t.Fatal(same.Problem, other.Problem)
		}
		changed := 0
		for i, l := range f.Loops() {
			if same.After.Loops()[i].Face != l.Face {
				t.Fatalf("stitch %d shows %v, and showed %v", i, same.After.Loops()[i].Face, l.Face)
			}
			if other.After.Loops()[i].Face != l.Face {
				changed++
			}
		}
		if changed != f.Ahead() {
			t.Fatalf("against their faces %d stitches changed, of %d ahead", changed, f.Ahead())
		}
		spelled := f.Work(same.Done[0].(*instruction.AsLooks).Body, fabric.Row{Rounds: rounds})
		if !slices.Equal(spelled.After.Loops(), same.After.Loops()) {
			t.Fatalf("spelled out it is %s, and gives other stitches", instruction.Print(same.Done, 0))
		}
	})
}

// A cross moves stitches and makes none.
func TestCrossesPermute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := stitch.Cross{Front: rapid.IntRange(1, 6).Draw(t, "front"), Back: rapid.IntRange(1, 6).Draw(t, "back"), Middle: rapid.IntRange(0, 4).Draw(t, "middle"),
			Left: rapid.Bool().Draw(t, "left"), Purl: rapid.Bool().Draw(t, "purl")}
		f := fabric.CastOn(c.Uses())
		once := f.Work(parse(t, c.Name()), fabric.Row{Rounds: true}).After
		twice := once.Work(parse(t, c.Mirror().Name()), fabric.Row{Rounds: true})
		if twice.Problem != nil {
			t.Fatal(twice.Problem.Message)
		}
		var columns []int
		for _, l := range once.Loops() {
			columns = append(columns, int(l.Column))
		}
		slices.Sort(columns)
		for i, column := range columns {
			if i != column || len(columns) != c.Uses() {
				t.Fatalf("%s on %d gives the columns %v", c.Name(), c.Uses(), columns)
			}
		}
		for i, l := range twice.After.Loops() { // the mirror of a cross brings each strand back
			if int(l.Column) != i {
				t.Fatalf("%s and its mirror: column %d stands at %d", c.Name(), l.Column, i)
			}
		}
	})
}

// FuzzWork looks for rows that take no end, or break the needle.
func FuzzWork(f *testing.F) {
	for _, text := range append(slices.Clone(shortItems), beginnings...) {
		f.Add(text, uint16(7), true)
	}
	f.Add("[[[k1, yo] to last 1 st, k1] 3 times, turn] to end", uint16(40), false)
	f.Add("*k1, pb 30; rep from * to end", uint16(5000), true)
	f.Fuzz(func(t *testing.T, text string, n uint16, rounds bool) {
		in, problems := instruction.Parse(text, problem.Span{End: len(text)}, instruction.Options{})
		if len(problems) > 0 {
			return
		}
		did := fabric.CastOn(int(n)).Begin(rounds, instruction.SideUnsaid).Work(in.Body, fabric.Row{Rounds: rounds})
		if did.Problem == nil && did.After.Count() > instruction.MaxStitches {
			t.Fatalf("%q on %d: %d stitches, and no problem", text, n, did.After.Count())
		}
		for i, m := range did.After.Markers() {
			if m < 0 || m > did.After.Count() || i > 0 && m <= did.After.Markers()[i-1] {
				t.Fatalf("%q on %d: markers %v on %d", text, n, did.After.Markers(), did.After.Count())
			}
		}
	})
}
