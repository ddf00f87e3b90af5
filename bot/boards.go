package bot

import (
	"context"
	"errors"
	"strings"

	"clew/reader/listen"
	"clew/session"
)

// boardNow works out what the board tells of a knit-along at this moment.
//
// Errors: those of session.Store.Roster; errUnfit; errNotYet.
func (b *Bot) boardNow(ctx context.Context, about session.About) (*boardFacts, error) {
	roster, err := b.store.Roster(ctx, about.ID)
	if err != nil {
		return nil, err
	}
	p, err := b.firstSize(ctx, about)
	if err != nil {
		return nil, err
	}
	if err := b.weighAll(ctx, about.ID, roster); err != nil {
		return nil, err
	}
	return factsOf(about, roster, p, b.now()), nil
}

// firstSize gives the plan of the current text in its first size.
func (b *Bot) firstSize(ctx context.Context, about session.About) (*plan, error) {
	pattern, err := b.pattern(ctx, revision{about.ID, about.Revision})
	if err != nil {
		return nil, err
	}
	at := session.Place{Revision: about.Revision}
	if len(pattern.Sizes) > 0 {
		at.Size = pattern.Sizes[0]
	}
	return b.planOf(ctx, about.ID, at)
}

// weighAll finds how many stitches there are for those of whom it is not kept. Where
// their text of the pattern is not to be had, it stays unknown.
func (b *Bot) weighAll(ctx context.Context, id string, roster []session.Entrant) error {
	for i, e := range roster {
		if e.All > 0 {
			continue
		}
		p, err := b.planOf(ctx, id, session.Place{Revision: e.Revision, Size: e.Size})
		switch {
		case err == nil:
			roster[i].All = p.Stitches()
		case !errors.Is(err, errUnfit) && !errors.Is(err, session.ErrUnknownRevision):
			return err
		}
	}
	return nil
}

// boardPost is the board as it stands in the channel.
func (f *boardFacts) post() (Post, error) {
	p := Post{Knitalong: f.about.ID, Channel: f.about.Channel, Texts: f.texts(shownName)}
	var err error
	if p.Picture, err = f.picture(p.Texts); err != nil {
		return Post{}, err
	}
	if !f.about.Closed {
		p.Choices = postChoices
	}
	return p, nil
}

// postChoices stand under what is posted for everybody.
var postChoices = []Choice{choiceFor(listen.Next), choiceFor(listen.Join)}

// boardSaidMost is how much of the board is told one who asks, in characters.
const boardSaidMost = 1900

// seeBoard tells one who asks how far everybody is.
func (t *talk) seeBoard(ctx context.Context) (Reply, error) {
	f, err := t.boardNow(ctx, t.about)
	if err != nil {
		return Reply{}, err
	}
	picture, err := f.picture(f.texts(saidName))
	if err != nil {
		return Reply{}, err
	}
	reply := t.say(f.said())
	reply.Picture = picture
	return reply, nil
}

// said tells the board for the ear.
func (f *boardFacts) said() string {
	return strings.ReplaceAll(firstWithin(f.texts(saidName), boardSaidMost), "\n", " ")
}

// board posts the board anew.
func (d *directing) board(ctx context.Context) (Reply, error) {
	title := titleOf(d.about)
	if d.about.Closed {
		return Reply{Said: capital(title) + " is closed. Nothing was changed. Open it again to have its board."}, nil
	}
	soon := Reply{Said: "The board of " + title + " is posted anew within a minute."}
	if d.before.saved {
		return soon, nil
	}
	old := d.about.Board
	err := d.once(func() error {
		if old != "" {
			return d.store.BoardGone(ctx, d.about.ID, old)
		}
		return d.store.Tend(ctx, d.about.ID)
	})
	if err != nil {
		return Reply{}, err
	}
	channels := d.tended.channels(platformOf(d.about.Host))
	if channels == nil {
		return soon, nil
	}
	d.tended.wake(d.about.ID) // a channel that was left alone may be well again
	shown, err := d.tendBoard(ctx, d.about.ID, channels)
	if old != "" {
		d.remove(ctx, channels, d.about, old)
	}
	switch {
	case errors.Is(err, ErrNoChannel):
		return Reply{Said: "The board can't be posted: I may not write in the channel of " + title + ", or it is not there any more."}, nil
	case err != nil && codeOf(err, false) == Internal: // the channel failed, and is tried again
		d.log.Warn().Err(err).Str("knitalong", d.about.ID).Msg("a board was not posted at once")
		return soon, nil
	case err != nil:
		return Reply{}, err
	case shown == boardEmpty:
		return Reply{Said: "Nobody has joined " + title + " yet. Its board is posted when somebody does."}, nil
	case shown == boardWaits:
		return soon, nil
	}
	return Reply{Said: "The board of " + title + " is posted anew."}, nil
}
