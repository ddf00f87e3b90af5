package session_test

import (
	"fmt"
	"testing"

	"clew/session"
	"clew/session/redistest"
)

// BenchmarkDue looks at a thousand knit-alongs in which nothing is to be done, which
// is what every process does every few seconds.
func BenchmarkDue(b *testing.B) {
	server := redistest.Start(b)
	store := session.Open(connect(b, "redis://"+server.Addr))
	for i := range 1000 {
		a := planned(parts(1, 2, 3)...)
		a.ID, a.Server = fmt.Sprint("k", i), fmt.Sprint("s", i)
		must(b, store.Start(b.Context(), a, pattern))
	}
	for b.Loop() {
		due, err := store.Due(b.Context(), "discord", evening)
		if err != nil || len(due) > 0 {
			b.Fatalf("found %v, %v", due, err)
		}
	}
}

// BenchmarkVisit is what every request begins with, by how many sessions there are.
func BenchmarkVisit(b *testing.B) {
	server := redistest.Start(b)
	client := connect(b, "redis://"+server.Addr)
	for _, n := range []int{0, 4, session.SessionsMost} {
		b.Run(fmt.Sprint("sessions=", n), func(b *testing.B) {
			redistest.Flush(b, client)
			store := session.Open(client)
			bench{store, client}.begin(b, wren)
			var sessions []session.Session
			for i := range n {
				one := part(i+1, "Lanterns", float64(i))
				sessions = append(sessions, one)
			}
			must(b, store.Schedule(b.Context(), group, sessions, "Europe/Amsterdam", true))
			for b.Loop() {
				if _, _, err := store.Visit(b.Context(), group, wren); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
