package bot

import "testing"

// The letters of the picture are those of Latin, Greek and Cyrillic script.
func TestDrawnOr(t *testing.T) {
	for name, want := range map[string]string{
		"Harbour Lights":     "Harbour Lights",
		"Harbour 🧶 Lights 🐑": "Harbour Lights",
		"Ελένη":              "Ελένη",
		"编织":                 "other",
		"ليلى":               "other",
		"🧶 7":                "7",
		"🧶":                  "other",
		"**":                 "**",
		"Wr\u200ben":         "Wren",
	} {
		if found := drawnOr(name, "other"); found != want {
			t.Errorf("%q is drawn as %q, expected %q", name, found, want)
		}
	}
}
