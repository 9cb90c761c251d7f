package chart

import "math"

// A painter is what a scene can be drawn with, item by item in reading order.
type painter interface {
	begin(*sceneRing) // what follows belongs to this ring
	end()
	line(line)
	mark(mark)
	words(words)
}

// paint draws a scene.
func (sc *scene) paint(p painter) {
	all := func(lines []line, marks []mark, texts []words) {
		for _, ln := range lines {
			p.line(ln)
		}
		for i := range marks {
			p.mark(marks[i])
		}
		for _, w := range texts {
			p.words(w)
		}
	}
	all(sc.under, nil, nil)
	for i := range sc.rings {
		r := &sc.rings[i]
		p.begin(r)
		all(r.lines, r.marks, r.words)
		p.end()
	}
	all(sc.over, sc.marks, sc.words)
}

// A pen draws single shapes, already placed and scaled. Backends that know no
// symbols and no styles are pens.
type pen interface {
	stroke(p path, colour [3]float64, width float64, dash []float64)
	fill(p path, colour [3]float64, opacity float64)
	text(s string, at point, size float64, anchor anchor, bold bool, colour [3]float64)
}

// A flat painter draws with a pen: it turns each mark into its strokes and each
// ink into a colour.
type flat struct {
	pen    pen
	look   func(ink) string // the colour of an ink on the ground it is drawn on
	scale  float64          // of the pen's units to a width of a single crochet
	origin point            // of the scene, in the pen's units
	ring   ink              // that of the ring being drawn

	// low and high are the corners, in the pen's units, of what of the scene is
	// seen; marks and words outside are left out. Without them all is drawn.
	low, high point
}

// hides reports whether what lies between two corners in the scene, and so far
// round them, is outside what is seen.
func (f *flat) hides(low, high point, round float64) bool {
	if f.low == f.high {
		return false
	}
	low, high, round = low.times(f.scale).plus(f.origin), high.times(f.scale).plus(f.origin), round*f.scale
	return high.X+round < f.low.X || low.X-round > f.high.X || high.Y+round < f.low.Y || low.Y-round > f.high.Y
}

func (f *flat) begin(r *sceneRing) { f.ring = r.ink }
func (f *flat) end()               { f.ring = oddInk }

// inkParents are the inks that others take their colours from.
var inkParents = map[ink]ink{incLegInk: incInk, decLegInk: decInk, dashInk: solidInk, dotInk: solidInk}

// colour returns the colour of an ink.
func (f *flat) colour(i ink) [3]float64 {
	if i == ringInk || i == legInk {
		i = f.ring
	}
	if p, ok := inkParents[i]; ok {
		i = p
	}
	return rgb(f.look(i))
}

// width returns the width of lines in an ink, in the pen's units.
func (f *flat) width(i ink) float64 {
	if i == ringInk {
		i = f.ring
	}
	return inkTable[i].width * f.scale
}

func (f *flat) place(p path) path { return p.scaled(f.scale).moved(f.origin, 0) }

// seen returns the parts of a path, from move to move, that may be seen; an area
// is one part.
func (f *flat) seen(ln line) path {
	if f.low == f.high {
		return ln.path
	}
	area := ln.fill || ln.colour != ""
	var out path
	for i := 0; i < len(ln.path); {
		k := i + 1
		for k < len(ln.path) && (area || ln.path[k].op != 'M') {
			k++
		}
		low, high := ln.path[i].to[0], ln.path[i].to[0]
		for j := i; j < k; j++ {
			for _, p := range ln.path[j].points() {
				low, high = point{min(low.X, p.X), min(low.Y, p.Y)}, point{max(high.X, p.X), max(high.Y, p.Y)}
			}
		}
		if !f.hides(low, high, penWidth) {
			out = append(out, ln.path[i:k]...)
		}
		i = k
	}
	return out
}

func (f *flat) line(ln line) {
	switch p := f.place(f.seen(ln)); {
	case len(p) == 0:
	case ln.colour != "":
		f.pen.fill(p, rgb(ln.colour), bandOpacity(ln.colour))
	case ln.fill:
		f.pen.fill(p, f.colour(ln.ink), 1)
	default:
		var dash []float64
		for _, d := range inkTable[ln.ink].dash {
			dash = append(dash, d*f.scale)
		}
		f.pen.stroke(p, f.colour(ln.ink), f.width(ln.ink), dash)
	}
}

func (f *flat) mark(m mark) {
	if f.hides(m.at, m.at, math.Hypot(m.glyph.w, m.glyph.h)/2) {
		return
	}
	c := f.colour(m.ink)
	strokes, thin, filled := m.parts()
	if len(strokes) > 0 {
		f.pen.stroke(f.place(strokes), c, f.width(m.ink), nil)
	}
	if len(thin) > 0 {
		f.pen.stroke(f.place(thin), c, thinWidth*f.scale, nil)
	}
	if len(filled) > 0 {
		f.pen.fill(f.place(filled), c, 1)
	}
}

func (f *flat) words(w words) {
	if f.hides(w.at.minus(point{w.size * textWidth(w.text), w.size}), w.at.plus(point{w.size * textWidth(w.text), 0.3 * w.size}), 0) {
		return
	}
	at := w.at.times(f.scale).plus(f.origin)
	f.pen.text(w.text, at, w.size*f.scale, w.anchor, w.ink == numberInk, f.colour(w.ink))
}
