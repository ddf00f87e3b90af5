//go:build linux

package terminal_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/sys/unix"
	"golang.org/x/term"
)

// A tty is both ends of a terminal: the program's, and the one at which a
// person would sit.
type tty struct {
	program, person *os.File

	mu    sync.Mutex
	shown bytes.Buffer
	more  chan struct{} // closed, and made anew, with each thing shown
	done  chan struct{}
}

func openTTY(t *testing.T, columns, rows uint16) *tty {
	t.Helper()
	person, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		if os.Getenv("CLEW_CHECK") == "1" {
			t.Fatal(err)
		}
		t.Skipf("there are no terminals here: the screen is not tested: %v", err)
	}
	fd := int(person.Fd())
	must(t, unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0))
	number, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	must(t, err)
	must(t, unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &unix.Winsize{Row: rows, Col: columns}))
	program, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|unix.O_NOCTTY, 0)
	must(t, err)
	y := &tty{program: program, person: person, more: make(chan struct{}), done: make(chan struct{})}
	go y.watch()
	t.Cleanup(func() {
		must(t, program.Close()) // then the other end reads no more
		<-y.done
		must(t, person.Close())
	})
	return y
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func (y *tty) watch() {
	defer close(y.done)
	buf := make([]byte, 4096)
	for {
		n, err := y.person.Read(buf)
		y.mu.Lock()
		y.shown.Write(buf[:n])
		close(y.more)
		y.more = make(chan struct{})
		y.mu.Unlock()
		if err != nil {
			return
		}
	}
}

func (y *tty) screen() string {
	shown, _ := y.look()
	return shown
}

// look gives what the screen shows, and what tells of more.
func (y *tty) look() (shown string, more <-chan struct{}) {
	y.mu.Lock()
	defer y.mu.Unlock()
	return y.shown.String(), y.more
}

// limit is how long anything here may take.
const limit = 20 * time.Second

// types types keys and waits until the screen shows something.
func (y *tty) types(t *testing.T, keys, shows string) {
	t.Helper()
	_, err := y.person.WriteString(keys)
	must(t, err)
	late := time.After(limit)
	for {
		shown, more := y.look()
		if strings.Contains(shown, shows) {
			return
		}
		select {
		case <-more:
		case <-late:
			_, _ = y.person.WriteString("\x03") // ends what still reads
			t.Fatalf("the screen never shows %q; it shows %q", shows, shown)
		}
	}
}

func state(t *testing.T, f *os.File) *unix.Termios {
	t.Helper()
	s, err := unix.IoctlGetTermios(int(f.Fd()), unix.TCGETS)
	must(t, err)
	return s
}

// converse runs a screen and gives the channel on which it ends.
func converse(ctx context.Context, t *testing.T, y *tty, history string) chan error {
	t.Helper()
	talk := newTalk(t)
	ended := make(chan error, 1)
	go func() { ended <- talk.Screen(ctx, y.program, y.program, "Mat.", history) }()
	return ended
}

// Notes that are too many to be said are shown once, in full, in her size.
func TestScreenShowsNotes(t *testing.T) {
	y := openTTY(t, 80, 24)
	talk := newTalkOf(t, strings.Replace(mat, "Cast on: 10", "Cast on: 10\nNote: Invented.\nNote: It is 9 cm wide.\nNote: Slip the first st.", 1))
	ended := make(chan error, 1)
	go func() { ended <- talk.Screen(t.Context(), y.program, y.program, "Mat.", "") }()
	y.types(t, "", "you: ")
	y.types(t, "next row\r", "    Note: Invented.\r\n    Note: It is 9 cm wide.\r\n    Note: Slip the first st.")
	y.types(t, "back\r", "You are before the first row.")
	y.types(t, "next row\r", "ten stitches. All, two rows.")
	y.types(t, "quit\r", "\r\n")
	must(t, <-ended)
	if n := strings.Count(y.screen(), "Note: It is"); n != 1 {
		t.Errorf("a note is shown %d times, expected once:\n%s", n, y.screen())
	}
}

var escapes = regexp.MustCompile(`\x1b\[[0-9;?]*[A-Za-z]`)

func TestScreen(t *testing.T) {
	const columns = 30
	y := openTTY(t, columns, 20)
	before := state(t, y.program)
	history := filepath.Join(t.TempDir(), "history")
	must(t, os.WriteFile(history, []byte("where am I\n"), 0o600))
	ended := converse(t.Context(), t, y, history)
	y.types(t, "", "you: ")
	y.types(t, "next row\r", "All, row 1 of 2: 10")
	y.types(t, "\x1b[A\x1b[A\r", "You are at row one of All") // twice up: the line of an earlier evening
	y.types(t, "\r \r next\r", "then 9")
	y.types(t, "\x04", "\r\n")
	must(t, <-ended)

	if diff := cmp.Diff(before, state(t, y.program)); diff != "" {
		t.Errorf("the terminal is not as it was (-before +after):\n%s", diff)
	}
	for line := range strings.Lines(escapes.ReplaceAllString(y.screen(), "")) {
		if line = strings.TrimRight(line, "\r\n"); len(line) > columns {
			t.Errorf("a line is %d columns wide, on a screen of %d: %q", len(line), columns, line)
		}
	}
	text, err := os.ReadFile(history)
	must(t, err)
	if diff := cmp.Diff("where am I\nnext row\nwhere am I\n next\n", string(text)); diff != "" {
		t.Errorf("the history (-want +found):\n%s", diff)
	}
}

func TestScreenEnds(t *testing.T) {
	for name, keys := range map[string]string{"quit": "quit\r", "Ctrl-D": "\x04", "Ctrl-C": "\x03", "Ctrl-C in a line": "next\x03"} {
		t.Run(name, func(t *testing.T) {
			y := openTTY(t, 80, 24)
			before := state(t, y.program)
			ended := converse(t.Context(), t, y, "")
			y.types(t, "", "you: ")
			y.types(t, keys, "\r\n")
			must(t, <-ended)
			if diff := cmp.Diff(before, state(t, y.program)); diff != "" {
				t.Errorf("the terminal is not as it was (-before +after):\n%s", diff)
			}
		})
	}
}

// An interrupted program leaves the terminal as it was, though nothing ends
// its waiting for a line.
func TestScreenInterrupted(t *testing.T) {
	y := openTTY(t, 80, 24)
	before := state(t, y.program)
	ctx, cancel := context.WithCancel(t.Context())
	ended := converse(ctx, t, y, "")
	y.types(t, "", "you: ")
	cancel()
	for end := time.Now().Add(limit); !cmp.Equal(before, state(t, y.program)); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("the terminal never became what it was")
		}
	}
	_, err := term.MakeRaw(int(y.program.Fd())) // so that the read that still waits gets a key
	must(t, err)
	y.types(t, "\x04", "")
	if err := <-ended; err != context.Canceled {
		t.Errorf("found %v, expected that it was canceled", err)
	}
}
