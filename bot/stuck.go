package bot

import (
	"context"

	"clew/reader/listen"
)

// stuck lets the host know that she needs help, and where. Who the host is, is not
// said: that may be somebody whom she does not know.
func (t *talk) stuck(ctx context.Context) (Reply, error) {
	if t.about.Server == "" || t.about.Host == t.ask.Member && len(t.about.Helpers) == 0 {
		return t.besideStuck("There is nobody here whom your question could go to, for you lead this by yourself. "), nil
	}
	if !t.before.answered {
		state, err := t.store.Stuck(ctx, t.ask.Knitalong, t.ask.Member, t.ask.Event, t.now())
		if err != nil {
			return Reply{}, err
		}
		t.saved, t.state = true, state
		if err := t.find(ctx); err != nil { // she may have been moved from elsewhere
			return Reply{}, err
		}
	}
	sees := "Your host"
	if t.about.Host == t.ask.Member {
		sees = "Your " + plural("helper", len(t.about.Helpers))
	}
	return t.besideStuck(sees + " can see now that you need help " + t.needsItAt() + ". "), nil
}

// needsItAt says where she needs help.
func (t *talk) needsItAt() string {
	switch i := t.here(); {
	case t.notYet: // the store has the row that is held back
		return "where you are"
	case i < 0:
		return "before your first " + t.word()
	case t.plan.finished(t.at):
		return "now that the pattern is finished"
	default:
		return "at " + t.plan.rowName(i)
	}
}

// besideStuck says what she can hear and see until somebody comes.
func (t *talk) besideStuck(said string) Reply {
	if len(t.plan.Rows) == 0 {
		return t.say(said + "Meanwhile, say help to hear what you can ask.")
	}
	if t.here() < 0 {
		return t.say(said + "Meanwhile, say help to hear what you can ask, or next row to hear how it begins.")
	}
	choices := []Choice{choiceFor(listen.Explain), choiceFor(listen.Again), choiceFor(listen.Picture), choiceFor(listen.Back)}
	return Reply{Said: said + "Meanwhile, say explain to hear how its stitches are worked, again to hear the " + t.word() + " once more, or picture to see it.", Choices: choices}
}
