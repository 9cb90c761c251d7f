package shape

import "math"

// RampCounts returns the counts of the ball of common practice: up by first in
// each round to levels times that, as many plain rounds, and down again the
// same way. Six levels of 6 are 6 12 18 24 30 36, 36 in 6 more rounds, 30 24 18
// 12 6.
func RampCounts(first, levels int) []int {
	var up, top []int
	for k := 1; k <= levels; k++ {
		up = append(up, k*first)
		top = append(top, levels*first)
	}
	return mirror(append(up, top...), levels)
}

// AlternatingCounts returns the counts of the ball whose increase rounds take
// turns with plain rounds, and the same backwards. Three levels of 6 are 6 12
// 12 18 18 12 12 6.
func AlternatingCounts(first, levels int) []int {
	up := []int{first}
	for k := 2; k <= levels; k++ {
		up = append(up, k*first, k*first)
	}
	return mirror(up, len(up)-1)
}

// mirror returns counts up and then those of the first n rounds below its top
// backwards; the top is the last count, however often it stands there.
func mirror(up []int, n int) []int {
	below := up[:n]
	for len(below) > 0 && below[len(below)-1] == up[len(up)-1] {
		below = below[:len(below)-1]
	}
	for i := len(below) - 1; i >= 0; i-- {
		up = append(up, below[i])
	}
	return up
}

// CommonBalls returns what the two recipes of common practice make of a ball,
// [RampCounts] and [AlternatingCounts], to compare a plan with. Each has the
// number of levels that brings it nearest to the wanted size.
func CommonBalls(acrossMM float64, o Options) (ramp, alternating *Plan, err error) {
	pl, err := newPlanner(Ball(acrossMM), o)
	if err != nil {
		return nil, nil, err
	}
	first := pl.flatCount(pl.Multiple)
	if len(o.First) > 0 {
		first = o.First[0]
	}
	if ramp, err = pl.recipe(first, RampCounts); err != nil {
		return nil, nil, err
	}
	alternating, err = pl.recipe(first, AlternatingCounts)
	return ramp, alternating, err
}

// recipe returns the plan with the levels that come nearest in size.
func (pl *planner) recipe(first int, counts func(first, levels int) []int) (*Plan, error) {
	around := math.Pi * pl.acrossMM / (1 + pl.Stretch) / pl.Stitch.WidthMM
	middle := int(math.Round(around / float64(first)))
	var best *Plan
	for levels := max(2, middle-1); levels <= max(2, middle+1); levels++ {
		plan, err := pl.work(counts(first, levels))
		if err != nil {
			return nil, err
		}
		if best == nil || math.Abs(plan.Fit.Size) < math.Abs(best.Fit.Size) {
			best = plan
		}
	}
	best.Tried = 1
	return best, pl.settle(best)
}
