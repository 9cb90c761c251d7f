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

// spaced returns the specs of a piece with n corners, each the space of two
// chains, and a number of rounds, that end so many stitches after a corner.
func spaced(n, rounds, after int) []string {
	const corner = "sp{2*dc ch ch 2*dc} "
	out := []string{fmt.Sprintf("ring%d CH CH CH! %s %s ch ch %s join", n, times(2-after, "dc"), times(n-1, "(ch ch 3*dc)"), times(after, "dc"))}
	first, last := 3-after, after // stitches of the side that the round starts on
	for k := 1; k < rounds; k++ {
		out = append(out, fmt.Sprintf("CH CH CH! %s %s %s %s join", times(first-1, "dc"), corner, strings.Repeat(times(4*k-1, "dc")+" "+corner, n-1), times(last, "dc")))
		first, last = first+2, last+2
	}
	return out
}

// cornered returns the specs of a piece with n corners of three stitches in one,
// that starts so many stitches before a corner.
func cornered(kind string, n, rounds, before int) []string {
	out := []string{fmt.Sprintf("%d*%s", 2*n, kind)}
	for k := 1; k < rounds; k++ {
		side := 2*k - 1
		first := min(before, 1) + k - 1
		out = append(out, fmt.Sprintf("%s %s.3 %s %s", times(first, kind), kind, strings.Repeat(times(side, kind)+" "+kind+".3 ", n-1), times(side-first, kind)))
	}
	return out
}

// lined returns the specs of a disc of single crochet with n increases in each
// round, each worked into the one before.
func lined(n, rounds int) []string {
	out := []string{fmt.Sprintf("%d*sc", n)}
	for k := 1; k < rounds; k++ {
		out = append(out, fmt.Sprintf("%d*(%s sc.2)", n, times(k-1, "sc")))
	}
	return out
}

// cluster returns the specs of a piece with n corners, of groups of three with
// spaces between them.
func cluster(n, rounds int) []string {
	out := []string{fmt.Sprintf("ring%d %[1]d*(3*dc ch ch) join", n)}
	for k := 1; k < rounds; k++ {
		out = append(out, fmt.Sprintf("%d*(sp{3*dc ch ch 3*dc} ch %s) join", n, times(k-1, "(sp{3*dc} ch)")))
	}
	return out
}

// TestOutline checks in which pieces corners are found, that these stand where
// they should, and that such charts are tidy and read back.
func TestOutline(t *testing.T) {
	check := func(name string, corners int, specs []string) {
		t.Helper()
		rounds := worked(specs...)
		if got := findOutline(rounds).corners; got != corners {
			t.Errorf("%s has %d corners, want %d", name, got, corners)
			return
		}
		p := piece(pattern.Joined, rounds)
		if corners == 0 {
			if err := Draw(io.Discard, &pattern.Pattern{}, p, Options{Outline: Shape}); err == nil {
				t.Errorf("%s has no corners, and is drawn with some", name)
			}
			return
		}
		checkDrawing(t, name, drawn(t, p, Options{View: Whole, Outline: Shape, Hand: Left, Plus: true}), rounds)
		checkViewReadsBack(t, name, rounds, Options{View: Whole, Outline: Shape})
		checkCorners(t, name, rounds)
	}
	for n := 3; n <= 8; n++ {
		for _, rounds := range []int{2, 3, 4, 7} {
			for _, part := range []int{0, 1} {
				check(fmt.Sprintf("%d spaces, %d rounds, %d after", n, rounds, part), n, spaced(n, rounds, part))
				for _, kind := range []string{"sc", "dc"} {
					check(fmt.Sprintf("%d %s, %d rounds, %d before", n, kind, rounds, part), n, cornered(kind, n, rounds, part))
				}
			}
			if rounds > 2 { // two are increased everywhere
				check(fmt.Sprintf("%d in line, %d rounds", n, rounds), n, lined(n, rounds))
			}
		}
	}
	for rounds := 2; rounds <= 9; rounds++ {
		check(fmt.Sprintf("groups, %d rounds", rounds), 4, cluster(4, rounds))
	}
	check("disc to square", 4, []string{"6*dc", "6*dc.2", "6*(dc dc.2)", "6*(2*dc dc.2)", "4*(st{2*dc ch ch 2*dc} 5*dc)", "4*(2*dc sp{2*dc ch ch 2*dc} 7*dc)", "4*(4*dc sp{2*dc ch ch 2*dc} 9*dc)"})
	check("turned", 4, []string{"8*sc turn", "4*(sc sc.3) turn", "4*(sc sc.3 2*sc) turn", "4*(3*sc sc.3 2*sc)"})
	check("in colours", 4, []string{"8*sc", "yarn1 4*(sc sc.3)", "yarn2 4*(2*sc sc.3 sc)"})
	for name, specs := range map[string][]string{
		"staggered": ball(6, 8, 0)[:8],
		"even":      {"12*dc", "12*dc.2", "24*dc"},
		"plain":     {"12*sc", "12*sc"},
		"one round": {"12*sc"},
		"two only":  {"6*sc", "2*(2*sc sc.3)", "2*(3*sc sc.3 sc)"},
		"uneven":    {"8*sc", "3*sc.3 5*sc", "3*(sc sc.3 sc) 5*sc"},
		"disc":      lined(6, 2),
		"petals":    {"6*sc", "6*sc.2", "6*(dc.5 sc)"},
		"ruffle":    {"8*sc", "8*sc.3"},
		"shells":    {"6*(2*dc ch ch 2*dc ch)", "6*(sp{2*dc ch ch 2*dc} ch sp{sc} ch)", "6*(sp{2*dc ch ch 2*dc} ch sp{sc} ch ch sp{sc} ch)"},
		"doily":     samples[slices.IndexFunc(samples, func(s sample) bool { return s.name == "doily" })].specs,
	} {
		check(name, 0, specs)
	}
}

// checkCorners checks that the corners of the outermost ring are where those of
// a regular polygon are.
func checkCorners(t *testing.T, name string, rounds []*notation.Round) {
	t.Helper()
	set := setting{outline: findOutline(rounds)}
	l := newLayout(rounds, set)
	r := l.outermost()
	sum := map[int]point{}
	for i, corner := range set.outline.held[r.index] {
		at, _ := l.position(r, &r.places[i])
		sum[corner] = sum[corner].plus(at)
	}
	n := set.outline.corners
	for corner, p := range sum {
		want := math.Pi/float64(n) + float64(corner)*2*math.Pi/float64(n)
		// A label may push those beside it by half its width.
		if off := math.Remainder(math.Atan2(-p.X, -p.Y)-want, 2*math.Pi) * (r.track.apothem() + r.in); math.Abs(off) > r.startGap {
			t.Errorf("%s: corner %d stands %.2f off", name, corner, off)
		}
	}
	if _, angle := r.track.at(0, r.in); angle != 0 {
		t.Errorf("%s: the outermost ring starts at an angle of %.2f", name, angle)
	}
}

// TestOutlineRandom draws squares and other shapes with corners, with stitches
// of many kinds on their sides.
func TestOutlineRandom(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for k := range 150 {
		n := 3 + rng.IntN(6)
		specs := cornered(pick(rng, "sc", "hdc", "dc"), n, 2+rng.IntN(6), rng.IntN(2))
		for i := 1; i < len(specs); i++ {
			words := strings.Fields(strings.NewReplacer("3*sc", "sc sc sc", "2*dc", "dc dc").Replace(specs[i]))
			for j, w := range words {
				if rng.IntN(4) == 0 && (w == "sc" || w == "dc" || w == "hdc") {
					words[j] = pick(rng, "sc", "dc", "tr", "hdc", "sc.b", "dc.f", "dc5pop", "sc picot3")
				}
			}
			specs[i] = strings.Join(words, " ")
		}
		rounds := worked(specs...)
		name := fmt.Sprintf("generated %d %q", k, specs)
		opt := Options{View: Whole, Outline: Shape, Hand: Hand(rng.IntN(2))}
		checkDrawing(t, name, drawn(t, piece(pattern.Joined, rounds), opt), rounds)
		checkViewReadsBack(t, name, rounds, opt)
	}
}
