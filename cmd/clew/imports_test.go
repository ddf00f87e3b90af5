package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// below says which other parts of the house each part may know.
var below = map[string][]string{
	"patterns": nil,
	"session":  {"patterns"},
	"reader":   {"patterns"},
	"bot":      {"patterns", "session", "reader"},
	"cmd":      {"patterns", "session", "reader", "bot"},
}

// inside says the same of the packages of one part, where they have an order.
var inside = map[string][]string{
	"clew/patterns/problem":           nil,
	"clew/patterns/stitch":            nil,
	"clew/patterns/instruction":       {"clew/patterns/problem", "clew/patterns/stitch"},
	"clew/patterns/fabric":            {"clew/patterns/problem", "clew/patterns/stitch", "clew/patterns/instruction"},
	"clew/patterns/worked":            {"clew/patterns/problem", "clew/patterns/stitch", "clew/patterns/instruction"},
	"clew/patterns/compare":           {"clew/patterns", "clew/patterns/problem", "clew/patterns/stitch", "clew/patterns/instruction", "clew/patterns/fabric", "clew/patterns/worked"},
	"clew/patterns/survey":            {"clew/patterns", "clew/patterns/problem", "clew/patterns/stitch", "clew/patterns/instruction", "clew/patterns/fabric", "clew/patterns/worked"},
	"clew/patterns/fit":               {"clew/patterns", "clew/patterns/problem", "clew/patterns/stitch", "clew/patterns/instruction", "clew/patterns/fabric"},
	"clew/patterns/chart/canvas":      nil,
	"clew/patterns/chart/picturetest": nil,
	"clew/patterns/chart":             {"clew/patterns", "clew/patterns/problem", "clew/patterns/stitch", "clew/patterns/instruction", "clew/patterns/fabric", "clew/patterns/chart/canvas"},
	"clew/bot/board":                  nil,
	"clew/reader":                     nil,
	"clew/session":                    nil,
	"clew/bot":                        {"clew/bot/board"},
}

type listed struct {
	ImportPath string
	Imports    []string // what its own files import
	Deps       []string // all that it needs
}

func packages(t *testing.T) []listed {
	t.Helper()
	out, err := exec.CommandContext(t.Context(), "go", "list", "-deps", "-json=ImportPath,Imports,Deps", "clew/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var found []listed
	for decoder := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := decoder.Decode(&p); errors.Is(err, io.EOF) {
			return found
		} else if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(p.ImportPath, "clew/") {
			found = append(found, p)
		}
	}
}

// part is the folder of the top level that a package stands in.
func part(path string) string {
	name, _, _ := strings.Cut(strings.TrimPrefix(path, "clew/"), "/")
	return name
}

// TestImportsGoOneWay says that patterns <- session, reader <- bot <- cmd, and
// that nothing else points between the parts.
func TestImportsGoOneWay(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range packages(t) {
		mine := part(p.ImportPath)
		seen[mine] = true
		mayKnow, known := below[mine]
		if !known {
			t.Errorf("%s is in no part of the house: say in this test which parts it may know", p.ImportPath)
		}
		order, ordered := inside[p.ImportPath]
		for _, dep := range p.Deps {
			if !strings.HasPrefix(dep, "clew/") {
				continue
			}
			switch other := part(dep); {
			case other != mine && !slices.Contains(mayKnow, other):
				t.Errorf("%s needs %s, and %s may know only %q", p.ImportPath, dep, mine, mayKnow)
			case other == mine && ordered && !slices.Contains(order, dep) && !strings.Contains(dep, "/internal"):
				t.Errorf("%s needs %s, and may know only %q of its part", p.ImportPath, dep, order)
			}
		}
	}
	for name := range below {
		if !seen[name] {
			t.Errorf("there is no package in %s", name)
		}
	}
}
