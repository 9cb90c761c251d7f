package shape

import (
	"fmt"
	"math"
)

// An Amount is an estimate with the band that it most likely lies in.
type Amount struct {
	Value, Low, High float64
}

// plusMinus returns v with a band of the fraction part either way.
func plusMinus(v, part float64) Amount { return Amount{v, v * (1 - part), v * (1 + part)} }

// Times returns a, multiplied by f >= 0.
func (a Amount) Times(f float64) Amount { return Amount{a.Value * f, a.Low * f, a.High * f} }

// Plus returns the sum of two estimates that err the same way.
func (a Amount) Plus(b Amount) Amount {
	return Amount{a.Value + b.Value, a.Low + b.Low, a.High + b.High}
}

// What yarn a stitch takes. The lengths are fitted to six published figures for
// single crochet (windchilde.com/bluedepth/tag/crochet, 5.5-5.8 widths;
// interweave.com, yarn usage experiment, 6.0-7.8; smartsolve.ai question
// 93fb81ca86 and darngoodyarn.com for bulky, 5.4-6.6): mean 6.08, standard
// deviation 0.60.
const (
	WidthsPerStitch = 6.1 // yarn of a stitch over its width
	LengthBand      = 0.20

	// Where the diameter of the yarn is known, a stitch takes 3 widths, 2
	// heights and 4.2 diameters (derived, the last one fitted).
	perWidth, perHeight, perDiameter = 3, 2, 4.2

	// A stitch of another height takes less for its area than the measured
	// one: 0.84 to 1.02 (windchilde; interweave; thesnugglery.net/?p=392).
	OtherPerArea = 0.93
	OtherBand    = 0.25

	DecreaseFactor = 1.3  // two stitches worked into one, over one stitch (judgement)
	ChainWidths    = 4.95 // yarn of a chain over its width: 4.8-5.1 (windchilde)
	EndsMetres     = 0.3  // start and end of a piece (judgement)
	SwatchBand     = 0.08 // of an estimate from a weighed swatch (judgement)
)

// A Batch is some stitches of one size.
type Batch struct {
	Count     int
	Decreases int  // how many of them are two worked into one
	Size      Size // of one stitch
	Other     bool // of another kind than the stitch that the Yarn is measured in
}

// areaMM2 returns the area of measured fabric that takes the same yarn.
func (b Batch) areaMM2() float64 {
	a := (float64(b.Count) + (DecreaseFactor-1)*float64(b.Decreases)) * b.Size.WidthMM * b.Size.HeightMM
	if b.Other {
		a *= OtherPerArea
	}
	return a
}

// A Swatch is a piece of fabric that was weighed, or whose yarn was measured.
type Swatch struct {
	WidthMM, HeightMM float64
	Grams             float64 // 0 if not weighed
	Metres            float64 // 0 if not measured
}

// A Yarn is what is known of the yarn of a piece and of the fabric made of it.
type Yarn struct {
	Stitch        Size    // of the measured stitch; not needed with a Swatch that knows metres
	DiameterMM    float64 // 25.4 over the wraps per inch; 0 if unknown
	MetresPer100g float64 // 0 if unknown
	Swatch        Swatch  // of the measured stitch; the zero Swatch if there is none
}

// An Estimate is the yarn that a piece takes. An amount that cannot be known
// from what was given is 0.
type Estimate struct {
	Metres, Grams Amount
}

// StitchMM returns the length of yarn in one measured stitch, without a
// swatch: 3 w + 2 h + 4.2 diameters, or 6.1 w if the diameter is not known.
func (y Yarn) StitchMM() float64 {
	if y.DiameterMM > 0 {
		return perWidth*y.Stitch.WidthMM + perHeight*y.Stitch.HeightMM + perDiameter*y.DiameterMM
	}
	return WidthsPerStitch * y.Stitch.WidthMM
}

// Estimate returns the yarn that the batches take. It goes by area from the
// swatch, to within 8 %, where there is one, else from [Yarn.StitchMM], to
// within 20 %, and within 25 % for stitches of another kind. The ends of the
// piece come on top: see [Yarn.Ends].
func (y Yarn) Estimate(batches ...Batch) (Estimate, error) {
	if err := y.validate(batches); err != nil {
		return Estimate{}, err
	}
	var e Estimate
	area := 0.0
	if w := y.Stitch.WidthMM * y.Stitch.HeightMM; w > 0 {
		for _, b := range batches {
			band := LengthBand
			if b.Other {
				band = OtherBand
			}
			e.Metres = e.Metres.Plus(plusMinus(y.StitchMM()*b.areaMM2()/w/1000, band))
		}
	}
	for _, b := range batches {
		area += b.areaMM2()
	}
	s := y.Swatch
	swatch := s.WidthMM * s.HeightMM
	perGram := y.MetresPer100g / 100
	switch {
	case s.Metres > 0:
		e.Metres = plusMinus(s.Metres*area/swatch, SwatchBand)
	case s.Grams > 0 && perGram > 0:
		e.Metres = plusMinus(s.Grams*perGram*area/swatch, SwatchBand)
	}
	switch {
	case s.Grams > 0:
		e.Grams = plusMinus(s.Grams*area/swatch, SwatchBand)
	case perGram > 0:
		e.Grams = e.Metres.Times(1 / perGram)
	}
	return e, nil
}

// Ends returns the yarn for starting and ending so many pieces.
func (y Yarn) Ends(pieces int) Estimate {
	m := EndsMetres * float64(pieces)
	e := Estimate{Metres: Amount{m, m, m}}
	if y.MetresPer100g > 0 {
		e.Grams = e.Metres.Times(100 / y.MetresPer100g)
	}
	return e
}

// Chains returns the yarn of n chains as wide as the measured stitch.
func (y Yarn) Chains(n int) Estimate {
	e := Estimate{Metres: plusMinus(float64(n)*ChainWidths*y.Stitch.WidthMM/1000, LengthBand)}
	if y.MetresPer100g > 0 {
		e.Grams = e.Metres.Times(100 / y.MetresPer100g)
	}
	return e
}

// Plus returns the sum of e and f.
func (e Estimate) Plus(f Estimate) Estimate {
	return Estimate{e.Metres.Plus(f.Metres), e.Grams.Plus(f.Grams)}
}

func (y Yarn) validate(batches []Batch) error {
	for _, v := range []struct {
		name string
		v    float64
	}{
		{"width of a stitch", y.Stitch.WidthMM},
		{"height of a stitch", y.Stitch.HeightMM},
		{"diameter of the yarn", y.DiameterMM},
		{"metres per 100 g", y.MetresPer100g},
		{"width of the swatch", y.Swatch.WidthMM},
		{"height of the swatch", y.Swatch.HeightMM},
		{"grams of the swatch", y.Swatch.Grams},
		{"metres of the swatch", y.Swatch.Metres},
	} {
		if !(v.v >= 0 && v.v <= MaxLengthMM) {
			return fmt.Errorf("%s is %g: it must be 0 (unknown) to %g", v.name, v.v, MaxLengthMM)
		}
	}
	if s := y.Swatch; (s.Grams > 0 || s.Metres > 0) && !(inBounds(s.WidthMM) && inBounds(s.HeightMM)) {
		return fmt.Errorf("the swatch is %g x %g mm: a swatch with its yarn needs both sides", s.WidthMM, s.HeightMM)
	}
	for _, b := range batches {
		if b.Count < 0 || b.Decreases < 0 || b.Decreases > b.Count {
			return fmt.Errorf("%d stitches of which %d are decreases: neither may be below 0, nor the second above the first", b.Count, b.Decreases)
		}
		if !inBounds(b.Size.WidthMM) || !inBounds(b.Size.HeightMM) {
			return fmt.Errorf("a stitch is %g x %g mm: width and height must be %g to %g mm", b.Size.WidthMM, b.Size.HeightMM, MinLengthMM, MaxLengthMM)
		}
	}
	return nil
}

// Weighed returns the yarn that was used between two weighings of a ball of
// it: the difference, and its length from the label. (Common practice:
// crochetbydarleenhopkins.com/2013/04/20.) metresPer100g may be 0 for unknown;
// it returns an error if the ball did not become lighter.
func Weighed(beforeG, afterG, metresPer100g float64) (Estimate, error) {
	g := beforeG - afterG
	if !(g >= 0 && afterG >= 0 && beforeG <= MaxLengthMM) {
		return Estimate{}, fmt.Errorf("the yarn weighed %g g before and %g g after: the second must be from 0 to the first", beforeG, afterG)
	}
	m := g * math.Max(0, metresPer100g) / 100
	return Estimate{Metres: Amount{m, m, m}, Grams: Amount{g, g, g}}, nil
}

// FillingKgPerM3 is the density of fibre filling in a firmly filled toy
// (judgement: pillow guides give 12 to 21, coziepillow.com; the trade rule for
// cushions over the volume of an inflated square 21 to 23,
// quiltcraft.com/blog/pillow-fullness-is-important; furniture batts 35 to 50,
// patent WO1992001104).
var FillingKgPerM3 = Amount{25, 15, 40}

// Filling returns the grams of filling for a volume, at a density such as
// [FillingKgPerM3].
func Filling(volumeMM3 float64, kgPerM3 Amount) Amount { return kgPerM3.Times(volumeMM3 * 1e-6) }
