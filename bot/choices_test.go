package bot_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

var sized = strings.Replace(short, "Cast on: 24", "Sizes: narrow (wide, 4-6 years)\nCast on: 24 (48, 72)", 1)

// press asks with a choice that may have been made up.
func (h *house) press(t *testing.T, id string, c bot.Choice, mark string) bot.Reply {
	t.Helper()
	r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Pressed: &c, Mark: mark})
	checkSaid(t, fmt.Sprintf("%s %q", c.Intent, c.Value), r)
	return r
}

// What was made up moves nothing, and is answered in a sentence.
func TestForged(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, sized)
	h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "put me at row 2 of the band"})
	here := bot.MarkOf("Band", 2, 0)
	huge := strings.Repeat("9", 64)
	for _, c := range []struct {
		intent      listen.Intent
		value, mark string
		want        string // how the answer begins
	}{
		{listen.Next, "", bot.MarkOf("Band", 1, 0), "That button stood under an earlier row, so nothing has moved."},
		{listen.Next, "", bot.MarkOf("Other band", 2, 0), "That button stood under an earlier row"},
		{listen.Next, "", "forged", "That button stood under an earlier row"},
		{listen.Next, "", "..", "That button stood under an earlier row"},
		{listen.Back, "", strings.Repeat("z", 24), "That button stood under an earlier row"},
		{listen.Undo, "", "0", "That button stood under an earlier row"},
		{listen.At, "1", "0", "That button stood under an earlier row"},
		{listen.At, "", here, "Which round? Nothing has moved. Say its number too, such as put me at round twelve."},
		{listen.At, "x", here, "Which round? Nothing has moved. Say its number too, such as put me at round twelve."},
		{listen.At, "-1", here, "Which round? Nothing has moved. Say its number too, such as put me at round twelve."},
		{listen.At, huge, here, "Which round? Nothing has moved. Say its number too, such as put me at round twelve."},
		{listen.At, "1.00000000", here, "Which round? Nothing has moved. Say its number too, such as put me at round twelve."},
		{listen.At, "1.", here, "Which round? Nothing has moved. Say its number too, such as put me at round twelve."},
		{listen.At, "0", here, "There is no round zero in this pattern. Nothing has moved."},
		{listen.At, "77", here, "There is no round seventy-seven in this pattern. Nothing has moved."},
		{listen.Row, "12.", "", "Which round? Say its number too, such as read round twelve."},
		{listen.Row, huge, "", "Which round? Say its number too, such as read round twelve."},
		{listen.Count, "many", "", "There should be twenty-four stitches"},
		{listen.Count, "9999", "", "There should be twenty-four stitches"},
		{listen.Fit, "00000000", "", "You knit size narrow."},
		{listen.Fit, "wide", "", "You knit size narrow."},
		{listen.Fit, "out..", "", "What that button offered can't be left out"},
		{listen.Fit, "out.0-2.00000000", "", "What that button offered can't be left out"},
		{listen.Fit, "out.0-2.e3b0c442", "", "What that button offered can't be left out"}, // the key of no groups
		{listen.Fit, "out.-1-2_x.e3b0c442", "", "What that button offered can't be left out"},
		{listen.Fit, "out..e3b0c442", "", "Nothing is left out. Nothing has moved."},
		{listen.Fit, "measures", "", "The pattern gives no gauge"},
		{listen.Fit, "spare", "", "The pattern has no rounds that may be left out."},
		{listen.Picture, "", "", "Rounds one to three of Band"},
		{listen.Picture, "chart.p.00000000", "", "Rounds one to three of Band"},
		{listen.Picture, "fabric.1.00000000", "", "The fabric of rounds one and two of Band"},
		{listen.Picture, "x.1.2.3", "", "Rounds one to three of Band"},
		{listen.Yarn, "100", "", "To hear whether yours will do"},
		{listen.Settings, "enormous", "", "You hear whole rounds"},
		{listen.Forget, "", "", "This deletes your place"},
		{listen.Forget, "Yes", "", "This deletes your place"},
		{listen.Switch, "no such", "", "There is no knit-along here. Nothing has moved."},
		{listen.Switch, "", "", "This conversation is about Two Bands alone. Nothing has moved."},
		{listen.Switch, "k", "", "There is no knit-along here. Nothing has moved."},
		{listen.Join, "id:k", "", "There is no knit-along here. Nothing has moved."},
		{listen.Join, "id:", "", "There is no knit-along here. Nothing has moved."},
		{listen.Join, "id:{}:\n", "", "There is no knit-along here. Nothing has moved."},
		{listen.Knitalong, "close", "", "That can't be asked here yet. Nothing has moved."},
		{listen.Unsure, "", "", "I did not understand that, and nothing has moved."},
		{"nonsense", "", "", "That can't be asked here yet. Nothing has moved."},
		{"", "", "", "That can't be asked here yet. Nothing has moved."},
	} {
		before := h.dump(t)
		if r := h.press(t, id, bot.Choice{Intent: c.intent, Value: c.value}, c.mark); !strings.HasPrefix(r.Said, c.want) {
			t.Errorf("%s %q under %q is answered %q, expected %q", c.intent, c.value, c.mark, r.Said, c.want)
		}
		after := h.dump(t)
		if c.intent == listen.Count { // a count that is wrong is what a host wants to know of
			delete(after, "clew:{"+id+"}:stumbles")
		}
		if diff := cmp.Diff(before, after); diff != "" {
			t.Errorf("%s %q under %q changed the store (-before +after):\n%s", c.intent, c.value, c.mark, diff)
		}
	}
	if r := h.press(t, id, bot.Choice{Intent: listen.Next}, here); !strings.HasPrefix(r.Said, "Round three, Band.") {
		t.Errorf("the button under the row is answered %q", r.Said)
	}
	other, _, _ := strings.Cut(bot.MarkOf("Other band", 0, 0), ".") // its key
	if r := h.press(t, id, bot.Choice{Intent: listen.At, Value: "2." + other}, ""); !strings.HasPrefix(r.Said, "You have moved. Round two, Other band.") {
		t.Errorf("a row of a section is answered %q", r.Said)
	}
}

// A stranger's press of what was made up joins nothing.
func TestForgedByAStranger(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, odo, sized)
	before := h.dump(t)
	for _, c := range []struct {
		choice bot.Choice
		want   string
	}{
		{bot.Choice{Intent: listen.Join, Value: "00000000"}, "That size is not in the pattern any more. Two Bands comes in narrow, wide and"},
		{bot.Choice{Intent: listen.Join, Value: "wide"}, "That size is not in the pattern any more."},
		{bot.Choice{Intent: listen.Next}, "You have not joined Two Bands. Nothing has moved."},
		{bot.Choice{Intent: listen.At, Value: "2.00000000"}, "You have not joined Two Bands."},
		{bot.Choice{Intent: listen.Fit, Value: "wide"}, "You have not joined Two Bands."},
		{bot.Choice{Intent: listen.Leave}, "You have not joined Two Bands."},
	} {
		if r := h.press(t, id, c.choice, "forged"); !strings.HasPrefix(r.Said, c.want) {
			t.Errorf("%+v is answered %q, expected %q", c.choice, r.Said, c.want)
		}
	}
	if diff := cmp.Diff(before, h.dump(t)); diff != "" {
		t.Errorf("the store changed (-before +after):\n%s", diff)
	}
}

// Every choice can be pressed, and does what its label says.
func TestChoicesDoWhatTheySay(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, sized)
	for _, c := range []struct{ words, label, want string }{
		{"next row", "Next row", "Round two, Band."},
		{"where am I", "Step by step", "From now on you hear each round step by step."},
		{"where am I", "Whole rows", "From now on you hear whole rounds."},
		{"settings", "Short crosses", "From now on you hear crosses by their names."},
		{"settings", "Usual crosses", "From now on you hear a cross spelled out where it first"},
		{"settings", "wide", "You now knit size wide."},
		{"size huge", "4-6 years", "You now knit size four to six years."},
		{"number 3", "Read row 3", "Round three, Band."},
		{"number 3", "Put me at row 3", "You have moved. Round three, Band."},
		{"go back 2 rows", "Put me at row 2", "You have moved. Round two, Band."},
		{"skip a row", "Next row", "Round three, Band."},
		{"forget me", "Yes, forget me", "All that was kept of you in Two Bands is deleted"},
		{"next row", "Join", "Two Bands comes in narrow, wide and"},
		{"join", "wide", "You have joined Two Bands in size wide."},
		{"leave", "Join", "Welcome back to Two Bands in size wide."},
	} {
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: c.words})
		checkChoices(t, c.words, r)
		pressed := false
		for _, choice := range r.Choices {
			if choice.Label != c.label {
				continue
			}
			pressed = true
			choice.Label = ""
			if got := h.press(t, id, choice, r.Mark); !strings.HasPrefix(got.Said, c.want) {
				t.Errorf("%q and then %q is answered %q, expected %q", c.words, c.label, got.Said, c.want)
			}
		}
		if !pressed {
			t.Errorf("%q gives the choices %v, expected %q among them", c.words, r.Choices, c.label)
		}
	}
}

var (
	markForm  = regexp.MustCompile(`^[A-Za-z0-9.]{0,24}$`)
	valueForm = regexp.MustCompile(`^[A-Za-z0-9.:_-]{0,64}$`)
)

// checkChoices holds for whatever stands under a reply.
func checkChoices(t *testing.T, asked string, r bot.Reply) {
	t.Helper()
	if len(r.Choices) > 25 || !markForm.MatchString(r.Mark) {
		t.Errorf("%q gives %d choices under the mark %q", asked, len(r.Choices), r.Mark)
	}
	seen := map[string]bool{}
	for _, c := range r.Choices {
		if n := utf8.RuneCountInString(c.Label); n < 1 || n > 80 || !valueForm.MatchString(c.Value) || seen[c.Label] {
			t.Errorf("%q gives the choice %+v, which is too long or stands twice", asked, c)
		}
		seen[c.Label] = true
	}
}

// A mark is short, whatever the names and numbers, and tells rows and steps
// apart.
func TestMarkOf(t *testing.T) {
	seen := map[string]string{}
	for _, section := range []string{"", "Band", "band", strings.Repeat("long name ", 25), "🧶"} {
		for _, row := range []int{0, 1, 11, 5000} {
			for _, step := range []int{0, 1, 35, 36, 1 << 20} {
				mark, at := bot.MarkOf(section, row, step), fmt.Sprint(section, row, step)
				if !markForm.MatchString(mark) || seen[mark] != "" {
					t.Errorf("%s has the mark %q, that of %q", at, mark, seen[mark])
				}
				seen[mark] = at
			}
		}
	}
}

// Titles, sizes and sections of any kind can be said, and stand on buttons.
func TestHostileNames(t *testing.T) {
	for name, title := range map[string]string{
		"markup":    "**Hat** <@123> `x` [y](http://z) #1 > q | ||s||",
		"digits":    strings.Repeat("9", 256),
		"emoji":     "🧶 a 🧦",
		"marks":     "e\u0301\u0301\u0301\u0301 zalgo\u0489\u0489\u0489",
		"direction": "abc\u202edef\u2066ghi",
		"empty":     "a\u200b\u200d\u00ad",
		"letters":   strings.Repeat("w", 256),
		"script":    "שלום עולם",
	} {
		t.Run(name, func(t *testing.T) {
			h := newHouse(t)
			pattern := []byte(strings.NewReplacer("narrow", "n\u202e**arrow**", "Other band", "<@1> band `x`").Replace(sized))
			order := bot.Order{Deed: bot.Start, Member: odo, Manages: true, Server: "s", Channel: "c", Title: title, Pattern: pattern, File: title + "`\n`.txt", Event: "s1"}
			r := h.Direct(t.Context(), order)
			if r.Invite == nil {
				t.Fatalf("nothing is started: %q\n%s", r.Said, r.Report)
			}
			sayable(t, r.Said)
			sayable(t, r.Invite.Said)
			order.Channel, order.Event, order.Title = "d", "s2", title[1:]
			h.Direct(t.Context(), order)
			ask := bot.Ask{Member: wren, Server: "s", Channel: "e"}
			for i, words := range []string{"next row", "join", title, "switch to " + title, "switch", "explain " + title, "read row 3 of the " + title} {
				ask.Words, ask.Event = words, fmt.Sprint(i)
				r := h.Answer(t.Context(), ask)
				sayable(t, r.Said)
				checkChoices(t, words, r)
			}
			for _, channel := range []string{"c", "d"} {
				r := h.Answer(t.Context(), bot.Ask{Member: wren, Server: "s", Channel: channel, Words: "join in size wide"})
				sayable(t, r.Said)
			}
			r = h.Answer(t.Context(), bot.Ask{Member: wren, Words: "next row"})
			sayable(t, r.Said)
			checkChoices(t, "next row", r)
		})
	}
}

// sayable holds for whatever is said of names that somebody made up.
func sayable(t *testing.T, said string) {
	t.Helper()
	if found := regexp.MustCompile(`[^\p{L}\p{M} ,.;:'?!-]`).FindString(said); found != "" || said == "" || strings.Contains(said, "  ") {
		t.Errorf("this can't be said for %q: %q", found, said)
	}
}

// Help tells of every request of the table, in its order: at first no more than
// is remembered, with a way to hear the rest that leads there by words and by a
// button.
func TestHelpIsTheTable(t *testing.T) {
	h := newHouse(t)
	ask := bot.Ask{Member: wren, Server: "s", Channel: "c"}
	asks := func(a bot.Ask, words string) bot.Reply {
		a.Words = words
		r := h.Answer(t.Context(), a)
		checkSaid(t, words, r)
		checkChoices(t, words, r)
		return r
	}
	first, more := asks(ask, "help"), asks(ask, "more help")
	if n := len(strings.Fields(first.Said)); n > 55 || !strings.HasSuffix(first.Said, " Say more help to hear the rest.") {
		t.Errorf("help has %d words, or does not tell how to hear the rest: %q", n, first.Said)
	}
	if len(first.Choices) == 0 || first.Choices[0].Label != "More help" {
		t.Fatalf("help offers %v", first.Choices)
	}
	pressed := ask
	pressed.Pressed = &first.Choices[0]
	if r := h.Answer(t.Context(), pressed); r.Said != more.Said || r.Intent != listen.Help {
		t.Errorf("the button leads to %q, the words to %q", r.Said, more.Said)
	}
	for _, often := range []bool{true, false} {
		said := map[bool]string{true: first.Said, false: more.Said}[often]
		for _, request := range listen.Requests() {
			if request.Intent == listen.Help || request.Often != often {
				continue
			}
			told := request.Say
			if request.Host {
				told = "command " + request.Name
			}
			told += " to " + strings.ToLower(request.Does[:1]) + strings.TrimSuffix(request.Does[1:], ".")
			_, after, ok := strings.Cut(said, told)
			if !ok {
				t.Errorf("help does not tell, or not in order, %q: %q", told, said)
				continue
			}
			said = after
		}
	}
	ask = bot.Ask{Member: wren, Knitalong: h.knit(t, wren, short)}
	if solo := asks(ask, "help"); !strings.HasPrefix(solo.Said, "Say next row to go on") || len(solo.Choices) != 6 {
		t.Errorf("one who knits by herself is told %q, with %v", solo.Said, solo.Choices)
	}
	if solo := asks(ask, "more help").Said; strings.Contains(solo, "host") {
		t.Errorf("one who knits by herself is told %q", solo)
	}
}

// One who may join hears of that first, and there is room for the button that
// leads on, however many knit-alongs there are to join.
func TestHelpOfStrangers(t *testing.T) {
	h := newHouse(t)
	for i := range 26 {
		h.order(t, bot.Order{Deed: bot.Start, Member: odo, Manages: true, Pattern: []byte(short), Title: "Hat " + strings.Repeat("x", i+1), Event: fmt.Sprint(i)})
		if i != 0 && i != 25 {
			continue
		}
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: "wednesday", Words: "help"})
		checkSaid(t, "help", r)
		checkChoices(t, "help", r)
		if !strings.HasPrefix(r.Said, "Say join to take part in a knit-along, or come back to it. Say next row to") || r.Choices[0].Label != "More help" {
			t.Errorf("with %d to join, a stranger is told %q with %v", i+1, r.Said, r.Choices)
		}
	}
}

// In private, a knit-along of a server is for those who have a place in it, or
// were answered about it there.
func TestPrivate(t *testing.T) {
	h := newHouse(t)
	r := h.Direct(t.Context(), bot.Order{Deed: bot.Start, Member: odo, Manages: true, Server: "s", Channel: "c", Pattern: []byte(sized), Event: "start"})
	id := r.Knitalong
	ask := func(member session.Member, a bot.Ask) string {
		t.Helper()
		a.Member = member
		reply := h.Answer(t.Context(), a)
		checkSaid(t, a.Words, reply)
		return reply.Said
	}
	join := &bot.Choice{Intent: listen.Join}
	if said := ask(wren, bot.Ask{Knitalong: id, Pressed: join}); !strings.HasPrefix(said, "There is no knit-along here.") {
		t.Errorf("one who was never there joins by %q", said)
	}
	if said := ask(wren, bot.Ask{Words: "join"}); !strings.HasPrefix(said, "You have not joined a knit-along.") {
		t.Errorf("one who was never there is answered %q", said)
	}
	ask(wren, bot.Ask{Server: "s", Channel: "c", Words: "join"})
	if said := ask(wren, bot.Ask{Words: "wide"}); !strings.HasPrefix(said, "You have joined Two Bands in size wide.") {
		t.Errorf("the answer to which size, given in private, is answered %q", said)
	}
	if said := ask(wren, bot.Ask{Words: "next row"}); !strings.Contains(said, "Round one, Band.") {
		t.Errorf("in private she hears %q", said)
	}
	if said := ask("other:wren", bot.Ask{Knitalong: h.knit(t, wren, short), Pressed: join}); !strings.HasPrefix(said, "There is no knit-along here.") {
		t.Errorf("a member of another platform joins one who knits by herself, by %q", said)
	}
}
