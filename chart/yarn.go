package chart

import (
	"fmt"
	"regexp"

	"roundelay/pattern"
	"roundelay/pattern/notation"
)

// A yarnLook is how the stitches of one yarn are told from those of others: by
// the colour of the band they stand on, by a line along their feet, and by a
// letter.
type yarnLook struct {
	letter string
	name   string
	colour string // "#c9563c"
	edges  ink    // ringInk: none
}

// edgeInks are the lines under the stitches of the second yarn and those after it;
// the first has none.
var edgeInks = [...]ink{ringInk, solidInk, dashInk, dotInk}

var hexColour = regexp.MustCompile(`^#[0-9a-fA-F]{6}$`)

// yarnLooks returns how the yarns of a piece look; nil if it has only one.
func yarnLooks(p *pattern.Pattern, piece *pattern.Piece) []yarnLook {
	n := 0
	for _, r := range piece.Rounds {
		for i := range r.Stitches {
			n = max(n, int(r.Stitches[i].Yarn)+1)
		}
	}
	if n < 2 {
		return nil
	}
	grey := [...]string{"#c8c8c8", "#8c8c8c", "#e4e4e4", "#6e6e6e"}
	looks := make([]yarnLook, n)
	for i := range looks {
		y := &looks[i]
		y.letter = string(rune('A' + i%26))
		y.colour = grey[i%len(grey)]
		y.edges = edgeInks[i%len(edgeInks)]
		y.name = fmt.Sprintf("yarn %s", y.letter)
		if i < len(piece.Yarns) && piece.Yarns[i] >= 0 && piece.Yarns[i] < len(p.Yarns) {
			of := &p.Yarns[piece.Yarns[i]]
			if hexColour.MatchString(of.Hex) {
				y.colour = of.Hex
			}
			y.name = of.Key
			if of.Colour != "" && of.Colour != of.Key {
				y.name += ", " + of.Colour
			}
		}
	}
	return looks
}

// edgePad is how far the line along a band is off the feet of the symbols on it.
const edgePad = 0.09

// A run is the stitches of a ring, one after the other, in one yarn: from one
// turn to another.
type run struct {
	from, to float64
	yarn     int
}

// runs returns the runs of what is shown of a ring.
func (r *ring) runs() []run {
	ss := r.round.Stitches
	if len(ss) == 0 {
		return nil
	}
	var out []run
	whole := r.track.turns()
	from := r.track.turn(r.startGap, r.in) // turns are told as if worked anticlockwise
	turn := func(i int) float64 {
		if r.backwards {
			return whole - r.places[i].turn
		}
		return r.places[i].turn
	}
	i := 0
	if r.shown.from > 0 && r.shown.from < len(ss) {
		i = r.shown.from
		if r.places[i-1].turn != r.places[i].turn {
			from = (turn(i-1) + turn(i)) / 2
		}
	}
	for i < len(ss) && r.shows(i) {
		k := i + 1
		for k < len(ss) && ss[k].Yarn == ss[i].Yarn {
			k++
		}
		to := whole - r.track.turn(r.startGap, r.in)
		if r.shown != (part{}) {
			k = min(k, r.shown.to)
		}
		if k < len(ss) {
			to = (turn(k-1) + turn(k)) / 2
		}
		a := run{from, to, int(ss[i].Yarn)}
		if r.backwards {
			a.from, a.to = whole-to, whole-from
		}
		out = append(out, a)
		from = to
		i = k
	}
	return out
}

// bands draws, under the rings, a band for each run of stitches in one yarn, or
// one for several rings that are all in one.
func (l *layout) bands(looks []yarnLook) []line {
	if len(looks) == 0 {
		return nil
	}
	var out []line
	for n := 0; n < len(l.rings); {
		r := l.rings[n]
		runs := r.runs()
		last, m := r, n+1
		for ; len(runs) == 1 && r.shown == (part{}) && m < len(l.rings); m++ {
			more := l.rings[m].runs()
			if len(more) != 1 || more[0].yarn != runs[0].yarn || l.rings[m].ghost != r.ghost {
				break
			}
			last = l.rings[m]
		}
		for _, a := range runs {
			b := a
			if last != r {
				b = last.runs()[0]
			}
			p := l.band(r, last, a, b)
			out = append(out, line{path: p, ink: bandInk, colour: looks[min(a.yarn, len(looks)-1)].colour})
		}
		for _, r := range l.rings[n:m] {
			for _, a := range r.runs() {
				if edges := looks[min(a.yarn, len(looks)-1)].edges; edges != ringInk {
					out = append(out, line{path: l.arc(r, a.from, a.to, l.foot(r, edgePad)), ink: edges})
				}
			}
		}
		n = m
	}
	return out
}

// band returns the outline of a run of the first and of the last of some rings
// and what lies between them.
func (l *layout) band(first, last *ring, a, b run) path {
	inner, outer := first, last
	if l.inward {
		inner, outer, a, b = last, first, b, a
	}
	low, _ := l.bandEdges(inner)
	_, high := l.bandEdges(outer)
	p := l.arc(outer, b.from, b.to, high)
	if k := outer.index - l.first + 1; l.outline.corners > 0 && k < len(l.rings) { // its corners are further out
		next := l.rings[k]
		edge, _ := l.bandEdges(next)
		p = l.arc(next, outer.on(next, b.from), outer.on(next, b.to), edge)
	}
	end, _ := l.at(inner, a.to, low)
	p.line(end)
	var back path
	back.follow(inner.track, a.to, a.from, low)
	p = append(p, back.moved(l.middle, 0)...)
	p.close()
	return p
}

// bandEdges returns the distances between which the band of a ring lies: it
// meets those of the rings beside it in the middle of the gap.
func (l *layout) bandEdges(r *ring) (low, high float64) {
	low, high = r.in-gapRings/2, r.in+r.height+gapRings/2
	k := r.index - l.first
	inner, outer := k-1, k+1
	if l.inward {
		inner, outer = outer, inner
	}
	if inner >= 0 && inner < len(l.rings) {
		low = (r.distanceOf(l.rings[inner]) + l.rings[inner].height + r.in) / 2
	}
	if outer >= 0 && outer < len(l.rings) {
		high = (r.in + r.height + r.distanceOf(l.rings[outer])) / 2
	}
	return max(low, 0), high
}

// yarnChanges marks the first stitch of another yarn within a round; that of a
// round is said where it starts.
func (l *layout) yarnChanges(r *ring) []mark {
	var out []mark
	ss := r.round.Stitches
	for i := max(1, r.stack); i < len(ss); i++ {
		if !r.shows(i) || ss[i].Yarn == ss[i-1].Yarn || ss[i].Role == notation.Joining {
			continue
		}
		at, angle := l.at(r, (r.places[i-1].turn+r.places[i].turn)/2, l.edge(r, 0.02+yarnMark.h/2))
		out = append(out, mark{glyph: yarnMark, at: at, angle: angle})
	}
	return out
}

// firstYarn returns the yarn in which a round starts.
func firstYarn(r *notation.Round) int {
	if len(r.Stitches) == 0 {
		return 0
	}
	return int(r.Stitches[0].Yarn)
}
