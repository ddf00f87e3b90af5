package bot

import (
	"context"
	"strings"
	"time"

	"clew/reader/listen"
	"clew/session"
)

// Where an answer asks back for what was missing, such as a unit, the next words
// may be the answer to that alone: "my head is fifty-seven" and "centimetres". So
// the words that were asked with are remembered, for a while, by this process
// alone: where it is started again in between, she says all of it once more.

// askedFor is how long an answer to a question is waited for.
const askedFor = 10 * time.Minute

// askedMost bounds each of the two halves of the questions that are remembered,
// and askedLong the bytes of words that one can be about.
const (
	askedMost = 1 << 11
	askedLong = 300
)

// asks is what an answer asks back for.
type asks uint8

const (
	asksNothing asks = iota
	asksAmount       // how much, or in which unit
	asksName         // which yarn
)

// A question is one that has been asked back.
type question struct {
	words string // that it is about
	asks  asks
	at    time.Time
}

// asker is who was asked, and in which knit-along.
type asker struct {
	knitalong string
	member    session.Member
}

// asker is who asks now.
func (t *talk) asker() asker { return asker{t.ask.Knitalong, t.ask.Member} }

// noteAsked remembers the question of an answer, and forgets the one before once
// anything else was understood. A request that failed, or that came before,
// leaves it open.
func (t *talk) noteAsked(reply Reply, err error) {
	if err != nil || t.before.answered {
		return
	}
	inWords := t.ask.Pressed == nil && t.ask.Heard == nil && len(t.ask.Words) <= askedLong
	switch back := t.asksBack(reply); {
	case back != asksNothing && inWords:
		t.asked.put(t.asker(), question{t.ask.Words, back, t.now()})
	case t.heard.Intent != listen.None && t.heard.Intent != listen.Unsure:
		t.asked.forget(t.asker())
	}
}

// asksBack is what an answer asks back for. Leaving rows out moves a place, so
// nothing is added to that.
func (t *talk) asksBack(reply Reply) asks {
	switch w := t.heard.Fit; {
	case t.heard.Intent == listen.Yarn:
		return t.asks
	case t.heard.Intent != listen.Fit || w == nil || movesPlace(w.Kind):
	case w.Kind == listen.Sizes && !w.HasNumber && w.Number == 0:
		return asksAmount
	default:
		if end := strings.IndexAny(reply.Said, ".!?"); end >= 0 && reply.Said[end] == '?' {
			return asksAmount
		}
	}
	return asksNothing
}

func movesPlace(k listen.FitKind) bool { return k == listen.LeaveOut || k == listen.WorkAll }

// answersAsked takes words for the answer to the question that was asked back,
// where they are one, and puts what was asked in whole in their place.
func (t *talk) answersAsked(ctx context.Context) (answers bool, err error) {
	if t.before.answered {
		if answers = t.before.goneOn != ""; answers {
			t.ask.Words = t.before.goneOn
			err = t.listen(ctx)
		}
		return answers, err
	}
	q, open := t.asked.get(t.asker())
	if !open || t.now().Sub(q.at) >= askedFor || len(t.ask.Words) > askedLong {
		return false, nil
	}
	l, err := t.hearing(ctx)
	if err != nil || !t.mayAnswer(l.Hear(t.ask.Words)) {
		return false, err
	}
	before := l.Hear(q.words)
	for _, words := range listen.Continue(q.words, t.ask.Words) {
		h := l.Hear(words)
		if len(words) <= askedLong && h.Intent == before.Intent && saysMore(before, h, q.asks) {
			t.ask.Words, t.heard, t.goneOn = words, h, words
			return true, nil
		}
	}
	return false, nil
}

// mayAnswer says that words, as heard by themselves, may be the answer to a
// question: they ask for nothing else.
func (t *talk) mayAnswer(own listen.Heard) bool {
	switch own.Intent {
	case listen.None, listen.Unsure, listen.Count, listen.Fit, listen.Yarn, listen.Explain: // a unit, or a yarn's abbreviation, may stand in the glossary
		return t.setting() == nil
	case listen.Settings: // to tell lengths in a unit
		return own.Unit != ""
	}
	return false
}

// saysMore says that a request is the one before with more of what was asked back
// for. A name alone answers only where it was asked which yarn, so that no chatter
// is taken for one.
func saysMore(before, h listen.Heard, back asks) bool {
	switch {
	case before.Fit != nil && h.Fit != nil:
		was, is := *before.Fit, *h.Fit
		was.Section, is.Section = "", ""
		return was.Kind == is.Kind && !movesPlace(is.Kind) && was != is
	case before.Intent == listen.Yarn && h.Yarn != nil:
		var was listen.YarnWish
		if before.Yarn != nil {
			was = *before.Yarn
		}
		is := *h.Yarn
		if back != asksName {
			was.Yarn, is.Yarn = "", ""
		}
		return was != is
	}
	return false
}
