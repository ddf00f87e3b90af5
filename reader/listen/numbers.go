package listen

// maxNumber is the greatest number that is heard. A pattern has at most 5,000 rows of at most 5,000 stitches.
const maxNumber = 9999

// scale says what part a word plays in a number.
type scale int

const (
	noNumber scale = iota
	digit          // 0 to 9, as a word or a single figure
	teen           // ten to nineteen
	tens           // twenty, thirty ... ninety
	figures        // two or more figures: 12, 104
	hundred
	thousand
	and     // "a hundred and four"
	article // "a hundred"
)

// numeral is one word of a number.
type numeral struct {
	scale   scale
	value   int
	ordinal bool // "fourth", "21st": closes a number
	weak    bool // a sound-alike that is more often another word: won, ate, to. No number by itself unless a noun asks for one
	linking bool // to, too, for: stands in a string of digits only after a nought, because "one to five" is no 125
	written bool // in figures, not in letters
}

// reading is a number found in some words.
type reading struct {
	value   int
	ordinal bool
	strict  bool // at least one of its words is a number in its own right
}

// readNumber reads all of ns as one number from 0 to 9,999: "twenty four", "a hundred and four", "one oh four",
// "nine five", "one twenty", "20 4", "1204". It reports false where they aren't one number.
func readNumber(ns []numeral) (reading, bool) {
	if len(ns) == 0 {
		return reading{}, false
	}
	r := reading{ordinal: ns[len(ns)-1].ordinal}
	for i, n := range ns {
		if n.scale == noNumber || n.ordinal && i < len(ns)-1 {
			return reading{}, false
		}
		r.strict = r.strict || !n.weak
	}
	v, ok := digitByDigit(ns)
	if !ok {
		v, ok = thousands(ns)
	}
	if !ok || v > maxNumber {
		return reading{}, false
	}
	r.value = v
	return r, true
}

// digitByDigit reads two to four digits said one after the other: "nine five", "1 0 4", "one oh for".
func digitByDigit(ns []numeral) (int, bool) {
	if len(ns) < 2 || len(ns) > 4 {
		return 0, false
	}
	v := 0
	for i, n := range ns {
		if n.scale != digit || n.linking && (i == 0 || ns[i-1].value != 0) || i == 0 && n.value == 0 && n.weak {
			return 0, false
		}
		v = v*10 + n.value
	}
	return v, true
}

func thousands(ns []numeral) (int, bool) {
	i := find(ns, thousand)
	if i < 0 {
		return hundreds(ns, 99)
	}
	left, ok := multiplier(ns[:i], 9)
	if !ok {
		return 0, false
	}
	rest := afterAnd(ns[i+1:])
	if len(rest) == 0 {
		return left * 1000, len(ns) == i+1
	}
	right, ok := hundreds(rest, 9)
	return left*1000 + right, ok && right > 0 && right < 1000
}

// hundreds reads a number without the word thousand; most is the greatest count of hundreds ("twelve hundred").
func hundreds(ns []numeral, most int) (int, bool) {
	if i := find(ns, hundred); i >= 0 {
		left, ok := multiplier(ns[:i], most)
		if !ok {
			return 0, false
		}
		rest := afterAnd(ns[i+1:])
		if len(rest) == 0 {
			return left * 100, len(ns) == i+1
		}
		right, ok := belowHundred(rest)
		return left*100 + right, ok && right > 0
	}
	first := ns[0]
	if first.scale == figures {
		return afterFigures(first.value, ns[1:])
	}
	if v, ok := belowHundred(ns); ok {
		return v, true
	}
	// "one twenty four": the word hundred swallowed.
	if first.scale == digit && first.value > 0 && !first.weak && !first.written {
		right, ok := belowHundred(ns[1:])
		return first.value*100 + right, ok && right >= 10 && !ns[1].written
	}
	return 0, false
}

// afterFigures reads what may follow a number in figures: a unit after full tens ("20 4"), tens and units after full hundreds ("100 and 4").
func afterFigures(v int, rest []numeral) (int, bool) {
	if len(rest) == 0 {
		return v, true
	}
	round := v >= 100 && v%100 == 0
	if round {
		rest = afterAnd(rest)
	}
	right, ok := belowHundred(rest)
	if !ok || right == 0 {
		return 0, false
	}
	return v + right, round || v >= 20 && v < 100 && v%10 == 0 && right < 10
}

func belowHundred(ns []numeral) (int, bool) {
	switch {
	case len(ns) == 1 && (ns[0].scale == digit || ns[0].scale == teen || ns[0].scale == tens):
		return ns[0].value, true
	case len(ns) == 1 && ns[0].scale == figures && ns[0].value < 100:
		return ns[0].value, true
	case len(ns) == 2 && ns[0].scale == tens && ns[1].scale == digit && ns[1].value > 0:
		return ns[0].value + ns[1].value, true
	}
	return 0, false
}

// multiplier reads what stands before "hundred" or "thousand": "a", or a number from 1 to most.
func multiplier(ns []numeral, most int) (int, bool) {
	if len(ns) == 1 && ns[0].scale == article {
		return 1, true
	}
	v, ok := belowHundred(ns)
	return v, ok && v > 0 && v <= most
}

func afterAnd(ns []numeral) []numeral {
	if len(ns) > 0 && ns[0].scale == and {
		return ns[1:]
	}
	return ns
}

func find(ns []numeral, s scale) int {
	for i, n := range ns {
		if n.scale == s {
			return i
		}
	}
	return -1
}

// numerals are the words of numbers as they are spelt, misspelt and misheard.
var numerals = func() map[string]numeral {
	m := map[string]numeral{
		"hundred": {scale: hundred}, "hundreds": {scale: hundred}, "hundredth": {scale: hundred, ordinal: true},
		"thousand": {scale: thousand}, "thousandth": {scale: thousand, ordinal: true},
		"and": {scale: and, weak: true}, "an": {scale: article, weak: true}, "a": {scale: article, weak: true},
	}
	add := func(s scale, value int, kind numeral, words ...string) {
		kind.scale, kind.value = s, value
		for _, w := range words {
			m[w] = kind
		}
	}
	plain, weak, linking, ordinal := numeral{}, numeral{weak: true}, numeral{weak: true, linking: true}, numeral{ordinal: true}
	for v, words := range [][]string{{"zero", "nought", "naught"}, {"one"}, {"two"}, {"three"}, {"four"}, {"five", "fife"},
		{"six", "sicks", "sics"}, {"seven"}, {"eight", "eigth", "ait"}, {"nine", "nein"}} {
		add(digit, v, plain, words...)
	}
	for v, words := range [][]string{{"oh", "o", "owe"}, {"won"}, {}, {"free", "tree"}, {"fore"}, {}, {}, {}, {"ate"}, {}} {
		add(digit, v, weak, words...)
	}
	add(digit, 2, linking, "to", "too")
	add(digit, 4, linking, "for")
	for i, words := range [][]string{{"first"}, {"second"}, {"third"}, {"fourth", "forth"}, {"fifth"}, {"sixth"}, {"seventh"}, {"eighth"}, {"ninth"}} {
		add(digit, i+1, ordinal, words...)
	}
	for i, words := range [][]string{{"ten", "tenn"}, {"eleven", "leaven", "elven"}, {"twelve", "twelv"}, {"thirteen"}, {"fourteen", "forteen"}, {"fifteen"},
		{"sixteen"}, {"seventeen"}, {"eighteen", "eightteen"}, {"nineteen", "ninteen"}} {
		add(teen, i+10, plain, words...)
	}
	add(teen, 10, weak, "tin")
	for i, words := range [][]string{{"tenth"}, {"eleventh"}, {"twelfth", "twelth"}, {"thirteenth"}, {"fourteenth"}, {"fifteenth"},
		{"sixteenth"}, {"seventeenth"}, {"eighteenth"}, {"nineteenth"}} {
		add(teen, i+10, ordinal, words...)
	}
	for i, words := range [][]string{{"twenty", "twenny"}, {"thirty"}, {"forty", "fourty"}, {"fifty"}, {"sixty"}, {"seventy"}, {"eighty"}, {"ninety", "ninty"}} {
		add(tens, i*10+20, plain, words...)
	}
	for i, words := range [][]string{{"twentieth"}, {"thirtieth"}, {"fortieth", "fourtieth"}, {"fiftieth"}, {"sixtieth"}, {"seventieth"}, {"eightieth"}, {"ninetieth"}} {
		add(tens, i*10+20, ordinal, words...)
	}
	return m
}()

// numeralOf gives the part that a word of letters or figures plays in a number, noNumber for most words.
func numeralOf(word string) numeral {
	if word == "" || word[0] < '0' || word[0] > '9' {
		return numerals[word]
	}
	v := 0
	for _, r := range word {
		v = min(v*10+int(r-'0'), maxNumber+1)
	}
	if len(word) == 1 {
		return numeral{scale: digit, value: v, written: true}
	}
	return numeral{scale: figures, value: v, written: true}
}
