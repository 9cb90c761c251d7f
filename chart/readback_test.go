package chart

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// An element is an element of a drawn chart, as the tests see it.
type element struct {
	name     string
	attr     map[string]string
	text     string
	children []*element
	origin   point // of the groups it is in
	mirrored bool  // to be read in a mirror
	inRing   bool
	inDefs   bool
	placed   *mark // as read from strokes
}

// parseSVG reads a file strictly: well formed, and no attribute twice.
func parseSVG(t testing.TB, src []byte) *element {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(src))
	root := &element{}
	stack := []*element{root}
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		top := stack[len(stack)-1]
		switch tok := tok.(type) {
		case xml.StartElement:
			e := &element{name: tok.Name.Local, attr: map[string]string{}}
			for _, a := range tok.Attr {
				key := a.Name.Local
				if a.Name.Space == "xmlns" {
					key = "xmlns:" + key
				}
				if _, twice := e.attr[key]; twice {
					t.Fatalf("<%s> has %s twice", e.name, key)
				}
				e.attr[key] = a.Value
			}
			e.origin = top.origin
			e.inDefs = top.inDefs || e.name == "defs"
			e.inRing = top.inRing || e.attr["data-round"] != "" || e.attr["data-repeats"] != ""
			if e.name == "tspan" { // in the line of the text it is in
				e.attr["y"], e.attr["class"] = top.attr["y"], top.attr["class"]
			}
			if e.name == "g" {
				var by point
				if _, err := fmt.Sscanf(e.attr["transform"], "translate(%g %g)", &by.X, &by.Y); err == nil {
					e.origin = e.origin.plus(by.times(1.0 / unit))
				}
			}
			top.children = append(top.children, e)
			stack = append(stack, e)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			top.text += string(tok)
		}
	}
	if len(root.children) != 1 || root.children[0].name != "svg" {
		t.Fatal("not one svg element")
	}
	root.walk(func(e *element) {
		if e.attr["data-repeats"] != "" {
			e.readGhost(t)
		}
	})
	return root.children[0]
}

// readGhost reads the stitches of a ring that is drawn a second time, which is in
// strokes, and adds each as a use of a pale symbol.
func (e *element) readGhost(t testing.TB) {
	t.Helper()
	for _, c := range e.children {
		class := c.attr["class"]
		if c.name != "path" || class == inkTable[stepInk].class {
			continue
		}
		for p := c.path(t); len(p) > 0; {
			m, n := readGlyph(p, class)
			if n == 0 { // the finer part of a symbol
				if class == "" {
					t.Fatalf("no symbol is drawn at %v", p[0].to[0])
				}
				for n = 1; n < len(p) && p[n].op != 'M'; n++ {
				}
				p = p[n:]
				continue
			}
			p = p[n:]
			e.children = append(e.children, &element{name: "use", attr: map[string]string{"href": "#pale-" + m.glyph.id}, placed: &m})
		}
	}
}

// told returns the part of a symbol by which it is told from others, and its class.
func (g *glyph) told() (path, string) {
	switch {
	case len(g.pen) > 0:
		return g.pen, ""
	case len(g.thin) > 0:
		return g.thin, inkTable[legInk].class
	}
	return g.filled, filledClass
}

// strokedGlyphs are the symbols of stitches, those with the most strokes first.
var strokedGlyphs = sync.OnceValue(func() []*glyph {
	var all []*glyph
	for _, s := range kinds() {
		all = append(all, drawGlyph(s, false))
		if slices.Contains([]stitch.Base{stitch.Single, stitch.ExtendedSingle, stitch.ReverseSingle}, s.Base) {
			all = append(all, drawGlyph(s, plusCross))
		}
	}
	slices.SortFunc(all, func(a, b *glyph) int {
		own, _ := a.told()
		other, _ := b.told()
		return cmp.Or(len(other)-len(own), strings.Compare(a.id, b.id))
	})
	return all
})

// centroid returns the mean of the points of a path.
func centroid(p path) point {
	var sum point
	n := 0.0
	for i := range p {
		for _, q := range p[i].points() {
			sum = sum.plus(q)
			n++
		}
	}
	return sum.times(1 / n)
}

// readGlyph finds the symbol that a path of a class begins with, that with the most
// strokes and of these the likest, or no segments of it.
func readGlyph(p path, class string) (found mark, n int) {
	least := 0.03
	for _, g := range strokedGlyphs() {
		for _, flip := range [...]bool{false, true} {
			own, told := g.told()
			if told != class || len(own) > len(p) || len(own) < n || flip && !g.handed {
				continue
			}
			if flip {
				own = own.flipped()
			}
			// Turned about the middle of its points, as fits all of them best.
			middle, at := centroid(own), centroid(p[:len(own)])
			var along, across float64
			same := true
			for i := range own {
				same = same && own[i].op == p[i].op
				for k, q := range own[i].points() {
					a, b := q.minus(middle), p[i].to[k].minus(at)
					along += a.dot(b)
					across += a.X*b.Y - a.Y*b.X
				}
			}
			turn := math.Atan2(across, along)
			m := mark{glyph: g, at: at.minus(middle.turned(turn)), angle: turn, flip: flip}
			off, of := 0.0, 0.0
			for i, s := range own.moved(m.at, turn) {
				for k, q := range s.points() {
					off += q.distance(p[i].to[k])
					of++
				}
			}
			off /= of
			if same && off < least {
				found, n, least = m, len(own), off
			}
		}
	}
	return found, n
}

func (e *element) walk(f func(*element)) {
	f(e)
	for _, c := range e.children {
		c.walk(f)
	}
}

// transform returns the place and angle of a use.
func (e *element) transform(t testing.TB) (at point, angleRad float64) {
	t.Helper()
	number := func(s string) float64 {
		if s == "" {
			return 0
		}
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	if m := e.placed; m != nil {
		at, angleRad = m.at, m.angle
		if e.mirrored {
			at.X, angleRad = -at.X, -angleRad
		}
		return at, angleRad
	}
	at = point{number(e.attr["x"]), number(e.attr["y"])}.times(1.0 / unit)
	turn, mirrored := strings.CutSuffix(e.attr["transform"], "scale(-1 1)")
	if mirrored {
		at.X = -at.X
	}
	var centre point
	if turn != "" {
		turn, ok := strings.CutPrefix(turn, "rotate(")
		if !ok {
			t.Fatalf("transform %q", e.attr["transform"])
		}
		fields := strings.Fields(strings.TrimSuffix(turn, ")"))
		angleRad = number(fields[0]) * math.Pi / 180
		if len(fields) == 3 {
			centre = point{number(fields[1]), number(fields[2])}.times(1.0 / unit)
		}
	}
	at = at.minus(centre).turned(angleRad).plus(centre).plus(e.origin)
	if e.mirrored {
		at.X, angleRad = -at.X, -angleRad
	}
	return at, angleRad
}

var pathToken = regexp.MustCompile(`[a-zA-Z]|-?[0-9]*\.?[0-9]+`)

// path returns the path that an element draws.
func (e *element) path(t testing.TB) path {
	t.Helper()
	tokens := pathToken.FindAllString(e.attr["d"], -1)
	var at, start, before point
	number := func() float64 {
		v, err := strconv.ParseFloat(tokens[0], 64)
		if err != nil {
			t.Fatalf("path %q: %v", e.attr["d"], err)
		}
		tokens = tokens[1:]
		return v / unit
	}
	step := func() point {
		p := at.plus(point{number(), number()})
		return point{math.Round(p.X*1e6) / 1e6, math.Round(p.Y*1e6) / 1e6} // steps add up exactly
	}
	var p path
	op := ""
	for len(tokens) > 0 {
		if c := tokens[0]; c >= "a" {
			op, tokens = c, tokens[1:]
		}
		switch op {
		case "m":
			at = step()
			start = at
			p.move(at.plus(e.origin))
			op = "l"
		case "l":
			at = step()
			p.line(at.plus(e.origin))
		case "c", "s":
			a := at.plus(at.minus(before))
			if op == "c" {
				a = step()
			}
			b, c := step(), step()
			at, before = c, b
			p.curve(a.plus(e.origin), b.plus(e.origin), c.plus(e.origin))
		case "z":
			at = start
			p.close()
		default:
			t.Fatalf("path %q: %q", e.attr["d"], op)
		}
	}
	if e.mirrored {
		return p.flipped()
	}
	return p
}

// readLegs returns the corners of the legs drawn by a path.
func readLegs(t testing.TB, p path) [][]point {
	t.Helper()
	var legs [][]point
	for _, s := range p {
		switch s.op {
		case 'M':
			legs = append(legs, []point{s.to[0]})
		case 'L':
			legs[len(legs)-1] = append(legs[len(legs)-1], s.to[0])
		default:
			t.Fatalf("leg with %c", s.op)
		}
	}
	return legs
}

// A seen is a stitch as it is seen in a drawn chart.
type seen struct {
	id    string
	at    point
	angle float64
	turn  float64
	dist  float64 // from the middle line
	over  float64 // the turn of its head
	stack bool    // a chain that stands on its end
	legs  [][]point
	loop  string
	join  bool // a line goes from it along the ring, to close it
}

// A reader reads charts. It knows what a person knows who has the key and sees the
// rings: what the symbols look like, where their feet are, and which way the ring
// runs.
type reader struct {
	track
	middle point
	inward bool
	glyphs map[string]*glyph
	rings  [][]seen // read so far
	back   bool     // rings without a start mark are worked clockwise
}

// place returns the turn and distance of a point.
func (r *reader) place(p point) (turn, distance float64) {
	p = p.minus(r.middle)
	if r.track.corners == 2 { // the ends of a foundation are places on its sides
		if end := r.track.side / 2; math.Abs(p.X) < 0.03 && math.Abs(p.Y) < end+0.03 {
			p.Y = max(-end, min(p.Y, end))
		}
	}
	return r.track.place(p)
}

// loopOf is what a mark under a foot says.
var loopOf = map[string]notation.Loop{"mark-blo": notation.BackLoop, "mark-flo": notation.FrontLoop}

// symbolsByID are the symbols of all stitches and marks by their names.
var symbolsByID = sync.OnceValue(func() map[string]*glyph {
	m := map[string]*glyph{}
	for id, s := range kinds() {
		m["st-"+id] = drawGlyph(s, false)
	}
	for _, g := range allMarks {
		m[g.id] = g
	}
	return m
})

// readChart recovers, from the drawing alone, the stitches of every round in
// the order in which they are worked, and what each is worked into.
func readChart(t testing.TB, src []byte, shapes []track) [][]notation.Stitch {
	t.Helper()
	rd := &reader{glyphs: symbolsByID()}
	root := parseSVG(t, src)
	left := false
	root.walk(func(e *element) { left = left || e.name == "desc" && strings.Contains(e.text, "for the left hand") })
	root.walk(func(e *element) { e.mirrored = left })
	for _, e := range root.children { // the mark in the middle of a closing half
		if e.attr["href"] == "#mark-close" {
			rd.middle, _ = e.transform(t)
		}
	}
	closing := rd.middle
	rd.middle = point{}
	var out [][]notation.Stitch
	var below []seen
	for _, g := range root.children {
		if g.attr["data-repeats"] != "" { // from here on inwards
			rd.track, rd.middle, rd.inward = track{}, closing, true
			below = rd.readRing(t, g)
			continue
		}
		if g.attr["data-round"] == "" {
			continue
		}
		under := rd.track
		if !rd.inward && len(out) < len(shapes) {
			rd.track = shapes[len(out)]
		}
		ring := rd.readRing(t, g)
		var stitches []notation.Stitch
		for i := range ring {
			if rd.track != under && len(out) > 0 { // seen from the ring below
				at := ring[i].at
				if g := rd.glyphs[ring[i].id]; g != nil {
					at = at.plus(point{0, g.h / 2}.turned(ring[i].angle))
				}
				ring[i].turn, ring[i].dist = (&reader{track: under}).place(at)
			}
			own := rd.track
			rd.track = under
			s := notation.Stitch{Kind: kinds()[ring[i].id[3:]]}
			s.Into = rd.readInto(t, ring, i, below, len(out), g.attr["data-round"])
			rd.track = own
			s.Loop = loopOf[ring[i].loop]
			stitches = append(stitches, s)
		}
		out = append(out, stitches)
		rd.rings = append(rd.rings, ring)
		below = ring
	}
	return out
}

// turnedBack reports whether the start mark of a ring points clockwise.
func (e *element) turnedBack(t testing.TB) bool {
	for _, c := range e.children {
		if c.attr["href"] == "#mark-start" {
			_, angle := c.transform(t)
			return math.Abs(math.Remainder(angle, 2*math.Pi)) > 1
		}
	}
	return false
}

// readRing returns the stitches of one ring in the order in which they are
// worked.
func (rd *reader) readRing(t testing.TB, g *element) (ring []seen) {
	backwards := rd.back
	var loops []seen
	var legs [][]point
	var steps []point
	for _, e := range g.children {
		switch {
		case e.name == "path" && e.attr["class"] == inkTable[stepInk].class:
			steps = append(steps, e.path(t)[0].to[0])
		case e.name == "path" && strings.HasPrefix(e.attr["class"], "l") && g.attr["data-repeats"] == "":
			legs = append(legs, readLegs(t, e.path(t))...)
		case e.name == "use":
			s := seen{id: strings.TrimPrefix(e.attr["href"][1:], "pale-")}
			s.at, s.angle = e.transform(t)
			s.turn, s.dist = rd.place(s.at)
			_, square := rd.track.at(s.turn, s.dist)
			if rd.inward {
				square += math.Pi
			}
			s.stack = s.id == "st-ch" && math.Abs(math.Remainder(s.angle-square-math.Pi/2, math.Pi)) < 0.1
			s.over = s.turn
			if g := rd.glyphs[s.id]; g != nil && s.id != "st-ch" && s.id != "st-slst" {
				s.over, _ = rd.place(s.at.plus(point{0, -g.h / 2}.turned(s.angle)))
			}
			switch {
			case strings.HasPrefix(s.id, "st-"):
				ring = append(ring, s)
			case s.id == "mark-blo" || s.id == "mark-flo":
				loops = append(loops, s)
			case s.id == "mark-start":
				backwards = g.turnedBack(t)
			}
		}
	}
	slices.SortStableFunc(ring, func(a, b seen) int {
		if math.Abs(a.turn-b.turn)*max(a.dist, 1) < 0.05 { // one over the other
			if rd.inward {
				a, b = b, a
			}
			return int(math.Copysign(1, a.dist-b.dist))
		}
		if backwards {
			a, b = b, a
		}
		return int(math.Copysign(1, a.turn-b.turn))
	})
	if g.attr["data-round"] == "0" { // a foundation is made towards its top, where it is worked from
		slices.Reverse(ring)
	}
	for i := range ring {
		for _, p := range steps {
			ring[i].join = ring[i].join || ring[i].id == "st-slst" && math.Abs(ring[i].at.distance(p)-dotSize/2) < 0.04
		}
	}
	near := func(p point) *seen { // the stitch with a foot at p
		var best *seen
		least := 0.04
		for i := range ring {
			s := &ring[i]
			if s.at.distance(p) > 3 {
				continue
			}
			feet := rd.glyphs[s.id].feet
			if s.stack {
				feet = []point{{-chainLong / 2, 0}}
			}
			for _, f := range feet {
				if d := s.at.plus(f.turned(s.angle)).distance(p); d < least {
					best, least = s, d
				}
			}
		}
		return best
	}
	for _, l := range legs {
		s := near(l[0])
		if s == nil {
			t.Fatalf("a leg from %v, where no foot is", l[0])
		}
		s.legs = append(s.legs, l)
	}
	foot := func(s *seen) point { return s.at.plus(point{0, rd.glyphs[s.id].h / 2}.turned(s.angle)) }
	for _, m := range loops { // an arc stands under a foot
		best := 0
		for i := range ring {
			if foot(&ring[i]).distance(m.at) < foot(&ring[best]).distance(m.at) {
				best = i
			}
		}
		ring[best].loop = m.id
	}
	return ring
}

// readInto returns what a stitch of a ring is worked into: where its legs end,
// or without legs what it stands over.
func (rd *reader) readInto(t testing.TB, ring []seen, i int, below []seen, index int, round string) notation.Into {
	s := &ring[i]
	nothing := notation.Into{Where: notation.IntoNothing, Round: -1}
	switch {
	case s.id == "st-ch", strings.HasPrefix(s.id, "st-picot"), s.join:
		return nothing
	case index == 0:
		return notation.Into{Where: notation.IntoRing, Round: -1, Last: -1}
	}
	in := notation.Into{Round: int32(index - 1), First: math.MaxInt32, Last: -1}
	take := func(k int) { in.First, in.Last = min(in.First, int32(k)), max(in.Last, int32(k)) }
	nearest := func(turn, distance float64) int {
		best, least := -1, math.Inf(1)
		for k := range below {
			d := rd.apart(below[k].over, turn, distance)
			if d < least-1e-6 || d < least+0.03 && best >= 0 && below[k].stack && below[best].stack && (below[k].dist > below[best].dist) != rd.inward {
				best, least = k, min(d, least)
			}
		}
		return best
	}
	chain := func(k int) bool { return below[k].id == "st-ch" && !below[k].stack }
	arch := func(k int) {
		take(k)
		for k > 0 && chain(k-1) {
			k--
		}
		take(k)
		for k+1 < len(below) && chain(k+1) {
			k++
		}
		take(k)
		in.Where = notation.IntoSpace
	}
	if round == "1" { // round the foundation chain, along its one side or the other
		in.Where = notation.IntoChain
		turn := s.turn
		if len(s.legs) > 0 {
			turn, _ = rd.place(s.legs[0][len(s.legs[0])-1])
		}
		if turn > rd.turns()/2 {
			in.Where, turn = notation.IntoUnder, rd.turns()-turn
		}
		take(nearest(turn, s.dist))
		return in
	}
	if len(s.legs) == 0 {
		if k := nearest(s.turn, s.dist); chain(k) {
			arch(k)
		} else {
			in.Where = notation.IntoStitch
			take(k)
		}
		return in
	}
	for _, l := range s.legs {
		end := l[len(l)-1]
		if round, k, ok := rd.earlier(end, below); ok {
			in.Round, in.Where = int32(round), notation.IntoStitch
			take(k)
			continue
		}
		turn, distance := rd.place(end)
		k := nearest(turn, distance)
		off := rd.apart(below[k].over, turn, distance)
		switch {
		case chain(k) && end.distance(below[k].at) > 0.1:
			arch(k)
		case off > 0.2: // between two stitches
			in.Where = notation.IntoGap
			other := k - 1
			if math.Remainder(below[k].over-turn, rd.turns()) < 0 {
				other = k + 1
			}
			take(k)
			take(other)
		default:
			in.Where = notation.IntoStitch
			take(k)
		}
	}
	return in
}

// earlier returns the stitch of a round before the one below whose head a leg ends
// at; ok is false if it ends at the round below.
func (rd *reader) earlier(end point, below []seen) (round, stitch int, ok bool) {
	if rd.inward || rd.track.corners > 0 || len(rd.rings) < 2 {
		return 0, 0, false
	}
	const close = 0.45
	off := func(ring []seen) (float64, int) {
		least, at := math.Inf(1), 0
		for k := range ring {
			s := &ring[k]
			h := rd.glyphs[s.id].h
			if s.stack {
				h = chainLong
			}
			if d := s.at.plus(outwards(s.over).times(h / 2)).distance(end); d < least {
				least, at = d, k
			}
		}
		return least, at
	}
	best, _ := off(below)
	for k, ring := range rd.rings[:len(rd.rings)-1] {
		if d, at := off(ring); d < close && d < best {
			best, round, stitch, ok = d, k, at, true
		}
	}
	return round, stitch, ok
}

// want returns what a drawing can show of a round: kind, loop and what it is
// worked into.
func want(rounds []*notation.Round) [][]notation.Stitch {
	var out [][]notation.Stitch
	for _, r := range rounds {
		var ss []notation.Stitch
		for _, s := range r.Stitches {
			w := notation.Stitch{Kind: s.Kind, Loop: s.Loop, Into: s.Into}
			if s.Kind == stitch.Ch || s.Kind.Form == stitch.Picot || s.Role == notation.Joining {
				w.Into = notation.Into{Where: notation.IntoNothing, Round: -1}
			}
			ss = append(ss, w)
		}
		out = append(out, ss)
	}
	return out
}

func drawn(t testing.TB, p *pattern.Piece, opt Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Draw(&b, &pattern.Pattern{}, p, opt); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// shapesOf returns the shapes of the rings of rounds, drawn from the middle
// outwards.
func shapesOf(rounds []*notation.Round, opt Options) []track {
	var set setting
	if opt.Outline == Shape {
		set.outline = findOutline(rounds)
	}
	var out []track
	for _, r := range newLayout(rounds, set).rings {
		out = append(out, r.track)
	}
	return out
}

func checkReadsBack(t *testing.T, name string, rounds []*notation.Round) {
	t.Helper()
	for _, opt := range []Options{{View: Whole}, {View: Halves}, {View: Halves, Hand: Left}} {
		checkViewReadsBack(t, fmt.Sprint(name, ", ", opt.View, ", ", opt.Hand), rounds, opt)
	}
}

func checkViewReadsBack(t *testing.T, name string, rounds []*notation.Round, opt Options) {
	t.Helper()
	src := drawn(t, piece(pattern.Spiral, rounds), opt)
	got := readChart(t, src, shapesOf(rounds, opt))
	exp := want(rounds)
	if len(got) != len(exp) {
		t.Fatalf("%s: %d rings, want %d", name, len(got), len(exp))
	}
	for i := range exp {
		if len(got[i]) != len(exp[i]) {
			t.Fatalf("%s: ring %d shows %d stitches, want %d", name, i, len(got[i]), len(exp[i]))
		}
		for j := range exp[i] {
			if got[i][j] != exp[i][j] {
				t.Fatalf("%s: ring %d, stitch %d: reads %+v, want %+v", name, i, j, got[i][j], exp[i][j])
			}
		}
	}
}

// checkRepeatReadsBack reads back a drawing of one of the equal parts of rounds.
// What is worked into a stitch of the next part is not seen there, and not
// checked.
func checkRepeatReadsBack(t *testing.T, name string, rounds []*notation.Round, hand Hand) (checked int) {
	t.Helper()
	times, parts := repeats(rounds)
	if times == 1 {
		return 0
	}
	got := readChart(t, drawn(t, piece(pattern.Spiral, rounds), Options{View: Repeat, Hand: hand}), nil)
	exp := want(rounds)
	for i, p := range parts {
		if len(got[i]) != p.to-p.from {
			t.Fatalf("%s: ring %d shows %d stitches, want %d", name, i, len(got[i]), p.to-p.from)
		}
		for j := range got[i] {
			g, w := got[i][j], exp[i][p.from+j]
			if k := int(w.Into.Round); k >= 0 {
				below := parts[k]
				if int(w.Into.First) < below.from || int(w.Into.Last) >= below.to {
					g.Into, w.Into = notation.Into{}, notation.Into{}
				} else {
					w.Into.First -= int32(below.from)
					w.Into.Last -= int32(below.from)
					checked++
				}
			}
			if g != w {
				t.Fatalf("%s: ring %d, stitch %d of the part: reads %+v, want %+v", name, i, j, g, w)
			}
		}
	}
	return checked
}

// checkStripReadsBack reads back a drawing of the rounds laid straight: what
// each line shows of a round, and what that is worked into below it.
func checkStripReadsBack(t *testing.T, name string, rounds []*notation.Round, hand Hand) {
	t.Helper()
	root := parseSVG(t, drawn(t, piece(pattern.Spiral, rounds), Options{View: Strip, Hand: hand}))
	root.walk(func(e *element) { e.mirrored = hand == Left })
	rd := &reader{track: track{straight: 1e6}, glyphs: symbolsByID()}
	groups := slices.DeleteFunc(root.children, func(e *element) bool { return e.attr["data-round"]+e.attr["data-repeats"] == "" })
	_, parts := repeats(rounds)
	for i, r := range rounds {
		if isFoundation(r) {
			continue
		}
		// All lines of a round are one group; the pale rings under them are
		// groups of their own.
		var pale []*element
		var line *element
		for len(groups) > 0 && (line == nil || groups[0].attr["data-repeats"] != "") {
			if groups[0].attr["data-repeats"] == "" {
				line = groups[0]
			} else if line != nil && (len(pale) == 0 || groups[0].attr["data-repeats"] != pale[0].attr["data-repeats"]) {
				break // under the next round
			} else {
				pale = append(pale, groups[0])
			}
			groups = groups[1:]
		}
		lines := rd.cut(t, line, pale)
		n := 0
		for from, to := parts[i].from, 0; from < parts[i].to; from = to {
			to = lineEnd(r, part{from, parts[i].to}, stripLength)
			pair := strip(rounds, i, part{from, to})
			exp := want(pair)
			if n == len(lines) {
				t.Fatalf("%s: round %d has only %d lines", name, r.Number, n)
			}
			rd.middle = point{0, lowest(t, lines[n]) + 1}
			rd.back = lines[0].turnedBack(t) // what is so of the first line is so of all
			ring := rd.readRing(t, lines[n])
			rd.back = false
			var below []seen
			if len(exp) == 2 {
				below = rd.readRing(t, pale[n])
			}
			n++
			top := exp[len(exp)-1]
			if len(ring) != len(top) || len(exp) == 2 && len(below) != len(exp[0]) {
				t.Fatalf("%s: round %d from stitch %d: a line of %d over %d stitches, want %d", name, r.Number, from, len(ring), len(below), len(top))
			}
			for j := range top {
				got := notation.Stitch{Kind: kinds()[ring[j].id[3:]], Loop: loopOf[ring[j].loop]}
				if len(exp) == 2 && top[j].Into.Round == 0 { // else it is worked into what is not shown
					got.Into = rd.readInto(t, ring, j, below, 1, "")
				} else {
					top[j].Into = notation.Into{}
				}
				if got != top[j] {
					t.Fatalf("%s: round %d, stitch %d of the line from %d: reads %+v, want %+v", name, r.Number, j, from, got, top[j])
				}
			}
		}
	}
}

// lowest returns the height of the lowest symbol of a group.
func lowest(t testing.TB, g *element) float64 {
	y := math.Inf(-1)
	for _, e := range g.children {
		if e.name == "use" {
			at, _ := e.transform(t)
			y = max(y, at.Y)
		}
	}
	return y
}

// cut cuts the group of a round in a strip into lines: over each pale ring one,
// or without these where a space is left.
func (rd *reader) cut(t testing.TB, g *element, pale []*element) []*element {
	const space = 1.6
	var ends []float64
	for _, p := range pale {
		ends = append(ends, lowest(t, p))
	}
	if len(pale) == 0 {
		var ys []float64
		for _, e := range g.children {
			if e.name == "use" {
				at, _ := e.transform(t)
				ys = append(ys, at.Y)
			}
		}
		slices.Sort(ys)
		for i, y := range ys {
			if i+1 == len(ys) || ys[i+1]-y > space {
				ends = append(ends, y+0.01)
			}
		}
	}
	lines := make([]*element, len(ends))
	for i := range lines {
		lines[i] = &element{name: "g", attr: g.attr}
	}
	for _, e := range g.children {
		y := 0.0
		switch e.name {
		case "use":
			at, _ := e.transform(t)
			y = at.Y
		case "path":
			y = e.path(t)[0].to[0].Y
		default:
			continue
		}
		if k, _ := slices.BinarySearch(ends, y); k < len(lines) {
			lines[k].children = append(lines[k].children, e)
		}
	}
	return lines
}

// TestRepeatReadsBack proves of the repeat view what TestReadsBack proves of
// the whole.
func TestRepeatReadsBack(t *testing.T) {
	checked := 0
	check := func(name string, rounds []*notation.Round) {
		for _, hand := range []Hand{Right, Left} {
			checked += checkRepeatReadsBack(t, fmt.Sprint(name, ", ", hand), rounds, hand)
		}
	}
	for _, s := range samples {
		check(s.name, worked(s.specs...))
	}
	for first := 4; first < 9; first++ {
		for steps := 3; steps < 9; steps++ {
			check(fmt.Sprint("ball of ", first, " and ", steps), worked(ball(first, steps, 2)...))
		}
	}
	for name, p := range bookPieces(t) {
		check(name, p.Rounds)
	}
	if checked < 1000 {
		t.Errorf("only %d stitches were read", checked)
	}
}

// TestReadsBack is the proof that a chart says what the rounds say: the drawing
// alone gives them back, in every view. ROUNDELAY_PATTERNS says how many pieces
// are generated, if not two thousand.
func TestReadsBack(t *testing.T) {
	for _, s := range samples {
		rounds := worked(s.specs...)
		checkReadsBack(t, s.name, rounds)
		checkStripReadsBack(t, s.name, rounds, Left)
	}
	for name, p := range bookPieces(t) {
		checkStripReadsBack(t, name, p.Rounds, Right)
	}
	// Found by fuzzing: the stitch beside a chain leans over it.
	checkReadsBack(t, "leaning", worked("CH 10*dc join", "CH dc invdec dc2tog sc2tog sc dc2tog join", "CH sc picot3 sc.2 sc sc fpdc hdc join",
		"CH CH dc4cl invdec sc.f sc sc sc.b join", "CH st{dc ch dc} sc picot3 sc dc.3 dc sc join", "CH sc.f sp{sc} sc hdc sc sc invdec invdec join"))
	for name, specs := range map[string][]string{
		"spikes":         {"12*sc", "12*sc.2", "24*sc", "8*(2*sc sc^)", "24*sc"},
		"spikes on dc":   {"CH 12*dc join", "CH 12*dc.2 join", "CH 24*sc join", "CH 8*(2*dc tr^) join"},
		"posts":          {"CH 12*dc join", "CH 12*dc join", "CH 6*(dc fpdc^) join", "CH 6*(dc fpdc^) join", "CH 6*(dc bpdc^) join"},
		"behind a shell": {"12*sc", "12*sc", "4*(2*sk dc.5)", "4*(5*sc)"},
	} {
		checkViewReadsBack(t, name, worked(specs...), Options{View: Whole})
		checkViewReadsBack(t, name, worked(specs...), Options{View: Whole, Hand: Left})
	}
	n := 2000
	if testing.Short() {
		n = 200
	}
	if more, err := strconv.Atoi(os.Getenv("ROUNDELAY_PATTERNS")); err == nil {
		n = more
	}
	rng := rand.New(rand.NewPCG(5, 6))
	for k := range n {
		checkGenerated(t, rng, k)
	}
}

// checkGenerated generates a piece and reads it back in one view after the other.
func checkGenerated(t *testing.T, rng *rand.Rand, k int) {
	t.Helper()
	specs := generators[k%len(generators)](rng)
	rounds := worked(specs...)
	name := fmt.Sprintf("generated %d %q", k, specs)
	hand := Hand(rng.IntN(2))
	switch rng.IntN(6) {
	case 0, 1:
		checkViewReadsBack(t, name, rounds, Options{View: Whole, Hand: hand})
	case 2:
		checkViewReadsBack(t, name, rounds, Options{View: Halves, Hand: hand})
	case 3:
		if findOutline(rounds).corners > 0 {
			checkViewReadsBack(t, name, rounds, Options{View: Whole, Outline: Shape, Hand: hand})
			return
		}
		fallthrough
	case 4:
		if checkRepeatReadsBack(t, name, rounds, hand) > 0 {
			return
		}
		fallthrough
	case 5:
		checkStripReadsBack(t, name, rounds, hand)
	}
}

// TestEarlierReadsBack draws pieces with stitches worked into an earlier round
// than the one below, alone, side by side and into one, and reads them back.
func TestEarlierReadsBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for k := range 150 {
		n := 6 + rng.IntN(10)
		specs := []string{fmt.Sprintf("%d*%s", n, pick(rng, "sc", "dc", "hdc")), fmt.Sprintf("%d*sc", n)}
		for range 2 + rng.IntN(4) {
			var b strings.Builder
			made := 0
			for range n {
				w := pick(rng, "sc ", "sc ", "dc ", "hdc ", "sc^ ", "dc^ ", "fpdc^ ", "bpdc^ ", "tr^ ", "sc.2 ")
				made++
				if w == "sc.2 " {
					made++
				}
				b.WriteString(w)
			}
			n = made
			specs = append(specs, b.String())
		}
		rounds := worked(specs...)
		name := fmt.Sprintf("generated %d %q", k, specs)
		checkViewReadsBack(t, name, rounds, Options{View: Whole, Hand: Hand(rng.IntN(2))})
		checkDrawing(t, name, drawn(t, piece(pattern.Spiral, rounds), Options{View: Whole}), rounds)
	}
}

// FuzzReadsBack draws a generated piece for any seed and reads it back.
func FuzzReadsBack(f *testing.F) {
	f.Add(uint64(1), uint64(2))
	f.Fuzz(func(t *testing.T, a, b uint64) {
		specs := generators[a%uint64(len(generators))](rand.New(rand.NewPCG(a, b)))
		rounds := worked(specs...)
		checkReadsBack(t, fmt.Sprint(specs), rounds)
		checkStripReadsBack(t, fmt.Sprint(specs), rounds, Right)
		checkDrawing(t, fmt.Sprint(specs), drawn(t, piece(pattern.Spiral, rounds), Options{}), rounds)
	})
}
