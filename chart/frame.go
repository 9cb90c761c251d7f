package chart

import (
	"math"
	"slices"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/stitch"
)

// textSize returns the size of running text in a picture of some width, which
// is shown smaller the wider it is.
func textSize(width float64) float64 { return max(min(1, width/leastWidth), width/36) }

// leastWidth is the width in which rings and key are at least drawn.
const leastWidth = 30

// frame adds to the rings what a reader needs round them: the way round, the
// captions of halves.
func (sc *scene) frame(ls []*layout, opt *Options) {
	const margin = 0.9
	sc.low, sc.high = point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for i, l := range ls {
		reach := l.reach().plus(point{margin, margin})
		low, high := l.middle.minus(reach), l.middle.plus(reach)
		if len(ls) > 1 {
			size := textSize(max(leastWidth, 2*ls[0].reach().X)) * 0.9
			low.Y -= 1.5 * size
			sc.words = append(sc.words, words{point{l.middle.X, low.Y + size}, atMiddle, size, noteInk, caption(l, i == 0, opt)})
		}
		sc.parts = append(sc.parts, section{low, high})
		sc.low = point{min(sc.low.X, low.X), min(sc.low.Y, low.Y)}
		sc.high = point{max(sc.high.X, high.X), max(sc.high.Y, high.Y)}
		sc.wayRound(l)
	}
}

// caption names the rounds of one half.
func caption(l *layout, opening bool, opt *Options) string {
	number := func(r *ring) int { // of a folded ring, that of its last round
		if n, ok := l.last[r.round.Number]; ok {
			return n
		}
		return r.round.Number
	}
	first, last := l.rings[0].round.Number, number(l.rings[len(l.rings)-1])
	if opening {
		return opt.say("Rounds %d to %d, from the middle outwards", max(first, 1), last)
	}
	return opt.say("Rounds %d to %d, inwards from round %d", l.rings[1].round.Number, last, number(l.rings[0]))
}

// outermost returns the ring that goes round all others.
func (l *layout) outermost() *ring {
	if l.inward {
		return l.rings[0]
	}
	return l.rings[len(l.rings)-1]
}

// reach returns how far a layout reaches from its middle, to each side and up
// and down.
func (l *layout) reach() point {
	r := l.outermost()
	reach := point{r.out, r.out}
	for k := range r.track.corners {
		c := r.track.corner(k)
		reach = point{max(reach.X, math.Abs(c.X)+r.out), max(reach.Y, math.Abs(c.Y)+r.out)}
	}
	return reach
}

// wayRound draws an arrow outside the outermost ring, from its start the way it
// is worked.
func (sc *scene) wayRound(l *layout) {
	r := l.outermost()
	distance := r.out + 0.42
	from := r.track.turn(r.startGap*0.6, distance)
	to := from + r.track.turn(min(3.2, distance*0.7), distance)
	if r.backwards {
		from, to = -from, -to
	}
	p := l.arc(r, from, to, distance)
	tip, angle := r.track.at(to, distance)
	head := strokes([]float64{0.26, -0.18, 0, 0, 0.26, 0.18})
	if r.backwards {
		angle += math.Pi
	}
	sc.over = append(sc.over, line{path: append(p, head.moved(tip.plus(l.middle), angle)...), ink: arrowInk})
}

// A keyEntry is a symbol and what it means.
type keyEntry struct {
	marks []mark
	lines []line
	words []words
	text  string

	height float64 // of marks and lines together; 0 for that of the highest mark
}

// key writes what each symbol used means, under the rings.
func (sc *scene) key(ls []*layout, piece *pattern.Piece, opt Options) {
	sc.entries = sc.keyEntries(ls, piece, opt)
	width := max(sc.high.X-sc.low.X, sc.least)
	size := textSize(width)
	longest := 0.0
	for _, e := range sc.entries {
		longest = max(longest, textWidth(e.text))
	}
	need := 2*size + (longest+1)*size
	width = max(width, need+1.6*size)
	middle := (sc.low.X + sc.high.X) / 2
	sc.low.X, sc.high.X = middle-width/2, middle+width/2
	top := sc.high.Y + 0.4*size
	sc.over = append(sc.over, line{path: strokes([]float64{sc.low.X + 0.8*size, top, sc.high.X - 0.8*size, top}), ink: ruleInk})
	columns := max(1, min(4, int((width-1.6*size)/need)))
	sc.high.Y = top
	sc.writeKey(size, columns, opt)
}

// keyAlone returns a scene of the key of sc alone, so wide. Long entries go on in
// a second line.
func (sc *scene) keyAlone(width float64, opt Options) *scene {
	key := &scene{title: sc.title, desc: sc.desc, high: point{width, 0}}
	for _, e := range sc.entries {
		for rest := e.text; rest != ""; {
			e.text, rest = wrap(rest, width-1.6-2-1)
			key.entries = append(key.entries, e)
			e = keyEntry{}
		}
	}
	key.writeKey(1, 1, opt)
	for i, e := range key.entries {
		low, high := point{0, keyRow * (float64(i) + 0.2)}, point{width, keyRow * (float64(i) + 1.2)}
		if n := len(key.parts); n > 0 && len(e.marks)+len(e.lines)+len(e.words) == 0 { // goes on
			key.parts[n-1].high.Y = high.Y
		} else {
			key.parts = append(key.parts, section{low, high})
		}
	}
	return key
}

// keyRow is the height of a line of the key, against the size of its text.
const keyRow = 1.9

// wrap cuts a text before the word that goes over a width, at size 1.
func wrap(text string, width float64) (line, rest string) {
	fields := strings.Fields(text)
	n := 1
	for n < len(fields) && textWidth(strings.Join(fields[:n+1], " ")) <= width {
		n++
	}
	n = min(n, len(fields))
	return strings.Join(fields[:n], " "), strings.Join(fields[n:], " ")
}

// writeKey writes the entries of the key under all else, in columns.
func (sc *scene) writeKey(size float64, columns int, opt Options) {
	row, swatch := keyRow*size, 2.0*size
	rows := (len(sc.entries) + columns - 1) / columns
	top, left := sc.high.Y, sc.low.X+0.8*size
	width := sc.high.X - sc.low.X
	for i, e := range sc.entries {
		x := left + float64(i/rows)*(width-1.6*size)/float64(columns)
		y := top + (float64(i%rows)+1)*row
		at := point{x + swatch*0.42, y - 0.32*size}
		scale := min(size, 1.5*size/1.25)
		for _, m := range e.marks {
			scale = min(scale, 1.6*size/max(m.glyph.h, e.height, 1))
		}
		for _, ln := range e.drawn(opt.Hand) {
			ln.path = ln.path.scaled(scale).moved(at, 0)
			sc.over = append(sc.over, ln)
		}
		for _, w := range e.words {
			w.at, w.size = at.plus(w.at.times(scale)), w.size*max(scale, 1) // never smaller than on the rings
			sc.words = append(sc.words, w)
		}
		sc.words = append(sc.words, words{point{x + swatch, y}, atStart, size, textInk, e.text})
	}
	sc.high.Y = top + (float64(rows)+0.8)*row
}

// drawn returns what is drawn of an entry: its marks as they are, not by reference,
// as a use is a stitch worked.
func (e *keyEntry) drawn(hand Hand) []line {
	out := slices.Clone(e.lines)
	for _, m := range e.marks {
		m.flip = m.glyph.handed && hand == Left
		strokes, thin, filled := m.parts()
		for _, ln := range [...]line{{path: strokes, ink: m.ink}, {path: thin, ink: fine(m.ink)}, {path: filled, ink: m.ink, fill: true}} {
			if len(ln.path) > 0 {
				out = append(out, ln)
			}
		}
	}
	return out
}

// fine returns the ink of the thin strokes of a symbol.
func fine(i ink) ink {
	switch i {
	case incInk:
		return incLegInk
	case decInk:
		return decLegInk
	}
	return fineInk
}

func (sc *scene) keyEntries(ls []*layout, piece *pattern.Piece, opt Options) []keyEntry {
	var es []keyEntry
	add := func(text string, marks ...mark) { es = append(es, keyEntry{marks: marks, text: text}) }
	for _, m := range sc.marks {
		if m.glyph == ringMark {
			add(opt.say("magic ring"), mark{glyph: ringMark, ink: oddInk})
		}
	}
	for _, k := range keyOrder(used(piece.Rounds)) {
		ink := oddInk
		if k.IsDecrease() {
			ink = decInk
		}
		add(opt.wording().Term(k), mark{glyph: ls[0].glyph(k), ink: ink})
	}
	has := map[*glyph]bool{}
	for _, m := range sc.marks {
		if m.glyph == closeMark {
			es = append(es, keyEntry{marks: []mark{{glyph: closeMark, ink: oddInk}}, text: opt.say("close the hole")})
		}
	}
	for _, g := range sc.glyphs() {
		has[g] = true
	}
	if has[incMark] {
		g := increased(ls)
		foot := g.h/2 + 0.35
		e := keyEntry{text: opt.say("increase: one foot, two or more stitches"), marks: []mark{{glyph: incMark, at: point{0, foot}, ink: incInk}}}
		for _, side := range [...]float64{-1, 1} {
			m := mark{glyph: g, at: point{side * 0.45, -0.15}, ink: incInk, angle: side * 0.12}
			from := m.at.plus(g.feet[0].turned(m.angle))
			e.marks = append(e.marks, m)
			e.lines = append(e.lines, line{path: strokes([]float64{from.X, from.Y, 0, foot}), ink: incLegInk})
		}
		e.height = g.h + 0.8
		es = append(es, e)
	}
	if has[decMark] {
		add(opt.say("decrease: several feet, one stitch"), mark{glyph: decMark, ink: decInk})
	}
	if has[backMark] {
		add(opt.say("into the back loop only"), mark{glyph: backMark, ink: oddInk})
	}
	if has[frontMark] {
		add(opt.say("into the front loop only"), mark{glyph: frontMark, ink: oddInk})
	}
	if has[yarnMark] {
		add(opt.say("another yarn from here on"), mark{glyph: yarnMark, ink: oddInk})
	}
	if has[cutMark] {
		add(opt.say("cut the yarn"), mark{glyph: cutMark, ink: oddInk})
	}
	if has[joinMark] {
		add(opt.say("join the yarn"), mark{glyph: joinMark, ink: oddInk})
	}
	if has[markerMark] {
		add(opt.say("place a stitch marker"), mark{glyph: markerMark, ink: oddInk})
	}
	if has[skipMark] {
		add(opt.say("skip this stitch"), mark{glyph: skipMark, ink: oddInk})
	}
	for _, y := range sc.yarns {
		e := keyEntry{text: y.name, words: []words{{point{0, 0.2}, atMiddle, 0.56, numberInk, y.letter}}}
		e.lines = append(e.lines, line{path: closed(-0.75, -0.42, 0.75, -0.42, 0.75, 0.42, -0.75, 0.42), ink: bandInk, colour: y.colour})
		if y.edges != ringInk {
			e.lines = append(e.lines, line{path: strokes([]float64{-0.75, -0.42, 0.75, -0.42}, []float64{-0.75, 0.42, 0.75, 0.42}), ink: y.edges})
		}
		es = append(es, e)
	}
	if opt.Guide > 0 {
		es = append(es, keyEntry{lines: []line{{path: strokes([]float64{0, -0.4, 0, 0.4}), ink: guideInk}}, text: opt.say("after every %d stitches", opt.Guide)})
	}
	if opt.Drift && opt.View != Strip {
		es = append(es, keyEntry{lines: []line{{path: strokes([]float64{-0.7, 0, 0.7, 0}), ink: driftInk}}, text: opt.say("the starts in the fabric, about")})
	}
	if has[startMark] {
		e := keyEntry{
			marks: []mark{{glyph: startMark, at: point{-0.77, 0}, ink: oddInk}},
			words: []words{{point{-0.56, 0.2}, atStart, labelSize, numberInk, "3"}, {point{0.86, 0.2}, atEnd, countSize, countInk, "18"}},
			text:  opt.say("start of a round: its number, its stitches"),
		}
		if opt.Hand == Left { // as it stands on the rings
			e.marks[0].at.X = -e.marks[0].at.X
			for i := range e.words {
				w := &e.words[i]
				w.at.X, w.anchor = -w.at.X, atEnd-w.anchor
			}
		}
		es = append(es, e)
	}
	return es
}

// keyOrder sorts stitches from low to high, the plain ones first.
func keyOrder(ks []stitch.Stitch) []stitch.Stitch {
	var out []stitch.Stitch
	for s := range stitch.All() {
		for _, k := range ks {
			if k == s {
				out = append(out, k)
			}
		}
	}
	return out
}

// increased returns the symbol of the first stitch of the first increase.
func increased(ls []*layout) *glyph {
	for _, l := range ls {
		for _, r := range l.rings {
			for i, f := range r.family {
				if f >= 0 && i >= r.stack {
					return r.places[i].glyph
				}
			}
		}
	}
	return ls[0].glyph(stitch.SC)
}

// textWidth returns how wide a text is at most, in the fonts asked for, against
// its size.
func textWidth(s string) float64 {
	const wide = 0.56
	return wide * float64(len([]rune(s)))
}
