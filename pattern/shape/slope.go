package shape

import "math"

// Message limits (judgement; a rate of 6 at the usual gauge has an excess of
// 1.05 and lies flat in practice, a rate of 8 has 1.40 and was seen to ruffle,
// mkcarroll.com/blog/2009/5/14).
const (
	RippleExcess = 1.06               // above it a round may ripple where the piece is not filled
	RuffleExcess = 1.15               // above it a round will ruffle, filled or not
	CupLimitRad  = 20 * math.Pi / 180 // above it a piece meant to be flat is not
)

// A Slope is how a round stands on the one before it at rest: the growth of
// its radius over its height. At 1 it lies flat outwards, at 0 it stands
// upright, at -1 it lies flat inwards. Beyond ±1 the hoop has more (or less)
// length than the fabric can reach, and ripples.
type Slope float64

// FlatRate returns the number of stitches to add in each round for a flat
// disc, 2π h/w: 5.71 for stitches 5 mm wide and 4.545 mm high. (Derived.)
func FlatRate(size Size) float64 { return 2 * math.Pi * size.HeightMM / size.WidthMM }

// RateSlope returns the slope of rounds that add the given number of stitches
// each, rate w/(2π h).
func RateSlope(rate float64, size Size) Slope { return Slope(rate / FlatRate(size)) }

// AngleRad returns the angle to the plane, acos of the slope: 0 flat outwards,
// π/2 upright, π flat inwards. Beyond ±1 it is that of ±1.
func (s Slope) AngleRad() float64 { return math.Acos(max(-1, min(1, float64(s)))) }

// Excess returns the size of s: above 1 it is the length of the hoop that the
// round asks for over the longest (or the shortest over that) that fits flat.
func (s Slope) Excess() float64 { return math.Abs(float64(s)) }

// Cups reports whether a round with this slope stands up too much for a piece
// meant to lie flat.
func (s Slope) Cups() bool { return s.AngleRad() > CupLimitRad }

// PolygonTurn returns the way around a regular polygon of so many sides over the
// distance from its middle to a side, 2 n tan(π/n): 8 for a square. (Handbook.)
func PolygonTurn(sides int) float64 { return 2 * float64(sides) * math.Tan(math.Pi/float64(sides)) }

// A Ruffle says how much longer a round is than its place.
type Ruffle uint8

// The degrees of ruffle.
const (
	Smooth Ruffle = iota
	MayRipple
	WillRuffle
)

// String returns "smooth", "may ripple" or "will ruffle".
func (r Ruffle) String() string {
	return [...]string{"smooth", "may ripple", "will ruffle"}[min(r, WillRuffle)]
}

// Ruffle returns how a round with this slope ripples. Only [WillRuffle]
// matters in a piece that is filled.
func (s Slope) Ruffle() Ruffle {
	switch q := s.Excess(); {
	case q > RuffleExcess:
		return WillRuffle
	case q > RippleExcess:
		return MayRipple
	}
	return Smooth
}

// RuffleMM returns the height of the ripples, from their middle line, of a
// round at the given radius that ripples in so many waves: (2 radius/waves)
// sqrt(excess-1), for small excess. It is 0 at an excess up to 1. (Derived for
// sine waves.)
func RuffleMM(radiusMM float64, waves int, excess float64) float64 {
	return 2 * radiusMM / float64(waves) * math.Sqrt(max(0, excess-1))
}

// Slopes returns the slope of each round, and after them that of the gathered
// end of a closed piece: (L - L')/(2π h), with the lengths around L' before and
// L after the round.
func (s Schedule) Slopes() []Slope {
	out := make([]Slope, s.edges())
	for i := range out {
		out[i] = Slope((s.hoop(i+1) - s.hoop(i)) / (2 * math.Pi * s.link(i+1)))
	}
	return out
}

// Spread returns the slope of the rounds taken together, the growth of the
// radius over their height: what a flat piece does in which rounds that add
// much take turns with rounds that add little.
func (s Schedule) Spread() Slope {
	height := 0.0
	for _, r := range s.Rounds {
		height += r.HeightMM
	}
	return Slope((s.hoop(len(s.Rounds)) - s.StartMM) / (2 * math.Pi * height))
}
