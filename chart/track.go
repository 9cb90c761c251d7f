package chart

import "math"

// A Point is a place in a chart: x to the right, y down.
type Point struct{ X, Y float64 }

func (p Point) plus(q Point) Point          { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) times(k float64) Point       { return Point{p.X * k, p.Y * k} }
func (p Point) to(q Point, f float64) Point { return Point{p.X + (q.X-p.X)*f, p.Y + (q.Y-p.Y)*f} }
func (p Point) distance(q Point) float64    { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// turned returns p turned clockwise about the origin.
func (p Point) turned(angleRad float64) Point {
	sin, cos := math.Sincos(angleRad)
	return Point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos}
}

// A track is the shape of the rings of a piece: all points at one distance from
// an upright line of length 2·half, which is the foundation chain of an oval
// and the centre, of length 0, of everything else.
//
// A place on it is told in two ways. Its turn does not change from ring to ring
// along the line that stands square on them: it starts at the top and runs
// anticlockwise, by angle round the two ends and by length along the two sides.
// Its run is the length along the ring at one distance.
//
// A straight track is a ring unrolled: its turn is the length along it from
// right to left, and so is its run.
type track struct {
	half     float64
	straight float64 // length of a straight track; 0 for a ring
}

// turns returns the turn of one whole ring.
func (t track) turns() float64 {
	if t.straight > 0 {
		return t.straight
	}
	return 2*math.Pi + 4*t.half
}

// length returns the length of the ring at a distance.
func (t track) length(distance float64) float64 {
	if t.straight > 0 {
		return t.straight
	}
	return 2*math.Pi*distance + 4*t.half
}

// run returns the run of a turn on the ring at a distance. Turns go on over the
// ends of a ring.
func (t track) run(turn, distance float64) float64 {
	switch {
	case t.straight > 0:
		return turn
	case t.half == 0:
		return turn * distance
	}
	whole := math.Floor(turn / t.turns())
	turn -= whole * t.turns()
	angle, side := t.split(turn)
	return whole*t.length(distance) + angle*distance + side
}

// turn returns the turn of a run: the other way round of run.
func (t track) turn(run, distance float64) float64 {
	switch {
	case t.straight > 0:
		return run
	case t.half == 0:
		return run / distance
	}
	whole := math.Floor(run / t.length(distance))
	run -= whole * t.length(distance)
	quarter, side := math.Pi/2*distance, 2*t.half
	at := whole * t.turns()
	switch {
	case run < quarter:
		return at + run/distance
	case run < quarter+side:
		return at + math.Pi/2 + run - quarter
	case run < 3*quarter+side:
		return at + side + (run-side)/distance
	case run < 3*quarter+2*side:
		return at + 3*math.Pi/2 + run - 3*quarter
	}
	return at + 2*side + (run-2*side)/distance
}

// split parts a turn of the first ring into what was turned by angle and what
// was gone along the sides.
func (t track) split(turn float64) (angle, side float64) {
	length := 2 * t.half
	switch {
	case turn < math.Pi/2:
		return turn, 0
	case turn < math.Pi/2+length:
		return math.Pi / 2, turn - math.Pi/2
	case turn < 3*math.Pi/2+length:
		return turn - length, length
	case turn < 3*math.Pi/2+2*length:
		return 3 * math.Pi / 2, turn - 3*math.Pi/2
	}
	return turn - 2*length, 2 * length
}

// at returns the point at a turn and a distance, and the angle by which what
// stands there square on the ring is turned clockwise from upright.
func (t track) at(turn, distance float64) (p Point, angleRad float64) {
	if t.straight > 0 {
		return Point{-turn, -distance}, 0
	}
	turn -= math.Floor(turn/t.turns()) * t.turns()
	angle, side := turn, 0.0
	centre := 0.0
	if t.half > 0 {
		angle, side = t.split(turn)
		centre = side - t.half // on the way down
		if side > 2*t.half {
			centre = 3*t.half - side // on the way up
		}
	}
	sin, cos := math.Sincos(angle)
	return Point{-sin * distance, centre - cos*distance}, -angle
}

// arc returns a path along the ring at a distance, from one turn to another.
func (t track) arc(from, to, distance float64) Path {
	var p Path
	start, _ := t.at(from, distance)
	p.move(start)
	p.follow(t, from, to, distance)
	return p
}

// follow goes on along the ring from one turn to another, either way.
func (p *Path) follow(t track, from, to, distance float64) {
	if t.straight > 0 {
		end, _ := t.at(to, distance)
		p.line(end)
		return
	}
	// Cut where the ring goes over from an end to a side, and then into pieces
	// of at most a quarter turn, which a cubic follows to 1/3000 of its radius.
	const most = math.Pi / 2
	length := 2 * t.half
	cuts := [...]float64{math.Pi / 2, math.Pi/2 + length, 3*math.Pi/2 + length, 3*math.Pi/2 + 2*length}
	sign := 1.0
	if to < from {
		sign = -1
	}
	for at := from; (to-at)*sign > 1e-9; {
		next, straight := to, false
		if t.half > 0 {
			base := math.Floor((at+sign*1e-9)/t.turns()) * t.turns()
			in := at + sign*1e-9 - base
			straight = in > cuts[0] && in < cuts[1] || in > cuts[2] && in < cuts[3]
			for turn := -1; turn <= 1; turn++ {
				for _, c := range cuts {
					c += base + float64(turn)*t.turns()
					if (c-at)*sign > 1e-9 && (next-c)*sign > 0 {
						next = c
					}
				}
			}
		}
		if !straight && (next-at)*sign > most {
			next = at + sign*(next-at)*sign/math.Ceil((next-at)*sign/most)
		}
		end, _ := t.at(next, distance)
		if straight {
			p.line(end)
		} else {
			a, angle := t.at(at, distance)
			b, angle2 := t.at(next, distance)
			k := 4.0 / 3 * math.Tan((next-at)/4) * distance
			// The direction of growing turn is to the left of upright.
			d1 := Point{-1, 0}.turned(angle).times(k)
			d2 := Point{1, 0}.turned(angle2).times(k)
			p.curve(a.plus(d1), b.plus(d2), end)
		}
		at = next
	}
}
