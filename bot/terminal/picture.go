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
	if r.Picture == nil {
		return ""
	}
	return keptIn(t.Pictures, "picture", r.Picture.Name, ".png", r.Picture.PNG)
}

// filed gives the lines that tell where a reply's files were put, likewise.
func (t Talk) filed(r bot.Reply) []string {
	var lines []string
	for _, f := range r.Files {
		if line := keptIn(t.Files, "file", f.Name, filepath.Ext(f.Name), []byte(f.Text)); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// keptIn puts a picture or a file into a folder, and tells where it is, or why it
// is not there.
func keptIn(folder, what, name, end string, data []byte) string {
	if folder == "" {
		return ""
	}
	path := filepath.Join(folder, safeName(name, end))
	if err := put(path, data); err != nil {
		return fmt.Sprintf("The %s could not be put into the folder %s (%s), so there are the words alone; see that the folder can be written to, and ask again.",
			what, shown(folder), causeOf(err))
	}
	return shown(path)
}

// put writes a file into a folder, which it makes where there is none. Who looks at
// a file of that name sees the one before or this one, whole. Both are the user's
// alone.
func put(path string, data []byte) (err error) {
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(folder, ".new-*") // with mode 0600
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(f.Name()) // the cause is told; that it lies about is not
		}
	}()
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// nameMost bounds the name of a file or of a knitter, in bytes.
const nameMost = 100

// safeName keeps of a file's name what stands for itself in any folder and on
// any screen, and ends it as its kind does.
func safeName(name, end string) string {
	name = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-':
			return r
		}
		return -1
	}, strings.TrimSuffix(name, end))
	if name = strings.Trim(name[:min(len(name), nameMost)], "-"); name == "" {
		name = "unnamed"
	}
	return name + end
}

// plainName keeps of a knitter's name its letters, digits and . - _ in small
// letters, with a hyphen for each space.
func plainName(name string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == ' ':
			return '-'
		case unicode.IsLetter(r), unicode.IsDigit(r), r == '-', r == '_', r == '.':
			return unicode.ToLower(r)
		}
		return -1
	}, strings.TrimSpace(name))
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
