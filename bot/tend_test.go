package bot_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/rs/zerolog"

	"clew/bot"
	"clew/session"
)

// ottil leads the knit-along of these tests. She, the quay and all who knit there
// are invented.
const ottil = session.Member("terminal:ottil")

// gather starts the knit-along, with a session that opens at once and one later.
func gather(t *testing.T, h *house) string {
	t.Helper()
	about := session.About{ID: "quay", Title: "Harbour Lights", Host: ottil, Server: "town", Channel: "quay", Started: h.clock, Zone: "Europe/Amsterdam",
		Sessions: []session.Session{
			{Number: 1, Title: "Casting on", First: session.RowID{Section: "Brim", Row: 1}, Last: session.RowID{Section: "Set-up", Row: 1}, Opens: h.clock},
			{Number: 2, Title: "The ropes", First: session.RowID{Section: "Ropes", Row: 1}, Last: session.RowID{Section: "Crown", Row: 6}, Opens: h.clock.Add(24 * time.Hour)},
		}}
	if err := h.store.Start(t.Context(), about, pattern(t, "quay-cap")); err != nil {
		t.Fatal(err)
	}
	return about.ID
}

// asks lets a member ask something in the channel.
func (h *house) asks(t *testing.T, member session.Member, nick, words, event string) bot.Reply {
	t.Helper()
	r := h.Answer(t.Context(), bot.Ask{Member: member, Nick: nick, Server: "town", Channel: "quay", Words: words, Event: event})
	if r.Failed != nil {
		t.Fatalf("%q failed: %s", words, r.Said)
	}
	return r
}

func (h *house) directs(t *testing.T, deed bot.Deed, event string) bot.Reply {
	t.Helper()
	r := h.Direct(t.Context(), bot.Order{Deed: deed, Member: ottil, Server: "town", Channel: "quay", Event: event, Sure: true})
	checkSaid(t, string(deed), r)
	return r
}

// another makes a second bot over the same store.
func (h *house) another() *bot.Bot {
	return bot.New(h.store, func() time.Time { return h.clock }, h.newID, zerolog.New(h.log))
}

func expect(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %q, expected %q", what, got, want)
	}
}

// Two bots tend: whatever the load, the board is edited at most once in fifteen
// seconds, and once more after the last change.
func TestBoardEditedSparingly(t *testing.T) {
	h := newHouse(t)
	q := newQuayside(h, t)
	gather(t, h)
	bots := []*bot.Bot{h.Bot, h.another()}
	tend := func() {
		var both sync.WaitGroup
		for _, b := range bots {
			both.Go(func() { b.Tend(t.Context(), "terminal", q) })
		}
		both.Wait()
	}
	tend()
	expect(t, "with nobody in it", q.said(), "announce")
	h.asks(t, wren, "Wren", "join in size small", "j")
	tend()
	h.clock = h.clock.Add(session.BoardSpacing)
	tend()
	for i := range 40 { // a row each second, and a look each second
		h.asks(t, wren, "Wren", "next row", fmt.Sprintf("n%d", i))
		tend()
		h.clock = h.clock.Add(time.Second)
	}
	for range 40 {
		tend()
		h.clock = h.clock.Add(time.Second)
	}
	for i := 1; i < len(q.edits); i++ {
		if apart := q.edits[i].Sub(q.edits[i-1]); apart < session.BoardSpacing {
			t.Errorf("two edits are %v apart", apart)
		}
	}
	if n := len(q.edits); n < 4 || n > 6 {
		t.Errorf("in under a minute of changes there were %d edits", n)
	}
	// A cap in size small has 29 rounds: after 40 times next she has finished.
	if boards := q.boards(); len(boards) != 1 || !strings.Contains(boards[0], "Wren: finished.") {
		t.Errorf("the last board tells: %q", boards)
	}
	q.said()
	h.clock = h.clock.Add(time.Hour)
	tend()
	expect(t, "without a change", q.said(), "")
}

// A session is announced once, by whichever bot; and late, once, where none was
// there.
func TestAnnouncedOnce(t *testing.T) {
	h := newHouse(t)
	q := newQuayside(h, t)
	gather(t, h)
	other := h.another()
	for range 5 {
		h.Tend(t.Context(), "terminal", q)
		other.Tend(t.Context(), "terminal", q)
		h.Tend(t.Context(), "discord", q)
		h.clock = h.clock.Add(time.Second)
	}
	expect(t, "at the start", q.said(), "announce")
	h.clock = evening.Add(30 * time.Hour) // nobody was there when the second opened
	var both sync.WaitGroup
	for _, b := range []*bot.Bot{h.Bot, other, h.another()} {
		both.Go(func() { b.Tend(t.Context(), "terminal", q) })
	}
	both.Wait()
	expect(t, "late", q.said(), "announce")
	if text := q.messages["m2"].Texts[0]; !strings.Contains(text, "This comes late: it was to open on Sunday the fifth of October at half past nine in the evening, Amsterdam time.") {
		t.Errorf("what is announced late is: %s", text)
	}
	if text := q.messages["m1"].Texts[0]; strings.Contains(text, "late") {
		t.Errorf("what is announced in time is: %s", text)
	}
}

// A process that is killed between the post and its note has announced it: the
// next one's post of the same key is the same message.
func TestAnnouncedThoughKilled(t *testing.T) {
	h := newHouse(t)
	q := newQuayside(h, t)
	gather(t, h)
	killed, cancel := context.WithCancel(t.Context())
	q.after = func() { h.fault.set(true, false, 0); cancel() }
	h.another().Tend(killed, "terminal", q)
	q.after = nil
	h.fault.set(false, false, 0)
	h.Tend(t.Context(), "terminal", q)
	expect(t, "while the claim lasts", q.said(), "announce")
	h.clock = h.clock.Add(session.AnnounceLease)
	h.Tend(t.Context(), "terminal", q)
	h.clock = h.clock.Add(session.AnnounceLease)
	h.Tend(t.Context(), "terminal", q)
	expect(t, "after it", q.said(), "again")
}

// One that could not note what it has posted notes it later, and posts nothing.
func TestAnnouncedThoughNotNoted(t *testing.T) {
	h := newHouse(t)
	q := newQuayside(h, t)
	gather(t, h)
	q.after = func() { h.fault.set(true, false, 0) }
	h.Tend(t.Context(), "terminal", q)
	q.after = nil
	h.fault.set(false, false, 0)
	for range 4 {
		h.clock = h.clock.Add(time.Minute)
		h.Tend(t.Context(), "terminal", q)
	}
	expect(t, "in all", q.said(), "announce")
	about, err := h.store.About(t.Context(), "quay")
	if err != nil || about.Sessions[0].Announced.IsZero() {
		t.Errorf("it is not noted: %+v, %v", about.Sessions, err)
	}
}

// A board that is deleted, or takes no more edits, is posted again.
func TestBoardPostedAgain(t *testing.T) {
	h := newHouse(t)
	q := newQuayside(h, t)
	gather(t, h)
	h.asks(t, wren, "Wren", "join in size small", "j")
	later := func(d time.Duration) {
		h.clock = h.clock.Add(d)
		h.Tend(t.Context(), "terminal", q)
	}
	later(0)
	later(session.BoardSpacing)
	expect(t, "at first", q.said(), "announce post edit")
	about, err := h.store.About(t.Context(), "quay")
	if err != nil {
		t.Fatal(err)
	}
	for _, other := range []string{"m1", "m99"} {
		if err := h.BoardGone(t.Context(), "town", "quay", other); err != nil {
			t.Fatal(err)
		}
	}
	for _, place := range [][2]string{{"town", "pier"}, {"village", "quay"}, {"", ""}} {
		if err := h.BoardGone(t.Context(), place[0], place[1], about.Board); err != nil {
			t.Fatal(err)
		}
	}
	later(session.BoardSpacing)
	expect(t, "another message is deleted", q.said(), "")
	delete(q.messages, about.Board)
	if err := h.BoardGone(t.Context(), "town", "quay", about.Board); err != nil {
		t.Fatal(err)
	}
	later(session.BoardSpacing)
	later(session.BoardSpacing)
	expect(t, "the board is deleted", q.said(), "post edit")
	for message, p := range q.messages { // deleted while nobody was there to be told
		if p.Picture != nil {
			delete(q.messages, message)
		}
	}
	h.asks(t, wren, "Wren", "next row", "n")
	later(session.BoardSpacing)
	later(session.BoardSpacing)
	expect(t, "it is found to be gone", q.said(), "gone post remove edit")
	if n := len(q.boards()); n != 1 {
		t.Errorf("%d boards stand there", n)
	}
}

// A process that is killed between posting the board and noting it leaves no second
// one, and the one that stands there comes to tell the newest.
func TestBoardPostedThoughKilled(t *testing.T) {
	h := newHouse(t)
	q := newQuayside(h, t)
	gather(t, h)
	h.Tend(t.Context(), "terminal", q)
	h.asks(t, wren, "Wren", "join in size small", "j")
	killed, cancel := context.WithCancel(t.Context())
	q.after = func() { h.fault.set(true, false, 0); cancel() }
	h.another().Tend(killed, "terminal", q)
	q.after = nil
	h.fault.set(false, false, 0)
	h.asks(t, wren, "Wren", "next row", "n")
	for range 4 {
		h.clock = h.clock.Add(session.BoardSpacing)
		h.Tend(t.Context(), "terminal", q)
	}
	expect(t, "in all", q.said(), "announce post again edit")
	if boards := q.boards(); len(boards) != 1 || !strings.Contains(boards[0], "Wren: round one of Brim, zero percent.") {
		t.Errorf("the boards tell: %q", boards)
	}
}

// A host has the board posted anew, at once or as soon as it may be, and the old one
// is removed.
func TestBoardAnew(t *testing.T) {
	h := newHouse(t)
	q := newQuayside(h, t)
	gather(t, h)
	said := h.directs(t, bot.Board, "b0")
	expect(t, "before anybody tends", said.Said, "The board of Harbour Lights is posted anew within a minute.")
	h.Tend(t.Context(), "terminal", q)
	q.said()
	h.clock = h.clock.Add(session.BoardSpacing)
	said = h.directs(t, bot.Board, "b1")
	expect(t, "before anybody has joined", said.Said, "Nobody has joined Harbour Lights yet. Its board is posted when somebody does.")
	h.asks(t, wren, "Wren", "join in size small", "j")
	h.clock = h.clock.Add(session.BoardSpacing)
	said = h.directs(t, bot.Board, "b2")
	expect(t, "at first", said.Said+q.said(), "The board of Harbour Lights is posted anew.post")
	said = h.directs(t, bot.Board, "b3")
	expect(t, "too soon", said.Said+q.said(), "The board of Harbour Lights is posted anew within a minute.remove")
	again := h.directs(t, bot.Board, "b3")
	expect(t, "the same order again", again.Said+q.said(), said.Said)
	h.clock = h.clock.Add(session.BoardSpacing)
	h.Tend(t.Context(), "terminal", q)
	expect(t, "by and by", q.said(), "post")
	h.clock = h.clock.Add(session.BoardSpacing)
	said = h.directs(t, bot.Board, "b4")
	expect(t, "later", said.Said+q.said(), "The board of Harbour Lights is posted anew.post remove")
	if n := len(q.boards()); n != 1 {
		t.Errorf("%d boards stand there", n)
	}
	q.fail = errors.New("the platform is tired")
	h.clock = h.clock.Add(session.BoardSpacing)
	said = h.directs(t, bot.Board, "b4a")
	expect(t, "while the channel fails", said.Said, "The board of Harbour Lights is posted anew within a minute.")
	q.fail = bot.ErrNoChannel
	h.clock = h.clock.Add(session.BoardSpacing)
	said = h.directs(t, bot.Board, "b5")
	if !strings.HasPrefix(said.Said, "The board can't be posted: ") {
		t.Errorf("without the right to write, the host hears: %s", said.Said)
	}
	if r := h.directs(t, bot.Close, "c"); !strings.HasSuffix(r.Said, "is kept.") {
		t.Fatal(r.Said)
	}
	said = h.Direct(t.Context(), bot.Order{Deed: bot.Board, Member: ottil, Server: "town", Channel: "quay", Knitalong: "quay", Event: "b6"})
	expect(t, "closed", said.Said, "Harbour Lights is closed. Nothing was changed. Open it again to have its board.")
}

// A closed knit-along's board is shown one last time.
func TestBoardOfClosed(t *testing.T) {
	h := newHouse(t)
	q := newQuayside(h, t)
	gather(t, h)
	h.asks(t, wren, "Wren", "join in size small", "j")
	h.Tend(t.Context(), "terminal", q)
	h.directs(t, bot.Close, "c")
	for range 3 {
		h.clock = h.clock.Add(session.BoardSpacing)
		h.Tend(t.Context(), "terminal", q)
	}
	expect(t, "in all", q.said(), "announce post edit")
	if boards := q.boards(); len(boards) != 1 || !strings.Contains(boards[0], "It has been closed by its host.") {
		t.Errorf("the board tells: %q", boards)
	}
}

// A channel that fails keeps none but itself waiting, is not asked again and again,
// and is logged once.
func TestFailingChannel(t *testing.T) {
	for _, c := range []struct {
		fail    error
		tries   int // within an hour, and a second
		recover time.Duration
	}{
		{bot.ErrNoChannel, 2, time.Hour},
		// At first, and 30 seconds, 1.5, 3.5, 7.5, 15.5, 25.5, 35.5, 45.5 and 55.5 minutes later.
		{errors.New("the platform is tired"), 10, 10 * time.Minute},
	} {
		h := newHouse(t)
		q := newQuayside(h, t)
		gather(t, h)
		q.fail = c.fail
		for range 1201 {
			h.Tend(t.Context(), "terminal", q)
			h.clock = h.clock.Add(bot.TendEvery)
		}
		if n := strings.Count(q.said(), "failed"); n != c.tries {
			t.Errorf("%v: it was tried %d times in an hour, expected %d", c.fail, n, c.tries)
		}
		if n := strings.Count(h.log.String(), "\n"); n != 1 {
			t.Errorf("%v: there are %d lines in the log: %s", c.fail, n, h.log)
		}
		q.fail = nil
		h.clock = h.clock.Add(c.recover)
		h.Tend(t.Context(), "terminal", q)
		expect(t, "once it is well", q.said(), "announce")
		if n := strings.Count(h.log.String(), "\n"); n != 2 {
			t.Errorf("%v: when it is well again there are %d lines in the log: %s", c.fail, n, h.log)
		}
	}
}

// A host who has the board posted anew has perhaps mended the channel, so what is due
// there waits no longer, were it before anybody has joined.
func TestMendedChannel(t *testing.T) {
	h := newHouse(t)
	q := newQuayside(h, t)
	gather(t, h)
	q.fail = bot.ErrNoChannel
	h.Tend(t.Context(), "terminal", q)
	q.fail = nil
	h.clock = h.clock.Add(time.Minute)
	h.Tend(t.Context(), "terminal", q)
	expect(t, "while it is left alone", q.said(), "failed")
	h.directs(t, bot.Board, "b")
	h.Tend(t.Context(), "terminal", q)
	expect(t, "once the host has asked", q.said(), "announce")
}

// A store that is away is logged once, however often it is looked at.
func TestTendWithoutStore(t *testing.T) {
	h := newHouse(t)
	q := newQuayside(h, t)
	gather(t, h)
	h.fault.set(true, false, 0)
	for range 10 {
		h.Tend(t.Context(), "terminal", q)
	}
	if n := strings.Count(h.log.String(), "\n"); n != 1 {
		t.Errorf("there are %d lines in the log: %s", n, h.log)
	}
	h.fault.set(false, false, 0)
	h.Tend(t.Context(), "terminal", q)
	expect(t, "once it is back", q.said(), "announce")
}

// A member sees the same board as the channel has, in private, too.
func TestSeeBoard(t *testing.T) {
	h := newHouse(t)
	gather(t, h)
	h.asks(t, wren, "Wren \U0001F9F6", "join in size small", "j1")
	h.asks(t, odo, "Odo Marsh", "join in size large", "j2")
	h.asks(t, odo, "Odo Marsh", "next row", "n1")
	h.asks(t, odo, "Odo Marsh", "next row", "n2")
	for _, server := range []string{"town", ""} {
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Server: server, Channel: map[string]string{"town": "quay"}[server], Words: "show me the board"})
		checkSaid(t, "show me the board", r)
		// Odo, in size large, has worked one round of 96 of 2,598 stitches: 3.7 percent.
		expect(t, "the board", r.Said, "This is how far everybody has come in Harbour Lights. Two knitters have joined. Session one, Casting on, is open, up to round one of Set-up. "+
			"Odo Marsh: round two of Brim, three percent. Wren: at the beginning.")
		if r.Picture == nil || r.Picture.Alt != r.Said {
			t.Errorf("beside the picture stands: %+v", r.Picture)
		}
	}
}

// Tending ends when it is told to.
func TestTendingEnds(t *testing.T) {
	h := newHouse(t)
	gather(t, h)
	ctx, cancel := context.WithCancel(t.Context())
	q := newQuayside(h, t)
	q.after = cancel
	h.Tending(ctx, "terminal", q)
	expect(t, "until then", q.said(), "announce")
}
