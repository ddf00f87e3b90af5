package discord

import (
	"strconv"
	"testing"
	"time"
)

// snowflake is an id that the platform would have made so long ago (Discord's
// developer documentation, "Snowflakes": milliseconds since 2015, from bit 22).
func snowflake(age time.Duration) string {
	const epoch = 1420070400000
	return strconv.FormatInt((time.Now().Add(-age).UnixMilli()-epoch)<<22, 10)
}

func TestLate(t *testing.T) {
	for name, c := range map[string]struct {
		id     string
		waited time.Duration
		late   bool
	}{
		"just now":                 {snowflake(0), 0, false},
		"a second ago":             {snowflake(time.Second), 0, false},
		"waited in the lane":       {snowflake(0), 2400 * time.Millisecond, true},
		"delivered late":           {snowflake(4 * time.Second), 0, true},
		"delivered minutes late":   {snowflake(5 * time.Minute), 0, true},
		"made by another clock":    {snowflake(48 * time.Hour), 0, false},
		"from a clock that is off": {snowflake(-time.Minute), 0, false},
		"no number":                {"harbour", 0, false},
	} {
		r := request{event: c.id, came: time.Now().Add(-c.waited)}
		if r.late() != c.late {
			t.Errorf("%s: late is %v, expected %v", name, r.late(), c.late)
		}
	}
}
