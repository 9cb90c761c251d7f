package pattern

import (
	"fmt"
	"math"
	"strings"

	"roundelay/pattern/notation"
	"roundelay/pattern/shape"
	"roundelay/pattern/stitch"
)

// A Plan is the rounds of a piece worked out for a solid.
type Plan struct {
	Solid  Solid
	Fabric Fabric
	Work   *shape.Plan
	Rounds []*notation.Round
	Steps  []Step // stuff and close, or fasten off

	options           shape.Options
	ramp, alternating *shape.Plan // of a ball, by the recipes of common practice
}

// NewPlan works out rounds for a solid, in the stitch of the gauge. Increases
// and decreases are spread evenly and kept clear of those of the rounds before.
// Joined rounds have a starting chain that does not count as a stitch.
//
// What is wrong with the solid itself is told as a [SolidError].
func NewPlan(s Solid, f Fabric, style Style) (*Plan, error) {
	s, target, err := s.complete()
	if err != nil {
		return nil, err
	}
	p := &Plan{Solid: s, Fabric: f, options: shape.Options{Stitch: f.Stitch(f.Gauge.Stitch), Multiple: s.Multiple, Widest: s.Widest, Rounds: s.Rounds}}
	if s.First > 0 {
		p.options.First = []int{s.First}
	}
	if s.Filled {
		p.options.Stretch = s.Firmness.Stretch()
	}
	if p.Work, err = shape.NewPlan(target, p.options); err != nil {
		return nil, err
	}
	p.commonBalls()
	p.finer(target)
	w := &worker{kind: f.Gauge.Stitch, joined: style == Joined}
	p.Rounds = w.work(p.Work.Start, p.Work.Counts)
	p.steps()
	return p, nil
}

// commonBalls sets what the recipes of common practice make of a ball; they
// know no wish but the first count and the multiple.
func (p *Plan) commonBalls() {
	if p.Solid.Form != "ball" {
		return
	}
	o := p.options
	o.Widest, o.Rounds = 0, 0
	if ramp, alternating, err := shape.CommonBalls(p.Solid.AcrossMM, o); err == nil {
		p.ramp, p.alternating = ramp, alternating
	}
}

// CommonBalls returns what the two recipes of common practice make of a ball at
// the same gauge; nil of other solids, for which there are none.
func (p *Plan) CommonBalls() (ramp, alternating *shape.Plan) { return p.ramp, p.alternating }

// finer looks for counts in smaller multiples where a ball of large stitches
// would be no rounder than by the recipes of common practice.
func (p *Plan) finer(target shape.Profile) {
	if p.ramp == nil || p.Solid.Multiple > 0 {
		return
	}
	common := min(p.ramp.Fit.RMS, p.alternating.Fit.RMS)
	for _, m := range []int{3, 2, 1} {
		if p.Work.Fit.RMS < common {
			return
		}
		o := p.options
		o.Multiple = m
		if work, err := shape.NewPlan(target, o); err == nil && work.Fit.RMS < p.Work.Fit.RMS {
			p.Work = work
		}
	}
}

// steps sets what is to be done between the rounds and after them.
func (p *Plan) steps() {
	last := len(p.Work.Counts)
	if p.Solid.Filled {
		openings := make([]float64, last)
		for i, r := range p.Work.Schedule.Rounds {
			openings[i] = r.AroundMM / math.Pi
		}
		i := lastToFill(openings)
		how := map[Firmness]string{Normal: "Stuff", Soft: "Stuff softly", Firm: "Stuff firmly"}[p.Solid.Firmness]
		say := fmt.Sprintf("%s now, while the opening is %.0f mm across", how, openings[i])
		if i < last-1 {
			say += "; top up before it closes"
		}
		p.Steps = append(p.Steps, Step{After: i + 1, Do: "stuff", Say: say + "."})
	}
	if p.Work.Schedule.Closed {
		p.Steps = append(p.Steps, Step{After: last, Do: "close", Say: fmt.Sprintf("Cut the yarn, gather the last %d stitches and close.", p.Work.Counts[last-1])})
	} else {
		p.Steps = append(p.Steps, Step{After: last, Do: "fasten off", Say: "Fasten off."})
	}
}

// Written returns the rounds as they stand in a pattern file, one a line.
func (p *Plan) Written(terms stitch.Terms) string {
	w := notation.Wording{Terms: terms}
	for _, s := range p.Steps {
		w.Breaks = append(w.Breaks, s.After)
	}
	var b strings.Builder
	for _, line := range notation.Print(p.Rounds, nil, w) {
		fmt.Fprintln(&b, line)
	}
	return b.String()
}

// A worker works planned counts.
type worker struct {
	kind   stitch.Stitch
	joined bool
	placer shape.Placer
	rounds []*notation.Round
	places []int32 // of the round below: the indices of the stitches that count
}

// work returns rounds of the given counts. They begin in a ring drawn shut, or
// from a ring of so many chains.
func (w *worker) work(start int, counts []int) []*notation.Round {
	if start > 0 {
		r := &notation.Round{Made: start, Below: -1, Start: &notation.Start{Kind: notation.ChainRing, Chains: start}}
		for range start {
			r.Stitches = append(r.Stitches, notation.Stitch{Kind: stitch.Ch, Into: notation.Into{Round: -1, Last: -1}})
		}
		w.add(r)
		for i := range r.Stitches {
			w.places = append(w.places, int32(i))
		}
	}
	for i, n := range counts {
		r := &notation.Round{Number: i + 1, Made: n, Used: len(w.places), Below: len(w.rounds) - 1, Joined: w.joined}
		chains, _ := w.kind.StartingChains()
		for range chains {
			if w.joined {
				r.Stitches = append(r.Stitches, notation.Stitch{Kind: stitch.Ch, Role: notation.StartingChain, Into: notation.Into{Round: -1, Last: -1}})
			}
		}
		switch {
		case len(w.rounds) == 0:
			r.Start = &notation.Start{Kind: notation.MagicRing}
			for range n {
				r.Stitches = append(r.Stitches, notation.Stitch{Kind: w.kind, Counts: true, Into: notation.Into{Where: notation.IntoRing, Round: -1, Last: -1}})
			}
		case i == 0:
			r.Start = w.rounds[0].Start
			w.shape(r, n, notation.IntoChain)
		default:
			w.shape(r, n, notation.IntoStitch)
		}
		if w.joined {
			r.Stitches = append(r.Stitches, notation.Stitch{Kind: stitch.SlSt, Role: notation.Joining, Into: notation.Into{Round: -1, Last: -1}})
		}
		w.add(r)
	}
	return w.rounds
}

// add adds a round and takes note of its places.
func (w *worker) add(r *notation.Round) {
	w.rounds = append(w.rounds, r)
	w.places = w.places[:0]
	for i := range r.Stitches {
		if r.Stitches[i].Counts {
			w.places = append(w.places, int32(i))
		}
	}
}

// shape adds n stitches to a round that is worked into the places below.
func (w *worker) shape(r *notation.Round, n int, where notation.Place) {
	below := len(w.places)
	change := n - below
	var at []int // stitches of the lesser of the two rounds that have two of the other
	switch {
	case change > 0:
		at = w.placer.Increase(below, change)
	case change < 0:
		at = w.placer.Decrease(below, -change)
	}
	two := make(map[int]bool, len(at))
	for _, i := range at {
		two[i] = true
	}
	into := func(first, last int) notation.Into {
		return notation.Into{Where: where, Round: int32(len(w.rounds) - 1), First: w.places[first], Last: w.places[last]}
	}
	base := 0
	for i := range min(n, below) {
		switch {
		case two[i] && change > 0:
			s := notation.Stitch{Kind: w.kind, Counts: true, Into: into(base, base)}
			r.Stitches = append(r.Stitches, s, s)
			base++
		case two[i]:
			dec := stitch.Stitch{Base: w.kind.Base, Form: stitch.Together, N: 2}
			r.Stitches = append(r.Stitches, notation.Stitch{Kind: dec, Counts: true, Into: into(base, base+1)})
			base += 2
		default:
			r.Stitches = append(r.Stitches, notation.Stitch{Kind: w.kind, Counts: true, Into: into(base, base)})
			base++
		}
	}
}

// TOML returns the plan as a piece of a pattern file, with the reasons as
// comments above it.
func (p *Plan) TOML(name string, style Style, terms stitch.Terms) string {
	var b strings.Builder
	for _, line := range p.Reasons(terms) {
		fmt.Fprintf(&b, "%s\n", strings.TrimRight("# "+line, " "))
	}
	fmt.Fprintf(&b, "[[piece]]\nname = %s\n", quoted(name))
	if style == Joined {
		b.WriteString("style = \"joined\"\nchain = \"does not count\"\n")
	} else {
		b.WriteString("style = \"spiral\"\n")
	}
	switch {
	case !p.Solid.Filled && p.Work.Schedule.Closed:
		b.WriteString("stuffed = false\n")
	case p.Solid.Filled:
		b.WriteString("stuffed = true\n")
		if p.Solid.Firmness != Normal {
			fmt.Fprintf(&b, "firmness = %q\n", p.Solid.Firmness)
		}
	}
	if p.Work.Schedule.Closed {
		b.WriteString("closed = true\n")
	}
	fmt.Fprintf(&b, "rounds = '''\n%s'''\n", p.Written(terms))
	for _, s := range p.Steps {
		fmt.Fprintf(&b, "\n[[piece.step]]\nafter = %d\ndo = %q\nsay = %s\n", s.After, s.Do, quoted(s.Say))
	}
	return b.String()
}
