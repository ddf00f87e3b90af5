package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"clew/reader/listen"
	"clew/session"
)

// movesTried bounds how often a move is worked out again because the member
// was moved from elsewhere in between. Each time somebody else got through.
const movesTried = 100

var errBusy = errors.New("the place kept moving while a move was worked out")

// An answer is where a request leads and what is said there. The store keeps
// it with the event, and the same event gets it again.
type answer struct {
	To      session.Place `json:"to"`
	Before  string        `json:"before,omitempty"`  // said in front of the row there
	Changed string        `json:"changed,omitempty"` // said before that: what corrections have changed for her
	Only    bool          `json:"only,omitempty"`    // the row is not read
	Notes   bool          `json:"notes,omitempty"`   // the pattern's notes come first
	Begun   bool          `json:"begun,omitempty"`   // she comes back to the row: casting on for it is not said
	Spare   bool          `json:"spare,omitempty"`   // what she may leave out after the row is said
	Rest    bool          `json:"rest,omitempty"`    // she is told to rest her hands after the row
	Left    string        `json:"left,omitempty"`    // stands for To.LeftOut where that is too long to keep: its key
	undoes  bool          // it takes back her last move; the store need not keep that
}

// answerMost is the longest answer that the store keeps, in bytes.
const answerMost = 1024

// text is the answer as the store keeps it. Where it is too long, with many rows
// left out, a key stands for those: they are most often still left out when it is
// told again. With long names in it, it is kept without what was said in front.
func (a answer) text() string {
	b, err := json.Marshal(a)
	if err == nil && len(b) > answerMost {
		a.Left, a.To.LeftOut = keyOf(a.To.LeftOut), ""
		b, err = json.Marshal(a)
	}
	if err == nil && len(b) > answerMost {
		a.Before = ""
		b, err = json.Marshal(a)
	}
	if err == nil && len(b) > answerMost {
		a.Changed = ""
		b, err = json.Marshal(a)
	}
	if err != nil { // texts and numbers alone always marshal
		panic(err)
	}
	return string(b)
}

// stay is the answer of a request that moves nothing.
func (t *talk) stay(words string) answer {
	return answer{To: t.state.Place, Before: words, Only: true}
}

// to leads to a step of row i.
func (t *talk) to(i, step int) answer {
	at, r := t.at, t.plan.Rows[i]
	at.Section, at.Row, at.Step = r.Section.Name, r.Number, step
	ahead := i > t.here() || i == t.here() && step > t.at.Step
	return answer{To: at, Before: t.sectionWords(i), Begun: i <= t.here(), Spare: ahead && (!t.stepwise() || step == t.lastStep(i))}
}

// move goes where the request leads, and reads the row there.
func (t *talk) move(ctx context.Context, target func() answer) (Reply, error) {
	from := t.here()
	a, err := t.settle(ctx, string(t.heard.Intent), func() (answer, error) {
		if t.oldButton() {
			return t.underOldButton(), nil
		}
		if t.notYet && t.heard.Intent != listen.Next { // it would cost her the place that waits for her
			return t.stay("It waits where it is, and nothing has moved." + t.opensLater()), nil
		}
		return target(), nil
	})
	if err != nil {
		return Reply{}, err
	}
	reply, err := t.tell(ctx, a)
	if err == nil && t.here() < from {
		t.stumble(ctx, session.WentBack, from)
	}
	return reply, err
}

// settle works out an answer and saves it with the event, together with the
// move that it makes. Where the member has been moved from elsewhere in
// between, it is worked out anew from there. An event that came before gets
// the answer of its first time, and moves nothing; where that kept none, as
// joining does, she hears where she is. So she does where it was answered and the
// store does not know it.
func (t *talk) settle(ctx context.Context, how string, work func() (answer, error)) (answer, error) {
	if t.before.answered {
		a := t.stay(t.whereWords())
		a.Changed = t.changed
		return a, nil
	}
	for range movesTried {
		a, err := work()
		if err != nil {
			return a, err
		}
		a.Changed = t.changed
		a.Rest = !a.Only && !a.undoes && a.To != t.state.Place && t.restDue()
		moved, err := t.save(ctx, how, a)
		if stale(err) {
			err = t.refresh(ctx)
			if err == nil {
				continue
			}
		}
		if err != nil {
			return a, err
		}
		t.saved, t.state = true, moved.State
		switch {
		case !moved.Repeated:
			t.noteChanged(ctx, a)
			return a, nil
		case moved.Answer == "":
			return answer{To: moved.Place, Begun: moved.Row > 0}, nil
		}
		return reread(moved.Answer)
	}
	return answer{}, errBusy
}

// save makes an answer's move, or takes one back, and keeps the answer with the
// event, all in one.
func (t *talk) save(ctx context.Context, how string, a answer) (session.Moved, error) {
	m := session.Move{Member: t.ask.Member, Event: t.ask.Event, From: t.state.Place, To: a.To, How: how, Answer: a.text(), At: t.now(), Rests: a.Rest, Name: keptName(t.ask.Nick)}
	if a.undoes {
		return t.store.Undo(ctx, t.ask.Knitalong, m)
	}
	var err error
	if m.Done, m.All, err = t.figures(ctx, a); err != nil {
		return session.Moved{}, err
	}
	m.Told = t.tells(a)
	return t.store.Move(ctx, t.ask.Knitalong, m)
}

// refresh finds where the member has been moved to from elsewhere.
func (t *talk) refresh(ctx context.Context) error {
	err := t.begin(ctx)
	if err == nil && !t.state.Joined {
		err = session.ErrNotJoined
	}
	return err
}

func stale(err error) bool {
	var s *session.Stale
	return errors.As(err, &s)
}

// reread reads an answer that the store kept.
func reread(text string) (answer, error) {
	var a answer
	if err := json.Unmarshal([]byte(text), &a); err != nil {
		return a, fmt.Errorf("read the answer %q that was kept with an event: %w", text, err)
	}
	return a, nil
}

// figures are the board's for the place that an answer leads to: the stitches of all
// rows before it, and of the whole pattern; the latter is 0 where it stays what it is.
func (t *talk) figures(ctx context.Context, a answer) (done, all int64, err error) {
	stays := a.To == t.state.Place
	if stays && t.state.All > 0 {
		return t.state.Done, 0, nil
	}
	p, err := t.planOf(ctx, t.ask.Knitalong, a.To)
	switch {
	case stays && err != nil: // it is reckoned when she moves
		return t.state.Done, 0, nil
	case err != nil:
		return 0, 0, err
	case stays:
		return t.state.Done, p.Stitches(), nil
	}
	all = p.Stitches()
	switch i := p.rowAt(a.To); {
	case i < 0:
		return 0, all, nil
	case p.finished(a.To):
		return all, all, nil
	default:
		return p.Rows[i].Worked, all, nil
	}
}

// tell says a saved answer.
func (t *talk) tell(ctx context.Context, a answer) (Reply, error) {
	if err := t.find(ctx); err != nil {
		return Reply{}, err
	}
	if a.Left == keyOf(t.state.LeftOut) {
		a.To.LeftOut = t.state.LeftOut
	}
	t.told = &a.To
	t.changed = "" // the answer says what it has to
	if a.Only {
		reply := t.say(a.Before)
		if a.Before == "" {
			reply = t.where()
		}
		reply.Said = a.Changed + reply.Said
		return reply, nil
	}
	t.begun = a.Begun
	there, err := t.carry(ctx, a.To, t.about.Revision)
	if err != nil {
		return Reply{}, err
	}
	there, _ = t.withhold(there)
	at, p := there.at, there.plan
	reply := t.read(p, at, a.Changed+a.Before+notesOf(p, a))
	if a.Spare && at.Step < pastLast {
		reply.Said += t.spareWords(ctx, p, p.rowAt(at))
	}
	if a.Rest {
		reply.Said += restWords
	}
	if !a.Notes {
		return reply, nil
	}
	if notes := p.writtenNotes(); len(notes) > notesSaid {
		reply.Notes = notes
	}
	return reply, nil
}

// notesOf gives the pattern's notes where an answer says them.
func notesOf(p *plan, a answer) string {
	if !a.Notes {
		return ""
	}
	return p.notes()
}

// oldButton says that a button was pressed under another row than the one
// where the member is.
func (t *talk) oldButton() bool {
	return t.ask.Mark != "" && t.ask.Mark != MarkOf(t.state.Section, t.state.Row, t.state.Step)
}

func (t *talk) underOldButton() answer {
	return answer{To: t.state.Place, Before: "That button stood under an earlier row, so nothing has moved. You are here. ", Begun: t.here() >= 0}
}

// goOn moves on to a row. One who has not been at any hears the pattern's notes
// first.
func (t *talk) goOn(ctx context.Context, target func() answer) (Reply, error) {
	starts := false
	if t.here() < 0 {
		past, err := t.beenPast(ctx, -1)
		if err != nil {
			return Reply{}, err
		}
		starts = !past
	}
	return t.move(ctx, func() answer {
		a := target()
		a.Notes = starts && !a.Only
		return a
	})
}

// beenPast says that the member's moves have led her past row i.
func (t *talk) beenPast(ctx context.Context, i int) (bool, error) {
	log, err := t.store.Log(ctx, t.ask.Knitalong, t.ask.Member, 0)
	return slices.ContainsFunc(log, func(e session.Entry) bool { return t.plan.rowAt(e.To) > i }), err
}

// again reads the place once more. Casting on is part of it until she has moved
// on, and the notes until she has begun.
func (t *talk) again(ctx context.Context) (Reply, error) {
	i := t.here()
	t.stumble(ctx, session.Again, i)
	if i >= 0 && castOn(t.plan.Plan, i) == "" {
		return t.readHere(""), nil
	}
	var err error
	if t.begun, err = t.beenPast(ctx, i); err != nil {
		return Reply{}, err
	}
	if i < 0 && !t.begun {
		return t.readHere(t.plan.notes()), nil
	}
	return t.readHere(""), nil
}

// next leads to what comes after the row, or the step, where the member is.
func (t *talk) next() answer {
	i := t.here()
	switch {
	case i < 0 && len(t.plan.Rows) > 0:
		return t.to(0, 0)
	case i >= 0 && t.plan.finished(t.at):
		return t.stay("The pattern is finished: nothing comes after its last " + t.plan.word(i) + ". Nothing has moved. Say back to hear that one again.")
	case i >= 0 && t.stepwise() && t.at.Step < t.lastStep(i):
		return t.to(i, t.at.Step+1)
	case i+1 < len(t.plan.Rows):
		return t.to(i+1, 0)
	case t.plan.isCut():
		return t.stay(t.notOpen() + " Nothing has moved.")
	}
	return t.to(i, pastLast)
}

// back leads to what comes before it: the row before. One who hears steps goes
// back by those: within the row to the step before, and from its first step to
// the last of the row before, which is what she heard before it. From the end
// it leads to the last row, or to the last step of that.
func (t *talk) back() answer {
	i := t.here()
	switch {
	case i < 0:
		if len(t.plan.Rows) == 0 {
			return t.stay("You are at the very beginning. " + t.notOpen() + " Nothing has moved.")
		}
		return t.stay("You are at the very beginning: nothing comes before it. Nothing has moved. Say next row to hear the first " + t.word() + ".")
	case t.plan.finished(t.at):
		return t.to(i, t.entry(i))
	case t.stepwise() && t.at.Step > 0:
		return t.to(i, min(t.at.Step, t.lastStep(i))-1)
	case i > 0:
		return t.to(i-1, t.entry(i-1))
	}
	begin := t.at
	begin.Row, begin.Step = 0, 0
	return answer{To: begin, Begun: true}
}

// entry is the step at which row i is entered from behind.
func (t *talk) entry(i int) int {
	if t.stepwise() {
		return t.lastStep(i)
	}
	return 0
}

// toRow leads to the row that was named.
func (t *talk) toRow() answer {
	if !t.heard.HasNumber {
		return t.stay("Which " + t.word() + "? Nothing has moved. Say its number too, such as put me at " + t.word() + " twelve.")
	}
	i, why := t.named()
	if i < 0 {
		return t.stay(why + " Nothing has moved.")
	}
	a := t.to(i, 0)
	a.Before = "You have moved. " + t.sectionWords(i)
	return a
}
