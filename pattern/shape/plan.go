package shape

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Options say how a piece is to be planned. Only Stitch must be set.
type Options struct {
	Stitch Size

	// Stretch is that of the filled piece, as in [Stuffing]; 0 plans a piece
	// that is not filled and judges its rest shape.
	Stretch float64
	Ratio   float64 // as in [Stuffing]

	// Multiple is what every count is a multiple of; 0 chooses, see [NewPlan].
	Multiple int

	// First and Last are the allowed counts of the first round and of the last
	// round before a gathered end; empty chooses, see [NewPlan].
	First, Last []int

	Widest int // count of the widest round; 0 for what fits
	Rounds int // number of rounds; 0 for what fits
}

// A Plan is a piece worked out for a target.
type Plan struct {
	Start    int // stitches of the edge before the first round; 0 for a ring drawn shut
	Counts   []int
	Ideal    []float64 // the counts, not whole, that were aimed at; nil for a recipe
	Schedule Schedule
	Shape    Profile // finished: filled, or at rest
	Fit      Fit
	Tried    int // different counts that were compared
}

// NewPlan returns counts that bring a piece close to the target, which is its
// finished outline. A point of the target on the axis at its start is a ring
// drawn shut, at its end a gathered end; an end away from the axis is left
// open. Counts are at most doubled or halved from one round to the next. A
// target that is its own mirror image gets counts that are the same backwards.
//
// The target is made smaller by the stretch and divided into rounds of one
// height each. Around the number of rounds that fits, and for factors on the
// counts from 0.96 to 1.04, dynamic programming finds the counts with the least
// Σ (N - N*)², N* being the length around the target over the stitch width.
// Each different result is solved as a whole, and the plan is the one with the
// least (RMS %)² + ¼ (size error %)², see [Fit]. (Derived.)
//
// A piece that is not filled must also lie on its target with little strain: to
// the cost of its rest shape come (hoop strain %)² + (link strain %)² + (size
// error %)² at the size at which it lies best, and ¼ (excess %)², the excess
// being that above RippleExcess. Its flat parts grow by the multiple nearest to
// [FlatRate] where that lies flat enough not to be spoken of, see [Slope].
// (Judgement.)
//
// Counts are multiples of 6; of 3 under 60 mm across, where taller stitches lie
// flatter so, and where a piece that is not filled would be off by more than
// 2 % RMS; or of what First, Last and Widest have in common with that. The first
// count is the multiple nearest to the flat rate, which is 6 at the usual
// gauges; at multiples of 1 from one less to two more, 5 to 8. A pointed end may
// also have 3 or 4.
func NewPlan(target Profile, o Options) (*Plan, error) {
	pl, err := newPlanner(target, o)
	if err != nil {
		return nil, err
	}
	plan, err := pl.search()
	if err == nil && o.Multiple == 0 && pl.Multiple == 6 && pl.Stretch == 0 && plan.Fit.RMS > coarseRMS {
		o.Multiple = 3
		if finer, err := NewPlan(target, o); err == nil && finer.Fit.RMS < plan.Fit.RMS {
			return finer, nil
		}
	}
	return plan, err
}

// coarseRMS is the deviation above which multiples of 6 are too coarse for a
// piece that is not filled, whose steps no pressure evens out (judgement).
const coarseRMS = 0.02

// A planner plans one target.
type planner struct {
	Options
	judge     judge
	mirror    bool // the counts are to be the same backwards
	fromPoint bool // the target starts on the axis
	closed    bool // it ends there
	acrossMM  float64
	path      path
	heights   float64 // length of the target in stitch heights
	near      Stuffed // the last one solved
}

// MaxPlanCount is the most stitches of a round that are planned.
const MaxPlanCount = 5000

func newPlanner(target Profile, o Options) (*planner, error) {
	if err := checkTarget(target); err != nil {
		return nil, err
	}
	for _, mm := range []float64{o.Stitch.WidthMM, o.Stitch.HeightMM} {
		if !inBounds(mm) {
			return nil, fmt.Errorf("a stitch is %g x %g mm: width and height must be %g to %g mm", o.Stitch.WidthMM, o.Stitch.HeightMM, MinLengthMM, MaxLengthMM)
		}
	}
	if !(o.Stretch >= 0 && o.Stretch <= MaxStretch) {
		return nil, fmt.Errorf("stretch is %g: it must be 0 (not filled) to %g", o.Stretch, MaxStretch)
	}
	if o.Multiple < 0 || o.Multiple > MaxPlanCount || o.Widest < 0 || o.Rounds < 0 {
		return nil, fmt.Errorf("multiple is %d, widest round %d, number of rounds %d: none may be below 0, nor the multiple above %d", o.Multiple, o.Widest, o.Rounds, MaxPlanCount)
	}
	pl := &planner{
		Options:   o,
		judge:     newJudge(target),
		mirror:    len(o.Last) == 0 && target.mirrored(),
		fromPoint: target[0].R == 0,
		closed:    target[len(target)-1].R == 0,
		acrossMM:  target.AcrossMM(),
	}
	if err := pl.chooseMultiple(); err != nil {
		return nil, err
	}
	empty := target.Scaled(1 / (1 + o.Stretch))
	pl.path = newPath(empty, pl.outwardsMM(), o.Stitch.HeightMM)
	pl.heights = empty.LengthMM() / o.Stitch.HeightMM
	if rounds := max(pl.heights, pl.path.rounds, float64(o.Rounds)); rounds > MaxRounds {
		return nil, fmt.Errorf("the piece takes about %.0f rounds: at most %d can be planned", rounds, MaxRounds)
	}
	widest := pl.acrossMM * math.Pi / o.Stitch.WidthMM
	for _, n := range pl.fixed() {
		widest = max(widest, float64(n))
	}
	if widest > MaxPlanCount {
		return nil, fmt.Errorf("the widest round takes about %.0f stitches: at most %d can be planned", widest, MaxPlanCount)
	}
	return pl, nil
}

// checkTarget returns an error that says why p is not a target.
func checkTarget(p Profile) error {
	if len(p) < 2 {
		return fmt.Errorf("the target has %d points: it needs at least 2", len(p))
	}
	for i, q := range p {
		if !(q.R >= 0 && q.R <= MaxLengthMM) || !(math.Abs(q.Z) <= MaxLengthMM) {
			return fmt.Errorf("point %d of the target is %g mm from the axis at %g mm: it must be 0 to %g mm from it and at most that far along it", i+1, q.R, q.Z, MaxLengthMM)
		}
		if q.R == 0 && i > 0 && i < len(p)-1 {
			return fmt.Errorf("point %d of the target is on the axis: only the first and the last may be", i+1)
		}
	}
	if p.AreaMM2() == 0 {
		return errors.New("the target has no surface")
	}
	return nil
}

// fixed returns the counts that were given.
func (pl *planner) fixed() []int {
	fixed := slices.Concat(pl.First, pl.Last)
	if pl.Widest > 0 {
		fixed = append(fixed, pl.Widest)
	}
	return fixed
}

// chooseMultiple sets Multiple where it is not given and checks the given
// counts against it.
func (pl *planner) chooseMultiple() error {
	if pl.Multiple == 0 {
		pl.Multiple = 6
		if pl.acrossMM < 60 || math.Abs(float64(pl.flat(3)-1)) < math.Abs(float64(pl.flat(6)-1)) {
			pl.Multiple = 3
		}
		for _, n := range pl.fixed() {
			pl.Multiple = gcd(pl.Multiple, n)
		}
	}
	for _, n := range pl.fixed() {
		if n < 1 || n%pl.Multiple != 0 {
			return fmt.Errorf("a round of %d stitches was asked for, and counts in multiples of %d: make it a multiple or leave the multiple free", n, pl.Multiple)
		}
	}
	return nil
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// flatCount returns the multiple of m nearest to the flat rate, at least m.
func (pl *planner) flatCount(m int) int {
	return max(m, m*int(math.Round(FlatRate(pl.Stitch)/float64(m))))
}

// flat returns the slope of rounds that add flatCount(m) stitches each.
func (pl *planner) flat(m int) Slope { return RateSlope(float64(pl.flatCount(m)), pl.Stitch) }

// outwardsMM returns how far outwards a round goes on in a flat part.
func (pl *planner) outwardsMM() float64 {
	q := pl.flat(pl.Multiple)
	silent := q.Ruffle() == Smooth && !q.Cups()
	if pl.Stretch == 0 && silent && (q >= 1 || pl.Multiple > 1) {
		return float64(q) * pl.Stitch.HeightMM
	}
	return pl.Stitch.HeightMM
}

// starts returns the allowed counts of a round next to a point, whose ideal
// count is n: those given, if any.
func (pl *planner) starts(given []int, n float64) []int {
	if len(given) > 0 {
		return given
	}
	flat := pl.flatCount(pl.Multiple)
	low, high := flat, flat
	if pl.Multiple == 1 {
		low, high = max(1, flat-1), flat+2
	}
	if n < 0.8*FlatRate(pl.Stitch) { // pointed
		low = min(low, 3)
	}
	var out []int
	for c := pl.Multiple; c <= high; c += pl.Multiple {
		if c >= low {
			out = append(out, c)
		}
	}
	return out
}

// A path is a target measured in rounds.
type path struct {
	p      Profile
	along  []float64 // rounds from the start to each point
	rounds float64   // to the end
}

// newPath measures p in rounds that go on by so much outwards and upwards, and
// by the radius of that ellipse in between.
func newPath(p Profile, outwardsMM, upwardsMM float64) path {
	out := path{p: p, along: make([]float64, len(p))}
	for i := 1; i < len(p); i++ {
		out.along[i] = out.along[i-1] + math.Hypot((p[i].R-p[i-1].R)/outwardsMM, (p[i].Z-p[i-1].Z)/upwardsMM)
	}
	out.rounds = out.along[len(p)-1]
	return out
}

// radii returns the radius at i/m of the way, for i = 0 to m.
func (p path) radii(m int) []float64 {
	out := make([]float64, m+1)
	k := 1
	for i := range out {
		at := p.rounds * float64(i) / float64(m)
		for k < len(p.along)-1 && p.along[k] < at {
			k++
		}
		a, b, t := p.p[k-1].R, p.p[k].R, 0.0
		if d := p.along[k] - p.along[k-1]; d > 0 {
			t = max(0, min(1, (at-p.along[k-1])/d))
		}
		out[i] = a + t*(b-a)
	}
	return out
}

// search compares the counts that come near and returns the best plan.
func (pl *planner) search() (*Plan, error) {
	ends, least := 0, 1
	if pl.closed {
		ends = 1
		if pl.fromPoint {
			least = 3
		}
	}
	from := int(math.Round(min(pl.path.rounds, pl.heights))) - ends - 1
	to := int(math.Round(max(pl.path.rounds, pl.heights))) - ends + 1
	if pl.Rounds > 0 {
		from, to = pl.Rounds, pl.Rounds
	}
	if to < least {
		return nil, fmt.Errorf("the piece takes %d rounds or fewer: it needs at least %d; make it larger or the stitches smaller", to, least)
	}
	var best *Plan
	var failed error
	bestCost := math.Inf(1)
	seen := map[string]bool{}
	for n := max(from, least); n <= to; n++ {
		radii := pl.path.radii(n + ends)
		plain := pl.ideal(n, radii, 1)
		for percent := 96; percent <= 104; percent++ {
			ideal := pl.ideal(n, radii, float64(percent)/100)
			counts := pl.counts(ideal)
			key := fmt.Sprint(counts)
			if counts == nil || seen[key] {
				continue
			}
			seen[key] = true
			plan, err := pl.work(counts)
			if err != nil {
				failed = err
				continue
			}
			plan.Ideal = ideal[len(ideal)-len(plan.Counts):]
			cost := pl.judge.cost(plan.Fit)
			if pl.Stretch == 0 {
				cost += strain(counts, plain, pl.heights/float64(n+ends)-1) + excess(plan.Schedule)
			}
			if cost < bestCost {
				best, bestCost = plan, cost
			}
		}
	}
	if best != nil {
		best.Tried = len(seen)
		return best, pl.settle(best)
	}
	if failed != nil {
		return nil, failed
	}
	return nil, fmt.Errorf("no counts in multiples of %d fit: from one round to the next they may at most double or halve; allow other first, last or widest counts, a smaller multiple or more rounds", pl.Multiple)
}

// ideal returns the counts, times f, of the edges of n rounds that are not
// points: the start, if it is open, and the rounds. radii are those of all
// edges.
func (pl *planner) ideal(n int, radii []float64, f float64) []float64 {
	per := f * 2 * math.Pi / pl.Stitch.WidthMM
	if pl.Widest > 0 {
		per = f * float64(pl.Widest) / slices.Max(radii)
	}
	first := 0
	if pl.fromPoint {
		first = 1
	}
	var out []float64
	for _, r := range radii[first : n+1] {
		out = append(out, per*r)
	}
	return out
}

// counts returns the allowed whole counts nearest to the ideal ones, nil if
// there are none.
func (pl *planner) counts(ideal []float64) []int {
	c := choice{ideal: ideal, multiple: pl.Multiple, peak: -1}
	if pl.mirror {
		c.ideal = ideal[:(len(ideal)+1)/2]
	}
	if pl.fromPoint {
		c.first = pl.starts(pl.First, ideal[0])
	}
	if pl.closed && !pl.mirror {
		c.last = pl.starts(pl.Last, ideal[len(ideal)-1])
	}
	if pl.Widest > 0 {
		c.peak = slices.Index(c.ideal, slices.Max(c.ideal))
		c.widest = pl.Widest
	}
	counts := c.best()
	if counts != nil && pl.mirror {
		for i := len(ideal)/2 - 1; i >= 0; i-- {
			counts = append(counts, counts[i])
		}
	}
	return counts
}

// work returns counts as a solved plan.
func (pl *planner) work(counts []int) (*Plan, error) {
	plan := &Plan{}
	if !pl.fromPoint {
		plan.Start, counts = counts[0], counts[1:]
	}
	plan.Counts = counts
	plan.Schedule = Uniform(counts, pl.Stitch, pl.closed)
	plan.Schedule.StartMM = float64(plan.Start) * pl.Stitch.WidthMM
	if pl.Stretch == 0 {
		plan.Shape = plan.Schedule.Rest()
	} else {
		filled, err := stuffNear(plan.Schedule, Stuffing{Stretch: pl.Stretch, Ratio: pl.Ratio}, pl.near)
		if err != nil {
			return nil, err
		}
		plan.Shape, pl.near = filled.Profile, *filled
	}
	plan.Fit = pl.judge.fit(plan.Shape)
	return plan, nil
}

// settle solves a plan by itself, so that what came before it in the search leaves
// no trace in its last digits.
func (pl *planner) settle(plan *Plan) error {
	if pl.Stretch == 0 {
		return nil
	}
	filled, err := Stuff(plan.Schedule, Stuffing{Stretch: pl.Stretch, Ratio: pl.Ratio})
	if err != nil {
		return err
	}
	plan.Shape = filled.Profile
	plan.Fit = pl.judge.fit(plan.Shape)
	return nil
}
