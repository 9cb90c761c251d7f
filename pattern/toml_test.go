package pattern

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/BurntSushi/toml"

	"roundelay/pattern/source"
)

func TestInside(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{`"abc"`, "abc"},
		{`'abc'`, "abc"},
		{`""`, ""},
		{"'''abc'''", "abc"},
		{"'''\nabc\n'''", "abc\n"},
		{"'''\r\nabc\r\n'''", "abc\r\n"},
		{"'''\n\nabc'''", "\nabc"},
		{`""""quoted""""`, `"quoted"`},
		{"''''''", ""},
	} {
		s := inside(test.text, source.Span{To: len(test.text)})
		if got := test.text[s.From:s.To]; got != test.want {
			t.Errorf("inside %q is %q, want %q", test.text, got, test.want)
		}
	}
}

// everyTOML is a file with every kind of key and value.
const everyTOML = `# a comment
title = "Ball" # another
"quoted" = 'literal \ text'
'also quoted' = """
many \
   lines with "quotes" and \""""
a.b."c d" = 1_000
   spaced . out   =   0x1f
days = [ 2026-05-04, 2026-05-04T01:02:03Z, 2026-05-04 01:02:03, 01:02:03 ]
numbers = [ 1.5, 1e6, nan, inf, -inf,
  # a comment in a list
  [true, false], [],
]
inline = { x = 1, "y z" = [ { deep = 'er' } ], p.q = 2 }
rounds = '''
Rnd 1: 6 sc in magic ring (6) # not a comment
Rnd 2: "inc" in each 'st' around'''''

[table]
key = 1
[table.below]
key = 2
[[list]]
key = 3
[[list.inner]]
key = 4
[list.table]
key = 5
[[list]]
key = 6
[[list.inner]]
key = 7
[ spaced . "header" ]
key = 8
`

// checkPlaces checks that the place of every plain value of a file holds that
// value.
func checkPlaces(t *testing.T, f *source.File, n *node) {
	t.Helper()
	for name, child := range n.table {
		if !child.keyAt.IsValid() {
			t.Errorf("the key %q has no place in\n%s", name, f.Text)
		}
		checkPlaces(t, f, child)
	}
	for _, child := range n.list {
		checkPlaces(t, f, child)
	}
	if n.kind != plain {
		return
	}
	written := f.Text[n.at.From:n.at.To]
	var again map[string]any
	if _, err := toml.Decode("x = "+written, &again); err != nil || fmt.Sprint(again["x"]) != fmt.Sprint(n.value) {
		t.Errorf("at %+v stands %q, which is %v (%v), not %v, in\n%s", n.at, written, again["x"], err, n.value, f.Text)
	}
}

func TestPlaces(t *testing.T) {
	for _, ends := range []string{"\n", "\r\n"} {
		f := source.NewFile("every.toml", strings.ReplaceAll(everyTOML, "\n", ends))
		root, problem := decodeTOML(f)
		if problem != nil {
			t.Fatal(problem)
		}
		checkPlaces(t, f, root)
		for path, want := range map[string]string{
			"title": "2:9", "quoted": "3:12", "also quoted": "4:17", "a.b.c d": "7:13", "spaced.out": "8:23",
			"days": "9:8", "inline.y z": "14:27", "inline.p.q": "14:54", "table.below.key": "22:7",
			"list.0.key": "24:7", "list.0.inner.0.key": "26:7", "list.0.table.key": "28:7", "list.1.key": "30:7",
			"list.1.inner.0.key": "32:7", "spaced.header.key": "34:7", "list.1": "29:1",
		} {
			n := root
			for _, part := range strings.Split(path, ".") {
				if n.kind == listNode {
					n = n.list[part[0]-'0']
				} else {
					n = n.table[part]
				}
				if n == nil {
					t.Fatalf("%s is not there", path)
				}
			}
			if p := f.Pos(n.at.From); fmt.Sprintf("%d:%d", p.Line, p.Column) != want {
				t.Errorf("%s is at %d:%d, want %s", path, p.Line, p.Column, want)
			}
		}
	}
}

// What is nested without end is refused before the library reads it, which
// would take seconds.
func TestNesting(t *testing.T) {
	const n = maxFile - 100
	for name, text := range map[string]string{
		"brackets":           "x = " + strings.Repeat("[", n),
		"braces":             "x = " + strings.Repeat("{a=", n/3),
		"brackets and back":  "x = " + strings.Repeat("[", n/2) + strings.Repeat("]", n/2),
		"a dotted key":       strings.Repeat("a.", n/2) + "a = 1",
		"a dotted header":    "[" + strings.Repeat("a.", n/2) + "a]",
		"a list of headers":  "[[" + strings.Repeat("a.", n/2) + "a]]",
		"deep after a text":  "t = '''\n[[[[\n'''\nx = " + strings.Repeat("[", n),
		"deep in an inline":  "x = {a = {b = " + strings.Repeat("[", n) + "}}",
		"deep after a quote": `"]" = "\"[" # "` + "\nx = " + strings.Repeat("[", n),
	} {
		_, findings := Load(fstest.MapFS{patternFile: {Data: []byte(text)}}, patternFile)
		if len(findings) != 1 || findings[0].Code != "toml-syntax" || !strings.Contains(findings[0].Message, "deep") {
			t.Errorf("%s: findings are %v", name, findings)
		}
	}
}

// FuzzPlaces checks that whatever file the library takes, locate finds the
// place of every key and value of it.
func FuzzPlaces(f *testing.F) {
	f.Add(everyTOML)
	f.Add("a = 1 # x\r\n[b]\r\nc.d = [[{}, {e = ''}]]")
	f.Add("x = [1979-05-27 07:32:00, 1]\n\"\\u00e9\" = 1")
	book, err := os.ReadFile("../testdata/book/pebble/pattern.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(book))
	f.Fuzz(func(t *testing.T, text string) {
		file := source.NewFile("f.toml", text)
		root, problem := decodeTOML(file)
		if problem != nil {
			checkInside(t, source.Findings{*problem}, nil)
			return
		}
		checkPlaces(t, file, root)
	})
}
