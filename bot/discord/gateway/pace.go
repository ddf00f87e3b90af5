package gateway

import (
	"context"
	"errors"
	"net/http"
	"sync"
	"time"

	"github.com/rs/zerolog"

	"clew/bot/discord/rest"
)

// usual is what the platform gives a bot whose limits it does not tell:
// Discord's developer documentation, "Session start limit" and "Sharding".
var usual = rest.Start{Shards: 1, Total: 1000, Remaining: 1000, MaxConcurrency: 1, ResetAfter: 24 * time.Hour}

// pace allows identifies, for all shards of a process. The platform counts
// them for the whole bot: past the day's limit it resets the bot's token, and
// of shards with the same rate limit key (shard id % max_concurrency) it takes
// one in 5 s.
type pace struct {
	ask    func(context.Context) (rest.Start, error)
	timing Timing
	log    zerolog.Logger
	asking chan struct{} // holds one while the platform is asked

	mu    sync.Mutex
	start rest.Start // as last told; Remaining less what was sent since
	told  time.Time  // when; zero if it must be asked
	reset time.Time  // when Remaining is Total again
	held  int        // allowed, but not sent yet
	keys  map[int]*key
}

// key is the shards that the platform takes one after the other.
type key struct {
	turn chan struct{} // holds one while an identify is allowed and not sent
	next time.Time     // when the next may be sent; written by who has the turn
}

// ticket is the right to identify once. Each ends by sent or by giveBack;
// after the first, both do nothing.
type ticket struct {
	pace *pace
	key  *key
	once sync.Once
}

func newPace(o Options) *pace {
	return &pace{ask: o.Start, timing: o.Timing, log: o.Log, asking: make(chan struct{}, 1), keys: map[int]*key{}}
}

// take waits until the shard may identify.
func (p *pace) take(ctx context.Context, shard int) (*ticket, error) {
	for {
		concurrency, err := p.refresh(ctx)
		if err != nil {
			return nil, err
		}
		k := p.key(shard % concurrency)
		select {
		case k.turn <- struct{}{}:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
		if err := p.timing.Sleep(ctx, max(0, k.next.Sub(p.timing.Now()))); err != nil {
			<-k.turn
			return nil, err
		}
		if p.hold() {
			return &ticket{pace: p, key: k}, nil
		}
		<-k.turn
		if err := p.awaitReset(ctx, shard); err != nil {
			return nil, err
		}
	}
}

// refresh asks the platform again where it has not been asked lately, since
// other processes of the bot identify too, and gives its max_concurrency.
func (p *pace) refresh(ctx context.Context) (concurrency int, err error) {
	select {
	case p.asking <- struct{}{}:
		defer func() { <-p.asking }()
	case <-ctx.Done():
		return 0, ctx.Err()
	}
	p.mu.Lock()
	fresh := !p.told.IsZero() && p.timing.Now().Sub(p.told) < p.timing.Identify
	concurrency = p.start.MaxConcurrency
	p.mu.Unlock()
	if fresh {
		return concurrency, nil
	}

	start, known, err := p.askPlatform(ctx)
	if err != nil {
		return 0, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.timing.Now()
	if !known && now.Before(p.reset) {
		start = p.start // nobody counts for us: go on counting
	} else {
		p.reset = now.Add(start.ResetAfter)
	}
	p.start, p.told = start, now
	return start.MaxConcurrency, nil
}

// askPlatform gives the usual numbers, and not known, where the server does
// not tell any.
func (p *pace) askPlatform(ctx context.Context) (start rest.Start, known bool, err error) {
	if p.ask == nil {
		return usual, false, nil
	}
	ctx, cancel := context.WithTimeout(ctx, p.timing.Open)
	defer cancel()
	start, err = p.ask(ctx)
	var answered *rest.Error
	if errors.As(err, &answered) && answered.Status == http.StatusNotFound {
		return usual, false, nil
	}
	if err != nil {
		return rest.Start{}, false, err
	}
	if start.Total < 1 {
		return usual, false, nil
	}
	start.MaxConcurrency = max(1, start.MaxConcurrency)
	return start, true, nil
}

// reserve is how many identifies of a day are left alone, so that whoever
// looks into the matter can still start the bot, and a count that is off by a
// few does not cost the token.
func reserve(total int) int { return min(10, total/100) }

// hold takes one of the day's identifies, if there are enough.
func (p *pace) hold() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.start.Remaining-p.held <= reserve(p.start.Total) {
		return false
	}
	p.held++
	return true
}

func (p *pace) awaitReset(ctx context.Context, shard int) error {
	p.mu.Lock()
	start, reset := p.start, p.reset
	p.mu.Unlock()
	p.log.Error().Int("shard", shard).Int("left", start.Remaining).Int("total", start.Total).Time("until", reset).
		Msg("too few new connections are left to the bot today: waiting for the platform to allow more, as past the limit it would reset the token")
	// A second more, since the platform rounds.
	if err := p.timing.Sleep(ctx, reset.Sub(p.timing.Now())+time.Second); err != nil {
		return err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.told = time.Time{}
	return nil
}

func (p *pace) key(n int) *key {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.keys[n] == nil {
		p.keys[n] = &key{turn: make(chan struct{}, 1)}
	}
	return p.keys[n]
}

// sent is called just before the identify is written.
func (t *ticket) sent() {
	t.once.Do(func() {
		t.pace.mu.Lock()
		t.pace.held--
		t.pace.start.Remaining--
		t.pace.mu.Unlock()
		t.key.next = t.pace.timing.Now().Add(t.pace.timing.Identify)
		<-t.key.turn
	})
}

// giveBack is called where it never came to an identify.
func (t *ticket) giveBack() {
	t.once.Do(func() {
		t.pace.mu.Lock()
		t.pace.held--
		t.pace.mu.Unlock()
		<-t.key.turn
	})
}
