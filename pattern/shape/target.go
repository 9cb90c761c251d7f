package shape

import "math"

// An End is how a profile ends away from the axis.
type End uint8

// The ends.
const (
	Open  End = iota
	Flat      // a flat disc
	Domed     // half a ball; half an ellipsoid where there is no room for it
)

// arcSteps is the number of straight sides that a quarter of an ellipse is
// drawn with; it is then 1 part in a million too short.
const arcSteps = 256

// quarter returns the quarter of an ellipse from the axis, at z = 0, to the
// radius r at z = depth.
func quarter(r, depth float64) Profile {
	p := make(Profile, arcSteps+1)
	for i := range p {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / arcSteps)
		p[i] = Point{r * sin, depth * (1 - cos)}
	}
	return p
}

// join returns p and then q, moved along the axis to begin where p ends and
// without its first point.
func join(p, q Profile) Profile {
	up := p[len(p)-1].Z - q[0].Z
	for _, v := range q[1:] {
		p = append(p, Point{v.R, v.Z + up})
	}
	return p
}

// Ball returns the profile of a ball.
func Ball(acrossMM float64) Profile { return Ellipsoid(acrossMM, acrossMM) }

// Ellipsoid returns the profile of an ellipsoid, flattened or long.
func Ellipsoid(acrossMM, heightMM float64) Profile {
	half := quarter(acrossMM/2, heightMM/2)
	return join(half, half.Reversed())
}

// EggBlunt is the part of the height of an [Egg] that lies on the blunt side
// of its widest place (judgement).
const EggBlunt = 0.42

// Egg returns the profile of an egg from its blunt to its pointed end: two half
// ellipsoids that meet at the widest place. Reverse it to start at the point.
func Egg(acrossMM, heightMM float64) Profile {
	return join(quarter(acrossMM/2, EggBlunt*heightMM), quarter(acrossMM/2, (1-EggBlunt)*heightMM).Reversed())
}

// Cone returns the profile of a cone from its point to its base. A domed base
// adds to the height.
func Cone(acrossMM, heightMM float64, base End) Profile {
	return join(Profile{{}, {acrossMM / 2, heightMM}}, base.close(acrossMM/2, acrossMM/2))
}

// Dome returns the profile of half an ellipsoid from its top to its base.
func Dome(acrossMM, heightMM float64, base End) Profile {
	return join(quarter(acrossMM/2, heightMM), base.close(acrossMM/2, acrossMM/2))
}

// Cylinder returns the profile of a cylinder; domed ends are part of its
// height.
func Cylinder(acrossMM, heightMM float64, start, end End) Profile {
	domes := 0.0
	for _, e := range []End{start, end} {
		if e == Domed {
			domes++
		}
	}
	r, depth := acrossMM/2, 0.0
	if domes > 0 {
		depth = min(r, heightMM/domes)
	}
	side := Profile{{r, 0}, {r, heightMM - domes*depth}}
	return join(join(start.close(r, depth).Reversed(), side), end.close(r, depth))
}

// close returns the profile from the rim of radius r to the axis, or the rim
// alone if the end is open.
func (e End) close(r, depth float64) Profile {
	switch e {
	case Flat:
		return Profile{{r, 0}, {}}
	case Domed:
		return quarter(r, depth).Reversed()
	}
	return Profile{{r, 0}}
}

// Disc returns the profile of a flat disc from its middle to its rim.
func Disc(acrossMM float64) Profile { return Profile{{}, {acrossMM / 2, 0}} }

// Cup returns the profile of a cup or basket from the middle of its flat base:
// a straight wall from the base to the open rim.
func Cup(baseMM, rimMM, heightMM float64) Profile {
	return Profile{{}, {baseMM / 2, 0}, {rimMM / 2, heightMM}}
}
