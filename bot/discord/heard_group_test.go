package discord

import (
	"reflect"
	"testing"
	"time"

	"clew/reader/listen"
)

// TestHeardOfDays says that a day can be typed as it is said, with or without the
// word before it, and that nothing else of what is typed is heard.
func TestHeardOfDays(t *testing.T) {
	friday := listen.Day{Weekday: time.Friday, HasWeekday: true}
	for _, c := range []struct {
		typed string
		want  listen.Day
	}{
		{"friday", friday},
		{"Friday", friday},
		{"by Friday", friday},
		{"tomorrow", listen.Day{In: 1, HasIn: true}},
		{"in ten days", listen.Day{In: 10, HasIn: true}},
		{"the third of December", listen.Day{Date: 3, Month: time.December}},
	} {
		t.Run(c.typed, func(t *testing.T) {
			want := asked(listen.Heard{Intent: listen.Catchup, Until: &c.want})
			found, err := heard(used(t, with("catchup", text("until", c.typed))))
			if err != nil || !reflect.DeepEqual(found, want) {
				t.Errorf("found %+v (%+v), %v", found, found.Heard, err)
			}
		})
	}
}
