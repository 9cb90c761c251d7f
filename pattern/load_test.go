package pattern

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/txtar"

	"roundelay/pattern/golden"
	"roundelay/pattern/source"
)

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
				if golden.Update() {
					f.Data = got
				} else if !bytes.Equal(got, f.Data) {
					t.Errorf("%s of %s are\n%s\nwant\n%s", f.Name, file, got, f.Data)
				}
			}
			if golden.Update() {
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
		for _, a := range p.Allowed {
			fmt.Fprintf(w, "  allowed %s in round %d: %s\n", a.Code, a.Round, a.Reason)
		}
		if s := p.Swatch; s != nil {
			fmt.Fprintf(w, "  swatch: %g x %g mm of %s, %g g, %g m\n", s.WidthMM, s.HeightMM, s.Stitch.ID(), s.Grams, s.Metres)
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
		fmt.Fprintf(w, "    yarn %s %q %s, weight %d, %q, %g m/100 g, takes %g g, %g m", y.Key, y.Colour, y.Hex, y.Weight, y.Fibre, y.MetresPer100g, y.Grams, y.Metres)
		if y.WrapsPerInch > 0 {
			fmt.Fprintf(w, ", %g wraps", y.WrapsPerInch)
		}
		if y.BeforeG > 0 {
			fmt.Fprintf(w, ", weighed %g g and %g g", y.BeforeG, y.AfterG)
		}
		fmt.Fprintln(w)
	}
	for _, p := range s.Pieces {
		fmt.Fprintf(w, "    piece %s %q, make %d, %s, chain rule %d, stuffed %t, closed %t, %d stitches, widest %d\n",
			p.Key, p.Name, p.Make, map[Style]string{Spiral: "spiral", Joined: "joined"}[p.Style], p.Chain, p.Stuffed, p.Closed, p.Stitches(), p.Widest())
		if p.Plan != nil {
			fmt.Fprintf(w, "      planned for %s\n", p.Plan.Solid.Describe())
		}
		if p.Firmness != Normal || p.FillingG > 0 || p.Flat != nil {
			fmt.Fprintf(w, "      filled %s, %g g", p.Firmness, p.FillingG)
			if p.Flat != nil {
				fmt.Fprintf(w, ", flat %t", *p.Flat)
			}
			fmt.Fprintln(w)
		}
		if p.Cornered {
			fmt.Fprintln(w, "      drawn with its corners")
		}
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

// TestDemoBook checks that the demo book is sound, and that places in its
// rounds are exact.
func TestDemoBook(t *testing.T) {
	book, findings := LoadBook(os.DirFS("../testdata/book"), ".")
	if len(findings) > 0 {
		t.Fatalf("the demo book has findings:\n%v", findings)
	}
	if len(book.Patterns) < 5 {
		t.Errorf("the demo book has %d patterns", len(book.Patterns))
	}
	for _, p := range book.Patterns {
		for _, l := range p.Sizes[0].Pieces[0].Lines {
			root, at := l.File.Root(l.LabelAt.From)
			if root != p.File || !strings.HasPrefix(root.Text[at:], l.Label) || l.Label == "" {
				t.Errorf("%s: the label %q is not at its place, %q", p.Slug, l.Label, root.Text[at:min(len(root.Text), at+20)])
			}
		}
	}
}

func TestReadText(t *testing.T) {
	for _, test := range []struct {
		name string
		data []byte
		want string // "" if it can be read
	}{
		{"text", []byte("x = 1\n"), ""},
		{"a byte order mark", []byte("\xef\xbb\xbfx = 1\n"), ""},
		{"a mark and nothing else", []byte("\xef\xbb\xbf"), "f.toml: error: the file is empty [file-empty]"},
		{"as large as may be", bytes.Repeat([]byte("#"), maxFile), ""},
		{"too large", bytes.Repeat([]byte("#"), maxFile+1), "f.toml: error: the file is larger than 1 MiB [file-size]"},
		{"a picture", []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"), "f.toml: error: the file is not text [not-text]"},
		{"UTF-16", []byte("\xff\xfex\x00=\x00"), "f.toml: error: the file is not text [not-text]"},
		{"another encoding", []byte("x = 1\ntitle = \"Gr\xf6\xdfe\"\n"), "f.toml:2:12: error: the file has a byte that is not UTF-8 text [not-text]"},
	} {
		f, problem := ReadText(fstest.MapFS{"f.toml": {Data: test.data}}, "f.toml")
		switch {
		case test.want == "" && problem != nil:
			t.Errorf("%s: %v", test.name, problem)
		case test.want == "" && !utf8.ValidString(f.Text):
			t.Errorf("%s: the text is not UTF-8", test.name)
		case test.want != "" && (problem == nil || problem.String() != test.want):
			t.Errorf("%s: %v, want %s", test.name, problem, test.want)
		}
	}
	if _, problem := ReadText(fstest.MapFS{}, "f.toml"); problem == nil || problem.Message != "there is no such file" {
		t.Errorf("no file: %v", problem)
	}
	if _, problem := ReadText(fstest.MapFS{"f.toml/x": {}}, "f.toml"); problem == nil || problem.Message != "it is not a file" {
		t.Errorf("a folder: %v", problem)
	}
}

// A link out of the pattern's folder is not followed.
func TestLinks(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("secret.md", "secret\n")
	write("album/secret.jpg", "secret\n")
	write("ball/pattern.toml", "title = 'Ball'\nterms = 'US'\n[[photo]]\nfile = 'a.jpg'\nalt = 'a'\n[[photo]]\nfile = 'album/secret.jpg'\nalt = 'b'\n[[piece]]\nname = 'Ball'\nrounds = \"\"\"\nRnd 1: 6 sc in magic ring (6)\"\"\"\n")
	for link, to := range map[string]string{"ball/prose.md": "../secret.md", "ball/a.jpg": "../album/secret.jpg", "ball/album": "../album"} {
		if err := os.Symlink(to, filepath.Join(dir, link)); err != nil {
			t.Skip("no links here:", err)
		}
	}
	root, err := os.OpenRoot(filepath.Join(dir, "ball"))
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	p, findings := Load(root.FS(), patternFile)
	if p.Prose != nil || len(p.Photos) > 0 {
		t.Errorf("links were followed: prose %v, photos %v", p.Prose, p.Photos)
	}
	for _, f := range findings {
		if f.Code != "bad-path" && f.Code != "missing-file" {
			t.Error(f)
		}
	}
	if len(findings) != 3 {
		t.Errorf("findings are %v", findings)
	}
}

func TestLoadBookByFile(t *testing.T) {
	for _, name := range []string{"limpet", "limpet/pattern.toml", "./limpet/"} {
		book, findings := LoadBook(os.DirFS("../testdata/book"), name)
		if len(findings) > 0 || len(book.Patterns) != 1 || book.Patterns[0].Slug != "limpet" || book.Title != "Limpet" {
			t.Errorf("%s: %+v, %v", name, book, findings)
		}
	}
	if book, findings := LoadBook(os.DirFS("../testdata/book"), "nowhere"); book != nil || len(findings) != 1 || findings[0].Code != "no-book" {
		t.Errorf("nowhere: %+v, %v", book, findings)
	}
}

// FuzzLoad checks, for any file: what comes back is bounded and consistent, all
// findings are inside the file, and twice the same comes back.
func FuzzLoad(f *testing.F) {
	files, _ := filepath.Glob("testdata/load/*.txtar")
	for _, file := range files {
		archive, err := txtar.ParseFile(file)
		if err != nil {
			f.Fatal(err)
		}
		for _, a := range archive.Files {
			if filepath.Base(a.Name) == patternFile {
				f.Add(string(a.Data))
			}
		}
	}
	demo, err := filepath.Glob("../testdata/book/*/pattern.toml")
	if err != nil || len(demo) == 0 {
		f.Fatal("no demo book", err)
	}
	for _, file := range demo {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Fuzz(func(t *testing.T, text string) {
		fsys := fstest.MapFS{"ball/" + patternFile: {Data: []byte(text)}}
		p, findings := Load(fsys, "ball/"+patternFile)
		checkInside(t, findings, nil)
		if len(findings) > maxFindings+1 {
			t.Fatalf("%d findings", len(findings))
		}
		again, findingsAgain := Load(fsys, "ball/"+patternFile)
		if findings.Error() != findingsAgain.Error() {
			t.Fatalf("loaded twice, findings are\n%v\nand\n%v", findings, findingsAgain)
		}
		if p == nil {
			if len(findings) != 1 || again != nil {
				t.Fatalf("no pattern, and findings are %v", findings)
			}
			return
		}
		if !isSlug(p.Slug) || len(p.Sizes) == 0 {
			t.Fatalf("slug %q, %d sizes", p.Slug, len(p.Sizes))
		}
		for _, s := range p.Sizes {
			checkSize(t, p, s, findings.Err() == nil)
		}
	})
}

// checkSize checks a size against itself; sound says that its file has no
// errors.
func checkSize(t *testing.T, p *Pattern, s *Size, sound bool) {
	t.Helper()
	if len(s.Yarns) != len(p.Yarns) {
		t.Fatalf("size %q has %d yarns, the pattern %d", s.Name, len(s.Yarns), len(p.Yarns))
	}
	if g := s.Gauge; g != nil && !(g.WidthMM() > 0 && g.HeightMM() > 0) {
		t.Fatalf("gauge %+v", g)
	}
	for _, piece := range s.Pieces {
		if piece.Name == "" || piece.Make < 1 || len(piece.Verdicts) != len(piece.Lines) {
			t.Fatalf("piece %+v", piece)
		}
		if sound && len(piece.Rounds) == 0 {
			t.Fatalf("no findings, but %q has no rounds", piece.Name)
		}
		for _, r := range piece.Rounds {
			for _, st := range r.Stitches {
				if len(p.Yarns) > 0 && (int(st.Yarn) >= len(piece.Yarns) || piece.Yarns[st.Yarn] >= len(p.Yarns)) {
					t.Fatalf("round %d of %q is worked in yarn %d of %v", r.Number, piece.Name, st.Yarn, piece.Yarns)
				}
			}
		}
		for i, step := range piece.Steps {
			if i > 0 && step.After < piece.Steps[i-1].After {
				t.Fatalf("the steps of %q are not in order", piece.Name)
			}
			if step.Do == "note" && step.Say == "" {
				t.Fatalf("a step of %q says nothing", piece.Name)
			}
		}
	}
}

// BenchmarkLoad loads a pattern of so many pieces, each of a ball of 25 rounds.
func BenchmarkLoad(b *testing.B) {
	for _, pieces := range []int{1, 8, 32} {
		var text strings.Builder
		text.WriteString("title = 'Balls'\nterms = 'US'\n")
		for i := range pieces {
			fmt.Fprintf(&text, "[[piece]]\nname = 'Ball %d'\nrounds = '''\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\n", i)
			for n := 1; n < 7; n++ {
				fmt.Fprintf(&text, "Rnd %d: (sc %d, inc) x 6 (%d)\n", n+2, n, 12+6*n)
			}
			text.WriteString("Rnds 9-19: sc in each st around (48)\n")
			for n := 6; n > 0; n-- {
				fmt.Fprintf(&text, "Rnd %d: (sc %d, dec) x 6 (%d)\n", 26-n, n, 6+6*n)
			}
			text.WriteString("'''\n[[piece.step]]\nafter = 23\ndo = 'stuff'\n")
		}
		fsys := fstest.MapFS{patternFile: {Data: []byte(text.String())}}
		b.Run(fmt.Sprintf("pieces=%d", pieces), func(b *testing.B) {
			b.SetBytes(int64(text.Len()))
			b.ReportAllocs()
			for b.Loop() {
				if _, findings := Load(fsys, patternFile); len(findings) > 0 {
					b.Fatal(findings)
				}
			}
		})
	}
}
