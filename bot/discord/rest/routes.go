package rest

import (
	"net/url"
	"time"
)

// route is where a call goes, and which limits it is under.
type route struct {
	name    string        // method and template, for errors and the log
	method  string        //
	path    string        // below /api/v9, escaped
	bucket  string        // calls with the same one share a limit; may hold a token
	free    bool          // not under the limit of the whole bot
	secrets []string      // what may never be told of the path
	attempt time.Duration // one attempt's time; 0 is the usual
}

// The routes of an interaction have a limit for each token, and are not under
// the bot's own (Discord's developer documentation, Rate Limits: "Interaction
// endpoints are not bound to the bot's Global Rate Limit").
func callbackRoute(in Interaction) route {
	path := "/interactions/" + url.PathEscape(in.ID) + "/" + url.PathEscape(in.Token) + "/callback"
	return route{
		name: "POST interactions/{interaction}/{token}/callback", method: "POST", path: path,
		bucket: "POST " + path, free: true, secrets: []string{in.Token, url.PathEscape(in.Token)}, attempt: firstAttempt,
	}
}

func answerRoute(in Interaction) route {
	path := "/webhooks/" + url.PathEscape(in.App) + "/" + url.PathEscape(in.Token) + "/messages/@original"
	return route{
		name: "PATCH webhooks/{application}/{token}/messages/@original", method: "PATCH", path: path,
		bucket: "PATCH " + path, free: true, secrets: []string{in.Token, url.PathEscape(in.Token)},
	}
}

func followUpRoute(in Interaction) route {
	path := "/webhooks/" + url.PathEscape(in.App) + "/" + url.PathEscape(in.Token)
	return route{
		name: "POST webhooks/{application}/{token}", method: "POST", path: path,
		bucket: "POST " + path, free: true, secrets: []string{in.Token, url.PathEscape(in.Token)},
	}
}

func sendRoute(channel string) route {
	path := "/channels/" + url.PathEscape(channel) + "/messages"
	return route{name: "POST channels/{channel}/messages", method: "POST", path: path, bucket: "POST " + path}
}

// All edits in a channel share a limit, whichever message they are of.
func editRoute(channel, id string) route {
	path := "/channels/" + url.PathEscape(channel) + "/messages"
	return route{
		name: "PATCH channels/{channel}/messages/{message}", method: "PATCH",
		path: path + "/" + url.PathEscape(id), bucket: "PATCH " + path,
	}
}

// Deleting has a limit of its own, whichever messages it is of.
func removeRoute(channel, id string) route {
	path := "/channels/" + url.PathEscape(channel) + "/messages"
	return route{
		name: "DELETE channels/{channel}/messages/{message}", method: "DELETE",
		path: path + "/" + url.PathEscape(id), bucket: "DELETE " + path,
	}
}

func commandsRoute(method, app string) route {
	path := "/applications/" + url.PathEscape(app) + "/commands"
	return route{name: method + " applications/{application}/commands", method: method, path: path, bucket: method + " " + path}
}

var (
	openDMRoute  = route{name: "POST users/@me/channels", method: "POST", path: "/users/@me/channels", bucket: "POST /users/@me/channels"}
	gatewayRoute = route{name: "GET gateway/bot", method: "GET", path: "/gateway/bot", bucket: "GET /gateway/bot"}
)
