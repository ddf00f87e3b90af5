package bot

import (
	"slices"
	"strings"
	"time"

	"clew/patterns/survey"
	"clew/reader"
	"clew/reader/listen"
)

// caught is what a member was last told of catching up.
type caught struct {
	part  string // that was told in full; "" for none yet
	next  int    // the piece of it that comes next; 0 where all of it was told
	over  bool   // all parts were told
	until *listen.Day
	at    time.Time
}

// A part of the way back in is told in full where that is asked for, piece by piece.
type part struct {
	name  string // of listen
	label string // on its button
	apart bool   // it is told only where it is asked for by its name
	tell  func(*way) []string
}

// parts are in the order in which they are told.
var parts = []part{
	{listen.CatchupRows, "The rows in full", false, (*way).rowsInFull},
	{listen.CatchupStretches, "Plain stretches", true, func(w *way) []string { return w.rows(survey.Part.Routine) }},
	{listen.CatchupNew, "What is new", false, (*way).newInFull},
	{listen.CatchupTime, "How long", false, func(w *way) []string { return given(w.time()) }},
	{listen.CatchupPlan, "The evenings", false, (*way).planInFull},
}

// given gives the texts that are not empty.
func given(texts ...string) []string {
	return slices.DeleteFunc(texts, func(text string) bool { return text == "" })
}

// asked gives the part that was asked for in full, and from which piece on: the one
// that was named, else what comes after what was told last. It is false when all
// have been told.
func (w *way) asked(told caught) (p part, from int, ok bool) {
	switch i := partNamed(w.heard.Part); {
	case i >= 0:
		return parts[i], 0, true
	case told.over:
		return part{}, 0, false
	case told.next > 0:
		return parts[partNamed(told.part)], told.next, true
	}
	p, ok = w.after(told.part)
	return p, 0, ok
}

// partNamed gives the index of a part, -1 for none.
func partNamed(name string) int {
	return slices.IndexFunc(parts, func(p part) bool { return p.name == name })
}

// after gives the next part of which there is something to tell.
func (w *way) after(name string) (part, bool) {
	for _, p := range parts[partNamed(name)+1:] {
		if !p.apart && len(p.tell(w)) > 0 {
			return p, true
		}
	}
	return part{}, false
}

// fullMost is how many words of a part are told at once, if it has more than one
// piece.
const fullMost = 150

// inFull tells a part from a piece on, and how to go on. The next piece is 0 where it
// has told the last.
func (w *way) inFull(p part, from int) (said string, next int) {
	pieces := p.tell(w)
	if len(pieces) == 0 {
		return "There is nothing to tell of that on your way. " + w.ending(), 0
	}
	from = min(from, len(pieces)-1) // where the way has become shorter meanwhile
	said = pieces[from]
	for next = from + 1; next < len(pieces); next++ {
		more := said + " " + pieces[next]
		if len(strings.Fields(more)) > fullMost {
			return said + " Say tell me more to go on." + w.onWith(" Or say "), next
		}
		said = more
	}
	if _, ok := w.after(p.name); !ok {
		return said + " That is the last part." + w.onWith(" Say "), 0
	}
	return said + " Say tell me more for the next part." + w.onWith(" Or say "), 0
}

// partChoices gives a choice for each part of which there is something to tell.
func (w *way) partChoices() []Choice {
	var choices []Choice
	for _, p := range parts {
		if len(p.tell(w)) > 0 {
			choices = append(choices, Choice{Label: p.label, Intent: listen.Catchup, Value: p.name})
		}
	}
	return choices
}

// rowsInFull tells the rows in the order in which they are knitted: those that are
// not routine as they are read to her, and the stretches between them in a sentence.
func (w *way) rowsInFull() []string {
	var said []string
	for _, p := range w.Parts {
		if p.Routine() {
			said = append(said, w.inSection(p, reader.Stretch(w.plan.Plan, p)))
		}
		if p.Routine() && p.Kind != survey.Every { // of which not every stitch may have been told
			continue
		}
		said = append(said, w.sectionWords(p.From)+w.words(w.plan, p.From).Paragraph())
	}
	return said
}

// inSection names the section of a stretch in front of what is told of it.
func (w *way) inSection(p survey.Part, text string) string {
	return "In " + reader.Name(w.plan.Rows[p.From].Section.Name) + ", " + small(text) + "."
}

// newInFull tells how each thing that is new is worked, and where it first comes.
func (w *way) newInFull() []string {
	said := make([]string, len(w.New))
	for i, n := range w.New {
		said[i] = "In " + w.plan.rowName(n.Row) + " comes something new. " + reader.NewHowTo(n)
	}
	return said
}

// An evening is a part of the way that is to be done on one day.
type evening struct {
	day      time.Time
	to       int // index of the last row that is to be done
	stitches int64
}

// eveningsMost is how many evenings the way is divided among at most.
const eveningsMost = 60

// shortEvening is how long an evening is worth beginning for.
const shortEvening = 30 * time.Minute

// longEvening is how long hardly anybody knits in one evening.
const longEvening = 4 * time.Hour

// lastOrder is the hour from which this day has no evening left.
const lastOrder = 22

// days gives the evenings that there are until the day that she named, that day
// itself not counted: it may be when the next session begins. Where it is today or
// tomorrow, this evening is the one there is.
func (w *way) days() []time.Time {
	now := w.now().In(zoneOf(w.about.Zone))
	end := dayOf(*w.until, now)
	day := time.Date(now.Year(), now.Month(), now.Day(), lastOrder, 0, 0, 0, now.Location())
	days := []time.Time{day}
	if now.Hour() >= lastOrder && day.AddDate(0, 0, 1).Before(end) {
		days = nil
	}
	for day = day.AddDate(0, 0, 1); day.Before(end) && len(days) < eveningsMost; day = day.AddDate(0, 0, 1) {
		days = append(days, day)
	}
	return days
}

// dayOf finds a day that was named, seen from now: its midnight.
func dayOf(d listen.Day, now time.Time) time.Time {
	at := func(year int, month time.Month, day int) time.Time {
		return time.Date(year, month, day, 0, 0, 0, 0, now.Location())
	}
	today := at(now.Year(), now.Month(), now.Day())
	switch {
	case d.HasIn:
		return today.AddDate(0, 0, d.In)
	case d.HasWeekday:
		ahead := (int(d.Weekday)-int(now.Weekday())+6)%7 + 1
		return today.AddDate(0, 0, ahead+7*d.Week)
	case d.Year > 0:
		return at(d.Year, d.Month, d.Date)
	}
	for ahead := range 12 * 8 { // the twenty-ninth of February comes within eight years
		first := at(now.Year(), now.Month()+time.Month(ahead), 1)
		day := first.AddDate(0, 0, d.Date-1)
		if day.Month() == first.Month() && (d.Month == 0 || d.Month == day.Month()) && !day.Before(today) {
			return day
		}
	}
	return today
}

// evenings divides the way among the evenings, as evenly as the good places to stop
// let it be.
func (w *way) evenings() []evening {
	days := w.days()
	worth := int64(w.takes(w.Stitches)/shortEvening) + 1
	n := min(len(days), int(min(worth, eveningsMost)))
	stops := survey.Stops(w.plan.Plan, w.From, w.To)
	var all []evening
	from, begun := w.From, w.plan.Rows[w.From].Worked
	for k := 1; k <= n; k++ {
		e := evening{day: days[len(all)], to: w.To - 1}
		if k < n {
			target := begun + w.Stitches*int64(k)/int64(n)
			stop, ok := w.nearest(stops, from, target, w.Stitches/int64(n))
			if !ok {
				continue
			}
			e.to = stop
		}
		if e.to < from {
			continue
		}
		e.stitches = w.worked(e.to+1) - w.worked(from)
		all = append(all, e)
		from = e.to + 1
	}
	return all
}

// worked is how many stitches are worked in all rows before row i of the way, or
// before what comes after it.
func (w *way) worked(i int) int64 {
	if i < w.To {
		return w.plan.Rows[i].Worked
	}
	return w.plan.Rows[w.From].Worked + w.Stitches
}

// nearest finds the place to stop that is nearest to a target, from a row on and
// before the end of the way. A better place may be somewhat further off: each weight
// by a tenth of an evening.
func (w *way) nearest(stops []survey.Stop, from int, target, evening int64) (int, bool) {
	best, bestOff := -1, 0.0
	for _, s := range stops {
		if s.Row < from || s.Row >= w.To-1 {
			continue
		}
		off := float64(w.worked(s.Row+1)-target) / float64(max(evening, 1))
		off = max(off, -off) - 0.1*float64(s.Weight)
		if best < 0 || off < bestOff {
			best, bestOff = s.Row, off
		}
	}
	return best, best >= 0
}

// eveningsTold are how many evenings are told, at most, by how few words there may
// be.
var eveningsTold = []int{7, 4, 2, 1}

// planBriefly tells the plan in ever fewer words.
func (w *way) planBriefly() []string {
	var texts []string
	for _, n := range eveningsTold {
		texts = append(texts, w.planWords(n))
	}
	return texts
}

func (w *way) planInFull() []string { return given(w.planWords(eveningsMost)) }

// planWords tells the plan up to a number of evenings.
func (w *way) planWords(most int) string {
	if w.until == nil || w.From >= w.To {
		return ""
	}
	now, zone := w.now(), zoneOf(w.about.Zone)
	named, today := dayOf(*w.until, now.In(zone)), dayOf(listen.Day{HasIn: true}, now.In(zone))
	if named.Before(today) {
		return "The day that you named is past; name one that is to come."
	}
	all := w.evenings()
	end := reader.Day(named, now, zone)
	said := reader.Number(len(all)) + " evenings will do until then. "
	if len(all) == 1 {
		said = "That can be done in one evening before then. "
	}
	if slices.ContainsFunc(all, func(e evening) bool { return w.takes(e.stitches) > longEvening }) {
		said = "That is more than most people knit in " + reader.Number(len(all)) + " " + plural("evening", len(all)) + ". "
	}
	said = "You want to be there " + end + ". " + capital(said)
	left := w.Stitches
	for i, e := range all {
		if i == most && i < len(all)-1 {
			return said + "And so on, with " + about(w.takes(left/int64(len(all)-i))) + " an evening."
		}
		left -= e.stitches
		day := capital(reader.Day(e.day, now, zone))
		if day == "Today" {
			day = "This evening"
		}
		said += day + ": to the end of " + w.plan.rowName(e.to) + ", " + about(w.takes(e.stitches)) + ". "
	}
	return strings.TrimSpace(said)
}
