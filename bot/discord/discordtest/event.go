package discordtest

import (
	"time"
)

// Answers waits until the bot has given n messages in answer, and returns all that
// came. An answer is a first reply, a deferral once it is filled in, a follow-up, an
// update of the message that a button stands under, or a message in the channel: one
// that refers to the event's message, else one whose nonce begins with the event's id,
// else one without a nonce that comes in the channel while the event is the newest there.
func (e *Event) Answers(n int) []Message {
	e.s.helper()
	if !e.s.until(func() bool { return len(e.Answered()) >= n }) {
		e.s.fail("%s of %s had %d answers of %d in %v", e.Kind, e.Person.Name, len(e.Answered()), n, e.s.opt.Wait)
	}
	return e.Answered()
}

// Answer waits for the first answer.
func (e *Event) Answer() Message {
	e.s.helper()
	return e.Answers(1)[0]
}

// Answered is what came so far, without waiting.
func (e *Event) Answered() []Message {
	e.s.mu.Lock()
	defer e.s.mu.Unlock()
	var all []Message
	for _, r := range e.answers {
		all = append(all, r.Message)
	}
	return all
}

// Suggestions waits for the suggestions of an autocomplete.
func (e *Event) Suggestions() []Choice {
	e.s.helper()
	e.await(answerSuggest)
	e.s.mu.Lock()
	defer e.s.mu.Unlock()
	return e.suggestions
}

// Form waits for the form that was opened in answer.
func (e *Event) Form() Form {
	e.s.helper()
	e.await(answerForm)
	e.s.mu.Lock()
	defer e.s.mu.Unlock()
	return *e.form
}

// await waits for a first answer of this kind; 0 is any.
func (e *Event) await(kind int) {
	e.s.helper()
	got, _ := e.first()
	if !e.s.until(func() bool { got, _ = e.first(); return got != 0 }) {
		e.s.fail("%s of %s had no first answer in %v", e.Kind, e.Person.Name, e.s.opt.Wait)
	}
	if kind != 0 && got != kind {
		e.s.fail("%s of %s was answered with kind %d: expected %d", e.Kind, e.Person.Name, got, kind)
	}
}

func (e *Event) first() (kind int, after time.Duration) {
	e.s.mu.Lock()
	defer e.s.mu.Unlock()
	return e.kind, e.after
}

// Callback waits for the interaction's first answer and gives its kind (4 to 9) and
// how long after the dispatch it came.
func (e *Event) Callback() (kind int, after time.Duration) {
	e.s.helper()
	e.await(0)
	return e.first()
}

// Age makes the event older by d, for the time within which an interaction must be
// answered and for which its token serves.
func (e *Event) Age(d time.Duration) {
	e.s.mu.Lock()
	defer e.s.mu.Unlock()
	if e.it != nil {
		e.it.at = e.it.at.Add(-d)
	}
}
