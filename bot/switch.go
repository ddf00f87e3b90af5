package bot

import (
	"cmp"
	"context"
	"regexp"
	"slices"
	"strings"

	"clew/reader/listen"
	"clew/session"
)

// switchWords are the ways to name the knit-along that one goes to. Every word
// counts, and what they name has to be one that the member has joined.
var switchWords = regexp.MustCompile(`^(?:please )?(?:(?:can|could) you |i want to |let us |let me )?(?:switch|change|swap)(?: me)?(?: back)?(?: over)? to (?:the )?(.+?)(?: please)?$`)

// switchName gives the words that name a knit-along to switch to, or nothing.
func switchName(words string) string {
	if m := switchWords.FindStringSubmatch(bare(words)); m != nil {
		return m[1]
	}
	return ""
}

// joinName gives the words that name a knit-along to join, or nothing.
func joinName(words string) string {
	if name, ok := strings.CutPrefix(strings.TrimSuffix(bare(words), " please"), "join "); ok {
		return name
	}
	return ""
}

// name gives what the request names to switch to or to join, in bare words, or
// nothing.
func (t *talk) name() string {
	switch h := t.ask.Heard; {
	case h != nil && (h.Intent == listen.Switch || h.Intent == listen.Join):
		return bare(t.ask.Name)
	case h != nil:
		return ""
	}
	return cmp.Or(switchName(t.ask.Words), joinName(t.ask.Words))
}

// namedAmong gives the knit-alongs that may be named, alone or by asking for
// it: those of that title; else, where the words ask for nothing else, those whose
// title has all of the words.
func (t *talk) namedAmong(of []session.About) []session.About {
	said := cmp.Or(t.name(), bare(t.ask.Words))
	var found, like []session.About
	for i, name := range titlesOf(of) {
		switch {
		case named(said, name) || named(said, of[i].Title):
			found = append(found, of[i])
		case likened(said, name):
			like = append(like, of[i])
		}
	}
	if asked := t.hears().Intent; len(found) == 0 && (asked == listen.None || asked == listen.Switch) {
		return like
	}
	return found
}

// named says that words are a name, with or without what such names begin and
// end with.
func named(said, name string) bool { return said != "" && plainName(said) == plainName(name) }

// likened says that every word is one of a name's.
func likened(said, name string) bool {
	words, of := strings.Fields(plainName(said)), strings.Fields(plainName(name))
	return len(words) > 0 && !slices.ContainsFunc(words, func(word string) bool { return !slices.Contains(of, word) })
}

// plainName gives a name in bare words, as it is said: "the keeper's hat" and
// "keepers hat" are one.
func plainName(name string) string {
	said := strings.ReplaceAll(bare(name)+" ", " s ", "s ")
	said = strings.TrimPrefix(strings.TrimSpace(said), "the ")
	return strings.TrimSuffix(strings.TrimSuffix(said, " knit along"), " knitalong")
}

// mine gives the knit-alongs that the member has joined and may be told of where
// she asks.
func (t *talk) mine(ctx context.Context) ([]session.About, error) {
	person, err := t.store.Person(ctx, t.ask.Member)
	if err != nil {
		return nil, err
	}
	mine, err := t.store.Abouts(ctx, person.Knitalongs)
	if t.ask.Server != "" { // nobody there need know of others
		mine, _ = apart(mine, func(a session.About) bool { return a.Server == t.ask.Server })
	}
	sortByTitle(mine)
	return mine, err
}

// switchesByTitle says that the words ask for a knit-along by the title of one
// that the member has joined. The title may have the words of another request in
// it, so this is looked at before those.
func (t *talk) switchesByTitle(ctx context.Context) (bool, error) {
	if switchName(t.ask.Words) == "" || t.ask.Server == "" && t.about.Server == "" {
		return false, nil
	}
	mine, err := t.mine(ctx)
	if err != nil || len(t.namedAmong(mine)) == 0 {
		return false, err
	}
	t.heard = listen.Heard{Intent: listen.Switch, Sure: true}
	return true, nil
}

// joinsByTitle says that the words ask to join the knit-along by its title,
// whatever else the title says.
func (t *talk) joinsByTitle() bool {
	name := joinName(t.ask.Words)
	if name == "" || !t.byName && !named(name, t.about.Title) {
		return false
	}
	t.heard = listen.Heard{Intent: listen.Join, Sure: true}
	return true
}

// switching answers one who asks which knit-along she is on, or wants to be on
// another.
func (t *talk) switching(ctx context.Context) (Reply, error) {
	if t.ask.Server == "" && t.about.Server == "" {
		return t.say("This conversation is about " + titleOf(t.about) + " alone. Nothing has moved."), nil
	}
	mine, err := t.mine(ctx)
	if err != nil {
		return Reply{}, err
	}
	found := t.namedAmong(mine)
	if len(found) == 1 {
		return t.switchTo(ctx, found[0].ID)
	}
	asked := ""
	if name := t.name(); name != "" && len(found) == 0 {
		asked = "You have joined no knit-along called " + nameOf(name) + ". "
	}
	open, _ := apart(mine, func(a session.About) bool { return !a.Closed || a.ID == t.about.ID })
	on := slices.IndexFunc(open, func(a session.About) bool { return a.ID == t.about.ID })
	switch {
	case len(open) == 0:
		return Reply{Said: asked + "You have not joined a knit-along here. Nothing has moved. Say join to join one.", Choices: joinAlone}, nil
	case len(open) == 1:
		return t.say(asked + "You have joined one knit-along, " + titleOf(open[0]) + ". Nothing has moved."), nil
	case on < 0:
		return Reply{Said: asked + t.asksWhich(open), Choices: switchChoices(open)}, nil
	}
	said, here := titlesOf(open), titlesOf(open)[on]
	others, _ := apart(switchChoices(open), func(c Choice) bool { return c.Value != t.about.ID })
	return Reply{
		Said: asked + "You are on " + here + ". You have also joined " + list(slices.Delete(said, on, on+1), "and") +
			". Nothing has moved. To change, say switch to, and the name.",
		Choices: others,
	}, nil
}

// switchTo makes a knit-along the one that the member's requests are about, and
// says where she is in it.
func (t *talk) switchTo(ctx context.Context, id string) (Reply, error) {
	t.heard = listen.Heard{Intent: listen.Switch, Sure: true}
	t.keep(id)
	if err := t.visit(ctx, true); err != nil {
		return Reply{}, err
	}
	if !t.state.Joined {
		return t.notJoined(), nil
	}
	if t.before.answered && !t.before.saved {
		return t.where(), nil
	}
	if !t.before.answered {
		if err := t.store.Prefer(ctx, t.ask.Member, session.Preferences{On: id}); err != nil {
			return Reply{}, err
		}
	}
	t.saved = true
	said := "You are now on " + titleOf(t.about) + ". "
	if t.ask.Server != "" && t.ask.Channel != t.about.Channel {
		said += "In the channel of another knit-along, your requests are about that one. "
	}
	if t.about.Closed {
		return Reply{Said: said + t.closedWords()}, nil
	}
	reply := t.where()
	reply.Said = said + t.tellChanged(ctx, reply.Said)
	return reply, nil
}
