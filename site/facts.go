package site

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/notation"
)

// facts returns the strip at the head of a page: what decides whether a reader
// can and wants to begin. A fact that the maker does not state is left out.
func (l language) facts(p *pattern.Pattern, words notation.Wording) []fact {
	var out []fact
	add := func(name string, values ...string) {
		values = slices.DeleteFunc(values, func(v string) bool { return v == "" })
		if len(values) > 0 {
			out = append(out, fact{l.say(name), values})
		}
	}
	add("Finished size", l.finishedSizes(p)...)
	add("Hook", perSize(p, func(s *pattern.Size) string { return l.hook(s.Hook) })...)
	add("Yarn", l.yarnFacts(p)...)
	if words.Language == "" {
		add("Stitch names", names(words.Terms))
	}
	add("Worked", capital(l.worked(p)))
	add("Level", l.say(capital(p.Level)))
	add("Made for", capital(p.For))
	add("Version", strings.Join(slices.DeleteFunc([]string{p.Version, l.day(p.Date)}, func(s string) bool { return s == "" }), ", "))
	return out
}

// perSize returns what f says of each size, with its name, or once if all sizes
// say the same.
func perSize(p *pattern.Pattern, f func(*pattern.Size) string) []string {
	same := true
	for _, s := range p.Sizes {
		same = same && f(s) == f(p.Sizes[0])
	}
	if same {
		return []string{f(p.Sizes[0])}
	}
	var out []string
	for _, s := range p.Sizes {
		if say := f(s); say != "" {
			out = append(out, capital(s.Name)+": "+say)
		}
	}
	return out
}

func (l language) finishedSizes(p *pattern.Pattern) []string {
	return perSize(p, func(s *pattern.Size) string { return cmp.Or(s.FinishedSize, p.FinishedSize) })
}

// yarnFacts says for each yarn its class, colour and amount.
func (l language) yarnFacts(p *pattern.Pattern) []string {
	var out []string
	for i, y := range p.Yarns {
		parts := []string{cmp.Or(y.Colour, y.Key)}
		if y.Weight >= 0 {
			parts = append(parts, l.say("class %d", y.Weight))
		}
		amounts := perSize(p, func(s *pattern.Size) string {
			if g := s.Yarns[i].Grams; g > 0 {
				return l.number(g) + nbsp + "g"
			}
			return ""
		})
		if len(amounts) == 1 && amounts[0] != "" {
			parts = append(parts, amounts[0])
		}
		out = append(out, capital(strings.Join(parts, ", ")))
	}
	return out
}

// materialsOf returns what is needed; nil if the pattern says nothing of it.
func (l language) materialsOf(p *pattern.Pattern) *materials {
	var out materials
	for i, y := range p.Yarns {
		row := yarnRow{Hex: y.Hex, Name: y.Key}
		if y.Colour != "" {
			row.Name += ", " + y.Colour
		}
		var what []string
		for _, s := range []string{l.yarnClass(y.Weight), y.Fibre} {
			if s != "" {
				what = append(what, s)
			}
		}
		row.What = strings.Join(what, ", ")
		if y.MetresPer100g > 0 {
			what = append(what, l.say("%s per %s", l.number(y.MetresPer100g)+nbsp+"m", "100"+nbsp+"g"))
			row.What = strings.Join(what, ", ")
		}
		row.Amount = strings.Join(perSize(p, func(s *pattern.Size) string { return l.yarnAmount(s.Yarns[i]) }), "; ")
		out.Yarns = append(out.Yarns, row)
	}
	for _, h := range perSize(p, func(s *pattern.Size) string { return l.hook(s.Hook) }) {
		if h != "" {
			out.Others = append(out.Others, l.say("Hook")+", "+h)
		}
	}
	out.Others = append(out.Others, p.Materials...)
	if len(out.Yarns)+len(out.Others) == 0 {
		return nil
	}
	return &out
}

// gaugeOf returns the gauge in words; nil if none is stated.
func (l language) gaugeOf(p *pattern.Pattern, words notation.Wording) *gaugeWords {
	say := perSize(p, func(s *pattern.Size) string {
		g := s.Gauge
		if g == nil {
			return ""
		}
		stated := l.statedGauge(*g, words)
		if h := l.hook(s.Hook); h != "" {
			stated = l.say("%s with the %s hook", stated, h)
		}
		return stated + "."
	})
	out := &gaugeWords{Say: strings.Join(say, " ")}
	if out.Say == "" {
		return nil
	}
	if first := p.Sizes[0]; len(first.Pieces) > 0 && len(say) == 1 {
		out.Check = l.discWords(first.Pieces[0], first.Gauge)
	}
	return out
}

// statedGauge says what is stated of a gauge.
func (l language) statedGauge(g pattern.Gauge, words notation.Wording) string {
	stitches, rounds := l.number(g.Stitches)+" "+words.Abbr(g.Stitch), l.say("%s rounds", l.number(g.Rounds))
	switch {
	case g.Rounds == 0:
		return l.say("%s to %s", stitches, l.over(g.OverMM))
	case g.Stitches == 0:
		return l.say("%s to %s", rounds, l.over(g.OverMM))
	}
	return l.say("%s and %s to %s", stitches, rounds, l.over(g.OverMM))
}

// The disc that a piece begins with serves as a swatch from its fourth round
// on; its sixth is enough.
const minDisc, maxDisc = 4, 6

// discWords tells how wide the disc is that a piece begins with. It returns ""
// if the piece does not begin flat: with rounds that grow by the same number
// each, in the stitch of the gauge, so that the way round them and the way
// across them agree.
func (l language) discWords(piece *pattern.Piece, g *pattern.Gauge) string {
	n := 0
	for i, r := range piece.Rounds {
		if i == maxDisc || r.Made != (i+1)*piece.Rounds[0].Made {
			break
		}
		for _, s := range r.Stitches {
			if s.Counts && s.Kind != g.Stitch {
				return ""
			}
		}
		n = i + 1
	}
	if n < minDisc {
		return ""
	}
	roundMM := float64(piece.Rounds[n-1].Made) * g.WidthMM() / math.Pi
	acrossMM := 2 * float64(n) * g.HeightMM()
	if math.Abs(roundMM-acrossMM) > 0.15*acrossMM {
		return ""
	}
	return l.say("Check as you go: after round %d the disc measures about %s across.", n, l.length((roundMM+acrossMM)/2))
}

// sizes returns the table of sizes; nil for a pattern in one size.
func (w *work) sizes() []sizeRows {
	if len(w.p.Sizes) < 2 {
		return nil
	}
	var out []sizeRows
	for _, s := range w.p.Sizes {
		rows := sizeRows{Name: capital(s.Name)}
		if s.FinishedSize != "" {
			rows.Name += ": " + s.FinishedSize
		}
		for _, piece := range s.Pieces {
			rows.Pieces = append(rows.Pieces, sizeRow{w.pieceID(s, piece), piece.Name, len(piece.Rounds), piece.Widest(), piece.Stitches()})
		}
		out = append(out, rows)
	}
	return out
}
