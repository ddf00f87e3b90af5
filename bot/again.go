package bot

import "clew/reader/listen"

// recall finds what the event came to when it came before.
func (t *talk) recall() {
	if t.ask.Event != "" {
		t.key = eventKey(t.ask.Member, t.ask.Event)
		t.before, _ = t.recent.get(t.key)
		if forgot, ok := t.recent.get(forgotKey(t.ask.Member, t.before.knitalong)); ok && forgot.order > t.before.order {
			t.before.saved = false // the store does not know it any more
		}
	}
}

// keep remembers the knit-along that the request is about before anything is
// done there, so that the same event is about the same one, whatever comes of
// it.
func (t *talk) keep(id string) {
	t.ask.Knitalong = id
	if t.key != "" && !t.before.answered {
		t.recent.put(t.key, turn{knitalong: id})
	}
}

// answered remembers what the request came to.
func (t *talk) answered() {
	if t.key != "" && !t.before.answered {
		t.recent.put(t.key, turn{knitalong: t.about.ID, answered: true, saved: t.saved, joined: t.saved && t.heard.Intent == listen.Join})
	}
	if t.about.ID != "" && !t.state.Joined {
		t.recent.put(shownKey(t.ask.Member), turn{knitalong: t.about.ID})
	}
}

// idle says that the event came before and changed nothing, since it could not
// be served. So it changes nothing now that it could.
func (t *talk) idle() bool { return t.before.answered && !t.before.saved }

// changes says that what is asked changes something where it can be served.
func (t *talk) changes() bool {
	switch t.heard.Intent {
	case listen.Next, listen.Back, listen.Undo, listen.At, listen.Join, listen.Leave, listen.Steps, listen.Rows:
		return true
	case listen.Forget:
		return t.forgetsSurely()
	}
	return t.alters
}
