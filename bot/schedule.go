package bot

import (
	"bytes"
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"clew/patterns/problem"
	"clew/session"
)

// How long a text of sessions may be, and a line of it, in bytes: a line has a title and
// two names of sections at the most, and to part it takes the longer the more it has of
// what may part it.
const (
	scheduleMost     = 64 << 10
	scheduleLineMost = 1 << 10
)

// The text of the sessions has one session a line, each with its number, its title,
// its rows and when it opens; a line may be left empty, and // begins a comment:
//
//	Zone: Europe/Amsterdam
//	Hold: yes
//	1. Casting on: Brim 1 to Lanterns 4; opens 2026-12-01 19:00
//	2. The lanterns: Lanterns 5-16; opens 8 December 2026 at 7 pm
//	3. Crown
//
// Without a title it bears the name of its rows. Rows are whole sections, rows of
// one, or rows from one to another. The first session opens at once where no time is
// given, each other one when a host opens it; so does "opens by hand".

// A schedule is what a text of sessions says.
type schedule struct {
	sessions []session.Session
	zone     string // "" where the text names none
	hold     *bool  // nil where it says nothing of that
}

// A scheduleAround is what a text of sessions is checked against.
type scheduleAround struct {
	rows  *rowList          // those of the pattern
	was   []session.Session // the sessions that are replaced
	zone  *time.Location    // the time zone that goes before the text's; nil for none
	other *time.Location    // the one where neither is
	now   time.Time
}

// A scheduling is a text of sessions being read.
type scheduling struct {
	scheduleAround
	src      []byte
	lines    []scheduleLine
	set      map[string]bool // the keys that have come
	broken   bool            // the text's time zone is none
	problems []problem.Problem
	schedule
}

// A scheduleLine is one session as it stands in the text.
type scheduleLine struct {
	session.Session
	from, to      int          // its rows, as places in the list of rows; from below 0 where they could not be read
	rowsAt, opens problem.Span // where its rows stand, and when it opens
	when          piece        // when it opens, as written; empty where that is not said
	timed         bool         // it has a time that could be read
}

// A piece is a part of a text, with where it begins.
type piece struct {
	text string
	at   int
}

func (p piece) span() problem.Span { return problem.Span{Start: p.at, End: p.at + len(p.text)} }

// trim takes the space off both ends.
func (p piece) trim() piece {
	left := strings.TrimLeft(p.text, " \t")
	return piece{strings.TrimRight(left, " \t"), p.at + len(p.text) - len(left)}
}

// part gives the bytes from one to another of a piece, without the space around
// them.
func (p piece) part(from, to int) piece { return piece{p.text[from:to], p.at + from}.trim() }

// readSchedule reads a text of sessions and checks it. What is wrong is told all at
// once; the schedule is to be used only where nothing is.
func readSchedule(src []byte, around scheduleAround) (schedule, []problem.Problem) {
	s := &scheduling{scheduleAround: around, src: problem.PlainLines(src), set: map[string]bool{}}
	start := 0
	if bytes.HasPrefix(s.src, []byte("\uFEFF")) {
		start = len("\uFEFF")
	}
	for line := range strings.Lines(string(s.src[start:])) {
		text, _, _ := strings.Cut(strings.TrimRight(line, "\r\n"), "//")
		if p := (piece{text, start}).trim(); p.text != "" {
			s.line(p)
		}
		start += len(line)
	}
	if len(s.lines) == 0 && len(s.problems) == 0 {
		s.wrong(problem.Span{}, "sessions-none", "the text has no session").Suggest("write a line such as: 1. %s", s.rows.sections[0].Name)
	}
	s.followOn()
	s.times()
	for _, l := range s.lines {
		s.sessions = append(s.sessions, l.Session)
	}
	slices.SortStableFunc(s.problems, func(a, b problem.Problem) int { return cmp.Compare(a.Start, b.Start) })
	return s.schedule, s.problems
}

// wrong notes a problem.
func (s *scheduling) wrong(at problem.Span, code, format string, args ...any) *problem.Problem {
	s.problems = append(s.problems, *problem.Errorf(at, code, format, args...))
	return &s.problems[len(s.problems)-1]
}

var (
	scheduleKey  = regexp.MustCompile(`^(?i:time )?([\pL]+)\s*:`)
	scheduleHead = regexp.MustCompile(`^(?i:session\s*)?(\d{1,6})\s*[.):]\s*`)
)

// line reads one line that is not empty.
func (s *scheduling) line(p piece) {
	if m := scheduleHead.FindStringSubmatchIndex(p.text); m != nil {
		s.session(p, piece{p.text[m[2]:m[3]], p.at + m[2]}, p.part(m[1], len(p.text)))
		return
	}
	m := scheduleKey.FindStringSubmatchIndex(p.text)
	if m == nil {
		s.wrong(p.span(), "sessions-number", "a session begins with its number, and this line has none").Suggest("write: %d. %s", len(s.lines)+1, problem.Show(p.text))
		return
	}
	key, value := strings.ToLower(p.text[m[2]:m[3]]), p.part(m[1], len(p.text))
	if near := problem.Nearest(key, []string{"zone", "hold"}); near != "" && key != near {
		s.wrong(problem.Span{Start: p.at, End: p.at + m[3]}, "sessions-key", "there is no key %s here", problem.Quote(key)).Suggest("write: %s%s: ", strings.ToUpper(near[:1]), near[1:])
		return
	}
	switch {
	case key != "zone" && key != "hold":
		s.wrong(p.span(), "sessions-number", "a session begins with its number, and this line has none").Suggest("write: %d. %s", len(s.lines)+1, problem.Show(p.text))
	case s.set[key]:
		s.wrong(p.span(), "sessions-twice", "there is a line with %s already", key).Suggest("keep one of them")
	case key == "zone":
		s.setZone(value)
	default:
		s.setHold(value)
	}
	s.set[key] = true
}

func (s *scheduling) setZone(p piece) {
	zone, near := zoneNamed(p.text)
	if zone != nil {
		s.schedule.zone = zone.String()
		return
	}
	s.broken = true
	wrong := s.wrong(p.span(), "sessions-zone", "there is no time zone called %s", problem.Quote(p.text))
	if near != "" {
		wrong.Suggest("write: %s", near)
	} else {
		wrong.Suggest("name a place as the time zone database does, such as Europe/Amsterdam")
	}
}

func (s *scheduling) setHold(p piece) {
	yes := map[string]bool{"yes": true, "on": true, "true": true, "no": false, "off": false, "false": false}
	hold, ok := yes[strings.ToLower(p.text)]
	if !ok {
		s.wrong(p.span(), "sessions-hold", "found %s, expected yes or no", problem.Quote(p.text)).Suggest("write yes to hold rows back until their session opens")
		return
	}
	s.hold = &hold
}

// session reads a session: what stands behind its number.
func (s *scheduling) session(line, number, rest piece) {
	n := len(s.lines) + 1
	if given, err := strconv.Atoi(number.text); err != nil || given != n {
		s.wrong(number.span(), "sessions-order", "found session %s, expected session %d", number.text, n).Suggest("number the sessions from 1 on, in their order")
	}
	if n == session.SessionsMost+1 {
		s.wrong(number.span(), "sessions-many", "there are more sessions than there may be, which is %d", session.SessionsMost).Suggest("put several into one")
	}
	l := scheduleLine{from: -1, rowsAt: line.span()}
	l.Number = n
	if len(line.text) > scheduleLineMost {
		s.wrong(line.span(), "sessions-long", "this line is too long").Suggest("give the session a title of a few words, its rows, and when it opens")
		s.lines = append(s.lines, l)
		return
	}
	ends := append(allOf(rest.text, ';'), len(rest.text))
	first := max(0, slices.IndexFunc(ends[:min(len(ends), partingsMost)], func(end int) bool { // the name of a section may have a semicolon in it
		_, _, ok := s.titleAndRows(rest.part(0, end))
		return ok
	}))
	for i, end := range ends[first+1:] {
		if p := rest.part(ends[first+i]+1, end); p.text != "" {
			s.opensAt(&l, p)
		}
	}
	s.rowsAndTitle(&l, rest.part(0, ends[first]))
	s.lines = append(s.lines, l)
}

// allOf gives where a character stands in a text.
func allOf(text string, char rune) []int {
	var at []int
	for i, r := range text {
		if r == char {
			at = append(at, i)
		}
	}
	return at
}

// titleAndRows parts a session's title from its rows: what stands behind its last
// colon are the rows, or all of it; behind an earlier one where only so they are, since
// the name of a section may have a colon in it. It is false where there are no rows so.
func (s *scheduling) titleAndRows(p piece) (title, rows piece, ok bool) {
	colons := allOf(p.text, ':')
	colons = colons[max(0, len(colons)-partingsMost):]
	if s.rows.section(p.text) != nil {
		colons = nil
	}
	for _, colon := range slices.Backward(colons) {
		rows = p.part(colon+1, len(p.text))
		if _, _, wrong := s.rowRange(rows); rows.text != "" && wrong == nil {
			return p.part(0, colon), rows, true
		}
	}
	if _, _, wrong := s.rowRange(p); wrong == nil || len(colons) == 0 {
		return piece{}, p, wrong == nil
	}
	last := colons[len(colons)-1]
	return p.part(0, last), p.part(last+1, len(p.text)), false
}

var opensWord = regexp.MustCompile(`^(?i:opens?|opening)\b\s*:?\s*`)

// opensAt reads when a session opens, as far as that is done without a time zone.
func (s *scheduling) opensAt(l *scheduleLine, p piece) {
	m := opensWord.FindStringIndex(p.text)
	switch {
	case m == nil:
		s.wrong(p.span(), "sessions-opens", "found %s, expected opens and a time", problem.Quote(p.text)).Suggest("write: opens %s", exampleTime(s.now))
	case l.when.text != "":
		s.wrong(p.span(), "sessions-twice", "it is said already when session %d opens", l.Number).Suggest("keep one of them")
	default:
		l.when, l.opens = p.part(m[1], len(p.text)), p.span()
		if l.when.text == "" {
			s.wrong(p.span(), "sessions-opens", "it is not said when session %d opens", l.Number).Suggest("write: opens %s", exampleTime(s.now))
		}
	}
}

// rowsAndTitle reads a session's title and rows.
func (s *scheduling) rowsAndTitle(l *scheduleLine, p piece) {
	title, rows, _ := s.titleAndRows(p)
	if rows != p {
		l.Title = plainTitle(title.text)
		if why := unfitTitle(l.Title); why != "" && title.text != "" {
			s.wrong(title.span(), "sessions-title", "%s", why).Suggest("give it a title of a few words, or none")
		}
	}
	if rows.text == "" {
		s.wrong(l.rowsAt, "sessions-rows", "it is not said which rows session %d has", l.Number).Suggest("write the name of a section behind it, such as %s", s.rows.sections[0].Name)
		return
	}
	if l.Title == "" {
		l.Title = plainTitle(rows.text)
	}
	l.rowsAt = rows.span()
	first, last, wrong := s.rowRange(rows)
	if wrong != nil {
		s.problems = append(s.problems, *wrong)
		return
	}
	l.First, l.Last, l.from, l.to = first, last, s.rows.at[first], s.rows.at[last]
	if l.from > l.to {
		s.wrong(rows.span(), "sessions-backwards", "session %d runs backwards: %s comes after %s", l.Number, rowText(first), rowText(last)).
			Suggest("write: %s to %s", rowText(last), rowText(first))
		l.from = -1
	}
}

// rowText writes a row as the text of sessions has it.
func rowText(id session.RowID) string { return fmt.Sprintf("%s %d", id.Section, id.Row) }

// followOn checks that the sessions follow each other from the first row on, without
// a gap. Beside one whose rows could not be read nothing is told.
func (s *scheduling) followOn() {
	next, before := 0, 0 // where the next session has to begin, and which ends there
	for _, l := range s.lines {
		if l.from < 0 {
			next = -1
			continue
		}
		switch {
		case next < 0 || l.from == next:
		case l.from < next:
			s.wrong(l.rowsAt, "sessions-overlap", "%s is in session %d already", rowText(s.rows.rows[l.from]), before).Suggest("%s", s.begin(next))
		case next == 0:
			s.wrong(l.rowsAt, "sessions-gap", "the pattern begins with %s, which is in no session", rowText(s.rows.rows[0])).Suggest("%s", s.begin(0))
		default:
			s.wrong(l.rowsAt, "sessions-gap", "%s is in no session", rowText(s.rows.rows[next])).Suggest("%s", s.begin(next))
		}
		next, before = l.to+1, l.Number
	}
}

// begin advises where a session has to begin.
func (s *scheduling) begin(row int) string {
	if row >= len(s.rows.rows) {
		return "leave it out: the sessions before it have all rows"
	}
	return "begin it with " + rowText(s.rows.rows[row])
}
