package chart

// A scene is a chart laid out and inked: all that is to be seen, in the order
// in which it is read, with nothing in it of how it is written down.
type scene struct {
	low, high   point     // corners of the picture
	parts       []section // what may stand on pages of its own, from above; without the key
	title, desc string
	under       []line // behind the rings: the bands of the yarns
	rings       []sceneRing
	over        []line // after them: the start, the way round, the key
	marks       []mark
	words       []words
	least       float64    // width in which it is at least drawn
	entries     []keyEntry // of the key
	yarns       []yarnLook // what the bands mean; nil if there are none
}

// A sceneRing is one round.
type sceneRing struct {
	round, count int
	say          string // the round as a sentence
	ghost        bool   // a round drawn before, repeated pale
	ink          ink
	middle       point  // of the rings it is one of
	top          point  // where most of its stitches would stand if they were turned upright
	lines        []line // legs and joins, under the marks
	marks        []mark
	words        []words
}

// A mark is a symbol in its place.
type mark struct {
	glyph *glyph
	at    point   // its middle
	angle float64 // turned clockwise from upright, rad
	ink   ink     // 0: that of its ring
	flip  bool    // mirrored, before it is turned
}

// parts returns what is drawn of a mark, in its place: its strokes, its thin
// strokes and the areas in solid ink.
func (m *mark) parts() (strokes, thin, filled path) {
	place := func(p path) path {
		if m.flip {
			p = p.flipped()
		}
		return p.moved(m.at, m.angle)
	}
	return place(m.glyph.pen), place(m.glyph.thin), place(m.glyph.filled)
}

// A line is a path with the ink it is drawn in.
type line struct {
	path path
	ink  ink
	fill bool // fill it instead

	colour string // of a band, "#c9563c"; else the ink's
}

// joined returns lines with each joined to the one before if they look the same.
func joined(lines []line) []line {
	var out []line
	for _, ln := range lines {
		if n := len(out) - 1; n >= 0 && out[n].ink == ln.ink && out[n].fill == ln.fill && out[n].colour == ln.colour {
			out[n].path = append(out[n].path, ln.path...)
		} else {
			out = append(out, ln)
		}
	}
	return out
}

// Words are a line of upright text.
type words struct {
	at     point // on the base line
	anchor anchor
	size   float64
	ink    ink
	text   string
}

type anchor uint8

const (
	atStart anchor = iota
	atMiddle
	atEnd
)

var anchorNames = [...]string{"start", "middle", "end"}

// An ink is a way to draw: what it is for, and so its colours, the width of its
// lines and whether it fills.
type ink uint8

// The inks. The first is none of its own.
const (
	ringInk ink = iota
	oddInk      // symbols of rounds 1, 3, 5 ...
	evenInk     // and of rounds 2, 4, 6 ...
	incInk      // increases
	decInk      // decreases
	legInk      // lines from a stitch to what it is worked into, in the ink of the ring
	incLegInk
	decLegInk
	stepInk   // from the end of a spiral round to the next one, and across a join
	arrowInk  // the way round
	numberInk // words
	countInk
	textInk
	noteInk
	ruleInk
	bandInk  // the ground of a yarn, in its colour
	solidInk // edges of such a band
	dashInk
	dotInk
	limitInk // of a part that is repeated
	guideInk // after every so many stitches
	fineInk  // the thin strokes of a symbol in the key
	driftInk // where the rounds start in the fabric
	ghostInk // a ring repeated from another disc
	paperInk
	inks
)

// inkTable says what each ink looks like. On either ground the symbols stand
// out by at least 4.5 : 1, and odd from even rounds and increases from
// decreases are told apart by lightness as well, so that a print in grey keeps
// them apart; what they mean is always said by a shape too.
var inkTable = [inks]struct {
	class       string
	light, dark string  // colour by ground
	width       float64 // of lines, in widths of a single crochet; 0 for what is filled
	print       string  // colour on paper
	dash        []float64
}{
	oddInk:    {"o", "#2b211a", "#f4eadb", penWidth, "#000000", nil},
	evenInk:   {"e", "#7a6250", "#b9a58f", penWidth * 0.9, "#5c5c5c", nil},
	incInk:    {"i", "#b23c22", "#f2936f", penWidth * 1.15, "#8a2a14", nil},
	decInk:    {"d", "#17606f", "#86c9d3", penWidth * 1.15, "#0f4653", nil},
	legInk:    {"l", "", "", thinWidth, "", nil},
	incLegInk: {"l i", "", "", thinWidth, "", nil},
	decLegInk: {"l d", "", "", thinWidth, "", nil},
	stepInk:   {"s", "#99836c", "#8a7763", 0.06, "#777777", nil},
	arrowInk:  {"way", "#7a6250", "#b9a58f", 0.09, "#333333", nil},
	numberInk: {"n", "#2b211a", "#f4eadb", 0, "#000000", nil},
	countInk:  {"c", "#6b5646", "#c2b09b", 0, "#333333", nil},
	textInk:   {"", "#2b211a", "#f4eadb", 0, "#000000", nil},
	noteInk:   {"note", "#6b5646", "#c2b09b", 0, "#333333", nil},
	ruleInk:   {"rule", "#c9b79f", "#5a4d40", 0.05, "#999999", nil},
	bandInk:   {class: "band"},
	solidInk:  {"edge", "#6b5646", "#c2b09b", 0.06, "#333333", nil},
	dashInk:   {"edge dash", "", "", 0.06, "", []float64{0.5, 0.25}},
	dotInk:    {"edge dot", "", "", 0.06, "", []float64{0.01, 0.2}},
	limitInk:  {"limit", "#7a6250", "#b9a58f", 0.08, "#333333", []float64{0.3, 0.25}},
	guideInk:  {"guide", "#99836c", "#8a7763", 0.05, "#777777", nil},
	fineInk:   {"fine", "#2b211a", "#f4eadb", thinWidth, "#000000", nil},
	driftInk:  {"drift", "#7a6250", "#b9a58f", 0.09, "#333333", []float64{0.01, 0.22}},
	ghostInk:  {"ghost", "#9a8670", "#7d6d5c", penWidth * 0.8, "#909090", nil},
	paperInk:  {"paper", "#fbf6ec", "#1f1a16", 0, "#ffffff", nil},
}

// mirror turns a scene into that for the other hand: what is drawn changes
// sides, words stay upright.
func (sc *scene) mirror() {
	all := func(lines []line, marks []mark, texts []words) {
		for i := range lines {
			lines[i].path = lines[i].path.flipped()
		}
		for i := range marks {
			m := &marks[i]
			m.at.X, m.angle = -m.at.X, -m.angle
			m.flip = m.glyph.handed && !m.flip
		}
		for i := range texts {
			w := &texts[i]
			w.at.X, w.anchor = -w.at.X, atEnd-w.anchor
		}
	}
	all(sc.under, nil, nil)
	for i := range sc.rings {
		r := &sc.rings[i]
		r.middle.X, r.top.X = -r.middle.X, -r.top.X
		all(r.lines, r.marks, r.words)
	}
	all(sc.over, sc.marks, sc.words)
	sc.low.X, sc.high.X = -sc.high.X, -sc.low.X
	for i := range sc.parts {
		s := &sc.parts[i]
		s.low.X, s.high.X = -s.high.X, -s.low.X
	}
}
