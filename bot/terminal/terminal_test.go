package terminal_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/rs/zerolog"
	"go.uber.org/goleak"

	"clew/bot"
	"clew/bot/terminal"
	"clew/patterns"
	"clew/session"
	"clew/session/local"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// A pattern of two rows (invented).
const mat = `Pattern: Mat
Worked: in rows
Cast on: 10
Section: All
Row 1: knit.
Row 2: k2tog, k to end.
`

// newTalk is a conversation of one knitter over a store of its own.
func newTalk(t *testing.T) terminal.Talk { return newTalkOf(t, mat) }

func newTalkOf(t *testing.T, text string) terminal.Talk {
	t.Helper()
	store, err := local.Open(t.TempDir(), local.WithoutSync())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := store.Close(); err != nil {
			t.Error(err)
		}
	})
	n := 0
	id := func() string { n++; return fmt.Sprintf("line%d", n) }
	b := bot.New(session.Open(store.Client()), func() time.Time { return time.UnixMilli(1) }, id, zerolog.Nop())
	pattern, _ := patterns.Read([]byte(text))
	knitalong, err := b.Solo(t.Context(), "terminal:wren", pattern, text)
	if err != nil {
		t.Fatal(err)
	}
	return terminal.Talk{Bot: b, Member: "terminal:wren", Knitalong: knitalong, NewID: id}
}

const (
	first  = "Cast on ten stitches. All, two rows. Row one, right side. Knit all ten stitches.\n"
	second = "Row two, wrong side. Knit two together, knit eight, to the end. You should now have nine stitches.\n"
)

func TestLines(t *testing.T) {
	for _, c := range []struct{ name, said, want string }{
		{"nothing", "", ""},
		{"a line", "next row\n", first},
		{"the last line without an end", "next row\nnext row", first + second},
		{"line ends of another system", "next row\r\nnext row\r\n", first + second},
		{"empty lines", "\n  \n\nnext row\n\t\n", first},
		{"what follows quit", "next row\nQuit.\nnext row\n", first},
		{"a huge line", strings.Repeat("next row ", 1<<15) + "\nnext row\n", notUnderstood + first},
		{"NUL and bytes that are no text", "\x00\xff\xfe\nnext row\n", notUnderstood + first},
		{"a word to stop with", "help\n", helpSaid(t)},
		{"a name that is no text", "explain \xff\xfe\x00\n", "You have not begun yet, so there is no stitch to explain. Say explain and the name of a stitch.\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out strings.Builder
			if err := newTalk(t).Lines(t.Context(), strings.NewReader(c.said), &out); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(c.want, out.String()); diff != "" {
				t.Errorf("answers (-want +found):\n%s", diff)
			}
		})
	}
}

// A picture is put into the folder, and its path stands on a line of its own
// below the words. Without a folder there are the words alone; a folder that
// can't be written is told, and the conversation goes on.
func TestLinesWithPictures(t *testing.T) {
	const words = "Rows one and two of All, "
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for folder, below := range map[string]string{"": "", dir: filepath.Join(dir, "all-rows-1-2.png") + "\n", file: "The picture could not be put into the folder " + file} {
		talk := newTalk(t)
		talk.Pictures = folder
		var out strings.Builder
		if err := talk.Lines(t.Context(), strings.NewReader("show me the chart\nnext row\n"), &out); err != nil {
			t.Fatal(err)
		}
		said, rest, _ := strings.Cut(out.String(), "\n")
		if !strings.HasPrefix(said, words) || !strings.HasPrefix(rest, below) || !strings.HasSuffix(rest, first) {
			t.Errorf("into the folder %q: found %q, expected %q and a line that begins with %q", folder, out.String(), words, below)
		}
	}
	png, err := os.ReadFile(filepath.Join(dir, "all-rows-1-2.png"))
	if err != nil || !strings.HasPrefix(string(png), "\x89PNG") {
		t.Errorf("the picture holds %.8q (%v)", png, err)
	}
}

// helpSaid is the bot's help, with what the terminal adds.
func helpSaid(t *testing.T) string {
	talk := newTalk(t)
	r := talk.Bot.Answer(t.Context(), bot.Ask{Member: talk.Member, Knitalong: talk.Knitalong, Words: "help"})
	return r.Said + " Say quit to stop: your place is kept.\n"
}

const notUnderstood = "I did not understand that, and nothing has moved. Say next row, again, back, or where am I; say help to hear more.\n"

func TestLinesFail(t *testing.T) {
	talk := newTalk(t)
	broken := errors.New("the pipe broke")
	for name, in := range map[string]io.Reader{"at once": iotest.ErrReader(broken), "after a line": io.MultiReader(strings.NewReader("next\n"), iotest.ErrReader(broken))} {
		if err := talk.Lines(t.Context(), in, io.Discard); !errors.Is(err, broken) {
			t.Errorf("reading fails %s: found %v, expected the error", name, err)
		}
	}
	if err := talk.Lines(t.Context(), strings.NewReader("next\n"), failing{broken}); !errors.Is(err, broken) {
		t.Errorf("writing fails: found %v, expected the error", err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := talk.Lines(ctx, strings.NewReader("next\n"), io.Discard); !errors.Is(err, context.Canceled) {
		t.Errorf("interrupted: found %v, expected that", err)
	}
}

type failing struct{ error }

func (f failing) Write([]byte) (int, error) { return 0, f.error }

func TestEachLine(t *testing.T) {
	long := strings.Repeat("x", 64<<10)
	for _, c := range []struct {
		name, in string
		want     []string
	}{
		{"nothing", "", nil},
		{"an empty line", "\n", []string{""}},
		{"lines", "a\nb\n", []string{"a", "b"}},
		{"no end", "a\n\nb", []string{"a", "", "b"}},
		{"carriage returns", "a\r\nb\r", []string{"a", "b"}},
		{"as long as can be", long + "\nb", []string{long, "b"}},
		{"too long", long + "yy\nb", []string{long, "b"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var found []string
			for name, in := range map[string]io.Reader{"whole": strings.NewReader(c.in), "byte by byte": iotest.OneByteReader(strings.NewReader(c.in))} {
				found = nil
				if err := terminal.EachLine(in, func(line string) error { found = append(found, line); return nil }); err != nil {
					t.Fatal(err)
				}
				if diff := cmp.Diff(c.want, found); diff != "" {
					t.Errorf("%s (-want +found):\n%s", name, diff)
				}
			}
		})
	}
}
