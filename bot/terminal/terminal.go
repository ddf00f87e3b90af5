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

	"github.com/muesli/reflow/wordwrap"

	"clew/bot"
	"clew/session"
)

// A Talk is one member's conversation about one knit-along.
type Talk struct {
	Bot       *bot.Bot
	Member    session.Member
	Knitalong string
	NewID     func() string // names each line as an event of its own
}

// Lines reads lines until the input ends, or until a line says quit, and
// writes one answer a line. There is no prompt. The last line counts even
// without an end. Errors are those of reading and writing.
func (t Talk) Lines(ctx context.Context, in io.Reader, out io.Writer) error {
	lines := bufio.NewReader(in)
	for ctx.Err() == nil {
		line, err := readLine(lines)
		if words := strings.TrimSpace(line); words != "" {
			if quits(words) {
				return nil
			}
			if _, err := fmt.Fprintln(out, t.answer(ctx, words).Said); err != nil {
				return fmt.Errorf("write the answer: %w", err)
			}
		}
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("read a line: %w", err)
		}
	}
	return ctx.Err()
}

// maxLine bounds a line, in bytes; what goes past it is dropped, since no
// request is that long.
const maxLine = 64 << 10

func readLine(lines *bufio.Reader) (string, error) {
	var line []byte
	for {
		part, err := lines.ReadSlice('\n')
		if room := maxLine - len(line); room > 0 {
			line = append(line, part[:min(len(part), room)]...)
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return string(line), err
		}
	}
}

func (t Talk) answer(ctx context.Context, words string) bot.Reply {
	return t.Bot.Answer(ctx, bot.Ask{Member: t.Member, Knitalong: t.Knitalong, Words: words, Event: t.NewID()})
}

// quits says that a line ends the conversation.
func quits(words string) bool {
	switch strings.ToLower(strings.TrimRight(words, ".!")) {
	case "quit", "exit", "bye", "goodbye":
		return true
	}
	return false
}

// show gives a reply as it stands on a screen: the words wrapped to the width,
// and below them, indented, the small print.
func show(r bot.Reply, width int) string {
	text := wordwrap.String(r.Said, width)
	if r.Card != nil {
		text += "\n\n" + indent(fmt.Sprintf("%s, %s: %s", r.Card.Section, strings.ToLower(r.Card.Row[:1])+r.Card.Row[1:], r.Card.Count), width) +
			"\n" + indent(r.Card.Written, width)
	}
	return text
}

func indent(text string, width int) string {
	const margin = "    "
	wrapped := wordwrap.String(text, max(width-len(margin), 10))
	return margin + strings.ReplaceAll(wrapped, "\n", "\n"+margin)
}
