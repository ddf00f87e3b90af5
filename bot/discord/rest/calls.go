package rest

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"net/http"
	"time"

	"github.com/bwmarrin/discordgo"
)

// Interaction is what an answer needs of the interaction that it answers.
type Interaction struct {
	ID    string
	Token string // good for 15 minutes; in no error and no log
	App   string // the application's id
}

// Kind is how an interaction is first answered.
type Kind int

// The kinds of a first answer.
const (
	Reply Kind = 4 // with a message
	Defer Kind = 5 // with a sign that the message will come, by EditAnswer
)

const suggest = 8 // the kind of an autocomplete's answer

// Start is what the platform says before a gateway is opened.
type Start struct {
	Shards         int           // how many it recommends, 1 at least
	Total          int           // identifies allowed in a day
	Remaining      int           // identifies left, 0 or more
	MaxConcurrency int           // identifies allowed in 5 s, 1 at least
	ResetAfter     time.Duration // until Remaining is Total again
}

type callback struct {
	Type int `json:"type"`
	Data any `json:"data,omitempty"`
}

// Answer gives the first answer to an interaction, which the platform takes
// for 3 s after it happened: no attempt is made 3 s after the call, and the
// context may end sooner. For Defer, m is
// nil or says no more than Ephemeral. Where the platform says that an answer
// is there already, and an attempt before was not heard of, that one arrived
// and all is well. Code 10062: too late, or no such interaction; 40060: it was
// answered before this call.
func (c *Client) Answer(ctx context.Context, in Interaction, kind Kind, m *Message) error {
	to := callbackRoute(in)
	if in.ID == "" || in.Token == "" {
		return invalid(to.name, "an interaction's id and token are needed")
	}
	body := callback{Type: int(kind)}
	var files []File
	switch {
	case kind == Reply && m != nil:
		if err := m.check(); err != nil {
			return invalid(to.name, "%v", err)
		}
		p := m.payload(false)
		p.Flags = m.flags()
		body.Data, files = p, m.Files
	case kind == Defer && (m == nil || m.Content == "" && len(m.Components) == 0 && len(m.Files) == 0):
		if m != nil && m.Ephemeral {
			body.Data = map[string]any{"flags": m.flags()}
		}
	default:
		return invalid(to.name, "a first answer is a reply with a message, or a deferral without one")
	}
	return c.callBack(ctx, to, body, files)
}

// Suggest answers an autocomplete with up to MaxSuggestions choices; none is
// an answer too.
func (c *Client) Suggest(ctx context.Context, in Interaction, choices []Suggestion) error {
	to := callbackRoute(in)
	if in.ID == "" || in.Token == "" {
		return invalid(to.name, "an interaction's id and token are needed")
	}
	if err := checkSuggestions(choices); err != nil {
		return invalid(to.name, "%v", err)
	}
	if choices == nil {
		choices = []Suggestion{}
	}
	return c.callBack(ctx, to, callback{Type: suggest, Data: map[string]any{"choices": choices}}, nil)
}

func (c *Client) callBack(ctx context.Context, to route, body callback, files []File) error {
	r, err := newRequest(to, body, files)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(ctx, firstTime)
	defer cancel()
	maybe, err := c.do(ctx, r, nil)
	if maybe && Code(err) == CodeAnswered {
		return nil
	}
	return err
}

// EditAnswer replaces the first answer, or puts one in place of a deferral.
// Whether it is ephemeral was settled by Answer, and is left so.
func (c *Client) EditAnswer(ctx context.Context, in Interaction, m Message) error {
	if in.App == "" || in.Token == "" {
		return invalid(answerRoute(in).name, "an interaction's token and application are needed")
	}
	return c.put(ctx, answerRoute(in), &m, m.payload(true), nil)
}

// FollowUp adds a message below the first answer. The platform can't be told
// that a follow-up is the same as before: where a connection broke off before
// the answer came, the message is sent again, and so may be there twice rather
// than not at all.
func (c *Client) FollowUp(ctx context.Context, in Interaction, m Message) error {
	if in.App == "" || in.Token == "" {
		return invalid(followUpRoute(in).name, "an interaction's token and application are needed")
	}
	p := m.payload(false)
	p.Flags = m.flags()
	return c.put(ctx, followUpRoute(in), &m, p, nil)
}

// Send puts a message into a channel and gives its id. However often the call
// has to be made, the message is there once. Code 50007: the member takes no
// direct messages; 50001, 50013: the bot may not write there; 10003: the
// channel is gone.
func (c *Client) Send(ctx context.Context, channel string, m Message) (id string, err error) {
	to := sendRoute(channel)
	if channel == "" || m.Ephemeral {
		return "", invalid(to.name, "a channel's id is needed, and a message that all may see")
	}
	p := m.payload(false)
	p.Nonce, p.EnforceNonce = m.Nonce, true
	if p.Nonce == "" {
		p.Nonce = rand.Text()[:MaxNonce]
	}
	if m.ReplyTo != "" {
		p.Reference = &reference{MessageID: m.ReplyTo}
	}
	var sent created
	if err := c.put(ctx, to, &m, p, &sent); err != nil {
		return "", err
	}
	return sent.id(to.name)
}

// Edit replaces a message of the bot's. Code 10008: it is gone; 30046: it is
// old, and has been edited too often of late.
func (c *Client) Edit(ctx context.Context, channel, id string, m Message) error {
	to := editRoute(channel, id)
	if channel == "" || id == "" || m.Ephemeral {
		return invalid(to.name, "the ids of a channel and a message are needed, and a message that all may see")
	}
	return c.put(ctx, to, &m, m.payload(true), nil)
}

// Remove deletes a message. Code 10008: it is gone already.
func (c *Client) Remove(ctx context.Context, channel, id string) error {
	to := removeRoute(channel, id)
	if channel == "" || id == "" {
		return invalid(to.name, "the ids of a channel and a message are needed")
	}
	_, err := c.do(ctx, &request{route: to}, nil)
	return err
}

// put checks a message and makes the call that writes it.
func (c *Client) put(ctx context.Context, to route, m *Message, p payload, into any) error {
	if err := m.check(); err != nil {
		return invalid(to.name, "%v", err)
	}
	r, err := newRequest(to, p, m.Files)
	if err != nil {
		return err
	}
	_, err = c.do(ctx, r, into)
	return err
}

// OpenDM gives the channel of a user's direct messages. Up to 10,000 are
// remembered and not asked for again. That a user takes none is told by Send:
// code 50007.
func (c *Client) OpenDM(ctx context.Context, user string) (channel string, err error) {
	if user == "" {
		return "", invalid(openDMRoute.name, "a user's id is needed")
	}
	if channel, known := c.dms.get(user); known {
		return channel, nil
	}
	r, err := newRequest(openDMRoute, map[string]string{"recipient_id": user}, nil)
	if err != nil {
		return "", err
	}
	var opened created
	if _, err := c.do(ctx, r, &opened); err != nil {
		return "", err
	}
	if channel, err = opened.id(openDMRoute.name); err != nil {
		return "", err
	}
	c.dms.put(user, channel)
	return channel, nil
}

// created is what the platform tells of what a call made.
type created struct {
	ID string `json:"id"`
}

func (d created) id(name string) (string, error) {
	if d.ID == "" {
		return "", &Error{Status: http.StatusOK, Route: name, Message: "the answer names no id"}
	}
	return d.ID, nil
}

// Commands gives the commands that are registered for all servers: a JSON
// array, as the platform wrote it.
func (c *Client) Commands(ctx context.Context, app string) ([]byte, error) {
	to := commandsRoute("GET", app)
	if app == "" {
		return nil, invalid(to.name, "the application's id is needed")
	}
	var commands json.RawMessage
	if _, err := c.do(ctx, &request{route: to}, &commands); err != nil {
		return nil, err
	}
	return commands, nil
}

// PutCommands registers commands, a JSON array of up to 100, in place of all
// that were registered for all servers.
func (c *Client) PutCommands(ctx context.Context, app string, commands []byte) error {
	to := commandsRoute("PUT", app)
	var list []json.RawMessage
	if app == "" || json.Unmarshal(commands, &list) != nil || list == nil {
		return invalid(to.name, "the application's id is needed, and a JSON array of commands")
	}
	_, err := c.do(ctx, &request{route: to, contentType: "application/json", body: commands}, nil)
	return err
}

// Gateway asks how many shards to open and how many identifies are left today.
func (c *Client) Gateway(ctx context.Context) (Start, error) {
	var told discordgo.GatewayBotResponse
	if _, err := c.do(ctx, &request{route: gatewayRoute}, &told); err != nil {
		return Start{}, err
	}
	limit := told.SessionStartLimit
	return Start{
		Shards:         max(told.Shards, 1),
		Total:          limit.Total,
		Remaining:      max(limit.Remaining, 0),
		MaxConcurrency: max(limit.MaxConcurrency, 1),
		ResetAfter:     max(time.Duration(limit.ResetAfter)*time.Millisecond, 0),
	}, nil
}
