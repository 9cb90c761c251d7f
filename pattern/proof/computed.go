package proof

import (
	"fmt"
	"math"
	"slices"

	"roundelay/pattern"
	"roundelay/pattern/prose"
	"roundelay/pattern/shape"
	"roundelay/pattern/source"
)

// computedPoints hold what is stated against what the rounds and the gauge come
// to.
var computedPoints = []*Point{
	{
		Code: "size-computed", Severity: source.Warning, Run: sizeComputed,
		Doc: `the finished size is about what the rounds and the gauge come to

A size that is more than a tenth off is that of another gauge, of an earlier
version, or was measured elsewhere: across, around and over the curve are three
lengths.`,
	},
	{
		Code: "yarn-computed", Severity: source.Warning, Run: yarnComputed,
		Doc: `the yarn that is stated is about what the stitches take

Too little, and a reader runs out before the end; far too much, and she buys a
ball more than she needs.`,
	},
}

// maxEstimated is how many rounds of a pattern are reckoned, all sizes together;
// it keeps the time that this takes small.
const maxEstimated = 10000

// estimate returns what a size comes out as; nil if that can't be told, or not
// well: without a gauge that is stated, with errors in the rounds, or after
// maxEstimated rounds.
func (p *pass) estimate(s *pattern.Size) *pattern.Estimate {
	e, known := p.estimates[s]
	if known {
		return e
	}
	if p.estimates == nil {
		p.estimates = map[*pattern.Size]*pattern.Estimate{}
	}
	broken := slices.ContainsFunc(p.out.Findings, func(f source.Finding) bool { return f.Severity == source.Error })
	for _, piece := range s.Pieces {
		p.estimated += len(piece.Rounds)
	}
	if s.Gauge != nil && !broken && p.estimated <= maxEstimated {
		e, _ = p.Pattern.Estimate(s)
	}
	p.estimates[s] = e
	return e
}

// A measure is one length of a piece.
type measure struct {
	piece string
	what  string // as [prose.Claim.What] has it
	mm    shape.Amount
}

// measures returns the lengths of the pieces of an estimate. Pieces are put
// together in ways that only the words know; the height of all of them on top of
// each other is one of the lengths.
func measures(e *pattern.Estimate) []measure {
	var out []measure
	var all shape.Amount
	for _, pe := range e.Pieces {
		add := func(mm shape.Amount, whats ...string) {
			for _, what := range whats {
				out = append(out, measure{fmt.Sprintf("the piece %q", pe.Piece.Name), what, mm})
			}
		}
		add(pe.AcrossMM, "across", "long")
		if pe.MiddleMM > 0 {
			add(pe.WideMM, "across")
		}
		add(pe.AroundMM, "around")
		if pe.Finish != pattern.LaidFlat {
			add(pe.HeightMM, "tall", "long")
			all = all.Plus(pe.HeightMM)
		}
		curve := pe.Profile.LengthMM()
		add(shape.Amount{Value: curve, Low: curve, High: curve}, "long")
		if pe.Worn { // laid down and measured from the top to the rim, it is anything from its height to that
			add(shape.Amount{Value: (pe.HeightMM.Value + curve) / 2, Low: pe.HeightMM.Low, High: curve * 1.1}, "tall")
		}
	}
	if len(e.Pieces) > 1 && all.Value > 0 {
		out = append(out, measure{"all pieces together", "tall", all}, measure{"all pieces together", "long", all})
	}
	return out
}

// fits reports whether a stated length is near a computed one, or within the
// range of a gauge that is estimated in part.
func (m measure) fits(mm float64) bool {
	return near(m.mm.Value, mm) || mm >= m.mm.Low && mm <= m.mm.High
}

func sizeComputed(p *pass) {
	for _, s := range p.Sizes {
		if s.FinishedSize == "" {
			continue
		}
		e := p.estimate(s)
		if e == nil {
			continue
		}
		t := p.locate("finished_size", s.FinishedSize)
		computed := measures(e)
		for _, c := range prose.Claims(t.words) {
			if c.Kind != prose.Measure {
				continue
			}
			var nearest *measure
			for i, m := range computed {
				if c.What != "" && m.what != c.What {
					continue
				}
				if nearest == nil || math.Abs(m.mm.Value-c.MM) < math.Abs(nearest.mm.Value-c.MM) {
					nearest = &computed[i]
				}
			}
			if nearest == nil || nearest.fits(c.MM) || between(computed, c) {
				continue
			}
			p.report(source.Finding{
				File: t.file, At: t.span(c.At),
				Message: fmt.Sprintf("it is %s here; by the rounds and the gauge %s comes out about %.0f mm %s (%.0f to %.0f)",
					statedWords(c), nearest.piece, nearest.mm.Value, nearest.what, nearest.mm.Low, nearest.mm.High),
				Hint: "measure again, and correct the size, the gauge or the rounds; say whether it is across, around or over the curve",
			})
		}
	}
}

// between reports whether a stated height is one that pieces put together may
// have: more than that of one of them, and no more than of all.
func between(computed []measure, c prose.Claim) bool {
	if c.What != "tall" && c.What != "long" {
		return false
	}
	least, most := math.Inf(1), 0.0
	pieces := map[string]bool{}
	for _, m := range computed {
		if m.what == c.What {
			least, most = min(least, m.mm.Value), max(most, m.mm.Value)
			pieces[m.piece] = true
		}
	}
	return len(pieces) > 1 && c.MM >= 0.9*least && c.MM <= 1.1*most
}

// statedWords says the length of a claim as it was given.
func statedWords(c prose.Claim) string {
	words := lengthWords(c.MM)
	if c.What != "" {
		words += " " + c.What
	}
	return words
}

// spareG and spareM are how far off a small amount of yarn may be: nobody weighs
// or measures it closer. A maker may list more than she used, up to half as much
// again. Source: our own proposal.
const (
	spareG, spareM = 2, 3
	listedMore     = 1.5
)

func yarnComputed(p *pass) {
	for _, s := range p.Sizes {
		if !slices.ContainsFunc(s.Yarns, func(y pattern.Yarn) bool { return y.Grams > 0 || y.Metres > 0 }) {
			continue
		}
		e := p.estimate(s)
		if e == nil {
			continue
		}
		for _, y := range e.Yarns {
			for _, v := range []struct {
				stated   float64
				computed shape.Amount
				spare    float64
				unit     string
			}{{y.Yarn.Grams, y.Grams, spareG, "g"}, {y.Yarn.Metres, y.Metres, spareM, "m"}} {
				if v.stated == 0 || v.computed.Value == 0 || v.stated >= v.computed.Low-v.spare && v.stated <= listedMore*v.computed.High+v.spare {
					continue
				}
				p.report(source.Finding{
					At: p.yarnAt(y.Yarn.Key),
					Message: fmt.Sprintf("%g %s of yarn %s are stated; by the stitches and the gauge it takes about %.1f %s (%.1f to %.1f)",
						v.stated, v.unit, y.Yarn.Key, v.computed.Value, v.unit, v.computed.Low, v.computed.High),
					Hint: "weigh what was used; if that is right, a [swatch] or weighed_before and weighed_after make the estimate go by your hand",
				})
			}
		}
	}
}
