package local

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Each folder in which one was made is synced, and no other.
func TestMakeFolder(t *testing.T) {
	t.Chdir(t.TempDir())
	top := t.TempDir()
	join := filepath.Join
	for _, c := range []struct {
		name, dir string
		want      []string
	}{
		{"there already", top, nil},
		{"one", join(top, "a"), []string{top}},
		{"three more", join(top, "a", "b", "c", "d"), []string{join(top, "a", "b", "c"), join(top, "a", "b"), join(top, "a")}},
		{"all there now", join(top, "a", "b", "c", "d"), nil},
		{"in the working folder", "e", []string{"."}},
		{"below it, spelled untidily", "./f/../g//h/", []string{"g", "."}},
		{"the working folder", ".", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			var synced []string
			err := makeFolder(c.dir, func(dir string) error {
				synced = append(synced, dir)
				return syncFolder(dir)
			})
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(c.want, synced); diff != "" {
				t.Errorf("synced (-expected +found):\n%s", diff)
			}
			if info, err := os.Stat(c.dir); err != nil || !info.IsDir() {
				t.Errorf("no folder was made: %v", err)
			}
		})
	}
	broken := errors.New("the disk is gone")
	if err := makeFolder(join(top, "x"), func(string) error { return broken }); !errors.Is(err, broken) {
		t.Errorf("found %v, expected the error of the sync", err)
	}
}
