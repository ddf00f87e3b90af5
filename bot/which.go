package bot

import (
	"cmp"
	"context"
	"slices"
	"sync"

	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// which finds the knit-along that a request is about, where it names none. Where
// that can't be told it gives no id, and a reply that asks.
func (t *talk) which(ctx context.Context) (id string, asks Reply, err error) {
	if t.ask.Server == "" {
		return t.whichInPrivate(ctx)
	}
	person, held, err := t.store.Around(ctx, t.ask.Member, t.ask.Server)
	if err != nil {
		return "", Reply{}, err
	}
	here, others := apart(held, func(h session.Held) bool { return h.Channel == t.ask.Channel })
	switch len(here) {
	case 0:
		if id, err := t.closedHere(ctx, person); id != "" || err != nil {
			return id, Reply{}, err
		}
	case 1:
		return here[0].ID, Reply{}, nil
	}
	joined := func(h session.Held) bool { return slices.Contains(person.Knitalongs, h.ID) }
	mineHere, othersHere := apart(here, joined)
	mine, _ := apart(held, joined)
	if t.wantsToJoin() {
		_, othersThere := apart(others, joined)
		return t.whichToJoin(ctx, person, mine, othersHere, othersThere)
	}
	if len(mineHere) == 0 {
		mineHere = mine
	}
	switch {
	case len(mineHere) > 0:
		return t.whichOfMine(ctx, person, idsOf(mineHere))
	case len(held) > 0:
		return t.whichToJoin(ctx, person, nil, held, nil)
	}
	return t.noneHeld(ctx, person)
}

// closedHere gives the newest closed knit-along of this channel that the member is
// in, or nothing. In its channel she means that one, and
// hears that it is closed: nothing moves in another.
func (t *talk) closedHere(ctx context.Context, person session.Person) (string, error) {
	if len(person.Knitalongs) == 0 {
		return "", nil
	}
	abouts, err := t.store.Abouts(ctx, person.Knitalongs)
	closed, _ := apart(abouts, func(a session.About) bool {
		return a.Closed && a.Server == t.ask.Server && a.Channel == t.ask.Channel
	})
	if err != nil || len(closed) == 0 {
		return "", err
	}
	return slices.MaxFunc(closed, func(a, b session.About) int { return a.Started.Compare(b.Started) }).ID, nil
}

// whichInPrivate finds it among all that the member has joined.
func (t *talk) whichInPrivate(ctx context.Context) (string, Reply, error) {
	person, err := t.store.Person(ctx, t.ask.Member)
	if err != nil {
		return "", Reply{}, err
	}
	if len(person.Knitalongs) > 0 {
		return t.whichOfMine(ctx, person, person.Knitalongs)
	}
	if len(person.Told) > 0 {
		return t.whichToldOf(ctx, person.Told)
	}
	return "", t.lost("You have not joined a knit-along. Nothing has moved. To join one, press Join under its card in your server, or use the command join there. Then write the words next row to me here.", nil), nil
}

// whichToldOf finds it among those that a member was told of who is in none: the
// one that she names, else the one that she was told of last. Where that was
// several together, she is asked.
func (t *talk) whichToldOf(ctx context.Context, told []session.Told) (string, Reply, error) {
	var ids, last []string
	for _, one := range told {
		ids = append(ids, one.ID)
		if one.At.Equal(told[0].At) {
			last = append(last, one.ID)
		}
	}
	abouts, err := t.store.Abouts(ctx, ids)
	if err != nil {
		return "", Reply{}, err
	}
	if named := t.namedAmong(abouts); len(named) == 1 {
		t.byName = true
		return named[0].ID, Reply{}, nil
	}
	if len(last) == 1 {
		return last[0], Reply{}, nil
	}
	near, _ := apart(abouts, func(a session.About) bool { return slices.Contains(last, a.ID) })
	sortByTitle(near)
	return "", t.lost(t.asksJoin("There are "+reader.Number(len(near))+" knit-alongs", near), joinChoices(near)), nil
}

// whichOfMine takes the only one of those that the member has joined, or the one
// that she is on, or asks. One that she is on is taken though it is closed: she
// is told so, and nothing is moved in another.
func (t *talk) whichOfMine(ctx context.Context, person session.Person, ids []string) (string, Reply, error) {
	if len(ids) == 1 {
		return ids[0], Reply{}, nil
	}
	if slices.Contains(ids, person.On) {
		return person.On, Reply{}, nil
	}
	abouts, err := t.store.Abouts(ctx, ids)
	if err != nil {
		return "", Reply{}, err
	}
	open, _ := apart(abouts, func(a session.About) bool { return !a.Closed })
	sortByTitle(open)
	switch named := t.namedAmong(abouts); {
	case len(named) == 1:
		reply, err := t.switchTo(ctx, named[0].ID)
		return "", reply, err
	case len(open) == 1:
		return open[0].ID, Reply{}, nil
	case len(open) == 0:
		return "", t.lost("The knit-alongs that you joined have been closed by their hosts. Nothing has moved, and your places are kept.", nil), nil
	}
	if t.hears().Intent == listen.Leave {
		return "", t.lost(t.asksWhich(open), titleChoices(open, listen.Leave, idValue)), nil
	}
	return "", t.lost(t.asksWhich(open), switchChoices(open)), nil
}

// whichToJoin finds the knit-along that a member wants to join: of this
// channel, else of this server; else one of hers, to be told that she has joined
// it. Where several could be meant, she is asked.
func (t *talk) whichToJoin(ctx context.Context, person session.Person, mine, here, others []session.Held) (string, Reply, error) {
	all, err := t.store.Abouts(ctx, append(idsOf(here), idsOf(others)...))
	if err != nil {
		return "", Reply{}, err
	}
	if named := t.namedAmong(all); len(named) == 1 {
		t.byName = true
		return named[0].ID, Reply{}, nil
	}
	sortByTitle(all)
	near, _ := apart(all, func(a session.About) bool { return a.Channel == t.ask.Channel })
	if len(near) == 0 && !slices.ContainsFunc(mine, func(h session.Held) bool { return h.Channel == t.ask.Channel }) {
		near = all
	}
	switch {
	case len(near) == 1:
		return near[0].ID, Reply{}, nil
	case len(near) > 1:
		for _, about := range near {
			t.offered = append(t.offered, about.ID)
		}
		return "", t.lost(t.asksJoin("There are "+reader.Number(len(near))+" knit-alongs here", near), joinChoices(near)), nil
	case len(mine) > 0:
		return t.whichOfMine(ctx, person, idsOf(mine))
	}
	return t.noneHeld(ctx, person)
}

// noneHeld answers where no knit-along is open in the server.
func (t *talk) noneHeld(ctx context.Context, person session.Person) (string, Reply, error) {
	abouts, err := t.store.Abouts(ctx, person.Knitalongs)
	if err != nil {
		return "", Reply{}, err
	}
	closed, _ := apart(abouts, func(a session.About) bool { return a.Server == t.ask.Server })
	switch here, _ := apart(closed, func(a session.About) bool { return a.Channel == t.ask.Channel }); {
	case len(closed) == 1:
		return closed[0].ID, Reply{}, nil
	case len(here) == 1:
		return here[0].ID, Reply{}, nil
	case len(closed) > 1:
		return "", t.lost("The knit-alongs that you joined here have been closed by their hosts. Nothing has moved, and your places are kept.", nil), nil
	}
	ended, err := t.endedHere(ctx)
	if err != nil {
		return "", Reply{}, err
	}
	if ended != nil {
		return "", t.lost(capital(titleOf(*ended))+" is closed: its host has ended it, so nobody can join it now. Nothing has moved.", nil), nil
	}
	return "", t.lost("There is no open knit-along here. Nothing has moved. A host starts one with the command knitalong.", nil), nil
}

// endedHere gives the newest closed knit-along of this channel, be she in it or not;
// nil for none.
func (t *talk) endedHere(ctx context.Context) (*session.About, error) {
	held, err := t.store.Closed(ctx, t.ask.Server)
	if err != nil {
		return nil, err
	}
	abouts, err := t.store.Abouts(ctx, idsOf(held))
	here, _ := apart(abouts, func(a session.About) bool {
		return a.Closed && a.Server == t.ask.Server && a.Channel == t.ask.Channel
	})
	if err != nil || len(here) == 0 {
		return nil, err
	}
	newest := slices.MaxFunc(here, func(a, b session.About) int { return a.Started.Compare(b.Started) })
	return &newest, nil
}

// lost answers where it is not known which knit-along is meant. What is about
// none is answered there too.
func (t *talk) lost(said string, choices []Choice) Reply {
	switch t.heard = t.hears(); t.heard.Intent {
	case listen.Help:
		return t.help(true, choices)
	case listen.Knitalong:
		said = hostsCommand
	default:
		t.heard = listen.Heard{Intent: listen.Unsure}
	}
	return Reply{Said: said, Choices: choices}
}

// hears is what was asked, as far as it can be told without a pattern.
func (t *talk) hears() listen.Heard {
	switch {
	case t.ask.Pressed != nil:
		return listen.Heard{Intent: t.ask.Pressed.Intent, Sure: true}
	case t.ask.Heard != nil:
		return *t.ask.Heard
	}
	if t.ear == nil {
		h := plainEar().Hear(t.ask.Words)
		t.ear = &h
	}
	return *t.ear
}

// plainEar knows the words that are the same for every pattern.
var plainEar = sync.OnceValue(func() *listen.Listener { return NewListener(nil) })

// wantsToJoin says that the member asks to join, with or without saying what.
func (t *talk) wantsToJoin() bool {
	return t.hears().Intent == listen.Join || joinName(t.ask.Words) != ""
}

// apart parts a list in two, by what is true of its entries.
func apart[T any](all []T, is func(T) bool) (yes, no []T) {
	for _, one := range all {
		if is(one) {
			yes = append(yes, one)
		} else {
			no = append(no, one)
		}
	}
	return yes, no
}

func idsOf(held []session.Held) []string {
	ids := make([]string, len(held))
	for i, h := range held {
		ids[i] = h.ID
	}
	return ids
}

// asksWhich asks which of several knit-alongs is meant.
func (t *talk) asksWhich(of []session.About) string {
	return "You have joined " + reader.Number(len(of)) + " knit-alongs: " + list(titlesOf(of), "and") +
		". Which one do you mean? Nothing has moved. Say switch to, and its name."
}

// asksJoin asks which of several a member wants to join.
func (t *talk) asksJoin(there string, of []session.About) string {
	return there + ": " + list(titlesOf(of), "and") +
		". Which one do you want to join? Nothing has moved. Say join, and its name."
}

// idValue opens the value of a choice to join that names the knit-along.
const idValue = "id:"

func joinChoices(of []session.About) []Choice { return titleChoices(of, listen.Join, idValue) }

func switchChoices(of []session.About) []Choice { return titleChoices(of, listen.Switch, "") }

// titleChoices gives one choice a knit-along, as many as there may be.
func titleChoices(of []session.About, intent listen.Intent, before string) []Choice {
	said := titlesOf(of)
	var choices []Choice
	for i, about := range of[:min(len(of), choicesMost)] {
		name := about.Title
		if said[i] != titleOf(about) { // another has the same
			name = said[i]
		}
		choices = append(choices, Choice{Label: label(name, said[i]), Intent: intent, Value: before + about.ID})
	}
	return distinct(choices)
}

// sortByTitle puts knit-alongs in the order in which they are told of: by title,
// and those of one title as they were started.
func sortByTitle(of []session.About) {
	names := map[string]string{}
	for _, about := range of {
		names[about.ID] = bare(titleOf(about))
	}
	slices.SortFunc(of, func(a, b session.About) int {
		return cmp.Or(cmp.Compare(names[a.ID], names[b.ID]), a.Started.Compare(b.Started), cmp.Compare(a.ID, b.ID))
	})
}

// titleOf says what a knit-along is called.
func titleOf(about session.About) string {
	if name := reader.Name(about.Title); name != "" {
		return name
	}
	return "this knit-along"
}

// titlesOf says what some knit-alongs are called, so that no two are called the
// same: of those of one title, the first is the one that was started first.
func titlesOf(of []session.About) []string {
	said, same := make([]string, len(of)), map[string][]int{}
	for i, about := range of {
		said[i] = titleOf(about)
		name := bare(said[i])
		same[name] = append(same[name], i)
	}
	for _, alike := range same {
		if len(alike) < 2 {
			continue
		}
		slices.SortFunc(alike, func(i, j int) int {
			return cmp.Or(of[i].Started.Compare(of[j].Started), cmp.Compare(of[i].ID, of[j].ID))
		})
		for place, i := range alike {
			said[i] += " the " + reader.Ordinal(place+1)
		}
	}
	return said
}
