package bot

import (
	"context"
	"slices"
	"strings"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
	"clew/reader"
	"clew/reader/listen"
)

// A term is a stitch as it is offered to be explained.
type term struct {
	abbr  string
	words string // as it is said; of the pattern's own abbreviations none
}

// valueMost is the longest value of a choice, in bytes.
const valueMost = 64

// Glossary gives the stitches that fit what a member has typed so far, at most
// 25: those of her row first, then the rest of her pattern's, and where none of
// these fit, any that Clew knows. The value of each is what is asked about, as
// in listen.Heard.Stitch, up to 64 bytes of any characters. It never fails:
// without a pattern there is what Clew knows.
func (b *Bot) Glossary(ctx context.Context, ask Ask, typed string) []Choice {
	terms, err := (&talk{Bot: b, ask: ask}).terms(ctx)
	if err != nil {
		b.log.Warn().Err(err).Str("member", string(ask.Member)).Msg("the stitches of a pattern were not offered")
	}
	found := fitting(terms, typed)
	if len(found) == 0 {
		found = fitting(known(), typed)
	}
	choices := make([]Choice, len(found))
	for i, one := range found {
		name := one.abbr
		if one.words != "" && one.words != one.abbr {
			name += ": " + one.words
		}
		choices[i] = Choice{Label: label(name, "stitch"), Intent: listen.Explain, Value: one.abbr}
	}
	return choices
}

// terms gives the stitches of the member's pattern, those of her row first.
func (t *talk) terms(ctx context.Context) ([]term, error) {
	given := t.ask.Knitalong != ""
	if !given {
		id, _, err := t.which(ctx)
		if id == "" || err != nil {
			return nil, err
		}
		t.ask.Knitalong = id
	}
	if err := t.begin(ctx); err != nil || !t.state.Joined || t.allowed(ctx, given) != nil {
		return nil, err
	}
	var terms []term
	if i := t.here(); i >= 0 {
		terms = termsOf(t.plan.Rows[i].Body)
	}
	return unique(append(terms, t.plan.terms()...)), nil
}

// termsOf gives the stitches of a row in the order in which they come.
func termsOf(body []instruction.Node) []term {
	var terms []term
	instruction.Each(body, func(n instruction.Node) {
		switch n := n.(type) {
		case *instruction.Macro:
			terms = append(terms, term{abbr: n.Name})
		case *instruction.Work:
			terms = append(terms, term{n.Stitch.Abbr, n.Stitch.Words})
		}
	})
	for _, name := range reader.Crosses(body) {
		terms = append(terms, crossTerm(name))
	}
	return terms
}

func crossTerm(name string) term {
	c, _, ok := stitch.FindCross(name)
	if !ok {
		return term{abbr: name}
	}
	return term{name, c.Words()}
}

// allTerms gives the stitches of a whole plan.
func allTerms(p *patterns.Plan) []term {
	var terms []term
	for _, r := range p.Rows {
		terms = unique(append(terms, termsOf(r.Body)...))
	}
	return terms
}

// unique keeps the first of each name.
func unique(terms []term) []term {
	seen := map[string]bool{}
	return slices.DeleteFunc(terms, func(one term) bool {
		again := seen[one.abbr]
		seen[one.abbr] = true
		return again
	})
}

// known gives what Clew can explain whatever the pattern.
func known() []term {
	var terms []term
	for _, s := range stitch.All() {
		terms = append(terms, term{s.Abbr, s.Words})
	}
	for _, one := range stitch.Terms() {
		terms = append(terms, term{abbr: one.Abbr})
	}
	return terms
}

// fitting gives the terms that begin with what was typed, then those that hold
// it, as many as there may be choices.
func fitting(terms []term, typed string) []term {
	typed = stitch.Key(within(typed))
	terms, _ = apart(terms, func(one term) bool { return one.abbr != "" && len(one.abbr) <= valueMost })
	begin, rest := apart(terms, func(one term) bool {
		return strings.HasPrefix(stitch.Key(one.abbr), typed) || strings.HasPrefix(stitch.Key(one.words), typed)
	})
	hold, _ := apart(rest, func(one term) bool { return strings.Contains(stitch.Key(one.words), typed) })
	found := append(begin, hold...)
	return found[:min(len(found), choicesMost)]
}
