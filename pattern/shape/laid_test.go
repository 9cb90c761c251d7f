package shape

import (
	"math"
	"testing"
)

func TestLaid(t *testing.T) {
	const h = 5.0
	flat := 2 * math.Pi * h / 6 // the width at which 6 more a round lie flat
	for _, c := range []struct {
		name string
		s    Schedule
		want []float64 // radii over h; nil if the rim lies between hoops and links
	}{
		{"flat rate", Uniform([]int{6, 12, 18, 24}, Size{flat, h}, false), []float64{0, 1, 2, 3, 4}},
		{"flat from a hole", Schedule{StartMM: 2 * math.Pi * h, Rounds: []Round{{12, 4 * math.Pi * h, h}, {18, 6 * math.Pi * h, h}}}, []float64{1, 2, 3}},
		{"cups", Uniform([]int{5, 10, 15, 20}, Size{flat, h}, false), nil},
		{"ruffles", Uniform([]int{7, 14, 21, 28}, Size{flat, h}, false), nil},
	} {
		p, err := c.s.Laid()
		if err != nil {
			t.Fatal(err)
		}
		for i := range p {
			switch {
			case p[i].Z != 0:
				t.Errorf("%s: edge %d is %g mm up", c.name, i, p[i].Z)
			case c.want != nil && math.Abs(p[i].R-c.want[i]*h) > 1e-9:
				t.Errorf("%s: edge %d is %g mm from the axis, want %g", c.name, i, p[i].R, c.want[i]*h)
			case c.want == nil && i == len(p)-1:
				hoop, link := c.s.hoop(i)/(2*math.Pi), float64(i)*h
				if low, high := min(hoop, link), max(hoop, link); !(p[i].R > low && p[i].R < high) {
					t.Errorf("%s: the rim is %g mm from the axis, want %g to %g", c.name, p[i].R, low, high)
				}
			}
		}
	}
	if _, err := Uniform([]int{6, 12, 6}, Size{5, 5}, true).Laid(); err == nil {
		t.Error("a closed piece is laid flat")
	}
}

// No small change of the radii takes less energy.
func TestLaidIsLeast(t *testing.T) {
	s := Schedule{StartMM: 20, Rounds: []Round{{8, 45, 4}, {14, 60, 9}, {20, 110, 5}, {20, 108, 2}}}
	p, err := s.Laid()
	if err != nil {
		t.Fatal(err)
	}
	energy := func(p Profile) float64 {
		sum := 0.0
		for i := range p {
			height := 0.0
			if i > 0 {
				h := s.link(i)
				sum += h * (s.hoop(i-1) + s.hoop(i)) / 2 * math.Pow((p[i].R-p[i-1].R)/h-1, 2)
				height += h
			}
			if i < len(p)-1 {
				height += s.link(i + 1)
			}
			sum += s.hoop(i) * height / 2 * math.Pow(2*math.Pi*p[i].R/s.hoop(i)-1, 2)
		}
		return sum
	}
	least := energy(p)
	for i := range p {
		for _, d := range []float64{-0.01, 0.01} {
			p[i].R += d
			if e := energy(p); e <= least {
				t.Errorf("edge %d moved by %g mm takes %g, not more than %g", i, d, e, least)
			}
			p[i].R -= d
		}
	}
}
