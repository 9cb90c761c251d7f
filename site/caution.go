package site

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"roundelay/pattern"
)

// A caution is a sober line about what can go wrong, with the rule it comes
// from. It is no legal advice and never says that a thing is fit for anyone.
type caution struct {
	Say  string
	Rule string // "" for common practice
}

// smallBallMM is the diameter of the hole through which a small ball passes:
// 1.75 in, 16 CFR 1500.18(a)(17). The European template is of 44.5 mm.
const smallBallMM = 44.45

// A soft ball is squeezed and gauges differ from hand to hand, so that sizes up
// to this multiple of the limit are mentioned. The figure is our judgement.
const nearSmall = 1.25

// Words by which a pattern gives away that a caution applies.
var (
	loosePart = regexp.MustCompile(`(?i)\b(eyes?|beads?|buttons?|bells?|googly)\b`)
	longCord  = regexp.MustCompile(`(?i)\b(cords?|strings?|ribbons?|fringes?|hanging loops?|loop for hanging|garland|mobile)\b`)
	hotUse    = regexp.MustCompile(`(?i)\b(coasters?|trivets?|pot ?holders?|hot pads?|hot cups?)\b`)
	forPets   = regexp.MustCompile(`(?i)\b(cats?|dogs?|pets?)\b`)
)

// cautions returns the cautions for a pattern, the gravest first.
func cautions(p *pattern.Pattern, estimates map[*pattern.Size]*pattern.Estimate) []caution {
	var out []caution
	stuffed := false
	for _, size := range p.Sizes {
		for i, piece := range size.Pieces {
			stuffed = stuffed || piece.Stuffed
			if e := estimates[size]; e != nil {
				if c, ok := small(p, e, e.Pieces[i]); ok && !slices.Contains(out, c) {
					out = append(out, c)
				}
			}
		}
	}
	use := strings.Join([]string{p.Summary, p.For}, "\n")
	parts := strings.Join(append(slices.Concat(p.Materials, p.Notes, p.Finishing), stepWords(p)), "\n")
	if loosePart.MatchString(parts) {
		out = append(out, caution{"Small parts that come off can choke: embroider them instead for a child under 3.",
			"16 CFR 1501.4: parts that fit a cylinder of 31.7 mm; EN 71-1, 8.4: a pull of 90 N"})
	}
	if longCord.MatchString(parts) {
		out = append(out, caution{"Long cords can strangle: keep free ends under 220 mm and loops under 380 mm around, and away from cots.",
			"EN 71-1:2005+A8:2009, 5.4"})
	}
	if hotUse.MatchString(use) {
		out = append(out, caution{"Near heat use cotton or wool: acrylic and polyester melt.", ""})
	}
	if forPets.MatchString(p.For) {
		out = append(out, caution{"Watch your pet at play, and throw the toy away when threads come loose.", ""})
	}
	if stuffed {
		out = append(out,
			caution{"This is a pattern, not a tested product. If you sell or give away what you make as a toy, the toy law of your country decides what it must withstand; in the EU and the UK a soft toy for cuddling counts as one for under 3, whatever its label says.",
				"EN 71-1, scope; 16 CFR 1500.50 to 1500.53"},
			caution{"Check seams and filling before each use.", ""})
	}
	return out
}

func stepWords(p *pattern.Pattern) string {
	var b strings.Builder
	for _, size := range p.Sizes {
		for _, piece := range size.Pieces {
			for _, s := range piece.Steps {
				fmt.Fprintf(&b, "%s: %s\n", s.Do, s.Say)
			}
		}
	}
	return b.String()
}

// The cylinder of the test for small parts: 31.7 mm across, and so deep at the
// deepest. What fits into it whole is a small part. 16 CFR 1501.4, figure 1 (the
// depth from memory).
const smallPartMM, smallPartDeepMM = 31.7, 57.1

// small returns the caution for a piece that is small enough to be swallowed, or
// nearly so, by the size that it comes out as. What counts is the second longest
// of its three dimensions: turned the right way it passes a hole of that size.
func small(p *pattern.Pattern, e *pattern.Estimate, pe *pattern.PieceEstimate) (caution, bool) {
	dims := []float64{pe.AcrossMM.Value, pe.WideMM.Value, pe.HeightMM.Value}
	slices.Sort(dims)
	passesMM, longMM := dims[1], dims[2]
	what := "This"
	switch {
	case len(e.Pieces) > 1:
		what = pe.Piece.Name
	case len(p.Sizes) > 1:
		what = "Size " + e.Size.Name
	}
	about := fmt.Sprintf("%s comes out about %s", what, english.sizeWords(pe, false))
	if pe.Fabric.Basis != pattern.Stated {
		about += " by a gauge that is " + pe.Fabric.Basis.String()
	}
	const ballRule = "16 CFR 1500.18(a)(17): small ball, 44.45 mm (1.75 in); EN 71-1, template E: 44.5 mm"
	switch {
	case passesMM <= smallPartMM && longMM <= smallPartDeepMM:
		return caution{about + ": as small as the parts on which a young child can choke. Not for children under 3.",
			"16 CFR 1501.4: small parts fit a cylinder of 31.7 mm, up to 57.1 mm deep"}, true
	case !pe.Piece.Stuffed || passesMM > nearSmall*smallBallMM:
		return caution{}, false
	case passesMM <= smallBallMM:
		return caution{about + ": small enough to choke a young child. Not for children under 3.", ballRule}, true
	}
	return caution{about + ", not far above the size of a small ball, on which a young child can choke. A soft ball squeezes and hands differ: measure yours.", ballRule}, true
}
