package reader_test

import (
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/reader"
)

func hat(t testing.TB, unit fit.Unit) reader.Knitting {
	return reader.Knitting{Pattern: sample(t, "float-hat"), Choice: patterns.Choice{Size: "medium"}, Unit: unit}
}

func out(owner string, from, rows int) patterns.LeftOut {
	return patterns.LeftOut{Owner: owner, From: from, Rows: rows}
}

func offer(rows int, change, length float64, left ...patterns.LeftOut) *fit.Offer {
	return &fit.Offer{LeftOut: left, Rows: rows, Change: change, Length: length}
}

func TestRowsLeftOut(t *testing.T) {
	k := hat(t, fit.Centimetres)
	for _, c := range []struct {
		before, after []patterns.LeftOut
		want          string
	}{
		{nil, nil, ""},
		{nil, []patterns.LeftOut{out("Slack water", 1, 2)}, "rounds five and six of Slack water"},
		{nil, []patterns.LeftOut{out("Slack water", 1, 6)}, "rounds one to six of Slack water"},
		{[]patterns.LeftOut{out("Slack water", 1, 2)}, []patterns.LeftOut{out("Slack water", 1, 4)}, "rounds three and four of Slack water"},
		{[]patterns.LeftOut{out("Slack water", 1, 4)}, []patterns.LeftOut{out("Slack water", 1, 2)}, ""},
		{nil, []patterns.LeftOut{out("Slack water", 1, 2), out("Float", 9, 2)}, "rounds nine and ten of Float and rounds five and six of Slack water"},
	} {
		if got := k.RowsLeftOut(c.before, c.after); got != c.want {
			t.Errorf("%v to %v: %q, want %q", c.before, c.after, got, c.want)
		}
	}
}

func TestShorterSaid(t *testing.T) {
	k, inches := hat(t, fit.Centimetres), hat(t, fit.Inches)
	whole := fit.Piece{First: k.Pattern.Sections[0], Last: k.Pattern.Sections[len(k.Pattern.Sections)-1], Rows: 65, Length: 20.5}
	four := offer(4, -1.25, 19.25, out("Slack water", 1, 4))
	two, six := offer(2, -0.625, 19.9, out("Slack water", 1, 2)), offer(6, -1.875, 18.6, out("Slack water", 1, 6))
	most := offer(8, -2.5, 18, out("Slack water", 1, 6), out("Float", 9, 2))
	var h heard
	h.add("between two steps", k.Shorter(fit.Shortening{Wanted: 1.2, Piece: whole, Best: four, Less: two, More: six, Most: most, Reach: true}))
	h.add("in inches", inches.Shorter(fit.Shortening{Wanted: 1.2, Piece: whole, Best: four, Less: two, More: six, Most: most, Reach: true}))
	h.add("the first step", k.Shorter(fit.Shortening{Wanted: 0.6, Piece: whole, Best: two, More: four, Most: most, Reach: true}))
	h.add("all of it, just reached", k.Shorter(fit.Shortening{Wanted: 2.5, Piece: whole, Best: most, Less: six, Most: most, Reach: true}))
	h.add("out of reach", k.Shorter(fit.Shortening{Wanted: 4, Piece: whole, Best: most, Less: six, Most: most}))
	h.add("a step that is too large", k.Shorter(fit.Shortening{Wanted: 0.2, Piece: whole, More: two, Most: most}))
	float := offer(16, -5, 15.5, out("Float", 9, 2))
	h.add("rows of a panel, each time", k.Shorter(fit.Shortening{Wanted: 5, Piece: whole, Best: float, Most: float, Reach: true}))
	h.add("rows of two panels, one of them several times", k.Shorter(fit.Shortening{Wanted: 5, Piece: whole, Best: offer(6, -1.9, 18.6, out("Float", 9, 2), out("Slack water", 1, 2)), Most: float, Reach: true}))
	striped := offer(4, -1.25, 19.25, out("Slack water", 1, 4))
	striped.Stripes = []string{"Sky", "Sea glass 2"}
	h.add("stripes that are missed", k.Shorter(fit.Shortening{Wanted: 1.25, Piece: whole, Best: striped, Most: striped, Reach: true}))
	h.add("nothing may be left out", k.Shorter(fit.Shortening{Wanted: 2, Piece: whole}))
	crown := fit.Piece{First: k.Pattern.Sections[2], Last: k.Pattern.Sections[3], Length: 9}
	h.add("a part of it", k.Shorter(fit.Shortening{Wanted: 2, Piece: crown}))
	k.Choice.LeftOut = two.LeftOut
	h.add("more than is left out", k.Shorter(fit.Shortening{Wanted: 0.6, Piece: whole, Best: offer(2, -0.6, 19.2, out("Slack water", 1, 4)), Most: offer(4, -1.2, 18)}))
	h.add("more than there is", k.Shorter(fit.Shortening{Wanted: 30, Piece: whole, Far: true}))
	golden(t, "testdata/fit_shorter.txt", h.String())
}

func TestLongerSaid(t *testing.T) {
	k := hat(t, fit.Centimetres)
	whole := fit.Piece{First: k.Pattern.Sections[0], Last: k.Pattern.Sections[len(k.Pattern.Sections)-1], Rows: 65, Length: 20.5}
	slack := section(t, k.Pattern, "Slack water")
	again := func(from, to, times int, change float64) *fit.Again {
		return &fit.Again{Section: slack, From: from, To: to, Times: times, Rows: times * (to - from + 1), Change: change, Length: 20.5 + change}
	}
	var h heard
	h.add("rows again", k.Longer(fit.Lengthening{Wanted: 2, Piece: whole, Best: again(5, 6, 3, 1.9), Less: again(5, 6, 2, 1.25), More: again(5, 6, 4, 2.5)}))
	h.add("once more", k.Longer(fit.Lengthening{Wanted: 0.6, Piece: whole, Best: again(5, 6, 1, 0.6), More: again(5, 6, 2, 1.25)}))
	h.add("one row", k.Longer(fit.Lengthening{Wanted: 0.6, Piece: whole, Best: again(6, 6, 2, 0.6)}))
	h.add("steps that sound alike", k.Longer(fit.Lengthening{Wanted: 2, Piece: whole, Best: again(6, 6, 6, 2.1), Less: again(6, 6, 5, 1.8), More: again(6, 6, 7, 2.5)}))
	h.add("a step that is too large", k.Longer(fit.Lengthening{Wanted: 0.2, Piece: whole, More: again(1, 6, 1, 1.9)}))
	body := func(times, rows int, change float64) *fit.Again {
		return &fit.Again{Section: section(t, k.Pattern, "Floats"), From: 17, To: 24, Times: times, Rows: rows, Change: change, Length: 20.5 + change}
	}
	h.add("whole repeats, and a remainder", k.Longer(fit.Lengthening{Wanted: 3, Piece: whole, Best: body(1, 8, 2.5), More: body(2, 16, 5)}))
	h.add("whole repeats, a little more", k.Longer(fit.Lengthening{Wanted: 4, Piece: whole, Best: body(2, 16, 5), Less: body(1, 8, 2.5), More: body(3, 24, 7.5)}))
	h.add("whole repeats, just right", k.Longer(fit.Lengthening{Wanted: 5, Piece: whole, Best: body(2, 16, 5), Less: body(1, 8, 2.5), More: body(3, 24, 7.5)}))
	h.add("as many as go without showing", k.Longer(fit.Lengthening{Wanted: 9, Piece: whole, Best: again(5, 6, 6, 3.75), Less: again(5, 6, 5, 3.1)}))
	h.add("nothing can be worked again", k.Longer(fit.Lengthening{Wanted: 2, Piece: whole}))
	k.Choice.LeftOut = []patterns.LeftOut{out("Slack water", 1, 4)}
	h.add("rows left out come back", k.Longer(fit.Lengthening{Wanted: 1.2, Piece: whole, Restored: offer(-4, 1.25, 21.75)}))
	h.add("some of them, and more", k.Longer(fit.Lengthening{Wanted: 3, Piece: whole, Restored: offer(-4, 1.25, 21.75), Best: again(5, 6, 3, 1.9)}))
	h.add("chosen: all again", k.Chosen(fit.Offer{Rows: -4, Change: 1.25, Length: 20.5}))
	h.add("chosen: more left out", k.Chosen(*offer(2, -0.6, 18.7, out("Slack water", 1, 6))))
	h.add("chosen: nothing was left out", k.Chosen(fit.Offer{Length: 20.5}))
	h.add("too far", k.Longer(fit.Lengthening{Wanted: 60, Piece: whole, Far: true}))
	golden(t, "testdata/fit_longer.txt", h.String())
}

func TestToLengthSaid(t *testing.T) {
	k := hat(t, fit.Centimetres)
	whole := fit.Piece{First: k.Pattern.Sections[0], Last: k.Pattern.Sections[len(k.Pattern.Sections)-1], Rows: 65, Length: 20.5}
	var h heard
	h.add("right as it is", k.ToLength(fit.Fitting{Piece: whole}))
	h.add("shorter", k.ToLength(fit.Fitting{Piece: whole, Shorter: &fit.Shortening{Wanted: 0.6, Piece: whole, Best: offer(2, -0.6, 19.9, out("Slack water", 1, 2)), Most: offer(8, -2.5, 18)}}))
	h.add("longer, in vain", k.ToLength(fit.Fitting{Piece: whole, Longer: &fit.Lengthening{Wanted: 2, Piece: whole}}))
	h.add("too far", k.ToLength(fit.Fitting{Piece: whole, Wanted: 900, Longer: &fit.Lengthening{Wanted: 879.5, Piece: whole, Far: true}}))
	slack := k.Pattern.Optionals(1)[2]
	b := fit.Barrier{Group: slack, Rows: 2, Why: fit.WhySkip, Rounds: true, Panel: "Pebble edge", Missed: 1}
	h.add("what is against it", k.ToLength(fit.Fitting{Piece: whole, Wanted: 18, Against: &fit.Error{Code: fit.CodeBreaks, Said: b.Error(), Barrier: &b}}))
	h.add("nothing to leave out", k.ToLength(fit.Fitting{Piece: whole, Wanted: 18, Against: &fit.Error{Code: fit.CodeNothingOptional, Said: "no rounds may be left out"}}))
	h.add("nothing to work again", k.ToLength(fit.Fitting{Piece: whole, Wanted: 22, Against: &fit.Error{Code: fit.CodeNothingStraight, Said: "no rounds that are still to come can be worked again without changing the stitches or the look"}}))
	k.Choice.LeftOut = []patterns.LeftOut{out("Slack water", 1, 2)}
	h.add("with rows left out", k.ToLength(fit.Fitting{Piece: whole, Shorter: &fit.Shortening{Wanted: 0.6, Piece: whole, Best: offer(2, -0.6, 19.9, out("Slack water", 1, 4)), Most: offer(8, -2.5, 18)}}))
	golden(t, "testdata/fit_to_length.txt", h.String())
}

func TestOffersSaid(t *testing.T) {
	k := hat(t, fit.Centimetres)
	groups := k.Pattern.Optionals(1)
	var offers []fit.Offer
	for _, rows := range []int{2, 4, 6} {
		offers = append(offers, *offer(rows, -0.3125*float64(rows), 0, out("Slack water", 1, rows)))
	}
	barriers := []fit.Barrier{{Group: groups[0], Rows: 2, Why: fit.WhyRepeat, Rounds: true, Section: "Floats", Row: 11, Panel: "Pebble edge"}}
	var h heard
	h.add("some may be, some may not", k.Offers(append(offers, *offer(2, -0.6, 0, out("Float", 15, 2))), barriers))
	slack := groups[len(groups)-1]
	h.add("one of three may be", k.Offers(offers[1:2], []fit.Barrier{{Group: slack, Rows: 2, Why: fit.WhyTexture, Section: "Slack water"}, {Group: slack, Rows: 6, Why: fit.WhyTexture, Section: "Slack water"}}))
	h.add("rows of a panel, each time", k.Offers([]fit.Offer{*offer(8, -2.5, 0, out("Float", 9, 2))}, nil))
	striped := offers[2]
	striped.Stripes = []string{"Sky"}
	h.add("a stripe", k.Offers([]fit.Offer{striped}, nil))
	scarf, _ := patterns.Read([]byte("Pattern: Tide scarf\nWorked: in rows\nCast on: 4\nSection: Scarf\nRows 1-320 (optional in eights): k4.\n"))
	var many []fit.Offer
	for rows := 8; rows < 320; rows += 8 {
		many = append(many, *offer(rows, -float64(rows)/3, 0, out("Scarf", 1, rows)))
	}
	of := reader.Knitting{Pattern: scarf}
	h.add("more than can be counted up", of.Offers(many, []fit.Barrier{{Group: scarf.Optionals(0)[0], Rows: 320, Why: fit.WhyEnd, Section: "Scarf", Detail: "other stitches"}}))
	cowl := reader.Knitting{Pattern: sample(t, "cobble-cowl")}
	h.add("none", cowl.Offers(nil, nil))
	for why := fit.WhyWork; why <= fit.WhyDoubt; why++ {
		h.add("barrier", reader.Barrier(fit.Barrier{Group: groups[0], Rows: 1, Why: why, Rounds: true, Section: "Floats", Row: 11, Panel: "Pebble edge", Missed: -2}))
	}
	h.add("barrier of a cross", reader.Barrier(fit.Barrier{Group: groups[0], Rows: 1, Why: fit.WhyMotif, Rounds: true, Panel: "Float", Missed: 1}))
	h.add("barrier of two crosses", reader.Barrier(fit.Barrier{Group: groups[0], Rows: 1, Why: fit.WhyMotif, Rounds: true, Panel: "Float", Missed: 2}))
	h.add("barrier with a detail", reader.Barrier(fit.Barrier{Group: groups[0], Rows: 2, Why: fit.WhyFaces, Rounds: true, Section: "Crown", Row: 1, Detail: "round 1 of Crown would find 108 stitches, and expects 96"}))
	h.add("barrier at an end", reader.Barrier(fit.Barrier{Group: groups[0], Rows: 2, Why: fit.WhyEnd, Rounds: true, Section: "Crown", Detail: "purls where it should end with knits"}))
	h.add("barrier at an end, untold", reader.Barrier(fit.Barrier{Group: groups[0], Rows: 2, Why: fit.WhyEnd, Rounds: true, Section: "Crown"}))
	golden(t, "testdata/fit_offers.txt", h.String())
}

// TestLeavingKeepsToItsCharacters holds what is said of any offers to letters
// and the few marks.
func TestLeavingKeepsToItsCharacters(t *testing.T) {
	k := hat(t, fit.Centimetres)
	cm := rapid.Float64Range(0, 500)
	groups := k.Pattern.Optionals(1)
	rapid.Check(t, func(rt *rapid.T) {
		k := k
		k.Unit = fit.Unit(rapid.IntRange(0, 1).Draw(rt, "unit"))
		offers := rapid.Ptr(rapid.Custom(func(t *rapid.T) fit.Offer {
			g := rapid.SampledFrom(groups).Draw(t, "group")
			rows := rapid.IntRange(1, 3).Draw(t, "steps") * g.Step
			return fit.Offer{LeftOut: []patterns.LeftOut{{Owner: g.Owner, From: g.From, Rows: rows}}, Rows: rows, Change: -cm.Draw(t, "change"), Length: cm.Draw(t, "length")}
		}), true)
		agains := rapid.Ptr(rapid.Custom(func(t *rapid.T) fit.Again {
			from := rapid.IntRange(1, 50).Draw(t, "from")
			return fit.Again{
				Section: rapid.SampledFrom(k.Pattern.Sections).Draw(t, "section"), From: from, To: from + rapid.IntRange(0, 9).Draw(t, "more"),
				Times: rapid.IntRange(1, 40).Draw(t, "times"), Change: cm.Draw(t, "change"), Length: cm.Draw(t, "length"),
			}
		}), true)
		piece := fit.Piece{First: rapid.SampledFrom(k.Pattern.Sections).Draw(rt, "first"), Last: rapid.SampledFrom(k.Pattern.Sections).Draw(rt, "last"), Length: cm.Draw(rt, "length")}
		shorter := fit.Shortening{Wanted: cm.Draw(rt, "wanted"), Piece: piece, Best: offers.Draw(rt, "best"), Less: offers.Draw(rt, "less"), More: offers.Draw(rt, "more"), Most: offers.Draw(rt, "most")}
		longer := fit.Lengthening{Wanted: cm.Draw(rt, "wanted"), Piece: piece, Best: agains.Draw(rt, "best"), Less: agains.Draw(rt, "less"), More: agains.Draw(rt, "more")}
		checkSaid(rt, k.Shorter(shorter))
		checkSaid(rt, k.Longer(longer))
		checkSaid(rt, k.ToLength(fit.Fitting{Piece: piece, Shorter: &shorter}))
		checkAllowed(rt, reader.Barrier(fit.Barrier{
			Group: rapid.SampledFrom(groups).Draw(rt, "group"), Rows: rapid.IntRange(1, 30).Draw(rt, "rows"), Why: fit.Why(rapid.IntRange(0, int(fit.WhyDoubt)).Draw(rt, "why")),
			Section: rapid.String().Draw(rt, "section"), Row: rapid.IntRange(0, 99).Draw(rt, "row"), Panel: rapid.String().Draw(rt, "panel"), Missed: rapid.IntRange(-9, 9).Draw(rt, "missed"), Detail: rapid.String().Draw(rt, "detail"),
		}))
	})
}

// TestPairsApartAreNamed: so may pairs of rows.
func TestPairsApartAreNamed(t *testing.T) {
	p, problems := patterns.Read([]byte("Pattern: Steps\nWorked: in rounds\nCast on: 8\nSection: Steps\nRounds 1-2: knit.\nRounds 3-4 and 7-8 (optional in twos): knit.\nRounds 5-6: knit.\nRound 9: knit.\n"))
	if patterns.HasErrors(problems) {
		t.Fatal(problems)
	}
	k := reader.Knitting{Pattern: p}
	for rows, want := range map[int]string{2: "rounds seven and eight of Steps", 4: "rounds three, four, seven and eight of Steps"} {
		o, err := fit.LeaveOut(p, patterns.Choice{}, 0, "", rows, nil)
		if err != nil {
			t.Fatal(rows, err)
		}
		if got := k.RowsLeftOut(nil, o.LeftOut); got != want || len(o.Plan.Rows) != 9-rows {
			t.Errorf("%d: %s, %d rows are left", rows, got, len(o.Plan.Rows))
		}
	}
}

// TestRowsApartAreNamed: rows of a group may stand apart, and it is the last of
// them that are left out.
func TestRowsApartAreNamed(t *testing.T) {
	p, problems := patterns.Read([]byte(`Pattern: Steps
Worked: in rounds
Cast on: 8
Section: Steps
Rounds 1-2: knit.
Rounds 3, 7 and 11 (optional in ones): knit.
Rounds 4-6: knit.
Rounds 8-10: knit.
Round 12: knit.
`))
	if patterns.HasErrors(problems) {
		t.Fatal(problems)
	}
	k := reader.Knitting{Pattern: p}
	for rows, want := range map[int]string{1: "round eleven of Steps", 2: "rounds seven and eleven of Steps", 3: "rounds three, seven and eleven of Steps"} {
		if got := k.RowsLeftOut(nil, []patterns.LeftOut{out("Steps", 3, rows)}); got != want {
			t.Errorf("%d: %s", rows, got)
		}
	}
	if got, want := k.RowsLeftOut([]patterns.LeftOut{out("Steps", 3, 1)}, []patterns.LeftOut{out("Steps", 3, 2)}), "round seven of Steps"; got != want {
		t.Errorf("one more: %s, want %s", got, want)
	}
	if got, want := k.Offers([]fit.Offer{*offer(3, 0, 0, out("Steps", 3, 3))}, nil), "You may leave out rounds three, seven and eleven of Steps."; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
