package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// floors says how the packages of this module stand on each other: a package
// imports only what stands on a lower floor. It is policy: do not change it to
// make a build pass.
var floors = [][]string{
	{"pattern/golden"},
	{"pattern/source", "pattern/stitch", "pattern/shape", "templates"},
	{"pattern/notation"},
	{"pattern"},
	{"pattern/prose", "chart", "chart/solid"},
	{"pattern/proof"},
	{"site"},
	{"cmd/roundelay", "cmd/verify"},
}

// libraries says which file (a pattern of path.Match) imports each library from
// outside; the library's types stay out of what that file exports. Tests beside
// that file may import it, too. It is policy as well.
var libraries = map[string]string{
	"github.com/google/go-cmp":     "pattern/golden/golden.go", // which only tests import
	"github.com/ajstarks/svgo":     "chart/canvas.go",
	"github.com/BurntSushi/toml":   "pattern/toml.go",
	"github.com/fsnotify/fsnotify": "cmd/roundelay/preview_watch.go",
	"github.com/yuin/goldmark":     "pattern/prose/markdown.go",
	"git.sr.ht/~sbinet/gg":         "chart/png.go",
	"codeberg.org/go-pdf/fpdf":     "chart/pdf.go",
	"golang.org/x/image":           "chart/p[nd][gf].go", // a typeface
	"golang.org/x/net":             "cmd/verify/links.go",
	"golang.org/x/sys":             "site/swap_*.go",
	"golang.org/x/term":            "cmd/roundelay/terminal.go",
}

// testLibraries may be imported by any test.
var testLibraries = []string{"github.com/google/go-cmp", "github.com/rogpeppe/go-internal", "gonum.org/v1/gonum"}

// topLevel is all that lies in the root of the checkout.
var topLevel = []string{"cmd", "chart", "pattern", "templates", "site", "testdata", "go.mod", "go.sum",
	"README.md", "DEVELOPERS.md", "LICENSE", "NOTICE", ".ci", ".gitignore"}

// ignored may lie there too: what git keeps and what the README's commands make.
var ignored = []string{".git", "out", "roundelay", "verify"}

const module = "roundelay/"

func TestFloors(t *testing.T) {
	floor := map[string]int{}
	for i, packages := range floors {
		for _, p := range packages {
			floor[p] = i
		}
	}
	eachFile(t, func(name string, f *ast.File, place func(ast.Node) string) {
		pkg := path.Dir(name)
		mine, ok := floor[pkg]
		if !ok {
			t.Errorf("%s: package %s has no floor; give it a line in floors", name, pkg)
			return
		}
		for _, imp := range f.Imports {
			below, ours := strings.CutPrefix(importPath(imp), module)
			if !ours || below == pkg { // a test in package x_test imports its own x
				continue
			}
			if its, ok := floor[below]; !ok || its >= mine {
				t.Errorf("%s: %s imports %s, which does not stand on a lower floor", place(imp), pkg, below)
			}
		}
	})
}

func TestLibraries(t *testing.T) {
	eachFile(t, func(name string, f *ast.File, place func(ast.Node) string) {
		for _, imp := range f.Imports {
			p := importPath(imp)
			if strings.HasPrefix(p, module) || !strings.Contains(strings.Split(p, "/")[0], ".") {
				continue // ours, or the standard library's
			}
			inTest := strings.HasSuffix(name, "_test.go")
			if inTest && slices.ContainsFunc(testLibraries, func(lib string) bool { return within(p, lib) }) {
				continue
			}
			only := fileFor(p)
			if inTest && path.Dir(only) == path.Dir(name) {
				continue
			}
			if allowed, err := path.Match(only, name); err != nil || !allowed {
				t.Errorf("%s: imports %s; only %s may", place(imp), p, strconv.Quote(only))
				continue
			}
			local := path.Base(p)
			if imp.Name != nil {
				local = imp.Name.Name
			}
			for _, use := range exportedUses(f, local) {
				t.Errorf("%s: what is exported here shows a type of %s", place(use), p)
			}
		}
	})
}

// What is built on is credited.
func TestNotice(t *testing.T) {
	notice, err := os.ReadFile("../../NOTICE")
	if err != nil {
		t.Fatal(err)
	}
	for _, lib := range append(slices.Collect(maps.Keys(libraries)), testLibraries...) {
		if !strings.Contains(string(notice), lib) {
			t.Errorf("NOTICE has no line about %s", lib)
		}
	}
}

func TestTopLevel(t *testing.T) {
	entries, err := os.ReadDir("../..")
	if err != nil {
		t.Fatal(err)
	}
	var have []string
	for _, e := range entries {
		have = append(have, e.Name())
		if !slices.Contains(topLevel, e.Name()) && !slices.Contains(ignored, e.Name()) {
			t.Errorf("%s has no place in the root of the checkout", e.Name())
		}
	}
	for _, name := range topLevel {
		if !slices.Contains(have, name) {
			t.Errorf("%s is missing from the root of the checkout", name)
		}
	}
}

// within reports whether a package path is lib or lies below it.
func within(p, lib string) bool { return p == lib || strings.HasPrefix(p, lib+"/") }

func fileFor(p string) string {
	for lib, file := range libraries {
		if within(p, lib) {
			return file
		}
	}
	return ""
}

func importPath(imp *ast.ImportSpec) string {
	p, _ := strconv.Unquote(imp.Path.Value) // the parser has seen to it
	return p
}

// exportedUses returns the places where an exported declaration of f names
// something of the package known as local: in a signature, an exported field
// or another type, or the stated type of a variable.
func exportedUses(f *ast.File, local string) (uses []ast.Node) {
	look := func(n ast.Node) {
		ast.Inspect(n, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok {
				if x, ok := sel.X.(*ast.Ident); ok && x.Name == local {
					uses = append(uses, sel)
				}
			}
			return true
		})
	}
	lookAtType := func(n ast.Expr) {
		fields, ok := n.(*ast.StructType)
		if !ok {
			look(n)
			return
		}
		for _, field := range fields.Fields.List {
			if field.Names == nil || slices.ContainsFunc(field.Names, (*ast.Ident).IsExported) {
				look(field.Type)
			}
		}
	}
	for _, d := range f.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Name.IsExported() && (d.Recv == nil || receiver(d).IsExported()) {
				look(d.Type)
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				switch s := s.(type) {
				case *ast.TypeSpec:
					if s.Name.IsExported() {
						lookAtType(s.Type)
					}
				case *ast.ValueSpec:
					if s.Type != nil && slices.ContainsFunc(s.Names, (*ast.Ident).IsExported) {
						look(s.Type)
					}
				}
			}
		}
	}
	return uses
}

// receiver returns the name of the type that a method belongs to.
func receiver(method *ast.FuncDecl) *ast.Ident {
	t := method.Recv.List[0].Type
	for {
		switch x := t.(type) {
		case *ast.Ident:
			return x
		case *ast.StarExpr:
			t = x.X
		case *ast.IndexExpr:
			t = x.X
		case *ast.IndexListExpr:
			t = x.X
		default:
			panic(fmt.Sprintf("a receiver of type %T", t))
		}
	}
}

// eachFile parses every Go file of the module, and calls visit with its name
// from the root of the checkout. The test opens the files itself, so that the
// test cache notices when one changes.
func eachFile(t *testing.T, visit func(name string, f *ast.File, place func(ast.Node) string)) {
	t.Helper()
	root := os.DirFS("../..")
	fset := token.NewFileSet()
	seen := 0
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if base := path.Base(name); name != "." && (base == "testdata" || strings.HasPrefix(base, ".")) || name == "out" {
				return fs.SkipDir
			}
			return nil
		}
		if path.Ext(name) != ".go" {
			return nil
		}
		src, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(fset, name, src, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		seen++
		visit(name, f, func(n ast.Node) string { return fset.Position(n.Pos()).String() })
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen == 0 {
		t.Fatal("no Go files were found")
	}
}
