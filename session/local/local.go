// Package local is a Redis inside the process with its journal on disk: the
// store of places where nothing else is installed. It is meant for one group
// and one process.
//
// Every write is in the journal before it is answered, and no answer tells of a
// write that is not yet. The journal holds what the
// writes did, in Redis's own protocol: the plain write commands that a script
// called, those of one script between MULTI and EXEC, as Redis's own
// append-only file does it. A script's text is not in it, so a journal
// written by an older program replays under a newer one, and
// `redis-cli --pipe < clew.aof` moves the data into an empty Redis.
//
// By default the journal is also synced to the disk before anything is answered
// that rests on it, so neither a killed process nor a power cut takes back an answer; writes that wait
// at the same time share one sync. On the disk of a two-core rented machine
// that leaves 1,900 moves a second for one caller and 3,700 for sixteen
// (BenchmarkLocalMove of package session), far above what a group of knitters
// asks.
package local

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/alicebob/miniredis/v2"
	"github.com/alicebob/miniredis/v2/server"
	"github.com/redis/go-redis/v9"
	"github.com/redis/go-redis/v9/maintnotifications"

	"clew/session/internal/quiet"
)

// Names of the files in the store's folder.
const (
	journalName = "clew.aof"
	rewriteName = "clew.aof.new" // a compaction under way; worthless after a crash
	lockName    = "clew.lock"
)

// Option changes how Open opens a store.
type Option func(*Local)

// WithoutSync leaves it to the system when the journal reaches the disk. Answers
// then outlive the process, however it ends, but not a power cut.
func WithoutSync() Option {
	return func(l *Local) { l.syncing = false }
}

// Local is an open store. It is safe for concurrent use.
type Local struct {
	dir     string
	syncing bool
	least   int64 // bytes below which the journal is not compacted
	lock    *os.File
	notice  string
	client  *redis.Client

	memory *miniredis.Miniredis
	engine *server.Server

	// mu makes the order in the journal the order of execution, and guards all
	// fields below.
	mu      sync.Mutex
	journal *journal
	effects [][]string // what the command being executed has written so far
	inner   bool       // note is running a write command itself
	failed  error      // once set, nothing is served any more
	grown   string     // why the newest compaction failed, for Notice

	syncMu sync.Mutex   // held while syncing; taken before mu
	synced atomic.Int64 // the groups known to be on the disk; set under syncMu

	connMu  sync.Mutex
	conns   map[net.Conn]struct{}
	closed  bool
	serving sync.WaitGroup
}

// Open opens the store in a folder, which is made when it is not there, and
// replays its journal. Where the journal's end was cut off in mid-write or
// cannot be read, all whole records before that are kept, the rest is set aside in
// a file of its own, and Notice says so.
//
// Errors: another process has the folder open; the folder or its files cannot be
// read or written; the journal is damaged and whole records follow the damage, so
// that going on would take back what was answered. Then nothing is changed, and
// the error says where the damage is and what can be done.
//
// The Redis client library's own log is switched off for the whole process, as by
// session.Connect.
func Open(dir string, options ...Option) (*Local, error) {
	l := &Local{dir: dir, syncing: true, least: compactFrom, conns: map[net.Conn]struct{}{}}
	for _, option := range options {
		option(l)
	}
	if err := l.open(); err != nil {
		return nil, errors.Join(err, l.release())
	}
	return l, nil
}

func (l *Local) open() error {
	quiet.Client()
	if err := makeFolder(l.dir, syncFolder); err != nil {
		return fmt.Errorf("the store's folder cannot be made: %w", err)
	}
	var err error
	if l.lock, err = lockFolder(l.dir); err != nil {
		return err
	}
	if err := l.startEngine(); err != nil {
		return err
	}
	if l.journal, err = openJournal(l.dir, l.least); err != nil {
		return err
	}
	if l.notice, err = l.recover(); err != nil {
		return err
	}
	if err := os.Remove(filepath.Join(l.dir, rewriteName)); err != nil && !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("what an interrupted compaction left cannot be removed: %w", err)
	}
	if l.journal.base, err = l.dump(io.Discard); err != nil {
		return fmt.Errorf("the journal %s cannot be measured: %w", l.journal.path, err)
	}
	l.client = redis.NewClient(&redis.Options{
		Addr: "local store in " + l.dir,
		Dialer: func(context.Context, string, string) (net.Conn, error) {
			return l.dial()
		},
		Protocol:                 2,
		MaxRetries:               -1,
		DialerRetries:            1,
		ReadTimeout:              10 * time.Second, // a slow disk's sync
		ContextTimeoutEnabled:    true,
		DisableIdentity:          true,
		MaintNotificationsConfig: &maintnotifications.Config{Mode: maintnotifications.ModeDisabled},
	})
	return nil
}

// startEngine makes the Redis inside the process, with no listener: nothing but
// this package reaches it.
func (l *Local) startEngine() error {
	l.memory = miniredis.NewMiniRedis()
	conn, err := l.memory.Dial() // starts the engine
	if err != nil {
		return fmt.Errorf("the store's engine cannot be started: %w", err)
	}
	if err := conn.Close(); err != nil {
		return fmt.Errorf("the store's engine cannot be started: %w", err)
	}
	l.engine = l.memory.Server()
	l.engine.SetPreHook(l.note)
	return nil
}

// Client gives a client for the store. It serves the commands of this package's
// table and Lua scripts. It ends with the store; closing it is not needed.
func (l *Local) Client() redis.UniversalClient { return l.client }

// Notice says in plain sentences what was set aside when the store was opened,
// and why the newest attempt to shorten the journal failed; empty where there is
// nothing of either. The second may appear, and go, at any time while the store is
// open.
func (l *Local) Notice() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return strings.TrimSpace(l.notice + " " + l.grown)
}

// Close ends the store and lets another process open its folder. Requests under
// way are answered first or fail; answered ones are on the disk.
func (l *Local) Close() error {
	if l.client == nil {
		return nil
	}
	err := l.client.Close()
	if errors.Is(err, redis.ErrClosed) {
		err = nil
	}
	l.hangUp()
	l.serving.Wait()
	return errors.Join(err, l.release())
}

// release lets go of whatever open had taken, the lock last.
func (l *Local) release() error {
	var errs []error
	if l.memory != nil {
		l.memory.Close()
	}
	if l.journal != nil {
		errs = append(errs, l.journal.close())
		l.journal = nil
	}
	if l.lock != nil {
		errs = append(errs, l.lock.Close())
		l.lock = nil
	}
	return errors.Join(errs...)
}

// reload empties the memory and fills it from the first `limit` bytes of the
// journal. The caller holds mu, or is alone.
func (l *Local) reload(limit int64) (*damage, error) {
	l.memory.FlushAll()
	var out bytes.Buffer
	peer := newPeer(&out)
	return l.journal.replay(limit, func(args []string) error {
		l.inner = true // what comes from the journal does not go into it again
		defer func() { l.inner = false }()
		l.engine.Dispatch(peer, args)
		peer.Flush()
		defer out.Reset()
		if bytes.HasPrefix(out.Bytes(), []byte("-")) {
			return fmt.Errorf("%s: %s", args[0], bytes.TrimSpace(out.Bytes()[1:]))
		}
		return nil
	})
}

// recover fills the memory from the journal and sets aside a tail that cannot be
// read.
func (l *Local) recover() (notice string, err error) {
	found, err := l.reload(l.journal.size)
	if err != nil || found == nil {
		return "", err
	}
	if err := l.journal.refuse(found); err != nil {
		return "", err
	}
	notice, err = l.journal.setAside(l.dir, found)
	if err != nil {
		return "", err
	}
	// A record may have been refused in the middle of a group: start afresh
	// with the whole ones.
	if found, err = l.reload(l.journal.size); found != nil {
		return "", fmt.Errorf("the journal %s cannot be read even after its damaged end was set aside: %w", l.journal.path, found.cause)
	}
	return notice, err
}
