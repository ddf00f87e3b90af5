package bot_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
	"clew/patterns"
	"clew/reader/listen"
	"clew/session"
)

const tamsin = session.Member("terminal:tamsin")

// order carries out an order in a channel of a server, and checks what is said.
func (h *house) order(t *testing.T, o bot.Order) bot.Reply {
	t.Helper()
	if o.Server == "" {
		o.Server, o.Channel = "tibberhythe", "wednesday"
	}
	r := h.Direct(t.Context(), o)
	checkSaid(t, fmt.Sprintf("%s of %.20q", o.Deed, o.Pattern), r)
	checkChoices(t, string(o.Deed), r)
	return r
}

// What can't be started or checked is refused in a sentence, and nothing is
// changed.
func TestOrdersRefused(t *testing.T) {
	h := newHouse(t)
	h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(sized), Event: "first"})
	before := h.dump(t)
	tooLong := append([]byte(short), make([]byte, patterns.MaxBytes)...)
	for _, c := range []struct {
		name  string
		order bot.Order
		want  string
	}{
		{"without the right", bot.Order{Deed: bot.Start, Pattern: []byte(short)}, "Only those who may manage events here can start"},
		{"by a helper", bot.Order{Deed: bot.Start, Member: tamsin, Pattern: []byte(short)}, "Only those who may manage events here can start"},
		{"no pattern", bot.Order{Deed: bot.Start, Manages: true}, "A knit-along needs a pattern. Nothing was started."},
		{"an empty pattern", bot.Order{Deed: bot.Start, Manages: true, Pattern: []byte{}}, "The pattern has"},
		{"a pattern of one byte too many", bot.Order{Deed: bot.Start, Manages: true, Pattern: tooLong[:patterns.MaxBytes+1]}, "That file is too long for a pattern: it may have two hundred and fifty-six kilobytes."},
		{"a picture", bot.Order{Deed: bot.Start, Manages: true, Pattern: []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR")}, "The pattern has one error."},
		{"an archive", bot.Order{Deed: bot.Start, Manages: true, Pattern: []byte("PK\x03\x04\x14\x00\x08\x00\xff\xfe")}, "The pattern has one error."},
		{"an unknown sample", bot.Order{Deed: bot.Start, Manages: true, Sample: "no-hat"}, "There is no sample of that name."},
		{"a title too long", bot.Order{Deed: bot.Start, Manages: true, Pattern: []byte(short), Title: strings.Repeat("w", 257)}, "That title is too long. Nothing was started."},
		{"a title that can't be said", bot.Order{Deed: bot.Start, Manages: true, Pattern: []byte(short), Title: "🧶"}, "That title can't be said. Nothing was started."},
		{"a section that can't be said", bot.Order{Deed: bot.Start, Manages: true, Pattern: []byte(strings.Replace(short, "Other band", "🧶", 1))}, "A section or a size of this pattern has a name"},
		{"a size that can't be said", bot.Order{Deed: bot.Start, Manages: true, Pattern: []byte(strings.Replace(sized, "narrow", "!", 1))}, "A section or a size of this pattern has a name"},
		{"the same title again", bot.Order{Deed: bot.Start, Manages: true, Pattern: []byte(short), Title: "two  BANDS", Event: "second"}, "A knit-along called two BANDS is open in this channel already."},
		{"a check without the right", bot.Order{Deed: bot.Check, Pattern: []byte(short)}, "Only hosts can have a pattern checked"},
		{"a check of the pattern without the right", bot.Order{Deed: bot.Check}, "Only a host of this knit-along can do that"},
		{"closing without the right", bot.Order{Deed: bot.Close, Sure: true}, "Only a host of this knit-along can do that"},
		{"naming without the right", bot.Order{Deed: bot.Helper, Helper: odo}, "Only a host of this knit-along can do that"},
		{"naming nobody", bot.Order{Deed: bot.Helper, Manages: true}, "Say who it is. Nothing was changed."},
		{"naming who is no member", bot.Order{Deed: bot.Helper, Manages: true, Helper: "no member"}, "Something went wrong here."},
		{"dismissing whom nobody named", bot.Order{Deed: bot.Helper, Manages: true, Helper: odo, Dismiss: true}, "That member is not a helper of Two Bands. Nothing was changed."},
		{"closing, not sure", bot.Order{Deed: bot.Close, Manages: true}, "Do you want to close Two Bands?"},
		{"closing what is not there", bot.Order{Deed: bot.Close, Manages: true, Sure: true, Knitalong: "k"}, "There is no knit-along here. Nothing was changed."},
		{"closing what can't be", bot.Order{Deed: bot.Close, Manages: true, Sure: true, Knitalong: "{}"}, "There is no knit-along here. Nothing was changed."},
		{"another deed", bot.Order{Deed: "burn", Manages: true}, "That can't be ordered here. Nothing was changed."},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.order.Member == "" {
				c.order.Member = wren
			}
			r := h.order(t, c.order)
			if !strings.HasPrefix(r.Said, c.want) || r.Invite != nil {
				t.Errorf("answered %q, expected %q", r.Said, c.want)
			}
			if strings.Contains(c.want, "The pattern has") != (r.Report != "") {
				t.Errorf("answered %q with the report %q", r.Said, r.Report)
			}
			if diff := cmp.Diff(before, h.dump(t)); diff != "" {
				t.Errorf("the store changed (-before +after):\n%s", diff)
			}
		})
	}
}

// A start that comes again starts nothing twice, and two orders of one deed
// start two.
func TestStartedOnce(t *testing.T) {
	h := newHouse(t)
	start := func(event, title string) bot.Reply {
		return h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Sample: "float-hat", Title: title, Event: event})
	}
	first := start("e1", "One")
	before := h.dump(t)
	if diff := cmp.Diff(first, start("e1", "One")); diff != "" {
		t.Errorf("the second answer (-first +second):\n%s", diff)
	}
	if diff := cmp.Diff(before, h.dump(t)); diff != "" {
		t.Errorf("the second time changed the store (-before +after):\n%s", diff)
	}
	if second := start("e2", "Two"); second.Knitalong == first.Knitalong || second.Invite == nil {
		t.Errorf("another order gives %+v", second)
	}
	if none := start("", "Three"); none.Invite == nil || none.Knitalong == first.Knitalong {
		t.Errorf("an order without an event gives %+v", none)
	}
}

// A start of which it is not known whether it was saved may be ordered anew:
// there is one knit-along then, with its invite, whatever was saved at first.
func TestStartAfterUncertainty(t *testing.T) {
	for after, faulty := 0, true; faulty; after++ {
		h := newHouse(t)
		first := bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(short), Title: "Hat", Event: "first"}
		h.fault.set(false, true, after)
		h.order(t, first)
		faulty = h.fault.seen() > after
		h.fault.set(false, false, 0)
		anew := first
		anew.Event = "anew"
		r := h.order(t, anew)
		if !strings.HasPrefix(r.Said, "Hat has begun in this channel, and everybody can join.") || r.Invite == nil || r.Knitalong == "" {
			t.Errorf("request %d lost, then ordered anew: answered %q, invite %v", after, r.Said, r.Invite)
		}
		for _, late := range []bot.Order{first, anew} { // both events are sent again
			if again := h.order(t, late); again.Invite == nil || again.Knitalong != r.Knitalong {
				t.Errorf("request %d lost, then %s again: about %q, expected %q: %s", after, late.Event, again.Knitalong, r.Knitalong, again.Said)
			}
		}
		if _, held, err := h.store.Around(t.Context(), tamsin, "tibberhythe"); err != nil || len(held) != 1 {
			t.Errorf("request %d lost: %v are open, %v, expected one", after, held, err)
		}
		other := anew
		other.Event, other.Pattern = "other", []byte(sized)
		if r := h.order(t, other); !strings.HasPrefix(r.Said, "A knit-along called Hat is open in this channel already. Nothing was started.") || r.Invite != nil {
			t.Errorf("another pattern under the same title is answered %q", r.Said)
		}
	}
}

// An order that comes again, after others, does not do its deed once more.
func TestOrdersAgain(t *testing.T) {
	h := newHouse(t)
	id := h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(short), Event: "e0"}).Knitalong
	orders := []bot.Order{
		{Deed: bot.Close, Sure: true, Knitalong: id, Event: "e1"},
		{Deed: bot.Reopen, Knitalong: id, Event: "e2"},
		{Deed: bot.Helper, Helper: odo, Knitalong: id, Event: "e3"},
		{Deed: bot.Helper, Helper: odo, Dismiss: true, Knitalong: id, Event: "e4"},
		{Deed: bot.Helper, Helper: wren, Event: "e5"},
		{Deed: bot.Open, Session: 2, Event: "e6"}, // which there is no more when it comes again
		{Deed: bot.Sessions, Plan: []byte("1. Band to Other band"), Event: "e7"},
	}
	var said []string
	for i := range orders {
		orders[i].Member = tamsin
		said = append(said, h.order(t, orders[i]).Said)
	}
	before := h.dump(t)
	for i, o := range orders {
		if r := h.order(t, o); r.Said != said[i] {
			t.Errorf("%s came again and is answered %q, at first %q", o.Deed, r.Said, said[i])
		}
	}
	if diff := cmp.Diff(before, h.dump(t)); diff != "" {
		t.Errorf("what came again changed the store (-before +after):\n%s", diff)
	}
	about, err := h.store.About(t.Context(), id)
	if err != nil || about.Closed || len(about.Helpers) != 1 || about.Helpers[0] != wren {
		t.Errorf("found %+v, %v", about, err)
	}
}

// Where several knit-alongs are held in a channel, she is asked which; each
// choice is the whole order.
func TestOrdersAmongSeveral(t *testing.T) {
	h := newHouse(t)
	for _, title := range []string{"Hat", "Mittens"} {
		h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(short), Title: title, Event: title})
	}
	r := h.order(t, bot.Order{Deed: bot.Sessions, Member: tamsin, Zone: "Europe/Amsterdam"})
	if !strings.HasSuffix(r.Said, "Which one do you mean? Nothing was changed. Order it again with its name.") || len(r.Choices) > 0 {
		t.Errorf("what fits into no choice is answered %q with %v", r.Said, r.Choices)
	}
	if r := h.order(t, bot.Order{Deed: bot.Sessions, Member: tamsin, Zone: "Europe/Amsterdam", Title: " mittens "}); !strings.HasPrefix(r.Said, "The sessions") || !strings.Contains(r.Said, "Mittens has") {
		t.Errorf("with its name it is answered %q", r.Said)
	}
	if r := h.order(t, bot.Order{Deed: bot.Who, Member: tamsin, Title: "Shawl"}); r.Said != "There is no open knit-along here called Shawl. Nothing was changed." {
		t.Errorf("with a name that none has it is answered %q", r.Said)
	}
	for _, o := range []bot.Order{{Deed: bot.Board}, {Deed: bot.Close}, {Deed: bot.Check}, {Deed: bot.Helper, Helper: odo}, {Deed: bot.Helper, Helper: odo, Dismiss: true}} {
		o.Member = tamsin
		r := h.order(t, o)
		if r.Said != "There are two open knit-alongs here: Hat and Mittens. Which one do you mean? Nothing was changed." || len(r.Choices) != 2 {
			t.Fatalf("%s is answered %q with %v", o.Deed, r.Said, r.Choices)
		}
		pressed, ok := r.Choices[1].Order()
		if !ok {
			t.Fatalf("the choice %+v is no order", r.Choices[1])
		}
		want := bot.Order{Deed: o.Deed, Helper: o.Helper, Dismiss: o.Dismiss, Knitalong: pressed.Knitalong}
		if diff := cmp.Diff(want, pressed); diff != "" || pressed.Knitalong == "" {
			t.Errorf("the choice orders (-want +found):\n%s", diff)
		}
		pressed.Member = tamsin
		if r := h.order(t, pressed); !strings.Contains(r.Said, "Mittens") || strings.Contains(r.Said, "Hat") {
			if o.Deed != bot.Check { // which tells of the pattern
				t.Errorf("%s of the second is answered %q", o.Deed, r.Said)
			}
		}
	}
	for _, c := range []bot.Choice{{Intent: listen.Next}, {Intent: listen.Knitalong}, {Intent: listen.Knitalong, Value: "start"}, {Intent: listen.Knitalong, Value: "burn:it"}} {
		if o, ok := c.Order(); ok {
			t.Errorf("%+v orders %+v", c, o)
		}
	}
}

// TestNothingIsClaimedOfOrders lets each of the store's requests behind an order
// fail in turn. What the answer says of the store must then be so, and the same
// order does its deed once the store is back.
func TestNothingIsClaimedOfOrders(t *testing.T) {
	for _, o := range []bot.Order{
		{Deed: bot.Start, Pattern: []byte(short), Title: "Second", Event: "fault"},
		{Deed: bot.Close, Sure: true, Event: "fault"},
		{Deed: bot.Helper, Helper: odo, Event: "fault"},
		{Deed: bot.Check, Event: "fault"},
		{Deed: bot.Correct, Pattern: []byte(strings.Replace(short, "Round 1: *k2, p2", "Round 1: *p2, k2", 1)), Event: "fault"},
	} {
		for _, lost := range []bool{false, true} {
			after := 0
			for testOrderFault(t, o, lost, after) {
				after++
			}
			if after < 2 {
				t.Errorf("%s: found %d requests to the store, expected at least two", o.Deed, after)
			}
		}
	}
}

func testOrderFault(t *testing.T, o bot.Order, lost bool, after int) bool {
	t.Helper()
	name := fmt.Sprintf("%s, request %d, lost %v", o.Deed, after, lost)
	done := map[bot.Deed]string{bot.Start: "Second has begun", bot.Close: "First is closed.", bot.Helper: "That member is a helper now", bot.Check: "Two Bands is sound."}
	h := newHouse(t)
	h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(short), Title: "First", Event: "first"})
	o.Member, o.Manages = tamsin, true
	before := h.dump(t)
	h.fault.set(!lost, lost, after)
	reply := h.order(t, o)
	faulty := h.fault.seen() > after
	h.fault.set(false, false, 0)
	changed := cmp.Diff(before, h.dump(t))
	switch claims := strings.Contains(reply.Said, "Nothing was changed"); {
	case claims && changed != "":
		t.Errorf("%s: answered %q, and the store changed (-before +after):\n%s", name, reply.Said, changed)
	case reply.Failed != nil && !claims && reply.Failed.Code != bot.Uncertain && reply.Failed.Code != bot.Unread:
		t.Errorf("%s: %s does not say what became of it: %q", name, reply.Failed.Code, reply.Said)
	case reply.Failed != nil && !strings.Contains(h.log.String(), reply.Failed.ID):
		t.Errorf("%s: the failure %q is not in the log", name, reply.Failed.ID)
	}
	if r := h.order(t, o); !strings.HasPrefix(r.Said, done[o.Deed]) {
		t.Errorf("%s: with the store back the same order is answered %q", name, r.Said)
	}
	if r := h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: "wednesday", Words: "join"}); o.Deed == bot.Start && !strings.Contains(r.Said, "First and Second") {
		t.Errorf("%s: one who wants to join is answered %q", name, r.Said)
	}
	return faulty
}

// The same with requests of members that don't say which knit-along they are
// about.
func TestNothingIsClaimedOfWhich(t *testing.T) {
	for _, c := range []struct {
		ask   bot.Ask
		leads string
	}{
		{bot.Ask{Server: "tibberhythe", Channel: "wednesday", Words: "next row"}, "Round two, Band."},
		{bot.Ask{Words: "next row"}, "You have joined two knit-alongs"},
		{bot.Ask{Words: "switch to first"}, "You are now on First. "},
		{bot.Ask{Server: "tibberhythe", Channel: "saturday", Words: "leave"}, "You have left Second."},
		{bot.Ask{Server: "tibberhythe", Channel: "market", Words: "join third"}, "You have joined Third."},
	} {
		for _, lost := range []bool{false, true} {
			for after, faulty := 0, true; faulty; after++ {
				name := fmt.Sprintf("%s, request %d, lost %v", c.ask.Words, after, lost)
				h := newHouse(t)
				for title, channel := range map[string]string{"First": "wednesday", "Second": "saturday", "Third": "harbour"} {
					h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(short), Title: title, Event: title, Server: "tibberhythe", Channel: channel})
				}
				for i, words := range []string{"join", "next row", "join", "next row"} {
					h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: []string{"wednesday", "saturday"}[i/2], Words: words, Event: fmt.Sprint(i)})
				}
				c.ask.Member, c.ask.Event = wren, "fault"
				before := h.dump(t)
				h.fault.set(!lost, lost, after)
				reply := h.Answer(t.Context(), c.ask)
				checkSaid(t, name, reply)
				faulty = h.fault.seen() > after
				h.fault.set(false, false, 0)
				if changed := cmp.Diff(before, h.dump(t)); reply.Failed != nil && strings.Contains(reply.Said, "othing has moved") && changed != "" {
					t.Errorf("%s: answered %q, and the store changed (-before +after):\n%s", name, reply.Said, changed)
				}
				if reply.Failed != nil && reply.Failed.Code == bot.Unreachable { // that is the answer to this event
					if r := h.Answer(t.Context(), c.ask); cmp.Diff(before, h.dump(t)) != "" {
						t.Errorf("%s: answered %q, and the same event again changed the store: %q", name, reply.Said, r.Said)
					}
					c.ask.Event = "asked anew"
				}
				again := h.Answer(t.Context(), c.ask)
				done := strings.HasPrefix(again.Said, c.leads) || strings.HasPrefix(again.Said, "You have joined already.") // the first half was saved
				if !done && reply.Failed != nil && reply.Failed.Code != bot.Unread {
					t.Errorf("%s: with the store back the same event is answered %q, expected %q", name, again.Said, c.leads)
				}
				now := h.dump(t)
				h.Answer(t.Context(), c.ask)
				if diff := cmp.Diff(now, h.dump(t)); diff != "" {
					t.Errorf("%s: the third time changed the store (-before +after):\n%s", name, diff)
				}
			}
		}
	}
}
