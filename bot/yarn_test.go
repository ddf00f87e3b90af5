package bot_test

import "testing"

// What can't be is refused before the first row as after it; what is all there, or
// none, makes sense there.
func TestYarnBeforeFirstRow(t *testing.T) {
	h := newHouse(t)
	conversed(t, h, h.knit(t, wren, pattern(t, "float-hat")), [][2]string{
		{"I had 50 grams and 80 are left", "Eighty grams can't be left of fifty grams: check which number is which. Nothing was changed."},
		{"I had 100 grams, zero are left", "You have none left. The pattern asks for"},
		{"I had 100 grams, 100 are left", "You have enough. The pattern asks for fifty-five grams, and you have one hundred grams."},
		{"I had 3 balls, one and a half is left", "How much is that in grams or in metres? Balls differ"},
	})
}

// Counted in TestYarnOfTheHat of package fit: before the crown 4,992 stitches are
// done, and its rounds are of 108, four times 96, four times 84 and so on, 1,278 in
// all. So 5,292 are done before round four, and 528 more before round ten: 62 grams
// for 5,292 are 6.2 for 528, and 5.3 for the last 450.
func TestYarnGoesOn(t *testing.T) {
	h := newHouse(t)
	conversed(t, h, h.knit(t, wren, pattern(t, "float-hat")), [][2]string{
		{"put me at round 2", ""},
		{"I had 100 grams, 60 are left", "It is too early to tell from what has been used. The pattern asks for"},
		{"will my yarn last", "The pattern asks for smooth wool of double knitting weight in one light color, fifty-five grams. You told me that you had one hundred grams. To hear whether it will do"},
		{"put me at round 4 of the crown", ""},
		{"I have used 62 of my 100 grams", "You have enough yarn."},
		{"will my yarn last", "When you weighed it, at round four of Crown, you had thirty-eight grams left. You have enough yarn. The rest needs about eleven grams"},
		{"put me at round 10 of the crown", ""},
		{"will my yarn last", "When you weighed it, at round four of Crown, you had thirty-eight grams left. What you have worked since should have used about six grams. You have enough yarn. The rest needs about five grams, perhaps as much as seven grams, and you have thirty-two grams."},
		{"I have used 120 grams", "One hundred and twenty grams can't have been used of one hundred grams"},
		{"put me at round 10 of the floats", ""},
		{"38 grams left", "You have too little yarn"},
		{"put me at round 10 of the crown", ""},
		{"will my yarn last", "When you weighed it, at round ten of Floats, you had thirty-eight grams left. By what had been used until then, that would be used up by now."},
	})
}
