package session

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Member is who a place belongs to, as platform:user, "terminal:wren" say: 3 to
// 128 bytes of printing characters with no space and no brace; exactly one
// colon; the platform in small letters and digits.
type Member string

func (m Member) check() error {
	platform, user, _ := strings.Cut(string(m), ":")
	if platform == "" || user == "" || len(m) > 128 {
		return invalid("the member %.140q, expected platform:user in at most 128 bytes", string(m))
	}
	for _, r := range platform {
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') {
			return invalid("the member %q, whose platform is not small letters and digits", string(m))
		}
	}
	if !utf8.ValidString(user) || strings.ContainsFunc(user, func(r rune) bool {
		return !unicode.IsPrint(r) || unicode.IsSpace(r) || strings.ContainsRune(":{}", r)
	}) {
		return invalid("the member %q, whose user has a space, a colon, a brace or an unprintable character", string(m))
	}
	return nil
}

// checkID takes the id of a knit-along: 1 to 64 of the letters A to Z and a to
// z, digits, hyphens, full stops and underscores.
func checkID(id string) error {
	if id == "" || len(id) > 64 {
		return invalid("the knit-along's id %.70q, expected 1 to 64 bytes", id)
	}
	if strings.ContainsFunc(id, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-._", r))
	}) {
		return invalid("the knit-along's id %q, expected only letters, digits, hyphens, full stops and underscores", id)
	}
	return nil
}

// checkText takes a text of one line. The scripts part such texts with tabs and
// line ends, so it must hold no control character.
func checkText(what, text string, least, most int) error {
	if len(text) < least || len(text) > most {
		return invalid("%s has %d bytes, expected %d to %d", what, len(text), least, most)
	}
	if !utf8.ValidString(text) || strings.ContainsFunc(text, unicode.IsControl) {
		return invalid("%s %.80q holds a control character or is not UTF-8", what, text)
	}
	return nil
}

// most is the largest number that Lua and a sorted set keep exactly: 2^53.
const most = 1 << 53

func checkNumber(what string, n, least int64) error {
	if n < least || n > most {
		return invalid("%s is %d, expected %d to %d", what, n, least, int64(most))
	}
	return nil
}

func checkEvent(event string) error { return checkText("the event's id", event, 0, 128) }

func (p Place) check() error {
	return firstError(
		checkText("the section's name", p.Section, 1, 256),
		checkNumber("the row", int64(p.Row), 0),
		checkNumber("the step", int64(p.Step), 0),
		checkNumber("the revision", int64(p.Revision), 1),
		checkText("the size", p.Size, 0, 256),
		checkText("the list of rows left out", p.LeftOut, 0, 4096),
	)
}

func (m Move) check() error {
	if len(m.Answer) > 1024 {
		return invalid("the answer has %d bytes, expected at most 1024", len(m.Answer))
	}
	return firstError(
		m.Member.check(),
		checkEvent(m.Event),
		m.From.check(),
		m.To.check(),
		checkNumber("the number of stitches done", m.Done, 0),
		checkText("the way of moving", m.How, 1, 32),
		checkName(m.Name),
		checkAll(m.All),
	)
}

func checkName(name string) error { return checkText("the name", name, 0, NameMost) }

func checkAll(all int64) error { return checkNumber("the number of stitches in all", all, 0) }

// checkSettings takes names of 1 to 32 small letters and hyphens, and values of
// up to 256 bytes on one line.
func checkSettings(settings map[string]string) error {
	for name, value := range settings {
		if name == "" || len(name) > 32 || strings.ContainsFunc(name, func(r rune) bool { return r != '-' && (r < 'a' || r > 'z') }) {
			return invalid("the setting %.40q, expected 1 to 32 small letters and hyphens", name)
		}
		if err := checkText("the setting "+name, value, 0, 256); err != nil {
			return err
		}
	}
	return nil
}

func checkPattern(text string) error {
	if len(text) == 0 || len(text) > PatternSize {
		return invalid("the pattern has %d bytes, expected 1 to %d", len(text), PatternSize)
	}
	return nil
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
