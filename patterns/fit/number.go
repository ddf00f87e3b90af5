package fit

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// numberForm is a number as people write one: 22, 22.5, 22,5, 22 1/2, 1/2.
const numberForm = `-?(?:\d+[ -]+\d+ ?/ ?\d+|\d+ ?/ ?\d+|\d+(?:[.,]\d+)?|[.,]\d+)`

// unitForm is a unit as people write one, lower case, and the words that mean
// another length.
const unitForm = `cms?|centimet(?:re|er)s?|in|ins|inch|inches|"`

var plainForms = strings.NewReplacer(
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅓", " 1/3", "⅔", " 2/3", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
	"⁄", "/", "″", `"`, "“", `"`, "”", `"`, "„", `"`, "′′", `"`, "’’", `"`, "''", `"`,
	"×", "x", "−", "-", "–", "-", "—", "-")

// maxText is how many bytes are read; no length, gauge or person needs as many.
const maxText = 200

// plain gives a text in the plain forms of its quotes, dashes and fractions,
// lower case, with single spaces and without a full stop at its end.
// One that is too long comes as a mark that nothing is read from.
func plain(text string) string {
	if len(text) > maxText {
		return "?"
	}
	text = strings.Join(strings.Fields(plainForms.Replace(strings.ToLower(text))), " ")
	return strings.TrimSpace(strings.TrimSuffix(text, "."))
}

var (
	fraction  = regexp.MustCompile(`^(?:(\d+)[ -]+)?(\d+) ?/ ?(\d+)$`)
	thousands = regexp.MustCompile(`^\d{1,3},\d{3}$`) // may be a decimal comma or one between thousands
)

// number gives the value of what numberForm matches, to a thousandth, which is
// finer than anything that is measured; false where it has none or two.
func number(text string) (float64, bool) {
	sign := 1.0
	if rest, negative := strings.CutPrefix(text, "-"); negative {
		sign, text = -1, rest
	}
	if thousands.MatchString(text) {
		return 0, false
	}
	value := 0.0
	if m := fraction.FindStringSubmatch(text); m != nil {
		whole, top, bottom := digits(m[1]), digits(m[2]), digits(m[3])
		if bottom == 0 {
			return 0, false
		}
		value = whole + top/bottom
	} else {
		value = digits(strings.ReplaceAll(text, ",", "."))
	}
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return 0, false
	}
	return sign * rounded(value), true
}

// digits is the value of digits with or without a point; nothing is 0, and more
// of them than a float can hold is infinite.
func digits(text string) float64 {
	if text == "" {
		return 0
	}
	value, _ := strconv.ParseFloat(text, 64) // numberForm lets only numbers through
	return value
}

// rounded gives a value to a thousandth.
func rounded(value float64) float64 {
	if math.Abs(value) > 1e12 { // it is refused for its size, and has no thousandths
		return value
	}
	return math.Round(value*1000) / 1000
}

// written gives a value with at most three decimals, and no more than it needs.
func written(value float64) string { return strconv.FormatFloat(rounded(value), 'f', -1, 64) }

// unitOf tells which unit a word is.
func unitOf(word string) Unit {
	if strings.HasPrefix(word, "c") {
		return Centimetres
	}
	return Inches
}
