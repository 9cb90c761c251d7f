package proof

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"roundelay/pattern"
	"roundelay/pattern/golden"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// load loads a pattern from its text and that of its prose.
func load(t *testing.T, toml, prose string) (*pattern.Pattern, source.Findings) {
	t.Helper()
	fsys := fstest.MapFS{"buoy/pattern.toml": {Data: []byte(toml)}}
	if prose != "" {
		fsys["buoy/prose.md"] = &fstest.MapFile{Data: []byte(prose)}
	}
	p, found := pattern.Load(fsys, "buoy/pattern.toml")
	if p == nil {
		t.Fatal(found)
	}
	return p, found
}

// faulty is a pattern with something wrong in each way that a report can tell.
const faulty = `title = "Buoy"
terms = "US"
version = "1.0"
date = 2026-05-04
author = "The shelf"
licence = "CC BY 4.0"
finished_items = "You may sell what you make."
finished_size = "7 cm across"
level = "easy"
care = "Wash by hand."
notes = ["The right side faces out; move a marker up."]

[hook]
size = "3 mm"

[gauge]
stitches = 22
rounds = 24
over = "10 cm"

[[yarn]]
key = "MC"
weight = 3
grams = 9

[[allow]]
code = "count-unsaid"
round = 4
reason = "Round 4 is plain."

[[piece]]
name = "Ball"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (sc 1, inc) x 6 (17)
Rnd 4: sc in each st around
Rnd 5: (sc 2, dec) around (12)
Rnd 6: (sc 1, inc x 6 (18)
'''

[[size]]
name = "small"

[[size]]
name = "large"
`

const faultyProse = `Start here:

Rnd 2: inc in each st around (12)
Rnd 3: inc in each st around (24)
`

func faultyReport(t *testing.T) Report {
	p, found := load(t, faulty, faultyProse)
	r := Check(p, found)
	r.Add(CheckText(source.NewFile("notes/rope & ring.txt", "US terms\n\nRope\nR1: 4 sc in ring\nR2: sc in each st around (4)\n"), stitch.US))
	return r
}

func TestWriteJSON(t *testing.T) {
	r := faultyReport(t)
	var b bytes.Buffer
	if err := r.WriteJSON(&b); err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "report.json", b.Bytes())
}

func TestWriteJSONOfNothing(t *testing.T) {
	var b bytes.Buffer
	if err := new(Report).WriteJSON(&b); err != nil {
		t.Fatal(err)
	}
	want := `{"files":[],"summary":{"errors":0,"warnings":0,"notes":0}}`
	var compact bytes.Buffer
	if err := json.Compact(&compact, b.Bytes()); err != nil {
		t.Fatal(err)
	}
	if got := compact.String(); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestWriteSARIF(t *testing.T) {
	r := faultyReport(t)
	var b bytes.Buffer
	if err := r.WriteSARIF(&b); err != nil {
		t.Fatal(err)
	}
	var log map[string]any
	if err := json.Unmarshal(b.Bytes(), &log); err != nil {
		t.Fatal(err)
	}
	run := log["runs"].([]any)[0].(map[string]any)
	rules := run["tool"].(map[string]any)["driver"].(map[string]any)["rules"].([]any)
	if len(rules) != len(Checklist) {
		t.Errorf("%d rules for %d points", len(rules), len(Checklist))
	}
	results, err := json.MarshalIndent(run["results"], "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "results.sarif.json", append(results, '\n'))
}

func TestWriteText(t *testing.T) {
	r := faultyReport(t)
	var b bytes.Buffer
	if err := r.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "report.txt", b.Bytes())
}

// TestRenamedFile checks that rounds stay with their file when whoever loaded it
// gives it the name that a person used.
func TestRenamedFile(t *testing.T) {
	p, found := load(t, faulty, "")
	p.File.Name = "shelf/buoy/pattern.toml"
	r := Check(p, found)
	var b bytes.Buffer
	if err := r.WriteJSON(&b); err != nil {
		t.Fatal(err)
	}
	var out struct {
		Files []struct{ Rounds, Findings []any }
	}
	if err := json.Unmarshal(b.Bytes(), &out); err != nil {
		t.Fatal(err)
	}
	if len(out.Files) != 1 || len(out.Files[0].Rounds) != len(r.Rounds) || len(out.Files[0].Findings) != len(r.Findings) {
		t.Errorf("of %d rounds and %d findings the JSON has %+v", len(r.Rounds), len(r.Findings), out)
	}
}

// TestReportIsTheSameEachTime checks that a report depends on nothing but the
// pattern.
func TestReportIsTheSameEachTime(t *testing.T) {
	var first bytes.Buffer
	r := faultyReport(t)
	if err := r.WriteJSON(&first); err != nil {
		t.Fatal(err)
	}
	for range 5 {
		var b bytes.Buffer
		r := faultyReport(t)
		if err := r.WriteJSON(&b); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first.Bytes(), b.Bytes()) {
			t.Fatal("the same pattern gave two reports")
		}
	}
}

func TestAllow(t *testing.T) {
	const rounds = `
[[piece]]
name = "Ball"
rounds = '''
Rnd 1: 6 sc in magic ring
Rnd 2: inc in each st around
Rnd 3: (sc 1, inc) x 6
'''
`
	for _, test := range []struct {
		name, allow string
		want        []string // findings of count-unsaid and allow
		allowed     int
	}{
		{"none", "", []string{"count-unsaid in round 2", "count-unsaid in round 3"}, 0},
		{"all", "[[allow]]\ncode = \"count-unsaid\"\nreason = \"It is plain.\"\n", nil, 2},
		{"one round", "[[allow]]\ncode = \"count-unsaid\"\nround = 3\nreason = \"It is plain.\"\n", []string{"count-unsaid in round 2"}, 1},
		{"nothing to allow", "[[allow]]\ncode = \"count-made\"\nreason = \"It was right.\"\n",
			[]string{"allow: there is nothing found of count-made that it could allow", "count-unsaid in round 2", "count-unsaid in round 3"}, 0},
		{"no such check", "[[allow]]\ncode = \"count-unsayed\"\nreason = \"It was right.\"\n",
			[]string{"allow: there is no check \"count-unsayed\" that can be allowed", "count-unsaid in round 2", "count-unsaid in round 3"}, 0},
		{"no sound file", "[[allow]]\ncode = \"unknown-key\"\nreason = \"I like it.\"\n",
			[]string{"allow: there is no check \"unknown-key\" that can be allowed", "count-unsaid in round 2", "count-unsaid in round 3"}, 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			p, found := load(t, "title = \"Buoy\"\nterms = \"US\"\n"+test.allow+rounds, "")
			r := Check(p, found)
			var got []string
			for _, f := range r.Findings {
				switch f.Code {
				case "allow":
					got = append(got, "allow: "+f.Message)
				case "count-unsaid":
					got = append(got, "count-unsaid in round "+string(rune('0'+f.Round)))
				}
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
			if len(r.Allowed) != test.allowed {
				t.Errorf("%d are allowed, want %d", len(r.Allowed), test.allowed)
			}
		})
	}
}

// TestDemoBook checks that the demo book, which is sound, is found to be so.
func TestDemoBook(t *testing.T) {
	fsys := os.DirFS("../../testdata/book")
	book, found := pattern.LoadBook(fsys, ".")
	if len(book.Patterns) == 0 {
		t.Fatal(found)
	}
	for _, p := range book.Patterns {
		r := Check(p, nil)
		if n := r.Findings.Count(source.Error) + r.Findings.Count(source.Warning); n > 0 {
			t.Errorf("%s:\n%v", p.Slug, r.Findings)
		}
		for _, row := range r.Rounds {
			if row.Verdict != "ok" {
				t.Errorf("%s: %s of %s is %s", p.Slug, row.Label, row.Piece, row.Verdict)
			}
		}
	}
}

// TestProseOfTwoPieces checks that rounds and claims are held against the piece
// that they stand under.
func TestProseOfTwoPieces(t *testing.T) {
	const toml = `title = "Lighthouse"
terms = "US"

[[piece]]
name = "Tower"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnds 3-9: sc in each st around (12)
'''

[[piece]]
name = "Roof"
rounds = '''
Rnd 1: 4 sc in magic ring (4)
Rnd 2: inc in each st around (8)
'''
`
	p, found := load(t, toml, `## The tower

Rnd 2: inc in each st around (12)

It has 9 rounds in all. See round 8.

## The roof

Rnd 2: inc in each st around (8)

It has 9 rounds in all. See round 8 of the tower, and round 8.

## The tower once more

Rnd 1: 4 sc in magic ring (4)
`)
	r := Check(p, found)
	var got []string
	for _, f := range r.Findings {
		if f.Pos().File == "buoy/prose.md" {
			got = append(got, f.String())
		}
	}
	want := []string{
		"buoy/prose.md:11:8: warning: 9 rounds are not as many as there are [claim]",
		"buoy/prose.md:15:1: error: round 1: prose makes 4, chart 6; first difference at stitch 5: prose nothing more, chart sc [prose-round]",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	pieces := map[string]int{}
	for _, row := range r.Rounds {
		if row.File.Name == "buoy/prose.md" {
			pieces[row.Piece]++
		}
	}
	if diff := cmp.Diff(map[string]int{"Tower": 2, "Roof": 1}, pieces); diff != "" {
		t.Errorf("rows of the prose (-want +got):\n%s", diff)
	}
}

func FuzzCheckText(f *testing.F) {
	names, err := filepath.Glob("../../testdata/corpus/*.txt")
	if err != nil || len(names) == 0 {
		f.Fatalf("no written patterns to start from: %v", err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Add(faultyProse)
	f.Fuzz(func(t *testing.T, text string) {
		file := source.NewFile("x.txt", text)
		r := CheckText(file, stitch.US)
		for _, finding := range r.Findings {
			if at := finding.At; at.From < 0 || at.To < at.From || at.To > len(text) {
				t.Errorf("%v lies outside the %d bytes of the file: %v", at, len(text), finding)
			}
		}
		lines := 1 + strings.Count(text, "\n")
		for _, row := range r.Rounds {
			if row.Line < 1 || row.Line > lines {
				t.Errorf("a row on line %d of %d", row.Line, lines)
			}
			if row.Verdict == "ok" && row.Declared >= 0 && row.Made != row.Declared {
				t.Errorf("line %d is ok, but makes %d of the %d that it declares", row.Line, row.Made, row.Declared)
			}
		}
		var b bytes.Buffer
		if err := r.WriteJSON(&b); err != nil || !json.Valid(b.Bytes()) {
			t.Errorf("no JSON: %v", err)
		}
	})
}
