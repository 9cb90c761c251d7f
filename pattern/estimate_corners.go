package pattern

import (
	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// Bounds of the corners of a flat piece (judgement): fewer make no outline, and
// of more the outline is a circle to within 3 %.
const minCorners, maxCorners = 3, 8

// A corner is made of cornerStitches or more in one place, chains between them
// included, and of so many more than are worked into any place beside it
// (common practice: 3 sc in a corner, or 2 dc, ch 2, 2 dc).
const cornerStitches, cornerMore = 3, 2

// Corners is how many corners a piece has, and where one of them is; the zero
// Corners is a piece without any.
type Corners struct {
	Count  int
	Round  int // index into Piece.Rounds
	Stitch int // index of the stitch in its middle
}

// corners returns the corners that the rounds of a piece have: places of many
// stitches that sit in those of the round below, in most rounds after the second.
func corners(rounds []*notation.Round) Corners {
	const ring = 1 // rounds that the first corners are worked into
	var c Corners
	var below []heap
	stacked, shaped := 0, 0
	for i, r := range rounds {
		if isFoundation(r) {
			continue
		}
		heaps := heapsOf(r)
		if i > ring && len(heaps) > 1 {
			shaped++
		}
		now := cornersOf(heaps)
		if len(now) > 0 && len(now) == len(below) && sit(now, below) {
			if c.Count != 0 && c.Count != len(now) {
				return Corners{}
			}
			one := now[1] // the first may go over the end of the round
			c = Corners{len(now), i, (one.first + one.last) / 2}
			stacked++
		}
		below = now
	}
	if 2*stacked < shaped {
		return Corners{}
	}
	return c
}

// A heap is the stitches of a round that are worked into one place, one after
// the other.
type heap struct {
	into        notation.Into
	first, last int // indices into the stitches of the round
	units       int // stitches, and chains between them
}

// heapsOf returns the heaps of a round. One that the round begins and ends with
// is one.
func heapsOf(r *notation.Round) []heap {
	var out []heap
	chains := 0
	for i := range r.Stitches {
		s := &r.Stitches[i]
		switch {
		case s.Role != notation.Plain:
			if s.Counts {
				chains++ // a chain that stands for the first stitch
			}
			continue
		case s.Kind == stitch.Ch:
			chains++
			continue
		case s.Kind == stitch.SlSt, s.Kind.Form == stitch.Picot:
			continue
		}
		if n := len(out); n > 0 && out[n-1].into == s.Into {
			out[n-1].units += chains + 1
			out[n-1].last = i
		} else {
			h := heap{s.Into, i, i, 1}
			if n == 0 {
				h.first, h.units = 0, 1+chains
			}
			out = append(out, h)
		}
		chains = 0
	}
	if n := len(out); n > 1 && out[0].into == out[n-1].into {
		out[0].units += out[n-1].units + chains
		out[0].first = out[n-1].first // it goes over the end of the round
		out = out[:n-1]
	}
	return out
}

// cornersOf returns the heaps that are corners, if there are as many as a flat
// piece may have.
func cornersOf(heaps []heap) []heap {
	most := 0
	for _, h := range heaps {
		most = max(most, h.units)
	}
	var out []heap
	for _, h := range heaps {
		switch {
		case h.units == most:
			out = append(out, h)
		case h.units > most-cornerMore:
			return nil
		}
	}
	if most < cornerStitches || len(out) < minCorners || len(out) > maxCorners {
		return nil
	}
	return out
}

// sit reports whether every corner is worked into one of those below.
func sit(now, below []heap) bool {
	for _, c := range now {
		ok := false
		for _, b := range below {
			first, last := int(c.into.First), int(c.into.Last)
			inside := first >= b.first && last <= b.last
			if b.first > b.last { // over the end of the round
				inside = first >= b.first || last <= b.last
			}
			ok = ok || inside
		}
		if !ok {
			return false
		}
	}
	return true
}
