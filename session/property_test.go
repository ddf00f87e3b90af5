package session_test

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"clew/session"
	"clew/session/local"
)

// model is the store told plainly: one member's slices and maps, with no rings
// and no keys.
type model struct {
	session.State
	there    bool
	name     string
	entered  time.Time
	seen     time.Time
	stuck    time.Time
	stuckAt  session.RowID
	undo     []session.State
	events   []string // the newest last
	answers  map[string]string
	log      []session.Entry // the newest first
	stumbled map[string]int64
	heard    []string // the events of stumbles, the newest last
}

func newModel() *model { return &model{answers: map[string]string{}, stumbled: map[string]int64{}} }

func (m *model) repeated(event string) bool { return event != "" && slices.Contains(m.events, event) }

func (m *model) remember(event, answer string) {
	if event == "" {
		return
	}
	m.answers[event] = answer
	m.events = append(m.events, event)
	if len(m.events) > session.EventsKept {
		m.events = m.events[1:]
	}
}

func (m *model) logged(e session.Entry) {
	m.log = slices.Insert(m.log, 0, e)
	m.log = m.log[:min(len(m.log), session.LogLength)]
}

func newest(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// said keeps what goes with a move, whether it leads anywhere or not.
func (m *model) said(mv session.Move) {
	m.remember(mv.Event, mv.Answer)
	if mv.Name != "" {
		m.name = mv.Name
	}
	if mv.Told {
		m.Told = max(m.Told, m.Revision)
	}
	if mv.Rests {
		m.Rested = newest(m.Rested, mv.At)
	}
	m.seen = newest(m.seen, mv.At)
}

// goes goes to a place.
func (m *model) goes(mv session.Move, to session.Place, done int64) {
	m.logged(session.Entry{At: mv.At, How: mv.How, From: m.Place, To: to, FromDone: m.Done, ToDone: done})
	m.Place, m.Done = to, done
	if m.Since.IsZero() || !mv.At.Before(m.Moved.Add(session.RestBreak)) {
		m.Since = mv.At
	}
	m.Moved = newest(m.Moved, mv.At)
}

func (m *model) move(mv session.Move) (session.Moved, error) {
	switch {
	case !m.there:
		return session.Moved{}, session.ErrNotJoined
	case m.repeated(mv.Event):
		return session.Moved{State: m.State, Repeated: true, Answer: m.answers[mv.Event]}, nil
	case !m.Joined:
		return session.Moved{}, session.ErrNotJoined
	case m.Place != mv.From:
		return session.Moved{}, &session.Stale{Now: m.Place}
	}
	if mv.To != m.Place || mv.Done != m.Done {
		m.undo = append(m.undo, m.State)
		if len(m.undo) > session.UndoDepth {
			m.undo = m.undo[1:]
		}
		m.goes(mv, mv.To, mv.Done)
	}
	if mv.All != 0 {
		m.All = mv.All
	}
	m.said(mv)
	return session.Moved{State: m.State}, nil
}

func (m *model) undoable() (session.Place, error) {
	if !m.Joined {
		return session.Place{}, session.ErrNotJoined
	}
	if len(m.undo) == 0 {
		return session.Place{}, session.ErrNothingToUndo
	}
	return m.undo[len(m.undo)-1].Place, nil
}

func (m *model) takeBack(mv session.Move) (session.Moved, error) {
	switch {
	case !m.there:
		return session.Moved{}, session.ErrNotJoined
	case m.repeated(mv.Event):
		return session.Moved{State: m.State, Repeated: true, Answer: m.answers[mv.Event]}, nil
	case !m.Joined:
		return session.Moved{}, session.ErrNotJoined
	case m.Place != mv.From, len(m.undo) == 0, m.undo[len(m.undo)-1].Place != mv.To:
		return session.Moved{}, &session.Stale{Now: m.Place}
	}
	last := m.undo[len(m.undo)-1]
	m.undo = m.undo[:len(m.undo)-1]
	switch another := last.Revision != m.Revision || last.Size != m.Size || last.LeftOut != m.LeftOut; {
	case last.All != 0:
		m.All = last.All
	case mv.All != 0:
		m.All = mv.All
	case another:
		m.All = 0
	}
	m.goes(mv, last.Place, last.Done)
	m.said(mv)
	return session.Moved{State: m.State}, nil
}

func (m *model) join(j session.Joining) session.Moved {
	if m.repeated(j.Event) || m.Joined && j.Event == "" {
		return session.Moved{State: m.State, Repeated: true}
	}
	was := m.Joined
	if !m.there {
		m.State, m.there = session.State{Place: j.Place, Told: j.Place.Revision, Settings: map[string]string{}}, true
	}
	if m.All == 0 && m.Revision == j.Place.Revision && m.Size == j.Place.Size && m.LeftOut == j.Place.LeftOut {
		m.All = j.All
	}
	if !was {
		m.Joined, m.entered = true, j.At
	}
	m.said(session.Move{Event: j.Event, Name: j.Name, At: j.At})
	return session.Moved{State: m.State, Repeated: was}
}

func (m *model) asks(event string, at time.Time) (session.Moved, error) {
	switch {
	case m.there && m.repeated(event):
		return session.Moved{State: m.State}, nil
	case !m.Joined:
		return session.Moved{}, session.ErrNotJoined
	}
	m.stuck, m.stuckAt = at, session.RowID{Section: m.Section, Row: m.Row}
	m.said(session.Move{Event: event, At: at})
	return session.Moved{State: m.State}, nil
}

func (m *model) informed(revision int) error {
	if !m.Joined {
		return session.ErrNotJoined
	}
	m.Told = max(m.Told, revision)
	return nil
}

// card is what the roster has of her.
func (m *model) card() []session.Entrant {
	if !m.Joined {
		return nil
	}
	return []session.Entrant{{
		Member: wren, Name: m.name, Hidden: m.Settings["board"] == "hidden", RowID: session.RowID{Section: m.Section, Row: m.Row},
		Revision: m.Revision, Size: m.Size, Done: m.Done, All: m.All, Joined: m.entered, Seen: m.seen, Stuck: m.stuck, StuckAt: m.stuckAt,
	}}
}

func (m *model) leave(event string) error {
	switch {
	case m.there && m.repeated(event):
		return nil
	case !m.Joined:
		return session.ErrNotJoined
	}
	m.remember(event, "")
	m.Joined = false
	return nil
}

func (m *model) set(name, value, event string) (session.Moved, error) {
	switch {
	case m.there && m.repeated(event):
		return session.Moved{State: m.State}, nil
	case !m.Joined:
		return session.Moved{}, session.ErrNotJoined
	}
	m.remember(event, "")
	settings := maps.Clone(m.Settings)
	settings[name] = value
	if value == "" {
		delete(settings, name)
	}
	m.Settings = settings
	return session.Moved{State: m.State}, nil
}

func (m *model) stumble(section string, row int, kind session.StumbleKind, event string) error {
	switch {
	case !m.there:
		return session.ErrNotJoined
	case event != "" && slices.Contains(m.heard, event):
		return nil
	case !m.Joined:
		return session.ErrNotJoined
	}
	if event != "" {
		m.heard = append(m.heard, event)
		m.heard = m.heard[max(0, len(m.heard)-session.EventsKept):]
	}
	m.stumbled[fmt.Sprintf("%d %s %s", row, section, kind)]++
	return nil
}

// drawPlace gives a place of few, so that stale and equal ones come up often.
func drawPlace(t *rapid.T, m *model, label string) session.Place {
	if m.there && rapid.IntRange(0, 9).Draw(t, label+" is where she is") > 1 {
		return m.Place
	}
	return session.Place{
		Section:  rapid.SampledFrom([]string{"Brim", "Left mitten's thumb", "Überschuß"}).Draw(t, label+" section"),
		Row:      rapid.IntRange(0, 3).Draw(t, label+" row"),
		Step:     rapid.IntRange(0, 1).Draw(t, label+" step"),
		Revision: rapid.IntRange(1, 2).Draw(t, label+" revision"),
		Size:     rapid.SampledFrom([]string{"", "medium"}).Draw(t, label+" size"),
		LeftOut:  rapid.SampledFrom([]string{"", "Brim 5-8"}).Draw(t, label+" left out"),
	}
}

func drawMove(t *rapid.T, m *model) session.Move {
	return session.Move{Member: wren, Event: drawEvent(t), From: drawPlace(t, m, "from"), To: drawPlace(t, m, "to"),
		How: "next", Done: int64(rapid.IntRange(0, 2).Draw(t, "done")), Answer: rapid.StringN(0, 5, 20).Draw(t, "answer"), At: drawTime(t),
		Name: drawName(t), All: int64(rapid.IntRange(0, 2).Draw(t, "all")),
		Told: rapid.Bool().Draw(t, "told"), Rests: rapid.Bool().Draw(t, "rests")}
}

// drawTime gives a time of few about a break, for clocks go back, too.
func drawTime(t *rapid.T) time.Time {
	ms := rapid.SampledFrom([]time.Duration{0, time.Millisecond, session.RestBreak - time.Millisecond, session.RestBreak, time.Hour}).Draw(t, "at")
	return evening.Add(ms)
}

func drawName(t *rapid.T) string {
	return rapid.SampledFrom([]string{"", "Wren", "Wren \U0001F9F6", "רננה"}).Draw(t, "name")
}

func drawEvent(t *rapid.T) string {
	return rapid.SampledFrom(append(make([]string, 8), eventPool...)).Draw(t, "event")
}

// eventPool has more events than are kept, so that some come again too late.
var eventPool = func() (pool []string) {
	for n := range 2 * session.EventsKept {
		pool = append(pool, fmt.Sprintf("event:%d#", n))
	}
	return pool
}()

func sameResult(t *rapid.T, got, want session.Moved, gotErr, wantErr error) {
	t.Helper()
	var stale, wantStale *session.Stale
	if errors.As(wantErr, &wantStale) {
		if !errors.As(gotErr, &stale) || *stale != *wantStale {
			t.Fatalf("found the error %v, expected %v", gotErr, wantErr)
		}
	} else if !errors.Is(gotErr, wantErr) {
		t.Fatalf("found the error %v, expected %v", gotErr, wantErr)
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		t.Fatalf("(-expected +found):\n%s", diff)
	}
}

// TestAgainstModel lets random requests go to the local store and to the model,
// closing and opening the store in between.
func TestAgainstModel(t *testing.T) {
	outer := t
	rapid.Check(t, func(t *rapid.T) {
		ctx, dir := t.Context(), outer.TempDir()
		l, err := local.Open(dir, local.WithoutSync())
		if err != nil {
			t.Fatal(err)
		}
		defer func() { l.Close() }()
		store, m := session.Open(l.Client()), newModel()
		if err := store.Start(ctx, about, pattern); err != nil {
			t.Fatal(err)
		}
		move := func(t *rapid.T) {
			mv := drawMove(t, m)
			want, wantErr := m.move(mv)
			got, err := store.Move(ctx, group, mv)
			sameResult(t, got, want, err, wantErr)
		}
		t.Repeat(map[string]func(*rapid.T){
			"move":      move,
			"move more": move,
			"undo":      func(t *rapid.T) { undoLikeModel(t, store, m) },
			"join": func(t *rapid.T) {
				j := session.Joining{Member: wren, Place: castOn, Event: drawEvent(t), At: drawTime(t), Name: drawName(t),
					All: int64(rapid.IntRange(0, 2).Draw(t, "all"))}
				want := m.join(j)
				got, err := store.Join(ctx, group, j)
				sameResult(t, got, want, err, nil)
			},
			"stuck": func(t *rapid.T) {
				event, at := drawEvent(t), drawTime(t)
				want, wantErr := m.asks(event, at)
				got, err := store.Stuck(ctx, group, wren, event, at)
				sameResult(t, session.Moved{State: got}, want, err, wantErr)
			},
			"told": func(t *rapid.T) {
				revision := rapid.IntRange(1, 3).Draw(t, "revision")
				wantErr := m.informed(revision)
				err := store.ToldRevision(ctx, group, wren, revision)
				sameResult(t, session.Moved{}, session.Moved{}, err, wantErr)
			},
			"leave": func(t *rapid.T) {
				event := drawEvent(t)
				wantErr := m.leave(event)
				sameResult(t, session.Moved{}, session.Moved{}, store.Leave(ctx, group, wren, event), wantErr)
			},
			"set": func(t *rapid.T) {
				event := drawEvent(t)
				name := rapid.SampledFrom([]string{"reading", "board"}).Draw(t, "setting")
				value := rapid.SampledFrom([]string{"", "steps", "hidden"}).Draw(t, "value")
				want, wantErr := m.set(name, value, event)
				got, err := store.Set(ctx, group, wren, map[string]string{name: value}, event)
				sameResult(t, session.Moved{State: got}, want, err, wantErr)
			},
			"stumble": func(t *rapid.T) {
				event, place := drawEvent(t), drawPlace(t, m, "row")
				kind := rapid.SampledFrom([]session.StumbleKind{session.Again, session.Explained, session.WentBack, session.Miscounted}).Draw(t, "kind")
				wantErr := m.stumble(place.Section, place.Row, kind, event)
				err := store.Stumble(ctx, group, wren, session.StumbleAt{Section: place.Section, Row: place.Row, Kind: kind, Event: event})
				sameResult(t, session.Moved{}, session.Moved{}, err, wantErr)
			},
			"close and open": func(t *rapid.T) {
				if err := l.Close(); err != nil {
					t.Fatal(err)
				}
				if l, err = local.Open(dir, local.WithoutSync()); err != nil {
					t.Fatal(err)
				}
				store = session.Open(l.Client())
			},
			"": func(t *rapid.T) { sameAsModel(t, store, m) },
		})
	})
}

// undoLikeModel takes back, mostly, what can be taken back.
func undoLikeModel(t *rapid.T, store *session.Store, m *model) {
	ctx := t.Context()
	mv := drawMove(t, m)
	mv.How = rapid.SampledFrom([]string{"undo", "back"}).Draw(t, "how")
	to, toErr := store.Undoable(ctx, group, wren)
	wantTo, wantErr := m.undoable()
	sameResult(t, session.Moved{State: session.State{Place: to}}, session.Moved{State: session.State{Place: wantTo}}, toErr, wantErr)
	if toErr == nil && rapid.IntRange(0, 9).Draw(t, "to what can be undone") > 0 {
		mv.To = to
	}
	want, wantErr := m.takeBack(mv)
	got, err := store.Undo(ctx, group, mv)
	sameResult(t, got, want, err, wantErr)
}

// sameAsModel compares all that can be asked of the store with the model.
func sameAsModel(t *rapid.T, store *session.Store, m *model) {
	ctx := t.Context()
	state, stateErr := store.State(ctx, group, wren)
	log, logErr := store.Log(ctx, group, wren, 0)
	board, boardErr := store.Board(ctx, group)
	stumbles, stumblesErr := store.Stumbles(ctx, group)
	roster, rosterErr := store.Roster(ctx, group)
	if err := errors.Join(stateErr, logErr, boardErr, stumblesErr, rosterErr); err != nil {
		t.Fatal(err)
	}
	var want []session.Standing
	if m.Joined {
		want = []session.Standing{{Member: wren, Done: m.Done}}
	}
	stumbled := map[string]int64{}
	for _, s := range stumbles {
		for kind, times := range map[session.StumbleKind]int64{
			session.Again: s.Again, session.Explained: s.Explained, session.WentBack: s.WentBack, session.Miscounted: s.Miscounted,
		} {
			if times > 0 {
				stumbled[fmt.Sprintf("%d %s %s", s.Row, s.Section, kind)] = times
			}
		}
	}
	got := []any{state, log, board, stumbled, roster}
	if diff := cmp.Diff([]any{m.State, m.log, want, m.stumbled, m.card()}, got, cmpopts.EquateEmpty()); diff != "" {
		t.Fatalf("(-expected +found):\n%s", diff)
	}
}
