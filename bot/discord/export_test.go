package discord

import (
	"github.com/rs/zerolog"

	"clew/bot"
	"clew/bot/discord/rest"
)

// ReadMarkdown reads a message as the platform does: its text, and what the
// platform made of the rest.
func ReadMarkdown(message string) (text string, markup []string) {
	s := readMarkdown(message)
	return s.text, s.markup
}

// ChannelsOver is where the platform's knit-alongs are held, over a client.
func ChannelsOver(client *rest.Client, log zerolog.Logger) bot.Channels {
	return channels{rest: client, log: log}
}
