package local

import (
	"errors"
	"os"
	"path/filepath"
)

// makeFolder makes a folder and those above it that are not there. A name that was
// added to a folder lasts only once that folder is synced, so sync is called with
// each in which one was made, the innermost first.
func makeFolder(dir string, sync func(dir string) error) error {
	var parents []string
	for at := filepath.Clean(dir); ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); !errors.Is(err, os.ErrNotExist) {
			break
		}
		parents = append(parents, filepath.Dir(at))
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	for _, parent := range parents {
		if err := sync(parent); err != nil {
			return err
		}
	}
	return nil
}

// syncFolder makes names that were added to a folder last.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
