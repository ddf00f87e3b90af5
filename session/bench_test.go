package session_test

import (
	"context"
	"fmt"
	"os"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/redis/go-redis/v9"

	"clew/session"
	"clew/session/local"
	"clew/session/redistest"
)

// callers are how many ask at once in the benchmarks below.
var callers = []int{1, 16, 64}

// between are the two places that every caller goes to and fro between.
var between = [2]session.Place{row(1), row(2)}

// join lets one member a caller join, at the first place.
func join(b *testing.B, store *session.Store, n int) []session.Member {
	b.Helper()
	members := make([]session.Member, n)
	for i := range members {
		members[i] = session.Member(fmt.Sprintf("terminal:caller-%d", i))
		_, err := store.ForgetAll(b.Context(), members[i])
		must(b, err)
		_, err = store.Join(b.Context(), group, session.Joining{Member: members[i], Place: between[0], At: evening})
		must(b, err)
	}
	return members
}

// share lets n callers do b.N calls between them; call is given the caller and
// how many it made before.
func share(b *testing.B, n int, call func(caller, before int) error) {
	b.Helper()
	b.ResetTimer()
	var wg sync.WaitGroup
	var left atomic.Int64
	left.Store(int64(b.N))
	for caller := range n {
		wg.Go(func() {
			for before := 0; left.Add(-1) >= 0; before++ {
				if err := call(caller, before); err != nil {
					b.Error(err)
					return
				}
			}
		})
	}
	wg.Wait()
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "moves/s")
}

// toAndFro is a caller's move number `before`.
func toAndFro(member session.Member, before int) session.Move {
	return session.Move{
		Member: member, Event: fmt.Sprintf("interaction-%012d", before), How: "next", At: evening,
		From: between[before%2], To: between[1-before%2], Done: int64(96 + before%2*96),
		Answer: "Round two, Lanterns. Knit four, purl two.", Name: "Wren Halloway", All: 9600,
	}
}

// BenchmarkMove is a move over go-redis, on one real Redis: through the store, and
// as the very script of a move called by a bare EVALSHA, with no checks before it
// and no reading of its answer, which is what go-redis and Redis take by
// themselves. The two take turns, so that both meet the same machine.
func BenchmarkMove(b *testing.B) {
	server := redistest.Start(b)
	client := connect(b, "redis://"+server.Addr)
	store := session.Open(client)
	bench{store, client}.begin(b)
	sha := loadMove(b, client)
	for _, n := range callers {
		b.Run(fmt.Sprintf("callers=%d/BareEvalsha", n), func(b *testing.B) { bareMoves(b, store, client, sha, n) })
		b.Run(fmt.Sprintf("callers=%d/Store", n), func(b *testing.B) {
			members := join(b, store, n)
			share(b, n, func(caller, before int) error {
				_, err := store.Move(context.Background(), group, toAndFro(members[caller], before))
				return err
			})
		})
	}
}

// loadMove gives the digest of the script of a move.
func loadMove(b *testing.B, client redis.UniversalClient) string {
	b.Helper()
	var source []byte
	for _, name := range []string{"lua/prelude.lua", "lua/move.lua"} {
		text, err := os.ReadFile(name)
		must(b, err)
		source = append(source, text...)
	}
	sha, err := client.ScriptLoad(b.Context(), string(source)).Result()
	must(b, err)
	return sha
}

func bareMoves(b *testing.B, store *session.Store, client redis.UniversalClient, sha string, n int) {
	members := join(b, store, n)
	var keys [][]string
	var calls [][2][]any
	for _, m := range members {
		tag := "clew:{" + group + "}:"
		keys = append(keys, []string{tag + "place:" + string(m), tag + "about", tag + "roster", tag + "board", tag + "log:" + string(m)})
		calls = append(calls, [2][]any{bareArgs(toAndFro(m, 0)), bareArgs(toAndFro(m, 1))})
	}
	share(b, n, func(caller, before int) error {
		args := append([]any(nil), calls[caller][before%2]...)
		args[1] = fmt.Sprintf("interaction-%012d", before)
		return client.EvalSha(context.Background(), sha, keys[caller], args...).Err()
	})
	if entries, err := store.Log(b.Context(), group, members[0], 1); err != nil || b.N > 1000 && len(entries) == 0 {
		b.Errorf("the calls have moved nobody: %v", err)
	}
}

func bareArgs(m session.Move) []any {
	args := []any{string(m.Member), m.Event}
	for _, p := range []session.Place{m.From, m.To} {
		args = append(args, p.Section, p.Row, p.Step, p.Revision, p.Size, p.LeftOut)
	}
	return append(args, m.Done, m.How, m.At.UnixMilli(), m.Answer, m.Name, m.All, "", "")
}

// BenchmarkPool is a move for 64 callers at once, over pools of several sizes, to
// a Redis that keeps all in memory and to one that has each change on the disk
// before it answers.
func BenchmarkPool(b *testing.B) {
	const callers = 64
	for name, args := range map[string][]string{"memory": nil, "always": {"--appendonly", "yes", "--appendfsync", "always"}} {
		server := redistest.Start(b, args...)
		first, ok := connect(b, "redis://"+server.Addr).(*redis.Client)
		if !ok {
			b.Fatal("the client of one Redis is of another kind")
		}
		bench{session.Open(first), first}.begin(b)
		for _, size := range []int{20, 64, 128} {
			options := *first.Options()
			options.PoolSize = size
			client := redis.NewClient(&options)
			store := session.Open(client)
			b.Run(fmt.Sprintf("%s/pool=%d", name, size), func(b *testing.B) {
				members := join(b, store, callers)
				share(b, callers, func(caller, before int) error {
					_, err := store.Move(context.Background(), group, toAndFro(members[caller], before))
					return err
				})
			})
			must(b, client.Close())
		}
	}
}

// BenchmarkLocalMove is a move in the local store, with the journal on the disk
// before each answer, and with that left to the system.
func BenchmarkLocalMove(b *testing.B) {
	for name, options := range map[string][]local.Option{"synced": nil, "unsynced": {local.WithoutSync()}} {
		for _, n := range []int{1, 16} {
			b.Run(fmt.Sprintf("%s/callers=%d", name, n), func(b *testing.B) {
				l, err := local.Open(b.TempDir(), options...)
				must(b, err)
				defer l.Close()
				store := session.Open(l.Client())
				bench{store, l.Client()}.begin(b)
				members := join(b, store, n)
				share(b, n, func(caller, before int) error {
					_, err := store.Move(context.Background(), group, toAndFro(members[caller], before))
					return err
				})
			})
		}
	}
}

// BenchmarkRoster is the roster of a knit-along of 5,000 members, on one real Redis,
// beside what Redis and go-redis take to send its hash.
func BenchmarkRoster(b *testing.B) {
	const members = 5000
	server := redistest.Start(b)
	client := connect(b, "redis://"+server.Addr)
	store := session.Open(client)
	bench{store, client}.begin(b)
	for i := range members {
		_, err := store.Join(b.Context(), group, session.Joining{Member: session.Member(fmt.Sprintf("discord:%019d", i)),
			Place: row(i%90 + 1), At: evening, Name: fmt.Sprintf("Knitter %d of Tibberhythe", i), All: 9600})
		must(b, err)
	}
	b.Run("BareHash", func(b *testing.B) {
		for b.Loop() {
			must(b, client.HGetAll(b.Context(), "clew:{"+group+"}:roster").Err())
		}
	})
	b.Run("Store", func(b *testing.B) {
		for b.Loop() {
			roster, err := store.Roster(b.Context(), group)
			if err != nil || len(roster) != members {
				b.Fatalf("found %d members, %v", len(roster), err)
			}
		}
	})
}
