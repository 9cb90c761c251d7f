package notation

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// FuzzRead checks, for any text: reading and working it ends without a panic;
// every place is inside the text; every stitch is worked into something that is
// there; the counts are those of the stitches; a second reading says the same.
func FuzzRead(f *testing.F) {
	files, err := filepath.Glob("../../testdata/corpus/us-*.txt")
	if err != nil {
		f.Fatal(err)
	}
	for i, name := range files {
		if i%12 != 0 {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text), i%2 == 0)
	}
	for _, s := range []string{
		"Rnd 1: 6 sc in magic ring (6)\nRnd 2: (sc, inc) x 1000000000 (12)",
		"Rnd 1: ch 7, sc in 2nd ch from hook, sc 4, 3 sc in last ch, on the other side sc 4, 2 sc in last ch (14)",
		"R1: (((sc 3, inc x 6\nR2: *sc, rep from * 5 more times, ending last rep at **",
		"Rnds 9-3: repeat rnd 9\nRnd 4: repeat last 3 rnds twice",
	} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, text string, strict bool) {
		file := source.NewFile("text", text)
		read := Read(file, ReadOptions{Strict: strict, Yarns: []string{"MC", "CC"}})
		for _, it := range read.Items {
			inside(t, it.At, text)
			if it.Line != nil {
				inside(t, it.Line.LabelAt, text)
				inside(t, it.Line.Unread, text)
			}
		}
		for _, part := range read.Parts() {
			opt := Options{Yarns: []string{"MC", "CC"}, Strict: strict, AnyYarn: !strict}
			res := Expand(part.Lines, opt)
			again := Expand(part.Lines, opt)
			if !slices.EqualFunc(res.Verdicts, again.Verdicts, func(a, b Verdict) bool { return a == b }) {
				t.Fatal("a second working says something else")
			}
			for _, found := range res.Findings {
				inside(t, found.At, text)
			}
			for i, r := range res.Rounds {
				checkRound(t, res, i, r)
			}
		}
	})
}

func inside(t *testing.T, s source.Span, text string) {
	t.Helper()
	if s.From < 0 || s.To < s.From || s.To > len(text) {
		t.Fatalf("place %v is outside of %d bytes", s, len(text))
	}
}

// checkRound checks what is true of every round, right or wrong.
func checkRound(t *testing.T, res *Result, i int, r *Round) {
	if r.Number != 0 && r.Made != r.Count() {
		t.Fatalf("round %d says it makes %d; %d of its stitches count", r.Number, r.Made, r.Count())
	}
	if len(r.Stitches) > MaxRound {
		t.Fatalf("round %d has %d stitches", r.Number, len(r.Stitches))
	}
	for _, s := range r.Stitches {
		if !s.Kind.Valid() {
			t.Fatalf("round %d has a stitch %+v", r.Number, s.Kind)
		}
		if int(s.Yarn) >= len(res.Yarns) {
			t.Fatalf("round %d has yarn %d of %d", r.Number, s.Yarn, len(res.Yarns))
		}
		if s.Into.Round < 0 || s.Into.First < 0 || s.Into.Last < s.Into.First {
			continue
		}
		if int(s.Into.Round) >= i || int(s.Into.Last) >= len(res.Rounds[s.Into.Round].Stitches) {
			t.Fatalf("round %d: a %s is worked into %+v", r.Number, s.Kind.Abbr(stitch.US), s.Into)
		}
	}
}
