package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/rs/zerolog"

	"clew/session"
)

// A chatKeeping is where a chat keeps places, with the log in the folder beside
// them: the screen is the knitter's.
type chatKeeping struct {
	*keeping
	dir    string
	log    *os.File // of failures, which name a person but no secret
	opened string   // the store's notice when it was opened
}

// openChat opens the store and the log.
func (f *storeFlags) openChat() (*chatKeeping, error) {
	dir, err := f.folder()
	if err != nil {
		return nil, err
	}
	kept, err := f.open()
	if err != nil {
		return nil, err
	}
	log, err := openLog(dir)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("the log can't be opened: %w", err), kept.close())
	}
	return &chatKeeping{keeping: kept, dir: dir, log: log, opened: kept.notice()}, nil
}

// end closes both. What went wrong beside the answers since then, and lost
// nothing, goes to the log.
func (k *chatKeeping) end() error {
	if now := k.notice(); now != k.opened {
		logger := k.logger()
		logger.Warn().Msg(now)
	}
	return errors.Join(k.close(), k.log.Close())
}

func (k *chatKeeping) logger() zerolog.Logger { return zerolog.New(k.log).With().Timestamp().Logger() }

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
func (k *chatKeeping) unopened(err error, id string) error {
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
