// Package gateway keeps the bot's connections to the platform's gateway: one
// a shard, opened again whenever it is lost, for as long as the process may
// use it.
//
// The library (discordgo) decodes and beats; when to connect, to resume, to
// identify and to give up is decided here, since the library retries for ever
// what can't succeed, and waits for ever where it should not.
package gateway

import (
	"context"
	"errors"
	"net/http"

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

// Fatal is why no shard can go on, and the process should end: trying again
// would be refused again.
type Fatal struct {
	Code     int    // the gateway's close code, 4004 or 4010-4014; an HTTP status, 401; 0 for options that can't work
	Sentence string // what is wrong and what to do, for the person who runs the process
}

func (f *Fatal) Error() string { return f.Sentence }

// Run connects the shards and keeps them connected until ctx ends, when it
// closes them and gives nil. Otherwise the error is a *Fatal.
func Run(ctx context.Context, o Options, h Handler) error {
	return errors.New("gateway: not built yet")
}
