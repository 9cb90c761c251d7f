package site

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"roundelay/pattern"
	"roundelay/pattern/stitch"
)

// workOn returns the work on a pattern in one piece, at a square gauge of 5 mm.
func workOn(t *testing.T, facts, rounds string) (*work, *pattern.Size, *pattern.Piece) {
	t.Helper()
	book, _ := load(t, fstest.MapFS{"pattern.toml": {Data: []byte("title = 'x'\nterms = 'US'\n[gauge]\nstitch = 'sc'\nstitches = 20\nrounds = 22\nover = '10 cm'\n" +
		"[[yarn]]\nkey = 'A'\ncolour = 'red'\n[[yarn]]\nkey = 'B'\ncolour = 'white'\n" +
		"[[piece]]\nname = 'P'\n" + facts + "\nrounds = '''\n" + rounds + "'''\n")}})
	b := &builder{book: book}
	p := book.Patterns[0]
	return &work{builder: b, p: p, estimates: b.estimate(p)}, p.Sizes[0], p.Sizes[0].Pieces[0]
}

const stackedDisc = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc 1, inc) x 6 (18)\nRnd 4: (sc 2, inc) x 6 (24)\n" +
	"Rnd 5: (sc 3, inc) x 6 (30)\nRnd 6: (sc 4, inc) x 6 (36)\n"

func TestAdvice(t *testing.T) {
	for _, test := range []struct {
		name, facts, rounds string
		want                map[int][]string // parts of what is said about a round
		not                 string
	}{
		{name: "increases in line", rounds: stackedDisc,
			want: map[int][]string{3: {"clip a marker into the second stitch of each increase, stitches 3, 6, 9, 12, 15 and 18. In rounds 4 to 6"},
				2: {"lies flat, or nearly so: 6 more"}},
			not: "no corners"},
		{name: "staggered", rounds: strings.Replace(strings.Replace(stackedDisc, "(sc 2, inc) x 6 (24)", "sc 1, inc, (sc 2, inc) x 5, sc 1 (24)", 1), "(sc 4, inc) x 6 (36)", "sc 2, inc, (sc 4, inc) x 5, sc 2 (36)", 1),
			want: map[int][]string{5: {"the increases sit between"}}, not: "clip a marker"},
		{name: "a tube", rounds: stackedDisc + "Rnds 7-13: sc in each st around (36)\n",
			want: map[int][]string{7: {"a wall that stands up"}}},
		{name: "mesh", rounds: "Rnd 1: ch 3 (counts as dc), 11 dc in magic ring, join with sl st in top of ch-3 (12)\nRnd 2: ch 4 (counts as dc and ch 1), (dc 1, ch 1) x 11, join with sl st in 3rd ch of ch-4 (12)\n",
			want: map[int][]string{2: {"lies flat, or nearly so."}}},
		{name: "a cone", rounds: "Rnd 1: 6 sc in magic ring (6)\nRnd 2: (sc 1, inc) x 3 (9)\nRnd 3: (sc 2, inc) x 3 (12)\n",
			want: map[int][]string{2: {"slopes like a cone, about 58° from flat"}}}, // acos(3 x 5 / (2 π 4.545)) = 58.3°
		{name: "yarns and filling", facts: "stuffed = true\nclosed = true",
			rounds: stackedDisc + "Rnds 7-10: sc in each st around (36)\nRnd 11: with B, sc in each st around (36)\nRnds 12-14: sc in each st around (36)\n" +
				"Rnd 15: (sc 4, dec) x 6 (30)\nRnd 16: (sc 3, dec) x 6 (24)\nRnd 17: (sc 2, dec) x 6 (18)\nRnd 18: (sc 1, dec) x 6 (12)\nRnd 19: dec x 6 (6)\n",
			want: map[int][]string{11: {"From round 11 to the end this piece takes about", "of white"}, 15: {"it draws in"},
				16: {"Last call to stuff: after round 16 the opening is still about 38 mm wide"}}}, // 24 x 5 / π = 38.2
	} {
		t.Run(test.name, func(t *testing.T) {
			w, size, piece := workOn(t, test.facts, test.rounds)
			all := ""
			got := w.advice(size, piece)
			for _, lines := range got {
				all += strings.Join(lines, "\n")
			}
			for round, parts := range test.want {
				for _, part := range parts {
					if !strings.Contains(strings.ReplaceAll(strings.Join(got[round], "\n"), nbsp, " "), part) {
						t.Errorf("round %d: no %q in %q", round, part, got[round])
					}
				}
			}
			if test.not != "" && strings.Contains(all, test.not) {
				t.Errorf("says %q:\n%s", test.not, all)
			}
		})
	}
}

func TestOtherHand(t *testing.T) {
	for _, test := range []struct {
		terms     stitch.Terms
		say, want string
	}{
		{stitch.US, "Clockwise, with the right side facing you.", "Counterclockwise, with the right side facing you."},
		{stitch.UK, "Turn it clockwise.", "Turn it anticlockwise."},
		{stitch.UK, "Work anti-clockwise, from right to left.", "Work clockwise, from left to right."},
		{stitch.US, "Counterclockwise", "Clockwise"},
		{stitch.US, "Move to the left of the eye; hold it in your right hand.", "Move to the right of the eye; hold it in your left hand."},
		{stitch.US, "All that is left is right.", "All that is left is right."},
	} {
		if got := otherHand(test.say, test.terms); got != test.want {
			t.Errorf("%q becomes %q, want %q", test.say, got, test.want)
		}
	}
}

func TestGrey(t *testing.T) {
	for hex, want := range map[string]float64{"#000000": 0, "#ffffff": 100, "#777777": 50.0} { // the last by hand: Y = 0.1845
		if got, ok := lightness(hex); !ok || math.Abs(got-want) > 0.1 {
			t.Errorf("%s has lightness %.2f, want %.2f", hex, got, want)
		}
	}
	for _, test := range []struct {
		hexes []string
		want  string
	}{
		{[]string{"#c9563c"}, ""},
		{[]string{"#c9563c", "#f2ede0"}, "In grey all yarns stay apart."},
		{[]string{"#c9563c", "#2f8050"}, "In grey these are hard to tell apart: A and B."},
		{[]string{"#c9563c", ""}, ""},
	} {
		var rows []yarnRow
		for i, hex := range test.hexes {
			rows = append(rows, yarnRow{Hex: hex, Name: string(rune('A' + i))})
		}
		if got := apartInGrey(rows); got != test.want {
			t.Errorf("%v: %q, want %q", test.hexes, got, test.want)
		}
	}
	for _, p := range palettes { // each promises that its first two stay apart
		if got := apartInGrey([]yarnRow{{Hex: p.colours[0]}, {Hex: p.colours[1]}}); got != "In grey all yarns stay apart." {
			t.Errorf("%s: %s", p.name, got)
		}
	}
}

// A disc of 6 more a round at 20 sc and 22 rounds to 10 cm is 6 n 5 / π mm wide
// by its stitches and 2 n 4.545 mm by its rounds; its circle lies between.
func TestCircles(t *testing.T) {
	w, _, _ := workOn(t, "", stackedDisc)
	_, discs := w.discs()
	var rounds []int
	for _, d := range discs {
		rounds = append(rounds, d.round)
		low, high := 2*float64(d.round)*100/22, 6*float64(d.round)*5/math.Pi
		if d.acrossMM < low-0.1 || d.acrossMM > high+0.1 {
			t.Errorf("after round %d it is %.1f mm, not %.1f to %.1f", d.round, d.acrossMM, low, high)
		}
	}
	if diff := cmp.Diff([]int{4, 6}, rounds); diff != "" {
		t.Errorf("rounds with a circle (-want +got):\n%s", diff)
	}
	s := newSheet(discs)
	if s.Circles[1].Radius*2 > s.Width || s.Millimetres[10]-s.Millimetres[0] != 100 || math.Abs(s.Inches[4]-s.Inches[0]-101.6) > 0.02 {
		t.Errorf("the sheet is not to scale: %+v", s)
	}
	w, _, _ = workOn(t, "", "Rnd 1: 6 sc in magic ring (6)\nRnds 2-9: sc in each st around (6)\n")
	if _, discs := w.discs(); discs != nil {
		t.Errorf("a cord has circles %v", discs)
	}
}
