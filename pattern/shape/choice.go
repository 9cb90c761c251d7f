package shape

import (
	"math"
	"slices"
)

// A choice is a search for whole counts near ideal ones.
type choice struct {
	ideal       []float64
	multiple    int   // of which every count is a multiple
	first, last []int // allowed counts at the ends; nil for any
	peak        int   // index that must have the count widest, which none exceeds; or -1
	widest      int
}

// best returns the counts with the least Σ (N - ideal)², none more than double
// or less than half of the one before, or nil if there are none. Of equals it
// takes the lesser.
//
// It is dynamic programming over the rounds, with one state for each multiple.
// The states that may precede N are those from N/2 to 2N; both bounds rise with
// N, so the cheapest of them is kept up with a queue, and a round takes time in
// proportion to the number of states.
func (c choice) best() []int {
	m := c.multiple
	states := int(math.Ceil(slices.Max(c.ideal)/float64(m))) + 1
	for _, n := range slices.Concat(c.first, c.last) {
		states = max(states, n/m)
	}
	if c.peak >= 0 {
		states = c.widest / m
	}
	cost := make([]float64, states+1) // of the best counts that end in state k, N = k m
	next := make([]float64, states+1)
	from := make([]int32, len(c.ideal)*(states+1)) // the state before
	cost[0], next[0] = math.Inf(1), math.Inf(1)
	room := make([]int, states)
	for i, ideal := range c.ideal {
		queue := room[:0]
		entered := 0
		back := from[i*(states+1):]
		for k := 1; k <= states; k++ {
			off := float64(k*m) - ideal
			next[k] = off * off
			if i > 0 {
				for ; entered < min(2*k, states); entered++ {
					for len(queue) > 0 && cost[entered+1] < cost[queue[len(queue)-1]] {
						queue = queue[:len(queue)-1]
					}
					queue = append(queue, entered+1)
				}
				for 2*queue[0] < k {
					queue = queue[1:]
				}
				back[k] = int32(queue[0])
				next[k] += cost[queue[0]]
			}
			if !c.allows(i, k*m) {
				next[k] = math.Inf(1)
			}
		}
		cost, next = next, cost
	}
	k := 0
	for s, v := range cost {
		if v < cost[k] {
			k = s
		}
	}
	if k == 0 {
		return nil
	}
	counts := make([]int, len(c.ideal))
	for i := len(counts) - 1; i >= 0; i-- {
		counts[i] = k * m
		k = int(from[i*(states+1)+k])
	}
	return counts
}

// allows reports whether round i may have n stitches.
func (c choice) allows(i, n int) bool {
	return !(i == 0 && c.first != nil && !slices.Contains(c.first, n)) &&
		!(i == len(c.ideal)-1 && c.last != nil && !slices.Contains(c.last, n)) &&
		!(i == c.peak && n != c.widest)
}
