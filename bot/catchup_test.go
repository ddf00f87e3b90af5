package bot_test

import (
	"fmt"
	"strings"
	"testing"

	"clew/bot"
	"clew/patterns"
	"clew/patterns/samples"
	"clew/reader"
	"clew/session"
)

// Whatever the pattern, the place and the day, a way back in is told in fewer than
// two hundred words, and each part of it in full until there are no more.
func TestCatchUpEverywhere(t *testing.T) {
	for _, s := range samples.All() {
		t.Run(s.Name, func(t *testing.T) {
			h := newHouse(t)
			id := h.knit(t, wren, s.Text)
			h.knit(t, odo, s.Text)
			p, _ := patterns.Read([]byte(s.Text))
			plan, err := p.LayOut(patterns.Choice{})
			if err != nil {
				t.Fatal(err)
			}
			last := plan.Rows[len(plan.Rows)-1]
			ask := func(member session.Member, words string) bot.Reply {
				t.Helper()
				r := h.Answer(t.Context(), bot.Ask{Member: member, Knitalong: id, Words: words, Event: h.newID()})
				checkSaid(t, words, r)
				if r.Failed != nil {
					t.Fatalf("%q fails: %q", words, r.Said)
				}
				return r
			}
			to := func(r *patterns.Row) string {
				return fmt.Sprintf("put me at row %d of %s", r.Number, r.Section.Name)
			}
			ask(odo, to(last))
			for i := 0; i < len(plan.Rows); i += max(len(plan.Rows)/12, 1) {
				ask(wren, to(plan.Rows[i]))
				for _, words := range []string{"catch me up by friday", "catch me up by the third of december", "catch me up by tomorrow", "catch me up"} {
					r := ask(wren, words)
					if n := len(strings.Fields(r.Said)); n >= 200 {
						t.Errorf("row %d, %q: %d words, expected fewer than two hundred: %s", i, words, n, r.Said)
					}
				}
				parts, before := 0, ""
				for ; parts < 60; parts++ {
					said := ask(wren, "tell me more").Said
					if all := strings.HasPrefix(said, "That was all"); parts > 0 && all != strings.Contains(before, "That is the last part.") {
						t.Errorf("row %d: %q comes after %q", i, said, before)
					} else if all {
						break
					}
					before = said
				}
				if parts < 2 || parts == 60 {
					t.Errorf("row %d: it takes %d times to tell all", i, parts)
				}
				if again := ask(wren, "tell me more").Said; !strings.HasPrefix(again, "That was all") {
					t.Errorf("row %d: it begins anew unasked: %s", i, again)
				}
			}
		})
	}
}

// The evenings of a way end where it is good to stop, and the last one where the
// group is. Round two of each three crosses, and the round after it settles that.
func TestEveningsEndWell(t *testing.T) {
	const hat = "Pattern: Plan Hat (invented)\nWorked: in rounds\nCast on: 60\nSection: Ropes\nRound 1: knit.\nRound 2: *2/2 RC, k2; rep from * to end.\nRound 3: knit.\nRounds 4-30: repeat rounds 1-3 9 times.\n"
	h := newHouse(t)
	id := h.knit(t, wren, hat)
	h.knit(t, odo, hat)
	say := func(member session.Member, words string) string {
		return h.Answer(t.Context(), bot.Ask{Member: member, Knitalong: id, Words: words, Event: h.newID()}).Said
	}
	say(odo, "put me at round 30")
	say(wren, "next row")
	// evening is a Saturday. To Thursday there are five evenings: 29 rounds of sixty
	// stitches are 1,740, 348 an evening, and 17.4 minutes each at twenty a minute:
	// three of half an hour are enough.
	said := say(wren, "catch me up by thursday")
	for _, want := range []string{
		"twenty-nine rounds of one thousand seven hundred and forty stitches", "at round thirty of Ropes",
		"You want to be there on Thursday. Three evenings will do until then. This evening: to the end of round", "Tomorrow: ", "On Monday: to the end of round twenty-nine of Ropes",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("found %q, expected in it %q", said, want)
		}
	}
	for n := 2; n < 29; n += 3 {
		if crossing := "to the end of round " + reader.Number(n) + " of"; strings.Contains(said, crossing) {
			t.Errorf("found %q, an evening that ends behind a cross", said)
		}
	}
}

// A size may end its section sooner than the others: the cap's smallest has a hundred
// and eighty rows of wedges (ten times eighteen), its largest two hundred and
// sixteen, and the closing after them is another session. A day that is past has no
// evenings before it, and one evening is not enough for five thousand stitches.
func TestCatchUpInTheSmallestSize(t *testing.T) {
	cap, ok := samples.Find("lee-cap")
	if !ok {
		t.Fatal("the sample is gone")
	}
	h := newHouse(t)
	r := h.Direct(t.Context(), bot.Order{Deed: bot.Start, Member: ottil, Manages: true, Server: "town", Channel: "quay", Pattern: []byte(cap.Text), Event: "s"})
	if r.Failed != nil {
		t.Fatal(r.Said)
	}
	p, _ := patterns.Read([]byte(cap.Text))
	h.asks(t, wren, "Wren", "join in size "+p.Sizes[0], "j")
	for _, c := range []struct{ words, want string }{
		{"catch me up", "One hundred and eighty rows of five thousand two hundred and forty stitches in all remain of session one."},
		{"catch me up by tomorrow", "You want to be there tomorrow. That is more than most people knit in one evening."},
		{"catch me up by the third of may twenty twenty", "The day that you named is past; name one that is to come."},
	} {
		if said := h.asks(t, wren, "Wren", c.words, c.words).Said; !strings.Contains(said, c.want) {
			t.Errorf("%q: found %q, expected in it %q", c.words, said, c.want)
		}
	}
}
