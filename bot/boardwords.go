package bot

import (
	"cmp"
	"strings"

	"clew/bot/board"
	"clew/reader"
	"clew/session"
)

// A brevity says how much of the board is told.
type brevity struct {
	names   int // characters of a member's name at most; 0 for all
	words   int // characters of any other name at most
	rows    bool
	section bool // with names: the section; else the numbers of all of them
	lines   bool // each member, or section, has a line
	group   bool // how the group stands against the open session
}

// The ways to tell the board in ever fewer words: with names, and past as many as
// are named.
var (
	naming25 = []brevity{
		{words: 60, rows: true, section: true, lines: true, group: true},
		{words: 40, section: true, lines: true, group: true},
		{names: 32, words: 40, lines: true, group: true},
		{names: 16, words: 24, group: true},
		{names: 14, words: 24},
	}
	counting = []brevity{
		{words: 60, rows: true, section: true, lines: true, group: true},
		{words: 40, section: true, group: true},
		{words: 24, group: true},
	}
)

// texts tells the board in ever fewer words, in lines of whole sentences.
func (f *boardFacts) texts(call naming) []string {
	ways := counting
	if f.named() {
		ways = naming25
	}
	texts := make([]string, len(ways))
	for i, way := range ways {
		texts[i] = strings.Join(f.lines(way, call), "\n")
	}
	return texts
}

func (f *boardFacts) lines(way brevity, call naming) []string {
	lines := []string{"This is how far everybody has come in " + curt(titleOf(f.about), way.words) + ".", f.joinedWords()}
	switch {
	case f.about.Closed:
		lines = append(lines, "It has been closed by its host.")
	case way.group && f.open != nil:
		lines = append(lines, f.openWords(way.words))
	case way.group && f.planned != nil:
		lines = append(lines, f.plannedWords(way.words))
	}
	if way.group && f.middle != nil {
		lines = append(lines, f.groupWords(way.words))
	}
	if f.named() {
		return append(lines, f.namedLines(way, call)...)
	}
	return append(lines, f.countedLines(way)...)
}

// joinedWords says how many have joined, and have finished.
func (f *boardFacts) joinedWords() string {
	n := len(f.knitters)
	if n == 0 {
		return "Nobody has joined yet."
	}
	words := capital(knitters(n)) + " " + have(n) + " joined"
	switch {
	case f.finished == 0:
		return words + "."
	case n == 1:
		return words + ", and has finished."
	case f.finished == n:
		return words + ", and all have finished."
	}
	return words + ", and " + reader.Number(f.finished) + " " + have(f.finished) + " finished."
}

func knitters(n int) string { return reader.Number(n) + " " + plural("knitter", n) }

func have(n int) string {
	if n == 1 {
		return "has"
	}
	return "have"
}

func are(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// sessionName names a session: "session two, The lanterns,". It goes on.
func sessionName(s session.Session, most int) string {
	name := "session " + reader.Number(s.Number)
	if title := curt(reader.Name(within(s.Title)), most); title != "" {
		name += ", " + title + ","
	}
	return name
}

// rowAt names a row: "round twelve of Lanterns".
func (f *boardFacts) rowAt(at session.RowID, most int) string {
	rounds := false
	if place := f.places[at.Section]; place > 0 {
		rounds = f.pattern.Sections[place-1].Rounds
	}
	return rowWord(rounds) + " " + reader.Number(at.Row) + " of " + curt(nameOf(at.Section), most)
}

// openWords says which session is open, and how many have come how far in it.
func (f *boardFacts) openWords(most int) string {
	words := capital(sessionName(f.open.Session, most)) + " is open, up to " + f.rowAt(f.open.Last, most) + "."
	if !f.several() {
		return words
	}
	in, end := f.open.in, f.open.end
	row, _, _ := strings.Cut(f.rowAt(f.open.Last, most), " ")
	to := " come to its last " + row + "."
	switch n := len(f.knitters); {
	case end == n:
		return words + " All have" + to
	case in == 0 && end == 0:
		return words + " Nobody has come to it yet."
	case end == 0:
		return words + " " + capital(reader.Number(in)) + " " + are(in) + " in it."
	case in == 0:
		return words + " " + capital(reader.Number(end)) + " " + have(end) + to
	}
	return words + " " + capital(reader.Number(in)) + " " + are(in) + " in it, and " + reader.Number(end) + " " + have(end) + to
}

// plannedWords says that no session is open yet. Where rows are held back, so is
// what they are called.
func (f *boardFacts) plannedWords(most int) string {
	first := *f.planned
	if f.about.Hold {
		first.Title = ""
	}
	words := capital(sessionName(first, most)) + " has not opened yet."
	if first.Opens.IsZero() {
		return words + " Its host will open it."
	}
	return words + " It opens " + reader.Moment(first.Opens, f.now, zoneOf(f.about.Zone)) + "."
}

// groupWords says where the middle of the group is.
func (f *boardFacts) groupWords(most int) string {
	switch {
	case f.middle.finished:
		return "At least half of the group has finished."
	case f.middle.at.Row == 0:
		return "At least half of the group is at the beginning."
	}
	return "At least half of the group is at " + f.rowAt(f.middle.at, most) + " or further."
}

// namedLines tells of each member who is named, in the order of their names.
func (f *boardFacts) namedLines(way brevity, call naming) []string {
	var lines, listed []string
	for _, k := range f.knitters {
		if k.hidden {
			continue
		}
		name := call(k.name, way.names)
		lines = append(lines, name+": "+f.whereIs(k, way)+".")
		listed = append(listed, name+", "+k.figure())
	}
	if !way.lines && len(listed) > 0 {
		lines = []string{"Percent of the stitches: " + strings.Join(listed, "; ") + "."}
	}
	switch {
	case f.hidden == 0:
	case f.hidden < len(f.knitters):
		lines = append(lines, "And "+reader.Number(f.hidden)+" more who "+are(f.hidden)+" not named.")
	case f.hidden == 1:
		lines = append(lines, "Whoever it is wishes not to be named.")
	default:
		lines = append(lines, "They wish not to be named.")
	}
	return lines
}

// whereIs says where a knitter is: "round twelve of Lanterns, forty-five percent".
func (f *boardFacts) whereIs(k knitter, way brevity) string {
	switch {
	case k.finished:
		return "finished"
	case k.at.Row == 0:
		return "at the beginning"
	}
	where := ""
	switch {
	case way.rows || k.done < 0 && way.section:
		where = f.rowAt(k.at, way.words)
	case way.section:
		where = curt(nameOf(k.at.Section), way.words)
	}
	switch {
	case k.done < 0:
		return cmp.Or(where, "on the way")
	case where != "":
		where += ", "
	}
	return where + reader.Number(board.Percent(k.done)) + " percent"
}

// figure is how far a knitter is, in percent or in a word.
func (k knitter) figure() string {
	switch {
	case k.finished:
		return "finished"
	case k.done < 0:
		return "on the way"
	}
	return reader.Number(board.Percent(k.done))
}

// countedLines tells how many are in each section, and who is nearest to each
// session's end, without a name.
func (f *boardFacts) countedLines(way brevity) []string {
	crowds, beginning := f.crowds()
	var lines []string
	switch {
	case way.lines:
		if beginning > 0 {
			lines = append(lines, "At the beginning: "+knitters(beginning)+".")
		}
		for _, c := range crowds {
			lines = append(lines, capital(curt(nameOf(c.section.Name), way.words))+": "+knitters(c.n)+".")
		}
	case way.section:
		var parts []string
		if beginning > 0 {
			parts = append(parts, "at the beginning, "+reader.Number(beginning))
		}
		for _, c := range crowds {
			parts = append(parts, "in "+curt(nameOf(c.section.Name), way.words)+", "+reader.Number(c.n))
		}
		if len(parts) > 0 {
			lines = append(lines, capital(strings.Join(parts, "; "))+".")
		}
	}
	for _, n := range f.nearestToEnds() {
		if way.rows || f.open != nil && n.Number == f.open.Number {
			lines = append(lines, f.nearestWords(n, way.words))
		}
	}
	return lines
}

// nearestWords says how near somebody is to a session's end.
func (f *boardFacts) nearestWords(n nearest, most int) string {
	end := f.rowAt(n.Last, most)
	if n.at == n.Last {
		return "The nearest to the end of " + sessionName(n.Session, most) + " is at " + end + ", its last."
	}
	if n.at.Section == n.Last.Section {
		end, _, _ = strings.Cut(end, " of ")
	}
	return "The nearest to the end of " + sessionName(n.Session, most) + " is at " + f.rowAt(n.at, most) + "; it ends with " + end + "."
}
