package reader

import (
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
	said := []string{"You can leave out " + k.more(best) + ".", k.becomes(best.Change, best.Length, s.Piece)}
	if s.Most != nil && s.Most.Rows == best.Rows {
		said = append(said, k.mostIsThat(s))
	} else {
		said = append(said, k.beside(s))
	}
	return strings.Join(nonEmpty(said), " ")
}

// more names the rows that an offer leaves out and the knitter did not.
func (k Knitting) more(o *fit.Offer) string {
	if rows := k.RowsLeftOut(k.Choice.LeftOut, o.LeftOut); rows != "" {
		return rows
	}
	return k.rows(o.Rows)
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
	switch {
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
	return k.steps(steps, s.Best.Change)
}

// A step is something else that may be done, and by how much it changes the
// piece.
type step struct {
	words  string
	change float64
}

// steps says what other steps come to, but for those that a tape measure does
// not tell from what has been said: "Two rounds would make it half a centimetre
// shorter, and six rounds, two centimetres."
func (k Knitting) steps(steps []step, told float64) string {
	said := ""
	for _, s := range steps {
		switch {
		case marks(s.change, k.Unit) == marks(told, k.Unit):
		case said == "":
			said = s.words + " would make it " + k.changed(s.change)
		default:
			said += ", and " + s.words + ", " + Length(s.change, k.Unit)
		}
	}
	if said == "" {
		return ""
	}
	return capital(said) + "."
}

// notShorter says why nothing does better than all rows.
func (k Knitting) notShorter(s fit.Shortening) string {
	if s.More == nil {
		return "None of the " + k.kind() + " ahead of you may be left out, so " + k.piece(s.Piece) + " stays " + Length(s.Piece.Length, k.Unit) + " long."
	}
	return "Leave out nothing: that comes nearest. Even the least, " + k.rows(s.More.Rows) + ", would make it " + k.changed(s.More.Change) + "."
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
		said = append(said, k.again(l.Best), k.becomes(l.Best.Change, l.Best.Length, l.Piece), k.besideAgain(l))
	default:
		both := "Both together make " + k.piece(l.Piece) + " " + k.changed(l.Restored.Change+l.Best.Change) + ": " + Length(l.Best.Length, k.Unit) + " in all."
		said = append(said, k.again(l.Best), both)
	}
	return strings.Join(nonEmpty(said), " ")
}

// back names the rows that an offer works and the knitter left out.
func (k Knitting) back(o *fit.Offer) string {
	if rows := k.RowsLeftOut(o.LeftOut, k.Choice.LeftOut); rows != "" {
		return rows
	}
	return k.rows(max(1, -o.Rows))
}

// again says which rows are worked once more, and when.
func (k Knitting) again(a *fit.Again) string {
	said := "After " + numbered(a.To, a.To, a.Section.Rounds) + " of " + shortName(a.Section.Name, "the section") + ", work "
	if a.From == a.To {
		return said + "that " + kindOf(Row{Round: a.Section.Rounds}, 1) + " " + oftenMore(a.Times) + "."
	}
	return said + numbered(a.From, a.To, a.Section.Rounds) + " " + oftenMore(a.Times) + "."
}

func oftenMore(n int) string {
	if n == 1 {
		return "once more"
	}
	return Times(n) + " more"
}

func (k Knitting) besideAgain(l fit.Lengthening) string {
	var steps []step
	for _, a := range []*fit.Again{l.Less, l.More} {
		if a != nil {
			steps = append(steps, step{oftenMore(a.Times), a.Change})
		}
	}
	return k.steps(steps, l.Best.Change)
}

func (k Knitting) notLonger(l fit.Lengthening) string {
	more := l.More
	if more == nil {
		return "None of the " + k.kind() + " ahead of you can be worked again, so " + k.piece(l.Piece) + " stays " + Length(l.Piece.Length, k.Unit) + " long."
	}
	rows := numbered(more.From, more.To, more.Section.Rounds) + " of " + shortName(more.Section.Name, "the section")
	return "Change nothing: that comes nearest. Working " + rows + " " + oftenMore(more.Times) + " would already make it " + k.changed(more.Change) + "."
}

// Chosen says what a choice of rows to leave out comes to, once it is made;
// the knitting is as it was before.
func (k Knitting) Chosen(o fit.Offer) string {
	said := "You leave out nothing now."
	switch {
	case o.Rows > 0:
		said = "You now leave out " + k.more(&o) + "."
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
	case f.Longer != nil && f.Longer.Far:
		return k.tooFar(Length(f.Wanted, k.Unit), f.Piece)
	case f.Shorter != nil:
		return as + now + ". " + k.Shorter(*f.Shorter)
	case f.Longer != nil:
		return as + now + ". " + k.Longer(*f.Longer)
	}
	return "Change nothing: " + now + " already."
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
