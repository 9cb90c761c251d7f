package shape_test

import (
	"fmt"
	"math"

	"roundelay/pattern/shape"
)

// A mooring buoy: the ball of common practice, at 20 stitches and 22 rounds to
// 10 cm, so 5 mm wide and 4.5 mm high each.
var (
	stitch = shape.Size{WidthMM: 100.0 / 20, HeightMM: 100.0 / 22}
	buoy   = shape.Uniform(shape.RampCounts(6, 6), stitch, true)
)

func ExampleUniform() {
	s := shape.Uniform([]int{6, 12, 18, 18, 12, 6}, stitch, true)
	fmt.Printf("%d stitches, %.1f cm² of fabric\n", s.Stitches(), s.FabricMM2()/100)
	// Output: 72 stitches, 16.4 cm² of fabric
}

func ExampleMixed() {
	r := shape.Mixed([]int{12, 6}, []shape.Size{stitch, {WidthMM: 5, HeightMM: 7}})
	fmt.Printf("%d stitches, %.0f mm around, %.2f mm high\n", r.Count, r.AroundMM, r.HeightMM)
	// Output: 18 stitches, 90 mm around, 5.36 mm high
}

func ExampleSchedule_Rest() {
	for i, q := range shape.Uniform([]int{6, 12, 18, 18}, stitch, false).Rest() {
		fmt.Printf("edge %d: %.1f mm from the axis, %.1f mm up\n", i, q.R, q.Z)
	}
	// Output:
	// edge 0: 0.0 mm from the axis, 0.0 mm up
	// edge 1: 4.8 mm from the axis, 0.0 mm up
	// edge 2: 9.5 mm from the axis, 0.0 mm up
	// edge 3: 14.3 mm from the axis, 0.0 mm up
	// edge 4: 14.3 mm from the axis, 4.5 mm up
}

func ExampleStuff() {
	rest := buoy.Rest()
	filled, err := shape.Stuff(buoy, shape.Stuffing{Stretch: shape.NormalStretch})
	if err != nil {
		fmt.Println(err)
		return
	}
	p := filled.Profile
	fmt.Printf("empty:  %.0f x %.0f mm\n", rest.AcrossMM(), rest.HeightMM())
	fmt.Printf("filled: %.0f x %.0f mm, %.0f ml\n", p.AcrossMM(), p.HeightMM(), p.VolumeMM3()/1000)
	// Output:
	// empty:  57 x 27 mm
	// filled: 61 x 47 mm, 103 ml
}

func ExampleProfile_Sphere() {
	filled, err := shape.Stuff(buoy, shape.Stuffing{Stretch: shape.NormalStretch})
	if err != nil {
		fmt.Println(err)
		return
	}
	ball := filled.Profile.Sphere()
	fmt.Printf("a ball of %.0f mm, to within %.0f %% (%.0f %% at worst)\n", 2*ball.RadiusMM, 100*ball.RMS, 100*ball.Max)
	// Output: a ball of 58 mm, to within 7 % (20 % at worst)
}

func ExampleSchedule_Slopes() {
	s := shape.Uniform([]int{6, 12, 18, 28, 36, 44, 47}, stitch, false)
	for i, q := range s.Slopes() {
		fmt.Printf("round %d: %v", i+1, q.Ruffle())
		if q.Cups() {
			fmt.Printf(", stands up at %.0f°", q.AngleRad()*180/math.Pi)
		}
		fmt.Println()
	}
	// Output:
	// round 1: smooth
	// round 2: smooth
	// round 3: smooth
	// round 4: will ruffle
	// round 5: will ruffle
	// round 6: will ruffle
	// round 7: smooth, stands up at 58°
}

func ExampleFlatRate() {
	fmt.Printf("flat at %.2f more stitches a round\n", shape.FlatRate(stitch))
	for _, rate := range []float64{5, 6, 8} {
		s := shape.RateSlope(rate, stitch)
		fmt.Printf("%g: excess %.2f, %v, cups %t\n", rate, s.Excess(), s.Ruffle(), s.Cups())
	}
	// Output:
	// flat at 5.71 more stitches a round
	// 5: excess 0.88, smooth, cups true
	// 6: excess 1.05, smooth, cups false
	// 8: excess 1.40, will ruffle, cups false
}

func ExampleSchedule_LastOpening() {
	fmt.Println("fill before the end of round", buoy.LastOpening(shape.EasyOpeningMM))
	// Output: fill before the end of round 14
}

func ExampleSchedule_Halfway() {
	round, n := buoy.Halfway()
	fmt.Printf("half of %d stitches are made after stitch %d of round %d\n", buoy.Stitches(), n, round)
	// Output: half of 432 stitches are made after stitch 18 of round 9
}

func ExampleNewPlan() {
	o := shape.Options{Stitch: stitch, Stretch: shape.NormalStretch}
	plan, err := shape.NewPlan(shape.Ball(80), o)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(plan.Counts)
	fmt.Printf("%.0f x %.0f mm, round to within %.1f %%\n", plan.Shape.AcrossMM(), plan.Shape.HeightMM(), 100*plan.Fit.RMS)

	ramp, alternating, err := shape.CommonBalls(80, o)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("common practice: %.1f %%, or %.1f %% with plain rounds in turn\n", 100*ramp.Fit.RMS, 100*alternating.Fit.RMS)
	// Output:
	// [6 12 18 24 30 30 36 42 42 42 48 48 48 48 48 42 42 42 36 30 30 24 18 12 6]
	// 80 x 78 mm, round to within 0.7 %
	// common practice: 7.2 %, or 10.2 % with plain rounds in turn
}

// A limpet by hand: points of its outline from the tip to the rim.
func ExampleNewPlan_points() {
	limpet := shape.Profile{{R: 0, Z: 0}, {R: 8, Z: 3}, {R: 22, Z: 18}, {R: 30, Z: 32}}
	plan, err := shape.NewPlan(limpet, shape.Options{Stitch: stitch, Multiple: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(plan.Counts)
	// Output: [6 11 14 18 22 26 29 32 35 38]
}

func ExampleCylinder() {
	// The tower of a lighthouse: a domed top, a flat base.
	tower := shape.Cylinder(50, 120, shape.Domed, shape.Flat)
	fmt.Printf("%.0f mm across, %.0f mm high, %.0f mm over the curve\n", tower.AcrossMM(), tower.HeightMM(), tower.LengthMM())
	// Output: 50 mm across, 120 mm high, 159 mm over the curve
}

func ExampleSpread() {
	fmt.Println(shape.Spread(5, 23, 11))
	// Output: [2 6 11 16 20]
}

func ExamplePlacer() {
	var p shape.Placer
	for n := 6; n < 36; n += 6 {
		fmt.Printf("increases in the %d stitches at %v\n", n, p.Increase(n, 6))
	}
	// Output:
	// increases in the 6 stitches at [0 1 2 3 4 5]
	// increases in the 12 stitches at [0 2 4 6 8 10]
	// increases in the 18 stitches at [2 5 8 11 14 17]
	// increases in the 24 stitches at [1 5 9 13 17 21]
	// increases in the 30 stitches at [4 9 14 19 24 29]
}

func ExampleYarn_Estimate() {
	batch := shape.Batch{Count: buoy.Stitches(), Decreases: 30, Size: stitch}
	guess := shape.Yarn{Stitch: stitch, MetresPer100g: 270}
	weighed := guess
	weighed.Swatch = shape.Swatch{WidthMM: 100, HeightMM: 100, Grams: 5.5}
	for _, y := range []shape.Yarn{guess, weighed} {
		e, err := y.Estimate(batch)
		if err != nil {
			fmt.Println(err)
			return
		}
		e = e.Plus(y.Ends(1))
		fmt.Printf("%.1f m (%.1f to %.1f), %.1f g\n", e.Metres.Value, e.Metres.Low, e.Metres.High, e.Grams.Value)
	}
	// Output:
	// 13.8 m (11.1 to 16.4), 5.1 g
	// 15.2 m (14.0 to 16.4), 5.6 g
}

func ExampleWeighed() {
	used, err := shape.Weighed(50, 38.5, 270)
	fmt.Printf("%.1f g, %.0f m, %v\n", used.Grams.Value, used.Metres.Value, err)
	// Output: 11.5 g, 31 m, <nil>
}

func ExampleFilling() {
	g := shape.Filling(103e3, shape.FillingKgPerM3)
	fmt.Printf("%.1f g (%.1f to %.1f)\n", g.Value, g.Low, g.High)
	// Output: 2.6 g (1.5 to 4.1)
}
