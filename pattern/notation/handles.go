package notation

import "roundelay/pattern/stitch"

// bridges reports whether the chains of nodes lead over as many stitches as they
// are themselves, here and there in a round and not all round, as for the handles
// of a basket: "sc 8, ch 8, skip 8, sc 8". The next round is worked into such
// chains one by one, so they count.
func bridges(nodes []Node) bool {
	over := 0
	for i, n := range nodes {
		switch n := n.(type) {
		case *Repeat:
			if n.Times == ToEnd || n.Times > 4 {
				return false
			}
			if bridges(n.Body) {
				over++
			} else if skips(n.Body) {
				return false
			}
		case *Skip:
			if n.Target.Where != Next || !leadsOver(nodes, i, n.N) {
				return false
			}
			over++
		case *In:
			return false
		}
	}
	return over > 0
}

// leadsOver reports whether n chains stand beside the skip at i.
func leadsOver(nodes []Node, i, n int) bool {
	for _, k := range []int{i - 1, i + 1} {
		if k < 0 || k >= len(nodes) {
			continue
		}
		if w, ok := nodes[k].(*Work); ok && w.Stitch == stitch.Ch && w.Places == n && n >= 3 {
			return true
		}
	}
	return false
}
