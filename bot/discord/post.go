package discord

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/bwmarrin/discordgo"

	"clew/bot"
	"clew/bot/discord/rest"
	"clew/reader/listen"
)

// This file is the only one that makes messages, so that whatever is posted is
// escaped, and within the platform's sizes.

// mostMessages is how many messages one answer may take. What is longer is no
// row: it goes into a file.
const mostMessages = 5

// The texts that stand small under what is said begin with this.
const small = "-# "

const (
	problemsFile = "problems.txt"
	answerFile   = "answer.txt"
	textType     = "text/plain; charset=utf-8"
	tableType    = "text/csv; charset=utf-8"
	pictureType  = "image/png"

	inProblemsFile = small + "All that was found is in the file " + problemsFile + "."
	inAnswerFile   = "This is too long for a chat. The whole of it is in the file " + answerFile + "."
	notAllShown    = small + "There are more than the list can show. The others can be asked for by name."
	nothingSaid    = "There is nothing to say to that. Say where am I to hear your place."
)

// render makes the messages that show a reply, at least one. What is said comes
// first, in whole steps; the rest stands small below it, and what can be chosen
// under the last. With ephemeral, only the member who asked will see them.
func render(reply bot.Reply, ephemeral bool) []rest.Message {
	rows, all := components(reply.Knitalong, reply.Mark, reply.Choices)
	below, files := under(reply)
	if !all {
		below = append(below, notAllShown)
	}
	said := split(escape(reply.Said), escapeAll(reply.Steps), rest.MaxContent)
	if said[0] == "" {
		said = nil
	}
	texts := stack(said, below)
	if len(texts) == 0 {
		texts = []string{nothingSaid}
	}
	if len(texts) > mostMessages {
		texts = append(texts[:mostMessages-1:mostMessages-1], inAnswerFile)
		files = append(files, textFile(answerFile, wholeOf(reply)))
	}
	messages := make([]rest.Message, len(texts))
	for i, text := range texts {
		messages[i] = rest.Message{Content: text, Ephemeral: ephemeral}
	}
	last := &messages[len(messages)-1]
	last.Components, last.Files = rows, files
	return messages
}

// renderInvite makes the message that stands in a knit-along's channel for
// everybody.
func renderInvite(invite bot.Invite, knitalong string) rest.Message {
	rows, _ := components(knitalong, "", invite.Choices)
	said := split(escape(invite.Said+" "+invite.How), nil, rest.MaxContent) // one piece: a title has at most 256 bytes
	return rest.Message{Content: said[0], Components: rows}
}

// renderPost makes the message that shows a post: with the longest of its texts
// that there is room for.
func renderPost(p bot.Post) rest.Message {
	m := rest.Message{Nonce: p.Key}
	for _, text := range p.Texts {
		if m.Content = escapeLines(text); rest.Characters(m.Content) <= rest.MaxContent {
			break
		}
	}
	m.Content = wholeLines(m.Content, rest.MaxContent)
	m.Components, _ = components(p.Knitalong, "", p.Choices)
	if p.Picture != nil {
		m.Files = []rest.File{pictureFile(p.Picture)}
	}
	return m
}

// withoutFiles gives a message as it is where the bot may attach nothing.
func withoutFiles(m rest.Message) rest.Message {
	m.Files = nil
	return m
}

// plain makes a message of one sentence of Clew's own.
func plain(sentence string, ephemeral bool) rest.Message {
	return rest.Message{Content: split(escape(sentence), nil, rest.MaxContent)[0], Ephemeral: ephemeral}
}

// stack puts lines below what is said, whole lines, into as few messages as it
// takes. Lines that don't fit below the last piece begin a message of their
// own, so that what belongs together stays so.
func stack(said, lines []string) []string {
	texts := slices.Clone(said)
	if n := len(texts); n > 0 && len(lines) > 0 {
		if all := texts[n-1] + "\n" + strings.Join(lines, "\n"); rest.Characters(all) <= rest.MaxContent {
			texts[n-1] = all
			return texts
		}
	}
	room := 0 // in the last text, for more lines
	for _, line := range lines {
		size := rest.Characters(line) + 1
		if size > room {
			texts = append(texts, line)
			room = rest.MaxContent - size + 1
			continue
		}
		texts[len(texts)-1] += "\n" + line
		room -= size
	}
	return texts
}

// under gives the lines that stand below what is said, each short enough for a
// message, and the files that go with them.
func under(reply bot.Reply) (lines []string, files []rest.File) {
	if report := strings.TrimRight(reply.Report, " \n"); report != "" {
		block := "```\n" + fixed(report) + "\n```"
		if rest.Characters(block) <= rest.MaxContent {
			lines = append(lines, block)
		} else {
			first, _, _ := strings.Cut(report, "\n")
			lines = append(lines, escape(short(clean(first), rest.MaxContent/2)), inProblemsFile)
			files = append(files, textFile(problemsFile, report))
		}
	}
	if c := reply.Card; c != nil {
		lines = append(lines, smallPrint(placeOf(c))...)
		lines = append(lines, smallPrint("Written: "+c.Written)...)
	}
	for _, note := range reply.Notes {
		lines = append(lines, smallPrint("Note: "+note)...)
	}
	if p := reply.Picture; p != nil {
		files = append(files, pictureFile(p))
	}
	for _, f := range reply.Files {
		files = append(files, keptFile(f))
	}
	if reply.Failed != nil {
		lines = append(lines, smallPrint("In the log this is "+reply.Failed.ID)...)
	}
	return lines, files
}

// placeOf words where a card's row is: "Wedges, row 5 of 180, 38 stitches".
func placeOf(c *bot.Card) string {
	row := c.Row
	if first, size := utf8.DecodeRuneInString(row); size > 0 {
		row = string(unicode.ToLower(first)) + row[size:]
	}
	parts := slices.DeleteFunc([]string{c.Section, row, c.Count}, func(part string) bool { return part == "" })
	return strings.Join(parts, ", ")
}

// smallPrint gives a text in small lines.
func smallPrint(text string) []string {
	lines := split(escape(text), nil, rest.MaxContent-len(small))
	for i := range lines {
		lines[i] = small + lines[i]
	}
	return lines
}

// wholeOf gives all of a reply's text, for a file.
func wholeOf(reply bot.Reply) string {
	lines := []string{clean(reply.Said)}
	if c := reply.Card; c != nil {
		lines = append(lines, clean(placeOf(c)), clean(c.Written))
	}
	for _, note := range reply.Notes {
		lines = append(lines, "Note: "+clean(note))
	}
	return strings.Join(lines, "\n\n")
}

func pictureFile(p *bot.Picture) rest.File {
	return rest.File{Name: p.Name, ContentType: pictureType, Data: p.PNG, Description: short(clean(p.Alt), rest.MaxDescription)}
}

// keptFile gives a file as it is, to be kept by somebody.
func keptFile(f bot.File) rest.File {
	kind := textType
	if strings.HasSuffix(f.Name, ".csv") {
		kind = tableType
	}
	return rest.File{Name: f.Name, ContentType: kind, Data: []byte(f.Text)}
}

func textFile(name, text string) rest.File {
	return rest.File{Name: name, ContentType: textType, Data: []byte(strings.ToValidUTF8(text, "�") + "\n")}
}

func escapeAll(texts []string) []string {
	escaped := make([]string, len(texts))
	for i, text := range texts {
		escaped[i] = escape(text)
	}
	return escaped
}

// components gives the buttons and menus of some choices, in their order. Up to
// five are one row of buttons. Of more, those of one intent that differ by
// their values become a menu; so do those that have a value too long for a
// button. all is false where the platform's limits leave some out.
func components(knitalong, mark string, choices []bot.Choice) (rows []discordgo.MessageComponent, all bool) {
	all = true
	var buttons discordgo.ActionsRow
	flush := func() {
		if len(buttons.Components) > 0 {
			rows, buttons = append(rows, buttons), discordgo.ActionsRow{}
		}
	}
	usable := usableOf(knitalong, mark, choices)
	menus := len(usable) > rest.MaxButtons
	tooLong := func(c bot.Choice) bool { return encodePress(knitalong, mark, c) == "" }
	done := map[listen.Intent]bool{}
	for _, c := range usable {
		alike := alikeTo(c, usable)
		menu := menus && len(alike) > 1 || slices.ContainsFunc(alike, tooLong)
		switch {
		case menu && done[c.Intent]:
		case menu:
			flush()
			done[c.Intent] = true
			all = all && len(alike) <= rest.MaxOptions
			rows = append(rows, menuRow(encodeMenu(knitalong, mark, c.Intent), alike[:min(len(alike), rest.MaxOptions)]))
		default:
			buttons.Components = append(buttons.Components, discordgo.Button{
				Label: labelOf(c, rest.MaxLabel), Style: styleOf(c), CustomID: encodePress(knitalong, mark, c),
			})
			if len(buttons.Components) == rest.MaxButtons {
				flush()
			}
		}
	}
	flush()
	if len(rows) > rest.MaxRows {
		rows, all = rows[:rest.MaxRows], false
	}
	return rows, all
}

// usableOf gives the choices that a button or a menu can carry, each once: the
// platform refuses a message in which two are the same.
func usableOf(knitalong, mark string, choices []bot.Choice) []bot.Choice {
	var usable []bot.Choice
	seen := map[bot.Choice]bool{}
	for _, c := range choices {
		same := bot.Choice{Intent: c.Intent, Value: c.Value}
		p := press{Knitalong: knitalong, Mark: mark, Choice: same}
		inMenu := c.Value != "" && p.sound() && encodeMenu(knitalong, mark, c.Intent) != ""
		if !seen[same] && (inMenu || encode(p) != "") {
			seen[same] = true
			usable = append(usable, c)
		}
	}
	return usable
}

// alikeTo gives the choices that have another's intent, and a value each. None
// of them is alone of its kind where there are several.
func alikeTo(c bot.Choice, choices []bot.Choice) []bot.Choice {
	if c.Value == "" {
		return nil
	}
	var alike []bot.Choice
	for _, other := range choices {
		if other.Intent == c.Intent && other.Value != "" {
			alike = append(alike, other)
		}
	}
	return alike
}

func menuRow(id string, choices []bot.Choice) discordgo.ActionsRow {
	options := make([]discordgo.SelectMenuOption, len(choices))
	for i, c := range choices {
		options[i] = discordgo.SelectMenuOption{Label: labelOf(c, rest.MaxOption), Value: c.Value}
	}
	return discordgo.ActionsRow{Components: []discordgo.MessageComponent{discordgo.SelectMenu{
		MenuType: discordgo.StringSelectMenu, CustomID: id, Placeholder: placeholderOf(choices), Options: options, MaxValues: 1,
	}}}
}

// labelOf gives a choice's label. Labels are shown as they are, so nothing is
// escaped in them.
func labelOf(c bot.Choice, most int) string {
	if label := short(clean(c.Label), most); label != "" {
		return label
	}
	return string(c.Intent)
}

// placeholderOf says what a menu is for as long as nothing is chosen in it.
func placeholderOf(choices []bot.Choice) string {
	all := func(is func(bot.Choice) bool) bool {
		return !slices.ContainsFunc(choices, func(c bot.Choice) bool { return !is(c) })
	}
	switch {
	case all(isKnitalong):
		return "Choose a knit-along"
	case all(isSize):
		return "Choose a size"
	case all(isLeftOut):
		return "Choose what to leave out"
	case all(isSetting):
		return "Choose a setting"
	case all(isPart):
		return "Choose what to hear in full"
	}
	return "Choose one"
}

// What a choice stands for shows in its value: a name in eight digits of a hash,
// what else there is by what stands in front.
func isKnitalong(c bot.Choice) bool {
	return c.Intent == listen.Switch || strings.HasPrefix(c.Value, "id:")
}

func isSize(c bot.Choice) bool {
	return c.Intent == listen.Join || c.Intent == listen.Fit && len(c.Value) == 8 && strings.Trim(c.Value, "0123456789abcdef") == ""
}

func isLeftOut(c bot.Choice) bool {
	return c.Intent == listen.Fit && strings.HasPrefix(c.Value, "out.")
}

func isSetting(c bot.Choice) bool { return c.Intent == listen.Settings }

func isPart(c bot.Choice) bool { return c.Intent == listen.Catchup }

// styleOf picks out for the eye what is pressed most, and what can't be taken
// back by a press.
func styleOf(c bot.Choice) discordgo.ButtonStyle {
	switch {
	case c.Intent == listen.Next, c.Intent == listen.Join:
		return discordgo.PrimaryButton
	case c.Intent == listen.Forget, c.Intent == listen.Leave, c.Intent == listen.Knitalong && strings.HasPrefix(c.Value, string(bot.Close)):
		return discordgo.DangerButton
	}
	return discordgo.SecondaryButton
}
