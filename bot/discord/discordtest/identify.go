package discordtest

import (
	"encoding/json"
	"slices"
	"time"
)

// identification is the data of an identify: documentation, "Gateway Events", identify;
// what of it is required is from memory.
type identification struct {
	Token          string         `json:"token"`
	Properties     map[string]any `json:"properties"`
	Compress       bool           `json:"compress"`
	LargeThreshold *int           `json:"large_threshold"`
	Shard          *[]int         `json:"shard"`
	Intents        *int           `json:"intents"`
}

// unnamed is the first of the connection's properties that is missing. Version 9 still
// takes the names with a dollar sign that came before: from memory.
func (i *identification) unnamed() string {
	for _, key := range []string{"os", "browser", "device"} {
		_, is := i.Properties[key].(string)
		_, was := i.Properties["$"+key].(string)
		if !is && !was {
			return key
		}
	}
	return ""
}

// identify begins a session.
func (s *Server) identify(c *conn, d json.RawMessage) {
	if c.session.Load() != nil {
		s.wrong("gateway: identify: the connection has identified already")
		c.closeWith(closeIdentified, "Already authenticated.")
		return
	}
	var i identification
	if err := json.Unmarshal(orNull(d), &i); err != nil {
		s.wrong("gateway: identify: %v", err)
		c.closeWith(closeDecode, "Error while decoding payload.")
		return
	}
	if code, why := s.refuses(&i); code != 0 {
		if why != "" {
			s.wrong("gateway: identify: %s", why)
		}
		c.closeWith(code, why)
		return
	}
	shard, count := 0, 1
	if i.Shard != nil {
		shard, count = (*i.Shard)[0], (*i.Shard)[1]
	}
	verdict := s.admit(c, shard)
	switch {
	case verdict.code != 0:
		c.closeWith(verdict.code, "")
		return
	case verdict.reply != nil:
		c.send(verdict.reply, false)
		return
	}
	s.begin(c, &i, shard, count)
}

// refuses gives the code with which an identify is refused, and what was wrong with it
// where its form was: a token or intents that were not granted are no fault of form.
func (s *Server) refuses(i *identification) (code int, why string) {
	switch {
	case bare(i.Token) != s.opt.Token:
		return closeAuth, ""
	case i.unnamed() != "":
		return closeDecode, "properties: " + i.unnamed() + " is required"
	case i.LargeThreshold != nil && (*i.LargeThreshold < 50 || *i.LargeThreshold > 250):
		return closeDecode, "large_threshold: expected 50 to 250"
	case i.Shard != nil && (len(*i.Shard) != 2 || (*i.Shard)[1] < 1 || (*i.Shard)[0] < 0 || (*i.Shard)[0] >= (*i.Shard)[1]):
		return closeShard, "shard: expected [id, count] with 0 <= id < count"
	case i.Intents == nil:
		return closeIntents, "intents: required"
	case *i.Intents&^intentsKnown != 0:
		return closeIntents, "intents: a bit that is none"
	case *i.Intents&intentsPrivileged&^s.opt.Privileged != 0:
		return closeDisallowed, ""
	}
	count, shard := 1, 0
	if i.Shard != nil {
		shard, count = (*i.Shard)[0], (*i.Shard)[1]
	}
	if len(s.guildsOf(shard, count)) > guildsUnsharded {
		return closeSharding, "more guilds in a shard than 2500"
	}
	return 0, ""
}

// verdict is what an identify or a resume gets in place of READY or RESUMED; zero: nothing.
type verdict struct {
	code  int
	reply []byte
}

var invalidSession = map[bool][]byte{false: []byte(`{"op":9,"d":false}`), true: []byte(`{"op":9,"d":true}`)}

// turned is what a test has set for the next ones. s.mu is held.
func (g *gate) turned() verdict {
	switch {
	case g.refuse > 0:
		g.refuse--
		return verdict{code: g.code}
	case g.invalidFirst > 0:
		g.invalidFirst--
		return verdict{reply: invalidSession[g.resumableFirst]}
	case g.reconnectFirst > 0:
		g.reconnectFirst--
		return verdict{reply: []byte(`{"op":7,"d":null}`)}
	}
	return verdict{}
}

// admit counts an identify against the day's and the pace: documentation, "Gateway",
// session start limit and max concurrency.
func (s *Server) admit(c *conn, shard int) verdict {
	s.mu.Lock()
	defer s.mu.Unlock()
	defer s.note()
	g := &s.gate
	g.identifies++
	if g.left--; g.left < 0 {
		g.left = 0
		s.seen.wrongly("gateway: identify: none were left of the day; the platform takes the token away")
		return verdict{code: closeAuth}
	}
	place, now := shard%s.opt.MaxConcurrency, time.Now()
	if s.opt.IdentifyEvery > 0 && now.Sub(g.places[place]) < s.opt.IdentifyEvery {
		s.seen.wrongly("gateway: identify: shard %d came %v after another of its place: expected %v", shard,
			now.Sub(g.places[place]).Round(time.Millisecond), s.opt.IdentifyEvery)
		return verdict{reply: invalidSession[false]}
	}
	g.places[place] = now
	return g.turned()
}

// begin makes the session, and says READY.
func (s *Server) begin(c *conn, i *identification, shard, count int) {
	x := &session{s: s, conn: c, stats: Session{ID: secret(32), Shard: shard, Count: count, Intents: *i.Intents,
		Compress: i.Compress, Connected: true}}
	guilds := s.guildsOf(shard, count)
	unavailable := make([]map[string]any, 0, len(guilds))
	for _, g := range guilds {
		unavailable = append(unavailable, map[string]any{"id": g.ID, "unavailable": true})
	}
	ready := marshal(map[string]any{
		"v": c.version, "user": s.bot(), "guilds": unavailable, "session_id": x.stats.ID, "session_type": "normal",
		"resume_gateway_url": "ws://" + s.addr + "/resume", "shard": []int{shard, count},
		"application":      map[string]any{"id": s.app, "flags": 0},
		"private_channels": []any{}, "relationships": []any{}, "presences": []any{}, "_trace": []any{},
	})
	s.say("gateway: shard %d of %d identified: session %s", shard, count, x.stats.ID)
	c.session.Store(x)
	s.enter(x)
	x.dispatch("READY", ready, nil)
	if x.stats.Intents&intentGuilds != 0 {
		for _, g := range guilds {
			x.dispatch("GUILD_CREATE", s.guildCreate(g), nil)
		}
	}
	x.mu.Unlock()
}

// enter makes the session one that events go to, and holds back those that come before
// READY: x.mu is held from here on.
func (s *Server) enter(x *session) {
	x.mu.Lock()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.gate.sessions = append(s.gate.sessions, x)
	if len(s.gate.sessions) > keptSessions {
		s.gate.sessions = slices.Delete(s.gate.sessions, 0, 1)
	}
}

// resume goes on with a session: documentation, "Gateway", resuming.
func (s *Server) resume(c *conn, d json.RawMessage) {
	if c.session.Load() != nil {
		s.wrong("gateway: resume: the connection has identified already")
		c.closeWith(closeIdentified, "Already authenticated.")
		return
	}
	var r struct {
		Token     *string `json:"token"`
		SessionID *string `json:"session_id"`
		Seq       *int64  `json:"seq"`
	}
	if err := json.Unmarshal(orNull(d), &r); err != nil || r.Token == nil || r.SessionID == nil || r.Seq == nil {
		s.wrong("gateway: resume: token, session_id and seq are required")
		c.closeWith(closeDecode, "Error while decoding payload.")
		return
	}
	if bare(*r.Token) != s.opt.Token {
		c.closeWith(closeAuth, "Authentication failed.")
		return
	}
	s.mu.Lock()
	v := s.gate.turned()
	var x *session
	for _, one := range s.gate.sessions {
		if one.stats.ID == *r.SessionID { // an id never changes
			x = one
		}
	}
	s.mu.Unlock()
	switch {
	case v.code != 0:
		c.closeWith(v.code, "")
		return
	case v.reply != nil:
		c.send(v.reply, false)
		return
	}
	s.goOn(c, x, *r.Seq)
}

// goOn replays what the session's client has missed, and says RESUMED.
func (s *Server) goOn(c *conn, x *session, seq int64) {
	var old *conn
	verdict := "unknown"
	if x != nil {
		verdict, old = x.takeUp(c, seq)
	}
	if old != nil {
		old.cut() // a session has one connection, and this is the newer
	}
	switch verdict {
	case "resumed":
		s.say("gateway: session %s resumed after event %d", x.stats.ID, seq)
	case "ahead":
		s.wrong("gateway: resume: seq %d is greater than the last that was sent", seq)
		c.session.Store(x)
		c.closeWith(closeSeq, "Invalid seq.")
	default:
		s.say("gateway: a session that cannot be resumed")
		c.send(invalidSession[false], false)
	}
}

// takeUp connects a session again, and gives the connection that it had.
func (x *session) takeUp(c *conn, seq int64) (verdict string, old *conn) {
	x.mu.Lock()
	defer x.mu.Unlock()
	switch {
	case x.dead || len(x.frames) == 0 || x.frames[0].seq > seq+1:
		return "unknown", nil
	case seq > x.stats.Seq || seq < 0:
		return "ahead", nil
	}
	old, x.conn = x.conn, c
	c.session.Store(x)
	x.replay(seq)
	x.stats.Connected = true
	x.stats.Resumes++
	x.stats.Seq++
	f := frame{seq: x.stats.Seq, data: marshal(map[string]any{"t": "RESUMED", "s": x.stats.Seq, "op": opDispatch, "d": map[string]any{"_trace": []any{}}})}
	x.frames = append(x.frames, f)
	x.write(f)
	return "resumed", old
}
