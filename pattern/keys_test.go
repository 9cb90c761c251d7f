package pattern

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"roundelay/pattern/source"
)

func TestKeys(t *testing.T) {
	for file, keys := range map[string][]Key{patternFile: PatternKeys(), bookFile: BookKeys()} {
		kinds := map[string]Kind{"": Table}
		for _, k := range keys {
			if _, twice := kinds[k.Path]; twice {
				t.Errorf("%s has the key %s twice", file, k.Path)
			}
			kinds[k.Path] = k.Kind
			parent := strings.TrimSuffix(strings.TrimSuffix(k.Path, k.Name()), ".")
			if kind, ok := kinds[parent]; !ok || kind != Table && kind != Tables {
				t.Errorf("%s: %s is in %s, which is no table above it", file, k.Path, parent)
			}
			if k.Doc == "" || strings.HasSuffix(k.Doc, ".") {
				t.Errorf("%s: %s is explained by %q", file, k.Path, k.Doc)
			}
			if k.Required && k.Default != "" {
				t.Errorf("%s: %s is required and has a default", file, k.Path)
			}
			if (k.Kind == Word) != (len(k.Words) > 0) {
				t.Errorf("%s: %s has %d words", file, k.Path, len(k.Words))
			}
			switch k.Kind {
			case Whole, Number, Sum, Numbers, Lines, Tables:
				if k.Max <= k.Min {
					t.Errorf("%s: %s has no bounds", file, k.Path)
				}
			}
		}
	}
}

// An example has to be what the key demands.
func TestKeyExamples(t *testing.T) {
	for file, keys := range map[string][]Key{patternFile: PatternKeys(), bookFile: BookKeys()} {
		for _, k := range keys {
			text := strings.Replace(k.example(), "''' and the rounds, one a line, and ''' at the end", "'''\nRnd 1: 6 sc in magic ring (6)\n'''", 1)
			if k.Kind == Table || k.Kind == Tables || k.Kind == Numbers {
				text, _, _ = strings.Cut(text, " ")
			}
			f := source.NewFile(k.Path, text)
			root, problem := decodeTOML(f)
			if problem != nil {
				t.Errorf("%s: the example of %s: %v", file, k.Path, problem)
				continue
			}
			n := root
			for _, name := range strings.Split(k.Path, ".") {
				if n.kind == listNode {
					n = n.list[0]
				}
				if len(n.table) == 1 && n.table[name] != nil {
					n = n.table[name]
				}
			}
			r := &reader{file: f, keys: []Key{k}}
			if !r.sound(&k, n) || len(r.findings) > 0 {
				t.Errorf("%s: the example of %s, %q, is not sound: %v", file, k.Path, text, r.findings)
			}
		}
	}
}

// TestEveryKeyIsTried checks that the archives of TestLoad use every key, so
// that none is in the table without being read.
func TestEveryKeyIsTried(t *testing.T) {
	tried := map[string]map[string]bool{patternFile: {}, bookFile: {}}
	files, err := filepath.Glob("testdata/load/good_*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		archive, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range archive.Files {
			if paths := tried[filepath.Base(f.Name)]; paths != nil {
				if root, problem := decodeTOML(source.NewFile(f.Name, strings.TrimPrefix(string(f.Data), "\uFEFF"))); problem == nil {
					addPaths(paths, root, "")
				}
			}
		}
	}
	for file, keys := range map[string][]Key{patternFile: patternKeys, bookFile: bookKeys} {
		for _, k := range keys {
			if !tried[file][k.Path] {
				t.Errorf("no archive has the key %s of a %s", k.Path, file)
			}
		}
	}
}

func addPaths(paths map[string]bool, n *node, path string) {
	for name, child := range n.table {
		paths[under(path, name)] = true
		addPaths(paths, child, under(path, name))
	}
	for _, child := range n.list {
		addPaths(paths, child, path)
	}
}
