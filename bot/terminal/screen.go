package terminal

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/muesli/reflow/wordwrap"
	"golang.org/x/term"
)

// The widths between which a reply is wrapped, in columns: lines longer than
// the one are hard to read, and a narrower screen can't hold a sentence.
const (
	widest    = 88
	narrowest = 20
)

const prompt = "you: "

// Screen converses with a person at a terminal: with a prompt, line editing,
// and the lines of earlier conversations, which are kept in the history file;
// an empty name keeps none. The terminal is as it was when Screen returns.
func (t Talk) Screen(ctx context.Context, in *os.File, out *os.File, history string) error {
	state, err := term.MakeRaw(int(in.Fd()))
	if err != nil {
		return fmt.Errorf("take over the terminal: %w", err)
	}
	defer func() { _ = term.Restore(int(in.Fd()), state) }() // nothing more can be done for it
	screen := term.NewTerminal(struct {
		io.Reader
		io.Writer
	}{in, out}, prompt)
	past := openHistory(history)
	screen.History = past
	for ctx.Err() == nil {
		width := columns(out)
		line, err := screen.ReadLine()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil && !errors.Is(err, term.ErrPasteIndicator) {
			return fmt.Errorf("read a line: %w", err)
		}
		words := strings.TrimSpace(line)
		if words == "" {
			continue
		}
		if quits(words) {
			return nil
		}
		if _, err := fmt.Fprintf(screen, "\n%s\n\n", show(t.answer(ctx, words), width)); err != nil {
			return fmt.Errorf("write the answer: %w", err)
		}
	}
	return ctx.Err()
}

// Greet writes a text wrapped to the screen, before the conversation begins.
func Greet(out *os.File, text string) error {
	_, err := fmt.Fprintf(out, "%s\n\n", wordwrap.String(text, columns(out)))
	return err
}

func columns(out *os.File) int {
	width, _, err := term.GetSize(int(out.Fd()))
	if err != nil || width < narrowest {
		return widest
	}
	return min(width, widest)
}

// linesKept bounds the lines of earlier conversations.
const linesKept = 500

// past is the lines of this conversation and earlier ones, the newest first,
// in the way term.History wants them. A history that can't be read or written
// is no reason to stop a conversation, so such failures are passed over.
type past struct {
	lines []string
	file  string
}

func openHistory(file string) *past {
	p := &past{file: file}
	f, err := os.Open(file)
	if err != nil {
		return p
	}
	defer f.Close()
	for s := bufio.NewScanner(f); s.Scan(); {
		p.push(s.Text())
	}
	return p
}

func (p *past) push(line string) {
	p.lines = append([]string{line}, p.lines...)
	p.lines = p.lines[:min(len(p.lines), linesKept)]
}

// Add keeps a line.
func (p *past) Add(line string) {
	if strings.TrimSpace(line) == "" || (len(p.lines) > 0 && p.lines[0] == line) {
		return
	}
	p.push(line)
	if p.file == "" {
		return
	}
	text := ""
	for i := len(p.lines) - 1; i >= 0; i-- {
		text += p.lines[i] + "\n"
	}
	_ = os.WriteFile(p.file, []byte(text), 0o600)
}

// Len is how many lines are kept.
func (p *past) Len() int { return len(p.lines) }

// At gives a line, the newest being 0.
func (p *past) At(i int) string { return p.lines[i] }
