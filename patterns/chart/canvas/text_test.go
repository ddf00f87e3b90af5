package canvas_test

import (
	"bytes"
	"image/png"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"pgregory.net/rapid"

	"clew/patterns/chart/canvas"
)

// TestWidthAsMeasured compares widths with those of the font library's own way
// of setting text.
func TestWidthAsMeasured(t *testing.T) {
	parsed, err := opentype.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range []float64{12, 48} {
		face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{"", "Round 12, Lanterns", "WAVE To. Ægir", "Жук … ſ", "fi ffl"} {
			got, want := canvas.TextWidth(size, text), float64(font.MeasureString(face, text))/64
			if math.Abs(got-want) > 0.02*float64(len(text))+1e-9 { // each advance is rounded there to a 64th
				t.Errorf("%q at %v is %.2f wide, want %.2f", text, size, got, want)
			}
		}
	}
}

// TestLacking says how much room is given to what the font lacks.
func TestLacking(t *testing.T) {
	box := canvas.TextWidth(10, "\U0001F9F6")
	for _, c := range []struct {
		name, text string
		want       float64
	}{
		{"an emoji", "\U0001F411", box},
		{"a letter of another script", "ש", box},
		{"a character of another script", "編", box},
		{"a family: three boxes, and the joiners nothing", "\U0001F469\u200d\U0001F469\u200d\U0001F467", 3 * box},
		{"a sign that turns the text", "\u202e", 0},
		{"an accent alone", "\u0301", 0},
		{"a line's end", "\n", canvas.TextWidth(10, " ")},
		{"a control", "\x00", canvas.TextWidth(10, " ")},
		{"a wide space", "\u3000", canvas.TextWidth(10, " ")},
	} {
		if got := canvas.TextWidth(10, c.text); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s is %v wide, want %v", c.name, got, c.want)
		}
	}
	if box < 5 || box > 9 {
		t.Errorf("a box is %v wide at ten units, which is no letter", box)
	}
}

// TestBoxIsHollow says that what the font lacks is drawn, and empty inside.
func TestBoxIsHollow(t *testing.T) {
	c := canvas.New(60, 60, canvas.Plain)
	c.Text(4, 50, 60, canvas.Start, canvas.Ink, "\U0001F9F6")
	decoded, err := png.Decode(bytes.NewReader(picture(t, c, 1)))
	if err != nil {
		t.Fatal(err)
	}
	if got := decoded.At(4+21, 50-21); got != canvas.Plain[canvas.Paper] {
		t.Errorf("the middle of the box is %v", got)
	}
	if got := decoded.At(4+7, 50-21); got != canvas.Plain[canvas.Ink] {
		t.Errorf("the left side of the box is %v", got)
	}
}

func TestCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[A-Za-z ]{0,40}`)).Draw(t, "text")
		width := rapid.Float64Range(-10, 400).Draw(t, "width")
		for _, way := range []struct {
			cut   func(size, width float64, text string) string
			width func(size float64, text string) float64
		}{{canvas.Cut, canvas.TextWidth}, {canvas.CutBold, canvas.BoldWidth}} {
			got := way.cut(16, width, text)
			kept := strings.TrimSuffix(got, "…")
			switch {
			case got == text && way.width(16, text) <= width:
			case kept == got || !strings.HasPrefix(text, kept):
				t.Fatalf("%q is cut to %q, which is no beginning of it", text, got)
			case way.width(16, kept) > 0 && way.width(16, got) > width+1e-9:
				t.Fatalf("%q is cut to %q, %v wide and not %v", text, got, way.width(16, got), width)
			default:
				next, long := utf8.DecodeRuneInString(text[len(kept):])
				if more := kept + text[len(kept):len(kept)+long] + "…"; next != ' ' && way.width(16, more) <= width-1e-9 {
					t.Fatalf("%q is cut to %q, and there is room for %q", text, got, more)
				}
			}
		}
	})
	for _, c := range []struct {
		width float64
		want  string
	}{
		{400, "Tamsin Quay"}, {70, "Tamsin…"}, {60, "Tamsi…"}, {12, "…"}, {0, "…"},
	} {
		if got := canvas.Cut(16, c.width, "Tamsin Quay"); got != c.want {
			t.Errorf("cut to %v: %q, want %q", c.width, got, c.want)
		}
	}
}
