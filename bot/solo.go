package bot

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"

	"clew/patterns"
	"clew/reader"
	"clew/session"
)

// Solo opens a knit-along of one pattern that a knitter works by herself, and
// gives its id. The pattern must be free of errors. The first time it is
// started and joined; later the member is where she was. A text that has
// changed since is taken as a correction: she keeps her row, or goes to the
// nearest before it where the row is gone, and the notice says so.
func (b *Bot) Solo(ctx context.Context, member session.Member, p *patterns.Pattern, text string) (id, notice string, err error) {
	id = soloID(p.Title)
	err = b.store.Start(ctx, session.About{ID: id, Title: p.Title, Host: member, Channel: "solo", Started: b.now()}, text)
	if err != nil && !errors.Is(err, session.ErrStarted) {
		return "", "", fmt.Errorf("start the knit-along: %w", err)
	}
	number, err := b.store.AddRevision(ctx, id, text)
	if err != nil {
		return "", "", fmt.Errorf("keep the pattern: %w", err)
	}
	if err := b.Join(ctx, id, member, "", ""); err != nil {
		return "", "", fmt.Errorf("join the knit-along: %w", err)
	}
	notice, err = b.toRevision(ctx, id, member, number)
	return id, notice, err
}

// soloID makes an id out of a title: its plain letters, for people who look
// into the store, and a hash, since titles may share those or have none.
func soloID(title string) string {
	slug := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r == ' ':
			return '-'
		}
		return -1
	}, strings.ToLower(title))
	sum := sha256.Sum256([]byte(strings.ToLower(title)))
	return "solo-" + slug[:min(len(slug), 40)] + "-" + hex.EncodeToString(sum[:4])
}

// toRevision takes a member to a revision of the pattern without moving her
// row, where the pattern still has it.
func (b *Bot) toRevision(ctx context.Context, id string, member session.Member, number int) (string, error) {
	for range movesTried {
		state, err := b.store.State(ctx, id, member)
		if err != nil || state.Revision == number {
			return "", err
		}
		to := state.Place
		to.Revision = number
		p, notice, err := b.fitting(ctx, id, &to)
		if err != nil {
			return "", err
		}
		done := int64(0)
		if i := p.indexOf(to); i >= 0 {
			done = p.Rows[i].Worked
			if r := p.Rows[i]; r.Section.Name != to.Section || r.Number != to.Row {
				to.Section, to.Row, to.Step = r.Section.Name, r.Number, 0
				notice += "Your row is no longer in it; you are now at " + rowWord(r.Rounds) + " " + reader.Number(r.Number) + " of " + reader.Name(r.Section.Name) + ". "
			}
		}
		_, err = b.store.Move(ctx, id, session.Move{Member: member, From: state.Place, To: to, How: "corrected", Done: done, At: b.now()})
		var stale *session.Stale
		if errors.As(err, &stale) {
			continue
		}
		return "The pattern has changed since you were here. " + notice, err
	}
	return "", errors.New("the place kept moving while the pattern was changed")
}

// fitting finds the plan of a changed pattern for a place. A size or rows left
// out that it no longer has are given up.
func (b *Bot) fitting(ctx context.Context, id string, to *session.Place) (*plan, string, error) {
	p, err := b.planOf(ctx, id, *to)
	if err == nil {
		return p, "", nil
	}
	pattern, readErr := b.pattern(ctx, revision{id, to.Revision})
	if readErr != nil {
		return nil, "", readErr
	}
	notice := ""
	if _, err := pattern.SizeIndex(to.Size); err != nil || (to.Size == "" && len(pattern.Sizes) > 0) {
		to.Size = ""
		if len(pattern.Sizes) > 0 {
			to.Size = pattern.Sizes[0]
			notice = "Your size is no longer in it; you now knit " + reader.Name(to.Size) + ". "
		}
	}
	to.LeftOut = ""
	p, err = b.planOf(ctx, id, *to)
	return p, notice, err
}
