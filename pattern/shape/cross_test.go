package shape

import (
	"math"
	"testing"
)

func TestCrossing(t *testing.T) {
	for _, c := range []struct {
		name string
		f    func(float64) float64
		want float64
	}{
		{"a line", func(x float64) float64 { return x - 0.3 }, 0.3},
		{"steep at one end", func(x float64) float64 { return math.Expm1(30 * (x - 0.9)) }, 0.9},
		{"flat about it", func(x float64) float64 { return math.Pow(x-0.5, 3) }, 0.5},
		{"at an end", func(x float64) float64 { return x }, 0},
		{"above all along", func(x float64) float64 { return 1 + x }, 0},
		{"below all along", func(x float64) float64 { return x - 2 }, 1},
	} {
		if got := crossing(0, 1, c.f); math.Abs(got-c.want) > 1e-4 || math.Abs(c.f(got)) > math.Abs(c.f(c.want))+1e-9 {
			t.Errorf("%s: %.12g, want %g", c.name, got, c.want)
		}
	}
}

// A plan is solved by itself in the end: its shape is that of its counts alone,
// to the last digit, whatever was solved on the way to it.
func TestPlanSettled(t *testing.T) {
	for _, target := range []Profile{Ball(80), Egg(60, 80), Ellipsoid(90, 60)} {
		p, err := NewPlan(target, Options{Stitch: sc20x22, Stretch: 0.05})
		if err != nil {
			t.Fatal(err)
		}
		alone, err := Stuff(p.Schedule, Stuffing{Stretch: 0.05})
		if err != nil {
			t.Fatal(err)
		}
		for i := range alone.Profile {
			if alone.Profile[i] != p.Shape[i] {
				t.Fatalf("edge %d is at %v in the plan, at %v alone", i, p.Shape[i], alone.Profile[i])
			}
		}
	}
}
