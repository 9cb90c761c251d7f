package pattern

import (
	"fmt"

	"roundelay/pattern/shape"
	"roundelay/pattern/stitch"
)

// Describe returns what the solid is, such as "a ball 75 mm across".
func (s Solid) Describe() string {
	text := s.Form
	switch text[0] {
	case 'e':
		text = "an " + text
	case 'p': // points
		text = "an outline of " + fmt.Sprint(len(s.Points)) + " points"
	default:
		text = "a " + text
	}
	if s.AcrossMM > 0 {
		text += fmt.Sprintf(" %s mm across", number(s.AcrossMM))
	}
	if s.HeightMM > 0 {
		text += fmt.Sprintf(", %s mm high", number(s.HeightMM))
	}
	if s.BaseMM > 0 {
		text += fmt.Sprintf(", %s mm across the base", number(s.BaseMM))
	}
	if s.Start != "" {
		text += ", start " + s.Start
	}
	if s.End != "" {
		text += ", end " + s.End
	}
	if s.Filled {
		return text + ", " + s.Firmness.String() + " filling"
	}
	return text + ", not filled"
}

// Reasons returns why the plan is what it is, line by line: what it was asked
// for, what it comes to, what common practice would have given, and the count
// of each round beside that which would fit exactly.
func (p *Plan) Reasons(terms stitch.Terms) []string {
	work := p.Work
	last := len(work.Counts)
	size := p.options.Stitch
	widest := 0
	for _, n := range work.Counts {
		widest = max(widest, n)
	}
	lines := []string{
		upper(p.Solid.Describe()) + ".",
		fmt.Sprintf("Gauge: %s; a stitch is %.2f mm wide and %.2f mm high.", p.Fabric.Words(terms), size.WidthMM, size.HeightMM),
		fmt.Sprintf("It comes to %.0f mm across and %.0f mm high, by a model of the fabric; nothing was measured.", work.Shape.AcrossMM(), work.Shape.HeightMM()),
		"Off the outline: " + fitWords(work.Fit) + ".",
	}
	if ramp, alternating := p.CommonBalls(); ramp != nil {
		lines = append(lines,
			fmt.Sprintf("Common practice, %d more in each round up to %d, as many rounds plain, and down again: %s.", ramp.Counts[0], ramp.Counts[len(ramp.Counts)/2], commonWords(ramp)),
			fmt.Sprintf("The same with a plain round after each increase or decrease, up to %d: %s.", alternating.Counts[len(alternating.Counts)/2], commonWords(alternating)))
	}
	half, st := work.Schedule.Halfway()
	lines = append(lines,
		fmt.Sprintf("%d rounds, %d stitches, %d in the widest round; half of all are made with stitch %d of round %d.", last, work.Schedule.Stitches(), widest, st, half),
		fmt.Sprintf("Flat fabric grows by %.1f a round at this gauge. A marker left in the first stitch of every tenth round saves counting.", shape.FlatRate(size)),
		"Counts, and in brackets what would fit the outline exactly:")
	before := work.Start
	for i := 0; i < last; {
		j, low, high := i, work.Ideal[i], work.Ideal[i]
		if work.Counts[i] == before {
			for j+1 < last && work.Counts[j+1] == before {
				j++
				low, high = min(low, work.Ideal[j]), max(high, work.Ideal[j])
			}
		}
		fits := fmt.Sprintf("%.1f", low)
		if j > i && high-low >= 0.05 {
			fits = fmt.Sprintf("%.1f to %.1f", low, high)
		}
		lines = append(lines, fmt.Sprintf("  %s: %d (%s)", RoundWords(i+1, j+1), work.Counts[i], fits))
		before, i = work.Counts[i], j+1
	}
	return lines
}

// commonWords says what a recipe comes to.
func commonWords(p *shape.Plan) string {
	return fmt.Sprintf("%.0f mm across and %.0f mm high, %s", p.Shape.AcrossMM(), p.Shape.HeightMM(), fitWords(p.Fit))
}

func fitWords(f shape.Fit) string {
	return fmt.Sprintf("%.1f %% (rms), %.1f %% at most, size %+.1f %%", 100*f.RMS, 100*f.Max, 100*f.Size)
}

// upper returns a sentence that begins with a small letter with a capital.
func upper(s string) string { return string(s[0]-'a'+'A') + s[1:] }
