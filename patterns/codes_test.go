package patterns_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/problem"
)

var codeForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// codesInSource gives the codes that the source of the pattern packages
// writes: the string that stands second in a call of fail, Errorf or warning.
func codesInSource(t *testing.T) []string {
	t.Helper()
	var found []string
	for _, glob := range []string{"*.go", "instruction/*.go", "fabric/*.go"} {
		files, err := filepath.Glob(glob)
		if err != nil || len(files) == 0 {
			t.Fatal(glob, err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(tree, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok || len(call.Args) < 3 || !slices.Contains([]string{"fail", "Errorf", "warning"}, called(call)) {
					return true
				}
				if literal, ok := call.Args[1].(*ast.BasicLit); ok && literal.Kind == token.STRING {
					if code, err := strconv.Unquote(literal.Value); err == nil && codeForm.MatchString(code) {
						found = append(found, code)
					}
				}
				return true
			})
		}
	}
	slices.Sort(found)
	return slices.Compact(found)
}

// called is the name of what is called.
func called(call *ast.CallExpr) string {
	switch f := call.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		return f.Sel.Name
	}
	return ""
}

// TestCodes compares the list of codes with those that the source writes, and
// asks that each is told of some pattern in the tests.
func TestCodes(t *testing.T) {
	var listed []string
	for _, c := range patterns.Codes {
		listed = append(listed, c.Name)
		if c.Tells == "" || !codeForm.MatchString(c.Name) {
			t.Errorf("the code %q has no words, or no form", c.Name)
		}
	}
	slices.Sort(listed)
	if again := slices.Compact(slices.Clone(listed)); len(again) != len(listed) {
		t.Errorf("a code is listed twice")
	}
	for _, code := range codesInSource(t) {
		if !slices.Contains(listed, code) {
			t.Errorf("the code %q is not listed", code)
		}
	}
	told := map[string]problem.Severity{}
	tell := func(src []byte) {
		_, problems := patterns.Read(src)
		for _, p := range problems {
			told[p.Code] = p.Severity
		}
	}
	for _, src := range seeds(t) {
		tell(src)
	}
	for _, c := range unread {
		tell([]byte(c.src))
	}
	for _, c := range limits {
		tell([]byte(c.src))
	}
	for _, src := range hostile(20) {
		tell([]byte(src))
	}
	for _, c := range patterns.Codes {
		severity, found := told[c.Name]
		switch {
		case !found:
			t.Errorf("no pattern in the tests is told %q", c.Name)
		case (severity == problem.Warning) != c.Warning:
			t.Errorf("%q is listed as a warning: %v, and told as one: %v", c.Name, c.Warning, severity)
		}
		delete(told, c.Name)
	}
	for code := range told {
		t.Errorf("%q is told and not listed", code)
	}
}
