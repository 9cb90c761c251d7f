package shape

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
)

func TestRest(t *testing.T) {
	for _, c := range []struct {
		id                            string
		stitches                      int
		r, high, area, volume, fabric string
		fit, rms, far                 string // radius, per cent, per cent
		tag                           string // of r, height, area, volume; the rest is X
	}{
		{"G1", 48, "9.549297", "15.936644", "1200.000", "3431.69669", "1200", "9.483105", "9.42126", "19.7603", "X2"},
		{"G2", 432, "28.647890", "47.809931", "10800.000", "92655.8107", "10800", "28.450891", "9.42708", "19.7647", "X2"},
		{"G3", 432, "28.647890", "27.272727", "10065.7111", "70317.5476", "9818.18182", "26.718386", "17.5889", "48.9626", "X2"},
		{"G4", 420, "28.647890", "62.809931", "10500.000", "66872.7099", "10500", "25.404547", "8.89073", "23.6195", "X"},
		{"G5", 210, "19.894368", "43.363395", "5250.000", "35554.5001", "5250", "20.403293", "1.44880", "6.26568", "X"},
		{"G6", 410, "28.647890", "58.334911", "10250.000", "96695.6278", "10250", "28.476149", "0.838044", "2.42767", "X"},
	} {
		t.Run(c.id, func(t *testing.T) {
			s := piece(t, c.id)
			p := s.Rest()
			if s.Stitches() != c.stitches {
				t.Errorf("%d stitches, want %d", s.Stitches(), c.stitches)
			}
			match(t, "radius", p.AcrossMM()/2, c.r, c.tag)
			match(t, "height", p.HeightMM(), c.high, c.tag)
			match(t, "area", p.AreaMM2(), c.area, c.tag)
			match(t, "volume", p.VolumeMM3(), c.volume, c.tag)
			match(t, "fabric", s.FabricMM2(), c.fabric, "X")
			ball := p.Sphere()
			match(t, "radius of best ball", ball.RadiusMM, c.fit, "X")
			match(t, "rms %", 100*ball.RMS, c.rms, "X")
			match(t, "max %", 100*ball.Max, c.far, "X")
		})
	}
}

func TestRestEdges(t *testing.T) {
	p := piece(t, "G1").Rest()
	for i, want := range []struct{ r, z string }{
		{"0", "0"}, {"4.774648", "1.484161"}, {"9.549297", "2.968322"}, {"9.549297", "7.968322"},
		{"9.549297", "12.968322"}, {"4.774648", "14.452483"}, {"0", "15.936644"},
	} {
		match(t, fmt.Sprintf("r of edge %d", i), p[i].R, want.r, "X2")
		match(t, fmt.Sprintf("z of edge %d", i), p[i].Z, want.z, "X2")
	}
}

// A hoop that is too long keeps its length and takes no height.
func TestRestOverrun(t *testing.T) {
	p := Uniform([]int{6, 24}, Size{5, 5}, false).Rest()
	near(t, "radius", p[2].R, 24*5/(2*math.Pi), 1e-12)
	near(t, "height of round 2", p[2].Z-p[1].Z, 0, 0)
}

// Two ends of different kinds, of stitches of two heights: worked out by hand.
func TestRestOpenStart(t *testing.T) {
	s := Schedule{StartMM: 20 * math.Pi, Rounds: []Round{{12, 20 * math.Pi, 7}, {12, 26 * math.Pi, 5}}}
	p := s.Rest()
	near(t, "r of edge 0", p[0].R, 10, 1e-12)
	near(t, "z of edge 1", p[1].Z, 7, 1e-12)
	near(t, "r of edge 2", p[2].R, 13, 1e-12)
	near(t, "z of edge 2", p[2].Z, 7+4, 1e-12)
	near(t, "volume", p.VolumeMM3(), math.Pi*100*7+math.Pi/3*(100+130+169)*4, 1e-9)
	near(t, "area", p.AreaMM2(), 2*math.Pi*10*7+math.Pi*23*5, 1e-9)
	near(t, "length", p.LengthMM(), 12, 1e-12)
}

// Rounds of taller stitches in a ball.
func TestTallRounds(t *testing.T) {
	s := piece(t, "G6")
	for i := 7; i < 10; i++ {
		s.Rounds[i].HeightMM *= 1.5
	}
	p := s.Rest()
	match(t, "height", p.HeightMM(), "65.899096", "X")
	match(t, "volume", p.VolumeMM3(), "115310.585", "X")
	f, err := Stuff(s, Stuffing{Stretch: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	match(t, "filled width", f.Profile.AcrossMM(), "60.835040", "X")
	match(t, "filled height", f.Profile.HeightMM(), "68.558026", "X")
	match(t, "filled volume", f.Profile.VolumeMM3(), "134585.940", "X")
}

// The measures of smooth solids against the formulas of the handbooks.
func TestHandbookSolids(t *testing.T) {
	const r, h = 31.5, 40.0
	// Oblate and prolate ellipsoids with semi-axes a across and c along.
	oblate := func(a, c float64) float64 {
		e := math.Sqrt(1 - c*c/(a*a))
		return 2 * math.Pi * a * a * (1 + (1-e*e)/e*math.Atanh(e))
	}
	prolate := func(a, c float64) float64 {
		e := math.Sqrt(1 - a*a/(c*c))
		return 2 * math.Pi * a * a * (1 + c/(a*e)*math.Asin(e))
	}
	for _, c := range []struct {
		name         string
		p            Profile
		area, volume float64
	}{
		{"ball", Ball(2 * r), 4 * math.Pi * r * r, 4.0 / 3 * math.Pi * r * r * r},
		{"flat ellipsoid", Ellipsoid(100, 60), oblate(50, 30), 4.0 / 3 * math.Pi * 50 * 50 * 30},
		{"long ellipsoid", Ellipsoid(60, 100), prolate(30, 50), 4.0 / 3 * math.Pi * 30 * 30 * 50},
		{"egg", Egg(60, 80), (ellipsoid(30, EggBlunt*80, oblate, prolate) + ellipsoid(30, (1-EggBlunt)*80, oblate, prolate)) / 2, 2.0 / 3 * math.Pi * 30 * 30 * 80},
		{"open cone", Cone(2*r, h, Open), math.Pi * r * math.Hypot(r, h), math.Pi / 3 * r * r * h},
		{"cone with base", Cone(2*r, h, Flat), math.Pi*r*math.Hypot(r, h) + math.Pi*r*r, math.Pi / 3 * r * r * h},
		{"cone on half a ball", Cone(2*r, h, Domed), math.Pi*r*math.Hypot(r, h) + 2*math.Pi*r*r, math.Pi/3*r*r*h + 2.0/3*math.Pi*r*r*r},
		{"half ball", Dome(2*r, r, Open), 2 * math.Pi * r * r, 2.0 / 3 * math.Pi * r * r * r},
		{"tube", Cylinder(2*r, h, Open, Open), 2 * math.Pi * r * h, math.Pi * r * r * h},
		{"drum", Cylinder(2*r, h, Flat, Flat), 2*math.Pi*r*h + 2*math.Pi*r*r, math.Pi * r * r * h},
		{"capsule", Cylinder(2*r, h+2*r, Domed, Domed), 2*math.Pi*r*h + 4*math.Pi*r*r, math.Pi*r*r*h + 4.0/3*math.Pi*r*r*r},
		{"disc", Disc(2 * r), math.Pi * r * r, 0},
		{"cup", Cup(60, 80, 40), math.Pi*900 + math.Pi*70*math.Hypot(10, 40), math.Pi / 3 * 40 * (900 + 1200 + 1600)},
	} {
		near(t, "area of "+c.name, c.p.AreaMM2(), c.area, 2e-5*c.area)
		near(t, "volume of "+c.name, c.p.VolumeMM3(), c.volume, 3e-5*c.volume+1e-9)
	}
	match(t, "volume of a ball of radius 31.5", 4.0/3*math.Pi*r*r*r, "130924.303", "H")
}

func ellipsoid(a, c float64, oblate, prolate func(a, c float64) float64) float64 {
	if c < a {
		return oblate(a, c)
	}
	return prolate(a, c)
}

// Area, volume, and the best ball against numeric integration along the
// profile.
func TestIntegrals(t *testing.T) {
	for id := range pieces5 {
		filled, err := Stuff(piece(t, id), Stuffing{Stretch: 0.05})
		if err != nil {
			t.Fatal(err)
		}
		for kind, p := range map[string]Profile{"rest": piece(t, id).Rest(), "filled": filled.Profile} {
			// over returns the integral of f over the length of the profile.
			over := func(f func(r, z, slopeZ float64) float64) float64 {
				sum := 0.0
				for i := 1; i < len(p); i++ {
					a, b := p[i-1], p[i]
					l := math.Hypot(b.R-a.R, b.Z-a.Z)
					sum += quad.Fixed(func(s float64) float64 {
						return f(a.R+(b.R-a.R)*s/l, a.Z+(b.Z-a.Z)*s/l, (b.Z-a.Z)/l)
					}, 0, l, 24, quad.Legendre{}, 0)
				}
				return sum
			}
			area := over(func(r, _, _ float64) float64 { return 2 * math.Pi * r })
			volume := over(func(r, _, dz float64) float64 { return math.Pi * r * r * dz })
			name := id + " " + kind
			near(t, "area of "+name, p.AreaMM2(), area, 1e-9*area)
			near(t, "volume of "+name, p.VolumeMM3(), volume, 1e-9*volume)

			ball := p.Sphere()
			mean := over(func(r, z, _ float64) float64 { return 2 * math.Pi * r * math.Hypot(r, z-ball.CentreMM) }) / area
			near(t, "radius of best ball of "+name, ball.RadiusMM, mean, 2e-4*mean)
			rms := math.Sqrt(over(func(r, z, _ float64) float64 {
				d := math.Hypot(r, z-ball.CentreMM) - mean
				return 2 * math.Pi * r * d * d
			})/area) / mean
			near(t, "rms of "+name, ball.RMS, rms, 2e-4)
		}
	}
}

// The centre that Sphere finds is better than those beside it.
func TestSphereCentre(t *testing.T) {
	p := Profile{{0, 3}, {10, 5}, {14, 12}, {12, 20}, {6, 26}, {0, 28}}
	best := p.Sphere()
	rms := func(z float64) float64 {
		var w, m, q float64
		for _, s := range p.samples(func(float64) int { return 16 }) {
			d := math.Hypot(s.R, s.Z-z)
			w, m, q = w+s.weight, m+s.weight*d, q+s.weight*d*d
		}
		return math.Sqrt(q/w-(m/w)*(m/w)) / (m / w)
	}
	near(t, "rms at the centre", best.RMS, rms(best.CentreMM), 1e-9)
	for _, off := range []float64{-1, -0.1, -0.01, 0.01, 0.1, 1} {
		if beside := rms(best.CentreMM + off); beside <= best.RMS {
			t.Errorf("rms %g mm beside the centre is %g, no more than %g there", off, beside, best.RMS)
		}
	}
	if got := (Profile{{5, 0}, {5, 0}}).Sphere(); got != (Sphere{}) {
		t.Errorf("a profile without area has the ball %v", got)
	}
}

func TestReversed(t *testing.T) {
	p := Profile{{0, 1}, {4, 2}, {3, 6}}
	q := p.Reversed()
	for i, want := range (Profile{{3, 1}, {4, 5}, {0, 6}}) {
		if q[i] != want {
			t.Errorf("point %d of %v is %v, want %v", i, p, q[i], want)
		}
	}
	if !Ellipsoid(50, 70).mirrored() || Egg(50, 70).mirrored() {
		t.Error("an ellipsoid is its own mirror image, an egg is not")
	}
}
