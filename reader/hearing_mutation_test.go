package reader_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"clew/patterns/fabric"
	"clew/reader"
)

// A mutation is a row said wrongly.
type mutation struct {
	kind string
	said string
}

// TestListenerNotices says rows wrongly, in every way that there is: a word
// left out, another number, two actions in the wrong order, a group that is not
// closed. A check that did not notice would be no check.
func TestListenerNotices(t *testing.T) {
	made, missed := map[string]int{}, map[string][]string{}
	for _, row := range spokenRows(t) {
		want := worked(row.Body)
		for _, form := range []reader.CrossForm{reader.AlwaysFull, reader.AlwaysShort} {
			said := reader.Say(row.Row, reader.Form{Crosses: form})
			plain := strings.TrimSpace(strings.Join(said.Steps, " ") + " " + said.Count)
			if !slices.Equal(heardAs(plain, row.before), want) {
				t.Fatalf("the row is misheard as it stands: %s", plain)
			}
			for _, m := range mutations(plain) {
				made[m.kind]++
				if slices.Equal(heardAs(m.said, row.before), want) {
					missed[m.kind] = append(missed[m.kind], plain+"\n  as "+m.said)
				}
			}
		}
	}
	for _, kind := range []string{"word left out", "other number", "other order", "not closed"} {
		t.Logf("%s: %d rows said wrongly, %d of them not noticed", kind, made[kind], len(missed[kind]))
		for _, said := range missed[kind][:min(5, len(missed[kind]))] {
			t.Logf("not noticed: %s", said)
		}
		if made[kind] < 10 || len(missed[kind])*20 > made[kind] {
			t.Errorf("%s: %d of %d were not noticed; at most one in twenty was expected", kind, len(missed[kind]), made[kind])
		}
	}
}

// heardAs gives what a row is heard as; what can't be understood is heard as
// nothing that can be worked.
func heardAs(said string, before needle) []string {
	var l listener
	acts, err := l.hear(said, before)
	if err != nil {
		return []string{err.Error()}
	}
	return names(acts)
}

type spokenRow struct {
	reader.Row
	before needle
}

// spokenRows gives the rows of the table, and those of the panels, as they are
// worked in rounds.
func spokenRows(t *testing.T) []spokenRow {
	var out []spokenRow
	work := func(text string, before fabric.Fabric, result fabric.Result) {
		if result.Problem != nil {
			t.Fatalf("%s: %s", text, result.Problem.Message)
		}
		out = append(out, spokenRow{rowOf(before, true, 0, result, 3), seen(before, true)})
	}
	for _, c := range rows {
		before := fabric.CastOn(c.on)
		work(c.text, before, before.Work(parsed(c.text), fabric.Row{Rounds: true}))
	}
	for _, c := range panelRows() {
		before := fabric.CastOn(c.on)
		work(c.name, before, before.Work(c.body, fabric.Row{Rounds: true}))
	}
	return out
}

// mutations gives every way in which a row is said wrongly. All of them change
// what it means: names of panels are left as they are, and what is swapped is
// worked otherwise in the other order.
func mutations(said string) []mutation {
	words := strings.Split(said, " ")
	var out []mutation
	add := func(kind string, changed []string) {
		if wrong := strings.Join(changed, " "); wrong != said {
			out = append(out, mutation{kind, wrong})
		}
	}
	inName := false
	for i, w := range words {
		if inName = inName || i > 0 && strings.EqualFold(words[i-1], "panel"); !inName {
			add("word left out", withoutWord(words, i))
			add("other number", withOtherNumber(words, i))
		}
		inName = inName && !strings.HasSuffix(w, ":")
	}
	for _, closing := range []string{"That is the group.", "That is the inner group.", "That is the group at level three."} {
		if before, after, found := strings.Cut(said, closing); found {
			out = append(out, mutation{"not closed", strings.Join(strings.Fields(before+after), " ")})
		}
	}
	return append(out, otherOrders(said)...)
}

// withoutWord leaves a word out, but keeps the mark behind it.
func withoutWord(words []string, i int) []string {
	bare := strings.TrimRight(words[i], ".,;:")
	mark := words[i][len(bare):]
	out := slices.Clone(words)
	if mark != "" && i > 0 {
		out[i-1] = strings.TrimRight(out[i-1], ".,;:") + mark
	}
	out = slices.Delete(out, i, i+1)
	if i < len(out) && bare != strings.ToLower(bare) { // the sentence begins with the next word
		out[i] = strings.ToUpper(out[i][:1]) + out[i][1:]
	}
	return out
}

// withOtherNumber says one more, or for nine one less.
func withOtherNumber(words []string, i int) []string {
	bare := strings.TrimRight(words[i], ".,;:")
	next := map[string]string{"one": "two", "two": "three", "three": "four", "four": "five", "five": "six", "six": "seven",
		"seven": "eight", "eight": "nine", "nine": "eight", "ten": "eleven", "eleven": "twelve", "twelve": "thirteen"}
	other, ok := next[strings.ToLower(bare)]
	if !ok {
		return words
	}
	if bare != strings.ToLower(bare) {
		other = strings.ToUpper(other[:1]) + other[1:]
	}
	out := slices.Clone(words)
	out[i] = other + words[i][len(bare):]
	return out
}

// otherOrders swaps neighbours in lists, where they begin with other words.
func otherOrders(said string) []mutation {
	var out []mutation
	sentences := strings.SplitAfter(said, ". ")
	for s, sentence := range sentences {
		text := strings.TrimRight(sentence, ". ")
		opening := strings.LastIndex(text, ": ") + 1
		for _, mark := range []string{", ", "; "} {
			items := strings.Split(text[opening:], mark)
			for i := range len(items) - 1 {
				a, b := strings.ToLower(strings.TrimSpace(items[i])), strings.ToLower(strings.TrimSpace(items[i+1]))
				if firstWord(a) == firstWord(b) {
					continue
				}
				swapped := slices.Clone(items)
				swapped[i], swapped[i+1] = b, a
				wrong := strings.TrimSpace(strings.Join(swapped, mark))
				if opening == 0 {
					wrong = strings.ToUpper(wrong[:1]) + wrong[1:]
				} else {
					wrong = text[:opening] + " " + wrong
				}
				all := slices.Clone(sentences)
				all[s] = wrong + sentence[len(text):]
				out = append(out, mutation{"other order", strings.Join(all, "")})
			}
		}
	}
	return out
}

func firstWord(text string) string { return fmt.Sprint(strings.Fields(text + " ")[:1]) }
