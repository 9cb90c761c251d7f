package chart

import (
	"fmt"
	"slices"
	"strings"

	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// An Outline says what shape the rings of a flat piece have.
type Outline uint8

// The outlines.
const (
	Round Outline = iota // circles, or round a foundation chain ovals
	Shape                // with the corners that the increases make: a square is drawn square
)

var outlineNames = [...]string{"round", "shape"}

func (o Outline) String() string { return outlineNames[o] }

// ParseOutline returns the outline of a name, round or shape.
func ParseOutline(name string) (Outline, error) {
	if i := slices.Index(outlineNames[:], name); i >= 0 {
		return Outline(i), nil
	}
	return 0, fmt.Errorf("no outline is called %q; there are %s", name, strings.Join(outlineNames[:], ", "))
}

// The least and the most corners that are looked for.
const (
	fewestCorners = 3
	mostCorners   = 8
)

// cornerRadius is that of the inner edge of a ring round its corners.
const cornerRadius = 1.0

// An outline is the shape of the rings of a piece with corners.
type outline struct {
	corners int
	held    []map[int]int // by round: by stitch, the corner at which it stands, counted anticlockwise
}

// findOutline finds the corners of a piece. A corner is a line of increases from
// the middle to the rim, each worked into the one before; there are no corners
// if such lines are too few, or too many, or stand unevenly.
func findOutline(rounds []*notation.Round) outline {
	grown := make([][]group, len(rounds)) // by round, its increases
	last := 0                             // the last round with any
	for k, r := range rounds[1:] {
		if grown[k+1] = increases(r, rounds[k]); len(grown[k+1]) > 0 {
			last = k + 1
		}
	}
	var lines [][]group
	for _, g := range grown[last] {
		if l := follow(rounds, grown, last, g); l != nil {
			lines = append(lines, l)
		}
	}
	n := len(lines)
	if n < fewestCorners || n > mostCorners || !evenly(rounds[last], lines) {
		return outline{}
	}
	out := outline{n, make([]map[int]int, len(rounds))}
	for depth := range lines[0] {
		k := last - depth
		out.held[k] = holdAll(rounds[k], lines, depth, backwards(rounds, k))
	}
	return out
}

// backwards reports whether round k is worked clockwise, after a turn of the
// work.
func backwards(rounds []*notation.Round, k int) bool {
	back := false
	for _, r := range rounds[:k] {
		back = back != r.Turned
	}
	return back
}

// A group is stitches worked into one place, with the chains between them. A
// round may begin in the middle of one.
type group struct {
	into     notation.Into
	stitches []int
}

// increases returns the groups of two stitches and more of a round, worked into
// the one below.
func increases(r, below *notation.Round) []group {
	var all []group
	ss := r.Stitches
	for i := range ss {
		s := &ss[i]
		into := s.Into
		if i+1 < len(ss) && s.Role == notation.StartingChain {
			// It stands where the round starts, beside the next stitch.
			if into = ss[i+1].Into; into.Where == notation.IntoStitch && int(into.First) != joinedAt(below) {
				into = notation.Into{}
			}
		}
		chain := s.Kind == stitch.Ch && s.Role == notation.Plain
		switch n := len(all) - 1; {
		case !chain && !s.Counts:
		case n >= 0 && (chain || into == all[n].into):
			all[n].stitches = append(all[n].stitches, i)
		default:
			all = append(all, group{into, []int{i}})
		}
	}
	if n := len(all) - 1; n > 0 && all[0].into == all[n].into {
		all[0].stitches = append(all[n].stitches, all[0].stitches...)
		all = all[:n]
	}
	var out []group
	for _, g := range all {
		n := len(g.stitches)
		for n > 0 && isChain(&ss[g.stitches[n-1]]) { // between this group and the next
			n--
		}
		if n > 1 && g.into.Where != notation.IntoRing {
			out = append(out, group{g.into, g.stitches[:n]})
		}
	}
	return out
}

// isChain reports whether s is a chain other than one at the start of a round.
func isChain(s *notation.Stitch) bool { return s.Kind == stitch.Ch && s.Role == notation.Plain }

// follow follows an increase of round k down to the first round: the increases
// that it is worked into, and in rounds without any the stitches. It returns nil
// if these do not stand in line.
func follow(rounds []*notation.Round, grown [][]group, k int, g group) []group {
	line := []group{g}
	for k > 0 {
		in := g.into
		if in.Where == notation.IntoNothing || int(in.Round) != k-1 || in.First > in.Last {
			return nil
		}
		k--
		g = group{}
		for i := int(in.First); i <= int(in.Last); i++ {
			g.stitches = append(g.stitches, i)
		}
		switch {
		case k == 0:
		case len(grown[k]) > 0:
			at := slices.IndexFunc(grown[k], func(w group) bool {
				return slices.Contains(w.stitches, int(in.First)) || slices.Contains(w.stitches, int(in.Last))
			})
			if at < 0 {
				return nil
			}
			g = grown[k][at]
		default:
			g.into = rounds[k].Stitches[in.First].Into
		}
		line = append(line, g)
	}
	return line
}

// evenly reports whether lines cut a round into parts that are much the same.
func evenly(r *notation.Round, lines [][]group) bool {
	total := len(r.Stitches)
	for i := range lines {
		from, to := lines[i][0].stitches[0], lines[(i+1)%len(lines)][0].stitches[0]
		if part := (to - from + total) % total * len(lines); part < total*2/3 || part > total*4/3 {
			return false
		}
	}
	return true
}

// holdAll returns, of a round so deep in the lines, the stitches that stand at
// the corners: the chains of a group, or else the middle of it.
func holdAll(r *notation.Round, lines [][]group, depth int, backwards bool) map[int]int {
	held := map[int]int{}
	n := len(lines)
	for k, line := range lines {
		g := line[depth].stitches
		if chains := slices.DeleteFunc(slices.Clone(g), func(i int) bool { return !isChain(&r.Stitches[i]) }); len(chains) > 0 {
			g = chains
		}
		for _, i := range g[(len(g)-1)/2 : len(g)/2+1] {
			// The start of the round is before the first corner and after the last.
			late := 2*i > len(r.Stitches)
			if k == 0 && late || k == n-1 && !late {
				continue
			}
			held[i] = k
			if backwards {
				held[i] = n - 1 - k
			}
		}
	}
	return held
}
