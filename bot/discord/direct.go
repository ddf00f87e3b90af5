package discord

import (
	"context"
	"errors"
	"time"

	"clew/bot"
	"clew/bot/discord/rest"
)

// directWithin is how long a host's order may take once its pattern is there:
// proving a pattern takes most of it.
const directWithin = 15 * time.Second

// direct serves a host's order. It is deferred first: fetching a pattern and
// proving it may take longer than the platform waits.
func (a *adapter) direct(order bot.Order, files attached) func(*request) {
	return func(r *request) {
		if r.private() {
			a.deliver(r, []rest.Message{plain(notInPrivate, false)})
			return
		}
		if err := r.first.putOff(); refused(err) && err != nil {
			a.note(r, "an order came too late, and nothing was done", err)
			return
		}
		order.Member, order.Nick, order.Manages = r.member, r.nick, r.manages
		order.Server, order.Channel, order.Event = r.server, r.channel, r.event
		if r.manages || order.Deed != bot.Start { // who may not start is told so, whatever she attached
			if err := a.read(&order, files); err != nil {
				a.refuse(r, err)
				return
			}
		}
		var reply bot.Reply
		a.working(func() {
			ctx, cancel := context.WithTimeout(context.Background(), directWithin)
			defer cancel()
			reply = a.bot.Direct(ctx, order)
		})
		a.deliver(r, render(reply, true))
		if reply.Invite != nil {
			a.invite(r, reply)
		}
	}
}

const notInPrivate = "A knit-along is held in a channel of a server. Nothing was changed. Use this command there."

// read fetches the files of an order. The error is fetch's.
func (a *adapter) read(order *bot.Order, files attached) (err error) {
	ctx := context.Background()
	if f := files.pattern; f != nil {
		if order.Pattern, err = fetch(ctx, a.rest.HTTP(), f, ofPattern); err != nil {
			return err
		}
		order.File = f.Filename
	}
	if f := files.plan; f != nil {
		if order.Plan, err = fetch(ctx, a.rest.HTTP(), f, ofSessions); err != nil {
			return err
		}
		order.PlanFile = f.Filename
	}
	return nil
}

// refuse says why an attached file can't be read.
func (a *adapter) refuse(r *request, err error) {
	var why refusal
	if !errors.As(err, &why) {
		panic(err) // fetch gives nothing else
	}
	if error(why) != err {
		a.note(r, "an attached file was not fetched", err)
	}
	a.deliver(r, []rest.Message{plain(string(why), true)})
}

// invite puts the card with the Join button into the channel. Where the bot may
// not write there, the card stands under the host's command, which needs no
// permission; and she is told, since later messages will need it.
func (a *adapter) invite(r *request, reply bot.Reply) {
	card := renderInvite(*reply.Invite, reply.Knitalong)
	err := a.send(r, r.channel, []rest.Message{card})
	if err == nil {
		return
	}
	a.note(r, "the card of a knit-along was not posted", err)
	err = a.follow(r, card)
	a.note(r, "the card of a knit-along was not posted under the command", err)
	said := mayNotWrite
	if err != nil {
		said = mayNotInvite
	}
	err = a.follow(r, plain(said, true))
	a.note(r, "a host was not told that the bot may not write", err)
}

const (
	mayNotWrite  = "I may not write in this channel by myself, so the card stands under your command. Allow me to view this channel and to send messages in it, and what comes later can be posted too."
	mayNotInvite = "The knit-along is open, but I may not write in this channel, so its card is missing. Allow me to view this channel and to send messages in it. Your knitters can join here with the command join."
)
