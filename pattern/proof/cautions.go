package proof

import (
	"fmt"
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

// cordWide is how wide a long piece may be, in millimetres, and be a cord.
// Source: our own judgement.
const cordWide = 15

var (
	loosePart   = regexp.MustCompile(`(?i)\b(eyes?|buttons?|beads?|bells?|magnets?|wires?|pellets?|squeakers?)\b`)
	cordWord    = regexp.MustCompile(`(?i)\b(hanging loops?|loops? (to|for) hang\w*|cords?|strings?|garlands?|mobiles?|fringes?|dummy clips?|straps?)\b`)
	petWord     = regexp.MustCompile(`(?i)\b(cats?|kittens?|dogs?|pupp(y|ies)|pets?)\b`)
	kitchenWord = regexp.MustCompile(`(?i)\b(coasters?|trivets?|pot ?holders?|pan holders?|hot pads?|oven|microwave|tea ?pots?|tea table)\b`)
)

// Cautions returns the cautions that a page about the pattern should carry, the
// gravest first. Those about size go by what the pieces come out as.
func Cautions(p *pattern.Pattern) []Caution {
	ps := pass{Pattern: p}
	var out []Caution
	add := func(c Caution) {
		if !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	stuffed := firstPiece(&ps, func(piece *pattern.Piece) bool { return piece.Stuffed })
	var cords []Caution
	for _, s := range p.Sizes {
		e, err := p.Estimate(s)
		if err != nil {
			continue // it has no size to go by
		}
		for _, pe := range e.Pieces {
			what := "This"
			switch {
			case len(e.Pieces) > 1:
				what = pe.Piece.Name
			case len(p.Sizes) > 1:
				what = "Size " + s.Name
			}
			if c, ok := small(what, pe); ok {
				add(c)
			}
			if c, ok := cord(what, pe); ok {
				cords = append(cords, c)
			}
		}
	}
	if ps.says(loosePart, "materials", "notes", "finishing", "piece.step.say") {
		part := limit("small_parts_diameter")
		add(Caution{
			Text: "Parts that come loose can choke: embroider them for children under 3.",
			Rule: fmt.Sprintf("%s: what fits a cylinder of %g %s is a small part; %s: a pull of %g %s",
				part.Rule, part.Value, part.Unit, limit("part_tension_eu").Rule, limit("part_tension_eu").Value, limit("part_tension_eu").Unit),
			Basis: Secondary,
		})
	}
	for _, c := range cords {
		add(c)
	}
	if ps.says(cordWord, "title", "summary", "materials", "notes", "finishing", "piece.step.say") {
		free, noose := limit("cord_free_length_max"), limit("noose_perimeter_max")
		add(Caution{
			Text: fmt.Sprintf("Cords longer than %g mm and loops of more than %g mm around can strangle: shorten them or leave them off, and keep them away from cots.", free.Value, noose.Value),
			Rule: free.Rule + ", " + noose.Rule + "; a newer edition has changed the clause", Basis: free.Basis,
		})
	}
	if ps.says(kitchenWord, "title", "summary", "for") {
		add(Caution{Text: "For hot things use cotton or wool; acrylic and polyester melt.", Basis: Practice})
	}
	if ps.says(petWord, "title", "summary", "for") {
		add(Caution{Text: "Watch your pet at play, and throw it away when threads come loose.", Basis: Practice})
	}
	if stuffed != nil {
		add(Caution{
			Text: "This is a pattern, not a tested product. If you sell or give away what you make as a toy, the toy law of the place decides what it must withstand; in the EU and the UK a soft toy for cuddling counts as one for under 3, whatever its label says.",
			Rule: "EN 71-1, scope; 16 CFR 1500.50 to 1500.53", Basis: Secondary,
		})
		add(Caution{Text: "Look over seams and parts before each use.", Basis: Practice})
	}
	return out
}

// small returns the caution for a piece that is small enough to be swallowed, or
// nearly so, by the size that it comes out as. What counts is the second longest
// of its three dimensions: turned the right way it passes a hole of that size.
func small(what string, pe *pattern.PieceEstimate) (Caution, bool) {
	dims := []float64{pe.AcrossMM.Value, pe.WideMM.Value, pe.HeightMM.Value}
	slices.Sort(dims)
	passesMM, longMM := dims[1], dims[2]
	about := fmt.Sprintf("%s comes out about %.0f mm across and %.0f mm high", what, pe.AcrossMM.Value, pe.HeightMM.Value)
	if pe.Finish == pattern.LaidFlat {
		about = fmt.Sprintf("%s comes out about %.0f mm across", what, pe.AcrossMM.Value)
	}
	if pe.Fabric.Basis != pattern.Stated {
		about += " by a gauge that is " + pe.Fabric.Basis.String()
	}
	part, deep := limit("small_parts_diameter"), limit("small_parts_depth_max")
	ball, template := limit("small_ball_us"), limit("small_ball_eu")
	ballRule := fmt.Sprintf("%s: small ball, %g %s (%g in); %s: %g %s",
		ball.Rule, ball.Value, ball.Unit, limit("small_ball_us_in").Value, template.Rule, template.Value, template.Unit)
	switch {
	case passesMM <= part.Value && longMM <= deep.Value:
		return Caution{
			Text: about + ": as small as the parts on which a young child can choke. Not for children under 3.",
			Rule: fmt.Sprintf("%s: small parts fit a cylinder of %g %s, up to %g %s deep", part.Rule, part.Value, part.Unit, deep.Value, deep.Unit), Basis: part.Basis,
		}, true
	case pe.Finish != pattern.Filled || passesMM > ball.Value*softMargin:
		return Caution{}, false
	case passesMM <= ball.Value:
		return Caution{Text: about + ": small enough to choke a young child. Not for children under 3.", Rule: ballRule, Basis: ball.Basis}, true
	}
	return Caution{
		Text: about + ", not far above the size of a small ball, on which a young child can choke. A soft ball squeezes and hands differ: measure yours.",
		Rule: ballRule, Basis: ball.Basis,
	}, true
}

// cord returns the caution for a piece that is a cord, longer than a free end may
// be.
func cord(what string, pe *pattern.PieceEstimate) (Caution, bool) {
	free := limit("cord_free_length_max")
	if pe.WideMM.Value > cordWide || max(pe.HeightMM.Value, pe.AcrossMM.Value) <= free.Value {
		return Caution{}, false
	}
	return Caution{
		Text: fmt.Sprintf("%s comes out as a cord about %.0f mm long: one with a free end of more than %g mm can strangle. Keep it away from cots.", what, max(pe.HeightMM.Value, pe.AcrossMM.Value), free.Value),
		Rule: free.Rule + "; a newer edition has changed the clause", Basis: free.Basis,
	}, true
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
