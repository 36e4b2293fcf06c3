package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
)

// layers are the rooms of the house from left to right; a file may import its own
// room and those to the left of it.
var layers = []string{"catalog", "configurator", "pricing", "web", "cmd"}

// islands are the disciplines: they see the shared words of the left side and
// neither each other nor the configurator.
var islands = []string{"brewing", "cooling", "electrical", "floor", "access", "air", "water", "pressure", "programme", "haccp"}

// islandMay is all that an island imports from the house.
var islandMay = []string{
	"tunwright/catalog/unit", "tunwright/catalog/source",
	"tunwright/configurator/trace", "tunwright/configurator/rule", "tunwright/configurator/calc",
	"tunwright/configurator/rule/ruletest",
}

// planReader is the one island that takes the drawn plan as input: a floor's loads
// are a matter of where the pieces stand.
const planReader = "floor"

// impure must not be imported where the same input has to give the same output.
var impure = []string{"net/http", "database/sql", "log/slog", "os", "os/exec", "net", "math/rand", "math/rand/v2", "crypto/rand", "io/ioutil", "syscall", "github.com/gin-gonic/gin", "github.com/signintech/gopdf"}

// goFile is one source file with what it imports.
type goFile struct {
	path    string
	test    bool
	doc     bool
	imports []string
}

func TestImportsRunToTheLeft(t *testing.T) {
	files := readFiles(t)
	if len(files) < 50 {
		t.Fatalf("only %d files found: the walk is broken", len(files))
	}
	for _, f := range files {
		for _, imp := range f.imports {
			checkLayer(t, f, imp)
			checkIsland(t, f, imp)
			checkPure(t, f, imp)
		}
	}
}

func checkLayer(t *testing.T, f goFile, imp string) {
	t.Helper()
	from, to := layerOf(f.path), layerOf(strings.TrimPrefix(imp, "tunwright/"))
	if !strings.HasPrefix(imp, "tunwright/") || from < 0 || to < 0 {
		return
	}
	if to > from {
		t.Errorf("%s imports %s: %s lies to the right of %s", f.path, imp, layers[to], layers[from])
	}
}

func checkIsland(t *testing.T, f goFile, imp string) {
	t.Helper()
	for _, island := range islands {
		if !strings.HasPrefix(f.path, "configurator/"+island+"/") || !strings.HasPrefix(imp, "tunwright/") {
			continue
		}
		own := "tunwright/configurator/" + island
		if imp == own || strings.HasPrefix(imp, own+"/") || contains(islandMay, imp) || f.test && imp == "tunwright/catalog/strict" {
			continue
		}
		if island == planReader && imp == "tunwright/configurator/plan" {
			continue
		}
		t.Errorf("%s imports %s: a discipline sees only %s", f.path, imp, strings.Join(islandMay, ", "))
	}
}

func checkPure(t *testing.T, f goFile, imp string) {
	t.Helper()
	pure := strings.HasPrefix(f.path, "configurator/") || strings.HasPrefix(f.path, "catalog/") && !strings.Contains(f.path, "/gen/")
	if f.test || !pure {
		return
	}
	if contains(impure, imp) {
		t.Errorf("%s imports %s: a calculation has no input but its arguments", f.path, imp)
	}
	if strings.HasPrefix(imp, "tunwright/pricing") || imp == "github.com/shopspring/decimal" {
		t.Errorf("%s imports %s: the technical side never sees a price", f.path, imp)
	}
}

// clock are the calls that would make an answer depend on when it was asked.
var clock = []string{"Now", "Since", "Until"}

func TestNoClockWhereAnswersAreMade(t *testing.T) {
	read := 0
	for _, f := range readFiles(t) {
		if f.test || !contains(f.imports, "time") || layerOf(f.path) < 0 || layerOf(f.path) > layerOf("pricing") {
			continue
		}
		read++
		tree, err := parser.ParseFile(token.NewFileSet(), filepath.Join(root, f.path), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			call, ok := n.(*ast.SelectorExpr)
			if !ok || !contains(clock, call.Sel.Name) {
				return true
			}
			if pkg, ok := call.X.(*ast.Ident); ok && pkg.Name == "time" {
				t.Errorf("%s asks the clock by time.%s: pass the day in", f.path, call.Sel.Name)
			}
			return true
		})
	}
	if read == 0 {
		t.Fatal("no file imports time: the walk is broken")
	}
}

func TestOnePackageCommentEach(t *testing.T) {
	count := map[string]int{}
	for _, f := range readFiles(t) {
		if f.test {
			continue
		}
		dir := filepath.Dir(f.path)
		if f.doc {
			count[dir]++
		} else {
			count[dir] += 0
		}
	}
	dirs := make([]string, 0, len(count))
	for dir := range count {
		dirs = append(dirs, dir)
	}
	sort.Strings(dirs)
	for _, dir := range dirs {
		if count[dir] != 1 {
			t.Errorf("package in %s has %d package comments: its front door is one", dir, count[dir])
		}
	}
}

// produced are what the commands leave at the top level; .gitignore names them too.
var produced = []string{"pack", "dist", "tunwright"}

func TestTopLevelIsExactly(t *testing.T) {
	want := map[string]bool{"cmd": true, "catalog": true, "configurator": true, "pricing": true, "web": true, "testdata": true, "go.mod": true, "go.sum": true, "README.md": true, "DEVELOPERS.md": true}
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, e := range entries {
		switch {
		case want[e.Name()]:
			found++
		case strings.HasPrefix(e.Name(), ".") || contains(produced, e.Name()) || strings.Contains(e.Name(), ".db"):
		default:
			t.Errorf("%s does not belong at the top level", e.Name())
		}
	}
	if found != len(want) {
		t.Errorf("the top level has %d of its %d entries", found, len(want))
	}
}

// root is the top of the house as seen from this package's folder.
var root = filepath.Join("..", "..")

func readFiles(t *testing.T) []goFile {
	t.Helper()
	var files []goFile
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == ".git" || d.Name() == "node_modules") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(path, ".go") {
			return nil
		}
		f, err := readFile(path)
		files = append(files, f)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func readFile(path string) (goFile, error) {
	parsed, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly|parser.ParseComments)
	if err != nil {
		return goFile{}, err
	}
	rel, err := filepath.Rel(root, path)
	if err != nil {
		return goFile{}, err
	}
	f := goFile{path: filepath.ToSlash(rel), test: strings.HasSuffix(path, "_test.go"), doc: parsed.Doc != nil}
	for _, imp := range parsed.Imports {
		name, err := strconv.Unquote(imp.Path.Value)
		if err != nil {
			return goFile{}, err
		}
		f.imports = append(f.imports, name)
	}
	return f, nil
}

func layerOf(path string) int {
	for i, l := range layers {
		if path == l || strings.HasPrefix(path, l+"/") {
			return i
		}
	}
	return -1
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
