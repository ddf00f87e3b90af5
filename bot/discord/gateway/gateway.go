// Package gateway keeps the bot's connections to the platform's gateway: one
// a shard, opened again whenever it is lost, for as long as the process may
// use it.
//
// The library (discordgo) decodes and beats; when to connect, to resume, to
// identify and to give up is decided here, since the library retries for ever
// what can't succeed, and waits for ever where it should not.
//
// A shard holds one link, a Session of the library, and opens it again as long
// as the platform may take the session up where it was cut, so that what
// happened meanwhile is told; then it makes another.
package gateway

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"sync"

	"github.com/bwmarrin/discordgo"
	"github.com/rs/zerolog"

	"clew/bot/discord/rest"
)

// Handler is given what comes over the gateway. For one shard the calls come
// one after the other, in the platform's order; different shards call at once.
// A call must not block: while it lasts nothing else of its shard is read.
// What it panics with is logged, and ends that call alone. After Run has
// returned there are no more calls.
//
// After a connection was lost and taken up again, events may come twice.
type Handler interface {
	// Ready comes when the platform has taken the shard on anew, so perhaps
	// several times: application is the application's id, me the bot's user.
	Ready(shard int, application, me string)
	// Interaction is a command, a press, or a request for suggestions.
	Interaction(shard int, i *discordgo.Interaction)
	// Message is a new message. Its Author is set; the bot's own come too.
	Message(shard int, m *discordgo.Message)
	// Deleted names messages of a channel that were deleted, by whomever; server
	// is the platform's id of it, "" for direct messages.
	Deleted(shard int, server, channel string, messages []string)
}

// Options are Run's.
type Options struct {
	Token   string                                    // the bot's, without "Bot " before it
	Client  *http.Client                              // asks for the gateway's address; nil is a plain one
	Start   func(context.Context) (rest.Start, error) // how many identifies are left; nil: the platform's usual numbers
	Shards  Shards                                    // zero: the only one
	Intents discordgo.Intent                          // the events that are asked for, no more
	Log     zerolog.Logger
	Timing  Timing // zero: the platform's
}

// Run connects the shards and keeps them connected until ctx ends, when it
// closes them and gives nil. Otherwise the error is a *Fatal.
func Run(ctx context.Context, o Options, h Handler) error {
	o, err := o.complete()
	if err != nil {
		return err
	}
	defer library.tell(&o.Log)()
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)

	pace := newPace(o)
	var shards sync.WaitGroup
	for id := o.Shards.First; id <= o.Shards.Last; id++ {
		s := newShard(id, o, pace, h)
		shards.Go(func() {
			if fatal := s.run(ctx); fatal != nil {
				stop(fatal)
			}
		})
	}
	shards.Wait()
	var fatal *Fatal
	if errors.As(context.Cause(ctx), &fatal) {
		return fatal
	}
	return nil
}

// complete fills in what was left out, and refuses what can't work.
func (o Options) complete() (Options, error) {
	if o.Token == "" {
		return o, &Fatal{Sentence: "There is no bot token. Copy it from the developer portal (your application, Bot, Reset Token) and set CLEW_DISCORD_TOKEN to it."}
	}
	if o.Shards == (Shards{}) {
		o.Shards.Total = 1
	}
	if err := o.Shards.check(); err != nil {
		return o, &Fatal{Sentence: fmt.Sprintf("The shards %s can't be: %v.", o.Shards, err)}
	}
	if o.Client == nil {
		o.Client = &http.Client{}
	}
	o.Timing = o.Timing.withDefaults()
	return o, nil
}
