package bot

import (
	"context"
	"errors"
	"fmt"
	"maps"
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
	terms func() []term     // the stitches that come up, worked out when they are first asked for
	cuts  *sync.Map         // the plan cut behind its first rows, by how many: see upTo

	ear func() *listen.Listener // knows the names of its pattern, which are fewer for a plan that was cut; made when it is first asked for
}

func newPlan(laid *patterns.Plan) *plan {
	return &plan{
		Plan: laid, heard: CrossesHeard(laid), cuts: &sync.Map{},
		terms: sync.OnceValue(func() []term { return allTerms(laid) }),
		ear:   sync.OnceValue(func() *listen.Listener { return NewListener(laid.Pattern) }),
	}
}

// choiceOf names the plan by which one knits at a place.
func choiceOf(knitalong string, at session.Place) choice {
	return choice{revision{knitalong, at.Revision}, at.Size, at.LeftOut}
}

// errUnfit says that a text of the pattern can't be laid out as asked.
var errUnfit = errors.New("the pattern can't be laid out so")

// planOf lays out the pattern for a place's revision, size and rows left out,
// or takes the plan that was made for another member with the same choice.
//
// Errors: those of session.Store.Pattern; errUnfit; errNotYet.
func (b *Bot) planOf(ctx context.Context, knitalong string, at session.Place) (*plan, error) {
	c := choiceOf(knitalong, at)
	return b.plans.get(ctx, c, func(ctx context.Context) (*plan, error) {
		pattern, err := b.pattern(ctx, c.revision)
		if err != nil {
			return nil, err
		}
		leave, err := patterns.ParseLeftOut(at.LeftOut)
		if err != nil {
			return nil, fmt.Errorf("%w: %w", errUnfit, err)
		}
		laid, err := pattern.LayOut(patterns.Choice{Size: at.Size, LeftOut: leave})
		if err != nil {
			return nil, fmt.Errorf("%w: revision %d in size %q: %w", errUnfit, at.Revision, at.Size, err)
		}
		return newPlan(laid), nil
	})
}

// pattern reads one text of a pattern.
func (b *Bot) pattern(ctx context.Context, r revision) (*patterns.Pattern, error) {
	return b.patterns.get(ctx, r, func(ctx context.Context) (*patterns.Pattern, error) {
		text, err := b.store.Pattern(ctx, r.knitalong, r.number)
		if err != nil {
			return nil, err
		}
		pattern, _ := patterns.Read([]byte(text)) // LayOut refuses one with errors
		return pattern, nil
	})
}

// listener gives the ear for one text of a pattern, which knows its stitches
// and sections by name.
func (b *Bot) listener(ctx context.Context, r revision) (*listen.Listener, error) {
	return b.listeners.get(ctx, r, func(ctx context.Context) (*listen.Listener, error) {
		pattern, err := b.pattern(ctx, r)
		if err != nil {
			return nil, err
		}
		return NewListener(pattern), nil
	})
}

// CrossesHeard works out, for each row of a plan, which crosses its section has
// spelled out before.
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
		sofar = maps.Clone(sofar)
		for _, name := range names {
			sofar[name] = true
		}
	}
	return heard
}
