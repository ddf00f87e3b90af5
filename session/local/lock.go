package local

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
)

// lockFolder keeps a second process out of the folder. The lock is the open
// file's, so it goes with the process, however that ends. It is on a file of its
// own because compaction puts a new file in the journal's place.
func lockFolder(dir string) (*os.File, error) {
	f, err := os.OpenFile(filepath.Join(dir, lockName), os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return nil, fmt.Errorf("the store's lock file cannot be opened: %w", err)
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		if errors.Is(err, syscall.EWOULDBLOCK) {
			err = fmt.Errorf("another Clew has the folder %s open: stop that one first, or give this one another folder", dir)
		} else {
			err = fmt.Errorf("the folder %s cannot be locked: %w", dir, err)
		}
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}
