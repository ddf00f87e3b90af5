package session_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"clew/session"
)

// needles writes a log as a knitter makes it, of rows of 96 stitches.
type needles struct {
	at  time.Time
	row int
	log []session.Entry // the newest last
}

// on moves on after some minutes; each row has 96 stitches.
func (n *needles) on(rows int, minutes float64) { n.moves("next", rows, minutes, 1) }

func (n *needles) moves(how string, times int, minutes float64, by int) {
	for range times {
		n.at = n.at.Add(time.Duration(minutes * float64(time.Minute)))
		n.log = append(n.log, session.Entry{At: n.at, How: how, From: row(n.row), To: row(n.row + by),
			FromDone: int64(n.row) * 96, ToDone: int64(n.row+by) * 96})
		n.row += by
	}
}

func (n *needles) pace() session.Pace {
	newest := slices.Clone(n.log)
	slices.Reverse(newest)
	return session.PaceOf(newest)
}

// The paces are worked out by hand: a row of 96 stitches in four minutes is 24
// stitches a minute.
func TestPaceOf(t *testing.T) {
	for name, c := range map[string]struct {
		knit func(n *needles)
		want session.Pace
	}{
		"nothing":   {func(*needles) {}, session.Pace{StitchesAMinute: 20}},
		"one move":  {func(n *needles) { n.on(1, 4) }, session.Pace{StitchesAMinute: 20}},
		"nine rows": {func(n *needles) { n.on(10, 4) }, session.Pace{StitchesAMinute: 20, Rows: 9}},
		"ten rows":  {func(n *needles) { n.on(11, 4) }, session.Pace{StitchesAMinute: 24, Rows: 10}},
		"two paces": { // 20 rows, 1920 stitches in 120 minutes
			func(n *needles) { n.on(11, 4); n.on(10, 8) }, session.Pace{StitchesAMinute: 16, Rows: 20}},
		"a break": { // twelve minutes are three times four, and not more
			func(n *needles) { n.on(11, 4); n.on(1, 12.01); n.on(1, 4) }, session.Pace{StitchesAMinute: 24, Rows: 11}},
		"a long row and no break": {
			func(n *needles) { n.on(10, 4); n.on(1, 12) }, session.Pace{StitchesAMinute: 960. / 48, Rows: 10}},
		"a slow knitter takes no breaks": {func(n *needles) { n.on(11, 48) }, session.Pace{StitchesAMinute: 2, Rows: 10}},
		"a quick one may rest for ten minutes": { // 10 rows in 10 minutes, and one in 10
			func(n *needles) { n.on(11, 1); n.on(1, 10) }, session.Pace{StitchesAMinute: 1056. / 20, Rows: 11}},
		"a night": {func(n *needles) { n.on(6, 4); n.on(1, 600); n.on(6, 4) }, session.Pace{StitchesAMinute: 24, Rows: 11}},
		"rows that were only looked at": {
			func(n *needles) { n.on(11, 4); n.on(30, 0.05) }, session.Pace{StitchesAMinute: 24, Rows: 10}},
		"as quick as anybody": {func(n *needles) { n.on(11, 0.8) }, session.Pace{StitchesAMinute: 120, Rows: 10}},
		"back and on again": { // the two that come again don't count, nor the one that she had begun
			func(n *needles) { n.on(11, 4); n.moves("back", 2, 1, -1); n.on(3, 1); n.on(2, 4) }, session.Pace{StitchesAMinute: 24, Rows: 12}},
		"undo and on again": {
			func(n *needles) { n.on(11, 4); n.moves("undo", 1, 1, -1); n.on(2, 1); n.on(1, 4) }, session.Pace{StitchesAMinute: 24, Rows: 11}},
		"a jump ahead": { // it is no row, and the one that it leads to was begun at no known time
			func(n *needles) { n.on(11, 4); n.moves("at", 1, 1, 50); n.on(1, 2); n.on(1, 4) }, session.Pace{StitchesAMinute: 24, Rows: 11}},
		"a jump ahead, taken back": {
			func(n *needles) {
				n.on(11, 4)
				n.moves("at", 1, 1, 50)
				n.moves("undo", 1, 1, -50)
				n.on(1, 2)
				n.on(3, 4)
			}, session.Pace{StitchesAMinute: 24, Rows: 13}},
		"clocks that go back": {func(n *needles) { n.on(11, 4); n.on(1, -2); n.on(1, 4) }, session.Pace{StitchesAMinute: 24, Rows: 11}},
	} {
		t.Run(name, func(t *testing.T) {
			n := &needles{at: evening, row: 1}
			c.knit(n)
			samePace(t, n.pace(), c.want)
			equal(t, "a guess", n.pace().Guess(), c.want.Rows < 10)
		})
	}
}

func samePace(t *testing.T, got, want session.Pace) {
	t.Helper()
	if math.Abs(got.StitchesAMinute-want.StitchesAMinute) > 1e-9 || got.Rows != want.Rows {
		t.Errorf("found %v, expected %v", got, want)
	}
}

// A row that is heard in steps is timed from its first to its last.
func TestPaceInSteps(t *testing.T) {
	n := &needles{at: evening, row: 1}
	n.on(1, 4)
	for range 10 {
		for step := range 3 {
			n.at = n.at.Add(time.Minute)
			from, to := row(n.row), row(n.row)
			from.Step, to.Step = step, step+1
			n.log = append(n.log, session.Entry{At: n.at, How: "next", From: from, To: to, FromDone: int64(n.row) * 96, ToDone: int64(n.row) * 96})
		}
		n.on(1, 1)
	}
	samePace(t, n.pace(), session.Pace{StitchesAMinute: 24, Rows: 10})
}

// The figures of two sizes have nothing to do with each other.
func TestPaceAcrossSizes(t *testing.T) {
	n := &needles{at: evening, row: 1}
	n.on(11, 4)
	n.moves("fit", 1, 1, 0)
	e := &n.log[len(n.log)-1]
	e.To.Size, e.ToDone = "small", 5 // far behind in stitches, at the same row
	for i := range 12 {
		n.on(1, 4)
		e := &n.log[len(n.log)-1]
		e.From.Size, e.To.Size = "small", "small"
		e.FromDone, e.ToDone = 5+int64(i)*48, 5+int64(i+1)*48
	}
	// Ten rows of 96 and eleven of 48, each in four minutes; the one in which the
	// size was changed does not count.
	samePace(t, n.pace(), session.Pace{StitchesAMinute: (10*96 + 11*48) / 84., Rows: 21})
}

// Moves that an earlier version kept have no figures.
func TestPaceOfOlderMoves(t *testing.T) {
	n := &needles{at: evening, row: 1}
	n.on(30, 4)
	for i := range n.log[:19] {
		n.log[i].FromDone, n.log[i].ToDone = session.Unknown, session.Unknown
	}
	samePace(t, n.pace(), session.Pace{StitchesAMinute: 24, Rows: 10})
}
