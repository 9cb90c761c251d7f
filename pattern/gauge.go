package pattern

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"roundelay/pattern/shape"
	"roundelay/pattern/stitch"
)

// A Fabric is the size of the stitches that a piece is reckoned with.
type Fabric struct {
	Gauge Gauge
	Basis GaugeBasis

	// The width of a stitch may be Low to High times that of Gauge, and its
	// height LowTall to HighTall times; all are 1 for a gauge that is stated.
	Low, High         float64
	LowTall, HighTall float64
}

// A GaugeBasis says where a gauge comes from.
type GaugeBasis uint8

// The bases.
const (
	Stated         GaugeBasis = iota
	StatedStitches            // the height of a round is estimated from the stitches
	StatedRounds              // the width of a stitch is estimated from the rounds
	FromHook                  // estimated from the size of the hook
	FromYarn                  // estimated from the weight class of the yarn
)

// String returns "as stated", or what the gauge is estimated from.
func (b GaugeBasis) String() string {
	return [...]string{
		"as stated", "estimated from the stitches of the gauge", "estimated from the rounds of the gauge",
		"estimated from the hook", "estimated from the weight of the yarn",
	}[b]
}

// A weightClass is what is known of a yarn by its class.
type weightClass struct {
	stitches      [2]float64 // single crochet over 4 in of garment fabric, least and most
	metresPer100g [2]float64
	wraps         float64 // per inch, about the middle of the tables
}

// Where the tables are open or silent, what stands here is judgement: a jumbo
// yarn has 5 stitches or fewer and less than 70 m there, and a lace yarn is
// measured in double crochet.
var (
	// weightClasses are the Standard Yarn Weight System of the Craft Yarn
	// Council as reprinted in a US crochet magazine of October 2018, p. 64
	// (stitches; issuhub.com/view/index?id=3342&pageIndex=64), and the
	// widest span of six tables of shops and blogs (metres, wraps; among them
	// skeinqueenyarns.co.uk, 2024-10-16, colourspun.blogspot.com/2011/05,
	// pardonmystash.com/podcast-episodes/yarn-weights). The tables of wraps do
	// not agree with each other: they are a hint.
	weightClasses = [...]weightClass{
		0: {[2]float64{32, 42}, [2]float64{500, 1000}, 27},
		1: {[2]float64{21, 32}, [2]float64{330, 600}, 18},
		2: {[2]float64{16, 20}, [2]float64{230, 400}, 14},
		3: {[2]float64{12, 17}, [2]float64{200, 300}, 12},
		4: {[2]float64{11, 14}, [2]float64{120, 222}, 10},
		5: {[2]float64{8, 11}, [2]float64{90, 181}, 7.25},
		6: {[2]float64{6, 9}, [2]float64{40, 100}, 5.75},
		7: {[2]float64{4, 5}, [2]float64{30, 70}, 4},
	}

	// toyHook is the width of a stitch over the diameter of the hook in ten
	// published gauges of toys and other small pieces: median, least and most
	// but for one outlier on either side. Garment fabric by the same hooks has
	// garmentHook, from both ends of the classes 1 to 5.
	toyHook     = shape.Amount{Value: 1.43, Low: 1.21, High: 1.52}
	garmentHook = shape.Amount{Value: 1.41, Low: 1.32, High: 1.54}

	// toyWidth is the width of a stitch of a toy over that in the middle of the
	// garment range of its yarn: median, least and most in published gauges of
	// toys that name their yarn. Toys are worked about a third tighter.
	toyWidth = shape.Amount{Value: 0.68, Low: 0.52, High: 1.2}
)

// The height of single crochet over its width: toyHeight is the median of
// eleven published gauges of toys, garmentHeight that of eleven of other pieces.
const (
	toyHeight     = 0.93
	garmentHeight = 0.909
)

// garmentTall is the range of garmentHeight in the same eleven gauges.
var garmentTall = shape.Amount{Value: garmentHeight, Low: 0.80, High: 0.94}

// usualHeight returns the height of a stitch over its width where a gauge does
// not say it: the medians of published gauges (as for garmentHeight; hdc of two,
// dc of four with two swatches of shirleyearley.wordpress.com, tr of one). Other
// stitches are in the ratio of [stitch.Stitch.Height] to single crochet.
func usualHeight(s stitch.Stitch) float64 {
	switch s.Base {
	case stitch.Half:
		return 1.38
	case stitch.Double:
		return 1.72
	case stitch.Treble:
		return 2.5
	}
	return garmentHeight * s.Height()
}

const over4inMM = 101.6

// Fabric returns the size of the stitches of a piece in this size: by the gauge,
// where one is stated, else by the hook, else by the weight of the yarn. Filled
// pieces are then taken to be worked as tightly as toys are. It reports whether
// there was any of these to go by.
func (s *Size) Fabric(p *Piece) (Fabric, bool) {
	switch {
	case s.Gauge != nil:
		return s.Gauge.fabric(), true
	case s.Hook.MM > 0:
		k, tall := garmentHook, garmentHeight
		if p.filled() {
			k, tall = toyHook, toyHeight
		}
		return estimated(FromHook, k.Times(s.Hook.MM), tall), true
	}
	weight := s.weight(p)
	if weight < 0 {
		return Fabric{}, false
	}
	c := weightClasses[weight]
	least, most := over4inMM/c.stitches[1], over4inMM/c.stitches[0]
	w, tall := shape.Amount{Value: 2 * over4inMM / (c.stitches[0] + c.stitches[1]), Low: least, High: most}, garmentHeight
	if p.filled() {
		w, tall = toyWidth.Times(w.Value), toyHeight
	}
	return estimated(FromYarn, w, tall), true
}

// fabric returns the fabric of a stated gauge, what it leaves out estimated.
func (g *Gauge) fabric() Fabric {
	f := Fabric{Gauge: *g, Low: 1, High: 1, LowTall: 1, HighTall: 1}
	least, most := garmentTall.Low/garmentTall.Value, garmentTall.High/garmentTall.Value
	switch {
	case g.Rounds == 0:
		f.Basis, f.LowTall, f.HighTall = StatedStitches, least, most
		f.Gauge.Rounds = g.OverMM / g.HeightMM()
	case g.Stitches == 0:
		f.Basis, f.Low, f.High = StatedRounds, 1/most, 1/least
		f.Gauge.Stitches = g.OverMM / g.WidthMM()
	}
	return f
}

// weight returns the weight class of the first yarn of a piece that states one;
// -1 if none does.
func (s *Size) weight(p *Piece) int {
	for _, i := range p.Yarns {
		if w := s.Yarns[i].Weight; w >= 0 {
			return w
		}
	}
	return -1
}

// estimated returns the fabric of single crochet of the given width, in
// millimetres, and height over the width.
func estimated(b GaugeBasis, w shape.Amount, tall float64) Fabric {
	low, high := w.Low/w.Value, w.High/w.Value
	return Fabric{
		Gauge: Gauge{Stitch: stitch.SC, Stitches: 100 / w.Value, Rounds: 100 / (tall * w.Value), OverMM: 100},
		Basis: b, Low: low, High: high, LowTall: low, HighTall: high,
	}
}

// Stitch returns the width and height of a stitch. All are as wide as the one
// that was measured, and as high against it as they usually are.
func (f Fabric) Stitch(s stitch.Stitch) shape.Size {
	h := f.Gauge.HeightMM()
	if measured := usualHeight(f.Gauge.Stitch); measured > 0 {
		h *= usualHeight(s) / measured
	}
	return shape.Size{WidthMM: f.Gauge.WidthMM(), HeightMM: h}
}

// String returns the gauge in words, such as "22 sc and 24 rounds to 10 cm, as
// stated", in US terms.
func (f Fabric) String() string { return f.Words(stitch.US) }

// Words returns the gauge in words, in the terms given.
func (f Fabric) Words(terms stitch.Terms) string {
	g, over := f.Gauge, fmt.Sprintf("%s mm", number(f.Gauge.OverMM))
	if cm := g.OverMM / 10; cm == math.Trunc(cm) {
		over = number(cm) + " cm"
	}
	name := g.Stitch.Abbr(terms)
	switch f.Basis {
	case Stated:
		return fmt.Sprintf("%s %s and %s rounds to %s, %s", number(g.Stitches), name, number(g.Rounds), over, f.Basis)
	case StatedStitches:
		return fmt.Sprintf("%s %s to %s, as stated, and about %.0f rounds, %s", number(g.Stitches), name, over, g.Rounds, f.Basis)
	case StatedRounds:
		return fmt.Sprintf("%s rounds to %s, as stated, and about %.0f %s, %s", number(g.Rounds), over, g.Stitches, name, f.Basis)
	}
	return fmt.Sprintf("about %.0f %s (%.0f to %.0f) and %.0f rounds to %s, %s", g.Stitches, name, g.Stitches/f.High, g.Stitches/f.Low, g.Rounds, over, f.Basis)
}

// yarn returns what is known of a yarn for estimates of how much of it is
// taken, and the metres in 100 g with the band of its class where the label is
// not stated; zero if nothing is known.
func (f Fabric) yarn(y Yarn) (shape.Yarn, shape.Amount) {
	// Lengths are those of single crochet, in which they were measured.
	out := shape.Yarn{Stitch: f.Stitch(stitch.SC), MetresPer100g: y.MetresPer100g}
	per := shape.Amount{Value: y.MetresPer100g, Low: y.MetresPer100g, High: y.MetresPer100g}
	wraps := y.WrapsPerInch
	if y.Weight >= 0 {
		c := weightClasses[y.Weight]
		wraps = cmp.Or(wraps, c.wraps)
		if per.Value == 0 {
			per = shape.Amount{Value: (c.metresPer100g[0] + c.metresPer100g[1]) / 2, Low: c.metresPer100g[0], High: c.metresPer100g[1]}
		}
	}
	if wraps > 0 {
		out.DiameterMM = 25.4 / wraps
	}
	return out, per
}

// Firmness says how hard a piece is filled.
type Firmness uint8

// The degrees of firmness.
const (
	Normal Firmness = iota
	Soft
	Firm
)

var firmnessWords = []string{"normal", "soft", "firm"}

// String returns "normal", "soft" or "firm".
func (f Firmness) String() string { return firmnessWords[f] }

// firmnessNamed returns the firmness with that name; Normal if there is none.
func firmnessNamed(s string) Firmness { return Firmness(max(0, slices.Index(firmnessWords, s))) }

// Stretch returns by how much filling stretches the fabric.
func (f Firmness) Stretch() float64 {
	return [...]float64{shape.NormalStretch, shape.SoftStretch, shape.FirmStretch}[f]
}

// FillingKgPerM3 returns the density of the filling. Softly filled is what
// guides call a pillow of medium to firm filling (coziepillow.com, 12 to 21);
// normally is [shape.FillingKgPerM3]; firmly is up to what batts for furniture
// have (patent WO1992001104, 35 to 50), the middle of it judgement.
func (f Firmness) FillingKgPerM3() shape.Amount {
	return [...]shape.Amount{shape.FillingKgPerM3, {Value: 16, Low: 12, High: 21}, {Value: 32, Low: 20, High: 50}}[f]
}
