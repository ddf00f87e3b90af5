// Package rest makes the calls to the platform: every answer, message and edit
// goes through it, with the sizes checked, mentions off, the limits kept and
// failed calls made again for as long as the caller's context lasts, and for a
// minute at most.
package rest

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"net"
	"net/http"
	"net/url"
	"strings"
	"time"

	"github.com/bwmarrin/discordgo"
	"github.com/rs/zerolog"
)

// userAgent has the documented form, "DiscordBot ($url, $versionNumber)"
// (Discord's developer documentation, Reference, User Agent). Clew has no page
// of its own; the address is one that is promised to lead nowhere (RFC 2606).
const userAgent = "DiscordBot (https://clew.invalid, 1)"

const home = "https://discord.com"

// Options are a client's.
type Options struct {
	Token string // the bot's, without "Bot " before it
	API   string // base address of the platform, as "http://127.0.0.1:4000"; "" is https://discord.com. Over http the token can be read on the way
	Log   zerolog.Logger
}

// Client makes calls as one bot. It may be used by many goroutines at once.
type Client struct {
	token     string
	base      string // of all calls: ".../api/v9"
	transport *http.Transport
	others    *http.Client // for HTTP
	limits    *limiter
	dms       *dms
	log       zerolog.Logger
	jitter    func() float64 // 0 up to 1
}

// New makes a client. It calls nothing yet. The error says which option is
// wrong, and does not repeat the token.
func New(o Options) (*Client, error) {
	if o.Token == "" || strings.ContainsFunc(o.Token, func(r rune) bool { return r <= ' ' || r > '~' }) {
		return nil, errors.New("the bot's token must be letters, digits and signs, without a space: copy it anew from the application's Bot page")
	}
	base, err := parseBase(o.API)
	if err != nil {
		return nil, err
	}
	c := &Client{
		token:     o.Token,
		base:      base.String() + "/api/v" + discordgo.APIVersion,
		transport: newTransport(),
		limits:    newLimiter(),
		dms:       newDMs(),
		log:       o.Log,
		jitter:    rand.Float64,
	}
	var through http.RoundTripper = c.transport
	if o.API != "" {
		through = rewriter{base: base, next: c.transport}
	}
	c.others = &http.Client{Transport: through, CheckRedirect: refuseRedirect, Timeout: 20 * time.Second}
	return c, nil
}

func parseBase(api string) (*url.URL, error) {
	if api == "" {
		api = home
	}
	u, err := url.Parse(strings.TrimRight(api, "/"))
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Hostname() == "" || u.User != nil || u.RawQuery != "" || u.Fragment != "" {
		return nil, fmt.Errorf("the address of Discord's API must be like %q: http or https, a host, perhaps a port and a path", "http://127.0.0.1:4000")
	}
	return u, nil
}

// newTransport is for a thousand calls a second to one host: at 100 ms a call
// a hundred connections are in use at once, and none is thrown away between
// two bursts. How many there are at most is bounded by how many calls are made
// at once.
func newTransport() *http.Transport {
	return &http.Transport{
		Proxy:                 http.ProxyFromEnvironment,
		DialContext:           (&net.Dialer{Timeout: 5 * time.Second, KeepAlive: 15 * time.Second}).DialContext,
		TLSHandshakeTimeout:   5 * time.Second,
		ResponseHeaderTimeout: 15 * time.Second,
		IdleConnTimeout:       90 * time.Second,
		MaxIdleConns:          512,
		MaxIdleConnsPerHost:   512,
		ForceAttemptHTTP2:     true,
		// Over HTTP/2 all calls share a connection: one that died must be noticed.
		HTTP2: &http.HTTP2Config{SendPingTimeout: 15 * time.Second, PingTimeout: 5 * time.Second},
	}
}

// Close lets go of the connections. The calls must have returned.
func (c *Client) Close() { c.transport.CloseIdleConnections() }

// HTTP is a client for what this package does not call itself: the gateway's
// address and members' attachments. Where Options.API is set, it sends there
// what is meant for https://discord.com and for the attachment hosts
// https://cdn.discordapp.com and https://media.discordapp.net. It refuses
// redirects, adds no token, and gives up after 20 s. Its errors name the
// address that was called, as net/http's do.
func (c *Client) HTTP() *http.Client { return c.others }
