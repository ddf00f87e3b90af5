package discordtest

import "time"

// Route names a kind of REST request.
type Route string

// The routes that are served, below /api/v9 (or any other version).
const (
	AnyRoute       Route = ""
	Gateway        Route = "GET /gateway"
	GatewayBot     Route = "GET /gateway/bot"
	Callback       Route = "POST /interactions/{id}/{token}/callback"
	FollowUp       Route = "POST /webhooks/{app}/{token}"
	GetAnswer      Route = "GET /webhooks/{app}/{token}/messages/{message}"
	EditAnswer     Route = "PATCH /webhooks/{app}/{token}/messages/{message}"
	DeleteAnswer   Route = "DELETE /webhooks/{app}/{token}/messages/{message}"
	Send           Route = "POST /channels/{channel}/messages"
	GetMessages    Route = "GET /channels/{channel}/messages"
	GetMessage     Route = "GET /channels/{channel}/messages/{message}"
	Edit           Route = "PATCH /channels/{channel}/messages/{message}"
	Delete         Route = "DELETE /channels/{channel}/messages/{message}"
	OpenDM         Route = "POST /users/@me/channels"
	Me             Route = "GET /users/@me"
	GetCommands    Route = "GET /applications/{app}/commands"
	PutCommands    Route = "PUT /applications/{app}/commands"
	PostCommand    Route = "POST /applications/{app}/commands"
	ApplicationMe  Route = "GET /applications/@me"
	OAuthMe        Route = "GET /oauth2/applications/@me"
	AttachmentFile Route = "GET /attachments/{channel}/{id}/{name}"
)

// Cut cuts the shard's connection without a close frame. Its session can be resumed.
func (s *Server) Cut(shard int) { panic("TODO") }

// CloseWith closes the shard's connection with a code; 4004 and 4010 to 4014 end the
// session, as do 4007 and 4009.
func (s *Server) CloseWith(shard, code int) { panic("TODO") }

// Reconnect asks the shard to reconnect (op 7).
func (s *Server) Reconnect(shard int) { panic("TODO") }

// Invalid tells the shard that its session is invalid (op 9). Where it is not
// resumable the session is forgotten.
func (s *Server) Invalid(shard int, resumable bool) { panic("TODO") }

// WantHeartbeat asks the shard for a heartbeat now (op 1).
func (s *Server) WantHeartbeat(shard int) { panic("TODO") }

// Silent stops acknowledging heartbeats, and dispatching, until it is called with false.
func (s *Server) Silent(on bool) { panic("TODO") }

// HangOpen leaves new connections' upgrades unanswered until it is called with false.
func (s *Server) HangOpen(on bool) { panic("TODO") }

// NoHello accepts connections and says nothing on them until it is called with false.
func (s *Server) NoHello(on bool) { panic("TODO") }

// ReconnectFirst sends op 7 in place of READY or RESUMED to the next n connections.
func (s *Server) ReconnectFirst(n int) { panic("TODO") }

// InvalidFirst answers the next n identifies or resumes with op 9.
func (s *Server) InvalidFirst(n int, resumable bool) { panic("TODO") }

// RefuseIdentify closes the next n identifying connections with the code, before READY.
func (s *Server) RefuseIdentify(n, code int) { panic("TODO") }

// Fail answers the next so many requests of the route with a status, without doing
// what they ask. The body is plain text, as a proxy's is.
func (s *Server) Fail(r Route, status, times int) { panic("TODO") }

// FailCode answers the next so many requests of the route with a status and an error
// code of the platform's, without doing what they ask.
func (s *Server) FailCode(r Route, status, code, times int) { panic("TODO") }

// Slow delays the answers of the route by d, what they ask being done at once; 0 ends it.
func (s *Server) Slow(r Route, d time.Duration) { panic("TODO") }

// Late delays the route's requests by d before anything is done; 0 ends it.
func (s *Server) Late(r Route, d time.Duration) { panic("TODO") }

// CutAnswers does what the next n requests of the route ask, and then cuts the
// connection in place of an answer.
func (s *Server) CutAnswers(r Route, n int) { panic("TODO") }

// RateLimit answers the route's requests with 429 until retryAfter has passed.
func (s *Server) RateLimit(r Route, retryAfter time.Duration) { panic("TODO") }

// RateLimitGlobal answers all requests that the global limit binds (those with the
// bot's token, not those of an interaction's) with 429 until retryAfter has passed.
func (s *Server) RateLimitGlobal(retryAfter time.Duration) { panic("TODO") }

// Limit gives the route a bucket of n requests every window, one bucket a channel,
// webhook or interaction; n 0 ends it.
func (s *Server) Limit(r Route, n int, window time.Duration) { panic("TODO") }

// RefuseDM refuses direct messages to the person with 50007, as where she takes none.
func (s *Server) RefuseDM(p *Person) { panic("TODO") }

// AllowDM takes RefuseDM back.
func (s *Server) AllowDM(p *Person) { panic("TODO") }

// Forbid takes from the bot the right to write in the channel (50013).
func (s *Server) Forbid(ch *Channel) { panic("TODO") }

// Hide takes from the bot the right to see the channel (50001).
func (s *Server) Hide(ch *Channel) { panic("TODO") }

// Allow takes Forbid and Hide back.
func (s *Server) Allow(ch *Channel) { panic("TODO") }

// Remove deletes a message as a moderator would.
func (s *Server) Remove(messageID string) { panic("TODO") }
