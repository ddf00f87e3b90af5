package rest

import (
	"strings"
	"testing"

	"github.com/bwmarrin/discordgo"
	"pgregory.net/rapid"
)

func TestCharacters(t *testing.T) {
	for text, want := range map[string]int{"": 0, "Row six.": 8, "Tamsín": 6, "\u0065\u0301": 2, "🧶": 2, "k\xff": 2} {
		if got := Characters(text); got != want {
			t.Errorf("%q has %d characters, want %d", text, got, want)
		}
	}
}

// Whichever way the platform counts, it counts no more than we do.
func TestCharactersIsTheMost(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.String().Draw(rt, "text")
		if got := Characters(text); got < len([]rune(text)) {
			rt.Errorf("%d characters, fewer than the %d code points", got, len([]rune(text)))
		}
	})
}

func row(components ...discordgo.MessageComponent) []discordgo.MessageComponent {
	return []discordgo.MessageComponent{discordgo.ActionsRow{Components: components}}
}

func button(label, id string) discordgo.Button { return discordgo.Button{Label: label, CustomID: id} }

func buttons(n int) []discordgo.MessageComponent {
	var all []discordgo.MessageComponent
	for i := range n {
		all = append(all, button("Next row", "n"+strings.Repeat("x", i)))
	}
	return all
}

func menu(n int) discordgo.SelectMenu {
	m := discordgo.SelectMenu{CustomID: "m"}
	for i := range n {
		m.Options = append(m.Options, discordgo.SelectMenuOption{Label: "Wednesday shawl", Value: strings.Repeat("v", i+1)})
	}
	return m
}

// The sizes of Discord's developer documentation: Create Message, Component
// Reference, Uploading Files.
func TestSizes(t *testing.T) {
	k := func(n int) string { return strings.Repeat("k", n) }
	files := func(n, size int) []File {
		var all []File
		for range n {
			all = append(all, File{Name: "report.txt", Data: make([]byte, size)})
		}
		return all
	}
	rows := func(n int) []discordgo.MessageComponent {
		var all []discordgo.MessageComponent
		for i := range n {
			all = append(all, row(button("Again", "a"+k(i)))...)
		}
		return all
	}
	with := func(m discordgo.SelectMenu, change func(*discordgo.SelectMenu)) discordgo.SelectMenu {
		change(&m)
		return m
	}
	zero, three, minus := 0, 3, -1
	tests := []struct {
		name string
		m    Message
		want string // "" it is taken; else what the error says of it
	}{
		{"2000 characters", Message{Content: k(2000)}, ""},
		{"2001 characters", Message{Content: k(2001)}, "2001 characters; at most 2000"},
		{"1000 that may count twice", Message{Content: strings.Repeat("🧶", 1000)}, ""},
		{"1001 that may count twice", Message{Content: strings.Repeat("🧶", 1001)}, "2002 characters"},
		{"nothing", Message{}, "nothing in it"},
		{"blanks alone", Message{Content: " \n\t"}, "nothing in it"},
		{"buttons alone", Message{Components: rows(1)}, ""},
		{"a file alone", Message{Files: files(1, 1)}, ""},
		{"a nonce of 25", Message{Content: "k", Nonce: k(25)}, ""},
		{"a nonce of 26", Message{Content: "k", Nonce: k(26)}, "nonce has 26"},
		{"5 rows", Message{Components: rows(5)}, ""},
		{"6 rows", Message{Components: rows(6)}, "6 rows"},
		{"5 buttons", Message{Components: row(buttons(5)...)}, ""},
		{"6 buttons", Message{Components: row(buttons(6)...)}, "row 0: it has 6 components"},
		{"an empty row", Message{Components: row()}, "row 0: it has 0 components"},
		{"a button without a row", Message{Components: buttons(1)}, "component 0 is a discordgo.Button"},
		{"a row of rows", Message{Components: row(row(buttons(1)...)...)}, "only buttons and menus"},
		{"no row", Message{Components: []discordgo.MessageComponent{nil}}, "component 0 is a <nil>"},
		{"a row by its address", Message{Components: []discordgo.MessageComponent{&discordgo.ActionsRow{Components: buttons(6)}}}, "row 0: it has 6"},
		{"a nil row", Message{Components: []discordgo.MessageComponent{(*discordgo.ActionsRow)(nil)}}, "only rows"},
		{"a nil button", Message{Components: row((*discordgo.Button)(nil))}, "there is none"},
		{"a nil menu", Message{Components: row((*discordgo.SelectMenu)(nil))}, "there is none"},
		{"a label of 80", Message{Components: row(button(k(80), "n"))}, ""},
		{"a label of 81", Message{Components: row(button(k(81), "n"))}, "label has 81"},
		{"a label of 81, by its address", Message{Components: row(&discordgo.Button{Label: k(81), CustomID: "n"})}, "label has 81"},
		{"no label", Message{Components: row(button("", "n"))}, "label has 0"},
		{"a custom id of 100", Message{Components: row(button("Next row", k(100)))}, ""},
		{"a custom id of 101", Message{Components: row(button("Next row", k(101)))}, "custom id has 101"},
		{"no custom id", Message{Components: row(button("Next row", ""))}, "custom id has 0"},
		{"a custom id twice", Message{Components: append(row(button("Next row", "n")), row(button("Again", "n"))...)}, "row 1: component 0: its custom id stands"},
		{"a link", Message{Components: row(discordgo.Button{Label: "Page", Style: discordgo.LinkButton, URL: "https://clew.invalid/"})}, ""},
		{"two links", Message{Components: row(
			discordgo.Button{Label: "Page", Style: discordgo.LinkButton, URL: "https://clew.invalid/"},
			discordgo.Button{Label: "Page", Style: discordgo.LinkButton, URL: "https://clew.invalid/"})}, ""},
		{"a link to nowhere", Message{Components: row(discordgo.Button{Label: "Page", Style: discordgo.LinkButton})}, "link button"},
		{"a link with an id", Message{Components: row(discordgo.Button{Label: "Page", Style: discordgo.LinkButton, URL: "https://clew.invalid/", CustomID: "n"})}, "link button"},
		{"an address on a plain button", Message{Components: row(discordgo.Button{Label: "Page", URL: "https://clew.invalid/", CustomID: "n"})}, "only a link button"},
		{"a style that is none", Message{Components: row(discordgo.Button{Label: "Page", Style: 9, CustomID: "n"})}, "style, 9"},
		{"25 options", Message{Components: row(menu(25))}, ""},
		{"26 options", Message{Components: row(menu(26))}, "26 options"},
		{"26 options, by its address", Message{Components: row(new26())}, "26 options"},
		{"no options", Message{Components: row(menu(0))}, "0 options"},
		{"a menu beside a button", Message{Components: row(menu(2), button("Next row", "n"))}, "alone"},
		{"two menus", Message{Components: row(menu(2), with(menu(2), func(m *discordgo.SelectMenu) { m.CustomID = "o" }))}, "alone"},
		{"a menu of users", Message{Components: row(with(menu(1), func(m *discordgo.SelectMenu) { m.MenuType = discordgo.UserSelectMenu }))}, "menu's type, 5"},
		{"a menu's custom id of 101", Message{Components: row(with(menu(1), func(m *discordgo.SelectMenu) { m.CustomID = k(101) }))}, "custom id has 101"},
		{"a menu's id that a button has", Message{Components: append(row(button("Next row", "m")), row(menu(1))...)}, "custom id stands"},
		{"a placeholder of 150", Message{Components: row(with(menu(1), func(m *discordgo.SelectMenu) { m.Placeholder = k(150) }))}, ""},
		{"a placeholder of 151", Message{Components: row(with(menu(1), func(m *discordgo.SelectMenu) { m.Placeholder = k(151) }))}, "placeholder has 151"},
		{"none to choose", Message{Components: row(with(menu(2), func(m *discordgo.SelectMenu) { m.MinValues = &zero }))}, ""},
		{"fewer than none to choose", Message{Components: row(with(menu(2), func(m *discordgo.SelectMenu) { m.MinValues = &minus }))}, "from -1"},
		{"more to choose than there are", Message{Components: row(with(menu(2), func(m *discordgo.SelectMenu) { m.MaxValues = 3 }))}, "from 1 to 3"},
		{"at least three of two", Message{Components: row(with(menu(2), func(m *discordgo.SelectMenu) { m.MinValues = &three }))}, "from 3"},
		{"at least three, at most one", Message{Components: row(with(menu(5), func(m *discordgo.SelectMenu) { m.MinValues = &three }))}, "from 3 to 1"},
		{"an option of 100", Message{Components: row(with(menu(1), func(m *discordgo.SelectMenu) {
			m.Options[0] = discordgo.SelectMenuOption{Label: k(100), Value: k(100), Description: k(100)}
		}))}, ""},
		{"an option's label of 101", Message{Components: row(with(menu(1), func(m *discordgo.SelectMenu) { m.Options[0].Label = k(101) }))}, "option 0"},
		{"an option's value of 101", Message{Components: row(with(menu(1), func(m *discordgo.SelectMenu) { m.Options[0].Value = k(101) }))}, "option 0"},
		{"an option's description of 101", Message{Components: row(with(menu(1), func(m *discordgo.SelectMenu) { m.Options[0].Description = k(101) }))}, "description has 101"},
		{"an option without a label", Message{Components: row(with(menu(1), func(m *discordgo.SelectMenu) { m.Options[0].Label = "" }))}, "option 0"},
		{"an option without a value", Message{Components: row(with(menu(1), func(m *discordgo.SelectMenu) { m.Options[0].Value = "" }))}, "option 0"},
		{"an option's value twice", Message{Components: row(with(menu(2), func(m *discordgo.SelectMenu) { m.Options[1].Value = m.Options[0].Value }))}, "option 1"},
		{"10 files", Message{Files: files(10, 1)}, ""},
		{"11 files", Message{Files: files(11, 1)}, "11 files"},
		{"a file of 10 MiB", Message{Files: files(1, 10<<20)}, ""},
		{"a file of more", Message{Files: files(1, 10<<20+1)}, "10485761 bytes"},
		{"a file without a name", Message{Files: []File{{Data: []byte("k")}}}, "file 0: the name"},
		{"a file elsewhere", Message{Files: []File{{Name: "../report.txt"}}}, "file 0: the name"},
		{"a file with a header in its name", Message{Files: []File{{Name: "a\r\nX: y"}}}, "file 0: the name"},
		{"a file with a long description", Message{Files: []File{{Name: "a.png", Description: strings.Repeat("k", 1025)}}}, "file 0: its description has 1025 characters"},
		{"a file with a header in its type", Message{Files: []File{{Name: "a", ContentType: "text/plain\r\nX: y"}}}, "file 0: the content type"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			err := tt.m.check()
			if tt.want == "" {
				if err != nil {
					t.Errorf("error: %v", err)
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want %q in it", err, tt.want)
			}
		})
	}
}

func new26() *discordgo.SelectMenu { m := menu(26); return &m }

// Application Commands, Application Command Option Choice Structure.
func TestSuggestionSizes(t *testing.T) {
	k := strings.Repeat("k", 101)
	for _, tt := range []struct {
		name    string
		choices []Suggestion
		wrong   bool
	}{
		{"none", nil, false},
		{"25", repeat(Suggestion{"a", "b"}, 25), false},
		{"26", repeat(Suggestion{"a", "b"}, 26), true},
		{"100 characters", []Suggestion{{k[:100], k[:100]}}, false},
		{"a name of 101", []Suggestion{{k, "b"}}, true},
		{"a value of 101", []Suggestion{{"a", k}}, true},
		{"no name", []Suggestion{{"", "b"}}, true},
		{"no value", []Suggestion{{"a", ""}}, true},
	} {
		if err := checkSuggestions(tt.choices); (err != nil) != tt.wrong {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

func repeat(s Suggestion, n int) []Suggestion {
	all := make([]Suggestion, n)
	for i := range all {
		all[i] = s
	}
	return all
}
