// Package phrasetest holds a table of phrases against the code that speaks it.
package phrasetest

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tunwright/pricing/pack/client/phrase"
)

// Audit fails the test where a package says a phrase that is not in its book, or
// where the book has a phrase that nobody says. Keys made of parts name their common
// beginning in the code, such as Say("rule." + id): all phrases with that beginning
// count as said.
func Audit(t *testing.T, book phrase.Book, dir string) {
	t.Helper()
	said, begun := spoken(t, dir)
	keys := book.Keys()
	for _, key := range said {
		if !slices.Contains(keys, key) {
			t.Errorf("%s says %q, which is not in its phrases", dir, key)
		}
	}
	for _, key := range keys {
		if slices.Contains(said, key) || slices.ContainsFunc(begun, func(start string) bool { return strings.HasPrefix(key, start) }) {
			continue
		}
		t.Errorf("nobody in %s says %q", dir, key)
	}
}

// Gaps fails the test where the two languages of a phrase do not have the same gaps
// to fill.
func Gaps(t *testing.T, english, german phrase.Voice, keys []string) {
	t.Helper()
	for _, key := range keys {
		en, de := english.Say(key), german.Say(key)
		if n, m := strings.Count(en, "%"), strings.Count(de, "%"); n != m {
			t.Errorf("%q has %d gaps in English and %d in German", key, n, m)
		}
	}
}

// spoken lists the keys that a package's files hand to Say and Known, whole and begun.
func spoken(t *testing.T, dir string) (whole, begun []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !isCode(e) {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), dir+"/"+e.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) == 0 {
				return true
			}
			if sel, ok := call.Fun.(*ast.SelectorExpr); !ok || sel.Sel.Name != "Say" && sel.Sel.Name != "Known" {
				return true
			}
			switch arg := call.Args[0].(type) {
			case *ast.BasicLit:
				whole = append(whole, unquoted(arg))
			case *ast.BinaryExpr:
				if lit, ok := arg.X.(*ast.BasicLit); ok {
					begun = append(begun, unquoted(lit))
				}
			}
			return true
		})
	}
	return whole, begun
}

func isCode(e fs.DirEntry) bool {
	return strings.HasSuffix(e.Name(), ".go") && !strings.HasSuffix(e.Name(), "_test.go")
}

func unquoted(lit *ast.BasicLit) string {
	text, err := strconv.Unquote(lit.Value)
	if err != nil {
		return lit.Value
	}
	return text
}
