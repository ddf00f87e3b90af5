package discordtest

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

const (
	keptLines  = 400   // of what is told when a wait ends in vain
	keptWrongs = 1_000 // of what was wrong
	longestRow = 400   // bytes of a body that are shown
)

// Request is a REST request that was made.
type Request struct {
	At          time.Time
	Method      string
	Route       Route
	Path        string // without tokens of interactions
	Body        []byte // the JSON; that of payload_json where it came in parts
	Status      int    // 0 where the connection was cut in place of an answer
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
	Seq               int64 // of the last event
	Resumes           int   // how often it was resumed
	Heartbeats        int
	CloseCode         int // with which the client closed its last connection; 0 none yet, 1005 without a code, 1006 cut
	UpdatesOfPresence int
}

// seen is what was seen. Server.mu guards it.
type seen struct {
	requests []Request // oldest first
	counts   map[Route]int
	lines    []line
	wrongs   []string
	lost     int // wrongs past keptWrongs
	expected []string
}

type line struct {
	at   time.Time
	text string
}

func (s *seen) line(text string) {
	s.lines = append(s.lines, line{time.Now(), text})
	if len(s.lines) > 2*keptLines {
		s.lines = slices.Delete(s.lines, 0, keptLines)
	}
}

// request keeps a request; that of a load is counted only.
func (s *seen) request(r Request, keep int, load bool) {
	if s.counts == nil {
		s.counts = map[Route]int{}
	}
	s.counts[r.Route]++
	if load {
		return
	}
	s.requests = append(s.requests, r)
	if len(s.requests) > 2*keep {
		s.requests = slices.Delete(s.requests, 0, keep)
	}
}

func (s *seen) wrongly(format string, a ...any) {
	text := fmt.Sprintf(format, a...)
	s.line("WRONG: " + text)
	if len(s.wrongs) == keptWrongs {
		s.lost++
		return
	}
	s.wrongs = append(s.wrongs, text)
}

// unexpected are the wrongs that nobody expected.
func (s *seen) unexpected() []string {
	var all []string
	for _, w := range s.wrongs {
		if !slices.ContainsFunc(s.expected, func(e string) bool { return strings.Contains(w, e) }) {
			all = append(all, w)
		}
	}
	if s.lost > 0 {
		all = append(all, fmt.Sprintf("and %d more", s.lost))
	}
	return all
}

func (s *Server) wrong(format string, a ...any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.seen.wrongly(format, a...)
	s.note()
}

// say keeps a line for the list of what was seen.
func (s *Server) say(format string, a ...any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.seen.line(fmt.Sprintf(format, a...))
	s.note()
}

// saw wakes those who wait.
func (s *Server) saw() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.note()
}

// Sent is all of the bot's messages that the person can see, oldest first: her direct
// messages, her ephemeral answers, and what stands in the channels of her guilds.
// Deleted ones are left out, and deferrals that have not been filled in.
func (s *Server) Sent(p *Person) []Message {
	return s.sent(func(r *record) bool { return r.seenBy(p) })
}

// SentIn is what stands in the channel for everybody, oldest first.
func (s *Server) SentIn(ch *Channel) []Message {
	return s.sent(func(r *record) bool { return r.shown() && r.to == nil && r.channel == ch })
}

func (s *Server) sent(sees func(*record) bool) []Message {
	s.mu.Lock()
	defer s.mu.Unlock()
	var all []Message
	for _, r := range s.store.order {
		if sees(r) {
			all = append(all, r.Message)
		}
	}
	return all
}

// Wrong is what was wrong with the requests so far and was not expected.
func (s *Server) Wrong() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.seen.unexpected()
}

// Expect says that something wrong whose text contains this will be sent. The test
// fails if none is by its end. One Expect serves for any number of such requests.
func (s *Server) Expect(text string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.seen.expected = append(s.seen.expected, text)
}

// judge fails the test for what was wrong, and for what was expected and did not come.
func (s *Server) judge() {
	s.t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, w := range s.seen.unexpected() {
		s.t.Errorf("discordtest: wrong: %s", w)
	}
	for _, e := range s.seen.expected {
		if !slices.ContainsFunc(s.seen.wrongs, func(w string) bool { return strings.Contains(w, e) }) {
			s.t.Errorf("discordtest: expected something wrong with %q, and nothing was", e)
		}
	}
}

// Requests are the REST requests so far, oldest first, of the route; "" is all. Those
// of a load (see Fire) are counted only.
func (s *Server) Requests(r Route) []Request {
	s.mu.Lock()
	defer s.mu.Unlock()
	var all []Request
	for _, one := range s.seen.requests {
		if r == AnyRoute || one.Route == r {
			all = append(all, one)
		}
	}
	return all
}

// Count is how many requests there were of the route; "" is all.
func (s *Server) Count(r Route) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	if r != AnyRoute {
		return s.seen.counts[r]
	}
	n := 0
	for _, one := range s.seen.counts {
		n += one
	}
	return n
}

// Sessions are the gateway sessions so far, oldest first.
func (s *Server) Sessions() []Session {
	s.mu.Lock()
	all := slices.Clone(s.gate.sessions)
	s.mu.Unlock()
	var stats []Session
	for _, x := range all {
		x.mu.Lock()
		stats = append(stats, x.stats)
		x.mu.Unlock()
	}
	return stats
}

// Identifies is how many identifies came so far whose form was right.
func (s *Server) Identifies() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.gate.identifies
}

// Connections is how many gateway connections are open, identified or not.
func (s *Server) Connections() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.gate.conns)
}

// Connected waits until shards 0 to n-1 are connected and ready.
func (s *Server) Connected(n int) {
	s.helper()
	s.Until(fmt.Sprintf("%d shards to be connected", n), func() bool {
		up := map[int]bool{}
		for _, one := range s.Sessions() {
			if one.Connected && one.Shard < n {
				up[one.Shard] = true
			}
		}
		return len(up) == n
	})
}

// Gone waits until no connection of the shard is left.
func (s *Server) Gone(shard int) {
	s.helper()
	s.Until(fmt.Sprintf("shard %d to be gone", shard), func() bool {
		return !slices.ContainsFunc(s.Sessions(), func(one Session) bool { return one.Connected && one.Shard == shard })
	})
}

// Resumed waits until the shard has been resumed n times in all.
func (s *Server) Resumed(shard, n int) {
	s.helper()
	s.Until(fmt.Sprintf("shard %d to be resumed %d times", shard, n), func() bool {
		times := 0
		for _, one := range s.Sessions() {
			if one.Shard == shard {
				times += one.Resumes
			}
		}
		return times >= n
	})
}

// Seen is a list of what was seen, for a person to read: newest last.
func (s *Server) Seen() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	lines := slices.Clone(s.seen.lines)
	for _, r := range s.seen.requests[max(0, len(s.seen.requests)-keptLines):] {
		body := string(r.Body)
		if len(body) > longestRow {
			body = body[:longestRow] + "..."
		}
		lines = append(lines, line{r.At, fmt.Sprintf("%s %s -> %d (%d) %s", r.Method, r.Path, r.Status, r.Code, body)})
	}
	slices.SortStableFunc(lines, func(a, b line) int { return a.at.Compare(b.at) })
	lines = lines[max(0, len(lines)-keptLines):]
	b := &strings.Builder{}
	fmt.Fprintf(b, "what the stand-in has seen, newest last (%d lines):\n", len(lines))
	for _, l := range lines {
		fmt.Fprintf(b, "  %s %s\n", l.at.Format("15:04:05.000"), l.text)
	}
	return b.String()
}
