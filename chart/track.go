package chart

import "math"

// A point is a place in a chart: x to the right, y down.
type point struct{ X, Y float64 }

func (p point) plus(q point) point          { return point{p.X + q.X, p.Y + q.Y} }
func (p point) minus(q point) point         { return point{p.X - q.X, p.Y - q.Y} }
func (p point) times(k float64) point       { return point{p.X * k, p.Y * k} }
func (p point) dot(q point) float64         { return p.X*q.X + p.Y*q.Y }
func (p point) to(q point, f float64) point { return point{p.X + (q.X-p.X)*f, p.Y + (q.Y-p.Y)*f} }
func (p point) distance(q point) float64    { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// turned returns p turned clockwise about the origin.
func (p point) turned(angleRad float64) point {
	sin, cos := math.Sincos(angleRad)
	return point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos}
}

// A track is the shape of rings: all points at one distance from a core, which
// is a point, or the line of a foundation chain, or a regular polygon. So a ring
// has as many arcs as its core has corners, all round ones of the same angle,
// and between them straight sides. The zero track is round.
//
// A place on it is told in two ways. Its turn does not change along the line
// that stands square on the core: it runs anticlockwise, by angle round the
// corners and by length along the sides, from 0 where the rounds start, which is
// the top unless the core says otherwise. Its run is the length along the ring
// at one distance.
//
// A straight track is a ring unrolled: its turn is the length along it from
// right to left, and so is its run.
type track struct {
	corners  int     // of the core: 0 for a point, 2 for a line
	side     float64 // the length of each side of the core
	tilt     float64 // from the top to the first corner, anticlockwise, rad
	start    float64 // the turn of the start, from the middle of the arc round the first corner
	straight float64 // length of a straight track; 0 for a ring
}

// arc is the angle of the arc round each corner.
func (t track) arc() float64 { return 2 * math.Pi / float64(t.corners) }

// turns returns the turn of one whole ring.
func (t track) turns() float64 {
	if t.straight > 0 {
		return t.straight
	}
	return 2*math.Pi + float64(t.corners)*t.side
}

// length returns the length of the ring at a distance.
func (t track) length(distance float64) float64 {
	if t.straight > 0 {
		return t.straight
	}
	return 2*math.Pi*distance + float64(t.corners)*t.side
}

// run returns the run of a turn on the ring at a distance. Turns go on over the
// ends of a ring.
func (t track) run(turn, distance float64) float64 {
	switch {
	case t.straight > 0:
		return turn
	case t.corners == 0:
		return turn * distance
	}
	return t.fromCorner(turn+t.start, distance) - t.fromCorner(t.start, distance)
}

// fromCorner returns the run, from the middle of the first arc, of a turn from
// there.
func (t track) fromCorner(turn, distance float64) float64 {
	corner, angle, side := t.split(turn)
	return float64(corner)*(t.arc()*distance+t.side) + angle*distance + side
}

// split tells a turn from the middle of the first arc as the number of a corner,
// what is gone round it, from the middle of its arc, and what along the side
// after it. Corners are counted on round the ring.
func (t track) split(turn float64) (corner int, angle, side float64) {
	half, part := t.arc()/2, t.arc()+t.side
	whole := math.Floor((turn + half) / part)
	rest := turn - whole*part
	if rest <= half {
		return int(whole), rest, 0
	}
	return int(whole), half, rest - half
}

// turn returns the turn of a run: the other way round of run.
func (t track) turn(run, distance float64) float64 {
	switch {
	case t.straight > 0:
		return run
	case t.corners == 0:
		return run / distance
	}
	run += t.fromCorner(t.start, distance)
	half, part := t.arc()/2*distance, t.arc()*distance+t.side
	whole := math.Floor((run + half) / part)
	rest := run - whole*part
	at := whole*(t.arc()+t.side) - t.start
	if rest <= half {
		return at + rest/distance
	}
	return at + t.arc()/2 + rest - half
}

// nearest returns the turn, of all that are whole rings from turn, that is
// nearest to another. A straight track does not come round.
func (t track) nearest(turn, other float64) float64 {
	if t.straight > 0 {
		return turn
	}
	return turn + math.Round((other-turn)/t.turns())*t.turns()
}

// apart returns how far two turns are apart along the ring at a distance, the
// short way round.
func (t track) apart(a, b, distance float64) float64 {
	return math.Abs(t.run(t.nearest(a, b), distance) - t.run(b, distance))
}

// outwards returns the direction square on a ring, at an angle from the top.
func outwards(angleRad float64) point {
	sin, cos := math.Sincos(angleRad)
	return point{-sin, -cos}
}

// along returns the direction of growing turn on a ring, at an angle from the
// top.
func along(angleRad float64) point {
	sin, cos := math.Sincos(angleRad)
	return point{-cos, sin}
}

// corner returns a corner of the core.
func (t track) corner(k int) point {
	if t.corners == 0 {
		return point{}
	}
	return outwards(t.tilt + float64(k)*t.arc()).times(t.side / 2 / math.Sin(t.arc()/2))
}

// apothem returns the distance of the sides of the core from the middle.
func (t track) apothem() float64 {
	if t.corners < 3 {
		return 0
	}
	return t.side / 2 / math.Tan(t.arc()/2)
}

// at returns the point at a turn and a distance, and the angle by which what
// stands there square on the ring is turned clockwise from upright.
func (t track) at(turn, distance float64) (p point, angleRad float64) {
	switch {
	case t.straight > 0:
		return point{-turn, -distance}, 0
	case t.corners == 0:
		turn -= math.Floor(turn/(2*math.Pi)) * 2 * math.Pi
		return outwards(turn).times(distance), -turn
	}
	corner, angle, side := t.split(turn + t.start)
	angle += t.tilt + float64(corner)*t.arc()
	angle -= math.Floor(angle/(2*math.Pi)) * 2 * math.Pi
	p = t.corner(corner).plus(outwards(angle).times(distance))
	if side > 0 {
		p = p.plus(along(angle).times(side))
	}
	return p, -angle
}

// place returns the turn and the distance of a point outside the core: the other
// way round of at.
func (t track) place(p point) (turn, distance float64) {
	if t.straight > 0 {
		return -p.X, -p.Y
	}
	if t.corners == 0 {
		turn = math.Atan2(-p.X, -p.Y)
		return turn - math.Floor(turn/(2*math.Pi))*2*math.Pi, math.Hypot(p.X, p.Y)
	}
	// The nearest point of the core is on a side if it is beside it, and else a
	// corner.
	distance = math.Inf(1)
	for k := range t.corners {
		c := t.corner(k)
		from := t.tilt + float64(k)*t.arc()
		before := float64(k)*(t.arc()+t.side) - t.start
		d := p.minus(c)
		normal := from + t.arc()/2
		if x := d.dot(along(normal)); x >= -1e-9 && x <= t.side+1e-9 {
			if y := d.dot(outwards(normal)); y >= -1e-9 && y < distance-1e-9 {
				turn, distance = before+t.arc()/2+x, y
			}
		}
		if r := math.Hypot(d.X, d.Y); r < distance-1e-9 {
			if a := math.Remainder(math.Atan2(-d.X, -d.Y)-from, 2*math.Pi); math.Abs(a) <= t.arc()/2+1e-9 {
				turn, distance = before+a, r
			}
		}
	}
	return turn - math.Floor(turn/t.turns())*t.turns(), distance
}

// follow goes on along the ring from one turn to another, either way.
func (p *path) follow(t track, from, to, distance float64) {
	if t.straight > 0 {
		end, _ := t.at(to, distance)
		p.line(end)
		return
	}
	// Cut where the ring goes over from an arc to a side, and arcs into pieces
	// of at most a quarter turn, which a cubic follows to 1/3000 of its radius.
	const most, tiny = math.Pi / 2, 1e-9
	sign := 1.0
	if to < from {
		sign = -1
	}
	for at := from; (to-at)*sign > tiny; {
		next, straight := to, false
		if t.corners > 0 {
			part := t.arc() + t.side
			corner, _, side := t.split(at + sign*tiny + t.start)
			low := float64(corner)*part - t.arc()/2 - t.start // of the arc
			high := low + t.arc()
			if straight = side > 0; straight {
				low, high = high, low+part
			}
			if sign > 0 {
				next = min(next, high)
			} else {
				next = max(next, low)
			}
		}
		if !straight {
			next = at + (next-at)/math.Ceil(math.Abs(next-at)/most)
		}
		end, _ := t.at(next, distance)
		if straight {
			p.line(end)
		} else {
			a, angle := t.at(at, distance)
			b, angle2 := t.at(next, distance)
			k := 4.0 / 3 * math.Tan((next-at)/4) * distance
			p.curve(a.plus(along(-angle).times(k)), b.plus(along(-angle2).times(-k)), end)
		}
		at = next
	}
}
