package chart

import "math"

// A Path is strokes joined end to end, as moves, lines and cubic curves.
type Path []segment

type segment struct {
	op byte     // 'M', 'L', 'C' or 'Z'
	to [3]Point // M and L: the first; C: two controls and the end
}

func (p *Path) move(a Point)        { *p = append(*p, segment{'M', [3]Point{a}}) }
func (p *Path) line(a Point)        { *p = append(*p, segment{'L', [3]Point{a}}) }
func (p *Path) curve(a, b, c Point) { *p = append(*p, segment{'C', [3]Point{a, b, c}}) }
func (p *Path) close()              { *p = append(*p, segment{op: 'Z'}) }

// end returns the last point of a path.
func (p Path) end() Point {
	s := &p[len(p)-1]
	ps := s.points()
	return ps[len(ps)-1]
}

// points returns the points that a segment names.
func (s *segment) points() []Point {
	switch s.op {
	case 'M', 'L':
		return s.to[:1]
	case 'C':
		return s.to[:]
	}
	return nil
}

// moved returns the path turned clockwise about the origin, then moved.
func (p Path) moved(by Point, angleRad float64) Path {
	sin, cos := math.Sincos(angleRad)
	q := make(Path, len(p))
	for i, s := range p {
		for k, a := range s.to {
			s.to[k] = Point{a.X*cos - a.Y*sin + by.X, a.X*sin + a.Y*cos + by.Y}
		}
		q[i] = s
	}
	return q
}

// strokes returns a path of straight strokes, each given by the coordinates of
// its corners.
func strokes(lines ...[]float64) Path {
	var p Path
	for _, l := range lines {
		for i := 0; i+1 < len(l); i += 2 {
			if a := (Point{l[i], l[i+1]}); i == 0 {
				p.move(a)
			} else {
				p.line(a)
			}
		}
	}
	return p
}

// ellipse returns a closed ellipse with the given half axes, its first axis
// turned clockwise from the x axis.
func ellipse(centre Point, rx, ry, angleRad float64) Path {
	const k = 0.5522847498 // a quarter circle as a cubic, radius 1
	p := Path{
		{'M', [3]Point{{rx, 0}}},
		{'C', [3]Point{{rx, k * ry}, {k * rx, ry}, {0, ry}}},
		{'C', [3]Point{{-k * rx, ry}, {-rx, k * ry}, {-rx, 0}}},
		{'C', [3]Point{{-rx, -k * ry}, {-k * rx, -ry}, {0, -ry}}},
		{'C', [3]Point{{k * rx, -ry}, {rx, -k * ry}, {rx, 0}}},
		{op: 'Z'},
	}
	return p.moved(centre, angleRad)
}

// flipped returns the mirror image of p, left for right.
func (p Path) flipped() Path {
	q := make(Path, len(p))
	for i, s := range p {
		for k := range s.to {
			s.to[k].X = -s.to[k].X
		}
		q[i] = s
	}
	return q
}

// scaled returns the path k times as large.
func (p Path) scaled(k float64) Path {
	q := make(Path, len(p))
	for i, s := range p {
		for j, a := range s.to {
			s.to[j] = a.times(k)
		}
		q[i] = s
	}
	return q
}
