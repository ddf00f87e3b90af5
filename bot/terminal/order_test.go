package terminal

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
)

func TestOrder(t *testing.T) {
	dir := t.TempDir()
	cap := filepath.Join(dir, "net mender.txt")
	if err := os.WriteFile(cap, []byte("Pattern: Cap\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	yes, no := true, false
	for line, want := range map[string]bot.Order{
		`/knitalong start sample:float-hat name:"Float hats"`:                   {Deed: bot.Start, Sample: "float-hat", Title: "Float hats"},
		`/Knitalong START "pattern:` + cap + `" hold:yes zone:Europe/Amsterdam`: {Deed: bot.Start, File: "net mender.txt", Pattern: []byte("Pattern: Cap\n"), Hold: &yes, Zone: "Europe/Amsterdam"},
		`/knitalong sessions plan:"` + cap + `" hold:NO`:                        {Deed: bot.Sessions, PlanFile: "net mender.txt", Plan: []byte("Pattern: Cap\n"), Hold: &no},
		`/knitalong open session:2`:                                             {Deed: bot.Open, Session: 2},
		`/knitalong correct revision:1`:                                         {Deed: bot.Correct, Revision: 1},
		`/knitalong helper member:"Ana Pell" dismiss:yes`:                       {Deed: bot.Helper, Helper: "terminal:ana-pell", Dismiss: true},
		`/knitalong who name:"hat one"`:                                         {Deed: bot.Who, Title: "hat one"},
		`  /knitalong   who  `:                                                  {Deed: bot.Who},
		`/knitalong start name:""`:                                              {}, // an error
	} {
		found, err := order(line)
		if want.Deed == "" {
			if err == nil {
				t.Errorf("%s: found %+v, expected an error", line, found)
			}
			continue
		}
		if diff := cmp.Diff(want, found); err != nil || diff != "" {
			t.Errorf("%s: %v %s", line, err, diff)
		}
	}
}

// What is not an order is told in one line, and names what it found.
func TestNoOrder(t *testing.T) {
	for line, want := range map[string]string{
		"/knitalong":                           "Say what is to be done: start, check,",
		"/knitalong begin":                     "There is no /knitalong begin: it is one of start,",
		"/knitalong who colour:red":            "/knitalong who does not take colour:red: it takes name:.",
		"/knitalong open session":              "After session: stands nothing.",
		"/knitalong open session:0":            "session: takes a number from 1, not 0.",
		"/knitalong open session:two":          "session: takes a number from 1, not two.",
		"/knitalong start hold:maybe":          "hold: takes yes or no, not maybe.",
		"/knitalong start pattern:no/such.txt": "The file no/such.txt can't be read (no such file or directory).",
		"/knitalong correct pattern:/":         "The file / can't be read (is a directory).",
		"/knitalong helper member:!!":          `"!!" is no name;`,
		"/knitalong x\x1b[2J":                  "There is no /knitalong x[2J:",
	} {
		_, err := order(line)
		if err == nil || !strings.HasPrefix(err.Error(), want) || !strings.HasSuffix(err.Error(), "Nothing was changed.") || strings.ContainsAny(err.Error(), "\n\x1b") {
			t.Errorf("%s: found %v, expected %s", line, err, want)
		}
	}
}

func TestOrders(t *testing.T) {
	for line, want := range map[string]bool{"/knitalong": true, " /KnitAlong who": true, "/knitalongs": false, "knitalong who": false, "next row": false, "": false} {
		if found := orders(line); found != want {
			t.Errorf("%q: found %v, expected %v", line, found, want)
		}
	}
}

func FuzzOrder(f *testing.F) {
	f.Add(`/knitalong start name:"a b" hold:yes`)
	f.Add(`/knitalong helper member:"`)
	f.Fuzz(func(t *testing.T, line string) {
		if strings.Contains(line, "pattern:") || strings.Contains(line, "plan:") { // it would read any file
			t.Skip()
		}
		o, err := order("/knitalong " + line)
		if err == nil && o.Deed == "" {
			t.Errorf("%q orders nothing", line)
		}
	})
}

func TestChannel(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "posts")
	var shown []string
	c := Channel{Folder: dir, Show: func(text string) { shown = append(shown, text) }}
	ctx := context.Background()
	post := bot.Post{Knitalong: "kabc", Channel: "harbour", Key: "board-1", Texts: []string{"All of it.", "Less."}, Picture: &bot.Picture{PNG: []byte("png")}}
	message, err := c.Post(ctx, post)
	if err != nil {
		t.Fatal(err)
	}
	words := filepath.Join(dir, "board-1.txt")
	if diff := cmp.Diff([]string{"All of it.\n" + words}, shown); diff != "" {
		t.Error(diff)
	}
	post.Texts[0] = "All of it, anew."
	if err := c.Edit(ctx, message, post); err != nil {
		t.Fatal(err)
	}
	if text, err := os.ReadFile(words); err != nil || string(text) != "All of it, anew.\n" || len(shown) != 1 {
		t.Errorf("found %q (%v), and %d shown", text, err, len(shown))
	}
	for range 2 { // what is not there is no error
		if err := c.Remove(ctx, "harbour", message); err != nil {
			t.Error(err)
		}
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("found %v (%v), expected nothing", left, err)
	}
	if err := c.Edit(ctx, message, post); !errors.Is(err, bot.ErrGone) {
		t.Errorf("an edit of what is not there: found %v, expected %v", err, bot.ErrGone)
	}
	c.Folder = "/dev/null/posts"
	if _, err := c.Post(ctx, post); err == nil || len(shown) != 1 {
		t.Errorf("a folder that can't be: found %v, and %d shown", err, len(shown))
	}
}
