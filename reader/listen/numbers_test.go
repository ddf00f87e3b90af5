package listen

import "testing"

// The ways in which numbers are said and dictated; what isn't one number must not be read as one.
func TestReadNumber(t *testing.T) {
	for _, c := range []struct {
		words string
		want  int // -1: no number
	}{
		{"zero", 0}, {"seven", 7}, {"twelve", 12}, {"twenty four", 24}, {"twenty for", 24}, {"20 for", 24}, {"20 4", 24}, {"twenty to", 22}, {"forty won", 41}, {"ninety five", 95}, {"9 5", 95}, {"nine five", 95},
		{"for tea two", 42}, {"thirty ate", 38}, {"sicks", 6}, {"tin", 10}, {"won", 1}, {"to", 2}, {"too", 2}, {"for", 4}, {"fore", 4}, {"ate", 8},
		{"a hundred", 100}, {"a hundred and four", 104}, {"one hundred four", 104}, {"one oh four", 104}, {"one o for", 104}, {"1 0 4", 104}, {"100 and 4", 104}, {"100 4", 104}, {"to hundred and to", 202},
		{"one twenty", 120}, {"one twenty four", 124}, {"three fifteen", 315}, {"twelve hundred", 1200}, {"twelve hundred and fifty", 1250}, {"a thousand", 1000}, {"a thousand and one", 1001},
		{"nine thousand nine hundred and ninety nine", 9999}, {"9 thousand 9 hundred and 99", 9999}, {"9999", 9999}, {"1204", 1204}, {"007", 7}, {"1 2 3 4", 1234}, {"one two three four", 1234},
		{"twelfth", 12}, {"twenty first", 21}, {"hundred and fourth", -1}, {"a hundred and fourth", 104}, {"thirtieth", 30},

		{"", -1}, {"and", -1}, {"a", -1}, {"hundred", -1}, {"hundred and", -1}, {"a hundred and", -1}, {"one and two", -1}, {"one to five", -1}, {"to ten", -1}, {"twelve thirteen", -1}, {"twenty twenty", -1},
		{"twelve four", -1}, {"12 4", -1}, {"12 13", -1}, {"ten thousand", -1}, {"10000", -1}, {"99999999999999999999999", -1}, {"1 2 3 4 5", -1}, {"oh four", -1}, {"oh", 0}, {"twenty zero", -1},
		{"first second", -1}, {"first four", -1}, {"thousand", -1}, {"cat", -1}, {"four cats", -1}, {"two two hundred", -1}, {"twenty hundred hundred", -1},
	} {
		ws, _ := split(c.words)
		ns := make([]numeral, len(ws))
		for i, w := range ws {
			ns[i] = w.num
		}
		r, ok := readNumber(ns)
		if !ok {
			r.value = -1
		}
		if r.value != c.want {
			t.Errorf("%q is read as %d, want %d", c.words, r.value, c.want)
		}
	}
}
