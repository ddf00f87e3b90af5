package gateway

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/bwmarrin/discordgo"

	"clew/bot/discord/rest"
)

// soon is how long the process may take to say what is wrong.
const soon = 10 * time.Second

func TestFatalCloseCodes(t *testing.T) {
	t.Parallel()
	for code, says := range map[int][]string{
		4004: {"refused the bot's token", "developer portal", "CLEW_DISCORD_TOKEN", "4004"},
		4010: {"3-3/4", "CLEW_SHARDS", "4010"},
		4011: {"more servers than 4", "CLEW_SHARDS", "4011"},
		4012: {"newer version of Clew", "4012"},
		4013: {"newer version of Clew", "intents 512", "4013"},
		4014: {"not granted", "Privileged Gateway Intents", "intents 512", "4014"},
	} {
		t.Run(fmt.Sprint(code), func(t *testing.T) {
			t.Parallel()
			s := newServer(t, func(p *peer) {
				p.hello()
				p.identify()
				p.close(code)
			})
			began := time.Now()
			b := run(t, s, Options{
				Shards: Shards{First: 3, Last: 3, Total: 4}, Intents: discordgo.IntentsGuildMessages,
				Timing: Timing{}.withDefaults(),
			})
			fatal := b.fatal()
			if took := time.Since(began); took > soon {
				t.Errorf("took %v, expected at most %v", took, soon)
			}
			if fatal.Code != code {
				t.Errorf("code %d, expected %d", fatal.Code, code)
			}
			for _, want := range says {
				if !strings.Contains(fatal.Sentence, want) {
					t.Errorf("%q does not say %q", fatal.Sentence, want)
				}
			}
			if n := len(s.identifies()); n != 1 {
				t.Errorf("identified %d times, expected once", n)
			}
		})
	}
}

// The other codes of the documentation are no reason to give up.
func TestOtherCloseCodesAreNotFatal(t *testing.T) {
	t.Parallel()
	for _, code := range []int{4000, 4001, 4002, 4003, 4005, 4007, 4008, 4009} {
		t.Run(fmt.Sprint(code), func(t *testing.T) {
			t.Parallel()
			s := newServer(t, func(p *peer) {
				p.hello()
				p.identify()
				p.close(code)
			}, whole)
			b := run(t, s, Options{})
			b.expect(isReady)
			b.stop()
		})
	}
}

// The platform ends a running session, with a token that was replaced, too.
func TestTokenIsReplacedMeanwhile(t *testing.T) {
	t.Parallel()
	s := newServer(t, func(p *peer) {
		p.open("lantern")
		p.beat()
		p.close(4004)
	}, func(p *peer) {
		p.hello()
		p.resume("lantern", 1)
		p.close(4004)
	})
	b := run(t, s, Options{})
	b.expect(isReady)
	if fatal := b.fatal(); fatal.Code != 4004 {
		t.Errorf("code %d, expected 4004", fatal.Code)
	}
}

func TestTokenIsRefusedByREST(t *testing.T) {
	t.Parallel()
	for name, err := range map[string]error{
		"at once":        &rest.Error{Status: http.StatusUnauthorized, Route: "GET gateway/bot"},
		"for good":       fmt.Errorf("GET gateway/bot: %w", rest.ErrToken),
		"by the gateway": nil,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := newServer(t, func(p *peer) { t.Error("connected"); p.conn.Close() })
			o := Options{}
			if err != nil {
				o.Start = func(context.Context) (rest.Start, error) { return rest.Start{}, err }
			} else {
				o.Client = &http.Client{Transport: turn(func(r *http.Request) (*http.Response, error) {
					refusal := answer(`{"code":0,"message":"401: Unauthorized"}`)
					refusal.StatusCode, refusal.Request = http.StatusUnauthorized, r
					return refusal, nil
				})}
			}
			fatal := run(t, s, o).fatal()
			if fatal.Code != http.StatusUnauthorized || !strings.Contains(fatal.Sentence, "CLEW_DISCORD_TOKEN") {
				t.Errorf("%d %q, expected 401 and what to set", fatal.Code, fatal.Sentence)
			}
		})
	}
}

// One shard's refusal ends the others, as cleanly as any end.
func TestFatalEndsAllShards(t *testing.T) {
	t.Parallel()
	first := make(chan struct{})
	s := newServer(t, func(p *peer) {
		p.hello()
		if id := p.identify(); id.Shard != nil && id.Shard[0] == 1 {
			<-first
			p.close(4014)
			return
		}
		p.ready(1, "lantern")
		p.stay()
	})
	b := run(t, s, Options{Shards: Shards{First: 0, Last: 1, Total: 2}})
	b.expect(isReady)
	close(first)
	if fatal := b.fatal(); fatal.Code != 4014 {
		t.Errorf("code %d, expected 4014", fatal.Code)
	}
}

func TestOptionsThatCannotWork(t *testing.T) {
	for _, c := range []struct {
		o    Options
		says string
	}{
		{Options{}, "CLEW_DISCORD_TOKEN"},
		{Options{Token: secretToken, Shards: Shards{First: 2, Last: 2, Total: 2}}, "2-2/2"},
		{Options{Token: secretToken, Shards: Shards{First: 1, Last: 0, Total: 2}}, "lower one first"},
		{Options{Token: secretToken, Shards: Shards{First: 1, Last: 1}}, "expected 1 at least"},
	} {
		var fatal *Fatal
		if err := Run(t.Context(), c.o, nil); !errors.As(err, &fatal) || !strings.Contains(fatal.Sentence, c.says) {
			t.Errorf("%+v: %v, expected a *Fatal that says %q", c.o.Shards, err, c.says)
		}
	}
}
