package bot_test

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"net"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/rs/zerolog"

	"clew/bot"
	"clew/session"
)

// A worker is this test binary started again as a process that serves a bot. It has
// one connection to the test, over which everything goes both ways in lines of JSON:
// what is asked and answered, and what the bot does in the channels. So whatever a
// worker sent before it was killed has been read once its connection has ended.

// workerSpec names the variable with what a worker has to know: the test's address,
// the worker's number, and the address of Redis.
const workerSpec = "CLEW_TEST_WORKER"

// The kinds of notes. The first few go to a worker and are answered by one of the
// same kind and number; the others go to the test, and so are they.
const (
	askNote    = "ask"
	tendNote   = "tend"
	goneNote   = "gone"
	helloNote  = "hello"
	postNote   = "post"
	editNote   = "edit"
	removeNote = "remove"
)

// A note is one line between the test and a worker.
type note struct {
	Kind    string
	Seq     int64
	Now     time.Time // the test's clock, which is the worker's
	Ask     *bot.Ask  `json:",omitempty"`
	Said    string    `json:",omitempty"`
	Failed  string    `json:",omitempty"`
	Server  string    `json:",omitempty"`
	Channel string    `json:",omitempty"`
	Message string    `json:",omitempty"`
	Post    *bot.Post `json:",omitempty"`
	Gone    bool      `json:",omitempty"`
}

// A line carries notes over a connection.
type line struct {
	conn net.Conn
	in   *bufio.Reader
	mu   sync.Mutex // guards writing
}

func newLine(conn net.Conn) *line { return &line{conn: conn, in: bufio.NewReader(conn)} }

func (l *line) send(n note) error {
	text, err := json.Marshal(n)
	if err != nil {
		return err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	_, err = l.conn.Write(append(text, '\n'))
	return err
}

func (l *line) receive() (note, error) {
	text, err := l.in.ReadBytes('\n')
	if err != nil {
		return note{}, err // a half line of one who was killed is none
	}
	var n note
	err = json.Unmarshal(text, &n)
	return n, err
}

// worker is the worker's side.
type worker struct {
	*line
	bot   *bot.Bot
	store *session.Store
	clock atomic.Int64 // the newest time that the test told, in nanoseconds since 1970
	seq   atomic.Int64
	ids   atomic.Int64

	mu      sync.Mutex
	waiting map[int64]chan note // for the test's reply
}

// workForTest serves a bot until the test hangs up, and gives the exit code.
func workForTest(spec string) int {
	if err := workFor(spec); err != nil {
		fmt.Fprintln(os.Stderr, "a worker failed:", err)
		return 1
	}
	return 0
}

func workFor(spec string) error {
	parts := strings.Fields(spec)
	client, err := session.Connect(parts[2])
	if err != nil {
		return err
	}
	defer client.Close()
	conn, err := net.Dial("tcp", parts[0])
	if err != nil {
		return err
	}
	defer conn.Close()
	w := &worker{line: newLine(conn), store: session.Open(client), waiting: map[int64]chan note{}}
	w.bot = bot.New(w.store, w.now, w.newID, zerolog.New(os.Stderr).Level(zerolog.WarnLevel))
	if err := w.send(note{Kind: helloNote, Message: parts[1]}); err != nil {
		return err
	}
	ctx, hungUp := context.WithCancel(context.Background())
	var serving sync.WaitGroup
	defer serving.Wait()
	defer hungUp()
	for {
		n, err := w.receive()
		if err != nil {
			return nil // the test has hung up
		}
		w.set(n.Now)
		switch n.Kind {
		case askNote, tendNote, goneNote:
			serving.Go(func() { w.serve(ctx, n) })
		default:
			w.replied(n)
		}
	}
}

func (w *worker) now() time.Time { return time.Unix(0, w.clock.Load()).UTC() }

func (w *worker) newID() string { return fmt.Sprint("f", w.ids.Add(1)) }

// set sets the clock forward.
func (w *worker) set(now time.Time) {
	for {
		was := w.clock.Load()
		if now.UnixNano() <= was || w.clock.CompareAndSwap(was, now.UnixNano()) {
			return
		}
	}
}

func (w *worker) serve(ctx context.Context, n note) {
	reply := note{Kind: n.Kind, Seq: n.Seq}
	switch n.Kind {
	case askNote:
		r := w.bot.Answer(ctx, *n.Ask)
		reply.Said = r.Said
		if r.Failed != nil {
			reply.Failed = string(r.Failed.Code)
		}
	case tendNote:
		w.bot.Tend(ctx, crowdPlatform, w)
	case goneNote:
		if err := w.bot.BoardGone(ctx, n.Server, n.Channel, n.Message); err != nil {
			reply.Failed = err.Error()
		}
	}
	_ = w.send(reply) // where the test has hung up, nobody waits for it
}

// ask sends a note to the test and waits for the reply.
func (w *worker) ask(ctx context.Context, n note) (note, error) {
	n.Seq = w.seq.Add(1)
	replied := make(chan note, 1)
	w.mu.Lock()
	w.waiting[n.Seq] = replied
	w.mu.Unlock()
	if err := w.send(n); err != nil {
		return note{}, err
	}
	select {
	case reply := <-replied:
		return reply, nil
	case <-ctx.Done():
		return note{}, ctx.Err()
	}
}

func (w *worker) replied(n note) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if replied := w.waiting[n.Seq]; replied != nil {
		delete(w.waiting, n.Seq)
		replied <- n
	}
}

// Post, Edit and Remove make a worker the channels of its bot. The picture's own
// bytes stay here.

func (w *worker) Post(ctx context.Context, p bot.Post) (string, error) {
	reply, err := w.ask(ctx, note{Kind: postNote, Post: slim(p)})
	return reply.Message, err
}

func (w *worker) Edit(ctx context.Context, message string, p bot.Post) error {
	reply, err := w.ask(ctx, note{Kind: editNote, Message: message, Post: slim(p)})
	if err == nil && reply.Gone {
		err = bot.ErrGone
	}
	return err
}

func (w *worker) Remove(ctx context.Context, channel, message string) error {
	_, err := w.ask(ctx, note{Kind: removeNote, Channel: channel, Message: message})
	return err
}

func slim(p bot.Post) *bot.Post {
	if p.Picture != nil {
		p.Picture = &bot.Picture{Name: p.Picture.Name, Alt: p.Picture.Alt}
	}
	return &p
}
