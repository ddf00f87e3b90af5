package local

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
)

// A journal is written anew when it is past compactFrom bytes and has grown to
// compactTimes what the data needed when the journal was opened or last written anew.
const (
	compactFrom  = 1 << 20
	compactTimes = 4
)

// compactIfLarge writes the journal anew, as the shortest commands that make the
// data, where it is large for what it holds. A crash at any point leaves the old
// file or the new one, each whole. Where the new one cannot be written the old
// one goes on, and Notice says so. An error means that it is not known which of them a power cut
// would leave.
func (l *Local) compactIfLarge() error {
	if !l.large() {
		return nil
	}
	l.syncMu.Lock() // nobody may be syncing the file that goes
	defer l.syncMu.Unlock()
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.failed != nil || !l.journal.large() { // another caller was first
		return nil
	}
	return l.compact()
}

func (l *Local) large() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.failed == nil && l.journal.large()
}

func (j *journal) large() bool {
	return j.size >= j.least && j.size >= compactTimes*j.base
}

// compact does it. The caller holds syncMu and mu.
func (l *Local) compact() error {
	j := l.journal
	path := filepath.Join(l.dir, rewriteName)
	f, size, err := l.rewrite(path)
	if err == nil {
		if err = os.Rename(path, j.path); err != nil {
			f.Close() // the old file has everything
		}
	}
	if err != nil {
		j.base = j.size // not again before it has grown as much again
		l.grown = fmt.Sprintf("The journal %s is large and could not be written anew, shorter (%v). Nothing is lost: it goes on as it is, and grows.", j.path, err)
		return nil
	}
	l.grown = ""
	old := j.f
	j.f, j.size, j.base = f, size, size
	l.synced.Store(j.groups)
	old.Close() // the new file has everything
	// Until the folder is on the disk, a power cut would bring the old file
	// back, without the writes that go to the new one.
	if err := syncFolder(l.dir); err != nil {
		return l.fail(err)
	}
	return nil
}

// rewrite writes the memory to a new file, on the disk for good, and leaves it
// open for appending.
func (l *Local) rewrite(path string) (f *os.File, size int64, err error) {
	f, err = os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_TRUNC|os.O_APPEND, 0o600)
	if err != nil {
		return nil, 0, err
	}
	w := bufio.NewWriter(f)
	size, err = l.dump(w)
	if err = errors.Join(err, w.Flush(), f.Sync()); err != nil {
		return nil, 0, errors.Join(err, f.Close(), os.Remove(path))
	}
	return f, size, nil
}

// dump writes the commands that make the data in the memory, key by key.
func (l *Local) dump(w io.Writer) (size int64, err error) {
	for _, key := range l.memory.Keys() {
		name, values, err := l.contents(key)
		if err != nil {
			return size, err
		}
		for part := range chunks(values) {
			n, err := w.Write(appendCommand(nil, append([]string{name, key}, part...)...))
			size += int64(n)
			if err != nil {
				return size, err
			}
		}
	}
	return size, nil
}

// contents gives the command that makes a key, and its arguments, of which every
// even number is a whole.
func (l *Local) contents(key string) (name string, values []string, err error) {
	switch kind := l.memory.Type(key); kind {
	case "hash":
		fields, err := l.memory.HKeys(key)
		for _, field := range fields {
			values = append(values, field, l.memory.HGet(key, field))
		}
		return "HSET", values, err
	case "list":
		values, err := l.memory.List(key)
		return "RPUSH", values, err
	case "zset":
		scores, err := l.memory.SortedSet(key)
		for _, member := range slices.Sorted(maps.Keys(scores)) {
			values = append(values, strconv.FormatFloat(scores[member], 'f', -1, 64), member)
		}
		return "ZADD", values, err
	default:
		return "", nil, fmt.Errorf("the key %q is a %s, which the journal does not hold", key, kind)
	}
}

// chunks cuts arguments into commands far below the reader's limits: 512 of
// them, or fewer where they are long.
func chunks(values []string) func(yield func([]string) bool) {
	const most, long = 512, 1 << 20
	return func(yield func([]string) bool) {
		for len(values) > 0 {
			n, bytes := 0, 0
			for n < len(values) && n < most && bytes < long {
				bytes += len(values[n])
				n++
			}
			n = min(n+n%2, len(values)) // never a field without its value
			if !yield(slices.Clip(values[:n])) {
				return
			}
			values = values[n:]
		}
	}
}
