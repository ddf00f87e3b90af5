package bot

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"clew/patterns/survey"
	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// A way is the way of a member back into the group: the rows from hers on up to
// where the group is.
type way struct {
	*talk
	survey.Survey      // of the rows between
	goal          goal // where it leads
	pace          session.Pace
	away          time.Duration // since her last move
	moved         bool          // she has moved at all
	until         *listen.Day   // the day that she named; nil for none
}

// catchup tells the way back in, or a part of it in full.
func (t *talk) catchup(ctx context.Context) (Reply, error) {
	told, ok := t.caughtUp.get(t.asker())
	if !ok || t.now().Sub(told.at) >= askedFor {
		told = caught{}
	}
	if t.heard.Until == nil {
		t.heard.Until = told.until
	}
	w, err := t.way(ctx)
	if err != nil {
		return Reply{}, err
	}
	reply, now := t.say(w.brief()), caught{until: w.until, at: t.now()}
	if t.heard.More {
		reply.Said = "That was all there is to tell of it. Say catch me up to hear it from the beginning." + w.onWith(" Say ")
		if p, ok := w.asked(told); ok {
			reply.Said, now.part = w.inFull(p), p.name
		}
	}
	if !t.before.answered {
		t.caughtUp.put(t.asker(), now)
	}
	reply.Choices = append(w.partChoices(), reply.Choices...)
	if i := t.here(); i >= 0 {
		reply.Card = card(t.plan, i)
	}
	return reply, nil
}

// way works out the way of the member.
func (t *talk) way(ctx context.Context) (*way, error) {
	log, err := t.store.Log(ctx, t.ask.Knitalong, t.ask.Member, 0)
	if err != nil {
		return nil, err
	}
	roster, err := t.store.Roster(ctx, t.ask.Knitalong)
	if err != nil {
		return nil, err
	}
	w := &way{talk: t, pace: session.PaceOf(log), until: t.heard.Until}
	if len(log) > 0 {
		w.away, w.moved = t.now().Sub(log[0].At), true
	}
	w.goal = t.goal(roster)
	from := max(t.here(), 0)
	if t.plan.finished(t.at) {
		from = len(t.plan.Rows)
	}
	w.Survey = survey.Of(t.plan.Plan, from, max(from, w.goal.row))
	return w, nil
}

// A goal is where a member's way back in leads.
type goal struct {
	row    int             // index of the first row that is not on the way any more
	group  bool            // the group is there; else nothing but the end of what she may knit
	others int             // members besides her
	end    bool            // it is the end of the session that is open
	open   session.Session // the session that is open; its Number is 0 where there is none
}

// goal finds where the group is: halfway along the others, and no less far than
// the open session begins, and no further than it goes. One who has caught up with
// that has the rest of the open session before her; one who knits alone, the rest of
// her section.
func (t *talk) goal(roster []session.Entrant) goal {
	shares := t.sharesOfOthers(roster)
	g := goal{others: len(shares), group: len(shares) > 0}
	first, end := 0, len(t.plan.Rows)
	if open, ok := t.about.Opened(t.now()); ok {
		g.open = open
		if i, ok := t.plan.Find(open.First.Section, open.First.Row); ok {
			first, g.group = i, true
		}
		if i, ok := t.plan.Find(open.Last.Section, open.Last.Row); ok {
			end = i + 1
		}
	}
	if len(shares) > 0 {
		g.row = t.plan.atShare(shares[(len(shares)-1)/2])
	}
	g.row = min(max(g.row, first), end)
	g.end = g.row == end
	if here := max(t.here(), 0); g.row > here {
		return g
	} else if g.open.Number == 0 {
		_, last := t.plan.sectionAt(here)
		end = last + 1
	}
	g.row = max(end, g.row)
	g.group = false
	return g
}

// hiddenFrom is from how many others on nothing can be told of one who does not want
// to be named.
const hiddenFrom = 3

// sharesOfOthers gives how much of their stitches the others have worked, in order.
// One who is not to be named counts only among several.
func (t *talk) sharesOfOthers(roster []session.Entrant) []float64 {
	others, _ := apart(roster, func(e session.Entrant) bool { return e.Member != t.ask.Member && e.All > 0 })
	named, _ := apart(others, func(e session.Entrant) bool { return !e.Hidden })
	if len(others) < hiddenFrom {
		others = named
	}
	shares := make([]float64, len(others))
	for i, e := range others {
		shares[i] = float64(e.Done) / float64(e.All)
	}
	slices.Sort(shares)
	return shares
}

// atShare gives the index of the row at which one is who has worked a share of all
// stitches; one past the last for all of them.
func (p *plan) atShare(share float64) int {
	done := int64(share * float64(p.Stitches()))
	if share >= 1 {
		return len(p.Rows)
	}
	i := len(p.Rows) - 1
	for i > 0 && p.Rows[i].Worked > done {
		i--
	}
	return i
}

// briefMost is the most words that a catch-up has, but for what is asked for in
// full.
const briefMost = 200

// brief tells the way in at most briefMost words: what she can't do without before
// what she can ask for.
func (w *way) brief() string {
	passages := []passage{
		{8, []string{w.where(), w.whereWords()}},
		{9, []string{w.byEye(), ""}},
		{0, []string{w.gap()}},
		{5, w.rowsBriefly()},
		{6, w.newBriefly()},
		{0, []string{w.time()}},
		{4, w.planBriefly()},
		{0, []string{w.ending()}},
	}
	return withinWords(passages, briefMost)
}

// A passage is what is told of one thing, in ever fewer words. Of several, the one
// that yields least has its words first.
type passage struct {
	yields int
	texts  []string
}

// withinWords tells some passages, in their order, in as many words as there may
// be, and in more only where their fewest are more.
func withinWords(passages []passage, most int) string {
	words := func(text string) int { return len(strings.Fields(text)) }
	told := make([]string, len(passages))
	order := make([]int, len(passages))
	left := most
	for i, p := range passages {
		order[i], told[i] = i, p.texts[len(p.texts)-1]
		left -= words(told[i])
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(passages[a].yields, passages[b].yields) })
	for _, i := range order {
		fewest := words(told[i])
		for _, text := range passages[i].texts {
			if n := words(text) - fewest; n <= left {
				told[i], left = strings.TrimSpace(text), left-n
				break
			}
		}
	}
	return strings.Join(slices.DeleteFunc(told, func(text string) bool { return text == "" }), " ")
}

func (w *way) where() string {
	said := w.whereWords()
	if w.moved {
		said += " Your last move was " + ago(w.away) + "."
	}
	return said
}

// byEye says what the stitches look like that she should find on her needle.
func (w *way) byEye() string {
	if i := w.here(); i >= 0 && !w.plan.finished(w.at) {
		return w.looks(i)
	}
	return ""
}

// gap says where the group is, and how much lies between.
func (w *way) gap() string {
	switch {
	case w.plan.finished(w.at):
		return ""
	case !w.goal.group && w.goal.open.Number == 0 && w.goal.others == 0: // she knits alone
		return w.ahead(max(w.here(), 0))
	case !w.goal.group && w.From >= w.To:
		return "You have worked all that is open."
	case !w.goal.group:
		return "You have caught up with the group. " + capital(w.much()) + " " + w.verb("remain") + " of " + w.rest() + "."
	}
	said := "The group "
	switch n := w.goal.open; {
	case n.Number > 0 && w.goal.end:
		said += "is at the end of session " + reader.Number(n.Number) + ", " + nameOf(n.Title)
	case w.To == len(w.plan.Rows):
		said += "has finished the pattern"
	case n.Number > 0:
		said += "is at " + w.plan.rowName(w.To) + ", in session " + reader.Number(n.Number) + ", " + nameOf(n.Title)
	default:
		said += "is at " + w.plan.rowName(w.To)
	}
	return said + ". Between you and it " + w.verb("lie") + " " + w.much() + "."
}

// verb says of the rows on the way that they do something.
func (w *way) verb(do string) string {
	if w.To-w.From == 1 {
		return do + "s"
	}
	return do
}

// rest names what she has before her.
func (w *way) rest() string {
	if n := w.goal.open; n.Number > 0 {
		return "session " + reader.Number(n.Number)
	}
	return reader.Name(w.plan.Rows[w.From].Section.Name)
}

// much says how many rows and stitches there are on the way.
func (w *way) much() string {
	n := w.To - w.From
	return reader.Number(n) + " " + plural(w.plan.word(w.From), n) + " of " + stitches(int(w.Stitches)) + " in all"
}

// partsTold are how many parts of the way are told, at most, by how few words there
// may be.
var partsTold = []int{12, 8, 5, 3, 2}

// rowsBriefly tells the rows in ever fewer words.
func (w *way) rowsBriefly() []string {
	all := w.rows(func(survey.Part) bool { return true })
	var texts []string
	if len(all) <= partsTold[0] {
		texts = append(texts, strings.Join(all, " "))
	}
	for _, n := range partsTold {
		if more := len(all) - n; more > 1 {
			texts = append(texts, strings.Join(all[:n], " ")+" There are more on the way.")
		}
	}
	return append(texts, "")
}

// rows tells some parts of the way, a sentence each. Each new section is named.
func (w *way) rows(of func(survey.Part) bool) []string {
	var said []string
	section := ""
	if i := w.here(); i >= 0 {
		section = w.plan.Rows[i].Section.Name
	}
	for _, p := range w.Parts {
		if !of(p) {
			continue
		}
		text := reader.Unusual(w.plan.Plan, p.From)
		if p.Routine() {
			text = reader.Stretch(w.plan.Plan, p)
		}
		if name := w.plan.Rows[p.From].Section.Name; name != section {
			section = name
			text = "In " + reader.Name(name) + ": " + small(text) + "."
		}
		said = append(said, text)
	}
	return said
}

// newBriefly tells what is new in ever fewer words.
func (w *way) newBriefly() []string {
	if len(w.New) == 0 {
		return []string{""}
	}
	names := make([]string, len(w.New))
	for i, n := range w.New {
		names[i] = reader.NewName(n)
	}
	said := "New on the way: " + list(names, "and") + "."
	return []string{"New on the way. " + strings.Join(w.howTo(), " "), said}
}

// howTo tells how each thing that is new is worked.
func (w *way) howTo() []string {
	said := make([]string, len(w.New))
	for i, n := range w.New {
		said[i] = reader.NewHowTo(n)
	}
	return said
}

// time says how long the way takes.
func (w *way) time() string {
	if w.Stitches == 0 {
		return ""
	}
	pace := reader.Number(max(int(w.pace.StitchesAMinute+0.5), 1)) + " " + plural("stitch", int(w.pace.StitchesAMinute+0.5)) + " a minute"
	if w.pace.Guess() {
		return "At " + pace + ", which is a guess, that takes " + about(w.takes(w.Stitches)) + "."
	}
	return "At your pace of " + pace + " that takes " + about(w.takes(w.Stitches)) + "."
}

// about words an estimate of a time.
func about(d time.Duration) string {
	said := reader.Span(d)
	if strings.HasPrefix(said, "less") {
		return said
	}
	return "about " + said
}

func (w *way) takes(stitches int64) time.Duration {
	return time.Duration(float64(stitches) / w.pace.StitchesAMinute * float64(time.Minute))
}

func (w *way) ending() string {
	if w.plan.finished(w.at) || w.From >= w.To {
		return ""
	}
	said := "Say tell me more for each part in full"
	if w.until == nil {
		said += ", or name a day, such as catch me up by Friday, and I divide it among the evenings"
	}
	return said + "." + w.onWith(" Say ")
}

// onWith says how to go on knitting; nothing before the first row.
func (w *way) onWith(lead string) string {
	if w.here() < 0 || w.plan.finished(w.at) {
		return ""
	}
	return lead + "again to hear your " + w.word() + ", or next row when it is done."
}
