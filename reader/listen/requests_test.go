package listen

import (
	"regexp"
	"strings"
	"testing"
)

var (
	commandName = regexp.MustCompile(`^[a-z]{1,32}$`)
	spokenDoes  = regexp.MustCompile(`^\p{Lu}[\p{L} ,.;:'-]*\.$`)
)

// Every intent stands in the table once, and can be asked about. What tells of a
// request does not say its words over again.
func TestRequestTable(t *testing.T) {
	seen := map[Intent]bool{}
	for _, r := range requests {
		if seen[r.Intent] || RequestFor(r.Intent) != r || r.Wants == "" || !speakable(r.Wants) {
			t.Errorf("%+v stands twice, or can't be asked about", r)
		}
		seen[r.Intent] = true
		if (r.Name == "") != (r.Say == "") || (r.Name == "") != (r.Does == "") {
			t.Errorf("%+v has a name without words, or words without a name", r)
		}
		if r.Say != "" && strings.Contains(strings.ToLower(r.Does), strings.ToLower(r.Say)) {
			t.Errorf("%q says what it does in its own words: %q", r.Say, r.Does)
		}
	}
	if none := RequestFor(None); none != (Request{}) {
		t.Errorf("found %+v for nothing asked", none)
	}
}

// Whoever says what she is told to say, or types a command's name, is
// understood.
func TestRequests(t *testing.T) {
	l, seen := New(nil), map[string]bool{}
	for _, r := range Requests() {
		for _, words := range []string{r.Say, r.Name, "/" + r.Name, " /" + r.Name + " "} {
			if h := l.Hear(words); h.Intent != r.Intent || !h.Sure {
				t.Errorf("%q is heard as %s %q, expected %s", words, h.Intent, h.Ask, r.Intent)
			}
		}
		if seen[r.Name] || !commandName.MatchString(r.Name) {
			t.Errorf("the name %q stands twice, or is not 1 to 32 small letters", r.Name)
		}
		seen[r.Name] = true
		if len(r.Does) > 100 || !spokenDoes.MatchString(r.Does) {
			t.Errorf("%s does %q, which has %d characters or is no spoken sentence", r.Name, r.Does, len(r.Does))
		}
		if !speakable(r.Say) {
			t.Errorf("%q can't be said", r.Say)
		}
	}
	for _, words := range []string{MoreHelp, "More help.", "more help please", "can you give me some more help", "tell me more help", "the rest of the help"} {
		if h := l.Hear(words); h.Intent != Help || !h.Sure || !h.More {
			t.Errorf("%q is heard as %+v, expected more help", words, h)
		}
	}
	for _, words := range []string{"help", "help me please", "what can I say"} {
		if h := l.Hear(words); h.Intent != Help || h.More {
			t.Errorf("%q is heard as %+v, expected help from its beginning", words, h)
		}
	}
	if len(seen) < 20 {
		t.Errorf("found %d requests, expected at least twenty", len(seen))
	}
}

// What a command is followed by says what it would as words; where they could
// mean two things, the command's name settles it.
func TestCommandsTyped(t *testing.T) {
	l := New(terms, "Lanterns")
	for words, want := range map[string]Heard{
		"/row 12":                   {Intent: Row, Number: 12, HasNumber: true},
		"/at 12":                    {Intent: At, Number: 12, HasNumber: true},
		"/row 3 of lanterns":        {Intent: Row, Number: 3, HasNumber: true, Section: "lanterns"},
		"/count 95":                 {Intent: Count, Number: 95, HasNumber: true},
		"/explain k2tog":            {Intent: Explain, Stitch: "k2tog"},
		"/Next":                     {Intent: Next},
		"/next for lunch":           {Intent: None},
		"/nothing":                  {Intent: None},
		"/":                         {Intent: None},
		"switch knit-along":         {Intent: Switch},
		"change knitalongs":         {Intent: Switch},
		"which knit-along am I on":  {Intent: Switch},
		"switch to the other one":   {Intent: Switch},
		"go to my other knit along": {Intent: Switch},
		"switch":                    {Intent: Switch},
		"switch to inches":          {Intent: Settings},
		"switch the light on":       {Intent: None},
		"start a knit-along":        {Intent: Knitalong},
	} {
		h := l.Hear(words)
		if h.Intent != want.Intent || h.Number != want.Number || h.HasNumber != want.HasNumber || h.Section != want.Section || h.Stitch != want.Stitch {
			t.Errorf("%q is heard as %+v, expected %+v", words, h, want)
		}
	}
}
