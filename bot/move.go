package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// movesTried bounds how often a move is worked out again because the member
// was moved from elsewhere in between.
const movesTried = 5

// An answered request, as the store keeps it with its event: sent again, it
// reads the same place again.
type answered struct {
	At     session.Place `json:"at"`
	Before string        `json:"before,omitempty"` // said in front
}

func (a answered) text() string {
	b, err := json.Marshal(a)
	if err != nil { // strings and numbers alone always marshal
		panic(err)
	}
	return string(b)
}

// A target is where a request leads. Without a move, say is the whole answer.
type target struct {
	place session.Place
	move  bool
	say   string
}

// move goes where the request leads, and reads the row there.
func (t *talk) move(ctx context.Context) (Reply, error) {
	for range movesTried {
		to := t.target()
		if !to.move {
			return t.say(to.say), nil
		}
		answer := answered{At: to.place, Before: to.say}
		moved, err := t.store.Move(ctx, t.ask.Knitalong, session.Move{
			Member: t.ask.Member, Event: t.ask.Event, From: t.state.Place, To: to.place,
			How: string(t.heard.Intent), Done: t.done(to.place), Answer: answer.text(), At: t.now(),
		})
		if t.isStale(err) {
			if err := t.load(ctx); err != nil {
				return Reply{}, err
			}
			continue
		}
		if err != nil {
			return Reply{}, err
		}
		t.state = moved.State
		if t.heard.Intent == listen.Back && !moved.Repeated {
			t.stumble(ctx)
		}
		return t.afterMove(ctx, moved, answer)
	}
	return Reply{}, errors.New("the place kept moving while a move was worked out")
}

// isStale takes over the place where the member really is.
func (t *talk) isStale(err error) bool {
	var stale *session.Stale
	if !errors.As(err, &stale) {
		return false
	}
	t.state.Place = stale.Now
	return true
}

// afterMove reads the place that a move led to. An event that came again gets
// the answer of its first time, wherever the member is by now.
func (t *talk) afterMove(ctx context.Context, moved session.Moved, answer answered) (Reply, error) {
	if moved.Repeated {
		if err := json.Unmarshal([]byte(moved.Answer), &answer); err != nil {
			return Reply{}, fmt.Errorf("read the answer kept with event %q: %w", t.ask.Event, err)
		}
	}
	p, err := t.planOf(ctx, t.ask.Knitalong, answer.At)
	if err != nil {
		return Reply{}, err
	}
	return t.read(p, answer.At, answer.Before), nil
}

// done is the board's figure for a place: the stitches of all rows before it.
func (t *talk) done(at session.Place) int64 {
	i := t.plan.indexOf(at)
	switch {
	case i < 0:
		return 0
	case t.finished(t.plan, at):
		return t.plan.Stitches()
	}
	return t.plan.Rows[i].Worked
}

// target works out where the request leads from where the member is.
func (t *talk) target() target {
	switch t.heard.Intent {
	case listen.Next:
		return t.nextPlace()
	case listen.Back:
		return t.backPlace()
	}
	return t.atPlace()
}

func (t *talk) nextPlace() target {
	i := t.here()
	if i < 0 {
		return t.to(0, 0)
	}
	steps := len(t.words(t.plan, i).StepTexts())
	switch {
	case t.finished(t.plan, t.state.Place):
		return target{say: "The pattern is finished; there is no row after its last. Say back to hear that one, or put me at row one and the name of a section to go there."}
	case t.stepwise() && t.state.Step+1 < steps:
		return t.to(i, t.state.Step+1)
	case i+1 < len(t.plan.Rows):
		return t.to(i+1, 0)
	}
	return t.to(i, steps)
}

func (t *talk) backPlace() target {
	i := t.here()
	switch {
	case i < 0:
		return target{say: "You are at the very beginning; there is no row before it. Nothing has moved. " + castOnWords(t.plan.Plan)}
	case t.finished(t.plan, t.state.Place):
		return t.to(i, 0)
	case i == 0:
		begin := t.state.Place
		begin.Row, begin.Step = 0, 0
		return target{place: begin, move: true}
	}
	return t.to(i-1, 0)
}

// atPlace goes to the row that was named: in the section that was named, else
// in the one where the member is, else in the only one that has such a row.
func (t *talk) atPlace() target {
	if !t.heard.HasNumber {
		return target{say: "Which row? Nothing has moved. Say put me at row and its number."}
	}
	i, why := t.named()
	if i < 0 {
		return target{say: why + " Nothing has moved."}
	}
	to := t.to(i, 0)
	to.say = "You are now at " + t.rowName(i) + ". "
	return to
}

func (t *talk) to(i, step int) target {
	at := t.state.Place
	at.Section, at.Row, at.Step = t.plan.Rows[i].Section.Name, t.plan.Rows[i].Number, step
	return target{place: at, move: true}
}

// named finds the row that was asked for by number; -1 with a sentence when
// there is none, or more than one that could be meant.
func (t *talk) named() (int, string) {
	number := t.heard.Number
	if t.heard.Section != "" {
		return t.inSection(t.heard.Section, number)
	}
	if i, ok := t.plan.Find(t.state.Section, number); ok {
		return i, ""
	}
	found, sections := -1, []string(nil)
	for i, r := range t.plan.Rows {
		if r.Number == number {
			found, sections = i, append(sections, reader.Name(r.Section.Name))
		}
	}
	switch len(sections) {
	case 0:
		return -1, "There is no " + t.word() + " " + reader.Number(number) + " in this pattern."
	case 1:
		return found, ""
	}
	return -1, "There is a " + t.word() + " " + reader.Number(number) + " in " + strings.Join(sections, " and in ") + ". Name the section too, such as " +
		t.word() + " " + reader.Number(number) + " of " + sections[0] + "."
}

func (t *talk) inSection(name string, number int) (int, string) {
	section := ""
	for _, s := range t.plan.Pattern.Sections {
		if strings.EqualFold(s.Name, name) || strings.EqualFold(reader.Name(s.Name), name) {
			section = s.Name
		}
	}
	if section == "" {
		return -1, "There is no section called " + reader.Name(name) + " in this pattern."
	}
	if i, ok := t.plan.Find(section, number); ok {
		return i, ""
	}
	return -1, reader.Name(section) + " has no " + t.word() + " " + reader.Number(number) + "; it ends with " + reader.Number(lastOf(t.plan, section)) + "."
}

// word is what this pattern calls a row.
func (t *talk) word() string {
	if i := t.here(); i >= 0 {
		return rowWord(t.plan.Rows[i].Rounds)
	}
	return rowWord(t.plan.Pattern.Rounds)
}

func rowWord(rounds bool) string {
	if rounds {
		return "round"
	}
	return "row"
}

// rowName names row i: "round five of Lanterns".
func (t *talk) rowName(i int) string {
	r := t.plan.Rows[i]
	return rowWord(r.Rounds) + " " + reader.Number(r.Number) + " of " + reader.Name(r.Section.Name)
}

// undo takes back the last move, whatever it was.
func (t *talk) undo(ctx context.Context) (Reply, error) {
	for range movesTried {
		moved, err := t.store.Undo(ctx, t.ask.Knitalong, t.ask.Member, t.ask.Event, t.state.Place, t.now())
		switch {
		case t.isStale(err):
			continue
		case errors.Is(err, session.ErrNothingToUndo):
			return t.say("There is no move left to take back. You are where you were. " + t.whereWords()), nil
		case err != nil:
			return Reply{}, err
		}
		t.state = moved.State
		if err := t.load(ctx); err != nil {
			return Reply{}, err
		}
		return t.readHere("Your last move is taken back. "), nil
	}
	return Reply{}, errors.New("the place kept moving while a move was taken back")
}

// again reads the place once more, and notes that the row was stumbled over.
func (t *talk) again(ctx context.Context) (Reply, error) {
	t.stumble(ctx)
	return t.readHere(""), nil
}

// stumble notes that a row gave the member pause. It is for the host's eyes
// alone, so a failure is logged and the answer goes out all the same.
func (t *talk) stumble(ctx context.Context) {
	if t.state.Row == 0 {
		return
	}
	if err := t.store.Stumble(ctx, t.ask.Knitalong, t.ask.Member, t.state.Section, t.state.Row, t.ask.Event); err != nil {
		t.log.Warn().Err(err).Str("member", string(t.ask.Member)).Msg("a stumble was not noted")
	}
}

// readRow reads a row that was named, and moves nothing.
func (t *talk) readRow() Reply {
	if !t.heard.HasNumber {
		return t.say("Which row? Say read row and its number.")
	}
	i, why := t.named()
	if i < 0 {
		return t.say(why)
	}
	words := t.words(t.plan, i)
	return Reply{Said: words.Paragraph() + " You are still where you were.", Steps: words.StepTexts(), Card: card(t.plan, i), Choices: usual}
}
