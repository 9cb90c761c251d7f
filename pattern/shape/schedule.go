package shape

import (
	"errors"
	"fmt"
	"math"
)

// Limits of what is computed; a schedule or target beyond them is an error.
const (
	MaxRounds   = 2000
	MaxLengthMM = 1e6  // of a hoop, a height or the side of a target
	MinLengthMM = 1e-3 // the same
)

// A Size is the width and height of one stitch in millimetres.
type Size struct {
	WidthMM, HeightMM float64
}

// A Round is one round of a [Schedule].
type Round struct {
	Count    int     // stitches after the round
	AroundMM float64 // rest length of its top edge: the sum of the widths of its stitches
	HeightMM float64 // mean height of its stitches
}

// Mixed returns the round made of the given stitches, some of each size:
// its length around is the sum of all widths, its height the mean of all
// heights. counts[i] stitches have the size sizes[i].
func Mixed(counts []int, sizes []Size) Round {
	var r Round
	for i, c := range counts {
		r.Count += c
		r.AroundMM += float64(c) * sizes[i].WidthMM
		r.HeightMM += float64(c) * sizes[i].HeightMM
	}
	if r.Count > 0 {
		r.HeightMM /= float64(r.Count)
	}
	return r
}

// A Schedule is a piece, round by round.
type Schedule struct {
	// StartMM is the rest length of the edge that the first round is worked
	// into: 0 for a ring drawn shut, else a hoop, open or with a flat lid. A
	// start from both sides of a chain is such a hoop, as long as both sides:
	// the model makes a round piece of it, as large around.
	StartMM float64

	Rounds []Round // at least one
	Closed bool    // the last round is gathered to a point

	// Closing is the length of the gathered end over the height of the last
	// round; 0 means 1, with which counts that are the same backwards make a
	// shape that is its own mirror image. It matters little: between 1 and ¼
	// a ball of 17 rounds is 0.3 % wider and 6 % shorter.
	Closing float64
}

// Uniform returns the schedule of a piece that starts from a ring drawn shut
// and has stitches of one size.
func Uniform(counts []int, size Size, closed bool) Schedule {
	s := Schedule{Rounds: make([]Round, len(counts)), Closed: closed}
	for i, n := range counts {
		s.Rounds[i] = Round{n, float64(n) * size.WidthMM, size.HeightMM}
	}
	return s
}

// Validate returns an error that names the first number of s outside the
// limits, or nil.
func (s Schedule) Validate() error {
	if len(s.Rounds) == 0 {
		return errors.New("no rounds: a shape needs at least one")
	}
	if len(s.Rounds) > MaxRounds {
		return fmt.Errorf("%d rounds: at most %d can be computed", len(s.Rounds), MaxRounds)
	}
	if s.StartMM != 0 && !inBounds(s.StartMM) {
		return fmt.Errorf("length around the start is %g mm: it must be 0 (drawn shut) or %g to %g mm", s.StartMM, MinLengthMM, MaxLengthMM)
	}
	if s.Closing != 0 && !(s.Closing >= 0.01 && s.Closing <= 100) {
		return fmt.Errorf("closing factor is %g: it must be 0 (the usual 1) or 0.01 to 100", s.Closing)
	}
	for i, r := range s.Rounds {
		if !inBounds(r.AroundMM) {
			return fmt.Errorf("length around round %d is %g mm: it must be %g to %g mm", i+1, r.AroundMM, MinLengthMM, MaxLengthMM)
		}
		if !inBounds(r.HeightMM) {
			return fmt.Errorf("height of round %d is %g mm: it must be %g to %g mm", i+1, r.HeightMM, MinLengthMM, MaxLengthMM)
		}
	}
	return nil
}

func inBounds(mm float64) bool { return mm >= MinLengthMM && mm <= MaxLengthMM }

// edges returns the number of the last edge: links 1 to m join edges 0 to m.
func (s Schedule) edges() int {
	if s.Closed {
		return len(s.Rounds) + 1
	}
	return len(s.Rounds)
}

// hoop returns the rest length of edge i, 0 to s.edges().
func (s Schedule) hoop(i int) float64 {
	switch {
	case i == 0:
		return s.StartMM
	case i <= len(s.Rounds):
		return s.Rounds[i-1].AroundMM
	}
	return 0
}

// link returns the rest length of link i, 1 to s.edges().
func (s Schedule) link(i int) float64 {
	if i <= len(s.Rounds) {
		return s.Rounds[i-1].HeightMM
	}
	g := s.Closing
	if g == 0 {
		g = 1
	}
	return g * s.Rounds[len(s.Rounds)-1].HeightMM
}

// Stitches returns the number of stitches of all rounds.
func (s Schedule) Stitches() int {
	sum := 0
	for _, r := range s.Rounds {
		sum += r.Count
	}
	return sum
}

// FabricMM2 returns the area of the unstretched fabric, Σ h (L' + L)/2 over
// the links, L' and L being the lengths around at their two ends.
func (s Schedule) FabricMM2() float64 {
	sum := 0.0
	for i := 1; i <= s.edges(); i++ {
		sum += s.link(i) * (s.hoop(i-1) + s.hoop(i)) / 2
	}
	return sum
}

// QuickAcrossMM returns the width of the ball that has the area of the fabric,
// (1 + stretch) sqrt(area/π), without solving anything. It was within 0.3 % of
// the solved width for near balls and 4 % for one squashed to ¾ of its width
// (derived, and computed with the model).
func (s Schedule) QuickAcrossMM(stretch float64) float64 {
	return (1 + stretch) * math.Sqrt(s.FabricMM2()/math.Pi)
}

// EasyOpeningMM is the width of an opening through which filling is still
// pushed with ease: two fingers (judgement).
const EasyOpeningMM = 35

// LastOpening returns the last round whose opening, at rest, is at least wide
// millimetres across, counted from 1; 0 if no round is so wide.
func (s Schedule) LastOpening(wide float64) int {
	for i := len(s.Rounds); i > 0; i-- {
		if s.Rounds[i-1].AroundMM/math.Pi >= wide {
			return i
		}
	}
	return 0
}

// Halfway returns the place where half of all stitches are made: the round and
// the last stitch of the first half in it, both counted from 1. With an odd
// number of stitches the middle one belongs to the first half. Without stitches
// both are 0.
func (s Schedule) Halfway() (round, stitch int) {
	left := (s.Stitches() + 1) / 2
	for i, r := range s.Rounds {
		if left > 0 && left <= r.Count {
			return i + 1, left
		}
		left -= r.Count
	}
	return 0, 0
}

// TallLimit is the height of a stitch over the mean height of its round above
// which a filled round tilts enough to be seen (judgement).
const TallLimit = 1.3

// TiltRad returns the angle by which the top edge of a round of the given
// radius tilts when its stitches differ in height: A/radius, with A the
// amplitude of the first harmonic of the height against the angle, the
// stitches standing at equal angles. (Derived; small angles.)
func TiltRad(heightsMM []float64, radiusMM float64) float64 {
	var c, s float64
	n := float64(len(heightsMM))
	for i, h := range heightsMM {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / n)
		c += h * cos
		s += h * sin
	}
	if n == 0 || radiusMM <= 0 {
		return 0
	}
	return 2 / n * math.Hypot(c, s) / radiusMM
}
