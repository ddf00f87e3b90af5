package discordtest

import (
	"encoding/json"
	"errors"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// Route names a kind of REST request.
type Route string

// The routes that are served, below /api/v9 (or v10).
const (
	AnyRoute      Route = ""
	Gateway       Route = "GET /gateway"
	GatewayBot    Route = "GET /gateway/bot"
	Callback      Route = "POST /interactions/{id}/{token}/callback"
	FollowUp      Route = "POST /webhooks/{app}/{token}"
	GetAnswer     Route = "GET /webhooks/{app}/{token}/messages/{message}"
	EditAnswer    Route = "PATCH /webhooks/{app}/{token}/messages/{message}"
	DeleteAnswer  Route = "DELETE /webhooks/{app}/{token}/messages/{message}"
	Send          Route = "POST /channels/{channel}/messages"
	GetMessages   Route = "GET /channels/{channel}/messages"
	GetMessage    Route = "GET /channels/{channel}/messages/{message}"
	Edit          Route = "PATCH /channels/{channel}/messages/{message}"
	Delete        Route = "DELETE /channels/{channel}/messages/{message}"
	OpenDM        Route = "POST /users/@me/channels"
	Me            Route = "GET /users/@me"
	GetCommands   Route = "GET /applications/{app}/commands"
	PutCommands   Route = "PUT /applications/{app}/commands"
	PostCommand   Route = "POST /applications/{app}/commands"
	ApplicationMe Route = "GET /applications/@me"
	OAuthMe       Route = "GET /oauth2/applications/@me"

	// AttachmentFile is what the platform serves from another host, with no version before it.
	AttachmentFile Route = "GET /attachments/{channel}/{id}/{name}"
)

// handler does what a request asks, and gives the status and the object of the answer.
type handler func(*call) (status int, answer any, no *refusal)

type routing struct {
	route   Route
	method  string
	parts   []string
	bot     bool // needs the bot's token, and counts to the global limit
	handler handler
}

var routes = func() []routing {
	var table []routing
	add := func(r Route, bot bool, h handler) {
		method, path, _ := strings.Cut(string(r), " ")
		table = append(table, routing{r, method, strings.Split(path[1:], "/"), bot, h})
	}
	add(Gateway, false, (*call).gateway) // it needs no token: documentation, "Gateway", get gateway; from memory
	add(GatewayBot, true, (*call).gatewayBot)
	add(Callback, false, (*call).callback)
	add(FollowUp, false, (*call).followUp)
	add(GetAnswer, false, (*call).getAnswer)
	add(EditAnswer, false, (*call).editAnswer)
	add(DeleteAnswer, false, (*call).deleteAnswer)
	add(Send, true, (*call).send)
	add(GetMessages, true, (*call).getMessages)
	add(GetMessage, true, (*call).getMessage)
	add(Edit, true, (*call).edit)
	add(Delete, true, (*call).delete)
	add(OpenDM, true, (*call).openDM)
	add(Me, true, (*call).me)
	add(ApplicationMe, true, (*call).application)
	add(OAuthMe, true, (*call).application)
	add(GetCommands, true, (*call).getCommands)
	add(PutCommands, true, (*call).putCommands)
	add(PostCommand, true, (*call).postCommand)
	return table
}()

// match finds the route of a path below the version, and what stands for its names.
func match(method, path string) (*routing, []string) {
	parts := strings.Split(strings.Trim(path, "/"), "/")
	var names [3]string
next:
	for i := range routes {
		r := &routes[i]
		if r.method != method || len(r.parts) != len(parts) {
			continue
		}
		n := 0
		for k, part := range r.parts {
			switch {
			case part[0] == '{' && parts[k] != "" && parts[k] != "@me":
				names[n] = parts[k]
				n++
			case part != parts[k]:
				continue next
			}
		}
		return r, names[:n]
	}
	return nil, nil
}

// call is one REST request.
type call struct {
	s     *Server
	r     *http.Request
	route *routing
	names []string // what stands for the names of the route
	it    *interaction
	json  []byte // the body, or its payload_json
	files []File
	log   Request
}

// refusal is an answer that says no.
type refusal struct {
	status, code int
	message      string
	errors       map[string]any // of a form, by field
	object       []byte         // in place of what the fields above make
	plain        string         // text in place of an object
	meant        bool           // the test wanted it, or the client can't know: nothing is wrong
	detail       string         // for the list of what was wrong
	header       http.Header
}

func (no *refusal) body() []byte {
	switch {
	case no.object != nil:
		return no.object
	case no.plain != "":
		return []byte(no.plain + "\n")
	}
	o := map[string]any{"message": no.message, "code": no.code}
	if no.errors != nil {
		o["errors"] = no.errors
	}
	return marshal(o)
}

var errGone = errors.New("the client has gone")

// serveAPI serves a REST request.
func (s *Server) serveAPI(w http.ResponseWriter, r *http.Request) {
	c := &call{s: s, r: r, log: Request{At: time.Now(), Method: r.Method, Path: r.URL.Path}}
	version, rest, found := strings.Cut(strings.TrimPrefix(r.URL.Path, "/api/"), "/")
	if found && strings.HasPrefix(r.URL.Path, "/api/") && (version == "v9" || version == "v10") {
		c.route, c.names = match(r.Method, rest)
	}
	if c.route == nil {
		c.finish(w, 0, nil, &refusal{status: http.StatusNotFound, message: "404: Not Found"}, fault{})
		return
	}
	c.log.Route = c.route.route
	c.find()
	s.mu.Lock()
	now := s.faults.take(c.route.route)
	s.mu.Unlock()
	if c.pause(now.late) != nil {
		return
	}
	status, answer, no := c.run(now)
	c.finish(w, status, answer, no, now)
}

// pause waits, unless the client or the server ends.
func (c *call) pause(d time.Duration) error {
	if d <= 0 {
		return nil
	}
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return nil
	case <-c.r.Context().Done():
	case <-c.s.done:
	}
	return errGone
}

// find finds the interaction whose token the path has, and takes the token out of
// what is kept of the request.
func (c *call) find() {
	if c.route.route != Callback && c.route.parts[0] != "webhooks" {
		return
	}
	token := c.names[1]
	c.log.Path = strings.ReplaceAll(c.log.Path, token, "{token}")
	c.s.mu.Lock()
	defer c.s.mu.Unlock()
	if it := c.s.store.tokens[token]; it != nil {
		c.it, c.log.Interaction = it, it.id
	}
}

func (c *call) run(now fault) (int, any, *refusal) {
	if now != (fault{}) && c.it != nil {
		// The client may not learn that it was served, and ask again, or it comes late, and
		// neither is its fault.
		c.it.again.Store(true)
	}
	if now.failure != nil {
		return 0, nil, now.failure.failed()
	}
	if no := c.authorised(); no != nil {
		return 0, nil, no
	}
	if no := c.limited(); no != nil {
		if c.it != nil {
			c.it.again.Store(true)
		}
		return 0, nil, no
	}
	if no := c.read(); no != nil {
		return 0, nil, no
	}
	return c.route.handler(c)
}

// authorised checks the header: documentation, "API Reference", authentication, and
// user agent.
func (c *call) authorised() *refusal {
	agent := c.r.Header.Get("User-Agent")
	if !strings.HasPrefix(agent, "DiscordBot (") {
		c.wrong("User-Agent is %q: expected \"DiscordBot (url, version)\"", agent)
	}
	if !c.route.bot {
		return nil
	}
	token := c.r.Header.Get("Authorization")
	if token == "Bot "+c.s.opt.Token {
		return nil
	}
	if !strings.HasPrefix(token, "Bot ") {
		c.wrong("Authorization: expected \"Bot \" and the token")
	}
	return &refusal{status: http.StatusUnauthorized, message: "401: Unauthorized", meant: true}
}

// wrong keeps what is wrong with the request.
func (c *call) wrong(format string, a ...any) {
	c.s.wrong("%s: "+format, append([]any{c.name()}, a...)...)
}

// name is the request as the list of what was wrong has it.
func (c *call) name() string { return c.r.Method + " " + c.log.Path }

// finish answers, and keeps what was asked and answered.
func (c *call) finish(w http.ResponseWriter, status int, answer any, no *refusal, now fault) {
	var body []byte
	kind := "application/json"
	switch {
	case no != nil:
		status, body = no.status, no.body()
		for k, v := range no.header {
			w.Header()[k] = v
		}
		if no.plain != "" {
			kind = "text/plain; charset=utf-8"
		}
		c.log.Code = no.code
	case answer != nil:
		body = marshal(answer)
	}
	c.log.Status = status
	if now.cut {
		c.log.Status = 0
	}
	c.log.Body = c.json
	c.keep(no)
	if c.pause(now.slow) != nil || now.cut {
		panic(http.ErrAbortHandler) // the connection is cut
	}
	c.headers(w.Header())
	if len(body) > 0 {
		w.Header().Set("Content-Type", kind)
		w.Header().Set("Content-Length", strconv.Itoa(len(body)))
	}
	w.WriteHeader(status)
	_, _ = w.Write(body) // a client that has gone is no concern of ours
}

// keep keeps the request for Requests, and what was refused for Wrong.
func (c *call) keep(no *refusal) {
	s := c.s
	s.mu.Lock()
	defer s.mu.Unlock()
	defer s.note()
	s.seen.request(c.log, s.opt.Keep, c.it != nil && c.it.shot != nil)
	if no == nil {
		return
	}
	s.limits.refused(s, no.status)
	if no.meant {
		return
	}
	detail := no.detail
	if detail == "" && no.errors != nil {
		detail = string(marshal(no.errors))
	}
	s.seen.wrongly("%s: refused with %d, code %d: %s %s", c.name(), no.status, no.code, no.message, detail)
}

// object reads the body as an object.
func (c *call) object() (map[string]json.RawMessage, *refusal) {
	var o map[string]json.RawMessage
	if json.Unmarshal(c.json, &o) != nil || o == nil {
		return nil, badJSON()
	}
	return o, nil
}

// badJSON: documentation, "Opcodes and Status Codes", JSON error codes.
func badJSON() *refusal {
	return &refusal{status: http.StatusBadRequest, code: 50109, message: "The request body contains invalid JSON."}
}
