package listen

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

// FuzzHear holds whatever is said against what Heard promises.
func FuzzHear(f *testing.F) {
	for _, file := range []string{"phrases.tsv", "heldout.tsv", "voices.tsv"} {
		for i, p := range readPhrases(f, file) {
			if i%5 == 0 {
				f.Add(p.words)
			}
		}
	}
	for i, w := range append(readWishes(f), readWished(f, "group.tsv")...) {
		if i%5 == 0 {
			f.Add(w.words)
		}
	}
	for _, s := range []string{"", " ", "\xff\xfe row 12", "next\x00row", "row ½", strings.Repeat("next ", 120), strings.Repeat("a", 501), "row 99999999999999999999", "’’’'''",
		"row 1,2,3,456", "1/2/3", "-5", "é́́́", "👩‍👩‍👧 next row", "ＮＥＸＴ ｒｏｗ"} {
		f.Add(s)
	}
	l := New(terms, "Lanterns", "Seed edge")
	f.Fuzz(func(t *testing.T, said string) {
		h := l.Hear(said)
		if RequestFor(h.Intent).Wants == "" && h.Intent != None && h.Intent != Unsure {
			t.Fatalf("%q: unknown intent in %+v", said, h)
		}
		if h.Sure == (h.Intent == Unsure) {
			t.Fatalf("%q: sure and unsure at once: %+v", said, h)
		}
		if h.Number < 0 || h.Number > maxNumber || !h.HasNumber && h.Number != 0 || h.Intent == At && h.Number == 0 && !isCommand(said, "at") {
			t.Fatalf("%q: number out of range: %+v", said, h)
		}
		if (h.Intent == Unsure) != (h.Ask != "") || (h.Intent == Unsure) != (len(h.Alternatives) > 0) {
			t.Fatalf("%q: a question that is none: %+v", said, h)
		}
		if !speakable(h.Ask) {
			t.Fatalf("%q: a question that can't be spoken: %q", said, h.Ask)
		}
		checkWish(t, said, h)
		checkGroup(t, said, h)
		if again := l.Hear(said); again.Intent != h.Intent || again.Number != h.Number {
			t.Fatalf("%q: heard %+v, then %+v", said, h, again)
		}
	})
}

// isCommand reports whether said is the name of a command, alone.
func isCommand(said, name string) bool {
	ws, _ := split(said)
	return spell(ws) == name
}

// checkWish holds what was asked in particular against what the types promise.
func checkWish(t *testing.T, said string, h Heard) {
	if h.Fit != nil && h.Intent != Fit || h.Yarn != nil && h.Intent != Yarn || (h.Look != "" || h.Last != 0) && h.Intent != Picture || h.Unit != "" && h.Intent != Settings {
		t.Fatalf("%q: a wish for something else: %+v", said, h)
	}
	if h.Last < 0 || h.Last > maxNumber || h.Last > 0 && (!h.HasNumber || h.Last < h.Number) || !slices.Contains([]string{"", Centimetres, Inches}, h.Unit) {
		t.Fatalf("%q: rows or a unit that can't be: %+v", said, h)
	}
	for _, n := range numbersOf(h) {
		if math.IsNaN(n) || n < -maxNumber*maxNumber || n > 100*(maxNumber+1) {
			t.Fatalf("%q: a number out of range in %s", said, told(h))
		}
	}
	if f := h.Fit; f != nil {
		rows := f.From == 0 && f.To == 0 || f.Leave == 0 && 0 < f.From && f.From <= f.To && f.To <= maxNumber
		counts := f.Leave >= -1 && f.Leave <= maxNumber && (f.Leave == 0 && f.From == 0 && !f.More || f.Kind == LeaveOut || f.Kind == Offers)
		if !slices.Contains(fitKinds, f.Kind) || !counts || !rows || f.Kind == LeaveOut && f.Leave == 0 && f.From == 0 || !f.HasNumber && (f.Number != 0 || f.Stitches != 0 || f.Rows != 0) {
			t.Fatalf("%q: a wish that is none: %+v", said, *f)
		}
		if !slices.Contains([]string{"", "head", "hand", "foot"}, f.Body) || !slices.Contains([]string{"", Centimetres, Inches, MixedUnits}, f.Unit) {
			t.Fatalf("%q: a body or a unit that there is not: %+v", said, *f)
		}
	}
	if y := h.Yarn; y != nil && (!y.HasHad && y.Had != 0 || !y.HasLeft && y.Left != 0 || !y.HasUsed && y.Used != 0 || y.HasHad && y.HasUsed && !y.HasLeft && !y.Mixed ||
		!slices.Contains([]string{"", "g", "m", "yd", "oz", "ball"}, y.Unit)) {
		t.Fatalf("%q: yarn that can't be: %+v", said, *y)
	}
}

// checkGroup holds what was asked of the group and of what was missed against what the types promise.
func checkGroup(t *testing.T, said string, h Heard) {
	if h.More && h.Intent != Help && h.Intent != Catchup || (h.Part != "" || h.Until != nil) && h.Intent != Catchup || h.Setting != "" && h.Intent != Settings {
		t.Fatalf("%q: a wish for something else: %+v", said, h)
	}
	if h.Part != "" && (!h.More || !slices.Contains(catchupParts, h.Part)) || h.Setting != "" && !slices.Contains(settings, h.Setting) || h.Intent == Catchup && h.HasNumber {
		t.Fatalf("%q: a wish that is none: %+v", said, h)
	}
	d := h.Until
	if d == nil {
		return
	}
	kinds := 0
	for _, has := range []bool{d.HasIn, d.HasWeekday, d.Date > 0} {
		if has {
			kinds++
		}
	}
	inRange := 0 <= d.In && d.In <= mostDays && time.Sunday <= d.Weekday && d.Weekday <= time.Saturday && 0 <= d.Week && d.Week <= 1 &&
		0 <= d.Date && d.Date <= 31 && 0 <= d.Month && d.Month <= time.December && (d.Year == 0 || 2000 <= d.Year && d.Year <= maxNumber)
	if kinds != 1 || !inRange || d.Week != 0 && !d.HasWeekday || d.Month != 0 && d.Date == 0 || d.Year != 0 && d.Month == 0 {
		t.Fatalf("%q: a day that there is not: %+v", said, *d)
	}
}

// speakable reports whether s holds only letters, spaces and the signs that a voice reads as pauses.
func speakable(s string) bool {
	return strings.Trim(strings.ToLower(s), "abcdefghijklmnopqrstuvwxyz ,.?'-") == "" && !strings.ContainsAny(s, "0123456789_/\"")
}
