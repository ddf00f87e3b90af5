package listen

import (
	"slices"
	"strings"
	"sync"
)

// mostContinuations bounds what Continue gives.
const mostContinuations = 4

// Continue gives the ways in which an answer to a question about a request makes one request with it, the nearest first, at most four:
// "my head is 57" and "centimetres" make "my head is 57 centimetres". An answer is a number, a length, an amount of yarn or a unit by
// itself, or up to four words that may be a name ("the gray"). Words that are a request of their own go on with nothing, so they give
// none; whether a way is a request at all, and the same, is for a Listener to say.
func Continue(asked, answer string) []string {
	asked, answer = strings.TrimRight(strings.TrimSpace(asked), ".,;:!? "), strings.Trim(strings.TrimSpace(answer), ".,;:!? ")
	said, _ := split(asked)
	ws := answerWords(answer)
	if len(said) == 0 || len(ws) == 0 {
		return nil
	}
	answer = spell(ws)
	var ways []string
	switch link := links[ws[0].text]; {
	case isUnit(ws):
		ways = withUnit(asked, answer)
	case isQuantity(ws):
		ways = withQuantity(asked, answer)
	case len(ws) > 1 && link && (isQuantity(ws[1:]) || isName(ws)):
		ways = []string{asked + " " + answer, answer + " " + asked}
	case isName(ws):
		ways = []string{asked + " of " + answer, "of " + answer + " " + asked, asked + " in " + answer, asked + " for " + answer}
	}
	return ways[:min(len(ways), mostContinuations)]
}

// links are the words with which an answer says itself how it goes on.
var links = wordSet("to by of for in over per with from on")

// answerWords gives the words of an answer without the politeness around them.
func answerWords(answer string) []word {
	ws, _ := split(answer)
	for len(ws) > 0 && politeWords[ws[0].text] {
		ws = ws[1:]
	}
	for len(ws) > 0 && politeWords[ws[len(ws)-1].text] {
		ws = ws[:len(ws)-1]
	}
	if len(ws) > 1 && (ws[0].text == "it" || ws[0].text == "that") && ws[1].text == "is" {
		ws = ws[2:]
	}
	return ws
}

var politeWords = wordSet("please pls plz thanks okay ok um uh er oh sorry yes yeah well so clew just about around")

// isUnit reports whether the words are a unit alone.
func isUnit(ws []word) bool {
	if len(ws) > 1 && (ws[0].text == "in" || ws[0].text == "per") {
		ws = ws[1:]
	}
	text := ws[len(ws)-1].text
	_, length := lengthUnits[text]
	_, amount := yarnUnits[text]
	return len(ws) == 1 && (length || amount) && len(text) > 1
}

// isQuantity reports whether the words are a number, a length or an amount of yarn.
func isQuantity(ws []word) bool {
	for _, k := range []kind{kLength, kAmount, kStrictFraction} {
		if _, ok := readQuantity(k, ws); ok {
			return true
		}
	}
	return false
}

// isName reports whether the words may be a name: few, and no request of their own.
func isName(ws []word) bool {
	return len(ws) <= 4 && plainListener().Hear(spell(ws)).Intent == None
}

var plainListener = sync.OnceValue(func() *Listener { return New(nil) })

// withUnit puts a unit behind the numbers that have none: behind the last of them, behind each, or behind the first.
func withUnit(asked, unit string) []string {
	unit = strings.TrimPrefix(unit, "in ")
	fields := strings.Fields(asked)
	ends := bareNumbers(fields)
	if len(ends) == 0 {
		return nil
	}
	each := slices.Clone(fields)
	for _, n := range slices.Backward(ends) {
		each = behind(each, n.end, unit)
	}
	last, first := behind(fields, ends[len(ends)-1].end, unit), behind(fields, ends[0].end, unit)
	return distinct(strings.Join(last, " "), strings.Join(each, " "), strings.Join(first, " "))
}

// withQuantity puts a quantity where a request asks for one: in the place of a number without a unit, before the word that it measures,
// or at the end.
func withQuantity(asked, quantity string) []string {
	fields := strings.Fields(asked)
	var ways []string
	add := func(words ...string) { ways = append(ways, strings.Join(words, " ")) }
	counts := slices.ContainsFunc(fields, func(f string) bool { return countNouns[bareField(f)] })
	if counts {
		add(asked, "to", quantity)
	}
	if ends := bareNumbers(fields); len(ends) > 0 && !counts {
		n := ends[len(ends)-1]
		add(slices.Concat(fields[:n.from], []string{quantity}, fields[n.end:])...)
	}
	if i := slices.IndexFunc(fields, func(f string) bool { return measuredWords[bareField(f)] }); i >= 0 {
		before := i
		for before > 0 && vagueWords[bareField(fields[before-1])] {
			before--
		}
		add(slices.Concat(fields[:before], []string{quantity}, fields[i:])...)
	}
	if slices.ContainsFunc(slices.Concat(wordsOf(quantity), wordsOf(asked)), isAmountUnit) {
		add("I had", quantity+",", asked)
		add(asked+",", quantity, "are left")
	}
	add(asked, "for", quantity)
	add(asked, "by", quantity)
	add(asked, "is", quantity)
	return distinct(ways...)
}

var (
	countNouns    = wordSet("stitches stitch sts rows row rounds round gauge gage tension")
	measuredWords = wordSet("shorter longer taller deeper wider narrower broader slimmer long wide tall too")
	vagueWords    = wordSet("a bit little lot some somewhat slightly much touch")
)

// fieldsAt is a run of fields.
type fieldsAt struct{ from, end int }

// bareNumbers finds the numbers that have no unit behind them, and that count no stitches or rows.
func bareNumbers(fields []string) (found []fieldsAt) {
	for i := 0; i < len(fields); i++ {
		end := i
		for j := i + 1; j <= len(fields) && j-i <= longestNumber; j++ {
			if q, ok := readNumberWithFraction(wordsOf(strings.Join(fields[i:j], " "))); ok && q.strict {
				end = j
			}
			if strings.ContainsAny(fields[j-1], ",;") {
				break
			}
		}
		if end == i {
			continue
		}
		if end == len(fields) || strings.ContainsAny(fields[end-1], ",;") || !hasUnit(bareField(fields[end])) {
			found = append(found, fieldsAt{i, end})
		}
		i = end - 1
	}
	return found
}

// isAmountUnit reports whether the word is a unit that yarn alone is measured in.
func isAmountUnit(w word) bool {
	_, length := lengthUnits[w.text]
	_, amount := yarnUnits[w.text]
	return amount && !length
}

func hasUnit(text string) bool {
	_, length := lengthUnits[text]
	_, amount := yarnUnits[text]
	return length && text != "in" || amount || countNouns[text]
}

// behind puts a unit behind the field before end, and a comma that ends it behind the unit.
func behind(fields []string, end int, unit string) []string {
	last := strings.TrimRight(fields[end-1], ",;")
	return slices.Concat(fields[:end-1], []string{last, unit + strings.TrimPrefix(fields[end-1], last)}, fields[end:])
}

// bareField is a field in small letters, with no sign at its end.
func bareField(field string) string { return strings.ToLower(strings.TrimRight(field, ".,;:!?")) }

func wordsOf(text string) []word {
	ws, _ := split(text)
	return ws
}

// distinct gives each text once, where it first stands.
func distinct(texts ...string) (out []string) {
	for _, t := range texts {
		if !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return out
}
