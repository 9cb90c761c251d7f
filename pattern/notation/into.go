package notation

import (
	"roundelay/pattern/stitch"
	"slices"
)

// next takes the next stitch of the round below; of chains only if the text
// says so.
func (w *working) next(chains bool) Into {
	if w.ring && len(w.below.elems) == 0 {
		return Into{Where: IntoRing, Round: -1, Last: -1}
	}
	e := w.below.elems
	for w.pos < len(e) && !e[w.pos].counts && !chains && w.senses&ChainsIn == 0 {
		w.pos++
	}
	if w.pos >= len(e) {
		w.over++
		w.lastPos = -1
		w.lastInto = Into{Where: IntoStitch, Round: w.below.round, First: -1, Last: -1}
		return w.lastInto
	}
	w.lastPos = w.pos
	w.lastInto = Into{Where: e[w.pos].place, Round: w.below.round, First: e[w.pos].first, Last: e[w.pos].last}
	w.pos++
	return w.lastInto
}

// center takes the stitch in the middle of the next group, or its n-th stitch;
// where no stitch is asked for, the next space.
func (w *working) center(t Target) Into {
	n, stitch := t.Chain, t.Kind.Base != stitch.NoBase
	w.centred = w.below.grouped && (!w.below.spaced || stitch)
	w.lace = true
	e := w.below.elems
	if !w.below.grouped || n == 0 && !stitch && w.below.spaced {
		if w.below.spaced {
			return w.space(Target{})
		}
		return w.next(false)
	}
	at := w.pos
	for at > 0 && at < len(e) && e[at].group != 0 && e[at].group == e[at-1].group {
		at++ // the rest of the group that was worked into last
	}
	for at < len(e) && e[at].group == 0 {
		at++
	}
	if at >= len(e) {
		w.over++
		w.lastPos = -1
		w.lastInto = Into{Where: IntoStitch, Round: w.below.round, First: -1, Last: -1}
		return w.lastInto
	}
	var posts []int
	for j := at; j < len(e) && e[j].group == e[at].group; j++ {
		if !e[j].chain {
			posts = append(posts, j)
		}
	}
	if n == 0 && len(posts)%2 == 0 && w.below.inner {
		w.pos = at
		return w.space(Target{Where: Corner})
	}
	k := len(posts) / 2
	if n > 0 {
		k = min(n, len(posts)) - 1
	}
	w.pos = posts[k]
	return w.next(false)
}

// reach makes the round that t names the one worked into behind the one below.
// It reports false if that is no earlier one.
func (w *working) reach(t Target) bool {
	if w.farNumber == t.Behind && w.far.known {
		return true
	}
	if w.rounds == nil {
		return false
	}
	f, ok := w.rounds(t.Behind)
	if !ok || f.round == w.below.round {
		return false
	}
	w.far, w.farNumber, w.farPos = f, t.Behind, 0
	return true
}

// behind takes the next stitch of the earlier round that is worked into: among
// stitches into the round below, the next one that lies under these.
func (w *working) behind() Into {
	w.lace = w.lace || w.pos == 0
	e := w.far.elems
	if w.pos > 0 && len(e) > 0 {
		w.farPos = max(w.farPos, (w.pos*len(e)-1)/len(w.below.elems)) // as far round, as if both grew alike
	}
	for w.farPos < len(e) && !e[w.farPos].counts {
		w.farPos++
	}
	w.lastPos = -1
	w.lastInto = Into{Where: IntoStitch, Round: w.far.round, First: -1, Last: -1}
	if w.farPos >= len(e) {
		w.over++
		return w.lastInto
	}
	w.lastInto = Into{Where: e[w.farPos].place, Round: w.far.round, First: e[w.farPos].first, Last: e[w.farPos].last}
	w.farPos++
	return w.lastInto
}

// taking returns what a place of the kind where is on the round below: a loop or
// a space, where there are none, is a stitch.
func (w *working) taking(t Target, where Where) Where {
	if (where == Space || where == Corner) && !w.ring && w.below.known && !w.below.spaced && !w.gapped(t) {
		return Next
	}
	return where
}

// gapped reports whether a space, where there are no chains, is the gap between
// groups: "3 dc in each space". A loop of old texts is the top of a stitch.
func (w *working) gapped(t Target) bool {
	return !t.Loop && !w.below.spaced && w.below.paired && (t.Where == Space || t.Where == Corner)
}

// space takes the next chain space.
func (w *working) space(t Target) Into {
	if w.ring && len(w.below.elems) == 0 {
		return Into{Where: IntoRing, Round: -1, Last: -1}
	}
	if w.gapped(t) {
		return w.gap(true)
	}
	if !w.below.spaced {
		return w.next(false) // "in each loop" of old texts: in each stitch
	}
	e := w.below.elems
	at := w.pos
	for at < len(e) && !w.below.named(at, t) {
		at++
	}
	w.lace = w.lace || at >= len(e) || !e[at].counts // the chains of an opening are stitches too
	if at >= len(e) {
		if w.below.round >= 0 {
			w.over++
		}
		w.lastPos = -1
		w.lastInto = Into{Where: IntoSpace, Round: w.below.round, First: -1, Last: -2}
		return w.lastInto
	}
	end := min(at+int(e[at].run), len(e)-1) // a space may be parted where the round begins
	first, last := e[at].first, e[end].first
	if first > last {
		first, last = last, first
	}
	w.lastPos = at
	w.lastInto = Into{Where: IntoSpace, Round: w.below.round, First: first, Last: last}
	w.pos = end + 1
	return w.lastInto
}

// gap takes the gap before the next stitch or, of groups, before the next group.
func (w *working) gap(groups bool) Into {
	e := w.below.elems
	if groups {
		for w.pos < len(e) {
			a, b := e[w.pos], e[(w.pos+1)%len(e)]
			if a.into != b.into && (a.group == 0 || a.group != b.group) {
				break
			}
			w.pos++ // between groups, not inside them
		}
		w.lace = true
	}
	if w.pos+1 > len(e) {
		w.over++
		return Into{Where: IntoGap, Round: w.below.round, First: -1, Last: -1}
	}
	a := e[w.pos]
	b := e[(w.pos+1)%len(e)]
	w.lastPos = w.pos
	w.lastInto = Into{Where: IntoGap, Round: w.below.round, First: a.first, Last: b.first}
	w.pos++
	return w.lastInto
}

// place takes the place that t names.
func (w *working) place(t Target) Into {
	if t.Behind > 0 && w.reach(t) {
		return w.behind()
	}
	switch t.Where {
	case Ring:
		w.lastInto = Into{Where: IntoRing, Round: -1, Last: -1}
		return w.lastInto
	case Elsewhere:
		w.apart, w.lace = true, true
		return Into{Where: IntoStitch, Round: -1, First: -1, Last: -1}
	case Space, Corner:
		return w.space(t)
	case Between:
		if w.ring && len(w.below.elems) == 0 {
			return Into{Where: IntoRing, Round: -1, Last: -1}
		}
		if t.Chain > 0 && w.below.outer {
			return w.space(Target{})
		}
		return w.gap(t.Chain > 0)
	case Same:
		if w.lastInto.Where != IntoNothing {
			w.taken()
			return w.lastInto
		}
		if t.Chain > 0 && w.below.spaced { // the space that the round begins in
			into := w.space(Target{})
			w.begin(false)
			w.taken()
			return into
		}
		return w.next(false)
	case Joined, TopChain:
		if !w.begun || w.pos == 0 {
			if w.lastInto.Where != IntoNothing {
				w.taken()
				return w.lastInto
			}
			return w.next(false)
		}
		if len(w.below.elems) > 0 {
			e := w.below.elems[0]
			return Into{Where: e.place, Round: w.below.round, First: e.first, Last: e.last}
		}
		return w.lastInto
	case Any:
		into := w.next(true)
		if e := w.below.elems; t.Chain > 0 && w.lastPos >= 0 && e[w.lastPos].chain {
			w.pos += int(e[w.lastPos].run)
			into.Where, into.Last = IntoSpace, max(into.Last, e[w.pos-1].first)
			into.First = min(into.First, e[w.pos-1].first)
			w.lastInto = into
		}
		return into
	case Center:
		return w.center(t)
	}
	return w.next(t.Kind == stitch.Ch)
}

// chainSide returns how many chains of a foundation are left on its first side,
// for stitches that go across in each of them: without the last, if that comes
// next. It returns 0 if the round is not there.
func (w *working) chainSide(rest []Node) int {
	e := w.below.elems
	n := w.pos
	for n < len(e) && e[n].place == IntoChain {
		n++
	}
	if n == w.pos || n == len(e) {
		return 0
	}
	for _, m := range rest {
		if _, ok := m.(*Aside); ok {
			continue
		}
		if m, ok := m.(*Work); ok && m.Target.Where == LastCh {
			n--
		}
		break
	}
	return n - w.pos
}

// taken passes over the place that the round begins in, once something is
// worked into it.
func (w *working) taken() {
	w.pos = max(w.pos, w.pending)
	w.pending = 0
}

// left returns how many stitches of the round below are not used yet.
func (w *working) left(chains bool) int {
	n := 0
	for _, e := range w.below.elems[w.pos:] {
		if e.counts || chains || w.senses&ChainsIn != 0 {
			n++
		}
	}
	return n - w.over
}

// more reports whether there is another space, group or gap to work into.
func (w *working) more(t Target) bool {
	if t.Behind > 0 && w.reach(t) {
		return slices.ContainsFunc(w.far.elems[min(w.farPos, len(w.far.elems)):], func(e elem) bool { return e.counts })
	}
	e := w.below.elems
	at := w.pos
	switch where := t.Where; {
	case where == Center && w.below.grouped:
		for at > 0 && at < len(e) && e[at].group != 0 && e[at].group == e[at-1].group {
			at++
		}
		return slices.ContainsFunc(e[min(at, len(e)):], func(e elem) bool { return e.group != 0 })
	case where == Between && t.Chain > 0 && !w.below.outer, w.gapped(t):
		for ; at < len(e); at++ {
			if e[at].into != e[(at+1)%len(e)].into {
				return true
			}
		}
		return false
	case where == Between && t.Chain == 0 || where == Any || !w.below.spaced:
		return at < len(e)
	}
	for ; at < len(e); at++ {
		if w.below.named(at, t) {
			return true
		}
	}
	return false
}

// lead works slip stitches that only lead to where the round begins. What they
// pass over comes last in the round.
func (w *working) lead(n *Work, count int, rest []Node) {
	for range count {
		w.emit(Stitch{Kind: n.Stitch, Into: w.place(n.Target), Role: Joining})
	}
	if e := w.below.elems; w.lastPos >= 0 && e[w.lastPos].chain && w.lastInto.Where != IntoSpace { // into its chains: to the space
		for w.pos = w.lastPos; w.pos > 0 && e[w.pos-1].chain && e[w.pos-1].run == e[w.pos].run+1; {
			w.pos--
		}
		w.space(Target{})
	}
	in, _ := placeOf(rest)
	if e := w.below.elems; (n.Target.Where == Center || in.Where == Center) && w.lastPos >= 0 && e[w.lastPos].group != 0 {
		for w.lastPos > 0 && e[w.lastPos-1].group == e[w.lastPos].group {
			w.lastPos-- // the round begins with its group
		}
		w.begin(true)
		return
	}
	w.begin(leadsToChain(rest))
}
