package canvas_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"clew/patterns/chart/canvas"
)

// elements reads an SVG, and gives what each element is and has.
func elements(svg []byte) ([]xml.StartElement, error) {
	decoder := xml.NewDecoder(bytes.NewReader(svg))
	var found []xml.StartElement
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return found, nil
		}
		if err != nil {
			return nil, err
		}
		if start, ok := token.(xml.StartElement); ok {
			found = append(found, start.Copy())
		}
	}
}

func wellFormed(svg []byte) error {
	_, err := elements(svg)
	return err
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// TestEveryUseIsDefined says that an SVG stands alone: what it uses is in it,
// once.
func TestEveryUseIsDefined(t *testing.T) {
	all, err := elements(specimen().SVG(""))
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]int{}
	uses := 0
	for _, e := range all {
		if id := attribute(e, "id"); id != "" {
			ids[id]++
		}
	}
	for _, e := range all {
		if e.Name.Local == "use" {
			uses++
			if ids[strings.TrimPrefix(attribute(e, "href"), "#")] != 1 {
				t.Errorf("%q is defined %d times", attribute(e, "href"), ids[attribute(e, "href")])
			}
		}
	}
	if uses < 100 {
		t.Errorf("the specimen uses %d shapes, and it has more letters than that", uses)
	}
	for id, n := range ids {
		if n != 1 {
			t.Errorf("the id %q stands %d times", id, n)
		}
	}
}

// TestTextInSVG says that texts of any kind can be read back from the SVG, but
// for what XML (1.0, section 2.2: characters) cannot hold.
func TestTextInSVG(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"signs of XML", `<&"'> ]]>`, `<&"'> ]]>`},
		{"an entity", `&amp;`, `&amp;`},
		{"an emoji", "\U0001F9F6 yarn", "\U0001F9F6 yarn"},
		{"right to left", "שלום", "שלום"},
		{"letters that join", "क्षि", "क्षि"},
		{"lines", "a\nb\tc\rd", "a\nb\tc\rd"},
		{"controls", "a\x00b\x1bc", "a\ufffdb\ufffdc"},
		{"broken bytes", "a\xffb", "a\ufffdb"},
		{"no character", "a\uffffb", "a\ufffdb"},
	} {
		t.Run(c.name, func(t *testing.T) {
			drawing := canvas.New(100, 100, canvas.Plain)
			drawing.Title(c.text)
			drawing.Begin("row", "name", c.text, "Not a key", "x", "odd")
			drawing.Text(0, 20, 12, canvas.Start, canvas.Ink, c.text)
			drawing.End()
			all, err := elements(drawing.SVG(""))
			if err != nil {
				t.Fatal(err)
			}
			var labels, data int
			for _, e := range all {
				if e.Name.Local != "g" {
					continue
				}
				if got := attribute(e, "aria-label"); got != "" {
					labels++
					if got != c.want {
						t.Errorf("the label is %q, want %q", got, c.want)
					}
				}
				if attribute(e, "class") == "row" {
					data++
					if got := attribute(e, "data-name"); got != c.want || len(e.Attr) != 2 {
						t.Errorf("the group is %v, want the name %q alone", e.Attr, c.want)
					}
				}
			}
			if labels != 1 || data != 1 {
				t.Errorf("there are %d labels and %d groups, want one of each", labels, data)
			}
		})
	}
}

// TestGroups says that an SVG is well formed whatever was begun and ended.
func TestGroups(t *testing.T) {
	c := canvas.New(10, 10, canvas.Plain)
	c.End()
	c.Begin("chart")
	c.Begin("row", "row", "1")
	c.End()
	c.Begin("row", "row", "2")
	if err := wellFormed(c.SVG("")); err != nil {
		t.Errorf("%v in\n%s", err, c.SVG(""))
	}
	if n := strings.Count(string(c.SVG("")), "<g "); n != 3 {
		t.Errorf("there are %d groups, want 3", n)
	}
}

// TestDescribed says that the picture has a name and a description for those
// who do not see it, as the SVG accessibility mapping of W3C has it, and none
// if it was not described.
func TestDescribed(t *testing.T) {
	c := canvas.New(10, 10, canvas.Plain)
	if svg := string(c.SVG("")); strings.Contains(svg, "<title") || strings.Contains(svg, "aria-labelledby") || !strings.Contains(svg, `role="img"`) {
		t.Errorf("a picture that was not described is\n%s", svg)
	}
	c.Title("Lanterns")
	described := string(c.SVG("Rounds one to twelve"))
	for _, want := range []string{`role="img"`, `aria-labelledby="title desc"`, `<title id="title">Lanterns</title>`, `<desc id="desc">Rounds one to twelve</desc>`} {
		if !strings.Contains(described, want) {
			t.Errorf("there is no %s in\n%s", want, described)
		}
	}
}
