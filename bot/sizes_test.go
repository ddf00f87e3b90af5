package bot

import (
	"testing"

	"clew/patterns"
)

func TestSizeAsked(t *testing.T) {
	p := &patterns.Pattern{Sizes: []string{"small", "medium", "extra large", "4-6 years"}}
	for words, want := range map[string]string{
		"size medium":                      "medium",
		"Size MEDIUM, please.":             "medium",
		"please change my size to medium":  "medium",
		"change to size extra large":       "extra large",
		"can you switch it to size small":  "small",
		"I knit the medium size":           "medium",
		"I am knitting size extra-large":   "extra large",
		"put me in size four to six years": "4-6 years",
		"size 4-6 years":                   "4-6 years",
		"my size is small":                 "small",
		"medium":                           "", // a word alone moves nobody
		"the medium":                       "",
		"size huge":                        "",
		"size medium for my cat":           "",
		"what size medium is that":         "",
		"the size of a small cat":          "",
		"":                                 "",
	} {
		if found := sizeAsked(p, words); found != want {
			t.Errorf("%q asks for %q, expected %q", words, found, want)
		}
	}
	for words, want := range map[string]string{
		"medium": "medium", "the medium, please": "medium", "join in size small": "small", "join in the small": "small",
		"join as medium": "medium", "join size extra large": "extra large", "size medium": "medium", "join": "", "medium well": "", "": "",
	} {
		if found := sizeToJoin(p, words); found != want {
			t.Errorf("a stranger's %q asks for %q, expected %q", words, found, want)
		}
	}
}
