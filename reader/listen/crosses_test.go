package listen

import (
	"strings"
	"testing"

	"clew/patterns/stitch"
)

// TestCrossNames says crosses in the ways in which they are said, written and misheard. No glossary names them.
func TestCrossNames(t *testing.T) {
	l := New(nil)
	for _, c := range []struct {
		name string
		said []string
	}{
		{"2/1 RPC", []string{"2/1 RPC", "2/1rpc", "two over one right purl cross", "2 over 1 right pearl cross", "two one right purl cross", "two over one RPC", "to over won write perl crossed",
			"too one are pea see", "21 RPC", "two by one right purl cable", "2-1 rpc", "two over one right leaning purl cross", "two over one purl right cross"}},
		{"2/1 LPC", []string{"2/1 LPC", "two over one left purl cross", "two one el pee sea"}},
		{"3/3 LC", []string{"three over three left cross", "33 lc", "free over free lift cross", "three three left leaning cable"}},
		{"6/5 RC", []string{"six over five right cross", "6/5 RC", "sicks over five are sea"}},
		{"12/4 LC", []string{"twelve over four left cross", "12/4 lc"}},
		{"2/1/2 RC", []string{"two over one over two right cross", "2/1/2 RC", "212 rc", "two one two right cross"}},
		{"2/1/2 LPC", []string{"two over one over two left purl cross", "2/1/2 lpc"}},
		{"C4B", []string{"C4B", "C four B", "see for bee", "cable four back", "cable 4 at the back", "cable four stitches to the back", "c 4 b"}},
		{"C6F", []string{"C6F", "cable six front", "cable six in front", "c six f"}},
		{"T3F", []string{"T3F", "tee three eff", "twist three front"}},
		{"C3B", []string{"C3B", "cable three back"}}, // a name with two meanings is a name
	} {
		for _, said := range c.said {
			for _, ask := range []string{"explain ", "how do I work a ", "what's a ", "what does "} {
				words := ask + said
				if strings.HasSuffix(ask, "does ") {
					words += " mean"
				}
				t.Run(words, func(t *testing.T) {
					if h := l.Hear(words); h.Intent != Explain || h.Stitch != c.name {
						t.Errorf("heard %+v, want explain %s", h, c.name)
					}
				})
			}
		}
	}
	for _, said := range []string{"two over one", "two right cross", "two over one right left cross", "two over one right purl", "two over one right right cross", "30/2 RC", "C and B",
		"cable back", "two over one right horse", "20 rc", "C fourth B", "four of us crossed right"} {
		t.Run(said, func(t *testing.T) {
			if name, ok := crossNamed(firstWords(said)); ok {
				t.Errorf("taken for %s", name)
			}
		})
	}
}

func firstWords(said string) []word {
	ws, _ := split(said)
	return ws
}

// TestEveryCross says each cross of up to six stitches a strand by the name that stitch.Cross gives it, in words and in letters.
func TestEveryCross(t *testing.T) {
	for front := 1; front <= 6; front++ {
		for back := 1; back <= 6; back++ {
			for middle := 0; middle <= 3; middle++ {
				for bits := range 4 {
					c := stitch.Cross{Front: front, Middle: middle, Back: back, Left: bits&1 > 0, Purl: bits&2 > 0}
					for _, said := range []string{c.Name(), c.Words(), strings.ReplaceAll(c.Words(), " over", ""), strings.ToLower(strings.ReplaceAll(c.Name(), "/", " "))} {
						if name, ok := crossNamed(firstWords(said)); !ok || name != c.Name() {
							t.Fatalf("%q is taken for %q, want %s", said, name, c.Name())
						}
					}
				}
			}
		}
	}
}

// TestManners asks for stitches with the way in which they are worked, which is no part of their name.
func TestManners(t *testing.T) {
	l := New(terms)
	for _, c := range []struct{ words, stitch, manner string }{
		{"how do I k1 tbl", "k", "tbl"}, {"how do you purl through the back loop", "p", "tbl"}, {"how do you knit one through the back loop", "k", "tbl"}, {"explain p1 tbl", "p", "tbl"},
		{"how do I slip one with the yarn in front", "sl", "wyif"}, {"explain sl 1 wyib", "sl", "wyib"}, {"how do I slip purlwise", "sl", "pwise"}, {"what does sl 1 kwise mean", "sl", "kwise"},
		{"how do I nit through the back of the loop", "k", "tbl"}, {"explain k2tog tbl", "k2tog", "tbl"}, {"explain p2tog tbl", "p2tog tbl", ""}, {"what is tbl", "tbl", ""},
		{"explain knit front and back", "kfb", ""}, {"what's a purl cross", "cross", ""}, {"how do I do the left cable", "cable", ""},
		{"what is MG", "mg", ""}, {"WHAT IS YO", "yo", ""}, {"how do I do a DSD", "dsd", ""},
	} {
		t.Run(c.words, func(t *testing.T) {
			if h := l.Hear(c.words); h.Intent != Explain || h.Stitch != c.stitch || h.Manner != c.manner {
				t.Errorf("heard %+v, want explain %s %s", h, c.stitch, c.manner)
			}
		})
	}
}
