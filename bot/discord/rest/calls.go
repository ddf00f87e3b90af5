package rest

import (
	"context"
	"errors"
	"time"
)

var errUnbuilt = errors.New("rest: not built yet")

// Interaction is what an answer needs of the interaction that it answers.
type Interaction struct {
	ID    string
	Token string // good for 15 minutes; never logged
	App   string // the application's id
}

// Kind is how an interaction is first answered.
type Kind int

// The kinds of a first answer.
const (
	Reply Kind = 4 // with a message
	Defer Kind = 5 // with a sign that the message will come, by EditAnswer
)

// Start is what the platform says before a gateway is opened.
type Start struct {
	Shards         int           // how many it recommends, 1 at least
	Total          int           // identifies allowed in a day
	Remaining      int           // identifies left
	MaxConcurrency int           // identifies allowed in 5 s, 1 at least
	ResetAfter     time.Duration // until Remaining is Total again
}

// Answer gives the first answer to an interaction, which the platform takes
// for 3 s after it happened: the context should end by then. For Defer, m is
// nil or says no more than Ephemeral.
func (c *Client) Answer(ctx context.Context, in Interaction, kind Kind, m *Message) error {
	return errUnbuilt
}

// Suggest answers an autocomplete with up to 25 choices, none being an answer too.
func (c *Client) Suggest(ctx context.Context, in Interaction, choices []Suggestion) error {
	return errUnbuilt
}

// EditAnswer replaces the first answer, or puts one in place of a deferral.
// Whether it is ephemeral was settled by Answer.
func (c *Client) EditAnswer(ctx context.Context, in Interaction, m Message) error {
	return errUnbuilt
}

// FollowUp adds a message below the first answer. Where the platform broke off
// before it answered, the message is sent again and may so be there twice,
// rather than not at all.
func (c *Client) FollowUp(ctx context.Context, in Interaction, m Message) error {
	return errUnbuilt
}

// Send puts a message into a channel and gives its id.
func (c *Client) Send(ctx context.Context, channel string, m Message) (id string, err error) {
	return "", errUnbuilt
}

// Edit replaces a message of the bot's. Code 10008: it is gone; 30046: it is
// too old to be edited any more now.
func (c *Client) Edit(ctx context.Context, channel, id string, m Message) error {
	return errUnbuilt
}

// OpenDM gives the channel of a user's direct messages. The newest 10,000 are
// remembered. A user who refuses them is found out by Send: code 50007.
func (c *Client) OpenDM(ctx context.Context, user string) (channel string, err error) {
	return "", errUnbuilt
}

// Commands gives the commands that are registered for all servers, as JSON.
func (c *Client) Commands(ctx context.Context, app string) ([]byte, error) {
	return nil, errUnbuilt
}

// PutCommands registers commands, a JSON array, in place of all that were.
func (c *Client) PutCommands(ctx context.Context, app string, commands []byte) error {
	return errUnbuilt
}

// Gateway asks how many shards to open and how many identifies are left today.
func (c *Client) Gateway(ctx context.Context) (Start, error) {
	return Start{}, errUnbuilt
}
