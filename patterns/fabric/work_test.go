package fabric_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// needle is a fabric in letters, in right-side order: the face of each stitch,
// k or p (twisted ones in capitals), | for a marker and ^ for the tip, where
// the next row begins, < for one that goes backwards.
func needle(f fabric.Fabric) string {
	tip, arrow := f.Count()-f.Ahead(), "^"
	if f.Side() == instruction.WS {
		tip, arrow = f.Ahead(), "<"
	}
	var b strings.Builder
	for i := range f.Count() + 1 {
		if slices.Contains(f.Markers(), i) {
			b.WriteByte('|')
		}
		if i == tip {
			b.WriteString(arrow)
		}
		if i < f.Count() {
			letter := string("kp"[f.Loops()[i].Face])
			if f.Loops()[i].Marks&fabric.Twisted != 0 {
				letter = strings.ToUpper(letter)
			}
			b.WriteString(letter)
		}
	}
	return b.String()
}

func TestWork(t *testing.T) {
	for _, c := range []struct {
		name   string
		rounds bool
		n      int
		rows   string // apart by "/"
		want   string
	}{
		{"a right-side row is turned at its end", false, 3, "k1, p1, k1", "kpk<"},
		{"a wrong-side row runs the other way and shows the other faces", false, 4, "k4 / p1, k3", "^pppk"},
		{"garter stitch flat", false, 2, "k / k", "^pp"},
		{"stockinette in rounds", true, 2, "k / k", "^kk"},
		{"twisted on either side", false, 2, "k1 tbl, p1 tbl / k1, p1 tbl", "^Kp"},
		{"slipped stitches keep their face", false, 3, "p3 / sl 3", "^ppp"},
		{"both faces out of one", false, 2, "k1, kfb", "kkp<"},
		{"both faces out of one on the wrong side", false, 2, "k2 / k1, kfb", "^kpp"},
		{"increases on the wrong side", false, 1, "k1 / p1, m1p, yo", "^pKk"},
		{"as they look on the wrong side", false, 4, "k1, p2, k1 / work sts as they present", "^kppk"},
		{"against their looks on the wrong side", false, 4, "k1, p2, k1 / opposite", "^pkkp"},

		{"a short row stops where it turns", false, 6, "k4, turn", "kkkk<kk"},
		{"and runs back", false, 6, "k4, turn / p3, turn", "k^kkkkk"},
		{"and on to the end", false, 6, "k4, turn / p3, turn / p to end", "kppppp<"},
		{"there and back in one row", false, 4, "k2, turn, p2, turn, k4", "kkkk<"},
		{"a bobble", false, 2, "k1, (k1, yo, k1) in next st, turn, p3, turn, sl 1, k2tog, psso", "kk<"},
		{"a bobble in rounds", true, 3, "k1, (k1, yo, k1) in next st, turn, p3, turn, k3tog, p1", "^kkp"},
		{"a short row in rounds", true, 6, "p4, turn", "pppp<kk"},
		{"which runs back past the beginning of the round", true, 6, "p4, turn / k6, turn", "pppp^pp"},
		{"and is closed", true, 6, "p4, turn / k6, turn / k to end", "^ppppkk"},
		{"past the beginning of the round forwards", true, 6, "k4, turn / p6, turn / p4, turn", "pp<kkpp"},
		{"a whole round backwards", true, 3, "p to end, turn / k to end", "ppp<"},
		{"back to the beginning of the round and no further", true, 4, "k3, turn / k to end", "pppk<"},
		{"wrapped stitches are unworked ones", false, 3, "k1, w&t", "k<kk"},

		{"markers stay between their stitches", false, 4, "k1, pm, k3 / p to m, sm, p1", "^k|kkk"},
		{"a marker that an increase comes before", false, 2, "k1, pm, k1 / k / k to m, m1, sm, k1", "kK|k<"},
		{"a marker that an increase comes after", false, 2, "k1, pm, k1 / k / k to m, sm, m1, k1", "k|Kk<"},
		{"a marker that a decrease comes to", false, 4, "k2, pm, k2 / p / k to 2 sts before m, k2tog, sm, ssk", "k|k<"},
		{"the marker at the beginning of the round is at its end too", true, 3, "pm, k to end / k to m, sm", "|^kkk"},
		{"slipped at the beginning", true, 3, "pm, k to end / sm, p to m", "|^ppp"},
		{"between two markers", true, 6, "pm, k2, pm, k4 / k to m, sm, p to 1 st before m, k1, sm", "|^kk|pppk"},
		{"a marker taken out", false, 3, "k1, pm, k2 / p2, rm, p1", "^kkk"},
		{"a marker taken out at the end of the round", true, 2, "pm, k2 / k2, rm", "^kk"},
		{"a marker moved by one", false, 3, "k1, pm, k2 / p / k to m, rm, p1, pm, k1", "kp|k<"},
		{"a marker through a short row", false, 4, "k2, pm, k2 / p3, turn / k to m, sm, p to end", "kk|pp<"},
		{"two markers at one place are one", false, 2, "k1, pm, pm, k1", "k|k<"},
		{"a passed-over stitch moves the markers after it", false, 4, "sl 1, k1, pm, k1, psso, k1", "k|kk<"},

		{"a slipped stitch over one", false, 2, "sl 1, p1, psso", "p<"},
		{"over a decrease", false, 3, "sl 1, p2tog, psso", "p<"},
		{"two over one", false, 3, "sl 2 kwise, p1, p2sso", "p<"},
		{"over several", false, 4, "sl 1, k3, psso", "kkk<"},
		{"the nearest of several", false, 4, "sl 1, p1, sl 1, p1, psso", "kpp<"},
		{"the next over the last", false, 2, "p1, pnso", "p<"},

		{"bound off in the middle", false, 5, "k1, BO 3, p1", "kp<"},
		{"all bound off", false, 3, "BO all sts", "<"},
		{"all bound off in rounds", true, 3, "BO all sts", "^"},
		{"cast on at the end", false, 1, "p1, CO 2", "pkk<"},
		{"cast on at the beginning", false, 1, "CO 2, p1", "kkp<"},
		{"cast on at the end of a wrong-side row", false, 1, "p1 / k1, CO 2", "^ppp"},
		{"put on hold and returned", false, 4, "p2, put 2 sts on hold / return 2 held sts, p2, k2", "^ppkk"},
		{"the group of that size returns", false, 5, "p3, k2 / put 2 sts on hold, put 3 sts on hold / return 3 held sts, sl 3", "ppp<"},
		{"returned on the other side in the same order", false, 3, "p1, k2 / sl 1, put 2 sts on hold / k1, return 2 held sts, sl 2", "kpk<"},
		{"the oldest return first", false, 5, "p2, k3 / sl 3, put 2 sts on hold / put 3 sts on hold / return 4 held sts, sl 4", "^ppkk"},

		{"a longhand cross that mixes", false, 5, "sl 3 to cn, hold in front, p2, (p1, k1, p1) from cn", "pppkp<"},
		{"a cross on the wrong side", false, 3, "p3 / 2/1 RPC", "^kpp"},
		{"a cross at the beginning of a round that began in the middle", true, 4, "k2, turn / p1, turn / RT, p1", "^kkkp"},
		{"as they look over a marker", true, 4, "p1, pm, k1, p2 / work as they look to m, sm, opposite", "^p|pkk"},
		{"a repeat over the panel's stitches only", true, 4, "*p1, k1; rep from * to last 2 sts, k2", "^pkkk"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := fabric.CastOn(c.n).Begin(c.rounds, instruction.SideUnsaid)
			for row := range strings.SplitSeq(c.rows, " / ") {
				f = worked(t, f, row, c.rounds)
			}
			if got := needle(f); got != c.want {
				t.Errorf("%q on %d gives %s, want %s", c.rows, c.n, got, c.want)
			}
		})
	}
}

func TestProblems(t *testing.T) {
	for _, c := range []struct {
		name       string
		rounds     bool
		n          int
		rows       string // apart by "/"; the last has the problem
		at         string // what the problem's span covers
		code       string
		message    string
		suggestion string
		guess      string
	}{
		{"too few", false, 3, "k2, k2tog", "k2tog", "short", "the row needs 4 stitches, and there are 3: they run out here", "", "kkk<"},
		{"too few, by several items", false, 3, "k5, k2", "k5", "short", "the row needs 7 stitches, and there are 3: they run out here", "", "kkkkkkk<"},
		{"too many", false, 4, "k3", "k3", "unworked", "1 stitch is left unworked at the end of the row, which began with 4", "work them, or write turn if the row is meant to stop here", "kkkk<"},
		{"too many in a round", true, 6, "p2, k2", "k2", "unworked", "2 stitches are left unworked at the end of the row, which began with 6", "work them, or write turn if the row is meant to stop here", "^ppkkkk"},
		{"past the beginning of the round", true, 4, "k3, turn / p1, turn / k3", "k3", "past-beginning", "the round goes on past its beginning, before which it had 2 stitches", "write turn if it is a short row that is meant to stop here", "^kkkk"},
		{"a repeat that leaves some", false, 7, "*p2, k1; rep from * to end", "*p2, k1; rep from * to end", "uneven", "the repeat uses 3 stitches each time, and there are 7 for it: that is 2 times with 1 left over", "it comes out even on 6 or 9", "ppkppkk<"},
		{"a repeat that never fits", false, 2, "*p2, k1; rep from * to end", "*p2, k1; rep from * to end", "uneven", "the repeat uses 3 stitches each time, and there are 2 for it: that is 0 times with 2 left over", "it comes out even on 3", "kk<"},
		{"a repeat before other stitches", false, 8, "*p2; rep from * to last 3 sts, p3", "*p2; rep from * to last 3 sts", "uneven", "the repeat uses 2 stitches each time, and there are 5 for it: that is 2 times with 1 left over", "it comes out even on 4 or 6", "ppppkppp<"},
		{"a repeat that would reach too far", true, 9, "*p4; rep from * to last 2 sts, p2", "*p4; rep from * to last 2 sts", "uneven", "the repeat uses 4 stitches each time, and there are 7 for it: that is once with 3 left over", "it comes out even on 4 or 8", "^ppppkkkpp"},
		{"a repeat by markers that comes out unlike", false, 7, "k2, pm, k3, pm, k2 / p7 / [k to m, sm] to end", "k to m", "marker-missing", "no marker is ahead of this place", "place one in an earlier row with pm, or say how many stitches", "kk|kkk|kk<"},
		{"a repeat that is undone", false, 9, "p1, k8 / p to last 1 st, k1 / sl 1, pm, k3, [psso, k6] to end", "[psso, k6] to end", "uneven", "the repeat uses 6 stitches each time, and there are 5 for it: that is 0 times with 5 left over", "it comes out even on 6", "p|kkkkkkkk<"},
		{"a decrease to the end that leaves one", false, 5, "k2tog to end", "k2tog to end", "uneven", "k2tog uses 2 stitches each time, and there are 5 for it: that is 2 times with 1 left over", "it comes out even on 4 or 6", "kkk<"},
		{"a repeat that uses nothing", false, 3, "[yo] to end", "[yo] to end", "no-end", "the repeat uses no stitches, so it never reaches its end", "say how many times", ""},
		{"a stitch that uses nothing", false, 3, "yo to end", "yo to end", "no-end", `"yo" uses no stitch, so it never reaches an end`, "say how many times", ""},
		{"an end too near", false, 3, "k to last 4 sts", "k to last 4 sts", "short", "this goes to the last 4 stitches, and there are only 3 ahead", "", ""},
		{"no marker ahead", false, 3, "k to m", "k to m", "marker-missing", "no marker is ahead of this place", "place one in an earlier row with pm, or say how many stitches", ""},
		{"a marker too near", false, 3, "k1, pm, k2 / p3 / k to 2 sts before m, k2", "k to 2 sts before m", "short", "the next marker is 1 stitch away, too near to stop 2 before it", "", ""},
		{"no marker here", false, 3, "k1, pm, k2 / p3 / sm, k3", "sm", "marker-missing", "no marker stands here; the next one is 1 stitch further on", "write: k to m, sm", "k|kk<"},
		{"no marker at all", true, 3, "k1, rm, k2", "rm", "marker-missing", "no marker stands here, and none is ahead", "place it in an earlier row with pm", "^kkk"},
		{"nothing slipped", false, 2, "k2, psso", "psso", "nothing-to-pass", `"psso" finds no slipped stitch to pass over`, "slip one first: sl 1, k1, psso", "kk<"},
		{"slipped and nothing after it", false, 1, "sl 1, psso", "psso", "nothing-to-pass", `"psso" finds no slipped stitch to pass over`, "slip one first: sl 1, k1, psso", "k<"},
		{"slipped in the row before", false, 2, "sl 1, k1 / p2, psso", "psso", "nothing-to-pass", `"psso" finds no slipped stitch to pass over`, "slip one first: sl 1, k1, psso", "^kk"},
		{"nothing to pass the next over", false, 2, "pnso, k1", "pnso", "nothing-to-pass", "there is no stitch on the right needle to pass the next one over", "", ""},
		{"nothing to pass over the last", false, 1, "k1, pass the previous st over", "pass the previous st over", "nothing-to-pass", "there is no earlier stitch on the right needle to pass over", "", "k<"},
		{"nothing worked into the stitch", false, 2, "(yo, yo) in next st, p1", "(yo, yo) in next st", "into", "nothing in this group is worked into the stitch", "begin it with k1 or p1", "kp<"},
		{"no stitch to work into", false, 1, "k1, (k1, p1) in next st", "(k1, p1) in next st", "short", "the row needs 2 stitches, and there are 1: they run out here", "", "kkp<"},
		{"what stands for whole rows", false, 1, "k1, work the panels", "work the panels", "misplaced", "this stands for whole rows, and can't be part of one", "", "k<"},
		{"no stitch to wrap", false, 2, "k2, w&t", "w&t", "turn", "there is no next stitch to wrap", "", ""},
		{"not on hold", false, 2, "return 3 held sts, k5", "return 3 held sts", "not-held", "0 stitches are on hold, and 3 are to be returned", "", ""},
		{"a repeat that goes on unlike it began", false, 9, "k4, pm, k5 / p9 / [k to m, k3] to end", "[k to m, k3] to end", "uneven", "the repeat comes out once, and is left with 2 stitches where it would use 3", "", "kkkk|kkkkk<"},
		{"turned in one stitch", false, 4, "(k1, turn, k1) in next st, k3", "turn", "turn", "the work can't be turned inside a cross, or a group worked into one stitch", "", ""},
		{"a row too wide", false, 5000, "k1, kfb to end", "k1, kfb to end", "too-large", "the row grows past 5000 stitches here", "check the numbers of the repeats", ""},
		{"the first of two", false, 4, "k1, sm, k5", "sm", "marker-missing", "no marker stands here, and none is ahead", "place it in an earlier row with pm", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := fabric.CastOn(c.n).Begin(c.rounds, instruction.SideUnsaid)
			rows := strings.Split(c.rows, " / ")
			for _, row := range rows[:len(rows)-1] {
				f = worked(t, f, row, c.rounds)
			}
			text := rows[len(rows)-1]
			did := f.Work(parse(t, text), fabric.Row{Rounds: c.rounds})
			p := did.Problem
			if p == nil {
				t.Fatalf("%q on %d: worked, and gives %s", text, f.Count(), needle(did.After))
			}
			if p.Code != c.code || p.Message != c.message || p.Suggestion != c.suggestion || text[p.Start:p.End] != c.at {
				t.Errorf("%q: at %q: %s: %s (%s)\nwant at %q: %s: %s (%s)", text, text[p.Start:p.End], p.Code, p.Message, p.Suggestion, c.at, c.code, c.message, c.suggestion)
			}
			if got := needle(did.After); c.guess != "" && got != c.guess {
				t.Errorf("%q: guessed %s, want %s", text, got, c.guess)
			}
		})
	}
}

func TestSizes(t *testing.T) {
	nodes := parseSizes(t, "k2 (0, 4), [p1, k1] 1 (2, 0) times, put 0 (1, 1) sts on hold, k1", 3)
	for size, want := range []struct {
		n    int
		done string
	}{{5, "k2, [p1, k1] once, k1"}, {6, "[p1, k1] 2 times, put 1 st on hold, k1"}, {6, "k4, put 1 st on hold, k1"}} {
		did := fabric.CastOn(want.n).Work(nodes, fabric.Row{Size: size})
		if did.Problem != nil {
			t.Fatalf("size %d: %s", size, did.Problem.Message)
		}
		if got := instruction.Print(did.Done, size); got != want.done {
			t.Errorf("size %d: done %q, want %q", size, got, want.done)
		}
	}
}

// Marks tell of the row last worked, but for those that a stitch keeps until
// it is worked.
func TestMarks(t *testing.T) {
	const none, twisted, wrapped, beaded, slipped, joined, fresh = 0, fabric.Twisted, fabric.Wrapped, fabric.Beaded, fabric.Slipped, fabric.Joined, fabric.Fresh
	for _, c := range []struct {
		n    int
		rows string
		want []fabric.Mark
	}{
		{3, "k2tog, yo, sl 1", []fabric.Mark{joined, fresh, slipped}},
		{3, "k2tog, yo, sl 1 / k to end", []fabric.Mark{none, none, none}},
		{2, "m1, k1 tbl, sl 1 tbl", []fabric.Mark{fresh | twisted, twisted, slipped | twisted}},
		{2, "k1 tbl, sl 1 tbl / sl 2", []fabric.Mark{slipped | twisted, slipped | twisted}},
		{2, "k1 tbl, k1 tbl / sl 2 tbl", []fabric.Mark{slipped, slipped}},
		{2, "k1, place bead, k1 / sl 2", []fabric.Mark{slipped | beaded, slipped}},
		{2, "k1, place bead, k1 / p2", []fabric.Mark{none, none}},
		{3, "k1, w&t / p1 / sl 1, k2", []fabric.Mark{slipped, none, none}},
		{3, "k1, w&t / p1", []fabric.Mark{none, wrapped, none}},
		{2, "sl 1, k1, psso", []fabric.Mark{joined}},
		{2, "k1, pnso", []fabric.Mark{joined}},
		{1, "kfb", []fabric.Mark{none, fresh}},
		{1, "k1, yo, turn, put 1 st on hold, p1 / return 1 held st, turn", []fabric.Mark{none, none}},
	} {
		f := fabric.CastOn(c.n)
		for row := range strings.SplitSeq(c.rows, " / ") {
			f = worked(t, f, row, false)
		}
		var got []fabric.Mark
		for _, l := range f.Loops() {
			got = append(got, l.Marks)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q on %d: marks %b, want %b", c.rows, c.n, got, c.want)
		}
	}
}

func TestDone(t *testing.T) {
	for _, c := range []struct {
		n          int
		text, want string
	}{
		{8, "*k2, p2; rep from * to end", "[k2, p2] x2"},
		{9, "k to last 3 sts, k2tog, k1", "k6, k2tog1, k1"},
		{8, "work as they look", "look(k2, p2, k2, p2)"},
		{14, "work as they look", "look([k2, p2] x3, k2)"},
		{8, "[work 2 sts as they look] to end", "[look(k2)] x1, [look(p2)] x1, [look(k2)] x1, [look(p2)] x1"},
		{4, "[2/2 LC] 1 times", "[cross(k2; k2)] x1"},
	} {
		f := worked(t, fabric.CastOn(c.n), fmt.Sprintf("[k2, p2] %d times, k%d", c.n/4, c.n%4), true)
		did := f.Work(parse(t, c.text), fabric.Row{Rounds: true})
		if did.Problem != nil {
			t.Fatalf("%q: %s", c.text, did.Problem.Message)
		}
		if got := counts(did.Done); got != c.want {
			t.Errorf("%q on %d: done %s, want %s", c.text, c.n, got, c.want)
		}
	}
}

// counts is a worked tree, told by its counts alone.
func counts(nodes []instruction.Node) string {
	var parts []string
	for _, n := range nodes {
		switch n := n.(type) {
		case *instruction.Work:
			parts = append(parts, fmt.Sprintf("%s%d", n.Stitch.Abbr, n.Count))
		case *instruction.Repeat:
			parts = append(parts, fmt.Sprintf("[%s] x%d", counts(n.Body), n.Count))
		case *instruction.AsLooks:
			parts = append(parts, "look("+counts(n.Body)+")")
		case *instruction.Cross:
			var strands []string
			for _, p := range n.Parts {
				strands = append(strands, counts(p.Body))
			}
			parts = append(parts, "cross("+strings.Join(strands, "; ")+")")
		}
	}
	return strings.Join(parts, ", ")
}

// An abbreviation of the pattern's own does what it stands for, in a repeat too.
func TestMacro(t *testing.T) {
	own := &instruction.Abbreviations{}
	own.Define(&instruction.Definition{Name: "wave", Body: parse(t, "p1, yo, k2tog")})
	const text = "*wave, (k1, p1) in next st; rep from * to end"
	in, problems := instruction.Parse(text, problem.Span{End: len(text)}, instruction.Options{Abbreviations: own})
	if len(problems) > 0 {
		t.Fatal(problems[0].Message)
	}
	did := fabric.CastOn(8).Work(in.Body, fabric.Row{})
	if did.Problem != nil || needle(did.After) != "pkkkppkkkp<" {
		t.Errorf("%s, %v", needle(did.After), did.Problem)
	}
	did = fabric.CastOn(9).Work(in.Body, fabric.Row{})
	if want := "the repeat uses 4 stitches each time, and there are 9 for it: that is 2 times with 1 left over"; did.Problem == nil || did.Problem.Message != want {
		t.Errorf("%v, want %q", did.Problem, want)
	}
}

// Trees that the parser does not give are refused all the same.
func TestStrangeTrees(t *testing.T) {
	k1 := parse(t, "k1")
	unfinished := &instruction.Cross{Slipped: []instruction.Slipped{{N: 2}}, Parts: []instruction.Part{{From: instruction.FromLeft, Body: k1}, {From: instruction.FromFirst, Body: k1}}}
	overdrawn := &instruction.Cross{Slipped: []instruction.Slipped{{N: 1}}, Parts: []instruction.Part{{From: instruction.FromFirst, Body: parse(t, "k3")}}}
	for code, node := range map[string]instruction.Node{
		"cross-unfinished": unfinished,
		"short":            overdrawn,
		"too-large":        &instruction.AsLooks{Extent: instruction.Extent{N: instruction.N(99_999)}},
	} {
		if did := fabric.CastOn(3).Work([]instruction.Node{node}, fabric.Row{}); did.Problem == nil || did.Problem.Code != code {
			t.Errorf("%v, want %s", did.Problem, code)
		}
	}
	if did := fabric.CastOn(2).Work(nil, fabric.Row{}); did.Problem == nil || did.Problem.Code != "unworked" || needle(did.After) != "kk<" {
		t.Errorf("an empty row: %v, %s", did.Problem, needle(did.After))
	}
	if did := (fabric.Fabric{}).Work(nil, fabric.Row{}); did.Problem != nil || did.After.Count() != 0 {
		t.Errorf("an empty row on an empty needle: %v", did.Problem)
	}
}
