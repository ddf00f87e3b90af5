package main

import (
	"slices"
	"strings"
	"testing"
)

// alone says which modules and test kits only some packages may import, tests
// left aside.
var alone = map[string][]string{
	"github.com/redis/go-redis":     {"clew/session"},
	"github.com/alicebob/miniredis": {"clew/session/local"},
	"clew/session/redistest":        nil,
	"github.com/bwmarrin/discordgo": {"clew/bot/discord"},
}

// under says that a package is one of the given ones or stands below one.
func under(path string, roots []string) bool {
	return slices.ContainsFunc(roots, func(root string) bool { return path == root || strings.HasPrefix(path, root+"/") })
}

// TestStoresAndPlatformsStayApart says that nothing but session knows Redis,
// and nothing but its adapter knows a platform.
func TestStoresAndPlatformsStayApart(t *testing.T) {
	used := map[string]bool{}
	for _, p := range packages(t) {
		for _, path := range p.Imports {
			for module, allowed := range alone {
				if !under(path, []string{module}) {
					continue
				}
				used[module] = true
				if !under(p.ImportPath, allowed) {
					t.Errorf("%s imports %s, which only %q may", p.ImportPath, path, allowed)
				}
			}
		}
	}
	for module, allowed := range alone {
		if len(allowed) > 0 && !used[module] {
			t.Errorf("nothing imports %s: is this test still looking for the right name?", module)
		}
	}
}
