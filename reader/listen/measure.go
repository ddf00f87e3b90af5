package listen

import (
	"slices"
	"strings"
)

// unit is a unit of length or weight as it is said: so many of the one that is told.
type unit struct {
	name string
	per  float64
}

// lengthUnits are the units of a knitted piece and of a body.
var lengthUnits = unitTable(map[unit]string{
	{Centimetres, 1}:   "cm cms centimetre centimetres centimeter centimeters sentimeters sentimetres centermeters centremetres",
	{Centimetres, 0.1}: "mm millimetre millimetres millimeter millimeters",
	{Centimetres, 100}: "m metre metres meter meters",
	{Inches, 1}:        "in ins inch inches inchs",
	{Inches, 12}:       "ft foot feet",
})

// yarnUnits are the units that yarn is weighed or measured in.
var yarnUnits = unitTable(map[unit]string{
	{"g", 1}:  "g gr gm gms gram grams gramme grammes grahams graham",
	{"m", 1}:  "m metre metres meter meters",
	{"yd", 1}: "yd yds yard yards",
	{"oz", 1}: "oz ounce ounces",

	{ballUnit, 1}: "ball balls skein skeins hank hanks",
})

// ballUnit is yarn as it is sold, of whatever weight.
const ballUnit = "ball"

// aloneUnits are those that, with no number before them, are one: "per inch".
var aloneUnits = wordSet("inch centimetre centimeter cm")

// units are the units that a mark of the grammar takes.
var units = map[kind]map[string]unit{kLength: lengthUnits, kPer: lengthUnits, kAmount: yarnUnits}

func unitTable(table map[unit]string) map[string]unit {
	m := map[string]unit{}
	for u, words := range table {
		for _, w := range strings.Fields(words) {
			m[w] = u
		}
	}
	return m
}

// quantity is a number with a fraction, and a unit where one was said.
type quantity struct {
	value  float64
	unit   string // "" for none, MixedUnits for two that don't go together
	strict bool   // at least one of its words is a number in its own right
	part   bool   // a part of one, as a fraction and with no unit: "half", "3/4"
}

// quantityAt is a quantity found in some words, up to end.
type quantityAt struct {
	quantity
	end int
}

const longestQuantity = 12 // words: nine thousand nine hundred and ninety nine and three quarters of an inch is fourteen, and nobody says it

// readNumberWithFraction reads all of ws as one number of 0 to 9,999 with or without a fraction: "5.5", "five point five", "five and a half",
// "5½", "22 1/2", "half a", "three quarters of an". Thirds and the like are as near as a float64 comes.
func readNumberWithFraction(ws []word) (quantity, bool) {
	if q, ok := readWhole(ws); ok {
		return q, true
	}
	for i, w := range ws {
		if w.text == "point" {
			return readDecimal(ws[:i], ws[i+1:])
		}
	}
	for i := range ws {
		part, signed, ok := readFraction(ws[i:])
		if !ok {
			continue
		}
		if i == 0 {
			return quantity{value: part, strict: true, part: true}, true
		}
		head := ws[:i]
		and := head[i-1].text == "and"
		if and {
			head = head[:i-1]
		}
		if q, ok := readWhole(head); ok && (and || signed) {
			return quantity{value: q.value + part, strict: true}, true
		}
	}
	return quantity{}, false
}

// readWhole reads a number without a fraction.
func readWhole(ws []word) (quantity, bool) {
	if len(ws) == 0 || len(ws) > longestNumber {
		return quantity{}, false
	}
	var ns [longestNumber]numeral
	for i, w := range ws {
		if w.num.scale == noNumber {
			return quantity{}, false
		}
		ns[i] = w.num
	}
	r, ok := readNumber(ns[:len(ws)])
	return quantity{value: float64(r.value), strict: r.strict}, ok && !r.ordinal
}

// readDecimal reads what stands before and behind a point. Nothing before it is nought; behind it stand up to four figures, said one by
// one ("two five") or as a number ("twenty-five").
func readDecimal(before, behind []word) (quantity, bool) {
	whole := quantity{}
	if len(before) > 0 {
		var ok bool
		if whole, ok = readWhole(before); !ok {
			return quantity{}, false
		}
	}
	digits := ""
	for _, w := range behind {
		switch {
		case w.num.ordinal || len(behind) > 4:
			return quantity{}, false
		case w.num.written && (len(behind) == 1 || w.num.scale == digit):
			digits += w.text
		case w.num.scale == digit:
			digits += string(rune('0' + w.num.value))
		default:
			digits = ""
		}
		if digits == "" {
			break
		}
	}
	if digits == "" {
		q, ok := readWhole(behind)
		if !ok || q.value < 10 || q.value > 99 {
			return quantity{}, false
		}
		return quantity{value: whole.value + q.value/100, strict: true}, true
	}
	if len(digits) > 4 {
		return quantity{}, false
	}
	value, scale := 0, 1
	for _, d := range digits {
		value, scale = value*10+int(d-'0'), scale*10
	}
	return quantity{value: whole.value + float64(value)/float64(scale), strict: true}, true
}

// fractionSigns are the fractions that are one sign.
var fractionSigns = map[string]float64{"½": 1. / 2, "⅓": 1. / 3, "⅔": 2. / 3, "¼": 1. / 4, "¾": 3. / 4, "⅛": 1. / 8, "⅜": 3. / 8, "⅝": 5. / 8, "⅞": 7. / 8}

// fractionWords are the names of parts, by how many of them make a whole.
var fractionWords = map[string]int{"half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "eighth": 8, "eighths": 8}

// readFraction reads a part of one: "½", "1/2", "half", "a half", "half a", "three quarters", "a quarter of an". signed reports that it is
// written with a sign, which may stand right behind a whole number.
func readFraction(ws []word) (part float64, signed, ok bool) {
	if len(ws) == 1 {
		part, ok = fractionSigns[ws[0].text]
		if ok {
			return part, true, true
		}
	}
	if len(ws) == 3 && ws[1].text == "over" && ws[0].num.written && ws[2].num.written {
		n, of := ws[0].num.value, ws[2].num.value
		return float64(n) / float64(max(of, 1)), true, n > 0 && n < of && of <= 16
	}
	ws = withoutArticle(ws)
	last := len(ws) - 1
	if last < 0 || last > 1 {
		return 0, false, false
	}
	of, ok := fractionWords[ws[last].text]
	if !ok || last == 0 {
		return 1 / float64(max(of, 1)), false, ok
	}
	times := ws[0].num
	switch {
	case times.scale == article:
		times.value = 1
	case times.scale != digit || times.ordinal:
		return 0, false, false
	}
	return float64(times.value) / float64(of), false, times.value > 0 && times.value < of
}

// withoutArticle leaves out what stands between a fraction and its unit: "half a", "a quarter of an".
func withoutArticle(ws []word) []word {
	n := len(ws)
	if n > 1 && ws[n-1].num.scale == article {
		ws = ws[:n-1]
		if n > 2 && ws[n-2].text == "of" {
			ws = ws[:n-2]
		}
	}
	return ws
}

// readMeasure reads all of ws as a number with its unit: "57 centimetres", "an inch", "half an inch", "an inch and a half", "a couple of
// inches", "two feet three inches". Two units that don't go together are MixedUnits.
func readMeasure(ws []word, units map[string]unit) (quantity, bool) {
	if q, ok := readOneMeasure(ws, units); ok {
		return q, true
	}
	for i := 2; i <= len(ws)-2; i++ {
		first, ok := readOneMeasure(ws[:i], units)
		if !ok {
			continue
		}
		rest := ws[i:]
		joined := rest[0].text == "and" || rest[0].text == "or"
		if joined {
			rest = rest[1:]
		}
		second, ok := readOneMeasure(rest, units)
		switch {
		case !ok:
			continue
		case first.unit != second.unit:
			return quantity{value: first.value, unit: MixedUnits, strict: true}, true
		case second.value < first.value && ws[i].text != "or":
			return quantity{value: first.value + second.value, unit: first.unit, strict: true}, true
		}
	}
	return quantity{}, false
}

func readOneMeasure(ws []word, units map[string]unit) (quantity, bool) {
	for i := len(ws) - 1; i > 0; i-- {
		u, ok := units[ws[i].text]
		if !ok {
			continue
		}
		q, ok := readHowMany(ws[:i])
		if !ok {
			continue
		}
		if rest := ws[i+1:]; len(rest) > 0 {
			part, _, ok := readFraction(rest[1:])
			if !ok || rest[0].text != "and" {
				continue
			}
			q.value += part
		}
		return quantity{value: q.value * u.per, unit: u.name, strict: q.strict}, true
	}
	return quantity{}, false
}

// readHowMany reads what stands before a unit.
func readHowMany(ws []word) (quantity, bool) {
	switch spell(ws) {
	case "a", "an":
		return quantity{value: 1}, true
	case "hundred": // "my hundred grams"
		return quantity{value: 100, strict: true}, true
	case "a couple of", "a couple", "couple of":
		return quantity{value: 2, strict: true}, true
	}
	return readNumberWithFraction(ws)
}

// readPer reads what a gauge is counted over: a length, or one of a unit.
func readPer(ws []word) (quantity, bool) {
	if len(ws) == 1 && aloneUnits[ws[0].text] {
		return quantity{value: 1, unit: lengthUnits[ws[0].text].name, strict: true}, true
	}
	return readMeasure(ws, lengthUnits)
}

// mayStartQuantity reports whether a number, a fraction or a unit can begin with the word.
func mayStartQuantity(w word) bool {
	_, part := fractionWords[w.text]
	_, sign := fractionSigns[w.text]
	return w.num.scale != noNumber || part || sign || aloneUnits[w.text] || w.text == "point" || w.text == "couple"
}

// readQuantity reads all of ws as what the mark asks for.
func readQuantity(k kind, ws []word) (quantity, bool) {
	switch k {
	case kLength, kAmount:
		return readMeasure(ws, units[k])
	case kPer:
		return readPer(ws)
	case kStrictFraction:
		q, ok := readNumberWithFraction(ws)
		return q, ok && q.strict
	}
	return readNumberWithFraction(ws)
}

// quantitiesAt gives the quantities of this kind that begin at a word. A pause within one parts it, unless "and" stands behind it.
func (u *utterance) quantitiesAt(k kind, at int) []quantityAt {
	key := quantityKey{k, at}
	if found, ok := u.quantities[key]; ok {
		return found
	}
	var found []quantityAt
	if mayStartQuantity(u.words[at]) {
		for end := at + 1; end <= len(u.words) && end-at <= longestQuantity; end++ {
			if last := u.words[end-1]; end-at > 1 && last.pause && last.text != "and" {
				break
			}
			if q, ok := readQuantity(k, u.words[at:end]); ok {
				found = append(found, quantityAt{q, end})
			}
		}
	}
	found = slices.DeleteFunc(found, func(q quantityAt) bool { return u.goesOn(q, found) })
	if u.quantities == nil {
		u.quantities = map[quantityKey][]quantityAt{}
	}
	u.quantities[key] = found
	return found
}

// goesOn reports whether the number goes on behind q: in "thirty eight grams", thirty is none.
func (u *utterance) goesOn(q quantityAt, found []quantityAt) bool {
	longer := slices.ContainsFunc(found, func(other quantityAt) bool { return other.end > q.end })
	if !longer {
		return false
	}
	next := u.words[q.end]
	return next.num.scale != noNumber && !next.num.weak && !next.pause
}

type quantityKey struct {
	kind kind
	at   int
}
