// Package discordtest is a stand-in for the chat platform on a loopback port: a
// gateway over WebSocket and REST over HTTP, to which a real client connects. It
// checks what it is sent against the platform's documented sizes and required
// fields, refuses what the platform would refuse, and keeps a list of what was
// wrong. A test, or a program, plays the members:
//
//	srv := discordtest.New(t, discordtest.Options{Token: "tibberhythe"})
//	ana := srv.Guild("Tibberhythe").Member("Ana Pell")
//	srv.Says(ana, "next row").Answers(1)
//	srv.Press(ana, "Next row").Answers(1)
//	for _, m := range srv.Sent(ana) { t.Log(m.Said()) }
//
// It shares no code with the programs that it checks. Numbers are Discord's, from
// its developer documentation (https://discord.com/developers/docs); where one was
// not looked up, the comment beside it says "from memory".
//
// All methods may be called from several goroutines at once. Those that wait give
// up after Options.Wait, and then fail the test with a list of what was seen.
package discordtest

import (
	"testing"
	"time"
)

// Options are the settings of a server. Zero values are the platform's own, but
// for IdentifyEvery and PerSecond, which are not enforced unless they are set.
type Options struct {
	Token string // the bot's token without "Bot "; "" is "test-token"
	Name  string // the bot's name, by which SaysIn's "@name" mentions it; "" is "clew"

	Shards         int           // how many shards /gateway/bot recommends; 0 is 1
	Identifies     int           // identifies left of the day; 0 is 1000, below 0 is none
	MaxConcurrency int           // identifies per IdentifyEvery; 0 is 1
	IdentifyEvery  time.Duration // how long a shard's place for identifying is taken; 0 is not enforced (the platform's is 5 s)
	Privileged     int           // the privileged intents that are granted; 0 is none
	Heartbeat      time.Duration // the interval that hello names, whole milliseconds; 0 is 41250 ms

	AnswerWithin time.Duration // an interaction's first answer is refused after this; 0 is 3 s
	TokenServes  time.Duration // an interaction's token serves this long; 0 is 15 minutes
	PerSecond    int           // REST requests a second before the global limit; 0 is not enforced (the platform's is 50)

	Wait   time.Duration // the longest that any wait lasts; 0 is 10 s
	Keep   int           // how many messages, events and requests are kept, each; 0 is 10,000, below 0 is as few as can be
	NoEcho bool          // the bot's own messages are not dispatched to it (the platform does dispatch them)

	// Fail is called in place of the test's Fatal where there is no test. It
	// should not return. nil panics.
	Fail func(what string)
}

// Server is a stand-in for the platform.
type Server struct {
	opt Options
	t   testing.TB
}

// New starts a server that ends with the test. The test fails if the server was
// sent anything wrong that was not expected (see Expect).
func New(t testing.TB, o Options) *Server { panic("TODO") }

// Start starts a server without a test. Close ends it.
func Start(o Options) (*Server, error) { panic("TODO") }

// Close ends the server and all of its connections, and waits for its goroutines.
// It is safe to call more than once.
func (s *Server) Close() {}

// URL is the server's address, for --discord-api: "http://127.0.0.1:PORT".
func (s *Server) URL() string { panic("TODO") }

// Token is the bot's token, without "Bot ".
func (s *Server) Token() string { panic("TODO") }

// Application is the id of the application, and of the bot's user.
func (s *Server) Application() string { panic("TODO") }
