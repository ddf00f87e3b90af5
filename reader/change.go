package reader

import (
	"strings"

	"clew/patterns"
	"clew/patterns/compare"
)

// changeMost is how many words of a changed row are heard; of a longer one it is told
// in short what it does.
const changeMost = 60

// Change tells what has become of a row that a new plan changes. Worked says that the
// one who hears it has worked it, or is past the place where it was added: "Round five
// of Lanterns, which you have worked, is now: knit two together, and so on to the end:
// thirty times in all. It leaves thirty stitches, not thirty-two."
func Change(old, new *patterns.Plan, c compare.Change, worked bool) string {
	if c.Kind == compare.Renamed {
		return capital(Name(c.Was)) + " is now called " + Name(c.Section) + "."
	}
	past := ""
	switch {
	case worked && c.Kind == compare.Added:
		past = ", which you are past,"
	case worked:
		past = ", which you have worked,"
	}
	switch c.Kind {
	case compare.Removed:
		return capital(RowName(old, c.Old)) + past + " is no longer in the pattern." + counts(c, " Without it there are ")
	case compare.Added:
		return capital(RowName(new, c.New)) + past + " is new: " + changedTo(new, c.New) + counts(c, " It leaves ")
	}
	return capital(RowName(new, c.New)) + past + " is now: " + changedTo(new, c.New) + begins(new, c) + counts(c, " It leaves ")
}

// changedTo says what a row does, in whole sentences of which the first has begun.
func changedTo(plan *patterns.Plan, i int) string {
	said := strings.Join(Say(rowIn(plan, i), Form{Crosses: AlwaysShort}).Steps, " ")
	if said == "" || strings.Count(said, " ") >= changeMost {
		return brief(plan, i) + "."
	}
	return strings.ToLower(said[:1]) + said[1:]
}

// begins says on how many stitches a row begins, where it begins a new piece on more
// or fewer than before.
func begins(plan *patterns.Plan, c compare.Change) string {
	if r := plan.Rows[c.New]; !r.First || c.New > 0 && r.Section.CastOn == nil || c.OldBefore == c.NewBefore {
		return ""
	}
	return " It begins on " + stitches(c.NewBefore) + ", not " + Number(c.OldBefore) + "."
}

// counts says how many stitches there are after a change, where they are not as many as
// before.
func counts(c compare.Change, words string) string {
	switch {
	case !c.CountDiffers(), c.NewAfter == 0: // the row says itself that all are bound off
		return ""
	case c.NewAfter == 1:
		words = strings.ReplaceAll(words, " are ", " is ")
	}
	was := Number(c.OldAfter)
	if c.OldAfter == 0 {
		was = "none"
	}
	return words + stitches(c.NewAfter) + ", not " + was + "."
}
