package chart

import "math"

// A path is strokes joined end to end, as moves, lines and cubic curves.
type path []segment

type segment struct {
	op byte     // 'M', 'L', 'C' or 'Z'
	to [3]point // M and L: the first; C: two controls and the end
}

func (p *path) move(a point)        { *p = append(*p, segment{'M', [3]point{a}}) }
func (p *path) line(a point)        { *p = append(*p, segment{'L', [3]point{a}}) }
func (p *path) curve(a, b, c point) { *p = append(*p, segment{'C', [3]point{a, b, c}}) }
func (p *path) close()              { *p = append(*p, segment{op: 'Z'}) }

// A tracer is what a path can be drawn with, as libraries for drawing have it.
type tracer interface {
	MoveTo(x, y float64)
	LineTo(x, y float64)
	CubicTo(x1, y1, x2, y2, x, y float64)
	ClosePath()
}

// trace draws a path.
func (p path) trace(t tracer) {
	for _, s := range p {
		switch s.op {
		case 'M':
			t.MoveTo(s.to[0].X, s.to[0].Y)
		case 'L':
			t.LineTo(s.to[0].X, s.to[0].Y)
		case 'C':
			t.CubicTo(s.to[0].X, s.to[0].Y, s.to[1].X, s.to[1].Y, s.to[2].X, s.to[2].Y)
		case 'Z':
			t.ClosePath()
		}
	}
}

// end returns the last point of a path.
func (p path) end() point {
	s := &p[len(p)-1]
	ps := s.points()
	return ps[len(ps)-1]
}

// points returns the points that a segment names.
func (s *segment) points() []point {
	switch s.op {
	case 'M', 'L':
		return s.to[:1]
	case 'C':
		return s.to[:]
	}
	return nil
}

// moved returns the path turned clockwise about the origin, then moved.
func (p path) moved(by point, angleRad float64) path {
	sin, cos := math.Sincos(angleRad)
	q := make(path, len(p))
	for i, s := range p {
		for k, a := range s.to {
			s.to[k] = point{a.X*cos - a.Y*sin + by.X, a.X*sin + a.Y*cos + by.Y}
		}
		q[i] = s
	}
	return q
}

// strokes returns a path of straight strokes, each given by the coordinates of
// its corners.
func strokes(lines ...[]float64) path {
	var p path
	for _, l := range lines {
		for i := 0; i+1 < len(l); i += 2 {
			if a := (point{l[i], l[i+1]}); i == 0 {
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
func ellipse(centre point, rx, ry, angleRad float64) path {
	const k = 0.5522847498 // a quarter circle as a cubic, radius 1
	p := path{
		{'M', [3]point{{rx, 0}}},
		{'C', [3]point{{rx, k * ry}, {k * rx, ry}, {0, ry}}},
		{'C', [3]point{{-k * rx, ry}, {-rx, k * ry}, {-rx, 0}}},
		{'C', [3]point{{-rx, -k * ry}, {-k * rx, -ry}, {0, -ry}}},
		{'C', [3]point{{k * rx, -ry}, {rx, -k * ry}, {rx, 0}}},
		{op: 'Z'},
	}
	return p.moved(centre, angleRad)
}

// flipped returns the mirror image of p, left for right.
func (p path) flipped() path {
	q := make(path, len(p))
	for i, s := range p {
		for k := range s.to {
			s.to[k].X = -s.to[k].X
		}
		q[i] = s
	}
	return q
}

// scaled returns the path k times as large.
func (p path) scaled(k float64) path {
	q := make(path, len(p))
	for i, s := range p {
		for j, a := range s.to {
			s.to[j] = a.times(k)
		}
		q[i] = s
	}
	return q
}
