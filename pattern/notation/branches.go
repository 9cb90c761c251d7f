package notation

import "roundelay/pattern/stitch"

// Branches are chains that a round makes and works back along before it goes on:
// tentacles, curls, fingers (common practice). Their stitches are none of the round.
// At the top of a line, what could be the foundation of a piece is none.
func (p *parser) branches(nodes []Node, top bool) []Node {
	for i := 0; i < len(nodes); i++ {
		if r, ok := nodes[i].(*Repeat); ok {
			r.Body = p.branches(r.Body, false)
			continue
		}
		n := branch(nodes[i:])
		if n == 0 || top && !consumes(nodes[:i]) && (p.line.First < 2 || !consumes(nodes[i+n:])) {
			continue
		}
		s := nodes[i].Span().Join(nodes[i+n-1].Span())
		if !s.IsValid() {
			continue
		}
		made := &Aside{at: at(s), Text: p.text[s.From:s.To]}
		nodes = append(append(nodes[:i:i], made), nodes[i+n:]...)
	}
	return nodes
}

// branch returns how many of nodes are a chain and the stitches worked back along
// all of it; 0 if they do not begin with one.
func branch(nodes []Node) int {
	ch, ok := nodes[0].(*Work)
	if !ok || ch.Stitch != stitch.Ch || ch.Places < 2 || len(nodes) < 2 {
		return 0
	}
	left, sure := 0, false
	switch n := nodes[1].(type) {
	case *Skip: // "starting in 2nd ch from hook"
		if n.Target.Where != FromHook {
			return 0
		}
		left = ch.Places - n.Target.Chain + 1
	case *Work:
		if n.Target.Where != FromHook {
			return 0
		}
		left = ch.Places - n.Target.Chain
		if left == 0 && n.Stitch == stitch.SlSt {
			return 0 // a picot
		}
		if sure = n.Places == ToEnd; sure { // "sl st back down the chain"
			return 2
		}
	default:
		return 0
	}
	few := left < 2 // "ch 3, sl st in 2nd ch from hook, sc in next st": hardly in the chain
	k := 2
	for ; left > 0 && k < len(nodes); k++ {
		w, ok := nodes[k].(*Work)
		if !ok || w.Target.Where != Next || w.Stitch == stitch.Ch || few && w.Target.Kind != stitch.Ch {
			return 0
		}
		if w.Places == ToEnd {
			if w.Target.Kind != stitch.Ch {
				return 0
			}
			return k + 1
		}
		left -= w.Places * max(w.Stitch.Legs(), 1)
	}
	if left != 0 {
		return 0
	}
	return k
}

// backAlong reads "back down the chain", "back over it" after stitches that a chain
// stands before: into each of its chains.
func (p *parser) backAlong(before []Node) place {
	if !isChain(lastNode(before)) || p.peek().sym != sBack {
		return place{}
	}
	j := 1
	for ; j < 6; j++ {
		t := p.at(j)
		if namesChain(t) {
			j++
			break
		}
		if t.sym != sFill && t.sym != sOver && t.sym != sAround && t.sym != sIn && t.sym != sTo && t.sym != sRing && !alongWords[t.text] {
			break
		}
	}
	p.pos += j
	return place{ok: true, each: true, toEnd: true, target: Target{Where: FromHook, Chain: 2}}
}
