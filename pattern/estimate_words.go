package pattern

import (
	"fmt"
	"math"

	"roundelay/pattern/shape"
)

// Concerns returns what of the shape a maker may not expect, in words, each with
// the figure behind it: rounds that ripple or pucker, and a piece meant to lie
// flat that does not.
func (e *PieceEstimate) Concerns() []string {
	var out []string
	matters := func(r RoundEstimate) shape.Ruffle {
		q := r.Ruffle(e.Fabric)
		if e.Finish == Filled && q == shape.MayRipple {
			return shape.Smooth // the filling evens it out
		}
		return q
	}
	for i := 0; i < len(e.Rounds); {
		r := e.Rounds[i]
		q, worst := matters(r), r.Slope
		j := i + 1
		for ; j < len(e.Rounds) && matters(e.Rounds[j]) == q && (e.Rounds[j].Slope > 0) == (r.Slope > 0); j++ {
			if e.Rounds[j].Slope.Excess() > worst.Excess() {
				worst = e.Rounds[j].Slope
			}
		}
		if q != shape.Smooth {
			out = append(out, ruffleWords(RoundWords(r.Round.Number, e.Rounds[j-1].Round.Number), q, worst))
		}
		i = j
	}
	if spread := e.Schedule.Spread(); e.Finish == LaidFlat && spread.Cups() {
		out = append(out, fmt.Sprintf("it cups by %.0f° unless it is pinned or pressed: its rounds grow by %.0f %% of what lies flat",
			spread.AngleRad()*180/math.Pi, 100*float64(spread)))
	}
	return out
}

// ruffleWords says how some rounds ripple, with the worst slope among them.
func ruffleWords(rounds string, q shape.Ruffle, worst shape.Slope) string {
	if worst < 0 {
		does := "may pucker"
		if q == shape.WillRuffle {
			does = "will pucker"
		}
		return fmt.Sprintf("%s %s: decreases draw in %.2f times as fast as lies flat", rounds, does, worst.Excess())
	}
	return fmt.Sprintf("%s %s: the edge is %.2f times as long as lies flat", rounds, q, worst.Excess())
}

// RoundWords returns "round 3" or "rounds 3 to 6".
func RoundWords(first, last int) string {
	if first == last {
		return fmt.Sprintf("round %d", first)
	}
	return fmt.Sprintf("rounds %d to %d", first, last)
}
