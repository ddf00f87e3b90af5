package stitch_test

import (
	"regexp"
	"strings"
	"testing"

	"clew/patterns/stitch"
)

// The knitting abbreviations of the Craft Yarn Council's published master list
// (craftyarncouncil.com, Standards, Knitting abbreviations), given from memory:
// the page could not be fetched when this was written. Yarn-forward forms that
// the list spells several ways are given in all of them.
var councilStitches = []string{
	"BO", "byo", "cdd", "CO", "k", "knit", "k2tog", "k3tog", "kfb", "kll", "krl", "ksp", "k1b", "m1", "m1k", "m1l", "m1r", "m1p", "m1lp", "m1rp",
	"MB", "p", "purl", "p2tog", "p3tog", "p2sso", "pfb", "pnso", "pop", "psso", "skp", "skpo", "sk2p", "s2kp2", "sl", "sl st", "ssk", "ssp", "sssk", "sssp",
	"yfwd", "yo", "yon", "yrn", "yfrn", "yfon", "won", "wrn",
}

var councilTerms = []string{
	"alt", "approx", "beg", "bet", "CC", "ch", "cm", "cn", "cont", "dec", "DK", "dp", "dpn", "EON", "EOR", "fl", "foll", "g", "gr", "inc", "in", "kwise", "k-wise",
	"LH", "lp", "m", "MC", "mm", "oz", "pat", "patt", "pm", "prev", "pwise", "p-wise", "rem", "rep", "rev St st", "RH", "rm", "rnd", "RS", "sk", "sm",
	"st", "sts", "St st", "tbl", "tfl", "tog", "WS", "w&t", "wyib", "wyif", "yd", "LC", "RC",
}

var councilCrosses = []string{"LT", "RT", "1/1 LC", "1/1 RC", "1/1 LPC", "1/1 RPC", "2/1 LC", "2/1 RC", "2/1 LPC", "2/1 RPC", "2/2 LC", "2/2 RC", "2/2 LPC", "2/2 RPC",
	"3/1 LPC", "3/1 RPC", "3/3 LC", "3/3 RC", "2/1/2 LPC", "2/1/2 RPC"}

func TestCouncilList(t *testing.T) {
	for _, name := range councilStitches {
		for _, written := range []string{name, strings.ToLower(name), strings.ToUpper(name), " " + name + "."} {
			if stitch.Find(written) == nil {
				t.Errorf("%q is no stitch", written)
			}
		}
	}
	for _, name := range councilTerms {
		if term, ok := stitch.FindTerm(strings.ToUpper(name)); !ok || term.Meaning == "" {
			t.Errorf("%q is no term", name)
		}
	}
	for _, name := range councilCrosses {
		if _, _, ok := stitch.FindCross(name); !ok {
			t.Errorf("%q is no cross", name)
		}
	}
}

// What each stitch takes off the left needle, what it leaves as seen from the
// side being worked (k shows a knit, p a purl), and how many earlier stitches
// it lifts off. From the Council's definitions, from memory; kfbf, k1b and the
// picking up of stitches are common practice.
var effects = map[string]struct {
	uses   int
	makes  string
	passes int
}{
	"k": {1, "k", 0}, "p": {1, "p", 0}, "sl": {1, "", 0},
	"yo": {0, "k", 0}, "byo": {0, "k", 0}, "m1": {0, "k", 0}, "m1l": {0, "k", 0}, "m1r": {0, "k", 0}, "m1p": {0, "p", 0}, "m1lp": {0, "p", 0}, "m1rp": {0, "p", 0},
	"kll": {0, "k", 0}, "krl": {0, "k", 0}, "kfb": {1, "kp", 0}, "pfb": {1, "pp", 0}, "kfbf": {1, "kpk", 0}, "k1b": {1, "k", 0},
	"ssk": {2, "k", 0}, "ssp": {2, "p", 0}, "sssk": {3, "k", 0}, "sssp": {3, "p", 0}, "skp": {2, "k", 0}, "sk2p": {3, "k", 0}, "s2kp": {3, "k", 0}, "ksp": {2, "k", 0},
	"pnso": {1, "", 0}, "psso": {0, "", 1}, "p2sso": {0, "", 2}, "pass previous st over": {0, "", 1},
	"mb": {1, "k", 0}, "pop": {1, "k", 0}, "BO": {1, "", 0}, "CO": {0, "k", 0}, "pu": {0, "k", 0}, "pup": {0, "p", 0},
	"k2tog": {2, "k", 0}, "k3tog": {3, "k", 0}, "k4tog": {4, "k", 0}, "k5tog": {5, "k", 0}, "k6tog": {6, "k", 0}, "k7tog": {7, "k", 0}, "k8tog": {8, "k", 0},
	"k9tog": {9, "k", 0}, "k10tog": {10, "k", 0}, "k11tog": {11, "k", 0}, "k12tog": {12, "k", 0},
	"p2tog": {2, "p", 0}, "p3tog": {3, "p", 0}, "p4tog": {4, "p", 0}, "p5tog": {5, "p", 0}, "p6tog": {6, "p", 0}, "p7tog": {7, "p", 0}, "p8tog": {8, "p", 0},
	"p9tog": {9, "p", 0}, "p10tog": {10, "p", 0}, "p11tog": {11, "p", 0}, "p12tog": {12, "p", 0},
}

func TestEffects(t *testing.T) {
	seen := 0
	for _, s := range stitch.All() {
		want, ok := effects[s.Abbr]
		if !ok {
			t.Errorf("%s: what it does is checked nowhere", s.Abbr)
			continue
		}
		seen++
		makes := ""
		for _, f := range s.Makes {
			makes += map[stitch.Face]string{stitch.Knit: "k", stitch.Purl: "p"}[f]
		}
		if s.Uses != want.uses || makes != want.makes || s.Passes != want.passes {
			t.Errorf("%s uses %d, makes %q and passes %d; %+v was expected", s.Abbr, s.Uses, makes, s.Passes, want)
		}
		net := len(want.makes) - want.uses - want.passes
		if s.Abbr == "sl" { // what a slip takes off one needle it puts on the other
			net = 0
		}
		if s.Net() != net {
			t.Errorf("%s changes the count by %d; %d was expected", s.Abbr, s.Net(), net)
		}
		twisted := strings.HasPrefix(s.Abbr, "m1")
		if s.Twisted != twisted {
			t.Errorf("%s is twisted: %v", s.Abbr, s.Twisted)
		}
	}
	if seen != len(effects) {
		t.Errorf("%d stitches were checked, and %d are expected", seen, len(effects))
	}
}

func TestKinds(t *testing.T) {
	kinds := map[string]stitch.Kind{"sl": stitch.Slip, "psso": stitch.PassOver, "p2sso": stitch.PassOver, "pass previous st over": stitch.PassOver,
		"BO": stitch.BindOff, "CO": stitch.CastOn, "pu": stitch.CastOn, "pup": stitch.CastOn}
	counted := map[string]bool{"k": true, "p": true, "sl": true, "BO": true, "CO": true, "pu": true, "pup": true}
	for _, s := range stitch.All() {
		if s.Kind != kinds[s.Abbr] {
			t.Errorf("%s is of kind %d", s.Abbr, s.Kind)
		}
		if s.Counted != counted[s.Abbr] {
			t.Errorf("a number after %s counts stitches: %v", s.Abbr, s.Counted)
		}
		if s.Unslipped != (s.Abbr == "pass previous st over") {
			t.Errorf("%s lifts what was worked: %v", s.Abbr, s.Unslipped)
		}
	}
}

// forTheEar holds texts that are read out.
var forTheEar = regexp.MustCompile(`^[A-Za-z ,.;:'-]+$`)

func TestTextsAreForTheEar(t *testing.T) {
	for _, s := range stitch.All() {
		for _, text := range []string{s.Words, s.HowTo} {
			if !forTheEar.MatchString(text) || text != strings.TrimSpace(text) || strings.Contains(text, "  ") {
				t.Errorf("%s: this can't be read out: %q", s.Abbr, text)
			}
		}
		if s.Noun != "" && !forTheEar.MatchString(s.Noun) {
			t.Errorf("%s: this can't be read out: %q", s.Abbr, s.Noun)
		}
		if !strings.HasSuffix(s.HowTo, ".") || s.HowTo[:1] != strings.ToUpper(s.HowTo[:1]) {
			t.Errorf("%s: this is no sentence: %q", s.Abbr, s.HowTo)
		}
		if strings.HasSuffix(s.Words, ".") || s.Words != strings.ToLower(s.Words) {
			t.Errorf("%s: these words stand inside a sentence: %q", s.Abbr, s.Words)
		}
		if s.Symbol == "" || s.Source == "" {
			t.Errorf("%s has no symbol or no source", s.Abbr)
		}
	}
	for _, term := range stitch.Terms() {
		if !forTheEar.MatchString(term.Meaning) {
			t.Errorf("%s: this can't be read out: %q", term.Abbr, term.Meaning)
		}
		if term.Source == "" {
			t.Errorf("%s has no source", term.Abbr)
		}
	}
	for _, name := range []string{"20/19 LPC", "1/1 RC", "2/1/2 RPC", "RT", "LT"} {
		if c, _, ok := stitch.FindCross(name); !ok || !forTheEar.MatchString(c.Words()) {
			t.Errorf("%s: this can't be read out: %q", name, c.Words())
		}
	}
}

// No name means two things: not two stitches, nor a stitch and a term. The
// Council's list has "sl st" and "tog" words under both heads; what both mean
// is named here.
func TestNamesAreApart(t *testing.T) {
	shared := map[string]bool{"slst": true}
	owner := map[string]string{}
	claim := func(name, by string) {
		key := stitch.Key(name)
		if other, taken := owner[key]; taken && !shared[key] {
			t.Errorf("%q is the name of %s and of %s", name, other, by)
		}
		owner[key] = by
	}
	symbols := map[string]string{}
	for _, s := range stitch.All() {
		claim(s.Abbr, s.Abbr)
		for _, name := range s.Spellings {
			claim(name, s.Abbr)
			if stitch.Find(name) != s {
				t.Errorf("%q does not find %s", name, s.Abbr)
			}
		}
		if other, taken := symbols[s.Symbol]; taken {
			t.Errorf("%s and %s have the same symbol, %q", s.Abbr, other, s.Symbol)
		}
		symbols[s.Symbol] = s.Abbr
		if c, meanings, ok := stitch.FindCross(s.Abbr); ok || meanings != "" {
			t.Errorf("%s is the name of a cross too: %v %s", s.Abbr, c, meanings)
		}
		if stitch.Ambiguous(s.Abbr) != nil {
			t.Errorf("%s has two meanings", s.Abbr)
		}
	}
	for _, term := range stitch.Terms() {
		claim(term.Abbr, "the term "+term.Abbr)
		for _, name := range term.Spellings {
			claim(name, "the term "+term.Abbr)
			if found, ok := stitch.FindTerm(name); !ok || found.Abbr != term.Abbr {
				t.Errorf("%q does not find %s", name, term.Abbr)
			}
		}
	}
}

func TestKey(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"K2TOG", "k2tog"}, {" k2 tog ", "k2tog"}, {"St. st", "stst"}, {"k2\u00a0tog", "k2tog"}, {"W&T", "w&t"}, {"", ""},
	} {
		if got := stitch.Key(c.name); got != c.want {
			t.Errorf("the key of %q is %q; %q was expected", c.name, got, c.want)
		}
		if s := stitch.Find(c.name); s != stitch.FindKey([]byte(c.want)) {
			t.Errorf("%q and its key find different stitches", c.name)
		}
	}
	if stitch.Find("") != nil || stitch.Find("zork") != nil {
		t.Error("a stitch was found that is none")
	}
	if _, ok := stitch.FindTerm("zork"); ok {
		t.Error("a term was found that is none")
	}
}

// Each call gives a list of its own.
func TestListsAreCopies(t *testing.T) {
	stitch.All()[0], stitch.Terms()[0] = nil, stitch.Term{}
	if stitch.All()[0] == nil || stitch.Terms()[0].Abbr == "" {
		t.Error("the table was changed through a copy")
	}
	for _, name := range stitch.Names() {
		if strings.Contains(name, "  ") || name == "" {
			t.Errorf("%q is no abbreviation", name)
		}
	}
}
