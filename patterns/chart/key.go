package chart

import (
	"strings"

	"clew/patterns/chart/canvas"
)

// A keyEntry is one line of the key.
type keyEntry struct {
	mark *mark  // nil for what is no symbol
	yarn uint8  // where letter is set
	text string // what it says
	kind keyKind
}

type keyKind uint8

const (
	keyMark keyKind = iota
	keyBlank
	keyYarn
)

const (
	keySquare = 34  // side of a square in the key
	keyWidest = 150 // of a symbol in the key
)

// findKeys gathers what stands in the picture and nothing else.
func (l *layout) findKeys() {
	used, blank := map[*mark]bool{}, false
	for i, line := range l.lines {
		for k := range line.items {
			at := l.grid.rows[i].cells[k]
			if _, _, ok := l.shown(at.lo, at.hi); ok {
				used[line.items[k].mark] = true
			}
		}
		for _, s := range l.grid.rows[i].blanks {
			_, _, ok := l.shown(s, s)
			blank = blank || ok
		}
	}
	for _, m := range l.marks.all() {
		if used[m] {
			l.keys = append(l.keys, keyEntry{mark: m, text: m.says(), kind: keyMark})
		}
	}
	if blank {
		l.keys = append(l.keys, keyEntry{text: "no stitch", kind: keyBlank})
	}
	if len(l.yarns.order) > 1 {
		for i, y := range l.yarns.order {
			l.keys = append(l.keys, keyEntry{yarn: y, text: l.yarns.names[i], kind: keyYarn})
		}
	}
	widest := 0.0
	for _, k := range l.keys {
		widest = max(widest, k.width())
	}
	l.columns = max(1, min(len(l.keys), int((Width-40)/(widest+30))))
}

// says is what the key says of a mark: its abbreviation and its words, for each
// side that it was worked on.
func (m *mark) says() string {
	if m.words != "" {
		return m.name + "  " + m.words
	}
	rs, ws := m.worked[0], m.worked[1]
	switch {
	case rs == nil && ws == nil:
		return m.name
	case rs != nil && ws != nil && *rs != *ws:
		return rs.brief() + " on the right side, " + ws.brief() + " on the wrong side"
	case rs == nil && ws.stitch != m.shows:
		return ws.full() + ", on the wrong side"
	case rs == nil:
		return ws.full()
	}
	return rs.full()
}

// brief is a name that can be said in a list: plain stitches are said in words.
func (s form) brief() string {
	if s.stitch.Counted && !s.bar && !s.knitwise && !s.tbl {
		return s.stitch.Words
	}
	return s.name()
}

// full is the abbreviation with its words.
func (s form) full() string {
	words := s.stitch.Words
	if s.stitch.Noun != "" {
		words += " a " + s.stitch.Noun
	}
	if s.knitwise {
		words += " knitwise"
	}
	if s.bar {
		words += " with the yarn in front"
	}
	if s.tbl {
		words += " through the back loop"
	}
	return s.name() + "  " + words
}

// width is how much room an entry needs.
func (k keyEntry) width() float64 {
	return k.symbolWidth() + 14 + canvas.TextWidth(keySize, k.text)
}

func (k keyEntry) symbolWidth() float64 {
	if k.mark == nil {
		return keySquare
	}
	return min(keyWidest, float64(k.mark.width)*keySquare)
}

// drawKey draws the key below the chart, down each column and then the next.
func (l *layout) drawKey() {
	rows := (len(l.keys) + l.columns - 1) / l.columns
	if rows == 0 {
		return
	}
	l.c.Begin("key")
	defer l.c.End()
	widths := make([]float64, 0, l.columns)
	total := -40.0
	for from := 0; from < len(l.keys); from += rows {
		widest := 0.0
		for _, k := range l.keys[from:min(from+rows, len(l.keys))] {
			widest = max(widest, k.width())
		}
		widths = append(widths, widest)
		total += widest + 40
	}
	x := max(20, (Width-total)/2)
	for i, k := range l.keys {
		if i > 0 && i%rows == 0 {
			x += widths[i/rows-1] + 40
		}
		l.keyEntry(k, x, l.keyTop+float64(i%rows*keyRow))
	}
}

func (l *layout) keyEntry(k keyEntry, x, y float64) {
	if y+keyRow > MaxHeight {
		return
	}
	l.c.Begin("key-entry", "text", k.text)
	defer l.c.End()
	w, ground := k.symbolWidth(), canvas.Paper
	switch k.kind {
	case keyBlank:
		ground = canvas.Blank
	case keyYarn:
		ground = l.yarns.tint(k.yarn)
	}
	l.c.Rect(x, y, w+1, keySquare+1, canvas.Faint)
	l.c.Rect(x+1, y+1, w-1, keySquare-1, ground)
	switch {
	case k.kind == keyYarn:
		l.c.Text(x+keySquare/2, y+keySquare*0.7, keySize, canvas.Middle, canvas.Ink, l.yarns.letter(k.yarn))
	case k.mark == nil:
	case k.mark.key != nil:
		l.c.Stamp(k.mark.key, x, y, w, keySquare, ground)
	case k.mark.symbol != nil:
		l.c.Stamp(k.mark.symbol, x, y, w, keySquare, ground)
	}
	l.c.Text(x+w+14, y+keySquare*0.7, keySize, canvas.Start, canvas.Ink,
		canvas.Cut(keySize, Width-20-(x+w+14), strings.TrimSpace(k.text)))
}
