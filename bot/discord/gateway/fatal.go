package gateway

import (
	"errors"
	"fmt"
	"net/http"

	"github.com/bwmarrin/discordgo"
	"github.com/gorilla/websocket"

	"clew/bot/discord/rest"
)

// Fatal is why no shard can go on, and the process should end: trying again
// would be refused again.
type Fatal struct {
	Code     int    // the gateway's close code, 4004 or 4010-4014; an HTTP status, 401; 0 for options that can't work
	Sentence string // what is wrong and what to do, for the person who runs the process
}

func (f *Fatal) Error() string { return f.Sentence }

// The close codes of the gateway that matter here: Discord's developer
// documentation, "Gateway close event codes".
const (
	closeNormal     = 1000 // sent by us: ends the session
	closeKeeping    = 4000 // sent by us: anything but 1000 and 1001 lets it be resumed
	closeNotKnown   = 4003 // sent something before identifying, or the session was invalidated
	closeBadToken   = 4004
	closeBadSeq     = 4007 // resumed with a number that can't be
	closeTimedOut   = 4009
	closeBadShard   = 4010
	closeMoreShards = 4011
	closeBadVersion = 4012
	closeBadIntents = 4013
	closeNotGranted = 4014
)

// fatal tells an error that will come again each time: nil if it needn't.
func (o Options) fatal(err error) *Fatal {
	var refused *discordgo.RESTError
	var answered *rest.Error
	switch {
	case errors.Is(err, rest.ErrToken),
		errors.As(err, &answered) && answered.Status == http.StatusUnauthorized,
		errors.As(err, &refused) && refused.Response != nil && refused.Response.StatusCode == http.StatusUnauthorized:
		return &Fatal{Code: http.StatusUnauthorized, Sentence: badToken(http.StatusUnauthorized)}
	}
	var closed *websocket.CloseError
	if !errors.As(err, &closed) {
		return nil
	}
	sentence := ""
	switch closed.Code {
	case closeBadToken:
		sentence = badToken(closeBadToken)
	case closeBadShard:
		sentence = fmt.Sprintf("Discord does not take these shards (code 4010): this process was told to run %s. Set CLEW_SHARDS to the first and last of this process and how many there are in all, as in 0-1/4.", o.Shards)
	case closeMoreShards:
		sentence = fmt.Sprintf("The bot is in more servers than %d of its shards may serve (code 4011). Raise the number in all that CLEW_SHARDS ends with, in every process of the bot.", o.Shards.Total)
	case closeBadVersion:
		sentence = "Discord no longer takes the version of its gateway that this program speaks (code 4012). Install a newer version of Clew."
	case closeBadIntents:
		sentence = fmt.Sprintf("Discord does not know the kinds of event that this program asks for (code 4013, intents %d). Install a newer version of Clew.", o.Intents)
	case closeNotGranted:
		sentence = fmt.Sprintf("Discord has not granted the bot the kinds of event that it asks for (code 4014, intents %d). Turn them on in the developer portal (your application, Bot, Privileged Gateway Intents) and start again.", o.Intents)
	default:
		return nil
	}
	return &Fatal{Code: closed.Code, Sentence: sentence}
}

func badToken(code int) string {
	return fmt.Sprintf("Discord refused the bot's token (code %d). Make a new one in the developer portal (your application, Bot, Reset Token), set CLEW_DISCORD_TOKEN to it and start again.", code)
}

// sessionGone tells whether the connection was closed because there is no
// session to resume.
func sessionGone(err error) bool {
	var closed *websocket.CloseError
	if !errors.As(err, &closed) {
		return false
	}
	switch closed.Code {
	case closeNotKnown, closeBadSeq, closeTimedOut:
		return true
	}
	return false
}
