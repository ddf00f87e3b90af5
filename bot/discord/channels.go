package discord

import (
	"context"
	"errors"
	"fmt"

	"github.com/rs/zerolog"

	"clew/bot"
	"clew/bot/discord/rest"
)

// channels is where the platform's knit-alongs are held, as bot.Channels has it.
type channels struct {
	rest *rest.Client
	log  zerolog.Logger
}

// Codes of the platform's for what is not there, or not allowed (Discord's
// developer documentation, Opcodes and Status Codes, JSON error codes).
const (
	codeUnknownChannel = 10003
	codeUnknownMessage = 10008
	codeTooManyEdits   = 30046 // of a message that is over an hour old
	codeNoAccess       = 50001
	codeNotMine        = 50005 // the message is another bot's, as after a change of the bot
	codeNoPermission   = 50013
	codeArchived       = 50083 // in an archived thread nothing is edited; a new message opens it again
)

// Post puts a post into its channel.
func (c channels) Post(ctx context.Context, p bot.Post) (message string, err error) {
	err = c.write(renderPost(p), func(m rest.Message) error {
		message, err = c.rest.Send(ctx, p.Channel, m)
		return err
	})
	return message, err
}

// Edit replaces a message by a post.
func (c channels) Edit(ctx context.Context, message string, p bot.Post) error {
	return c.write(renderPost(p), func(m rest.Message) error { return c.rest.Edit(ctx, p.Channel, message, m) })
}

// Remove deletes a message.
func (c channels) Remove(ctx context.Context, channel, message string) error {
	err := refusedThere(c.rest.Remove(ctx, channel, message))
	if errors.Is(err, bot.ErrGone) {
		return nil
	}
	return err
}

// write writes a message: without its picture where the bot may write, and not
// attach files.
func (c channels) write(m rest.Message, write func(rest.Message) error) error {
	err := write(m)
	if rest.Code(err) == codeNoPermission && len(m.Files) > 0 && m.Content != "" {
		if err = write(withoutFiles(m)); err == nil {
			c.log.Info().Msg("a post went without its picture: the bot may not attach files in that channel")
		}
	}
	return refusedThere(err)
}

// refusedThere says by bot's errors what the platform's code says.
func refusedThere(err error) error {
	switch rest.Code(err) {
	case codeUnknownMessage, codeTooManyEdits, codeNotMine, codeArchived:
		return fmt.Errorf("%w: %w", bot.ErrGone, err)
	case codeUnknownChannel, codeNoAccess, codeNoPermission:
		return fmt.Errorf("%w: %w", bot.ErrNoChannel, err)
	}
	return err
}
