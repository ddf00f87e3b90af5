package bot

import "clew/session"

// A turn is what is remembered of an event that was answered.
type turn struct {
	knitalong string // which it was about; "" where that was not known
	answered  bool   // the answer was given; else it failed, or is still being worked out
	saved     bool   // with answered: something was saved
	goneOn    string // with answered: the words that it made of a question and its answer; "" for none
	changed   string // with answered: what it told of corrections; "" for nothing
	reply     *Reply // with answered: what was said, where it can't be worked out again; else nil
}

// Bot.recent remembers what the last events came to, so that one that comes again
// is about the same knit-along, though the member may have gone to another
// meanwhile, and changes nothing where it was answered. What this process never
// met, or has forgotten, the store knows of the newest events of each member in
// each knit-along.

// recentMost bounds each of the two halves of what is remembered. At a thousand
// requests a second it lasts for a minute, which is longer than a platform that
// is resumed takes to send events again.
const recentMost = 1 << 16

// eventKey is what an event is remembered by; one without an id is not.
func eventKey(member session.Member, event string) string {
	return string(member) + " " + event
}
