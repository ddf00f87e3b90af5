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
	Data  string `help:"The folder for the local store, the log and the lines you typed." placeholder:"DIR" env:"CLEW_DATA" type:"path"`
	Redis string `help:"A Redis to keep your place in, in place of the local store: redis://HOST:PORT" placeholder:"URL" env:"CLEW_REDIS_URL"`
	As    string `help:"Who is knitting, where several share a store." placeholder:"NAME" default:"me"`
	File  string `arg:"" optional:"" help:"The pattern file; without one, a sample pattern."`
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
	kept, err := c.open()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, kept.close()) }()
	b := bot.New(kept.store, p.now, p.newID, kept.logger())
	starting, cancel := context.WithTimeout(ctx, startLimit)
	defer cancel()
	id, err := b.Solo(starting, member, pattern, text)
	if err != nil {
		return kept.unopened(err, p.newID())
	}
	talk := terminal.Talk{Bot: b, Member: member, Knitalong: id, NewID: p.newID}
	in, out, screen := p.screen()
	if screen {
		return talk.Screen(ctx, in, out, strings.TrimSpace(pattern.Title+". "+kept.notice), filepath.Join(kept.dir, "history"))
	}
	if kept.notice != "" {
		fmt.Fprintln(p.errors, kept.notice)
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
	src, err := p.readFile(c.File)
	if err != nil {
		return nil, "", err
	}
	pattern, err := p.sound(c.File, src)
	return pattern, string(src), err
}

// A keeping is where places are kept, with the folder of what is beside them.
type keeping struct {
	store  *session.Store
	dir    string
	log    *os.File // of failures, which name a person but no secret
	notice string   // what the local store had to set aside
	close  func() error
}

// open opens the Redis of the address, or the local store.
func (c *chatCommand) open() (*keeping, error) {
	dir, err := c.folder()
	if err != nil {
		return nil, err
	}
	k := &keeping{dir: dir}
	var closeStore func() error
	if c.Redis != "" {
		client, err := session.Connect(c.Redis)
		if err != nil {
			return nil, usage("%w", err)
		}
		k.store, closeStore = session.Open(client), client.Close
	} else {
		store, err := local.Open(dir)
		if err != nil {
			return nil, err
		}
		k.store, k.notice = session.Open(store.Client()), store.Notice()
		closeStore = func() error {
			if now := store.Notice(); now != k.notice { // something went wrong beside the answers, and nothing is lost
				logger := k.logger()
				logger.Warn().Msg(now)
			}
			return store.Close()
		}
	}
	if k.log, err = openLog(dir); err != nil {
		return nil, errors.Join(fmt.Errorf("the log can't be opened: %w", err), closeStore())
	}
	k.close = func() error { return errors.Join(closeStore(), k.log.Close()) }
	return k, nil
}

// logMost is how long the log may be when a chat begins, in bytes. A longer one
// is set aside, in place of the one that was set aside before.
const logMost = 1 << 20

func openLog(dir string) (*os.File, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	name := filepath.Join(dir, "clew.log")
	if info, err := os.Stat(name); err == nil && info.Mode().IsRegular() && info.Size() > logMost {
		if err := os.Rename(name, name+".old"); err != nil {
			return nil, err
		}
	}
	return os.OpenFile(name, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
}

// unopened words why the knit-along can't be opened. What the store's failure
// came from goes to the log: it is not the knitter's.
func (k *keeping) unopened(err error, id string) error {
	sentence := ""
	switch {
	case errors.Is(err, session.ErrUncertain):
		sentence = "the store of places stopped answering; nothing that was saved before is lost"
	case errors.Is(err, session.ErrUnreachable):
		sentence = "the store of places cannot be reached just now; nothing was changed"
	case errors.Is(err, session.ErrRefused):
		sentence = "the store of places would not open the knit-along; nothing that was saved before is lost"
	default:
		return err
	}
	log := k.logger()
	log.Error().Err(err).Str("id", id).Msg("the knit-along was not opened")
	return fmt.Errorf("%s: see that it runs, and start again (in the log this is %s)", sentence, id)
}

func (k *keeping) logger() zerolog.Logger { return zerolog.New(k.log).With().Timestamp().Logger() }

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
