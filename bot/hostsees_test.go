package bot_test

import (
	"encoding/csv"
	"fmt"
	"strings"
	"testing"
	"time"

	"clew/bot"
	"clew/session"
)

// crowd lets so many join in a channel, one after the other, and knit a few rows.
func (h *house) crowd(t *testing.T, server, channel string, n int, nick func(i int) string) {
	t.Helper()
	for i := range n {
		for j := range 2 + i%4 {
			words := "next"
			if j == 0 {
				words = "join"
			}
			r := h.Answer(t.Context(), bot.Ask{Member: session.Member(fmt.Sprintf("terminal:m%03d", i)), Nick: nick(i), Server: server, Channel: channel, Words: words, Event: fmt.Sprint(i, "-", j)})
			if r.Failed != nil {
				t.Fatal(r.Said)
			}
		}
	}
}

// Of a large group the host hears counts, and the names of those to look after.
func TestWhoOfMany(t *testing.T) {
	h := newHouse(t)
	h.holds(t, "one", "Hat", short)
	h.crowd(t, "harbour", "one", 26, func(i int) string { return fmt.Sprintf("Knitter %d", i) })
	who := func() string {
		r := h.Direct(t.Context(), bot.Order{Deed: bot.Who, Member: odo, Manages: true, Server: "harbour", Channel: "one"})
		checkSaid(t, "who", r)
		if len(r.Choices) != 1 || r.Choices[0].Value != string(bot.Export) {
			t.Errorf("the choices are %v, expected the table", r.Choices)
		}
		return r.Said
	}
	// i of 0..25 knits 1 + i%4 rows of three in Band, then in Other band: 19 are in Band, 6 in Other band.
	want := "Twenty-six knitters have joined Hat: twenty in Band and six in Other band. Nobody has been quiet for more than two weeks. Nobody has asked for help. The table has all of them."
	if said := who(); said != want {
		t.Errorf("answered %q, expected %q", said, want)
	}
	h.clock = h.clock.Add(15 * 24 * time.Hour)
	for i := range 12 {
		h.Answer(t.Context(), bot.Ask{Member: session.Member(fmt.Sprintf("terminal:m%03d", i)), Server: "harbour", Channel: "one", Words: "I am stuck", Event: fmt.Sprint("s", i)})
		h.clock = h.clock.Add(time.Minute)
	}
	said := who()
	for _, want := range []string{"Fourteen have been quiet for more than two weeks: Knitter twelve for two weeks, at round one of Band; ", "; and four more.",
		"Asked for help: Knitter eleven, one minute ago, at round one of Other band; ", "; and two more. The table"} {
		if !strings.Contains(said, want) {
			t.Errorf("answered %q, expected %q in it", said, want)
		}
	}
	if n := strings.Count(said, "Knitter"); n != 20 {
		t.Errorf("%d are named, expected ten of each kind: %q", n, said)
	}
}

// The table reads back as it was, with nothing in it that a program takes for a
// formula. The characters are those of OWASP's page on CSV injection, from memory:
// = + - @, tab and carriage return.
func TestExport(t *testing.T) {
	h := newHouse(t)
	h.holds(t, "one", "=Hat (2nd)", short)
	export := func() bot.Reply {
		r := h.Direct(t.Context(), bot.Order{Deed: bot.Export, Member: odo, Manages: true, Server: "harbour", Channel: "one"})
		checkSaid(t, "export", r)
		return r
	}
	if r := export(); r.Said != "Nobody has joined equals Hat second yet." || len(r.Files) > 0 {
		t.Errorf("of nobody it is %q with %v", r.Said, r.Files)
	}
	names := []string{"=cmd|' /C calc'!A0", "+1", "-2", "@SUM(A1)", "Ana, \"Pell\"", "Odo", "'quoted", "Wren=1", "\t=1", "\r=1"}
	h.crowd(t, "harbour", "one", len(names), func(i int) string { return names[i] })
	r := export()
	if len(r.Files) != 1 || r.Files[0].Name != "hat-2nd-members.csv" {
		t.Fatalf("the files are %+v", r.Files)
	}
	table, err := csv.NewReader(strings.NewReader(r.Files[0].Text)).ReadAll()
	if err != nil || len(table) != 1+len(names) {
		t.Fatalf("found %d lines, %v", len(table), err)
	}
	found := map[string]string{} // what stands for a name, by member
	for _, line := range table[1:] {
		found[line[1]] = line[0]
		for _, cell := range line {
			if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
				t.Errorf("the cell %q may be taken for a formula", cell)
			}
		}
		if at, err := time.Parse(time.RFC3339, line[8]); err != nil || !at.Equal(evening) {
			t.Errorf("last seen is %q, expected %v", line[8], evening)
		}
	}
	for i, want := range []string{"'=cmd|' /C calc'!A0", "'+1", "'-2", "'@SUM(A1)", "Ana, \"Pell\"", "Odo", "'quoted", "Wren=1"} {
		if name := found[fmt.Sprintf("terminal:m%03d", i)]; name != want {
			t.Errorf("%q stands as %q, expected %q", names[i], name, want)
		}
	}
	if line := strings.Join(table[1], "|"); !strings.Contains(line, "|Band|") {
		t.Errorf("a line is %q", line)
	}
}

// What the host sees and does is the host's: a member who asks hears so, and nothing
// changes. A helper may all of it.
func TestHostsDeedsAreHosts(t *testing.T) {
	h := newHouse(t)
	h.holds(t, "one", "Hat", short)
	h.crowd(t, "harbour", "one", 2, func(int) string { return "Secret Name" })
	before := h.dump(t)
	for _, deed := range []bot.Deed{bot.Correct, bot.Text, bot.Stumbles, bot.Who, bot.Export} {
		o := bot.Order{Deed: deed, Member: wren, Server: "harbour", Channel: "one", Pattern: []byte(sized), Event: "w" + string(deed)}
		r := h.Direct(t.Context(), o)
		if !strings.HasPrefix(r.Said, "Only a host of this knit-along can do that:") || len(r.Files) > 0 {
			t.Errorf("%s by a member is answered %q with %v", deed, r.Said, r.Files)
		}
		if len(before) != len(h.dump(t)) {
			t.Errorf("%s by a member changes the store", deed)
		}
	}
	h.Direct(t.Context(), bot.Order{Deed: bot.Helper, Helper: wren, Member: odo, Manages: true, Server: "harbour", Channel: "one"})
	for _, deed := range []bot.Deed{bot.Text, bot.Stumbles, bot.Who, bot.Export} {
		r := h.Direct(t.Context(), bot.Order{Deed: deed, Member: wren, Server: "harbour", Channel: "one"})
		checkSaid(t, string(deed), r)
		if r.Failed != nil || strings.HasPrefix(r.Said, "Only a host") {
			t.Errorf("%s by a helper is answered %q", deed, r.Said)
		}
	}
}
