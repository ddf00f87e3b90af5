package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"clew/patterns"
	"clew/patterns/problem"
	"clew/reader"
)

// A proved is a pattern with what was found in it.
type proved struct {
	*patterns.Pattern
	text     []byte
	problems []problem.Problem
	rows     string // how many it has, in words; "" where that is not known
}

// Limits on proving, so that hosts who send large patterns take no knitter's
// answer: how many are proved at once, how long one may take, how long one waits
// for its turn, and how long counting its rows may go on to another size.
const (
	proofsAtOnce = 2
	proofWithin  = 10 * time.Second
	proofWait    = 4 * time.Second
	countWithin  = time.Second
)

// How many stitches a pattern of a knit-along may have in its largest size, and
// in all its sizes together. One of more would take its members' answers away
// from all others: laying out half a million takes about a quarter of a second.
// A blanket of four hundred stitches and a thousand rows has fewer, and so have
// ten sizes of a jersey together.
const (
	sizeStitchesMost    = 500_000
	patternStitchesMost = 1_000_000
)

var (
	errProofsBusy = errors.New("other patterns are being proved")
	errProofLong  = errors.New("the pattern takes too long to prove")

	errTooManyStitches = errors.New("the pattern has too many stitches for a group")
)

// prove proves a pattern within the limits.
//
// Errors: errProofsBusy, errProofLong, errTooManyStitches.
func (b *Bot) prove(ctx context.Context, text []byte) (*proved, error) {
	turn := time.NewTimer(proofWait)
	defer turn.Stop()
	select {
	case b.proofs <- struct{}{}:
		defer func() { <-b.proofs }()
	case <-turn.C:
		return nil, errProofsBusy
	case <-ctx.Done():
		return nil, errProofsBusy
	}
	ctx, cancel := context.WithTimeout(ctx, proofWithin)
	defer cancel()
	pattern, problems, err := patterns.ReadWithin(ctx, text)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", errProofLong, err)
	}
	if most := pattern.MostStitches(); most > sizeStitchesMost || most*int64(pattern.SizeCount()) > patternStitchesMost {
		return nil, errTooManyStitches
	}
	p := &proved{Pattern: pattern, text: text, problems: problems}
	if !p.wrong() {
		p.rows = rowWords(ctx, pattern)
	}
	return p, nil
}

// proofFailed answers where a pattern was not proved.
func proofFailed(err error) (Reply, error) {
	switch {
	case errors.Is(err, errProofsBusy):
		return Reply{Said: "Other patterns are being checked just now. Nothing was changed. Please ask again in a moment."}, nil
	case errors.Is(err, errProofLong):
		return Reply{Said: "That pattern takes too long to check: it has very many rows, stitches or sizes. Nothing was changed."}, nil
	case errors.Is(err, errTooManyStitches):
		return Reply{Said: "That pattern is too large for a group: it has more than half a million stitches in one size, or more than a million in all its sizes. Nothing was changed. Check its row numbers, or give each part a knit-along of its own."}, nil
	}
	return Reply{}, err
}

func (p *proved) wrong() bool { return patterns.HasErrors(p.problems) }

// countWords says how many problems there are.
func (p *proved) countWords() string {
	var found []string
	for _, kind := range []problem.Severity{problem.Error, problem.Warning} {
		of, _ := apart(p.problems, func(one problem.Problem) bool { return one.Severity == kind })
		if n := len(of); n > 0 {
			found = append(found, reader.Number(n)+" "+plural(kind.String(), n))
		}
	}
	where := "Each stands below with its line."
	if len(p.problems) == 1 {
		where = "It stands below with its line."
	}
	return "The pattern has " + strings.Join(found, " and ") + ". " + where
}

// report shows every problem with its line and a caret under what is wrong.
func (p *proved) report(file string) string {
	shown := make([]string, len(p.problems))
	for i, one := range p.problems {
		shown[i] = problem.Caret(file, p.text, one)
	}
	return strings.Join(shown, "\n")
}

// patternWords says what there is to knit in a sound pattern, with the names of its
// sections or without.
func (p *proved) patternWords(named bool) string {
	var sections []string
	for _, s := range p.Sections {
		sections = append(sections, nameOf(s.Name))
	}
	words := "It has " + reader.Number(len(sections)) + " " + plural("section", len(sections))
	if named {
		words += ", " + list(sections, "and")
	}
	if p.rows != "" {
		words += ", with " + p.rows
	}
	if n := len(p.Sizes); n > 1 {
		words += ", and comes in " + reader.Number(n) + " sizes: " + list(namesOf(p.Sizes), "and")
	}
	return words + "."
}

// rowWords says how many rows a sound pattern has: in every size, where they
// differ from the fewest to the most. It is empty where the time is over.
func rowWords(ctx context.Context, p *patterns.Pattern) string {
	ctx, cancel := context.WithTimeout(ctx, countWithin)
	defer cancel()
	var counts []int
	kinds := ""
	for size := range p.SizeCount() {
		name := ""
		if len(p.Sizes) > 0 {
			name = p.Sizes[size]
		}
		laid, err := p.LayOut(patterns.Choice{Size: name})
		if err != nil || ctx.Err() != nil {
			return ""
		}
		counts, kinds = append(counts, len(laid.Rows)), (&plan{Plan: laid}).kinds()
	}
	fewest, most := slices.Min(counts), slices.Max(counts)
	if fewest == most {
		return reader.Number(most) + " " + kinds + " in all"
	}
	return reader.Number(fewest) + " to " + reader.Number(most) + " " + kinds + " in all"
}

// castOnAll says how many stitches each size is cast on with.
func castOnAll(p *patterns.Pattern) string {
	if len(p.Sizes) < 2 {
		return "Cast on " + stitches(p.CastOn.At(0)) + "."
	}
	casts := make([]string, len(p.Sizes))
	for i, size := range p.Sizes {
		casts[i] = reader.Number(p.CastOn.At(i)) + " for " + nameOf(size)
	}
	return "The stitches to cast on are " + list(casts, "and") + "."
}
