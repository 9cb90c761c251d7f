package shape

import "math"

// blockSides is the number of sides that a [finder] keeps one box for.
const blockSides = 16

// A finder finds the nearest place on a profile.
type finder struct {
	p     Profile
	boxes []box // of sides 0 to 15, 16 to 31, …
}

type box struct{ low, high Point }

func newFinder(p Profile) *finder {
	f := &finder{p: p}
	for first := 0; first < len(p)-1; first += blockSides {
		b := box{p[first], p[first]}
		for _, q := range p[first:min(len(p), first+blockSides+1)] {
			b.low = Point{min(b.low.R, q.R), min(b.low.Z, q.Z)}
			b.high = Point{max(b.high.R, q.R), max(b.high.Z, q.Z)}
		}
		f.boxes = append(f.boxes, b)
	}
	return f
}

// nearest returns the vector to q from the place on the profile that is
// nearest to it, and the side on which that lies. It begins to look in the
// block of the side hint.
func (f *finder) nearest(q Point, hint int) (from Point, side int) {
	best := math.Inf(1)
	look := func(block int) {
		for i := block * blockSides; i < min(len(f.p)-1, (block+1)*blockSides); i++ {
			a, d := f.p[i], Point{f.p[i+1].R - f.p[i].R, f.p[i+1].Z - f.p[i].Z}
			e := Point{q.R - a.R, q.Z - a.Z}
			if l := d.R*d.R + d.Z*d.Z; l > 0 {
				t := max(0, min(1, (e.R*d.R+e.Z*d.Z)/l))
				e.R -= t * d.R
				e.Z -= t * d.Z
			}
			if n := e.R*e.R + e.Z*e.Z; n < best {
				best, from, side = n, e, i
			}
		}
	}
	first := hint / blockSides
	look(first)
	for i, b := range f.boxes {
		dr := max(b.low.R-q.R, 0, q.R-b.high.R)
		dz := max(b.low.Z-q.Z, 0, q.Z-b.high.Z)
		if i != first && dr*dr+dz*dz < best {
			look(i)
		}
	}
	return from, side
}

// deviation returns how far two surfaces are apart, in millimetres, after the
// shift of one along the axis that makes the root mean square least: that root
// mean square of the distance from each to the other, over the areas of both,
// each counting half; and the greatest distance.
func deviation(p, target Profile) (rms, far float64) {
	spacing := target.LengthMM() / 256
	places := [2][]sample{
		p.samples(func(float64) int { return 4 }),
		target.samples(func(l float64) int { return int(math.Ceil(l / spacing)) }),
	}
	others := [2]*finder{newFinder(target), newFinder(p)}
	low, high := p.span()
	lowT, highT := target.span()
	shift := (lowT + highT - low - high) / 2 // of p
	rms = math.Inf(1)
	const most = 12
	for range most {
		var mean, worst, pull, hold float64
		for k, sign := range [2]float64{1, -1} {
			var weight float64
			for _, s := range places[k] {
				weight += s.weight
			}
			side := 0
			for _, s := range places[k] {
				var e Point
				e, side = others[k].nearest(Point{s.R, s.Z + sign*shift}, side)
				n := e.R*e.R + e.Z*e.Z
				worst = max(worst, n)
				w := s.weight / (2 * weight)
				mean += w * n
				// Gauss-Newton: the distance changes with the shift as its
				// direction leans along the axis.
				pull += sign * w * e.Z
				hold += w * others[k].lean(e, side)
			}
		}
		now := math.Sqrt(mean)
		better := now < rms*(1-1e-9)
		if now < rms {
			rms, far = now, math.Sqrt(worst)
		}
		if !better || hold <= 1e-9 { // no shift changes a tube without ends
			break
		}
		shift -= pull / hold
	}
	return rms, far
}

// lean returns the square of the part along the axis of the direction in which
// the distance e from a side grows.
func (f *finder) lean(e Point, side int) float64 {
	if n := e.R*e.R + e.Z*e.Z; n > 0 {
		return e.Z * e.Z / n
	}
	dr, dz := f.p[side+1].R-f.p[side].R, f.p[side+1].Z-f.p[side].Z
	if l := dr*dr + dz*dz; l > 0 {
		return dr * dr / l
	}
	return 0
}
