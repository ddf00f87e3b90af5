package session_test

import (
	"context"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/redis/go-redis/v9"
	"go.uber.org/goleak"

	"clew/session"
	"clew/session/local"
	"clew/session/redistest"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// All names here are invented: a group that knits the Harbour Lamp hat.
const (
	group = "harbour-lamp"
	wren  = session.Member("terminal:wren")
	odo   = session.Member("discord:40961")
)

var (
	evening = time.UnixMilli(1_700_000_000_123).UTC()
	about   = session.About{ID: group, Title: "The Harbour Lamp hat", Host: odo, Server: "tibberhythe", Channel: "lamp-room", Started: evening}
	castOn  = session.Place{Section: "Brim", Row: 1, Revision: 1, Size: "medium"}
)

const pattern = "Pattern: Harbour Lamp\n"

// bench is one store under test with the client to look behind it.
type bench struct {
	*session.Store
	client redis.UniversalClient
}

// dump gives the whole state.
func (b bench) dump(t *testing.T) map[string]any { return redistest.Dump(t, b.client) }

// unchanged runs something that must leave the whole state as it was.
func (b bench) unchanged(t *testing.T, do func()) {
	t.Helper()
	before := b.dump(t)
	do()
	if diff := cmp.Diff(before, b.dump(t)); diff != "" {
		t.Errorf("the state has changed (-before +after):\n%s", diff)
	}
}

// conformance is what every kind of Redis must do.
var conformance = []struct {
	name string
	run  func(t *testing.T, b bench)
}{
	{"knitalong", testKnitalong},
	{"join and leave", testJoinLeave},
	{"told", testTold},
	{"crowded", testCrowded},
	{"settings", testSettings},
	{"move", testMove},
	{"move to the same place", testMoveNowhere},
	{"stale move", testStale},
	{"repeated event", testRepeated},
	{"sixteen events are kept", testEventsKept},
	{"undo", testUndo},
	{"undo is fifty deep", testUndoDepth},
	{"log is two hundred long", testLog},
	{"refusals", testRefusals},
	{"invalid values", testInvalid},
	{"what goes with a move", testMoveSays},
	{"moves without a break", testSince},
	{"roster", testRoster},
	{"changes of the board", testChanges},
	{"asking for help", testStuck},
	{"told of a revision", testToldRevision},
	{"forgetting everything", testForgetAll},
	{"forgetting what an earlier version kept", testForgetEarlier},
	{"a member of an earlier version", testEarlierMember},
	{"stitches in all that nobody knows", testAllUnknown},
	{"members of an earlier version", testEarlierRoster},
	{"stumbles", testStumbles},
	{"board", testBoard},
	{"person", testPerson},
	{"the knit-along that a person is on", testOn},
	{"servers", testServer},
	{"a server's index is mended", testIndexMended},
	{"closing and opening at once", testCloseAtOnce},
	{"the largest values of a server", testServerEdges},
	{"helpers", testHelpers},
	{"several at once", testAbouts},
	{"sessions", testSchedule},
	{"opening a session", testOpenSession},
	{"sessions of a revision", testRevisionSessions},
	{"sessions that cannot be kept", testScheduleInvalid},
	{"announcements", testAnnounce},
	{"claims of the board", testBoardClaims},
	{"those that are tended", testTended},
	{"a knit-along of an earlier version", testEarlier},
	{"claims at once", testClaimsAtOnce},
	{"events of leaving and settings", testEventsOfChanges},
	{"scripts forgotten by the server", testNoScript},
	{"whole state after an evening", testWholeState},
	{"concurrent moves make a chain", testConcurrent},
	{"concurrent repeats move once", testConcurrentRepeats},
}

// conform runs the suite; fresh gives an empty store each time.
func conform(t *testing.T, fresh func(t *testing.T) redis.UniversalClient) {
	for _, c := range conformance {
		t.Run(c.name, func(t *testing.T) {
			client := fresh(t)
			c.run(t, bench{session.Open(client), client})
		})
	}
}

func TestLocalStore(t *testing.T) { conform(t, openLocal) }

func openLocal(t *testing.T) redis.UniversalClient {
	l, err := local.Open(t.TempDir(), local.WithoutSync())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := l.Close(); err != nil {
			t.Errorf("closing the local store: %v", err)
		}
	})
	return l.Client()
}

func TestRealRedis(t *testing.T) {
	server := redistest.Start(t)
	client := connect(t, "redis://"+server.Addr)
	conform(t, func(t *testing.T) redis.UniversalClient {
		redistest.Flush(t, client)
		return client
	})
}

func TestRedisCluster(t *testing.T) {
	addrs := redistest.StartCluster(t)
	client := connect(t, "redis+cluster://"+addrs[0]+","+addrs[1])
	conform(t, func(t *testing.T) redis.UniversalClient {
		redistest.Flush(t, client)
		return client
	})
	// The suite's knit-alongs are one slot each; several spread over all nodes.
	store := session.Open(client)
	for _, id := range []string{"a", "b", "c", "d", "e", "f"} {
		other := about
		other.ID = id
		must(t, store.Start(t.Context(), other, pattern))
		_, err := store.Join(t.Context(), id, session.Joining{Member: wren, Place: castOn, At: evening})
		must(t, err)
	}
	sizes := map[string]int64{}
	for _, addr := range addrs {
		node := connect(t, "redis://"+addr)
		n, err := node.DBSize(t.Context()).Result()
		must(t, err)
		sizes[addr] = n
		if n == 0 {
			t.Errorf("no key is on the node %s: %v", addr, sizes)
		}
	}
}

func connect(t testing.TB, url string) redis.UniversalClient {
	t.Helper()
	client, err := session.Connect(url)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { client.Close() })
	return client
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// begin starts the group and lets members join at the cast-on row.
func (b bench) begin(t testing.TB, members ...session.Member) {
	t.Helper()
	ctx := context.Background()
	must(t, b.Start(ctx, about, pattern))
	for _, m := range members {
		_, err := b.Join(ctx, group, session.Joining{Member: m, Place: castOn, At: evening})
		must(t, err)
	}
}

// row gives the place of a row in the body.
func row(n int) session.Place {
	return session.Place{Section: "Lanterns", Row: n, Revision: 1, Size: "medium", LeftOut: "Lanterns 5-8"}
}

// next is a move between two places of wren's.
func next(event string, from, to session.Place) session.Move {
	return session.Move{Member: wren, Event: event, From: from, To: to, How: "next",
		Done: int64(to.Row) * 96, Answer: "you are at row " + string(rune('a'+to.Row%26)), At: evening}
}

// undo takes back wren's move from to to from.
func undo(event string, from, to session.Place) session.Move {
	m := next(event, from, to)
	m.How, m.Done, m.Answer = "undo", 0, "you are back at row "+string(rune('a'+to.Row%26))
	return m
}

// walk moves wren from one row to another, one at a time, each with an event.
func (b bench) walk(t testing.TB, from session.Place, to int) session.Place {
	t.Helper()
	for n := from.Row + 1; n <= to; n++ {
		m := next("", from, row(n))
		if _, err := b.Move(context.Background(), group, m); err != nil {
			t.Fatalf("row %d: %v", n, err)
		}
		from = m.To
	}
	return from
}
