package bot

import (
	"time"

	"clew/session"
)

// restAfter is how long somebody knits without a break before she is told to rest.
// For work at screens, which strains hands likewise, the UK Health and Safety
// Executive advises five to ten minutes an hour (leaflet INDG36, from memory).
const restAfter = time.Hour

// restWords are said behind a row, once in a sitting.
const restWords = " You have been knitting for an hour or more without a break, so rest your hands a little when it suits you; say no rests to hear no more of this."

// restDue says that the member has made moves for so long without a break that the
// one which is made now tells her to rest her hands. Before her first move, and
// after a break, a sitting begins anew, in which she is told once.
func (t *talk) restDue() bool {
	now, s := t.now(), t.state
	switch {
	case t.state.Settings[settingRest] == restOff, s.Since.IsZero(), s.Moved.IsZero():
		return false
	case now.Sub(s.Moved) >= session.RestBreak:
		return false
	}
	return now.Sub(s.Since) >= restAfter && s.Rested.Before(s.Since)
}
