package bot

import (
	"context"
	"errors"
	"slices"
	"strings"

	"clew/reader/listen"
	"clew/session"
)

// A talk is one request being answered.
type talk struct {
	*Bot
	ask   Ask
	heard listen.Heard

	about session.About
	state session.State // as the store has it
	at    session.Place // the member's place in the current text of the pattern
	plan  *plan         // by which she knits there

	key    string        // what the event is remembered by; "" for none
	before turn          // what it came to when it came before
	byName bool          // the knit-along to join was found by its name
	ear    *listen.Heard // the words, as heard without a pattern

	told *session.Place // where the answer led that is told; nil where it tells of the member's place

	// changed tells her what corrections have changed for her; it is said in front of
	// the answer, once.
	changed string
	toldNow string // what was told of that, in this answer
	reply   *Reply // what the event is to be answered when it comes again; nil where that can be worked out anew
	notYet  bool   // her row is held back, so that she hears the last that is open in its place
	// begun says that what the row is cast on for is on her needle already, so
	// that it is not said as if she had to start over.
	begun bool
	// saved says that the request has been saved, so that an error from here on
	// keeps back the answer and nothing else.
	saved bool
	// forgotten says that nothing is kept of her any more.
	forgotten bool
	offered   []string // knit-alongs that she was asked whether she means
	asks      asks     // of yarn: what the answer asks back for
	weighed   string   // what settingWeighed is to keep
	goneOn    string   // the words that were made of a question and its answer; "" for none
}

// answer finds the knit-along that the request is about, understands it, and
// serves it.
func (t *talk) answer(ctx context.Context) (Reply, error) {
	t.recall()
	given := t.ask.Knitalong != ""
	if p := t.ask.Pressed; p != nil && p.Value != "" {
		id, named := strings.CutPrefix(p.Value, idValue)
		switch {
		case p.Intent == listen.Switch:
			return t.switchTo(ctx, p.Value)
		case named && id == "":
			return Reply{}, session.ErrUnknownKnitalong
		case named && (p.Intent == listen.Join || p.Intent == listen.Leave || p.Intent == listen.Forget):
			t.ask.Knitalong, given = id, true
			t.ask.Pressed = &Choice{Intent: p.Intent}
		}
	}
	if t.forgets() {
		return t.forget(ctx)
	}
	if t.ask.Knitalong == "" {
		t.ask.Knitalong = t.before.knitalong
	}
	if t.ask.Knitalong == "" {
		t.ask.Knitalong, given = t.answersWhichSize()
	}
	if t.ask.Knitalong == "" {
		id, asks, err := t.which(ctx)
		if id == "" || err != nil {
			return asks, err
		}
		t.ask.Knitalong = id
	}
	t.keep(t.ask.Knitalong)
	if err := t.visit(ctx, given); err != nil {
		return Reply{}, err
	}
	if !t.state.Joined {
		return t.stranger(ctx)
	}
	return t.member(ctx)
}

// visit begins in a knit-along, where it may be asked about. One that was given
// may have been made up.
func (t *talk) visit(ctx context.Context, given bool) error {
	err := t.begin(ctx)
	if err == nil {
		err = t.allowed(ctx, given)
	}
	if given && errors.Is(err, session.ErrInvalid) {
		err = session.ErrUnknownKnitalong
	}
	if err != nil {
		t.about, t.state = session.About{}, session.State{}
	}
	return err
}

// allowed refuses a knit-along that may not be asked about from where the member
// asks. It may in its server; and in private by those who have a place in it or
// were told of it there. One that is held in no server is for those of its host's
// platform. Which one was found, and not given, is hers already.
func (t *talk) allowed(ctx context.Context, given bool) error {
	switch {
	case t.ask.Server != "" || t.about.Server == "":
		if t.about.Server == t.ask.Server && (t.about.Server != "" || platformOf(t.about.Host) == platformOf(t.ask.Member)) {
			return nil
		}
	case !given || t.state.Section != "" || t.before.saved && t.before.knitalong == t.about.ID: // she may have been forgotten by it
		return nil
	default:
		person, err := t.store.Person(ctx, t.ask.Member)
		if err != nil || slices.Contains(toldOf(person), t.about.ID) {
			return err
		}
	}
	return session.ErrUnknownKnitalong
}

// toldOf gives the ids of those that a person was told of.
func toldOf(person session.Person) []string {
	ids := make([]string, len(person.Told))
	for i, told := range person.Told {
		ids[i] = told.ID
	}
	return ids
}

// noteTold notes which knit-alongs one was told of who is not in them, so that she
// can go on in private, and can have forgotten what is kept of one who has left. A
// failure is logged, and the answer goes out all the same.
func (t *talk) noteTold(ctx context.Context, reply Reply) {
	if t.about.Server != "" && !t.state.Joined && reply.Failed == nil && !t.forgotten {
		t.offered = append(t.offered, t.about.ID)
	}
	if t.before.answered || len(t.offered) == 0 {
		return
	}
	if err := t.store.Tell(ctx, t.ask.Member, t.now(), t.offered...); err != nil {
		t.log.Warn().Err(err).Str("member", string(t.ask.Member)).Msg("what a member was told of was not noted")
	}
}

func platformOf(m session.Member) string {
	platform, _, _ := strings.Cut(string(m), ":")
	return platform
}

// member answers one who has joined.
func (t *talk) member(ctx context.Context) (Reply, error) {
	serve, err := t.understand(ctx)
	if err != nil {
		return Reply{}, err
	}
	if t.about.Closed && !servedClosed[t.heard.Intent] {
		return t.closed(), nil
	}
	if reply, told, err := t.tellAgain(ctx); told || err != nil {
		return reply, err
	}
	if t.before.answered { // what was told then, and nothing that has changed since
		t.changed = t.before.changed
	}
	reply, err := serve(ctx)
	t.noteAsked(reply, err)
	if err == nil {
		reply.Said = t.notYetWords() + t.tellChanged(ctx, reply.Said)
	}
	return reply, err
}

// servedClosed are the requests that are served in a knit-along that is closed.
var servedClosed = map[listen.Intent]bool{listen.Leave: true, listen.Forget: true, listen.Help: true, listen.Switch: true}

// closed answers in a knit-along that is closed. In private there may be others
// to go to.
func (t *talk) closed() Reply {
	reply := Reply{Said: t.closedWords()}
	if t.ask.Server == "" {
		reply.Choices = []Choice{{Label: "Switch knit-along", Intent: listen.Switch}}
	}
	return reply
}

func (t *talk) closedWords() string {
	said := capital(titleOf(t.about)) + " has been closed by its host. Nothing has moved"
	if t.state.Section != "" {
		said += ", and your place is kept"
	}
	return said + "."
}

// understand finds what is asked, and what serves it.
func (t *talk) understand(ctx context.Context) (func(context.Context) (Reply, error), error) {
	if t.ask.Pressed != nil {
		t.heard = t.pressed(*t.ask.Pressed)
		if set := t.settingPressed(*t.ask.Pressed); set != nil {
			return set, nil
		}
		return t.serve, nil
	}
	if t.ask.Heard != nil {
		t.heard = withinNames(*t.ask.Heard)
		if size := sizeNamed(t.plan.Pattern, bare(t.ask.Name)); t.heard.Intent == listen.Fit && size != "" {
			return func(ctx context.Context) (Reply, error) { return t.changeSize(ctx, size) }, nil
		}
		return t.serve, t.listenForStitch(ctx)
	}
	if switches, err := t.switchesByTitle(ctx); switches || err != nil {
		return t.switching, err
	}
	if t.joinsByTitle() {
		return t.joinAgain, nil
	}
	if answers, err := t.answersAsked(ctx); answers || err != nil {
		return t.serve, err
	}
	if set := t.setting(); set != nil {
		return set, nil
	}
	if sessions := t.asksSessions(); sessions != nil {
		return sessions, nil
	}
	if notes := t.asksNotes(); notes != nil {
		return notes, nil
	}
	return t.serve, t.listen(ctx)
}

// withinNames gives what a command asked with no name in it longer than is looked
// for.
func withinNames(h listen.Heard) listen.Heard {
	h.Stitch, h.Section = within(h.Stitch), within(h.Section)
	if h.Fit != nil {
		wish := *h.Fit
		wish.Section, wish.Person = within(wish.Section), within(wish.Person)
		h.Fit = &wish
	}
	if h.Yarn != nil {
		wish := *h.Yarn
		wish.Yarn = within(wish.Yarn)
		h.Yarn = &wish
	}
	return h
}

// listenForStitch listens to the name of a stitch to explain that a command gave,
// where none is written so: it may have been named as people say it.
func (t *talk) listenForStitch(ctx context.Context) error {
	given := t.heard
	if given.Intent != listen.Explain || given.Stitch == "" || t.explainNamed(given.Stitch) != "" {
		return nil
	}
	t.ask.Words = "explain " + given.Stitch
	err := t.listen(ctx)
	if t.heard.Intent != listen.Explain {
		t.heard = given
	}
	return err
}

// begin finds the member's state, and where that is in the pattern.
func (t *talk) begin(ctx context.Context) error {
	var err error
	if t.about, t.state, err = t.store.Visit(ctx, t.ask.Knitalong, t.ask.Member); err != nil || !t.state.Joined {
		return err
	}
	return t.find(ctx)
}

// find finds where the member's place is in the current text of the pattern.
func (t *talk) find(ctx context.Context) error {
	now, err := t.carry(ctx, t.state.Place, t.about.Revision)
	if err != nil {
		return err
	}
	if t.changed, err = t.changedFor(ctx, now); err != nil {
		return err
	}
	if now, t.notYet = t.withhold(now); t.notYet {
		t.changed = "" // it may name what is not open; she hears of it when it is
	}
	t.at, t.plan = now.at, now.plan
	return nil
}

// listen turns the words into a request.
func (t *talk) listen(ctx context.Context) error {
	l, err := t.hearing(ctx)
	if err != nil {
		return err
	}
	t.heard = l.Hear(t.ask.Words)
	t.listenForYarn(l)
	return nil
}

// serve answers what was understood.
func (t *talk) serve(ctx context.Context) (Reply, error) {
	switch t.heard.Intent {
	case listen.Next:
		return t.goOn(ctx, t.next)
	case listen.Back:
		return t.move(ctx, t.back)
	case listen.At:
		return t.goOn(ctx, t.toRow)
	case listen.Undo:
		return t.undo(ctx)
	case listen.Again:
		return t.again(ctx)
	case listen.Row:
		return t.readRow(), nil
	case listen.Where:
		return t.where(), nil
	case listen.Steps, listen.Rows:
		return t.wayOfReading(ctx)
	case listen.Explain:
		t.stumble(ctx, session.Explained, t.stumbledOver())
		return t.say(t.explain()), nil
	case listen.Count:
		return t.counts(ctx), nil
	case listen.Catchup:
		if len(t.plan.Rows) == 0 {
			return t.say(t.notOpen()), nil
		}
		return t.catchup(ctx)
	case listen.Settings:
		if t.heard.Setting != "" {
			return t.setNamed(ctx, t.heard.Setting)
		}
		if t.heard.Unit != "" {
			return t.setUnits(ctx, t.heard.Unit)
		}
		return Reply{Said: t.settings(), Choices: t.settingChoices()}, nil
	case listen.Fit:
		if t.ask.Heard != nil && bare(t.ask.Name) != "" {
			return t.noSuchSize(), nil
		}
		return t.fit(ctx)
	case listen.Yarn:
		return t.yarn(ctx)
	case listen.Picture:
		return t.picture(ctx)
	case listen.Stuck:
		return t.stuck(ctx)
	case listen.Board:
		return t.seeBoard(ctx)
	case listen.Changes:
		return t.changes(ctx)
	case listen.Switch:
		return t.switching(ctx)
	case listen.Join:
		return t.joinAgain(ctx)
	case listen.Leave:
		return t.leave(ctx)
	case listen.Forget:
		return t.forget(ctx)
	case listen.Help:
		return t.help(t.about.Server != "", t.usual()), nil
	}
	return t.unserved(ctx)
}

// unserved answers what can't be served here, or was not understood.
func (t *talk) unserved(ctx context.Context) (Reply, error) {
	switch t.heard.Intent {
	case listen.Knitalong:
		if t.about.Server != "" {
			return t.say(hostsCommand), nil
		}
	case listen.Unsure:
		if t.heard.Ask == "" { // no button asks so
			return t.say(notUnderstood), nil
		}
		return Reply{Said: t.heard.Ask, Choices: t.near()}, nil
	case listen.None:
		if switchName(t.ask.Words) != "" {
			return t.switching(ctx)
		}
		if asksSize(t.ask.Words) {
			return t.noSuchSize(), nil
		}
		return t.say(notUnderstood), nil
	}
	return t.say("That can't be asked here yet. Nothing has moved. Say help to hear what you can ask."), nil
}

const notUnderstood = "I did not understand that, and nothing has moved. Say next row, again, back, or where am I; say help to hear more."

// say answers with words alone.
func (t *talk) say(words string) Reply { return Reply{Said: words, Choices: t.usual()} }
