package bot

import (
	"fmt"
	"os"
	"testing"
	"time"

	"github.com/redis/go-redis/v9"
	"github.com/rs/zerolog"

	"clew/session"
	"clew/session/redistest"
)

// crowdAt fills a real Redis with a knit-along of so many members, all over the
// pattern, and gives a bot over it.
func crowdAt(b *testing.B, members int) (*Bot, *redis.Client) {
	b.Helper()
	server := redistest.Start(b)
	client := redis.NewClient(&redis.Options{Addr: server.Addr})
	b.Cleanup(func() { client.Close() })
	store := session.Open(client)
	text, err := os.ReadFile("testdata/patterns/quay-cap.txt")
	if err != nil {
		b.Fatal(err)
	}
	if err := store.Start(b.Context(), quay, string(text)); err != nil {
		b.Fatal(err)
	}
	for i, e := range crowdOf(b, members, plainNameOf) {
		at := session.Place{Section: e.Section, Row: e.Row, Revision: 1, Size: e.Size}
		begin := at
		begin.Section, begin.Row = "Brim", 0
		joining := session.Joining{Member: e.Member, Place: begin, At: quayNow, Name: fmt.Sprintf("%s %d", e.Name, i), All: e.All}
		if _, err := store.Join(b.Context(), quay.ID, joining); err != nil {
			b.Fatal(err)
		}
		if _, err := store.Move(b.Context(), quay.ID, session.Move{Member: e.Member, From: begin, To: at, How: "at", Done: e.Done, At: quayNow}); err != nil {
			b.Fatal(err)
		}
	}
	return New(store, func() time.Time { return quayNow }, func() string { return "f" }, zerolog.Nop()), client
}

const crowdSize = 5000

// BenchmarkBoard works out and words the board of five thousand members, from a real
// Redis, and draws it.
func BenchmarkBoard(b *testing.B) {
	bot, _ := crowdAt(b, crowdSize)
	about, err := bot.store.About(b.Context(), quay.ID)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("worked out", func(b *testing.B) {
		for b.Loop() {
			f, err := bot.boardNow(b.Context(), about)
			if err != nil || len(f.knitters) != crowdSize {
				b.Fatalf("%v", err)
			}
			f.texts(shownName)
		}
		b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/board")
	})
	b.Run("drawn too", func(b *testing.B) {
		for b.Loop() {
			f, err := bot.boardNow(b.Context(), about)
			if err != nil {
				b.Fatal(err)
			}
			if _, err := f.post(); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/board")
	})
}

// BenchmarkBoardYardstick only fetches the hash that the board is made of.
func BenchmarkBoardYardstick(b *testing.B) {
	_, client := crowdAt(b, crowdSize)
	for b.Loop() {
		if all, err := client.HGetAll(b.Context(), "clew:{"+quay.ID+"}:roster").Result(); err != nil || len(all) != crowdSize {
			b.Fatalf("%d members, %v", len(all), err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/board")
}

// BenchmarkWho tells a host who of five thousand members is where.
func BenchmarkWho(b *testing.B) {
	bot, _ := crowdAt(b, crowdSize)
	for b.Loop() {
		r := bot.Direct(b.Context(), Order{Deed: Who, Member: quay.Host, Server: quay.Server, Channel: quay.Channel})
		if r.Failed != nil || r.Said == "" {
			b.Fatalf("%+v", r)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/answer")
}

// BenchmarkExport makes the table of five thousand members, each of whom has moved once.
func BenchmarkExport(b *testing.B) {
	bot, _ := crowdAt(b, crowdSize)
	for b.Loop() {
		r := bot.Direct(b.Context(), Order{Deed: Export, Member: quay.Host, Server: quay.Server, Channel: quay.Channel})
		if r.Failed != nil || len(r.Files) != 1 {
			b.Fatalf("%+v", r)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/answer")
}
