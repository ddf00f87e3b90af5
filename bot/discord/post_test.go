package discord

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/bwmarrin/discordgo"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"clew/bot"
	"clew/bot/discord/rest"
	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/samples"
	"clew/reader"
	"clew/reader/listen"
)

var update = flag.Bool("update", false, "write the golden files anew")

// A row of a sample, or of a pattern's text, as the bot would answer with it.
type sampleRow struct {
	sample, text, size, section string
	number                      int
	form                        reader.CrossForm
	before                      string // said in front of the row
}

func (r sampleRow) reply(t *testing.T) bot.Reply {
	t.Helper()
	text := r.text
	if sample, ok := samples.Find(r.sample); ok {
		text = sample.Text
	}
	pattern, problems := patterns.Read([]byte(text))
	if patterns.HasErrors(problems) {
		t.Fatalf("the pattern has errors: %v", problems)
	}
	plan, err := pattern.LayOut(patterns.Choice{Size: r.size})
	if err != nil {
		t.Fatal(err)
	}
	i, ok := plan.Find(r.section, r.number)
	if !ok {
		t.Fatalf("%s has no row %d in %s", r.sample, r.number, r.section)
	}
	row, words := plan.Rows[i], bot.RowWords(plan, i, reader.Form{Crosses: r.form})
	kind := "Row"
	if row.Rounds {
		kind = "Round"
	}
	count := fmt.Sprintf("%d stitches", row.Before.Count())
	if row.Before.Count() != row.After.Count() {
		count += fmt.Sprintf(", then %d", row.After.Count())
	}
	return bot.Reply{
		Said: r.before + words.Paragraph(), Steps: words.StepTexts(),
		Card: &bot.Card{
			Section: row.Section.Name, Row: fmt.Sprintf("%s %d of %d", kind, row.Number, plan.SectionRows(row.Section.Name)),
			Count: count, Written: instruction.Print(row.Written, plan.Size),
		},
		Knitalong: quayID, Mark: bot.MarkOf(row.Section.Name, row.Number, 0), Choices: usual,
	}
}

// longRow is the first row of a sampler of crosses, invented for this test: with
// each of them spelled out it takes several messages.
func longRow(t *testing.T) bot.Reply {
	t.Helper()
	const strip = "p2, 2/2 RC, k1 tbl, 2/2 LC, p1, 2/1 RPC, yo, k2tog, 2/1 LPC, sl 1 wyib, "
	text := "Pattern: Quay Sampler\nWorked: in rows\nCast on: " + fmt.Sprint(9*21+1) + "\nNote: Tibberhythe and this pattern are invented.\n\nSection: Border\nRow 1 (RS): " +
		strings.Repeat(strip, 9) + "k1.\n"
	return sampleRow{text: text, section: "Border", number: 1, form: reader.AlwaysFull, before: "You are back. "}.reply(t)
}

// usual is what stands under a row.
var usual = []bot.Choice{
	{Label: "Next row", Intent: listen.Next}, {Label: "Again", Intent: listen.Again}, {Label: "Back", Intent: listen.Back},
	{Label: "Explain", Intent: listen.Explain}, {Label: "Step by step", Intent: listen.Steps},
}

// TestRenderedRows compares rows of the samples with golden files, which are
// read aloud before they are kept.
func TestRenderedRows(t *testing.T) {
	sizes := bot.Reply{Said: "Which size do you knit? Say one of these: child, medium or large.", Knitalong: quayID}
	for i, size := range []string{"child", "medium", "large"} {
		sizes.Choices = append(sizes.Choices, bot.Choice{Label: size, Intent: listen.Join, Value: fmt.Sprintf("%08x", i)})
	}
	which := bot.Reply{Said: "You are on several knit-alongs. Which one is this about?"}
	for i, title := range []string{"Float Hat", "Lee Side Cap", "Gull Kerchief", "Cobble Cowl", "Boathouse Socks", "*Mender* Mittens :yarn:"} {
		which.Choices = append(which.Choices, bot.Choice{Label: title, Intent: listen.Switch, Value: fmt.Sprintf("kabcdefghijk%c", 'a'+i)})
	}
	for name, reply := range map[string]bot.Reply{
		"cross":       sampleRow{sample: "float-hat", section: "Floats", number: 5}.reply(t),
		"flat":        sampleRow{sample: "lee-cap", size: "medium", section: "Wedges", number: 3}.reply(t),
		"lace":        sampleRow{sample: "gull-kerchief", section: "Gulls", number: 3}.reply(t),
		"several":     longRow(t),
		"sizes":       sizes,
		"which":       which,
		"notes":       {Said: "You have joined Lee Side Cap in size medium. The pattern has four notes; say notes to hear them.", Notes: []string{"Tibberhythe, its people and this pattern are invented.", "Leave the wraps as they are. They hide between the ridges."}, Knitalong: quayID, Choices: usual},
		"problems":    {Said: "That pattern has one problem, so nothing was opened.", Report: "quay-cap.txt:6:1: error: \"Guage\" is no key that Clew knows\n    Guage: 22 sts and 30 rounds = 10 cm\n    ^^^^^\n    Write \"Gauge\"."},
		"unreachable": {Said: "Your place can't be reached just now. Nothing has moved and nothing is lost. Please ask again in a moment.", Failed: &bot.Failure{Code: bot.Unreachable, ID: "f12"}},
	} {
		t.Run(name, func(t *testing.T) {
			messages := render(reply, true)
			for _, m := range messages {
				checkMessage(t, m)
			}
			golden(t, name, transcript(messages))
		})
	}
	t.Run("invite", func(t *testing.T) {
		m := renderInvite(bot.Invite{Said: "Ana Pell has started a knit-along of Lee Side Cap. Press join to knit along.", Choices: []bot.Choice{{Label: "Join", Intent: listen.Join}}}, quayID)
		checkMessage(t, m)
		golden(t, "invite", transcript([]rest.Message{m}))
	})
}

// golden compares a text with the file that is kept of it.
func golden(t *testing.T, name, found string) {
	t.Helper()
	file := filepath.Join("testdata", "messages", name+".txt")
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(found), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), found); diff != "" {
		t.Errorf("%s has changed (go test -update writes it anew):\n%s", file, diff)
	}
}

// transcript gives messages as they go out, for the eyes of the tests' reader.
func transcript(messages []rest.Message) string {
	var b strings.Builder
	for i, m := range messages {
		seen := "everybody"
		if m.Ephemeral {
			seen = "one member"
		}
		fmt.Fprintf(&b, "== message %d of %d, for %s\n%s\n", i+1, len(messages), seen, m.Content)
		for _, f := range m.Files {
			fmt.Fprintf(&b, "== file %s, %s\n%s", f.Name, f.ContentType, f.Data)
			if f.Description != "" {
				fmt.Fprintf(&b, "\n== described: %s\n", f.Description)
			}
		}
		for _, row := range m.Components {
			b.WriteString("==")
			for _, c := range row.(discordgo.ActionsRow).Components {
				switch c := c.(type) {
				case discordgo.Button:
					fmt.Fprintf(&b, " [%s] %s", c.Label, c.CustomID)
				case discordgo.SelectMenu:
					fmt.Fprintf(&b, " <%s> %s", c.Placeholder, c.CustomID)
					for _, o := range c.Options {
						fmt.Fprintf(&b, "\n==   (%s) %s", o.Label, o.Value)
					}
				}
			}
			b.WriteByte('\n')
		}
	}
	return b.String()
}

type failing interface {
	Helper()
	Errorf(string, ...any)
}

// checkMessage holds for whatever is posted. Sizes: Discord's developer
// documentation, as noted in shared/DISCORD.md; lengths are counted in units of
// UTF-16, the most that it can mean.
func checkMessage(t failing, m rest.Message) {
	t.Helper()
	units := func(s string) int { return len(utf16.Encode([]rune(s))) }
	if n := units(m.Content); n < 1 || n > 2000 || strings.TrimSpace(m.Content) == "" {
		t.Errorf("a message has %d characters: %q", n, m.Content)
	}
	for _, found := range readMarkdown(m.Content).markup {
		if found != "small" && found != "fence" {
			t.Errorf("a message has markup that is not ours, %s: %q", found, m.Content)
		}
	}
	if n := strings.Count(m.Content, "```"); n%2 != 0 {
		t.Errorf("a message has a block that is not closed: %q", m.Content)
	}
	for _, f := range m.Files {
		if n := units(f.Description); n > 1024 {
			t.Errorf("the description of %s has %d characters", f.Name, n)
		}
	}
	if len(m.Files) > 10 || len(m.Components) > 5 {
		t.Errorf("a message has %d files and %d rows", len(m.Files), len(m.Components))
	}
	ids := map[string]bool{"": true}
	for _, row := range m.Components {
		checkRow(t, row.(discordgo.ActionsRow), ids, units)
	}
}

func checkRow(t failing, row discordgo.ActionsRow, ids map[string]bool, units func(string) int) {
	t.Helper()
	if n := len(row.Components); n < 1 || n > 5 {
		t.Errorf("a row has %d components", n)
	}
	takeID := func(id string) {
		if ids[id] || len(id) > 100 {
			t.Errorf("a component has no custom id of its own: %q", id)
		}
		ids[id] = true
	}
	for _, c := range row.Components {
		switch c := c.(type) {
		case discordgo.Button:
			takeID(c.CustomID)
			if n := units(c.Label); n < 1 || n > 80 {
				t.Errorf("a button's label has %d characters: %q", n, c.Label)
			}
		case discordgo.SelectMenu:
			takeID(c.CustomID)
			if len(row.Components) != 1 || len(c.Options) < 1 || len(c.Options) > 25 || units(c.Placeholder) > 150 {
				t.Errorf("a menu has %d options, among %d components: %q", len(c.Options), len(row.Components), c.Placeholder)
			}
			values := map[string]bool{}
			for _, o := range c.Options {
				if n := units(o.Label); n < 1 || n > 100 || values[o.Value] || o.Value == "" || len(o.Value) > 100 {
					t.Errorf("an option can't be taken: %+v", o)
				}
				values[o.Value] = true
			}
		default:
			t.Errorf("a row has a %T", c)
		}
	}
	if _, err := json.Marshal(row); err != nil {
		t.Errorf("a row can't be written: %v", err)
	}
}

// replies are those of a bot at its worst.
var replies = rapid.Custom(func(t *rapid.T) bot.Reply {
	long := rapid.Custom(func(t *rapid.T) string {
		return strings.Repeat(hostile.Draw(t, "text")+" ", rapid.SampledFrom([]int{0, 1, 1, 1, 1, 1, 1, 1, 40}).Draw(t, "times"))
	})
	choice := rapid.Custom(func(t *rapid.T) bot.Choice {
		return bot.Choice{
			Label:  hostile.Draw(t, "label"),
			Intent: rapid.SampledFrom([]listen.Intent{listen.Next, listen.Join, listen.Switch, listen.Fit, listen.Knitalong, listen.None}).Draw(t, "intent"),
			Value:  rapid.StringMatching(`[a-z0-9:.]{0,9}|[0-9a-f]{8}|out\.[0-9-]{1,60}|x{50,70}`).Draw(t, "value"),
		}
	})
	r := bot.Reply{
		Steps: rapid.SliceOfN(long, 0, 8).Draw(t, "steps"), Notes: rapid.SliceOfN(long, 0, 3).Draw(t, "notes"), Report: long.Draw(t, "report"),
		Knitalong: rapid.SampledFrom([]string{"", quayID, "a/b"}).Draw(t, "knit-along"), Mark: rapid.SampledFrom([]string{"", quayMark}).Draw(t, "mark"),
		Choices: rapid.SliceOfN(choice, 0, 40).Draw(t, "choices"),
	}
	r.Said = strings.Join(append([]string{hostile.Draw(t, "before")}, r.Steps...), " ")
	if rapid.Bool().Draw(t, "card") {
		r.Card = &bot.Card{Section: hostile.Draw(t, "section"), Row: hostile.Draw(t, "row"), Count: hostile.Draw(t, "count"), Written: long.Draw(t, "written")}
	}
	if rapid.Bool().Draw(t, "picture") {
		r.Picture = &bot.Picture{Name: "brim.png", PNG: []byte("PNG"), Alt: long.Draw(t, "alt")}
	}
	if rapid.Bool().Draw(t, "failed") {
		r.Failed = &bot.Failure{ID: hostile.Draw(t, "id")}
	}
	return r
})

// TestRenderAnything holds for every reply: each message is one that the
// platform takes, nothing of a text becomes markup, all that is said stands
// there in its order, and buttons stand under the last message alone.
func TestRenderAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reply := replies.Draw(t, "reply")
		messages := render(reply, true)
		if len(messages) < 1 || len(messages) > mostMessages {
			t.Fatalf("there are %d messages", len(messages))
		}
		var said, files strings.Builder
		for i, m := range messages {
			checkMessage(t, m)
			if i < len(messages)-1 && (m.Components != nil || m.Files != nil) || !m.Ephemeral {
				t.Errorf("message %d of %d: %+v", i, len(messages), m)
			}
			said.WriteString(readMarkdown(m.Content).text)
			for _, f := range m.Files {
				files.Write(f.Data)
			}
		}
		squeezed := func(s string) string { return strings.NewReplacer(" ", "", "\n", "").Replace(s) }
		all, file := squeezed(said.String()), squeezed(files.String())
		for _, text := range append([]string{reply.Said}, reply.Notes...) {
			if want := squeezed(text); !strings.Contains(all, want) && !strings.Contains(file, want) {
				t.Errorf("%q is missing from %q", text, all)
			}
		}
	})
}

func TestRender(t *testing.T) {
	said := "You are at row three of Brim."
	choice := func(intent listen.Intent, n int) []bot.Choice {
		var choices []bot.Choice
		for i := range n {
			choices = append(choices, bot.Choice{Label: fmt.Sprintf("Choice %d", i), Intent: intent, Value: fmt.Sprintf("000000a%d", i)})
		}
		return choices
	}
	out := func(value string) bot.Choice {
		return bot.Choice{Label: "Leave out 2 of Hem", Intent: listen.Fit, Value: "out." + value + ".0a1b2c3d"}
	}
	far := strings.Repeat("10-12_", 7) + "20-4"
	longID := "k" + strings.Repeat("a", 39) // beside which no button has room for that
	report := strings.Repeat("quay-cap.txt:6:1: error: this is *not* a `stitch`\n    pp2\n    ^^^\n", 40)
	for _, c := range []struct {
		what  string
		reply bot.Reply
		want  string // the transcript
	}{
		{"a sentence alone", bot.Reply{Said: said}, "== message 1 of 1, for everybody\n" + said + "\n"},
		{"nothing", bot.Reply{}, "== message 1 of 1, for everybody\n" + nothingSaid + "\n"},
		{"what would be markup", bot.Reply{Said: "- <@1>", Card: &bot.Card{Section: "# Brim", Row: "Row 1 of 2", Count: "1 stitch", Written: "*k1*"}},
			"== message 1 of 1, for everybody\n\\- \\<\\@1\\>\n-# \\# Brim, row 1 of 2, 1 stitch\n-# Written: \\*k1\\*\n"},
		{"five choices", bot.Reply{Said: said, Choices: choice(listen.Fit, 5)}, "== message 1 of 1, for everybody\n" + said +
			"\n== [Choice 0] ab/fit///000000a0 [Choice 1] ab/fit///000000a1 [Choice 2] ab/fit///000000a2 [Choice 3] ab/fit///000000a3 [Choice 4] ab/fit///000000a4\n"},
		{"six choices", bot.Reply{Said: said, Choices: choice(listen.Fit, 6)}, "== message 1 of 1, for everybody\n" + said +
			"\n== <Choose a size> am/fit//\n==   (Choice 0) 000000a0\n==   (Choice 1) 000000a1\n==   (Choice 2) 000000a2\n==   (Choice 3) 000000a3\n==   (Choice 4) 000000a4\n==   (Choice 5) 000000a5\n"},
		{"buttons beside a menu", bot.Reply{Said: said, Knitalong: quayID, Mark: quayMark, Choices: append(choice(listen.Fit, 2), usual...)}, "== message 1 of 1, for everybody\n" + said +
			"\n== <Choose a size> am/fit/kabcdefghijkl/0a1b2c3d.zz.9\n==   (Choice 0) 000000a0\n==   (Choice 1) 000000a1\n" +
			"== [Next row] ab/next/kabcdefghijkl/0a1b2c3d.zz.9/ [Again] ab/again/kabcdefghijkl/0a1b2c3d.zz.9/ [Back] ab/back/kabcdefghijkl/0a1b2c3d.zz.9/" +
			" [Explain] ab/explain/kabcdefghijkl/0a1b2c3d.zz.9/ [Step by step] ab/steps/kabcdefghijkl/0a1b2c3d.zz.9/\n"},
		{"a menu, and one without a value", bot.Reply{Said: said, Choices: append(choice(listen.Join, 6), bot.Choice{Label: "Join", Intent: listen.Join})}, "== message 1 of 1, for everybody\n" + said +
			"\n== <Choose a size> am/join//\n==   (Choice 0) 000000a0\n==   (Choice 1) 000000a1\n==   (Choice 2) 000000a2\n==   (Choice 3) 000000a3\n==   (Choice 4) 000000a4\n==   (Choice 5) 000000a5\n== [Join] ab/join///\n"},
		{"the same choice twice", bot.Reply{Said: said, Choices: append(choice(listen.Fit, 1), choice(listen.Fit, 1)...)}, "== message 1 of 1, for everybody\n" + said + "\n== [Choice 0] ab/fit///000000a0\n"},
		{"a size beside what may be left out", bot.Reply{Said: said, Choices: append(choice(listen.Fit, 5), out("0-2"))}, "== message 1 of 1, for everybody\n" + said +
			"\n== <Choose one> am/fit//\n==   (Choice 0) 000000a0\n==   (Choice 1) 000000a1\n==   (Choice 2) 000000a2\n==   (Choice 3) 000000a3\n==   (Choice 4) 000000a4\n==   (Leave out 2 of Hem) out.0-2.0a1b2c3d\n"},
		{"what may be left out", bot.Reply{Said: said, Choices: append([]bot.Choice{out("0-2"), out("1-2")}, usual...)}, "== message 1 of 1, for everybody\n" + said +
			"\n== <Choose what to leave out> am/fit//\n==   (Leave out 2 of Hem) out.0-2.0a1b2c3d\n==   (Leave out 2 of Hem) out.1-2.0a1b2c3d\n" +
			"== [Next row] ab/next/// [Again] ab/again/// [Back] ab/back/// [Explain] ab/explain/// [Step by step] ab/steps///\n"},
		{"what a button can't hold", bot.Reply{Said: said, Knitalong: longID, Mark: quayMark, Choices: []bot.Choice{usual[0], out(far)}}, "== message 1 of 1, for everybody\n" + said +
			"\n== [Next row] ab/next/" + longID + "/0a1b2c3d.zz.9/\n== <Choose what to leave out> am/fit/" + longID + "/0a1b2c3d.zz.9\n==   (Leave out 2 of Hem) out." + far + ".0a1b2c3d\n"},
		{"what a button can't hold, beside what it can", bot.Reply{Said: said, Knitalong: longID, Mark: quayMark, Choices: []bot.Choice{out("0-2"), out(far)}}, "== message 1 of 1, for everybody\n" + said +
			"\n== <Choose what to leave out> am/fit/" + longID + "/0a1b2c3d.zz.9\n==   (Leave out 2 of Hem) out.0-2.0a1b2c3d\n==   (Leave out 2 of Hem) out." + far + ".0a1b2c3d\n"},
		{"a label of nothing", bot.Reply{Said: said, Choices: []bot.Choice{{Label: "\u200b", Intent: listen.Next}}}, "== message 1 of 1, for everybody\n" + said + "\n== [next] ab/next///\n"},
		{"a report that could close its block", bot.Reply{Said: said, Report: "a ``` b\n  ^"}, "== message 1 of 1, for everybody\n" + said + "\n```\na ''' b\n  ^\n```\n"},
		{"a picture", bot.Reply{Said: said, Picture: &bot.Picture{Name: "brim.png", PNG: []byte("PNG"), Alt: "Round one of Brim, *sixty* stitches wide."}}, "== message 1 of 1, for everybody\n" + said +
			"\n== file brim.png, image/png\nPNG\n== described: Round one of Brim, *sixty* stitches wide.\n"},
		{"a table and a text, as they are", bot.Reply{Said: said, Files: []bot.File{{Name: "quay-cap.csv", Text: "name,place\n\"'=Odo\",\"*Brim*\"\n"}, {Name: "quay-cap-2.txt", Text: "Pattern: Quay Cap\n"}}},
			"== message 1 of 1, for everybody\n" + said + "\n== file quay-cap.csv, text/csv; charset=utf-8\nname,place\n\"'=Odo\",\"*Brim*\"\n" +
				"== file quay-cap-2.txt, text/plain; charset=utf-8\nPattern: Quay Cap\n"},
		{"a report for a file", bot.Reply{Said: said, Report: report}, "== message 1 of 1, for everybody\n" + said +
			"\nquay\\-cap.txt\\:6\\:1: error: this is \\*not\\* a \\`stitch\\`\n" + inProblemsFile + "\n== file problems.txt, text/plain; charset=utf-8\n" + report},
	} {
		t.Run(c.what, func(t *testing.T) {
			messages := render(c.reply, false)
			for _, m := range messages {
				checkMessage(t, m)
			}
			want := strings.ReplaceAll(c.want, `quay\-cap`, "quay-cap")
			if diff := cmp.Diff(want, transcript(messages)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestMoreThanAMenu says so where the platform's list is too short.
func TestMoreThanAMenu(t *testing.T) {
	var choices []bot.Choice
	for i := range 30 {
		choices = append(choices, bot.Choice{Label: fmt.Sprintf("Size %d", i), Intent: listen.Fit, Value: fmt.Sprint(i)})
	}
	m := render(bot.Reply{Said: "Which size do you knit?", Choices: choices}, false)[0]
	checkMessage(t, m)
	if !strings.HasSuffix(m.Content, "\n"+notAllShown) {
		t.Errorf("it is not said that some are missing: %q", m.Content)
	}
	menu := m.Components[0].(discordgo.ActionsRow).Components[0].(discordgo.SelectMenu)
	if len(menu.Options) != 25 || menu.Options[24].Value != "24" {
		t.Errorf("the menu has %d options", len(menu.Options))
	}
}

// TestMoreThanFiveRows says so where the choices take more rows than there are.
func TestMoreThanFiveRows(t *testing.T) {
	var choices []bot.Choice
	for _, intent := range []listen.Intent{listen.Fit, listen.Join, listen.Switch, listen.Row, listen.At, listen.Count} {
		choices = append(choices, bot.Choice{Label: "One", Intent: intent, Value: "1"}, bot.Choice{Label: "Two", Intent: intent, Value: "2"})
	}
	m := render(bot.Reply{Said: "Which of these?", Choices: choices}, false)[0]
	checkMessage(t, m)
	if len(m.Components) != 5 || !strings.HasSuffix(m.Content, "\n"+notAllShown) {
		t.Errorf("there are %d rows, and it says %q", len(m.Components), m.Content)
	}
}

// TestLongRow says where a row is cut that takes several messages: after a
// step, with the card and the buttons under the last.
func TestLongRow(t *testing.T) {
	reply := longRow(t)
	messages := render(reply, true)
	if len(messages) < 3 {
		t.Fatalf("there are %d messages", len(messages))
	}
	for i, m := range messages {
		checkMessage(t, m)
		said, card, _ := strings.Cut("\n"+m.Content, "\n-# Border, row 1 of 1")
		whole := said == "" || slices.ContainsFunc(reply.Steps, func(step string) bool { return strings.HasSuffix(said, step) })
		if last := i == len(messages)-1; !whole || last != (card != "") || last != (m.Components != nil) {
			t.Errorf("message %d: %q with %v", i, m.Content, m.Components)
		}
	}
}

// TestTooLongForAChat says that what is longer than an answer may be goes into
// a file, and nothing of it is lost.
func TestTooLongForAChat(t *testing.T) {
	note := strings.TrimSpace(strings.Repeat("Keep the cable needle close. ", 2000))
	messages := render(bot.Reply{Said: "The pattern has one note.", Notes: []string{note}, Card: &bot.Card{Section: "Brim", Row: "Row 1 of 2", Count: "9 stitches", Written: "k9"}, Choices: usual}, true)
	if len(messages) != mostMessages {
		t.Fatalf("there are %d messages", len(messages))
	}
	last := messages[len(messages)-1]
	if last.Content != inAnswerFile || len(last.Files) != 1 || last.Components == nil {
		t.Fatalf("the last is %+v", last)
	}
	if want := "The pattern has one note.\n\nBrim, row 1 of 2, 9 stitches\n\nk9\n\nNote: " + note + "\n"; string(last.Files[0].Data) != want {
		t.Errorf("the file has %.200q", last.Files[0].Data)
	}
}

func TestPlain(t *testing.T) {
	m := plain("I don't know that command. Nothing has moved.", true)
	checkMessage(t, m)
	if m.Content != "I don't know that command. Nothing has moved." || !m.Ephemeral {
		t.Errorf("found %+v", m)
	}
	checkMessage(t, plain(strings.Repeat("*", 3000), false))
}

func BenchmarkRender(b *testing.B) {
	reply := bot.Reply{
		Said:  "Round five, Floats. Six times: purl two, knit four, purl two. That is the group. You should now have ninety-six stitches.",
		Steps: []string{"Round five, Floats.", "Six times: purl two, knit four, purl two. That is the group. You should now have ninety-six stitches."},
		Card:  &bot.Card{Section: "Floats", Row: "Round 5 of 24", Count: "96 stitches", Written: "[p2, k4, p2] 6 times"}, Knitalong: quayID, Mark: quayMark, Choices: usual,
	}
	b.ReportAllocs()
	for b.Loop() {
		render(reply, true)
	}
}
