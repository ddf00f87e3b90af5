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
		return capital(RowName(new, c.New)) + past + " is new: " + inSentences(new, c.New) + counts(c, " It leaves ")
	}
	is := " is now: "
	if isLong(new, c.New) {
		is = " is worked otherwise now: "
	}
	said := capital(RowName(new, c.New)) + past + is + inSentences(new, c.New)
	if r := new.Rows[c.New]; r.First && (c.New == 0 || r.Section.CastOn != nil) && c.OldBefore != c.NewBefore {
		return said + " It begins on " + stitches(c.NewBefore) + ", not " + Number(c.OldBefore) + "."
	}
	return said + counts(c, " It leaves ")
}

// inSentences says what a row does, in whole sentences of which the first has begun.
func inSentences(plan *patterns.Plan, i int) string {
	if isLong(plan, i) {
		return brief(plan, i) + "."
	}
	said := wholeRow(plan, i)
	return strings.ToLower(said[:1]) + said[1:]
}

// isLong says that a row has too many words, or none.
func isLong(plan *patterns.Plan, i int) bool {
	said := wholeRow(plan, i)
	return said == "" || strings.Count(said, " ") >= changeMost
}

// wholeRow says a row, with its crosses by their names.
func wholeRow(plan *patterns.Plan, i int) string {
	return strings.Join(Say(rowIn(plan, i), Form{Crosses: AlwaysShort}).Steps, " ")
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
