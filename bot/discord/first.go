package discord

import (
	"context"
	"errors"
	"net/http"
	"sync"
	"time"

	"clew/bot/discord/rest"
)

// The platform takes the first answer to an interaction for three seconds after
// it happened, and a deferral counts as one.
const (
	deferAfter  = 2300 * time.Millisecond // what is not answered by then is deferred
	firstWithin = 2900 * time.Millisecond // when the first answer must be there
	laterWithin = 20 * time.Second        // how long a message that comes later may take
)

// A first is the first answer to an interaction: a message, or a deferral where
// the message takes longer than the platform waits, be it in a lane, in the
// store or on the way.
type first struct {
	client    *rest.Client
	in        rest.Interaction
	came      time.Time
	ephemeral bool
	timer     *time.Timer

	mu    sync.Mutex // held while one is being sent
	state firstState
	tried bool // one may have arrived though nothing was heard of it
	again bool // it was there before the first was sent: the interaction came before
}

type firstState int

const (
	unanswered firstState = iota
	deferred
	answered
)

// awaited begins the time that an interaction may wait. It must end with settle.
func (a *adapter) awaited(r *request) {
	f := &first{client: a.rest, in: *r.answering, came: r.came, ephemeral: !r.private()}
	a.deferring.Add(1)
	f.timer = time.AfterFunc(time.Until(r.came.Add(deferAfter)), func() {
		defer a.deferring.Done()
		a.note(r, "an interaction was not deferred", f.putOff())
	})
	r.first = f
}

// settle stops the clock.
func (a *adapter) settle(f *first) {
	if f.timer.Stop() {
		a.deferring.Done()
	}
}

// putOff defers the interaction where it has not been answered.
func (f *first) putOff() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.state != unanswered {
		return nil
	}
	ctx, cancel := context.WithDeadline(context.Background(), f.came.Add(firstWithin))
	defer cancel()
	err := f.client.Answer(ctx, f.in, rest.Defer, &rest.Message{Ephemeral: f.ephemeral})
	if f.acknowledged(err) {
		f.state, err = deferred, nil
	}
	return err
}

// acknowledged says that there is a first answer, after one was sent with this
// outcome. An interaction that is delivered again has it from the first time.
func (f *first) acknowledged(err error) bool {
	there := rest.Code(err) == rest.CodeAnswered
	f.again = f.again || there && !f.tried
	f.tried = f.tried || err != nil && !refused(err)
	return err == nil || there
}

// repeated says that the interaction had its answer when it came before.
func (f *first) repeated() bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.again
}

// give answers with a message, or puts it in place of the deferral or of the
// answer that the interaction got when it came before. Where it is not known
// whether there is one, since nothing was heard of a call in time, that is tried
// too.
func (f *first) give(m rest.Message) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	var unheard error
	if f.state == unanswered {
		ctx, cancel := context.WithDeadline(context.Background(), f.came.Add(firstWithin))
		defer cancel()
		err := f.client.Answer(ctx, f.in, rest.Reply, &m)
		there := f.acknowledged(err)
		switch {
		case err == nil || refused(err):
			f.state = answered
			return err
		case !there:
			unheard = err
		}
	}
	f.state = answered
	ctx, cancel := context.WithTimeout(context.Background(), laterWithin)
	defer cancel()
	if err := f.client.EditAnswer(ctx, f.in, m); err != nil {
		return errors.Join(unheard, err)
	}
	return nil
}

// refused says that the platform, or what would have called it, would not take a
// first answer, which therefore is not there.
func refused(err error) bool {
	var e *rest.Error
	if !errors.As(err, &e) || errors.Is(err, rest.ErrInvalid) {
		return true
	}
	return e.Status >= 400 && e.Status < 500 && e.Status != http.StatusTooManyRequests && e.Code != rest.CodeAnswered
}
