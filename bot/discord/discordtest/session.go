package discordtest

import (
	"encoding/json"
	"slices"
	"strconv"
	"sync"
	"time"
)

const (
	keptFrames   = 5_000 // how many events of a session can be replayed
	keptSessions = 64    // how many sessions that nobody is connected to can be resumed
)

// gate is the state of the gateway. Server.mu guards it.
type gate struct {
	conns      map[*conn]bool
	sessions   []*session // oldest first; dead ones too, for Sessions
	identifies int
	left       int // identifies left of the day
	places     map[int]time.Time

	hang           chan struct{} // upgrades wait until it is closed; nil: they don't
	noHello        bool
	reconnectFirst int
	invalidFirst   int
	resumableFirst bool
	refuse, code   int
}

func (g *gate) init(o Options) {
	g.conns, g.places, g.left = map[*conn]bool{}, map[int]time.Time{}, o.Identifies
}

// frame is an event that was dispatched, for replay.
type frame struct {
	seq  int64
	data []byte
	it   *interaction // nil but for interactions
}

// session is a gateway session.
type session struct {
	s *Server

	mu     sync.Mutex // held while events are written, so that they come in order
	stats  Session
	conn   *conn   // nil where nobody is connected
	frames []frame // the newest, oldest first
	wrote  int64   // the last event written to conn
	dead   bool    // can't be resumed
}

func (x *session) count(f func(*Session)) {
	x.mu.Lock()
	f(&x.stats)
	x.mu.Unlock()
	x.s.saw()
}

// beat counts a heartbeat and gives the last sequence number.
func (x *session) beat() int64 {
	x.mu.Lock()
	defer x.mu.Unlock()
	x.stats.Heartbeats++
	return x.stats.Seq
}

// parted keeps how the client's connection ended.
func (x *session) parted(c *conn, code int) {
	x.mu.Lock()
	if x.conn == c {
		x.conn = nil
		x.stats.Connected = false
		x.stats.CloseCode = code
		if code == 1000 || code == 1001 {
			x.dead, x.frames = true, nil
		}
	}
	x.mu.Unlock()
	x.s.saw()
}

// end makes the session one that can't be resumed.
func (x *session) end() {
	x.mu.Lock()
	x.dead, x.frames = true, nil
	x.mu.Unlock()
	x.s.saw()
}

// lose ends the session and lets go of its connection, which may identify again.
func (x *session) lose() {
	x.mu.Lock()
	x.conn, x.stats.Connected = nil, false
	x.mu.Unlock()
	x.end()
}

// send dispatches an event: it is written, unless the connection is gone or silent,
// and kept for a replay.
func (x *session) send(kind string, d []byte, it *interaction) {
	x.mu.Lock()
	defer x.mu.Unlock()
	x.dispatch(kind, d, it)
}

// dispatch is send. x.mu is held.
func (x *session) dispatch(kind string, d []byte, it *interaction) {
	if x.dead {
		return
	}
	x.stats.Seq++
	f := frame{seq: x.stats.Seq, it: it}
	f.data = make([]byte, 0, len(d)+64)
	f.data = append(f.data, `{"t":"`...)
	f.data = append(f.data, kind...)
	f.data = append(f.data, `","s":`...)
	f.data = strconv.AppendInt(f.data, f.seq, 10)
	f.data = append(f.data, `,"op":0,"d":`...)
	f.data = append(f.data, d...)
	f.data = append(f.data, '}')
	if len(x.frames) >= keptFrames {
		x.frames = slices.Delete(x.frames, 0, keptFrames/10)
	}
	x.frames = append(x.frames, f)
	if x.conn != nil && !x.conn.silent.Load() {
		x.write(f)
	}
}

// write writes a frame. x.mu is held.
func (x *session) write(f frame) {
	if f.it != nil && f.seq <= x.wrote {
		f.it.again.Store(true) // it may be answered a second time, and rightly
	}
	x.wrote = max(x.wrote, f.seq)
	x.conn.send(f.data, x.stats.Compress)
}

// replay writes what came after seq, and says whether all of it is still there.
// x.mu is held.
func (x *session) replay(seq int64) bool {
	if seq < x.stats.Seq && (len(x.frames) == 0 || x.frames[0].seq > seq+1) {
		return false
	}
	for _, f := range x.frames {
		if f.seq > seq {
			x.write(f)
		}
	}
	return true
}

// wake writes what was kept back while the connection was silent.
func (x *session) wake(c *conn) {
	x.mu.Lock()
	defer x.mu.Unlock()
	c.silent.Store(false)
	if x.conn == c {
		x.replay(x.wrote)
	}
}

// happening is an event to be dispatched.
type happening struct {
	kind     string
	intent   int    // one of these is needed; 0: none
	guild    string // "" for direct messages
	whole    []byte
	stripped []byte // what a session without the message content intent gets; nil: the same
	it       *interaction
}

// targets are the living sessions that events of the guild go to.
func (s *Server) targets(guild string) []*session {
	s.mu.Lock()
	all := slices.Clone(s.gate.sessions)
	s.mu.Unlock()
	return slices.DeleteFunc(all, func(x *session) bool {
		x.mu.Lock()
		defer x.mu.Unlock()
		return x.dead || x.stats.Shard != shardOf(guild, x.stats.Count)
	})
}

// deliver dispatches to every session that the event concerns and that asked for it.
func (s *Server) deliver(h *happening) {
	for _, x := range s.targets(h.guild) {
		x.mu.Lock()
		intents := x.stats.Intents
		x.mu.Unlock()
		switch {
		case h.intent != 0 && intents&h.intent == 0:
		case h.stripped != nil && intents&intentContent == 0:
			x.send(h.kind, h.stripped, h.it)
		default:
			x.send(h.kind, h.whole, h.it)
		}
	}
}

// Dispatch delivers any event to a shard, d being its data. Nothing is checked.
func (s *Server) Dispatch(shard int, kind string, d any) {
	raw, is := d.(json.RawMessage)
	if !is {
		raw = marshal(d)
	}
	for _, x := range s.live(shard) {
		x.send(kind, raw, nil)
	}
}

// live are the living sessions of a shard.
func (s *Server) live(shard int) []*session {
	s.mu.Lock()
	all := slices.Clone(s.gate.sessions)
	s.mu.Unlock()
	return slices.DeleteFunc(all, func(x *session) bool {
		x.mu.Lock()
		defer x.mu.Unlock()
		return x.dead || x.stats.Shard != shard
	})
}
