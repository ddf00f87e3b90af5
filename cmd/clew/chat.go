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
	"unicode"

	"golang.org/x/term"

	"clew/bot"
	"clew/bot/terminal"
	"clew/patterns"
	"clew/patterns/samples"
	"clew/session"
)

// chatCommand knits a pattern by asking.
type chatCommand struct {
	storeFlags
	As   string `help:"Who is knitting, where several share a store." placeholder:"NAME" default:"me"`
	File string `arg:"" optional:"" help:"The pattern file; without one, a sample pattern."`
}

// startLimit is how long opening the knit-along may take.
const startLimit = 10 * time.Second

// Run converses until the input ends.
func (c *chatCommand) Run(ctx context.Context, p *program) (err error) {
	member, err := memberOf(c.As)
	if err != nil {
		return err
	}
	pattern, text, err := c.pattern(p)
	if err != nil {
		return err
	}
	kept, err := c.openChat()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, kept.end()) }()
	b := bot.New(kept.store, p.now, p.newID, kept.logger())
	starting, cancel := context.WithTimeout(ctx, startLimit)
	defer cancel()
	id, err := b.Solo(starting, member, pattern, text)
	if err != nil {
		return kept.unopened(err, p.newID())
	}
	talk := terminal.Talk{Bot: b, Member: member, Knitalong: id, NewID: p.newID, Pictures: filepath.Join(kept.dir, "pictures")}
	in, out, screen := p.screen()
	if screen {
		return talk.Screen(ctx, in, out, strings.TrimSpace(pattern.Title+". "+kept.opened), filepath.Join(kept.dir, "history"))
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

// memberOf makes a member out of a knitter's name.
func memberOf(name string) (session.Member, error) {
	plain := strings.Map(func(r rune) rune {
		switch {
		case r == ' ':
			return '-'
		case unicode.IsLetter(r), unicode.IsDigit(r), r == '-', r == '_', r == '.':
			return unicode.ToLower(r)
		}
		return -1
	}, strings.TrimSpace(name))
	if plain == "" || len(plain) > 100 {
		return "", usage("--as %q is no name; use up to a hundred letters and digits", name)
	}
	return session.Member("terminal:" + plain), nil
}

// newID gives ids that no other process gives: a random word and a number.
func newID() func() string {
	word := rand.Text()[:12]
	var n atomic.Int64
	return func() string { return fmt.Sprintf("%s-%d", word, n.Add(1)) }
}
