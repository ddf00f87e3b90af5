package reader

import (
	"strings"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
	"clew/patterns/survey"
)

// How many words of a row are heard in a telling of many: where it stands for itself,
// and where it stands for several that are alike.
const (
	shortMost     = 24
	alikeMost     = 32
	sentencesMost = 2
)

// brief says what row i does, in its own words where they are few, and else what is
// remarkable in it.
func brief(plan *patterns.Plan, i int) string {
	f := featuresOf(plan.Rows[i])
	if f.telling() {
		return f.wordsTo()
	}
	return f.orWords(fewWords(plan, i, shortMost)) + f.thenHave()
}

// eachOf says what one of the rows of a part does, and those that are alike: of two in
// turn the first or the second.
func eachOf(plan *patterns.Plan, p survey.Part, nth int) string {
	first, step := p.From+nth, 1
	if p.Kind == survey.InTurn || p.Kind == survey.Every {
		step = 2
	}
	r := plan.Rows[first]
	f := featuresOf(r)
	if f.net != 0 {
		return f.words()
	}
	for i := first; i < p.To; i += step {
		if plan.Rows[i].Before.Count() != r.Before.Count() { // the numbers of one are not those of the others
			return f.orWords(inGeneral(r.Written, plan.Size))
		}
	}
	return f.orWords(fewWords(plan, first, alikeMost))
}

// fewWords says row i in general, or in its own words; "" where those are too many.
func fewWords(plan *patterns.Plan, i, most int) string {
	if words := inGeneral(plan.Rows[i].Written, plan.Size); words != "" {
		return words
	}
	return ownWords(plan, i, most)
}

// ownWords gives the words of row i as one sentence that has not begun and does not
// end; "" where they are too many.
func ownWords(plan *patterns.Plan, i, most int) string {
	said := strings.TrimSuffix(wholeRow(plan, i), " That is the group.")
	sentences := strings.Split(strings.TrimSuffix(said, "."), ". ")
	if said == "" || len(sentences) > sentencesMost || strings.Count(said, " ") >= most {
		return ""
	}
	for n, words := range sentences {
		sentences[n] = strings.ToLower(words[:1]) + words[1:]
	}
	return strings.Join(sentences, "; ")
}

// rowIn gives row i of a plan as it is said.
func rowIn(plan *patterns.Plan, i int) Row {
	r := plan.Rows[i]
	return Row{Section: r.Section.Name, Number: r.Number, Round: r.Rounds, WrongSide: r.Side == instruction.WS, Size: plan.Size,
		Body: r.Body, Before: r.Before.Count(), After: r.After.Count(), Unworked: r.Unworked()}
}

// inGeneral says stitches one after the other as they are written, so that what goes to
// a place is not counted: "knit three, purl to the last three, knit three". It is ""
// where a row has anything else, or too much.
func inGeneral(written []instruction.Node, size int) string {
	if w := alone(written); w != nil && w.Extent.Reach == instruction.ToEnd && !w.TBL {
		switch {
		case w.Stitch.Kind == stitch.BindOff:
			return "bind off all stitches"
		case w.Stitch == knit || w.Stitch == purl:
			return w.Stitch.Words + " every stitch"
		}
	}
	s := &speaker{size: size}
	var said []string
	for _, n := range written {
		s.step = s.step[:0]
		switch n := n.(type) {
		case *instruction.Work:
			s.inGeneral(n)
		case *instruction.Marker:
			s.put([...]string{"place a marker", "slip the marker", "remove the marker"}[n.Act])
		case *instruction.Turn:
			s.put(turnWords(n))
		case *instruction.Yarn, *instruction.Held:
			s.put(itemWords(n, size))
		default:
			return ""
		}
		if len(s.step) > 0 {
			said = append(said, string(s.step))
		}
	}
	mark := ", "
	if hasPhrases(written) {
		mark = "; "
	}
	words := strings.Join(said, mark)
	if strings.Count(words, " ") >= shortMost {
		return ""
	}
	return words
}

// inGeneral says a stitch as far as it goes.
func (s *speaker) inGeneral(w *instruction.Work) {
	if w.Extent.Reach == instruction.Times {
		if times := w.Extent.N.At(s.size); times > 0 {
			s.stitch(w, times)
		}
		return
	}
	s.put(w.Stitch.Words)
	s.manner(w.Manner)
	s.loop(w)
	s.put(" " + s.reachWords(w.Extent))
}
