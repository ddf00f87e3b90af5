package session_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"clew/session"
)

// part is a session of one section, that opens so many hours after evening; never
// where a host opens it.
func part(number int, title string, hours float64) session.Session {
	one := session.Session{Number: number, Title: title,
		First: session.RowID{Section: title, Row: 1}, Last: session.RowID{Section: title, Row: 16}}
	if hours != never {
		one.Opens = later(hours)
	}
	return one
}

const never = -1e6

// later is so many hours after evening.
func later(hours float64) time.Time {
	return evening.Add(time.Duration(hours * float64(time.Hour)))
}

// parts are sessions that open so many hours after evening.
func parts(hours ...float64) []session.Session {
	var all []session.Session
	for i, h := range hours {
		all = append(all, part(i+1, []string{"Brim", "Lanterns", "Crown", "Pompom"}[i], h))
	}
	return all
}

func TestStages(t *testing.T) {
	for _, c := range []struct {
		name   string
		hours  []float64
		closed bool
		at     float64
		stages string // of sessions 0 to one past the last
		opened int    // 0 for none
		next   string // its number and when it opens; "" for none
	}{
		{"without a plan", nil, false, 0, "planned planned", 0, ""},
		{"before the first", []float64{1, 2}, false, 0.5, "planned planned planned planned", 0, "1 at 1"},
		{"to the millisecond before", []float64{1, 2}, false, 1 - 1.0/3_600_000, "planned planned planned planned", 0, "1 at 1"},
		{"when the first opens", []float64{1, 2}, false, 1, "planned open planned planned", 1, "2 at 2"},
		{"when the second opens", []float64{1, 2, 3}, false, 2, "planned closed open planned planned", 2, "3 at 3"},
		{"after the last", []float64{1, 2}, false, 99, "planned closed open planned", 2, ""},
		{"all by hand", []float64{never, never}, false, 99, "planned planned planned planned", 0, "1 at -1e+06"},
		{"the others by hand", []float64{0, never, never}, false, 99, "planned open planned planned planned", 1, "2 at -1e+06"},
		{"one by hand before one with a time", []float64{0, never, 5}, false, 1, "planned open planned planned planned", 1, "2 at 5"},
		{"a later one has opened it", []float64{0, never, 5}, false, 5, "planned closed closed open planned", 3, ""},
		{"one that would open after a later one", []float64{0, 7, 5, 9}, false, 5, "planned closed closed open planned planned", 3, "4 at 9"},
		{"closed", []float64{1, 2, 3}, true, 2, "planned closed closed planned planned", 2, "3 at 3"},
		{"closed before any opened", []float64{1}, true, 0, "planned planned planned", 0, "1 at 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := session.About{Sessions: parts(c.hours...), Closed: c.closed}
			var stages []string
			for number := range len(a.Sessions) + 2 {
				stages = append(stages, string(a.Stage(number, later(c.at))))
			}
			equal(t, "the stages", strings.Join(stages, " "), c.stages)
			opened, ok := a.Opened(later(c.at))
			equal(t, "the session that is open", []any{opened.Number, ok}, []any{c.opened, c.opened > 0})
			next, ok := a.NextToOpen(later(c.at))
			found := ""
			if ok {
				hours := float64(never)
				if !next.Opens.IsZero() {
					hours = next.Opens.Sub(evening).Hours()
				}
				found = fmt.Sprint(next.Number, " at ", hours)
			}
			equal(t, "the next", found, c.next)
		})
	}
}

// planned is the group with these sessions.
func planned(sessions ...session.Session) session.About {
	a := about
	a.Sessions, a.Zone, a.Hold = sessions, "Europe/Amsterdam", true
	return a
}

// ms is a time as it is kept.
func ms(at time.Time) string { return fmt.Sprint(at.UnixMilli()) }

func testSchedule(t *testing.T, b bench) {
	ctx := t.Context()
	b.unchanged(t, func() {
		refused(t, "sessions of none", b.Schedule(ctx, group, parts(1), "", false), session.ErrUnknownKnitalong)
		_, err := b.OpenSession(ctx, group, 1, evening)
		refused(t, "opening one of none", err, session.ErrUnknownKnitalong)
	})
	sessions := parts(0, 24, never)
	sessions[1].First, sessions[1].Last = session.RowID{Section: "Brim", Row: 17}, session.RowID{Section: "Lanterns {é}", Row: 4}
	want := planned(sessions...)
	must(t, b.Start(ctx, want, pattern))
	want.Revision = 1
	b.describes(t, "after starting", want)
	hash := b.dump(t)[aboutHash].(map[string]string)
	equal(t, "what is kept", hash, map[string]string{
		"title": about.Title, "host": string(odo), "server": about.Server, "channel": about.Channel, "started": ms(evening), "revision": "1",
		"zone": "Europe/Amsterdam", "hold": "1", "due": ms(evening),
		"session:1": ms(evening) + "\t1\tBrim\t16\tBrim\tBrim",
		"session:2": ms(later(24)) + "\t17\tBrim\t4\tLanterns {é}\tLanterns",
		"session:3": "0\t1\tCrown\t16\tCrown\tCrown",
	})
	b.unchanged(t, func() {
		again := planned(parts(1)...)
		refused(t, "starting again", b.Start(ctx, again, pattern), session.ErrStarted)
		must(t, b.Schedule(ctx, group, sessions, "Europe/Amsterdam", true))
	})

	must(t, b.Announced(ctx, group, 1, later(0.5)))
	must(t, b.Announced(ctx, group, 2, later(24)))
	_, err := b.OpenSession(ctx, group, 3, later(25))
	must(t, err)
	_, ok, err := b.ClaimAnnouncement(ctx, group, later(26))
	must(t, err)
	equal(t, "the third is claimed", ok, true)
	fewer := []session.Session{part(1, "All of it", never)}
	b.becomes(t, "fewer sessions, in no zone, with nothing held back", func(s state) {
		hash := s.hash(aboutHash)
		for _, field := range []string{"zone", "hold", "session:2", "session:3", "announced:2", "claimed:3", "due"} {
			if hash[field] == "" {
				t.Errorf("%s was not there", field)
			}
			delete(hash, field)
		}
		hash["session:1"] = "0\t1\tAll of it\t16\tAll of it\tAll of it"
		s.changed(aboutHash)
	}, func() { must(t, b.Schedule(ctx, group, fewer, "", false)) })
	want.Sessions, want.Zone, want.Hold = fewer, "", false
	want.Sessions[0].Announced = later(0.5) // it keeps its number
	b.describes(t, "with one", want)
	must(t, b.Schedule(ctx, group, parts(0, 24), "", true))
	want.Sessions, want.Hold = parts(0, 24), true
	want.Sessions[0].Announced = later(0.5)
	b.describes(t, "the second is a new one", want)
	must(t, b.Schedule(ctx, group, nil, "", true))
	want.Sessions = nil
	b.describes(t, "with none", want)
}

// describes holds everything that gives an About to one.
func (b bench) describes(t *testing.T, what string, want session.About) {
	t.Helper()
	ctx := t.Context()
	one, err := b.About(ctx, group)
	must(t, err)
	several, err := b.Abouts(ctx, []string{group, "no-such"})
	must(t, err)
	visited, _, err := b.Visit(ctx, group, wren)
	must(t, err)
	equal(t, what, append(several, one, visited), []session.About{want, want, want})
}

func testOpenSession(t *testing.T, b bench) {
	ctx := t.Context()
	for _, c := range []struct {
		name   string
		hours  []float64
		number int
		at     float64
		opens  bool
		want   []float64
		due    float64
	}{
		{"one that is open", []float64{0, 5}, 1, 1, false, []float64{0, 5}, 0},
		{"one whose time has just come", []float64{0, 5}, 2, 5, false, []float64{0, 5}, 0},
		{"one with a time", []float64{0, 5}, 2, 5 - 1.0/3_600_000, true, []float64{0, 5 - 1.0/3_600_000}, 0},
		{"one by hand", []float64{never, never}, 1, 3, true, []float64{3, never}, 3},
		{"with those ahead of it", []float64{0, never, 9, never, 11}[:4], 4, 3, true, []float64{0, 3, 3, 3}, 0},
		{"one that a later one has opened", []float64{never, 2}, 1, 3, false, []float64{never, 2}, 2},
	} {
		a := planned(parts(c.hours...)...)
		a.ID = "k" + strings.ReplaceAll(c.name, " ", "-")
		must(t, b.Start(ctx, a, pattern))
		open := func() bool {
			opened, err := b.OpenSession(ctx, a.ID, c.number, later(c.at))
			must(t, err)
			return opened
		}
		key := "clew:{" + a.ID + "}:about"
		b.becomes(t, c.name, func(s state) {
			if c.opens {
				s.changed(key)
			}
			for i, h := range c.want {
				opens := "0"
				if h != never {
					opens = ms(later(h))
				}
				field := fmt.Sprint("session:", i+1)
				_, rest, _ := strings.Cut(s.hash(key)[field], "\t")
				s.hash(key)[field] = opens + "\t" + rest
			}
			s.hash(key)["due"] = ms(later(c.due))
		}, func() { equal(t, c.name, open(), c.opens) })
		b.unchanged(t, func() { equal(t, c.name+", again", open(), false) })
		b.unchanged(t, func() {
			_, err := b.OpenSession(ctx, a.ID, len(c.hours)+1, later(c.at))
			refused(t, "one past the last of "+c.name, err, session.ErrUnknownSession)
		})
	}
}

// testRevisionSessions moves the sessions with a revision, or leaves them.
func testRevisionSessions(t *testing.T, b bench) {
	ctx := t.Context()
	want := planned(parts(0, 24)...)
	must(t, b.Start(ctx, want, pattern))
	must(t, b.Announced(ctx, group, 1, evening))
	revise := func(text string, sessions []session.Session) {
		t.Helper()
		n, err := b.AddRevision(ctx, group, text, sessions)
		must(t, err)
		equal(t, "the revision", n, want.Revision)
	}
	want.Revision, want.Sessions[0].Announced = 2, evening
	b.becomes(t, "a revision that keeps the sessions", func(s state) {
		s.hash(aboutHash)["revision"] = "2"
		s.changed(aboutHash)
		s["clew:{harbour-lamp}:revisions"] = []string{pattern, "two"}
	}, func() { revise("two", nil) })
	b.describes(t, "as they were", want)

	moved := parts(0, 24)
	moved[0].Last.Row, moved[1].Announced = 12, evening // what says that it was announced is ignored
	b.unchanged(t, func() { revise("two", moved) })
	want.Revision, want.Sessions[0].Last.Row = 3, 12
	revise("three", moved)
	b.describes(t, "moved", want)
	_, err := b.OpenSession(ctx, group, 2, later(12))
	must(t, err)
	want.Revision, want.Sessions[1].Opens = 4, later(12)
	revise("again", moved)
	b.describes(t, "opened by hand while the correction was made ready", want)
	want.Revision, want.Sessions = 5, nil
	revise("five", []session.Session{})
	b.describes(t, "taken away", want)
	b.unchanged(t, func() {
		_, err := b.AddRevision(ctx, "no-such", "two", moved)
		refused(t, "a revision of none", err, session.ErrUnknownKnitalong)
	})
}

// testScheduleInvalid refuses what cannot be kept, and keeps what is at the limits.
func testScheduleInvalid(t *testing.T, b bench) {
	ctx := t.Context()
	must(t, b.Start(ctx, planned(parts(0, 24)...), pattern))
	wrong := map[string]func(one *session.Session){
		"number that is not next":   func(one *session.Session) { one.Number = 3 },
		"no title":                  func(one *session.Session) { one.Title = "" },
		"long title":                func(one *session.Session) { one.Title = strings.Repeat("x", 257) },
		"title with a tab":          func(one *session.Session) { one.Title = "a\tb" },
		"no first section":          func(one *session.Session) { one.First.Section = "" },
		"section with a line end":   func(one *session.Session) { one.Last.Section = "a\nb" },
		"row before the first":      func(one *session.Session) { one.First.Row = 0 },
		"row that is too large":     func(one *session.Session) { one.Last.Row = 1<<53 + 1 },
		"time before 1970":          func(one *session.Session) { one.Opens = time.UnixMilli(-1) },
		"time that stands for none": func(one *session.Session) { one.Opens = time.UnixMilli(0) },
	}
	b.unchanged(t, func() {
		for name, spoil := range wrong {
			sessions := parts(0, 24)
			spoil(&sessions[1])
			refused(t, name, b.Schedule(ctx, group, sessions, "", false), session.ErrInvalid)
			_, err := b.AddRevision(ctx, group, "two", sessions)
			refused(t, name+" with a revision", err, session.ErrInvalid)
			other := planned(sessions...)
			other.ID = "other"
			refused(t, name+" at the start", b.Start(ctx, other, pattern), session.ErrInvalid)
		}
		refused(t, "long zone", b.Schedule(ctx, group, nil, strings.Repeat("z", 65), false), session.ErrInvalid)
		refused(t, "too many", b.Schedule(ctx, group, many(session.SessionsMost+1), "", false), session.ErrInvalid)
		for name, err := range map[string]error{
			"no session":         second(b.OpenSession(ctx, group, 0, evening)),
			"opening in no time": second(b.OpenSession(ctx, group, 1, time.Time{})),
			"announcing none":    b.Announced(ctx, group, 0, evening),
			"change before any":  b.BoardShown(ctx, group, -1, "m"),
			"long message":       b.BoardShown(ctx, group, 1, strings.Repeat("m", 65)),
			"no message is gone": b.BoardGone(ctx, group, ""),
			"no platform":        second(b.Due(ctx, "", evening)),
			"platform of two":    second(b.Due(ctx, "discord:x", evening)),
		} {
			refused(t, name, err, session.ErrInvalid)
		}
	})
	all := many(session.SessionsMost)
	must(t, b.Schedule(ctx, group, all, strings.Repeat("z", 64), true))
	got, err := b.About(ctx, group)
	must(t, err)
	equal(t, "the most sessions of the longest", got.Sessions, all)
}

// many are sessions of the largest values.
func many(n int) []session.Session {
	var all []session.Session
	for i := range n {
		all = append(all, session.Session{Number: i + 1, Title: strings.Repeat("é", 128), Opens: time.UnixMilli(1<<53 - int64(n-i)).UTC(),
			First: session.RowID{Section: strings.Repeat("s", 256), Row: 1}, Last: session.RowID{Section: strings.Repeat("t", 256), Row: 1 << 53}})
	}
	return all
}

// second gives the error of a call.
func second[T any](_ T, err error) error { return err }
