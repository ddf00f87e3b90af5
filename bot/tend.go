package bot

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strconv"
	"sync"
	"time"

	"clew/session"
)

// How long what is done for a channel may take. An announcement is posted well
// before its claim ends, and a board before the next edit may be claimed, so that
// nothing older lands behind something newer. What was done is noted even where
// tending ends meanwhile.
const (
	announceWithin = session.AnnounceLease * 2 / 3
	showWithin     = session.BoardSpacing * 2 / 3
	noteWithin     = 4 * time.Second
	lookWithin     = 10 * time.Second
)

// TendEvery is how often Tending looks.
const TendEvery = 3 * time.Second

// tendedAtOnce is how many knit-alongs one look tends at once.
const tendedAtOnce = 8

// Tend looks after the channels of a platform's knit-alongs, once: it announces
// each session that has opened, and edits each board that has changed. Several
// processes may tend at once; each thing is done by one of them. What failed is
// logged once, until it goes well again, and is tried again by and by.
func (b *Bot) Tend(ctx context.Context, platform string, channels Channels) {
	b.tended.serve(platform, channels)
	looking, cancel := context.WithTimeout(ctx, lookWithin)
	due, err := b.store.Due(looking, platform, b.now())
	cancel()
	if ctx.Err() != nil {
		return
	}
	if b.tended.looked(err) {
		b.log.Warn().Err(err).Str("platform", platform).Bool("well", err == nil).Msg("looking after channels: whether the store can be reached has changed")
	}
	room := make(chan struct{}, tendedAtOnce)
	var all sync.WaitGroup
	for _, d := range due {
		if !b.tended.begin(d.ID, b.now()) {
			continue
		}
		room <- struct{}{}
		all.Go(func() {
			defer func() {
				b.tended.end(d.ID)
				<-room
			}()
			b.tendOne(ctx, d, channels)
		})
	}
	all.Wait()
}

// Tending tends every TendEvery until ctx ends. It looks again though a channel is
// slow, so that one keeps none but itself waiting.
func (b *Bot) Tending(ctx context.Context, platform string, channels Channels) {
	var looks sync.WaitGroup
	defer looks.Wait()
	for {
		looks.Go(func() { b.Tend(ctx, platform, channels) })
		select {
		case <-ctx.Done():
			return
		case <-time.After(TendEvery):
		}
	}
}

// tendOne does what is due for a knit-along. The board does not wait for an
// announcement that could not be posted.
func (b *Bot) tendOne(ctx context.Context, due session.Due, channels Channels) {
	_, err := unbroken(ctx, func(ctx context.Context) (none struct{}, err error) {
		if due.Announce {
			err = b.announceOpened(ctx, due.ID, channels)
		}
		if due.Board && !errors.Is(err, ErrNoChannel) {
			_, boardErr := b.tendBoard(ctx, due.ID, channels)
			err = errors.Join(err, boardErr)
		}
		return none, err
	})
	if ctx.Err() != nil {
		return // the process ends, which is no fault of the channel
	}
	if b.tended.ended(due.ID, b.now(), err) {
		b.log.Warn().Err(err).Str("knitalong", due.ID).Bool("well", err == nil).Msg("looking after a channel: whether that goes well has changed")
	}
}

// announceOpened announces each session that has opened and is not announced.
func (b *Bot) announceOpened(ctx context.Context, id string, channels Channels) error {
	for range session.SessionsMost {
		claimed, ok, err := b.store.ClaimAnnouncement(ctx, id, b.now())
		if err != nil || !ok {
			return err
		}
		if err := b.announce(ctx, id, claimed, channels); err != nil {
			return err
		}
	}
	return nil
}

// announce posts the announcement of a session that was claimed, and notes it. One
// that this process has posted before, and could not note, is noted alone.
func (b *Bot) announce(ctx context.Context, id string, opened session.Session, channels Channels) error {
	key := postKey("session", id, strconv.Itoa(opened.Number))
	if !b.tended.isPosted(key) {
		posting, cancel := context.WithTimeout(ctx, announceWithin)
		defer cancel()
		about, err := b.store.About(posting, id)
		if err != nil {
			return err
		}
		p, err := b.announcement(posting, about, opened)
		if err != nil {
			return err
		}
		p.Key = key
		if _, err := channels.Post(posting, p); err != nil {
			return fmt.Errorf("post the announcement of session %d: %w", opened.Number, err)
		}
		b.tended.setPosted(key, true)
	}
	noting, cancel := context.WithTimeout(context.WithoutCancel(ctx), noteWithin)
	defer cancel()
	if err := b.store.Announced(noting, id, opened.Number, b.now()); err != nil && !errors.Is(err, session.ErrUnknownSession) {
		return fmt.Errorf("note that session %d is announced: %w", opened.Number, err)
	}
	b.tended.setPosted(key, false)
	return nil
}

// A showing is what came of showing a board.
type showing uint8

// What may come of it.
const (
	boardWaits showing = iota // it was shown too lately, and is shown by and by
	boardEmpty                // nobody has joined, so there is none
	boardShown
)

// tendBoard shows the board in its channel, if it has changed and may be shown.
func (b *Bot) tendBoard(ctx context.Context, id string, channels Channels) (showing, error) {
	showCtx, cancel := context.WithTimeout(ctx, showWithin)
	defer cancel()
	claim, ok, err := b.store.ClaimBoard(showCtx, id, b.now())
	if err != nil || !ok {
		return boardWaits, err
	}
	about, err := b.store.About(showCtx, id)
	if err != nil {
		return boardWaits, err
	}
	f, err := b.boardNow(showCtx, about)
	if err != nil {
		return boardWaits, err
	}
	if len(f.knitters) == 0 && claim.Message == "" {
		return boardEmpty, b.noteShown(ctx, id, claim.Change, "")
	}
	p, err := f.post()
	if err != nil {
		return boardWaits, err
	}
	message, change, err := b.show(showCtx, claim, p, channels)
	if err != nil {
		return boardWaits, fmt.Errorf("show the board: %w", err)
	}
	if err := b.noteShown(ctx, id, change, message); err != nil {
		return boardWaits, err
	}
	if claim.Message != "" && message != claim.Message {
		b.remove(ctx, channels, about, claim.Message)
	}
	return boardShown, nil
}

// show edits the message that has the board, or posts it, and gives the message and
// the change that it shows for certain.
//
// A process may have posted it and been killed before that was noted. The key is the
// same until it is, so the channel gives that message for ours. It may show an
// earlier change, so no newer one counts as shown, and it is edited once more.
func (b *Bot) show(ctx context.Context, claim session.Showing, p Post, channels Channels) (message string, change int64, err error) {
	if claim.Message != "" {
		if err := channels.Edit(ctx, claim.Message, p); !errors.Is(err, ErrGone) {
			return claim.Message, claim.Change, err
		}
	}
	p.Key = postKey("board", p.Knitalong, claim.Last)
	message, err = channels.Post(ctx, p)
	return message, claim.Shown, err
}

// noteShown notes which change of the board a message shows.
func (b *Bot) noteShown(ctx context.Context, id string, change int64, message string) error {
	noting, cancel := context.WithTimeout(context.WithoutCancel(ctx), noteWithin)
	defer cancel()
	if err := b.store.BoardShown(noting, id, change, message); err != nil {
		return fmt.Errorf("note that the board is shown: %w", err)
	}
	return nil
}

// remove deletes a message that had the board. One that stays does no harm but that
// it is old, so a failure is logged alone.
func (b *Bot) remove(ctx context.Context, channels Channels, about session.About, message string) {
	removing, cancel := context.WithTimeout(context.WithoutCancel(ctx), noteWithin)
	defer cancel()
	if err := channels.Remove(removing, about.Channel, message); err != nil {
		b.log.Warn().Err(err).Str("knitalong", about.ID).Msg("an old board was not removed")
	}
}

// keyLength is the length of the key of a post.
const keyLength = 25

// postKey names a post by what it is.
func postKey(kind, knitalong, which string) string {
	sum := sha256.Sum256([]byte(kind + "\x00" + knitalong + "\x00" + which))
	return hex.EncodeToString(sum[:])[:keyLength]
}

// BoardGone is told that a message in a channel was deleted by somebody: where it
// was a board, that is posted again.
func (b *Bot) BoardGone(ctx context.Context, server, channel, message string) error {
	_, held, err := b.store.Around(ctx, nobody, server)
	if err != nil {
		return err
	}
	held, _ = apart(held, func(h session.Held) bool { return h.Channel == channel })
	abouts, err := b.store.Abouts(ctx, idsOf(held))
	if err != nil {
		return err
	}
	for _, about := range abouts {
		if about.Board == message {
			return b.store.BoardGone(ctx, about.ID, message)
		}
	}
	return nil
}

// nobody asks around for no member.
var nobody = session.Nobody("clew")
