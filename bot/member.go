package bot

import (
	"context"
	"errors"
	"strings"

	"clew/patterns"
	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// stranger answers one who has not joined: she may join, in the size that she
// names, and nothing else.
func (t *talk) stranger(ctx context.Context) (Reply, error) {
	pattern, err := t.pattern(ctx, revision{t.ask.Knitalong, t.about.Revision})
	if err != nil {
		return Reply{}, err
	}
	if t.ask.Heard != nil {
		t.heard = *t.ask.Heard
	} else if err := t.listen(ctx); err != nil {
		return Reply{}, err
	}
	if t.heard.Intent == listen.Leave {
		// A leaving that came before is answered again, and one that broke off
		// is ended.
		if reply, err := t.leave(ctx); !errors.Is(err, session.ErrNotJoined) {
			return reply, err
		}
	}
	size := sizeToJoin(pattern, t.ask.Words)
	known := t.state.Section != "" // she was here before, and her size is kept
	switch {
	case t.heard.Intent == listen.Forget:
		return t.forget(ctx)
	case t.heard.Intent != listen.Join && size == "":
		return Reply{Said: "You have not joined " + reader.Name(t.about.Title) + ". Nothing has moved. Say join to join it.", Choices: joinAlone}, nil
	case size == "" && len(pattern.Sizes) > 1 && !known:
		return Reply{Said: "Which size do you knit? Say one of these: " + list(namesOf(pattern.Sizes), "or") + ".", Choices: joinAlone}, nil
	}
	t.heard = listen.Heard{Intent: listen.Join, Sure: true}
	if err := t.join(ctx, t.about, pattern, t.ask.Member, size, t.ask.Event); err != nil {
		return Reply{}, err
	}
	t.saved = true
	if err := t.refresh(ctx); err != nil {
		return Reply{}, err
	}
	said := "You have joined "
	if known {
		said = "Welcome back to "
	}
	said += reader.Name(t.about.Title)
	if sizes := t.plan.Pattern.Sizes; len(sizes) > 1 {
		said += " in size " + reader.Name(sizes[t.plan.Size])
	}
	t.begun = t.here() >= 0
	return t.readHere(said + ". " + t.changed), nil
}

// sizeToJoin gives the size that the answer to "which size do you knit" names,
// or that is named together with joining, or nothing.
func sizeToJoin(p *patterns.Pattern, words string) string {
	said := strings.TrimSuffix(bare(words), " please")
	for _, lead := range []string{"join in ", "join as ", "join ", ""} {
		rest, ok := strings.CutPrefix(said, lead)
		if !ok {
			continue
		}
		if size := sizeNamed(p, strings.TrimPrefix(rest, "the ")); size != "" {
			return size
		}
		if size := sizeAsked(p, rest); size != "" {
			return size
		}
	}
	return ""
}

// join puts a member before the first row of a knit-along, in one of the
// pattern's sizes; empty is the first. One who has joined before keeps her
// place.
func (b *Bot) join(ctx context.Context, about session.About, pattern *patterns.Pattern, member session.Member, size, event string) error {
	at := session.Place{Section: pattern.Sections[0].Name, Revision: about.Revision, Size: size}
	if size == "" && len(pattern.Sizes) > 0 {
		at.Size = pattern.Sizes[0]
	}
	_, err := b.store.Join(ctx, about.ID, member, at, nil, event, b.now())
	return err
}

// joinAgain is for one who has joined already: what a join that broke off has
// left undone is done now.
func (t *talk) joinAgain(ctx context.Context) (Reply, error) {
	if _, err := t.store.Join(ctx, t.ask.Knitalong, t.ask.Member, t.state.Place, nil, t.ask.Event, t.now()); err != nil {
		return Reply{}, err
	}
	return t.say("You have joined already. " + t.whereWords()), nil
}

func (t *talk) leave(ctx context.Context) (Reply, error) {
	if err := t.store.Leave(ctx, t.ask.Knitalong, t.ask.Member, t.ask.Event); err != nil {
		return Reply{}, err
	}
	return Reply{Said: "You have left the knit-along. Your place is kept; say join to come back to it.", Choices: joinAlone}, nil
}

// forgetSurely are the words that delete. They say all that they do, so nothing
// has to be remembered between the asking and the answer, and no yes that was
// meant for something else deletes.
var forgetSurely = map[string]bool{"yes forget me": true, "yes please forget me": true, "yes forget me please": true}

// forget deletes what is kept of somebody, who is asked first: dictated words
// may have been meant for another, and nothing brings it back.
func (t *talk) forget(ctx context.Context) (Reply, error) {
	if !forgetSurely[bare(t.ask.Words)] {
		return Reply{Said: "This deletes your place, your settings and your moves for good. Say yes, forget me to do it."}, nil
	}
	if err := t.store.Forget(ctx, t.ask.Knitalong, t.ask.Member); err != nil {
		return Reply{}, err
	}
	return Reply{Said: "All that was kept of you here is deleted: your place, your settings and your moves.", Choices: joinAlone}, nil
}

// stumble notes that a row gave the member pause. It is for the host's eyes
// alone, so a failure is logged and the answer goes out all the same.
func (t *talk) stumble(ctx context.Context) {
	if t.at.Row == 0 {
		return
	}
	if err := t.store.Stumble(ctx, t.ask.Knitalong, t.ask.Member, t.at.Section, t.at.Row, t.ask.Event); err != nil {
		t.log.Warn().Err(err).Str("member", string(t.ask.Member)).Msg("a stumble was not noted")
	}
}
