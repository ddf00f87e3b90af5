package gateway

import (
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/bwmarrin/discordgo"
	"github.com/gorilla/websocket"
	"github.com/rs/zerolog"
	"pgregory.net/rapid"
)

func TestParseShards(t *testing.T) {
	for _, c := range []struct {
		text string
		want Shards
		err  string
	}{
		{"", Shards{0, 0, 1}, ""},
		{"0/1", Shards{0, 0, 1}, ""},
		{"0-0/1", Shards{0, 0, 1}, ""},
		{"0-1/4", Shards{0, 1, 4}, ""},
		{"3/4", Shards{3, 3, 4}, ""},
		{"2-3/4", Shards{2, 3, 4}, ""},
		{"0-65534/65535", Shards{0, 65534, 65535}, ""},
		{"0-1", Shards{}, "as in"},
		{"4", Shards{}, "as in"},
		{"/4", Shards{}, "as in"},
		{"-/4", Shards{}, "as in"},
		{"0-/4", Shards{}, "as in"},
		{"-1/4", Shards{}, "as in"},
		{"0-1/", Shards{}, "as in"},
		{"0-1/4/5", Shards{}, "as in"},
		{"0-1-2/4", Shards{}, "as in"},
		{" 0-1/4", Shards{}, "as in"},
		{"+0-1/4", Shards{}, "as in"},
		{"0-1/four", Shards{}, "as in"},
		{"0-1/99999999999999999999", Shards{}, "as in"},
		{"0/0", Shards{}, "expected 1 at least"},
		{"2-1/4", Shards{}, "lower one first"},
		{"0-4/4", Shards{}, "the last there can be is 3"},
	} {
		got, err := ParseShards(c.text)
		if got != c.want || (err != nil) != (c.err != "") {
			t.Errorf("%q: %v, %v; expected %v", c.text, got, err, c.want)
		}
		if err != nil && (!strings.Contains(err.Error(), c.err) || !strings.Contains(err.Error(), fmt.Sprintf("%q", c.text))) {
			t.Errorf("%q: %v, expected it to quote that and to say %q", c.text, err, c.err)
		}
	}
}

func TestShardsAsTextAreParsedBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total := rapid.IntRange(1, 65535).Draw(t, "total")
		last := rapid.IntRange(0, total-1).Draw(t, "last")
		s := Shards{rapid.IntRange(0, last).Draw(t, "first"), last, total}
		if got, err := ParseShards(s.String()); got != s || err != nil {
			t.Fatalf("%s: %v, %v", s, got, err)
		}
	})
}

const usualBeat = 41250 * time.Millisecond

// TestAcksOverdue gives acknowledgements at seconds, and asks after how many
// the next is overdue.
func TestAcksOverdue(t *testing.T) {
	up := time.Date(2026, 11, 4, 19, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name string
		acks []float64
		want float64 // seconds after the last
	}{
		{"none came", nil, 61.875},
		{"the platform's", []float64{0.1, 41.35, 82.6}, 61.875},
		{"not learnt from two", []float64{0.1, 10.1, 20.1}, 61.875},
		{"learnt from three", []float64{0.1, 10.1, 20.1, 30.1}, 15},
		{"a slower one is learnt too", []float64{0.1, 60.1, 120.1, 180.1}, 90},
		{"the longest counts", []float64{0.1, 9.1, 19.1, 29.1}, 15},
		{"asked for in between", []float64{0.1, 3, 41.35, 45, 82.6, 83, 123.85}, 61.875},
		{"asked for often", []float64{0.1, 0.2, 0.3, 0.4, 0.5}, 1.546875},
		{"learnt, then asked for", []float64{0.1, 10.1, 20.1, 30.1, 34.1, 40.1}, 15},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := newAcks(usualBeat, up)
			last := up
			for _, s := range c.acks {
				last = up.Add(time.Duration(s * float64(time.Second)))
				for range 3 { // looked at more often than it changes
					a.saw(last)
				}
			}
			limit := time.Duration(c.want * float64(time.Second))
			if a.overdue(last.Add(limit - time.Millisecond)) {
				t.Errorf("overdue before %v", limit)
			}
			if !a.overdue(last.Add(limit + time.Millisecond)) {
				t.Errorf("not overdue after %v", limit)
			}
		})
	}
}

// With any interval from 1 s to the platform's, and a network that is up to a
// tenth of it slow, a gateway that answers is never taken for silent, and one
// that has fallen silent is, before the library would close with a code that
// ends the session: that is after five intervals.
func TestAcksOfAnyInterval(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		interval := time.Duration(rapid.Int64Range(int64(time.Second)+int64(time.Second)/10, int64(usualBeat)).Draw(t, "interval"))
		up := time.Date(2026, 11, 4, 19, 0, 0, 0, time.UTC)
		a := newAcks(usualBeat, up)
		at := up
		for i := range rapid.IntRange(4, 20).Draw(t, "heartbeats") {
			late := time.Duration(rapid.Int64Range(0, int64(interval/10)).Draw(t, "late"))
			next := up.Add(time.Duration(i)*interval + late)
			if a.overdue(next) {
				t.Fatalf("heartbeat %d of %v, %v late, is overdue", i, interval, late)
			}
			a.saw(next)
			at = next
		}
		if !a.overdue(at.Add(2 * interval)) {
			t.Fatalf("after two intervals of %v nothing is overdue", interval)
		}
	})
}

func TestPauses(t *testing.T) {
	for _, c := range []struct {
		tries       int
		err         error
		least, most time.Duration
	}{
		{0, errLost, 250 * time.Millisecond, 500 * time.Millisecond},
		{1, errLost, 500 * time.Millisecond, time.Second},
		{4, errSilent, 4 * time.Second, 8 * time.Second},
		{7, errLost, 30 * time.Second, time.Minute},
		{1000, errLost, 30 * time.Second, time.Minute},
		{0, errInvalid, time.Second, 5 * time.Second},
		{7, errInvalid, 30 * time.Second, time.Minute},
	} {
		for random, want := range map[float64]time.Duration{0: c.least, 1: c.most} {
			s := newShard(0, Options{Timing: Timing{Random: func() float64 { return random }}.withDefaults()}, nil, nil)
			if got := s.pause(c.tries, c.err); got != want {
				t.Errorf("try %d, %v, chance %v: %v, expected %v", c.tries, c.err, random, got, want)
			}
		}
	}
}

// The library may hold its lock for as long as it likes.
func TestClosingHasALimit(t *testing.T) {
	t.Parallel()
	timing := Timing{Close: 50 * time.Millisecond}.withDefaults()
	l, err := newLink(0, Options{Token: secretToken, Client: newServer(t, whole).client(), Timing: timing, Log: zerolog.Nop()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	l.session.Lock()
	defer l.session.Unlock()
	if _, ok := l.acked(); ok {
		t.Error("looked at what is locked")
	}
	l.close(closeNormal)
	if l.usable() || !l.abandoned {
		t.Error("the link was not abandoned")
	}
	l.close(closeNormal) // returns at once
	l.end()
}

// What the library would print, and what of that goes into the log.
func TestLibraryLogIsPlain(t *testing.T) {
	refused := &net.OpError{Op: "dial", Net: "tcp", Err: errors.New("connection refused")}
	for _, c := range []struct {
		format string
		args   []any
		want   string
	}{
		{"called", nil, "called"},
		{"First Packet:\n%#v\n", []any{&discordgo.Event{RawData: []byte(secretPress)}}, "First Packet:\n(*discordgo.Event)"},
		{"%s Failed (%s), Retrying...", []any{"https://discord.com/api/v9/webhooks/1/" + secretPress, "502"}, "(string) Failed ((string)), Retrying..."},
		{"Op: %d, Seq: %d, Data: %s", []any{3, int64(4), secretPress}, "Op: 3, Seq: 4, Data: (string)"},
		{"no ACK in %v", []any{time.Minute}, "no ACK in 1m0s"},
		{"error, %s", []any{&url.Error{Op: "Post", URL: secretPress, Err: refused}}, "error, dial tcp: connection refused"},
		{"error, %s", []any{&url.Error{Op: "Post", URL: secretPress, Err: io.EOF}}, "error, EOF"},
		{"error, %s", []any{fmt.Errorf(secretPress+": %w", &websocket.CloseError{Code: 4000})}, "error, websocket: close 4000"},
		{"error, %s", []any{errors.New(secretPress)}, "error, (*errors.errorString)"},
		{"error, %s", []any{nil}, "error, (<nil>)"},
	} {
		if got := plain(c.format, c.args); got != c.want {
			t.Errorf("%q: %q, expected %q", c.format, got, c.want)
		}
	}
}

// Other Sessions of the process identify as they like.
func TestOtherSessionsAreLeftAlone(t *testing.T) {
	for _, args := range [][]any{
		nil,
		{nil},
		{5},
		{struct{ Other int }{1}},
		{struct{ Data int }{1}},
		{struct {
			Op   int
			Data discordgo.Identify
		}{2, discordgo.Identify{}}},
		{struct {
			Op   int
			Data discordgo.Identify
		}{2, discordgo.Identify{Shard: &[2]int{0, 1}}}},
	} {
		library.hear(discordgo.LogDebug, 0, saysIdentify, args...)
	}
	library.hear(discordgo.LogInformational, 0, saysReconnect) // this goroutine goes on
}

// An event that was still being decoded when its link ended is told nobody.
func TestEndedLinkTellsNothing(t *testing.T) {
	l, err := newLink(0, Options{Token: secretToken, Client: &http.Client{}, Timing: Timing{}.withDefaults()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	l.tell("message", func() { told++ })
	l.end()
	l.tell("message", func() { told++ })
	if told != 1 {
		t.Errorf("told %d times, expected once, before the end", told)
	}
}
