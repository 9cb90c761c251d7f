package shape

import (
	"fmt"
	"math"
	"testing"
)

func TestMixed(t *testing.T) {
	r := Mixed([]int{12, 6}, []Size{{5, 5}, {6, 8}})
	if want := (Round{18, 96, 6}); r != want {
		t.Errorf("round is %v, want %v", r, want)
	}
	if r := Mixed(nil, nil); r != (Round{}) {
		t.Errorf("no stitches make %v", r)
	}
}

func TestLastOpening(t *testing.T) {
	s := piece(t, "G6")
	// Openings at rest: 36 stitches of 5 mm are 57.3 mm across, 23 are 36.6,
	// 18 are 28.6.
	for _, c := range []struct {
		wide float64
		want int
	}{{EasyOpeningMM, 14}, {28, 15}, {57.2, 9}, {57.3, 0}, {0, 17}} {
		if got := s.LastOpening(c.wide); got != c.want {
			t.Errorf("last round at least %g mm across is %d, want %d", c.wide, got, c.want)
		}
	}
}

func TestHalfway(t *testing.T) {
	for _, c := range []struct {
		counts        []int
		round, stitch int
	}{
		{nil, 0, 0},
		{[]int{1}, 1, 1},
		{[]int{6, 6}, 1, 6},
		{[]int{6, 7}, 2, 1}, // 13: the 7th
		{[]int{6, 12, 18}, 2, 12},
		{[]int{6, 0, 12, 18}, 3, 12},
		{[]int{0, 0}, 0, 0},
		{pieces5["G6"].counts, 9, 18}, // a symmetric ball: the middle of its middle round
	} {
		round, stitch := Uniform(c.counts, sc20x20, true).Halfway()
		if round != c.round || stitch != c.stitch {
			t.Errorf("half of %v is at stitch %d of round %d, want %d of %d", c.counts, stitch, round, c.stitch, c.round)
		}
	}
}

// Half of a round d higher than the other half: the first harmonic of the
// height is 2 d/π. [D]
func TestTilt(t *testing.T) {
	const n, d, radius = 3600, 2.5, 28.647890
	heights := make([]float64, n)
	for i := range heights {
		heights[i] = 5
		if i < n/2 {
			heights[i] += d
		}
	}
	got := TiltRad(heights, radius)
	near(t, "tilt", got, 2*d/math.Pi/radius, 1e-6)
	match(t, "tilt in degrees", got*180/math.Pi, "3.18", "D")
	near(t, "tilt of an even round", TiltRad([]float64{5, 5, 5, 5}, radius), 0, 1e-15)
	if got := TiltRad(nil, radius); got != 0 {
		t.Errorf("tilt of no stitches is %g", got)
	}
}

// The rates that lie flat, and what other rates do. [D]
func TestFlatness(t *testing.T) {
	for _, c := range []struct {
		rate  float64
		ratio string // height over width
	}{
		{6, "0.954930"}, {8, "1.273240"}, {10, "1.591549"}, {12, "1.909859"}, {14, "2.228169"}, {16, "2.546479"}, {18, "2.864789"},
	} {
		match(t, fmt.Sprintf("height over width for %g", c.rate), c.rate/FlatRate(Size{1, 1}), c.ratio, "D")
	}
	for _, c := range []struct {
		ratio float64
		flat  string
		at    [4]string // for 5, 6, 7, 8 a round: degrees of the cup, or excess
	}{
		{0.8750, "5.4978", [4]string{"24.57", "1.0913", "1.2732", "1.4551"}},
		{1 / 1.1, "5.7120", [4]string{"28.91", "1.0504", "1.2255", "1.4006"}},
		{3 / math.Pi, "6.0000", [4]string{"33.56", "1.0000", "1.1667", "1.3333"}},
		{1.0000, "6.2832", [4]string{"37.27", "17.27", "1.1141", "1.2732"}},
		{1.1000, "6.9115", [4]string{"43.66", "29.76", "1.0128", "1.1575"}},
	} {
		size := Size{1, c.ratio}
		match(t, "flat rate", FlatRate(size), c.flat, "D")
		for i, want := range c.at {
			s := RateSlope(float64(5+i), size)
			what := fmt.Sprintf("%d a round at %.4f", 5+i, c.ratio)
			if s > 0.9999 {
				match(t, "excess of "+what, s.Excess(), want, "D")
			} else {
				match(t, "cup of "+what, s.AngleRad()*180/math.Pi, want, "D")
			}
		}
	}
	for _, c := range []struct {
		s      Slope
		ruffle Ruffle
		cups   bool
	}{
		{0, Smooth, true}, {0.93, Smooth, true}, {0.95, Smooth, false}, {1, Smooth, false}, {1.05, Smooth, false},
		{1.07, MayRipple, false}, {1.15, MayRipple, false}, {1.16, WillRuffle, false}, {-1.2, WillRuffle, true}, {-0.5, Smooth, true},
	} {
		if c.s.Ruffle() != c.ruffle || c.s.Cups() != c.cups {
			t.Errorf("slope %g: %v, cups %t; want %v, %t", c.s, c.s.Ruffle(), c.s.Cups(), c.ruffle, c.cups)
		}
	}
}

func TestSlopes(t *testing.T) {
	s := piece(t, "G1")
	slopes := s.Slopes()
	for i, want := range []string{"0.954930", "0.954930", "0", "0", "-0.954930", "-0.954930"} {
		match(t, fmt.Sprintf("slope %d", i+1), float64(slopes[i]), want, "X")
	}
	// 12 and 0 in turns spread as 6 each.
	near(t, "spread", float64(Uniform([]int{12, 12, 24, 24}, sc20x20, false).Spread()), float64(RateSlope(6, sc20x20)), 1e-12)
}

// The length of a sine wave of small amplitude around a circle is the excess
// times the circle.
func TestRuffleAmplitude(t *testing.T) {
	const radius, waves, excess = 50.0, 8, 1.04
	a := RuffleMM(radius, waves, excess)
	length, n := 0.0, 20000
	for i := range n {
		slope := a * waves / radius * math.Cos(waves*2*math.Pi*(float64(i)+0.5)/float64(n))
		length += 2 * math.Pi * radius / float64(n) * math.Hypot(1, slope)
	}
	near(t, "length of the wave over the circle", length/(2*math.Pi*radius), excess, 0.0015)
	near(t, "amplitude without excess", RuffleMM(radius, waves, 0.9), 0, 0)
}
