package solid

import (
	"math"
	"slices"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// A drawing is one piece on its way to a scene.
type drawing struct {
	e       *pattern.PieceEstimate
	colours []colour // of the yarns of the pattern
	plain   bool
	surface *surface
	camera  camera
	rings   []*ring
	holes   bool // the inside shows
	facets  []facet
	bumps   []facet // what stands out, drawn last
	layer   int
}

// A ring is one round on the surface.
type ring struct {
	round     *notation.Round
	below     *ring   // nil of the first
	edge      int     // of its top
	start     float64 // in turns, counted on from round to round
	span      float64 // how many turns it takes: about 1
	backwards bool
	cells     []cell
	step      float64 // by how many edges its top rises from start to end
}

// A cell is the place of one stitch in its ring.
type cell struct {
	from, to float64 // in turns, from the start of the ring
	kind     stitch.Stitch
	yarn     int // of the pattern
	seam     bool
	hole     bool // chains, with nothing below them
}

func newDrawing(e *pattern.PieceEstimate, colours []colour, plain bool) *drawing {
	d := &drawing{e: e, colours: colours, plain: plain, surface: newSurface(e)}
	d.camera = newCamera(d.surface, e.Finish == pattern.LaidFlat)
	d.layOut()
	return d
}

// Widths of what takes less room than a stitch, over the width of a stitch.
const (
	seamWidth = 0.4         // the chain and the slip stitch by which a round is closed and begun
	archWidth = 2 / math.Pi // of a chain in a loop that stands in a half circle, as estimates have it
	archFrom  = 5
)

// layOut places the stitches of every round, each round turned so that its
// stitches stand as nearly as they can above those that they are worked into.
func (d *drawing) layOut() {
	p := d.e.Piece
	middles := make([][]float64, len(p.Rounds)) // of each stitch of each round, in turns
	index := map[*notation.Round]int{}
	for i, r := range p.Rounds {
		index[r] = i
	}
	spiral := func(i int) float64 {
		if i == len(d.e.Rounds) || p.Style == pattern.Joined {
			return 0
		}
		if r := d.e.Rounds[i-1].Round; r.Joined || r.Turned {
			return 0
		}
		return 1
	}
	var below *ring
	backwards := false
	for i := range d.e.Rounds {
		round := d.e.Rounds[i].Round
		r := &ring{round: round, below: below, edge: i + 1, span: 1, backwards: backwards, step: spiral(i + 1)}
		own := d.fill(r)
		if below != nil {
			r.start = below.start + 1
			if sin, cos := fit(round, own, middles, backwards); sin != 0 || cos != 0 {
				r.start += math.Remainder(math.Atan2(sin, cos)/(2*math.Pi)-below.start, 1)
			}
			if below.step > 0 { // it goes on until this one begins
				below.span = max(0.5, r.start-below.start)
			}
		}
		for k := range own {
			own[k] = r.turn(own[k])
		}
		middles[index[round]] = own
		d.rings = append(d.rings, r)
		d.holes = d.holes || slices.ContainsFunc(r.cells, func(c cell) bool { return c.hole })
		below, backwards = r, backwards != round.Turned
	}
	if c := d.e.Corners; c.Count > 0 {
		round, stitch := c.Outermost()
		d.surface.corner = middles[round][stitch]
	}
	last := d.e.Profile[len(d.e.Profile)-1]
	if last.R > 0 && !d.surface.startUp || d.e.Profile[0].R > 0 && d.surface.startUp {
		d.holes = true // one looks in from above
	}
}

// fill sets the cells of a ring and returns the middle of each stitch of the
// round, from 0 to 1.
func (d *drawing) fill(r *ring) []float64 {
	stitches := r.round.Stitches
	at, middles := 0.0, make([]float64, len(stitches))
	for i := 0; i < len(stitches); i++ {
		s := &stitches[i]
		c := cell{from: at, kind: s.Kind, yarn: d.yarn(s.Yarn)}
		width := 1.0
		switch {
		case s.Role == notation.Joining:
			c.seam, width = true, 0
			if i == len(stitches)-1 {
				width = seamWidth
			}
		case s.Role == notation.StartingChain:
			c.seam, width = true, 0
			if s.Counts {
				c.seam, width = false, 1
			}
		case s.Kind.Form == stitch.Picot:
			width = 0
		case s.Kind == stitch.Ch:
			if c.hole = r.below != nil; run(stitches, i) >= archFrom {
				width = archWidth
			}
		}
		at += width
		c.to = at
		middles[i] = (c.from + c.to) / 2
		if width > 0 || c.kind.Form == stitch.Picot {
			r.cells = append(r.cells, c)
		}
	}
	if at == 0 {
		return middles
	}
	for i := range middles {
		middles[i] /= at
	}
	for i := range r.cells {
		r.cells[i].from /= at
		r.cells[i].to /= at
	}
	return middles
}

// run returns how many chains there are together around stitch i.
func run(stitches []notation.Stitch, i int) int {
	chain := func(k int) bool {
		return k >= 0 && k < len(stitches) && stitches[k].Kind == stitch.Ch && stitches[k].Role == notation.Plain
	}
	a, b := i, i
	for chain(a - 1) {
		a--
	}
	for chain(b) {
		b++
	}
	return b - a
}

func (d *drawing) yarn(i uint8) int {
	if yarns := d.e.Piece.Yarns; int(i) < len(yarns) {
		return yarns[i]
	}
	return 0
}

// fit returns the sum of the directions by which the stitches of a round stand
// off those below.
func fit(round *notation.Round, own []float64, middles [][]float64, backwards bool) (sin, cos float64) {
	for i := range round.Stitches {
		into := round.Stitches[i].Into
		if into.Round < 0 || int(into.Round) >= len(middles) || into.Last < into.First {
			continue
		}
		base := middles[into.Round]
		if int(into.Last) >= len(base) || into.First < 0 {
			continue
		}
		turn := own[i]
		if backwards {
			turn = -turn
		}
		for k := into.First; k <= into.Last; k++ {
			s, c := math.Sincos(2 * math.Pi * (base[k] - turn))
			sin, cos = sin+s, cos+c
		}
	}
	return sin, cos
}

// turn returns where a place of the ring is around the piece, in turns.
func (r *ring) turn(t float64) float64 {
	if r.backwards {
		return r.start - t*r.span
	}
	return r.start + t*r.span
}

// upper and lower return the height, in edges, of the top and the foot of a
// place of the ring: in a spiral it rises by a round from start to end, and
// stands on what was worked one turn before.
func (r *ring) upper(t float64) float64 { return float64(r.edge) + (t-0.5)*r.step }

func (r *ring) lower(t float64) float64 {
	const exact = 1e-9
	below := r.below
	if below == nil { // only where it overlaps itself
		if below = r; r.turn(t) <= r.start+1+exact {
			return 0
		}
	}
	before := (r.turn(t) - 1 - below.start) / below.span
	if below.below == nil && before < -exact {
		return 0 // there is only the start
	}
	return min(below.upper(before), r.upper(t))
}

// place returns a place on a ring: t along it, up from its foot 0 to its top 1.
func (d *drawing) place(r *ring, t, up, raised float64) (vec, vec) {
	low, high := r.lower(t), r.upper(t)
	return d.surface.at(low+(high-low)*up, r.turn(t), raised)
}

// scene draws the piece.
func (d *drawing) scene() *scene {
	order := slices.Clone(d.rings)
	if d.surface.startUp {
		slices.Reverse(order)
	}
	// From the bottom to the top: seen from above, what lies higher hides what
	// lies lower, and of the inside the far wall hides the floor nowhere.
	if d.holes {
		for _, r := range order {
			d.inside(r)
		}
	}
	if d.surface.startUp {
		d.gather()
	}
	for _, r := range order {
		d.outside(r)
	}
	if !d.surface.startUp {
		d.gather()
	}
	for i := range d.bumps {
		d.bumps[i].layer = d.layer + 1 + i
	}
	s := &scene{facets: append(d.facets, d.bumps...)}
	s.shadows = d.shadows()
	s.low, s.high = point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for _, f := range s.facets {
		s.reach(f.corners)
	}
	for _, sh := range s.shadows {
		s.reach(sh)
	}
	return s
}

func (s *scene) reach(ps []point) {
	for _, p := range ps {
		s.low = point{math.Min(s.low.x, p.x), math.Min(s.low.y, p.y)}
		s.high = point{math.Max(s.high.x, p.x), math.Max(s.high.y, p.y)}
	}
}

// bands is the most parts of a ring that are shaded as one.
const bands = 40

// maxRings is the most rings of a plain picture; of more, each is drawn for
// several.
const maxRings = 300

// parts calls f with each stretch of a ring of one yarn, no longer than a band.
// Holes are left out.
func (r *ring) parts(f func(from, to float64, yarn int)) {
	for i := 0; i < len(r.cells); {
		c := r.cells[i]
		j := i + 1
		for ; j < len(r.cells) && r.cells[j].yarn == c.yarn && r.cells[j].hole == c.hole; j++ {
		}
		to := r.cells[j-1].to
		if !c.hole && to > c.from {
			n := math.Ceil((to - c.from) * bands)
			for k := 0.0; k < n; k++ {
				f(c.from+(to-c.from)*k/n, c.from+(to-c.from)*(k+1)/n, c.yarn)
			}
		}
		i = j
	}
}

// Light between and behind the stitches, over that on them.
const (
	groundLight = 0.74
	insideLight = 0.5
)

// patch returns the outline of a part of a ring, from its foot to its top, and
// whether it faces the viewer.
func (d *drawing) patch(r *ring, from, to float64) (corners []point, normal vec, facing float64) {
	// A little more than its own part, so that no gap shows between the corners
	// of rings whose parts do not meet.
	const more = 0.05
	along := [][2]float64{{from, -more}, {to, -more}, {to, 1 + more}, {from, 1 + more}}
	if bend, ok := d.bend(r, from, to); ok {
		along = slices.Insert(along, 3, [2]float64{bend, 1 + more})
		along = slices.Insert(along, 1, [2]float64{bend, -more})
	}
	for _, at := range along {
		p, _ := d.place(r, at[0], at[1], groundRaised*d.e.Fabric.Gauge.WidthMM())
		corners = append(corners, d.camera.see(p))
	}
	p, normal := d.place(r, (from+to)/2, 0.5, 0)
	return corners, normal, d.camera.faces(p, normal)
}

// facesAt returns the cosine between the normal at a place of a ring and the way
// to the viewer: a stitch on an edge is seen only if all of it is.
func (d *drawing) facesAt(r *ring, t, up float64) float64 {
	p, normal := d.place(r, t, up, 0)
	return d.camera.faces(p, normal)
}

// bend returns the corner of the piece that lies between two places of a ring.
func (d *drawing) bend(r *ring, from, to float64) (t float64, ok bool) {
	n := float64(d.surface.corners)
	a, b := (r.turn(from)-d.surface.corner)*n, (r.turn(to)-d.surface.corner)*n
	next := math.Floor(min(a, b)) + 1
	if n == 0 || next >= max(a, b) {
		return 0, false
	}
	return from + (to-from)*(next-a)/(b-a), true
}

// ground returns the light between the stitches; in a plain picture it is that
// on them.
func (d *drawing) ground() float64 {
	if d.plain {
		return 0.97
	}
	return groundLight
}

func (d *drawing) inside(r *ring) {
	d.layer++
	r.parts(func(from, to float64, yarn int) {
		if corners, normal, facing := d.patch(r, from, to); facing < 0.05 {
			l := light(normal.times(-1)) * insideLight
			d.facets = append(d.facets, facet{corners, d.colours[yarn].lit(l), d.layer, true})
		}
	})
}

func (d *drawing) outside(r *ring) {
	if d.plain && len(d.rings) > maxRings {
		step := (len(d.rings) + maxRings - 1) / maxRings
		if r.edge%step != 0 && r.edge != len(d.rings) {
			return
		}
		low := r
		for k := 1; k < step && low.below != nil; k++ {
			low = low.below
		}
		r = &ring{round: r.round, below: low.below, edge: r.edge, start: r.start, span: 1, cells: r.cells}

	}
	d.layer++
	r.parts(func(from, to float64, yarn int) {
		if corners, normal, facing := d.patch(r, from, to); facing > -0.12 {
			d.facets = append(d.facets, facet{corners, d.colours[yarn].lit(light(normal) * d.ground()), d.layer, true})
		}
	})
	if d.plain {
		return
	}
	d.layer++
	for _, c := range r.cells {
		_, normal, facing := d.patch(r, c.from, c.to)
		if facing > seen && d.facesAt(r, (c.from+c.to)/2, 0) > 0 && d.facesAt(r, (c.from+c.to)/2, 1) > 0 {
			d.stitch(r, c, light(normal))
		}
	}
}

// legs are the two halves of the V of a stitch, along it and up it.
var legs = [2][][2]float64{
	{{0.5, -0.04}, {0.5, 0.34}, {0.14, 1.06}, {0.01, 0.66}},
	{{0.5, -0.04}, {0.99, 0.66}, {0.86, 1.06}, {0.5, 0.34}},
}

// chain is the two sides of a chain, which lies along the top of its round: along
// it, and down from the top in widths of a stitch.
var chain = [2][][2]float64{
	{{-0.05, 0.22}, {0.2, -0.02}, {0.85, -0.02}, {1.05, 0.22}, {0.8, 0.15}, {0.25, 0.15}},
	{{-0.05, 0.24}, {0.25, 0.33}, {0.8, 0.33}, {1.05, 0.24}, {0.85, 0.5}, {0.2, 0.5}},
}

// legLight is the light on each leg over that on the surface.
var legLight = [2]float64{1.02, 0.9}

// raised is how far the yarn of a stitch stands off the surface, and groundRaised
// what lies between, over the width of a stitch.
const raised, groundRaised = 0.07, 0.05

// seen is the cosine between a normal and the way to the viewer from where on
// single stitches are drawn.
const seen = 0.08

// strand draws a bit of yarn in the place of a stitch.
func (d *drawing) strand(r *ring, c cell, shape [][2]float64, light float64) {
	corners := make([]point, len(shape))
	for i, p := range shape {
		at, _ := d.place(r, c.from+(c.to-c.from)*p[0], p[1], raised*d.e.Fabric.Gauge.WidthMM())
		corners[i] = d.camera.see(at)
	}
	base := d.colours[c.yarn]
	d.facets = append(d.facets, facet{corners: corners, colour: base.lit(light + base.depth()), layer: d.layer})
}

// stitch draws one stitch.
func (d *drawing) stitch(r *ring, c cell, light float64) {
	draw := func(shape [][2]float64, l float64) { d.strand(r, c, shape, light*l) }
	tall := d.e.Rounds[r.edge-1].HeightMM / d.e.Fabric.Gauge.WidthMM()
	switch {
	case c.seam:
		draw([][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}}, 0.66)
		draw([][2]float64{{0.2, 0.05}, {0.8, 0.3}, {0.8, 0.95}, {0.2, 0.7}}, 0.95)
	case c.hole:
		for k, part := range chain {
			lying := make([][2]float64, len(part))
			for i, p := range part {
				lying[i] = [2]float64{p[0], 1 - p[1]/max(1, tall)}
			}
			draw(lying, legLight[k])
		}
	case standsOut(c.kind):
		d.bump(r, c)
	default:
		if tall > 1.4 { // a post below its V
			foot := 1 - 1/tall
			draw([][2]float64{{0.3, 0}, {0.7, 0}, {0.66, foot + 0.1}, {0.34, foot + 0.1}}, 0.93)
			draw([][2]float64{{0.3, foot * 0.4}, {0.7, foot * 0.62}, {0.7, foot * 0.8}, {0.3, foot * 0.58}}, 1.03)
			for k, leg := range legs {
				short := make([][2]float64, len(leg))
				for i, p := range leg {
					short[i] = [2]float64{p[0], foot + (1-foot)*p[1]}
				}
				draw(short, legLight[k])
			}
			return
		}
		for k, leg := range legs {
			draw(leg, legLight[k])
		}
	}
}

func standsOut(s stitch.Stitch) bool {
	switch s.Form {
	case stitch.Bobble, stitch.Popcorn, stitch.Puff, stitch.Picot:
		return true
	}
	return false
}

// bump draws a stitch that stands out as a knob, its outline from a circle on
// the surface, its light from three of them.
func (d *drawing) bump(r *ring, c cell) {
	wide := d.e.Fabric.Gauge.WidthMM()
	middle, normal := d.place(r, (c.from+c.to)/2, 0.55, 0)
	radius := 0.62 * wide
	if c.kind.Form == stitch.Picot {
		middle, normal = d.place(r, (c.from+c.to)/2, 1, 0)
		radius = 0.34 * wide
	}
	l := light(normal)
	for k, size := range [...]float64{1.12, 1, 0.62} {
		// A ball looks round from everywhere.
		at := middle.plus(normal.times(0.4 * radius))
		if k == 2 {
			at = at.plus(sun.times(0.35 * radius))
		}
		see := d.camera.see(at)
		corners := make([]point, 14)
		for i := range corners {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(corners)))
			corners[i] = point{see.x + size*radius*cos, see.y + size*radius*sin}
		}
		d.bumps = append(d.bumps, facet{corners: corners, colour: d.colours[c.yarn].lit(l * [...]float64{0.7, 1, 1.08}[k])})
	}
}

// gather draws what lies above the last round of a closed piece: the stitches
// drawn together.
func (d *drawing) gather() {
	if !d.e.Piece.Closed || len(d.rings) == 0 {
		return
	}
	last := d.rings[len(d.rings)-1]
	end := &ring{round: last.round, below: last, edge: len(d.surface.r) - 1, start: last.start, span: 1, backwards: last.backwards, cells: last.cells}
	d.layer++
	end.parts(func(from, to float64, yarn int) {
		if corners, normal, facing := d.patch(end, from, to); facing > -0.12 {
			d.facets = append(d.facets, facet{corners, d.colours[yarn].lit(light(normal) * d.ground()), d.layer, true})
		}
	})
	if d.plain {
		return
	}
	d.layer++
	for _, c := range end.cells {
		if at, normal := d.place(end, (c.from+c.to)/2, 0.4, 0); !c.seam && d.camera.faces(at, normal) > seen {
			d.strand(end, c, [][2]float64{{0.2, 0}, {0.8, 0}, {0.62, 0.8}, {0.38, 0.8}}, light(normal))
		}
	}
}

// shadows returns the shadow on the table, from its edge to its middle.
func (d *drawing) shadows() [][]point {
	foot := 0.0 // radius where it stands
	for i, r := range d.surface.r {
		z := d.surface.z[i]
		if d.surface.startUp {
			z = -z
		}
		if z-d.surface.low < 0.12*d.surface.widest {
			foot = math.Max(foot, r)
		}
	}
	high := math.Min(2*d.surface.middle, d.surface.widest)
	var out [][]point
	for _, size := range [...]float64{1, 0.86, 0.72, 0.58, 0.44, 0.3} {
		r := foot + 0.32*high*size + 0.03*d.surface.widest*size
		var outline []point
		for _, v := range d.surface.outline(r) {
			shift := 0.16 * high
			outline = append(outline, d.camera.see(v.plus(vec{shift, shift * 0.6, 0})))
		}
		out = append(out, outline)
	}
	return out
}
