package chart

import (
	"math"
	"strconv"

	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// position returns where the symbol of a place stands and how it is turned.
func (l *layout) position(r *ring, p *place) (point, float64) {
	at, angle := l.at(r, p.turn, p.radius)
	return at, angle + p.lean
}

// head returns the point over the symbol of a place that legs of the next ring
// end in.
func (l *layout) head(r *ring, p *place) point {
	at, angle := l.at(r, p.turn, p.radius)
	half := p.glyph.h / 2
	if p.lean == math.Pi/2 {
		half = p.glyph.w / 2
	} else {
		angle += p.lean
	}
	return at.plus(point{0, -half}.turned(angle))
}

// composeRing draws one ring.
func (l *layout) composeRing(r *ring, yarns []yarnLook) sceneRing {
	out := sceneRing{round: r.round.Number, count: r.round.Made, ink: oddInk, middle: l.middle, top: l.middle.minus(point{0, l.usual(r)})}
	if r.round.Number%2 == 0 {
		out.ink = evenInk
	}
	if r.ghost {
		out.ink, out.ghost = ghostInk, true
	}
	ss := r.round.Stitches
	out.marks = make([]mark, 0, len(ss)+2*len(r.families)+2)
	legs, incLegs, decLegs := line{ink: legInk}, line{ink: incLegInk}, line{ink: decLegInk}
	marked := make([]bool, len(r.families))
	for i := range ss {
		if !r.shows(i) {
			continue
		}
		s, p := &ss[i], &r.places[i]
		m := mark{glyph: p.glyph}
		m.at, m.angle = l.position(r, p)
		k := r.family[i]
		if i < r.stack {
			k = r.family[r.stack-1] // the chains of a stack stand for one stitch
		}
		switch {
		case k >= 0:
			m.ink = incInk
			foot := r.families[k].into
			l.leg(&incLegs.path, r, i, foot, true)
			if !marked[k] {
				marked[k] = true
				out.marks = append(out.marks, l.footMark(r, incMark, foot, incInk))
			}
		case s.Kind.IsDecrease() && !r.ghost:
			m.ink = decInk
			l.leg(&decLegs.path, r, i, s.Into, true)
			if l.into(r, s) != nil {
				out.marks = append(out.marks, l.footMark(r, decMark, s.Into, decInk))
			}
		default:
			l.leg(&legs.path, r, i, s.Into, false)
		}
		if s.Loop != notation.BothLoops && l.into(r, s) != nil {
			g := backMark
			if s.Loop == notation.FrontLoop {
				g = frontMark
			}
			at, angle := l.at(r, p.turn, l.foot(r, g.h/2+0.02))
			out.marks = append(out.marks, mark{glyph: g, at: at, angle: angle})
		}
		out.marks = append(out.marks, m)
	}
	for _, p := range [...]line{l.guides(r), legs, incLegs, decLegs} {
		if len(p.path) > 0 {
			out.lines = append(out.lines, p)
		}
	}
	if len(yarns) > 0 {
		out.marks = append(out.marks, l.yarnChanges(r)...)
	}
	out.marks = append(out.marks, l.skips(r)...)
	l.label(r, yarns, &out)
	return out
}

// usual returns how far out most of the stitches of a ring stand that do not lean,
// below 0 if they stand on their heads.
func (l *layout) usual(r *ring) float64 {
	most, of := 0, map[float64]int{}
	usual := 0.0
	for i := range r.places {
		if p := &r.places[i]; p.lean == 0 && r.shows(i) {
			if of[p.radius]++; of[p.radius] > most {
				most, usual = of[p.radius], p.radius
			}
		}
	}
	if l.inward {
		return -usual
	}
	return usual
}

// footMark places the mark of an increase or decrease over what it is worked
// into, just outside the ring below.
func (l *layout) footMark(r *ring, g *glyph, in notation.Into, ink ink) mark {
	b := l.into(r, &notation.Stitch{Into: in})
	at, angle := l.footPlace(r, b, b.middle(in))
	return mark{glyph: g, at: at, angle: angle, ink: ink}
}

// footPlace returns the place, outside the ring below r, of the mark of an
// increase or a decrease worked at a turn of the ring b.
func (l *layout) footPlace(r, b *ring, turn float64) (point, float64) {
	const off = 0.2
	return l.at(r.below, b.on(r.below, turn), l.edge(r.below, off))
}

// leg adds the lines from the feet of stitch i to what it is worked into. A
// stitch that plainly stands over it needs none, unless always is set.
func (l *layout) leg(path *path, r *ring, i int, in notation.Into, always bool) {
	s, p := &r.round.Stitches[i], &r.places[i]
	b := l.into(r, &notation.Stitch{Into: in})
	if b == nil || i > 0 && i < r.stack || i >= r.stack && hangs(s) {
		return
	}
	at, angle := l.position(r, p)
	feet := p.glyph.feet
	if i < r.stack {
		feet = []point{{-p.glyph.w / 2, 0}} // a chain of the stack stands on its end
	}
	switch in.Where {
	case notation.IntoSpace:
		if !l.overSpace(r, i) {
			path.move(at.plus(feet[0].turned(angle)))
			path.line(l.spaceFoot(r, b, i))
		}
		return
	case notation.IntoGap:
		end, _ := l.at(b, (b.places[in.First].over+b.places[in.Last].over)/2, l.edge(b, -b.height/4))
		path.move(at.plus(feet[0].turned(angle)))
		path.line(end)
		return
	}
	n := int(in.Last-in.First) + 1
	for k := range n {
		q := int(in.First) + k
		turn := b.turnOf(in, q)
		intoChain := b.round.Stitches[q].Kind == stitch.Ch && q >= b.stack && !isFoundation(b.round)
		if !always && n == 1 && !intoChain && b == r.below && l.clear(r, b, in, p.turn, q) {
			continue
		}
		// The feet of a decrease are in the order of what they go into.
		foot := feet[0]
		if n > 1 && len(feet) == n {
			f := k
			if b.track.nearest(b.turnOf(in, int(in.First)), turn) < b.track.nearest(b.turnOf(in, int(in.Last)), turn) != l.inward {
				f = n - 1 - k
			}
			foot = feet[f]
		}
		path.move(at.plus(foot.turned(angle)))
		edge, _ := l.at(b, turn, l.edge(b, 0.05))
		if always && n == 1 {
			edge, _ = l.footPlace(r, b, turn)
		}
		path.line(edge)
		head := l.head(b, &b.places[q])
		if intoChain {
			head, _ = l.position(b, &b.places[q])
		}
		if intoChain || head.distance(edge) > 0.35 && !isFoundation(b.round) {
			path.line(head)
		}
	}
}

// spaceGroup returns the first and the last stitch of those that are worked into
// the same chain space as i, and which of them i is, of how many.
func (r *ring) spaceGroup(i int) (first, last, rank, n int) {
	ss := r.round.Stitches
	first, last, n = i, i, 1
	near := func(k int) bool {
		return ss[k].Into == ss[i].Into || hangs(&ss[k]) && r.bundle[k] >= 0 && r.bundle[k] == r.bundle[i]
	}
	for k := i - 1; k >= 0 && near(k); k-- {
		if isPost(&ss[k]) {
			first = k
			rank++
			n++
		}
	}
	for k := i + 1; k < len(ss) && near(k); k++ {
		if isPost(&ss[k]) {
			last = k
			n++
		}
	}
	return first, last, rank, n
}

// overSpace reports whether all stitches of a group plainly stand over the
// chain space that they are worked into.
func (l *layout) overSpace(r *ring, i int) bool {
	in := r.round.Stitches[i].Into
	b := l.rings[int(in.Round)-l.first]
	if b != r.below {
		return false
	}
	from, to := b.places[in.First].turn, b.places[in.Last].turn
	first, last, _, _ := r.spaceGroup(i)
	for _, k := range [...]int{first, last} {
		t, distance := r.under(b, r.places[k].turn)
		t = b.track.nearest(t, (from+to)/2)
		off := 0.0
		if near := max(min(from, to), min(t, max(from, to))); near != t {
			off = b.track.apart(near, t, distance)
		}
		if off > chainLong/3 {
			return false
		}
		for _, q := range [...]int32{in.First - 1, in.Last + 1} { // what is beside the space
			if q >= 0 && int(q) < len(b.places) && off > clearly*b.track.apart(b.places[q].over, t, distance) {
				return false
			}
		}
	}
	return true
}

// spaceFoot returns where the leg of stitch i ends that is worked into a chain
// space: on the arch, apart from the legs of the other stitches in it.
func (l *layout) spaceFoot(r, b *ring, i int) point {
	in := r.round.Stitches[i].Into
	_, _, rank, n := r.spaceGroup(i)
	from, to := b.places[in.First].turn, b.places[in.Last].turn
	reach := b.track.turn(chainLong/3, b.in)
	if from > to {
		from, to = to, from
	}
	if r.backwards {
		from, to, reach = to, from, -reach
	}
	f := (float64(rank) + 0.5) / float64(n)
	end, _ := l.at(b, from-reach+(to-from+2*reach)*f, l.edge(b, 0.04))
	return end
}

// clear reports whether a stitch at a turn plainly stands over the stitch q of
// the ring below: nearer to it, by a good margin, than to the next one.
func (l *layout) clear(r, b *ring, in notation.Into, at float64, q int) bool {
	turn := b.turnOf(in, q)
	at, distance := r.under(b, at)
	at = b.track.nearest(at, turn)
	if at == turn {
		return true
	}
	off := b.track.apart(at, turn, distance)
	least := math.Inf(1)
	for _, k := range [...]int{q - 1, q + 1} {
		if k < 0 || k >= len(b.places) {
			continue
		}
		if beside := b.track.nearest(b.turnOf(in, k), turn); (beside-turn)*(at-turn) > 0 {
			least = min(least, b.track.apart(beside, turn, distance))
		}
	}
	p := &b.places[q]
	short := math.Abs(l.edge(b, 0)-p.radius) - p.glyph.h/2
	return off < clearly*least && off < 0.6 && short < 0.6
}

// clearly is the part of the way to its neighbour up to which a stitch may
// stand off what it is worked into without a line to it.
const clearly = 0.4

// labelText returns the number, or numbers, and the count of a round.
func (l *layout) labelText(r *notation.Round) (number, count string) {
	number = strconv.Itoa(r.Number)
	if last, ok := l.last[r.Number]; ok {
		number += "-" + strconv.Itoa(last)
	}
	return number, strconv.Itoa(r.Made)
}

// label writes the number of a round where it starts and the count where it
// ends, with a mark that points the way, in the start gap.
func (l *layout) label(r *ring, yarns []yarnLook, out *sceneRing) {
	if r.startGap == 0 || r.round.Number == 0 { // a foundation is no round
		return
	}
	number, count := l.labelText(r.round)
	start := 0.0
	if r.backwards {
		start = l.straight // a ring unrolled starts at its other end
	}
	middle, _ := l.at(r, start, r.in+r.height/2)
	side := -1.0 // the start is left of the gap
	angle := 0.0
	anchors := [2]anchor{atStart, atEnd}
	if r.backwards {
		side, angle = 1, math.Pi
		anchors = [2]anchor{atEnd, atStart}
	}
	base := middle.Y + 0.36*labelSize
	x := middle.X + side*(r.startGap-labelPad) // where the round starts
	end := middle.X - side*(r.startGap-labelPad)
	before, after := l.signs(r)
	for _, g := range before {
		out.marks = append(out.marks, mark{glyph: g, at: point{x - side*g.w/2, middle.Y}})
		x -= side * (g.w + signPad)
	}
	for _, g := range after {
		out.marks = append(out.marks, mark{glyph: g, at: point{end + side*g.w/2, middle.Y}})
		end += side * (g.w + signPad)
	}
	out.marks = append(out.marks, mark{glyph: startMark, at: point{x - side*startMark.w/2, middle.Y}, angle: angle})
	letterEnd := end
	if len(yarns) > 0 {
		end += side * (letterWidth + labelPad)
	}
	out.words = append(out.words,
		words{point{x - side*(labelMark+labelPad/2), base}, anchors[0], labelSize, numberInk, number},
		words{point{end, base}, anchors[1], countSize, countInk, count})
	if len(yarns) > 0 {
		letter := yarns[min(firstYarn(r.round), len(yarns)-1)].letter
		out.words = append(out.words, words{point{letterEnd, base}, anchors[1], countSize, countInk, letter})
	}
}

// composeSteps draws how each round goes over to the next: a joined round is
// closed by a line from the join to the stitch joined into, a spiral one steps
// up to the next round.
func (l *layout) composeSteps(rings []sceneRing) {
	for i, r := range l.rings {
		n := len(r.places)
		if n == 0 || r.startGap == 0 || r.shown != (part{}) {
			continue
		}
		last := &r.places[n-1]
		side := 1.0
		if r.backwards {
			side = -1
		}
		if s := r.round.Stitches[n-1]; s.Role == notation.Joining {
			// Along the ring from the join to over the first stitch, and down.
			at := r.round.StartsOver()
			first := &r.places[min(at, n-1)]
			if at < r.stack {
				first = &r.places[r.stack-1]
			}
			from := r.track.turn(r.track.run(last.turn, last.radius)+side*last.glyph.w/2, last.radius)
			to := first.turn
			if r.backwards {
				to -= r.track.turns()
			} else {
				from -= r.track.turns()
			}
			p := l.arc(r, from, to, last.radius)
			if head := l.head(r, first); head.distance(p.end()) > 0.2 {
				p.line(head)
			}
			rings[i].lines = append(rings[i].lines, line{path: p, ink: stepInk})
			continue
		}
		if i+1 == len(l.rings) || l.rings[i+1].startGap == 0 {
			continue
		}
		next := l.rings[i+1]
		from, _ := l.at(r, 0, l.edge(r, -0.04))
		to, _ := l.at(next, 0, l.foot(next, -0.04))
		dx, dx2 := side*r.startGap*0.92, -side*next.startGap*0.92
		var p path
		p.move(from.plus(point{dx, 0}))
		p.curve(from.plus(point{dx * 0.3, 0}), to.plus(point{dx2 * 0.3, 0}), to.plus(point{dx2, 0}))
		rings[i].lines = append(rings[i].lines, line{path: p, ink: stepInk})
	}
}

// composeHub draws what a piece starts from, or how it ends.
func (l *layout) composeHub(sc *scene) {
	g := ringMark
	switch s := l.rings[0].round.Start; {
	case l.hub == 0:
		return
	case l.inward:
		g = closeMark
	case s != nil && s.Kind == notation.ChainRing:
		sc.over = append(sc.over, line{path: chainRing(s.Chains), ink: oddInk})
		return
	}
	sc.marks = append(sc.marks, mark{glyph: g, at: l.middle, ink: oddInk})
}
