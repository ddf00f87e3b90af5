package terminal

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"unicode"

	"github.com/muesli/reflow/wordwrap"
	"golang.org/x/term"

	"clew/bot"
)

// The widths between which a reply is wrapped, in columns: lines longer than
// the one are hard to read, and a narrower screen can't hold a word.
const (
	widest    = 88
	narrowest = 12
)

const prompt = "you: "

// Screen converses with a person at a terminal, after a greeting and the place
// where she is: with a prompt, line editing, and the lines of earlier
// conversations, which are kept in the history file; an empty name keeps none.
// The terminal is as it was when Screen returns, or when the context ends.
// Errors are those of the terminal.
func (t Talk) Screen(ctx context.Context, in, out *os.File, greeting, history string) error {
	state, err := term.MakeRaw(int(in.Fd()))
	if err != nil {
		return fmt.Errorf("take over the terminal: %w", err)
	}
	restore := func() { _ = term.Restore(int(in.Fd()), state) } // nothing more can be done for it
	restored := make(chan struct{})
	stop := context.AfterFunc(ctx, func() { // while a read waits, Screen does not return
		defer close(restored)
		restore()
	})
	defer func() {
		if !stop() {
			<-restored
		}
		restore()
	}()

	screen := term.NewTerminal(struct {
		io.Reader
		io.Writer
	}{in, out}, prompt)
	past := openHistory(history)
	screen.History = past
	width, height := size(out)
	defer t.tending(ctx, screen)()
	talk := &talking{Talk: t}
	text := wrap(greeting+" "+said(talk.answer(ctx, "where am I"))+" Say help to hear what you can ask, and quit to stop: your place is kept.", width)
	for {
		if _, err := fmt.Fprintf(screen, "%s\n\n", text); err != nil {
			return fmt.Errorf("write the answer: %w", err)
		}
		if err := screen.SetSize(width, height); err != nil {
			return fmt.Errorf("set the size of the screen: %w", err)
		}
		line, err := readWords(screen)
		if errors.Is(err, io.EOF) || ctx.Err() != nil || quits(line) {
			_, _ = fmt.Fprint(out, "\r\n") // so that what follows does not stand behind the prompt
			return ctx.Err()
		}
		if err != nil {
			return fmt.Errorf("read a line: %w", err)
		}
		reply := talk.answer(ctx, line)
		width, height = size(out)
		text = "\n" + wrap(said(reply), width) + smallPrint(reply.Card, width) + notes(reply.Notes, width)
		if below := t.below(reply); len(below) > 0 {
			text += "\n\n" + strings.Join(below, "\n") // whole, so that it can be copied
		}
	}
}

// tending looks after the group's channel, and shows what is posted there, until
// the function that it gives is called.
func (t Talk) tending(ctx context.Context, screen *term.Terminal) (end func()) {
	if t.Posts == "" {
		return func() {}
	}
	ctx, cancel := context.WithCancel(ctx)
	var tending sync.WaitGroup
	channel := Channel{Folder: t.Posts, Show: func(text string) { _, _ = fmt.Fprintf(screen, "\n%s\n\n", wrap(text, widest)) }} // a screen that fails shows with the next answer
	tending.Go(func() { t.Bot.Tending(ctx, Platform, channel) })
	return func() {
		cancel()
		tending.Wait()
	}
}

// readWords reads a line that is not empty.
func readWords(screen *term.Terminal) (string, error) {
	for {
		line, err := screen.ReadLine()
		if errors.Is(err, term.ErrPasteIndicator) {
			err = nil
		}
		if words := strings.TrimSpace(line); words != "" || err != nil {
			return words, err
		}
	}
}

func size(out *os.File) (width, height int) {
	width, height, err := term.GetSize(int(out.Fd()))
	if err != nil || width <= 0 || height <= 0 {
		return 80, 24
	}
	return width, height
}

// wrap breaks a text between words, so that no line reaches the screen's last
// column.
func wrap(text string, width int) string {
	return wordwrap.String(text, max(narrowest, min(width-1, widest)))
}

// smallPrint gives a card as it stands below the words, indented.
func smallPrint(c *bot.Card, width int) string {
	if c == nil {
		return ""
	}
	return indented(fmt.Sprintf("%s, %s: %s\n%s", c.Section, strings.ToLower(c.Row[:1])+c.Row[1:], c.Count, c.Written), width)
}

// notes gives the pattern's notes as they stand below the card.
func notes(all []string, width int) string {
	if len(all) == 0 {
		return ""
	}
	return indented("Note: "+strings.Join(all, "\nNote: "), width)
}

func indented(text string, width int) string {
	text = strings.Map(func(r rune) rune { // what the pattern's text holds may be meant for a screen
		if unicode.IsControl(r) && r != '\n' {
			return -1
		}
		return r
	}, text)
	const margin = "\n    "
	return "\n" + margin + strings.ReplaceAll(wrap(text, width-len(margin)), "\n", margin)
}
