package discordtest

import "time"

// Request is a REST request that was made.
type Request struct {
	At          time.Time
	Method      string
	Route       Route
	Path        string // without tokens of interactions
	Body        []byte // the JSON; that of payload_json where it came in parts
	Status      int    // 0 where no answer was given
	Code        int    // the platform's error code; 0 for none
	Interaction string // the id of the interaction that it belongs to; "" for none
}

// Session is a gateway session, one a shard.
type Session struct {
	ID                string
	Shard, Count      int
	Intents           int
	Compress          bool
	Connected         bool
	Seq               int64
	Resumes           int // how often it was resumed
	Heartbeats        int
	CloseCode         int // with which the client closed its last connection; 0 none, 1005 without a code, 1006 cut
	UpdatesOfPresence int
}

// Sent is all of the bot's messages that the person can see, oldest first: her direct
// messages, her ephemeral answers, and what stands in the channels of her guilds.
// Deleted ones are left out.
func (s *Server) Sent(p *Person) []Message { panic("TODO") }

// SentIn is what stands in the channel for everybody, oldest first.
func (s *Server) SentIn(ch *Channel) []Message { panic("TODO") }

// Wrong is what was wrong with the requests so far and was not expected.
func (s *Server) Wrong() []string { panic("TODO") }

// Expect says that something wrong whose text contains this will be sent. The test
// fails if none is by its end. One Expect serves for any number of such requests.
func (s *Server) Expect(text string) { panic("TODO") }

// Requests are the REST requests so far, oldest first, of the route; "" is all.
func (s *Server) Requests(r Route) []Request { panic("TODO") }

// Count is how many requests there were of the route; "" is all.
func (s *Server) Count(r Route) int { panic("TODO") }

// Commands is the JSON of the global commands that are registered, as the platform
// gives it; "[]" for none.
func (s *Server) Commands() []byte { panic("TODO") }

// Sessions are the gateway sessions so far, oldest first.
func (s *Server) Sessions() []Session { panic("TODO") }

// Identifies is how many identifies came so far.
func (s *Server) Identifies() int { panic("TODO") }

// Connections is how many gateway connections are open, identified or not.
func (s *Server) Connections() int { panic("TODO") }

// Connected waits until shards 0 to n-1 are connected and ready.
func (s *Server) Connected(n int) { panic("TODO") }

// Resumed waits until the shard has been resumed n times in all.
func (s *Server) Resumed(shard, n int) { panic("TODO") }

// Until waits until the condition holds; what names it in the failure. The condition
// is asked again whenever the server has seen something.
func (s *Server) Until(what string, holds func() bool) { panic("TODO") }

// Seen is a list of what was seen, for a person to read: newest last.
func (s *Server) Seen() string { panic("TODO") }
