package stitch_test

import (
	"fmt"
	"strings"
	"testing"

	"clew/patterns/stitch"
)

// Every width up to the widest, in every direction, under its own name.
func TestCrossNames(t *testing.T) {
	middles := []int{0, 1, 2, stitch.MaxStrand}
	for front := 1; front <= stitch.MaxStrand; front++ {
		for back := 1; back <= stitch.MaxStrand; back++ {
			for _, middle := range middles {
				for bits := range 4 {
					c := stitch.Cross{Front: front, Middle: middle, Back: back, Left: bits&1 > 0, Purl: bits&2 > 0}
					for _, written := range []string{c.Name(), strings.ToLower(c.Name()), strings.ReplaceAll(c.Name(), " ", "")} {
						if got, meanings, ok := stitch.FindCross(written); !ok || got != c || meanings != "" {
							t.Fatalf("%s reads as %+v, %q", written, got, meanings)
						}
						if !stitch.LooksLikeCross([]byte(stitch.Key(written))) {
							t.Fatalf("%s does not look like a cross", written)
						}
					}
					if c.Uses() != front+middle+back || c.Zero() || c.Mirror().Mirror() != c || c.Mirror().Left == c.Left {
						t.Fatalf("%s: %+v", c.Name(), c)
					}
				}
			}
		}
	}
	if !(stitch.Cross{}).Zero() {
		t.Error("no cross is one")
	}
}

// The older names, as the page that describes the pattern text gives them.
func TestOlderCrossNames(t *testing.T) {
	for name, want := range map[string]string{
		"C4B": "2/2 RC", "C4F": "2/2 LC", "C6B": "3/3 RC", "C6F": "3/3 LC", "C8B": "4/4 RC", "C10F": "5/5 LC", "C40B": "20/20 RC",
		"T3B": "2/1 RPC", "T3F": "2/1 LPC", "T4B": "2/2 RPC", "T4F": "2/2 LPC", "c4b": "2/2 RC", "C 4 B": "2/2 RC",
	} {
		if c, _, ok := stitch.FindCross(name); !ok || c.Name() != want {
			t.Errorf("%s is %s; %s was expected", name, c.Name(), want)
		}
		if stitch.Ambiguous(name) != nil {
			t.Errorf("%s has two meanings", name)
		}
	}
	for n := 4; n <= 2*stitch.MaxStrand; n += 2 {
		c, _, ok := stitch.FindCross(fmt.Sprintf("C%dF", n))
		if !ok || c != (stitch.Cross{Front: n / 2, Back: n / 2, Left: true}) {
			t.Errorf("C%dF is %+v", n, c)
		}
	}
}

func TestNamesWithTwoMeanings(t *testing.T) {
	for name, want := range map[string]string{
		"C2B": "two stitches in all (1/1 RC), or two on the cable needle (2/2 RC)",
		"C2F": "two stitches in all (1/1 LC), or two on the cable needle (2/2 LC)",
		"T2B": "two stitches in all (1/1 RPC), or two on the cable needle (2/2 RPC)",
		"C3B": "two over one (2/1 RC), or one over two (1/2 RC)",
		"C3F": "two over one (2/1 LC), or one over two (1/2 LC)",
		"C5B": "three over two (3/2 RC), or two over three (2/3 RC)",
		"T5B": "three over two (3/2 RPC), or two over three (2/3 RPC)",
		"T5F": "three over two (3/2 LPC), or two over three (2/3 LPC)",
		"T6B": "four over two (4/2 RPC), or three over three (3/3 RPC)",
		"RC":  "one stitch over one (1/1 RC), or two over two (2/2 RC)",
		"BC":  "one stitch over one (1/1 RC), or two over two (2/2 RC)",
		"LC":  "one stitch over one (1/1 LC), or two over two (2/2 LC)",
		"fc":  "one stitch over one (1/1 LC), or two over two (2/2 LC)",
	} {
		_, meanings, ok := stitch.FindCross(name)
		if ok || meanings != want {
			t.Errorf("%s: %q\nand expected %q", name, meanings, want)
		}
		a := stitch.Ambiguous(name)
		if a == nil || a.Meanings != want {
			t.Fatalf("%s: %+v", name, a)
		}
		// Both ways out that it offers can be written.
		for _, part := range strings.Split(want, "(")[1:] {
			offered, _, _ := strings.Cut(part, ")")
			if _, _, ok := stitch.FindCross(offered); !ok || !strings.Contains(a.Instead, offered) {
				t.Errorf("%s: %s is no way out in %q", name, offered, a.Instead)
			}
		}
		if !strings.Contains(a.Instead, "Abbreviation: "+name+" = ") {
			t.Errorf("%s: %q", name, a.Instead)
		}
	}
	if a := stitch.Ambiguous("yf"); a == nil || stitch.Find("yf") != nil {
		t.Error("yf has one meaning")
	}
}

func TestNoCrosses(t *testing.T) {
	for name, outOfRange := range map[string]bool{
		"0/1 RC": true, "1/0 LPC": true, "21/1 RC": true, "1/21 RC": true, "1/0/1 RC": true, "1/1/21 LC": true, "99999999999999999999/1 RC": true,
		"C1B": true, "C0F": true, "C42B": true, "C41B": true, "T1F": true,
		"k2tog": false, "1/1": false, "1/1 XC": false, "/1 RC": false, "1/ RC": false, "1/1/1/1 RC": false, "1/1 RCC": false, "C4": false, "C4X": false, "CB": false, "C-4B": false, "": false, "R": false, "RPT": false, "1 RC": false,
	} {
		c, meanings, ok := stitch.FindCross(name)
		if ok || !c.Zero() || (meanings != "") != outOfRange || stitch.Ambiguous(name) != nil {
			t.Errorf("%q reads as %+v, %q", name, c, meanings)
		}
	}
}

func TestCrossWords(t *testing.T) {
	for name, want := range map[string]string{
		"2/2 RPC": "two over two right purl cross", "2/1 LC": "two over one left cross", "2/1/2 LPC": "two over one over two left purl cross",
		"20/12 RC": "twenty over twelve right cross", "RT": "right twist", "LT": "left twist",
	} {
		c, _, ok := stitch.FindCross(name)
		if !ok || c.Words() != want || c.Name() != name {
			t.Errorf("%s is %q, %q", name, c.Name(), c.Words())
		}
	}
}
