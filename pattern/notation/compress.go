package notation

import (
	"cmp"
	"math"
	"slices"
)

// A part is one piece of a compressed sequence: an action done n times in a
// row, or a body done n times in all.
type part struct {
	action int
	body   []part // nil for an action
	n      int
}

// Bounds on the search for repeats. A repeat of a whole sequence is found
// whatever its length; the bounds keep all else linear in practice.
const (
	maxPeriod  = 400 // most runs in the body of a repeat
	maxStarts  = 24  // most places where the body of one repeat is tried to begin
	maxNesting = 2   // repeats in a repeat, the outer one counted
)

// What a reader has to take in, in items of one action each.
const (
	actionCost = 1
	repeatCost = 1 // a pair of brackets and its number
	nestCost   = 2 // brackets within brackets
	twiceCost  = 3 // the least body that is worth brackets if it is done only twice
)

// compress writes a sequence of actions as the fewest parts that a reader has
// to take in: runs of one action, and repeats found from the sequence alone.
//
// The form chosen has the least cost: one for each action named, one for each
// repeat and two for a repeat inside another, never deeper. A body that is done
// twice is written out unless it names at least three actions. Of forms that
// cost the same the one with fewer parts at the outermost level is taken; then,
// going from the front, the one whose repeat begins sooner; then the one with
// the shorter body. So the same sequence is always written the same way. If
// fromBack is set, "sooner" is told from the end of the sequence: a joined round
// whose starting chain stands for the first stitch of the first repeat then ends
// with a whole repeat.
//
// A repeat may begin inside a run: three, then four times "one, then three",
// is found in a run of four followed by threes.
func compress(actions []int, fromBack bool) []part {
	if fromBack {
		actions = slices.Clone(actions)
		slices.Reverse(actions)
	}
	c := compressor{actions: actions, bodies: map[body]form{}}
	parts := c.best(window{0, len(actions)}, maxNesting).parts
	if fromBack {
		parts = reversed(parts)
	}
	return parts
}

func reversed(parts []part) []part {
	var r []part
	for _, p := range slices.Backward(parts) {
		p.body = reversed(p.body)
		r = append(r, p)
	}
	return r
}

// A window is the part of the sequence from from up to to.
type window struct{ from, to int }

func (w window) len() int { return w.to - w.from }

// A form is one way to write a window.
type form struct {
	parts []part
	cost  int
}

// A body is a window that a repeat would have for its body.
type body struct {
	window
	depth int
}

type compressor struct {
	actions []int
	bodies  map[body]form // what best has found
}

// A run is one action done n times in a row.
type run struct{ from, to, action int }

// A repeat is a candidate: times bodies of the given length from from on.
type repeat struct{ from, length, times int }

// best returns the cheapest form of w with repeats nested at most depth deep.
func (c *compressor) best(w window, depth int) form {
	f, ok := c.bodies[body{w, depth}]
	if !ok {
		f = c.search(w, depth)
		c.bodies[body{w, depth}] = f
	}
	return f
}

// search goes over w from its end to its front; at every place where a part may
// begin it keeps the cheapest way to write the rest.
func (c *compressor) search(w window, depth int) form {
	runs := c.runs(w)
	var repeats []repeat
	if depth > 0 {
		repeats = c.repeats(w, runs)
	}
	cuts := make([]int, 0, len(runs)+2*len(repeats)+1)
	for _, r := range runs {
		cuts = append(cuts, r.from)
	}
	for _, r := range repeats {
		cuts = append(cuts, r.from, r.from+r.length*r.times)
	}
	cuts = append(cuts, w.to)
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)

	type rest struct {
		cost, parts int
		first       part
		next        int // cut at which the rest of the rest begins
	}
	rests := make([]rest, len(cuts))
	repeatAt, runAt := len(repeats), len(runs)-1
	for i := len(cuts) - 2; i >= 0; i-- {
		at := cuts[i]
		best := rest{cost: math.MaxInt}
		try := func(cost int, first part, end int) {
			next, ok := slices.BinarySearch(cuts, end)
			if !ok {
				return
			}
			r := rest{cost + rests[next].cost, 1 + rests[next].parts, first, next}
			if r.cost < best.cost || r.cost == best.cost && r.parts < best.parts {
				best = r
			}
		}
		for repeatAt > 0 && repeats[repeatAt-1].from >= at {
			repeatAt--
		}
		for _, r := range repeats[repeatAt:] {
			if r.from != at {
				break
			}
			body := c.best(window{at, at + r.length}, depth-1)
			if r.times == 2 && body.cost < twiceCost {
				continue
			}
			cost := body.cost + repeatCost
			if depth < maxNesting {
				cost = body.cost + nestCost
			}
			try(cost, part{body: body.parts, n: r.times}, at+r.length*r.times)
		}
		for runs[runAt].from > at {
			runAt--
		}
		for j := i + 1; j < len(cuts) && cuts[j] <= runs[runAt].to; j++ {
			try(actionCost, part{action: runs[runAt].action, n: cuts[j] - at}, cuts[j])
		}
		rests[i] = best
	}
	f := form{}
	if len(cuts) > 1 {
		f.cost = rests[0].cost
	}
	for i := 0; i < len(cuts)-1; i = rests[i].next {
		f.parts = append(f.parts, rests[i].first)
	}
	return f
}

func (c *compressor) runs(w window) []run {
	var runs []run
	for i := w.from; i < w.to; {
		j := i + 1
		for j < w.to && c.actions[j] == c.actions[i] {
			j++
		}
		runs = append(runs, run{i, j, c.actions[i]})
		i = j
	}
	return runs
}

// repeats returns the repeats worth trying in w, in the order of where they
// begin and then of their length: all that fill the window, and those whose
// body is made of at most maxPeriod runs.
func (c *compressor) repeats(w window, runs []run) []repeat {
	var found []repeat
	if p := smallestPeriod(c.actions[w.from:w.to]); p > 1 && p < w.len() && w.len()%p == 0 {
		found = append(found, repeat{w.from, p, w.len() / p})
	}
	same := func(i, j int) bool {
		return runs[i].action == runs[j].action && runs[i].to-runs[i].from == runs[j].to-runs[j].from
	}
	for q := 2; q <= min(maxPeriod, len(runs)-1); q++ {
		for i := 0; i+q < len(runs); {
			if !same(i, i+q) {
				i++
				continue
			}
			j := i + 1
			for j+q < len(runs) && same(j, j+q) {
				j++
			}
			found = c.around(found, runs, i, j, q)
			i = j
		}
	}
	slices.SortFunc(found, func(a, b repeat) int {
		return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.length, b.length))
	})
	return slices.Compact(found)
}

// around adds the repeats that lie in the runs i to j+q, of which each of i to
// j-1 is the same as the one q further on, and in as much of the runs beside
// them as goes on in the same way.
func (c *compressor) around(found []repeat, runs []run, i, j, q int) []repeat {
	from, to := runs[i].from, runs[j+q-1].to
	if i > 0 && runs[i-1].action == runs[i+q-1].action {
		from -= min(runs[i-1].to-runs[i-1].from, runs[i+q-1].to-runs[i+q-1].from)
	}
	if j+q < len(runs) && runs[j+q].action == runs[j].action {
		to += min(runs[j+q].to-runs[j+q].from, runs[j].to-runs[j].from)
	}
	length := runs[i+q].from - runs[i].from
	if to-from < 2*length {
		return found
	}
	if p := smallestPeriod(c.actions[runs[i].from : runs[i].from+length]); p < length && length%p == 0 {
		return found // the shorter body is found for itself
	}
	add := func(at int) {
		if times := (to - at) / length; at >= from && times >= 2 {
			found = append(found, repeat{at, length, times})
		}
	}
	add(from)
	add(to - (to-from)/length*length)
	for k := i; k < min(j+q, i+q, i+maxStarts); k++ {
		add(runs[k].from)
	}
	return found
}

// smallestPeriod returns the least p > 0 with s[i] == s[i+p] throughout
// (by the failure function of Knuth, Morris and Pratt).
func smallestPeriod(s []int) int {
	border := make([]int, len(s)+1)
	k := 0
	for i := 1; i < len(s); i++ {
		for k > 0 && s[i] != s[k] {
			k = border[k]
		}
		if s[i] == s[k] {
			k++
		}
		border[i+1] = k
	}
	return len(s) - border[len(s)]
}
