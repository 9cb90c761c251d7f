package pattern

import (
	"roundelay/pattern/shape"
	"roundelay/pattern/stitch"
)

// A YarnEstimate is how much of one yarn a size takes, all pieces together and
// each as often as it is made.
type YarnEstimate struct {
	Yarn   Yarn
	Metres shape.Amount
	Grams  shape.Amount // 0 if neither label nor weight class of the yarn is stated
	Basis  YarnBasis
}

// A YarnBasis says what an amount of yarn goes by.
type YarnBasis uint8

// The bases, from the least to the most certain.
const (
	ByStitch  YarnBasis = iota // the usual length of yarn in a stitch
	BySwatch                   // a swatch that was weighed or measured
	ByWeighed                  // another size whose yarn was weighed before and after
	Weighed                    // this size, weighed before and after
)

// String returns what the amount goes by, in words.
func (b YarnBasis) String() string {
	return [...]string{"an estimate from the stitches", "an estimate by the swatch", "an estimate by the size that was weighed", "weighed before and after"}[b]
}

// A Stint is some rounds one after the other in which a piece uses a yarn. It
// begins where the yarn is taken up.
type Stint struct {
	Piece       *PieceEstimate
	Yarn        int // index into Estimate.Yarns
	First, Last int // numbers of the rounds
	Stitches    int
	Metres      shape.Amount // for the stint
	Left        shape.Amount // for it and all that comes after it in the piece
}

// A Swatch is a piece of fabric that was weighed, or whose yarn was measured.
type Swatch struct {
	Stitch            stitch.Stitch
	WidthMM, HeightMM float64
	Grams             float64 // 0 if it was not weighed
	Metres            float64 // 0 if it was not measured
}

// A reckoner tells how much of one yarn stitches take.
type reckoner struct {
	shape.Yarn
	per   shape.Amount // metres in 100 g
	known map[stitch.Stitch]shape.Estimate
	area  float64 // yarn of an area against one of single crochet, in the swatch
}

func (f Fabric) reckoner(y Yarn, swatch *Swatch) *reckoner {
	r := &reckoner{known: map[stitch.Stitch]shape.Estimate{}}
	r.Yarn, r.per = f.yarn(y)
	if swatch != nil {
		r.Swatch = shape.Swatch{WidthMM: swatch.WidthMM, HeightMM: swatch.HeightMM, Grams: swatch.Grams, Metres: swatch.Metres}
		r.area = perArea(swatch.Stitch)
	}
	return r
}

// perArea returns the yarn that a stitch takes for its area, against single
// crochet.
func perArea(s stitch.Stitch) float64 {
	if s.Base == stitch.Single {
		return 1
	}
	return shape.OtherPerArea
}

// posts returns how many plain stitches take as much yarn as s. Two closed
// together take shape.DecreaseFactor, and so in proportion does all that is
// closed together (judgement).
func posts(s stitch.Stitch) float64 {
	switch s.Form {
	case stitch.Plain:
		return 1
	case stitch.Popcorn, stitch.Shell:
		return float64(s.N)
	}
	return shape.DecreaseFactor / 2 * float64(s.N)
}

// spareYarn is how much more than the stitches take the high end of an estimate
// without a swatch has, for what is cut off, joined, pulled out and worked anew
// (common practice: a tenth). With it the range for single crochet reaches from
// 4.9 to 8.1 widths a stitch; the published figures are 5.4 to 7.8.
const spareYarn = 0.10

// stitch returns the yarn of one stitch. A slip stitch takes that of a chain
// (judgement), a picot that of its chains and the slip stitch that closes it.
func (r *reckoner) stitch(f Fabric, s stitch.Stitch) shape.Estimate {
	if e, ok := r.known[s]; ok {
		return e
	}
	var e shape.Estimate
	switch {
	case s == stitch.Ch, s == stitch.SlSt:
		e = r.Chains(1)
	case s.Form == stitch.Picot:
		e = r.Chains(int(s.N) + 1)
	default:
		size := f.Stitch(s)
		size.HeightMM *= posts(s)
		other := s.Base != stitch.Single
		if r.area > 0 { // the swatch is the measure
			size.HeightMM *= perArea(s) / r.area
			other = false
		}
		// The sizes were checked when the shape was worked out.
		e, _ = r.Estimate(shape.Batch{Count: 1, Size: size, Other: other})
	}
	spare := 1 + spareYarn
	if r.Swatch != (shape.Swatch{}) {
		spare = 1
	}
	for _, a := range []*shape.Amount{&e.Metres, &e.Grams} { // a gauge that is not certain
		a.Low *= f.Low
		a.High *= f.High * spare
	}
	r.known[s] = e
	return e
}

// grams returns the grams of an estimate: by label or swatch, else by what
// yarns of the class mostly have.
func (r *reckoner) grams(e shape.Estimate) shape.Amount {
	if e.Grams.Value > 0 || r.per.Value == 0 {
		return e.Grams
	}
	return shape.Amount{Value: 100 * e.Metres.Value / r.per.Value, Low: 100 * e.Metres.Low / r.per.High, High: 100 * e.Metres.High / r.per.Low}
}

// yarns returns the yarns of a size; one of which nothing is known, if the
// pattern states none.
func (s *Size) yarns() []Yarn {
	if len(s.Yarns) == 0 {
		return []Yarn{{Weight: -1}}
	}
	return s.Yarns
}

// reckonYarns sets Yarns and Stints as reckoned from the stitches or a swatch.
func (e *Estimate) reckonYarns(p *Pattern) {
	for _, y := range e.Size.yarns() {
		e.Yarns = append(e.Yarns, YarnEstimate{Yarn: y})
		if p.Swatch != nil {
			e.Yarns[len(e.Yarns)-1].Basis = BySwatch
		}
	}
	for _, pe := range e.Pieces {
		reckoners := make([]*reckoner, len(e.Yarns))
		for i := range e.Yarns {
			reckoners[i] = pe.Fabric.reckoner(e.Yarns[i].Yarn, p.Swatch)
		}
		sums := e.stints(pe, reckoners)
		for i, sum := range sums {
			if sum == (shape.Estimate{}) {
				continue
			}
			r := reckoners[i]
			sum = sum.Plus(r.Ends(1))
			y, times := &e.Yarns[i], float64(pe.Piece.Make)
			y.Metres = y.Metres.Plus(sum.Metres.Times(times))
			y.Grams = y.Grams.Plus(r.grams(sum).Times(times))
		}
	}
}

// stints adds the stints of a piece and returns how much of each yarn it takes.
func (e *Estimate) stints(pe *PieceEstimate, reckoners []*reckoner) []shape.Estimate {
	p := pe.Piece
	sums := make([]shape.Estimate, len(reckoners))
	first := len(e.Stints)
	open := map[int]int{} // the stint of each yarn of the round before, as an index into e.Stints
	for _, r := range p.Rounds {
		now := map[int]int{}
		for i := range r.Stitches {
			s := &r.Stitches[i]
			yarn := 0
			if int(s.Yarn) < len(p.Yarns) {
				yarn = p.Yarns[s.Yarn]
			}
			at, ok := now[yarn]
			if !ok {
				if at, ok = open[yarn]; !ok {
					at = len(e.Stints)
					e.Stints = append(e.Stints, Stint{Piece: pe, Yarn: yarn, First: r.Number})
				}
				now[yarn] = at
			}
			took := reckoners[yarn].stitch(pe.Fabric, s.Kind)
			sums[yarn] = sums[yarn].Plus(took)
			stint := &e.Stints[at]
			stint.Last = r.Number
			stint.Metres = stint.Metres.Plus(took.Metres)
			if s.Counts {
				stint.Stitches++
			}
		}
		open = now
	}
	left := make([]shape.Amount, len(reckoners))
	for i := len(e.Stints) - 1; i >= first; i-- {
		s := &e.Stints[i]
		left[s.Yarn] = left[s.Yarn].Plus(s.Metres)
		s.Left = left[s.Yarn]
	}
	return sums
}

// weighedG returns the grams that were used by the scales; 0 if the ball was
// not weighed before and after.
func (y Yarn) weighedG() float64 {
	if y.BeforeG > y.AfterG {
		return y.BeforeG - y.AfterG
	}
	return 0
}

// calibrate puts amounts by the scales in the place of amounts by reckoning: in
// a size that was weighed as they are, in the others in the same proportion.
func (e *Estimate) calibrate(p *Pattern) error {
	for i := range e.Yarns {
		y := &e.Yarns[i]
		if g := y.Yarn.weighedG(); g > 0 {
			if y.Grams.Value > 0 {
				e.scale(i, g/y.Grams.Value, 0)
			}
			y.Grams, y.Basis = shape.Amount{Value: g, Low: g, High: g}, Weighed
			continue
		}
		for _, s := range p.Sizes {
			g := s.yarns()[i].weighedG()
			if g == 0 || s == e.Size {
				continue
			}
			other, err := p.reckon(s)
			if err != nil {
				return err
			}
			if took := other.Yarns[i].Grams.Value; took > 0 {
				e.scale(i, g/took, shape.SwatchBand)
				y.Basis = ByWeighed
			}
			break
		}
	}
	return nil
}

// scale multiplies the amounts of a yarn and gives them a band of the fraction
// part either way.
func (e *Estimate) scale(yarn int, f, part float64) {
	to := func(a *shape.Amount) {
		v := a.Value * f
		*a = shape.Amount{Value: v, Low: v * (1 - part), High: v * (1 + part)}
	}
	to(&e.Yarns[yarn].Metres)
	to(&e.Yarns[yarn].Grams)
	for i := range e.Stints {
		if e.Stints[i].Yarn == yarn {
			to(&e.Stints[i].Metres)
			to(&e.Stints[i].Left)
		}
	}
}
