package instruction

import (
	"slices"
	"strings"

	"clew/patterns/stitch"
)

// AllSizes asks Print for the numbers of every size: "k4 (6, 8)".
const AllSizes = -1

// Print gives the canonical text of nodes, with the numbers of one size
// (counted from 0) or of AllSizes. Parsed again, the text for AllSizes gives the
// same nodes. The text for one size leaves out what that size skips, and is
// empty where it skips everything. Strips of a worked row print what they hold;
// those of an Across line, their names.
func Print(nodes []Node, size int) string {
	pr := printer{size: size}
	pr.list(nodes)
	return pr.String()
}

type printer struct {
	strings.Builder
	size int
}

func (pr *printer) list(nodes []Node) {
	first := true
	for _, n := range nodes {
		if pr.skips(n) {
			continue
		}
		if !first {
			pr.WriteString(", ")
		}
		first = false
		pr.node(n)
	}
}

// skips says that the one size that is printed has none of this node.
func (pr *printer) skips(n Node) bool {
	if pr.size == AllSizes {
		return false
	}
	none := func(e Extent) bool { return e.Reach == Times && e.N.At(pr.size) == 0 }
	switch n := n.(type) {
	case *Work:
		return none(n.Extent)
	case *Repeat:
		return none(n.Extent) || pr.skipsAll(n.Body)
	case *Into:
		return pr.skipsAll(n.Body)
	case *AsLooks:
		return none(n.Extent)
	case *Held:
		return n.N.At(pr.size) == 0
	}
	return false
}

func (pr *printer) skipsAll(nodes []Node) bool {
	return len(nodes) > 0 && !slices.ContainsFunc(nodes, func(n Node) bool { return !pr.skips(n) })
}

func (pr *printer) number(n Number) string {
	if pr.size != AllSizes || len(n.Values) == 1 {
		return itoa(n.At(max(pr.size, 0)))
	}
	rest := make([]string, 0, len(n.Values))
	for _, v := range n.Values[1:] {
		rest = append(rest, itoa(v))
	}
	return itoa(n.Values[0]) + " (" + strings.Join(rest, ", ") + ")"
}

func (pr *printer) node(n Node) {
	switch n := n.(type) {
	case *Work:
		pr.work(n)
	case *Repeat:
		pr.WriteString("[")
		pr.list(n.Body)
		pr.WriteString("] " + pr.extent(n.Extent))
	case *Into:
		pr.WriteString("(")
		pr.list(n.Body)
		pr.WriteString(") in next st")
	case *Cross:
		pr.cross(n)
	case *Macro:
		pr.WriteString(n.Name)
	case *Marker:
		pr.WriteString([]string{"pm", "sm", "rm"}[n.Act])
	case *Turn:
		if n.Wrap {
			pr.WriteString("w&t")
		} else {
			pr.WriteString("turn")
		}
	case *Yarn:
		pr.WriteString("with " + n.Name)
	case *Bead:
		pr.WriteString("place bead")
	case *Held:
		if n.Return {
			pr.WriteString("return " + strings.Replace(pr.stitches(n.N), " st", " held st", 1))
		} else {
			pr.WriteString("put " + pr.stitches(n.N) + " on hold")
		}
	case *AsLooks:
		pr.asLooks(n)
	case *Panels:
		pr.WriteString("work the panels")
	case *Strip:
		pr.strip(n)
	case *AsRows:
		pr.WriteString("as " + pr.rows(n.From, n.To))
	case *RepeatRows:
		pr.repeatRows(n)
	}
}

func (pr *printer) extent(e Extent) string {
	switch e.Reach {
	case ToEnd:
		return "to end"
	case ToLast:
		if pr.size != AllSizes && e.N.At(pr.size) == 0 {
			return "to end"
		}
		return "to last " + pr.stitches(e.N)
	case ToMarker:
		if pr.number(e.N) == "0" {
			return "to m"
		}
		return "to " + pr.stitches(e.N) + " before m"
	}
	if n := pr.number(e.N); n != "1" {
		return n + " times"
	}
	return "once"
}

// stitches is a number of them: "1 st", "3 sts", "1 (2, 3) sts".
func (pr *printer) stitches(n Number) string {
	if text := pr.number(n); text != "1" {
		return text + " sts"
	}
	return "1 st"
}

func (pr *printer) work(w *Work) {
	pr.WriteString(w.Stitch.Abbr)
	plain := w.Extent.Reach == Times && pr.number(w.Extent.N) == "1"
	if w.TBL && !w.Stitch.Counted {
		pr.WriteString(" tbl")
	}
	switch {
	case !w.Stitch.Counted && plain:
	case !w.Stitch.Counted || w.Extent.Reach != Times:
		pr.WriteString(" " + pr.extent(w.Extent))
	case w.Stitch.Noun != "":
		pr.WriteString(" " + pr.stitches(w.Extent.N))
	case w.Stitch.Kind == stitch.Slip:
		pr.WriteString(" " + pr.number(w.Extent.N))
	default:
		pr.WriteString(pr.number(w.Extent.N))
	}
	if w.TBL && w.Stitch.Counted {
		pr.WriteString(" tbl")
	}
	for _, m := range []struct {
		bit  Manner
		text string
	}{{Purlwise, " pwise"}, {Knitwise, " kwise"}, {YarnFront, " wyif"}, {YarnBack, " wyib"}} {
		if w.Manner&m.bit != 0 {
			pr.WriteString(m.text)
		}
	}
}

func (pr *printer) cross(c *Cross) {
	if !c.Named.Zero() {
		pr.WriteString(c.Named.Name())
		return
	}
	defer func(size int) { pr.size = size }(pr.size)
	pr.size = AllSizes // a cross is the same in all sizes
	needles := []string{"", "cn", "2nd cn"}
	for i, s := range c.Slipped {
		if i > 0 {
			pr.WriteString(", ")
		}
		pr.WriteString("sl " + itoa(s.N) + " to " + needles[i+1])
		pr.WriteString([]string{"", ", hold in back", ", hold in front"}[s.Hold])
	}
	for i, part := range c.Parts {
		pr.WriteString(", ")
		if last := len(c.Parts) - 1; part.Returned > 0 && i == last-1 && c.Parts[last].From == FromLeft && c.Parts[last].Returned == 0 {
			pr.withLast(part.Returned, c.Parts[i+1].Body)
			return
		}
		if part.Returned > 0 {
			pr.WriteString("sl " + itoa(part.Returned) + " from cn back to left needle")
			continue
		}
		pr.strand(part.Body)
		if part.From != FromLeft {
			pr.WriteString(" from " + needles[part.From])
		}
	}
}

// withLast prints a cross that ends with stitches worked together with the
// last ones of the cable needle.
func (pr *printer) withLast(n int, body []Node) {
	pr.strand(body)
	pr.WriteString(" (last " + pr.stitches(N(n)) + " of cable needle with next st)")
}

func (pr *printer) strand(body []Node) {
	if len(body) == 1 {
		pr.node(body[0])
		return
	}
	pr.WriteString("(")
	pr.list(body)
	pr.WriteString(")")
}

func (pr *printer) asLooks(n *AsLooks) {
	switch {
	case n.Opposite:
		pr.WriteString("opposite")
	case n.Extent.Reach == Times:
		if pr.WriteString("work " + pr.stitches(n.Extent.N)); pr.number(n.Extent.N) == "1" {
			pr.WriteString(" as it presents")
			return
		}
		pr.WriteString(" as they present")
		return
	default:
		pr.WriteString("work sts as they present")
	}
	if far := pr.extent(n.Extent); far != "to end" {
		pr.WriteString(" " + far)
	}
}

func (pr *printer) strip(n *Strip) {
	if n.Body != nil {
		pr.list(n.Body)
		return
	}
	pr.WriteString(n.Panel)
	if n.Continued {
		pr.WriteString(" (continued)")
	}
}

func (pr *printer) rows(from, to Number) string {
	if len(from.Values) == len(to.Values) && pr.number(from) == pr.number(to) {
		return "row " + pr.number(from)
	}
	return "rows " + pr.number(from) + "-" + pr.number(to)
}

func (pr *printer) repeatRows(n *RepeatRows) {
	if len(n.Last.Values) > 0 {
		if rows := pr.number(n.Last); rows == "1" {
			pr.WriteString("repeat last row")
		} else {
			pr.WriteString("repeat last " + rows + " rows")
		}
	} else {
		pr.WriteString("repeat " + pr.rows(n.From, n.To))
	}
	if len(n.Times.Values) > 0 {
		pr.WriteString(" " + pr.extent(Extent{Times, n.Times}))
	}
}

// Equal says whether two lists of nodes say the same, wherever they stand.
func Equal(a, b []Node) bool {
	return Print(a, AllSizes) == Print(b, AllSizes)
}
