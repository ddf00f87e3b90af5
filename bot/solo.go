package bot

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"clew/patterns"
	"clew/session"
)

// Solo opens a knit-along of one pattern that a knitter works by herself, and
// gives its id. The pattern must be free of errors. The first time it is
// started and joined; later the member is where she was. A text that has
// changed since is taken as a correction: she keeps her row, and the next
// answer tells her of it.
//
// Errors: a name in the pattern that can't be kept; those of session.Store's
// Start, AddRevision, About and Join.
func (b *Bot) Solo(ctx context.Context, member session.Member, p *patterns.Pattern, text string) (id string, err error) {
	if err := namesCanBeKept(p); err != nil {
		return "", err
	}
	id = soloID(p.Title)
	err = b.store.Start(ctx, session.About{ID: id, Title: p.Title, Host: member, Channel: "solo", Started: b.now()}, text)
	if err != nil && !errors.Is(err, session.ErrStarted) {
		return "", err
	}
	if _, err := b.store.AddRevision(ctx, id, text); err != nil {
		return "", err
	}
	about, err := b.store.About(ctx, id)
	if err != nil {
		return "", err
	}
	return id, b.join(ctx, about, p, member, "", "")
}

// nameMost is the longest name that the store keeps, in bytes.
const nameMost = 256

// namesCanBeKept refuses a pattern with a name that the store would refuse
// later, with the knitting begun.
func namesCanBeKept(p *patterns.Pattern) error {
	named := map[string][]string{"title": {p.Title}, "name of a size": p.Sizes}
	for _, s := range p.Sections {
		named["name of a section"] = append(named["name of a section"], s.Name)
	}
	for _, what := range []string{"title", "name of a size", "name of a section"} {
		for _, name := range named[what] {
			switch {
			case name == "":
				return fmt.Errorf("the pattern has an empty %s; write one", what)
			case len(name) > nameMost:
				return fmt.Errorf("the pattern's %s %.40q... takes %d bytes, and at most %d can be kept; shorten it", what, name, len(name), nameMost)
			case strings.ContainsFunc(name, unicode.IsControl) || !utf8.ValidString(name):
				return fmt.Errorf("the pattern's %s %.80q has a character that can't be shown; take it out", what, name)
			}
		}
	}
	return nil
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
