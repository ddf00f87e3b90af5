package listen

import (
	"fmt"
	"strings"
	"testing"
)

// dayTold puts a day into a few words.
func dayTold(d *Day) string {
	switch {
	case d == nil:
		return ""
	case d.HasIn:
		return fmt.Sprintf("in %d", d.In)
	case d.HasWeekday && d.Week == 1:
		return strings.ToLower(d.Weekday.String()) + "+1"
	case d.HasWeekday:
		return strings.ToLower(d.Weekday.String())
	}
	said := fmt.Sprint(d.Date)
	if d.Month > 0 {
		said += " " + strings.ToLower(d.Month.String())
	}
	if d.Year > 0 {
		said += fmt.Sprintf(" %d", d.Year)
	}
	return said
}

// Every line of the table is heard as it says.
func TestGroup(t *testing.T) {
	l := wishListener()
	for _, w := range readWished(t, "group.tsv") {
		if got := strings.TrimSpace(told(l.Hear(w.words))); got != w.want {
			t.Errorf("%s: %q is heard as %q, expected %q", w.where, w.words, got, w.want)
		}
	}
}
