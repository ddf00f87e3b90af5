package bot_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"net"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// A crew is the worker processes of a test: as many as it has posts, each started
// again when it was killed.
type crew struct {
	t        testing.TB
	hall     *hall
	listener net.Listener
	redis    string
	keeping  sync.WaitGroup // those that have a worker
	running  sync.WaitGroup // all others

	mu       sync.Mutex
	random   *rand.Rand // guarded by mu
	posts    []*process // nil while one is being started
	ready    *sync.Cond // a post was filled, or the crew ended
	expected map[int]chan net.Conn
	started  int
	ended    bool
	kills    int
	spared   bool      // no more are killed
	killed   time.Time // when the last was, by the hall's clock
	doomed   []string  // beginnings of posts, the first poster of which is killed once it stands
}

// A process is a worker that runs.
type process struct {
	*line
	cmd  *exec.Cmd
	over chan struct{} // closed once all that it sent has been read

	mu      sync.Mutex
	seq     int64
	waiting map[int64]chan note
	killed  bool
}

// killEvery is how far kills at random are apart, by the hall's clock: further than
// an announcement's lease, so that one that was posted and not noted is claimed again
// and noted well before the platform forgets its key.
const killEvery = 45 * time.Second

// startLimit is how long a worker may take to start.
const startLimit = 30 * time.Second

var errEnded = errors.New("the worker has ended")

// newCrew starts workers, which end with the test.
func newCrew(t testing.TB, h *hall, redis string, posts int, seed uint64) *crew {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	c := &crew{t: t, hall: h, listener: l, redis: redis, random: rand.New(rand.NewPCG(seed, 1)),
		posts: make([]*process, posts), expected: map[int]chan net.Conn{}, killed: h.now()}
	c.ready = sync.NewCond(&c.mu)
	c.running.Go(c.accept)
	for post := range posts {
		c.keeping.Go(func() { c.keep(post) })
	}
	return c
}

// accept gives each worker that calls to whoever started it.
func (c *crew) accept() {
	for {
		conn, err := c.listener.Accept()
		if err != nil {
			return // it was closed
		}
		hello, err := newLine(conn).receive()
		number, numberErr := strconv.Atoi(hello.Message)
		c.mu.Lock()
		called := c.expected[number]
		delete(c.expected, number)
		c.mu.Unlock()
		if err != nil || numberErr != nil || called == nil {
			conn.Close()
			continue
		}
		called <- conn
	}
}

// keep has a worker at a post, and another after it was killed, until the crew ends.
func (c *crew) keep(post int) {
	for {
		p, err := c.start()
		if err != nil {
			c.t.Errorf("a worker did not start: %v", err)
			c.hangUp()
			return
		}
		c.mu.Lock()
		over := c.ended
		if !over {
			c.posts[post] = p
			c.ready.Broadcast()
		}
		c.mu.Unlock()
		if over {
			p.conn.Close()
		}
		c.read(p)
		c.mu.Lock()
		c.posts[post], over = nil, c.ended
		c.mu.Unlock()
		p.mu.Lock()
		killed := p.killed
		p.mu.Unlock()
		if err := p.wait(); err != nil && !killed {
			c.t.Errorf("a worker ended by itself: %v", err)
		}
		if over {
			return
		}
	}
}

// wait waits for the end of a process that has hung up, or was hung up on, and makes
// sure of it.
func (p *process) wait() error {
	late := time.AfterFunc(startLimit, func() { p.cmd.Process.Kill() })
	defer late.Stop()
	return p.cmd.Wait()
}

// start starts a worker and waits for its call.
func (c *crew) start() (*process, error) {
	called := make(chan net.Conn, 1)
	c.mu.Lock()
	c.started++
	number := c.started
	c.expected[number] = called
	c.mu.Unlock()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "GORACE=halt_on_error=1",
		fmt.Sprintf("%s=%s %d %s", workerSpec, c.listener.Addr(), number, c.redis))
	cmd.Stdout, cmd.Stderr = os.Stderr, os.Stderr
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	select {
	case conn := <-called:
		return &process{line: newLine(conn), cmd: cmd, over: make(chan struct{}), waiting: map[int64]chan note{}}, nil
	case <-time.After(startLimit):
		cmd.Process.Kill()
		cmd.Wait()
		return nil, fmt.Errorf("it did not call within %s", startLimit)
	}
}

// read takes what a worker sends until its connection ends.
func (c *crew) read(p *process) {
	defer close(p.over)
	defer p.conn.Close()
	for {
		n, err := p.receive()
		if err != nil {
			return
		}
		switch n.Kind {
		case postNote, editNote, removeNote:
			c.serve(p, n)
		default:
			p.mu.Lock()
			if waits := p.waiting[n.Seq]; waits != nil {
				delete(p.waiting, n.Seq)
				waits <- n
			}
			p.mu.Unlock()
		}
	}
}

// serve does what a worker does in a channel, or kills it: before, so that nothing
// comes of it, or when it is done and not yet told.
func (c *crew) serve(p *process, n note) {
	before, after := c.fate(n)
	if before {
		c.kill(p)
		return
	}
	reply := c.hall.serve(n)
	if after {
		c.kill(p)
		return
	}
	_ = p.send(reply) // where it was killed by now, nobody waits for it
}

// fate decides whether a worker is killed over what it does in a channel.
func (c *crew) fate(n note) (before, after bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if n.Kind == postNote {
		for i, start := range c.doomed {
			if strings.HasPrefix(n.Post.Texts[0], start) {
				c.doomed = slices.Delete(c.doomed, i, i+1)
				c.killed = c.hall.now()
				return false, true
			}
		}
	}
	if !c.mayKill() || c.random.IntN(4) > 0 {
		return false, false
	}
	after = c.random.IntN(2) > 0
	return !after, after
}

// mayKill says that the last kill is long enough ago, and if so counts this as one.
// The caller holds mu.
func (c *crew) mayKill() bool {
	now := c.hall.now()
	if c.spared || now.Sub(c.killed) < killEvery {
		return false
	}
	c.killed = now
	return true
}

// kill ends a worker as a crash would.
func (c *crew) kill(p *process) {
	c.mu.Lock()
	c.kills++
	c.mu.Unlock()
	p.mu.Lock()
	defer p.mu.Unlock()
	p.killed = true
	p.cmd.Process.Kill()
}

// spare lets all live from now on.
func (c *crew) spare() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.spared, c.doomed = true, nil
}

// pick gives a worker, and waits for one where there is none.
func (c *crew) pick(ctx context.Context) (*process, error) {
	stop := context.AfterFunc(ctx, func() {
		c.mu.Lock()
		defer c.mu.Unlock()
		c.ready.Broadcast()
	})
	defer stop()
	c.mu.Lock()
	defer c.mu.Unlock()
	for {
		if err := ctx.Err(); err != nil || c.ended {
			return nil, errors.Join(errEnded, err)
		}
		if p := c.posts[c.random.IntN(len(c.posts))]; p != nil {
			return p, nil
		}
		if alive := c.alive(); len(alive) > 0 {
			return alive[c.random.IntN(len(alive))], nil
		}
		c.ready.Wait()
	}
}

// alive gives the workers at their posts. The caller holds mu.
func (c *crew) alive() []*process {
	var alive []*process
	for _, p := range c.posts {
		if p != nil {
			alive = append(alive, p)
		}
	}
	return alive
}

// call sends a note to a worker and gives its reply; errEnded where it ended first.
func (c *crew) call(ctx context.Context, p *process, n note) (note, error) {
	n.Now = c.hall.now()
	replied := make(chan note, 1)
	p.mu.Lock()
	p.seq++
	n.Seq = p.seq
	p.waiting[n.Seq] = replied
	p.mu.Unlock()
	if err := p.send(n); err != nil {
		<-p.over // so that all it has done is known
		return note{}, errEnded
	}
	c.killAmid(p, n)
	select {
	case reply := <-replied:
		return reply, nil
	case <-ctx.Done():
		return note{}, ctx.Err()
	case <-p.over:
	}
	select {
	case reply := <-replied: // it answered just before
		return reply, nil
	default:
		return note{}, errEnded
	}
}

// killAmid kills a worker at random while it is at what it was just asked, sometimes
// with another.
func (c *crew) killAmid(p *process, n note) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if n.Kind != askNote || c.random.IntN(30) > 0 || !c.mayKill() {
		return
	}
	delay := time.Duration(c.random.IntN(3000)) * time.Microsecond
	doomed := []*process{p}
	if other := c.posts[c.random.IntN(len(c.posts))]; c.random.IntN(3) == 0 && other != nil && other != p {
		doomed = append(doomed, other)
	}
	c.running.Go(func() {
		time.Sleep(delay)
		for _, p := range doomed {
			c.kill(p)
		}
	})
}

// deliver sends a note to one worker after another until it is replied to, as a
// platform does, or a person who asks again.
func (c *crew) deliver(ctx context.Context, n note) (note, error) {
	for {
		p, err := c.pick(ctx)
		if err != nil {
			return note{}, err
		}
		reply, err := c.call(ctx, p, n)
		if !errors.Is(err, errEnded) {
			return reply, err
		}
	}
}

// tend lets all workers tend once, and waits until each is done or dead. The clock
// stands meanwhile: it is the test's part to keep to what the deadline of a call
// keeps to elsewhere, that nothing is shown later than the next may be.
func (c *crew) tend(ctx context.Context) {
	c.mu.Lock()
	alive := c.alive()
	c.mu.Unlock()
	var tending sync.WaitGroup
	for _, p := range alive {
		tending.Go(func() {
			if _, err := c.call(ctx, p, note{Kind: tendNote}); err != nil && !errors.Is(err, errEnded) {
				c.t.Errorf("a worker did not end tending: %v", err)
			}
		})
	}
	tending.Wait()
}

// doom lets the first process that posts a message of such a beginning be killed once
// it stands, before it is told so.
func (c *crew) doom(beginnings ...string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.doomed = append(c.doomed, beginnings...)
}

// end hangs up on all workers and waits for their end: then nothing of the crew is
// left.
func (c *crew) end() {
	c.hangUp()
	c.keeping.Wait()
	c.listener.Close()
	c.running.Wait()
}

func (c *crew) hangUp() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.ended = true
	for _, p := range c.alive() {
		p.conn.Close()
	}
	c.ready.Broadcast()
}
