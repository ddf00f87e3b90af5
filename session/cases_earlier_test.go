package session_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/redis/go-redis/v9"

	"clew/session"
)

// What an earlier version wrote of an evening: wren has joined, moved on twice,
// taken the second move back and heard the row again; odo is the host and a helper,
// and has left, tansy has joined and done nothing.
const (
	brimWas  = "Brim\t1\t0\t1\tmedium\t"
	twoWas   = "Lanterns\t2\t0\t1\tmedium\tLanterns 5-8"
	threeWas = "Lanterns\t3\t0\t1\tmedium\tLanterns 5-8"
	whenWas  = "1700000000123"
	tansy    = session.Member("terminal:tansy")
)

func earlier(t *testing.T, b bench) {
	t.Helper()
	hashes := map[string]map[string]string{
		"clew:{harbour-lamp}:about": {
			"title": "The Harbour Lamp hat", "host": "discord:40961", "server": "tibberhythe", "channel": "lamp-room",
			"started": whenWas, "revision": "1", "helper:terminal:wren": "1", "helper:discord:40961": "1",
		},
		"clew:{harbour-lamp}:stumbles": {"2\tLanterns": "1"},
		"clew:{harbour-lamp}:place:terminal:wren": {
			"section": "Lanterns", "row": "2", "step": "0", "revision": "1", "size": "medium", "leftout": "Lanterns 5-8",
			"done": "192", "settings": "board=hidden\nreading=steps\n", "joined": "1",
			"undo": "1", "undo#1": brimWas + "\t0",
			"event": "3", "event#1": "e1", "event#2": "e2", "event#3": "e3",
			"event:e1": "you are at row c", "event:e2": "you are at row d", "event:e3": "you are back at row c",
			"stumble": "1", "stumble#1": "e2", "stumble:e2": "",
		},
		"clew:{harbour-lamp}:place:terminal:tansy": {
			"section": "Brim", "row": "1", "step": "0", "revision": "1", "size": "medium", "leftout": "", "done": "0", "settings": "", "joined": "1",
		},
		"clew:{harbour-lamp}:place:discord:40961": {
			"section": "Brim", "row": "1", "step": "0", "revision": "1", "size": "medium", "leftout": "", "done": "0", "settings": "", "joined": "0",
		},
		"clew:person:terminal:wren":  {"joined:harbour-lamp": whenWas, "on": "harbour-lamp", "told:tide": whenWas, "units": "inches"},
		"clew:person:terminal:tansy": {"joined:harbour-lamp": whenWas, "on": "harbour-lamp"},
		"clew:server:tibberhythe":    {"harbour-lamp": "lamp-room\tThe Harbour Lamp hat"},
	}
	for key, fields := range hashes {
		must(t, b.client.HSet(t.Context(), key, fields).Err())
	}
	must(t, b.client.RPush(t.Context(), "clew:{harbour-lamp}:revisions", pattern).Err())
	must(t, b.client.RPush(t.Context(), "clew:{harbour-lamp}:log:terminal:wren",
		whenWas+"\tundo\t"+threeWas+"\t"+twoWas, whenWas+"\tnext\t"+twoWas+"\t"+threeWas, whenWas+"\tnext\t"+brimWas+"\t"+twoWas).Err())
	must(t, b.client.ZAdd(t.Context(), boardSet, redis.Z{Member: string(wren), Score: 192}, redis.Z{Member: string(tansy), Score: 0}).Err())
}

// testEarlierMember works on with what an earlier version kept.
func testEarlierMember(t *testing.T, b bench) {
	ctx := t.Context()
	earlier(t, b)
	two := row(2)
	was := session.State{Place: two, Done: 192, Settings: map[string]string{"board": "hidden", "reading": "steps"}, Joined: true, Told: 1}
	first := session.Entry{At: evening, How: "next", From: castOn, To: two, FromDone: session.Unknown, ToDone: session.Unknown}
	b.unchanged(t, func() {
		about, state, err := b.Visit(ctx, group, wren)
		must(t, err)
		equal(t, "her state", state, was)
		equal(t, "the knit-along's sessions", about.Sessions, []session.Session(nil))
		log, err := b.Log(ctx, group, wren, 0)
		must(t, err)
		equal(t, "her first move", log[2], first)
		equal(t, "her pace", session.PaceOf(log), session.Pace{StitchesAMinute: session.PaceGuess})
		to, err := b.Undoable(ctx, group, wren)
		must(t, err)
		equal(t, "what undo would lead to", to, castOn)
		again, err := b.Move(ctx, group, next("e1", castOn, row(9)))
		must(t, err)
		equal(t, "an event of then", again, session.Moved{State: was, Repeated: true, Answer: "you are at row c"})
		must(t, b.Stumble(ctx, group, wren, session.StumbleAt{Section: "Lanterns", Row: 2, Kind: session.Again, Event: "e2"}))
		rows, err := b.Stumbles(ctx, group)
		must(t, err)
		equal(t, "the stumbles", rows, []session.Stumbled{{Section: "Lanterns", Row: 2, Again: 1}})
		person, err := b.Person(ctx, wren)
		must(t, err)
		equal(t, "where something of her may be kept", person.Kept, []string{group, "tide"})
	})

	later := evening.Add(time.Hour)
	m := next("n1", two, row(3))
	m.At, m.All = later, 9000
	moved, err := b.Move(ctx, group, m)
	must(t, err)
	now := was
	now.Place, now.Done, now.All, now.Moved, now.Since = row(3), 288, 9000, later, later
	equal(t, "a move", moved, session.Moved{State: now})
	back := undo("u1", row(3), two)
	back.At = later
	undone, err := b.Undo(ctx, group, back)
	must(t, err)
	now.Place, now.Done = two, 192
	equal(t, "a new move taken back: it is the same size", undone, session.Moved{State: now})
	back = undo("u2", two, castOn)
	back.At, back.All = later, 9600
	undone, err = b.Undo(ctx, group, back)
	must(t, err)
	now.Place, now.Done, now.All = castOn, 0, 9600
	equal(t, "an earlier version's move taken back: other rows are left out", undone, session.Moved{State: now})
	log, err := b.Log(ctx, group, wren, 0)
	must(t, err)
	equal(t, "the log", log[0], session.Entry{At: later, How: "undo", From: two, To: castOn, FromDone: 192, ToDone: 0})
	equal(t, "with the first move still in it", log[5], first)
}

// testAllUnknown takes back a move of an earlier version into another choice of rows,
// whose stitches nobody says.
func testAllUnknown(t *testing.T, b bench) {
	ctx := t.Context()
	earlier(t, b)
	stay := next("", row(2), row(2))
	stay.Done, stay.All = 192, 9000
	_, err := b.Move(ctx, group, stay)
	must(t, err)
	undone, err := b.Undo(ctx, group, undo("", row(2), castOn))
	must(t, err)
	equal(t, "the stitches in all", undone.All, int64(0))
	must(t, b.Leave(ctx, group, wren, ""))
	other := row(1)
	back, err := b.Join(ctx, group, session.Joining{Member: wren, Place: other, At: evening, All: 8000})
	must(t, err)
	equal(t, "the stitches in all, of one who comes back to another choice", back.All, int64(0))
	must(t, b.Leave(ctx, group, wren, ""))
	back, err = b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, At: evening, All: 9600})
	must(t, err)
	equal(t, "and to her own", back.All, int64(9600))
}

// testEarlierRoster makes the cards of those who joined with an earlier version.
func testEarlierRoster(t *testing.T, b bench) {
	ctx := t.Context()
	earlier(t, b)
	want := []session.Entrant{
		{Member: tansy, RowID: session.RowID{Section: "Brim", Row: 1}, Revision: 1, Size: "medium"},
		{Member: wren, Hidden: true, RowID: session.RowID{Section: "Lanterns", Row: 2}, Revision: 1, Size: "medium", Done: 192, Seen: evening},
	}
	b.becomes(t, "the first look", func(s state) {
		s.hash(placeHash)["seen"] = whenWas
		s[rosterHash] = map[string]string{
			string(tansy): "\t\tBrim\t1\t0\t\t1\tmedium\t\t\t\t\t",
			string(wren):  "\t1\tLanterns\t2\t192\t\t1\tmedium\t\t" + whenWas + "\t\t\t",
		}
	}, func() {
		got, err := b.Roster(ctx, group)
		must(t, err)
		equal(t, "the roster", got, want)
	})
	b.unchanged(t, func() {
		got, err := b.Roster(ctx, group)
		must(t, err)
		equal(t, "the roster again", got, want)
	})
	must(t, b.client.HDel(ctx, rosterHash, string(tansy)).Err())
	_, err := b.Set(ctx, group, wren, map[string]string{"board": ""}, "")
	must(t, err)
	want[1].Hidden = false
	got, err := b.Roster(ctx, group)
	must(t, err)
	equal(t, "the roster, with one card made anew", got, want)

	// More of them than are read at once.
	var many []session.Entrant
	for i := range 1201 {
		m := session.Member(fmt.Sprintf("terminal:knitter-%04d", i))
		must(t, b.client.HSet(ctx, "clew:{harbour-lamp}:place:"+string(m), "section", "Brim", "row", "1", "step", "0", "revision", "1", "size", "small",
			"leftout", "", "done", "7", "settings", "", "joined", "1").Err())
		must(t, b.client.ZAdd(ctx, boardSet, redis.Z{Member: string(m), Score: 7}).Err())
		many = append(many, session.Entrant{Member: m, RowID: session.RowID{Section: "Brim", Row: 1}, Revision: 1, Size: "small", Done: 7})
	}
	got, err = b.Roster(ctx, group)
	must(t, err)
	equal(t, "the roster of many", got, append(many, want...))
}

// testForgetAll leaves no trace of a person: neither the id nor the name.
func testForgetAll(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, tansy)
	for _, id := range []string{"second", "third", "fourth"} {
		other := about
		other.ID, other.Title = id, "The "+id
		if id == "third" {
			other.Host = wren
		}
		must(t, b.Start(ctx, other, pattern))
	}
	clean := b.dump(t)
	for _, id := range []string{group, "second"} {
		_, err := b.Join(ctx, id, session.Joining{Member: wren, Place: castOn, At: evening, Name: "Wren Halloway", Event: "j1"})
		must(t, err)
	}
	b.walk(t, castOn, 3)
	_, err := b.Stuck(ctx, group, wren, "s1", evening)
	must(t, err)
	must(t, b.Leave(ctx, "second", wren, "l1"))
	must(t, b.Help(ctx, "fourth", wren, true))
	must(t, b.Tell(ctx, wren, evening, "tide"))
	must(t, b.Prefer(ctx, wren, session.Preferences{Units: "inches"}))

	want := session.Forgotten{Person: true, Knitalongs: []session.ForgottenIn{
		{ID: "fourth", Title: "The fourth", Helps: true},
		{ID: group, Title: about.Title, Place: true, Moves: 2},
		{ID: "second", Title: "The second", Place: true},
		{ID: "third", Title: "The third", Hosts: true},
	}}
	b.unchanged(t, func() {
		kept, err := b.Kept(ctx, wren)
		must(t, err)
		equal(t, "what is kept of her", kept, want)
	})
	gone, err := b.ForgetAll(ctx, wren)
	must(t, err)
	equal(t, "what was deleted", gone, want)
	nothingOf(t, b, "wren", "Wren", "Halloway")

	clean = changedBy(clean, aboutHash, 4)             // joining, two moves, and being forgotten
	clean = changedBy(clean, "clew:{second}:about", 2) // joining and leaving
	state(clean).hash("clew:{third}:about")["host"] = string(session.Nobody("terminal"))
	delete(clean, personHash)
	equal(t, "everything else", b.dump(t), clean)
	b.unchanged(t, func() {
		gone, err := b.ForgetAll(ctx, wren, group, "third", "never-started")
		must(t, err)
		equal(t, "what was deleted when there was nothing", gone, session.Forgotten{})
	})

}

// testForgetEarlier forgets what an earlier version kept, which had no index of
// hosts and helpers.
func testForgetEarlier(t *testing.T, b bench) {
	ctx := t.Context()
	earlier(t, b)
	want := session.Forgotten{Knitalongs: []session.ForgottenIn{{ID: group, Title: about.Title, Place: true, Helps: true, Hosts: true}}}
	kept, err := b.Kept(ctx, odo, "never-started", group, group)
	must(t, err)
	equal(t, "what is kept of the host", kept, want)
	gone, err := b.ForgetAll(ctx, odo, "never-started", group, group)
	must(t, err)
	equal(t, "what was deleted of the host", gone, want)
	nothingOf(t, b, "40961")
	gone, err = b.ForgetAll(ctx, wren)
	must(t, err)
	equal(t, "what was deleted of her", gone, session.Forgotten{Person: true, Knitalongs: []session.ForgottenIn{
		{ID: group, Title: about.Title, Place: true, Moves: 3, Helps: true},
	}})
	nothingOf(t, b, "wren", "40961")
}

// nothingOf looks for texts in every key and every value.
func nothingOf(t *testing.T, b bench, texts ...string) {
	t.Helper()
	for key, value := range b.dump(t) {
		for _, text := range texts {
			if strings.Contains(key, text) || strings.Contains(fmt.Sprint(value), text) {
				t.Errorf("%s still has %q: %v", key, text, value)
			}
		}
	}
}
