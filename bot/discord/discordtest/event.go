package discordtest

import "time"

// Event is something that a person did, as the bot was told of it.
type Event struct {
	ID      string // the message's id, or the interaction's
	Kind    string // "MESSAGE_CREATE" or "INTERACTION_CREATE"
	Channel *Channel
	Person  *Person
	s       *Server
}

// Answers waits until the bot has given n messages in answer, and returns all that
// came. An answer is a first reply, a deferral once it is filled in, a follow-up, an
// update of the message that a button stands under, or a message in the channel: one
// that refers to the event's message, else one whose nonce begins with the event's id,
// else any that comes in the channel while the event is the newest there.
func (e *Event) Answers(n int) []Message { panic("TODO") }

// Answer waits for the first answer.
func (e *Event) Answer() Message { return e.Answers(1)[0] }

// Answered is what came so far, without waiting.
func (e *Event) Answered() []Message { panic("TODO") }

// Suggestions waits for the suggestions of an autocomplete.
func (e *Event) Suggestions() []Choice { panic("TODO") }

// Form waits for the form that was opened in answer.
func (e *Event) Form() Form { panic("TODO") }

// Callback waits for the interaction's first answer and gives its kind (4 to 9) and
// how long after the dispatch it came.
func (e *Event) Callback() (kind int, after time.Duration) { panic("TODO") }

// Age makes the event older by d, for the time within which an interaction must be
// answered and for which its token serves.
func (e *Event) Age(d time.Duration) { panic("TODO") }
