package fabric_test

import (
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// What a section begins with: each step is a row, or a change between rows.
func TestBegin(t *testing.T) {
	const rows, rounds, rs, ws = "rows", "rounds", "RS", "WS"
	for _, c := range []struct {
		name  string
		n     int
		in    string
		steps []string
		want  string
	}{
		{"rows begin on the right side", 3, rows, nil, "^kkk"},
		{"or on the wrong side, where that is given", 3, rows, []string{ws}, "kkk<"},
		{"the side that faces is kept", 3, rows, []string{"k1, p2", rows}, "kpp<"},
		{"another side that is given wins", 3, rows, []string{"k1, p2", rs}, "^kpp"},
		{"but not in the middle of a row", 3, rows, []string{"k1, p1, turn", rs}, "kp<k"},
		{"joined after a right-side row", 3, rows, []string{"k1, pm, k1, p1", rounds}, "^k|kp"},
		{"joined after a wrong-side row", 3, rows, []string{"k3", "p1, k2", rounds}, "^ppk"},
		{"joined where the needles part", 4, rows, []string{"p1, pm, k3", "p2, turn", rounds}, "^kkp|k"},
		{"a marker at the edge becomes the one at the beginning of the round", 3, rows, []string{"p1, k2, pm", rounds}, "|^pkk"},
		{"the beginning of the round moves", 4, rounds, []string{"p1, pm, p1, k1, turn", "p1, turn", rounds}, "^kkp|p"},
		{"a round cut at its beginning", 3, rounds, []string{"p1, k2", rows}, "^pkk"},
		{"cut on the wrong side", 3, rounds, []string{"p1, k2", ws}, "pkk<"},
		{"a heel begun in the round by a turn is one flat row", 5, rounds, []string{"p2, turn", rows}, "kkkpp<"},
		{"and worked right across", 5, rounds, []string{"p2, turn", rows, "p5"}, "^kkkkk"},
		{"cut on the right side", 5, rounds, []string{"p3, turn", "k1, turn", rows}, "^pkkpp"},
	} {
		t.Run(c.name, func(t *testing.T) {
			ring := c.in == rounds
			f := fabric.CastOn(c.n).Begin(ring, instruction.SideUnsaid)
			for _, step := range c.steps {
				switch step {
				case rows, rounds:
					ring = step == rounds
					f = f.Begin(ring, instruction.SideUnsaid)
				case rs, ws:
					ring = false
					f = f.Begin(false, sideOf(step))
				default:
					f = worked(t, f, step, ring)
				}
			}
			if got := needle(f); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

// A new piece puts the old one on hold; each comes back by its count.
func TestNewPiece(t *testing.T) {
	f := worked(t, fabric.CastOn(3), "p1, with CC, k2", false).CastOn(2)
	if f.Count() != 2 || f.Held() != 3 || needle(f) != "^kk" {
		t.Fatalf("%d on the needle and %d on hold, %s", f.Count(), f.Held(), needle(f))
	}
	if name := f.YarnName(f.Loops()[0].Yarn); name != "CC" {
		t.Errorf("cast on in %q, want the yarn that was in use, CC", name)
	}
	columns := map[int32]bool{}
	f = worked(t, f, "k2, return 3 held sts, sl 3", false)
	for _, l := range f.Loops() {
		columns[l.Column] = true
	}
	if needle(f) != "kkpkk<" || f.Held() != 0 || len(columns) != 5 {
		t.Errorf("%s, %d on hold, columns %v", needle(f), f.Held(), columns)
	}
}

func TestYarns(t *testing.T) {
	f := worked(t, fabric.CastOn(5), "k1, with Sky blue, k1, with MC, k1, with sky  Blue, k1, sl 1", false)
	for i, want := range []string{"", "Sky blue", "MC", "Sky blue", ""} {
		if got := f.YarnName(f.Loops()[i].Yarn); got != want {
			t.Errorf("stitch %d is in %q, want %q", i, got, want)
		}
	}
	if got := f.YarnName(200); got != "" {
		t.Errorf("a yarn that was never taken up is called %q", got)
	}
}

func TestResized(t *testing.T) {
	f := worked(t, fabric.CastOn(4), "p1, pm, p2, k1, pm", false)
	for _, c := range []struct {
		n    int
		want string
	}{{4, "p|ppk|<"}, {6, "p|ppk|kk<"}, {2, "p|p<"}, {0, "<"}, {-3, "<"}} {
		if got := needle(f.Resized(c.n)); got != c.want {
			t.Errorf("%d stitches: %s, want %s", c.n, got, c.want)
		}
	}
	for _, n := range []int{instruction.MaxStitches + 1, 99_999} {
		if got := f.Resized(n).Count(); got != instruction.MaxStitches {
			t.Errorf("%d stitches: %d, want the most a row has", n, got)
		}
		if got := fabric.CastOn(n).Count(); got != instruction.MaxStitches {
			t.Errorf("cast on %d: %d, want the most a row has", n, got)
		}
	}
	if needle(f) != "p|ppk|<" {
		t.Errorf("the fabric it was made from is now %s", needle(f))
	}
}

// panel is one panel's row, of so many stitches.
func panel(t *testing.T, width int, text string) *instruction.Strip {
	return &instruction.Strip{Panel: "Plait", Row: 2, Width: width, Body: parse(t, text)}
}

func TestPanels(t *testing.T) {
	for _, c := range []struct {
		name   string
		rounds bool
		n      int
		rest   string // worked after the two panels; empty for nothing
		a, b   *instruction.Strip
		want   string // the needle, or the problem
	}{
		{"each to its own end", true, 8, "k2", panel(t, 3, "p to end"), panel(t, 3, "k to last 1 st, p1"), "^pppkkpkk"},
		{"up to the end of the row", false, 6, "", panel(t, 3, "*p1, k1; rep from * to last 1 st, p1"), panel(t, 3, "k to end"), "pkpkkk<"},
		{"a bobble that turns inside", true, 5, "k1", panel(t, 2, "(p1, yo, k1) in next st, turn, p3, turn, k3tog, p1"), panel(t, 2, "p2"), "^kpppk"},
		{"a bobble that turns in the last panel", true, 4, "", panel(t, 2, "p2"), panel(t, 2, "k1, (k1, yo, k1) in next st, turn, p to last 1 st, turn, k2, pass previous st over"), "panel-width: row 2 of the panel Plait leaves 1 stitch unworked"},
		{"a bobble flat", false, 4, "", panel(t, 2, "p2"), panel(t, 2, "k1, (k1, yo, k1) in next st, turn, p3, turn, k3tog"), "ppkk<"},
		{"too few stitches for a panel", true, 4, "", panel(t, 3, "p3"), panel(t, 3, "p3"), "panel-room: the panel Plait needs 3 stitches, and finds 1"},
		{"a row that leaves some of the panel", true, 6, "", panel(t, 3, "p2"), panel(t, 3, "p3"), "panel-width: row 2 of the panel Plait leaves 1 stitch unworked"},
		{"a row that needs more than the panel has", true, 6, "", panel(t, 3, "p2, k3"), panel(t, 3, "p3"), "panel-width: the panel Plait has 3 stitches, and its row 2 needs 5: they run out here"},
		{"a stitch passed over from another panel", true, 6, "", panel(t, 3, "p2, sl 1"), panel(t, 3, "p2, psso, p1"), `nothing-to-pass: "psso" finds no slipped stitch to pass over`},
		{"turned and not turned back", true, 6, "", panel(t, 3, "p2, turn"), panel(t, 3, "p3"), "turn: the work is turned in the panel Plait, and not turned back before its row 2 ends"},
		{"returned into a panel", true, 6, "", panel(t, 3, "p2, put 1 st on hold"), panel(t, 3, "return 1 held st, p3"), "not-held: stitches can't be returned inside a panel, a cross or a group worked into one stitch"},
	} {
		t.Run(c.name, func(t *testing.T) {
			nodes := []instruction.Node{c.a, c.b}
			if c.rest != "" {
				nodes = append(nodes, parse(t, c.rest)...)
			}
			did := fabric.CastOn(c.n).Begin(c.rounds, instruction.SideUnsaid).Work(nodes, fabric.Row{Rounds: c.rounds})
			got := needle(did.After)
			if did.Problem != nil {
				got = did.Problem.Code + ": " + did.Problem.Message
				if did.After.Ahead() != did.After.Count() {
					t.Errorf("of %d stitches %d are ahead", did.After.Count(), did.After.Ahead())
				}
			}
			if got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

// In the first panel of a round, the work may be turned at the very beginning
// of the round and does not pass it.
func TestPanelTurnsAtTheBeginningOfTheRound(t *testing.T) {
	f := worked(t, fabric.CastOn(3).Begin(true, instruction.SideUnsaid), "pm, k to end", true)
	did := f.Work([]instruction.Node{panel(t, 3, "(k1, yo, k1) in next st, turn, p to end, sm, turn, k3tog, p2")}, fabric.Row{Rounds: true})
	if did.Problem != nil || needle(did.After) != "|^kpp" {
		t.Errorf("%s, %v", needle(did.After), did.Problem)
	}
}

// A repeat that does not come out puts back what it had taken off its holder.
func TestHeldInARepeatThatIsUndone(t *testing.T) {
	did := fabric.CastOn(8).Work(parse(t, "put 1 st on hold, put 2 sts on hold, [return 1 held st, k9] to end"), fabric.Row{})
	if did.Problem == nil || did.Problem.Code != "uneven" || did.After.Held() != 3 || did.After.Count() != 5 {
		t.Errorf("%v, %d on the needle and %d on hold", did.Problem, did.After.Count(), did.After.Held())
	}
}
