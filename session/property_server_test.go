package session_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"net"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"clew/session"
	"clew/session/local"
)

// town is several knit-alongs, their servers and one knitter, told plainly.
type town struct {
	started map[string]*session.About
	joined  map[string]bool // those that she is in
	kept    map[string]bool // those in which something of her is, or was
	on      string
}

// The ids, titles and servers are few, so that they meet often; one title is the
// word for a closed one.
var (
	townIDs     = []string{"tide", "buoy", "rope", "lamp"}
	townServers = []string{"", "tibberhythe", "elsewhere"}
)

func (w *town) around(server string) (person session.Person, open, closed []session.Held) {
	person = session.Person{Knitalongs: slices.Sorted(maps.Keys(w.joined)), Kept: slices.Sorted(maps.Keys(w.kept)), Preferences: session.Preferences{On: w.on}}
	for _, title := range []string{"A tide table", "closed"} {
		for _, id := range slices.Sorted(maps.Keys(w.started)) {
			if a := w.started[id]; a.Title == title && a.Server == server && server != "" {
				list := &open
				if a.Closed {
					list = &closed
				}
				*list = append(*list, session.Held{ID: id, Title: title, Channel: a.Channel})
			}
		}
	}
	return person, open, closed
}

func (w *town) start(a session.About) error {
	if w.started[a.ID] != nil {
		return session.ErrStarted
	}
	a.Revision = 1
	w.started[a.ID] = &a
	if a.Host == wren {
		w.kept[a.ID] = true
	}
	return nil
}

func (w *town) mark(id string, closed bool) error {
	if w.started[id] == nil {
		return session.ErrUnknownKnitalong
	}
	w.started[id].Closed = closed
	return nil
}

func (w *town) help(id string, m session.Member, helps bool) error {
	a := w.started[id]
	if a == nil {
		return session.ErrUnknownKnitalong
	}
	a.Helpers = slices.DeleteFunc(a.Helpers, func(h session.Member) bool { return h == m })
	if helps {
		if m == wren {
			w.kept[id] = true
		}
		a.Helpers = append(a.Helpers, m)
		slices.Sort(a.Helpers)
	}
	return nil
}

func (w *town) join(id string) error {
	if w.started[id] == nil {
		return session.ErrUnknownKnitalong
	}
	if !w.joined[id] {
		w.on = ""
		if len(w.joined) == 0 {
			w.on = id
		}
		w.joined[id], w.kept[id] = true, true
	}
	return nil
}

func (w *town) leave(id string) error {
	switch {
	case w.started[id] == nil:
		return session.ErrUnknownKnitalong
	case !w.joined[id]:
		return session.ErrNotJoined
	}
	w.part(id)
	return nil
}

func (w *town) forget(id string) error {
	w.part(id)
	delete(w.kept, id)
	if a := w.started[id]; a != nil {
		if a.Host == wren {
			a.Host = session.Nobody("terminal")
		}
		return w.help(id, wren, false)
	}
	return nil
}

func (w *town) forgetAll() error {
	for _, id := range townIDs {
		_ = w.forget(id) // which refuses nothing
	}
	w.on = ""
	return nil
}

func (w *town) part(id string) {
	delete(w.joined, id)
	if w.on == id {
		w.on = ""
	}
}

func (w *town) prefer(id string) error {
	if !w.joined[id] {
		return session.ErrNotJoined
	}
	w.on = id
	return nil
}

// errand is one request, to the store and to the town. An error that asking
// again may give, where a call failed the first time, is said in again.
type errand struct {
	store func(context.Context, *session.Store) error
	town  func(*town) error
	again error
}

// drawErrand gives a request under an event that never came before.
func drawErrand(t *rapid.T, event string) errand {
	id := rapid.SampledFrom(townIDs).Draw(t, "knit-along")
	member := rapid.SampledFrom([]session.Member{wren, odo}).Draw(t, "host or helper")
	yes := rapid.Bool().Draw(t, "yes")
	switch rapid.SampledFrom([]string{"start", "mark", "mark", "help", "join", "join", "leave", "forget", "prefer"}).Draw(t, "errand") {
	case "start":
		a := held(id, rapid.SampledFrom([]string{"A tide table", "closed"}).Draw(t, "title"), rapid.SampledFrom(townServers).Draw(t, "server"))
		a.Host = member
		return errand{func(ctx context.Context, s *session.Store) error { return s.Start(ctx, a, pattern) },
			func(w *town) error { return w.start(a) }, session.ErrStarted}
	case "mark":
		return errand{func(ctx context.Context, s *session.Store) error {
			if yes {
				return s.Close(ctx, id)
			}
			return s.Reopen(ctx, id)
		}, func(w *town) error { return w.mark(id, yes) }, nil}
	case "help":
		return errand{func(ctx context.Context, s *session.Store) error { return s.Help(ctx, id, member, yes) },
			func(w *town) error { return w.help(id, member, yes) }, nil}
	case "join":
		return errand{func(ctx context.Context, s *session.Store) error {
			_, err := s.Join(ctx, id, session.Joining{Member: wren, Place: castOn, Event: event, At: evening})
			return err
		}, func(w *town) error { return w.join(id) }, nil}
	case "leave":
		return errand{func(ctx context.Context, s *session.Store) error { return s.Leave(ctx, id, wren, event) },
			func(w *town) error { return w.leave(id) }, nil}
	case "forget":
		return errand{func(ctx context.Context, s *session.Store) error { _, err := s.ForgetAll(ctx, wren); return err },
			(*town).forgetAll, nil}
	}
	return errand{func(ctx context.Context, s *session.Store) error {
		return s.Prefer(ctx, wren, session.Preferences{On: id})
	},
		func(w *town) error { return w.prefer(id) }, nil}
}

// TestTownAgainstModel lets random requests go to the local store while calls
// fail at random; each is asked again until it is served. Whatever broke, the
// store must then be what the town is, in which nothing breaks.
func TestTownAgainstModel(t *testing.T) {
	outer := t
	gone := &net.OpError{Op: "dial", Net: "tcp", Err: errors.New("no route")}
	rapid.Check(t, func(t *rapid.T) {
		l, err := local.Open(outer.TempDir(), local.WithoutSync())
		if err != nil {
			t.Fatal(err)
		}
		defer l.Close()
		broken := &breaking{}
		l.Client().AddHook(broken)
		store, w := session.Open(l.Client()), &town{started: map[string]*session.About{}, joined: map[string]bool{}, kept: map[string]bool{}}
		events := 0
		t.Repeat(map[string]func(*rapid.T){
			"errand": func(t *rapid.T) {
				events++
				e := drawErrand(t, fmt.Sprintf("event-%d", events))
				want, failed := e.town(w), false
				for {
					if through := rapid.IntRange(0, 8).Draw(t, "calls that come through"); through < 4 {
						broken.arm(through, gone)
					}
					err := e.store(t.Context(), store)
					broken.disarm()
					if errors.Is(err, session.ErrUnreachable) {
						failed = true
						allKnown(t, store)
						continue
					}
					if !errors.Is(err, want) && (!failed || e.again == nil || !errors.Is(err, e.again)) {
						t.Fatalf("found the error %v, expected %v", err, want)
					}
					break
				}
			},
			"": func(t *rapid.T) { sameAsTown(t, store, w) },
		})
	})
}

// allKnown holds the store to what is so even after a failed call: whatever a
// server's index names has been started, and whatever the person has joined has
// a place for her.
func allKnown(t *rapid.T, store *session.Store) {
	for _, server := range townServers {
		person, around, err := store.Around(t.Context(), wren, server)
		if err != nil {
			t.Fatal(err)
		}
		if server != "" {
			closed, err := store.Closed(t.Context(), server)
			if err != nil {
				t.Fatal(err)
			}
			around = append(around, closed...)
		}
		for _, h := range around {
			if _, err := store.About(t.Context(), h.ID); err != nil {
				t.Fatalf("the server %q has %v, of which: %v", server, h, err)
			}
		}
		for _, id := range person.Knitalongs {
			if state, err := store.State(t.Context(), id, wren); err != nil || state.Section == "" {
				t.Fatalf("the person is in %s without a place there: %v", id, err)
			}
		}
	}
}

func sameAsTown(t *rapid.T, store *session.Store, w *town) {
	var got, want []any
	for _, server := range townServers {
		person, around, err := store.Around(t.Context(), wren, server)
		if err != nil {
			t.Fatal(err)
		}
		wantPerson, wantAround, wantClosed := w.around(server)
		got, want = append(got, person, around), append(want, wantPerson, wantAround)
		if server == "" {
			continue
		}
		closed, err := store.Closed(t.Context(), server)
		if err != nil {
			t.Fatal(err)
		}
		got, want = append(got, closed), append(want, wantClosed)
	}
	abouts, err := store.Abouts(t.Context(), townIDs)
	if err != nil {
		t.Fatal(err)
	}
	var wantAbouts []session.About
	for _, id := range townIDs {
		if a := w.started[id]; a != nil {
			wantAbouts = append(wantAbouts, *a)
			state, err := store.State(t.Context(), id, wren)
			if err != nil {
				t.Fatal(err)
			}
			got, want = append(got, state.Joined), append(want, w.joined[id])
		}
	}
	kept, err := store.Kept(t.Context(), wren)
	if err != nil {
		t.Fatal(err)
	}
	for _, in := range kept.Knitalongs {
		if !w.kept[in.ID] {
			t.Fatalf("something of her is kept in %s, which the person's hash does not say", in.ID)
		}
	}
	if diff := cmp.Diff(append(want, wantAbouts), append(got, abouts), cmpopts.EquateEmpty()); diff != "" {
		t.Fatalf("(-expected +found):\n%s", diff)
	}
}
