package bot_test

import (
	"fmt"
	"strings"
	"testing"

	"clew/bot"
)

// One whose row is taken out hears what to take back, how many stitches she has then
// and how to go on; the host hears who she is.
func TestOnARemovedRow(t *testing.T) {
	was := strings.Replace(panels, "Section: Border\nRows 1-4: knit.", "Section: Border\nRows 1-2: knit.\nRow 3: k2tog, k to end.\nRow 4: knit.", 1)
	for _, c := range []struct{ name, row, now, host, told, next string }{
		{"at the last of two", "4 of the border", strings.Replace(was, "Row 3: k2tog, k to end.\nRow 4: knit.\n", "", 1), "Wren stands on a row that is gone, and is told what to take back.",
			"Your row, four of Border, is no longer in the pattern, and you now stand after row two of Border. Take back what you worked after that, so that you have twenty stitches; then say next row to go on.",
			"You are at row one of Middle"},
		{"before them", "2 of the border", strings.Replace(was, "Row 3: k2tog, k to end.\nRow 4: knit.\n", "", 1), "nobody has worked any of them yet.", "", "You are at row one of Middle"},
		{"nothing left before", "2 of the border", strings.Replace(was, "Section: Border\nRows 1-2: knit.\nRow 3: k2tog, k to end.\nRow 4: knit.\n", "", 1), "Wren stands on a row that is gone,",
			"Your row, two of Border, is no longer in the pattern, nor is any before it, so you are at row one of Middle, where it now begins. Take back all but what you cast on; then say again to hear it.", "You are at row two of Middle"},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := newHouse(t)
			h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(was), Plan: []byte("1. Border to Edge"), Event: "start"})
			n := 0
			ask := func(words string) string {
				n++
				r := h.Answer(t.Context(), bot.Ask{Member: wren, Nick: "Wren", Server: "tibberhythe", Channel: "wednesday", Words: words, Event: fmt.Sprint("e", n)})
				checkSaid(t, words, r)
				return r.Said
			}
			ask("join")
			ask("put me at row " + c.row)
			r := h.order(t, bot.Order{Deed: bot.Correct, Member: tamsin, Manages: true, Pattern: []byte(c.now), Event: "correct"})
			said := ask("where am I")
			if !strings.Contains(r.Said, c.host) || !strings.Contains(said, c.told) || c.told == "" && strings.Contains(said, "no longer") {
				t.Errorf("the host hears %q, expected %q; she hears %q, expected %q", r.Said, c.host, said, c.told)
			}
			ask("next")
			if said := ask("where am I"); !strings.HasPrefix(said, c.next) {
				t.Errorf("after next row: %q, expected %q", said, c.next)
			}
		})
	}
}
