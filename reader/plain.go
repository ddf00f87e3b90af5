package reader

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"clew/patterns/stitch"
)

// Plain puts free text, such as a host's note or tip, into words for the ear:
// numbers are worded, the abbreviations of the trade stand as what they mean,
// "&" is said, and what can't be said is left out. Letters of any script stay.
// A text that has a letter or a digit never comes out empty.
func Plain(text string) string {
	p := plainer{tokens: tokens.FindAllString(typed(text), -1)}
	for p.i = 0; p.i < len(p.tokens); p.i++ {
		p.token()
	}
	return p.done()
}

// Name is Plain for a name, which stands inside a sentence: it keeps nothing
// that could end or divide one. One letter is a name of its own, as sizes have
// them, and no abbreviation: m is no marker.
func Name(text string) string {
	if letter := strings.TrimSpace(text); len(letter) == 1 && isLetter(letter) {
		return letter
	}
	words := strings.FieldsFunc(Plain(text), func(r rune) bool { return strings.ContainsRune(" ,.;:", r) })
	return strings.Join(words, " ")
}

// sentence ends a text as a sentence. An empty one stays empty.
func sentence(text string) string {
	if text == "" || strings.HasSuffix(text, ".") {
		return text
	}
	return text + "."
}

// tokens cuts text as typed gives it. In order: a cross, a number with a
// fraction behind it, a fraction, a number, a word (which may have digits in
// it, as k2tog has), space, and any single mark.
var tokens = regexp.MustCompile(`\d+/\d+(?:/\d+)? ?(?i:[rl]p?c)\b|\d+ +\d+/\d+|\d+/\d+|\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d+)*|\p{L}(?:[\p{L}\d]|[&'][\p{L}\d])*| +|.`)

// fractions are the single characters for parts of one.
var fractions = map[rune]string{'½': "1/2", '⅓': "1/3", '⅔': "2/3", '¼': "1/4", '¾': "3/4", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8"}

// typed brings the many writings of spaces, digits, quotes and fractions down
// to those of a plain keyboard, and drops accents that stand as characters of
// their own.
func typed(text string) string {
	var b strings.Builder
	b.Grow(len(text))
	for _, r := range text {
		switch {
		case r < 0x80 && r > ' ':
			b.WriteRune(r)
		case unicode.IsSpace(r) || unicode.IsControl(r):
			b.WriteByte(' ')
		case unicode.IsDigit(r):
			b.WriteByte(byte('0' + digit(r)))
		case r == '’' || r == '‘':
			b.WriteByte('\'')
		case r == '″' || r == '“' || r == '”':
			b.WriteByte('"')
		case fractions[r] != "":
			b.WriteString(" " + fractions[r])
		case !unicode.IsMark(r):
			b.WriteRune(r)
		}
	}
	return b.String()
}

// digit gives the value of a decimal digit of any script: they stand in the
// standard in runs of ten.
func digit(r rune) int {
	for _, run := range unicode.Nd.R16 {
		if rune(run.Lo) <= r && r <= rune(run.Hi) {
			return int(r-rune(run.Lo)) % 10
		}
	}
	for _, run := range unicode.Nd.R32 {
		if rune(run.Lo) <= r && r <= rune(run.Hi) {
			return int(r-rune(run.Lo)) % 10
		}
	}
	return 0
}

// A plainer says one token after the other.
type plainer struct {
	tokens []string
	i      int

	said    strings.Builder
	pending byte // the mark that stands before the next word: one of , . ; : - or 0
	number  int  // the whole number just said, for the unit behind it; -1 for one with a fraction
	counted bool // a number was just said
	short   bool // an abbreviation was just said: a full stop behind it may be its own
	coin    string
}

// strength orders the marks: of several in a row the strongest is kept.
var strength = map[byte]int{0: 0, '-': 1, ',': 2, ':': 3, ';': 4, '.': 5}

func (p *plainer) mark(m byte) {
	if p.said.Len() > 0 && strength[m] > strength[p.pending] {
		p.pending = m
	}
	p.counted, p.short = p.counted && m == '-', false
}

func (p *plainer) say(words string) {
	switch {
	case words == "":
		return
	case p.pending == '-':
		p.said.WriteByte('-')
	case p.pending != 0:
		p.said.WriteByte(p.pending)
		p.said.WriteByte(' ')
		if first, _ := utf8.DecodeRuneInString(p.at(0)); p.pending == '.' && unicode.IsUpper(first) {
			words = capital(words)
		}
	case p.said.Len() > 0:
		p.said.WriteByte(' ')
	}
	p.said.WriteString(words)
	p.pending, p.counted, p.short = 0, false, false
}

func (p *plainer) done() string {
	if p.pending == '.' {
		p.said.WriteByte('.')
	}
	return p.said.String()
}

// at gives the token n on; empty past either end.
func (p *plainer) at(n int) string {
	if p.i+n < 0 || p.i+n >= len(p.tokens) {
		return ""
	}
	return p.tokens[p.i+n]
}

// next gives the next token but a space.
func (p *plainer) next() string {
	if isSpace(p.at(1)) {
		return p.at(2)
	}
	return p.at(1)
}

func isSpace(token string) bool  { return strings.HasPrefix(token, " ") }
func isNumber(token string) bool { return token != "" && token[0] >= '0' && token[0] <= '9' }

func isLetter(token string) bool {
	for _, r := range token {
		return unicode.IsLetter(r)
	}
	return false
}

func (p *plainer) token() {
	switch t := p.at(0); {
	case isSpace(t):
	case isNumber(t):
		p.numeral(t)
	case isLetter(t):
		p.word(t)
	default:
		p.symbol(t)
	}
}

// numeral says a number, a fraction, or a cross.
func (p *plainer) numeral(t string) {
	if c, _, ok := stitch.FindCross(t); ok {
		p.say(c.Words())
		return
	}
	whole, fraction, mixed := strings.Cut(t, " ")
	switch {
	case isLetter(t[len(t)-1:]): // the name of a cross too wide to be one
		p.say(digits(t))
	case mixed:
		p.say(wholeNumber(whole) + " and " + part(strings.TrimSpace(fraction)))
		p.number = -1
	case strings.Contains(t, "/"):
		p.say(part(t))
		p.number = -1
	default:
		p.plainNumber(t)
	}
	if p.coin != "" {
		p.say(p.coin)
		p.coin = ""
	}
	p.counted = true
}

func (p *plainer) plainNumber(t string) {
	before, decimals, isDecimal := strings.Cut(t, ".")
	words := wholeNumber(before)
	p.number = -1
	if isDecimal {
		words += " point"
		for i := range len(decimals) {
			if decimals[i] != '.' {
				words += " " + units[decimals[i]-'0']
			} else {
				words += " point"
			}
		}
	} else if n, err := strconv.Atoi(before); err == nil {
		p.number = n
		if p.isOrdinal(n) {
			words = Ordinal(n)
			p.i++
		}
	}
	p.say(words)
}

// isOrdinal says that the letters of an ordinal follow at once: "1st", "12th".
func (p *plainer) isOrdinal(n int) bool {
	suffix := "th"
	if n/10%10 != 1 && n%10 >= 1 && n%10 <= 3 {
		suffix = [...]string{"st", "nd", "rd"}[n%10-1]
	}
	return strings.EqualFold(p.at(1), suffix)
}

// maxWorded is the most digits that are worded as one number. Longer ones are
// no counts, and are said digit by digit, as are those that begin with zero.
const maxWorded = 9

func wholeNumber(t string) string {
	t = strings.ReplaceAll(t, ",", "")
	if len(t) > maxWorded || (len(t) > 1 && t[0] == '0') {
		return digits(t)
	}
	n, _ := strconv.Atoi(t)
	return Number(n)
}

// digits says a run of digits and letters one by one.
func digits(t string) string {
	var words []string
	for _, r := range t {
		switch {
		case r >= '0' && r <= '9':
			words = append(words, units[r-'0'])
		case unicode.IsLetter(r):
			words = append(words, string(r))
		}
	}
	return strings.Join(words, " ")
}

// part says a fraction: "one half", "three quarters", "two over five".
func part(t string) string {
	above, below, _ := strings.Cut(t, "/")
	name := map[string]string{"2": "half", "3": "third", "4": "quarter", "8": "eighth"}[below]
	n, err := strconv.Atoi(above)
	if name == "" || err != nil || n == 0 || (below == "2" && n > 1) {
		return wholeNumber(above) + " over " + wholeNumber(below)
	}
	return Number(n) + " " + plural(name, n)
}

// spoken are the marks that are said as words.
var spoken = map[string]string{"&": "and", "+": "plus", "%": "percent", "=": "equals", "@": "at", "#": "number", "°": "degrees", "*": "star", "×": "times"}

var coins = map[string]string{"$": "dollars", "€": "euros", "£": "pounds", "¥": "yen"}

// symbol says a mark, or leaves it out.
func (p *plainer) symbol(t string) {
	betweenNumbers := p.counted && isNumber(p.next())
	switch t {
	case ",", ";":
		p.mark(t[0])
	case ":":
		if !(p.counted && isNumber(p.at(1))) { // a time of day has none to hear
			p.mark(':')
		}
	case ".":
		if !p.short || !startsLower(p.next()) {
			p.mark('.')
		}
	case "!", "?", "…":
		p.mark('.')
	case "(", ")", "[", "]", "{", "}":
		p.mark(',')
	case "-", "–", "—", "‑", "−":
		p.dash(betweenNumbers)
	case `"`:
		if p.counted {
			p.say("inches")
		}
	case "×":
		if betweenNumbers {
			p.say("by")
		} else {
			p.say("times")
		}
	default:
		if coin := coins[t]; coin != "" && isNumber(p.at(1)) {
			p.coin = coin
			return
		}
		p.say(spoken[t])
	}
}

func startsLower(token string) bool {
	for _, r := range token {
		return unicode.IsLower(r) || unicode.IsDigit(r)
	}
	return false
}

// dash says a dash: "to" between numbers, "minus" before one, a hyphen inside
// a word, else a pause.
func (p *plainer) dash(betweenNumbers bool) {
	before, after := p.at(-1), p.at(1)
	joins := (isLetter(before) || isNumber(before)) && (isLetter(after) || isNumber(after))
	switch {
	case betweenNumbers:
		p.say("to")
	case joins:
		p.mark('-')
	case isNumber(after) && (before == "" || isSpace(before)):
		p.say("minus")
	default:
		p.mark(',')
	}
}
