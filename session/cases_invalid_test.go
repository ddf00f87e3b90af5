package session_test

import (
	"context"
	"maps"
	"strings"
	"testing"

	"clew/session"
)

// invalidCalls are calls with one value outside of its range each.
func invalidCalls(ctx context.Context, b bench) map[string]func() error {
	long := strings.Repeat("x", 5000)
	with := func(change func(m *session.Move)) func() error {
		return func() error {
			m := next("e1", castOn, row(2))
			change(&m)
			_, err := b.Move(ctx, group, m)
			return err
		}
	}
	return map[string]func() error{
		"no knit-along":             func() error { _, err := b.State(ctx, "", wren); return err },
		"brace in the knit-along":   func() error { _, err := b.State(ctx, "a}b", wren); return err },
		"colon in the knit-along":   func() error { _, err := b.State(ctx, "a:b", wren); return err },
		"long knit-along":           func() error { _, err := b.State(ctx, long, wren); return err },
		"member without a platform": func() error { _, err := b.State(ctx, group, "wren"); return err },
		"member without a user":     func() error { _, err := b.State(ctx, group, "terminal:"); return err },
		"member with two colons":    func() error { _, err := b.State(ctx, group, "terminal:a:b"); return err },
		"member with a space":       func() error { _, err := b.State(ctx, group, "terminal:a b"); return err },
		"member with a line end":    func() error { _, err := b.State(ctx, group, "terminal:a\nb"); return err },
		"member not in UTF-8":       func() error { _, err := b.State(ctx, group, "terminal:\xff"); return err },
		"member with capitals":      func() error { _, err := b.State(ctx, group, "Terminal:a"); return err },
		"long member":               func() error { _, err := b.State(ctx, group, session.Member("a:"+long)); return err },
		"long event":                with(func(m *session.Move) { m.Event = long }),
		"event with a tab":          with(func(m *session.Move) { m.Event = "a\tb" }),
		"no section":                with(func(m *session.Move) { m.To.Section = "" }),
		"section with a tab":        with(func(m *session.Move) { m.To.Section = "a\tb" }),
		"row below 0":               with(func(m *session.Move) { m.To.Row = -1 }),
		"step below 0":              with(func(m *session.Move) { m.To.Step = -1 }),
		"revision 0":                with(func(m *session.Move) { m.To.Revision = 0 }),
		"long size":                 with(func(m *session.Move) { m.To.Size = long }),
		"long list of rows":         with(func(m *session.Move) { m.To.LeftOut = long }),
		"no way of moving":          with(func(m *session.Move) { m.How = "" }),
		"long answer":               with(func(m *session.Move) { m.Answer = long }),
		"stitches below 0":          with(func(m *session.Move) { m.Done = -1 }),
		"stitches past 2^53":        with(func(m *session.Move) { m.Done = 1<<53 + 1 }),
		"wrong place to leave":      with(func(m *session.Move) { m.From.Section = "" }),
		"undo from nowhere":         func() error { _, err := b.Undo(ctx, group, undo("e1", session.Place{}, castOn)); return err },
		"undo to nowhere":           func() error { _, err := b.Undo(ctx, group, undo("e1", castOn, session.Place{})); return err },
		"setting with a capital":    func() error { _, err := b.Set(ctx, group, wren, map[string]string{"A": "b"}, ""); return err },
		"setting with a line end":   func() error { _, err := b.Set(ctx, group, wren, map[string]string{"a": "b\nc=d"}, ""); return err },
		"no pattern":                func() error { _, err := b.AddRevision(ctx, group, "", nil); return err },
		"huge pattern": func() error {
			_, err := b.AddRevision(ctx, group, strings.Repeat("x", session.PatternSize+1), nil)
			return err
		},
		"no title":           func() error { return b.Start(ctx, session.About{ID: "other", Host: odo}, pattern) },
		"revision -1":        func() error { _, err := b.Pattern(ctx, group, -1); return err },
		"stumble of no kind": func() error { return b.Stumble(ctx, group, wren, session.StumbleAt{Section: "Brim", Row: 1}) },
		"stumble of another kind": func() error {
			return b.Stumble(ctx, group, wren, session.StumbleAt{Section: "Brim", Row: 1, Kind: "again\t"})
		},
		"a name too long": func() error {
			m := next("", castOn, row(2))
			m.Name = strings.Repeat("n", session.NameMost+1)
			_, err := b.Move(ctx, group, m)
			return err
		},
		"a name with a tab": func() error {
			_, err := b.Join(ctx, group, session.Joining{Member: odo, Place: castOn, At: evening, Name: "Odo\tMarsh"})
			return err
		},
		"fewer stitches in all than none": func() error {
			m := next("", castOn, row(2))
			m.All = -1
			_, err := b.Move(ctx, group, m)
			return err
		},
		"stuck without a member": func() error { _, err := b.Stuck(ctx, group, "", "", evening); return err },
		"told of no revision":    func() error { return b.ToldRevision(ctx, group, wren, 0) },
		"the roster of no id":    func() error { _, err := b.Roster(ctx, ""); return err },
		"forgetting in no id":    func() error { _, err := b.ForgetAll(ctx, wren, "a:b"); return err },
		"forgetting nobody":      func() error { _, err := b.ForgetAll(ctx, "wren"); return err },
		"what is kept of nobody": func() error { _, err := b.Kept(ctx, "wren"); return err },
		"stumble without a row": func() error {
			return b.Stumble(ctx, group, wren, session.StumbleAt{Section: "Brim", Row: -1, Kind: session.Again})
		},
		"undoing for nobody":  func() error { _, err := b.Undoable(ctx, group, "wren"); return err },
		"leaving, long event": func() error { return b.Leave(ctx, group, wren, long) },
		"setting, long event": func() error { _, err := b.Set(ctx, group, wren, nil, long); return err },
		"long voice":          func() error { return b.Prefer(ctx, wren, session.Preferences{Voice: long}) },
		"joining nowhere": func() error {
			_, err := b.Join(ctx, group, session.Joining{Member: "terminal:tansy", Place: session.Place{}, At: evening})
			return err
		},
	}
}

// invalidServerCalls are those about a server and its knit-alongs.
func invalidServerCalls(ctx context.Context, b bench) map[string]func() error {
	long := strings.Repeat("s", 65)
	return map[string]func() error{
		"long server":           func() error { return b.Start(ctx, held("other", "x", long), pattern) },
		"server with a tab":     func() error { return b.Start(ctx, held("other", "x", "a\tb"), pattern) },
		"around a long server":  func() error { _, _, err := b.Around(ctx, wren, long); return err },
		"around nobody":         func() error { _, _, err := b.Around(ctx, "wren", about.Server); return err },
		"one of several ids":    func() error { _, err := b.Abouts(ctx, []string{group, "a:b"}); return err },
		"closed ones of none":   func() error { _, err := b.Closed(ctx, ""); return err },
		"closing none":          func() error { return b.Close(ctx, "") },
		"opening none":          func() error { return b.Reopen(ctx, "a:b") },
		"helper without a user": func() error { return b.Help(ctx, group, "terminal:", true) },
	}
}

func testInvalid(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	calls := invalidCalls(ctx, b)
	maps.Copy(calls, invalidServerCalls(ctx, b))
	for name, call := range calls {
		b.unchanged(t, func() { refused(t, name, call(), session.ErrInvalid) })
	}
	// What is at the limits is kept as it is.
	edge := next(strings.Repeat("e", 128), castOn, session.Place{
		Section: strings.Repeat("é", 128), Row: 1 << 30, Step: 1 << 20, Revision: 1 << 20,
		Size: strings.Repeat("s", 256), LeftOut: strings.Repeat("l", 4096),
	})
	edge.Done, edge.Answer = 1<<53, strings.Repeat("\x00\xff\r\n", 256)
	edge.All, edge.Name = 1<<53, strings.Repeat("ü", 64)
	_, err := b.Move(ctx, group, edge)
	must(t, err)
	again, err := b.Move(ctx, group, edge)
	must(t, err)
	want := session.State{Place: edge.To, Done: edge.Done, All: edge.All, Joined: true, Told: 1, Moved: evening, Since: evening}
	equal(t, "the largest values", again, session.Moved{State: want, Repeated: true, Answer: edge.Answer})
	board, err := b.Board(ctx, group)
	must(t, err)
	roster, err := b.Roster(ctx, group)
	must(t, err)
	equal(t, "the largest card", roster, []session.Entrant{{
		Member: wren, Name: edge.Name, RowID: session.RowID{Section: edge.To.Section, Row: edge.To.Row}, Revision: edge.To.Revision,
		Size: edge.To.Size, Done: edge.Done, All: edge.All, Joined: evening, Seen: evening,
	}})
	equal(t, "the largest figure", board, []session.Standing{{Member: wren, Done: 1 << 53}})
}
