package main

import (
	"context"
	"errors"
	"strings"

	"github.com/rs/zerolog"

	"clew/bot"
	"clew/bot/discord"
	"clew/bot/discord/gateway"
)

// serveCommand serves a chat platform.
type serveCommand struct {
	storeFlags
	DiscordToken string `help:"The bot's token. Set the variable rather than the flag, which others on the machine can see." placeholder:"TOKEN" env:"CLEW_DISCORD_TOKEN"`
	DiscordAPI   string `name:"discord-api" help:"Another base address of the platform, for proxies and tests." placeholder:"URL" env:"CLEW_DISCORD_API"`
	Shards       string `help:"The shards of this process out of all, as 0-1/4; without, the only one." placeholder:"FIRST-LAST/ALL" env:"CLEW_SHARDS"`
	Log          string `help:"What is logged: debug, info, warn or error." enum:"debug,info,warn,error" default:"info" env:"CLEW_LOG"`
}

// Run serves until it is stopped. A token or an option that can't work ends it
// with exitUsage.
func (c *serveCommand) Run(ctx context.Context, p *program) (err error) {
	token := strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(c.DiscordToken)+" ", "Bot "))
	if token == "" {
		return usage("there is no token for the bot: set CLEW_DISCORD_TOKEN to the one that the developer portal shows under Bot")
	}
	shards, err := gateway.ParseShards(c.Shards)
	if err != nil {
		return usage("--shards: %w", err)
	}
	level, err := zerolog.ParseLevel(c.Log)
	if err != nil {
		return usage("--log: %w", err)
	}
	kept, err := c.open()
	if err != nil {
		return err
	}
	log := zerolog.New(p.errors).Level(level).With().Timestamp().Logger()
	defer func() { err = errors.Join(err, kept.close()) }()
	defer tellNotice(log, kept)()
	p.unhurried.Store(true)
	err = discord.Serve(ctx, discord.Options{
		Bot: bot.New(kept.store, p.now, p.newID, log), Token: token, API: c.DiscordAPI,
		Shards: shards, NewID: p.newID, Log: log,
	})
	var fatal *gateway.Fatal
	if errors.As(err, &fatal) {
		return failure{exitUsage, fatal}
	}
	return err
}

// tellNotice logs what the local store had to set aside, and gives what logs
// that something went wrong beside the answers since then.
func tellNotice(log zerolog.Logger, kept *keeping) func() {
	opened := kept.notice()
	if opened != "" {
		log.Warn().Msg(opened)
	}
	return func() {
		if now := kept.notice(); now != opened {
			log.Warn().Msg(now)
		}
	}
}
