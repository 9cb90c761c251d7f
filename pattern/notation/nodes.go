package notation

import (
	"roundelay/pattern/stitch"
	"slices"
)

// bare makes an instruction in which nothing says how often it is worked a
// group that may go once or all round: "sc 3, inc" is told from an uneven round
// by dividing.
func bare(nodes []Node, chain ChainRule) []Node {
	from, to := -1, -1
	// "ch 3, sk 3, sc 1": the chain belongs to the group
	whole := chain == ByConvention && skips(nodes) && !usualChain(nodes) && !slices.ContainsFunc(nodes, func(n Node) bool { _, ok := n.(*Join); return ok })
	for i, n := range nodes {
		switch n := n.(type) {
		case *Repeat:
			if n.Doubt&(Bare|LastOnly) == 0 || n.Doubt&LastOnly != 0 {
				return nodes
			}
			// "(sc 3, inc), sc 2": one group in brackets, not said how often
			if n.Times == ToEnd {
				return nodes
			}
		case *Evenly, *SameAs, *Start:
			return nodes
		case *Work:
			if n.Places == ToEnd || n.Target.Where == Ring || n.Target.Where == FromHook || n.Target.Where == Elsewhere {
				return nodes
			}
			if n.Stitch == stitch.Ch && from < 0 && !whole {
				continue
			}
			if n.Stitch == stitch.SlSt && from < 0 && (n.Target.Where == Space || leadsToChain(nodes[i+1:])) {
				continue
			}
			if n.Stitch == stitch.SlSt && from < 0 && leadsToChain(nodes[i+1:]) {
				continue
			}
		case *In:
			if n.Places == ToEnd {
				return nodes
			}
		case *Skip:
		default:
			continue
		}
		if from < 0 {
			from = i
		}
		to = i + 1
	}
	if from < 0 {
		return nodes
	}
	r := &Repeat{at: at(nodes[from].Span().Join(nodes[to-1].Span())), Body: clone(nodes[from:to]), Times: 1, Doubt: Bare}
	return append(append(append([]Node{}, nodes[:from]...), r), nodes[to:]...)
}

// chained reports whether nodes make chains.
func chained(nodes []Node) bool { return startsWithChain(nodes) || hasChains(nodes) }

// startingChains returns how many chains nodes begin with.
func startingChains(nodes []Node) int {
	for _, n := range nodes {
		if w, ok := n.(*Work); ok {
			if w.Stitch == stitch.Ch {
				return w.Places
			}
			return 0
		}
	}
	return 0
}

// usualChain reports whether nodes begin with as many chains as stand for their
// first stitch.
func usualChain(nodes []Node) bool {
	for i, n := range nodes {
		if w, ok := n.(*Work); ok && w.Stitch == stitch.Ch {
			usual, _ := stitch.Stitch{Base: firstBase(nodes[i+1:])}.StartingChains()
			return w.Places == usual
		}
	}
	return false
}

// skips reports whether one of nodes is a skip.
func skips(nodes []Node) bool {
	for _, n := range nodes {
		if _, ok := n.(*Skip); ok {
			return true
		}
	}
	return false
}

// onlyYarn reports whether nodes say with which yarn, and into which loops, and no
// more.
func onlyYarn(nodes []Node) bool {
	for _, n := range nodes {
		switch n.(type) {
		case *Yarn, *LoopMode:
		default:
			return false
		}
	}
	return true
}

// works reports whether nodes make or use stitches.
func works(nodes []Node) bool {
	for _, n := range nodes {
		switch n.(type) {
		case *Work, *In, *Repeat, *Skip, *Evenly, *SameAs, *Start:
			return true
		}
	}
	return false
}

// counted reports whether a count may follow nodes after a colon.
func counted(nodes []Node) bool {
	return slices.ContainsFunc(nodes, func(n Node) bool { _, ok := n.(*SameAs); return ok }) || hasWork(nodes)
}

// alike reports whether a and b are the same stitches in the same places.
func alike(a, b []Node) bool {
	return slices.EqualFunc(a, b, func(a, b Node) bool {
		v, ok := a.(*Work)
		w, ok2 := b.(*Work)
		return ok && ok2 && v.Stitch == w.Stitch && v.Per == w.Per && v.Places == w.Places
	})
}

func clone(ns []Node) []Node { return append([]Node(nil), ns...) }

// consumes reports whether nodes use stitches of the round below.
func consumes(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Stitch != stitch.Ch && (n.Target.Where == Next || n.Target.Where == Space) {
				return true
			}
		case *In, *Repeat, *Skip:
			return true
		}
	}
	return false
}

// isStart reports whether an unmarked repeat cannot reach over n: the ring, the
// starting chain and what else opens a round.
func isStart(n Node) bool {
	switch n := n.(type) {
	case *Start, *Join, *Turn:
		return true
	case *Work:
		return n.Stitch == stitch.Ch
	}
	return false
}

func isChain(n Node) bool {
	w, ok := n.(*Work)
	return ok && w.Stitch == stitch.Ch
}

// chainLast puts a last chain behind the remarks that follow it: "ch 30, being
// careful not to twist it, join in a ring".
func chainLast(nodes []Node) {
	i := len(nodes) - 1
	for ; i >= 0; i-- {
		if _, ok := nodes[i].(*Aside); !ok {
			break
		}
	}
	if i >= 0 && isChain(nodes[i]) {
		chain := nodes[i]
		copy(nodes[i:], nodes[i+1:])
		nodes[len(nodes)-1] = chain
	}
}

// openers returns the nodes that open a round: yarns, joins of a new yarn,
// remarks.
func openers(nodes []Node) []Node {
	var out []Node
	for _, n := range nodes {
		switch n.(type) {
		case *Yarn, *Join, *Aside, *Turn:
			out = append(out, n)
		}
	}
	return out
}

// afterStitches reports whether nodes end with stitches that name no place.
func afterStitches(nodes []Node) bool {
	if len(nodes) == 0 {
		return false
	}
	w, ok := nodes[len(nodes)-1].(*Work)
	return ok && w.Stitch.Base > stitch.Slip && w.Target == Target{} && w.Places > 0 && w.Per == 1
}

// hasJoin reports whether nodes lead to where the round begins.
func hasJoin(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Join:
			return true
		case *Work:
			if n.Stitch == stitch.SlSt {
				return true
			}
		}
	}
	return false
}

// afterSlips returns nodes without the slip stitches that lead to where the round
// begins.
func afterSlips(nodes []Node) []Node {
	for i, n := range nodes {
		switch n := n.(type) {
		case *Aside, *Yarn, *LoopMode:
			continue
		case *Join:
			if n.Opening {
				continue
			}
		case *Work:
			if n.Stitch == stitch.SlSt {
				continue
			}
		}
		return nodes[i:]
	}
	return nil
}

func startsWithChain(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Start, *Aside, *Yarn, *LoopMode:
			continue
		case *Work:
			return n.Stitch == stitch.Ch
		}
		return false
	}
	return false
}

// onlyEnds reports whether nodes end a round and work nothing: a chain before them
// is of the next one.
func onlyEnds(nodes []Node) bool {
	for _, n := range nodes {
		switch n.(type) {
		case *Join, *Turn, *Aside:
		default:
			return false
		}
	}
	return true
}

func hasChains(nodes []Node) bool {
	for i, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Stitch == stitch.Ch && i > 0 && !(n.Places == 1 && onlyEnds(nodes[i+1:])) {
				return true
			}
		case *In:
			if hasChains(n.Body) || len(n.Body) > 0 && startsWithChain(n.Body) {
				return true
			}
		case *Repeat:
			if hasChains(n.Body) || len(n.Body) > 0 && startsWithChain(n.Body) {
				return true
			}
		}
	}
	return false
}

// firstBase returns the base of the first stitch that nodes work.
func firstBase(nodes []Node) stitch.Base {
	for _, n := range nodes {
		b := stitch.NoBase
		switch n := n.(type) {
		case *Work:
			if n.Stitch.Base > stitch.Slip {
				b = n.Stitch.Base
			}
		case *In:
			b = firstBase(n.Body)
		case *Repeat:
			b = firstBase(n.Body)
		case *Evenly:
			b = n.Stitch.Base
		}
		if b != stitch.NoBase {
			return b
		}
	}
	return stitch.NoBase
}

// hasWork reports whether nodes work anything but chains.
func hasWork(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Stitch != stitch.Ch {
				return true
			}
		case *In, *Repeat, *Evenly, *Skip:
			return true
		}
	}
	return false
}

// together returns how many of nodes, from the first on, are worked together
// all round, each into places of its own: "sc in each dc, 2 sc in each ch-1 sp,
// 3 sc in each corner".
func together(nodes []Node) int {
	stitches, spaces, end := 0, 0, 0
	for i, n := range nodes {
		if _, ok := n.(*Aside); ok {
			continue
		}
		t, ok := allRound(n)
		switch {
		case ok && t.Where == Next && stitches == 0:
			stitches++
		case ok && (t.Where == Space || t.Where == Corner):
			spaces++
		default:
			ok = false
		}
		if !ok {
			break
		}
		end = i + 1
	}
	if spaces == 0 || stitches+spaces < 2 {
		return 0
	}
	return end
}

// atCorners reports whether one of nodes is worked into corners.
func atCorners(nodes []Node) bool {
	return slices.ContainsFunc(nodes, func(n Node) bool { t, ok := allRound(n); return ok && t.Where == Corner })
}

// spacedGroup reports whether a round goes on with a mesh: a skip or chains come
// before its next stitch.
func spacedGroup(nodes []Node) bool {
	for i, n := range nodes {
		switch n := n.(type) {
		case *Aside, *Yarn:
			continue
		case *Skip:
			return true
		case *Work:
			if n.Stitch != stitch.Ch && n.Places == 1 && i+1 < len(nodes) { // "ch 5, tr in next tr, * ch 1, tr in next tr"
				r, ok := nodes[i+1].(*Repeat)
				return ok && spacedGroup(r.Body)
			}
			return n.Stitch == stitch.Ch
		case *In:
			return endsInChains(n.Body)
		case *Repeat:
			return spacedGroup(n.Body) || endsInChains(n.Body)
		}
		return false
	}
	return false
}

// goesBySpaces reports whether a round goes on all round with one stitch, and
// chains, in each space.
func goesBySpaces(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Aside, *Yarn:
			continue
		case *Repeat:
			if len(n.Body) == 0 {
				return false
			}
			w, ok := n.Body[0].(*Work)
			return ok && n.Times == ToEnd && w.Target.Where == Space && w.Per == 1 && endsInChains(n.Body)
		}
		return false
	}
	return false
}

// leadsToChain reports whether a starting chain comes next, after more slip
// stitches perhaps.
func leadsToChain(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Aside, *Yarn:
			continue
		case *Work:
			if n.Stitch == stitch.SlSt {
				continue
			}
			return n.Stitch == stitch.Ch
		}
		return false
	}
	return false
}

// nextWork returns the first of nodes that works more than chains.
func nextWork(nodes []Node) Node {
	for _, n := range nodes {
		if hasWork([]Node{n}) {
			return n
		}
	}
	return nil
}

// leadsToSame reports whether the next stitches are worked where slip stitches
// before them led to.
func leadsToSame(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Aside, *Yarn:
			continue
		case *Work:
			if n.Stitch == stitch.SlSt {
				continue
			}
			return n.Target.Where == Same && n.Doubt == NoDoubt
		case *In:
			return n.Target.Where == Same
		}
		return false
	}
	return false
}

// onlyChains reports whether nodes make chains, and nothing but chains and joins.
func onlyChains(nodes []Node) bool {
	chains := false
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Stitch != stitch.Ch {
				return false
			}
			chains = true
		case *Join, *Aside, *Turn, *Yarn:
		default:
			return false
		}
	}
	return chains
}

// endsInChains reports whether a group ends with chains.
func endsInChains(body []Node) bool {
	if len(body) == 0 {
		return false
	}
	w, ok := body[len(body)-1].(*Work)
	return ok && w.Stitch == stitch.Ch
}

// skipsFirst returns how many stitches a group passes over before it works one.
func skipsFirst(body []Node) int {
	for _, n := range body {
		switch n := n.(type) {
		case *Skip:
			return n.N
		case *Work:
			if n.Stitch == stitch.Ch {
				continue
			}
		}
		return 0
	}
	return 0
}

// allRound returns the target of a node that is worked all round into one kind
// of place.
func allRound(n Node) (Target, bool) {
	switch n := n.(type) {
	case *Work:
		return n.Target, n.Places == ToEnd && n.Leave == 0 && n.Stitch.Legs() == 1
	case *In:
		return n.Target, n.Places == ToEnd
	}
	return Target{}, false
}

// ringed reports whether nodes work into the ring.
func ringed(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Target.Where == Ring || n.Target.Where == Space {
				return true
			}
		case *In:
			if n.Target.Where == Ring || n.Target.Where == Space {
				return true
			}
		}
	}
	return false
}

// plainRound reports whether an instruction works a stitch into each, and
// nothing else.
func plainRound(nodes []Node) bool {
	plain := false
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Stitch == stitch.Ch {
				continue
			}
			if n.Places != ToEnd || n.Per != 1 || n.Stitch.IsDecrease() {
				return false
			}
			plain = true
		case *Evenly:
			plain = n.N == 0 && n.To == 0
		case *Aside, *Yarn, *Join, *Turn, *LoopMode:
		default:
			return false
		}
	}
	return plain
}

// skipUnsaid returns how many stitches a group passes over at the place where the
// end of the round, told as its beginning, stops: "*ch 2, skip 3, 5 tr in next, ch
// 2, skip 4, shell in next; rep from * around, ending with ch 2, skip 3, 5 tr in
// next, ch 2, join".
func skipUnsaid(body, rest []Node) int {
	i := 0
	for _, n := range rest {
		switch n.(type) {
		case *Aside, *Yarn:
			continue
		case *Join:
		default:
			for i < len(body) && !hasWork(body[i:i+1]) && !isChain(body[i]) {
				i++
			}
			if i >= len(body) || !sameNode(n, body[i]) {
				return 0
			}
			i++
			continue
		}
		break
	}
	if i == 0 || i >= len(body) {
		return 0
	}
	if s, ok := body[i].(*Skip); ok && s.Target.Where != Space {
		return s.N
	}
	return 0
}

// sameNode reports whether a and b are the same stitches in the same kind of place.
func sameNode(a, b Node) bool {
	switch a := a.(type) {
	case *Work:
		b, ok := b.(*Work)
		return ok && a.Stitch == b.Stitch && a.Per == b.Per && a.Places == b.Places && a.Target.Where == b.Target.Where
	case *Skip:
		b, ok := b.(*Skip)
		return ok && a.N == b.N && a.Target.Where == b.Target.Where
	case *In:
		b, ok := b.(*In)
		return ok && a.Target.Where == b.Target.Where && a.Places == b.Places && slices.EqualFunc(a.Body, b.Body, sameNode)
	case *Repeat:
		b, ok := b.(*Repeat)
		return ok && a.Times == b.Times && slices.EqualFunc(a.Body, b.Body, sameNode)
	}
	return false
}

// timed reports whether all of nodes says how often it is worked.
func timed(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Places == ToEnd || n.Doubt&(TwoInOne|TwoTight) != 0 {
				return false
			}
		case *In:
			if n.Places == ToEnd {
				return false
			}
		case *Repeat:
			if n.Times == ToEnd || n.Doubt&Bare != 0 || !timed(n.Body) {
				return false
			}
		case *Evenly, *SameAs:
			return false
		}
	}
	return true
}

// lastSkip returns how many stitches the last skip of nodes passes over.
func lastSkip(nodes []Node) int {
	n := 0
	for _, m := range nodes {
		switch m := m.(type) {
		case *Skip:
			n = m.N
		case *Repeat:
			if s := lastSkip(m.Body); s > 0 {
				n = s
			}
		}
	}
	return n
}

func baseOf(body []Node, main stitch.Base) stitch.Base {
	if b := firstBase(body); b != stitch.NoBase {
		return b
	}
	if main == stitch.NoBase {
		return stitch.Single
	}
	return main
}

// placeOf returns the kind of place, other than stitches one by one, that nodes
// work into first: spaces, corners, the middle of groups.
func placeOf(body []Node) (Target, bool) {
	for _, n := range body {
		t := Target{}
		switch n := n.(type) {
		case *Work:
			t = n.Target
		case *In:
			t = n.Target
		case *Repeat:
			if in, ok := placeOf(n.Body); ok {
				return in, true
			}
		}
		if w, ok := n.(*Work); ok && w.Doubt&Free != 0 {
			continue
		}
		if t.Where == Space || t.Where == Corner || t.Where == Center || t.Where == Any || t.Behind > 0 {
			return t, true
		}
	}
	return Target{}, false
}

func usesSpace(body []Node) bool {
	_, ok := placeOf(body)
	return ok
}

// spacesIn returns how many spaces nodes work into, one by one.
func spacesIn(nodes []Node) int {
	n := 0
	for _, m := range nodes {
		t, places := Target{}, 0
		switch m := m.(type) {
		case *Work:
			t, places = m.Target, m.Places
		case *In:
			t, places = m.Target, m.Places
		case *Repeat:
			if m.Times > 0 {
				n = min(n+spacesIn(m.Body)*min(m.Times, MaxRound), MaxRound)
			}
		}
		if (t.Where == Space || t.Where == Corner) && places > 0 {
			n = min(n+places, MaxRound)
		}
	}
	return n
}

// doubts returns the ways in which nodes can be read twice.
func doubts(nodes []Node) Doubt {
	var d Doubt
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			d |= n.Doubt
		case *Join:
			d |= n.Doubt
		case *In:
			d |= doubts(n.Body)
		case *Repeat:
			d |= n.Doubt | doubts(n.Body)
		}
	}
	return d
}
