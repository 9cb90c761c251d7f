package chart

import (
	"roundelay/pattern/notation"
)

// foldFrom is the least number of plain rounds that are folded into one ring.
const foldFrom = 3

// fold leaves out the plain rounds that repeat the one before them, in runs of
// at least foldFrom. It returns the rounds that are left, worked into each
// other, for each of them its index among all, and by the number of a folded
// round that of the last one it stands for.
func fold(rounds []*notation.Round) (left []*notation.Round, index []int, last map[int]int) {
	last = map[int]int{}
	moved := make([]int32, len(rounds)) // the index that each round is told by now
	for i := 0; i < len(rounds); {
		k := i + 1
		if isPlain(rounds, i) {
			for k < len(rounds) && isPlain(rounds, k) && sameStitches(rounds[i], rounds[k]) {
				k++
			}
		}
		if k-i < foldFrom {
			k = i + 1
		}
		for j := i; j < k; j++ {
			moved[j] = int32(len(left))
		}
		r := *rounds[i]
		if r.Below >= 0 && r.Below < i {
			r.Below = int(moved[r.Below])
		}
		r.Stitches = append([]notation.Stitch(nil), r.Stitches...)
		for j := range r.Stitches {
			if in := &r.Stitches[j].Into; in.Round >= 0 && int(in.Round) < i {
				in.Round = moved[in.Round]
			}
		}
		if k-i > 1 {
			last[r.Number] = rounds[k-1].Number
		}
		left, index = append(left, &r), append(index, i)
		i = k
	}
	return left, index, last
}

// isPlain reports whether each stitch of a round is worked into the one at its
// own place in the round before.
func isPlain(rounds []*notation.Round, i int) bool {
	r := rounds[i]
	if i == 0 || r.Below != i-1 || r.Turned {
		return false
	}
	for j := range r.Stitches {
		s := &r.Stitches[j]
		if isPost(s) && (s.Into.Where != notation.IntoStitch || int(s.Into.Round) != i-1 || int(s.Into.First) != j || int(s.Into.Last) != j) {
			return false
		}
	}
	return len(r.Stitches) > 0
}

// sameStitches reports whether two rounds are of the same stitches.
func sameStitches(a, b *notation.Round) bool {
	if len(a.Stitches) != len(b.Stitches) {
		return false
	}
	for j := range a.Stitches {
		s, t := a.Stitches[j], b.Stitches[j]
		s.Into, t.Into = notation.Into{}, notation.Into{}
		if s != t {
			return false
		}
	}
	return true
}
