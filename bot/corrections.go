package bot

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"clew/patterns"
	"clew/patterns/compare"
	"clew/patterns/fit"
	"clew/reader"
	"clew/session"
)

// stretchesMost is how many stretches of rows are told of one by one.
const stretchesMost = 5

// A stretch is rows of one section, one after the other, of which the same has
// become in a corrected text.
type stretch struct {
	kind     compare.Kind
	section  string // as in compare.Change
	was      string
	from, to int
	rounds   bool
	count    bool // after one of them there are not as many stitches as there were
}

// stretches gathers changes between two plans into stretches.
func stretches(changes []compare.Change, old, now *patterns.Plan) []stretch {
	var found []stretch
	for _, c := range changes {
		s := stretch{kind: c.Kind, section: c.Section, was: c.Was, from: c.Number, to: c.Number, count: c.Kind == compare.Changed && c.CountDiffers()}
		if c.New >= 0 {
			s.rounds = now.Rows[c.New].Rounds
		} else {
			s.rounds = old.Rows[c.Old].Rounds
		}
		if last := len(found) - 1; last >= 0 && s.goesOn(found[last]) {
			found[last].to = s.to
			continue
		}
		found = append(found, s)
	}
	return found
}

// goesOn says that a stretch of one row goes on from another stretch.
func (s stretch) goesOn(from stretch) bool {
	next := from
	next.from, next.to = s.from, s.to
	return s == next && s.kind != compare.Renamed && s.from == from.to+1
}

// has says that a change is of one of its rows.
func (s stretch) has(c compare.Change) bool {
	return s.kind == c.Kind && s.section == c.Section && s.from <= c.Number && c.Number <= s.to
}

// rows names them: "round five of Lanterns", "rounds five and six of Lanterns",
// "rounds five to eight of Lanterns".
func (s stretch) rows() string {
	word := rowWord(s.rounds)
	if s.from == s.to {
		return word + " " + reader.Number(s.from) + " of " + reader.Name(s.section)
	}
	to := " to "
	if s.to == s.from+1 {
		to = " and "
	}
	return word + "s " + reader.Number(s.from) + to + reader.Number(s.to) + " of " + reader.Name(s.section)
}

// pastWords is words for somebody who is past them.
func (s stretch) pastWords() string {
	is := isOrAre(1 + s.to - s.from)
	switch s.kind {
	case compare.Added:
		return s.rows() + ", which you are past, " + is + " new"
	case compare.Removed:
		return s.rows() + ", which you have worked, " + is + " no longer in it"
	}
	return s.rows() + ", which you have worked, " + is + " different now"
}

// words says what has become of them: "rounds five to eight of Lanterns are
// different".
func (s stretch) words() string {
	is := isOrAre(1 + s.to - s.from)
	switch s.kind {
	case compare.Renamed:
		return "the section " + reader.Name(s.was) + " is now called " + reader.Name(s.section)
	case compare.Added:
		return s.rows() + " " + is + " new"
	case compare.Removed:
		return s.rows() + " " + is + " no longer in it"
	}
	said := s.rows() + " " + is + " different"
	if s.count {
		said += ", with another number of stitches at the end"
	}
	return said
}

// stretchReport lists stretches for the eye, one a line.
func stretchReport(all []stretch) string {
	var lines strings.Builder
	for _, s := range all {
		lines.WriteString(capital(s.words()) + ".\n")
	}
	return lines.String()
}

// A correction is what a corrected text changes for a group, before it is saved.
type correction struct {
	old, now  *patterns.Pattern
	of        []compared // one for each size of the old text
	stretches []stretch  // of all sizes, in the order of the new text
	beside    []aside    // what it changes beside the stitches, in any size
	roster    []session.Entrant
	past      []bool                        // by the index in roster: she has worked a row that changes, or is past one that is new or gone
	pastOf    [][]session.Entrant           // those, by the index in stretches
	stranded  []session.Entrant             // whose row is gone
	since     map[*plan]*compare.Comparison // what it changes of the texts in which members have their places
}

// compared is one size in both texts.
type compared struct {
	*compare.Comparison
	size     string
	old, now *patterns.Plan
}

// correction finds what a corrected text changes, and for whom. The sizes are the
// same in both.
func (d *directing) correction(ctx context.Context, old, now *patterns.Pattern) (*correction, error) {
	c := &correction{old: old, now: now, since: map[*plan]*compare.Comparison{}}
	for _, size := range append([]string{}, orNone(old.Sizes)...) {
		was, err := old.LayOut(patterns.Choice{Size: size})
		if err != nil {
			return nil, err
		}
		is, err := now.LayOut(patterns.Choice{Size: size})
		if err != nil {
			return nil, err
		}
		c.of = append(c.of, compared{compare.Of(was, is), size, was, is})
	}
	c.gather()
	c.gatherBeside()
	var err error
	if c.roster, err = d.store.Roster(ctx, d.about.ID); err != nil {
		return nil, err
	}
	inOrder(c.roster)
	w, err := d.whereabouts(ctx, d.about)
	if err != nil {
		return nil, err
	}
	return c, c.find(ctx, w)
}

// orNone gives the names of sizes; that of the only one is empty.
func orNone(sizes []string) []string {
	if len(sizes) == 0 {
		return []string{""}
	}
	return sizes
}

// gather gathers the changes of all sizes, each row once.
func (c *correction) gather() {
	places := map[string]int{}
	for i, name := range sectionsOf(c.old) {
		places[name] = i
	}
	for i, name := range sectionsOf(c.now) {
		places[name] = i
	}
	var all []stretch
	for _, of := range c.of {
		for _, change := range of.Changes {
			one := stretches([]compare.Change{change}, of.old, of.now)[0]
			if i := slices.IndexFunc(all, func(s stretch) bool { return s.has(change) }); i >= 0 {
				all[i].count = all[i].count || one.count
				continue
			}
			all = append(all, one)
		}
	}
	slices.SortStableFunc(all, func(a, b stretch) int {
		return cmp.Or(cmp.Compare(places[a.section], places[b.section]), cmp.Compare(a.from, b.from), cmp.Compare(b.kind, a.kind))
	})
	for _, s := range all {
		if last := len(c.stretches) - 1; last >= 0 && s.goesOn(c.stretches[last]) {
			c.stretches[last].to = s.to
			continue
		}
		c.stretches = append(c.stretches, s)
	}
}

// gatherBeside gathers what is changed beside the stitches in any size, each once.
func (c *correction) gatherBeside() {
	for _, of := range c.of {
		seen := map[string]int{} // of a thing, how many of the size
		for _, a := range asides(of.Comparison, of.old, of.now, fit.Centimetres) {
			seen[a.what]++
			if have, _ := apart(c.beside, func(b aside) bool { return a.what == b.what }); len(have) < seen[a.what] {
				c.beside = append(c.beside, a)
			}
		}
	}
}

// besideWords says what is changed beside the stitches, and that it will be told.
func (c *correction) besideWords() string {
	if len(c.beside) == 0 {
		return ""
	}
	said := capital(asideNames(c.beside)) + " " + areDifferent(c.beside) + ". "
	if len(c.roster) > 0 {
		said += "Each knitter hears of it once, or comes to it in its place. "
	}
	return said
}

// find finds who is past which stretch.
func (c *correction) find(ctx context.Context, w *whereabouts) error {
	c.past, c.pastOf = make([]bool, len(c.roster)), make([][]session.Entrant, len(c.stretches))
	bySize := map[string]compared{}
	for _, of := range c.of {
		bySize[of.size] = of
	}
	for n, e := range c.roster {
		p, i, err := w.at(ctx, e)
		if err != nil {
			return err
		}
		of, ok := bySize[e.Size]
		if i < 0 || !ok {
			continue
		}
		finished := workedAll(e, p.Stitches())
		here := whereIn(of, i, finished)
		if !finished && c.isGone(of, i) {
			c.stranded = append(c.stranded, e)
		}
		if here.now, err = c.furthest(ctx, w, of, e, here.now); err != nil {
			return err
		}
		for k, s := range c.stretches {
			if slices.ContainsFunc(of.Changes, func(change compare.Change) bool { return s.has(change) && here.past(change) }) {
				c.past[n] = true
				c.pastOf[k] = append(c.pastOf[k], e)
			}
		}
	}
	return nil
}

// isGone says that row i of an old plan is not in the new one, under whatever name its
// section has there.
func (c *correction) isGone(of compared, i int) bool {
	if _, kept := of.Carry(i); kept {
		return false
	}
	r := of.old.Rows[i]
	_, kept := of.now.Find(renamed(sectionsOf(c.old), sectionsOf(c.now), r.Section.Name), r.Number)
	return !kept
}

// A standing is the row at which a knitter is, in an old plan and in a new one; the
// number of rows where she has worked all.
type standing struct{ old, now int }

func whereIn(of compared, i int, finished bool) standing {
	if finished {
		return standing{len(of.old.Rows), len(of.now.Rows)}
	}
	j, _ := of.Carry(i)
	return standing{i, j}
}

// furthest is how far a member is in a new plan, where her row may be gone from the
// current one and back in that.
func (c *correction) furthest(ctx context.Context, w *whereabouts, of compared, e session.Entrant, now int) (int, error) {
	if e.Revision == w.about.Revision {
		return now, nil
	}
	place := session.Place{Section: e.Section, Row: e.Row, Revision: e.Revision, Size: e.Size}
	p, err := w.planOf(ctx, w.about.ID, place)
	if errors.Is(err, errUnfit) {
		return now, nil
	}
	if err != nil {
		return 0, err
	}
	made := c.since[p]
	if made == nil {
		made = compare.Of(p.Plan, of.now)
		c.since[p] = made
	}
	j, _ := made.Carry(p.rowAt(place))
	return max(now, j), nil
}

// past says that she has come past the row of a change, and so has worked it where
// it was in the old plan.
func (s standing) past(c compare.Change) bool {
	switch c.Kind {
	case compare.Renamed:
		return false
	case compare.Removed:
		return c.Old < s.old
	}
	return c.New < s.now
}

// words says what is changed, and who has worked it already.
func (c *correction) words() string {
	if len(c.stretches) == 0 {
		said := "No " + rowWord(c.now.Rounds) + " is worked otherwise than before"
		if len(c.beside) == 0 {
			return said + ": words alone have changed. "
		}
		return said + ". " + c.besideWords()
	}
	var said []string
	for k, s := range c.stretches[:min(len(c.stretches), stretchesMost)] {
		one := capital(s.words())
		if s.kind != compare.Renamed {
			one += "; " + c.pastWords(s, c.pastOf[k])
		}
		said = append(said, one+".")
	}
	if more := len(c.stretches) - stretchesMost; more > 0 {
		said = append(said, "So it is in "+reader.Number(more)+" more "+plural("place", more)+"; all are listed.")
	}
	if n := len(c.stranded); n > 0 {
		stand := " stand on " + rowWord(c.now.Rounds) + "s that are gone, and are told what to take back."
		if n == 1 {
			stand = " stands on a " + rowWord(c.now.Rounds) + " that is gone, and is told what to take back."
		}
		said = append(said, capital(whoWords(c.stranded))+stand)
	}
	var past []session.Entrant
	for n, e := range c.roster {
		if c.past[n] {
			past = append(past, e)
		}
	}
	if len(past) > 0 {
		if len(c.stretches) > 1 {
			said = append(said, "In all, "+whoWords(past)+" "+haveOrHas(len(past))+" worked what is different.")
		}
		hear := "They hear of it when they next ask."
		if len(past) == 1 {
			hear = "That knitter hears of it with the next answer."
		}
		said = append(said, hear)
	}
	return strings.Join(said, " ") + " " + c.besideWords()
}

// pastWords says who is past a stretch.
func (c *correction) pastWords(s stretch, past []session.Entrant) string {
	them := "it"
	if s.from < s.to {
		them = "some or all of them"
	}
	verb := "worked " + them + " already"
	if s.kind == compare.Added {
		verb = "come past that place already"
	}
	if len(past) == 0 {
		return "nobody has " + strings.Replace(strings.TrimSuffix(verb, " already")+" yet", "some or all of them", "any of them", 1)
	}
	return whoWords(past) + " " + haveOrHas(len(past)) + " " + verb
}

// toldByName is how many members are named who are past a correction.
const toldByName = 5

// whoWords names members where they are few, and else counts them.
func whoWords(who []session.Entrant) string {
	if len(who) > toldByName {
		return knitters(len(who))
	}
	names := make([]string, len(who))
	for i, e := range who {
		if names[i] = saidName(e.Name, 0); names[i] == capital(somebody) {
			names[i] = somebody
		}
	}
	return list(names, "and")
}

// sessions gives the sessions with their rows as the new text has them; nil where
// all stay as they are. One that begins with a row that is gone begins with the next
// that is left, and each goes on up to the next. emptied is the number of one that
// has no row left, 0 for none.
func (c *correction) sessions(were []session.Session) (now []session.Session, emptied int, err error) {
	if len(were) == 0 {
		return nil, 0, nil
	}
	old, err := rowsOf(c.old)
	if err != nil {
		return nil, 0, err
	}
	is, err := rowsOf(c.now)
	if err != nil {
		return nil, 0, err
	}
	begins := make([]int, len(were))
	for k, s := range were {
		i, ends := old.at[s.First], old.at[s.Last]
		row, left := c.left(old.rows[i])
		for ; !left && i < ends; row, left = c.left(old.rows[i]) {
			i++
		}
		if !left {
			return nil, s.Number, nil
		}
		begins[k] = is.at[row]
		if k > 0 && begins[k] <= begins[k-1] { // its rows have another place now
			return nil, s.Number, nil
		}
	}
	begins[0] = 0
	now = slices.Clone(were)
	for k := range now {
		now[k].First = is.rows[begins[k]]
		if k+1 < len(now) {
			now[k].Last = is.rows[begins[k+1]-1]
		}
	}
	final := &now[len(now)-1]
	i := old.at[were[len(were)-1].Last]
	if i == len(old.rows)-1 {
		final.Last = is.rows[len(is.rows)-1]
	} else {
		row, left := c.left(old.rows[i])
		for ; !left; row, left = c.left(old.rows[i]) { // some row of it is
			i--
		}
		final.Last = row
	}
	if slices.Equal(now, were) {
		return nil, 0, nil
	}
	return now, 0, nil
}

// left gives a row of the old text as the new one calls it; false where it is gone.
func (c *correction) left(id session.RowID) (session.RowID, bool) {
	for _, of := range c.of {
		i, ok := of.old.Find(id.Section, id.Row)
		if !ok {
			continue
		}
		if j, kept := of.Carry(i); kept {
			return session.RowID{Section: of.now.Rows[j].Section.Name, Row: of.now.Rows[j].Number}, true
		}
	}
	return session.RowID{}, false
}

// sessionWords says which sessions have other rows now.
func (c *correction) sessionWords(were, now []session.Session) string {
	if now == nil {
		return ""
	}
	var said []string
	for i, s := range now {
		if s != were[i] {
			said = append(said, "session "+reader.Number(s.Number)+" now goes from "+rowIDWords(c.now, s.First)+" to "+rowIDWords(c.now, s.Last))
		}
	}
	return capital(namesUpTo(said, stretchesMost)) + ". "
}

// rowIDWords names a row of a pattern, be it of an earlier text.
func rowIDWords(p *patterns.Pattern, id session.RowID) string {
	rounds := p.Sections[0].Rounds
	for _, s := range p.Sections {
		if s.Name == id.Section {
			rounds = s.Rounds
		}
	}
	if id.Row == 0 {
		return "before the first " + rowWord(rounds)
	}
	return rowWord(rounds) + " " + reader.Number(id.Row) + " of " + reader.Name(id.Section)
}
