package chart

import (
	"slices"
	"strings"

	"clew/patterns/chart/canvas"
)

// A keyEntry is one line of the key.
type keyEntry struct {
	kind   keyKind
	mark   *mark          // of a keyMark
	symbol *canvas.Symbol // of a keySymbol
	yarn   uint8          // of a keyYarn
	text   string         // what it says
	lines  []string       // the same, as it is written
}

type keyKind uint8

const (
	keyMark   keyKind = iota
	keySymbol         // what is drawn beside cells, or over them
	keyBlank
	keyYarn
)

const (
	keySquare = 34  // side of a square in the key
	keyWidest = 110 // of a symbol in the key
	keyText   = 400 // a longer text takes two lines
	keySmall  = 19  // size of the letters of two lines
)

// findKeys gathers what stands in the picture and nothing else.
func (l *layout) findKeys() {
	used, blank, bead, wrap := map[*mark]bool{}, false, false, false
	for i, line := range l.lines {
		for k := range line.items {
			at := l.grid.rows[i].cells[k]
			if _, _, ok := l.shown(at.lo, at.hi); ok {
				used[line.items[k].mark] = true
				bead = bead || line.items[k].bead
			}
		}
		for _, s := range l.grid.rows[i].blanks {
			_, _, ok := l.shown(s, s)
			blank = blank || ok
		}
		wrap = wrap || len(l.grid.rows[i].wraps) > 0
	}
	all := l.marks.all()
	slices.SortStableFunc(all, func(a, b *mark) int { return a.rank() - b.rank() })
	for i, m := range all {
		if !used[m] {
			continue
		}
		alike := []*mark{m} // other names of the same drawing
		for _, other := range all[i+1:] {
			if used[other] && m.shape != "" && other.shape == m.shape {
				alike, used[other] = append(alike, other), false
			}
		}
		l.keys = append(l.keys, keyEntry{mark: m, text: saysAll(alike), kind: keyMark})
	}
	if bead {
		l.keys = append(l.keys, keyEntry{symbol: beadSymbol, text: "bead  put a bead on the stitch", kind: keySymbol})
	}
	if wrap {
		l.keys = append(l.keys, keyEntry{symbol: wrapSymbol, text: "w&t  wrap this stitch and turn", kind: keySymbol})
	}
	if len(l.optional.rows) > 0 {
		l.keys = append(l.keys, keyEntry{symbol: ringSymbol, text: l.optional.says(wordOf(l.lines[0].row)), kind: keySymbol})
	}
	if blank {
		l.keys = append(l.keys, keyEntry{text: "no stitch", kind: keyBlank})
	}
	if len(l.yarns.order) > 1 {
		for i, y := range l.yarns.order {
			l.keys = append(l.keys, keyEntry{yarn: y, text: l.yarns.names[i], kind: keyYarn})
		}
	}
	for i := range l.keys {
		l.keys[i].lines = brokenText(l.keys[i].text)
	}
	for l.columns = len(l.keys); l.columns > 1; l.columns-- {
		if widths, total := l.keyColumns(); len(widths) == l.columns && total <= Width-40 {
			break
		}
	}
	l.columns = max(1, l.columns)
}

// saysAll is what the key says of marks that are drawn alike.
func saysAll(marks []*mark) string {
	if len(marks) == 1 {
		return marks[0].says()
	}
	var names, words []string
	for _, m := range marks {
		names, words = append(names, m.name), append(words, m.words)
	}
	return strings.Join(names, " or ") + "  " + strings.Join(words, " or ")
}

// brokenText breaks a long text into two lines, as even as its words let them be.
func brokenText(text string) []string {
	text = strings.TrimSpace(text)
	if canvas.TextWidth(keySize, text) <= keyText {
		return []string{text}
	}
	best, widest := []string{text}, canvas.TextWidth(keySmall, text)
	for i := range text {
		if text[i] != ' ' || text[i+1] == ' ' { // of two spaces, after a name, the second
			continue
		}
		lines := []string{strings.TrimSpace(text[:i]), text[i+1:]}
		if w := max(canvas.TextWidth(keySmall, lines[0]), canvas.TextWidth(keySmall, lines[1])); w < widest {
			best, widest = lines, w
		}
	}
	return best
}

// keyGap lies between the columns of the key.
const keyGap = 40

// keyColumns gives how wide the columns of the key are, and all with their gaps.
func (l *layout) keyColumns() (widths []float64, total float64) {
	rows := l.keyRows()
	for from := 0; from < len(l.keys); from += rows {
		widest := 0.0
		for _, k := range l.keys[from:min(from+rows, len(l.keys))] {
			widest = max(widest, k.width())
		}
		widths = append(widths, widest)
		total += widest + keyGap
	}
	return widths, total - keyGap
}

// keyRows is how many entries stand in a column of the key.
func (l *layout) keyRows() int { return (len(l.keys) + l.columns - 1) / max(1, l.columns) }

// rank is the order of the key: knit and purl, then the other stitches, what the
// pattern has beside them, and the crosses.
func (m *mark) rank() int {
	switch {
	case m.name == "k":
		return 0
	case m.name == "p":
		return 1
	case m.shows != nil:
		return 2
	case m.key == nil:
		return 3
	}
	return 4
}

// says is what the key says of a mark: its abbreviation and its words, for each
// side that it was worked on.
func (m *mark) says() string {
	text := m.name
	if m.words != "" {
		text += "  " + m.words
	}
	if m.wrong {
		text += ", on the wrong side"
	}
	rs, ws := m.worked[0], m.worked[1]
	switch {
	case rs == nil && ws == nil:
		return text
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
	widest := 0.0
	for _, text := range k.lines {
		widest = max(widest, canvas.TextWidth(k.size(), text))
	}
	return k.symbolWidth() + 14 + widest
}

// size is that of its letters.
func (k keyEntry) size() float64 {
	if len(k.lines) > 1 {
		return keySmall
	}
	return keySize
}

func (k keyEntry) symbolWidth() float64 {
	if k.mark == nil {
		return keySquare
	}
	return min(keyWidest, float64(k.mark.width)*keySquare)
}

// drawKey draws the key below the chart, down each column and then the next.
func (l *layout) drawKey() {
	if len(l.keys) == 0 {
		return
	}
	l.c.Begin("key")
	defer l.c.End()
	rows := l.keyRows()
	widths, total := l.keyColumns()
	x := max(20, (Width-total)/2)
	for i, k := range l.keys {
		if i > 0 && i%rows == 0 {
			x += widths[i/rows-1] + keyGap
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
	case k.kind == keySymbol:
		l.c.Stamp(k.symbol, x, y, w, keySquare, ground)
	case k.mark == nil:
	case k.mark.key != nil:
		l.c.Stamp(k.mark.key, x, y, w, keySquare, ground)
	case k.mark.symbol != nil:
		l.c.Stamp(k.mark.symbol, x, y, w, keySquare, ground)
	}
	base := y + keySquare*0.7
	if len(k.lines) > 1 {
		base = y + keySquare/2 - 3
	}
	for i, text := range k.lines {
		l.c.Text(x+w+14, base+float64(i)*(keySmall+2), k.size(), canvas.Start, canvas.Ink, canvas.Cut(k.size(), Width-20-(x+w+14), text))
	}
}
