package listen

import (
	"fmt"
	"strings"
	"testing"
)

// A mistake in the grammar's text stops the program at once and names the line.
func TestGrammarMistakes(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"unclosed", "next:\n  (go | on\n", "grammar.txt:2: expected )"},
		{"empty", "next:\n  go ( )\n", "grammar.txt:2: expected a phrase"},
		{"undefined", "next:\n  {go}\n", "grammar.txt:2: expected a name that is defined above"},
		{"stray", "next:\n  go ]\n", "grammar.txt:2: expected nothing more"},
		{"heading", "next\n  go\n", "grammar.txt:1: expected a heading"},
		{"heading word", "next softly:\n  go\n", `grammar.txt:1: unknown word "softly"`},
		{"loose move", "plain = a\nnext:\n  go * on\n", "grammar.txt:3: a loose phrase for next, which moves"},
		{"loose leaving out", "plain = a\nfit leaveout:\n  leave * out\n", "grammar.txt:3: a loose phrase for fit leaveout, which moves"},
		{"no such slot", "fit longer:\n  by nothing: ##\n", "grammar.txt:2: expected a slot and what goes into it"},
		{"empty slot", "fit longer:\n  by measure:\n", "grammar.txt:2: expected a slot and what goes into it"},
		{"wish of another", "yarn longer:\n  by\n", `grammar.txt:1: unknown word "longer"`},
		{"loose move by heading", "leave loose:\n  go\n", "grammar.txt:2: a loose phrase for leave, which moves"},
	} {
		t.Run(c.name, func(t *testing.T) {
			defer func() {
				if got := fmt.Sprint(recover()); !strings.Contains(got, c.want) {
					t.Errorf("%q: panics with %q, want %q", c.text, got, c.want)
				}
			}()
			readGrammar(c.text)
		})
	}
}

// Every heading of the grammar is an intent that exists, every question can be spoken, and every intent can be asked for.
func TestGrammarHeadings(t *testing.T) {
	asked := map[Intent]bool{}
	for _, r := range shared().rules {
		for _, i := range append(r.near, r.intent) {
			if RequestFor(i).Wants == "" && i != None && i != Unsure {
				t.Errorf("the grammar has a heading for %q, which is no intent", i)
			}
		}
		asked[r.intent] = true
		if !speakable(r.question) || (r.rank == ask) != strings.HasSuffix(r.question, "?") {
			t.Errorf("the question %q can't be spoken", r.question)
		}
	}
	for _, r := range requests {
		if !asked[r.Intent] {
			t.Errorf("nothing in the grammar asks for %s", r.Intent)
		}
	}
}
