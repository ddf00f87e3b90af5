package terminal

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"clew/bot"
)

var harbour = bot.Reply{Said: "Rounds one to three of Harbour.", Picture: &bot.Picture{Name: "harbour-rounds-1-3.png", PNG: []byte("the first"), Alt: "Rounds one to three of Harbour."}}

// A picture is put whole into a folder that is made for it, both for the user
// alone; the next of its name takes its place.
func TestPicturePut(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "deep", "pictures")
	talk := Talk{Pictures: folder}
	want := filepath.Join(folder, "harbour-rounds-1-3.png")
	for _, png := range []string{"the first", "the second, which is longer"} {
		r := harbour
		r.Picture = &bot.Picture{Name: harbour.Picture.Name, PNG: []byte(png)}
		if found := talk.pictured(r); found != want {
			t.Errorf("found the line %q, expected %q", found, want)
		}
		if found, err := os.ReadFile(want); err != nil || string(found) != png {
			t.Errorf("found %q (%v), expected %q", found, err, png)
		}
	}
	for path, mode := range map[string]os.FileMode{folder: 0o700, want: 0o600} {
		info, err := os.Stat(path)
		if err != nil || info.Mode().Perm() != mode {
			t.Errorf("%s has the mode %v (%v), expected %v", path, info.Mode().Perm(), err, mode)
		}
	}
	if files, err := os.ReadDir(folder); err != nil || len(files) != 1 {
		t.Errorf("found %v (%v), expected the picture alone", files, err)
	}
}

// A folder that can't be written is told in one sentence, and leaves nothing.
func TestPictureNotPut(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, "harbour-rounds-1-3.png", "x"), 0o700); err != nil { // a folder where the picture would go
		t.Fatal(err)
	}
	for folder, cause := range map[string]string{file: "not a directory", filepath.Join(file, "in it"): "not a directory", dir: "file exists", dir + "/\x00": "invalid argument"} {
		found := Talk{Pictures: folder}.pictured(harbour)
		start := "The picture could not be put into the folder " + shown(folder) + " (" + cause + "), so there are the words alone;"
		if !strings.HasPrefix(found, start) || strings.Contains(found, "\n") {
			t.Errorf("%q: found %q, expected %q", folder, found, start)
		}
	}
	if files, err := os.ReadDir(dir); err != nil || len(files) != 2 {
		t.Errorf("found %v (%v), expected nothing new", files, err)
	}
}

func TestNoPicture(t *testing.T) {
	dir := t.TempDir()
	for name, found := range map[string]string{"no picture": Talk{Pictures: dir}.pictured(bot.Reply{Said: "So."}), "no folder": Talk{}.pictured(harbour)} {
		if found != "" {
			t.Errorf("%s: found the line %q, expected none", name, found)
		}
	}
}

func TestSafeName(t *testing.T) {
	for name, want := range map[string]string{
		"harbour-rounds-1-3.png": "harbour-rounds-1-3.png", "../../etc/passwd": "etcpasswd.png", "": "unnamed.png", ".png": "unnamed.png",
		"-rf.png": "rf.png", "a\x1b[2Jb\nc.png": "a2Jbc.png", "Ü🧶.png": "unnamed.png", "..": "unnamed.png", ".": "unnamed.png",
		strings.Repeat("x", 300): strings.Repeat("x", 100) + ".png", "CON:": "CON.png",
	} {
		if found := safeName(name, ".png"); found != want {
			t.Errorf("%q: found %q, expected %q", name, found, want)
		}
	}
}
