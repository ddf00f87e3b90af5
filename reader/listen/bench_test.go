package listen

import "testing"

func BenchmarkHear(b *testing.B) {
	l := New(terms)
	for _, c := range []struct{ name, words string }{
		{"next", "next row please"},
		{"number", "could you take me to round nine hundred and ninety nine please"},
		{"explain", "how do I work a two over one right purl cross"},
		{"gauge", "I get twenty one stitches and twenty nine rows to ten centimetres"},
		{"yarn", "of the gray I had a hundred grams and thirty eight are left will it last"},
		{"chatter", "the next row was so hard that I had to put it down and make a cup of tea for my sister"},
		{"plain", "so what would it be that I could do with this or that one if I did it on my own in the end and still had it"},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				l.Hear(c.words)
			}
		})
	}
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		New(terms)
	}
}
