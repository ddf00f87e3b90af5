package discord

import (
	"context"
	"fmt"
	"runtime/debug"
	"time"

	"clew/bot"
)

// finishWithin is how long what is being posted may take when Serve ends.
const finishWithin = closeLimit - time.Second

// tend looks after the channels in which knit-alongs are held, until no more events
// come. Every process does: who does what is settled in the store.
func (a *adapter) tend() {
	for a.running.Err() == nil {
		a.tendOnce()
		select {
		case <-time.After(bot.TendEvery):
		case <-a.running.Done():
		}
	}
}

// tendOnce does what is due. When Serve ends, it may come to its end: what is posted
// and not noted would be posted again.
func (a *adapter) tendOnce() {
	defer a.recovered("looking after the channels")
	ctx, cancel := context.WithCancel(context.WithoutCancel(a.running))
	defer cancel()
	defer context.AfterFunc(a.running, func() {
		select {
		case <-time.After(finishWithin):
			cancel()
		case <-ctx.Done():
		}
	})()
	a.bot.Tend(ctx, platformName, channels{rest: a.rest, log: a.log})
}

// Deleted lets the bot know what was deleted in a channel: it may have been a
// board, which is posted again. Where much is deleted, what there is no room for is
// passed over: a board that is gone is found out when it is edited next, too.
func (a *adapter) Deleted(_ int, server, channel string, messages []string) {
	if server == "" {
		return
	}
	a.lanes.run("deleted "+channel, func() {
		defer a.recovered("looking for a board that was deleted")
		for _, message := range messages {
			if err := a.deleted(serverOf(server), channel, message); err != nil {
				a.log.Warn().Err(err).Str("message", message).Msg("it is not known whether a board was deleted")
				return
			}
		}
	})
}

func (a *adapter) deleted(server, channel, message string) error {
	ctx, cancel := context.WithTimeout(context.Background(), a.storeWithin)
	defer cancel()
	return a.bot.BoardGone(ctx, server, channel, message)
}

// recovered is deferred: what panics there ends that alone.
func (a *adapter) recovered(doing string) {
	if cause := recover(); cause != nil {
		a.log.Error().Str("cause", fmt.Sprintf("%T", cause)).Bytes("stack", debug.Stack()).Msg(doing + " broke down")
	}
}
