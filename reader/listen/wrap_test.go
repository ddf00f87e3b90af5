package listen

import "testing"

// TestWrapped says each request in many polite and hesitant ways: none of them changes what is asked.
func TestWrapped(t *testing.T) {
	before := []string{"", "please ", "okay ", "hey clew ", "um, ", "Clew, ", "so ", "right, ", "yes ", "alright then ", "thanks, ", "Okay great! ", "hmm ", "well ", "oh ",
		"uh clue ", "good morning, ", "please please ", "now "}
	beforeVerb := []string{"could you ", "can you please ", "would you ", "I'd like you to ", "I want you to ", "could you just ", "can you now ", "will you please ",
		"could you possibly ", "please can you ", "hey clew can you ", "um could you please ", "do you think you could ", "go ahead and ", "I need you to "}
	after := []string{"", " please", " now", " then", " thanks", ", thank you", " clew", " if you can", " 🙂", "!", "...", " okay", " please clew", " thank you very much"}
	l := New(terms)
	for _, c := range []struct {
		words  string
		intent Intent
		number int
		verb   bool // it begins with a verb, so "could you" may stand before it
	}{
		{"next row", Next, 0, false}, {"necks roe", Next, 0, false}, {"go on", Next, 0, true}, {"carry on", Next, 0, true}, {"read the next row", Next, 0, true},
		{"give me the next row", Next, 0, true}, {"move on to the next row", Next, 0, true}, {"done with that row", Next, 0, false}, {"I'm done", Next, 0, false},
		{"what's next", Next, 0, false}, {"continue", Next, 0, true},
		{"say that again", Again, 0, true}, {"repeat that", Again, 0, true}, {"read the row again", Again, 0, true}, {"once more", Again, 0, false},
		{"go back a row", Back, 0, true}, {"previous row", Back, 0, false}, {"go back", Back, 0, true}, {"one row back", Back, 0, false},
		{"undo", Undo, 0, true}, {"undo that", Undo, 0, true}, {"take that back", Undo, 0, true}, {"that was a mistake", Undo, 0, false},
		{"read row twelve", Row, 12, true}, {"what is row 12", Row, 12, false}, {"read me roe twenty sicks", Row, 26, true}, {"tell me row a hundred and four", Row, 104, true},
		{"row one oh four", Row, 104, false},
		{"put me at row 12", At, 12, true}, {"go to row ninety five", At, 95, true}, {"jump to row twenty too", At, 22, true}, {"I'm on row forty one", At, 41, false},
		{"take me to round nine thousand nine hundred and ninety-nine", At, 9999, true}, {"move me to row 9 5", At, 95, true}, {"set me to road to", At, 2, true},
		{"where am I", Where, 0, false}, {"which row is this", Where, 0, false}, {"tell me where I am", Where, 0, true},
		{"read it step by step", Steps, 0, true}, {"step by step", Steps, 0, false}, {"read whole rows", Rows, 0, true}, {"whole rows", Rows, 0, false},
		{"show me the picture", Picture, 0, true}, {"what should it look like", Picture, 0, false},
		{"I count ninety five", Count, 95, false}, {"I have 95 stitches", Count, 95, false}, {"how many stitches should I have", Count, 0, false},
		{"catch me up", Catchup, 0, true}, {"I missed last week", Catchup, 0, false}, {"what size", Fit, 0, false}, {"how much yarn is left", Yarn, 0, false},
		{"give me the hands free link", Handsfree, 0, true}, {"open my settings", Settings, 0, true}, {"count me in", Join, 0, true},
		{"leave the knit along", Leave, 0, false}, {"forget me", Forget, 0, true}, {"delete my data", Forget, 0, true},
		{"show the board", Board, 0, true}, {"start a knit along", Knitalong, 0, true},
		{"I'm stuck", Stuck, 0, false}, {"tell the host I'm stuck", Stuck, 0, true}, {"what has changed", Changes, 0, false}, {"how far is everyone", Board, 0, false},
		{"hide me", Settings, 0, true}, {"show my name again", Settings, 0, true}, {"remind me to rest", Settings, 0, true},
		{"tell me more", Catchup, 0, true}, {"catch me up by friday", Catchup, 0, true}, {"a plan until the third of December", Catchup, 0, false}, {"help me", Help, 0, true}, {"what can I say", Help, 0, false},
		{"explain ssk", Explain, 0, true}, {"how do I nit too together", Explain, 0, false},
	} {
		t.Run(c.words, func(t *testing.T) {
			heads := before
			if c.verb {
				heads = append(append([]string{}, before...), beforeVerb...)
			}
			for _, b := range heads {
				for _, a := range after {
					said := b + c.words + a
					if h := l.Hear(said); h.Intent != c.intent || h.Number != c.number {
						t.Errorf("%q: heard %+v, want %s %d", said, h, c.intent, c.number)
					}
				}
			}
		})
	}
}
