package session_test

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/redis/go-redis/v9"

	"clew/session"
)

// state is a whole state, as dump gives it.
type state map[string]any

// hash gives one of its hashes, to be changed.
func (s state) hash(key string) map[string]string {
	fields, ok := s[key].(map[string]string)
	if !ok {
		fields = map[string]string{}
		s[key] = fields
	}
	return fields
}

// changed counts a change of the board, and gives which it is.
func (s state) changed(aboutKey string) int {
	changes, _ := strconv.Atoi(s.hash(aboutKey)["changes"])
	s.hash(aboutKey)["changes"] = strconv.Itoa(changes + 1)
	return changes + 1
}

// tended enters a knit-along among those of the platform of odo, the host.
func (s state) tended(id string, change int) {
	all, _ := s[tendedSet].([]redis.Z)
	all = slices.DeleteFunc(slices.Clone(all), func(z redis.Z) bool { return z.Member == id })
	all = append(all, redis.Z{Score: float64(change), Member: id})
	slices.SortFunc(all, func(a, b redis.Z) int {
		return cmp.Or(cmp.Compare(a.Score, b.Score), cmp.Compare(fmt.Sprint(a.Member), fmt.Sprint(b.Member)))
	})
	s[tendedSet] = all
}

// scores is a board with wren's figure alone.
func scores(done float64) []redis.Z { return []redis.Z{{Member: string(wren), Score: done}} }

// becomes runs something that must change the whole state in this way alone.
func (b bench) becomes(t *testing.T, what string, change func(s state), do func()) {
	t.Helper()
	want := b.dump(t)
	change(want)
	do()
	equal(t, "the whole state after "+what, b.dump(t), want)
}

const (
	aboutHash  = "clew:{harbour-lamp}:about"
	placeHash  = "clew:{harbour-lamp}:place:terminal:wren"
	boardSet   = "clew:{harbour-lamp}:board"
	rosterHash = "clew:{harbour-lamp}:roster"
	personHash = "clew:person:terminal:wren"
	indexHash  = "clew:server:tibberhythe"
	tendedSet  = "clew:tended:discord"
	entry      = "lamp-room\tThe Harbour Lamp hat"
)

// held is a knit-along of a server; wednesday is its channel.
func held(id, title, server string) session.About {
	return session.About{ID: id, Title: title, Host: odo, Server: server, Channel: "wednesday", Started: evening}
}

func testServer(t *testing.T, b bench) {
	ctx := t.Context()
	person, around, err := b.Around(ctx, wren, "tibberhythe")
	must(t, err)
	equal(t, "around one whom nobody knows, in a server without any", []any{person, around}, []any{session.Person{}, []session.Held(nil)})

	b.begin(t, wren)
	for _, a := range []session.About{
		held("rope", "The Quay Cap", "tibberhythe"), held("buoy", "The Quay Cap", "tibberhythe"),
		held("tide", "A tide table", "tibberhythe"), held("other", "The Harbour Lamp hat", "tibberhythe {2}"), held("alone", "Alone", ""),
	} {
		must(t, b.Start(ctx, a, pattern))
	}
	all := []session.Held{
		{ID: "tide", Title: "A tide table", Channel: "wednesday"}, {ID: group, Title: about.Title, Channel: about.Channel},
		{ID: "buoy", Title: "The Quay Cap", Channel: "wednesday"}, {ID: "rope", Title: "The Quay Cap", Channel: "wednesday"},
	}
	hers := session.Person{Knitalongs: []string{group}, Kept: []string{group}, Preferences: session.Preferences{On: group}}
	see := func(what, server string, want []session.Held) {
		t.Helper()
		person, around, err := b.Around(ctx, wren, server)
		must(t, err)
		equal(t, what, []any{person, around}, []any{hers, want})
	}
	see("around her", "tibberhythe", all)
	see("in another server", "tibberhythe {2}", []session.Held{{ID: "other", Title: "The Harbour Lamp hat", Channel: "wednesday"}})
	see("in a server without any", "elsewhere", []session.Held{})
	see("in no server", "", nil)

	b.becomes(t, "closing", func(s state) {
		s.hash(aboutHash)["closed"] = "1"
		s.changed(aboutHash)
		s.hash(indexHash)[group] = entry + "\tclosed"
	}, func() { must(t, b.Close(ctx, group)) })
	see("after closing", "tibberhythe", []session.Held{all[0], all[2], all[3]})
	closed := func(what, server string, want ...session.Held) {
		t.Helper()
		got, err := b.Closed(ctx, server)
		must(t, err)
		equal(t, what, got, want)
	}
	closed("closed ones", "tibberhythe", all[1])
	closed("closed ones of another server", "tibberhythe {2}")
	closed("closed ones of a server without any", "elsewhere")
	got, err := b.About(ctx, group)
	must(t, err)
	want := about
	want.Revision, want.Closed = 1, true
	equal(t, "about a closed one", got, want)
	b.unchanged(t, func() { must(t, b.Close(ctx, group)) })
	b.walk(t, castOn, 2) // nothing else is refused because of it

	b.becomes(t, "opening it again", func(s state) {
		delete(s.hash(aboutHash), "closed")
		s.tended(group, s.changed(aboutHash))
		s.hash(indexHash)[group] = entry
	}, func() { must(t, b.Reopen(ctx, group)) })
	see("after opening it again", "tibberhythe", all)
	closed("none is closed", "tibberhythe")
	b.unchanged(t, func() { must(t, b.Reopen(ctx, group)) })

	b.becomes(t, "closing one of no server", func(s state) {
		s.hash("clew:{alone}:about")["closed"] = "1"
		s.changed("clew:{alone}:about")
	}, func() { must(t, b.Close(ctx, "alone")) })
	b.unchanged(t, func() {
		refused(t, "closing what was never started", b.Close(ctx, "no-such"), session.ErrUnknownKnitalong)
		refused(t, "opening it", b.Reopen(ctx, "no-such"), session.ErrUnknownKnitalong)
	})
}

// What is kept about a knit-along and its server's index may have come apart by
// a call that failed: asking again brings them together.
func testIndexMended(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t)
	lose := func() { must(t, b.client.HDel(ctx, indexHash, group).Err()) }
	whole := b.dump(t)

	lose()
	for what, other := range map[string]session.About{
		"host":   {ID: group, Title: about.Title, Host: wren, Server: about.Server, Channel: about.Channel},
		"server": {ID: group, Title: about.Title, Host: odo, Server: "elsewhere", Channel: about.Channel},
		"none":   {ID: group, Title: about.Title, Host: odo, Channel: about.Channel},
	} {
		b.unchanged(t, func() {
			refused(t, "starting it with another "+what, b.Start(ctx, other, pattern), session.ErrStarted)
		})
	}
	again := about
	again.Title, again.Channel, again.Closed = "Another title", "another", true
	refused(t, "starting it again", b.Start(ctx, again, pattern), session.ErrStarted)
	equal(t, "the whole state after starting it again", b.dump(t), whole)

	lose()
	must(t, b.Reopen(ctx, group))
	equal(t, "the whole state after opening what is open", b.dump(t), whole)

	must(t, b.Close(ctx, group))
	closed := b.dump(t)
	must(t, b.client.HSet(ctx, indexHash, group, entry).Err())
	must(t, b.Close(ctx, group))
	equal(t, "the whole state after closing what is closed", b.dump(t), closed)
	b.unchanged(t, func() {
		refused(t, "starting a closed one again", b.Start(ctx, about, pattern), session.ErrStarted)
	})
	lose()
	refused(t, "starting a closed one again, out of the index", b.Start(ctx, about, pattern), session.ErrStarted)
	equal(t, "the whole state after starting a closed one again", b.dump(t), closed)
}

func testCloseAtOnce(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t)
	for range 10 {
		var wg sync.WaitGroup
		for n := range 6 {
			wg.Go(func() {
				change := b.Close
				if n%2 == 1 {
					change = b.Reopen
				}
				if err := change(ctx, group); err != nil {
					t.Error(err)
				}
			})
		}
		wg.Wait()
		got, err := b.About(ctx, group)
		must(t, err)
		_, around, err := b.Around(ctx, wren, about.Server)
		must(t, err)
		if got.Closed == (len(around) == 1) {
			t.Fatalf("closed is %t, and its server has %v", got.Closed, around)
		}
	}
}

func testHelpers(t *testing.T, b bench) {
	ctx := t.Context()
	b.unchanged(t, func() {
		refused(t, "a helper of none", b.Help(ctx, group, wren, true), session.ErrUnknownKnitalong)
		refused(t, "dismissing one", b.Help(ctx, group, wren, false), session.ErrUnknownKnitalong)
	})
	b.begin(t)
	helpers := func(what string, want ...session.Member) {
		t.Helper()
		got, err := b.About(ctx, group)
		must(t, err)
		equal(t, what, got.Helpers, want)
	}
	helpers("before any")
	for _, m := range []session.Member{wren, odo} {
		b.becomes(t, "naming one", func(s state) {
			s.hash(aboutHash)["helper:"+string(m)] = "1"
			s["clew:person:"+string(m)] = map[string]string{"kept:" + group: "1", "kept": "1"}
		}, func() { must(t, b.Help(ctx, group, m, true)) })
		b.unchanged(t, func() { must(t, b.Help(ctx, group, m, true)) })
	}
	helpers("two", odo, wren)
	b.becomes(t, "dismissing one", func(s state) { delete(s.hash(aboutHash), "helper:"+string(odo)) },
		func() { must(t, b.Help(ctx, group, odo, false)) })
	b.unchanged(t, func() { must(t, b.Help(ctx, group, odo, false)) })
	helpers("one", wren)

	for n := range session.HelpersMost - 1 {
		must(t, b.Help(ctx, group, session.Member(fmt.Sprintf("discord:%d", n)), true))
	}
	b.unchanged(t, func() {
		refused(t, "one too many", b.Help(ctx, group, odo, true), session.ErrHelpers)
		must(t, b.Help(ctx, group, wren, true))
		must(t, b.Help(ctx, group, odo, false))
	})
	b.becomes(t, "forgetting one", func(s state) {
		delete(s.hash(aboutHash), "helper:"+string(wren))
		delete(s, personHash)
	}, func() { b.forget(t, wren) })
}

func testAbouts(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t)
	second := held("second", "The Quay Cap", "elsewhere")
	must(t, b.Start(ctx, second, pattern))
	must(t, b.Help(ctx, "second", wren, true))
	must(t, b.Close(ctx, "second"))
	first := about
	first.Revision, second.Revision = 1, 1
	second.Closed, second.Helpers = true, []session.Member{wren}
	for _, c := range []struct {
		ids  []string
		want []session.About
	}{
		{nil, nil},
		{[]string{"no-such"}, nil},
		{[]string{group}, []session.About{first}},
		{[]string{"second", "no-such", group}, []session.About{second, first}},
	} {
		got, err := b.Abouts(ctx, c.ids)
		must(t, err)
		equal(t, fmt.Sprintf("about %q", c.ids), got, c.want)
	}
}

// testOn is the knit-along that a person is on, by what she has joined.
func testOn(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t)
	for _, id := range []string{"second", "third"} {
		must(t, b.Start(ctx, held(id, "The Quay Cap", about.Server), pattern))
	}
	join := func(id string) func() {
		return func() {
			_, err := b.Join(ctx, id, session.Joining{Member: wren, Place: castOn, Event: "j-" + id, At: evening})
			must(t, err)
		}
	}
	on := func(what, want string) {
		t.Helper()
		person, err := b.Person(ctx, wren)
		must(t, err)
		equal(t, what, person.On, want)
	}
	join(group)()
	on("the only one joined", group)
	b.unchanged(t, join(group))
	join("second")()
	on("one of two", "")
	b.unchanged(t, join(group))
	must(t, b.Prefer(ctx, wren, session.Preferences{On: "second"}))
	b.unchanged(t, join("second"))
	b.unchanged(t, join(group))
	join("third")()
	on("one of three", "")
	must(t, b.Prefer(ctx, wren, session.Preferences{On: "third"}))
	must(t, b.Leave(ctx, "second", wren, ""))
	on("after leaving another", "third")
	must(t, b.Leave(ctx, "third", wren, ""))
	on("after leaving that one", "")
	must(t, b.Leave(ctx, group, wren, ""))
	_, err := b.Join(ctx, "third", session.Joining{Member: wren, Place: castOn, Event: "j2", At: evening})
	must(t, err)
	on("the only one, come back to", "third")

	// A joining that broke off before the person knew of it is ended by another.
	must(t, b.client.HDel(ctx, personHash, "joined:third", "on").Err())
	join("third")()
	on("the only one, joined in two halves", "third")
}

// testEventsOfChanges is what leaving and settings know of their events.
func testEventsOfChanges(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	at := b.walk(t, castOn, 2)
	set := func(event, value string) session.State {
		t.Helper()
		state, err := b.Set(ctx, group, wren, map[string]string{"reading": value}, event)
		must(t, err)
		return state
	}
	b.becomes(t, "a setting", func(s state) {
		place := s.hash(placeHash)
		place["settings"], place["event"], place["event#1"], place["event:s1"] = "reading=steps\n", "1", "s1", ""
	}, func() { set("s1", "steps") })
	now := set("", "rows")
	b.unchanged(t, func() { equal(t, "the state, on a setting that comes again", set("s1", "steps"), now) })
	b.becomes(t, "a setting that it had", func(s state) {
		place := s.hash(placeHash)
		place["event"], place["event#2"], place["event:s2"] = "2", "s2", ""
	}, func() { set("s2", "rows") })
	b.unchanged(t, func() { set("", "rows") })

	b.becomes(t, "leaving", func(s state) {
		place := s.hash(placeHash)
		place["joined"], place["event"], place["event#3"], place["event:l1"] = "0", "3", "l1", ""
		delete(s, "clew:{harbour-lamp}:board")
		delete(s, rosterHash)
		s.changed(aboutHash)
		s[personHash] = map[string]string{"kept:" + group: "1", "kept": "1"}
	}, func() { must(t, b.Leave(ctx, group, wren, "l1")) })
	b.unchanged(t, func() {
		must(t, b.Leave(ctx, group, wren, "l1"))
		refused(t, "leaving once more", b.Leave(ctx, group, wren, "l2"), session.ErrNotJoined)
		refused(t, "leaving once more, without an event", b.Leave(ctx, group, wren, ""), session.ErrNotJoined)
		_, err := b.Set(ctx, group, wren, nil, "s3")
		refused(t, "a setting after leaving", err, session.ErrNotJoined)
		again, err := b.Set(ctx, group, wren, map[string]string{"reading": "steps"}, "s2")
		must(t, err)
		equal(t, "joined, after a setting that comes again", again.Joined, false)
	})
	_, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, Event: "j1", At: evening})
	must(t, err)
	b.unchanged(t, func() { must(t, b.Leave(ctx, group, wren, "l1")) }) // the same leaving, late
	moved, err := b.Move(ctx, group, next("e1", at, row(3)))
	must(t, err)
	equal(t, "the place that she came back to", moved.Place, row(3))

	// A leaving that broke off before the person knew of it is ended by another.
	must(t, b.Leave(ctx, group, wren, "l3"))
	left := b.dump(t)
	for _, event := range []string{"l3", "l4", ""} {
		must(t, b.client.HSet(ctx, personHash, "joined:"+group, "1", "on", group).Err())
		must(t, b.Leave(ctx, group, wren, event))
		equal(t, fmt.Sprintf("the whole state after the leaving %q", event), b.dump(t), left)
	}
}

// testServerEdges keeps what is at the limits as it is.
func testServerEdges(t *testing.T, b bench) {
	ctx := t.Context()
	a := session.About{ID: strings.Repeat("i", 64), Title: strings.Repeat("é", 128), Host: odo, Started: evening,
		Server: strings.Repeat("é", 32), Channel: strings.Repeat("c", 256)}
	must(t, b.Start(ctx, a, pattern))
	must(t, b.Start(ctx, session.About{ID: "bare", Title: "x", Host: odo, Server: a.Server, Started: evening}, pattern))
	_, around, err := b.Around(ctx, wren, a.Server)
	must(t, err)
	equal(t, "the largest and the smallest", around, []session.Held{{ID: "bare", Title: "x"}, {ID: a.ID, Title: a.Title, Channel: a.Channel}})
	word := held("word", "closed", "shop") // its title is what the index calls a closed one
	must(t, b.Start(ctx, word, pattern))
	for _, closing := range []bool{false, true} {
		if closing {
			must(t, b.Close(ctx, "word"))
		}
		_, around, err := b.Around(ctx, wren, "shop")
		must(t, err)
		closed, err := b.Closed(ctx, "shop")
		must(t, err)
		want := [][]session.Held{{{ID: "word", Title: "closed", Channel: "wednesday"}}, nil}
		if closing {
			slices.Reverse(want)
		}
		equal(t, "open and closed ones", [][]session.Held{around, closed}, want)
	}
	got, err := b.About(ctx, a.ID)
	must(t, err)
	a.Revision = 1
	equal(t, "the largest", got, a)
}
