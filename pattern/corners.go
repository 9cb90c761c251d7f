package pattern

import (
	"slices"

	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// Bounds of the corners of a flat piece (judgement): fewer make no outline, and
// of more the outline is a circle to within 3 %.
const minCorners, maxCorners = 3, 8

// A corner turns the edge if it is made of cornerStitches or more in one place,
// chains between them included, and of so many more than are worked into any
// place beside it (common practice: 3 sc in a corner, or 2 dc, ch 2, 2 dc).
const cornerStitches, cornerMore = 3, 2

// A shell is so many stitches in one place, of which the tallest is so many
// stitches taller, in the order of their heights, than all beside it (judgement):
// 5 dc among sc are a petal, and no corner.
const shellStitches, shellTaller = 4, 2

// Corners are the corners of a piece: places at which it grows, one over the
// other from its middle to its rim. The zero Corners is a piece without any.
type Corners struct {
	Count int
	Sharp bool // they turn the edge of the fabric; a disc whose increases stand in line has corners that only show

	// Rounds says, for each round of the piece, which stitches stand in the middle
	// of its corners, in the order in which these are worked: the chains of a
	// corner, or else its one or two middle stitches. It is nil for a round
	// before the first that has them, or after the last that grows.
	Rounds [][][]int
}

// Outermost returns a stitch, by its round and its index there, in the middle of a
// corner of the last round that has them made.
func (c *Corners) Outermost() (round, stitch int) {
	for k, middles := range c.Rounds {
		if middles != nil {
			round, stitch = k, middles[1][0] // the first may go over the end of the round
		}
	}
	return round, stitch
}

// FindCorners returns the corners that rounds have, from the first round on or, of
// a disc that goes over into a square, from a later one. There are none if the lines
// of increases are too few, or too many, or stand unevenly, or if what lies
// between them does not grow: shells one over the other make no corner.
func FindCorners(rounds []*notation.Round) Corners {
	if len(rounds) == 0 || isFoundation(rounds[0]) {
		return Corners{}
	}
	places := make([][]heap, len(rounds))
	last := 0 // the last round that grows
	for k, r := range rounds[1:] {
		places[k+1] = heapsOf(r, rounds[k])
		if slices.ContainsFunc(places[k+1], heap.grows) {
			last = k + 1
		}
	}
	var all [][]heap
	for _, h := range places[last] {
		if h.grows() {
			all = append(all, follow(rounds, places, last, h))
		}
	}
	lines := longest(all, rounds[last])
	n := len(lines)
	if n == 0 {
		return Corners{}
	}
	out := Corners{Count: n, Rounds: make([][][]int, len(rounds))}
	made, turned, sharps := 0, 0, 0 // rounds with corners; that turn the edge; over others that do
	sharpBelow := false
	least, most := -1, 0 // places beside each other between corners
	first := last + 1 - len(lines[0])
	for k := first; k <= last; k++ {
		var now []heap
		for _, line := range lines {
			now = append(now, line[last-k])
			out.Rounds[k] = append(out.Rounds[k], now[len(now)-1].middle(rounds[k]))
		}
		sharp := false
		if k > 0 && slices.ContainsFunc(places[k], heap.grows) {
			beside, units := 0, 0 // how many places are no corner, and what the fullest holds
			fewest := now[0].units()
			tall, tallBeside := stitch.Slip, stitch.Slip
			for _, h := range places[k] {
				if slices.ContainsFunc(now, func(c heap) bool { return c.into == h.into }) {
					fewest = min(fewest, h.units())
					tall = max(tall, h.tallest(rounds[k]))
					continue
				}
				beside++
				units = max(units, h.units())
				tallBeside = max(tallBeside, h.tallest(rounds[k]))
			}
			if beside > 0 && fewest >= shellStitches && tall >= tallBeside+shellTaller {
				return Corners{}
			}
			made++
			sharp = fewest >= cornerStitches && fewest >= units+cornerMore
			if sharp {
				turned++
			}
			if sharp && sharpBelow {
				sharps++
			}
			if least < 0 {
				least = beside
			}
			least, most = min(least, beside), max(most, beside)
		}
		sharpBelow = sharp
	}
	spaced := isSpace(&rounds[last].Stitches[out.Rounds[last][0][0]])
	if made > 1 && least == most || made == 1 && (turned == 0 || most == 0 && !spaced) {
		return Corners{}
	}
	out.Sharp = sharps > 0 && 2*sharps >= len(rounds)-2
	if first > 0 && sharps == 0 {
		return Corners{} // increases that happen to stand in line for a while
	}
	return out
}

// longest returns of lines from a round down those that are corners, as many as
// may be and evenly round it, from as far down as they go together.
func longest(all [][]heap, r *notation.Round) [][]heap {
	deepest := 0
	for _, line := range all {
		deepest = max(deepest, len(line))
	}
	for depth := deepest; depth > 1; depth-- {
		var lines [][]heap
		for _, line := range all {
			if len(line) >= depth {
				lines = append(lines, line[:depth])
			}
		}
		if n := len(lines); n >= minCorners && n <= maxCorners && evenly(r, lines) {
			return lines
		}
	}
	return nil
}

// A heap is the stitches of a round that are worked into one place, one after
// the other, with the chains between them, by index. A round may begin in the
// middle of one.
type heap struct {
	into     notation.Into
	stitches []int
}

func (h heap) units() int  { return len(h.stitches) }
func (h heap) grows() bool { return len(h.stitches) > 1 && h.into.Where != notation.IntoRing }

// tallest returns the post of the tallest stitch.
func (h heap) tallest(r *notation.Round) stitch.Base {
	most := stitch.Chain
	for _, i := range h.stitches {
		if b := r.Stitches[i].Kind.Base; b <= stitch.TripleTreble {
			most = max(most, b)
		}
	}
	return most
}

// middle returns what stands in the middle: the chains, or else the middle
// stitch or both of them.
func (h heap) middle(r *notation.Round) []int {
	var chains []int
	for _, i := range h.stitches {
		if isSpace(&r.Stitches[i]) {
			chains = append(chains, i)
		}
	}
	if len(chains) > 0 {
		return chains
	}
	n := len(h.stitches)
	return h.stitches[(n-1)/2 : n/2+1]
}

// isSpace reports whether s is a chain other than one at the start of a round.
func isSpace(s *notation.Stitch) bool { return s.Kind == stitch.Ch && s.Role == notation.Plain }

// heapsOf returns the heaps of a round in the order in which they are worked. One
// that the round begins and ends with comes first.
func heapsOf(r, below *notation.Round) []heap {
	var out []heap
	ss := r.Stitches
	for i := range ss {
		s := &ss[i]
		into := s.Into
		if i+1 < len(ss) && s.Role == notation.StartingChain {
			// It stands where the round starts, beside the next stitch.
			if into = ss[i+1].Into; into.Where == notation.IntoStitch && int(into.First) != below.StartsOver() {
				into = notation.Into{}
			}
		}
		space := isSpace(s)
		switch n := len(out) - 1; {
		case !space && !s.Counts:
		case n >= 0 && (space || into == out[n].into):
			out[n].stitches = append(out[n].stitches, i)
		default:
			out = append(out, heap{into, []int{i}})
		}
	}
	if n := len(out) - 1; n > 0 && out[0].into == out[n].into {
		out[0].stitches = append(out[n].stitches, out[0].stitches...)
		out = out[:n]
	}
	for k, h := range out {
		n := len(h.stitches)
		for n > 0 && isSpace(&ss[h.stitches[n-1]]) { // between this heap and the next
			n--
		}
		out[k].stitches = h.stitches[:n]
	}
	return slices.DeleteFunc(out, func(h heap) bool { return len(h.stitches) == 0 })
}

// follow follows a heap of round k down to the first round, or as far as it stands
// in line: the heaps that it is worked into, and in rounds that don't grow the
// stitches.
func follow(rounds []*notation.Round, places [][]heap, k int, h heap) []heap {
	line := []heap{h}
	for k > 0 {
		in := h.into
		if in.Where == notation.IntoNothing || in.Where == notation.IntoRing || int(in.Round) != k-1 ||
			in.First < 0 || in.First > in.Last || int(in.Last) >= len(rounds[k-1].Stitches) {
			return line
		}
		k--
		h = heap{}
		for i := int(in.First); i <= int(in.Last); i++ {
			h.stitches = append(h.stitches, i)
		}
		switch {
		case k == 0:
		case slices.ContainsFunc(places[k], heap.grows):
			at := slices.IndexFunc(places[k], func(w heap) bool {
				return w.grows() && (slices.Contains(w.stitches, int(in.First)) || slices.Contains(w.stitches, int(in.Last)))
			})
			if at < 0 {
				return line
			}
			h = places[k][at]
		default:
			h.into = rounds[k].Stitches[in.First].Into
		}
		line = append(line, h)
	}
	return line
}

// evenly reports whether lines cut a round into parts that are much the same.
func evenly(r *notation.Round, lines [][]heap) bool {
	total := len(r.Stitches)
	for i := range lines {
		from, to := lines[i][0].stitches[0], lines[(i+1)%len(lines)][0].stitches[0]
		if part := (to - from + total) % total * len(lines); part < total*2/3 || part > total*4/3 {
			return false
		}
	}
	return true
}
