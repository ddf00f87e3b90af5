package canvas_test

import (
	"testing"

	"clew/patterns/chart/canvas"
)

// FuzzText says that any text can be drawn, cut and written, as a title, a
// label and a fact.
func FuzzText(f *testing.F) {
	for _, text := range []string{"", "Round 12", `<&">`, "\x00\xff\u202e", "\U0001F9F6 שלום", "]]>&#0;"} {
		f.Add(text, 40.0)
	}
	f.Fuzz(func(t *testing.T, text string, width float64) {
		c := canvas.New(60, 30, canvas.Plain)
		c.Title(text)
		c.Begin(text, "fact", text)
		c.Text(0, 20, 12, canvas.Middle, canvas.Ink, text)
		c.Bold(0, 20, 12, canvas.End, canvas.Ink, canvas.CutBold(12, width, text))
		if _, err := c.PNG(1); err != nil {
			t.Fatal(err)
		}
		if err := wellFormed(c.SVG(text)); err != nil {
			t.Fatal(err)
		}
	})
}
