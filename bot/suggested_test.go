package bot_test

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

var (
	// What stands behind these is said as it is, up to where the sentence or its part ends.
	suggests = regexp.MustCompile(`(?:[Ss]ay|such as) ([^.;:?]+)`)
	// What it is good for, in the same sentence.
	purpose = regexp.MustCompile(`,? (?:to (?:hear|go back|have|change|begin|take|stand)|for the next|and for the|when you) .*$`)
	// What stands behind "say" and is no phrase.
	noPhrase = regexp.MustCompile(`^(?:what|how|that|it|one of|your own|size and one|which|too|once more)\b`)
	lead     = regexp.MustCompile(`^(?:for example|it like) `)
)

// suggested gives the phrases that an answer says can be said.
func suggested(said string) []string {
	var phrases []string
	for _, m := range suggests.FindAllStringSubmatch(said, -1) {
		phrase := lead.ReplaceAllString(purpose.ReplaceAllString(m[1], ""), "")
		parting := regexp.MustCompile(`, or |, and | or |, `) // a list
		if _, example, ok := strings.Cut(" "+phrase, " such as "); ok || strings.HasPrefix(m[0], "such as") {
			parting = regexp.MustCompile(`, or `)
			if ok {
				phrase = example
			}
		}
		for _, one := range parting.Split(phrase, -1) {
			if one != "" && !noPhrase.MatchString(one) {
				phrases = append(phrases, one)
			}
		}
	}
	return phrases
}

// What Clew suggests to say is understood where it was suggested, and not answered
// by the same words again.
func TestSuggestedPhrases(t *testing.T) {
	var files []string
	for _, lead := range []string{"18", "19", "20", "21", "22"} {
		found, err := filepath.Glob("testdata/evenings/" + lead + "-*.txtar")
		if err != nil || len(found) != 1 {
			t.Fatalf("found %v for evening %s (%v)", found, lead, err)
		}
		files = append(files, found...)
	}
	tried := 0
	for _, file := range files {
		archive, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		e := &transcript{t: t, house: newHouse(t), patterns: map[string]string{}, seats: map[string]*seat{}}
		told := archive.Files[len(archive.Files)-1]
		for _, f := range archive.Files[:len(archive.Files)-1] {
			e.patterns[f.Name] = string(f.Data)
		}
		for line := range strings.Lines(string(told.Data)) {
			line = strings.TrimRight(line, "\n")
			e.line(line)
			who, words, ok := strings.Cut(line, ": ")
			if !ok || strings.HasPrefix(line, " ") || strings.HasPrefix(line, "#") || strings.HasPrefix(line, "[") {
				continue
			}
			member := session.Member("terminal:" + who)
			tried += e.saysBack(t, file, member, words)
		}
	}
	if tried < 50 {
		t.Errorf("found %d phrases, expected fifty and more", tried)
	}
}

// What the answers to one who knits in a group suggest is understood as what they
// say comes of it.
func TestSuggestedInGroup(t *testing.T) {
	h := newHouse(t)
	ask := h.inGroup(t)
	say := func(words string) bot.Reply {
		ask.Words = words
		r := h.Answer(t.Context(), ask)
		checkSaid(t, words, r)
		return r
	}
	understood := func(words, suggests string, want listen.Intent) {
		t.Helper()
		if r := say(words); r.Intent != want || r.Failed != nil || strings.HasPrefix(r.Said, "I did not understand") {
			t.Errorf("%q suggests %q, which is answered as %s, want %s: %q", words, suggests, r.Intent, want, r.Said)
		}
	}
	say("next row")
	for _, request := range listen.Requests() {
		if !request.Host && request.Intent != listen.Join { // she has joined
			understood(request.Say, "help", request.Intent)
			if request.Intent == listen.Leave {
				say("join")
			}
		}
	}
	for words, intents := range map[string][]listen.Intent{
		"settings":          {listen.Steps, listen.Settings, listen.Settings, listen.Settings, listen.Settings},
		"I am stuck":        {listen.Explain},
		"hide me":           {listen.Settings},
		"show my name":      {listen.Settings},
		"no rests":          {listen.Settings},
		"remind me to rest": {listen.Settings},
	} {
		phrases := suggested(say(words).Said)
		if len(phrases) != len(intents) {
			t.Errorf("%q suggests %q, want %d phrases", words, phrases, len(intents))
			continue
		}
		for i, phrase := range phrases {
			understood(phrase, words, intents[i])
		}
	}
}

// saysBack says each phrase that the last answer suggests. What those move is taken
// back.
func (e *transcript) saysBack(t *testing.T, file string, member session.Member, words string) (tried int) {
	t.Helper()
	lines := strings.Split(strings.TrimRight(e.out.String(), "\n"), "\n")
	var answer []string
	for i := len(lines) - 1; i >= 0 && strings.HasPrefix(lines[i], "  "); i-- {
		answer = append([]string{strings.TrimSpace(lines[i])}, answer...)
	}
	said := unwrapped(strings.Join(answer, " "))
	for _, phrase := range suggested(said) {
		before := e.place(t, e.id, member)
		state, err := e.store.State(t.Context(), e.id, member)
		if err != nil {
			t.Fatal(err)
		}
		r := e.Answer(t.Context(), bot.Ask{Member: member, Knitalong: e.id, Words: phrase})
		tried++
		if strings.HasPrefix(r.Said, "I did not understand") || r.Said == said {
			t.Errorf("%s: %q is answered with %q, which suggests %q, and that is answered %q", filepath.Base(file), words, said, phrase, r.Said)
		}
		e.putBack(t, member, before, state.Settings)
	}
	return tried
}

// unwrapped puts together words that were parted at a hyphen at the end of a line.
func unwrapped(text string) string { return hyphenEnd.ReplaceAllString(text, "$1-$2") }

var hyphenEnd = regexp.MustCompile(`(\pL)- (\pL)`)

// putBack brings a member back to a place and to settings.
func (e *transcript) putBack(t *testing.T, member session.Member, place session.Place, settings map[string]string) {
	t.Helper()
	now, err := e.store.State(t.Context(), e.id, member)
	if err != nil {
		t.Fatal(err)
	}
	back := map[string]string{}
	for name := range now.Settings {
		back[name] = settings[name]
	}
	for name, value := range settings {
		back[name] = value
	}
	if len(back) > 0 {
		if _, err := e.store.Set(t.Context(), e.id, member, back, ""); err != nil {
			t.Fatal(err)
		}
	}
	if now.Place != place {
		e.Answer(t.Context(), bot.Ask{Member: member, Knitalong: e.id, Words: "undo"})
		if found := e.place(t, e.id, member); found != place {
			t.Fatalf("undo leads to %+v, expected %+v", found, place)
		}
	}
}
