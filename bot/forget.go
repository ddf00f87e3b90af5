package bot

import (
	"context"
	"errors"
	"slices"
	"strings"

	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// forgetSurely are the words that delete. They say all that they do, so nothing
// has to be remembered between the asking and the answer, and no yes that was
// meant for something else deletes.
var forgetSurely = map[string]bool{"yes forget me": true, "yes please forget me": true, "yes forget me please": true}

var forgetChoice = Choice{Label: "Yes, forget me", Intent: listen.Forget, Value: "yes"}

func (t *talk) forgetsSurely() bool {
	if t.ask.Pressed != nil {
		return t.ask.Pressed.Intent == listen.Forget && t.ask.Pressed.Value == forgetChoice.Value
	}
	return forgetSurely[bare(t.ask.Words)]
}

// forgets says that somebody asks to have forgotten what is kept of her, and no
// knit-along whose title says so.
func (t *talk) forgets() bool {
	if t.ask.Pressed == nil && t.ask.Heard == nil && (joinName(t.ask.Words) != "" || switchName(t.ask.Words) != "") {
		return false
	}
	return t.forgetsSurely() || t.hears().Intent == listen.Forget
}

// forget deletes all that is kept of somebody, in every knit-along. She is asked
// first: dictated words may have been meant for another, and nothing brings it back.
func (t *talk) forget(ctx context.Context) (Reply, error) {
	t.heard = listen.Heard{Intent: listen.Forget, Sure: true}
	if t.before.reply != nil {
		return *t.before.reply, nil
	}
	others, err := t.heldHere(ctx)
	if err != nil {
		return Reply{}, err
	}
	kept, err := t.store.Kept(ctx, t.ask.Member, others...)
	if err != nil {
		return Reply{}, err
	}
	here, err := t.tellable(ctx, kept.Knitalongs)
	switch {
	case err != nil:
		return Reply{}, err
	case len(kept.Knitalongs) == 0 && !kept.Person:
		return Reply{Said: "Nothing is kept of you, so nothing was deleted."}, nil
	case !t.forgetsSurely() || t.before.answered:
		return Reply{Said: forgetQuestion(kept, here), Choices: []Choice{forgetChoice}}, nil
	}
	gone, err := t.store.ForgetAll(ctx, t.ask.Member, others...)
	if err != nil {
		return Reply{}, err
	}
	t.saved, t.forgotten, t.about, t.state = true, true, session.About{}, session.State{}
	reply := Reply{Said: forgottenWords(gone, here)}
	if t.ask.Server != "" { // in private it is not known any more what she may join
		reply.Choices = joinAlone
	}
	t.reply = &reply
	return reply, nil
}

// heldHere gives the ids of the knit-alongs that may keep something of her which
// she is not known to have joined: those of the server, and the one that was given.
func (t *talk) heldHere(ctx context.Context) ([]string, error) {
	var ids []string
	if t.ask.Knitalong != "" { // which may have been made up
		switch _, err := t.store.About(ctx, t.ask.Knitalong); {
		case err == nil:
			ids = append(ids, t.ask.Knitalong)
		case !errors.Is(err, session.ErrInvalid) && !errors.Is(err, session.ErrUnknownKnitalong):
			return nil, err
		}
	}
	if t.ask.Server == "" {
		return ids, nil
	}
	_, held, err := t.store.Around(ctx, t.ask.Member, t.ask.Server)
	if err != nil {
		return nil, err
	}
	closed, err := t.store.Closed(ctx, t.ask.Server)
	return append(append(ids, idsOf(held)...), idsOf(closed)...), err
}

// tellable gives the titles of the knit-alongs that may be told of where she asks,
// by id: in a server nobody need know of those elsewhere.
func (t *talk) tellable(ctx context.Context, kept []session.ForgottenIn) (map[string]string, error) {
	ids := make([]string, len(kept))
	for i, in := range kept {
		ids[i] = in.ID
	}
	abouts, err := t.store.Abouts(ctx, ids)
	if t.ask.Server != "" {
		abouts, _ = apart(abouts, func(a session.About) bool { return a.Server == t.ask.Server })
	}
	sortByTitle(abouts)
	here := map[string]string{}
	for i, title := range titlesOf(abouts) {
		here[abouts[i].ID] = title
	}
	return here, err
}

// forgetQuestion names what is going to be deleted.
func forgetQuestion(kept session.Forgotten, here map[string]string) string {
	const sure = " Say yes, forget me to do it."
	where := titlesAnd(kept.Knitalongs, here)
	if where == "" {
		return "This deletes for good which knit-alongs you were told of, and what you chose for all of them." + sure
	}
	said := "This deletes " + keptWords(kept.Knitalongs...) + " in " + where + " for good."
	if placed, _ := apart(kept.Knitalongs, func(in session.ForgottenIn) bool { return in.Place || in.Moves > 0 }); len(placed) > 0 {
		said = "This deletes your place, your settings and your moves in " + titlesAnd(placed, here) + " for good."
	}
	helped, _ := apart(kept.Knitalongs, func(in session.ForgottenIn) bool { return in.Helps })
	hosted, _ := apart(kept.Knitalongs, func(in session.ForgottenIn) bool { return in.Hosts })
	if len(helped) > 0 {
		said += " You are no helper of " + titlesAnd(helped, here) + " then."
	}
	if len(hosted) > 0 {
		said += " Nobody stands as the host of " + titlesAnd(hosted, here) + " then."
	}
	return said + sure
}

// titlesAnd names knit-alongs, and counts those that may not be named.
func titlesAnd(of []session.ForgottenIn, here map[string]string) string {
	var names []string
	for _, in := range of {
		if title, ok := here[in.ID]; ok {
			names = append(names, title)
		}
	}
	slices.Sort(names)
	if more := len(of) - len(names); more > 0 {
		names = append(names, reader.Number(more)+" "+plural("knit-along", more)+" elsewhere")
	}
	return namesUpTo(names, len(names))
}

// forgottenWords says what was deleted: of each knit-along that may be named, and of
// the others together.
func forgottenWords(gone session.Forgotten, here map[string]string) string {
	var lines []string
	var others []session.ForgottenIn
	for _, in := range gone.Knitalongs {
		if title, ok := here[in.ID]; ok {
			lines = append(lines, "in "+title+" is deleted: "+keptWords(in)+".")
		} else {
			others = append(others, in)
		}
	}
	slices.Sort(lines)
	if len(others) > 0 {
		lines = append(lines, "in "+titlesAnd(others, here)+" is deleted: "+keptWords(others...)+".")
	}
	if len(lines) == 0 {
		return "All that was kept of you is deleted: which knit-alongs you were told of, and what you chose for all of them."
	}
	said := "All that was kept of you " + strings.Join(lines, " What was kept of you ")
	if gone.Person {
		said += " Gone, too, is which knit-alongs you know, and what you chose for all of them."
	}
	return said
}

// keptWords says what was kept of somebody in some knit-alongs.
func keptWords(in ...session.ForgottenIn) string {
	var all session.ForgottenIn
	for _, one := range in {
		all.Place, all.Moves = all.Place || one.Place, all.Moves+one.Moves
		all.Helps, all.Hosts = all.Helps || one.Helps, all.Hosts || one.Hosts
	}
	var said []string
	if all.Place {
		said = append(said, "your place", "your settings")
	}
	if all.Moves > 0 {
		said = append(said, reader.Number(all.Moves)+" "+plural("move", all.Moves))
	}
	if all.Helps {
		said = append(said, "your name as a helper")
	}
	if all.Hosts {
		said = append(said, "your name as the host")
	}
	return list(said, "and")
}
