package patterns

import (
	"context"
	"slices"
	"strings"

	"clew/patterns/problem"
)

// prove lays the pattern out in every size, and gives what is wrong with it:
// once where sizes agree, by size where they differ. What is doubtful is told
// of the rows up to the first that can't be worked; whether rows may be left
// out, only when all else is right.
func (p *Pattern) prove(ctx context.Context, wrong bool) []problem.Problem {
	found := newMerged(p.Sizes)
	for size := range p.SizeCount() {
		l := p.layOut(layout{size: size, doubts: &doubts{}, given: ctx.Done()})
		p.most = max(p.most, l.worked)
		found.add(size, l.problems)
		found.add(size, l.doubts.found)
		if !wrong && len(l.problems) == 0 {
			found.add(size, l.checkOptionals())
		}
	}
	return found.problems()
}

// A merged list of problems knows in which sizes each was found.
type merged struct {
	sizes []string
	order []*mergedProblem
	at    map[mergedAt]*mergedProblem
}

type mergedAt struct {
	problem.Span
	code string
}

type mergedProblem struct {
	problem.Problem
	texts []sizedText // different ones, in the order of the sizes
}

// A sizedText is what is told of some sizes.
type sizedText struct {
	message, suggestion string
	sizes               []string
}

func newMerged(sizes []string) *merged {
	return &merged{sizes: sizes, at: map[mergedAt]*mergedProblem{}}
}

// add enters the problems of one size; of several in one place the first.
func (m *merged) add(size int, problems []problem.Problem) {
	name := ""
	if size < len(m.sizes) {
		name = m.sizes[size]
	}
	told := map[mergedAt]bool{}
	for _, p := range problems {
		key := mergedAt{p.Span, p.Code}
		if told[key] {
			continue
		}
		told[key] = true
		entry := m.at[key]
		if entry == nil {
			entry = &mergedProblem{Problem: p}
			m.at[key] = entry
			m.order = append(m.order, entry)
		}
		i := slices.IndexFunc(entry.texts, func(t sizedText) bool { return t.message == p.Message })
		if i < 0 && p.Code == "optional" && len(entry.texts) > 0 {
			continue // the numbers of one size are enough to find it
		}
		if i < 0 {
			i = len(entry.texts)
			entry.texts = append(entry.texts, sizedText{message: p.Message, suggestion: p.Suggestion})
		}
		entry.texts[i].sizes = append(entry.texts[i].sizes, name)
	}
}

func (m *merged) problems() []problem.Problem {
	out := make([]problem.Problem, 0, len(m.order))
	for _, e := range m.order {
		p := e.Problem
		switch {
		case len(m.sizes) < 2:
		case len(e.texts) > 1:
			p.Message = bySize(e.texts, func(t sizedText) string { return t.message })
			p.Suggestion = bySize(e.texts, func(t sizedText) string { return t.suggestion })
		case len(e.texts[0].sizes) < len(m.sizes):
			p.Sizes = e.texts[0].sizes
		}
		out = append(out, p)
	}
	return out
}

// bySize gives texts with the sizes that each concerns, or one text where all
// say the same.
func bySize(texts []sizedText, text func(sizedText) string) string {
	parts := make([]string, 0, len(texts))
	for _, t := range texts {
		parts = append(parts, strings.Join(t.sizes, ", ")+": "+text(t))
	}
	if !slices.ContainsFunc(texts, func(t sizedText) bool { return text(t) != text(texts[0]) }) {
		return text(texts[0])
	}
	return strings.Join(parts, "; ")
}
