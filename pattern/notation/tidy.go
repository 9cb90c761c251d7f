package notation

import (
	"slices"

	"roundelay/pattern/stitch"
)

// tidy settles what can only be seen when the whole instruction is there.
func (p *parser) tidy(nodes []Node) []Node {
	main := p.main
	if main == stitch.NoBase {
		main = stitch.Single
	}
	nodes = spreadAfter(nodes)
	nameStitches(nodes, main)
	onPieces(nodes)
	nodes = p.branches(nodes, true)
	nodes = groupSpaces(picots(nodes))
	// "ch 36, join, ch 1, sc in each ch": a ring, unsaid
	first := 0 // yarns and remarks may stand before it
	for first < len(nodes) && len(openers(nodes[first:first+1])) > 0 {
		first++
	}
	if len(nodes) > first+2 {
		w, ok := nodes[first].(*Work)
		j, ok2 := nodes[first+1].(*Join)
		if ok && ok2 && !j.Opening && w.Stitch == stitch.Ch && w.Places > 2 && hasWork(nodes[first+2:]) {
			nodes[first+1] = &Start{at: j.at, Kind: ChainRing}
		}
	}
	// chains before a ring that they make are the ring
	out := nodes[:0]
	for i, n := range nodes {
		if w, ok := n.(*Work); ok && w.Stitch == stitch.Ch && i+1 < len(nodes) {
			if s, ok := nodes[i+1].(*Start); ok && s.Kind == ChainRing {
				s.Chains = w.Places
				continue
			}
		}
		out = append(out, n)
	}
	nodes = out
	nodes = foundation(nodes)
	nodes = p.magicRing(nodes)
	for _, n := range nodes {
		if w, ok := n.(*Work); ok {
			if w.Stitch == stitch.SlSt && w.Places > 0 {
				w.Doubt |= Leading
				continue
			}
			break
		}
		if _, ok := n.(*Aside); !ok {
			break
		}
	}
	openings(nodes)
	spikes(nodes)
	clusterStarts(nodes)
	// a slip stitch at the very end joins
	for i := len(nodes) - 1; i >= 0; i-- {
		switch n := nodes[i].(type) {
		case *Aside, *Turn:
			continue
		case *Work:
			if n.Stitch == stitch.Ch {
				continue
			}
			if n.Stitch == stitch.SlSt && n.Places == 1 && n.Per == 1 && n.Loop == BothLoops && works(nodes[:i]) && !p.numbered(n.at) {
				nodes[i] = &Join{at: n.at, Into: n.Target}
				if n.Target == (Target{}) {
					nodes[i].(*Join).Doubt = SlipIn
				}
			}
		}
		break
	}
	return nodes
}

// spreadAfter makes the increases or decreases that are named after stitches all
// round what they are, spread over the round: "sc in every st, increasing 6 times".
func spreadAfter(nodes []Node) []Node {
	for i, n := range nodes {
		r, ok := n.(*Repeat)
		if !ok || r.Times < 1 || len(r.Body) != 2 || r.Doubt&Bare != 0 {
			continue
		}
		plain, ok := r.Body[0].(*Work)
		shape, ok2 := r.Body[1].(*Work)
		if !ok || !ok2 || plain.Places != ToEnd || plain.Per != 1 || plain.Leave > 0 || plain.Target != (Target{}) || plain.Stitch.IsDecrease() || shape.Target != (Target{}) || !shaping(shape) {
			continue
		}
		e := &Evenly{at: r.at, Stitch: plain.Stitch, N: r.Times * (shape.Per - 1)}
		if shape.Stitch.IsDecrease() {
			e.N = -r.Times * (shape.Stitch.Legs() - 1)
		}
		nodes[i] = e
	}
	return nodes
}

// numbered reports whether a slip stitch is said to be one in the next stitch,
// as "sl st 1", and so is a stitch of the round.
func (p *parser) numbered(s at) bool {
	number, in, next := false, false, false
	for _, t := range p.toks {
		if t.from < s.From || t.to > s.To {
			continue
		}
		number = number || t.sym == sNumber && !t.ordinal
		in = in || t.sym == sIn
		next = next || t.sym == sNext
	}
	return number && in == next
}

// nameStitches gives the stitches that were not named their kind.
func nameStitches(nodes []Node, main stitch.Base) {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Stitch.Base == stitch.NoBase {
				if n.Stitch.Base = main; !n.Stitch.Valid() {
					n.Stitch.Base = stitch.Single // a decrease among extended stitches
				}
			}
		case *In:
			nameStitches(n.Body, main)
		case *Repeat:
			nameStitches(n.Body, main)
			nameStitches(n.Or, main)
		case *Evenly:
			if n.Stitch.Base == stitch.NoBase {
				n.Stitch.Base = main
			}
		}
	}
}

// openings marks the chains of a list that are worked over as many stitches as
// they are, for a handle or a buttonhole.
func openings(nodes []Node) {
	var gaps []*Work
	plain := 0
	for i, n := range nodes {
		switch n := n.(type) {
		case *Repeat:
			if n.Times > 0 && n.Times <= 4 && n.Doubt&Bare == 0 {
				openings(n.Body)
			}
		case *Work:
			if n.Stitch != stitch.Ch {
				if n.Target.Where == Next && n.Per == 1 {
					plain = max(plain, n.Places)
				}
				continue
			}
			for _, j := range []int{i - 1, i + 1} {
				if j >= 0 && j < len(nodes) && n.Places >= 3 {
					if s, ok := nodes[j].(*Skip); ok && max(s.N-n.Places, n.Places-s.N) <= 2 && s.Target.Where != Space {
						gaps = append(gaps, n)
					}
				}
			}
		}
	}
	if plain >= 3 && len(gaps) <= 4 {
		for _, g := range gaps {
			g.Doubt |= Mesh
		}
	}
}

// spikes marks stitches into an earlier round that stand among others: they take
// the place of the next stitch, or none.
func spikes(nodes []Node) {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Repeat:
			spikes(n.Body)
		case *Work:
			if n.Target.Behind > 0 && n.Places > 0 && slices.ContainsFunc(nodes, func(m Node) bool {
				w, ok := m.(*Work)
				return ok && w.Stitch != stitch.Ch && w.Target.Where == Next && w.Target.Behind == 0
			}) {
				n.Doubt |= Free
			}
		}
	}
}

// picots makes "ch 3, sl st in 3rd ch from hook" the picot that it is.
func picots(nodes []Node) []Node {
	for i := 0; i < len(nodes); i++ {
		switch n := nodes[i].(type) {
		case *Repeat:
			n.Body = picots(n.Body)
		case *In:
			n.Body = picots(n.Body)
		case *Work:
			if i == 0 || n.Stitch != stitch.SlSt && !(n.Stitch == stitch.SC && consumes(nodes[:i])) || n.Places != 1 || n.Per != 1 || n.Target.Where != FromHook {
				continue
			}
			ch, ok := nodes[i-1].(*Work)
			if !ok || ch.Places > stitch.MaxTogether || ch.Stitch != stitch.Ch || ch.Places < n.Target.Chain || ch.Places-n.Target.Chain > 1 {
				continue
			}
			p := &Work{at: at(ch.Span().Join(n.Span())), Stitch: stitch.Stitch{Base: stitch.Chain, Form: stitch.Picot, N: uint8(ch.Places)}, Per: 1, Places: 1}
			nodes = append(append(nodes[:i-1:i-1], p), nodes[i+1:]...)
			i--
		}
	}
	return nodes
}

// groupSpaces gathers "3 dc, ch 2, 3 dc in next sp" into one group in the space.
func groupSpaces(nodes []Node) []Node {
	for i := 0; i < len(nodes); i++ {
		switch n := nodes[i].(type) {
		case *Repeat:
			n.Body = groupSpaces(n.Body)
		case *Work:
			if i < 2 || n.Target.Where != Space && n.Target.Where != Corner && (n.Target.Where != Same || n.Target.Chain == 0) || n.Places != 1 && n.Places != ToEnd {
				continue
			}
			ch, ok := nodes[i-1].(*Work)
			first, ok2 := nodes[i-2].(*Work)
			if !ok || !ok2 || ch.Stitch != stitch.Ch || first.Stitch != n.Stitch || first.Target != (Target{}) || first.Per != 1 ||
				first.Places != n.Per && !(first.Places == n.Per-1 && i > 2 && isChain(nodes[i-3])) { // the starting chain may be one of them
				continue
			}
			first.Per, first.Places, first.Doubt = first.Places, 1, 0
			in := &In{at: at(first.Span().Join(n.Span())), Body: []Node{first, ch, n}, Target: n.Target, Places: n.Places}
			n.Target, n.Places = Target{}, 1
			nodes = append(append(nodes[:i-2:i-2], in), nodes[i+1:]...)
			i -= 2
		}
	}
	return nodes
}

// startingIn settles what says in which chain the stitches begin, and works none:
// it makes the chain before it a foundation, or is said of the first stitches.
func startingIn(nodes []Node) []Node {
	for i, n := range nodes {
		s, ok := n.(*Skip)
		if !ok || s.Target.Where != FromHook {
			continue
		}
		nodes = slices.Delete(clone(nodes), i, i+1)
		for j, n := range nodes {
			w, ok := n.(*Work)
			switch {
			case !ok:
			case w.Stitch == stitch.Ch && w.Places > s.Target.Chain:
				nodes[j] = &Start{at: w.at, Kind: Foundation, Chains: w.Places}
				return nodes
			case w.Stitch != stitch.Ch:
				if w.Target == (Target{}) {
					w.Target, w.Per, w.Places = s.Target, w.Per*w.Places, 1
				}
				return nodes
			}
		}
		return nodes
	}
	return nodes
}

// foundation makes a chain with stitches in the second chain from the hook the
// start of the piece.
func foundation(nodes []Node) []Node {
	nodes = startingIn(nodes)
	for i, n := range nodes {
		w, ok := n.(*Work)
		if !ok || w.Target.Where != FromHook {
			continue
		}
		s := &Start{at: w.at, Kind: SecondCh, Chains: w.Target.Chain}
		from := i
		for j := i - 1; j >= 0; j-- {
			if c, ok := nodes[j].(*Work); ok && c.Stitch == stitch.Ch {
				s.Chains, s.at = c.Places, c.at
				from = j
				break
			}
			if _, ok := nodes[j].(*Start); ok {
				from = j
				break
			}
		}
		if s.Chains > w.Target.Chain {
			s.Kind = Foundation
			if from < i {
				nodes = append(append(append([]Node{}, nodes[:from]...), s), nodes[from+1:]...)
			} else {
				nodes = append(append(append([]Node{}, nodes[:i]...), s), nodes[i:]...)
			}
			return nodes
		}
		w.Places, w.Per = w.Per*w.Places, 1
		rest := []Node{s}
		if k := w.Target.Chain; k > 2 && k <= 8 && w.Stitch.Base >= stitch.Double { // the chains passed over may stand for the first stitch
			rest = append(rest, &Work{at: s.at, Stitch: stitch.Ch, Per: 1, Places: k - 1})
		}
		w.Target = Target{Where: Ring}
		rest = append(rest, nodes[i:]...)
		return append(append([]Node{}, nodes[:from]...), rest...)
	}
	return nodes
}
