// Package listen understands what was asked, from typed or dictated words.
//
// Words become an intent with its numbers by a small grammar (grammar.txt) over a lexicon of sound-alikes (lexicon.go): which of
// several words was meant is decided by which of them makes a request. An intent that moves a place, or a member in or
// out of a group, is given only when every word of the utterance is accounted for; a word too many, and nothing moves.
package listen

import (
	"slices"
	"strings"
	"sync"
)

// Intent is what was asked. Its text is the word that `clew hear` prints.
type Intent string

// What can be asked. Next, Back, Undo and At move a place; Join, Leave and Forget a member. Nothing else moves anything.
const (
	Next      Intent = "next"      // that row is done, say the next
	Again     Intent = "again"     // say it once more
	Back      Intent = "back"      // one row back
	Undo      Intent = "undo"      // take back the last move
	Row       Intent = "row"       // read a row without moving
	At        Intent = "at"        // put me at a row
	Where     Intent = "where"     // where am I
	Steps     Intent = "steps"     // read step by step
	Rows      Intent = "rows"      // read whole rows
	Explain   Intent = "explain"   // how is a stitch worked
	Picture   Intent = "picture"   // what should it look like
	Count     Intent = "count"     // so many stitches are on the needle; with no number, how many should there be
	Catchup   Intent = "catchup"   // a way back in after time away
	Fit       Intent = "fit"       // size, length, rows to leave out
	Yarn      Intent = "yarn"      // is there enough yarn left
	Handsfree Intent = "handsfree" // the link for knitting without hands
	Settings  Intent = "settings"
	Join      Intent = "join"
	Leave     Intent = "leave"
	Switch    Intent = "switch"    // which knit-along requests are about
	Forget    Intent = "forget"    // delete all that is known about me
	Stuck     Intent = "stuck"     // the host should know that she needs help with her row
	Board     Intent = "board"     // how far the group is
	Changes   Intent = "changes"   // what corrections have changed
	Knitalong Intent = "knitalong" // anything of the host's
	Help      Intent = "help"
	None      Intent = "none"   // nothing was asked
	Unsure    Intent = "unsure" // two meanings are near
)

// Moves reports whether the intent changes a place or a membership, so that it must not be acted on by a guess.
func (i Intent) Moves() bool {
	switch i {
	case Next, Back, Undo, At, Join, Leave, Forget:
		return true
	}
	return false
}

// Heard is what was understood.
type Heard struct {
	Intent Intent

	// Number is the row, the stitches counted, the session or the grams that were named, 0 to 9,999; HasNumber tells a nought from none.
	// With Unsure it is the number that the question is about.
	Number    int
	HasNumber bool

	// Last is, with Picture, the last of several rows of which Number is the first: "rows one to eight". It is 0 for none, and else no less than Number.
	Last int

	// Stitch is the Abbr of the term to explain, or the words that were used where no term has that name ("cross" in "that cross"),
	// or empty for whatever is being worked.
	Stitch string

	// Manner is how that stitch is worked, where it was said: tbl, tfl, wyif, wyib, kwise or pwise. "How do I k1 tbl" is k, worked tbl.
	Manner string

	// Section holds, in lower case, words behind a row number that may name a section. With At it is one of the sections
	// and panels that New was given, or the common name of a part (brim, crown, sleeve); with Row it can be any words. With Picture it can stand by
	// itself, and begins with "panel " where a panel was asked for, and no section of that name.
	Section string

	More bool // with Help and Catchup: what it does not tell at first

	Part    string  // with Catchup and More: CatchupRows ... CatchupPlan, or "" for whichever comes next; More is set with it
	Until   *Day    // with Catchup: the day by which she wants to be caught up; nil where none was said
	Setting Setting // with Settings: what is to be changed; "" where nothing was said

	Fit  *FitWish  // with Fit: what was asked in particular; nil for nothing
	Yarn *YarnWish // with Yarn: what was said in particular; nil for nothing
	Look string    // with Picture: LookChart, LookFabric, or "" where unsaid
	Unit string    // with Settings: Centimetres or Inches, to tell lengths in from now on; "" where unsaid

	Sure         bool     // false for Unsure only
	Alternatives []Intent // for Unsure: the meanings that are near, the nearest first; at least one
	Ask          string   // for Unsure: one question, fit to be spoken
}

// Listener understands requests. It doesn't change, so goroutines may share it.
type Listener struct {
	grammar  *grammar
	glossary glossary
	sections map[string]string // full names by what they are called by
}

var shared = sync.OnceValue(func() *grammar {
	g := readGrammar(grammarText)
	g.read("wishes.txt", wishesText)
	g.read("group.txt", groupText)
	return g
})

// New makes a listener that knows these stitches by name and, in "row three of the crown" or "draw the rope", these sections and panels. A name of
// several words is known by the last of them too, where that is its alone. Where two terms
// share a name the first has it, and an abbreviation goes before a spoken name.
func New(stitches []Term, sections ...string) *Listener {
	l := &Listener{grammar: shared(), glossary: newGlossary(stitches), sections: map[string]string{}}
	for _, s := range strings.Fields(commonParts) {
		l.sections[s] = s
	}
	var names []string
	for _, s := range sections {
		if ws, _ := split(s); len(ws) > 0 {
			names = append(names, spell(ws))
		}
	}
	l.addShort(names)
	for _, name := range names {
		l.sections[name] = name
	}
	return l
}

// addShort lets names of several words be called by the last of them, where one name alone ends so and the word means nothing else: "the
// rope" for Capstan rope.
func (l *Listener) addShort(names []string) {
	ends := map[string][]string{}
	for _, name := range names {
		last := name[strings.LastIndexByte(name, ' ')+1:]
		if !slices.Contains(ends[last], name) {
			ends[last] = append(ends[last], name)
		}
	}
	for last, of := range ends {
		_, word := l.grammar.ids[last]
		_, part := l.sections[last]
		if len(of) == 1 && !word && !part && len(soundAlikes[last]) == 0 && numeralOf(last).scale == noNumber && len(last) > 2 {
			l.sections[last] = of[0]
		}
	}
}

// commonParts are names that sections often bear. Common practice of the trade, with no one source.
const commonParts = "brim band body bodice border collar crown cuff edge edging ear flap foot front gusset hand heel hem instep leg neck neckband " +
	"neckline palm panel pocket rib ribbing shoulder sleeve strap thumb toe top tip welt yoke"

// Hear gives the intent of the words. Text of more than 500 characters asks nothing. The time that it takes grows with the
// length of the text and has a bound.
func (l *Listener) Hear(words string) Heard {
	ws, question := split(words)
	if len(ws) == 0 {
		return Heard{Intent: None, Sure: true}
	}
	h := l.whole(ws, question)
	if intent, ok := asked[spell(ws)]; ok && h.Intent != intent {
		return Heard{Intent: intent, Sure: true}
	}
	if h.Intent == None {
		h = l.clauses(ws, question)
	}
	if intent, ok := command(words); ok && slices.Contains(h.Alternatives, intent) {
		h.Intent, h.Sure, h.Alternatives, h.Ask = intent, true, nil, ""
	}
	return h
}

// whole understands the words as one request.
func (l *Listener) whole(ws []word, asked bool) Heard {
	u := l.prepare(ws)
	for _, looser := range []bool{false, true} {
		if found, rival := l.candidates(u, looser); len(found) > 0 {
			return u.decide(found, rival, asked)
		}
	}
	return Heard{Intent: None, Sure: true}
}

// clause is what one part of an utterance comes to.
type clause struct {
	Heard
	words int
	known bool // every word of it is the grammar's
}

// clauses understands words that are parted by commas or stops, each part by itself. The last part says what is wanted ("I lost my
// place, where am I?"); where one of several requests moves something, Clew asks.
func (l *Listener) clauses(ws []word, asked bool) Heard {
	var parts []clause
	chatter := false
	start := 0
	for i := 1; i <= len(ws); i++ {
		if i < len(ws) && !ws[i].pause {
			continue
		}
		part := ws[start:i]
		start = i
		h := l.whole(part, asked && i == len(ws))
		if h.Intent == None {
			if l.says("oops", part) || l.says("filler", part) || l.says("outer", part) {
				continue
			}
			chatter = true
		}
		parts = append(parts, clause{h, len(part), l.knows(part)})
	}
	switch {
	case len(parts) < 2:
		return Heard{Intent: None, Sure: true}
	case chatter:
		return besideChatter(parts)
	}
	for _, plain := range parts {
		if plain.Sure && !slices.ContainsFunc(parts, func(c clause) bool { return !c.agrees(plain.Heard) }) {
			return plain.Heard
		}
	}
	return several(parts)
}

// besideChatter understands a request with words beside it that ask for nothing: the last request, if it stands last or nothing is
// said beside it but words of the grammar. One word is no such request: much else begins with it ("back, my dear"). Where it would
// move or set something or tell the host, Clew asks.
func besideChatter(parts []clause) Heard {
	none := Heard{Intent: None, Sure: true}
	last := len(parts) - 1
	at := last
	for at > 0 && parts[at].Intent == None {
		at--
	}
	h := parts[at]
	known := !slices.ContainsFunc(parts, func(c clause) bool { return !c.known })
	switch {
	case h.Intent == None || h.Intent == Unsure || !known && at < last:
		return none
	case h.words < 2 && (at < last || h.Intent.Moves() || h.Intent == Again):
		return none
	case h.Intent.Moves() || h.tells():
		return unsure(h.Heard, "Did you want "+RequestFor(h.Intent).Wants+"?", h.Intent)
	}
	return h.cautious()
}

// several understands requests that don't ask for the same: the last of them, unless one of them moves something.
func several(parts []clause) Heard {
	last := parts[len(parts)-1].Heard
	var near []Intent
	moves := false
	for _, c := range parts {
		moves = moves || c.changes() || c.Intent == Unsure
		for _, i := range append([]Intent{c.Intent}, c.Alternatives...) {
			if i != Unsure && !slices.Contains(near, i) {
				near = append(near, i)
			}
		}
	}
	if moves {
		return unsure(last, "That was more than one thing. Which do you want first?", near...)
	}
	return last
}

// knows reports whether all words stand in the grammar, none of them a refusal.
func (l *Listener) knows(ws []word) bool {
	u := l.prepare(ws)
	for i := range ws {
		if !u.passable(i) {
			return false
		}
	}
	return true
}

// agrees reports whether h asks for the same as last, or for something near it that last makes plain: "I made a mistake, undo".
func (h Heard) agrees(last Heard) bool {
	near := h.Intent == last.Intent || h.Intent == Unsure && h.Alternatives[0] == last.Intent
	return near && (!h.HasNumber || h.Number == last.Number) && (h.Section == "" || h.Section == last.Section) && h.wishesFor(last)
}

// says reports whether the words are what the grammar calls by this name.
func (l *Listener) says(name string, ws []word) bool {
	return len(l.prepare(ws).match(l.grammar.macros[name])) > 0
}

// candidate is one way to understand the words.
type candidate struct {
	rule *rule
	state
}

// candidates gives the cheapest ways to understand the words by the rules that are loose or by those that aren't, in the grammar's order.
// rival reports that a dearer way moves to another row, or leaves out another number of rows: "row twenty for now" is 20 for now, or 24 now.
func (l *Listener) candidates(u *utterance, looser bool) (best []candidate, rival bool) {
	moves := map[[2]int]bool{}
	for i := range l.grammar.rules {
		rule := &l.grammar.rules[i]
		if (rule.rank == loose) != looser || !u.mayBe(rule) {
			continue
		}
		for _, s := range u.match(rule.phrase) {
			if rule.intent == At || rule.fit == LeaveOut {
				moves[[2]int{s.number, u.lastRow(s)}] = true
			}
			if rule.rank == ask {
				s.cost += costNear
			}
			if len(best) > 0 && s.cost < best[0].cost {
				best = best[:0]
			}
			if len(best) == 0 || s.cost == best[0].cost {
				best = append(best, candidate{rule, s})
			}
		}
	}
	return best, len(moves) > 1
}

// particular reports whether the candidate asks for something in particular.
func (c candidate) particular() bool {
	return c.rule.fit != "" || c.rule.part != "" || c.rule.setting != "" || c.picked > 0 || c.section != ""
}

// mayBe reports whether the utterance has words without which it can't be the rule's.
func (u *utterance) mayBe(r *rule) bool {
	for _, one := range r.needs {
		if !one.meets(u.all) {
			return false
		}
	}
	return true
}

// decide takes the first of equally good candidates, or the first of the same intent that asks for something in particular; unless one of
// them would move something and another says otherwise.
func (u *utterance) decide(found []candidate, rival, asked bool) Heard {
	first := found[0]
	if i := slices.IndexFunc(found, func(c candidate) bool { return c.rule.intent == first.rule.intent && c.particular() }); i > 0 && !first.particular() {
		first = found[i]
	}
	h := Heard{Intent: first.rule.intent, Sure: true, Number: first.number, HasNumber: first.counted, Stitch: first.stitch, Manner: first.manner, Section: first.section,
		More: first.rule.more, Part: first.rule.part, Setting: first.rule.setting}
	if first.rule.intent == None {
		return h // what is written down as no request is none, whatever else it fits
	}
	if first.rule.rank == ask {
		return unsure(h, first.rule.question, first.rule.near...)
	}
	for _, c := range found {
		if !c.rule.changes() && !first.rule.changes() {
			continue
		}
		if c.rule.intent != first.rule.intent {
			return unsure(h, "Did you want "+RequestFor(first.rule.intent).Wants+", or "+RequestFor(c.rule.intent).Wants+"?", first.rule.intent, c.rule.intent)
		}
		if c.section != first.section {
			return unsure(h, "Which section do you mean?", first.rule.intent)
		}
	}
	if rival && h.Intent == At {
		return unsure(h, "Which row do you mean?", At)
	}
	if (h.Intent == At || h.Intent == Row) && h.HasNumber && h.Number == 0 {
		return unsure(h, "Rows are counted from one. Which row do you mean?", h.Intent)
	}
	if asked && first.rule.says {
		return unsure(h, "Was that a question, or did you want "+RequestFor(h.Intent).Wants+"?", h.Intent)
	}
	if !u.add(&h, first) {
		return unsure(h, "Which day do you mean?", h.Intent)
	}
	if asked || rival {
		return h.cautious()
	}
	return h
}

func unsure(h Heard, question string, near ...Intent) Heard {
	h.Intent, h.Sure, h.Ask, h.Alternatives = Unsure, false, question, append([]Intent(nil), near...)
	h.Fit, h.Yarn, h.Look, h.Unit, h.Last = nil, nil, "", "", 0
	h.More, h.Part, h.Until, h.Setting = false, "", nil, ""
	return h
}
