package bot

import (
	"context"
	"strings"

	"clew/patterns"
	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// stranger answers one who has not joined: she may join, in the size that she
// names, and nothing else.
func (t *talk) stranger(ctx context.Context) (Reply, error) {
	about, err := t.store.About(ctx, t.ask.Knitalong)
	if err != nil {
		return Reply{}, err
	}
	l, err := t.listener(ctx, t.ask.Knitalong, about.Revision)
	if err != nil {
		return Reply{}, err
	}
	pattern, err := t.pattern(ctx, revision{t.ask.Knitalong, about.Revision})
	if err != nil {
		return Reply{}, err
	}
	size := sizeIn(pattern, t.ask.Words)
	if t.ask.Heard != nil {
		t.heard = *t.ask.Heard
	} else {
		t.heard = l.Hear(t.ask.Words)
	}
	switch {
	case t.heard.Intent == listen.Forget:
		return t.forget(ctx)
	case t.heard.Intent != listen.Join && size == "":
		return Reply{Said: "You have not joined " + reader.Name(about.Title) + ". Say join to join it.", Choices: []listen.Intent{listen.Join}}, nil
	case size == "" && len(pattern.Sizes) > 1 && t.state.Section == "":
		return Reply{Said: "Which size do you knit? Say one of these: " + speakList(pattern.Sizes) + "."}, nil
	}
	t.heard.Intent = listen.Join
	if err := t.Join(ctx, t.ask.Knitalong, t.ask.Member, size, t.ask.Event); err != nil {
		return Reply{}, err
	}
	if t.state, err = t.store.State(ctx, t.ask.Knitalong, t.ask.Member); err != nil {
		return Reply{}, err
	}
	if err := t.load(ctx); err != nil {
		return Reply{}, err
	}
	return t.readHere("You have joined " + reader.Name(about.Title) + sizeWords(t.plan) + ". "), nil
}

// Join puts a member before the first row of a knit-along, in a size by its
// name; empty is the first. One who has joined before keeps her place.
//
// Errors: those of session.Store.Join, and a sentence for a size that does not
// exist.
func (b *Bot) Join(ctx context.Context, knitalong string, member session.Member, size, event string) error {
	about, err := b.store.About(ctx, knitalong)
	if err != nil {
		return err
	}
	pattern, err := b.pattern(ctx, revision{knitalong, about.Revision})
	if err != nil {
		return err
	}
	i, err := pattern.SizeIndex(size)
	if err != nil {
		return err
	}
	at := session.Place{Section: pattern.Sections[0].Name, Revision: about.Revision}
	if len(pattern.Sizes) > 0 {
		at.Size = pattern.Sizes[i]
	}
	_, err = b.store.Join(ctx, knitalong, member, at, nil, event, b.now())
	return err
}

func sizeWords(p *plan) string {
	if len(p.Pattern.Sizes) == 0 {
		return ""
	}
	return " in size " + reader.Name(p.Pattern.Sizes[p.Size])
}

// sizeIn gives the size that an answer such as "size medium" or "medium,
// please" names, or nothing. Every word of it has to be accounted for, since
// a size moves a member.
func sizeIn(p *patterns.Pattern, words string) string {
	said := bare(words)
	for _, lead := range []string{"join in size ", "join in ", "join size ", "join ", "change to size ", "change size to ", "i knit size ", "i am knitting size ", "in size ", "size ", "the "} {
		if rest, ok := strings.CutPrefix(said, lead); ok {
			said = rest
			break
		}
	}
	said = strings.TrimSuffix(strings.TrimSuffix(said, " please"), " size")
	for _, size := range p.Sizes {
		if said == bare(size) || said == bare(reader.Name(size)) {
			return size
		}
	}
	return ""
}

// bare gives words in lower case, without punctuation and with single spaces.
func bare(words string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(words), func(r rune) bool {
		return strings.ContainsRune(" \t,.;:!?'\"-", r)
	}), " ")
}

func speakList(names []string) string {
	spoken := make([]string, len(names))
	for i, n := range names {
		spoken[i] = reader.Name(n)
	}
	if len(spoken) < 2 {
		return strings.Join(spoken, "")
	}
	return strings.Join(spoken[:len(spoken)-1], ", ") + " or " + spoken[len(spoken)-1]
}

func (t *talk) leave(ctx context.Context) (Reply, error) {
	if err := t.store.Leave(ctx, t.ask.Knitalong, t.ask.Member); err != nil {
		return Reply{}, err
	}
	return Reply{Said: "You have left the knit-along. Your place is kept; say join to come back to it.", Choices: []listen.Intent{listen.Join}}, nil
}

func (t *talk) forget(ctx context.Context) (Reply, error) {
	if err := t.store.Forget(ctx, t.ask.Knitalong, t.ask.Member); err != nil {
		return Reply{}, err
	}
	return Reply{Said: "All that was kept of you here is deleted: your place, your settings and your moves.", Choices: []listen.Intent{listen.Join}}, nil
}
