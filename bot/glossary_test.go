package bot_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"clew/bot"
	"clew/patterns/stitch"
	"clew/reader/listen"
)

// The stitches of the row come first, then the pattern's others; each can be
// asked about with what is put in.
func TestGlossary(t *testing.T) {
	h := newHouse(t)
	text := strings.Replace(short, "Cast on", "Abbreviation: knot = k1, yo, k2tog, k1\nCast on", 1) + "Round 4: *knot, p4; rep from * around.\n"
	id := h.knit(t, wren, text)
	ask := bot.Ask{Member: wren, Knitalong: id}
	offered := func(ask bot.Ask, typed string) []string {
		t.Helper()
		var found []string
		choices := h.Glossary(t.Context(), ask, typed)
		if len(choices) > 25 {
			t.Errorf("%q gives %d choices", typed, len(choices))
		}
		for _, c := range choices {
			if n := utf8.RuneCountInString(c.Label); n < 1 || n > 80 || c.Value == "" || len(c.Value) > 64 || c.Intent != listen.Explain {
				t.Errorf("%q gives the choice %+v", typed, c)
			}
			found = append(found, c.Label)
		}
		return found
	}
	expect := func(typed string, want ...string) {
		t.Helper()
		if found := offered(ask, typed); strings.Join(found, "\n") != strings.Join(want, "\n") {
			t.Errorf("%q gives %q, expected %q", typed, found, want)
		}
	}
	expect("k", "k: knit", "k2tog: knit two together", "knot")
	h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "put me at row 4 of the other band"})
	expect("k", "knot", "k: knit", "k2tog: knit two together")
	expect("2/2", "2/2 RC: two over two right cross", "2/2 LC: two over two left cross")
	expect("right cr", "2/2 RC: two over two right cross", "1/1 RC: one over one right cross", "2/1 RC: two over one right cross", "1/2 RC: one over two right cross", "3/3 RC: three over three right cross")
	expect("SSK", "ssk: slip, slip, knit") // it is in no row of the pattern
	expect("no such thing")
	expect(strings.Repeat("k", 6000))
	if found := offered(ask, ""); len(found) < 10 || found[0] != "knot" {
		t.Errorf("with nothing typed found %q", found)
	}
	for _, c := range h.Glossary(t.Context(), ask, "") {
		for _, asked := range []bot.Ask{
			{Heard: &listen.Heard{Intent: listen.Explain, Sure: true, Stitch: c.Value}},
			{Words: "explain " + c.Value},
		} {
			asked.Member, asked.Knitalong = wren, id
			if r := h.Answer(t.Context(), asked); r.Intent != listen.Explain || strings.Contains(r.Said, "do not know") {
				t.Errorf("%q can't be explained: %q", c.Value, r.Said)
			}
		}
	}
	for name, other := range map[string]bot.Ask{
		"a stranger": {Member: odo, Knitalong: id}, "no knit-along": {Member: odo}, "in an empty server": {Member: wren, Server: "s", Channel: "c"},
		"made up": {Member: wren, Knitalong: "{}"},
	} {
		if found := offered(other, "yo"); len(found) == 0 || !strings.HasPrefix(found[0], "yo") {
			t.Errorf("%s is offered %q", name, found)
		}
		if found := offered(other, "knot"); len(found) != 0 {
			t.Errorf("%s is offered the pattern's own %q", name, found)
		}
	}
}

// What a command names to be explained is found as it is written, and else as
// people say it.
func TestExplainByName(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, short)
	explain := func(name string) string {
		heard := listen.Heard{Intent: listen.Explain, Sure: true, Stitch: name}
		reply := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Heard: &heard})
		if reply.Intent != listen.Explain {
			t.Errorf("%q is taken for %s", name, reply.Intent)
		}
		return reply.Said
	}
	for _, name := range append(stitch.Names(), "2/1 RPC") {
		if said := explain(name); strings.Contains(said, "do not know") {
			t.Errorf("%q is not known: %q", name, said)
		}
	}
	if found, want := explain("purl two together"), explain("p2tog"); found != want {
		t.Errorf("a name as it is said is explained as %q, expected %q", found, want)
	}
	if said := explain("snorkel"); !strings.Contains(said, "do not know") {
		t.Errorf("what is no stitch is explained as %q", said)
	}
}
