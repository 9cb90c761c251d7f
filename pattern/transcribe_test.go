package pattern

import (
	"html"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"roundelay/pattern/golden"
	"roundelay/pattern/notation"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// A row is what is known of one line of rounds.
type row struct {
	First, Last, Used, Made, Declared int
	Word                              notation.Word
}

func rowOf(v notation.Verdict) row {
	return row{v.First, v.Last, v.Used, v.Made, v.Declared, v.Word}
}

// rowsOfText returns the rows of a written pattern, as proof has them.
func rowsOfText(f *source.File, terms stitch.Terms) [][]row {
	var out [][]row
	for _, part := range notation.Read(f, notation.ReadOptions{Terms: terms}).Parts() {
		var rows []row
		for _, v := range notation.Expand(part.Lines, notation.Options{AnyYarn: true}).Verdicts {
			rows = append(rows, rowOf(v))
		}
		if len(rows) > 0 {
			out = append(out, rows)
		}
	}
	return out
}

// rowsOfPattern returns the rows of a pattern file.
func rowsOfPattern(p *Pattern) [][]row {
	var out [][]row
	for _, piece := range p.Sizes[0].Pieces {
		var rows []row
		for _, v := range piece.Verdicts {
			rows = append(rows, rowOf(v))
		}
		out = append(out, rows)
	}
	return out
}

// loadText loads a pattern file that is not in a folder.
func loadText(toml []byte) (*Pattern, source.Findings) {
	return Load(fstest.MapFS{"pattern.toml": {Data: toml}}, "pattern.toml")
}

// corpus calls do with every written pattern of the corpus.
func corpus(t *testing.T, do func(t *testing.T, name string, f *source.File)) {
	files, err := filepath.Glob("../testdata/corpus/*.truth.tsv")
	if err != nil || len(files) == 0 {
		t.Fatal("no corpus", err)
	}
	for _, file := range files {
		stem := strings.TrimSuffix(file, ".truth.tsv")
		for _, ext := range []string{".txt", ".md"} {
			if b, err := os.ReadFile(stem + ext); err == nil {
				do(t, filepath.Base(stem), source.NewFile(filepath.Base(stem)+ext, string(b)))
			}
		}
	}
}

// TestTranscribeCorpus compares what proof says of each line of the corpus with
// what it says of the line in the pattern file made of it.
func TestTranscribeCorpus(t *testing.T) {
	type figures struct{ texts, agreeing, lines, same int }
	var english, others figures
	corpus(t, func(t *testing.T, name string, f *source.File) {
		toml, _ := Transcribe(f, TranscribeOptions{})
		p, _ := loadText(toml)
		if p == nil {
			t.Errorf("%s: no sound TOML:\n%s", name, toml)
			return
		}
		fig := &others
		if strings.HasPrefix(name, "us-") || strings.HasPrefix(name, "uk-") {
			fig = &english
		}
		before, after := rowsOfText(f, stitch.US), rowsOfPattern(p)
		whole := len(before) == len(after)
		if !whole {
			t.Errorf("%s: %d pieces became %d", name, len(before), len(after))
		}
		for i := 0; i < min(len(before), len(after)); i++ {
			got := after[i]
			for _, want := range before[i] {
				fig.lines++
				// one line may have become several
				n := slices.IndexFunc(got, func(r row) bool { return r.Last == want.Last })
				if n < 0 {
					t.Logf("%s: %+v is lost", name, want)
					whole = false
					continue
				}
				r := got[n]
				r.First, r.Used = got[0].First, got[0].Used
				got = got[n+1:]
				if r == want {
					fig.same++
				} else {
					whole = false
					t.Logf("%s: want %+v, got %+v", name, want, r)
				}
			}
		}
		fig.texts++
		if whole {
			fig.agreeing++
		}
	})
	for _, c := range []struct {
		what        string
		fig         figures
		texts, line float64
	}{{"English", english, 0.9, 0.98}, {"other languages", others, 0.9, 0.97}} {
		t.Logf("%s: %d of %d texts, %d of %d lines agree", c.what, c.fig.agreeing, c.fig.texts, c.fig.same, c.fig.lines)
		if float64(c.fig.agreeing) < c.texts*float64(c.fig.texts) || float64(c.fig.same) < c.line*float64(c.fig.lines) {
			t.Errorf("%s: fewer agree than there should", c.what)
		}
	}
}

// TestTranscribeKeepsAll looks for every line of the corpus that is no round in
// the pattern file made of it.
func TestTranscribeKeepsAll(t *testing.T) {
	corpus(t, func(t *testing.T, name string, f *source.File) {
		toml, _ := Transcribe(f, TranscribeOptions{})
		for _, line := range lostLines(f, string(toml)) {
			t.Errorf("%s: %q is lost", name, line)
		}
	})
}

// lostLines returns the lines of a text that are no rounds and whose words are
// not in the pattern file.
func lostLines(f *source.File, toml string) []string {
	all := spokenLetters(toml)
	inRound := make([]bool, len(f.Text)+1)
	for _, part := range notation.Read(f, notation.ReadOptions{}).Parts() {
		for _, v := range notation.Expand(part.Lines, notation.Options{AnyYarn: true}).Verdicts {
			spans := []source.Span{v.Line.At}
			for _, n := range v.Line.Body {
				spans = append(spans, n.Span())
			}
			for _, s := range spans {
				for i := s.From; i < s.To; i++ {
					inRound[i] = true
				}
			}
		}
	}
	var lost []string
	from := 0
	for from < len(f.Text) {
		to := from
		for to < len(f.Text) && f.Text[to] != '\n' && inRound[to] == inRound[from] {
			to++
		}
		if s := f.Text[from:to]; !inRound[from] {
			for _, part := range sentences(html.UnescapeString(s)) { // each may be a step
				if w := spokenLetters(part); !strings.Contains(all, w) {
					lost = append(lost, part)
				}
			}
		}
		from = max(to, from+1)
	}
	return lost
}

// spokenLetters returns the letters and digits of s, as a person reads them.
func spokenLetters(s string) string {
	return strings.Map(func(c rune) rune {
		if unicode.IsLetter(c) || unicode.IsDigit(c) {
			return c
		}
		return -1
	}, html.UnescapeString(s))
}

// TestTranscribeGolden keeps whole files in view.
func TestTranscribeGolden(t *testing.T) {
	files, err := filepath.Glob("testdata/transcribe/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatal("no texts", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			got, _ := Transcribe(source.NewFile(file, string(b)), TranscribeOptions{})
			name := filepath.ToSlash(strings.TrimSuffix(file, ".txt") + ".toml")
			golden.Check(t, strings.TrimPrefix(name, "testdata/"), got)
		})
	}
}

// FuzzTranscribe checks of any text: no panic, always sound TOML, the same bytes
// again, nothing lost.
func FuzzTranscribe(f *testing.F) {
	for _, s := range []string{
		"Ball\n\nRnd 1: 6 sc in magic ring (6)\nstuff now\nRnd 2: inc in each st (12)\n'''\"\\ \x00\x7f\u0085\nFasten off.",
		"Rnd 1: 6 sc in '''ring''' (7)\nMaterials: yarn (A), hook H, 'x'\n\n# B (make 2)\nRnd 1: with A, 4 sc in magic ring\nRnd 2: with white, 2 sc in each",
		"GAUGE: 20 sc and 22 rounds = 10 cm\n1. 6 sc in ring\n2-99999. inc around",
		"| Rnd | x |\n|---|---|\n| 1 | 6 sc in magic ring | 6 |\n| 2 | inc around | 13 |",
		"Häkelnadel Nr. 3,5\n1. Rd: 6 fM in den Fadenring (6)\nFarbwechsel\n2. Rd: jede M verdoppeln (12)",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		file := source.NewFile("text.txt", text)
		toml, _ := Transcribe(file, TranscribeOptions{})
		if problem := sound(toml); problem != nil {
			t.Fatalf("no sound TOML: %v\n%s", problem, toml)
		}
		again, _ := Transcribe(source.NewFile("text.txt", text), TranscribeOptions{})
		if string(again) != string(toml) {
			t.Fatalf("twice the same text gave\n%s\nand\n%s", toml, again)
		}
		if lost := lostLines(file, string(toml)); len(lost) > 0 {
			t.Fatalf("%q is lost:\n%s", lost, toml)
		}
	})
}

func BenchmarkTranscribe(b *testing.B) {
	text, err := os.ReadFile("testdata/transcribe/sea-urchin.txt")
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		Transcribe(source.NewFile("sea-urchin.txt", string(text)), TranscribeOptions{})
	}
}

// sound returns what is wrong with a file as TOML.
func sound(toml []byte) *source.Finding {
	_, problem := decodeTOML(source.NewFile("pattern.toml", string(toml)))
	return problem
}
