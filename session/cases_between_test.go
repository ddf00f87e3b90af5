package session_test

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/redis/go-redis/v9"

	"clew/session"
)

// interrupting is a hook that does something once, ahead of a call of a number. It does
// nothing until it is armed.
type interrupting struct {
	calls int // how many come through ahead of it; below 0 for not armed
	do    func()
}

func (b *interrupting) DialHook(next redis.DialHook) redis.DialHook { return next }

func (b *interrupting) ProcessPipelineHook(next redis.ProcessPipelineHook) redis.ProcessPipelineHook {
	return next
}

func (b *interrupting) ProcessHook(next redis.ProcessHook) redis.ProcessHook {
	return func(ctx context.Context, cmd redis.Cmder) error {
		b.calls--
		if b.calls == -1 {
			b.do()
		}
		err := next(ctx, cmd)
		if err != nil && b.calls >= 0 { // a script that Redis has not met yet is sent again
			b.calls++
		}
		return err
	}
}

// testRefusedAfterAll has somebody else come first, when it has been looked whether
// there is room and the person's index has been changed: nothing of the person is in
// the index then, but what is kept of the person in any case.
func testRefusedAfterAll(t *testing.T, b bench) {
	ctx := t.Context()
	hook := &interrupting{calls: -1}
	b.client.AddHook(hook)
	ours := about
	start := func() error { return b.Start(ctx, ours, pattern) }
	help := func() error { return b.Help(ctx, ours.ID, ours.Host, true) }
	startTheirs := func() {
		theirs := ours
		theirs.Host = wren
		must(t, b.Start(ctx, theirs, "their pattern"))
	}
	startOurs := func() { must(t, start()) }
	crowd := func() {
		for n := range session.OpenMost {
			other := ours
			other.ID, other.Host = fmt.Sprint(ours.ID, "-", n), wren
			must(t, b.Start(ctx, other, pattern))
		}
	}
	helpers := func() {
		for n := range session.HelpersMost {
			must(t, b.Help(ctx, ours.ID, session.Member(fmt.Sprint("terminal:", n)), true))
		}
	}
	join := func() {
		_, err := b.Join(ctx, ours.ID, session.Joining{Member: ours.Host, Place: castOn, At: evening})
		must(t, err)
	}
	leave := func() { must(t, b.Leave(ctx, ours.ID, ours.Host, "")) }
	tell := func() { must(t, b.Tell(ctx, ours.Host, evening, ours.ID)) }
	prefer := func() { must(t, b.Prefer(ctx, ours.Host, session.Preferences{Units: "inches"})) }
	type deeds []func()
	for i, c := range []struct {
		name    string
		before  deeds
		change  func() error
		through int   // the calls that come through first
		between deeds // what happens then
		want    error
		kept    string // the fields of the person, in order; <id> is the knit-along's
	}{
		{"start, somebody else has", nil, start, 3, deeds{startTheirs}, session.ErrStarted, ""},
		{"start, so has another of one's calls", nil, start, 3, deeds{startOurs}, session.ErrStarted, "kept kept:<id>"},
		{"start, the server is full", nil, start, 4, deeds{crowd}, session.ErrCrowded, ""},
		{"start, the server is full, with units", deeds{prefer}, start, 4, deeds{crowd}, session.ErrCrowded, "kept units"},
		{"start, the server was full", deeds{crowd}, start, 9, nil, session.ErrCrowded, ""},
		{"help, there are enough", deeds{startTheirs}, help, 2, deeds{helpers}, session.ErrHelpers, ""},
		{"help, there were enough", deeds{startTheirs, helpers}, help, 9, nil, session.ErrHelpers, ""},
		{"help, there are enough, a member", deeds{startTheirs, join}, help, 2, deeds{helpers}, session.ErrHelpers, "joined:<id> kept kept:<id> on"},
		{"help, there are enough, one who left", deeds{startTheirs, join, leave}, help, 2, deeds{helpers}, session.ErrHelpers, "kept kept:<id>"},
		{"help, there are enough, joined meanwhile", deeds{startTheirs}, help, 2, deeds{helpers, join}, session.ErrHelpers, "joined:<id> kept kept:<id> on"},
		{"help, there are enough, told meanwhile", deeds{startTheirs}, help, 2, deeds{helpers, tell}, session.ErrHelpers, "kept kept:<id> told:<id>"},
	} {
		ours.ID, ours.Server = fmt.Sprint("k", i), fmt.Sprint("server-", i)
		ours.Host = session.Member(fmt.Sprint("discord:", i))
		for _, do := range c.before {
			do()
		}
		*hook = interrupting{calls: c.through, do: func() {
			for _, do := range c.between {
				do()
			}
		}}
		refused(t, c.name, c.change(), c.want)
		if (hook.calls < 0) != (c.between != nil) {
			t.Errorf("%s: it took other calls than expected", c.name)
		}
		hook.calls = -1
		fields, err := b.client.HGetAll(ctx, "clew:person:"+string(ours.Host)).Result()
		must(t, err)
		found := strings.Join(slices.Sorted(maps.Keys(fields)), " ")
		equal(t, c.name, found, strings.ReplaceAll(c.kept, "<id>", ours.ID))
	}
}
