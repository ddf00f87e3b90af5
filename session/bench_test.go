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
	"clew/session/internal/redistest"
	"clew/session/local"
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
		must(b, store.Forget(b.Context(), group, members[i]))
		_, err := store.Join(b.Context(), group, members[i], between[0], nil, "", evening)
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
		Answer: "Round two, Lanterns. Knit four, purl two.",
	}
}

// benchRedis is a real Redis with the group in it.
func benchRedis(b *testing.B) (*session.Store, redis.UniversalClient) {
	server := redistest.Start(b)
	client := connect(b, "redis://"+server.Addr)
	store := session.Open(client)
	bench{store, client}.begin(b)
	return store, client
}

// BenchmarkMove is a move through the store, over go-redis.
func BenchmarkMove(b *testing.B) {
	store, _ := benchRedis(b)
	for _, n := range callers {
		b.Run(fmt.Sprintf("callers=%d", n), func(b *testing.B) {
			members := join(b, store, n)
			share(b, n, func(caller, before int) error {
				_, err := store.Move(context.Background(), group, toAndFro(members[caller], before))
				return err
			})
		})
	}
}

// BenchmarkBareEvalsha is the very script of a move, on the same kind of server,
// called with no checks before it and no reading of its answer: what go-redis
// and Redis take by themselves.
func BenchmarkBareEvalsha(b *testing.B) {
	store, client := benchRedis(b)
	var source []byte
	for _, name := range []string{"lua/prelude.lua", "lua/move.lua"} {
		text, err := os.ReadFile(name)
		must(b, err)
		source = append(source, text...)
	}
	sha, err := client.ScriptLoad(b.Context(), string(source)).Result()
	must(b, err)
	for _, n := range callers {
		b.Run(fmt.Sprintf("callers=%d", n), func(b *testing.B) {
			members := join(b, store, n)
			var keys [][]string
			var calls [][2][]any
			for _, m := range members {
				tag := "clew:{" + group + "}:"
				keys = append(keys, []string{tag + "place:" + string(m), tag + "log:" + string(m), tag + "board", tag + "about"})
				calls = append(calls, [2][]any{bareArgs(toAndFro(m, 0)), bareArgs(toAndFro(m, 1))})
			}
			share(b, n, func(caller, before int) error {
				args := append([]any(nil), calls[caller][before%2]...)
				args[1] = fmt.Sprintf("interaction-%012d", before)
				return client.EvalSha(context.Background(), sha, keys[caller], args...).Err()
			})
			for _, m := range members { // the calls did move somebody
				entries, err := store.Log(b.Context(), group, m, 1)
				must(b, err)
				if b.N > 10*n && len(entries) == 0 {
					b.Errorf("%s has not moved", m)
				}
			}
		})
	}
}

func bareArgs(m session.Move) []any {
	args := []any{string(m.Member), m.Event}
	for _, p := range []session.Place{m.From, m.To} {
		args = append(args, p.Section, p.Row, p.Step, p.Revision, p.Size, p.LeftOut)
	}
	return append(args, m.Done, m.How, m.At.UnixMilli(), m.Answer)
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
