package notation

import "roundelay/pattern/stitch"

// heldWords begin words that keep the last loop of each stitch on the hook, so
// that all of them become one.
var heldWords = map[string]bool{"leaving": true, "holding": true, "holding back": true, "hold": true, "hold back": true, "leave": true, "retaining": true, "retain": true, "keeping": true, "keep": true, "omitting": true}

// heldLoops returns how many tokens "leaving the last loop of each on hook" is, i
// tokens on; 0 if it does not stand there.
func (p *parser) heldLoops(i int) int {
	if !heldWords[p.at(i).text] {
		return 0
	}
	j := p.past(i+1, sFill, sBack, sIn, sHook)
	if p.at(j).sym != sLast {
		return 0
	}
	j = p.past(j+1, sFill, sNumber)
	if p.at(j).sym != sLoop {
		return 0
	}
	for j++; ; j++ {
		switch t := p.at(j); {
		case t.sym == sFill && verbs[t.text]:
			return j - i
		case t.sym == sFill, t.sym == sOf, t.sym == sEach, t.sym == sSt, t.sym == sIn, t.sym == sHook, t.sym == sBack:
		case t.sym == sStitch && p.at(j-1).sym != sNumber && p.at(j+1).sym != sNumber: // "of each dc"
		default:
			return j - i
		}
	}
}

// drawn passes over "yarn over and draw through all loops on hook".
func (p *parser) drawn() bool {
	i := p.pos
	p.pos += p.past(0, sComma, sAnd)
	loops, through := false, false
	for from := p.pos; p.pos < from+20 && !p.end(); p.pos++ {
		t := p.peek()
		if t.sym == sStop || t.sym == sOpen || t.sym == sClose || t.sym == sStar || t.sym == sEqual || t.sym == sStitch || loops && (t.sym == sComma || t.sym == sAnd) {
			break
		}
		through = through || t.text == "through" || t.text == "thru" || t.text == "off"
		loops = loops || through && (t.sym == sLoop || t.sym == sHook || t.sym == sTog || t.sym == sOnce)
	}
	if !loops {
		p.pos = i
	}
	return loops
}

// completed passes over "and complete cluster as before".
func (p *series) completed() {
	j := p.past(0, sComma, sAnd)
	if t := p.at(j).text; t != "complete" && t != "completing" && t != "finish" {
		return
	}
	for p.pos += j; !p.end(); p.pos++ {
		if s := p.peek().sym; s == sStop || s == sComma || s == sOpen || s == sClose || s == sStar {
			return
		}
	}
}

// heldBack reads "leaving the last loop of each on hook, work 2 tr in same sp,
// thread over and draw through all loops on hook", or the same words after the
// stitches, as the one stitch that it makes.
func (p *series) heldBack(i int) bool {
	k := p.heldLoops(0)
	if k == 0 {
		return false
	}
	p.pos += k
	if p.drawn() { // the stitches stand before
		if w, ok := lastNode(p.nodes).(*Work); ok && p.cluster(w) {
			p.nodes = withinCluster(p.nodes[:len(p.nodes)-1], w)
			return true
		}
		p.pos = i
		return false
	}
	p.pos += p.past(0, sComma, sFill)
	items := p.item(nil)
	if len(items) != 1 {
		p.pos = i
		return false
	}
	w, ok := items[0].(*Work)
	if !ok || !p.cluster(w) {
		p.pos = i
		return false
	}
	p.drawn()
	p.completed()
	w.at = p.span(i)
	p.nodes = withinCluster(p.nodes, w)
	return true
}

// cluster makes stitches the one that they are when their last loops are drawn
// off together: a cluster, where they are worked into one place.
func (p *series) cluster(w *Work) bool {
	n, form := w.Per, stitch.Cluster
	if w.Per == 1 || w.Doubt != 0 && w.Target == (Target{}) {
		n = w.Per * w.Places
		if p.depth == 0 {
			form = stitch.Together
		}
	}
	if n < 2 || n > stitch.MaxTogether || w.Stitch.Form != stitch.Plain || w.Stitch.Base <= stitch.Slip {
		return false
	}
	w.Stitch.Form, w.Stitch.N, w.Per, w.Places, w.Doubt = form, uint8(n), 1, 1, NoDoubt
	return true
}

// withinCluster adds w to nodes. If they end with the starting chain, that is a
// part of the cluster.
func withinCluster(nodes []Node, w *Work) []Node {
	if ch, ok := lastNode(nodes).(*Work); ok && ch.Stitch == stitch.Ch && opensRound(nodes) && w.Stitch.N < stitch.MaxTogether {
		ch.Within = true
		w.Stitch.N++
	}
	return append(nodes, w)
}

// opensRound reports whether nodes are no more than slip stitches and the starting
// chain that they lead to.
func opensRound(nodes []Node) bool {
	for i, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Stitch == stitch.Ch && i == len(nodes)-1 {
				return true
			}
			if n.Stitch != stitch.SlSt {
				return false
			}
		case *Join, *Yarn, *Aside, *Start, *Turn:
		default:
			return false
		}
	}
	return false
}

// clusterStarts marks starting chains that are a part of the cluster after them:
// where the other clusters of the round have a stitch more.
func clusterStarts(nodes []Node) {
	for i := 0; i+1 < len(nodes); i++ {
		ch, ok := nodes[i].(*Work)
		if !ok {
			continue
		}
		w, ok := nodes[i+1].(*Work)
		if ch.Stitch != stitch.Ch || ch.Within || !ok || !gathers(w) || !opensRound(nodes[:i+1]) {
			continue
		}
		if fuller(nodes[i+2:], w) {
			ch.Within = true
			w.Stitch.N++
		}
		return
	}
}

// gathers reports whether w makes several stitches one.
func gathers(w *Work) bool {
	return w.Stitch.Form == stitch.Together || w.Stitch.Form == stitch.Cluster
}

// fuller reports whether nodes hold a cluster like w with a stitch more.
func fuller(nodes []Node, w *Work) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if gathers(n) && n.Stitch.Base == w.Stitch.Base && n.Stitch.N == w.Stitch.N+1 {
				return true
			}
		case *In:
			if fuller(n.Body, w) {
				return true
			}
		case *Repeat:
			if fuller(n.Body, w) {
				return true
			}
		}
	}
	return false
}
