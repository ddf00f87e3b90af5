package bot_test

import (
	"bytes"
	"fmt"
	"image/png"
	"regexp"
	"strings"
	"testing"

	"clew/bot"
	"clew/reader/listen"
)

var pictureName = regexp.MustCompile(`^[a-z0-9-]{1,64}\.png$`)

// checkPicture holds for whatever picture is sent.
func checkPicture(t *testing.T, asked string, r bot.Reply) {
	t.Helper()
	if r.Picture == nil {
		t.Fatalf("%q gets no picture: %q", asked, r.Said)
	}
	image, err := png.DecodeConfig(bytes.NewReader(r.Picture.PNG))
	if err != nil || image.Width > 1200 || image.Height > 4096 {
		t.Errorf("%q: the picture is %d by %d (%v), expected at most 1,200 by 4,096", asked, image.Width, image.Height, err)
	}
	if !pictureName.MatchString(r.Picture.Name) {
		t.Errorf("%q: the picture is called %q", asked, r.Picture.Name)
	}
	checkSaid(t, asked, bot.Reply{Said: r.Picture.Alt})
	if first, _, _ := strings.Cut(r.Picture.Alt, ". "); !strings.HasPrefix(r.Said, strings.TrimSuffix(first, ".")) {
		t.Errorf("%q is answered %q, and its picture tells %q", asked, r.Said, r.Picture.Alt)
	}
}

// Under each picture stands the other look of the same rows, and leads to it.
func TestPicturesInBothLooks(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "float-hat"))
	h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "put me at round 12 of the floats"})
	for _, c := range []struct{ words, name, other string }{
		{"show me the chart", "floats-rounds-1-24.png", "brim-rounds-1-12-fabric.png"},
		{"what should it look like", "brim-rounds-1-12-fabric.png", "floats-rounds-1-24.png"},
		{"show me the chart of the rope panel", "rope-rounds-1-1.png", "rope-rounds-1-1-fabric.png"},
		{"show me the chart of the crown", "crown-rounds-1-18.png", "crown-rounds-1-18-fabric.png"},
		{"show me a picture of round 7", "floats-rounds-1-24.png", "floats-rounds-1-24-fabric.png"},
		{"draw the crown", "crown-rounds-1-18.png", "crown-rounds-1-18-fabric.png"},
		{"draw rounds 1 to 8", "floats-rounds-1-8.png", "floats-rounds-1-8-fabric.png"},
		{"show me rounds 20 to 40", "floats-rounds-20-24.png", "floats-rounds-20-24-fabric.png"},
		{"chart of rounds three to five of the crown", "crown-rounds-3-5.png", "crown-rounds-3-5-fabric.png"},
		{"chart of the float panel", "float-rounds-1-24.png", "float-rounds-1-24-fabric.png"},
		{"chart of rounds three to five of the float panel", "float-rounds-3-5.png", "float-rounds-3-5-fabric.png"},
	} {
		before := h.dump(t)
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: c.words})
		checkSaid(t, c.words, r)
		checkChoices(t, c.words, r)
		checkPicture(t, c.words, r)
		if r.Picture.Name != c.name {
			t.Errorf("%q shows %s, expected %s", c.words, r.Picture.Name, c.name)
		}
		other := h.press(t, id, r.Choices[0], r.Mark)
		checkPicture(t, c.words+", the other look", other)
		if other.Picture.Name != c.other {
			t.Errorf("%q and then %s shows %s, expected %s", c.words, r.Choices[0].Label, other.Picture.Name, c.other)
		}
		if again := h.press(t, id, other.Choices[0], r.Mark); again.Picture != r.Picture {
			t.Errorf("%q: the picture is made anew, or is another: %s", c.words, again.Picture.Name)
		}
		if !sameDump(before, h.dump(t)) {
			t.Errorf("%q changed the store", c.words)
		}
	}
}

func sameDump(a, b map[string]any) bool { return fmt.Sprint(a) == fmt.Sprint(b) }

// What is worked in rounds, in rows, in pieces and in yarns can be drawn at every
// section, in both looks, and before the first row as after the last.
func TestPicturesOfEverySection(t *testing.T) {
	for _, name := range []string{"float-hat", "boathouse-socks", "gull-kerchief", "lee-cap"} {
		h := newHouse(t)
		id := h.knit(t, wren, pattern(t, name))
		p := newPlansOf(pattern(t, name))
		rows := p.at(t, h.place(t, id, wren)).Rows
		places := []string{"where am I"}
		for _, s := range p.Sections {
			places = append(places, "put me at row 2 of the "+s.Name)
		}
		last := rows[len(rows)-1]
		places = append(places, fmt.Sprintf("put me at row %d of the %s", last.Number, last.Section.Name), "next row")
		for _, place := range places {
			h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: place})
			for _, look := range []string{listen.LookChart, listen.LookFabric} {
				r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Heard: &listen.Heard{Intent: listen.Picture, Look: look, Sure: true}})
				asked := name + ", " + place + ", " + look
				checkSaid(t, asked, r)
				checkChoices(t, asked, r)
				checkPicture(t, asked, r)
			}
		}
	}
}

// A range that goes past the end of its section or panel says so, and one that does
// not says nothing of it.
func TestPictureOfTooManyRows(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "float-hat"))
	for words, end := range map[string]string{
		"draw rounds 15 to 30 of the crown":       " Crown ends with round eighteen, so no more is drawn.",
		"draw rounds 3 to 99 of the float panel":  " Float ends with round twenty-four, so no more is drawn.",
		"draw rounds 15 to 18 of the crown":       "No stitches cross.",
		"draw rounds 60 to 70 of the float panel": "Float has no round sixty; its last is round twenty-four.",
		"draw rounds 60 to 70 of the crown":       "Crown has no round sixty; its last is round eighteen.",
	} {
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: words})
		checkSaid(t, words, r)
		if !strings.HasSuffix(r.Said, end) {
			t.Errorf("%q is answered %q, expected it to end with %q", words, r.Said, end)
		}
	}
}

// What can't be shown is told in a sentence, and no picture comes of it.
func TestNoSuchPicture(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "float-hat"))
	for words, want := range map[string]string{
		"show me the chart of the crwn":                    "There is no section called crwn in this pattern. Did you mean Crown?",
		"show me the chart of panel flaot":                 "There is no panel called flaot in this pattern. Did you mean Float?",
		"show me the chart of round 99":                    "There is no round ninety-nine in this pattern.",
		"show me the chart of round 7 of the shore":        "There is no section called shore in this pattern. Its sections are Brim,",
		"show me the chart of " + strings.Repeat("x", 400): "There is no section called x in this pattern.",
	} {
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: words})
		checkSaid(t, words, r)
		if !strings.HasPrefix(r.Said, want) || r.Picture != nil {
			t.Errorf("%q is answered %q, expected %q", words, r.Said, want)
		}
	}
}
