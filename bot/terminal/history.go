package terminal

import (
	"os"
	"strings"
)

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
	text, err := os.ReadFile(file)
	if err != nil {
		return p
	}
	for line := range strings.Lines(string(text)) {
		p.push(strings.TrimRight(line, "\n"))
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
	var text strings.Builder
	for i := len(p.lines) - 1; i >= 0; i-- {
		text.WriteString(p.lines[i] + "\n")
	}
	_ = os.WriteFile(p.file, []byte(text.String()), 0o600)
}

// Len is how many lines are kept.
func (p *past) Len() int { return len(p.lines) }

// At gives a line, the newest being 0.
func (p *past) At(i int) string { return p.lines[i] }
