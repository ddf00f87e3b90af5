package local

import (
	"context"
	"errors"
	"io"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/alicebob/miniredis/v2/server"
	"github.com/google/go-cmp/cmp"
)

// hangingDisk is a journal's file whose first sync hangs until it is let go, and
// ends as it is told to.
type hangingDisk struct {
	file
	once  sync.Once
	hangs chan struct{} // closed when the sync has begun
	end   chan error    // how it shall end
}

func (d *hangingDisk) Sync() (err error) {
	d.once.Do(func() {
		close(d.hangs)
		err = <-d.end
	})
	return errors.Join(err, d.file.Sync())
}

// No answer goes out before all that it rests on is on the disk, be it another
// caller's write.
func TestAnswerWaitsForOthersWrites(t *testing.T) {
	scripts := map[string]string{
		"a read":                       "",
		"a script that writes nothing": "return redis.call('LRANGE', KEYS[1], 0, -1)",
	}
	for name, script := range scripts {
		for ending, syncErr := range map[string]error{"on the disk": nil, "lost": syscall.EIO} {
			t.Run(name+", "+ending, func(t *testing.T) { answerBehindSync(t, script, syncErr) })
		}
	}
}

// answerBehindSync reads what another caller wrote whose sync hangs, and then ends
// with an error or without.
func answerBehindSync(t *testing.T, script string, syncErr error) {
	l, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	disk := &hangingDisk{file: l.journal.f, hangs: make(chan struct{}), end: make(chan error)}
	l.journal.f = disk
	read := make(chan struct{}, 1) // takes one when a list is being read, under mu
	l.engine.SetPreHook(func(peer *server.Peer, name string, args ...string) bool {
		if name == "LRANGE" {
			read <- struct{}{}
		}
		return l.note(peer, name, args...)
	})

	reader := l.client.Conn() // greeted before the sync hangs: a greeting waits too
	defer reader.Close()
	if err := reader.Ping(context.Background()).Err(); err != nil {
		t.Fatal(err)
	}
	wrote := make(chan error, 1)
	go func() { wrote <- write(l, 1) }()
	<-disk.hangs
	var list []string
	answered := make(chan error, 1)
	go func() {
		var err error
		if script == "" {
			list, err = reader.LRange(context.Background(), "b", 0, -1).Result()
		} else {
			list, err = reader.Eval(context.Background(), script, []string{"b"}).StringSlice()
		}
		answered <- err
	}()
	<-read
	l.mu.Lock() // so the read is done, with the write in what it saw
	if l.synced.Load() >= l.journal.groups {
		t.Error("the write counts as synced while its sync hangs")
	}
	l.mu.Unlock()
	disk.end <- syncErr

	for what, err := range map[string]error{"the write": <-wrote, "the read": <-answered} {
		if syncErr == nil && err != nil {
			t.Errorf("%s: %v", what, err)
		}
		// Cut off, or told that the store has stopped; never an answer.
		if syncErr != nil && !errors.Is(err, io.EOF) && (err == nil || !strings.HasPrefix(err.Error(), "NOTSAVED ")) {
			t.Errorf("%s: found %q and the error %v, expected no answer from what is not on the disk", what, list, err)
		}
	}
	if syncErr == nil {
		if diff := cmp.Diff([]string{"1"}, list); diff != "" {
			t.Error(diff)
		}
	}
}

// Who has nothing to wait for does not stand behind another's sync.
func TestSyncedAlready(t *testing.T) {
	l, disk := openBad(t, t.TempDir())
	if err := write(l, 1); err != nil {
		t.Fatal(err)
	}
	before := disk.syncs
	l.syncMu.Lock() // as another's sync would
	defer l.syncMu.Unlock()
	if diff := cmp.Diff([]string{"1"}, written(t, l)); diff != "" {
		t.Error(diff)
	}
	if disk.syncs != before {
		t.Errorf("%d syncs for a read, expected none", disk.syncs-before)
	}
}
