// Package rest makes the calls to the platform: every answer, message and edit
// goes through it, with the sizes checked, mentions off, the limits kept and
// failed calls tried again for as long as the caller's context lasts.
package rest

import (
	"errors"
	"net/http"

	"github.com/rs/zerolog"
)

// Options are a client's.
type Options struct {
	Token string // the bot's, without "Bot " before it
	API   string // base address of the platform, as "http://127.0.0.1:4000"; "" is https://discord.com
	Log   zerolog.Logger
}

// Client makes calls as one bot. It may be used by many goroutines at once.
type Client struct{}

// New makes a client. It calls nothing yet. The error says which option is wrong.
func New(o Options) (*Client, error) { return nil, errors.New("rest: not built yet") }

// Close lets go of the connections. The calls must have returned.
func (c *Client) Close() {}

// HTTP is a client for what this package does not call itself: the gateway's
// address and members' attachments. Where Options.API is set, it sends there
// what is meant for the platform and its attachment hosts. It refuses redirects.
func (c *Client) HTTP() *http.Client { return nil }
