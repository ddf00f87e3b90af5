package bot

import (
	"context"
	"errors"
	"strings"

	"clew/patterns"
	"clew/reader/listen"
	"clew/session"
)

// stranger answers one who has not joined: she may join, in the size that she
// names, and nothing else.
func (t *talk) stranger(ctx context.Context) (Reply, error) {
	if err := t.understandStranger(ctx); err != nil {
		return Reply{}, err
	}
	switch {
	case t.heard.Intent == listen.Forget: // of a word that only the pattern's ear knows
		return t.forget(ctx)
	case t.heard.Intent == listen.Leave:
		return t.leaveAgain(ctx)
	case t.heard.Intent == listen.Help:
		return t.help(t.about.Server != "", joinAlone), nil
	case t.heard.Intent == listen.Switch, t.heard.Intent == listen.None && switchName(t.ask.Words) != "":
		return t.switching(ctx)
	case t.heard.Intent == listen.Knitalong && t.about.Server != "":
		return Reply{Said: hostsCommand, Choices: joinAlone}, nil
	case t.about.Closed:
		return Reply{Said: t.closedWords()}, nil
	}
	return t.joining(ctx)
}

// understandStranger finds what a stranger asks.
func (t *talk) understandStranger(ctx context.Context) error {
	switch {
	case t.ask.Pressed != nil:
		t.heard = listen.Heard{Intent: t.ask.Pressed.Intent, Sure: true}
	case t.ask.Heard != nil:
		t.heard = *t.ask.Heard
	default:
		if switches, err := t.switchesByTitle(ctx); switches || err != nil || t.joinsByTitle() {
			return err
		}
		return t.listen(ctx)
	}
	return nil
}

// joining lets a stranger join, once it is known in which size.
func (t *talk) joining(ctx context.Context) (Reply, error) {
	pattern, err := t.pattern(ctx, revision{t.ask.Knitalong, t.about.Revision})
	if err != nil {
		return Reply{}, err
	}
	size, which := sizeToJoin(pattern, t.ask.Words), ""
	if t.ask.Heard != nil {
		if size = sizeNamed(pattern, bare(t.ask.Name)); size == "" && t.ask.Name != "" {
			which = "There is no size called " + nameOf(t.ask.Name) + ". "
		}
	}
	if p := t.ask.Pressed; p != nil && p.Intent == listen.Join && p.Value != "" {
		if size = sizeOfKey(pattern, p.Value); size == "" {
			which = "That size is not in the pattern any more. "
		}
	}
	known := t.state.Section != "" // she was here before, and her size is kept
	switch id, answers := t.answersWhichSize(); {
	case answers && id == t.about.ID && size == "" && t.heard.Intent != listen.Join && !known:
		return t.asksWhichSize(pattern, "There is no size called "+nameOf(t.ask.Words)+". "), nil
	case t.heard.Intent != listen.Join && size == "":
		return t.notJoined(), nil
	case size == "" && len(pattern.Sizes) > 1 && !known:
		return t.asksWhichSize(pattern, which), nil
	case t.before.answered: // she did not join by it, or has left since
		return t.notJoined(), nil
	}
	t.toJoin.forget(t.ask.Member)
	t.heard = listen.Heard{Intent: listen.Join, Sure: true}
	wish := session.Joining{Member: t.ask.Member, Name: keptName(t.ask.Nick), Event: t.ask.Event}
	moved, err := t.join(ctx, t.about, pattern, size, wish)
	if err != nil {
		return Reply{}, err
	}
	if !moved.Joined { // the event had come before, and she has left since
		return t.notJoined(), nil
	}
	t.saved = true
	if err := t.refresh(ctx); err != nil {
		return Reply{}, err
	}
	said := "You have joined "
	if known {
		said = "Welcome back to "
	}
	said += titleOf(t.about)
	if sizes := t.plan.Pattern.Sizes; len(sizes) > 1 {
		said += " in size " + nameOf(sizes[t.plan.Size])
	}
	return t.joined(ctx, answer{Before: said + ". ", Begun: t.here() >= 0})
}

// joined keeps an answer to a request to join, so that the same event gets it
// again, and tells it.
func (t *talk) joined(ctx context.Context, a answer) (Reply, error) {
	if t.ask.Event != "" {
		t.ask.Event += joinedEnd
	}
	a, err := t.settle(ctx, "join", func() (answer, error) {
		a.To = t.state.Place
		return a, nil
	})
	if err != nil {
		return Reply{}, err
	}
	return t.tell(ctx, a)
}

func (t *talk) notJoined() Reply {
	return Reply{Said: "You have not joined " + titleOf(t.about) + ". Nothing has moved. Say join to join it.", Choices: joinAlone}
}

// sizeToJoin gives the size that the answer to "which size do you knit" names,
// or that is named together with joining, or nothing.
func sizeToJoin(p *patterns.Pattern, words string) string {
	said := strings.TrimSuffix(bare(words), " please")
	for _, lead := range []string{"join in ", "join as ", "join ", ""} {
		rest, ok := strings.CutPrefix(said, lead)
		if !ok {
			continue
		}
		if size := sizeNamed(p, strings.TrimPrefix(rest, "the ")); size != "" {
			return size
		}
		if size := sizeAsked(p, rest); size != "" {
			return size
		}
	}
	return ""
}

// join puts a member before the first row of a knit-along, in one of the
// pattern's sizes; empty is the first. One who has joined before keeps her
// place.
func (b *Bot) join(ctx context.Context, about session.About, pattern *patterns.Pattern, size string, wish session.Joining) (session.Moved, error) {
	wish.Place = session.Place{Section: pattern.Sections[0].Name, Revision: about.Revision, Size: size}
	if size == "" && len(pattern.Sizes) > 0 {
		wish.Place.Size = pattern.Sizes[0]
	}
	laid, err := b.planOf(ctx, about.ID, wish.Place)
	if err != nil {
		return session.Moved{}, err
	}
	wish.All, wish.At = laid.Stitches(), b.now()
	return b.store.Join(ctx, about.ID, wish)
}

// joinAgain is for one who has joined already: what a join that broke off has
// left undone is done now.
func (t *talk) joinAgain(ctx context.Context) (Reply, error) {
	if !t.before.answered {
		wish := session.Joining{Member: t.ask.Member, Place: t.state.Place, Name: keptName(t.ask.Nick), Event: t.ask.Event, At: t.now()}
		if _, err := t.store.Join(ctx, t.ask.Knitalong, wish); err != nil {
			return Reply{}, err
		}
		t.saved = true // the event is, and what was left undone
	}
	said := "You have joined already. "
	if size := t.sizeToJoinIn(); size != "" && size != t.at.Size {
		said = "You have joined already, in size " + nameOf(t.at.Size) + ". To change it, say size " + nameOf(size) + ". "
	}
	return t.joined(ctx, t.stay(said+t.whereWords()))
}

// sizeToJoinIn gives the size that one who is in already names in joining, or
// nothing.
func (t *talk) sizeToJoinIn() string {
	switch p := t.ask.Pressed; {
	case p != nil:
		return sizeOfKey(t.plan.Pattern, p.Value)
	case t.ask.Heard != nil:
		return sizeNamed(t.plan.Pattern, bare(t.ask.Name))
	}
	return sizeToJoin(t.plan.Pattern, t.ask.Words)
}

func (t *talk) leave(ctx context.Context) (Reply, error) {
	switch {
	case t.before.answered && t.state.Joined:
		return t.where(), nil
	case t.before.answered && !t.before.saved:
		return t.notJoined(), nil
	case !t.before.answered:
		if err := t.store.Leave(ctx, t.ask.Knitalong, t.ask.Member, t.ask.Event); err != nil {
			return Reply{}, err
		}
	}
	t.saved, t.state.Joined = true, false
	back := "say join"
	if t.ask.Server == "" && t.about.Server != "" { // here it would be about another that she has joined
		back = "say join in its channel"
	}
	return Reply{Said: "You have left " + titleOf(t.about) + ". Your place is kept; " + back + " to come back to it.", Choices: leftChoices}, nil
}

// leftChoices stand under the answer that one has left: her place is kept.
var leftChoices = []Choice{joinAlone[0], {Label: "Forget me", Intent: listen.Forget}}

// leaveAgain is for one who is not in the knit-along: the same event again is
// answered again, and leaving that broke off is ended.
func (t *talk) leaveAgain(ctx context.Context) (Reply, error) {
	reply, err := t.leave(ctx)
	if errors.Is(err, session.ErrNotJoined) {
		return t.notJoined(), nil
	}
	return reply, err
}
