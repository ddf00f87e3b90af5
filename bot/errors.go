package bot

import (
	"errors"

	"clew/session"
)

// A Code names what went wrong, for adapters.
type Code string

// The codes.
const (
	NoKnitalong Code = "no-knitalong" // there is no such knit-along
	NotJoined   Code = "not-joined"
	Unreachable Code = "unreachable" // the store is away, or would not save, or a pattern is not ready yet; nothing has changed
	Uncertain   Code = "uncertain"   // it is not known whether the request was saved
	Unread      Code = "unread"      // the request was saved, and only its answer is missing
	Internal    Code = "internal"
)

// A Failure is a request that could not be served. Its ID stands in the log
// beside the cause, which people do not see.
type Failure struct {
	Code Code
	ID   string
}

// failed words an error for the member, and logs it.
func (t *talk) failed(err error) Reply {
	return t.Bot.failed(err, t.saved, failures, t.ask.Member, t.ask.Knitalong, t.ask.Event)
}

// failed words an error that came before or after the request was saved, and
// logs it.
func (b *Bot) failed(err error, saved bool, words map[Code]string, member session.Member, knitalong, event string) Reply {
	code := codeOf(err, saved)
	if words[code] == "" {
		code = Internal
	}
	id := b.newID()
	b.log.Error().Err(err).Str("id", id).Str("code", string(code)).Str("member", string(member)).
		Str("knitalong", knitalong).Str("event", event).Msg("a request failed")
	return Reply{Said: words[code], Failed: &Failure{code, id}}
}

// codeOf finds the code of an error that came before or after the request was
// saved.
func codeOf(err error, saved bool) Code {
	switch {
	case saved:
		return Unread
	case errors.Is(err, session.ErrUnknownKnitalong):
		return NoKnitalong
	case errors.Is(err, session.ErrNotJoined):
		return NotJoined
	case errors.Is(err, session.ErrUncertain):
		return Uncertain
	case errors.Is(err, session.ErrUnreachable), errors.Is(err, session.ErrRefused), errors.Is(err, errNotYet):
		return Unreachable
	}
	return Internal
}

var failures = map[Code]string{
	NoKnitalong: "There is no knit-along here. Nothing has moved. Ask your host to start one.",
	NotJoined:   "You have not joined this knit-along. Nothing has moved. Say join to join it.",
	Unreachable: "Your place can't be reached just now. Nothing has moved and nothing is lost. Please ask again in a moment.",
	Uncertain:   "Contact broke off while your request was being saved, so it is not known whether it was. What was saved before is not lost. Say where am I to hear your place.",
	Unread:      "Your request is saved, but the answer can't be given just now. Say where am I in a moment to hear your place.",
	Internal:    "Something went wrong here. Nothing has moved and nothing is lost. Please ask again; if it goes on, tell your host.",
}
