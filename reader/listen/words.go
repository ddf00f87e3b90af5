package listen

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Longer than these, words are no request: nobody asks for a row in five hundred letters or forty words.
const (
	maxRunes = 500
	maxWords = 40
)

// word is one word as it was typed or dictated.
type word struct {
	text  string   // lower case; letters alone or figures alone
	forms []string // the words it may stand for, itself first
	num   numeral
	pause bool // a comma, a stop or the like stood before it
	code  bool // written as abbreviations are: in capitals among small letters, or without a vowel
}

// split cuts what was typed or dictated into words. Case, emoji, quotes and stretched letters ("pleaseee") are smoothed, contractions
// written out, figures parted from letters. asked reports that it ends with a question mark. Too long a text gives no words.
func split(said string) (words []word, asked bool) {
	if len(said) > maxRunes*utf8.UTFMax || utf8.RuneCountInString(said) > maxRunes {
		return nil, false
	}
	s := scanner{in: []rune(said)}
	for s.at = range s.in {
		s.take(s.in[s.at])
	}
	s.flush()
	words = joinApart(s.words)
	shouted := strings.ToUpper(said) == said
	if len(words) > maxWords {
		return nil, false
	}
	for i := range words {
		lookUp(&words[i])
		words[i].code = isCode(words[i], shouted)
	}
	return words, s.asked
}

func lookUp(w *word) {
	w.forms = append([]string{w.text}, soundAlikes[w.text]...)
	if w.num.scale == noNumber {
		w.num = numeralOf(w.text)
	}
	if one, ok := figureWords[w.text]; ok {
		w.forms = append(w.forms, one)
	}
}

// isCode reports whether a word has the look of an abbreviation.
func isCode(w word, shouted bool) bool {
	letters := len(w.text) >= 2 && len(w.text) <= 6 && w.num.scale == noNumber
	return letters && (w.code && !shouted || !strings.ContainsAny(w.text, "aeiouy") && w.text[0] >= 'a')
}

type scanner struct {
	in    []rune
	at    int
	cur   []rune
	caps  int // capitals in cur
	words []word
	pause bool
	asked bool
	glued bool // the last word ended with no space after it
	open  bool // a quotation mark is open
}

func (s *scanner) take(r rune) {
	switch {
	case '0' <= r && r <= '9':
		if len(s.cur) > 0 && !isFigure(s.cur[0]) {
			s.flush()
		}
		s.cur = append(s.cur, r)
	case unicode.IsLetter(r) || unicode.Is(unicode.Mn, r) && len(s.cur) > 0 && r < 0x1000:
		if len(s.cur) > 0 && isFigure(s.cur[0]) {
			s.flush()
			s.glued = true
		}
		if unicode.IsUpper(r) {
			s.caps++
		}
		s.cur = append(s.cur, unicode.ToLower(r))
	case strings.ContainsRune("'’‘ʼ`´", r):
		if len(s.cur) > 0 && !isFigure(s.cur[0]) && unicode.IsLetter(s.peek(1)) {
			s.cur = append(s.cur, '\'')
		} else {
			s.flush()
		}
	case r == ',' && s.groupsThousands():
	case isFigure(s.peek(-1)) && isFigure(s.peek(1)) && strings.ContainsRune("./-–−:", r):
		s.sign(betweenFigures[r])
	case r == '.' && isFigure(s.peek(1)) && s.peek(-1) == ' ':
		s.sign("point")
	case strings.ContainsRune(`"“”″`, r):
		s.quote(r)
	case r == '×':
		s.sign("x")
	case strings.ContainsRune("-−", r) && isFigure(s.peek(1)) && (s.at == 0 || s.peek(-1) == ' '):
		s.sign("minus")
	case r == '=':
		s.sign("equals")
	case strings.ContainsRune("%+°", r) || unicode.Is(unicode.Sc, r) || unicode.Is(unicode.No, r):
		s.sign(string(r))
	case r == '\u200d' || r == '\ufeff' || r == '\u00ad':
	default:
		s.flush()
		s.pause = s.pause || strings.ContainsRune(",.;:!?()…—–\n", r)
		s.asked = s.asked || r == '?'
	}
}

// What a sign between two figures means. Only "over" can stand in a request: 2/1 is said two over one.
var betweenFigures = map[rune]string{'.': "point", '/': "over", '-': "dash", '–': "dash", '−': "dash", ':': "colon"}

func (s *scanner) peek(by int) rune {
	if i := s.at + by; i >= 0 && i < len(s.in) {
		return s.in[i]
	}
	return ' '
}

// groupsThousands reports whether the comma here parts the thousands: 1,204.
func (s *scanner) groupsThousands() bool {
	if len(s.cur) == 0 || len(s.cur) > 3 || !isFigure(s.cur[0]) {
		return false
	}
	for i := 1; i <= 3; i++ {
		if !isFigure(s.peek(i)) {
			return false
		}
	}
	return !isFigure(s.peek(4))
}

// quote takes a quotation mark. Behind a number, where none is open, it means inches.
func (s *scanner) quote(r rune) {
	before := s.peek(-1)
	if r == '″' || r != '“' && !s.open && (isFigure(before) || fractionSigns[string(before)] > 0) {
		s.sign("inches")
		return
	}
	s.flush()
	s.open = r == '“' || r == '"' && !s.open
}

func isFigure(r rune) bool { return '0' <= r && r <= '9' }

// sign adds a word for a sign that isn't a letter.
func (s *scanner) sign(text string) {
	s.flush()
	s.add(text)
}

func (s *scanner) flush() {
	if len(s.cur) == 0 {
		s.glued = false
		return
	}
	text, capitals := string(s.cur), s.caps == len(s.cur)
	s.cur, s.caps = s.cur[:0], 0
	if isFigure(rune(text[0])) {
		s.add(text)
		s.glued = false
		return
	}
	if last := len(s.words) - 1; s.glued && (text == "st" || text == "nd" || text == "rd" || text == "th") {
		s.words[last].num = numeralOf(s.words[last].text)
		s.words[last].num.ordinal = true
		s.glued = false
		return
	}
	s.glued = false
	for _, w := range writeOut(unstretch(text)) {
		s.add(w)
	}
	if last := len(s.words) - 1; last >= 0 {
		s.words[last].code = capitals
	}
}

func (s *scanner) add(text string) {
	s.words = append(s.words, word{text: text, pause: s.pause && len(s.words) > 0})
	s.pause, s.asked = false, false
}

// unstretch takes letters that stand three times or more in a row back to one.
func unstretch(text string) string {
	in := []rune(text)
	out := in[:0:0]
	for i := 0; i < len(in); {
		j := i
		for j < len(in) && in[j] == in[i] {
			j++
		}
		if j-i >= 3 {
			out = append(out, in[i])
		} else {
			out = append(out, in[i:j]...)
		}
		i = j
	}
	return string(out)
}

// writeOut writes a contraction out in full: "what's" is what is, "don't" is do not.
func writeOut(text string) []string {
	if full, ok := contractions[strings.ReplaceAll(text, "'", "")]; ok && (strings.Contains(text, "'") || !ownWord[text]) {
		return strings.Fields(full)
	}
	stem, end, found := strings.Cut(text, "'")
	if !found {
		return []string{text}
	}
	switch end {
	case "m":
		return []string{stem, "am"}
	case "re":
		return []string{stem, "are"}
	case "ve":
		return []string{stem, "have"}
	case "ll":
		return []string{stem, "will"}
	case "d":
		return []string{stem, "would"}
	case "t":
		return []string{strings.TrimSuffix(stem, "n"), "not"}
	case "s":
		if takesIs[stem] {
			return []string{stem, "is"}
		}
	}
	return []string{strings.ReplaceAll(text, "'", "")}
}

// joinApart puts words together that dictation set apart: "a gain" is again.
func joinApart(in []word) []word {
	out := in[:0]
	for i := 0; i < len(in); i++ {
		if i+1 < len(in) && !in[i+1].pause {
			if whole, ok := setApart[[2]string{in[i].text, in[i+1].text}]; ok {
				out = append(out, word{text: whole, pause: in[i].pause})
				i++
				continue
			}
		}
		out = append(out, in[i])
	}
	return out
}
