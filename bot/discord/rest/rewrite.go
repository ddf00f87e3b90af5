package rest

import (
	"errors"
	"net/http"
	"net/url"
	"slices"
)

// errRedirect keeps a token, and a member's file, from going wherever an answer points.
var errRedirect = errors.New("the answer was a redirect, which is refused")

func refuseRedirect(*http.Request, []*http.Request) error { return errRedirect }

// rewriter sends to base what is meant for the platform: its API, and the
// hosts that keep attachments. Everything else goes where it says.
type rewriter struct {
	base *url.URL
	next http.RoundTripper
}

func (w rewriter) RoundTrip(req *http.Request) (*http.Response, error) {
	if req.URL.Scheme != "https" || !platformHost(req.URL.Host) {
		return w.next.RoundTrip(req)
	}
	there := req.Clone(req.Context())
	there.Host = ""
	there.URL.Scheme, there.URL.Host = w.base.Scheme, w.base.Host
	there.URL.Path = w.base.Path + req.URL.Path
	there.URL.RawPath = w.base.EscapedPath() + req.URL.EscapedPath() // heeded where it differs from Path
	return w.next.RoundTrip(there)
}

// AttachmentHosts are the hosts from which the platform serves, over https, what
// its members attach.
var AttachmentHosts = []string{"cdn.discordapp.com", "media.discordapp.net"}

func platformHost(host string) bool {
	return host == "discord.com" || slices.Contains(AttachmentHosts, host)
}
