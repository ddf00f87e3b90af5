package gateway

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"runtime"
	"runtime/debug"
	"sync"
	"time"

	"github.com/bwmarrin/discordgo"
	"github.com/gorilla/websocket"
	"github.com/rs/zerolog"
)

// Why a connection ended.
var (
	errLost      = errors.New("the connection was cut or closed")
	errAsked     = errors.New("the platform asked for another connection")
	errOpening   = errors.New("opening took too long")
	errUnready   = errors.New("the platform did not take the shard on in time")
	errSilent    = errors.New("the platform no longer acknowledges heartbeats")
	errInvalid   = errors.New("the platform says that the session is invalid")
	errAbandoned = errors.New("the library hangs: its session was abandoned")
)

// resumes is how many times in a row a session is offered to a platform that
// does not take it up.
const resumes = 3

// link is one Session of the library: a session with the platform, on one
// connection after the other.
type link struct {
	shard   int
	session *discordgo.Session
	timing  Timing
	log     zerolog.Logger
	handler Handler
	forget  func()

	telling sync.Mutex // held while the handler is called
	ended   bool       // nothing is told any more

	mu        sync.Mutex
	moment    context.Context // ends when the dialling or asking of the moment is broken off
	breakOff  context.CancelFunc
	wire      *wire         // of the newest connection; nil until it is dialled
	up        chan struct{} // closed when the platform takes the shard on, on that connection
	isUp      bool
	invalid   chan struct{} // closed when the platform sends op 9 on that connection
	ticket    *ticket       // to identify with, once
	begun     bool          // READY came: the library resumes from now on
	refused   int           // connections in a row that did not come up
	gone      bool          // there is nothing to resume
	abandoned bool
}

func newLink(shard int, o Options, h Handler) (*link, error) {
	session, err := discordgo.New("Bot " + o.Token)
	if err != nil {
		return nil, err
	}
	l := &link{shard: shard, session: session, timing: o.Timing, log: o.Log, handler: h}
	l.moment, l.breakOff = context.WithCancel(context.Background())

	session.LogLevel = discordgo.LogDebug // as saysIdentify is of that level
	session.SyncEvents = true             // else each event has a goroutine, and the order is lost
	session.StateEnabled = false
	session.ShouldReconnectOnError = false
	session.ShouldReconnectVoiceOnSessionError = false
	session.ShouldRetryOnRateLimit = false
	session.MaxRestRetries = 0
	session.Identify.Intents = o.Intents
	// Here and not in ShardID and ShardCount, from which the library makes a
	// pointer of its own, that hearer.links does not know.
	session.Identify.Shard = &[2]int{shard, o.Shards.Total}
	session.Dialer = &websocket.Dialer{
		Proxy:            http.ProxyFromEnvironment,
		HandshakeTimeout: o.Timing.Dial,
		NetDialContext:   l.dial,
	}
	client := *o.Client
	if client.Transport == nil {
		client.Transport = http.DefaultTransport
	}
	client.Transport = cuttable{client.Transport, l.now}
	if client.Timeout == 0 {
		client.Timeout = o.Timing.Dial
	}
	session.Client = &client

	l.handle()
	l.forget = library.mind(l)
	return l, nil
}

// handle hands on what the library decodes, in its goroutine.
func (l *link) handle() {
	l.session.AddHandler(func(_ *discordgo.Session, e *discordgo.Ready) { l.ready(e) })
	l.session.AddHandler(func(_ *discordgo.Session, e *discordgo.Resumed) { l.comeUp() })
	l.session.AddHandler(func(_ *discordgo.Session, e *discordgo.InteractionCreate) {
		if e.Interaction == nil || e.ID == "" {
			l.log.Warn().Int("shard", l.shard).Msg("an interaction could not be read and was passed over")
			return
		}
		l.tell("interaction", func() { l.handler.Interaction(l.shard, e.Interaction) })
	})
	l.session.AddHandler(func(_ *discordgo.Session, e *discordgo.MessageCreate) {
		// So it comes where the library does not know a kind of component.
		if e.Message == nil || e.Author == nil {
			l.log.Debug().Int("shard", l.shard).Msg("a message could not be read and was passed over")
			return
		}
		l.tell("message", func() { l.handler.Message(l.shard, e.Message) })
	})
	l.session.AddHandler(func(_ *discordgo.Session, e *discordgo.MessageDelete) {
		if e.Message != nil && e.ID != "" {
			l.deleted(e.GuildID, e.ChannelID, []string{e.ID})
		}
	})
	l.session.AddHandler(func(_ *discordgo.Session, e *discordgo.MessageDeleteBulk) {
		l.deleted(e.GuildID, e.ChannelID, e.Messages)
	})
}

func (l *link) deleted(server, channel string, messages []string) {
	l.tell("deletion", func() { l.handler.Deleted(l.shard, server, channel, messages) })
}

// tell calls the handler, unless the link has ended.
func (l *link) tell(what string, call func()) {
	l.telling.Lock()
	defer l.telling.Unlock()
	if l.ended {
		return
	}
	defer func() {
		p := recover()
		if p == nil {
			return
		}
		// Its text might quote the event; a runtime error's can't.
		reason := fmt.Sprintf("%T", p)
		if err, ok := p.(runtime.Error); ok {
			reason = err.Error()
		}
		l.log.Error().Int("shard", l.shard).Str("event", what).Str("panic", reason).Bytes("stack", debug.Stack()).
			Msg("an event was given up, as handling it panicked")
	}()
	call()
}

func (l *link) ready(e *discordgo.Ready) {
	l.mu.Lock()
	l.begun = true
	l.mu.Unlock()
	l.comeUp()

	var application, me string
	if e.User != nil {
		me = e.User.ID
	}
	// Where it is left out: the two ids are the same but for the oldest bots.
	application = me
	if e.Application != nil && e.Application.ID != "" {
		application = e.Application.ID
	}
	l.tell("ready", func() { l.handler.Ready(l.shard, application, me) })
}

func (l *link) comeUp() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.refused = 0
	if !l.isUp {
		l.isUp = true
		close(l.up)
	}
}

// mayIdentify is asked when the library is about to identify. It may do so
// once a ticket. Without one the platform has sent op 9: the session may still
// be there to resume, and if not it is for another link to identify, in its
// turn. (What op 9 says of that, the library tells nobody. Where it comes to a
// session that was up, resuming finds out.)
func (l *link) mayIdentify() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.ticket != nil {
		l.ticket.sent()
		l.ticket = nil
		return true
	}
	if !l.isUp {
		l.gone = true
	}
	select {
	case <-l.invalid:
	default:
		close(l.invalid)
	}
	return false
}

// now is the context that what is under way ends with.
func (l *link) now() context.Context {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.moment
}

func (l *link) dial(ctx context.Context, network, address string) (net.Conn, error) {
	ctx, done := either(ctx, l.now())
	defer done()
	var d net.Dialer
	c, err := d.DialContext(ctx, network, address)
	if err != nil {
		return nil, err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if err := l.moment.Err(); err != nil {
		c.Close()
		return nil, err
	}
	l.wire = newWire(c)
	return l.wire, nil
}

// cut ends what the library is waiting for, whatever it is.
func (l *link) cut() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.breakOff()
	if l.wire != nil {
		l.wire.Close()
	}
}

// open makes a connection; nil is for one on which the platform has begun to
// send. ticket is to identify with, or nil where the link begun may resume.
func (l *link) open(ctx context.Context, t *ticket) error {
	l.mu.Lock()
	l.breakOff()
	l.moment, l.breakOff = context.WithCancel(context.Background())
	l.wire, l.ticket = nil, t
	l.up, l.isUp, l.invalid = make(chan struct{}), false, make(chan struct{})
	l.mu.Unlock()

	done := make(chan error, 1)
	go l.openSession(done)
	limit := time.NewTimer(l.timing.Open)
	defer limit.Stop()
	var err error
	select {
	case err = <-done:
		if err == nil {
			return nil
		}
	case <-limit.C:
		err = l.await(done, errOpening)
	case <-ctx.Done():
		// Where the platform has answered already, Open is about to return,
		// and the session can be closed as it should be.
		if l.taken() && returns(done, l.timing.Close) {
			return nil
		}
		err = l.await(done, ctx.Err())
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	select {
	case <-l.invalid:
		err = errInvalid
	default:
	}
	if l.wire != nil && !l.isUp && !errors.Is(err, errAsked) {
		l.refused++
	}
	l.gone = l.gone || sessionGone(err)
	return err
}

// openSession is known to hearer.hear by its name.
func (l *link) openSession(done chan<- error) {
	err := errAsked // what stands where hear ends this goroutine, for op 7; for op 9, invalid is closed
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the library panicked while it opened: %T", p)
		}
		done <- err
	}()
	err = l.session.Open()
}

// returns waits for a call of the library's to return, but not without limit.
func returns(done <-chan error, limit time.Duration) bool {
	timer := time.NewTimer(limit)
	defer timer.Stop()
	select {
	case <-done:
		return true
	case <-timer.C:
		return false
	}
}

// await cuts the wire, on which Open returns. Where it does not, it waits for
// a lock that it holds itself, as where a heartbeat is acknowledged before the
// first event: its goroutine and its Session stay in memory until the process
// ends, for nothing but that goroutine could let go of the lock without the
// library running on into a connection that is no more, and crashing.
func (l *link) await(done <-chan error, why error) error {
	l.cut()
	if returns(done, l.timing.Close) {
		return why
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.abandoned = true
	return errAbandoned
}

// taken tells whether the platform has taken the shard on, on the newest
// connection.
func (l *link) taken() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.isUp
}

// connection is the newest one: its wire, and the channels that are closed
// when the platform takes the shard on, and when it sends op 9.
func (l *link) connection() (w *wire, up, invalid <-chan struct{}) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.wire, l.up, l.invalid
}

// acked is when a heartbeat was last acknowledged, by the library's clock; not
// ok while the library holds its lock, as it does for as long as it closes.
func (l *link) acked() (at time.Time, ok bool) {
	if !l.session.TryRLock() {
		return time.Time{}, false
	}
	defer l.session.RUnlock()
	return l.session.LastHeartbeatAck, true
}

// close closes the connection, if one is open. When it returns the library is
// done with it, or the link is abandoned.
func (l *link) close(code int) {
	l.mu.Lock()
	abandoned := l.abandoned
	l.mu.Unlock()
	if abandoned {
		return
	}
	done := make(chan error, 1)
	go func() { done <- l.session.CloseWithCode(code) }()
	if !returns(done, l.timing.Close) {
		// It can be writing to a peer that does not read.
		_ = l.await(done, nil)
	}
}

// begins tells whether the link must identify, being new.
func (l *link) begins() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return !l.begun
}

// usable tells whether the link's session may be resumed.
func (l *link) usable() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.begun && !l.gone && !l.abandoned && l.refused < resumes
}

// end lets go of the link, which is closed. When it returns nothing is told
// any more.
func (l *link) end() {
	l.cut()
	l.forget()
	l.telling.Lock()
	defer l.telling.Unlock()
	l.ended = true
}
