package shape

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The check values of this package are written as they were published or
// worked out, with as many digits as are known of them, and a tag beside each:
//
//	D   derived by hand from the model
//	H   a formula of a handbook
//	P   a published figure
//	X   computed with the same model by another program; X2 by two of them

// match reports an error unless got is want to the digits that want is written
// with. An empty want is not checked.
func match(t *testing.T, what string, got float64, want, tag string) {
	t.Helper()
	matchWithin(t, what, got, want, tag, 0.5001)
}

// matchTwice is match for values that were rounded to one digit more first.
func matchTwice(t *testing.T, what string, got float64, want, tag string) {
	t.Helper()
	matchWithin(t, what, got, want, tag, 0.5501)
}

func matchWithin(t *testing.T, what string, got float64, want, tag string, units float64) {
	t.Helper()
	if want == "" {
		return
	}
	v, unit := published(t, want)
	if !(math.Abs(got-v) <= units*unit) {
		t.Errorf("%s = %.12g, want %s [%s]", what, got, want, tag)
	}
}

// published returns the value of a number and the worth of its last digit.
func published(t *testing.T, s string) (v, unit float64) {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	mantissa, exponent, _ := strings.Cut(s, "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	e, _ := strconv.Atoi(exponent)
	return v, math.Pow(10, float64(e-len(decimals)))
}

// near reports an error unless got is within tol of want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

// The pieces that check values are given for, all closed, with stitches 5 mm
// wide.
var pieces5 = map[string]struct {
	counts   []int
	heightMM float64
}{
	"G1": {[]int{6, 12, 12, 12, 6}, 5},
	"G2": {RampCounts(6, 6), 5},
	"G3": {RampCounts(6, 6), 100.0 / 22},
	"G4": {AlternatingCounts(6, 6), 5},
	"G5": {[]int{6, 12, 17, 21, 24, 25, 25, 24, 21, 17, 12, 6}, 5},
	"G6": {[]int{6, 12, 18, 23, 28, 31, 34, 35, 36, 35, 34, 31, 28, 23, 18, 12, 6}, 5},
}

func piece(t testing.TB, id string) Schedule {
	t.Helper()
	p, ok := pieces5[id]
	if !ok {
		t.Fatalf("no piece %s", id)
	}
	return Uniform(p.counts, Size{5, p.heightMM}, true)
}

// up reads counts written as in a table and mirrors them: odd once, even twice
// the last.
func up(t testing.TB, half string, odd bool) []int {
	t.Helper()
	var out []int
	for _, f := range strings.Fields(half) {
		n, err := strconv.Atoi(f)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, n)
	}
	down := slices.Clone(out)
	if odd {
		down = down[:len(down)-1]
	}
	slices.Reverse(down)
	return append(out, down...)
}

// backwards returns s from its end to its start.
func backwards(s Schedule) Schedule {
	s.Rounds = slices.Clone(s.Rounds)
	slices.Reverse(s.Rounds)
	return s
}
