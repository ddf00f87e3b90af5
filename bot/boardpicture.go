package bot

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"clew/bot/board"
	"clew/patterns/chart/canvas"
)

// altMost is how much of the words stands beside the picture, in characters: the
// platforms take no more.
const altMost = 1024

// picture draws the board. Its words are those of the board, in as few as it takes.
func (f *boardFacts) picture(texts []string) (*Picture, error) {
	p := board.Picture{Title: drawnOr(f.about.Title, "How far everybody has come"), Open: f.share}
	if f.named() {
		f.drawNames(&p)
	} else {
		f.drawCounts(&p)
	}
	png, err := p.PNG(1)
	if err != nil {
		return nil, fmt.Errorf("draw the board: %w", err)
	}
	return &Picture{Name: "board.png", PNG: png, Alt: strings.ReplaceAll(firstWithin(texts, altMost), "\n", " ")}, nil
}

// firstWithin gives the first of some texts that has at most so many characters, or
// the last.
func firstWithin(texts []string, most int) string {
	for _, text := range texts {
		if measure(text) <= most {
			return text
		}
	}
	return texts[len(texts)-1]
}

// drawNames gives each member who is named a bar.
func (f *boardFacts) drawNames(p *board.Picture) {
	for _, k := range f.knitters {
		if k.hidden {
			continue
		}
		bar := board.Bar{Name: drawnName(k.name, len(p.Bars)+1), Done: max(k.done, 0), Finished: k.finished}
		if k.done < 0 {
			bar.Figure = " "
		}
		if k.at.Row > 0 && !k.finished {
			bar.Note = f.rowNote(k)
		}
		p.Bars = append(p.Bars, bar)
	}
	switch who := map[bool]string{true: "is", false: "are"}[f.hidden == 1]; {
	case f.hidden == 0:
	case len(p.Bars) == 0:
		p.Below = fmt.Sprintf("%d who %s not named", f.hidden, who)
	default:
		p.Below = fmt.Sprintf("and %d more who %s not named", f.hidden, who)
	}
}

// drawnName is a member's name as the picture's letters can write it. Where they can't,
// it is told by its place among those that are named, which is that in the words.
func drawnName(name string, place int) string {
	if visible(name) == "" {
		return capital(somebody)
	}
	return drawnOr(name, fmt.Sprintf("(number %d by name)", place))
}

// drawnOr is a name as the picture's letters can write it, or something else where
// they can write no letter of it.
func drawnOr(name, other string) string {
	name = visible(name)
	drawn := visible(canvas.Drawn(name))
	if drawn != name && !strings.ContainsFunc(drawn, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
		return other
	}
	return drawn
}

// drawnSection is a section's name as the picture's letters can write it, or which
// section of the pattern it is.
func (f *boardFacts) drawnSection(name string) string {
	return drawnOr(name, fmt.Sprintf("section %d", f.places[name]))
}

// rowNote is where a knitter is, for the eye: "Round 12, Lanterns".
func (f *boardFacts) rowNote(k knitter) string {
	word, _, _ := strings.Cut(f.rowAt(k.at, 1), " ")
	return capital(word) + " " + strconv.Itoa(k.at.Row) + ", " + f.drawnSection(k.at.Section)
}

// drawCounts gives each section in which somebody is a bar: how many of all are in
// it.
func (f *boardFacts) drawCounts(p *board.Picture) {
	all := len(f.knitters)
	p.Title += fmt.Sprintf(": where %d knitters are", all)
	p.Open = 0 // the bars tell of people, and not of stitches
	bar := func(name string, n int) {
		if n > 0 {
			p.Bars = append(p.Bars, board.Bar{Name: name, Done: float64(n) / float64(all), Figure: strconv.Itoa(n)})
		}
	}
	crowds, beginning := f.crowds()
	bar("At the beginning", beginning)
	for _, c := range crowds {
		bar(f.drawnSection(c.section.Name), c.n)
	}
	bar("Finished", f.finished)
}
