package bot

import (
	"context"
	"regexp"
	"strings"

	"clew/patterns"
	"clew/reader"
	"clew/session"
)

// sizes says which size the member knits, and how to change it.
func (t *talk) sizes() string {
	sizes := t.plan.Pattern.Sizes
	if len(sizes) < 2 {
		return "The pattern comes in one size."
	}
	return "You knit size " + reader.Name(sizes[t.plan.Size]) + ". To change it, say size and one of these: " + list(namesOf(sizes), "or") + "."
}

func namesOf(texts []string) []string {
	names := make([]string, len(texts))
	for i, text := range texts {
		names[i] = reader.Name(text)
	}
	return names
}

// sizeWords are the ways to ask for a size: "size medium", "change my size to
// medium", "I knit the medium size". Every word has to be accounted for, and
// the word size among them, since a size changes the plan.
var sizeWords = []*regexp.Regexp{
	regexp.MustCompile(`^` + sizeLead + `(?:(?:my|the) )?size (?:to |is )?(.+)$`),
	regexp.MustCompile(`^` + sizeLead + `(?:(?:my|the|a) )?(.+) size$`),
}

const sizeLead = `(?:please )?(?:(?:i want to|i would like to|can you|let us|i will) )?(?:(?:change|switch|set|make|take|knit|give me|put me in|i knit|i am knitting|i want) )?(?:(?:it|me|to|in) )*`

// sizeAsked gives the size that the words ask for, or nothing.
func sizeAsked(p *patterns.Pattern, words string) string {
	said := strings.TrimSuffix(bare(words), " please")
	for _, way := range sizeWords {
		if m := way.FindStringSubmatch(said); m != nil {
			if size := sizeNamed(p, m[1]); size != "" {
				return size
			}
		}
	}
	return ""
}

// sizeOnly are words that ask for a size and name it in a word or two.
var sizeOnly = regexp.MustCompile(`^` + sizeLead + `(?:(?:my|the) )?size (?:to )?\w+(?: \w+)?$`)

// asksSize says that the words ask for a size, be there such a one or not.
func asksSize(words string) bool { return sizeOnly.MatchString(bare(words)) }

func (t *talk) noSuchSize() Reply {
	return Reply{Said: "There is no such size. " + t.sizes(), Choices: t.fitChoices()}
}

// sizeNamed gives the size of a name as written or as spoken, or nothing.
func sizeNamed(p *patterns.Pattern, name string) string {
	for _, size := range p.Sizes {
		if name == bare(size) || name == bare(reader.Name(size)) {
			return size
		}
	}
	return ""
}

// changeSize keeps the member's row and changes the size that she knits. It is
// a move, so that it can be taken back. What she leaves out she leaves out of the
// other size as well, where that has such rows.
func (t *talk) changeSize(ctx context.Context, size string) (Reply, error) {
	a, err := t.settle(ctx, "size", func() (answer, error) {
		if t.at.Size == size {
			return answer{To: t.state.Place, Before: "You knit size " + reader.Name(size) + " already. "}, nil
		}
		to, p, all, err := t.inSize(ctx, size)
		if err != nil {
			return answer{}, err
		}
		said := "You now knit size " + reader.Name(size) + ". "
		switch {
		case !all && to.LeftOut == "":
			said += "The " + t.plan.optionalWord() + "s that you left out can't be left out of it, so you hear them all. "
		case !all:
			said += "Not all " + t.plan.optionalWord() + "s that you left out can be left out of it; the others you hear again. "
		}
		from := to
		if to = carryRow(t.plan, p, to); to.Row != from.Row || to.Section != from.Section && to.Row > 0 {
			said += "It has no " + t.plan.rowName(t.here()) + ", so you are at the nearest before it. "
			if to.Section != from.Section {
				said += SectionUnsaid(p.Plan, p.rowAt(to))
			}
		}
		return answer{To: to, Before: said}, nil
	})
	if err != nil {
		return Reply{}, err
	}
	return t.tell(ctx, a)
}

// inSize gives her place in another size, with what she leaves out, and the plan
// there. It is false where not all of that can be left out of it.
func (t *talk) inSize(ctx context.Context, size string) (to session.Place, p *plan, all bool, err error) {
	to = t.at
	to.Size, to.LeftOut = size, ""
	whole, err := t.planOf(ctx, t.ask.Knitalong, to)
	if err != nil || t.at.LeftOut == "" {
		return to, whole, true, err
	}
	leave, err := patterns.ParseLeftOut(t.at.LeftOut)
	if err != nil {
		return to, whole, false, err
	}
	kept, all := leftOutIn(whole.Pattern, leave, t.plan.Size, whole.Size)
	v, err := t.choose(ctx, whole.Pattern, to, 0, allOpen, kept)
	if err != nil || v.against != nil {
		return to, whole, false, err
	}
	to.LeftOut = patterns.FormatLeftOut(kept)
	p, err = t.planOf(ctx, t.ask.Knitalong, to)
	return to, p, all, err
}
