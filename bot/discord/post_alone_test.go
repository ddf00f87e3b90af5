package discord

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestMessagesAreMadeInOneFile says that no other file of the package makes a
// message with a text, a file or a button, or gives one another text. A
// deferral, which has none of those, may be made anywhere.
func TestMessagesAreMadeInOneFile(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	made := 0
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		parsed, err := parser.ParseFile(set, file, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(parsed, func(n ast.Node) bool {
			if n == nil || !makesMessage(n) {
				return true
			}
			if file == "post.go" {
				made++
			} else {
				t.Errorf("%s makes a message; only post.go may", set.Position(n.Pos()))
			}
			return true
		})
	}
	if made == 0 {
		t.Error("post.go makes no message: the test looks for the wrong thing")
	}
}

// messageTypes are what the platform's library, and ours, write messages by.
var messageTypes = []string{"rest.Message", "discordgo.MessageSend", "discordgo.MessageEdit", "discordgo.WebhookParams", "discordgo.WebhookEdit", "discordgo.InteractionResponseData", "discordgo.InteractionResponse"}

func makesMessage(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.CompositeLit:
		if isMessage(n.Type) {
			return slices.ContainsFunc(n.Elts, func(e ast.Expr) bool {
				pair, ok := e.(*ast.KeyValueExpr)
				return !ok || fmt.Sprint(pair.Key) != "Ephemeral"
			})
		}
		list, ok := n.Type.(*ast.ArrayType)
		return ok && isMessage(list.Elt) && slices.ContainsFunc(n.Elts, func(e ast.Expr) bool {
			_, made := e.(*ast.CompositeLit)
			return made
		})
	case *ast.CallExpr:
		name, ok := n.Fun.(*ast.Ident)
		return ok && name.Name == "new" && isMessage(n.Args[0])
	case *ast.AssignStmt:
		return slices.ContainsFunc(n.Lhs, func(e ast.Expr) bool {
			field, ok := e.(*ast.SelectorExpr)
			return ok && slices.Contains([]string{"Content", "Components", "Files"}, field.Sel.Name)
		})
	}
	return false
}

func isMessage(e ast.Expr) bool {
	selector, ok := e.(*ast.SelectorExpr)
	return ok && slices.Contains(messageTypes, fmt.Sprint(selector.X)+"."+selector.Sel.Name)
}

// TestMakesMessage says what the test above finds.
func TestMakesMessage(t *testing.T) {
	for _, c := range []struct {
		code string
		want bool
	}{
		{`rest.Message{Content: "a"}`, true},
		{`&rest.Message{Ephemeral: true, Content: "a"}`, true},
		{`&rest.Message{Ephemeral: true}`, false},
		{`[]rest.Message{plain("a", true)}`, false},
		{`[]rest.Message{{Content: "a"}}`, true},
		{`new(rest.Message)`, true},
		{`func() { m.Content = "a" }`, true},
		{`func() { m.ReplyTo = "1" }`, false},
		{`discordgo.MessageSend{Content: "a"}`, true},
	} {
		e, err := parser.ParseExpr(c.code)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		ast.Inspect(e, func(n ast.Node) bool {
			found = found || n != nil && makesMessage(n)
			return true
		})
		if found != c.want {
			t.Errorf("%s: found %v", c.code, found)
		}
	}
}
