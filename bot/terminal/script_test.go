package terminal_test

import (
	"context"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/rs/zerolog"

	"clew/bot"
	"clew/bot/terminal"
	"clew/session"
	"clew/session/local"
)

// A harbour is a group at terminals that share a store, with a clock of its own.
type harbour struct {
	bot   *bot.Bot
	close func() error
	dir   string
	now   time.Time
	said  int
}

type harbourKey struct{}

// TestScripts runs evenings of a group as its members see them. Besides
// testscript's own commands the scripts have these:
//
//	clock TIME      it is so late now, in RFC 3339
//	says WHO LINE   a member types a line at her terminal; what she sees is stdout,
//	                with paths as they are below the script's folder
//	posted          what stands in the group's channel is stdout, post by post
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script", RequireUniqueNames: true, UpdateScripts: os.Getenv("CLEW_UPDATE") != "",
		Setup: func(env *testscript.Env) error {
			h, err := newHarbour(env.WorkDir)
			if err != nil {
				return err
			}
			env.Values[harbourKey{}] = h
			env.Defer(func() {
				if err := h.close(); err != nil {
					t.Error(err)
				}
			})
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"clock": clock, "says": says, "posted": posted},
	})
}

func newHarbour(dir string) (*harbour, error) {
	kept, err := local.Open(filepath.Join(dir, "data"))
	if err != nil {
		return nil, err
	}
	h := &harbour{close: kept.Close, dir: dir}
	h.bot = bot.New(session.Open(kept.Client()), func() time.Time { return h.now }, h.newID, zerolog.Nop())
	return h, nil
}

func (h *harbour) newID() string {
	h.said++
	return "line " + strconv.Itoa(h.said)
}

func at(ts *testscript.TestScript) *harbour { return ts.Value(harbourKey{}).(*harbour) }

func clock(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: clock TIME")
	}
	now, err := time.Parse(time.RFC3339, args[0])
	ts.Check(err)
	at(ts).now = now
}

func says(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: says WHO LINE")
	}
	h, who := at(ts), args[0]
	member, err := terminal.MemberOf(who)
	ts.Check(err)
	talk := terminal.Talk{
		Bot: h.bot, Member: member, Nick: who, Group: "harbour", NewID: h.newID,
		Pictures: filepath.Join(h.dir, "pictures"), Files: filepath.Join(h.dir, "files"), Posts: filepath.Join(h.dir, "posts"),
	}
	line := strings.NewReplacer("pattern:", "pattern:"+h.dir+"/", "plan:", "plan:"+h.dir+"/").Replace(strings.Join(args[1:], " "))
	var seen strings.Builder
	ts.Check(talk.Lines(context.Background(), strings.NewReader(line), &seen))
	_, err = ts.Stdout().Write([]byte(strings.ReplaceAll(seen.String(), h.dir+"/", ""))) // another at each run
	ts.Check(err)
}

// posted tells what is posted, but for pictures, which it counts.
func posted(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 0 {
		ts.Fatalf("usage: posted")
	}
	dir := filepath.Join(at(ts).dir, "posts")
	files, err := os.ReadDir(dir)
	ts.Check(err)
	for _, f := range files {
		if strings.HasSuffix(f.Name(), ".txt") {
			text, err := os.ReadFile(filepath.Join(dir, f.Name()))
			ts.Check(err)
			_, err = ts.Stdout().Write(text)
			ts.Check(err)
		}
	}
}
