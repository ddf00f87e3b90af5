package rest

import (
	"bufio"
	"bytes"
	"io"
	"net"
	"net/http"
	"runtime"
	"strconv"
	"sync"
	"testing"
)

// quick is a server on loopback that answers every request with the same
// bytes: it leaves the machine to the client that is measured.
func quick(t testing.TB) string {
	t.Helper()
	const answer = "HTTP/1.1 200 OK\r\nContent-Type: application/json\r\nContent-Length: 12\r\n" +
		"X-RateLimit-Limit: 5\r\nX-RateLimit-Remaining: 4\r\nX-RateLimit-Reset-After: 0.01\r\n\r\n" + `{"id":"900"}`
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	var serving sync.WaitGroup
	serving.Go(func() {
		for {
			conn, err := l.Accept()
			if err != nil {
				return
			}
			serving.Go(func() {
				defer conn.Close()
				for in := bufio.NewReader(conn); skip(in) == nil; {
					if _, err := io.WriteString(conn, answer); err != nil {
						return
					}
				}
			})
		}
	})
	t.Cleanup(func() {
		_ = l.Close()
		serving.Wait()
	})
	return "http://" + l.Addr().String()
}

// skip reads a request and looks at nothing but its length.
func skip(in *bufio.Reader) error {
	length := 0
	for {
		line, err := in.ReadSlice('\n')
		if err != nil {
			return err
		}
		if digits, found := bytes.CutPrefix(line, []byte("Content-Length: ")); found {
			if length, err = strconv.Atoi(string(bytes.TrimSpace(digits))); err != nil {
				return err
			}
		}
		if len(line) == len("\r\n") {
			_, err := in.Discard(length)
			return err
		}
	}
}

func heap() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// A hundred thousand interactions, each answered under a token of its own and
// one in four late, by an edit, leave no more behind than twenty thousand do.
// Were their limits kept, it would be some 250 bytes for each of 100,000
// requests, or 25 MB. The windows are short, so that how many are open hangs on
// no machine's speed.
func TestMemoryIsFlat(t *testing.T) {
	const (
		first, all, workers = 20_000, 100_000, 8
		bound               = 2 << 20 // bytes
	)
	c, err := New(Options{Token: botToken, API: quick(t)})
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	reply := Message{Content: "Row six, wrong side."}
	run := func(from, to int) {
		next := make(chan int)
		var workersDone sync.WaitGroup
		for range workers {
			workersDone.Go(func() {
				for i := range next {
					in := Interaction{ID: strconv.Itoa(i), Token: "aW50ZXJhY3Rpb246-of-this-one-" + strconv.Itoa(i), App: "42"}
					if i%4 != 0 {
						if err := c.Answer(t.Context(), in, Reply, &reply); err != nil {
							t.Error(err)
						}
						continue
					}
					if err := c.Answer(t.Context(), in, Defer, nil); err != nil {
						t.Error(err)
					}
					if err := c.EditAnswer(t.Context(), in, reply); err != nil {
						t.Error(err)
					}
				}
			})
		}
		for i := from; i < to; i++ {
			next <- i
		}
		close(next)
		workersDone.Wait()
	}
	run(0, first)
	before := heap()
	run(first, all)
	after := heap()
	t.Logf("heap after %d: %d bytes; after %d: %d bytes; limits remembered: %d", first, before, all, after, len(c.limits.buckets))
	if after > before+bound {
		t.Errorf("the heap grew from %d to %d bytes, more than %d", before, after, bound)
	}
}

// One answer over loopback, yardstick beside it: the bare round trip of net/http.
func BenchmarkAnswer(b *testing.B) {
	api := quick(b)
	b.Run("Answer", func(b *testing.B) {
		c, err := New(Options{Token: botToken, API: api})
		if err != nil {
			b.Fatal(err)
		}
		defer c.Close()
		m := card
		for i := 0; b.Loop(); i++ {
			if err := c.Answer(b.Context(), Interaction{ID: strconv.Itoa(i), Token: "t" + strconv.Itoa(i), App: "42"}, Reply, &m); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("net/http", func(b *testing.B) {
		client := &http.Client{Transport: newTransport()}
		defer client.CloseIdleConnections()
		for b.Loop() {
			resp, err := client.Post(api+"/x", "application/json", http.NoBody)
			if err != nil {
				b.Fatal(err)
			}
			_, _ = io.Copy(io.Discard, resp.Body)
			_ = resp.Body.Close()
		}
	})
}
