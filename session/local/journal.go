package local

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// file is what the journal needs of the file that it writes.
type file interface {
	io.Writer
	io.ReaderAt
	Truncate(size int64) error
	Sync() error
	Close() error
}

// journal is the file of all writes, in groups that count as a whole or not at
// all.
type journal struct {
	path   string
	f      file
	size   int64 // bytes in whole groups
	base   int64 // bytes that the data needed when it was last measured
	least  int64 // bytes below which a compaction is not worth it
	groups int64 // groups appended since the journal was opened
}

// openJournal opens the folder's journal, and makes an empty one where there is
// none. All of it is on the disk for good then: a process that was killed may
// have left what it had not synced, and answers will rest on that.
func openJournal(dir string, least int64) (*journal, error) {
	path := filepath.Join(dir, journalName)
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o600)
	if err != nil {
		return nil, fmt.Errorf("the journal cannot be opened: %w", err)
	}
	info, err := f.Stat()
	if err == nil {
		err = errors.Join(f.Sync(), syncFolder(dir))
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("the journal cannot be opened: %w", err), f.Close())
	}
	return &journal{path: path, f: f, size: info.Size(), least: least}, nil
}

// encodeGroup spells commands that count as a whole: one as it is, several
// between MULTI and EXEC.
func encodeGroup(group [][]string) []byte {
	var b []byte
	if len(group) > 1 {
		b = appendCommand(b, "MULTI")
	}
	for _, args := range group {
		b = appendCommand(b, args...)
	}
	if len(group) > 1 {
		b = appendCommand(b, "EXEC")
	}
	return b
}

// append hands a group to the system in one write and gives its number, counted
// from 1. After an error part of it may be in the file, until dropPartial.
func (j *journal) append(group [][]string) (int64, error) {
	n, err := j.f.Write(encodeGroup(group))
	if err != nil {
		return 0, err
	}
	j.size += int64(n)
	j.groups++
	return j.groups, nil
}

// dropPartial cuts off what a failed append left.
func (j *journal) dropPartial() error { return j.f.Truncate(j.size) }

func (j *journal) close() error { return errors.Join(j.f.Sync(), j.f.Close()) }

// damage is the place from which a journal cannot be read.
type damage struct {
	at    int64 // the first byte that is in no whole group
	fault int64 // the byte from which whole groups may follow: the faulty command's, or the one after a refused group
	cut   bool  // the file simply ends there, in the middle of a group
	cause error
}

// replay hands every command of the whole groups in the first limit bytes to
// apply, in order. It gives the damage that stopped it, or nil where it came to
// the end; the error is that of reading the file.
func (j *journal) replay(limit int64, apply func(args []string) error) (*damage, error) {
	in := &failing{r: io.NewSectionReader(j.f, 0, limit)}
	found := replay(in, apply)
	if in.err != nil {
		return nil, fmt.Errorf("the journal %s cannot be read: %w", j.path, in.err)
	}
	return found, nil
}

// failing keeps an error of the disk apart from the damage that it looks like.
type failing struct {
	r   io.Reader
	err error
}

func (f *failing) Read(p []byte) (int, error) {
	n, err := f.r.Read(p)
	if err != nil && err != io.EOF {
		f.err = err
	}
	return n, err
}

func replay(in io.Reader, apply func(args []string) error) *damage {
	r := bufio.NewReader(in)
	var at int64
	for {
		group, size, err := readGroup(r)
		if errors.Is(err, io.EOF) {
			return nil
		}
		for _, args := range group {
			if err == nil {
				err = apply(args)
			}
		}
		if err != nil {
			return &damage{at: at, fault: at + size, cut: errors.Is(err, io.ErrUnexpectedEOF), cause: err}
		}
		at += size
	}
}

// readGroup reads one group of writes and tells how many bytes it took, or, with
// an error, how many were sound before the faulty command. It gives io.EOF where the input ends before the group and io.ErrUnexpectedEOF where it
// ends within.
func readGroup(r *bufio.Reader) (group [][]string, size int64, err error) {
	args, size, err := readCommand(r)
	if err != nil {
		return nil, 0, err
	}
	if !isCommand(args, "MULTI") {
		if err := checkWrite(args); err != nil {
			return nil, 0, err
		}
		return [][]string{args}, size, nil
	}
	for {
		args, n, err := readCommand(r)
		if err != nil {
			return nil, size, within(err)
		}
		if isCommand(args, "EXEC") {
			return group, size + n, nil
		}
		if err := checkWrite(args); err != nil {
			return nil, size, err
		}
		group, size = append(group, args), size+n
	}
}

func isCommand(args []string, name string) bool {
	return len(args) == 1 && strings.EqualFold(args[0], name)
}

func checkWrite(args []string) error {
	if commands[strings.ToUpper(args[0])] != writing {
		return fmt.Errorf("%.40q is not a command that the store writes", args[0])
	}
	return nil
}
