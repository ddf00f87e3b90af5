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
	others        int           // members besides her
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
		p, from, ok := w.asked(told)
		now.part, now.over = p.name, !ok
		if ok {
			reply.Said, now.next = w.inFull(p, from)
		} else {
			reply.Said = "That was all there is to tell of it. Say catch me up to hear it from the beginning." + w.onWith(" Say ")
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
	w := &way{talk: t, pace: session.PaceOf(log), until: t.heard.Until, others: len(roster) - 1}
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
	ahead  bool            // it leads on to where the group or the open session is; else to the end of what she is at
	group  bool            // there are others, of whom it may be told where they are
	before bool            // with ahead: half of them have not come to the open session, and it leads to the beginning of that
	past   bool            // she is further than half of them
	open   session.Session // the session that is open; its Number is 0 where there is none
	end    int             // index of the first row behind that session
}

// goal finds where the group is: halfway along the others, and no less far than the
// open session begins. One who has caught up with that has the rest of the open
// session before her; one who knits alone, or is behind that session, the rest of her
// section.
func (t *talk) goal(roster []session.Entrant) goal {
	g, first, here := goal{end: len(t.plan.Rows)}, 0, max(t.here(), 0)
	if open, ok := t.about.Opened(t.now()); ok {
		if from, to := t.plan.rowsOf(open); from < to {
			g.open, first, g.end = open, from, to
		}
	}
	if share, ok := t.middleOfOthers(roster); ok {
		g.row, g.group = t.plan.atShare(share), true
	}
	if to := max(g.row, first); to > here {
		g.ahead, g.before, g.row = true, g.row < first, to
		return g
	}
	g.past = g.group && g.row < here
	if g.row = g.end; g.open.Number == 0 || here >= g.end {
		g.open = session.Session{}
		_, last := t.plan.sectionAt(here)
		g.row = last + 1
	}
	return g
}

// hiddenFrom is from how many others on those who do not want to be named count in
// where the group is.
const hiddenFrom = 3

// middleOfOthers gives how much of her stitches one of the others has worked, as far
// as whom half of them are, or further; false where there are none. As long as the
// board names members, it is one who is named: else it would tell, by way of those
// who are, where another is.
func (t *talk) middleOfOthers(roster []session.Entrant) (share float64, ok bool) {
	others, _ := apart(roster, func(e session.Entrant) bool { return e.Member != t.ask.Member && e.All > 0 })
	named, hidden := apart(others, func(e session.Entrant) bool { return !e.Hidden })
	if len(roster) > namedMost {
		named, hidden = others, nil
	}
	if len(named) == 0 {
		return 0, false
	}
	shares := sharesOf(named)
	if len(others) < hiddenFrom || len(hidden) == 0 {
		return shares[(len(shares)-1)/2], true
	}
	middle := sharesOf(others)[(len(others)-1)/2]
	i, found := slices.BinarySearch(shares, middle)
	if !found {
		i = max(i-1, 0)
	}
	return shares[i], true
}

// sharesOf gives how much of their stitches members have worked, in order.
func sharesOf(members []session.Entrant) []float64 {
	shares := make([]float64, len(members))
	for i, e := range members {
		shares[i] = float64(e.Done) / float64(e.All)
	}
	slices.Sort(shares)
	return shares
}

// shareRounding is more than what a number of stitches loses when it is taken from
// their share: 5 of 49 come back as a little less than five.
const shareRounding = 1e-6

// atShare gives the index of the row at which one is who has worked a share of all
// stitches; one past the last for all of them.
func (p *plan) atShare(share float64) int {
	done := int64(share*float64(p.Stitches()) + shareRounding)
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
const briefMost = 199

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
	case w.goal.ahead:
		return w.groupIs() + ". On the way there " + w.verb("lie") + " " + w.much() + "."
	case w.goal.open.Number == 0 && !w.goal.group: // she knits alone
		return w.ahead(max(w.here(), 0))
	case w.From >= w.To:
		return "You have worked all that is open."
	}
	said := ""
	switch {
	case w.goal.past:
		said = "You are ahead of the others. "
	case w.goal.group:
		said = "You have caught up with the others. "
	}
	return said + capital(w.much()) + " " + w.verb("remain") + " of " + w.rest() + "."
}

// groupIs says where the way leads, without an end.
func (w *way) groupIs() string {
	named := ""
	if open := w.goal.open; open.Number > 0 {
		named = sessionName(open, sessionTitleMost)
	}
	others, have, further := "At least half of the others are at ", "At least half of the others have", " or further"
	if w.others == 1 {
		others, have, further = "The other knitter is at ", "The other knitter has", ""
	}
	switch {
	case w.goal.before:
		return capital(named) + " is open, and begins with " + w.plan.rowName(w.To)
	case w.To == len(w.plan.Whole().Rows):
		return have + " finished the pattern"
	case named != "" && w.To == w.goal.end:
		return others + "the end of " + strings.TrimSuffix(named, ",") + further
	case named != "" && w.To < w.goal.end:
		return others + w.plan.rowName(w.To) + further + ", in " + strings.TrimSuffix(named, ",")
	}
	return others + w.plan.rowName(w.To) + further
}

// sessionTitleMost is how much of a session's title is told, in characters.
const sessionTitleMost = 60

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
			texts = append(texts, strings.Join(all[:n], " ")+" More rows follow.")
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
			text = w.inSection(p, text)
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
	said := "New on the way: " + listApart(names) + "."
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
	each := max(int(w.pace.StitchesAMinute+0.5), 1)
	pace := reader.Number(each) + " " + plural("stitch", each) + " a minute"
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
