package local

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// refuse gives the error for damage with whole groups behind it: no crash leaves
// that, and to set the groups aside would take back what was answered. It gives
// nil where nothing whole follows.
func (j *journal) refuse(found *damage) error {
	tail, err := io.ReadAll(io.NewSectionReader(j.f, found.fault, j.size-found.fault))
	if err != nil {
		return fmt.Errorf("the journal %s cannot be read: %w", j.path, err)
	}
	if !holdsGroups(tail) {
		return nil
	}
	return fmt.Errorf("the journal %s is damaged at byte %d (%w), and whole records follow the damage; nothing has been changed. "+
		"Restore the file from a copy; or, to go on with what stands before the damage and lose the rest, cut it there: truncate -s %d %s; or use another folder",
		j.path, found.at, found.cause, found.at, quoted(j.path))
}

// quoted spells a path for a shell.
func quoted(path string) string { return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'" }

// holdsGroups tells whether any whole group stands in what follows a fault. The
// rest of the group that the fault is in does not count: it ends with an EXEC
// that has no MULTI.
func holdsGroups(tail []byte) bool {
	var r bufio.Reader
	singles := false
	for at := 0; ; {
		next := bytes.IndexByte(tail[at:], '*')
		if next < 0 {
			return singles
		}
		at += next
		r.Reset(bytes.NewReader(tail[at:]))
		args, size, err := readCommand(&r)
		switch {
		case err != nil:
			size = 1
		case isCommand(args, "EXEC"):
			singles = false
		case isCommand(args, "MULTI"):
			r.Reset(bytes.NewReader(tail[at:]))
			if _, _, err := readGroup(&r); err == nil {
				return true
			}
		case checkWrite(args) == nil:
			singles = true
		default: // a damaged length may have swallowed what follows
			size = 1
		}
		at += int(size)
	}
}

// setAside moves the bytes from the damage on to a file of their own and cuts
// them off the journal. The copy is on the disk before anything is cut, so a
// crash in between only means a second copy.
func (j *journal) setAside(dir string, found *damage) (notice string, err error) {
	name, err := j.copyTail(dir, found.at)
	if err == nil {
		err = j.f.Truncate(found.at)
	}
	if err == nil {
		err = j.f.Sync()
	}
	if err != nil {
		return "", fmt.Errorf("the damaged end of the journal %s cannot be set aside: %w", j.path, err)
	}
	what := "had been cut off in mid-write"
	if !found.cut {
		what = fmt.Sprintf("was damaged (%v)", found.cause)
	}
	notice = fmt.Sprintf("The journal %s %s. All whole records before that, %d bytes, were kept; the other %d bytes were set aside in %s.",
		j.path, what, found.at, j.size-found.at, name)
	j.size = found.at
	return notice, nil
}

// copyTail writes the journal's bytes from one on to the first free
// clew.aof.cut-1, clew.aof.cut-2 ...
func (j *journal) copyTail(dir string, from int64) (name string, err error) {
	var f *os.File
	for n := 1; ; n++ {
		name = filepath.Join(dir, fmt.Sprintf("%s.cut-%d", journalName, n))
		f, err = os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if !errors.Is(err, os.ErrExist) {
			break
		}
	}
	if err != nil {
		return "", err
	}
	_, err = io.Copy(f, io.NewSectionReader(j.f, from, j.size-from))
	return name, errors.Join(err, f.Sync(), f.Close(), syncFolder(dir))
}
