// Package discord brings the bot's answers to the chat platform of that name:
// what members ask by commands, by words and by buttons becomes a bot.Ask, and
// a bot.Reply becomes messages.
package discord

import (
	"cmp"
	"context"
	"sync"
	"sync/atomic"
	"time"

	"github.com/bwmarrin/discordgo"
	"github.com/rs/zerolog"

	"clew/bot"
	"clew/bot/discord/gateway"
	"clew/bot/discord/rest"
	"clew/reader/listen"
)

// Options are Serve's. Bot and Token have to be given.
type Options struct {
	Bot    *bot.Bot
	Token  string         // the bot's own, without "Bot " in front
	API    string         // another base address of the platform, "http://127.0.0.1:4000"; empty is the platform's
	Shards gateway.Shards // zero: the only one there is
	NewID  func() string  // names a failure in the log
	Log    zerolog.Logger
	Timing gateway.Timing // zero: the platform's; tests are in more of a hurry

	// StoreWithin is how long the store may take for one request before it
	// counts as away; 0 is 2 s, which leaves time to say so before the platform
	// stops waiting for a first answer. With more, the answer may come later.
	StoreWithin time.Duration

	// Untended leaves the channels of the knit-alongs alone: nothing is announced,
	// and no board is shown. Another process sees to them.
	Untended bool
}

// Intents are the events that the bot is given: direct messages, and messages
// in servers, of which it can read those that mention it. Neither is privileged.
const Intents = discordgo.IntentsDirectMessages | discordgo.IntentsGuildMessages

// closeLimit is how long requests that are being served may take when Serve ends.
const closeLimit = 5 * time.Second

// Serve serves the platform's members until ctx ends; then it finishes what was
// asked, for five seconds at most, and gives nil. The error is otherwise a
// *gateway.Fatal, whose sentence is for the person who runs the process.
func Serve(ctx context.Context, o Options) error {
	client, err := rest.New(rest.Options{Token: o.Token, API: o.API, Log: o.Log})
	if err != nil {
		return &gateway.Fatal{Sentence: err.Error()} // an option that can't work
	}
	defer client.Close()
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	a := newAdapter(ctx, o, client)
	err = gateway.Run(ctx, gateway.Options{
		Token: o.Token, Client: client.HTTP(), Start: client.Gateway, Shards: o.Shards,
		Intents: Intents, Log: o.Log, Timing: o.Timing,
	}, a)
	cancel()
	a.close()
	return err
}

// An adapter is what the gateway hands events to.
type adapter struct {
	bot       *bot.Bot
	rest      *rest.Client
	newID     func() string
	log       zerolog.Logger
	running   context.Context // ends when no more events come
	me        atomic.Pointer[string]
	lanes     lanes
	asides    chan struct{}
	places    chan struct{}  // of requests being worked out
	others    sync.WaitGroup // jobs beside the lanes
	deferring sync.WaitGroup // clocks of interactions that are not answered yet
	enrolled  sync.Mutex     // held while the commands are compared and written
	withheld  withheld
	untended  bool
	tending   sync.Once

	storeWithin time.Duration
}

func newAdapter(running context.Context, o Options, client *rest.Client) *adapter {
	return &adapter{
		bot: o.Bot, rest: client, newID: o.NewID, log: o.Log, asides: make(chan struct{}, asideMost), places: make(chan struct{}, atOnceMost), running: running,
		storeWithin: cmp.Or(o.StoreWithin, usualStoreWithin), untended: o.Untended,
	}
}

// close waits for what is being served.
func (a *adapter) close() {
	ctx, cancel := context.WithTimeout(context.Background(), closeLimit)
	defer cancel()
	if !a.lanes.close(ctx) || !waited(ctx, a.others.Wait) || !waited(ctx, a.deferring.Wait) {
		a.log.Warn().Msg("some requests were still being served when the process had to end")
	}
}

// Ready notes who the bot is, and begins to look after the channels. Shard 0 sees to the commands: they are the bot's,
// whichever shards a process has.
func (a *adapter) Ready(shard int, application, me string) {
	a.me.Store(&me)
	if shard == 0 {
		a.others.Go(func() { a.enroll(application) })
	}
	if !a.untended {
		a.tending.Do(func() { a.others.Go(a.tend) }) // not before: now the token is known to be one
	}
}

// Pauses between attempts to register the commands, doubled from the first to
// the last.
const (
	enrollPause = 5 * time.Second
	enrollMost  = 5 * time.Minute
)

// enroll registers the commands, once at a time, and tries until it succeeds.
func (a *adapter) enroll(application string) {
	a.enrolled.Lock()
	defer a.enrolled.Unlock()
	for pause := enrollPause; ; pause = min(2*pause, enrollMost) {
		ctx, cancel := context.WithTimeout(a.running, laterWithin)
		wrote, err := register(ctx, a.rest, application)
		cancel()
		if err == nil {
			if wrote {
				a.log.Info().Msg("the commands were registered anew")
			}
			return
		}
		a.log.Error().Err(err).Dur("again", pause).Msg("the commands were not registered; words and buttons work without them")
		select {
		case <-time.After(pause):
		case <-a.running.Done():
			return
		}
	}
}

// Interaction takes a command, a press or what is typed into a command.
func (a *adapter) Interaction(_ int, i *discordgo.Interaction) {
	r, ok := askedBy(i, time.Now())
	if !ok {
		return
	}
	switch data := i.Data.(type) {
	case discordgo.ApplicationCommandInteractionData:
		if i.Type == discordgo.InteractionApplicationCommandAutocomplete {
			a.suggest(r, data)
			return
		}
		a.command(r, data)
	case discordgo.MessageComponentInteractionData:
		a.press(r, data)
	}
}

// command serves a slash command.
func (a *adapter) command(r *request, data discordgo.ApplicationCommandInteractionData) {
	if data.Name == hostCommand {
		order, files, err := ordered(data)
		if err != nil {
			a.put(r, a.tell(err))
			return
		}
		a.put(r, a.direct(order, files))
		return
	}
	ask, err := heard(data)
	if err != nil {
		a.put(r, a.tell(err))
		return
	}
	a.put(r, a.answer(ask))
}

// press serves a button or a menu.
func (a *adapter) press(r *request, data discordgo.MessageComponentInteractionData) {
	p, err := pressed(data)
	if err != nil {
		a.put(r, a.tell(err))
		return
	}
	order, orders := p.Choice.Order()
	reply, kept := a.withheld.get(withheldKey{r.user, p.Choice.Value})
	switch {
	case kept && p.Choice.Intent == listen.Again:
		a.put(r, func(r *request) { a.show(r, reply) })
	case orders:
		if order.Knitalong == "" {
			order.Knitalong = p.Knitalong
		}
		a.put(r, a.direct(order, attached{}))
	case p.Choice.Intent == listen.Knitalong:
		a.put(r, a.tell(notPressed))
	default:
		a.put(r, a.answer(bot.Ask{Knitalong: p.Knitalong, Mark: p.Mark, Pressed: &p.Choice}))
	}
}

// tell answers with the sentence of an error.
func (a *adapter) tell(err error) func(*request) {
	return func(r *request) { a.deliver(r, []rest.Message{plain(err.Error(), !r.private())}) }
}

// Message takes what was written to the bot.
func (a *adapter) Message(_ int, m *discordgo.Message) {
	me := a.me.Load()
	if me == nil {
		return
	}
	r, words, ok := saidBy(m, *me, time.Now())
	if !ok {
		return
	}
	switch {
	case words == "" && len(m.Attachments)+len(m.StickerItems) > 0:
		a.put(r, func(r *request) { a.show(r, bot.Reply{Said: wordsAlone}) })
	case words == "": // nothing but the bot's name
		a.put(r, a.answer(bot.Ask{Words: "help"}))
	default:
		a.put(r, a.answer(bot.Ask{Words: words}))
	}
}

const wordsAlone = "I understand words alone, not pictures, files or recordings. Nothing has moved. Say next row, again, back, or where am I; say help to hear more."

// suggest answers what is typed into a command. It has a lane of its own: typing
// waits for nothing else she asked.
func (a *adapter) suggest(r *request, data discordgo.ApplicationCommandInteractionData) {
	option, typed := typedInto(data.Options)
	a.lanes.run("typing "+r.user, func() {
		defer a.recovered("suggesting")
		if r.late() {
			return
		}
		shown := a.suggestions(r, option, typed)
		sending, cancel := context.WithDeadline(context.Background(), r.came.Add(firstWithin))
		defer cancel()
		a.note(r, "suggestions were not delivered", a.rest.Suggest(sending, *r.answering, shown))
	})
}

// suggestions are for an option that completes itself: time zones, or stitches of
// the member's pattern.
func (a *adapter) suggestions(r *request, option, typed string) (shown []rest.Suggestion) {
	if option == optZone {
		return zonesLike(typed)
	}
	ctx, cancel := context.WithTimeout(context.Background(), a.storeWithin)
	defer cancel()
	for _, c := range a.bot.Glossary(ctx, bot.Ask{Member: r.member, Server: r.server, Channel: r.heldIn()}, typed) {
		if c.Value != "" && rest.Characters(c.Value) <= textMost {
			shown = append(shown, rest.Suggestion{Name: labelOf(c, textMost), Value: c.Value})
		}
	}
	return shown
}
