package chart

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The check values of smooth and space were worked out by two independent
// programs; those of space also by trying every set of tight gaps.
var spacings = []struct {
	name  string
	x     []float64
	mu    float64 // smooth first if above 0
	delta float64 // then space if above 0
	want  []float64
}{
	{"all at one place", []float64{0, 0, 0, 0}, 0, 0.5, []float64{-0.75, -0.25, 0.25, 0.75}},
	{"nearly full ring", []float64{0, 2, 4.5}, 0, 2, []float64{0.0722716, 2.0722716, 4.3554569}},
	{"clumps and wrap", []float64{0, 0, 1.2, 2.4, 2.4, 3.9, 5.0, 6.0}, 0, 0.75,
		[]float64{-0.1166244, 0.6333756, 1.3833756, 2.1333756, 2.8833756, 3.9, 4.6665609, 5.4165609}},
	{"two clumps", []float64{0, 0.1, 0.2, 3, 6, 6.1}, 0, 1,
		[]float64{-0.0332741, 0.9667259, 1.9667259, 3.0, 4.2499112, 5.2499112}},
	{"smoothed", []float64{0, 0, 1.2, 2.4, 2.4, 3.9, 5.0, 6.0}, 4, 0,
		[]float64{-0.1029281, 0.5491227, 1.3384540, 2.1623989, 2.9269435, 3.8232240, 4.7003105, 5.5024745}},
	{"smoothed and spaced", []float64{0, 0, 1.2, 2.4, 2.4, 3.9, 5.0, 6.0}, 4, 0.75,
		[]float64{-0.1157874, 0.6342126, 1.3842126, 2.1623989, 2.9269435, 3.8232240, 4.6673979, 5.4173979}},
}

func TestSpacing(t *testing.T) {
	for _, tt := range spacings {
		t.Run(tt.name, func(t *testing.T) {
			n := len(tt.x)
			got := tt.x
			if tt.mu > 0 {
				got = smooth(got, fill(n, 1), fill(n, 2*math.Pi/float64(n)), tt.mu)
			}
			if tt.delta > 0 {
				got = space(got, fill(n, 1), fill(n, tt.delta), 2*math.Pi)
			}
			for j := range got {
				if math.Abs(got[j]-tt.want[j]) > 6e-8 {
					t.Fatalf("got %.7f, want %.7f", got, tt.want)
				}
			}
		})
	}
}

func fill(n int, v float64) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = v
	}
	return s
}

// TestSmoothIsStationary checks that no place can be moved for the better, by
// the gradient of what smooth minimises.
func TestSmoothIsStationary(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		n := 1 + rng.IntN(30)
		target, weight, want := make([]float64, n), make([]float64, n), make([]float64, n)
		period := 0.0
		for j := range n {
			target[j], weight[j], want[j] = rng.Float64()*10, float64(rng.IntN(3)), rng.Float64()
			period += want[j]
		}
		weight[0] += 0.5
		x := smooth(target, weight, want, 4)
		for j := range n {
			next, prev := (j+1)%n, (j+n-1)%n
			ahead, behind := x[next]-x[j], x[j]-x[prev]
			if next <= j {
				ahead += period
			}
			if prev >= j {
				behind += period
			}
			g := weight[j]*(x[j]-target[j]) - 4*(ahead-want[j]) + 4*(behind-want[prev])
			if math.Abs(g) > 1e-9 {
				t.Fatalf("n=%d: gradient %g at place %d", n, g, j)
			}
		}
	}
}

// checkSpaced checks that y is the least move of x that keeps the gaps: the
// gaps hold, and the pushes between neighbours, which follow from the moves up
// to one number, can be chosen at least 0 and 0 wherever a gap is not tight
// (the conditions of Karush, Kuhn and Tucker, enough for a convex problem).
func checkSpaced(t *testing.T, x, weight, gap []float64, period float64, y []float64) {
	t.Helper()
	n := len(x)
	push := make([]float64, n) // between j and j+1, up to a number
	sum := 0.0
	for j := range n {
		sum += weight[j] * (x[j] - y[j])
		push[j] = sum
	}
	scale := 1 + math.Abs(period)
	for j := range n {
		scale = max(scale, math.Abs(x[j]), weight[j])
	}
	tol := 1e-9 * scale * scale * float64(n)
	if math.Abs(sum) > tol {
		t.Fatalf("the moves do not balance: %g", sum)
	}
	least := math.Inf(1)
	for _, p := range push {
		least = min(least, p)
	}
	for j := range n {
		next := y[0] + period
		if j+1 < n {
			next = y[j+1]
		}
		room := next - y[j] - gap[j]
		if room < -1e-9*scale {
			t.Fatalf("gap %d is short by %g", j, -room)
		}
		if room > 1e-7*scale && push[j]-least > tol {
			t.Fatalf("gap %d is free (%g) but pushes (%g)", j, room, push[j]-least)
		}
	}
}

func TestSpaceIsBest(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 5000 {
		n := 1 + rng.IntN(40)
		x, weight, gap := make([]float64, n), make([]float64, n), make([]float64, n)
		sum := 0.0
		for j := range n {
			x[j] = 2 * math.Pi * math.Pow(rng.Float64(), float64(1+rng.IntN(3)))
			weight[j], gap[j] = 0.1+rng.Float64(), rng.Float64()
			sum += gap[j]
		}
		period := sum * (1 + rng.Float64()*float64(rng.IntN(2)))
		checkSpaced(t, x, weight, gap, period, space(x, weight, gap, period))
	}
}

func FuzzSpace(f *testing.F) {
	f.Add([]byte{0, 0, 0, 0}, uint8(2), uint8(10))
	f.Add([]byte{0, 200, 90, 3, 250, 17}, uint8(1), uint8(0))
	f.Fuzz(func(t *testing.T, places []byte, gapSize, slack uint8) {
		n := min(len(places), 300)
		if n == 0 {
			return
		}
		x, weight, gap := make([]float64, n), make([]float64, n), make([]float64, n)
		period := float64(slack) / 100
		for j := range n {
			x[j] = float64(places[j]) / 40
			weight[j] = 1 + float64(places[j]%7)
			gap[j] = float64(gapSize) * float64(1+places[j]%3) / 1000
			period += gap[j]
		}
		checkSpaced(t, x, weight, gap, period, space(x, weight, gap, period))
	})
}
