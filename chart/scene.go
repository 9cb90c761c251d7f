package chart

// A scene is a chart laid out and inked: all that is to be seen, in the order
// in which it is read, with nothing in it of how it is written down.
type scene struct {
	low, high   Point // corners of the picture
	title, desc string
	under       []line // behind the rings: the bands of the yarns
	rings       []sceneRing
	over        []line // after them: the start, the way round, the key
	marks       []mark
	words       []words
}

// A sceneRing is one round.
type sceneRing struct {
	round, count int
	say          string // the round as a sentence
	ghost        bool   // a round drawn before, repeated pale
	ink          ink
	lines        []line // legs and joins, under the marks
	marks        []mark
	words        []words
}

// A mark is a symbol in its place.
type mark struct {
	glyph *glyph
	at    Point   // its middle
	angle float64 // turned clockwise from upright, rad
	ink   ink     // 0: that of its ring
}

// A line is a path with the ink it is drawn in.
type line struct {
	path Path
	ink  ink
	fill bool // fill it instead
}

// Words are a line of upright text.
type words struct {
	at     Point // on the base line
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
}{
	oddInk:    {"odd", "#2b211a", "#f4eadb", penWidth, "#000000"},
	evenInk:   {"even", "#7a6250", "#b9a58f", penWidth * 0.9, "#5c5c5c"},
	incInk:    {"inc", "#b23c22", "#f2936f", penWidth * 1.15, "#8a2a14"},
	decInk:    {"dec", "#17606f", "#86c9d3", penWidth * 1.15, "#0f4653"},
	legInk:    {"leg", "", "", thinWidth, ""},
	incLegInk: {"leg inc", "", "", thinWidth, ""},
	decLegInk: {"leg dec", "", "", thinWidth, ""},
	stepInk:   {"step", "#a08a74", "#8a7763", 0.06, "#777777"},
	arrowInk:  {"way", "#7a6250", "#b9a58f", 0.09, "#333333"},
	numberInk: {"number", "#2b211a", "#f4eadb", 0, "#000000"},
	countInk:  {"count", "#6b5646", "#c2b09b", 0, "#333333"},
	textInk:   {"text", "#2b211a", "#f4eadb", 0, "#000000"},
	noteInk:   {"note", "#6b5646", "#c2b09b", 0, "#333333"},
	ruleInk:   {"rule", "#c9b79f", "#5a4d40", 0.05, "#999999"},
	ghostInk:  {"ghost", "#b5a38e", "#6f6050", penWidth * 0.8, "#aaaaaa"},
	paperInk:  {"paper", "#fbf6ec", "#1f1a16", 0, "#ffffff"},
}
