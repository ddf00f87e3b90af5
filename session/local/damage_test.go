package local_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"clew/session/local"
	"clew/session/redistest"
)

// Records as they stand in a journal.
const (
	begins = "*1\r\n$5\r\nMULTI\r\n"
	ends   = "*1\r\n$4\r\nEXEC\r\n"
	one    = "*4\r\n$4\r\nHSET\r\n$1\r\na\r\n$1\r\nb\r\n$1\r\n1\r\n"
	two    = "*4\r\n$4\r\nHSET\r\n$1\r\na\r\n$1\r\nb\r\n$1\r\n2\r\n"
	push   = "*3\r\n$5\r\nLPUSH\r\n$1\r\na\r\n$1\r\nx\r\n" // a is a hash
)

// damages are what may stand after whole records, with nothing whole in it.
var damages = []struct{ name, tail string }{
	{"garbage", "\x00\x01garbage"},
	{"garbage that ends a line", "garbage\r\n"},
	{"nothing but zeros", strings.Repeat("\x00", 5000)},
	{"stars", strings.Repeat("*", 500) + "\r\n"},
	{"a huge length", "*1\r\n$999999999999\r\n"},
	{"a huge count", "*999999999\r\n"},
	{"a length below nothing", "*1\r\n$-1\r\n"},
	{"no arguments", "*0\r\n"},
	{"a line that does not end", strings.Repeat("*", 9000)},
	{"a command of another kind", "*1\r\n$8\r\nFLUSHALL\r\n"},
	{"a script", "*3\r\n$4\r\nEVAL\r\n$8\r\nreturn 1\r\n$1\r\n0\r\n"},
	{"a write that Redis refuses", push},
	{"a group with a write that Redis refuses", begins + two + push + ends},
	{"a group with a fault in its middle", begins + two + "*x" + two + ends},
	{"a group whose beginning is damaged", "*1\r\n$5\r\nMULTJ\r\n" + two + two + ends},
	{"a group that goes over into zeros", begins + two + two + "\x00\x00\x00\x00"},
	{"the end of no group", ends},
	{"a wrong line end", "*1\r\n$4\r\nEXECxx"},
}

// A tail with nothing whole in it is what a crash may leave.
func TestDamagedTail(t *testing.T) {
	for _, c := range damages {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			must(t, os.WriteFile(journalOf(dir), []byte(one+c.tail), 0o600))
			must(t, os.WriteFile(journalOf(dir)+".cut-1", []byte("an older one"), 0o600))
			l := open(t, dir)
			same(t, "the state", redistest.Dump(t, l.Client()), map[string]any{"a": map[string]string{"b": "1"}})
			aside, err := os.ReadFile(journalOf(dir) + ".cut-2")
			must(t, err)
			if string(aside) != c.tail {
				t.Errorf("set aside was %q, expected %q", aside, c.tail)
			}
			if !strings.Contains(l.Notice(), "was damaged (") {
				t.Errorf("the notice is %q, expected it to speak of damage", l.Notice())
			}
			// It goes on from there.
			must(t, l.Client().HSet(t.Context(), "a", "c", "3").Err())
			must(t, l.Close())
			again := open(t, dir)
			same(t, "the state afterwards", redistest.Dump(t, again.Client()), map[string]any{"a": map[string]string{"b": "1", "c": "3"}})
			if again.Notice() != "" {
				t.Errorf("opened again, the notice is %q", again.Notice())
			}
		})
	}
}

// Whole records after damage were answered once: nothing is set aside then.
func TestDamagedMiddle(t *testing.T) {
	type damaged struct{ name, before, rest string }
	cases := []damaged{
		{"a flipped bit in the first record", "", strings.Replace(one, "*4", "*5", 1) + two},
		{"a flipped bit in its last line end", "", one[:len(one)-1] + "\x0b" + two},
		{"a length that swallows the rest", one, "*3\r\n$5\r\nLPUSH\r\n$1\r\nb\r\n$900\r\nx\r\n" + two},
		{"the end of a group", one, begins + two + strings.Replace(ends, "EXEC", "EXEB", 1) + two},
		{"a group in a group", one, begins + begins + two + ends + ends},
	}
	for _, c := range damages {
		cases = append(cases, damaged{c.name + ", and a record", one, c.tail + two},
			damaged{c.name + ", and a group", one, c.tail + begins + two + two + ends})
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			journal := c.before + c.rest
			must(t, os.WriteFile(journalOf(dir), []byte(journal), 0o600))
			must(t, os.WriteFile(journalOf(dir)+".new", []byte(one), 0o600))
			_, err := local.Open(dir)
			if err == nil {
				t.Fatal("it was opened")
			}
			for _, want := range []string{
				"the journal " + journalOf(dir), fmt.Sprintf("damaged at byte %d (", len(c.before)), "nothing has been changed",
				fmt.Sprintf("truncate -s %d '%s'", len(c.before), journalOf(dir)),
			} {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("found %q, expected it to say %q", err, want)
				}
			}
			for name, want := range map[string]string{journalOf(dir): journal, journalOf(dir) + ".new": one} {
				if left, err := os.ReadFile(name); err != nil || string(left) != want {
					t.Errorf("%s is now %q, %v", name, left, err)
				}
			}
			if _, err := os.Stat(journalOf(dir) + ".cut-1"); !os.IsNotExist(err) {
				t.Errorf("something was set aside: %v", err)
			}
			// What the error offers works.
			must(t, os.Truncate(journalOf(dir), int64(len(c.before))))
			if l := open(t, dir); l.Notice() != "" {
				t.Errorf("after cutting, the notice is %q", l.Notice())
			}
		})
	}
}
