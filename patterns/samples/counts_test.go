package samples_test

import (
	"fmt"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/samples"
)

func TestSizes(t *testing.T) {
	want := map[string]string{
		"float-hat":       "small 108, medium 120, large 132",
		"gull-kerchief":   "kerchief 3, shawl 3",
		"cobble-cowl":     "short 132, long 252",
		"lee-cap":         "child 38, medium 42, large 46",
		"boathouse-socks": "small 40, medium 44, large 48",
		"mender-mittens":  "small 40, large 48",
	}
	for _, s := range samples.All() {
		p := read(t, s.Name)
		var got []string
		for i, size := range p.Sizes {
			got = append(got, fmt.Sprintf("%s %d", size, p.CastOn.At(i)))
		}
		if all := strings.Join(got, ", "); all != want[s.Name] {
			t.Errorf("%s: sizes and stitches cast on are %s; want %s", s.Name, all, want[s.Name])
		}
	}
}

// The stitches after a row, worked out by hand from the design: by size.
var counts = []struct {
	sample, section string
	rows            []int
	stitches        []int
}{
	// Six gores of ten stitches and twice a purl field of 4 (5, 6).
	{"float-hat", "Brim", []int{14, 14, 14}, []int{108, 120, 132}},
	{"float-hat", "Floats", []int{10, 10, 10}, []int{108, 120, 132}},
	{"float-hat", "Floats", []int{11, 11, 11}, []int{120, 132, 144}}, // two more in each of six glints
	{"float-hat", "Floats", []int{13, 13, 13}, []int{108, 120, 132}},
	{"float-hat", "Crown", []int{1, 1, 1}, []int{96, 108, 120}}, // two less in each gore
	{"float-hat", "Crown", []int{5, 5, 5}, []int{84, 96, 108}},
	{"float-hat", "Crown", []int{9, 9, 9}, []int{72, 84, 96}},
	{"float-hat", "Crown", []int{11, 11, 11}, []int{60, 72, 84}},
	{"float-hat", "Crown", []int{12, 13, 15}, []int{60, 60, 60}},
	{"float-hat", "Crown", []int{13, 15, 17}, []int{48, 48, 48}},
	{"float-hat", "Crown", []int{15, 17, 19}, []int{36, 36, 36}},
	{"float-hat", "Crown", []int{17, 19, 21}, []int{18, 18, 18}},
	{"float-hat", "Crown", []int{18, 20, 22}, []int{9, 9, 9}},

	// 13 stitches, then four more in each right-side row.
	{"gull-kerchief", "Neck tab", []int{7, 7}, []int{9, 9}},
	{"gull-kerchief", "Beginning", []int{3, 3}, []int{13, 13}},
	{"gull-kerchief", "Sky", []int{70, 102}, []int{13 + 4*35, 13 + 4*51}},
	{"gull-kerchief", "Gulls", []int{16, 24}, []int{13 + 4*43, 13 + 4*63}},
	{"gull-kerchief", "Shore", []int{6, 6}, []int{13 + 4*46, 13 + 4*66}},
	{"gull-kerchief", "Shore", []int{7, 7}, []int{0, 0}},

	{"cobble-cowl", "Cobbles", []int{50, 50}, []int{132, 252}},
	{"cobble-cowl", "Upper edge", []int{7, 7}, []int{0, 0}},

	// A short row leaves stitches unworked, and none of them gets lost.
	{"lee-cap", "Wedges", []int{17, 17, 17}, []int{38, 42, 46}},
	{"lee-cap", "Wedges", []int{180, 198, 216}, []int{38, 42, 46}},
	{"lee-cap", "Closing", []int{1, 1, 1}, []int{0, 0, 0}},

	{"boathouse-socks", "Heel flap", []int{1, 1, 1}, []int{20, 22, 24}},
	{"boathouse-socks", "Heel flap", []int{20, 22, 24}, []int{20, 22, 24}},
	{"boathouse-socks", "Heel turn", []int{8, 8, 8}, []int{20 - 8, 22 - 8, 24 - 8}},
	{"boathouse-socks", "Gusset", []int{1, 1, 1}, []int{12 + 11 + 20 + 11, 14 + 12 + 22 + 12, 16 + 13 + 24 + 13}},
	{"boathouse-socks", "Gusset", []int{15, 17, 19}, []int{54 - 2*7, 60 - 2*8, 66 - 2*9}},
	{"boathouse-socks", "Foot", []int{24, 28, 32}, []int{40, 44, 48}},
	{"boathouse-socks", "Toe", []int{14, 14, 14}, []int{40 - 8*4, 44 - 8*4, 48 - 8*4}},
	{"boathouse-socks", "Toe", []int{15, 15, 15}, []int{4, 6, 8}},

	{"mender-mittens", "Cuff", []int{21, 21}, []int{44, 52}},
	{"mender-mittens", "Thumb gusset", []int{24, 27}, []int{44 + 15, 52 + 17}},
	{"mender-mittens", "Hand", []int{1, 1}, []int{46, 54}},
	{"mender-mittens", "Hand", []int{26, 30}, []int{44, 52}},
	{"mender-mittens", "Top", []int{7, 7}, []int{44 - 4*4, 52 - 4*4}},
	{"mender-mittens", "Top", []int{12, 14}, []int{12, 12}},
	{"mender-mittens", "Top", []int{13, 15}, []int{0, 0}},
	{"mender-mittens", "Thumb", []int{1, 1}, []int{15 + 3, 17 + 4}},
	{"mender-mittens", "Thumb", []int{16, 19}, []int{6, 7}},
	{"mender-mittens", "Drying loop", []int{1, 1}, []int{4, 4}},
	{"mender-mittens", "Drying loop", []int{25, 25}, []int{0, 0}},
}

func TestCounts(t *testing.T) {
	for _, want := range counts {
		p := read(t, want.sample)
		for i, size := range p.Sizes {
			plan := layOut(t, p, patterns.Choice{Size: size})
			checkCount(t, plan, size, want.section, want.rows[i], want.stitches[i])
		}
	}
}

func checkCount(t *testing.T, plan *patterns.Plan, size, section string, number, stitches int) {
	t.Helper()
	at, found := plan.Find(section, number)
	if !found {
		t.Errorf("%s, %s: there is no row %d in %s", plan.Pattern.Title, size, number, section)
		return
	}
	if got := plan.Rows[at].After.Count(); got != stitches {
		t.Errorf("%s, %s: %s row %d leaves %d stitches; want %d", plan.Pattern.Title, size, section, number, got, stitches)
	}
}

func TestRowsInAll(t *testing.T) {
	want := map[string][]int{ // rows of each size in all, added up by hand
		"float-hat":       {14 + 1 + 24 + 6 + 18, 14 + 1 + 24 + 6 + 20, 14 + 1 + 24 + 6 + 22},
		"gull-kerchief":   {7 + 3 + 70 + 16 + 7, 7 + 3 + 102 + 24 + 7},
		"cobble-cowl":     {6 + 5 + 50 + 4 + 7, 6 + 5 + 50 + 4 + 7},
		"lee-cap":         {180 + 1, 198 + 1, 216 + 1},
		"boathouse-socks": {12 + 16 + 20 + 8 + 15 + 24 + 15, 12 + 16 + 22 + 8 + 17 + 28 + 15, 12 + 16 + 24 + 8 + 19 + 32 + 15},
		"mender-mittens":  {21 + 24 + 26 + 13 + 16 + 25, 21 + 27 + 30 + 15 + 19 + 25},
	}
	for _, s := range samples.All() {
		p := read(t, s.Name)
		for i, size := range p.Sizes {
			if got := len(layOut(t, p, patterns.Choice{Size: size}).Rows); got != want[s.Name][i] {
				t.Errorf("%s, %s: %d rows; want %d", s.Name, size, got, want[s.Name][i])
			}
		}
	}
}

// What waits on hold is what the text says: the top of the foot during the
// heel, the thumb until the hand is done.
func TestHeldStitches(t *testing.T) {
	tests := []struct {
		sample, section string
		row             int
		held            []int
	}{
		{"boathouse-socks", "Leg", 16, []int{0, 0, 0}},
		{"boathouse-socks", "Heel turn", 8, []int{20, 22, 24}},
		{"boathouse-socks", "Gusset", 1, []int{0, 0, 0}},
		{"mender-mittens", "Hand", 1, []int{15, 17}},
		{"mender-mittens", "Top", 1, []int{15, 17}},
		{"mender-mittens", "Thumb", 1, []int{0, 0}},
	}
	for _, want := range tests {
		p := read(t, want.sample)
		for i, size := range p.Sizes {
			plan := layOut(t, p, patterns.Choice{Size: size})
			at, found := plan.Find(want.section, want.row)
			if !found {
				t.Fatalf("%s, %s: there is no row %d in %s", want.sample, size, want.row, want.section)
			}
			if got := plan.Rows[at].After.Held(); got != want.held[i] {
				t.Errorf("%s, %s: %d stitches are on hold after %s row %d; want %d", want.sample, size, got, want.section, want.row, want.held[i])
			}
		}
	}
}

// The cap's short rows: what each row of a wedge leaves unworked, and on which
// side it is worked.
func TestShortRowsOfTheCap(t *testing.T) {
	wedge := []int{0, 8, 2, 0, 4, 0, 6, 0, 8, 0, 10, 0, 12, 0, 14, 0, 16, 0}
	p := read(t, "lee-cap")
	for _, size := range p.Sizes {
		plan := layOut(t, p, patterns.Choice{Size: size})
		for i, r := range plan.Rows[:len(plan.Rows)-1] {
			side := []instruction.Side{instruction.RS, instruction.WS}[i%2]
			if r.Unworked() != wedge[i%18] || r.Side != side {
				t.Errorf("%s: row %d leaves %d stitches on the %s; want %d on the %s", size, r.Number, r.Unworked(), r.Side, wedge[i%18], side)
			}
		}
	}
}
