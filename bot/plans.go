package bot

import (
	"context"
	"fmt"
	"sync"

	"clew/patterns"
	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// A revision names one text of one knit-along's pattern.
type revision struct {
	knitalong string
	number    int
}

// A choice names a plan: a revision, a size, and the rows left out.
type choice struct {
	revision
	size, leftOut string
}

// A plan is a pattern laid out, with what is said of each row kept at hand.
type plan struct {
	*patterns.Plan
	heard []map[string]bool // for each row, the crosses that came up earlier in its section
}

// plans keeps the plans that were last used, since most of a group knits the
// same few. It is safe for concurrent use.
type plans struct {
	mu   sync.Mutex
	kept map[choice]*plan
}

// plansKept bounds the plans in memory. One of a large pattern takes a few
// megabytes.
const plansKept = 64

func (p *plans) get(c choice) *plan {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.kept[c]
}

func (p *plans) put(c choice, made *plan) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.kept == nil || len(p.kept) >= plansKept {
		p.kept = map[choice]*plan{}
	}
	p.kept[c] = made
}

// load finds the plan that the member knits by.
func (t *talk) load(ctx context.Context) error {
	made, err := t.planOf(ctx, t.ask.Knitalong, t.state.Place)
	t.plan = made
	return err
}

// planOf lays out the pattern for a place, or takes the plan that was made for
// another member with the same choice.
func (b *Bot) planOf(ctx context.Context, knitalong string, at session.Place) (*plan, error) {
	c := choice{revision{knitalong, at.Revision}, at.Size, at.LeftOut}
	if made := b.plans.get(c); made != nil {
		return made, nil
	}
	pattern, err := b.pattern(ctx, c.revision)
	if err != nil {
		return nil, err
	}
	leave, err := patterns.ParseLeftOut(at.LeftOut)
	if err != nil {
		return nil, err
	}
	laid, err := pattern.LayOut(patterns.Choice{Size: at.Size, LeftOut: leave})
	if err != nil {
		return nil, fmt.Errorf("lay out revision %d in size %q: %w", at.Revision, at.Size, err)
	}
	made := &plan{Plan: laid, heard: CrossesHeard(laid)}
	b.plans.put(c, made)
	return made, nil
}

func (b *Bot) pattern(ctx context.Context, r revision) (*patterns.Pattern, error) {
	text, err := b.store.Pattern(ctx, r.knitalong, r.number)
	if err != nil {
		return nil, err
	}
	pattern, _ := patterns.Read([]byte(text)) // LayOut refuses one with errors
	return pattern, nil
}

// CrossesHeard works out, for each row of a plan, which crosses its section has spelled
// out before.
func CrossesHeard(p *patterns.Plan) []map[string]bool {
	heard := make([]map[string]bool, len(p.Rows))
	sofar := map[string]bool{}
	for i, r := range p.Rows {
		if r.First {
			sofar = map[string]bool{}
		}
		heard[i] = sofar
		names := reader.Crosses(r.Body)
		if len(names) == 0 {
			continue
		}
		next := make(map[string]bool, len(sofar)+len(names))
		for name := range sofar {
			next[name] = true
		}
		for _, name := range names {
			next[name] = true
		}
		sofar = next
	}
	return heard
}

// listener gives the ear for one text of a pattern, which knows its stitches
// and sections by name.
func (b *Bot) listener(ctx context.Context, knitalong string, number int) (*listen.Listener, error) {
	r := revision{knitalong, number}
	b.mu.Lock()
	l := b.listeners[r]
	b.mu.Unlock()
	if l != nil {
		return l, nil
	}
	pattern, err := b.pattern(ctx, r)
	if err != nil {
		return nil, err
	}
	l = NewListener(pattern)
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(b.listeners) >= plansKept {
		b.listeners = map[revision]*listen.Listener{}
	}
	b.listeners[r] = l
	return l, nil
}
