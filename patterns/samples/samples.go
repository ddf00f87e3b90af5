// Package samples holds patterns that ship with Clew, for trying it out and for
// its tests. They are of our own design. The harbour town of Tibberhythe, where
// they are set, and its people are invented.
package samples

import (
	"embed"
	"strings"
)

// A Sample is one pattern file.
type Sample struct {
	Name string // lower case, words joined by '-': "float-hat"
	Text string // in the notation that patterns.Read takes
}

// names gives the samples in their order. The first is the one that a knitter
// gets who names no pattern.
var names = []string{"float-hat", "gull-kerchief", "cobble-cowl", "lee-cap", "boathouse-socks", "mender-mittens"}

//go:embed *.txt
var files embed.FS

var all = func() []Sample {
	samples := make([]Sample, 0, len(names))
	for _, name := range names {
		text, err := files.ReadFile(name + ".txt")
		if err != nil {
			panic(err) // the files are part of the program
		}
		samples = append(samples, Sample{name, string(text)})
	}
	return samples
}()

// All gives every sample, always in the same order.
func All() []Sample { return append([]Sample(nil), all...) }

// First gives the sample for a knitter who names no pattern: the cabled hat.
func First() Sample { return all[0] }

// Find gives the sample of a name, whatever its case, with or without the
// ending ".txt"; false when there is none.
func Find(name string) (Sample, bool) {
	name = strings.TrimSuffix(strings.ToLower(strings.TrimSpace(name)), ".txt")
	for _, s := range all {
		if s.Name == name {
			return s, true
		}
	}
	return Sample{}, false
}
