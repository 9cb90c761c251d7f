package chart

import (
	"math"
)

// The marks of a chart that are not stitches. Increase and decrease differ in
// shape (wedge, lozenge), in fill (solid, open) and in colour.
var (
	incMark   = &glyph{id: "mark-inc", w: 0.36, h: 0.24, ink: incInk, filled: closed(-0.18, -0.12, 0.18, -0.12, 0, 0.12)}
	decMark   = &glyph{id: "mark-dec", w: 0.34, h: 0.30, ink: decInk, thin: closed(0, -0.11, 0.13, 0, 0, 0.11, -0.13, 0)}
	startMark = &glyph{id: "mark-start", handed: true, w: 0.24, h: 0.32, filled: closed(-0.12, 0, 0.12, -0.16, 0.12, 0.16)}
	backMark  = &glyph{id: "mark-blo", w: 0.5, h: 0.2, thin: sag(0.19, 0.1)}
	frontMark = &glyph{id: "mark-flo", w: 0.5, h: 0.2, thin: sag(0.19, -0.1)}
	yarnMark  = &glyph{id: "mark-yarn", w: 0.2, h: 0.2, filled: closed(-0.1, 0, 0, -0.1, 0.1, 0, 0, 0.1)}
	cutMark   = &glyph{id: "mark-cut", handed: true, w: 0.3, h: 0.3, filled: closed(-0.15, 0.15, 0.15, 0.15, 0, -0.15)}
	ringMark  = drawRingMark()
	closeMark = drawCloseMark()
)

// allMarks are all of them.
var allMarks = []*glyph{incMark, decMark, startMark, backMark, frontMark, yarnMark, cutMark, ringMark, closeMark}

// closed returns a closed outline of straight strokes.
func closed(corners ...float64) Path {
	p := strokes(corners)
	p.close()
	return p
}

// sag returns a short arc that hangs, or with a depth below 0 stands.
func sag(half, depth float64) Path {
	var p Path
	y := -depth / 2
	p.move(Point{-half, y})
	p.curve(Point{-half / 2, y + depth*4/3}, Point{half / 2, y + depth*4/3}, Point{half, y})
	return p
}

// drawRingMark draws the ring of yarn that a piece starts from: a loop with its
// tail.
func drawRingMark() *glyph {
	const r = 0.3
	g := &glyph{id: "mark-ring", w: 0.9, h: 0.9}
	g.pen = ellipse(Point{}, r, r, 0)
	g.pen.move(Point{-r * 0.28, r * 0.96})
	g.pen.curve(Point{-0.25, 0.22}, Point{-0.14, -0.02}, Point{0.06, 0})
	return g
}

// chainRing draws n chains joined to a ring.
func chainRing(n int) Path {
	shown := max(3, min(n, 40))
	r := float64(shown) * stackStep / (2 * math.Pi)
	var p Path
	for k := range shown {
		a := 2 * math.Pi * (float64(k) + 0.5) / float64(shown)
		p = append(p, ellipse(Point{0, -r}.turned(a), (chainLong-penWidth)/2, (chainShort-penWidth)/2, a)...)
	}
	return p
}

// drawCloseMark draws the end of a closed solid: threads drawn together in a
// point.
func drawCloseMark() *glyph {
	g := &glyph{id: "mark-close", w: 0.8, h: 0.8}
	for k := range 6 {
		a := 2 * math.Pi * (float64(k) + 0.5) / 6
		from, to := Point{0, -0.34}.turned(a), Point{0, -0.16}.turned(a)
		g.thin.move(from)
		g.thin.line(to)
	}
	g.filled = ellipse(Point{}, 0.08, 0.08, 0)
	return g
}

// guides draws a line across a ring after every so many stitches, between that
// stitch and the next.
func (l *layout) guides(r *ring) line {
	out := line{ink: guideInk}
	if l.guide == 0 {
		return out
	}
	n := 0
	for i := range r.round.Stitches {
		if !r.round.Stitches[i].Counts {
			continue
		}
		n++
		if n%l.guide != 0 || n == r.round.Made || i+1 == len(r.places) || !r.shows(i) || !r.shows(i+1) {
			continue
		}
		turn := (r.places[i].turn + r.places[i+1].turn) / 2
		for k, distance := range [...]float64{r.in, r.in + r.height} {
			if at, _ := l.at(r, turn, distance); k == 0 {
				out.path.move(at)
			} else {
				out.path.line(at)
			}
		}
	}
	return out
}

// cut marks the end of a round after which the yarn is cut: a solid triangle over
// its last stitch, as printed charts have it.
func (l *layout) cut(r *ring) []mark {
	last := len(r.places) - 1
	if !l.cuts[r.round.Number] || last < 0 || !r.shows(last) || r.ghost {
		return nil
	}
	const off = 0.04
	p := &r.places[last]
	clear := p.glyph.h/2 + off + cutMark.h/2 // of a join, which stands out of its ring
	distance := max(l.edge(r, off+cutMark.h/2), p.radius+clear)
	if l.inward {
		distance = min(l.edge(r, off+cutMark.h/2), p.radius-clear)
	}
	at, angle := l.at(r, p.turn, distance)
	return []mark{{glyph: cutMark, at: at, angle: angle}}
}
