package notation

import "roundelay/pattern/stitch"

// closeRound takes a last slip stitch in the "next" stitch, where none is left,
// as the one that joins: "*ch 2, 2 dc in same st, ch 2, sl st in next st; rep from
// * 5 more times" ends where it began.
func (w *working) closeRound() {
	if w.over != 1 || len(w.out) == 0 {
		return
	}
	if s := &w.out[len(w.out)-1]; s.Kind == stitch.SlSt && s.Role == Plain && s.Into.First < 0 && s.Into.Round == w.below.round {
		*s = Stitch{Kind: stitch.SlSt, Into: Into{Where: IntoNothing, Round: -1, Last: -1}, Yarn: s.Yarn, Role: Joining}
		w.over, w.closed = 0, true
	}
}

// closeUnsaid passes over stitches at the end that the text left out.
func (w *working) closeUnsaid() {
	if w.unsaid > 0 && w.over == 0 && w.there()-w.used() == w.unsaid {
		w.pos = len(w.below.elems)
	}
}

// closeMesh takes the last skip of a mesh as told where the round ends with the
// chains over it: "*ch 5, skip 1, sc in next; rep 4 more times, ch 5, join".
func (w *working) closeMesh(nodes []Node) {
	if w.ring || w.problem != "" || w.over > 0 || w.below.round < 0 {
		return
	}
	left := w.there() - w.used()
	if left == 0 || left != lastSkip(nodes) {
		return
	}
	for i := len(w.out) - 1; i >= 0; i-- {
		switch s := w.out[i]; {
		case s.Role == Joining:
			continue
		case s.Kind == stitch.Ch && s.Role == Plain:
			w.pos = len(w.below.elems)
			w.uneven = 0
		}
		return
	}
}

// ringAlone makes a round of nothing but chains: a ring that is counted as the
// first round, to be worked into chain by chain.
func (w *working) ringAlone(nodes []Node) {
	n := 0
	if w.start != nil {
		n = w.start.Chains
		w.start = nil
	}
	if n > MaxRound {
		w.fail("the round makes more than %d stitches", MaxRound)
		return
	}
	for range n {
		w.emit(Stitch{Kind: stitch.Ch, Into: Into{Where: IntoNothing, Round: -1, Last: -1}})
	}
	for i := range w.out {
		if w.out[i].Kind == stitch.Ch {
			w.out[i].Role, w.out[i].Counts = Plain, true
		}
	}
	w.lace = true
}

// chainRing returns the ring of chains that nodes begin with, if they work into
// its chains one by one: "2 sc in each ch", "sc in each st around".
func chainRing(nodes []Node) *Start {
	var s *Start
	for _, n := range nodes {
		switch n := n.(type) {
		case *Start:
			if n.Kind != ChainRing {
				return nil
			}
			s = n
		case *Work:
			if n.Stitch == stitch.Ch {
				continue
			}
			if s != nil && (n.Target.Where == Ring || n.Target.Where == Space) {
				return nil
			}
			if s != nil && (n.Places == ToEnd || n.Target.Kind == stitch.Ch || s.Chains >= 10) {
				return s
			}
			return nil
		case *In:
			if s != nil && (n.Target.Where == Next || n.Target.Where == Any) {
				return s
			}
			return nil
		case *Repeat:
			if s == nil {
				return nil
			}
			if in := chainRing(append([]Node{s}, n.Body...)); in != nil || n.Times == ToEnd && n.Doubt&Bare == 0 && !ringed(n.Body) {
				return s
			}
			return nil
		}
	}
	return nil
}
