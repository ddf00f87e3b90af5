package fit_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/fit"
)

// aPattern writes a pattern whose rows may be left out in steps of chance, many
// of which break something.
func aPattern(t *rapid.T) string {
	var b strings.Builder
	upTo := func(least, most int, label string) int { return rapid.IntRange(least, most).Draw(t, label) }
	one := func(label string, of ...string) string { return rapid.SampledFrom(of).Draw(t, label) }
	rounds := rapid.Bool().Draw(t, "rounds")
	word, worked := "Row", "in rows"
	if rounds {
		word, worked = "Round", "in rounds"
	}
	rows := func(at *int, n int, optional int) string {
		head := fmt.Sprintf("%s %d", word, *at)
		if n > 1 {
			head = fmt.Sprintf("%ss %d-%d", word, *at, *at+n-1)
		}
		if optional > 0 {
			head += fmt.Sprintf(" (optional in %ds)", optional)
		}
		*at += n
		return head
	}
	optional := func(n int) int {
		if rapid.IntRange(0, 2).Draw(t, "optional") > 0 {
			return upTo(1, n, "step")
		}
		return 0
	}
	fmt.Fprintf(&b, "Pattern: Of chance\nWorked: %s\nGauge: 20 sts and 30 rows = 10 cm\nCast on: 16\n", worked)
	texts := []string{"k4", "p4", "k2, p2", "p2, k2", "k1, p2, k1", "work sts as they present", "yo, k2tog, k2", "k1, yo, ssk, k1"}
	if rounds {
		texts = append(texts, "2/2 RC", "1/1 RC, p2")
	}
	for i := range 2 {
		fmt.Fprintf(&b, "Panel: %s, 4 sts\n", []string{"Rope", "Moss"}[i])
		at, lines := 1, upTo(1, 3, "panel lines")
		for range lines {
			n := upTo(1, 2, "panel rows") * (2 - btoi(rounds))
			if line := rows(&at, n, 0); upTo(0, 3, "panel optional") > 0 {
				fmt.Fprintf(&b, "%s: %s.\n", line, one("panel text", texts...))
			} else {
				at -= n
				fmt.Fprintf(&b, "%s: %s.\n", rows(&at, n, upTo(1, n, "panel step")), one("panel text", texts...))
			}
		}
	}
	for s := range upTo(1, 2, "sections") {
		fmt.Fprintf(&b, "Section: Part %d\nAcross: %s\n", s+1, one("across", "[Rope, Moss] twice", "[Rope] 3 times, Moss", "[Rope, k2, p2] twice"))
		at := 1
		for range upTo(1, 3, "lines") {
			n := upTo(1, 6, "rows")
			switch upTo(0, 3, "kind") {
			case 0, 1:
				fmt.Fprintf(&b, "%s: work the panels.\n", rows(&at, n, optional(n)))
			case 2:
				fmt.Fprintf(&b, "%s: %s.\n", rows(&at, n, optional(n)), one("text", "knit", "purl", "with Sand, knit", "with Sky, knit", "[k2, p2] to end", "work sts as they present", "[yo, k2tog] to end"))
			case 3:
				first := at
				fmt.Fprintf(&b, "%s: %s.\n", rows(&at, 1, 0), one("text", "knit", "[k1, p1] to end", "[k2tog, yo] to end"))
				fmt.Fprintf(&b, "%s: %s.\n", rows(&at, 1, 0), one("text", "purl", "knit", "[p1, k1] to end"))
				n := 2 * upTo(1, 3, "repeats")
				fmt.Fprintf(&b, "%s: repeat rows %d-%d.\n", rows(&at, n, optional(n)), first, first+1)
			}
		}
	}
	at := 1
	b.WriteString("Section: Edge\n")
	fmt.Fprintf(&b, "%s: %s.\n", rows(&at, 1, 0), one("edge", "knit", "k1, yo, k to end", "purl"))
	n := upTo(1, 4, "edge rows")
	fmt.Fprintf(&b, "%s: %s.\n", rows(&at, n, optional(n)), one("edge", "knit", "purl", "k1, yo, k to end", "k1, pm, k to end"))
	fmt.Fprintf(&b, "%s: %s.\n", rows(&at, 1, 0), one("edge", "BO all sts", "knit", "k to m, sm, k to end"))
	return b.String()
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// aReadPattern is one that has no error, and rows that may be left out.
func aReadPattern(t *rapid.T) (*patterns.Pattern, *patterns.Plan, string) {
	text := aPattern(t)
	p, problems := patterns.Read([]byte(text))
	if patterns.HasErrors(problems) || len(p.Optionals(0)) == 0 {
		t.Skip("it can't be worked, or nothing of it can be left out")
	}
	full, err := p.LayOut(patterns.Choice{})
	if err != nil {
		t.Fatal(err)
	}
	return p, full, text
}

// The proof and the slow check agree on every number of rows of every group:
// nothing that breaks passes, and nothing that does not is refused.
func TestProvenIsWhatTheSlowCheckSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, full, text := aReadPattern(t)
		for _, o := range p.Optionals(0) {
			for rows := o.Step; rows <= o.Count(); rows += o.Step {
				b, err := fit.Proven(p, 0, o, rows)
				if err != nil {
					t.Fatal(err)
				}
				wrong := slowly(p, full, 0, []patterns.LeftOut{{Owner: o.Owner, From: o.From, Rows: rows}})
				if (b == nil) != (wrong == "") {
					t.Fatalf("%d rows of %s from %d: the proof says %v, the slow check %q\n%s", rows, o.Owner, o.From, b, wrong, text)
				}
			}
		}
	})
}

// Whatever is offered works, ends each section as the full plan ends it, keeps
// right-side rows on the right side, and leaves alone what has been worked.
func TestOffersHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, full, text := aReadPattern(t)
		worked := rapid.IntRange(0, len(full.Rows)).Draw(t, "worked")
		by := rapid.Float64Range(0.1, 10).Draw(t, "by")
		s, err := fit.Shorter(p, patterns.Choice{}, worked, by, nil)
		if err != nil {
			return
		}
		for _, o := range []*fit.Offer{s.Best, s.Less, s.More, s.Most} {
			if o == nil {
				continue
			}
			if wrong := slowly(p, full, 0, o.LeftOut); wrong != "" {
				t.Fatalf("%v: %s\n%s", o.LeftOut, wrong, text)
			}
			checkOffer(t, full, o, worked)
		}
		if s.Best != nil && (s.Less != nil && nearer(s.Less, s.Best, by) || s.More != nil && nearer(s.More, s.Best, by)) {
			t.Fatalf("%g cm: %v is not the nearest of %v and %v", by, s.Best.Change, s.Less, s.More)
		}
	})
}

func nearer(a, b *fit.Offer, by float64) bool {
	off := func(o *fit.Offer) float64 { return max(o.Change+by, -o.Change-by) }
	return off(a) < off(b)-1e-6
}

func checkOffer(t *rapid.T, full *patterns.Plan, o *fit.Offer, worked int) {
	plan, err := full.Pattern.LayOut(patterns.Choice{LeftOut: o.LeftOut})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.EqualFunc(plan.Rows, o.Plan.Rows, func(a, b *patterns.Row) bool { return a.Section == b.Section && a.Number == b.Number }) {
		t.Fatalf("the plan of %v is another one", o.LeftOut)
	}
	if len(full.Rows)-len(plan.Rows) != o.Rows {
		t.Fatalf("%d rows are left out, and %d were told", len(full.Rows)-len(plan.Rows), o.Rows)
	}
	for i, r := range plan.Rows {
		at, ok := full.Find(r.Section.Name, r.Number)
		if !ok || i < worked && at != i || r.Side != full.Rows[at].Side {
			t.Fatalf("row %d of %s, row %d of the plan, stands in another place or on another side", r.Number, r.Section.Name, i)
		}
	}
}
