package bot

import (
	"slices"
	"strings"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
	"clew/reader"
)

// stumbledOver is the row that gave her pause who has something explained: hers, where
// it has what she asks about; else -1.
func (t *talk) stumbledOver() int {
	here := t.here()
	if here < 0 || here >= len(t.plan.Rows) {
		return -1
	}
	is, found := t.askedAbout(), false
	instruction.Each(t.plan.Rows[here].Body, func(n instruction.Node) { found = found || is(n) })
	if !found {
		return -1
	}
	return here
}

// askedAbout gives what finds in a row what she has explained: what she names, else
// all that is more than knit and purl.
func (t *talk) askedAbout() func(instruction.Node) bool {
	asked := t.heard.Stitch
	own := t.plan.Pattern.Abbreviations.Find(asked)
	cross, _, crosses := stitch.FindCross(asked)
	named := stitch.Find(asked)
	return func(n instruction.Node) bool {
		switch n := n.(type) {
		case *instruction.Macro:
			return own != nil && stitch.Key(n.Name) == stitch.Key(own.Name)
		case *instruction.Cross:
			return own == nil && (unnamed[bare(asked)] || crossWords[bare(asked)] || crosses && reader.ExplainCross(n) == reader.ExplainNamed(cross))
		case *instruction.Work:
			plain := (n.Stitch.Abbr == "k" || n.Stitch.Abbr == "p") && !n.TBL
			return own == nil && (unnamed[bare(asked)] && !plain || named != nil && n.Stitch == named)
		}
		return false
	}
}

// explain says how a stitch is worked. With no name, or only "that cross", it
// is what the row has that is neither plain knit nor plain purl.
func (t *talk) explain() string {
	asked := t.heard.Stitch
	if words := t.explainNamed(asked); words != "" {
		return words + t.explainManner()
	}
	switch kind := bare(asked); {
	case unnamed[kind]:
		return t.explainRow()
	case crossWords[kind]:
		return t.explainCrosses()
	}
	return "I do not know a stitch called " + nameOf(asked) + ". Say explain and the name of a stitch, such as explain yarn over."
}

// explainManner explains how the stitch is to be worked, where that was asked:
// through the back loop, with the yarn in front.
func (t *talk) explainManner() string {
	term, ok := stitch.FindTerm(t.heard.Manner)
	if !ok {
		return ""
	}
	return " " + reader.ExplainTerm(term)
}

// unnamed are the words that point at a stitch without naming it.
var unnamed = map[string]bool{"": true, "stitch": true, "that": true, "this": true, "it": true, "row": true, "round": true}

// crossWords are what a cross is called without its name.
var crossWords = map[string]bool{"cross": true, "crosses": true, "cable": true, "cables": true, "twist": true, "twists": true}

// explainNamed explains what has a name: the pattern's own abbreviations first,
// then crosses, stitches and the words of the trade.
func (t *talk) explainNamed(name string) string {
	if name == "" {
		return ""
	}
	if d := t.plan.Pattern.Abbreviations.Find(name); d != nil {
		return t.explainOwn(d)
	}
	if c, meanings, ok := stitch.FindCross(name); ok {
		return reader.ExplainNamed(c)
	} else if meanings != "" {
		return "That name has more than one meaning in print: " + small(sentence(reader.Plain(meanings))) + ". Ask which of them your pattern means."
	}
	if s := stitch.Find(name); s != nil {
		return reader.HowTo(s)
	}
	if term, ok := stitch.FindTerm(name); ok {
		return reader.ExplainTerm(term)
	}
	return ""
}

// explainOwn explains one of the pattern's own abbreviations.
func (t *talk) explainOwn(d *instruction.Definition) string {
	if len(d.Body) == 1 {
		if c, ok := d.Body[0].(*instruction.Cross); ok {
			return reader.ExplainCross(c)
		}
	}
	steps := reader.Say(reader.Row{Body: d.Body, Size: t.plan.Size}, reader.Form{Crosses: reader.AlwaysFull}).Steps
	return "That is the pattern's own. " + strings.Join(steps, " ")
}

// explainCrosses explains the crosses of the row; where it has none, those of
// the first row after it that has some, or of the nearest before it.
func (t *talk) explainCrosses() string {
	said, where := "", -1
	here := t.here()
	t.eachRow(func(i int) bool {
		said, where = crossesExplained(t.plan.Rows[i].Body), i
		return said == ""
	})
	switch {
	case said == "":
		return "No cross comes up in " + t.plan.all() + "."
	case where == here:
		return said
	case here < 0:
		return "The first cross comes up in " + t.plan.rowName(where) + ". " + said
	case where > here:
		return "No cross comes up in this " + t.word() + ". The next comes up in " + t.plan.rowName(where) + ". " + said
	}
	return "No cross comes up in this " + t.word() + ". The last came up in " + t.plan.rowName(where) + ". " + said
}

// eachRow visits the member's row, those after it, then those before it from
// the nearest on, until visit says false.
func (t *talk) eachRow(visit func(i int) bool) {
	here := max(t.here(), 0)
	for i := here; i < len(t.plan.Rows); i++ {
		if !visit(i) {
			return
		}
	}
	for i := here - 1; i >= 0; i-- {
		if !visit(i) {
			return
		}
	}
}

// crossesExplained explains each kind of cross in a row, in the order in which
// they come.
func crossesExplained(body []instruction.Node) string {
	var said []string
	instruction.Each(body, func(n instruction.Node) {
		if c, ok := n.(*instruction.Cross); ok {
			if words := reader.ExplainCross(c); !slices.Contains(said, words) {
				said = append(said, words)
			}
		}
	})
	if len(said) < 2 {
		return strings.Join(said, "")
	}
	for i := range said {
		said[i] = capital(reader.Ordinal(i+1)) + ": " + small(said[i]) + "."
	}
	return capital(reader.Number(len(said))) + " kinds of cross come up. " + strings.Join(said, " ")
}

// explainRow explains every stitch of the row that is more than knit and purl.
func (t *talk) explainRow() string {
	i := t.here()
	if i < 0 {
		return "You have not begun yet, so there is no stitch to explain. Say explain and the name of a stitch."
	}
	var said []string
	seen := map[*stitch.Stitch]bool{}
	instruction.Each(t.plan.Rows[i].Body, func(n instruction.Node) {
		if w, ok := n.(*instruction.Work); ok && !seen[w.Stitch] && w.Stitch.Abbr != "k" && w.Stitch.Abbr != "p" {
			seen[w.Stitch] = true
			said = append(said, reader.HowTo(w.Stitch))
		}
	})
	if crosses := crossesExplained(t.plan.Rows[i].Body); crosses != "" {
		said = append(said, crosses)
	}
	if len(said) == 0 {
		return "This " + t.word() + " is plain knit and purl. Say explain and the name of a stitch to hear of another."
	}
	return strings.Join(said, " ")
}
