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
	"unicode"

	"github.com/redis/go-redis/v9"
	"github.com/rs/zerolog"
	"golang.org/x/term"

	"clew/bot"
	"clew/bot/terminal"
	"clew/patterns"
	"clew/patterns/samples"
	"clew/session"
	"clew/session/local"
)

// chatCommand knits a pattern by asking.
type chatCommand struct {
	Data  string `help:"The folder for the local store." placeholder:"DIR" env:"CLEW_DATA" type:"path"`
	Redis string `help:"The address of a Redis to keep the place in, instead of the local store." placeholder:"URL" env:"CLEW_REDIS_URL"`
	As    string `help:"Who is knitting, where several share a store." placeholder:"NAME" default:"me"`
	File  string `arg:"" optional:"" help:"The pattern file; without one, a sample pattern."`
}

// Run converses until the input ends.
func (c *chatCommand) Run(ctx context.Context, p *program) error {
	member, err := memberOf(c.As)
	if err != nil {
		return err
	}
	pattern, text, err := c.pattern(p)
	if err != nil {
		return err
	}
	store, err := c.open(p)
	if err != nil {
		return err
	}
	defer store.close()
	b := bot.New(session.Open(store.client), p.now, p.newID, zerolog.New(store.log).With().Timestamp().Logger())
	id, notice, err := b.Solo(ctx, member, pattern, text)
	if err != nil {
		return err
	}
	talk := terminal.Talk{Bot: b, Member: member, Knitalong: id, NewID: p.newID}
	in, out, screen := p.screen()
	if !screen {
		if text := store.notice + notice; text != "" {
			fmt.Fprintln(p.errors, strings.TrimSpace(text))
		}
		return talk.Lines(ctx, p.in, p.out)
	}
	greeting := pattern.Title + ". " + store.notice + notice + "Say next row, again, back, where am I, or help. Say quit to stop; your place is kept."
	if err := terminal.Greet(out, greeting); err != nil {
		return fmt.Errorf("write the greeting: %w", err)
	}
	return talk.Screen(ctx, in, out, store.history)
}

// screen says whether a person sits at a terminal on both ends.
func (p *program) screen() (in, out *os.File, ok bool) {
	in, inFile := p.in.(*os.File)
	out, outFile := p.out.(*os.File)
	return in, out, inFile && outFile && term.IsTerminal(int(in.Fd())) && term.IsTerminal(int(out.Fd()))
}

// pattern reads the file, or takes the sample.
func (c *chatCommand) pattern(p *program) (*patterns.Pattern, string, error) {
	name, src := "the sample pattern", []byte(samples.First().Text)
	if c.File != "" {
		var err error
		if src, err = p.readFile(c.File); err != nil {
			return nil, "", err
		}
		name = c.File
	}
	pattern, err := p.sound(name, src)
	return pattern, string(src), err
}

// A place to keep places in, with what is beside it.
type openStore struct {
	client  redis.UniversalClient
	log     *os.File // the file for failures, or standard error where there is no folder
	history string   // the file for earlier lines, where there is a folder
	notice  string
	close   func()
}

// open opens the Redis of the address, or the local store.
func (c *chatCommand) open(p *program) (*openStore, error) {
	if c.Redis != "" {
		client, err := session.Connect(c.Redis)
		if err != nil {
			return nil, usage("%w", err)
		}
		return &openStore{client: client, log: os.Stderr, close: func() { client.Close() }}, nil
	}
	dir, err := c.folder()
	if err != nil {
		return nil, err
	}
	store, err := local.Open(dir)
	if err != nil {
		return nil, fmt.Errorf("open the local store: %w", err)
	}
	log, err := os.OpenFile(filepath.Join(dir, "clew.log"), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("open the log: %w", err), store.Close())
	}
	o := &openStore{client: store.Client(), log: log, history: filepath.Join(dir, "history"), notice: spaced(store.Notice())}
	o.close = func() {
		if err := errors.Join(store.Close(), log.Close()); err != nil {
			fmt.Fprintln(p.errors, "clew:", err)
		}
	}
	return o, nil
}

func spaced(text string) string {
	if text == "" {
		return ""
	}
	return text + " "
}

// folder is where the local store lies: as given, or in the place that the
// system has for a program's data.
func (c *chatCommand) folder() (string, error) {
	if c.Data != "" {
		return c.Data, nil
	}
	if dir := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "clew"), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", usage("there is no home folder to keep your place in; name one with --data")
	}
	return filepath.Join(home, ".local", "share", "clew"), nil
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
