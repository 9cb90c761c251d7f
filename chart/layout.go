package chart

import (
	"math"
	"slices"

	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// The distances of the layout, in widths of a single crochet.
const (
	gapAlong     = 0.10  // between neighbours on a ring
	gapRings     = 0.345 // between the bands of two rings, and up to a tenth more; legs and markers go there
	gapForks     = 0.20  // more of it under rings with increases or decreases
	gapTall      = 0.14  // and more again if these are taller than a single crochet
	gapLoops     = 0.14  // more of it under rings with loop arcs
	gapFan       = 0.38  // and more under stitches in a space, for each unit that they stand out beyond it
	gapFanMost   = 1.5
	slack        = 0.12 // room left on a ring, as a part of its length
	evenness     = 4    // weight of even spacing against standing over what is worked into
	minBand      = 0.72 // least height of a ring, for its label
	labelSize    = 0.56 // of the text of labels
	closedCentre = 0.82 // radius kept free where a solid closes
	centre       = 0.95 // radius kept free for the mark of the start
	faint        = 0.02 // weight of a stitch that has no place to stand over
	pinned       = 1e6  // weight of the start gap, which stays where it is
	cornerHold   = 100  // weight of what stands at a corner
	fanStep      = 0.16 // lean between neighbours that share a foot, rad
	fanMost      = 0.40 // most lean, rad
	archRise     = 0.13 // rise of a chain space, for each of its chains
	archMost     = 0.55
	stackStep    = chainLong + 0.02
)

// A place is where the symbol of one stitch stands.
type place struct {
	turn   float64 // on its ring, see track
	over   float64 // the turn of its head, which the next ring stands over; turn, unless it leans
	radius float64 // distance of the middle of its box
	lean   float64 // clockwise from square on the ring, rad
	glyph  *glyph
}

// A ring is a round laid out.
type ring struct {
	round     *notation.Round
	track     track
	index     int     // of round in the piece
	below     *ring   // the ring it is worked into; nil for the first
	backwards bool    // worked clockwise, after a turn of the work
	in, out   float64 // from the inner edge of its band to the outermost corner of its symbols
	height    float64 // of its band
	gap       float64 // at least, between it and the ring it is worked into
	room      float64 // its length against what its symbols need
	columns   []column
	shapes    shapes
	shown     part    // the stitches that are drawn; all if it is empty
	ghost     bool    // drawn before, on another disc; here only to be worked into
	places    []place // one for each stitch of the round
	family    []int32 // for each stitch, the number of the increase it is part of; -1 if none
	bundle    []int32 // for each stitch, the number of the first one of those it stands close to: all worked into one stitch or space, and the chains between; -1 if none
	families  []family
	stack     int     // chains of the starting chain that stand one over the other
	startGap  float64 // half its width
}

// A family is stitches worked into one stitch: an increase.
type family struct {
	into  notation.Into
	first int // the first of them
	n     int
}

// A setting is what is chosen for all layouts of a chart.
type setting struct {
	cross   crosses
	letters bool // labels name the yarn
	bare    bool // no labels
	line    int  // the most stitches in a line of a strip
	outline outline
	guide   int // stitches between two guides; 0 for no guides

	done   map[int][]string // by the number of a round, what is done after it, as steps say it
	drifts []float64        // by round, by what part of one its start lies to the side in the fabric; nil if that is not drawn
	last   map[int]int      // by the number of a folded round, that of the last one it stands for
}

// A layout is rounds laid out as rings round one middle. Its rings follow each
// other outwards, or inwards where a solid closes: there the symbols have their
// feet outside and their heads towards the middle.
type layout struct {
	track
	rings  []*ring
	first  int // index of the round of rings[0]
	inward bool
	middle point // where it is in the picture
	setting
	hub float64 // radius of what is in the middle

	glyphs map[stitch.Stitch]*glyph
}

// at returns the point at a turn and a distance of a ring, and the angle of a
// symbol that stands there square on it.
func (l *layout) at(r *ring, turn, distance float64) (point, float64) {
	p, angle := r.track.at(turn, distance)
	if l.inward {
		angle += math.Pi
	}
	return p.plus(l.middle), angle
}

// arc returns a path along a ring at a distance, from one turn to another.
func (l *layout) arc(r *ring, from, to, distance float64) path {
	var p path
	start, _ := r.track.at(from, distance)
	p.move(start)
	p.follow(r.track, from, to, distance)
	return p.moved(l.middle, 0)
}

// edge returns the distance of a line off the heads of a ring, by so much
// towards the next ring.
func (l *layout) edge(r *ring, by float64) float64 {
	if l.inward {
		return r.in - by
	}
	return r.out + by
}

// foot returns the distance of a line off the feet of a ring, by so much towards
// what it is worked into.
func (l *layout) foot(r *ring, by float64) float64 {
	if l.inward {
		return r.in + r.height + by
	}
	return r.in - by
}

// glyph returns the symbol of s, drawing it at its first use.
func (l *layout) glyph(s stitch.Stitch) *glyph {
	g := l.glyphs[s]
	if g == nil {
		g = drawGlyph(s, l.cross)
		l.glyphs[s] = g
	}
	return g
}

// A box is the upright box of a symbol as it stands on a ring: its corners, x
// along the ring, y outwards from the inner edge of the band.
type box struct{ right, left []point }

// newBox returns the box of a symbol in a band of some height. It is lifted over
// the edge on which its foot stands, and leans.
func newBox(k shapeKey, height float64, inward bool) box {
	var b box
	for _, c := range [...]point{{k.w / 2, k.h / 2}, {k.w / 2, -k.h / 2}, {-k.w / 2, k.h / 2}, {-k.w / 2, -k.h / 2}} {
		c = c.turned(k.lean)
		c.Y = k.lift - c.Y
		if inward { // turned half round
			c = point{-c.X, height - c.Y}
		}
		if c.X > 0 {
			b.right = append(b.right, c)
		} else {
			b.left = append(b.left, point{-c.X, c.Y})
		}
	}
	return b
}

// reach returns how far along the ring a side of a box reaches, and half a gap
// more: the run, at the inner edge, of the line square on the ring that clears
// it.
func (t track) reach(side []point, in float64) float64 {
	most := 0.0
	for _, c := range side {
		x := c.X + gapAlong/2
		if t.corners == 0 && t.straight == 0 {
			x = in * math.Atan2(x, in+c.Y)
		}
		most = max(most, x)
	}
	return most
}

// A column is what has a place of its own along a ring: a stitch, the stack of
// a starting chain, or the start gap.
type column struct {
	first, last int // stitches, by index
	shape       int // of its box
	target      float64
	weight      float64
}

// shapes are the different boxes of a ring, with how often each occurs. Most
// rings have a handful.
type shapes struct {
	keys  []shapeKey
	boxes []box
	n     []int
}

type shapeKey struct{ w, h, lift, lean float64 }

func (s *shapes) add(k shapeKey, height float64, inward bool) int {
	for i := len(s.keys) - 1; i >= 0; i-- {
		if s.keys[i] == k {
			s.n[i]++
			return i
		}
	}
	s.keys = append(s.keys, k)
	s.boxes = append(s.boxes, newBox(k, height, inward))
	s.n = append(s.n, 1)
	return len(s.keys) - 1
}

// need returns the length that all columns take up together on a ring.
func (s *shapes) need(t track, in float64) float64 {
	sum := 0.0
	for i, b := range s.boxes {
		sum += float64(s.n[i]) * (t.reach(b.left, in) + t.reach(b.right, in))
	}
	return sum
}

// fit returns the least inner edge, from low up, at which the columns fit
// loosely on the ring.
func (s *shapes) fit(t track, low, loose float64) float64 {
	fits := func(in float64) bool { return s.need(t, in)*(1+loose) <= t.length(in) }
	if fits(low) {
		return low
	}
	high := 2 * low
	for !fits(high) {
		low, high = high, 2*high
	}
	for range 48 {
		if mid := (low + high) / 2; fits(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

// commonest returns the box that occurs most often.
func (s *shapes) commonest() shapeKey {
	at := 0
	for i, n := range s.n {
		if n > s.n[at] {
			at = i
		}
	}
	return s.keys[at]
}

// upToTenth rounds a length up to a tenth, which is a whole number of units of an
// SVG file.
func upToTenth(length float64) float64 { return math.Ceil(length*10-1e-9) / 10 }

// outermost returns the distance of the outermost corner of the boxes.
func (s *shapes) outermost(t track, in float64) float64 {
	most := 0.0
	for _, b := range s.boxes {
		for _, side := range [...][]point{b.left, b.right} {
			for _, c := range side {
				if t.straight > 0 {
					most = max(most, in+c.Y)
				} else {
					most = max(most, math.Hypot(c.X, in+c.Y))
				}
			}
		}
	}
	return most
}

// newLayout lays out rounds, each outside the one before.
func newLayout(rounds []*notation.Round, set setting) *layout {
	l := &layout{setting: set, hub: centre, glyphs: map[stitch.Stitch]*glyph{}}
	backwards := false
	for i, r := range rounds {
		if i == 0 && r.Start != nil && r.Start.Kind == notation.ChainRing {
			l.hub = max(centre, float64(r.Start.Chains)*stackStep/(2*math.Pi)+chainShort/2)
		}
		if i == 0 && isFoundation(r) {
			l.rings = append(l.rings, l.foundation(r))
			continue
		}
		ring := l.prepare(i, r, backwards)
		l.rings = append(l.rings, ring)
		edge, gap := l.hub, 0.12
		if i > 0 {
			edge, gap = l.rings[i-1].track.apothem()+l.rings[i-1].out, ring.gap
		}
		l.setRadius(ring, edge+gap)
		l.spread(ring)
		if r.Turned {
			backwards = !backwards
		}
	}
	return l
}

// newClosing lays out the rounds from first on of a solid that closes, each
// inside the one before, within a ring that repeats the round before them.
// Radii are found from the middle outwards and places from the outside in.
func newClosing(rounds []*notation.Round, first int, set setting) *layout {
	l := &layout{setting: set, hub: closedCentre, glyphs: map[stitch.Stitch]*glyph{}, first: first - 1, inward: true}
	backwards := false
	for i, r := range rounds {
		if i >= l.first {
			l.rings = append(l.rings, l.prepare(i, r, backwards))
		}
		if r.Turned {
			backwards = !backwards
		}
	}
	l.rings[0].ghost = true
	edge := l.hub
	for i := len(l.rings) - 1; i >= 0; i-- {
		r := l.rings[i]
		l.setRadius(r, edge)
		edge = r.out + r.gap
	}
	for _, r := range l.rings {
		l.spread(r)
	}
	return l
}

// newStrip lays out a round, or a part of one, straight over what it is worked
// into.
func newStrip(rounds []*notation.Round, set setting) *layout {
	l := &layout{setting: set, glyphs: map[stitch.Stitch]*glyph{}}
	l.straight = 1 // until it is known
	for i, r := range rounds {
		l.rings = append(l.rings, l.prepare(i, r, i > 0 && rounds[0].Turned))
		l.straight = max(l.straight, l.rings[i].shapes.need(l.track, 0)*(1+slack))
	}
	edge := 0.0
	for i, r := range l.rings {
		r.track = l.track
		r.ghost = i+1 < len(l.rings)
		r.in = edge + r.gap
		r.out = r.shapes.outermost(r.track, r.in)
		edge = r.out
		l.spread(r)
	}
	return l
}

// isFoundation reports whether r is the chain that an oval is worked round.
func isFoundation(r *notation.Round) bool {
	return r.Start != nil && r.Start.Kind == notation.Foundation && r.Below < 0 && len(r.Stitches) > 0 && allChains(r)
}

func allChains(r *notation.Round) bool {
	for i := range r.Stitches {
		if r.Stitches[i].Kind != stitch.Ch {
			return false
		}
	}
	return true
}

// foundation lays a chain along the middle, its last chain, where the first
// round starts, at the top.
func (l *layout) foundation(r *notation.Round) *ring {
	const pitch = (2*scArm + penWidth + gapAlong) * (1 + slack)
	n := len(r.Stitches)
	l.track = track{corners: 2, side: pitch * float64(n-1)}
	g := l.glyph(stitch.Ch)
	out := &ring{round: r, track: l.track, places: make([]place, n), out: chainShort / 2, height: chainShort}
	for k := range out.places {
		// A turn on the way down, at no distance from the middle line.
		turn := math.Pi/2 + pitch*float64(n-1-k)
		out.places[k] = place{turn: turn, over: turn, glyph: g}
	}
	out.family, out.bundle = noFamily(n), noFamily(n)
	l.hub = 0
	return out
}

func noFamily(n int) []int32 {
	f := make([]int32, n)
	for i := range f {
		f[i] = -1
	}
	return f
}

// target returns the turn of what s is worked into; ok is false for a stitch
// that is worked into nothing with a place.
func (l *layout) target(r *ring, s *notation.Stitch) (turn float64, ok bool) {
	b := l.into(r, s)
	if b == nil {
		return 0, false
	}
	return b.on(r, b.middle(s.Into)), true
}

// into returns the ring that s is worked into, or nil if it is the ring itself
// or none that has places.
func (l *layout) into(r *ring, s *notation.Stitch) *ring {
	in := s.Into
	switch in.Where {
	case notation.IntoNothing, notation.IntoRing:
		return nil
	}
	if in.Round < 0 || int(in.Round) >= r.index || int(in.Round) < l.first || in.First < 0 || in.Last < in.First {
		return nil
	}
	b := l.rings[int(in.Round)-l.first]
	if int(in.Last) >= len(b.places) {
		return nil
	}
	return b
}

// turnOf returns the turn of the stitch k, seen by a stitch worked into it: a
// chain of a foundation is worked into from both sides.
func (r *ring) turnOf(in notation.Into, k int) float64 {
	turn := r.places[k].over
	if in.Where == notation.IntoUnder {
		return r.track.turns() - turn
	}
	return turn
}

// middle returns the turn of the middle of the stitches of r that are worked
// into.
func (r *ring) middle(in notation.Into) float64 {
	return (r.turnOf(in, int(in.First)) + r.turnOf(in, int(in.Last))) / 2
}

// distanceOf returns the distance of the inner edge of another ring from the core
// of r.
func (r *ring) distanceOf(other *ring) float64 {
	return other.in + other.track.apothem() - r.track.apothem()
}

// on returns the turn of a ring further out that is over a turn of r. On rings
// of one core it is the same. On those with corners it is straight across from a
// side; what stands round a corner is spread over the rest of the longer sides.
func (r *ring) on(outer *ring, turn float64) float64 {
	a, b := r.track, outer.track
	if a == b {
		return turn
	}
	if a.corners == 0 { // a disc that goes over into corners
		return turn/a.turns()*b.turns() - (b.arc()+b.side)/2 - b.start
	}
	arc := a.arc()
	corner, angle, side := a.split(turn + a.start)
	if angle < 0 {
		corner--
		angle += arc
		side += a.side
	}
	off := angle + side - (arc+a.side)/2 // from the middle of the side
	if round := math.Abs(off) - a.side/2; round > 0 {
		longer := (b.side - a.side) / 2
		run := round * (longer/(arc/2) + outer.in)
		off = math.Copysign(a.side/2+min(run, longer)+max(run-longer, 0)/outer.in, off)
	}
	return (float64(corner)+0.5)*(arc+b.side) + off - b.start
}

// under returns the turn of a ring further in, and the distance from its core,
// where the feet of r stand at a turn.
func (r *ring) under(inner *ring, turn float64) (float64, float64) {
	if r.track == inner.track {
		return turn, r.in
	}
	foot, _ := r.track.at(turn, r.in)
	return inner.track.place(foot)
}

// prepare makes the ring of a round, without its size and places: what stands
// on it, in which columns, and how far off from what it is worked into.
func (l *layout) prepare(index int, round *notation.Round, backwards bool) *ring {
	r := &ring{round: round, index: index, backwards: backwards, track: l.track, places: make([]place, len(round.Stitches))}
	if n := len(l.rings); n > 0 {
		r.below = l.rings[n-1]
		if b := round.Below - l.first; b >= 0 && b < n {
			r.below = l.rings[b]
		}
	}
	l.findFamilies(r)
	loops, forks, tall := l.stand(r)

	r.columns = l.columns(r)
	if !l.bare {
		r.startGap = l.labelWidth(r) / 2
	}
	r.columns[0].shape = r.shapes.add(shapeKey{2 * r.startGap, minBand, r.height / 2, 0}, r.height, l.inward)
	for j := 1; j < len(r.columns); j++ {
		c := &r.columns[j]
		p := &r.places[c.first]
		k := shapeKey{p.glyph.w, p.glyph.h, p.radius, p.lean} // radius is still the lift
		if c.last > c.first {
			height := float64(c.last-c.first+1) * stackStep
			k = shapeKey{chainShort, height, height / 2, 0}
		}
		c.shape = r.shapes.add(k, r.height, l.inward)
	}
	r.gap = gapRings
	if forks {
		r.gap += gapForks
	}
	if tall {
		r.gap += gapTall
	}
	if loops {
		r.gap += gapLoops
	}
	if widest := r.widestFamily(); widest > 2 {
		r.gap += 0.16 * float64(min(widest, 7)-2)
	}
	r.gap += min(gapFanMost, gapFan*r.spill())
	return r
}

// spill returns by how much the stitches that are worked into one chain space
// stand out beyond its ends, at most.
func (r *ring) spill() float64 {
	ss := r.round.Stitches
	most := 0.0
	for i := 0; i < len(ss); i++ {
		into := ss[i].Into
		if into.Where != notation.IntoSpace || into.Last < into.First || !isPost(&ss[i]) {
			continue
		}
		wide := -float64(into.Last-into.First+1) * (chainLong + gapAlong)
		end := i
		for k := i; k < len(ss) && (ss[k].Into == into || hangs(&ss[k]) && ss[k].Role == notation.Plain); k++ {
			wide += r.places[k].glyph.w + gapAlong
			if isPost(&ss[k]) {
				most = max(most, wide/2)
				end = k
			}
		}
		i = end
	}
	return most
}

// setRadius makes a ring as large as it must be, from an inner edge up. One with
// corners has the same arcs as all of them, if it can, and grows by its sides.
func (l *layout) setRadius(r *ring, least float64) {
	if n := l.outline.corners; n > 0 && r.index >= l.outline.first {
		r.in = min(cornerRadius, least)
		r.track = track{corners: n, tilt: math.Pi / float64(n)}
		need := r.shapes.need(r.track, r.in) * (1 + slack)
		r.track.side = max(2*(least-r.in)*math.Tan(math.Pi/float64(n)), (need-2*math.Pi*r.in)/float64(n),
			l.firstSide(r)*(1+slack)-r.track.arc()*r.in)
		r.track.start = -(r.track.arc() + r.track.side) / 2 // the middle of the upper side
	} else {
		r.in = r.shapes.fit(r.track, least, slack)
		lift := r.shapes.commonest().lift
		if l.inward {
			lift = r.height - lift
		}
		r.in = upToTenth(r.in+lift) - lift // short places
	}
	r.out = r.shapes.outermost(r.track, r.in)
}

// firstSide returns the length that a ring needs from its last corner over the
// start gap to its first one; 0 if it has no corners of its own.
func (l *layout) firstSide(r *ring) float64 {
	held := l.outline.held[r.index]
	if held == nil {
		return 0
	}
	sum, after := 0.0, 0.0 // up to the first corner, and from the last one met
	first := true
	for _, c := range r.columns {
		b := &r.shapes.boxes[c.shape]
		wide := r.track.reach(b.left, r.in) + r.track.reach(b.right, r.in)
		corner := false
		for i := c.first; i <= c.last; i++ {
			_, ok := held[i]
			corner = corner || ok
		}
		switch {
		case corner:
			first, after = false, wide/2
		case first:
			sum += wide
		default:
			after += wide
		}
	}
	return sum + after
}

// stand gives every stitch its glyph, lift (kept in radius) and lean, and the
// ring its height. It reports whether any is worked into one loop only, whether
// any share a foot or a head, and whether these are taller than single crochet.
func (l *layout) stand(r *ring) (loops, forks, tall bool) {
	ss := r.round.Stitches
	r.height = minBand
	var kind stitch.Stitch
	var g *glyph
	for i := range ss {
		s := &ss[i]
		if g == nil || s.Kind != kind {
			kind, g = s.Kind, l.glyph(s.Kind)
		}
		r.places[i].glyph = g
		loops = loops || s.Loop != notation.BothLoops
		if !hangs(s) {
			r.height = max(r.height, g.h)
			fork := r.family[i] >= 0 || s.Kind.IsDecrease()
			forks = forks || fork
			tall = tall || fork && g.h > 1
		}
	}
	// The starting chain stands as a stack as high as the stitches; what is
	// longer is the first chain space.
	for r.stack < len(ss) && ss[r.stack].Role == notation.StartingChain && ss[r.stack].Kind == stitch.Ch {
		r.stack++
	}
	if slices.ContainsFunc(ss, func(s notation.Stitch) bool { return isPost(&s) }) {
		r.stack = min(r.stack, max(1, int(r.height/stackStep+0.6)))
	}
	r.height = max(r.height, float64(r.stack)*stackStep)
	for i := r.stack; i < len(ss); {
		n := 0
		for i+n < len(ss) && ss[i+n].Kind == stitch.Ch {
			n++
		}
		if n > 1 {
			r.height = max(r.height, chainShort+rise(n)+0.3)
		}
		i += max(n, 1)
	}
	side := 1.0 // the work goes to the left of an upright symbol
	if r.backwards != l.inward {
		side = -1
	}
	for i := range r.stack {
		r.places[i].lean = math.Pi / 2
		r.places[i].radius = stackStep * (float64(i) + 0.5)
	}
	for i := r.stack; i < len(ss); {
		p := &r.places[i]
		if ss[i].Kind == stitch.Ch {
			n := 1
			for i+n < len(ss) && ss[i+n].Kind == stitch.Ch {
				n++
			}
			for k := range n {
				at := math.Pi * (float64(k) + 0.5) / float64(n)
				sin, cos := math.Sincos(at)
				p := &r.places[i+k]
				p.radius = r.height - chainShort/2 - rise(n)*(1-sin)
				p.lean = side * math.Atan(rise(n)*cos*math.Pi/float64(n)/(chainLong+gapAlong))
			}
			i += n
			continue
		}
		p.radius = p.glyph.h / 2
		switch {
		case ss[i].Role == notation.Joining:
			p.radius = r.height // on the edge, over the label
		case hangs(&ss[i]):
			p.radius = r.height - p.glyph.h/2
		}
		i++
	}
	// Stitches on one foot fan out.
	rank := make([]int, len(r.families))
	for i := range ss {
		if r.family[i] < 0 {
			continue
		}
		f := &r.families[r.family[i]]
		if i >= r.stack {
			p := &r.places[i]
			lean := fanStep * (float64(rank[r.family[i]]) - float64(f.n-1)/2)
			p.lean = -side * max(-fanMost, min(fanMost, lean))
			p.radius = leanLift(p.glyph, p.lean)
			r.height = max(r.height, 2*p.radius) // its highest corner
		}
		rank[r.family[i]]++
	}
	return loops, forks, tall
}

// leanLift returns the lift at which a leaning box stands on the inner edge
// with its lower corner.
func leanLift(g *glyph, lean float64) float64 {
	sin, cos := math.Sincos(math.Abs(lean))
	return (g.h*cos + g.w*sin) / 2
}

// rise returns how much higher the middle of a chain space of n chains is than
// its ends.
func rise(n int) float64 {
	if n < 2 {
		return 0
	}
	return min(archRise*float64(n), archMost)
}

// hangs reports whether s is drawn at the height of the heads of its ring: it
// has no foot of its own.
func hangs(s *notation.Stitch) bool {
	return s.Kind == stitch.Ch || s.Role == notation.Joining || s.Kind.Form == stitch.Picot
}

// isPost reports whether s is worked into something and so stands on a foot.
func isPost(s *notation.Stitch) bool { return !hangs(s) }

// findFamilies finds the increases of a round, two or more stitches worked into
// one stitch, one after the other but for chains between, and what else stands
// close together.
func (l *layout) findFamilies(r *ring) {
	ss := r.round.Stitches
	r.family, r.bundle = noFamily(len(ss)), noFamily(len(ss))
	prev := -1 // the post before, or the counted starting chain
	for i := range ss {
		s := &ss[i]
		switch {
		case s.Role == notation.StartingChain && s.Counts:
			prev = i
			continue
		case !isPost(s):
			continue
		case prev < 0:
		case l.siblings(r, prev, i):
			if r.family[prev] < 0 {
				r.family[prev] = int32(len(r.families))
				r.families = append(r.families, family{s.Into, prev, 1})
			}
			r.family[i] = r.family[prev]
			r.families[r.family[i]].n++
			r.bind(prev, i)
		case s.Into.Where == notation.IntoSpace && s.Into == ss[prev].Into:
			r.bind(prev, i)
		}
		prev = i
	}
	if from := tail(ss); from > 0 {
		r.bind(from-1, len(ss)-1)
	}
	// A starting chain that is not counted stands beside the first stitch, a
	// join beside the last.
	n := len(ss)
	if n > 1 && ss[n-1].Role == notation.Joining {
		r.bind(n-2, n-1)
	}
	for i := 0; i+1 < n && ss[i].Role == notation.StartingChain && !ss[i].Counts && ss[i+1].Role == notation.Plain; i++ {
		r.bind(i, i+1)
	}
}

// tail returns the first of the chains that a round ends with, if they are a loop
// to hang it by, or a tail: more than twice as many as stand together elsewhere. It
// is 0 if there are none such.
func tail(ss []notation.Stitch) int {
	const least = 6
	longest, run := 0, 0
	for i := range ss {
		if ss[i].Kind == stitch.Ch {
			run++
			continue
		}
		longest = max(longest, run)
		run = 0
	}
	if run >= least && run > 2*longest {
		return len(ss) - run
	}
	return 0
}

// bind puts the stitches from i to j into one bundle.
func (r *ring) bind(i, j int) {
	first := r.bundle[i]
	if first < 0 {
		first = int32(i)
	}
	for k := i; k <= j; k++ {
		r.bundle[k] = first
	}
}

// siblings reports whether the stitches i and j of r are worked into the same
// single stitch.
func (l *layout) siblings(r *ring, i, j int) bool {
	a, b := &r.round.Stitches[i], &r.round.Stitches[j]
	if l.into(r, b) == nil || b.Into.First != b.Into.Last || b.Into.Where == notation.IntoSpace || b.Into.Where == notation.IntoGap {
		return false
	}
	if a.Role == notation.StartingChain && a.Into.Where == notation.IntoNothing {
		return r.below != nil && int(b.Into.Round) == r.below.index && int(b.Into.First) == r.below.round.StartsOver()
	}
	return a.Into == b.Into
}

func (r *ring) widestFamily() int {
	n := 0
	for _, f := range r.families {
		n = max(n, f.n)
	}
	return n
}

// columns returns the columns of a ring in the order of growing turn, the start
// gap first.
func (l *layout) columns(r *ring) []column {
	ss := r.round.Stitches
	cs := make([]column, 1, len(ss)+1)
	cs[0] = column{first: 0, last: -1, weight: pinned}
	for i := 0; i < len(ss); i++ {
		c := column{first: i, last: i}
		if i == 0 && r.stack > 0 {
			c.last = r.stack - 1
			i = c.last
		}
		cs = append(cs, c)
	}
	if r.backwards {
		for i, j := 1, len(cs)-1; i < j; i, j = i+1, j-1 {
			cs[i], cs[j] = cs[j], cs[i]
		}
	}
	return cs
}

// aim gives the columns of a ring their targets, once the ring below has its
// places.
func (l *layout) aim(r *ring) {
	for j := 1; j < len(r.columns); j++ {
		c := &r.columns[j]
		s := &r.round.Stitches[c.last]
		if turn, ok := l.target(r, s); ok && s.Role != notation.Joining {
			c.target, c.weight = turn, 1
		}
	}
	if r.track.corners > 2 {
		l.aimCorners(r)
	}
}

// aimCorners holds the columns of a ring that stand at corners there, and lets
// its start gap stand off the middle of the upper side.
func (l *layout) aimCorners(r *ring) {
	gap := &r.columns[0]
	gap.weight = cornerHold / 4
	if r.below != nil {
		gap.target = r.below.on(r, 0)
	}
	for j := 1; j < len(r.columns); j++ {
		c := &r.columns[j]
		for i := c.first; i <= c.last; i++ {
			if corner, ok := l.outline.held[r.index][i]; ok {
				c.target, c.weight = (float64(corner)+0.5)*(r.track.arc()+r.track.side), cornerHold
			}
		}
	}
}

// spread gives the columns their turns and so the stitches their places.
func (l *layout) spread(r *ring) {
	cs, sh := r.columns, &r.shapes
	l.aim(r)
	n := len(cs)
	length := r.track.length(r.in)
	gap, want := make([]float64, n), make([]float64, n)
	target, weight := make([]float64, n), make([]float64, n)
	left, right := make([]float64, len(sh.boxes)), make([]float64, len(sh.boxes))
	for k, b := range sh.boxes {
		left[k], right[k] = r.track.reach(b.left, r.in), r.track.reach(b.right, r.in)
	}
	// What is left over goes between bundles, which stay together; the start
	// gap opens no more than it must or as much as between others.
	total, tight, bound := 0.0, 0.0, 1
	for j := range cs {
		gap[j] = left[cs[j].shape] + right[cs[(j+1)%n].shape]
		total += gap[j]
		if r.related(&cs[j], &cs[(j+1)%n]) {
			tight += gap[j]
			bound++
		}
	}
	opening := gap[0] + gap[n-1]
	stretch := 1.0
	if rest := total - tight - opening; rest > 0 {
		opening = max(opening, (length-tight)/float64(n-bound))
		stretch = (length - tight - opening) / rest
	} else {
		opening = length - tight
	}
	even := 0.0
	for j := range cs {
		want[j] = gap[j]
		switch {
		case j == 0 || j == n-1:
			want[j] = opening * gap[j] / (gap[0] + gap[n-1])
		case !r.related(&cs[j], &cs[j+1]):
			want[j] *= stretch
		}
		weight[j] = cs[j].weight
		if cs[j].weight > 0 {
			t := r.track.run(cs[j].target, r.in)
			target[j] = t + math.Round((even-t)/length)*length // the nearest turn of it
		}
		even += want[j]
	}
	r.room = length / total
	x := smooth(target, weight, want, evenness/r.room)
	for j := range weight {
		weight[j] = max(weight[j], faint)
	}
	x = space(x, weight, gap, length)
	if r.track.corners > 2 {
		r.track.start += r.track.turn(x[0], r.in)
	}
	for j := 1; j < n; j++ {
		turn := r.track.turn(x[j]-x[0], r.in)
		for i := cs[j].first; i <= cs[j].last; i++ {
			p := &r.places[i]
			p.turn, p.over = turn, turn
			if l.inward {
				p.radius = r.height - p.radius
			}
			p.radius += r.in
			if p.lean != 0 && isPost(&r.round.Stitches[i]) {
				sin, cos := math.Sincos(p.lean)
				if l.inward {
					sin, cos = -sin, -cos
				}
				high := p.radius + cos*p.glyph.h/2
				p.over = r.track.turn(r.track.run(turn, high)-sin*p.glyph.h/2, high)
			}
		}
	}
}

// shows reports whether the stitch i is drawn.
func (r *ring) shows(i int) bool {
	return r.shown == part{} || i >= r.shown.from && i < r.shown.to
}

// related reports whether two columns stand close together.
func (r *ring) related(a, b *column) bool {
	if a.last < a.first || b.last < b.first {
		return false
	}
	f := r.bundle[a.last]
	return f >= 0 && f == r.bundle[b.first]
}

// labelWidth returns the width of the start gap of a round: the start mark, its
// number and its count.
func (l *layout) labelWidth(r *ring) float64 {
	number, count := l.labelText(r.round)
	w := 2*labelPad + labelMark + labelPad/2 + labelSize*digitWidth*float64(len(number)) + labelBetween + countSize*digitWidth*float64(len(count))
	if l.letters {
		w += letterWidth + labelPad
	}
	before, after := l.signs(r)
	for _, g := range slices.Concat(before, after) {
		w += g.w + signPad
	}
	return w
}

// The parts of a label, in widths of a single crochet or of the size of its
// text.
const (
	labelPad     = 0.12
	labelBetween = 0.26
	labelMark    = 0.26
	signPad      = 0.1  // beside the mark of what is done
	digitWidth   = 0.62 // of a figure, at most, in the fonts asked for
	countSize    = 0.5  // of the text of the count
	letterWidth  = 0.4  // of the letter of a yarn
)
