package shape

import "math"

// A Point is a place on a profile, in millimetres: R from the axis, Z along it.
type Point struct {
	R, Z float64
}

// A Profile is the outline of a solid of revolution, from its start to its
// end, straight between neighbouring points. The profile of a piece has one
// point for each edge: the start, the top of every round, and the gathered
// point of a closed piece. An end away from the axis is open, or has a flat
// lid: volume is counted to the plane of its rim, area without a lid.
type Profile []Point

// Rest returns the shape of the empty piece: each hoop keeps its length, r =
// L/2π, and each link its own, dz = sqrt(h² - dr²), so that rounds stand as
// upright as they can. Where dr > h there is no such dz; the hoop keeps its
// length and dz is 0 (see [Slope.Excess]).
//
// It is not the shape to print as the size of a filled piece: at rest a ball of
// rounds that add 6 and rounds that add nothing is a stack of discs and tubes.
func (s Schedule) Rest() Profile {
	p := make(Profile, s.edges()+1)
	p[0].R = s.StartMM / (2 * math.Pi)
	for i := 1; i < len(p); i++ {
		p[i].R = s.hoop(i) / (2 * math.Pi)
		h, dr := s.link(i), p[i].R-p[i-1].R
		p[i].Z = p[i-1].Z + math.Sqrt(max(0, (h-dr)*(h+dr)))
	}
	return p
}

// AcrossMM returns the greatest width.
func (p Profile) AcrossMM() float64 {
	widest := 0.0
	for _, q := range p {
		widest = max(widest, 2*q.R)
	}
	return widest
}

// HeightMM returns the extent along the axis.
func (p Profile) HeightMM() float64 {
	low, high := p.span()
	return max(0, high-low)
}

// span returns the least and the greatest Z, +Inf and -Inf without points.
func (p Profile) span() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, q := range p {
		low, high = min(low, q.Z), max(high, q.Z)
	}
	return low, high
}

// LengthMM returns the length over the curve, from start to end.
func (p Profile) LengthMM() float64 {
	sum := 0.0
	for i := 1; i < len(p); i++ {
		sum += math.Hypot(p[i].R-p[i-1].R, p[i].Z-p[i-1].Z)
	}
	return sum
}

// AreaMM2 returns the area of the surface, Σ π (a+b) l over cone rings of
// radii a and b and slant l. (Handbook; Pappus' theorem gives the same.)
func (p Profile) AreaMM2() float64 {
	sum := 0.0
	for i := 1; i < len(p); i++ {
		a, b := p[i-1].R, p[i].R
		sum += math.Pi * (a + b) * math.Hypot(b-a, p[i].Z-p[i-1].Z)
	}
	return sum
}

// VolumeMM3 returns the volume, Σ π/3 (a² + ab + b²) dz over the same rings.
// (Handbook.)
func (p Profile) VolumeMM3() float64 {
	sum := 0.0
	for i := 1; i < len(p); i++ {
		a, b := p[i-1].R, p[i].R
		sum += math.Pi / 3 * (a*a + a*b + b*b) * (p[i].Z - p[i-1].Z)
	}
	return sum
}

// Scaled returns p times f.
func (p Profile) Scaled(f float64) Profile {
	out := make(Profile, len(p))
	for i, q := range p {
		out[i] = Point{q.R * f, q.Z * f}
	}
	return out
}

// Reversed returns p from its end to its start, with the end at the Z of the
// start.
func (p Profile) Reversed() Profile {
	out := make(Profile, len(p))
	for i, q := range p {
		out[len(p)-1-i] = Point{q.R, p[0].Z + p[len(p)-1].Z - q.Z}
	}
	return out
}

// mirrored reports whether p is its own mirror image.
func (p Profile) mirrored() bool {
	near := 1e-9 * (p.LengthMM() + math.Abs(p[0].Z))
	for i, q := range p.Reversed() {
		if math.Abs(q.R-p[i].R) > near || math.Abs(q.Z-p[i].Z) > near {
			return false
		}
	}
	return true
}

// A Sphere is a ball fitted to a profile.
type Sphere struct {
	RadiusMM float64
	CentreMM float64 // Z of its centre, on the axis
	RMS, Max float64 // distance of the surface from it over its radius: root mean square, greatest
}

// Sphere returns the ball that fits p best: that with the least mean, over the
// area, of (d - R)², d being the distance from the centre. Each ring is sampled
// at 16 places (and, for Max, at its ends); the centre is sought between the lowest and the highest point.
// A profile without area gives the zero Sphere.
func (p Profile) Sphere() Sphere {
	smp := p.samples(func(float64) int { return 16 })
	low, high := p.span()
	// fit also returns half of the derivative of the variance by z.
	fit := func(z float64) (mean, variance, slope float64) {
		var sw, sd, sdd, sl, sdl float64
		// Distances are taken from the middle of the range, which keeps the
		// variance exact when it is small against the radius.
		about := (high - low) / 2
		for _, s := range smp {
			up := z - s.Z
			d := math.Sqrt(s.R*s.R + up*up)
			lean := 0.0 // dd/dz
			if d > 0 {
				lean = up / d
			}
			d -= about
			w := s.weight
			sw += w
			sd += w * d
			sdd += w * d * d
			sl += w * lean
			sdl += w * d * lean
		}
		mean = sd / sw
		return mean + about, sdd/sw - mean*mean, sdl/sw - mean*sl/sw
	}
	z := crossing(low, high, func(z float64) float64 { _, _, slope := fit(z); return slope })
	r, v, _ := fit(z)
	if !(r > 0) {
		return Sphere{}
	}
	far := 0.0
	for _, s := range smp {
		far = max(far, math.Abs(math.Hypot(s.R, s.Z-z)-r))
	}
	return Sphere{RadiusMM: r, CentreMM: z, RMS: math.Sqrt(max(0, v)) / r, Max: far / r}
}

// A sample is a place on the surface that stands for the area weight, which is
// 0 for the points of the profile themselves.
type sample struct {
	Point
	weight float64
}

// samples returns the points of p and between neighbours l apart per(l) places
// at equal distances.
func (p Profile) samples(per func(l float64) int) []sample {
	n := len(p)
	for i := 1; i < len(p); i++ {
		n += per(math.Hypot(p[i].R-p[i-1].R, p[i].Z-p[i-1].Z))
	}
	out := make([]sample, 0, n)
	for i, b := range p {
		out = append(out, sample{b, 0})
		if i == 0 {
			continue
		}
		a, d := p[i-1], Point{b.R - p[i-1].R, b.Z - p[i-1].Z}
		l := math.Hypot(d.R, d.Z)
		n := per(l)
		for k := range n {
			t := (float64(k) + 0.5) / float64(n)
			r := a.R + t*d.R
			out = append(out, sample{Point{r, a.Z + t*d.Z}, 2 * math.Pi * r * l / float64(n)})
		}
	}
	return out
}

// crossing returns where f goes through 0 between a and b, by false position
// with the weights of Illinois; f must go from below 0 to above it. Where it does
// not, the end nearer to 0 is returned.
func crossing(a, b float64, f func(float64) float64) float64 {
	fa, fb := f(a), f(b)
	if !(fa < 0 && fb > 0) {
		if math.Abs(fa) < math.Abs(fb) {
			return a
		}
		return b
	}
	const most = 100
	near := 1e-12 * (b - a)
	side := 0
	for range most {
		c := (a*fb - b*fa) / (fb - fa)
		if !(c > a && c < b) {
			c = (a + b) / 2
		}
		fc := f(c)
		switch {
		case fc == 0 || b-a <= near:
			return c
		case fc < 0:
			if c-a <= near && side != 0 {
				return c
			}
			a, fa = c, fc
			if side < 0 {
				fb /= 2
			}
			side = -1
		default:
			if b-c <= near && side != 0 {
				return c
			}
			b, fb = c, fc
			if side > 0 {
				fa /= 2
			}
			side = 1
		}
	}
	return (a + b) / 2
}
