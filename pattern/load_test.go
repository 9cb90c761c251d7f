package pattern

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"roundelay/pattern/source"
)

var update = flag.Bool("update", false, "rewrite the findings and dumps in testdata")

// TestLoad loads what is in the archives of testdata/load: the files of a book
// or of one pattern, "findings" as a person sees them, and, where it has one, a
// "dump" of what was loaded.
func TestLoad(t *testing.T) {
	files, err := filepath.Glob("testdata/load/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no archives: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			archive, err := txtar.ParseFile(file)
			if err != nil {
				t.Fatal(err)
			}
			fsys := fstest.MapFS{}
			for _, f := range archive.Files {
				if f.Name != "findings" && f.Name != "dump" {
					fsys[f.Name] = &fstest.MapFile{Data: f.Data}
				}
			}
			book, findings := LoadBook(fsys, ".")
			var found, dumped bytes.Buffer
			if err := findings.Print(&found); err != nil {
				t.Fatal(err)
			}
			dump(&dumped, book)
			checkInside(t, findings, fsys)
			for i := range archive.Files {
				f := &archive.Files[i]
				got := found.Bytes()
				switch f.Name {
				case "dump":
					got = dumped.Bytes()
				case "findings":
				default:
					continue
				}
				if *update {
					f.Data = got
				} else if !bytes.Equal(got, f.Data) {
					t.Errorf("%s of %s are\n%s\nwant\n%s", f.Name, file, got, f.Data)
				}
			}
			if *update {
				if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}

// checkInside checks that every finding says something and is inside its file.
func checkInside(t *testing.T, findings source.Findings, fsys fstest.MapFS) {
	t.Helper()
	for _, f := range findings {
		if f.File == nil || f.Code == "" || f.Message == "" {
			t.Errorf("a finding without file, code or message: %+v", f)
			continue
		}
		if f.At.From < 0 || f.At.To < f.At.From || f.At.To > len(f.File.Text) {
			t.Errorf("%s: %+v is outside its file of %d bytes", f, f.At, len(f.File.Text))
		}
		root, at := f.File.Root(f.At.From)
		if data, ok := fsys[root.Name]; ok && at > len(data.Data) {
			t.Errorf("%s: offset %d is outside the file", f, at)
		}
	}
}

// dump writes what was loaded, in lines for people.
func dump(w io.Writer, b *Book) {
	if b == nil {
		fmt.Fprintln(w, "nothing")
		return
	}
	fmt.Fprintf(w, "book %q by %q, address %q, language %q, licence %q\n", b.Title, b.Author, b.Address, b.Language, b.Licence)
	for _, p := range b.Patterns {
		fmt.Fprintf(w, "\npattern %s: %q by %q, version %q of %s, %s terms\n", p.Slug, p.Title, p.Author, p.Version, p.Date.Format("2 January 2006"), p.Terms)
		for _, fact := range []struct{ name, value string }{
			{"summary", p.Summary}, {"level", p.Level}, {"for", p.For}, {"licence", p.Licence},
			{"finished items", p.FinishedItems}, {"finished size", p.FinishedSize}, {"contact", p.Contact}, {"care", p.Care},
			{"materials", strings.Join(p.Materials, " | ")}, {"notes", strings.Join(p.Notes, " | ")}, {"finishing", strings.Join(p.Finishing, " | ")},
		} {
			if fact.value != "" {
				fmt.Fprintf(w, "  %s: %s\n", fact.name, fact.value)
			}
		}
		for _, ph := range p.Photos {
			fmt.Fprintf(w, "  photo %s: %s\n", ph.File, ph.Alt)
		}
		for _, c := range p.Changes {
			fmt.Fprintf(w, "  change %s of %s: %s\n", c.Version, c.Date.Format("2 January 2006"), c.Say)
		}
		if p.Prose != nil {
			fmt.Fprintf(w, "  prose: %d bytes\n", len(p.Prose.Text))
		}
		for _, s := range p.Sizes {
			dumpSize(w, s)
		}
	}
}

func dumpSize(w io.Writer, s *Size) {
	fmt.Fprintf(w, "  size %q, finished %q, hook %g mm %q", s.Name, s.FinishedSize, s.Hook.MM, s.Hook.US)
	if g := s.Gauge; g != nil {
		fmt.Fprintf(w, ", gauge %g x %g %s over %g mm", g.Stitches, g.Rounds, g.Stitch.ID(), g.OverMM)
	}
	fmt.Fprintln(w)
	for _, y := range s.Yarns {
		fmt.Fprintf(w, "    yarn %s %q %s, weight %d, %q, %g m/100 g, takes %g g, %g m\n", y.Key, y.Colour, y.Hex, y.Weight, y.Fibre, y.MetresPer100g, y.Grams, y.Metres)
	}
	for _, p := range s.Pieces {
		fmt.Fprintf(w, "    piece %s %q, make %d, %s, chain rule %d, stuffed %t, closed %t, %d stitches, widest %d\n",
			p.Key, p.Name, p.Make, map[Style]string{Spiral: "spiral", Joined: "joined"}[p.Style], p.Chain, p.Stuffed, p.Closed, p.Stitches(), p.Widest())
		dumpSteps(w, p.StepsAfter(0))
		for _, r := range p.Rounds {
			var yarns []string
			for _, st := range r.Stitches {
				key := "one yarn"
				if len(p.Yarns) > 0 {
					key = s.Yarns[p.Yarns[st.Yarn]].Key
				}
				if len(yarns) == 0 || yarns[len(yarns)-1] != key {
					yarns = append(yarns, key)
				}
			}
			fmt.Fprintf(w, "      round %d: %d worked, uses %d, makes %d, in %s\n", r.Number, len(r.Stitches), r.Used, r.Made, strings.Join(yarns, " then "))
			dumpSteps(w, p.StepsAfter(r.Number))
		}
	}
}

func dumpSteps(w io.Writer, steps []Step) {
	for _, s := range steps {
		fmt.Fprintf(w, "      then %s: %s\n", s.Do, s.Say)
	}
}
