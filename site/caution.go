package site

import (
	"fmt"
	"math"
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
func cautions(p *pattern.Pattern) []caution {
	var out []caution
	stuffed := false
	for _, size := range p.Sizes {
		for _, piece := range size.Pieces {
			stuffed = stuffed || piece.Stuffed
			if c, ok := smallBall(p, size, piece); ok && !slices.Contains(out, c) {
				out = append(out, c)
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

// smallBall returns the caution for a stuffed piece that is small enough to be
// swallowed, or nearly so. Its width is that of its widest round as a circle.
func smallBall(p *pattern.Pattern, size *pattern.Size, piece *pattern.Piece) (caution, bool) {
	if !piece.Stuffed || size.Gauge == nil {
		return caution{}, false
	}
	acrossMM := float64(piece.Widest()) * size.Gauge.WidthMM() / math.Pi
	if acrossMM == 0 || acrossMM > nearSmall*smallBallMM {
		return caution{}, false
	}
	what := "This"
	switch {
	case len(size.Pieces) > 1:
		what = piece.Name
	case len(p.Sizes) > 1:
		what = "Size " + size.Name
	}
	rule := "16 CFR 1500.18(a)(17): small ball, 44.45 mm (1.75 in); EN 71-1, template E: 44.5 mm"
	if acrossMM <= smallBallMM {
		return caution{fmt.Sprintf("%s comes out about %.0f mm across: small enough to choke a young child. Not for children under 3.", what, acrossMM), rule}, true
	}
	return caution{fmt.Sprintf("%s comes out about %.0f mm across by its gauge, not far above the size of a small ball, on which a young child can choke. A soft ball squeezes and hands differ: measure yours.", what, acrossMM), rule}, true
}
