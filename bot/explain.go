package bot

import (
	"context"
	"strings"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
	"clew/reader"
)

// explain says how a stitch is worked. With no name, or only "that cross", it
// is what the row has that is neither plain knit nor plain purl.
func (t *talk) explain(ctx context.Context) (Reply, error) {
	t.stumble(ctx)
	asked := t.heard.Stitch
	if words := t.explainNamed(asked); words != "" {
		return t.say(words), nil
	}
	if kind := strings.ToLower(asked); strings.Contains(kind, "cross") || strings.Contains(kind, "cable") || strings.Contains(kind, "twist") {
		return t.say(t.explainCrosses()), nil
	}
	if unnamed[strings.ToLower(asked)] {
		return t.say(t.explainRow()), nil
	}
	return t.say("I do not know a stitch called " + reader.Name(asked) + ". Say explain and the name of a stitch, such as explain yarn over."), nil
}

// unnamed are the words that point at a stitch without naming it.
var unnamed = map[string]bool{"": true, "stitch": true, "that": true, "this": true, "it": true, "row": true, "round": true}

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
		return "That name has more than one meaning in print. " + reader.Plain(meanings) + "."
	}
	if s := stitch.Find(name); s != nil {
		return reader.HowTo(s)
	}
	if term, ok := stitch.FindTerm(name); ok {
		return reader.ExplainTerm(term)
	}
	return ""
}

// explainOwn explains one of the pattern's own abbreviations, by working it on
// the row that uses it.
func (t *talk) explainOwn(d *instruction.Definition) string {
	if c, ok := lone(d.Body); ok {
		return reader.ExplainCross(c)
	}
	said := ""
	t.eachRow(func(i int) bool {
		eachNode(t.plan.Rows[i].Body, func(n instruction.Node) {
			if m, ok := n.(*instruction.Macro); ok && said == "" && stitch.Key(m.Name) == stitch.Key(d.Name) {
				said = strings.Join(reader.Say(reader.Row{Body: m.Body}, reader.Form{Crosses: reader.AlwaysFull}).Steps, " ")
			}
		})
		return said == ""
	})
	if said == "" {
		return "The pattern has an abbreviation of its own by that name, and no row uses it."
	}
	return "This is the pattern's own. " + said
}

func lone(body []instruction.Node) (*instruction.Cross, bool) {
	if len(body) != 1 {
		return nil, false
	}
	c, ok := body[0].(*instruction.Cross)
	return c, ok
}

// explainCrosses explains the crosses of the row; where it has none, the first
// of those that come after it, or before it.
func (t *talk) explainCrosses() string {
	said, where := "", -1
	here := t.here()
	t.eachRow(func(i int) bool {
		said, where = crossesExplained(t.plan.Rows[i].Body), i
		return said == ""
	})
	switch {
	case said == "":
		return "No cross comes up in this pattern."
	case where == here:
		return said
	case where > here:
		return "No cross comes up in this " + t.word() + ". The next one is in " + t.rowName(where) + ". " + said
	}
	return "No cross comes up in this " + t.word() + ". The last one was in " + t.rowName(where) + ". " + said
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

func crossesExplained(body []instruction.Node) string {
	var said []string
	seen := map[string]bool{}
	eachCross(body, func(c *instruction.Cross) {
		words := reader.ExplainCross(c)
		if !seen[words] {
			seen[words] = true
			said = append(said, words)
		}
	})
	return strings.Join(said, " ")
}

// explainRow explains every stitch of the row that is more than knit and purl.
func (t *talk) explainRow() string {
	i := t.here()
	if i < 0 {
		return "You have not begun yet, so there is no stitch to explain. Say explain and the name of a stitch."
	}
	var said []string
	seen := map[*stitch.Stitch]bool{}
	eachNode(t.plan.Rows[i].Body, func(n instruction.Node) {
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

// eachNode visits every node of a tree but the parts of a cross.
func eachNode(nodes []instruction.Node, visit func(instruction.Node)) {
	for _, n := range nodes {
		visit(n)
		switch n := n.(type) {
		case *instruction.Repeat:
			eachNode(n.Body, visit)
		case *instruction.Macro:
			eachNode(n.Body, visit)
		case *instruction.Into:
			eachNode(n.Body, visit)
		case *instruction.Strip:
			eachNode(n.Body, visit)
		case *instruction.AsLooks:
			eachNode(n.Body, visit)
		}
	}
}
