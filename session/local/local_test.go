package local_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/redis/go-redis/v9"
	"go.uber.org/goleak"

	"clew/session"
	"clew/session/local"
	"clew/session/redistest"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(childFolder); dir != "" {
		moveForever(dir)
		return
	}
	if dir := os.Getenv(quietFolder); dir != "" {
		failAloud(dir)
		return
	}
	goleak.VerifyTestMain(m)
}

// All names here are invented.
const (
	group = "harbour-lamp"
	wren  = session.Member("terminal:wren")
)

var evening = time.UnixMilli(1_700_000_000_000).UTC()

func row(n int) session.Place {
	return session.Place{Section: "Lanterns", Row: n, Revision: 1, Size: "medium"}
}

func open(t testing.TB, dir string, options ...local.Option) *local.Local {
	t.Helper()
	l, err := local.Open(dir, options...)
	must(t, err)
	t.Cleanup(func() { l.Close() })
	return l
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// begin starts the group with wren in it, at row 0.
func begin(t testing.TB, l *local.Local) *session.Store {
	t.Helper()
	store := session.Open(l.Client())
	about := session.About{ID: group, Title: "The Harbour Lamp hat", Host: wren, Started: evening}
	must(t, store.Start(context.Background(), about, "Pattern: Harbour Lamp\n"))
	_, err := store.Join(context.Background(), group, session.Joining{Member: wren, Place: row(0), Settings: map[string]string{"reading": "steps"}, Event: "join", At: evening})
	must(t, err)
	return store
}

// step moves wren to row n from the row before.
func step(ctx context.Context, store *session.Store, n int) error {
	_, err := store.Move(ctx, group, session.Move{
		Member: wren, Event: fmt.Sprintf("e%d", n), From: row(n - 1), To: row(n), How: "next",
		Done: int64(n) * 96, Answer: fmt.Sprintf("Row %d, with a line\r\nend in it.", n), At: evening,
	})
	return err
}

// undo takes back wren's move to row n.
func undo(event string, n int) session.Move {
	return session.Move{Member: wren, Event: event, From: row(n), To: row(n - 1), How: "undo", Answer: "Taken back.", At: evening}
}

func walk(t testing.TB, store *session.Store, from, to int) {
	t.Helper()
	for n := from + 1; n <= to; n++ {
		must(t, step(context.Background(), store, n))
	}
}

func same(t *testing.T, what string, got, want map[string]any) {
	t.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s (-expected +found):\n%s", what, diff)
	}
}

func journalOf(dir string) string { return filepath.Join(dir, "clew.aof") }

func TestReopened(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir)
	store := begin(t, l)
	walk(t, store, 0, 30)
	must(t, store.Stumble(t.Context(), group, wren, session.StumbleAt{Section: "Lanterns", Row: 12, Kind: session.Again, Event: "s1"}))
	_, err := store.Undo(t.Context(), group, undo("u1", 30))
	must(t, err)
	want := redistest.Dump(t, l.Client())
	must(t, l.Close())
	must(t, l.Close()) // once more does no harm

	again := open(t, dir)
	same(t, "the state after opening again", redistest.Dump(t, again.Client()), want)
	if notice := again.Notice(); notice != "" {
		t.Errorf("a whole journal gave the notice %q", notice)
	}
}

func TestReadsAndRefusalsAreNotWritten(t *testing.T) {
	dir := t.TempDir()
	store := begin(t, open(t, dir))
	walk(t, store, 0, 2)
	before, err := os.ReadFile(journalOf(dir))
	must(t, err)
	ctx := t.Context()
	_, err = store.State(ctx, group, wren)
	must(t, err)
	must(t, step(ctx, store, 2)) // a repeated event
	if err := step(ctx, store, 9); err == nil {
		t.Error("a stale move was taken")
	}
	after, err := os.ReadFile(journalOf(dir))
	must(t, err)
	if diff := cmp.Diff(string(before), string(after)); diff != "" {
		t.Errorf("the journal has grown:\n%s", diff)
	}
}

func TestPipedIntoRedis(t *testing.T) {
	server := redistest.Start(t)
	dir := t.TempDir()
	l := open(t, dir, local.WithoutSync())
	store := begin(t, l)
	walk(t, store, 0, 230) // past what undo, events and log keep
	_, err := store.Undo(t.Context(), group, undo("u1", 230))
	must(t, err)
	must(t, store.Stumble(t.Context(), group, wren, session.StumbleAt{Section: "Lanterns", Row: 3, Kind: session.Again, Event: "s1"}))
	_, err = store.AddRevision(t.Context(), group, "Pattern: binary \x00\xff\r\n$3\r\n", nil)
	must(t, err)
	_, err = store.Join(t.Context(), group, session.Joining{Member: "terminal:tansy", Place: row(0), At: evening})
	must(t, err)
	_, err = store.ForgetAll(t.Context(), "terminal:tansy")
	must(t, err)
	for _, id := range []string{"rope", "buoy"} {
		must(t, store.Start(t.Context(), session.About{ID: id, Title: "The Quay Cap", Host: wren, Server: "tibberhythe", Started: evening}, "Pattern: Quay Cap\n"))
		must(t, store.Help(t.Context(), id, "terminal:tansy", true))
		must(t, store.Close(t.Context(), id))
	}
	must(t, store.Reopen(t.Context(), "rope"))
	must(t, store.Leave(t.Context(), group, wren, "l1"))
	want := redistest.Dump(t, l.Client())
	must(t, l.Close())

	server.Pipe(t, journalOf(dir))
	real, err := session.Connect("redis://" + server.Addr)
	must(t, err)
	defer real.Close()
	same(t, "the state in a real Redis", redistest.Dump(t, real), want)
	moved, err := session.Open(real).State(t.Context(), group, wren)
	must(t, err)
	if moved.Place != row(229) {
		t.Errorf("found %v, expected row 229", moved.Place)
	}
}

func TestSecondProcessIsKeptOut(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir)
	if _, err := local.Open(dir); err == nil || !strings.Contains(err.Error(), "another Clew has the folder") {
		t.Fatalf("found %v, expected to be told that another has the folder open", err)
	}
	begin(t, l) // the first is none the worse
	must(t, l.Close())
	open(t, dir)
}

func TestFolderThatCannotBe(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	must(t, os.WriteFile(file, nil, 0o600))
	if _, err := local.Open(filepath.Join(file, "data")); err == nil {
		t.Error("a folder within a file was opened")
	}
	dir := t.TempDir()
	must(t, os.Mkdir(journalOf(dir), 0o700))
	if _, err := local.Open(dir); err == nil {
		t.Error("a journal that is a folder was opened")
	}
	must(t, os.Remove(journalOf(dir)))
	open(t, dir) // the failed attempt has left no lock
}

// TestCutOff cuts a journal at every byte of its last moves.
func TestCutOff(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir)
	store := begin(t, l)
	var sizes []int64
	var states []map[string]any
	for n := 1; n <= 2; n++ {
		info, err := os.Stat(journalOf(dir))
		must(t, err)
		sizes, states = append(sizes, info.Size()), append(states, redistest.Dump(t, l.Client()))
		walk(t, store, n-1, n)
	}
	must(t, l.Close())
	whole, err := os.ReadFile(journalOf(dir))
	must(t, err)
	sizes, states = append(sizes, int64(len(whole))), append(states, nil)

	last := 0
	for cut := sizes[0]; cut < int64(len(whole)); cut++ {
		if cut >= sizes[last+1] {
			last++
		}
		checkCut(t, whole[:cut], sizes[last], states[last])
	}
}

// checkCut opens a store whose journal is these bytes; the first `kept` of them
// are whole records that make the state.
func checkCut(t *testing.T, journal []byte, kept int64, want map[string]any) {
	t.Helper()
	dir := t.TempDir()
	must(t, os.WriteFile(journalOf(dir), journal, 0o600))
	l, err := local.Open(dir, local.WithoutSync())
	must(t, err)
	defer l.Close()
	same(t, fmt.Sprintf("the state from %d bytes", len(journal)), redistest.Dump(t, l.Client()), want)
	left, err := os.ReadFile(journalOf(dir))
	must(t, err)
	if string(left) != string(journal[:kept]) {
		t.Errorf("from %d bytes, %d are left in the journal, expected %d", len(journal), len(left), kept)
	}
	aside, err := os.ReadFile(journalOf(dir) + ".cut-1")
	if int64(len(journal)) == kept {
		if err == nil || l.Notice() != "" {
			t.Errorf("%d bytes are whole records, yet something was set aside: %s", kept, l.Notice())
		}
		return
	}
	must(t, err)
	if string(aside) != string(journal[kept:]) {
		t.Errorf("from %d bytes, %d were set aside, expected %d", len(journal), len(aside), int64(len(journal))-kept)
	}
	if want := "had been cut off in mid-write"; !strings.Contains(l.Notice(), want) || !strings.Contains(l.Notice(), "clew.aof.cut-1") {
		t.Errorf("the notice is %q, expected it to say %q and name the file", l.Notice(), want)
	}
}

func TestOnlyKnownCommands(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir)
	ctx := t.Context()
	const expected = "does not serve the command"
	for name, err := range map[string]error{
		"a string":            l.Client().Set(ctx, "a", "b", 0).Err(),
		"flush":               l.Client().FlushAll(ctx).Err(),
		"a transaction":       l.Client().Do(ctx, "MULTI").Err(),
		"a string by script":  l.Client().Eval(ctx, "return redis.call('SET', KEYS[1], 'b')", []string{"a"}).Err(),
		"expiry by script":    l.Client().Eval(ctx, "return redis.call('EXPIRE', KEYS[1], 5)", []string{"a"}).Err(),
		"another database":    l.Client().Do(ctx, "SELECT", "1").Err(),
		"a command of no one": l.Client().Do(ctx, "GARBLE").Err(),
	} {
		if err == nil || !strings.Contains(err.Error(), expected) {
			t.Errorf("%s: found %v, expected it to be refused", name, err)
		}
	}
	// A script that fails half way has written, in Redis too; so it must be in the journal.
	err := l.Client().Eval(ctx, "redis.call('HSET', KEYS[1], 'b', '1') redis.call('LPUSH', KEYS[1], 'x') redis.call('HSET', KEYS[1], 'b', '2')", []string{"a"}).Err()
	if err == nil {
		t.Error("a script that uses a hash as a list did not fail")
	}
	want := map[string]any{"a": map[string]string{"b": "1"}}
	same(t, "the state", redistest.Dump(t, l.Client()), want)
	must(t, l.Close())
	same(t, "the state after opening again", redistest.Dump(t, open(t, dir).Client()), want)
}

func TestLargePipeline(t *testing.T) {
	l := open(t, t.TempDir(), local.WithoutSync())
	_, err := l.Client().Pipelined(t.Context(), func(p redis.Pipeliner) error {
		for n := range 500 {
			p.HSet(t.Context(), "a", fmt.Sprint(n), strings.Repeat("x", 100))
			p.HGetAll(t.Context(), "b")
		}
		return nil
	})
	must(t, err)
	n, err := l.Client().HLen(t.Context(), "a").Result()
	must(t, err)
	if n != 500 {
		t.Errorf("found %d fields, expected 500", n)
	}
}

func TestCompaction(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir, local.WithoutSync())
	store := begin(t, l)
	_, err := store.AddRevision(t.Context(), group, strings.Repeat("long \r\n\x00", 20000), nil)
	must(t, err)
	shrunk, size := false, int64(0)
	n := 0
	for ; n < 6000 && !shrunk; n++ {
		walk(t, store, n, n+1)
		info, err := os.Stat(journalOf(dir))
		must(t, err)
		shrunk, size = info.Size() < size, info.Size()
	}
	if !shrunk {
		t.Fatalf("after %d moves the journal has grown to %d bytes and was never compacted", n, size)
	}
	want := redistest.Dump(t, l.Client())
	must(t, l.Close())
	l = open(t, dir, local.WithoutSync())
	same(t, "the state after compaction", redistest.Dump(t, l.Client()), want)
	walk(t, session.Open(l.Client()), n, n+50)
	want = redistest.Dump(t, l.Client())
	must(t, l.Close())
	l = open(t, dir)
	same(t, "the state with moves after it", redistest.Dump(t, l.Client()), want)
}

// A compaction that was cut off leaves its new file; the old one counts.
func TestCompactionCutOff(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir)
	walk(t, begin(t, l), 0, 3)
	want := redistest.Dump(t, l.Client())
	must(t, l.Close())
	must(t, os.WriteFile(journalOf(dir)+".new", []byte("*4\r\n$4\r\nHSET\r\n$1\r\na"), 0o600))
	same(t, "the state", redistest.Dump(t, open(t, dir).Client()), want)
	if _, err := os.Stat(journalOf(dir) + ".new"); !os.IsNotExist(err) {
		t.Errorf("the new file is still there: %v", err)
	}
}
