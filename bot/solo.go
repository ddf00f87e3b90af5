package bot

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"strings"

	"clew/patterns"
	"clew/session"
)

// Solo opens a knit-along of one pattern that a knitter works by herself, and
// gives its id. The pattern must be free of errors. The first time it is
// started and joined; later the member is where she was. A text that has
// changed since is taken as a correction: she keeps her row, and the next answer
// tells her, once, what it changes of what she has worked. It is hers to give it
// other sizes or another cast-on, which a group's host may not.
//
// Errors: those of session.Store's Start, AddRevision, About and Join.
func (b *Bot) Solo(ctx context.Context, member session.Member, p *patterns.Pattern, text string) (id string, err error) {
	id = soloID(p.Title)
	err = b.store.Start(ctx, session.About{ID: id, Title: p.Title, Host: member, Channel: "solo", Started: b.now()}, text)
	if err != nil && !errors.Is(err, session.ErrStarted) {
		return "", err
	}
	if _, err := b.store.AddRevision(ctx, id, text, nil); err != nil {
		return "", err
	}
	about, err := b.store.About(ctx, id)
	if err != nil {
		return "", err
	}
	_, err = b.join(ctx, about, p, "", session.Joining{Member: member})
	return id, err
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
