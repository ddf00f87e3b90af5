package main

import (
	"fmt"
	"regexp"
	"strconv"
	"sync"
	"syscall"
	"testing"

	"clew/bot/discord/discordtest"
	"clew/session/redistest"
)

// enough is how often each has asked before the process is killed.
const enough = 4

// Killed while many are knitting, and started again, it knows where each of them
// is: at what she was told last, or at what she asked for after it.
func TestServeKilledInMidEvening(t *testing.T) {
	stores := map[string]func(*testing.T) string{
		"Redis": func(t *testing.T) string { return "CLEW_REDIS_URL=redis://" + redistest.Start(t).Addr },
		"local": func(t *testing.T) string { return "CLEW_DATA=" + t.TempDir() },
	}
	for name, store := range stores {
		t.Run(name, func(t *testing.T) {
			kept := store(t)
			srv := discordtest.New(t, discordtest.Options{Token: "net-float-seven"})
			p := serve(t, srv, kept)
			c := begin(srv, "Tibberhythe")
			c.start()
			knitters := make([]*discordtest.Person, 8)
			for i := range knitters {
				knitters[i] = c.join(fmt.Sprintf("Knitter %d", i+1))
			}

			told := knitUntilKilled(c, knitters, p)
			p = serve(t, srv, kept)
			connected(srv, 2)
			for i, who := range knitters {
				if told[i] < enough-1 {
					t.Errorf("%s had been told no more than row %d when she asked for the next one %d times", who.Name, told[i], enough)
				}
				if got := rowOf(srv.Uses(c.channel, who, "where")); got != told[i] && got != told[i]+1 {
					t.Errorf("%s had been told row %d, and now she is at row %d", who.Name, told[i], got)
				}
			}
			p.stops(syscall.SIGTERM)
			if asked, written := srv.Count(discordtest.GetCommands), srv.Count(discordtest.PutCommands); asked != 2 || written != 1 {
				t.Errorf("the commands were looked up %d times and written %d times, expected 2 and 1", asked, written)
			}
		})
	}
}

// knitUntilKilled has each of the knitters ask for one row after the other, the
// next as soon as she is told one, kills the process when each has a few rows,
// and gives the last row that each was told.
func knitUntilKilled(c *circle, knitters []*discordtest.Person, p *served) []int {
	told := make([]int, len(knitters))
	begun := make(chan struct{}, 2*len(knitters))
	killed := make(chan struct{})
	var all sync.WaitGroup
	for i, who := range knitters {
		all.Go(func() {
			defer func() { begun <- struct{}{} }()
			for n := 1; ; n++ {
				asked := c.next(who, n)
				if n == enough {
					begun <- struct{}{}
				}
				if !answeredBy(c.srv, asked, killed) {
					return
				}
				told[i] = rowOf(asked)
			}
		})
	}
	for range knitters {
		<-begun
	}
	p.kill()
	close(killed)
	all.Wait()
	return told
}

// next is a request for the next row, by a command, by words and by a button in
// turn.
func (c *circle) next(who *discordtest.Person, turn int) *discordtest.Event {
	switch turn % 3 {
	case 0:
		return c.srv.Press(who, "Next row")
	case 1:
		return c.srv.Uses(c.channel, who, "next")
	}
	return c.srv.Says(who, "next row")
}

// answeredBy waits until an event is answered, or the process is killed, and
// says whether it was answered.
func answeredBy(srv *discordtest.Server, e *discordtest.Event, killed <-chan struct{}) bool {
	srv.Until("an answer, or the end of the process", func() bool {
		select {
		case <-killed:
			return true
		default:
			return len(e.Answered()) > 0
		}
	})
	return len(e.Answered()) > 0
}

// rows are how a row stands under what is said.
var rows = regexp.MustCompile(`^-# Cuff, round (\d+) of 21`)

// rowOf is the number of the row that an event was answered with; 0 for none.
func rowOf(e *discordtest.Event) int {
	for _, m := range e.Answers(1) {
		if found := rows.FindStringSubmatch(m.Small()); found != nil {
			n, _ := strconv.Atoi(found[1])
			return n
		}
	}
	return 0
}
