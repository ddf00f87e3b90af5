package bot_test

import "testing"

// The float hat comes in 45, 50 and 55 cm around; its cast-on is in repeats of 18
// stitches, at 24 to 10 cm: two of them are 15 cm.
func TestWidths(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "float-hat"))
	conversed(t, h, id, [][2]string{
		{"make it wider", "By how much?"},
		{"make it two inches wider", "Size medium comes nearest. It is nineteen and three quarter inches around, just what you want."},
		{"make it five centimetres narrower", "Size small comes nearest. It is forty-five centimetres around, five centimetres more than you want."},
		{"I want it 47 cm wide", "Size small comes nearest. It is forty-five centimetres around, two centimetres less than you want. Size medium would be fifty centimetres. You knit size small."},
		{"make it 50 cm narrower", "It is forty-five centimetres around as it is, and can't become that much narrower."},
		{"I want it 15 cm wide", "Size small comes nearest. It is forty-five centimetres around, thirty centimetres more than you want. Size medium would be fifty centimetres. You knit size small. Or cast on thirty-six stitches: that comes to fifteen centimetres."},
		{"put me at round 12 of the floats", ""},
		{"make it 5 cm wider", "Your piece is forty-five centimetres around as it is. The stitches that were cast on settle that, so it takes another size or other stitches, and a new beginning. Size medium comes nearest."},
		{"make the crown 5 cm wider", "The width is reckoned for the whole piece, and not for that alone. Your piece is"},
		{"where am I", "You are at round twelve of Floats"},
	})
}

// Of the hat's 63 rounds 26 come before round twelve of the floats: 26 at 32 to 10 cm
// are 8.1 cm.
func TestSoFarSaid(t *testing.T) {
	h := newHouse(t)
	conversed(t, h, h.knit(t, wren, pattern(t, "float-hat")), [][2]string{
		{"how long is it so far", "You have not begun yet, so there is nothing to measure."},
		{"next row", ""},
		{"how long is it so far", "You are on the first round of your piece, so there is nothing to measure yet."},
		{"put me at round 12 of the floats", ""},
		{"how long is it so far", "Your piece is eight centimetres long so far, of nineteen and a half centimetres. That is about half of all stitches; thirty-seven rounds are left, with the one that you are on."},
		{"how long is it so far in inches", "Your piece is three and a quarter inches long so far"},
		{"how long is the brim so far", "Brim is four and a half centimetres long. All of it is worked."},
		{"how long is the crown so far", "Crown is not begun yet: no round of it is done."},
		{"how long is the sleeve so far", "There is no section called sleeve"},
		{"put me at round 18 of the crown", ""},
		{"how much have I knitted", "Your piece is nineteen and a half centimetres long so far, which is nearly its whole length. That is nearly all of its stitches; one round is left, the one that you are on."},
		{"next row", ""},
		{"how much have I knitted", "Your piece is nineteen and a half centimetres long. All of it is worked."},
	})
	conversed(t, h, h.knit(t, wren, "Pattern: Strap (invented)\nWorked: in rows\nCast on: 4\nSection: Strap\nRows 1-8: knit.\n"), [][2]string{
		{"put me at row 5", ""},
		{"how long is it so far", "The pattern gives no gauge, so its length can't be told; measure it, or say your gauge. That is about half of all stitches; four rows are left"},
	})
}

// Rows by their numbers go where they are the last of their group, in its steps.
func TestLeavingOutByNumber(t *testing.T) {
	h := newHouse(t)
	conversed(t, h, h.knit(t, wren, pattern(t, "float-hat")), [][2]string{
		{"leave out rounds four and five", "Rounds four and five can't be left out alone. Of rounds one to six of Slack water you may leave out"},
		{"leave out rounds 40 to 50", "Rounds forty to fifty can't be left out alone."},
		{"leave out rounds one and two of the brim", "No rounds of Brim may be left out."},
		{"can I leave out rounds five and six", "Of rounds one to six of Slack water you may leave out two, four or six"},
		{"leave out rounds five and six", "From now on you leave out rounds five and six of Slack water."},
		{"leave out two more", "From now on you leave out rounds three to six of Slack water."},
		{"leave out rounds one and two", "From now on you leave out rounds one to six of Slack water."},
		{"leave out rounds five and six of slack water", "From now on you leave out rounds five and six of Slack water. You work rounds one to four of Slack water after all."},
		{"undo", "Your last move is taken back. As before, you leave out rounds one to six of Slack water."},
		{"put me at round 2 of the crown", ""},
		{"leave out rounds fifteen and sixteen of float", "You have worked some of those rounds already"},
	})
}

// Undo takes back moves alone, and says so right after a gauge or a unit was set.
func TestUndoAfterGauge(t *testing.T) {
	h := newHouse(t)
	conversed(t, h, h.knit(t, wren, pattern(t, "float-hat")), [][2]string{
		{"next row", ""},
		{"next row", ""},
		{"22 stitches and 30 rows to ten centimetres", "From now on I reckon with twenty-two stitches"},
		{"undo", "Your last move is taken back. Your gauge stays. "},
		{"next row", "Round two"},
		{"next row", "Round three"},
		{"undo", "Your last move is taken back. Round two"},
		{"the pattern's gauge", "I reckon with the pattern's gauge"},
		{"in inches please", "From now on lengths are in inches. Say centimetres to go back to those."},
		{"undo", "Your last move is taken back. Lengths stay in inches. "},
		{"minus 22 stitches to ten centimetres", "A gauge can't be below zero, so nothing was changed"},
	})
}
