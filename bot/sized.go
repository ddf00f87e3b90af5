package bot

import (
	"time"

	"clew/patterns"
	"clew/reader/listen"
)

// One who was asked which size she knits may answer with the size alone, though the
// channel has several knit-alongs; and an answer that names none is told so, and does
// not end the asking.

// A sizeQuestion is the question which size, for a knit-along.
type sizeQuestion struct {
	knitalong string
	at        time.Time
}

// asksWhichSize asks which size she knits, and remembers that it did.
func (t *talk) asksWhichSize(p *patterns.Pattern, before string) Reply {
	t.toJoin.put(t.ask.Member, sizeQuestion{t.about.ID, t.now()})
	said := before + capital(titleOf(t.about)) + " comes in " + list(namesOf(p.Sizes), "and") + ". Which size do you knit?"
	return Reply{Said: said, Choices: sizeChoices(p, listen.Join, "")}
}

// answersWhichSize says that words without a request in them may be her answer to
// that question, and for which knit-along.
func (t *talk) answersWhichSize() (knitalong string, ok bool) {
	q, asked := t.toJoin.get(t.ask.Member)
	if !asked || t.now().Sub(q.at) >= askedFor || t.ask.Pressed != nil || t.ask.Heard != nil || len(t.ask.Words) > askedLong {
		return "", false
	}
	switch t.hears().Intent {
	case listen.None, listen.Unsure:
		return q.knitalong, true
	}
	return "", false
}
