package listen

import "time"

// A Setting is what is to be changed, where that needs no more than its name.
type Setting string

// Settings that are changed by their name.
const (
	HideMe  Setting = "hidden" // my name is not to stand on the board
	ShowMe  Setting = "shown"  // it is
	NoRests Setting = "norest" // I am not to be told to rest my hands
	Rests   Setting = "rest"   // I am
)

var settings = []Setting{HideMe, ShowMe, NoRests, Rests}

// tells reports whether what was heard tells others something or sets something, though it moves nothing.
func (h Heard) tells() bool { return h.Intent == Stuck || h.Setting != "" }

// Parts of a catch-up that can be asked for in full.
const (
	CatchupRows      = "rows"      // every row that is not routine
	CatchupStretches = "stretches" // the rows between them
	CatchupNew       = "new"       // stitches and crosses that are new, and how they are worked
	CatchupTime      = "time"      // how long it takes
	CatchupPlan      = "plan"      // evening by evening
)

var catchupParts = []string{CatchupRows, CatchupStretches, CatchupNew, CatchupTime, CatchupPlan}

// A Day is one that was named; what it does not say is up to the day on which it
// was said. It has HasIn, HasWeekday or a Date.
type Day struct {
	In      int          // with HasIn: so many days from today: 0 today, 1 tomorrow, 7 in a week; 0 to 999
	HasIn   bool         //
	Weekday time.Weekday // with HasWeekday: the next one that comes, today not counted
	Week    int          // with HasWeekday: so many weeks after that: "friday week" is 1; 0 or 1

	HasWeekday bool
	Date       int        // 1 to 31: the day of the month; 0 for none
	Month      time.Month // with Date: 1 to 12; 0 for the next that has it
	Year       int        // with Month: 0 for the next that comes
}
