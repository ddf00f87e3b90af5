package discordtest_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"testing"
)

// What checks the bot and its library shares no code with them.
func TestImports(t *testing.T) {
	files, err := fs.Glob(os.DirFS("."), "*.go")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			path, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			standard := !strings.Contains(strings.Split(path, "/")[0], ".") && !strings.HasPrefix(path, "clew")
			if !standard && path != "github.com/gorilla/websocket" {
				t.Errorf("%s imports %s", name, path)
			}
		}
	}
}
