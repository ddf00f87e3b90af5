package discord

import (
	"context"
	"fmt"
	"runtime/debug"
	"strconv"
	"time"

	"clew/bot"
	"clew/bot/discord/rest"
)

// usualStoreWithin is Options.StoreWithin where that is zero.
const usualStoreWithin = 2 * time.Second

// put gives a request to its member's lane, where serve works it off. Where the
// lane is full the member is told that this one was not done.
func (a *adapter) put(r *request, serve func(*request)) {
	if r.answering != nil {
		a.awaited(r)
	}
	done := func() {
		if r.first != nil {
			a.settle(r.first)
		}
	}
	if a.lanes.run(r.user, func() {
		defer done()
		a.guarded(r, serve)
	}) {
		return
	}
	a.aside(func() {
		defer done()
		a.guarded(r, func(r *request) { a.show(r, bot.Reply{Said: tooMuch}) })
	}, done)
}

const tooMuch = "More is being asked just now than I can answer. This one moved nothing. Please wait a moment, and ask where you are."

// asideMost bounds how many requests are turned away at once with a sentence;
// what comes beyond that is dropped without one.
const asideMost = 64

// aside runs a job beside the lanes, or dropped where there are too many.
func (a *adapter) aside(job, dropped func()) {
	select {
	case a.asides <- struct{}{}:
		a.others.Go(func() {
			defer func() { <-a.asides }()
			job()
		})
	default:
		a.log.Warn().Msg("a request was dropped: too many come at once")
		dropped()
	}
}

// guarded serves a request so that a panic ends this one alone.
func (a *adapter) guarded(r *request, serve func(*request)) {
	defer func() {
		cause := recover()
		if cause == nil {
			return
		}
		id := a.newID()
		a.log.Error().Str("id", id).Str("member", string(r.member)).Str("event", r.event).
			Str("cause", fmt.Sprint(cause)).Bytes("stack", debug.Stack()).Msg("a request broke down")
		a.show(r, bot.Reply{Said: brokeDown, Failed: &bot.Failure{Code: bot.Internal, ID: id}})
	}()
	serve(r)
}

const brokeDown = "Something went wrong here, and it is not known whether your request was saved. What was saved before is not lost. Ask where you are to hear your place."

// answer serves a knitter's request.
func (a *adapter) answer(ask bot.Ask) func(*request) {
	return func(r *request) {
		if !a.inTime(r) {
			return
		}
		ask.Member, ask.Nick, ask.Server, ask.Channel, ask.Event = r.member, r.nick, r.server, r.heldIn(), r.event
		var reply bot.Reply
		a.working(func() {
			ctx, cancel := context.WithTimeout(context.Background(), a.storeWithin)
			defer cancel()
			reply = a.bot.Answer(ctx, ask)
		})
		a.show(r, reply)
	}
}

// atOnceMost is how many requests are worked out at once. Sending their answers
// does not count, which may have to wait for the platform's limits.
const atOnceMost = 256

// working does the work of one request, when there is a place for it.
func (a *adapter) working(work func()) {
	a.places <- struct{}{}
	defer func() { <-a.places }()
	work()
}

// inTime says whether an answer to a request can still be given. An interaction
// that comes late, as after a cut, is deferred before anything is done: where the
// platform does not take that any more, nobody would hear of what was done, so
// nothing is.
func (a *adapter) inTime(r *request) bool {
	if r.answering == nil || !r.late() {
		return true
	}
	err := r.first.putOff()
	if err != nil {
		a.note(r, "an interaction came too late, and nothing was done", err)
	}
	return err == nil
}

// show answers a request for one pair of eyes.
func (a *adapter) show(r *request, reply bot.Reply) {
	if r.answering == nil && !r.private() {
		a.whisper(r, reply)
		return
	}
	a.deliver(r, render(reply, !r.private()))
}

// deliver sends the messages that answer a request. What does not arrive is in
// the log: nothing more can be done, and what was saved stays saved.
func (a *adapter) deliver(r *request, messages []rest.Message) {
	if r.answering == nil {
		a.note(r, "an answer was not delivered", a.send(r, r.channel, messages))
		return
	}
	if err := r.first.give(messages[0]); err != nil {
		a.note(r, "an answer was not delivered to a command or a press", err)
		a.privately(r, messages)
		return
	}
	for _, m := range messages[1:] {
		if err := a.follow(r, m); err != nil {
			a.note(r, "an answer was not delivered whole", err)
			return
		}
	}
}

// follow adds a message below the answer to an interaction, unless that was
// answered when it came before: what follows has been added then.
func (a *adapter) follow(r *request, m rest.Message) error {
	if r.first.repeated() {
		return nil
	}
	return a.later(func(ctx context.Context) error { return a.rest.FollowUp(ctx, *r.answering, m) })
}

// privately writes to a member what could not be shown where she asked, since
// what was done must be told.
func (a *adapter) privately(r *request, messages []rest.Message) {
	var channel string
	err := a.later(func(ctx context.Context) (err error) {
		channel, err = a.rest.OpenDM(ctx, r.user)
		return err
	})
	if err == nil {
		for i := range messages {
			messages[i].Ephemeral = false
		}
		err = a.send(r, channel, messages)
	}
	a.note(r, "an answer was not delivered in private either", err)
}

// later makes a call that nothing waits for by the second.
func (a *adapter) later(call func(context.Context) error) error {
	ctx, cancel := context.WithTimeout(context.Background(), laterWithin)
	defer cancel()
	return call(ctx)
}

// send puts messages into a channel, each with a name of its own, so that the
// platform shows it once where the event comes again.
func (a *adapter) send(r *request, channel string, messages []rest.Message) error {
	for i, m := range messages {
		m.Nonce = r.event + "-" + strconv.Itoa(i)
		if err := a.later(func(ctx context.Context) error {
			_, err := a.rest.Send(ctx, channel, m)
			return err
		}); err != nil {
			return err
		}
	}
	return nil
}

// whisper answers in private what was asked in a channel by a message: there,
// only an answer to a command or a press can be for one pair of eyes. Where the
// member gets no private messages, a button in the channel leads to such an
// answer.
func (a *adapter) whisper(r *request, reply bot.Reply) {
	var channel string
	err := a.later(func(ctx context.Context) (err error) {
		channel, err = a.rest.OpenDM(ctx, r.user)
		return err
	})
	if err == nil {
		if err = a.send(r, channel, render(reply, false)); err == nil {
			return
		}
	}
	a.note(r, "a private answer was refused", err)
	a.withheld.keep(withheldKey{r.user, r.event}, reply)
	why := failedPrivately
	if rest.Code(err) == codeTakesNoPrivate {
		why = refusedPrivately
	}
	messages := render(bot.Reply{Said: why + hearItHere, Knitalong: reply.Knitalong, Choices: []bot.Choice{hearIt(r.event)}}, false)
	messages[0].ReplyTo = r.event
	a.note(r, "an answer was not delivered", a.send(r, r.channel, messages))
}

// codeTakesNoPrivate is the platform's code for a user whose settings let the
// bot write nothing in private.
const codeTakesNoPrivate = 50007

const (
	refusedPrivately = "Your settings do not let me write to you in private. "
	failedPrivately  = "I could not write to you in private just now. "
	hearItHere       = "Press Hear it, and the answer is shown here, to you alone."
)

// note logs what could not be sent.
func (a *adapter) note(r *request, what string, err error) {
	if err != nil {
		a.log.Warn().Err(err).Str("member", string(r.member)).Str("event", r.event).Msg(what)
	}
}
