package chart_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/chart"
	"clew/patterns/samples"
	"clew/patterns/stitch"
)

// TestTexturesAreTrue holds what is told of whole rows of the samples against the
// stitches on the needle after each row.
func TestTexturesAreTrue(t *testing.T) {
	told := 0
	for _, s := range samples.All() {
		p, _ := patterns.Read([]byte(s.Text))
		for size := range p.SizeCount() {
			plan := laidOut(t, s.Text, size)
			for _, rows := range sections(plan) {
				told += checkTextures(t, s.Name, plan, rows[0], rows[1])
			}
		}
	}
	if told < 10 {
		t.Errorf("only %d textures were held against the stitches", told)
	}
}

// TestRandomTexturesAreTrue does the same for rows of knits and purls at random:
// each one of three rows, so that some of them come again.
func TestRandomTexturesAreTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SampledFrom([]string{"*k2, p2; rep from * to end", "*p2, k2; rep from * to end", "*k1, p1; rep from * to end", "*p1, k1; rep from * to end",
			"knit", "purl", "k3, p14, k3", "p3, k14, p3", "k3, *p1, k1; rep from * to last 3 sts, k3"})
		some := rapid.SliceOfN(parts, 1, 3).Draw(t, "rows")
		worked := rapid.SampledFrom([]string{"in rows", "in rounds"}).Draw(t, "worked")
		word := map[string]string{"in rows": "Row", "in rounds": "Round"}[worked]
		text := "Pattern: Any\nWorked: " + worked + "\nCast on: 20\n\nSection: Any\n"
		n := rapid.IntRange(1, 12).Draw(t, "count")
		for i := range n {
			text += word + " " + itoa(i+1) + ": " + rapid.SampledFrom(some).Draw(t, "row") + ".\n"
		}
		plan := laidOut(t, text, 0)
		checkTextures(t, text, plan, 0, n-1)
	})
}

// checkTextures compares the textures of whole rows that neither decrease nor
// increase with their stitches. It gives how many there are.
func checkTextures(t tester, name string, plan *patterns.Plan, from, to int) int {
	t.Helper()
	picture, err := chart.DrawWhole(chart.View{Plan: plan, From: from, To: to, Here: -1, Fabric: true})
	if err != nil {
		t.Fatalf("%v", err)
	}
	for _, f := range picture.Facts().Stitches { // then not all that is on the needle was knitted in the row
		if f.Kind == chart.ShortRows || f.Kind == chart.Slipped || f.Kind == chart.OnHold || f.Kind == chart.BoundOff {
			return 0
		}
	}
	n := 0
	for _, f := range picture.Facts().Textures {
		if f.Place != chart.Everywhere || f.Shaped {
			continue
		}
		n++
		var faces []string
		for _, r := range plan.Rows[from : to+1] {
			if r.Number >= f.First && r.Number <= f.Last {
				faces = append(faces, facesOf(r, f.Texture))
			}
		}
		if !shows(f, faces) {
			t.Errorf("%s: %+v, and the rows are %q", name, f, faces)
		}
	}
	return n
}

// facesOf gives the faces of a row, from the right, without four at either edge
// of flat rows that are told as all knits or all purls: they may differ.
func facesOf(r *patterns.Row, texture chart.Texture) string {
	var b strings.Builder
	for _, l := range r.After.Loops() {
		if l.Face == stitch.Knit {
			b.WriteByte('k')
		} else {
			b.WriteByte('p')
		}
	}
	text := b.String()
	plain := texture == chart.Smooth || texture == chart.Bumpy || texture == chart.Ridges || texture == chart.Ridged
	if plain && !r.Rounds && len(text) > 12 {
		text = text[4 : len(text)-4]
	}
	return text
}

// shows says that rows of faces are of a texture.
func shows(f chart.TextureFact, rows []string) bool {
	other := strings.NewReplacer("k", "p", "p", "k")
	ridges := map[int]bool{}
	for _, r := range f.Rows {
		ridges[r] = true
	}
	for i, row := range rows {
		knits, purls := strings.Trim(row, "k") == "", strings.Trim(row, "p") == ""
		good := true
		switch f.Texture {
		case chart.Smooth:
			good = knits
		case chart.Bumpy:
			good = purls
		case chart.Ridges:
			good = (knits || purls) && (i < 2 || row != rows[i-1] || row != rows[i-2])
		case chart.Ridged:
			good = ridges[f.First+i] == purls && knits != purls
		case chart.Ribbing:
			good = row == rows[0] && !knits && !purls && inRuns(row, f.Knits, f.Purls)
		case chart.Seed:
			good = (i == 0 || row == other.Replace(rows[i-1])) && inRuns(row, 1, 1)
		case chart.Blocks:
			good = inRuns(row, f.Knits, f.Purls) && (i < f.Every || row == other.Replace(rows[i-f.Every])) ||
				f.Knits != f.Purls && (i < f.Every || row == other.Replace(rows[i-f.Every]))
		}
		if !good {
			return false
		}
	}
	return true
}

// inRuns says that a row is so many knits and so many purls by turns, but for the
// first and the last, which may be fewer; 0 knits are any number of both.
func inRuns(row string, knits, purls int) bool {
	if knits == 0 {
		return true
	}
	for i := 0; i < len(row); {
		end := i + 1
		for end < len(row) && row[end] == row[i] {
			end++
		}
		want := map[byte]int{'k': knits, 'p': purls}[row[i]]
		if n := end - i; n > want || n < want && i > 0 && end < len(row) {
			return false
		}
		i = end
	}
	return true
}
