package shape

import (
	"errors"
	"fmt"
	"math"
)

// A membrane is a schedule as a net of springs under the pressure of its
// filling. Its unknowns are the r of every edge with a hoop and the z of every
// edge but the first, in the order r_0 (if there is a hoop), r_1, z_1, r_2,
// z_2, …, so that edges next to each other are within halfBand.
//
// With the strains e = l/h - 1 of link i, of rest area A = h (L' + L)/2, and
// c = 2πr/L - 1 of hoop i, of rest area B = L (h + h')/2 (half of the links on
// both sides), its energy is
//
//	Π = ½ Em Σ A e² + ½ Eh Σ B c² - p V
//
// with V as in [Profile.VolumeMM3]. Derived; Em is 1.
type membrane struct {
	hoop, hoopArea []float64 // L and B of edges 0 to m
	link, linkArea []float64 // h and A of links 1 to m
	eh             float64   // Eh/Em
	rest           float64   // mean h, the scale of steps

	steps int // still allowed

	near Stuffed // a filled shape of much the same schedule to begin from; the zero Stuffed is none

	at       Profile
	ri, zi   []int // index of the unknown r, z of an edge, or -1
	unknowns int

	grad, step, lambdaGrad, volumeGrad []float64
	old                                Profile
	hess, chol                         band
}

// Bounds of the time that a shape takes, in steps of Newton's method: in all,
// and at one pressure. A ball takes 20 to 40 in all.
const (
	maxSteps      = 3000
	maxRelaxSteps = 400
)

// errUnsettled is returned where Newton's method does not end.
var errUnsettled = errors.New("no balance found for the filled shape: its rounds change too abruptly, or it is filled too hard")

// newMembrane returns s as a membrane in its starting shape. ratio is Em/Eh.
func newMembrane(s Schedule, ratio float64) *membrane {
	m := s.edges()
	f := &membrane{
		hoop: make([]float64, m+1), hoopArea: make([]float64, m+1),
		link: make([]float64, m+1), linkArea: make([]float64, m+1),
		eh:    1 / ratio,
		steps: maxSteps,
		at:    make(Profile, m+1), old: make(Profile, m+1),
		ri: make([]int, m+1), zi: make([]int, m+1),
	}
	for i := range f.hoop {
		f.hoop[i] = s.hoop(i)
		f.ri[i], f.zi[i] = -1, -1
		if f.hoop[i] > 0 {
			f.ri[i] = f.unknowns
			f.unknowns++
		}
		if i > 0 {
			f.link[i] = s.link(i)
			f.rest += f.link[i] / float64(m)
			f.linkArea[i] = f.link[i] * (f.hoop[i-1] + f.hoop[i]) / 2
			f.zi[i] = f.unknowns
			f.unknowns++
		}
	}
	for i := range f.hoop {
		above := 0.0
		if i < m {
			above = f.link[i+1]
		}
		f.hoopArea[i] = f.hoop[i] * (f.link[i] + above) / 2
	}
	n := f.unknowns
	numbers := make([]float64, 4*n)
	f.grad, f.step, f.lambdaGrad, f.volumeGrad = numbers[:n], numbers[n:2*n], numbers[2*n:3*n], numbers[3*n:]
	bands := make(band, 2*n)
	f.hess, f.chol = bands[:n], bands[n:]
	f.start()
	return f
}

// start puts every hoop at its rest radius, at the height at which a ball has
// the same length over the curve: z = T/π (1 - cos(π s/T)). It is near the
// balance of anything like a ball, but a schedule that goes in and out may find
// one with folds from there.
func (f *membrane) start() {
	total := 0.0
	for _, h := range f.link {
		total += h
	}
	along := 0.0
	for i := range f.at {
		along += f.link[i]
		f.at[i] = Point{f.hoop[i] / (2 * math.Pi), total / math.Pi * (1 - math.Cos(math.Pi*along/total))}
	}
}

// startUpright puts every hoop at its rest radius and every link at its rest
// length, but none flatter than 18°. It is farther from the balance of a ball,
// and free of folds.
func (f *membrane) startUpright() {
	for i := range f.at {
		f.at[i] = Point{R: f.hoop[i] / (2 * math.Pi)}
		if i > 0 {
			h, dr := f.link[i], f.at[i].R-f.at[i-1].R
			f.at[i].Z = f.at[i-1].Z + math.Sqrt(max(0.1*h*h, (h-dr)*(h+dr)))
		}
	}
}

// side returns the vector along link i, its length, and its direction.
func (f *membrane) side(i int) (dr, dz, l, ur, uz float64) {
	dr, dz = f.at[i].R-f.at[i-1].R, f.at[i].Z-f.at[i-1].Z
	l = math.Sqrt(dr*dr + dz*dz)
	if least := 1e-9 * f.link[i]; l < least { // no direction: any will do
		return dr, dz, least, 0, 1
	}
	return dr, dz, l, dr / l, dz / l
}

// energy returns Π at pressure p, and the sum of the sizes of its parts, the
// scale of its rounding error.
func (f *membrane) energy(p float64) (sum, scale float64) {
	var elastic, volume float64
	for i := 1; i < len(f.at); i++ {
		a, b := f.at[i-1].R, f.at[i].R
		_, dz, l, _, _ := f.side(i)
		e := l/f.link[i] - 1
		elastic += f.linkArea[i] * e * e
		volume += (a*a + a*b + b*b) * dz
	}
	for i, l := range f.hoop {
		if l > 0 {
			c := 2*math.Pi*f.at[i].R/l - 1
			elastic += f.eh * f.hoopArea[i] * c * c
		}
	}
	volume *= math.Pi / 3 * p
	return elastic/2 - volume, elastic/2 + math.Abs(volume)
}

// derive sets grad and hess to the first and second derivatives of Π.
func (f *membrane) derive(p float64) {
	clear(f.grad)
	clear(f.hess)
	g, h := f.grad, f.hess
	for i, l := range f.hoop {
		if k := f.ri[i]; k >= 0 {
			turn := 2 * math.Pi / l
			g[k] += f.eh * f.hoopArea[i] * (turn*f.at[i].R - 1) * turn
			h[k][0] += f.eh * f.hoopArea[i] * turn * turn
		}
	}
	for i := 1; i < len(f.at); i++ {
		a, b := f.at[i-1].R, f.at[i].R
		_, dz, l, ur, uz := f.side(i)
		ra, za, rb, zb := f.ri[i-1], f.zi[i-1], f.ri[i], f.zi[i]

		pull := f.linkArea[i] * (l/f.link[i] - 1) / f.link[i]
		k := p * math.Pi / 3
		va, vb, vz := k*(2*a+b)*dz, k*(a+2*b)*dz, k*(a*a+a*b+b*b)
		if ra >= 0 {
			g[ra] -= pull*ur + va
		}
		if rb >= 0 {
			g[rb] += pull*ur - vb
		}
		if za >= 0 {
			g[za] -= pull*uz - vz
		}
		g[zb] += pull*uz - vz

		// B = stiff u uᵀ + (pull/l)(I - u uᵀ), and the volume's part.
		stiff := f.linkArea[i] / (f.link[i] * f.link[i])
		across := pull / l
		rr := stiff*ur*ur + across*uz*uz
		rz := (stiff - across) * ur * uz
		zz := stiff*uz*uz + across*ur*ur
		vaz, vbz := k*(2*a+b), k*(a+2*b)
		h.add(ra, ra, rr-2*k*dz)
		h.add(rb, rb, rr-2*k*dz)
		h.add(ra, rb, -rr-k*dz)
		h.add(za, za, zz)
		h.add(zb, zb, zz)
		h.add(za, zb, -zz)
		h.add(ra, za, rz+vaz)
		h.add(ra, zb, -rz-vaz)
		h.add(rb, za, -rz+vbz)
		h.add(rb, zb, rz-vbz)
	}
}

// stretch returns λ = ½ (Σ A e/Σ A + Σ B c/Σ B), the mean strain, and sets
// lambdaGrad to its derivative.
func (f *membrane) stretch() float64 {
	var links, hoops float64
	for i := range f.at {
		links += f.linkArea[i]
		hoops += f.hoopArea[i]
	}
	clear(f.lambdaGrad)
	lambda := 0.0
	for i := range f.at {
		if k := f.ri[i]; k >= 0 {
			turn, weight := 2*math.Pi/f.hoop[i], f.hoopArea[i]/(2*hoops)
			lambda += weight * (turn*f.at[i].R - 1)
			f.lambdaGrad[k] += weight * turn
		}
		if i == 0 {
			continue
		}
		_, _, l, ur, uz := f.side(i)
		weight := f.linkArea[i] / (2 * links)
		lambda += weight * (l/f.link[i] - 1)
		weight /= f.link[i]
		f.spread(f.lambdaGrad, i, -weight*ur, -weight*uz, weight*ur, weight*uz)
	}
	return lambda
}

// volume returns V and sets volumeGrad to its derivative.
func (f *membrane) volume() float64 {
	clear(f.volumeGrad)
	const k = math.Pi / 3
	for i := 1; i < len(f.at); i++ {
		a, b, dz := f.at[i-1].R, f.at[i].R, f.at[i].Z-f.at[i-1].Z
		vz := k * (a*a + a*b + b*b)
		f.spread(f.volumeGrad, i, k*(2*a+b)*dz, -vz, k*(a+2*b)*dz, vz)
	}
	return f.at.VolumeMM3()
}

// spread adds the derivatives by the ends of link i to g.
func (f *membrane) spread(g []float64, i int, ra, za, rb, zb float64) {
	for _, d := range [...]struct {
		index int
		v     float64
	}{{f.ri[i-1], ra}, {f.zi[i-1], za}, {f.ri[i], rb}, {f.zi[i], zb}} {
		if d.index >= 0 {
			g[d.index] += d.v
		}
	}
}

// relax moves the edges to a minimum of Π at pressure p, by Newton's method
// with a shift of the Hessian where it is not positive definite, steps of at
// most 1.5 heights, and halving until Π falls. It leaves the factor of the
// Hessian there in chol.
func (f *membrane) relax(p float64) error {
	small := 1e-11 * (1 + f.eh) * math.Sqrt(float64(f.unknowns)) * f.rest
	limit := 10 * (f.at.LengthMM() + f.at.AcrossMM() + f.rest) // a balloon that bursts
	for range min(f.steps, maxRelaxSteps) {
		f.steps--
		f.derive(p)
		slope := norm(f.grad)
		if math.IsNaN(slope) || math.IsInf(slope, 0) {
			return errUnsettled
		}
		shift, ok := f.factorShifted()
		if !ok {
			return errUnsettled
		}
		if slope <= small && shift == 0 {
			return nil
		}
		f.chol.solve(f.step, f.grad)
		longest := 0.0
		for _, d := range f.step {
			longest = max(longest, math.Abs(d))
		}
		size := f.size()
		if longest <= 1e-11*size && shift == 0 {
			return nil
		}
		if size > limit {
			return errUnsettled
		}
		if !f.descend(p, min(1, 1.5*f.rest/longest)) {
			// No lower Π to be had: rounding, if the step is small.
			if longest <= 1e-6*size && shift == 0 {
				return nil
			}
			return errUnsettled
		}
	}
	return errUnsettled
}

// factorShifted sets chol to the factor of hess + shift·I for the first shift
// of 0, then growing ones, that makes it positive definite.
func (f *membrane) factorShifted() (shift float64, ok bool) {
	if f.chol.factor(f.hess, 0) {
		return 0, true
	}
	for _, row := range f.hess {
		shift = max(shift, math.Abs(row[0]))
	}
	for shift *= 1e-6; !math.IsInf(shift, 0) && shift > 0; shift *= 4 {
		if f.chol.factor(f.hess, shift) {
			return shift, true
		}
	}
	return 0, false
}

// descend moves by -t step, t the first of part, part/2, … at which Π is lower
// and every r is at least a tenth of what it was. It reports whether there is
// one.
func (f *membrane) descend(p, part float64) bool {
	copy(f.old, f.at)
	before, scale := f.energy(p)
	for t := part; t > 1e-12*part; t /= 2 {
		if f.move(-t, f.step, 0.1) {
			if now, _ := f.energy(p); now < before+1e-15*scale {
				return true
			}
		}
		copy(f.at, f.old)
	}
	return false
}

// move adds t times d to the unknowns and reports whether every r is then above
// keep times what it was.
func (f *membrane) move(t float64, d []float64, keep float64) bool {
	ok := true
	for i := range f.at {
		q := &f.at[i]
		if k := f.ri[i]; k >= 0 {
			least := keep * q.R
			q.R += t * d[k]
			ok = ok && q.R > least
		}
		if k := f.zi[i]; k >= 0 {
			q.Z += t * d[k]
		}
	}
	return ok
}

// size returns the largest unknown.
func (f *membrane) size() float64 {
	s := 0.0
	for _, q := range f.at {
		s = max(s, q.R, math.Abs(q.Z))
	}
	return s
}

// folded reports whether a link leads back along the axis, as where a point is
// pushed into the shape.
func (f *membrane) folded() bool {
	for i := 1; i < len(f.at); i++ {
		if f.at[i].Z < f.at[i-1].Z {
			return true
		}
	}
	return false
}

func norm(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x * x
	}
	return math.Sqrt(s)
}

// fill relaxes the membrane at the pressure at which measure, which rises with
// the pressure, is want. measure returns its value at the present shape and
// its derivative; what is its name, for messages. The pressure is bracketed;
// in the bracket it is found by Newton's method, each shape starting from what
// the one before becomes to first order.
func (f *membrane) fill(want float64, what string, measure func() (float64, []float64)) (pressure float64, err error) {
	p := (1 + f.eh) * usualStretch / (f.at.AcrossMM() / 2)
	first, low, high := p, 0.0, math.Inf(1)
	lowest := make(Profile, len(f.at)) // the shape at low
	upright := false
	near := len(f.near.Profile) == len(f.at)
	if near {
		copy(f.at, f.near.Profile)
		p = f.near.PressurePerMM
	}
	for f.steps > 0 {
		err := f.relax(p)
		if near && (err != nil || f.folded()) { // not so near after all
			near, p = false, first
			f.start()
			continue
		}
		if !upright && (err != nil || f.folded()) {
			upright = true
			f.startUpright()
			continue
		}
		if err != nil {
			if p-low <= 1e-9*p || p < 1e-9*first {
				return 0, err
			}
			// Too much pressure for a balance: less of it, from the last one.
			high = p
			p = (low + p) / 2
			if low > 0 {
				copy(f.at, lowest)
			} else {
				f.startUpright()
			}
			continue
		}
		got, slope := measure()
		off := got - want
		if off < 0 {
			low = p
			copy(lowest, f.at)
		} else {
			high = p
		}
		// In equilibrium ∂Π/∂x = 0, so dx/dp = H⁻¹ ∂V/∂x.
		f.volume()
		f.chol.solve(f.step, f.volumeGrad)
		rate := dot(slope, f.step)
		next := p - off/rate
		if math.Abs(off) <= 1e-13*(1+math.Abs(want)) || math.Abs(next-p) <= 1e-13*p {
			return p, nil
		}
		if high == p && p < 1e-9*first {
			return 0, fmt.Errorf("%s cannot be as little as %.6g: it is %.6g when the piece is empty", what, want, got)
		}
		if low == p && f.tension(p) > 8*MaxStretch {
			return 0, fmt.Errorf("%s cannot be as much as %.6g: it is %.6g where the fabric is stretched beyond use", what, want, got)
		}
		// Newton's step, if it stays in the bracket and is not too bold.
		switch {
		case low == 0:
			if !(next > p/16 && next < p) {
				next = p / 16
			}
		case math.IsInf(high, 1):
			if !(next > p && next < 4*p) {
				next = 4 * p
			}
		case !(next > low && next < high):
			next = (low + high) / 2
		}
		copy(f.old, f.at)
		if !f.move(next-p, f.step, 0.5) {
			copy(f.at, f.old)
		}
		p = next
	}
	return 0, errUnsettled
}

// tension returns p r/(Em + Eh) of the widest hoop, which is the stretch of a
// ball that has it as its middle.
func (f *membrane) tension(p float64) float64 { return p * f.at.AcrossMM() / 2 / (1 + f.eh) }

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}
