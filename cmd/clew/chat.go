package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"time"

	"golang.org/x/term"

	"clew/bot"
	"clew/bot/terminal"
	"clew/patterns"
	"clew/patterns/samples"
)

// chatCommand knits a pattern by asking.
type chatCommand struct {
	storeFlags
	As    string `help:"Who is knitting, where several share a store." placeholder:"NAME" default:"me"`
	Group string `help:"Knit along with all who share the store and name this group." placeholder:"GROUP"`
	File  string `arg:"" optional:"" help:"The pattern file; without one, a sample pattern."`
}

// startLimit is how long opening the knit-along may take.
const startLimit = 10 * time.Second

// Run converses until the input ends.
func (c *chatCommand) Run(ctx context.Context, p *program) (err error) {
	member, err := terminal.MemberOf(c.As)
	if err != nil {
		return usage("--as %w", err)
	}
	talk := terminal.Talk{Member: member, Nick: c.As, NewID: p.newID}
	var pattern *patterns.Pattern
	var text string
	if c.Group == "" {
		pattern, text, err = c.pattern(p)
	} else {
		err = c.inGroup(&talk)
	}
	if err != nil {
		return err
	}
	kept, err := c.openChat()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, kept.end()) }()
	talk.Bot = bot.New(kept.store, p.now, p.newID, kept.logger())
	talk.Pictures, talk.Files = filepath.Join(kept.dir, "pictures"), filepath.Join(kept.dir, "files")
	greeting := "Your group is " + c.Group
	if pattern == nil {
		talk.Posts = filepath.Join(kept.dir, "posts")
	} else {
		greeting = pattern.Title
		starting, cancel := context.WithTimeout(ctx, startLimit)
		defer cancel()
		talk.Knitalong, err = talk.Bot.Solo(starting, member, pattern, text)
		if err != nil {
			return kept.unopened(err, p.newID())
		}
	}
	in, out, screen := p.screen()
	if screen {
		return talk.Screen(ctx, in, out, strings.TrimSpace(greeting+". "+kept.opened), filepath.Join(kept.dir, "history"))
	}
	if kept.opened != "" {
		fmt.Fprintln(p.errors, kept.opened)
	}
	return talk.Lines(ctx, p.in, p.out)
}

// screen says whether a person sits at a terminal on both ends.
func (p *program) screen() (in, out *os.File, ok bool) {
	in, inFile := p.in.(*os.File)
	out, outFile := p.out.(*os.File)
	return in, out, inFile && outFile && term.IsTerminal(int(in.Fd())) && term.IsTerminal(int(out.Fd()))
}

// pattern reads the file, or takes the sample.
func (c *chatCommand) pattern(p *program) (*patterns.Pattern, string, error) {
	if c.File == "" {
		src := samples.First().Text
		pattern, err := p.sound("the sample pattern", []byte(src))
		return pattern, src, err
	}
	return p.readPattern(c.File)
}

// inGroup makes a talk that of a group.
func (c *chatCommand) inGroup(talk *terminal.Talk) error {
	group, err := terminal.MemberOf(c.Group)
	switch {
	case err != nil:
		return usage("--group %w", err)
	case c.File != "":
		return usage("a group's host begins a knit-along there with a line such as /knitalong start pattern:%s; leave the file out of the command", c.File)
	}
	_, talk.Group, _ = strings.Cut(string(group), ":")
	return nil
}

// newID gives ids that no other process gives: a random word and a number.
func newID() func() string {
	word := rand.Text()[:12]
	var n atomic.Int64
	return func() string { return fmt.Sprintf("%s-%d", word, n.Add(1)) }
}
