package shape

import (
	"fmt"
	"math"
	"testing"
)

// Ball G6 at stitches of 5 x 5 mm: 410 stitches, of which 30 are increases and
// 30 decreases, 419 times the yarn of one. [X]
func TestYarn(t *testing.T) {
	s := piece(t, "G6")
	up, down, last := 0, 0, 6
	for _, r := range s.Rounds {
		up, down, last = up+max(0, r.Count-last), down+max(0, last-r.Count), r.Count
	}
	if s.Stitches() != 410 || up != 30 || down != 30 {
		t.Fatalf("%d stitches, %d increases, %d decreases", s.Stitches(), up, down)
	}
	ball := Batch{Count: s.Stitches(), Decreases: down, Size: sc20x20}
	estimate := func(y Yarn, batches ...Batch) Estimate {
		t.Helper()
		e, err := y.Estimate(batches...)
		if err != nil {
			t.Fatal(err)
		}
		return e
	}

	y := Yarn{Stitch: sc20x20}
	match(t, "yarn of a stitch", y.StitchMM(), "30.5", "P")
	e := estimate(y, ball)
	match(t, "metres", e.Metres.Value, "12.7795", "X")
	match(t, "least metres", e.Metres.Low, "10.224", "X")
	match(t, "most metres", e.Metres.High, "15.335", "X")
	if e.Grams != (Amount{}) {
		t.Errorf("grams are %v without a weight of the yarn", e.Grams)
	}

	y.MetresPer100g = 250
	e = estimate(y, ball)
	near(t, "grams", e.Grams.Value, 12.7795/2.5, 1e-9)
	near(t, "most grams", e.Grams.High, 12.7795/2.5*1.2, 1e-9)

	y.Swatch = Swatch{WidthMM: 100, HeightMM: 100, Grams: 12} // 0.12 g/cm²
	e = estimate(y, ball)
	match(t, "grams by swatch", e.Grams.Value, "12.5700", "X")
	near(t, "least grams by swatch", e.Grams.Low, 12.57*0.92, 1e-9)
	near(t, "metres by swatch", e.Metres.Value, 12.57*2.5, 1e-9)

	// 12 g for 10 x 10 cm at 20 x 22. [D]
	one := estimate(Yarn{Swatch: Swatch{100, 100, 12, 0}}, Batch{Count: 1, Size: sc20x22})
	match(t, "mg per stitch", 1000*one.Grams.Value, "27.2727", "D")
	if one.Metres != (Amount{}) {
		t.Errorf("metres are %v, the yarn's weight is unknown", one.Metres)
	}

	// A swatch whose yarn was measured.
	e = estimate(Yarn{Swatch: Swatch{50, 40, 0, 3}, MetresPer100g: 300}, Batch{Count: 80, Size: sc20x20})
	near(t, "metres by measured swatch", e.Metres.Value, 3, 1e-12)
	near(t, "grams by measured swatch", e.Grams.Value, 1, 1e-12)

	// Taller stitches beside the measured ones: by area, less 7 %, with the
	// wider band.
	tall := Batch{Count: 100, Size: Size{5, 7}, Other: true}
	e = estimate(Yarn{Stitch: sc20x20}, Batch{Count: 100, Size: sc20x20}, tall)
	near(t, "metres with taller stitches", e.Metres.Value, 3.05*(1+0.93*7/5), 1e-9)
	near(t, "least metres with taller stitches", e.Metres.Low, 3.05*(0.8+0.75*0.93*7/5), 1e-9)
}

// The yarn of a stitch by the diameter of the yarn, over the stitch width. [D]
func TestYarnByDiameter(t *testing.T) {
	// 9 wraps to the inch at 14 x 15 to 4 inches, a usual gauge: within the
	// band of the estimate that does not know the diameter.
	usual := Yarn{Stitch: Size{101.6 / 14, 101.6 / 15}, DiameterMM: 25.4 / 9}
	near(t, "at a usual gauge", usual.StitchMM()/usual.Stitch.WidthMM, WidthsPerStitch, LengthBand*WidthsPerStitch)
	y := Yarn{Stitch: Size{5, 4}, DiameterMM: 2}
	near(t, "by hand", y.StitchMM(), 15+8+8.4, 1e-12)
}

// The six published figures that the length is the mean of, in widths. [P]
func TestYarnSources(t *testing.T) {
	var n, sum, square float64
	for _, v := range []float64{(5.5 + 5.8) / 2, (6.0 + 7.8) / 2, 6.6, 5.4, 5.6, 6.2} {
		n, sum, square = n+1, sum+v, square+v*v
	}
	mean := sum / n
	deviation := math.Sqrt((square - n*mean*mean) / (n - 1))
	near(t, "mean", WidthsPerStitch, mean, 0.1)
	near(t, "band over two standard deviations", LengthBand*WidthsPerStitch/(2*deviation), 1, 0.1)
}

func TestYarnRest(t *testing.T) {
	y := Yarn{Stitch: sc20x20, MetresPer100g: 200}
	e := y.Ends(3).Plus(y.Chains(40))
	near(t, "metres of 3 ends and 40 chains", e.Metres.Value, 0.9+40*4.95*0.005, 1e-12)
	near(t, "grams of them", e.Grams.Value, (0.9+40*4.95*0.005)/2, 1e-12)

	// 1.5 oz of a ball of 220 yd in 3.5 oz are 94.3 yd. [P:
	// crochetbydarleenhopkins.com/2013/04/20]
	const gramsPerOunce, metresPerYard = 28.349523125, 0.9144
	used, err := Weighed(3.5*gramsPerOunce, 2*gramsPerOunce, 220*metresPerYard/(3.5*gramsPerOunce)*100)
	if err != nil {
		t.Fatal(err)
	}
	match(t, "yards by weighing", used.Metres.Value/metresPerYard, "94.3", "P")
	match(t, "ounces by weighing", used.Grams.Value/gramsPerOunce, "1.5", "P")
}

func TestYarnErrors(t *testing.T) {
	good := Batch{Count: 1, Size: sc20x20}
	for _, c := range []struct {
		y    Yarn
		b    Batch
		want string
	}{
		{Yarn{DiameterMM: -1}, good, "diameter of the yarn is -1: it must be 0 (unknown) to 1e+06"},
		{Yarn{MetresPer100g: math.NaN()}, good, "metres per 100 g is NaN: it must be 0 (unknown) to 1e+06"},
		{Yarn{Swatch: Swatch{Grams: 12}}, good, "the swatch is 0 x 0 mm: a swatch with its yarn needs both sides"},
		{Yarn{}, Batch{Count: 3, Decreases: 4, Size: sc20x20}, "3 stitches of which 4 are decreases: neither may be below 0, nor the second above the first"},
		{Yarn{}, Batch{Count: 3}, "a stitch is 0 x 0 mm: width and height must be 0.001 to 1e+06 mm"},
	} {
		_, err := c.y.Estimate(c.b)
		if err == nil || err.Error() != c.want {
			t.Errorf("error is %q, want %q", fmt.Sprint(err), c.want)
		}
	}
	_, err := Weighed(50, 60, 200)
	if want := "the yarn weighed 50 g before and 60 g after: the second must be from 0 to the first"; err == nil || err.Error() != want {
		t.Errorf("error is %q, want %q", fmt.Sprint(err), want)
	}
}

func TestFilling(t *testing.T) {
	g := Filling(112711.286, FillingKgPerM3)
	match(t, "grams of filling", g.Value, "2.8178", "X")
	near(t, "least grams", g.Low, 112711.286*15e-6, 1e-9)
	near(t, "most grams", g.High, 112711.286*40e-6, 1e-9)
	// The rule for cushions, length x width x 5 % ounces, over the volume
	// 0.1905 a³ of an inflated square of 16 to 18 inches. [P, and the volume
	// from memory]
	for _, c := range []struct {
		inches float64
		want   string
	}{{20, "22.7"}, {22, "20.6"}} {
		ounces := c.inches * c.inches * 0.05
		volume := 0.1905 * math.Pow(c.inches*0.0254, 3)
		match(t, "density of a cushion", ounces*0.028349523125/volume, c.want, "P")
	}
}
