package bot

import (
	"context"
	"errors"

	"clew/session"
)

// A Code names what went wrong, for adapters.
type Code string

// The codes.
const (
	NoKnitalong Code = "no-knitalong" // there is no such knit-along
	NotJoined   Code = "not-joined"
	Unreachable Code = "unreachable" // the store is away; nothing has moved
	Uncertain   Code = "uncertain"   // it is not known whether the move was saved
	Internal    Code = "internal"
)

// A Failure is a request that could not be served. Its ID stands in the log
// beside the cause, which people do not see.
type Failure struct {
	Code Code
	ID   string
}

// failed words an error for the member.
func (b *Bot) failed(ask Ask, err error) Reply {
	code, said := Internal, "Something went wrong here. Nothing was lost. Please ask again; if it goes on, tell your host."
	switch {
	case errors.Is(err, session.ErrUnknownKnitalong):
		code, said = NoKnitalong, "There is no knit-along here. Nothing has moved. Ask your host to start one."
	case errors.Is(err, session.ErrNotJoined):
		code, said = NotJoined, "You have not joined this knit-along. Nothing has moved. Say join to join it."
	case errors.Is(err, session.ErrUncertain):
		code, said = Uncertain, "The store of places went away while your move was being saved, so it is not known whether you have moved. Nothing that was saved before is lost. Say where am I to hear your place."
	case errors.Is(err, session.ErrUnreachable), errors.Is(err, context.DeadlineExceeded), errors.Is(err, context.Canceled):
		code, said = Unreachable, "The store of places can't be reached. Nothing has moved and nothing is lost. Please ask again in a moment."
	case errors.Is(err, session.ErrRefused):
		code, said = Unreachable, "The store of places could not save that. Nothing has moved and nothing is lost. Please ask again, and tell your host if it goes on."
	}
	id := b.newID()
	b.log.Error().Err(err).Str("id", id).Str("member", string(ask.Member)).Str("knitalong", ask.Knitalong).Str("event", ask.Event).Msg("a request failed")
	return Reply{Said: said, Failed: &Failure{code, id}}
}
