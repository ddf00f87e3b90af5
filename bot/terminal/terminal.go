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

// A Talk is one member's conversation: about one knit-along, or in a group, which
// is to a terminal what a server and its one channel are elsewhere.
type Talk struct {
	Bot       *bot.Bot
	Member    session.Member
	Nick      string        // the name that she gave
	Knitalong string        // the one that it is about; "" in a group
	Group     string        // the group's name, of letters, digits and hyphens; "" for none
	NewID     func() string // names each line as an event of its own
	Pictures  string        // the folder that pictures are put into, made when there is one; "" tells what is to be seen, and no more
	Files     string        // the same for files
	Posts     string        // the folder that the group's board and announcements are put into; "" looks after no group
}

// Lines reads lines until the input ends, or until a line says quit, and
// writes one answer a line. Below it stand the paths of its picture and its files
// and the lines of a report, if it has any. There is no prompt. The last line counts
// even without an end. After each answer the group's channel is looked after. Errors
// are those of reading and writing, and of the context.
func (t Talk) Lines(ctx context.Context, in io.Reader, out io.Writer) error {
	talk := &talking{Talk: t}
	channel := Channel{Folder: t.Posts, Show: func(text string) { _, _ = io.WriteString(out, text+"\n") }} // an out that fails shows with the next answer
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
		reply := talk.answer(ctx, words)
		lines := append([]string{said(reply)}, t.below(reply)...)
		if _, err := io.WriteString(out, strings.Join(lines, "\n")+"\n"); err != nil {
			return fmt.Errorf("write the answer: %w", err)
		}
		if t.Posts != "" {
			t.Bot.Tend(ctx, Platform, channel)
		}
		return nil
	})
	if errors.Is(err, errQuit) {
		return nil
	}
	return err
}

// below gives the lines that stand below a reply, each to be left whole.
func (t Talk) below(r bot.Reply) []string {
	var lines []string
	if line := t.pictured(r); line != "" {
		lines = append(lines, line)
	}
	lines = append(lines, t.filed(r)...)
	if report := strings.TrimRight(r.Report, "\n"); report != "" {
		for line := range strings.SplitSeq(report, "\n") {
			lines = append(lines, shown(line))
		}
	}
	return lines
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

// A talking is a conversation as it goes on.
type talking struct {
	Talk
	offered   []bot.Choice // of the last answer to an order
	knitalong string       // that it was about
}

// answer answers a line: words, a host's order, or one of the choices that the last
// answer to an order offered.
func (t *talking) answer(ctx context.Context, words string) bot.Reply {
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	words = strings.ToValidUTF8(words, "")
	offered, about := t.offered, t.knitalong
	t.offered, t.knitalong = nil, ""
	if t.Group != "" && orders(words) {
		o, err := order(words)
		if err != nil {
			return bot.Reply{Said: err.Error()}
		}
		return t.direct(ctx, o)
	}
	plain := strings.TrimRight(words, ".! ")
	for _, c := range offered {
		yes := len(offered) == 1 && (strings.EqualFold(plain, "yes") || strings.EqualFold(plain, "yes please"))
		if o, ok := c.Order(); ok && (yes || strings.EqualFold(plain, c.Label)) {
			if o.Knitalong == "" {
				o.Knitalong = about
			}
			return t.direct(ctx, o)
		}
	}
	ask := bot.Ask{Member: t.Member, Nick: t.Nick, Knitalong: t.Knitalong, Words: words, Event: t.NewID()}
	ask.Server, ask.Channel = t.held()
	return t.Bot.Answer(ctx, ask)
}

// sayable tells choices to one who has no buttons.
func sayable(choices []bot.Choice) string {
	labels := make([]string, len(choices))
	for i, c := range choices {
		labels[i] = strings.ToLower(c.Label)
	}
	return "You can say: " + strings.Join(labels, "; ") + "."
}

// held says where the group is, in the store's terms.
func (t Talk) held() (server, channel string) {
	if t.Group == "" {
		return "", ""
	}
	return Platform + ":" + t.Group, t.Group
}

// direct carries out a host's order. Whoever shares the store may begin something in
// it; what is begun is its host's.
func (t *talking) direct(ctx context.Context, o bot.Order) bot.Reply {
	o.Member, o.Nick, o.Event = t.Member, t.Nick, t.NewID()
	o.Server, o.Channel = t.held()
	o.Manages = o.Deed == bot.Start || o.Deed == bot.Check
	reply := t.Bot.Direct(ctx, o)
	for _, c := range reply.Choices {
		if _, ok := c.Order(); ok {
			t.offered, t.knitalong = append(t.offered, c), reply.Knitalong
		}
	}
	if len(t.offered) > 0 {
		reply.Said += " " + sayable(t.offered)
	}
	if reply.Invite != nil {
		reply.Said += " Everybody here hears: " + reply.Invite.Said + " To knit along, say join; then say next row when you are ready."
	}
	return reply
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
