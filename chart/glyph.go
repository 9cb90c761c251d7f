package chart

import (
	"math"
	"strings"

	"roundelay/pattern/stitch"
)

// The proportions of the symbols, in widths of a single crochet. The shapes
// follow what the Craft Yarn Council (Standards & Guidelines, 2018) and JIS L
// 0201-1995 share, as told in words by teaching pages: a stem with a bar, one
// slash across it for each yarn over before inserting (hdc without), feet
// joined for one stitch worked into, heads joined for one stitch made. What
// neither shows (extended and reverse stitches, invisible decreases) is ours.
const (
	penWidth   = 0.115 // strokes
	thinWidth  = 0.07  // strokes inside a crowded symbol, and legs
	scArm      = 0.30  // half the height and width of a cross
	chainLong  = 0.58  // a chain along its long axis
	chainShort = 0.36
	dotSize    = 0.34 // a slip stitch
	barWidth   = 0.62 // the bar over a stem
	slashHalf  = 0.17 // half a slash, across
	slashRise  = 0.09 // and up
	footApart  = 0.46 // between the feet of stitches closed together
)

// stemHeight is how tall the symbols of each post stand. They are nearer to
// each other than the stitches are, so that tall rounds do not push a chart
// apart, but in the same order.
var stemHeight = map[stitch.Base]float64{
	stitch.Chain: chainShort, stitch.Slip: dotSize, stitch.Single: 2*scArm + penWidth,
	stitch.Half: 1.25, stitch.Double: 1.75, stitch.Treble: 2.25, stitch.DoubleTreble: 2.75, stitch.TripleTreble: 3.25,
	stitch.ExtendedSingle: 1.15, stitch.ExtendedHalf: 1.5, stitch.ExtendedDouble: 2.0, stitch.ExtendedTreble: 2.5,
	stitch.ReverseSingle: 1.0,
}

// A glyph is the drawing of one stitch, upright: its foot down, towards the
// middle of the chart, its head up. Its origin is the middle of its box.
type glyph struct {
	id     string  // "st-sc"
	w, h   float64 // the box, which holds all strokes with their width
	feet   []point // where legs begin, one for each stitch it uses; at least one
	pen    path    // strokes
	thin   path    // thin strokes
	filled path    // closed shapes in solid ink
	handed bool    // a left-handed chart shows its mirror image
	ink    ink     // that it is always drawn in; 0: that of its ring, or of an increase
}

// isStitch reports whether a symbol is that of a stitch.
func (g *glyph) isStitch() bool { return strings.HasPrefix(g.id, "st-") }

// crosses chooses between the two printed forms of single crochet.
type crosses bool

const plusCross crosses = true

// drawGlyph draws s.
func drawGlyph(s stitch.Stitch, cross crosses) *glyph {
	g := &glyph{id: "st-" + s.ID(), h: max(stemHeight[s.Base], 2*scArm+penWidth)}
	n := int(s.N)
	switch s.Form {
	case stitch.Together, stitch.Invisible:
		g.together(s, n)
	case stitch.Cluster, stitch.Puff, stitch.Bobble:
		g.spindle(s, n)
	case stitch.Popcorn:
		g.popcorn(s, n)
	case stitch.Picot:
		g.picot(n)
	case stitch.Shell:
		g.shell(s, n)
	default:
		switch {
		case s.Base == stitch.Chain:
			g.w, g.h = chainLong, chainShort
			g.pen = ellipse(point{}, (chainLong-penWidth)/2, (chainShort-penWidth)/2, 0)
		case s.Base == stitch.Slip:
			g.w, g.h = dotSize, dotSize
			g.filled = ellipse(point{}, dotSize/2, dotSize/2, 0)
		default:
			g.plain(s, cross)
		}
	}
	g.handed = s.Post != stitch.Top
	if s.IsDecrease() {
		g.ink = decInk
	}
	if g.feet == nil {
		g.feet = []point{{0, g.h / 2}}
	}
	return g
}

// plain draws one post: a cross, or a stem with its bar and slashes, on a foot
// that may curl round a post.
func (g *glyph) plain(s stitch.Stitch, cross crosses) {
	const half = penWidth / 2
	single := s.Base == stitch.Single || s.Base == stitch.ExtendedSingle || s.Base == stitch.ReverseSingle
	if s.Post != stitch.Top {
		g.h += 0.35
	}
	top, bottom := -g.h/2+half, g.h/2-half
	extended := s.Base >= stitch.ExtendedSingle && s.Base <= stitch.ExtendedTreble
	stemTop := top
	if single {
		g.w = 2*scArm + penWidth
		middle := top + scArm
		if s.Base == stitch.ReverseSingle { // a wave over the cross
			middle = bottom - scArm
			g.pen.move(point{-scArm, top + 0.14})
			g.pen.curve(point{-0.1, top - 0.12}, point{0.1, top + 0.3}, point{scArm, top + 0.04})
		}
		stemTop = middle
		if cross == plusCross {
			g.pen = append(g.pen, strokes([]float64{-scArm, middle, scArm, middle}, []float64{0, middle - scArm, 0, middle + scArm})...)
		} else {
			g.pen = append(g.pen, strokes([]float64{-scArm, middle - scArm, scArm, middle + scArm}, []float64{-scArm, middle + scArm, scArm, middle - scArm})...)
			g.feet = []point{{0, middle}}
		}
	} else {
		g.w = barWidth + penWidth
		g.pen = append(g.pen, strokes([]float64{-barWidth / 2, top, barWidth / 2, top})...)
		g.slashes(s.Slashes(), point{0, top}, point{0, bottom})
	}
	switch {
	case s.Post != stitch.Top: // the foot curls to the right from the front, to the left from the back
		side := 1.0
		if s.Post == stitch.Back {
			side = -1
		}
		const r = 0.15
		g.pen = append(g.pen, strokes([]float64{0, stemTop, 0, bottom - r})...)
		g.pen.curve(point{0, bottom + r/3}, point{side * 2 * r, bottom + r/3}, point{side * 2 * r, bottom - r})
		g.feet = []point{{side * r, bottom}}
	case extended: // a small loop, drawn up first, at the foot
		const r = 0.11
		g.pen = append(g.pen, strokes([]float64{0, stemTop, 0, bottom - 2*r})...)
		g.pen = append(g.pen, ellipse(point{0, bottom - r}, r, r, 0)...)
		g.feet = nil
	case !single:
		g.pen = append(g.pen, strokes([]float64{0, stemTop, 0, bottom})...)
	}
}

// slashes draws n short strokes across the stem from head to foot, grouped
// under the bar.
func (g *glyph) slashes(n int, head, foot point) {
	const first, step = 0.42, 0.27
	length := head.distance(foot)
	for k := range n {
		c := head.to(foot, min(0.9, (first+step*float64(k))/length))
		g.pen.move(point{c.X - slashHalf, c.Y + slashRise})
		g.pen.line(point{c.X + slashHalf, c.Y - slashRise})
	}
}

// together draws n posts on feet of their own closed to one head: crossed legs
// of single crochet meet in a point, taller stems under one bar. The invisible
// decrease stands on loops, for the front loops it goes through.
func (g *glyph) together(s stitch.Stitch, n int) {
	const half = penWidth / 2
	apart := footApart
	if n > 3 {
		apart = 0.36
	}
	wide := apart * float64(n-1)
	single := s.Base == stitch.Single
	if single {
		g.h = 0.95
		wide += 0.08
	}
	g.w = max(wide+2*slashHalf, barWidth) + penWidth
	if s.Post != stitch.Top {
		g.h += 0.3
		g.w += 0.06
	}
	top, bottom := -g.h/2+half, g.h/2-half
	head := point{0, top}
	if !single {
		g.pen = strokes([]float64{-barWidth / 2, top, barWidth / 2, top})
	}
	for k := range n {
		foot := point{wide * (float64(k)/float64(n-1) - 0.5), bottom}
		end := foot
		if s.Form == stitch.Invisible {
			const r = 0.1
			end = point{foot.X, bottom - 2*r}
			g.pen = append(g.pen, ellipse(point{foot.X, bottom - r}, r, r, 0)...)
		}
		g.pen = append(g.pen, strokes([]float64{head.X, head.Y, end.X, end.Y})...)
		switch {
		case single && s.Form == stitch.Together: // the other stroke of the cross, square on the leg
			c := head.to(foot, 0.56)
			along := point{foot.X - head.X, foot.Y - head.Y}
			along = along.times(0.2 / math.Hypot(along.X, along.Y))
			g.thin = append(g.thin, strokes([]float64{c.X - along.Y, c.Y + along.X, c.X + along.Y, c.Y - along.X})...)
		case !single: // low and short, where the legs are apart
			for j := range s.Slashes() {
				f := 0.64 - 0.06*float64(s.Slashes()) + 0.13*float64(j)
				x := min(slashHalf, 0.4*apart*f)
				c := head.to(foot, f)
				g.thin = append(g.thin, strokes([]float64{c.X - x, c.Y + x/2, c.X + x, c.Y - x/2})...)
			}
		}
		if s.Post != stitch.Top {
			side := 1.0
			if s.Post == stitch.Back {
				side = -1
			}
			g.thin.move(end)
			g.thin.curve(point{end.X, end.Y - 0.02}, point{end.X + side*0.21, end.Y}, point{end.X + side*0.21, end.Y - 0.2})
		}
		g.feet = append(g.feet, foot)
	}
}

// spindle draws posts joined at both ends. A cluster has the bar of a stitch
// over it, a puff is of loops without slashes, a bobble carries a knob.
func (g *glyph) spindle(s stitch.Stitch, n int) {
	const half = penWidth / 2
	g.h = max(g.h, 1.25)
	top, bottom := -g.h/2+half, g.h/2-half
	bulge := 0.24
	shown := min(n, 5) // more would run together; the key names the number
	if shown > 3 {
		bulge = 0.42
	}
	g.w = 2*bulge + 2*slashHalf*0.6 + penWidth
	switch s.Form {
	case stitch.Cluster:
		g.pen = strokes([]float64{-barWidth / 2, top, barWidth / 2, top})
		g.w = max(g.w, barWidth+penWidth)
	case stitch.Bobble:
		const knob = 0.13
		g.filled = ellipse(point{0, -g.h/2 + knob}, knob, knob, 0)
		top += knob
	}
	foot, head := point{0, bottom}, point{0, top}
	for k := range shown {
		x := bulge * (2*float64(k)/float64(shown-1) - 1)
		ink := &g.thin
		if k == 0 || k == shown-1 {
			ink = &g.pen
		}
		ink.move(foot)
		ink.curve(foot.to(head, 0.3).plus(point{x * 1.33, 0}), foot.to(head, 0.7).plus(point{x * 1.33, 0}), head)
		for j := range s.Slashes() {
			y := top + g.h*0.38 + 0.2*float64(j)
			g.thin = append(g.thin, strokes([]float64{x - slashHalf*0.6, y + 0.06, x + slashHalf*0.6, y - 0.06})...)
		}
	}
}

// popcorn draws posts fanned from one foot, gathered under an open oval.
func (g *glyph) popcorn(s stitch.Stitch, n int) {
	const half = penWidth / 2
	const rx, ry = 0.46, 0.15
	g.h += 0.2
	top, bottom := -g.h/2+half, g.h/2-half
	shown := min(n, 5)
	g.w = 2*rx + 2*slashHalf*0.7 + penWidth
	g.pen = ellipse(point{0, top + ry}, rx, ry, 0)
	for k := range shown {
		x := 0.8 * rx * (2*float64(k)/float64(shown-1) - 1)
		// The head of the stem, on the lower edge of the oval.
		y := top + ry + ry*math.Sqrt(1-x*x/(rx*rx))
		ink := &g.thin
		if k == 0 || k == shown-1 {
			ink = &g.pen
		}
		*ink = append(*ink, strokes([]float64{0, bottom, x, y})...)
		for j := range s.Slashes() {
			c := point{x, y}.to(point{0, bottom}, 0.3+0.16*float64(j))
			g.thin = append(g.thin, strokes([]float64{c.X - slashHalf*0.5, c.Y + 0.05, c.X + slashHalf*0.5, c.Y - 0.05})...)
		}
	}
}

// picot draws a ring of n chains closed by a slip stitch at its foot.
func (g *glyph) picot(n int) {
	const long, short, dot = 0.36, 0.24, 0.13
	radius := max(0.24, float64(n+1)*0.36/(2*math.Pi))
	g.w = 2*radius + short
	g.h = 2*radius + short/2 + dot
	centre := point{0, -g.h/2 + radius + short/2}
	for k := 1; k <= n; k++ {
		a := 2 * math.Pi * float64(k) / float64(n+1) // clockwise from the foot
		c := centre.plus(point{0, radius}.turned(a))
		g.thin = append(g.thin, ellipse(c, (long-thinWidth)/2, (short-thinWidth)/2, a)...)
	}
	g.filled = ellipse(centre.plus(point{0, radius}), dot, dot, 0)
	g.w = max(g.w, 2*radius+long)
}

// shell draws n whole posts fanned from one foot, for the key.
func (g *glyph) shell(s stitch.Stitch, n int) {
	const half = penWidth / 2
	const bar = 0.2
	spread := min(0.32*float64(n-1), 2.4) // angle from the first to the last, rad
	length := g.h - penWidth
	for k := range n {
		a := spread * (float64(k)/float64(n-1) - 0.5)
		var p path
		p = append(p, strokes([]float64{0, 0, 0, -length}, []float64{-bar, -length, bar, -length})...)
		for j := range s.Slashes() {
			y := -length * (0.72 - 0.14*float64(j))
			p = append(p, strokes([]float64{-bar * 0.6, y + 0.05, bar * 0.6, y - 0.05})...)
		}
		g.thin = append(g.thin, p.moved(point{0, g.h/2 - half}, a)...)
	}
	g.w = 2*(length*math.Sin(min(spread/2, math.Pi/2))+bar) + penWidth
}

// bounds returns the corners of all that is inked of g, with the width of its
// strokes.
func (g *glyph) bounds() (low, high point) {
	low, high = point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	grow := func(p path, by float64) {
		for _, a := range p.flat() {
			low = point{min(low.X, a.X-by), min(low.Y, a.Y-by)}
			high = point{max(high.X, a.X+by), max(high.Y, a.Y+by)}
		}
	}
	grow(g.pen, penWidth/2)
	grow(g.thin, thinWidth/2)
	grow(g.filled, 0)
	return low, high
}

// flat returns points along p, close enough for measuring.
func (p path) flat() []point {
	var out []point
	var at point
	for _, s := range p {
		switch s.op {
		case 'M', 'L':
			at = s.to[0]
			out = append(out, at)
		case 'C':
			for k := 1; k <= 16; k++ {
				f := float64(k) / 16
				a, b, c := at.to(s.to[0], f), s.to[0].to(s.to[1], f), s.to[1].to(s.to[2], f)
				out = append(out, a.to(b, f).to(b.to(c, f), f))
			}
			at = s.to[2]
		}
	}
	return out
}
