package proof

import (
	"fmt"
	"math"
	"regexp"
	"slices"

	"roundelay/pattern"
)

// A Caution is a line that a page about the pattern should carry. It warns; it
// does not judge what is made from the pattern, which the law of the place where
// it is given or sold does.
type Caution struct {
	Text  string
	Rule  string // where the figure or the duty is written; "" for common practice
	Basis Basis
}

// A Basis says how a rule is known.
type Basis uint8

// The bases.
const (
	Practice  Basis = iota // common practice
	Memory                 // the figure was not looked up
	Secondary              // read on the page of a laboratory or seller
	Primary                // the text of the rule was read
)

var bases = [...]string{"common practice", "from memory", "secondary source", "text of the rule"}

func (b Basis) String() string { return bases[b] }

// A Limit is a figure of a rule about toys. Figures change: the edition in force
// where a thing is sold decides. None of this is legal advice.
type Limit struct {
	Key   string
	Value float64
	Unit  string
	Rule  string
	Basis Basis
}

// Limits are the figures that cautions and later checks go by. Source: the rules
// and pages named in each row; Basis says which of them were read.
var Limits = []Limit{
	{"small_ball_us", 44.45, "mm", "16 CFR 1500.18(a)(17), 1117.2", Primary},
	{"small_ball_us_in", 1.75, "in", "16 CFR 1500.18(a)(17), 1117.2", Primary},
	{"small_ball_eu", 44.5, "mm", "EN 71-1 template E", Primary},
	{"small_parts_diameter", 31.7, "mm", "16 CFR 1501.4 fig. 1", Secondary},
	{"small_parts_diameter_in", 1.25, "in", "16 CFR 1501.4 fig. 1", Secondary},
	{"small_parts_depth_min", 25.4, "mm", "16 CFR 1501.4 fig. 1", Memory},
	{"small_parts_depth_max", 57.1, "mm", "16 CFR 1501.4 fig. 1", Memory},
	{"cord_thickness_min", 1.5, "mm", "EN 71-1:2005+A8 5.4a", Primary},
	{"cord_free_length_max", 220, "mm", "EN 71-1:2005+A8 5.4b", Primary},
	{"noose_perimeter_max", 380, "mm", "EN 71-1:2005+A8 5.4c", Primary},
	{"cot_cord_max", 750, "mm", "EN 71-1:2005+A8 5.4e", Primary},
	{"cord_pull", 25, "N", "EN 71-1:2005+A8 5.4", Primary},
	{"us_cord_length_max_under_18_months", 300, "mm", "ASTM F963", Memory},
	{"us_noose_perimeter_max", 360, "mm", "ASTM F963", Memory},
	{"seam_us_up_to_18_months", 44.5, "N", "16 CFR 1500.51(f)", Primary},
	{"seam_us_18_to_96_months", 66.7, "N", "16 CFR 1500.52/53", Memory},
	{"part_tension_eu", 90, "N", "EN 71-1 8.4", Secondary},
	{"part_tension_eu_small", 50, "N", "EN 71-1 8.4, dimension up to 6 mm", Memory},
	{"seam_eu", 70, "N", "EN 71-1 8.4", Secondary},
	{"probe_diameter", 12, "mm", "EN 71-1", Secondary},
	{"probe_depth_max", 6, "mm", "EN 71-1", Secondary},
	{"flame_spread_max", 30, "mm/s", "EN 71-2", Memory},
}

// limit returns the row of a key.
func limit(key string) Limit {
	for _, l := range Limits {
		if l.Key == key {
			return l
		}
	}
	panic("proof: there is no limit " + key)
}

// softMargin is by how much more than a limit a soft ball should be across: it
// can be squeezed, and gauges differ. Source: a guess.
const softMargin = 1.25

var (
	loosePart   = regexp.MustCompile(`(?i)\b(eyes?|buttons?|beads?|bells?|magnets?|wires?|pellets?|squeakers?)\b`)
	cordWord    = regexp.MustCompile(`(?i)\b(hanging loops?|loops? (to|for) hang\w*|cords?|strings?|garlands?|mobiles?|fringes?|dummy clips?|straps?)\b`)
	petWord     = regexp.MustCompile(`(?i)\b(cats?|kittens?|dogs?|pupp(y|ies)|pets?)\b`)
	kitchenWord = regexp.MustCompile(`(?i)\b(coasters?|trivets?|pot ?holders?|pan holders?|hot pads?|oven|microwave|tea ?pots?|tea table)\b`)
)

// Cautions returns the cautions that a page about the pattern should carry, in
// a fixed order.
func Cautions(p *pattern.Pattern) []Caution {
	ps := pass{Pattern: p}
	var out []Caution
	stuffed := firstPiece(&ps, func(piece *pattern.Piece) bool { return piece.Stuffed })
	if stuffed != nil {
		out = append(out, Caution{
			Text: "This is a pattern, not a tested product. If you sell or give away what you make as a toy, check the toy-safety law where you live.",
			Rule: "Toy law differs from place to place; 16 CFR 1500 and EN 71 are two of its texts", Basis: Secondary,
		})
		l := limit("small_ball_us")
		text, across := "", smallestBallMM(p)
		switch {
		case across == 0:
		case across <= l.Value:
			text = fmt.Sprintf("About %.0f mm across: small enough to choke a young child. Not for children under 3.", across)
		case across <= l.Value*softMargin:
			text = fmt.Sprintf("About %.0f mm across, and soft: squeezed, it may be small enough to choke a young child. Not for children under 3.", across)
		}
		if text != "" {
			out = append(out, Caution{Text: text, Rule: fmt.Sprintf("%s: balls of up to %g %s", l.Rule, l.Value, l.Unit), Basis: l.Basis})
		}
	}
	if ps.says(loosePart, "materials", "finishing", "piece.step.say") {
		out = append(out, Caution{
			Text: "Parts that come loose can choke: embroider them for children under 3.",
			Rule: "16 CFR 1501.4 (small parts), EN 71-1 8.4 (pull)", Basis: Secondary,
		})
	}
	if ps.says(cordWord, "title", "summary", "materials", "notes", "finishing", "piece.step.say") {
		free, noose := limit("cord_free_length_max"), limit("noose_perimeter_max")
		out = append(out, Caution{
			Text: fmt.Sprintf("Cords longer than %g mm and loops of more than %g mm around can strangle: shorten them or leave them off, and keep them away from cots.", free.Value, noose.Value),
			Rule: free.Rule + ", " + noose.Rule + "; a newer edition has changed the clause", Basis: free.Basis,
		})
	}
	if ps.says(petWord, "title", "summary", "for") {
		out = append(out, Caution{Text: "Watch your pet at play, and throw it away when threads come loose.", Basis: Practice})
	}
	if ps.says(kitchenWord, "title", "summary", "for") {
		out = append(out, Caution{Text: "For hot things use cotton or wool; acrylic melts.", Basis: Practice})
	}
	if stuffed != nil {
		out = append(out, Caution{Text: "Look over seams and parts before each use.", Basis: Practice})
	}
	return out
}

// says reports whether a text under one of the keys matches, other than one
// about embroidery.
func (p *pass) says(words *regexp.Regexp, keys ...string) bool {
	for _, t := range p.texts() {
		if slices.Contains(keys, t.key) && words.MatchString(t.words) && !embroideryWord.MatchString(t.words) {
			return true
		}
	}
	return false
}

// ballish is how often its own width the way over the curve of a ball may be,
// from its first round to its last. Of a ball it is pi / 2; what is longer is no
// ball.
const ballish = 2

// smallestBallMM returns how wide, in millimetres, the smallest stuffed ball is
// at its widest round, unstretched: the stitches of the round times the width of
// one, as a circumference. It returns 0 if there is none, or no gauge.
func smallestBallMM(p *pattern.Pattern) float64 {
	least := 0.0
	for _, s := range p.Sizes {
		if s.Gauge == nil {
			continue
		}
		for _, piece := range s.Pieces {
			across := float64(piece.Widest()) * s.Gauge.WidthMM() / math.Pi
			over := float64(pieceRounds(piece)) * s.Gauge.HeightMM()
			if piece.Stuffed && across > 0 && over <= ballish*across && (least == 0 || across < least) {
				least = across
			}
		}
	}
	return least
}
