package bot_test

import (
	"strings"
	"testing"

	"clew/bot"
	"clew/patterns"
)

// Names that the store would refuse are refused before anything is opened, and
// the longest that it takes can be knitted from.
func TestSoloNames(t *testing.T) {
	long := strings.Repeat("long name ", 25) + "ending" // 256 bytes
	for _, c := range []struct{ name, title, size, section, want string }{
		{"the longest", long, long, long, ""},
		{"a long title", long + "x", "small", "Band", "title"},
		{"a long size", "Mat", long + "x", "Band", "name of a size"},
		{"a long section", "Mat", "small", long + "x", "name of a section"},
		{"a control character in the title", "Mat\x1b[2J", "small", "Band", "title"},
		{"a control character in a size", "Mat", "sm\x01all", "Band", "name of a size"},
		{"a control character in a section", "Mat", "small", "Ba\x7fnd", "name of a section"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := "Pattern: " + c.title + "\nWorked: in rows\nSizes: " + c.size + " (large)\nCast on: 10 (20)\nSection: " + c.section +
				"\nRows 1-3: knit.\nSection: Other " + c.section[len(c.section)/2:] + "\nRows 1-3: knit.\n"
			p, problems := patterns.Read([]byte(text))
			if patterns.HasErrors(problems) {
				if c.want == "" {
					t.Fatalf("the pattern has errors: %v", problems)
				}
				return // the pattern's own reader refuses it
			}
			h := newHouse(t)
			id, err := h.Solo(t.Context(), wren, p, text)
			if c.want == "" {
				if err != nil {
					t.Fatal(err)
				}
				for _, words := range []string{"next", "next", "put me at row 2 of the other " + c.section[len(c.section)/2:], "undo", "size large", "undo", "back"} {
					if r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: words, Event: words}); r.Failed != nil {
						t.Errorf("%q fails: %q, %s", words, r.Said, h.log.String())
					}
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), c.want) || strings.ContainsAny(err.Error(), "\x1b\x01\x7f") {
				t.Errorf("found the error %v, expected one about the %s", err, c.want)
			}
			if left := h.dump(t); len(left) > 0 {
				t.Errorf("the store holds %v, expected nothing", left)
			}
		})
	}
}
