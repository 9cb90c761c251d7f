package shape

import (
	"fmt"
	"math"
	"slices"
)

// Spread returns k places spread evenly over n, from 0, shifted by offset:
// floor((t n + offset)/k) for t = 0 to k-1. Any two stretches of the same
// length then hold the same number of places, give or take one. (Handbook:
// Bresenham's line.) It panics unless 1 <= k <= n and 0 <= offset < n.
func Spread(k, n, offset int) []int {
	if k < 1 || k > n || offset < 0 || offset >= n {
		panic(fmt.Sprintf("shape: Spread(%d, %d, %d)", k, n, offset))
	}
	out := make([]int, k)
	for t := range out {
		out[t] = (t*n + offset) / k
	}
	return out
}

// A Placer places the increases and decreases of one piece round by round, so
// that those of a round do not stand above those of the round before. The zero
// Placer is at the start of a piece that begins with a plain round into a ring.
//
// The offset of a round is that with the greatest sum of min(1, d), d being the
// [Stagger] to the last shaping round, plus half of that to the one before it;
// of those within 0.05 of it, the one whose round needs the fewest pieces to be
// written down, then the least (judgement).
//
// Where k shapings divide their n places, as many as in the last shaping round,
// only two offsets are in question: the middle of each repeat, floor(g/2) k, and
// its end, g k, g = n/k - 1 being the plain stitches of a repeat. They come to
// take turns (common practice, monkeyhousefull.blogspot.com/2010/03). The first
// shaping round is of the second kind.
type Placer struct {
	phase  float64      // where base 0 of the next round begins, in turns
	before [2][]float64 // angles in turns of the last two shaping rounds, latest first
}

// Increase places k increases in a round into n stitches and returns the
// stitches of the round below, from 0, that get two. It panics unless 1 <= k <=
// n.
func (p *Placer) Increase(n, k int) []int {
	at := p.place(n, k)
	p.increase(at, n)
	return at
}

// Decrease places k decreases in a round into n stitches, each of which takes
// two, and returns the stitches of the new round, from 0, that are one. It
// panics unless 1 <= k and 2k <= n.
func (p *Placer) Decrease(n, k int) []int {
	at := p.place(n-k, k)
	p.decrease(at, n)
	return at
}

// increase goes past a round into n stitches of which those at get two.
func (p *Placer) increase(at []int, n int) {
	p.record(turns(at, n, p.phase))
	p.phase += lean(at, n)
}

// decrease goes past a round into n stitches; the stitches at of the new round
// take two. Read backwards it is an increase into the new round.
func (p *Placer) decrease(at []int, n int) {
	made := n - len(at)
	sum, base := 0.0, 0
	for result := range made {
		parents := 1
		if _, found := slices.BinarySearch(at, result); found {
			parents = 2
		}
		middle := float64(base) + float64(parents)/2
		sum += middle/float64(n) - (float64(result)+0.5)/float64(made)
		base += parents
	}
	p.phase += sum / float64(made)
	p.record(turns(at, made, p.phase))
}

// lean returns by how many turns a round begins later than the round of n
// stitches below it, of which those at get two: every stitch stands above the
// one it is worked into, as nearly as even spacing lets it, which is the mean
// over the stitches c of N of (angle of the stitch below - (c+½)/N).
func lean(at []int, n int) float64 {
	made := n + len(at)
	sum, child := 0.0, 0
	for base := range n {
		children := 1
		if _, found := slices.BinarySearch(at, base); found {
			children = 2
		}
		for range children {
			sum += (float64(base)+0.5)/float64(n) - (float64(child)+0.5)/float64(made)
			child++
		}
	}
	return sum / float64(made)
}

// place returns k places among n.
func (p *Placer) place(n, k int) []int {
	if n%k == 0 && len(p.before[0]) == k {
		g := n/k - 1
		return p.bestOf(n, k, []int{g / 2 * k, g * k}, func([]int) int { return 0 })
	}
	if n%k == 0 && p.before[0] == nil {
		return Spread(k, n, n-k)
	}
	all := make([]int, n)
	for o := range all {
		all[o] = o
	}
	return p.bestOf(n, k, all, func(at []int) int { return pieces(at, n) })
}

// bestOf returns the places with the best stagger of the given offsets; of
// those as good, the first of least length.
func (p *Placer) bestOf(n, k int, offsets []int, length func(at []int) int) []int {
	scores := make([]float64, len(offsets))
	for i, o := range offsets {
		angles := turns(Spread(k, n, o), n, p.phase)
		scores[i] = min(1, Stagger(angles, p.before[0])) + min(1, Stagger(angles, p.before[1]))/2
	}
	enough := slices.Max(scores) - 0.05
	var best []int
	least := math.MaxInt
	for i, o := range offsets {
		if scores[i] < enough {
			continue
		}
		at := Spread(k, n, o)
		if l := length(at); l < least {
			best, least = at, l
		}
	}
	return best
}

// record notes the angles of a shaping round.
func (p *Placer) record(angles []float64) {
	p.before[1], p.before[0] = p.before[0], angles
}

// turns returns the angles of the middles of places at among n, in turns.
func turns(at []int, n int, phase float64) []float64 {
	out := make([]float64, len(at))
	for i, j := range at {
		out[i] = (float64(j)+0.5)/float64(n) + phase
	}
	return out
}

// pieces returns the number of pieces in which a round of n places with
// shapings at the places at is written: every run of equal gaps before them,
// and the places after the last. A round that repeats itself counts once.
func pieces(at []int, n int) int {
	d := gcd(n, len(at))
	at, n = at[:len(at)/d], n/d
	count, gap, next := 0, -1, 0
	for _, j := range at {
		if j-next != gap {
			count++
		}
		gap, next = j-next, j+1
	}
	if next < n {
		count++
	}
	return count
}

// Stagger returns how far the places of two rounds, as angles in turns, keep
// out of each other's way: the least distance between one of each, times twice
// the number of places in the round that has more. 0 is on top of each other, 1
// as far as between evenly spread places. It is 0 if a round has none.
func Stagger(a, b []float64) float64 {
	if len(a) == 0 || len(b) == 0 {
		return 0
	}
	a, b = within(a), within(b)
	least := 1.0
	i := 0
	for _, x := range a {
		for i < len(b) && b[i] < x {
			i++
		}
		after, before := b[i%len(b)], b[(i+len(b)-1)%len(b)]
		for _, y := range [...]float64{after, before} {
			d := math.Abs(x - y)
			least = min(least, d, 1-d)
		}
	}
	return least * 2 * float64(max(len(a), len(b)))
}

// within returns the angles, in turns, from 0 to 1 and sorted.
func within(angles []float64) []float64 {
	out := make([]float64, len(angles))
	for i, a := range angles {
		out[i] = a - math.Floor(a)
	}
	slices.Sort(out)
	return out
}
