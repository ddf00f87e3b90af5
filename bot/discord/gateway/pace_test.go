package gateway

import (
	"context"
	"errors"
	"math/rand/v2"
	"net/http"
	"slices"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/rs/zerolog"
	"pgregory.net/rapid"

	"clew/bot/discord/rest"
)

// limits is the platform's count of identifies.
type limits struct {
	mu          sync.Mutex
	total, left int
	concurrency int
	until       time.Time // of the day
	asked       int
}

func (l *limits) start(context.Context) (rest.Start, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.asked++
	l.turn()
	return rest.Start{Shards: 1, Total: l.total, Remaining: l.left, MaxConcurrency: l.concurrency, ResetAfter: time.Until(l.until)}, nil
}

func (l *limits) turn() {
	if now := time.Now(); !now.Before(l.until) {
		l.until, l.left = now.Add(24*time.Hour), l.total
	}
}

// identify counts one, and gives what is left.
func (l *limits) identify() int {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.turn()
	l.left--
	return l.left
}

func paceOf(ask func(context.Context) (rest.Start, error)) *pace {
	return newPace(Options{Start: ask, Log: zerolog.Nop(), Timing: Timing{}.withDefaults()})
}

// grants has shards identify, each n times in a row, and gives the seconds at
// which each did, by its rate limit key.
func grants(t *testing.T, p *pace, shards, n, concurrency int, opening func() time.Duration) map[int][]float64 {
	began := time.Now()
	at := map[int][]float64{}
	var mu sync.Mutex
	var all sync.WaitGroup
	for shard := range shards {
		all.Go(func() {
			for range n {
				ticket, err := p.take(t.Context(), shard)
				if err != nil {
					t.Errorf("shard %d: %v", shard, err)
					return
				}
				time.Sleep(opening())
				mu.Lock()
				at[shard%concurrency] = append(at[shard%concurrency], time.Since(began).Seconds())
				mu.Unlock()
				ticket.sent()
				ticket.giveBack() // changes nothing any more
			}
		})
	}
	all.Wait()
	for _, times := range at {
		slices.Sort(times)
	}
	return at
}

// Discord's developer documentation, "Sharding": max_concurrency shards may
// identify in 5 s, each with another rate limit key, shard_id % max_concurrency.
func TestIdentifiesArePaced(t *testing.T) {
	none := func() time.Duration { return 0 }
	for _, c := range []struct {
		name                string
		shards, concurrency int
		opening             func() time.Duration
		want                map[int][]float64
	}{
		{"one by one", 3, 1, none, map[int][]float64{0: {0, 5, 10}}},
		{"two at once", 4, 2, none, map[int][]float64{0: {0, 5}, 1: {0, 5}}},
		{"all at once", 3, 16, none, map[int][]float64{0: {0}, 1: {0}, 2: {0}}},
		{"counted from when it is sent", 3, 1, func() time.Duration { return 2 * time.Second },
			map[int][]float64{0: {2, 9, 16}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				l := &limits{total: 1000, concurrency: c.concurrency}
				got := grants(t, paceOf(l.start), c.shards, 1, c.concurrency, c.opening)
				for key, want := range c.want {
					if !slices.Equal(got[key], want) {
						t.Errorf("key %d at %v s, expected %v", key, got[key], want)
					}
				}
			})
		})
	}
}

// However long opening takes, and whoever else identifies.
func TestIdentifiesKeepTheirDistance(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		shards := rapid.IntRange(1, 6).Draw(rt, "shards")
		concurrency := rapid.IntRange(1, 4).Draw(rt, "max_concurrency")
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 0))
		var at map[int][]float64
		synctest.Test(t, func(t *testing.T) {
			l := &limits{total: 1000, concurrency: concurrency}
			var mu sync.Mutex
			at = grants(t, paceOf(l.start), shards, 3, concurrency, func() time.Duration {
				mu.Lock()
				defer mu.Unlock()
				return time.Duration(random.Int64N(int64(20 * time.Second)))
			})
		})
		count := 0
		for key, times := range at {
			count += len(times)
			for i := 1; i < len(times); i++ {
				// Seconds as floating point are not exact to the nanosecond.
				if times[i]-times[i-1] < 5-1e-6 {
					rt.Errorf("key %d at %v s: closer than 5 s", key, times)
				}
			}
		}
		if count != 3*shards {
			rt.Errorf("%d identifies, expected %d", count, 3*shards)
		}
	})
}

func TestIdentifyThatIsNotSentCostsNothing(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := &limits{total: 1000, concurrency: 1}
		p := paceOf(l.start)
		began := time.Now()
		for range 2000 {
			ticket, err := p.take(t.Context(), 0)
			if err != nil {
				t.Fatal(err)
			}
			ticket.giveBack()
		}
		if took := time.Since(began); took != 0 {
			t.Errorf("waited for %v", took)
		}
	})
}

// A storm of a week: each connection is lost at once, and the session too.
func TestStormLeavesTheLastIdentifies(t *testing.T) {
	for _, c := range []struct {
		name  string
		known bool
	}{
		{"the platform counts", true},
		{"a server without limits of its own", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				l := &limits{total: 1000, concurrency: 1}
				ask := l.start
				if !c.known {
					ask = func(context.Context) (rest.Start, error) {
						return rest.Start{}, &rest.Error{Status: http.StatusNotFound}
					}
				}
				p := paceOf(ask)
				ctx, cancel := context.WithTimeout(t.Context(), 7*24*time.Hour)
				defer cancel()
				sent := 0
				for {
					ticket, err := p.take(ctx, 0)
					if err != nil {
						break
					}
					ticket.sent()
					sent++
					if left := l.identify(); left < 10 {
						t.Fatalf("%d are left of a day, expected 10 to be left alone", left)
					}
				}
				if sent != 7*990 {
					t.Errorf("%d identifies in a week, expected %d", sent, 7*990)
				}
			})
		})
	}
}

// Those that another process sends are seen within 5 s.
func TestOtherProcessesCount(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := &limits{total: 1000, concurrency: 1}
		p := paceOf(l.start)
		ticket, err := p.take(t.Context(), 0)
		if err != nil {
			t.Fatal(err)
		}
		ticket.sent()
		l.identify()
		for l.identify() > 10 {
		}
		time.Sleep(5 * time.Second)
		began := time.Now()
		if _, err := p.take(t.Context(), 0); err != nil {
			t.Fatal(err)
		}
		if waited := time.Since(began); waited < 23*time.Hour {
			t.Errorf("waited for %v, expected the next day", waited)
		}
	})
}

func TestSmallLimitsAreUsedUp(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := &limits{total: 3, concurrency: 1}
		p := paceOf(l.start)
		began := time.Now()
		for range 3 {
			ticket, err := p.take(t.Context(), 0)
			if err != nil {
				t.Fatal(err)
			}
			ticket.sent()
			l.identify()
		}
		if took := time.Since(began); took != 10*time.Second {
			t.Errorf("took %v, expected 10s", took)
		}
		if _, err := p.take(t.Context(), 0); err != nil {
			t.Fatal(err)
		}
		if took := time.Since(began); took < 24*time.Hour {
			t.Errorf("took %v, expected the next day", took)
		}
	})
}

func TestStartLimitIsAskedOncePerInterval(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := &limits{total: 1000, concurrency: 16}
		grants(t, paceOf(l.start), 16, 1, 16, func() time.Duration { return 0 })
		if l.asked != 1 {
			t.Errorf("asked %d times, expected once", l.asked)
		}
	})
}

func TestStartLimitThatCannotBeAsked(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := paceOf(func(ctx context.Context) (rest.Start, error) {
			<-ctx.Done()
			return rest.Start{}, ctx.Err()
		})
		if _, err := p.take(t.Context(), 0); !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("%v, expected that its time is over", err)
		}
	})
}

// Through the whole of Run: each connection is refused, 15 are left.
func TestRunStopsAStorm(t *testing.T) {
	t.Parallel()
	s := newServer(t, func(p *peer) {
		p.hello()
		p.identify()
		p.op(opInvalid, false)
		p.kept()
	})
	waits := make(chan time.Duration, 1)
	timing := quick()
	timing.Sleep = func(ctx context.Context, d time.Duration) error {
		if d < time.Hour {
			return sleep(ctx, d)
		}
		waits <- d
		<-ctx.Done()
		return ctx.Err()
	}
	b := run(t, s, Options{Timing: timing, Start: func(context.Context) (rest.Start, error) {
		return rest.Start{Total: 1000, Remaining: 15 - len(s.identifies()), MaxConcurrency: 1, ResetAfter: 7 * time.Hour}, nil
	}})
	if d := <-waits; d < 6*time.Hour || d > 8*time.Hour {
		t.Errorf("waits for %v, expected about 7h", d)
	}
	b.stop()
	if n := len(s.identifies()); n != 5 {
		t.Errorf("identified %d times, expected 5", n)
	}
}

// A network that is down at the start is waited for.
func TestRunAsksAgain(t *testing.T) {
	t.Parallel()
	s := newServer(t, whole)
	asked := 0
	b := run(t, s, Options{Start: func(context.Context) (rest.Start, error) {
		if asked++; asked < 4 {
			return rest.Start{}, &rest.Error{Status: http.StatusBadGateway}
		}
		return rest.Start{}, &rest.Error{Status: http.StatusNotFound}
	}})
	b.expect(isReady)
	b.stop()
}

// Those that are allowed but not sent yet count, too: there are 12 left, of
// which 2 may be used, and four shards that could identify at once.
func TestIdentifiesUnderWayCount(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := &limits{total: 1000, left: 12, concurrency: 4, until: time.Now().Add(time.Hour)}
		p := paceOf(l.start)
		ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
		defer cancel()
		for shard := range 2 {
			if _, err := p.take(ctx, shard); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := p.take(ctx, 2); !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("a third: %v, expected that it waits", err)
		}
	})
}
