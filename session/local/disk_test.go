package local

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// badDisk is a journal's file whose writes or syncs fail on demand.
type badDisk struct {
	file
	mu        sync.Mutex
	writeErr  error
	syncErr   error
	truncErr  error
	partially int // bytes that a failing write still writes
	failed    int
	syncs     int
}

func (d *badDisk) Write(p []byte) (int, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.writeErr == nil {
		return d.file.Write(p)
	}
	d.failed++
	n, err := d.file.Write(p[:min(d.partially, len(p))])
	return n, errors.Join(err, d.writeErr)
}

func (d *badDisk) Sync() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.syncs++
	if d.syncErr != nil {
		d.failed++
		return d.syncErr
	}
	return d.file.Sync()
}

func (d *badDisk) Truncate(size int64) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.truncErr != nil {
		return d.truncErr
	}
	return d.file.Truncate(size)
}

func (d *badDisk) set(change func()) {
	d.mu.Lock()
	defer d.mu.Unlock()
	change()
}

func openBad(t *testing.T, dir string) (*Local, *badDisk) {
	t.Helper()
	l, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	disk := &badDisk{file: l.journal.f}
	l.journal.f = disk
	return l, disk
}

// write sets the field n of a hash, and pushes n to a list, in one script.
func write(l *Local, n int) error {
	return l.Client().Eval(context.Background(),
		"redis.call('HSET', KEYS[1], ARGV[1], ARGV[1]) return redis.call('RPUSH', KEYS[2], ARGV[1])",
		[]string{"a", "b"}, n).Err()
}

// written gives the list that write makes.
func written(t *testing.T, l *Local) []string {
	t.Helper()
	list, err := l.Client().LRange(context.Background(), "b", 0, -1).Result()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestFullDisk(t *testing.T) {
	for _, partially := range []int{0, 1, 40, 90, 1 << 20} {
		t.Run(fmt.Sprintf("%d bytes still fit", partially), func(t *testing.T) {
			dir := t.TempDir()
			l, disk := openBad(t, dir)
			if err := write(l, 1); err != nil {
				t.Fatal(err)
			}
			disk.set(func() { disk.writeErr, disk.partially = syscall.ENOSPC, partially })
			for range 3 {
				err := write(l, 2)
				if err == nil || !strings.HasPrefix(err.Error(), "NOTSAVED ") || !strings.Contains(err.Error(), "nothing was changed") {
					t.Fatalf("found %v, expected to be told that nothing was saved", err)
				}
				if diff := cmp.Diff([]string{"1"}, written(t, l)); diff != "" {
					t.Fatalf("the memory has run ahead of the journal:\n%s", diff)
				}
			}
			if disk.failed != 3 {
				t.Errorf("%d writes have failed, expected 3", disk.failed)
			}
			disk.set(func() { disk.writeErr = nil })
			if err := write(l, 3); err != nil {
				t.Fatalf("with room again: %v", err)
			}
			if err := l.Close(); err != nil {
				t.Fatal(err)
			}
			again, err := Open(dir)
			if err != nil {
				t.Fatal(err)
			}
			defer again.Close()
			if diff := cmp.Diff([]string{"1", "3"}, written(t, again)); diff != "" || again.Notice() != "" {
				t.Errorf("opened again: %s\n%s", again.Notice(), diff)
			}
		})
	}
}

// After a sync that failed nobody knows what is on the disk: no answer, and
// nothing more until the store is opened again.
func TestSyncFails(t *testing.T) {
	l, disk := openBad(t, t.TempDir())
	disk.set(func() { disk.syncErr = syscall.EIO })
	if err := write(l, 1); !errors.Is(err, io.EOF) {
		t.Errorf("found %v, expected the connection to end without an answer", err)
	}
	disk.set(func() { disk.syncErr = nil })
	for _, err := range []error{write(l, 2), l.Client().LRange(context.Background(), "b", 0, -1).Err()} {
		if err == nil || !strings.HasPrefix(err.Error(), "NOTSAVED ") || !strings.Contains(err.Error(), "start Clew again") {
			t.Errorf("found %v, expected to be told to start again", err)
		}
		// What was asked when the sync failed may be on the disk.
		if err != nil && (!strings.Contains(err.Error(), "this request changed nothing") || strings.Contains(err.Error(), "nothing was changed")) {
			t.Errorf("found %v, expected it to vouch for this request only", err)
		}
	}
	if disk.failed != 1 {
		t.Errorf("%d syncs have failed, expected 1", disk.failed)
	}
}

func TestFullDiskThatCannotBeCut(t *testing.T) {
	dir := t.TempDir()
	l, disk := openBad(t, dir)
	if err := write(l, 1); err != nil {
		t.Fatal(err)
	}
	disk.set(func() { disk.writeErr, disk.truncErr, disk.partially = syscall.ENOSPC, syscall.EIO, 30 })
	if err := write(l, 2); !errors.Is(err, io.EOF) {
		t.Errorf("found %v, expected the connection to end without an answer", err)
	}
	disk.set(func() { disk.writeErr, disk.truncErr = nil, nil })
	if err := write(l, 3); err == nil || !strings.Contains(err.Error(), "start Clew again") {
		t.Errorf("found %v, expected to be told to start again", err)
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if diff := cmp.Diff([]string{"1"}, written(t, again)); diff != "" || again.Notice() == "" {
		t.Errorf("opened again, with the notice %q:\n%s", again.Notice(), diff)
	}
}

// Many writers at once: every one is answered and in the journal, in the order
// in which they happened.
func TestManyWriters(t *testing.T) {
	t.Run("synced", func(t *testing.T) {
		dir := t.TempDir()
		l, disk := openBad(t, dir)
		writeAtOnce(t, l, dir)
		t.Logf("%d syncs", disk.syncs)
	})
	t.Run("unsynced", func(t *testing.T) { openAndWriteAtOnce(t, WithoutSync()) })
	t.Run("compacting", func(t *testing.T) { openAndWriteAtOnce(t, CompactFrom(1)) })
	t.Run("compacting, unsynced", func(t *testing.T) { openAndWriteAtOnce(t, CompactFrom(1), WithoutSync()) })
}

func openAndWriteAtOnce(t *testing.T, options ...Option) {
	dir := t.TempDir()
	l, err := Open(dir, options...)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	writeAtOnce(t, l, dir)
}

func writeAtOnce(t *testing.T, l *Local, dir string) {
	t.Helper()
	const writers, each = 16, 20
	var group sync.WaitGroup
	for w := range writers {
		group.Go(func() {
			for n := range each {
				if err := write(l, w*each+n); err != nil {
					t.Errorf("writer %d: %v", w, err)
				}
			}
		})
	}
	group.Wait()
	want := written(t, l)
	if len(want) != writers*each {
		t.Errorf("%d writes, expected %d", len(want), writers*each)
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if diff := cmp.Diff(want, written(t, again)); diff != "" {
		t.Errorf("the journal's order is another (-memory +journal):\n%s", diff)
	}
}

// A compaction that finds no room leaves all as it was, and says so until one
// comes through.
func TestCompactionFails(t *testing.T) {
	for name, obstruct := range map[string]func(t *testing.T, l *Local) (clear func()){
		"no new file": func(t *testing.T, l *Local) func() {
			dir := l.dir
			l.dir += "/nowhere"
			return func() { l.dir = dir }
		},
		"the new file cannot take the old one's place": func(t *testing.T, l *Local) func() {
			path := l.journal.path
			l.journal.path = t.TempDir() // a folder
			return func() { l.journal.path = path }
		},
	} {
		t.Run(name, func(t *testing.T) {
			l, err := Open(t.TempDir())
			if err != nil {
				t.Fatal(err)
			}
			defer l.Close()
			if err := write(l, 1); err != nil {
				t.Fatal(err)
			}
			before := l.journal.f
			clear := obstruct(t, l)
			if err := compactNow(l); err != nil || l.journal.f != before || l.failed != nil {
				t.Fatalf("found %v, expected the old journal to go on", err)
			}
			clear()
			if !strings.Contains(l.Notice(), "could not be written anew") || !strings.Contains(l.Notice(), "Nothing is lost") {
				t.Errorf("the notice is %q, expected it to tell of the failure", l.Notice())
			}
			if err := write(l, 2); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff([]string{"1", "2"}, written(t, l)); diff != "" {
				t.Error(diff)
			}
			if err := compactNow(l); err != nil || l.journal.f == before {
				t.Fatalf("found %v, expected a new journal", err)
			}
			if l.Notice() != "" {
				t.Errorf("after a compaction that came through, the notice is %q", l.Notice())
			}
		})
	}
}

func compactNow(l *Local) error {
	l.syncMu.Lock()
	defer l.syncMu.Unlock()
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.compact()
}
