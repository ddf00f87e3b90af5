package discord_test

import (
	"bytes"
	"fmt"
	"maps"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/rs/zerolog"

	"clew/bot"
	"clew/bot/discord/discordtest"
	"clew/patterns"
	"clew/session"
)

// A shadow is a bot with a database of its own, which is asked in plain words
// what members ask through the platform. What it answers is what they should
// hear.
type shadow struct {
	*bot.Bot
	store *session.Store
	asked int
}

func (h *house) shadow() *shadow {
	h.t.Helper()
	client, err := session.Connect("redis://" + h.redis.Addr + "/1")
	if err != nil {
		h.t.Fatal(err)
	}
	h.t.Cleanup(func() { closeIt(h.t, client) })
	store := session.Open(client)
	return &shadow{Bot: bot.New(store, h.now, h.newID, zerolog.Nop()), store: store}
}

// follow begins a knit-along of which there is one already.
func (s *shadow) follow(h *house, about session.About) {
	h.t.Helper()
	text, err := h.store.Pattern(h.t.Context(), about.ID, 0)
	if err == nil {
		err = s.store.Start(h.t.Context(), about, text)
	}
	if err != nil {
		h.t.Fatal(err)
	}
}

func (s *shadow) ask(h *house, about session.About, p *discordtest.Person, words string) bot.Reply {
	s.asked++
	return s.Answer(h.t.Context(), bot.Ask{
		Member: member(p), Knitalong: about.ID, Server: about.Server, Channel: about.Channel, Words: words, Event: fmt.Sprint("shadow", s.asked),
	})
}

// A pencil keeps a place as anybody would on paper: an index in the rows, -1
// before the first and their number after the last.
type pencil struct {
	rows []*patterns.Row
	row  int
	past []int
}

func newPencil(t *testing.T, text, size string) *pencil {
	t.Helper()
	pattern, problems := patterns.Read([]byte(text))
	if patterns.HasErrors(problems) {
		t.Fatalf("the pattern has errors: %v", problems)
	}
	plan, err := pattern.LayOut(patterns.Choice{Size: size})
	if err != nil {
		t.Fatal(err)
	}
	return &pencil{rows: plan.Rows, row: -1}
}

func (p *pencil) goTo(row int) {
	if row != p.row {
		p.past = append(p.past, p.row)
		p.past = p.past[max(0, len(p.past)-session.UndoDepth):]
		p.row = row
	}
}

// do does what a request does, whose number is that of a row in the section.
func (p *pencil) do(what string, number int) {
	switch what {
	case "next":
		p.goTo(min(p.row+1, len(p.rows)))
	case "back":
		p.goTo(max(p.row-1, -1))
	case "undo":
		if n := len(p.past); n > 0 {
			p.row, p.past = p.past[n-1], p.past[:n-1]
		}
	case "at":
		section := p.section()
		p.goTo(slices.IndexFunc(p.rows, func(r *patterns.Row) bool { return r.Section.Name == section && r.Number == number }))
	}
}

func (p *pencil) section() string {
	return p.rows[min(max(p.row, 0), len(p.rows)-1)].Section.Name
}

// number is a row's in the section, 0 before the first of all.
func (p *pencil) number() int {
	if p.row < 0 {
		return 0
	}
	return p.rows[min(p.row, len(p.rows)-1)].Number
}

// numbers are the rows of the section, in order.
func (p *pencil) numbers() []int {
	var all []int
	for _, r := range p.rows {
		if r.Section.Name == p.section() {
			all = append(all, r.Number)
		}
	}
	return all
}

// near is the number of a row of the section, three rows away at most.
func (w *walker) near() int {
	all := w.numbers()
	here := max(slices.Index(all, w.number()), 0)
	return all[min(max(here+w.random.IntN(7)-3, 0), len(all)-1)]
}

// A wish is something to ask in one of several ways.
type wish struct {
	command, words, button, option string // words has a verb for the option's number; button and option may be empty
	often                          int
}

var wishes = []wish{
	{"next", "next row", "Next row", "", 24},
	{"again", "again", "Again", "", 3},
	{"back", "back", "Back", "", 4},
	{"undo", "undo", "", "", 3},
	{"where", "where am I", "", "", 2},
	{"explain", "explain that", "Explain", "", 2},
	{"settings", "settings", "", "", 1},
	{"catchup", "catch me up", "", "", 1},
	{"help", "help", "", "", 1},
	{"picture", "show me the picture", "", "", 2},
	{"fit", "fit", "", "", 1},
	{"yarn", "yarn", "", "", 1},
	{"count", "I count %d", "", "stitches", 2},
	{"row", "read row %d", "", "number", 2},
	{"at", "put me at row %d", "", "number", 1},
}

// A walker knits along.
type walker struct {
	*house
	*pencil
	shadow  *shadow
	about   session.About
	channel *discordtest.Channel
	person  *discordtest.Person
	random  *rand.Rand
	ways    map[string]int // how often each way of asking was taken
}

// step asks for something in some way, and checks what is heard and where it
// leads.
func (w *walker) step() {
	w.t.Helper()
	ask := w.wish()
	number := 0
	switch ask.option {
	case "stitches":
		number = w.rows[min(max(w.row, 0), len(w.rows)-1)].After.Count() + w.random.IntN(5) - 2
	case "number":
		number = w.near()
	}
	words := ask.words
	if ask.option != "" {
		words = fmt.Sprintf(words, number)
	}
	e := w.somehow(ask, words, number)
	want := w.shadow.ask(w.house, w.about, w.person, words)
	w.sees(e, words, want)
	w.do(ask.command, number)
	at, shadowed := w.state(w.about.ID, w.person), w.shadow.state(w)
	if at.Section != w.section() || at.Row != w.number() {
		w.t.Fatalf("after %q %s is at row %d of %s, expected row %d of %s", words, w.person.Name, at.Row, at.Section, w.number(), w.section())
	}
	if at.Place != shadowed.Place || at.Done != shadowed.Done {
		w.t.Fatalf("after %q %s is at %+v, expected %+v", words, w.person.Name, at, shadowed)
	}
}

func (s *shadow) state(w *walker) session.State {
	w.t.Helper()
	state, err := s.store.State(w.t.Context(), w.about.ID, member(w.person))
	if err != nil {
		w.t.Fatal(err)
	}
	return state
}

func (w *walker) wish() wish {
	all := 0
	for _, one := range wishes {
		all += one.often
	}
	n := w.random.IntN(all)
	for _, one := range wishes {
		if n -= one.often; n < 0 {
			return one
		}
	}
	panic("unreachable")
}

// somehow asks by words, by a command or by a button.
func (w *walker) somehow(ask wish, words string, number int) *discordtest.Event {
	w.t.Helper()
	var options []discordtest.Opt
	if ask.option != "" {
		options = append(options, discordtest.With(ask.option, number))
	}
	ways := map[string]func() *discordtest.Event{
		"words in private": func() *discordtest.Event { return w.Says(w.person, words) },
		"a mention":        func() *discordtest.Event { return w.SaysIn(w.channel, w.person, "@clew "+words) },
		"a command":        func() *discordtest.Event { return w.Uses(w.channel, w.person, ask.command, options...) },
		"a command in private": func() *discordtest.Event {
			return w.Uses(w.DM(w.person), w.person, ask.command, options...)
		},
	}
	if ask.button != "" {
		ways["a button"] = func() *discordtest.Event { return w.Press(w.person, ask.button) }
	}
	names := slices.Sorted(maps.Keys(ways))
	way := names[w.random.IntN(len(names))]
	if ask.button != "" && w.random.IntN(3) == 0 {
		way = "a button"
	}
	w.ways[way]++
	return ways[way]()
}

// sees compares an answer with the reply that it should show.
func (w *walker) sees(e *discordtest.Event, words string, want bot.Reply) {
	w.t.Helper()
	messages := e.Answers(1)
	for said(messages) != want.Said && strings.HasPrefix(want.Said, said(messages)) {
		messages = e.Answers(len(messages) + 1)
	}
	if heard := said(messages); heard != want.Said {
		w.t.Fatalf("%s asked %q and heard\n%q, expected\n%q", w.person.Name, words, heard, want.Said)
	}
	last := messages[len(messages)-1]
	var labels []string
	for _, c := range want.Choices {
		labels = append(labels, c.Label)
	}
	slices.Sort(labels) // menus stand in rows of their own
	if shown := slices.Sorted(slices.Values(append(last.Buttons(), last.Options()...))); !slices.Equal(shown, labels) {
		w.t.Errorf("%q has the buttons %q, expected %q", words, shown, labels)
	}
	if want.Card != nil {
		small := unescape.ReplaceAllString(last.Small(), "$1")
		for _, part := range []string{want.Card.Section, want.Card.Count, "Written: " + want.Card.Written} {
			if !strings.Contains(small, part) {
				w.t.Errorf("%q has small below it %q, expected %q in it", words, small, part)
			}
		}
	}
	if (want.Picture != nil) != (len(last.Files) > 0) {
		w.t.Errorf("%q has %d files, expected a picture: %t", words, len(last.Files), want.Picture != nil)
	} else if p := want.Picture; p != nil {
		if f := w.pictured(last); f.Name != p.Name || f.Description != p.Alt || !bytes.Equal(f.Data, p.PNG) {
			w.t.Errorf("%q shows %s, described by %q, expected %s, %q", words, f.Name, f.Description, p.Name, p.Alt)
		}
	}
	private := last.Guild == ""
	if !private && !last.Ephemeral {
		w.t.Errorf("%q was answered for all to see in #%s", words, e.Channel.Name)
	}
}

// unescape is a backslash before a mark of ASCII.
var unescape = regexp.MustCompile("\\\\([!-/:-@\\[-`{-~])")

// Two knitters, one from a file and one from a sample, ask for fifty rows in
// all ways, mixed at random from a seed. Each hears what the bot says to the
// words, and is where a pencil has her.
func TestFiftyRows(t *testing.T) {
	h := opened(t)
	guild := h.Guild("Tibberhythe")
	wednesday, thursday := guild.Channel("wednesday"), guild.Channel("thursday")
	ana := guild.Member("Ana Pell", discordtest.ManageEvents)
	cap, hat := sample(t, "lee-cap"), sample(t, "float-hat")
	h.hears(h.Uses(wednesday, ana, "knitalong start", discordtest.With("pattern", h.Attach("lee-cap.txt", []byte(cap)))), "Lee Side Cap has begun")
	h.hears(h.Uses(thursday, ana, "knitalong start", discordtest.With("sample", "float-hat")), "has begun")
	shadow := h.shadow()
	ways := map[string]int{}
	for i, one := range []struct {
		name, text, size string
		channel          *discordtest.Channel
	}{{"Wren", cap, "medium", wednesday}, {"Odo Marsh", hat, "large", thursday}} {
		w := &walker{
			house: h, shadow: shadow, about: h.heldIn(one.channel), channel: one.channel, person: guild.Member(one.name),
			pencil: newPencil(t, one.text, one.size), random: rand.New(rand.NewPCG(3, uint64(i))), ways: ways,
		}
		shadow.follow(h, w.about)
		w.sees(h.Uses(one.channel, w.person, "join", discordtest.With("size", one.size)), "join", shadow.ask(h, w.about, w.person, "join "+one.size))
		asked := 0
		for w.row+1 < 50 {
			if asked++; asked > 300 {
				t.Fatalf("after %d requests %s is at row %d only", asked, one.name, w.row+1)
			}
			w.step()
		}
		t.Logf("%s asked for %d things", one.name, asked)
	}
	for _, way := range []string{"words in private", "a mention", "a command", "a command in private", "a button"} {
		if ways[way] < 5 {
			t.Errorf("%s was taken %d times: expected five at least", way, ways[way])
		}
	}
}
