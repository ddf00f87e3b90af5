package bot_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
	"clew/patterns"
	"clew/reader/listen"
	"clew/session"
)

var yes, no = true, false

// hosts orders something as the host of a house that holds something back.
func (h *house) hosts(t *testing.T, o bot.Order) bot.Reply {
	t.Helper()
	o.Member, o.Manages, o.Server, o.Channel = odo, true, "harbour", "pier"
	r := h.Direct(t.Context(), o)
	checkSaid(t, string(o.Deed), r)
	return r
}

// Where a host begins to hold back rows that somebody has come to already, she is told
// none of them either. She stays where she is, and goes on from there.
func TestHeldBackFromOneAhead(t *testing.T) {
	var both [2]seated
	for i, h := range heldHouses(t, 2) {
		h.hosts(t, bot.Order{Deed: bot.Sessions, Hold: &no})
		later := [2]string{"Gloaming", "Dawning"}[i]
		both[i] = h.sit(t, later, 2, false)
		if r := both[i].asks(t, bot.Ask{Words: "again"}); !strings.Contains(r.Said, later) {
			t.Fatalf("with nothing held back she hears %q", r.Said)
		}
		h.hosts(t, bot.Order{Deed: bot.Sessions, Hold: &yes})
	}
	askHeld(t, both)
	for i, s := range both {
		s.asks(t, bot.Ask{Words: "next"})
		if at := s.place(t, s.id, wren); at != s.at {
			t.Errorf("she is moved from %+v to %+v", s.at, at)
		}
		s.hosts(t, bot.Order{Deed: bot.Open})
		if r := s.asks(t, bot.Ask{Words: "next row"}); !strings.HasPrefix(r.Said, "Round three, "+[2]string{"Gloaming", "Dawning"}[i]) {
			t.Errorf("once it is open she hears %q", r.Said)
		}
	}
}

// At the end of what is open, next moves nothing, and what she has done is a part of
// the whole. It goes on once more is open.
func TestNextAtTheEndOfWhatIsOpen(t *testing.T) {
	h := heldHouses(t, 2)[0]
	s := h.sit(t, "Shoals", 4, false)
	plan := laidOut(t, heldForms[0].Replace(heldPattern))
	before, err := h.store.State(t.Context(), s.id, wren)
	if err != nil {
		t.Fatal(err)
	}
	i, _ := plan.Find("Shoals", 4)
	if before.Done != plan.Rows[i].Worked || before.All != plan.Stitches() {
		t.Errorf("she has done %d of %d, expected %d of %d", before.Done, before.All, plan.Rows[i].Worked, plan.Stitches())
	}
	for range 3 {
		r := s.asks(t, bot.Ask{Words: "next row"})
		if r.Said != "That is the last round that is open. Session three opens when a host opens it. Nothing has moved." {
			t.Errorf("at the end she hears %q", r.Said)
		}
	}
	after, err := h.store.State(t.Context(), s.id, wren)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before, after); diff != "" {
		t.Errorf("next at the end changed (-before +after):\n%s", diff)
	}
	if log, err := h.store.Log(t.Context(), s.id, wren, 0); err != nil || len(log) != 1 {
		t.Errorf("her log has %d moves, expected the one that brought her here (%v)", len(log), err)
	}
	h.hosts(t, bot.Order{Deed: bot.Open})
	if r := s.asks(t, bot.Ask{Words: "next row"}); !strings.HasPrefix(r.Said, "Round five, Shoals.") {
		t.Errorf("once it is open she hears %q", r.Said)
	}
}

func laidOut(t *testing.T, text string) *patterns.Plan {
	t.Helper()
	p, _ := patterns.Read([]byte(text))
	plan, err := p.LayOut(patterns.Choice{Size: "small"})
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// Rows that are open may be left out, and another size knitted: what is held back
// stays so.
func TestHeldBackWhateverSheKnits(t *testing.T) {
	h := heldHouses(t, 1)[0]
	s := h.sit(t, "Quay", 2, false)
	if r := s.asks(t, bot.Ask{Words: "leave out two rounds of quay"}); !strings.Contains(r.Said, "you leave out rounds seven and eight of Quay") {
		t.Errorf("leaving out is answered with %q", r.Said)
	}
	for range 4 {
		s.asks(t, bot.Ask{Words: "next"})
	}
	for _, words := range []string{"next", "size large"} {
		r := s.asks(t, bot.Ask{Words: words})
		if at := s.place(t, s.id, wren); at.Section != "Quay" || at.Row != 6 {
			t.Errorf("%s leads to %+v: %q", words, at, r.Said)
		}
	}
	if r := s.asks(t, bot.Ask{Words: "next"}); !strings.HasPrefix(r.Said, "That is the last round that is open.") {
		t.Errorf("in the other size she hears %q", r.Said)
	}
	if r := s.asks(t, bot.Ask{Words: "leave out four rounds of nightfall"}); !strings.Contains(r.Said, "There is no section called nightfall in what is open.") {
		t.Errorf("of what is held back she hears %q", r.Said)
	}
	h.hosts(t, bot.Order{Deed: bot.Open, Session: 3})
	if r := s.asks(t, bot.Ask{Words: "next"}); !strings.Contains(r.Said, "Round one, Shoals.") {
		t.Errorf("once all is open she hears %q", r.Said)
	}
}

// Whatever is wrong with what a host gives, nothing is changed by it.
func TestRefusedSessionsChangeNothing(t *testing.T) {
	text := []byte(heldForms[0].Replace(heldPattern))
	plan := func(lines string) []byte { return []byte(lines) }
	h := newHouse(t)
	var orders []bot.Order
	for _, o := range []bot.Order{
		{Plan: plan("1. Quay\n2. Quay 8 to Shoals")},
		{Plan: plan("1. Shoals to Quay")},
		{Plan: plan("1. Quay 1-9")},
		{Plan: plan("1. Quay\n2. Gloaming")},
		{Plan: plan("1. Quay; opens 2031-10-01 19:00")},
		{Plan: plan("1. Quay; opens 2031-10-20 19:00\n2. Shoals; opens 2031-10-19 19:00")},
		{Plan: plan("Zone: Europe/Amsterdam\n1. Quay; opens 2031-10-26 02:30")}, // summer time ends
		{Plan: plan("Zone: Atlantis\n1. Quay")},
		{Plan: plan("")},
		{Plan: []byte(strings.Repeat("// long\n", 9000))},
		{Zone: "Europe/Amsterdm"},
		{Zone: "Local"},
		{Plan: plan("1. Quay"), Zone: "Atlantis"},
	} {
		o.Deed, o.Pattern = bot.Start, text
		orders = append(orders, o)
	}
	for _, o := range orders {
		if r := h.hosts(t, o); r.Invite != nil || !strings.Contains(r.Said, "Nothing was") || strings.Count(r.Said, ".") > 4 {
			t.Errorf("%s%s is answered with %q", o.Plan, o.Zone, r.Said)
		}
	}
	if all := h.dump(t); len(all) > 0 {
		t.Errorf("what was refused has left %v", all)
	}
	if r := h.hosts(t, bot.Order{Deed: bot.Start, Pattern: text, Plan: plan("1. Quay\n2. Shoals; opens 2031-10-20 19:00"), Zone: "amsterdam", Hold: &yes}); r.Invite == nil {
		t.Fatal(r.Said)
	}
	before := h.dump(t)
	for _, o := range orders {
		o.Deed, o.Pattern = bot.Sessions, nil
		if r := h.hosts(t, o); !strings.Contains(r.Said, "Nothing was") {
			t.Errorf("%s%s is answered with %q", o.Plan, o.Zone, r.Said)
		}
	}
	for _, o := range []bot.Order{{Session: 1}, {Session: 3}, {Session: -1}} {
		o.Deed = bot.Open
		if r := h.hosts(t, o); !strings.Contains(r.Said, "Nothing was changed.") {
			t.Errorf("opening %d is answered with %q", o.Session, r.Said)
		}
	}
	for _, deed := range []bot.Deed{bot.Sessions, bot.Open} {
		r := h.Direct(t.Context(), bot.Order{Deed: deed, Member: wren, Server: "harbour", Channel: "pier", Plan: plan("1. Quay")})
		if !strings.HasPrefix(r.Said, "Only a host") || len(r.Files) > 0 {
			t.Errorf("one who is no host is answered %q", r.Said)
		}
	}
	if diff := cmp.Diff(before, h.dump(t)); diff != "" {
		t.Errorf("what was refused changed (-before +after):\n%s", diff)
	}
}

// A session that is opened opens those before it; where a section each is one, the
// first is open at once, and the others wait for the host.
func TestSessionsBySection(t *testing.T) {
	h := newHouse(t)
	r := h.hosts(t, bot.Order{Deed: bot.Start, Pattern: []byte(heldForms[0].Replace(heldPattern)), Hold: &yes})
	if r.Invite == nil || !strings.Contains(r.Invite.Said, "It is knitted in four sessions. Session one is open. Session two opens when a host opens it.") {
		t.Fatalf("the start says %+v", r)
	}
	about, err := h.store.About(t.Context(), r.Knitalong)
	if err != nil {
		t.Fatal(err)
	}
	var titles []string
	for _, s := range about.Sessions {
		titles = append(titles, fmt.Sprintf("%s %d-%d", s.Title, s.First.Row, s.Last.Row))
	}
	if diff := cmp.Diff([]string{"Quay 1-8", "Shoals 1-8", "Gloaming 1-4", "Nightfall 1-7"}, titles); diff != "" {
		t.Error(diff)
	}
	if r := h.hosts(t, bot.Order{Deed: bot.Open, Session: 3}); r.Said != "Session three, Gloaming, is open now, and with it the one before it, which had not opened." {
		t.Errorf("opening the third is answered with %q", r.Said)
	}
	stages := [4]session.Stage{session.Over, session.Over, session.Opened, session.Planned}
	if about, err = h.store.About(t.Context(), r.Knitalong); err != nil {
		t.Fatal(err)
	}
	for i, want := range stages {
		if is := about.Stage(i+1, h.clock); is != want {
			t.Errorf("session %d is %s, expected %s", i+1, is, want)
		}
	}
}

// With nothing held back, sessions keep nobody from any row.
func TestSessionsWithoutHolding(t *testing.T) {
	h := newHouse(t)
	r := h.hosts(t, bot.Order{Deed: bot.Start, Pattern: []byte(heldForms[0].Replace(heldPattern)), Plan: []byte("1. Quay; opens 2031-11-01 19:00")})
	if r.Invite == nil || !strings.Contains(r.Invite.Said, "sections, Quay, Shoals, Gloaming and Nightfall,") {
		t.Fatalf("the start says %+v", r)
	}
	s := h.sit(t, "Nightfall", 7, false)
	if r := s.asks(t, bot.Ask{Heard: &listen.Heard{Intent: listen.Next, Sure: true}}); !strings.Contains(r.Said, "the pattern is finished") {
		t.Errorf("at the end she hears %q", r.Said)
	}
	h.clock = h.clock.Add(time.Hour)
	if r := h.hosts(t, bot.Order{Deed: bot.Sessions}); len(r.Files) != 1 || !strings.Contains(r.Said, "Rows are told to everybody") {
		t.Errorf("the sessions are told as %q", r.Said)
	}
}

// What was answered before rows were held back is not told again with them, nor where
// taking a move back leads to.
func TestHeldBackFromWhatWasAnswered(t *testing.T) {
	h := heldHouses(t, 2)[0]
	h.hosts(t, bot.Order{Deed: bot.Sessions, Hold: &no})
	s := h.sit(t, "Gloaming", 1, false)
	ask := bot.Ask{Words: "next row", Event: "next"}
	if r := s.asks(t, ask); !strings.Contains(r.Said, "Round two, Gloaming") {
		t.Fatalf("she hears %q", r.Said)
	}
	s.asks(t, bot.Ask{Words: "put me at round two of quay"})
	h.hosts(t, bot.Order{Deed: bot.Sessions, Hold: &yes})
	for _, again := range []bot.Ask{ask, {Words: "undo"}, {Words: "undo", Event: "undo"}, {Words: "undo", Event: "undo"}, {Words: "what has changed"}} {
		r := s.asks(t, again)
		checkSaid(t, again.Words, r)
		if found := heldWord(withoutPNG(r), "", true); found != "" {
			t.Errorf("%q is answered with %q: %s", again.Words, found, withoutPNG(r))
		}
	}
}

// A correction of rows that are held back is told to one who had come past them once
// they are open.
func TestCorrectionsThatAreHeldBack(t *testing.T) {
	h := heldHouses(t, 2)[0]
	h.hosts(t, bot.Order{Deed: bot.Sessions, Hold: &no})
	s := h.sit(t, "Gloaming", 3, false)
	h.hosts(t, bot.Order{Deed: bot.Sessions, Hold: &yes})
	text := strings.Replace(heldForms[0].Replace(heldPattern), "tipsy, k3.", "k1, tipsy, k2.", 1)
	if r := h.hosts(t, bot.Order{Deed: bot.Correct, Pattern: []byte(text)}); !strings.Contains(r.Said, "is corrected") {
		t.Fatal(r.Said, r.Report)
	}
	for _, words := range []string{"again", "where am I", "what has changed", "next row"} {
		if r := s.asks(t, bot.Ask{Words: words}); heldWord(withoutPNG(r), "", true) != "" {
			t.Errorf("%q is answered with %q", words, r.Said)
		}
	}
	h.hosts(t, bot.Order{Deed: bot.Open})
	if r := s.asks(t, bot.Ask{Words: "again"}); !strings.HasPrefix(r.Said, "The pattern has been corrected.") || !strings.Contains(r.Said, "Gloaming") {
		t.Errorf("once it is open she hears %q", r.Said)
	}
}

// What was reckoned for what was open is reckoned anew once more is.
func TestMoreIsOfferedOnceItIsOpen(t *testing.T) {
	h := heldHouses(t, 2)[0]
	s := h.sit(t, "Quay", 2, false)
	ask := bot.Ask{Words: "which rounds may be left out"}
	if r := s.asks(t, ask); !strings.Contains(r.Said, "Quay") || strings.Contains(r.Said, "Nightfall") {
		t.Errorf("at first she hears %q", r.Said)
	}
	h.hosts(t, bot.Order{Deed: bot.Open})
	if r := s.asks(t, ask); !strings.Contains(r.Said, "Quay") || !strings.Contains(r.Said, "Nightfall") {
		t.Errorf("once all is open she hears %q", r.Said)
	}
}

// In rows, where a row's own words do not name its section, taking a move back names
// none that is held back.
func TestUndoIntoWhatIsHeldBack(t *testing.T) {
	h := newHouse(t)
	r := h.hosts(t, bot.Order{Deed: bot.Start, Pattern: []byte("Pattern: Mat\nWorked: in rows\nSizes: small (large)\nCast on: 10 (12)\nSection: Quay\nRows 1-4: knit.\nSection: Gloaming\nRows 1-4: purl.\n")})
	if r.Invite == nil {
		t.Fatal(r.Said, r.Report)
	}
	s := h.sit(t, "Gloaming", 2, false)
	s.asks(t, bot.Ask{Words: "put me at row two of quay"})
	h.hosts(t, bot.Order{Deed: bot.Sessions, Hold: &yes})
	if r := s.asks(t, bot.Ask{Words: "undo"}); heldWord(withoutPNG(r), "", true) != "" || !strings.Contains(r.Said, "Your last move is taken back.") {
		t.Errorf("undo is answered with %q", r.Said)
	}
}
