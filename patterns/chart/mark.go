package chart

import (
	"fmt"
	"slices"
	"strings"

	"clew/patterns"
	"clew/patterns/chart/canvas"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// A mark is one kind of cell: what is drawn in it, and what the key says.
type mark struct {
	name   string         // as in the rows: "k2tog", "2/1 RPC"
	symbol *canvas.Symbol // nil for the empty square, and for a cross, which is drawn for its place
	key    *canvas.Symbol // what the key shows, where it is not the symbol
	width  int            // of the drawing, in cells
	words  string         // what the key says after the name; empty for stitches, which say it by side
	wrong  bool           // of what has a text of its own: it was worked on the wrong side
	worked [2]*form       // how it was worked on the right side and on the wrong side; nil where it was not
	shows  *stitch.Stitch // what the right side shows; nil for what is no stitch of the table
	shape  string         // of a cross that is named: what its strands do
	order  int            // of its first coming
}

// marks are the kinds of cells of one picture, each once.
type marks struct {
	forms   map[form]*mark
	texts   map[string]*mark
	crosses map[string]*canvas.Symbol
	own     map[string]string // the names of the pattern's own abbreviations, by what they stand for
	groups  int               // marks drawn as a number, for want of a symbol
}

func newMarks(p *patterns.Pattern) *marks {
	m := &marks{forms: map[form]*mark{}, texts: map[string]*mark{}, crosses: map[string]*canvas.Symbol{}, own: map[string]string{}}
	if p.Abbreviations == nil {
		return m
	}
	names := p.Abbreviations.Names()
	slices.Sort(names)
	for _, name := range names {
		d := p.Abbreviations.Find(name)
		if text := instruction.Print(d.Body, 0); m.own[text] == "" {
			m.own[text] = d.Name
		}
	}
	return m
}

// named gives the name that the pattern has for what is printed so, and what it
// stands for; else the print alone.
func (m *marks) named(print string) (name, words string) {
	if own := m.own[print]; own != "" {
		return own, print
	}
	return print, ""
}

// all gives every mark in the order in which they came.
func (m *marks) all() []*mark {
	out := make([]*mark, len(m.forms)+len(m.texts))
	for _, k := range m.forms {
		out[k.order] = k
	}
	for _, k := range m.texts {
		out[k.order] = k
	}
	return out
}

func (m *marks) next() int { return len(m.forms) + len(m.texts) }

// turned gives what a stitch worked on the wrong side looks like on the right
// side, where one stitch is in common use for it: k2tog for p2tog, ssk for ssp
// (common practice). The generated decreases pair as these do.
var turned = func() map[*stitch.Stitch]*stitch.Stitch {
	pairs := map[*stitch.Stitch]*stitch.Stitch{}
	pair := func(a, b string) {
		x, y := stitch.Find(a), stitch.Find(b)
		pairs[x], pairs[y] = y, x
	}
	pair("k", "p")
	pair("ssk", "ssp")
	pair("sssk", "sssp")
	pair("m1", "m1p")
	pair("pu", "pup")
	for n := 2; n <= stitch.MaxTogether; n++ {
		pair(fmt.Sprintf("k%dtog", n), fmt.Sprintf("p%dtog", n))
	}
	return pairs
}()

// of gives the mark of a part that is no cross and uses and makes so many
// stitches.
func (m *marks) of(p *part, uses, makes int) *mark {
	a := p.acts[len(p.acts)-1]
	side := p.acts[0].Side
	if p.bound {
		return m.stitch(form{stitch: bindOff}, side)
	}
	if len(p.acts) == 1 || plain(p) {
		switch node := a.Node.(type) {
		case *instruction.Into:
			return m.into(node, side)
		case *instruction.Macro:
			return m.text(node.Name, instruction.Print(node.Body, 0), side, func(name string) (*canvas.Symbol, int) {
				return initials(name), max(1, makes)
			})
		case *instruction.Held:
			return m.text("on hold", "put on hold", side, func(string) (*canvas.Symbol, int) { return heldSymbol, 1 })
		}
		if a.Stitch != nil {
			return m.stitch(shapeOf(a), a.Side)
		}
	}
	if s := passed(p.acts); s != nil {
		return m.stitch(form{stitch: s}, side)
	}
	name, words := m.named(instruction.Print(nodesOf(p.acts), 0))
	return m.text(name, words, side, func(string) (*canvas.Symbol, int) {
		m.groups++
		return numbered(m.groups), 1
	})
}

var bindOff, knit = stitch.Find("BO"), stitch.Find("k")

// plain says that a part is one stitch worked back and forth, each time as one:
// its last act is what shows.
func plain(p *part) bool {
	for _, a := range p.acts {
		if a.Stitch == nil || len(a.Uses) != 1 || len(a.Makes) != 1 || len(a.Passed) > 0 || a.Uses[0] != p.acts[0].Uses[0] {
			return false
		}
	}
	return true
}

// shapeOf is how an act was worked.
func shapeOf(a *fabric.Act) form {
	s := form{stitch: a.Stitch, tbl: a.TBL}
	if w, is := a.Node.(*instruction.Work); is && a.Stitch.Kind == stitch.Slip {
		s.knitwise = w.Manner&instruction.Knitwise != 0
		s.bar = w.Manner&instruction.YarnFront != 0
		if a.Side == instruction.WS {
			s.bar = w.Manner&instruction.YarnBack != 0
		}
	}
	return s
}

// stitch gives the mark of a stitch of the table, as the right side shows it.
func (m *marks) stitch(s form, side instruction.Side) *mark {
	shown, ws := s, 0
	if side == instruction.WS {
		ws = 1
		if other := turned[s.stitch]; other != nil {
			shown.stitch = other
		}
	}
	k := m.forms[shown]
	if k == nil {
		k = &mark{name: shown.name(), symbol: symbolFor(shown), width: max(1, len(shown.stitch.Makes)),
			shows: shown.stitch, order: m.next()}
		if shown.stitch == knit && !shown.tbl {
			k.symbol = nil
		}
		m.forms[shown] = k
	}
	if k.worked[ws] == nil {
		k.worked[ws] = &s
	}
	return k
}

// text gives the mark of what has a text of its own in place of a stitch.
func (m *marks) text(name, words string, side instruction.Side, draw func(name string) (*canvas.Symbol, int)) *mark {
	id := name + "\x00" + words + "\x00" + side.String()
	k := m.texts[id]
	if k == nil {
		k = &mark{name: name, words: words, wrong: side == instruction.WS, order: m.next()}
		k.symbol, k.width = draw(name)
		m.texts[id] = k
	}
	return k
}

// into gives the mark of a group that is worked into one stitch: a fan on a foot,
// with a ring on what is a yarn over and a dash on what is a purl.
func (m *marks) into(n *instruction.Into, side instruction.Side) *mark {
	name, words := m.named(instruction.Print([]instruction.Node{n}, 0))
	return m.text(name, words, side, func(name string) (*canvas.Symbol, int) {
		var made []*stitch.Stitch
		for _, node := range n.Body {
			made = append(made, madeBy(node)...)
		}
		width := max(1, len(made))
		drawn := append(fan(width, 0.7), strokes(float64(width)/2, 0.7, float64(width)/2, 0.9))
		for i, s := range made {
			at := width - 1 - i
			if side == instruction.WS {
				at = i
				if other := turned[s]; other != nil {
					s = other
				}
			}
			x := float64(at) + 0.5
			switch {
			case s.Uses == 0:
				drawn = append(drawn, canvas.Stroke{Path: circle(x, 0.22, 0.14), Color: canvas.Paper}, ring(x, 0.22, 0.13))
			case len(s.Makes) > 0 && s.Makes[0] == stitch.Purl:
				drawn = append(drawn, dash(x, 0.16, 0.16))
			}
		}
		return canvas.NewSymbol(name, float64(width), 1, drawn...), width
	})
}

// madeBy gives, for each stitch that a part of a group makes, what made it.
func madeBy(n instruction.Node) []*stitch.Stitch {
	var out []*stitch.Stitch
	switch n := n.(type) {
	case *instruction.Work:
		for range max(1, n.Count) * len(n.Stitch.Makes) {
			out = append(out, n.Stitch)
		}
	case *instruction.Repeat:
		for range max(1, n.Count) {
			for _, part := range n.Body {
				out = append(out, madeBy(part)...)
			}
		}
	case *instruction.Macro:
		for _, part := range n.Body {
			out = append(out, madeBy(part)...)
		}
	}
	return out
}

// passed gives the stitch of the table that a slipped stitch passed over comes
// to; nil for none. "sl 1, k1, psso" is skp.
func passed(acts []*fabric.Act) *stitch.Stitch {
	var said []string
	for _, a := range acts {
		if a.Stitch == nil || a.TBL || a.Side == instruction.WS {
			return nil
		}
		said = append(said, a.Stitch.Abbr)
	}
	return spelledOut[strings.Join(said, " ")]
}

// spelledOut are the decreases that the Council's list gives as such (from
// memory).
var spelledOut = map[string]*stitch.Stitch{
	"sl k psso":     stitch.Find("skp"),
	"sl k2tog psso": stitch.Find("sk2p"),
	"sl sl k p2sso": stitch.Find("s2kp"),
}

// nodesOf gives acts as instructions, those that follow each other alike as one.
func nodesOf(acts []*fabric.Act) []instruction.Node {
	var out []instruction.Node
	var last *instruction.Work
	for _, a := range acts {
		w, is := a.Node.(*instruction.Work)
		if !is {
			out, last = append(out, a.Node), nil
			continue
		}
		if last != nil && last.Stitch == w.Stitch && last.TBL == w.TBL && last.Manner == w.Manner {
			last.Count++
			last.Extent = instruction.Extent{N: instruction.N(last.Count)}
			continue
		}
		once := *w
		once.Count, once.Extent = 1, instruction.Extent{N: instruction.N(1)}
		last = &once
		out = append(out, last)
	}
	return out
}

// heldSymbol is a stitch on a thread.
var heldSymbol = canvas.NewSymbol("on hold", 1, 1, strokes(0, 0.5, 1, 0.5), canvas.Stroke{Path: circle(0.5, 0.5, 0.16), Color: canvas.Ink})

// wrapSymbol is a stitch with the yarn around it, and beadSymbol a bead below the
// symbol of a stitch.
var (
	wrapSymbol = canvas.NewSymbol("w&t", 1, 1, strokes(0.5, 0.16, 0.5, 0.84), canvas.Stroke{Width: pen, Color: canvas.Ink, Path: []canvas.Segment{
		canvas.MoveTo(0.62, 0.46), canvas.CubicTo(0.95, 0.5, 0.95, 0.72, 0.5, 0.72), canvas.CubicTo(0.05, 0.72, 0.05, 0.5, 0.38, 0.46)}})
	beadSymbol = canvas.NewSymbol("bead", 1, 1, disc(0.5, 0.86, 0.1))
)

// initials draws the beginning of a name.
func initials(name string) *canvas.Symbol {
	letters := []rune(name)
	letters = letters[:min(3, len(letters))]
	size := [...]float64{0, 0.8, 0.6, 0.46}[len(letters)]
	return canvas.NewSymbol(name, 1, 1, canvas.Letters(0.5, 0.5+size*0.36, size, canvas.Middle, canvas.Ink, string(letters)))
}

// numbered draws a number in a diamond.
func numbered(n int) *canvas.Symbol {
	text := fmt.Sprint(n)
	return canvas.NewSymbol(text, 1, 1, strokes(0.5, 0.06, 0.94, 0.5, 0.5, 0.94, 0.06, 0.5, 0.5, 0.06),
		canvas.Letters(0.5, 0.66, 0.46, canvas.Middle, canvas.Ink, text))
}
