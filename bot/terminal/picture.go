package terminal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"clew/bot"
)

// pictured gives the line that tells where a reply's picture was put, or why it
// could not be; nothing where there is none, or no folder for it.
func (t Talk) pictured(r bot.Reply) string {
	if r.Picture == nil || t.Pictures == "" {
		return ""
	}
	path, err := put(t.Pictures, *r.Picture)
	if err != nil {
		return fmt.Sprintf("The picture could not be put into the folder %s (%s), so there are the words alone; see that the folder can be written to, and ask again.",
			shown(t.Pictures), causeOf(err))
	}
	return shown(path)
}

// put writes a picture into a folder, which it makes where there is none. Who
// looks at a file of that name sees the one before or this one, whole. Both are
// the user's alone.
func put(folder string, p bot.Picture) (path string, err error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", err
	}
	f, err := os.CreateTemp(folder, ".picture-*") // with mode 0600
	if err != nil {
		return "", err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(f.Name()) // the cause is told; that it lies about is not
		}
	}()
	_, err = f.Write(p.PNG)
	if err = errors.Join(err, f.Close()); err != nil {
		return "", err
	}
	path = filepath.Join(folder, safeName(p.Name))
	return path, os.Rename(f.Name(), path)
}

// nameMost bounds the name of a picture's file, in bytes.
const nameMost = 100

// safeName keeps of a file's name what stands for itself in any folder and on
// any screen.
func safeName(name string) string {
	name = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-':
			return r
		}
		return -1
	}, strings.TrimSuffix(name, ".png"))
	if name = strings.Trim(name[:min(len(name), nameMost)], "-"); name == "" {
		name = "picture"
	}
	return name + ".png"
}

// causeOf gives a failure of the file system without the path, which is told
// already.
func causeOf(err error) string {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		err = p.Err
	case errors.As(err, &l):
		err = l.Err
	}
	return err.Error()
}

// shown gives a path as it may stand on a screen.
func shown(path string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return -1
		}
		return r
	}, path)
}
