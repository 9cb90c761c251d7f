package shape

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

func TestSpread(t *testing.T) {
	for _, c := range []struct {
		n, k, offset int
		want         []int
	}{
		{18, 6, 0, []int{0, 3, 6, 9, 12, 15}},
		{18, 6, 12, []int{2, 5, 8, 11, 14, 17}},
		{17, 4, 0, []int{0, 4, 8, 12}},
		{23, 5, 0, []int{0, 4, 9, 13, 18}},
		{23, 5, 11, []int{2, 6, 11, 16, 20}},
	} {
		if got := Spread(c.k, c.n, c.offset); !slices.Equal(got, c.want) {
			t.Errorf("%d among %d from %d: %v, want %v", c.k, c.n, c.offset, got, c.want)
		}
	}
}

// The same as Bjorklund's even rhythm but for where it begins, and as even as
// can be: any two stretches of a length hold the same number, or one more. [H]
func TestSpreadEven(t *testing.T) {
	for n := 1; n <= 60; n++ {
		for k := 1; k <= n; k++ {
			at := Spread(k, n, 0)
			row := make([]bool, n)
			for _, j := range at {
				row[j] = true
			}
			if !rotationOf(row, bjorklund(k, n)) {
				t.Fatalf("%d among %d: %v is no rotation of the even rhythm", k, n, at)
			}
			if n > 24 {
				continue
			}
			for offset := range n {
				at := Spread(k, n, offset)
				if !slices.IsSorted(at) || at[0] < 0 || at[k-1] >= n || len(slices.Compact(slices.Clone(at))) != k {
					t.Fatalf("%d among %d from %d: %v", k, n, offset, at)
				}
				for length := 1; length < n; length++ {
					least, most := n, 0
					for first := range n {
						in := 0
						for _, j := range at {
							if (j-first+n)%n < length {
								in++
							}
						}
						least, most = min(least, in), max(most, in)
					}
					if most > least+1 {
						t.Fatalf("%d among %d from %d: stretches of %d hold %d to %d", k, n, offset, length, least, most)
					}
				}
			}
		}
	}
}

// bjorklund returns the even rhythm of k beats among n, by pairing off groups.
func bjorklund(k, n int) []bool {
	var heads, tails [][]bool
	for i := range n {
		if i < k {
			heads = append(heads, []bool{true})
		} else {
			tails = append(tails, []bool{false})
		}
	}
	for len(tails) > 1 {
		pairs := min(len(heads), len(tails))
		var left [][]bool
		for i := range pairs {
			heads[i] = append(slices.Clone(heads[i]), tails[i]...)
		}
		if len(heads) > pairs {
			left = heads[pairs:]
		} else {
			left = tails[pairs:]
		}
		heads, tails = heads[:pairs], left
	}
	return slices.Concat(append(heads, tails...)...)
}

func rotationOf(a, b []bool) bool {
	for by := range b {
		if slices.Equal(a, slices.Concat(b[by:], b[:by])) {
			return true
		}
	}
	return false
}

// Twelve rounds of 6 by different rules: how far the increases keep out of each
// other's way, from round 3 on; the one before doubles every stitch. [X]
func TestStagger(t *testing.T) {
	stacked := func(n int, _ *Placer) []int { return Spread(6, n, n-6) }
	shape := 0
	halfStep := func(n int, _ *Placer) []int {
		g := n/6 - 1
		shape++
		if shape%2 == 1 {
			return Spread(6, n, g*6)
		}
		return Spread(6, n, g/2*6)
	}
	ours := func(n int, p *Placer) []int { return p.place(n, 6) }
	for _, c := range []struct {
		rule        string
		at          func(n int, p *Placer) []int
		least, mean string
	}{
		{"stacked", stacked, "0.09", "0.17"},
		{"half step", halfStep, "0.75", "0.93"},
		{"Placer", ours, "0.75", "0.93"},
	} {
		var p Placer
		least, sum, pairs := math.Inf(1), 0.0, 0.0
		for n := 6; n < 72; n += 6 {
			at := c.at(n, &p)
			p.increase(at, n)
			if n > 12 {
				d := Stagger(p.before[0], p.before[1])
				least, sum, pairs = min(least, d), sum+d, pairs+1
			}
		}
		match(t, c.rule+" least", least, c.least, "X")
		match(t, c.rule+" mean", sum/pairs, c.mean, "X")
	}
}

// Where the number stays the same and divides, the places take turns between
// the end and the middle of the repeat, whatever the number.
func TestPlacerTakesTurns(t *testing.T) {
	for k := 2; k <= 16; k++ {
		var p Placer
		for i := range 40 {
			n := (i + 1) * k
			offset := i * k
			if i%2 == 1 {
				offset = i / 2 * k
			}
			if got, want := p.Increase(n, k), Spread(k, n, offset); !slices.Equal(got, want) {
				t.Fatalf("round %d of %d: %v, want %v", i+2, k, got, want)
			}
		}
	}
}

// Counts that do not divide, up and down.
func TestPlacer(t *testing.T) {
	var p Placer
	for _, c := range []struct {
		n, k int // k < 0 for decreases
		want []int
	}{
		{6, 6, []int{0, 1, 2, 3, 4, 5}},
		{12, 6, []int{0, 2, 4, 6, 8, 10}},
		{18, 5, []int{2, 5, 9, 13, 16}},
		{23, 5, nil},
		{28, 3, nil},
		{31, 3, nil},
		{34, -3, nil},
		{31, -8, nil},
		{23, -5, nil},
		{18, -6, nil},
		{12, -6, []int{0, 1, 2, 3, 4, 5}},
	} {
		var got []int
		places := c.n
		if c.k > 0 {
			got = p.Increase(c.n, c.k)
		} else {
			got = p.Decrease(c.n, -c.k)
			places = c.n + c.k
		}
		if c.want != nil && !slices.Equal(got, c.want) {
			t.Errorf("%d into %d: %v, want %v", c.k, c.n, got, c.want)
		}
		if len(got) != max(c.k, -c.k) || !slices.IsSorted(got) || got[len(got)-1] >= places {
			t.Errorf("%d into %d: %v", c.k, c.n, got)
		}
		// No offset is better by more than the tolerance.
		if p.before[1] != nil && places%len(got) != 0 {
			d := Stagger(p.before[0], p.before[1])
			if d < 0.3 {
				t.Errorf("%d into %d: %v stands above the shaping before, d = %.2f", c.k, c.n, got, d)
			}
		}
	}
}

// A round read backwards: decreasing what was just increased, at the same
// places, leads back to the same phase.
func TestPhase(t *testing.T) {
	for _, at := range [][]int{{0, 3, 6, 9, 12, 15}, {2, 5, 8, 11, 14, 17}, {0, 4, 9}, {17}} {
		var p Placer
		const n = 18
		p.increase(at, n)
		results := make([]int, len(at))
		copy(results, at)
		p.decrease(results, n+len(at))
		near(t, fmt.Sprintf("phase after %v there and back", at), p.phase, 0, 1e-12)
	}
}

func TestPieces(t *testing.T) {
	for _, c := range []struct {
		at   []int
		n    int
		want int
	}{
		{[]int{2, 5, 8, 11, 14, 17}, 18, 1}, // (2, inc) x 6
		{[]int{0, 3, 6, 9, 12, 15}, 18, 2},  // (inc, 2) x 6
		{[]int{1, 4, 7, 10, 13, 16}, 18, 2}, // (1, inc, 1) x 6
		{[]int{2, 7, 11, 16, 21}, 23, 5},    // 2, inc, 4, inc, 3, inc, (4, inc) x 2, 1
		{[]int{0, 1, 2, 3, 4, 5}, 6, 1},     // inc x 6
		{[]int{3}, 10, 2},                   // 3, inc, 6
		{[]int{9}, 10, 1},                   // 9, inc
		{[]int{2, 6, 9, 13}, 14, 2},         // (2, inc, 3, inc) x 2
	} {
		if got := pieces(c.at, c.n); got != c.want {
			t.Errorf("%v of %d is written in %d pieces, want %d", c.at, c.n, got, c.want)
		}
	}
}

func TestStaggerAngles(t *testing.T) {
	for _, c := range []struct {
		a, b []float64
		want float64
	}{
		{[]float64{0, 0.5}, []float64{0.25, 0.75}, 1},
		{[]float64{0, 0.5}, []float64{0.5, 1}, 0},
		{[]float64{0.99}, []float64{3.01}, 0.04},
		{[]float64{-0.1, 0.4}, []float64{0.1}, 0.8},
		{nil, []float64{0.1}, 0},
	} {
		near(t, fmt.Sprintf("stagger of %v and %v", c.a, c.b), Stagger(c.a, c.b), c.want, 1e-12)
	}
}

func TestSpreadPanics(t *testing.T) {
	for _, c := range [][3]int{{0, 5, 0}, {6, 5, 0}, {2, 5, 5}, {2, 5, -1}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("Spread%v does not panic", c)
				}
			}()
			Spread(c[0], c[1], c[2])
		}()
	}
}

func BenchmarkPlacer(b *testing.B) {
	for _, n := range []int{50, 500} {
		b.Run(fmt.Sprintf("stitches=%d", n), func(b *testing.B) {
			for b.Loop() {
				var p Placer
				p.Increase(n, 6)
				p.Increase(n+6, 5) // all offsets
			}
		})
	}
}
