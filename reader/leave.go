package reader

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"clew/patterns"
	"clew/patterns/fit"
)

// A Knitting is whose piece is spoken of: a pattern, what the knitter has
// chosen of it, and the unit in which she wants lengths.
type Knitting struct {
	Pattern *patterns.Pattern
	Choice  patterns.Choice
	Unit    fit.Unit
}

func (k Knitting) size() int {
	size, err := k.Pattern.SizeIndex(k.Choice.Size)
	if err != nil { // a choice that was laid out has a size
		return 0
	}
	return size
}

// rows counts rows or rounds, as the pattern is worked.
func (k Knitting) rows(n int) string { return counted(n, k.Pattern.Rounds) }

func counted(n int, rounds bool) string { return Number(n) + " " + kindOf(Row{Round: rounds}, n) }

// numberedEach names rows that need not follow each other: "rounds three, seven
// and eleven".
func numberedEach(numbers []int, rounds bool) string {
	first, last := numbers[0], numbers[len(numbers)-1]
	if last-first == len(numbers)-1 {
		return numbered(first, last, rounds)
	}
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = Number(n)
	}
	return kindOf(Row{Round: rounds}, len(numbers)) + " " + series(words)
}

// numbered names rows by their numbers: "round one", "rounds one to twelve".
func numbered(first, last int, rounds bool) string {
	words := kindOf(Row{Round: rounds}, last-first+1) + " " + Number(first)
	switch last - first {
	case 0:
		return words
	case 1:
		return words + " and " + Number(last)
	}
	return words + " to " + Number(last)
}

// RowsLeftOut names the rows that a choice leaves out beyond those of another:
// "rounds five and six of Slack water"; empty for none.
func (k Knitting) RowsLeftOut(before, after []patterns.LeftOut) string {
	var named []string
	for _, group := range k.Pattern.Optionals(k.size()) {
		had, has := leftOutOf(before, group), leftOutOf(after, group)
		if has <= had {
			continue
		}
		named = append(named, k.lastOf(group, had, has)+" of "+shortName(group.Owner, "the pattern"))
	}
	return series(named)
}

// lastOf names the rows of a group that are left out when so many are, and so
// many were before: those from its end.
func (k Knitting) lastOf(group patterns.Optional, had, has int) string {
	left := group.Last(has)
	return numberedEach(left[:max(1, len(left)-had)], k.rounds(group))
}

// rounds says that a group's rows are rounds. A panel's are called what the
// pattern calls its rows.
func (k Knitting) rounds(group patterns.Optional) bool {
	for _, s := range k.Pattern.Sections {
		if !group.Panel && s.Name == group.Owner {
			return s.Rounds
		}
	}
	return k.Pattern.Rounds
}

func leftOutOf(leave []patterns.LeftOut, group patterns.Optional) int {
	for _, l := range leave {
		if l.Owner == group.Owner && l.From == group.From {
			return l.Rows
		}
	}
	return 0
}

// Shorter says which rows to leave out to make a piece shorter, what it comes
// to, what the steps beside it would come to, and what stays out of reach.
func (k Knitting) Shorter(s fit.Shortening) string {
	if s.Far {
		return capital(Length(s.Wanted, k.Unit)) + " less is out of reach: " + k.comes(s.Piece) + " in all."
	}
	if s.Best == nil {
		return k.notShorter(s)
	}
	best := s.Best
	said := []string{"You can leave out " + k.more(best) + ".", k.becomes(best.Change, best.Length, s.Piece), missedStripes(best.Stripes)}
	if s.Most != nil && s.Most.Rows == best.Rows {
		said = append(said, k.mostIsThat(s))
	} else {
		said = append(said, k.beside(s))
	}
	return strings.Join(nonEmpty(said), " ")
}

// more names the rows that an offer leaves out and the knitter did not.
func (k Knitting) more(o *fit.Offer) string {
	return k.named(k.Choice.LeftOut, o.LeftOut, o.Rows)
}

// named names the rows that a choice leaves out beyond another. Those of a panel go
// each time that it is worked, so that there are more of them in all.
func (k Knitting) named(before, after []patterns.LeftOut, inAll int) string {
	rows, own, groups := k.RowsLeftOut(before, after), 0, 0
	for _, group := range k.Pattern.Optionals(k.size()) {
		if more := leftOutOf(after, group) - leftOutOf(before, group); more > 0 {
			own, groups = own+more, groups+1
		}
	}
	switch {
	case rows == "":
		return k.rows(max(1, inAll))
	case inAll <= own:
		return rows
	case groups == 1 && inAll%own == 0:
		return rows + ", " + eachTime(inAll/own) + ": " + k.rows(inAll) + " in all"
	}
	return rows + ", each time they are worked: " + k.rows(inAll) + " in all"
}

// eachTime says of a panel that all of the times are meant that it is worked.
func eachTime(times int) string {
	if times == 2 {
		return "both times it is worked"
	}
	return "each of the " + Number(times) + " times it is worked"
}

// missedStripes says which stripes are missed.
func missedStripes(yarns []string) string {
	if len(yarns) == 0 {
		return ""
	}
	names := make([]string, len(yarns))
	for i, yarn := range yarns {
		names[i] = "a stripe of " + shortName(yarn, "another yarn")
	}
	if len(names) == 1 {
		return capital(names[0]) + " is missing then."
	}
	return capital(series(names)) + " are missing then."
}

// becomes says by how much a piece changes and what it then is.
func (k Knitting) becomes(change, length float64, piece fit.Piece) string {
	return "That makes " + k.piece(piece) + " " + k.changed(change) + ": " + Length(length, k.Unit) + " in all."
}

func (k Knitting) changed(change float64) string {
	if change < 0 {
		return Length(change, k.Unit) + " shorter"
	}
	return Length(change, k.Unit) + " longer"
}

// piece is what a piece is called: it, where the pattern has one alone.
func (k Knitting) piece(piece fit.Piece) string {
	sections := k.Pattern.Sections
	if piece.First == nil || piece.Last == nil || len(sections) == 0 {
		return "it"
	}
	first, last := piece.First.Name, piece.Last.Name
	known := func(name string) bool {
		return slices.ContainsFunc(sections, func(s *patterns.Section) bool { return s.Name == name })
	}
	switch {
	case !known(first) || !known(last): // a plan that was cut names no more than it has
		return "it"
	case first == sections[0].Name && last == sections[len(sections)-1].Name:
		return "it"
	case first == last:
		return shortName(first, "the piece")
	}
	return "the piece from " + shortName(first, "its beginning") + " to " + shortName(last, "its end")
}

// mostIsThat ends an offer that leaves out all that may be: so much stays out
// of reach.
func (k Knitting) mostIsThat(s fit.Shortening) string {
	missing := marks(s.Wanted, k.Unit) - marks(-s.Best.Change, k.Unit)
	if missing <= 0 {
		return "No more may be left out."
	}
	return "No more may be left out, so " + lengthOf(missing, k.Unit) + " " + stays(missing, k.Unit) + " out of reach."
}

// stays agrees with a length: one and less stays, more stay.
func stays(marks int, unit fit.Unit) string {
	one := 2
	if unit == fit.Inches {
		one = 4
	}
	if marks <= one {
		return "stays"
	}
	return "stay"
}

// beside says what the next smaller and the next larger step come to.
func (k Knitting) beside(s fit.Shortening) string {
	var steps []step
	for _, o := range []*fit.Offer{s.Less, s.More} {
		if o != nil && o.Rows > 0 {
			steps = append(steps, step{k.rows(o.Rows), o.Change})
		}
	}
	return k.nearer(steps, -s.Wanted, s.Best.Change)
}

// A step is something else that may be done, and by how much it changes the
// piece.
type step struct {
	words  string
	change float64
}

// nearer says what the step comes to that is nearer to what is wanted, unless a
// tape measure does not tell it from what has been said, or that from what is wanted: "Two rounds would make it
// half a centimetre shorter."
func (k Knitting) nearer(steps []step, wanted, told float64) string {
	if marks(wanted, k.Unit) == marks(told, k.Unit) {
		return ""
	}
	steps = slices.DeleteFunc(steps, func(s step) bool { return marks(s.change, k.Unit) == marks(told, k.Unit) })
	if len(steps) == 0 {
		return ""
	}
	best := slices.MinFunc(steps, func(a, b step) int {
		return cmp.Compare(math.Abs(a.change-wanted), math.Abs(b.change-wanted))
	})
	return capital(best.words) + " would make it " + k.changed(best.change) + "."
}

// notShorter says why nothing does better than all rows.
func (k Knitting) notShorter(s fit.Shortening) string {
	if s.More == nil {
		return "None of the " + k.kind() + " ahead of you may be left out, so " + k.piece(s.Piece) + " stays " + Length(s.Piece.Length, k.Unit) + " long."
	}
	return "Leaving out nothing comes nearest: " + k.rows(s.More.Rows) + ", the least that may go, would make it " + k.changed(s.More.Change) + "."
}

func (k Knitting) kind() string { return kindOf(Row{Round: k.Pattern.Rounds}, 2) }

// Longer says which rows to work again to make a piece longer, and what it
// comes to.
func (k Knitting) Longer(l fit.Lengthening) string {
	if l.Far {
		return k.tooFar(Length(l.Wanted, k.Unit)+" more", l.Piece)
	}
	if l.Restored == nil && l.Best == nil {
		return k.notLonger(l)
	}
	var said []string
	if l.Restored != nil {
		said = append(said, "You can work "+k.back(l.Restored)+" after all.")
	}
	switch {
	case l.Best == nil:
		said = append(said, k.becomes(l.Restored.Change, l.Restored.Length, l.Piece))
	case l.Restored == nil:
		said = append(said, k.again(l.Best), k.becomesAgain(l), k.besideAgain(l))
	default:
		both := "Both together make " + k.piece(l.Piece) + " " + k.changed(l.Restored.Change+l.Best.Change) + ": " + Length(l.Best.Length, k.Unit) + " in all."
		said = append(said, k.again(l.Best), both, k.besideAgain(l))
	}
	return strings.Join(nonEmpty(said), " ")
}

// back names the rows that an offer works and the knitter left out.
func (k Knitting) back(o *fit.Offer) string {
	return k.named(o.LeftOut, k.Choice.LeftOut, -o.Rows)
}

// again says which rows are worked once more, and when.
func (k Knitting) again(a *fit.Again) string {
	rounds := a.Section.Rounds
	rows := numbered(a.From, a.To, rounds)
	if a.From == a.To {
		rows = "that " + kindOf(Row{Round: rounds}, 1)
	}
	said := "After " + numbered(a.To, a.To, rounds) + " of " + shortName(a.Section.Name, "the section") + ", work " + rows
	if a.Times == 1 {
		return said + " once more."
	}
	return said + " again, " + Times(a.Times) + "." // a number may stand before it, which the times are not part of
}

// becomesAgain says what rows worked again come to. Where they go many at a time,
// that is why it is not just what is wanted.
func (k Knitting) becomesAgain(l fit.Lengthening) string {
	at := l.Best.To - l.Best.From + 1
	beside := marks(l.Best.Change, k.Unit) - marks(l.Wanted, k.Unit)
	if at <= 2 || beside == 0 || k.stuck(l) > 0 {
		return k.becomes(l.Best.Change, l.Best.Length, l.Piece)
	}
	word := " more"
	if beside < 0 {
		word, beside = " less", -beside
	}
	return "That is " + counted(at, l.Best.Section.Rounds) + " at a time, so " + k.piece(l.Piece) + " becomes " + k.changed(l.Best.Change) + ": " +
		Length(l.Best.Length, k.Unit) + " in all, " + lengthOf(beside, k.Unit) + word + " than you want."
}

// stuck is what stays out of reach because no more rows can be worked again, in
// marks.
func (k Knitting) stuck(l fit.Lengthening) int {
	change := l.Best.Change
	if l.Restored != nil {
		change += l.Restored.Change
	}
	missing := marks(l.Wanted, k.Unit) - marks(change, k.Unit)
	if l.More != nil || l.Wanted-change < l.Best.Change/float64(max(1, l.Best.Times)) {
		return 0
	}
	return missing
}

// besideAgain says what the nearer of the steps beside it comes to, or what stays
// out of reach.
func (k Knitting) besideAgain(l fit.Lengthening) string {
	if missing := k.stuck(l); missing > 0 {
		return "No more can be worked again without changing its look, so " + lengthOf(missing, k.Unit) + " " + stays(missing, k.Unit) + " out of reach."
	}
	if l.Restored != nil { // what they come to together has been said
		return ""
	}
	var steps []step
	for _, a := range []*fit.Again{l.Less, l.More} {
		if a != nil {
			steps = append(steps, step{Times(a.Times), a.Change})
		}
	}
	return k.nearer(steps, l.Wanted, l.Best.Change)
}

func (k Knitting) notLonger(l fit.Lengthening) string {
	more := l.More
	if more == nil {
		return "None of the " + k.kind() + " ahead of you can be worked again, so " + k.piece(l.Piece) + " stays " + Length(l.Piece.Length, k.Unit) + " long."
	}
	rows := numbered(more.From, more.To, more.Section.Rounds) + " of " + shortName(more.Section.Name, "the section")
	return "Change nothing: that comes nearest. Working " + rows + " once more would already make it " + k.changed(more.Change) + "."
}

// Chosen says what a choice of rows to leave out comes to, once it is made;
// the knitting is as it was before.
func (k Knitting) Chosen(o fit.Offer) string {
	said := "You leave out nothing now."
	switch {
	case o.Rows > 0:
		said = joined("You now leave out "+k.more(&o)+".", missedStripes(o.Stripes))
	case o.Rows < 0:
		said = "You now work " + k.back(&o) + " after all."
	}
	if o.Length > 0 && o.Rows != 0 {
		said += " " + k.becomes(o.Change, o.Length, fit.Piece{})
	}
	return said
}

// ToLength says how a piece comes to a length.
func (k Knitting) ToLength(f fit.Fitting) string {
	now, as := k.comes(f.Piece), "As it is written, "
	if len(k.Choice.LeftOut) > 0 {
		as = "As you knit it, "
	}
	switch {
	case f.Against != nil:
		return as + now + ", and " + Length(f.Wanted, k.Unit) + " can't be had: " + k.against(f)
	case f.Longer != nil && f.Longer.Far:
		return k.tooFar(Length(f.Wanted, k.Unit), f.Piece)
	case f.Shorter != nil:
		return as + now + ". " + k.Shorter(*f.Shorter)
	case f.Longer != nil:
		return as + now + ". " + k.Longer(*f.Longer)
	}
	return "Change nothing: " + now + " already."
}

// against says why a piece can't become shorter or longer, and what would make it so.
func (k Knitting) against(f fit.Fitting) string {
	why := strings.TrimRight(Plain(f.Against.Said), ".")
	if b := f.Against.Barrier; b != nil {
		why = "leaving out " + counted(b.Rows, b.Rounds) + " of " + shortName(b.Group.Owner, "the pattern") + " won't do, since " + breaks(*b)
	}
	if f.Wanted < f.Piece.Length {
		return why + ". A tighter gauge would make it shorter, and narrower too."
	}
	return why + ". A looser gauge would make it longer, and wider too."
}

// comes says how long a piece is: "it comes to twenty centimetres".
func (k Knitting) comes(piece fit.Piece) string {
	return k.piece(piece) + " comes to " + Length(piece.Length, k.Unit)
}

// tooFar says that a piece can't become so long.
func (k Knitting) tooFar(wanted string, piece fit.Piece) string {
	return capital(wanted) + " is out of reach: " + k.comes(piece) + ", and rows worked again may make it twice as long at most."
}

func nonEmpty(texts []string) []string {
	var kept []string
	for _, text := range texts {
		if text != "" {
			kept = append(kept, text)
		}
	}
	return kept
}
