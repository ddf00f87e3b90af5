package gateway

import (
	"fmt"
	"strings"
	"testing"

	"github.com/bwmarrin/discordgo"
)

func TestEventsComeInOrder(t *testing.T) {
	t.Parallel()
	for _, compressed := range []bool{false, true} {
		t.Run(fmt.Sprintf("compressed %t", compressed), func(t *testing.T) {
			t.Parallel()
			const events = 200
			s := newServer(t, func(p *peer) {
				p.hello()
				if id := p.identify(); !id.Compress {
					t.Error("does not ask for compressed frames")
				}
				p.compress = compressed
				p.ready(1, "lantern")
				for seq := 2; seq < events; seq += 2 {
					p.message(seq)
					p.press(seq + 1)
				}
				p.stay()
			})
			b := run(t, s, Options{})
			b.expect(isReady)
			for seq := 2; seq < events; seq += 2 {
				b.expect(fmt.Sprintf("0 message %d 21", seq), fmt.Sprintf("0 press %d next", seq+1))
			}
			b.stop()
		})
	}
}

func TestIdentifySaysWhatWasAskedFor(t *testing.T) {
	t.Parallel()
	s := newServer(t, whole)
	intents := discordgo.IntentsGuildMessages | discordgo.IntentsDirectMessages
	b := run(t, s, Options{Intents: intents, Shards: Shards{First: 2, Last: 2, Total: 5}})
	b.expect("2 ready 11 12")
	b.stop()
	ids := s.identifies()
	if len(ids) != 1 {
		t.Fatalf("identified %d times, expected once", len(ids))
	}
	// 1<<9 and 1<<12: Discord's developer documentation, "List of intents".
	if ids[0].Intents != 1<<9|1<<12 {
		t.Errorf("intents %d, expected %d", ids[0].Intents, 1<<9|1<<12)
	}
	if ids[0].Shard == nil || *ids[0].Shard != [2]int{2, 5} {
		t.Errorf("shard %v, expected [2 5]", ids[0].Shard)
	}
}

func TestReadyWithoutApplication(t *testing.T) {
	t.Parallel()
	s := newServer(t, func(p *peer) {
		p.hello()
		p.identify()
		p.event(1, "READY", map[string]any{"v": 9, "session_id": "lantern", "user": map[string]any{"id": "12"}})
		p.stay()
	})
	b := run(t, s, Options{})
	b.expect("0 ready 12 12")
	b.stop()
}

func TestHeartbeatIsGivenWhenAskedFor(t *testing.T) {
	t.Parallel()
	asked := make(chan struct{})
	s := newServer(t, func(p *peer) {
		p.open("lantern")
		p.beat() // comes by itself
		p.op(opHeartbeat, nil)
		p.beat()
		close(asked)
		p.stay()
	})
	b := run(t, s, Options{})
	b.expect(isReady)
	<-asked
	b.stop()
}

// A heartbeat may be asked for before the session is ready, too.
func TestHeartbeatAskedForWhileOpening(t *testing.T) {
	t.Parallel()
	s := newServer(t, func(p *peer) {
		p.hello()
		p.identify()
		p.op(opHeartbeat, nil)
		p.beat()
		p.ready(1, "lantern")
		p.stay()
	})
	b := run(t, s, Options{})
	b.expect(isReady)
	b.stop()
}

func TestPanicEndsOneEvent(t *testing.T) {
	t.Parallel()
	s := newServer(t, func(p *peer) {
		p.open("lantern")
		p.message(2)
		p.press(3)
		p.message(4)
		p.stay()
	})
	b := run(t, s, Options{}, func(b *bot) {
		b.onTold = func(line string) {
			switch line {
			case isReady:
				var nobody *discordgo.User
				_ = nobody.ID
			case "0 message 2 21", "0 press 3 next":
				panic(secretPress)
			}
		}
	})
	b.expect(isReady, "0 message 2 21", "0 press 3 next", "0 message 4 21")
	b.stop()
	for _, want := range []string{"nil pointer dereference", `"event":"message"`, `"event":"interaction"`} {
		if !strings.Contains(b.logged(), want) {
			t.Errorf("the log does not tell %q:\n%s", want, b.logged())
		}
	}
}

// What the library can't read has no author, or nothing at all.
func TestUnreadableEventsArePassedOver(t *testing.T) {
	t.Parallel()
	s := newServer(t, func(p *peer) {
		p.open("lantern")
		p.event(2, "MESSAGE_CREATE", map[string]any{
			"id": "2", "author": map[string]any{"id": "21"}, "components": []any{map[string]any{"type": 9999}},
		})
		p.event(3, "MESSAGE_CREATE", nil)
		p.event(4, "MESSAGE_CREATE", []any{"no", "message"})
		p.event(5, "INTERACTION_CREATE", nil)
		p.event(6, "INTERACTION_CREATE", map[string]any{"id": "6", "type": 3, "token": secretPress, "data": 5})
		p.event(7, "SOMETHING_NEW", map[string]any{"token": secretPress})
		p.op(99, map[string]any{"token": secretPress})
		p.message(8)
		p.stay()
	})
	b := run(t, s, Options{})
	b.expect(isReady, "0 message 8 21")
	b.stop()
}

func TestEachShardHasItsOwnConnection(t *testing.T) {
	t.Parallel()
	s := newServer(t, func(p *peer) {
		p.hello()
		id := p.identify()
		p.ready(1, fmt.Sprint("session-", id.Shard[0]))
		p.stay()
	})
	b := run(t, s, Options{Shards: Shards{First: 1, Last: 3, Total: 8}})
	told := map[string]bool{}
	for range 3 {
		told[<-b.told] = true
	}
	b.stop()
	for shard := 1; shard <= 3; shard++ {
		if !told[fmt.Sprintf("%d ready 11 12", shard)] {
			t.Errorf("shard %d was not ready: %v", shard, told)
		}
	}
}

// Two Runs at once share the library's one log function.
func TestTwoRunsAtOnce(t *testing.T) {
	t.Parallel()
	s := newServer(t, func(p *peer) {
		p.open("lantern")
		p.op(opInvalid, false)
		p.kept()
	}, func(p *peer) {
		p.hello()
		p.resume("lantern", 1)
		p.resumed(2)
		p.message(3)
		p.stay()
	})
	other := newServer(t, whole)
	a := run(t, s, Options{})
	b := run(t, other, Options{})
	a.expect(isReady)
	b.expect(isReady)
	a.expect("0 message 3 21")
	a.stop()
	b.stop()
}
