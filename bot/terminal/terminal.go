// Package terminal puts the bot's answers on a terminal, or on a pipe: a line
// in, an answer out.
package terminal

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

// A Talk is one member's conversation about one knit-along.
type Talk struct {
	Bot       *bot.Bot
	Member    session.Member
	Knitalong string
	NewID     func() string // names each line as an event of its own
	Pictures  string        // the folder that pictures are put into, made when there is one; "" tells what is to be seen, and no more
}

// Lines reads lines until the input ends, or until a line says quit, and
// writes one answer a line, and below it the path of its picture, if it has one.
// There is no prompt. The last line counts even without an end. Errors are those
// of reading and writing, and of the context.
func (t Talk) Lines(ctx context.Context, in io.Reader, out io.Writer) error {
	err := EachLine(in, func(line string) error {
		words := strings.TrimSpace(line)
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case words == "":
			return nil
		case quits(words):
			return errQuit
		}
		reply := t.answer(ctx, words)
		text := said(reply) + "\n"
		if line := t.pictured(reply); line != "" {
			text += line + "\n"
		}
		if _, err := io.WriteString(out, text); err != nil {
			return fmt.Errorf("write the answer: %w", err)
		}
		return nil
	})
	if errors.Is(err, errQuit) {
		return nil
	}
	return err
}

var errQuit = errors.New("quit")

// lineMost bounds a line, in bytes; what goes past it is dropped, since no
// request is that long.
const lineMost = 64 << 10

// EachLine hands on the lines of an input, until one is refused; the last one
// even without an end. Errors are those of reading and of handing on.
func EachLine(in io.Reader, take func(line string) error) error {
	lines := bufio.NewReader(in)
	var line []byte
	for {
		part, err := lines.ReadSlice('\n')
		line = append(line, part[:min(len(part), lineMost-len(line))]...)
		if errors.Is(err, bufio.ErrBufferFull) {
			continue
		}
		if err != nil && !errors.Is(err, io.EOF) {
			return fmt.Errorf("read a line: %w", err)
		}
		if text := strings.TrimRight(string(line), "\r\n"); err == nil || text != "" {
			if err := take(text); err != nil {
				return err
			}
		}
		if err != nil {
			return nil
		}
		line = line[:0]
	}
}

// patience is how long an answer may take before the store counts as away.
const patience = 10 * time.Second

func (t Talk) answer(ctx context.Context, words string) bot.Reply {
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	return t.Bot.Answer(ctx, bot.Ask{Member: t.Member, Knitalong: t.Knitalong, Words: strings.ToValidUTF8(words, ""), Event: t.NewID()})
}

// said is what a reply says, with what only a terminal has: the name under
// which a failure stands in the log, and a word to stop with.
func said(r bot.Reply) string {
	switch {
	case r.Failed != nil:
		return r.Said + " (In the log this is " + r.Failed.ID + ".)"
	case r.Intent == listen.Help:
		return r.Said + " Say quit to stop: your place is kept."
	}
	return r.Said
}

// quits says that a line ends the conversation.
func quits(words string) bool {
	switch strings.ToLower(strings.TrimRight(words, ".! ")) {
	case "quit", "exit", "bye", "goodbye":
		return true
	}
	return false
}
