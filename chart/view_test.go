package chart

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"roundelay/pattern"
	"roundelay/pattern/notation"
)

func TestRepeats(t *testing.T) {
	for _, tt := range []struct {
		name  string
		specs []string
		want  int
	}{
		{"ball", ball(6, 6, 3), 6},
		{"two increases a round", []string{"6*sc", "2*(2*sc sc.2)", "2*(3*sc sc.2)"}, 2},
		{"uneven", []string{"6*sc", "sc.2 5*sc"}, 1},
		{"one round", []string{"8*sc"}, 8},
		{"joined, not counted", []string{"CH 6*sc join", "CH 6*sc.2 join"}, 6},
		{"joined, counted", []string{"CH CH CH! 11*dc join", "st{CH CH CH! dc} 11*dc.2 join"}, 12},
		{"chain spaces", []string{"8*sc", "4*(sc ch ch sk)", "4*(sk sp{3*dc})"}, 4},
		{"colours that do not repeat", []string{"6*sc", "yarn1 3*sc yarn0 3*sc"}, 1},
		{"shifted against each other", []string{"6*sc", "3*(sc sc.2)", "sc 2*(sc sc sc.2) 2*sc"}, 1},
		{"oval", samples[len(samples)-1].specs, 1},
	} {
		if got, _ := repeats(worked(tt.specs...)); got != tt.want {
			t.Errorf("%s falls into %d parts, want %d", tt.name, got, tt.want)
		}
	}
}

// stitchUses counts the stitches drawn of each round.
func stitchUses(root *element) map[string]int {
	n := map[string]int{}
	for _, g := range root.children {
		for _, e := range g.children {
			if round := g.attr["data-round"]; round != "" && strings.HasPrefix(e.attr["href"], "#st-") {
				n[round]++
			}
		}
	}
	return n
}

// TestParts draws the views that show a part of each round.
func TestParts(t *testing.T) {
	check := func(name string, specs []string) {
		rounds := worked(specs...)
		p := piece(pattern.Spiral, rounds)
		times, parts := repeats(rounds)
		for _, v := range []View{Repeat, Strip} {
			name := fmt.Sprint(name, ", ", v)
			if v == Repeat && times == 1 {
				if err := Draw(io.Discard, &pattern.Pattern{}, p, Options{View: v}); err == nil {
					t.Errorf("%s: drawn without a repeat", name)
				}
				continue
			}
			root := parseSVG(t, drawn(t, p, Options{View: v}))
			checkTidy(t, name, root)
			uses := stitchUses(root)
			for i, r := range rounds {
				if isFoundation(r) {
					continue
				}
				want := parts[i].to - parts[i].from
				if v == Strip { // with the starting chain
					for k := parts[i].from; k > 0 && r.Stitches[k-1].Role == notation.StartingChain; k-- {
						want++
					}
				}
				if got := uses[fmt.Sprint(r.Number)]; got != want {
					t.Errorf("%s: round %d shows %d stitches, want %d", name, r.Number, got, want)
				}
			}
		}
	}
	for _, s := range samples {
		check(s.name, s.specs)
	}
	rng := rand.New(rand.NewPCG(9, 10))
	for k := range 200 {
		specs := generators[k%len(generators)](rng)
		check(fmt.Sprintf("generated %d %q", k, specs), specs)
	}
}

func TestNames(t *testing.T) {
	for v := Auto; v <= Strip; v++ {
		if got, err := ParseView(v.String()); err != nil || got != v {
			t.Errorf("%v is read as %v, %v", v, got, err)
		}
	}
	if _, err := ParseView("side"); err == nil || !strings.Contains(err.Error(), "whole") {
		t.Errorf("error for a view that is none: %v", err)
	}
	if h, err := ParseHand("left"); err != nil || h != Left {
		t.Error(h, err)
	}
	if _, err := ParseHand("both"); err == nil {
		t.Error("both is a hand")
	}
	for _, p := range []Paper{A4, Letter} {
		if got, err := ParsePaper(p.String()); err != nil || got != p {
			t.Errorf("%v is read as %v, %v", p, got, err)
		}
	}
	if _, err := ParsePaper("A3"); err == nil || !strings.Contains(err.Error(), "Letter") {
		t.Errorf("error for paper that is none: %v", err)
	}
}

func TestFold(t *testing.T) {
	specs := ball(6, 4, 5) // rounds 5 to 9 are plain
	rounds := worked(specs...)
	left, _, last := fold(rounds)
	var got []string
	for _, r := range left {
		s := fmt.Sprint(r.Number)
		if n, ok := last[r.Number]; ok {
			s += fmt.Sprint("-", n)
		}
		got = append(got, s)
	}
	if want := "1 2 3 4 5-9 10 11 12"; strings.Join(got, " ") != want {
		t.Errorf("folded to %v, want %s", got, want)
	}
	for _, v := range []View{Auto, Whole, Repeat, Strip} {
		src := drawn(t, piece(pattern.Spiral, rounds), Options{Fold: true, View: v})
		root := parseSVG(t, src)
		checkTidy(t, v.String(), root)
		if !strings.Contains(string(src), ">5-9<") {
			t.Errorf("%v does not say which rounds are folded", v)
		}
	}
	// The rounds that are left still read back as worked into each other.
	checkReadsBack(t, "folded", left)

	for _, specs := range [][]string{
		{"6*sc", "6*sc", "6*sc.b", "6*sc", "6*sc.b"},           // not alike
		{"6*sc", "yarn1 6*sc", "yarn2 6*sc", "6*sc"},           // in other yarns
		{"6*sc", "6*sc", "6*sc"},                               // two plain rounds only
		{"6*sc", "6*sc.2", "6*(sc2tog)", "6*sc.2", "6*sc2tog"}, // shaped
	} {
		if left, _, _ := fold(worked(specs...)); len(left) != len(specs) {
			t.Errorf("%q is folded to %d rings", specs, len(left))
		}
	}
}

// TestGuide checks that a line follows every fifth stitch, and that it crosses
// no symbol.
func TestGuide(t *testing.T) {
	rounds := worked(ball(6, 6, 5)...)
	root := parseSVG(t, drawn(t, piece(pattern.Spiral, rounds), Options{View: Whole, Guide: 5}))
	checkTidy(t, "guide", root)
	at := 0
	for _, g := range root.children {
		if g.attr["data-round"] == "" {
			continue
		}
		want := (rounds[at].Made - 1) / 5
		at++
		var quads []quad
		got := 0
		for _, e := range g.children {
			switch {
			case e.name == "use":
				p, angle := e.transform(t)
				quads = append(quads, quadOf(symbolsByID()[e.attr["href"][1:]], p, angle))
			case e.attr["class"] == "guide":
				p := e.path(t)
				for k := 0; k+1 < len(p); k += 2 {
					a, b := p[k].to[0], p[k+1].to[0]
					got++
					quads = append(quads, quad{id: "guide", corners: [4]point{a, b, b, a}})
				}
			}
		}
		if got != want {
			t.Errorf("round %d of %d has %d guides, want %d", at, rounds[at-1].Made, got, want)
		}
		if o := overlaps(quads); len(o) > 0 {
			t.Errorf("round %d: %v", at, o)
		}
	}
	if err := Draw(io.Discard, &pattern.Pattern{}, piece(pattern.Spiral, rounds), Options{Guide: -1}); err == nil {
		t.Error("a guide after every -1 stitches is drawn")
	}
}

// marked returns the rounds that hold a mark, once for each.
func marked(root *element, id string) (rings []string) {
	for _, g := range root.children {
		for _, u := range g.children {
			if u.attr["href"] == "#"+id {
				rings = append(rings, g.attr["data-round"])
			}
		}
	}
	return rings
}

// TestSigns checks that what is done between rounds is marked where a round
// starts and where it ends, and only there.
func TestSigns(t *testing.T) {
	for _, s := range samples {
		rounds := worked(s.specs...)
		p := piece(s.style, rounds)
		for i, r := range rounds[len(rounds)/2:] {
			if isFoundation(r) {
				continue
			}
			p.Steps = []pattern.Step{{After: r.Number, Do: "stuff"}, {After: r.Number, Do: "fasten off"}, {After: r.Number, Do: "mark"}}
			for _, opt := range []Options{{View: Whole}, {View: Halves, Hand: Left}} {
				root := parseSVG(t, drawn(t, p, opt))
				checkTidy(t, s.name, root)
				want := []string{fmt.Sprint(r.Number)}
				for _, id := range []string{"mark-cut", "mark-marker"} {
					if got := marked(root, id); !slices.Equal(got, want) {
						t.Errorf("%s: %s stands at rounds %v, want %d", s.name, id, got, r.Number)
					}
				}
				want = nil
				if next := len(rounds)/2 + i + 1; next < len(rounds) {
					want = []string{fmt.Sprint(rounds[next].Number)}
				}
				if got := marked(root, "mark-join"); !slices.Equal(got, want) {
					t.Errorf("%s: the yarn is joined at rounds %v, want %v", s.name, got, want)
				}
			}
		}
	}
}

// TestSkips checks that a stitch that is left out is marked, unless chains lie
// over it or stitches of a shell stand for it.
func TestSkips(t *testing.T) {
	for _, tt := range []struct {
		name  string
		specs []string
		want  int
	}{
		{"none", []string{"6*sc", "6*sc.2", "12*sc"}, 0},
		{"one after each", []string{"6*sc", "6*sc.2", "6*(sc sk)"}, 5}, // the last is not between two
		{"two at once", []string{"12*sc", "3*(sc sk sk sc)"}, 6},
		{"under a chain", []string{"12*sc", "6*(sc ch sk)"}, 0},
		{"beside a space", []string{"12*sc", "4*(sc ch ch sk sc)", "4*(sk sp{3*dc} sk)"}, 0},
		{"closed together", []string{"12*sc", "6*sc2tog"}, 0},
		{"after a turn", []string{"12*sc turn", "6*(sc sk)"}, 5},
	} {
		root := parseSVG(t, drawn(t, piece(pattern.Spiral, worked(tt.specs...)), Options{View: Whole}))
		checkTidy(t, tt.name, root)
		if got := len(marked(root, "mark-skip")); got != tt.want {
			t.Errorf("%s: %d stitches are marked as left out, want %d", tt.name, got, tt.want)
		}
	}
}

// TestDrift checks the line of the starts in the fabric: half a stitch to the
// right in each round, and none where the work was turned.
func TestDrift(t *testing.T) {
	for _, tt := range []struct {
		specs []string
		want  []float64 // stitches of the round, told from the start
	}{
		{[]string{"12*sc", "12*sc", "12*sc"}, []float64{0, 0.5, 1}},
		{[]string{"6*sc", "6*sc.2", "12*sc"}, []float64{0, 0.5, 1}},
		{[]string{"12*sc", "12*sc turn", "12*sc"}, []float64{0, 0.5}}, // and no point on a round worked back
	} {
		rounds := worked(tt.specs...)
		for _, hand := range []Hand{Right, Left} {
			root := parseSVG(t, drawn(t, piece(pattern.Spiral, rounds), Options{View: Whole, Drift: true, Hand: hand}))
			root.walk(func(e *element) { e.mirrored = hand == Left })
			rd := &reader{glyphs: symbolsByID()}
			var line path
			var rings [][]seen
			for _, e := range root.children {
				switch {
				case e.attr["class"] == "drift" && line == nil:
					line = e.path(t)
				case e.attr["data-round"] != "":
					rings = append(rings, rd.readRing(t, e))
				}
			}
			var got []float64
			for k, s := range line {
				turn, _ := rd.place(s.to[0])
				n := 0.0
				for _, st := range rings[k] { // passed on the way to the end, or crossed
					switch apart := st.turn - turn; {
					case apart > 0.25*2*math.Pi/float64(len(rings[k])):
						n++
					case apart > -0.25*2*math.Pi/float64(len(rings[k])):
						n += 0.5
					}
				}
				got = append(got, n)
			}
			if len(got) != len(tt.want) {
				t.Fatalf("%v, %v: the line has %d points, want %d", tt.specs, hand, len(got), len(tt.want))
			}
			for k := range got {
				if got[k] != tt.want[k] {
					t.Errorf("%v, %v: round %d starts %g stitches to the side, want %g", tt.specs, hand, k+1, got[k], tt.want[k])
				}
			}
		}
	}
}

// TestSentences checks that each ring says its round.
func TestSentences(t *testing.T) {
	rounds := worked(ball(6, 3, 1)...)
	root := parseSVG(t, drawn(t, piece(pattern.Spiral, rounds), Options{View: Whole}))
	var got []string
	for _, g := range root.children {
		for _, e := range g.children {
			if e.name == "title" {
				got = append(got, e.text)
			}
		}
	}
	if len(got) != len(rounds) {
		t.Fatalf("%d rings of %d say their round", len(got), len(rounds))
	}
	if want := "Round 2. Work 2 single crochet in each stitch around. You should have 12 stitches."; got[1] != want {
		t.Errorf("the second ring says %q, want %q", got[1], want)
	}
}
