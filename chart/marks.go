package chart

import (
	"math"
	"slices"

	"roundelay/pattern/notation"
)

// The marks of a chart that are not stitches. Increase and decrease differ in
// shape (wedge, lozenge), in fill (solid, open) and in colour.
var (
	incMark    = &glyph{id: "mark-inc", w: 0.36, h: 0.24, ink: incInk, filled: closed(-0.18, -0.12, 0.18, -0.12, 0, 0.12)}
	decMark    = &glyph{id: "mark-dec", w: 0.34, h: 0.30, ink: decInk, thin: closed(0, -0.11, 0.13, 0, 0, 0.11, -0.13, 0)}
	startMark  = &glyph{id: "mark-start", handed: true, w: 0.24, h: 0.32, filled: closed(-0.12, 0, 0.12, -0.16, 0.12, 0.16)}
	backMark   = &glyph{id: "mark-blo", w: 0.5, h: 0.2, thin: sag(0.19, 0.1)}
	frontMark  = &glyph{id: "mark-flo", w: 0.5, h: 0.2, thin: sag(0.19, -0.1)}
	yarnMark   = &glyph{id: "mark-yarn", w: 0.2, h: 0.2, filled: closed(-0.1, 0, 0, -0.1, 0.1, 0, 0, 0.1)}
	cutMark    = &glyph{id: "mark-cut", handed: true, w: 0.3, h: 0.3, filled: closed(-0.15, 0.15, 0.15, 0.15, 0, -0.15)}
	joinMark   = &glyph{id: "mark-join", handed: true, w: 0.3, h: 0.3, thin: closed(-0.11, 0.11, 0.11, 0.11, 0, -0.11)}
	skipMark   = &glyph{id: "mark-skip", w: 0.3, h: 0.1, filled: closed(-0.14, -0.05, 0.14, -0.05, 0.14, 0.05, -0.14, 0.05)}
	markerMark = drawMarker()
	ringMark   = drawRingMark()
	closeMark  = drawCloseMark()
)

// allMarks are all of them.
var allMarks = []*glyph{incMark, decMark, startMark, backMark, frontMark, yarnMark, cutMark, joinMark, skipMark, markerMark, ringMark, closeMark}

// closed returns a closed outline of straight strokes.
func closed(corners ...float64) path {
	p := strokes(corners)
	p.close()
	return p
}

// sag returns a short arc that hangs, or with a depth below 0 stands.
func sag(half, depth float64) path {
	var p path
	y := -depth / 2
	p.move(point{-half, y})
	p.curve(point{-half / 2, y + depth*4/3}, point{half / 2, y + depth*4/3}, point{half, y})
	return p
}

// drawMarker draws a stitch marker: a loop that hangs from its pin.
func drawMarker() *glyph {
	g := &glyph{id: "mark-marker", w: 0.3, h: 0.34}
	g.thin.move(point{0, -0.13})
	g.thin.curve(point{0.2, 0.02}, point{0.12, 0.13}, point{0, 0.13})
	g.thin.curve(point{-0.12, 0.13}, point{-0.2, 0.02}, point{0, -0.13})
	g.filled = ellipse(point{0, -0.12}, 0.05, 0.05, 0)
	return g
}

// drawRingMark draws the ring of yarn that a piece starts from: a loop with its
// tail.
func drawRingMark() *glyph {
	const r = 0.3
	g := &glyph{id: "mark-ring", w: 0.9, h: 0.9}
	g.pen = ellipse(point{}, r, r, 0)
	g.pen.move(point{-r * 0.28, r * 0.96})
	g.pen.curve(point{-0.25, 0.22}, point{-0.14, -0.02}, point{0.06, 0})
	return g
}

// chainRing draws n chains joined to a ring.
func chainRing(n int) path {
	shown := max(3, min(n, 40))
	r := float64(shown) * stackStep / (2 * math.Pi)
	var p path
	for k := range shown {
		a := 2 * math.Pi * (float64(k) + 0.5) / float64(shown)
		p = append(p, ellipse(point{0, -r}.turned(a), (chainLong-penWidth)/2, (chainShort-penWidth)/2, a)...)
	}
	return p
}

// drawCloseMark draws the end of a closed solid: threads drawn together in a
// point.
func drawCloseMark() *glyph {
	g := &glyph{id: "mark-close", w: 0.8, h: 0.8}
	for k := range 6 {
		a := 2 * math.Pi * (float64(k) + 0.5) / 6
		from, to := point{0, -0.34}.turned(a), point{0, -0.16}.turned(a)
		g.thin.move(from)
		g.thin.line(to)
	}
	g.filled = ellipse(point{}, 0.08, 0.08, 0)
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

// signs returns the marks of what is done at the ends of a round: before it, if
// the yarn is joined, and after it, as steps say.
func (l *layout) signs(r *ring) (before, after []*glyph) {
	if r.ghost {
		return nil, nil
	}
	if r.below != nil && slices.Contains(l.done[r.below.round.Number], "fasten off") {
		before = append(before, joinMark)
	}
	for _, do := range l.done[r.round.Number] {
		if g := signGlyphs[do]; g != nil && !slices.Contains(after, g) {
			after = append(after, g)
		}
	}
	return before, after
}

// signGlyphs are the marks of what steps do after a round: as in printed charts a
// solid triangle where the yarn is cut, and an open one where it is joined.
var signGlyphs = map[string]*glyph{"fasten off": cutMark, "mark": markerMark}

// skips marks the stitches of the ring below that are left out between two that
// are worked into, if no chain lies over them: the eye would take them for
// worked.
func (l *layout) skips(r *ring) []mark {
	var out []mark
	ss := r.round.Stitches
	for i := 1; i < len(ss); i++ {
		a, b := &ss[i-1], &ss[i]
		if l.into(r, a) != r.below || l.into(r, b) != r.below || r.below == nil || r.below.ghost || !r.shows(i-1) || !r.shows(i) ||
			a.Into.Where != notation.IntoStitch || b.Into.Where != notation.IntoStitch || a.Role == notation.Joining || b.Role == notation.Joining {
			continue
		}
		for q := min(a.Into.Last, b.Into.Last) + 1; q < max(a.Into.First, b.Into.First); q++ {
			if !r.below.round.Stitches[q].Counts {
				continue
			}
			at, angle := l.at(r.below, r.below.places[q].over, l.edge(r.below, 0.04+skipMark.h/2))
			out = append(out, mark{glyph: skipMark, at: at, angle: angle})
		}
	}
	return out
}

// driftPerRound is by how much of a stitch the start of a round moves on, to the
// right for the right hand, over that of the round before, if the work is not
// turned: the loops at the top of a stitch lie beside its post. Half a stitch is
// what stitchesnscraps.com/tutorial-why-continuous-rounds-shift says; a stitch
// added every three to five rounds, as receitasdeferdi.com has it, would be less.
const driftPerRound = 0.5

// drift draws where the starts of the rounds lie in the fabric, which has no gap
// for labels: so many stitches before the end of each round.
func (l *layout) drift() line {
	out := line{ink: driftInk}
	for _, r := range l.rings {
		if r.backwards || r.round.Number == 0 {
			continue
		}
		at, _ := l.at(r, r.fromEnd(l.drifts[r.index]*float64(r.round.Made)), r.in+r.height/2)
		if len(out.path) == 0 {
			out.path.move(at)
		} else {
			out.path.line(at)
		}
	}
	return out
}

// fromEnd returns the turn that lies so many stitches, or parts of one, before
// the end of a round.
func (r *ring) fromEnd(stitches float64) float64 {
	after := r.track.turns() - r.track.turn(r.startGap, r.in) // of the end of the stitch
	for i := len(r.places) - 1; i >= 0; i-- {
		if !r.round.Stitches[i].Counts {
			continue
		}
		before := 2*r.places[i].turn - after
		for k := i - 1; k >= 0; k-- {
			if r.round.Stitches[k].Counts {
				before = (r.places[i].turn + r.places[k].turn) / 2
				break
			}
		}
		if stitches <= 1 {
			return after + (before-after)*stitches
		}
		stitches--
		after = before
	}
	return after
}

// driftsOf returns by what part of a round the start of each has moved on.
func driftsOf(rounds []*notation.Round) []float64 {
	out := make([]float64, len(rounds))
	part := 0.0
	for i, r := range rounds {
		if i > 0 && !rounds[i-1].Turned && r.Made > 0 {
			part += driftPerRound / float64(r.Made)
		}
		out[i] = part
	}
	return out
}
