package reader

import "strings"

var (
	units = [...]string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
		"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"}
	tens   = [...]string{"", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}
	scales = [...]string{"", " thousand", " million", " billion", " trillion", " quadrillion", " quintillion"}
)

// belowHundred holds the words of 0 to 99, so that the counts of most rows
// need no work.
var belowHundred = func() (words [100]string) {
	copy(words[:], units[:])
	for n := len(units); n < 100; n++ {
		words[n] = tens[n/10]
		if n%10 > 0 {
			words[n] += "-" + units[n%10]
		}
	}
	return words
}()

// Number words any whole number: "twenty-four", "one hundred and four", "one
// thousand two hundred and five", "minus two".
func Number(n int) string {
	if n >= 0 && n < 100 {
		return belowHundred[n]
	}
	if n < 0 {
		return "minus " + magnitude(-uint64(n))
	}
	return magnitude(uint64(n))
}

// magnitude words a number in groups of three digits, the highest first. An
// "and" stands before what is below a hundred, in each group and in the whole.
func magnitude(n uint64) string {
	if n < 1000 {
		return belowThousand(int(n))
	}
	var groups []int
	for rest := n; rest > 0; rest /= 1000 {
		groups = append(groups, int(rest%1000))
	}
	var b strings.Builder
	for i := len(groups) - 1; i >= 0; i-- {
		group := groups[i]
		if group == 0 {
			continue
		}
		if b.Len() > 0 {
			b.WriteByte(' ')
			if i == 0 && group < 100 {
				b.WriteString("and ")
			}
		}
		b.WriteString(belowThousand(group) + scales[i])
	}
	return b.String()
}

func belowThousand(n int) string {
	switch {
	case n < 100:
		return belowHundred[n]
	case n%100 == 0:
		return units[n/100] + " hundred"
	}
	return units[n/100] + " hundred and " + belowHundred[n%100]
}

// irregular are the ordinals that are not the number with "th" behind it.
var irregular = map[string]string{"one": "first", "two": "second", "three": "third", "five": "fifth", "eight": "eighth", "nine": "ninth", "twelve": "twelfth"}

// Ordinal words a place in an order: "first", "twenty-third".
func Ordinal(n int) string {
	words := Number(n)
	cut := strings.LastIndexAny(words, " -") + 1
	last := words[cut:]
	if odd := irregular[last]; odd != "" {
		return words[:cut] + odd
	}
	if stem, ok := strings.CutSuffix(last, "y"); ok {
		return words[:cut] + stem + "ieth"
	}
	return words + "th"
}

// Times words how often: "once", "twice", "three times".
func Times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return Number(n) + " times"
}
