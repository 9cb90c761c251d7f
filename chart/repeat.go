package chart

import (
	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// A part is the stitches of a round that are drawn: those from the index from
// up to, but not including, to.
type part struct{ from, to int }

// repeats returns into how many equal parts all rounds fall, worked one after
// the other round the piece, and the first part of each; 1 if there is no such
// number.
func repeats(rounds []*notation.Round) (times int, parts []part) {
	bodies := make([]part, len(rounds))
	common := 0
	for i, r := range rounds {
		bodies[i] = body(r)
		common = gcd(common, bodies[i].to-bodies[i].from)
	}
	if isFoundation(rounds[0]) { // along two sides, not round a middle
		common = 1
	}
	for times = common; times > 1; times-- {
		if common%times == 0 && fallsInto(rounds, bodies, times) {
			break
		}
	}
	times = max(times, 1)
	// The second parts, where a counted starting chain stands for the first
	// stitch of a round.
	skip := 0
	for i, r := range rounds {
		if b := bodies[i]; times > 1 && b.to > b.from && r.Stitches[b.from].Role == notation.StartingChain {
			skip = 1
		}
	}
	for i := range bodies {
		step := (bodies[i].to - bodies[i].from) / times
		bodies[i].from += skip * step
		bodies[i].to = bodies[i].from + step
	}
	return times, bodies
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// body returns the stitches of a round without a starting chain that is not
// counted, of a counted one all but its last chain, and without the join.
func body(r *notation.Round) part {
	p := part{0, len(r.Stitches)}
	for p.from < p.to && r.Stitches[p.from].Role == notation.StartingChain && !r.Stitches[p.from].Counts {
		p.from++
	}
	for p.to > p.from && r.Stitches[p.to-1].Role == notation.Joining {
		p.to--
	}
	return p
}

// fallsInto reports whether each round is so many equal parts.
func fallsInto(rounds []*notation.Round, bodies []part, times int) bool {
	for i, r := range rounds {
		b := bodies[i]
		step := (b.to - b.from) / times
		for j := b.from; j+step < b.to; j++ {
			s, t := &r.Stitches[j], &r.Stitches[j+step]
			if s.Role == notation.StartingChain {
				continue // it stands for what the others are
			}
			if s.Kind != t.Kind || s.Loop != t.Loop || s.Yarn != t.Yarn || s.Counts != t.Counts ||
				s.Into.Where != t.Into.Where || s.Into.Round != t.Into.Round {
				return false
			}
			if s.Into.Where == notation.IntoNothing || s.Into.Where == notation.IntoRing {
				continue
			}
			if k := int(s.Into.Round); k >= 0 && k < len(rounds) && s.Into.Last >= s.Into.First {
				shift := int32((bodies[k].to - bodies[k].from) / times)
				if t.Into.First != s.Into.First+shift || t.Into.Last != s.Into.Last+shift {
					return false
				}
			}
		}
	}
	return true
}

// strip cuts a part of a round, and what it is worked into, out of the rounds, as
// two rounds of their own.
func strip(rounds []*notation.Round, i int, p part) []*notation.Round {
	r := rounds[i]
	top := *r
	for p.from > 0 && r.Stitches[p.from-1].Role == notation.StartingChain {
		p.from--
	}
	top.Stitches = append([]notation.Stitch(nil), r.Stitches[p.from:p.to]...)
	top.Turned, top.Below = false, -1
	low, high, below := int32(1<<30), int32(-1), int32(-1)
	for k := range top.Stitches {
		in := &top.Stitches[k].Into
		if in.Where == notation.IntoNothing || in.Where == notation.IntoRing || in.Round < 0 || int(in.Round) >= i ||
			in.Last < in.First || in.First < 0 || int(in.Last) >= len(rounds[in.Round].Stitches) {
			*in = notation.Into{Round: -1}
			continue
		}
		if below < 0 {
			below = in.Round
		}
		if in.Round == below {
			low, high = min(low, in.First), max(high, in.Last)
		}
	}
	if below < 0 {
		return []*notation.Round{&top}
	}
	top.Below, top.Start = 0, nil
	bottom := *rounds[below]
	bottom.Below, bottom.Start, bottom.Turned = -1, nil, false
	if isFoundation(rounds[below]) {
		bottom.Stitches = unroll(top.Stitches)
		return []*notation.Round{&bottom, &top}
	}
	for _, r := range rounds[below:i] {
		bottom.Turned = bottom.Turned != r.Turned
	}
	ss := bottom.Stitches
	for low > 0 && ss[low].Role == notation.StartingChain && ss[low-1].Role == notation.StartingChain {
		low--
	}
	for ss[high].Kind == stitch.Ch && int(high)+1 < len(ss) && ss[high+1].Kind == stitch.Ch {
		high++
	}
	bottom.Stitches = append([]notation.Stitch(nil), ss[low:high+1]...)
	for k := range bottom.Stitches {
		bottom.Stitches[k].Into = notation.Into{Round: -1}
	}
	for k := range top.Stitches {
		in := &top.Stitches[k].Into
		if in.Round == below {
			in.Round, in.First, in.Last = 0, in.First-low, in.Last-low
		} else {
			*in = notation.Into{Round: -1}
		}
	}
	return []*notation.Round{&bottom, &top}
}

// unroll returns the chains of a foundation as stitches come to them, round it
// on both sides, and tells the stitches that they are worked into these.
func unroll(ss []notation.Stitch) []notation.Stitch {
	var chains []notation.Stitch
	var last notation.Into
	for k := range ss {
		in := &ss[k].Into
		if in.Where != notation.IntoChain && in.Where != notation.IntoUnder {
			*in = notation.Into{Round: -1}
			continue
		}
		n := 1
		if len(chains) > 0 && in.Where == last.Where { // with those that are skipped
			n = int(max(in.First-last.First, last.First-in.First))
		}
		for range n {
			chains = append(chains, notation.Stitch{Kind: stitch.Ch, Into: notation.Into{Round: -1}})
		}
		last = *in
		at := int32(len(chains) - 1)
		*in = notation.Into{Where: notation.IntoStitch, First: at, Last: at}
	}
	return chains
}
