package notation

import (
	"cmp"
	"fmt"
	"math/bits"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
	"strings"
)

// A sense is a doubt, where it depends on the stitch together with that.
type sense struct {
	doubt Doubt
	base  stitch.Base
}

// steady are the doubts that an author settles in one way throughout. How often
// a group goes, on the other hand, is meant now so, now so.
const steady = ChainIn | JoinIn | TwoInOne | TwoTight | More | Counted

// senses lists the steady doubts of a round.
func senses(mask Doubt, body []Node) []sense {
	var out []sense
	for d := Doubt(1); d != 0 && d <= mask; d <<= 1 {
		if d&mask&steady == 0 {
			continue
		}
		s := sense{doubt: d}
		if d&(ChainIn|JoinIn) != 0 {
			s.base = firstBase(body)
		}
		out = append(out, s)
	}
	return out
}

// note counts in which sense a round came out.
func (e *expander) note(mask, in Doubt, body []Node) {
	for _, s := range senses(mask, body) {
		n := e.seen[s]
		if in&s.doubt != 0 {
			n[1]++
		} else {
			n[0]++
		}
		e.seen[s] = n
	}
}

// held returns the doubts of which both senses were met, one of them much more
// often, with that one.
func (e *expander) held() map[sense]bool {
	held := map[sense]bool{}
	for s, n := range e.seen {
		switch {
		case n[0] > 0 && n[1] > 0 && n[0] >= 2*n[1]:
			held[s] = false
		case n[0] > 0 && n[1] > 0 && n[1] >= 2*n[0]:
			held[s] = true
		}
	}
	return held
}

// readAs says what it means to read a round in other senses than those that the
// author was seen to use; senses without a word of their own say nothing.
func readAs(changed, in Doubt) string {
	var said []string
	for _, s := range []struct {
		doubt   Doubt
		yes, no string
	}{
		{TwoInOne | TwoTight, "two stitches named together are worked into one", "two stitches named together are worked one into each of two"},
		{More, "the repeats come after a first time", "the repeats are counted in all"},
		{ChainsIn, "the chains count as stitches", "the chains do not count as stitches"},
		{Nth, "more plain stitches, or fewer, stand between the increases or decreases", "as many plain stitches stand between the increases or decreases as said"},
		{LastOnly, "only the last of the list is repeated", "all of the list is repeated"},
		{SameNext, "the same stitch is the next one", ""},
	} {
		switch {
		case changed&s.doubt == 0:
		case in&s.doubt != 0 && s.yes != "":
			said = append(said, s.yes)
		case in&s.doubt == 0 && s.no != "":
			said = append(said, s.no)
		}
	}
	return strings.Join(said, ", and ")
}

// ambiguous reports whether a round that declares no count comes out in another
// reading too, with another count, and nothing before it shows which is meant.
func (e *expander) ambiguous(l *Line, body []Node, free, habit Doubt, made int) bool {
	for _, d := range []Doubt{TwoTight, More} {
		if free&d == 0 || e.seen[sense{doubt: d}] != [2]int{} {
			continue
		}
		if w := e.work(body, habit^d); e.fits(w, l, -1) && w.made() != made {
			e.report(l, bodySpan(l), source.Warning, "ambiguous", "say the count at the end of the round",
				"it can be read as making %s or %s, and no count says which", stitches(made), stitches(w.made()))
			return true
		}
	}
	return false
}

// maxSettled is the most rounds of a range that are tried in each sense.
const maxSettled = 60

// settle finds the sense in which every round of a range comes out, since all
// of them are one instruction, and makes it the habit.
func (e *expander) settle(l *Line, body []Node, count, declared int) {
	mask := e.mask(body)
	if mask == 0 || count > maxSettled {
		return
	}
	below := e.below
	defer func() { e.below, e.settled = below, true }()
	best, found := e.habit&mask, false
	for s := mask; ; s = (s - 1) & mask {
		if s == e.habit&mask || !found || nearer(s, best, e.habit&mask) {
			e.below = below
			ok := true
			for k := 0; k < count && ok; k++ {
				w := e.work(body, s)
				want := -1
				if k == count-1 {
					want = declared
				}
				if ok = e.fits(w, l, want); ok {
					e.below = places(&Round{Stitches: w.out, Turned: w.turned}, 0)
				}
			}
			if ok && (!found || nearer(s, best, e.habit&mask)) {
				best, found = s, true
			}
		}
		if s == 0 {
			break
		}
	}
	if found {
		e.habit = e.habit&^mask | best
	}
}

// mask returns the ways in which a round can be read twice on the round below.
func (e *expander) mask(body []Node) Doubt {
	mask := doubts(body)
	if startsWithChain(afterSlips(body)) || e.carry > 0 {
		if e.chainRule(body) == ByConvention {
			mask |= ChainIn
		}
		mask |= JoinIn
	}
	for _, el := range e.below.elems {
		if el.chain {
			mask |= ChainsIn
			break
		}
	}
	if hasChains(body) {
		mask |= ChainsIn
	}
	if startsWithChain(body) {
		mask |= Cut
	}
	return mask
}

// nearer reports whether the senses a are nearer to what the author was seen to
// mean than b.
func nearer(a, b, habit Doubt) bool {
	x, y := bits.OnesCount16(uint16(a^habit)), bits.OnesCount16(uint16(b^habit))
	return x < y || x == y && a < b
}

// chainRule says how the starting chain of nodes, the instruction of e.now,
// counts. What its own line says goes before what another line says; "ch 3
// counts as dc" said of another line is not said of the single chain before sc.
func (e *expander) chainRule(nodes []Node) ChainRule {
	switch {
	case e.now != nil && e.now.Chain != ByConvention:
		return e.now.Chain
	case e.opt.Chain != ByConvention:
		return e.opt.Chain
	}
	base := firstBase(nodes)
	r := e.chains[base]
	switch {
	case r == ChainCounts && base <= stitch.Half:
		return ByConvention // said where it is so; elsewhere the counts tell
	case r == ChainCounts && startingChains(nodes) == 1:
		return ByConvention
	case r != ByConvention || base <= stitch.Half:
		return r
	}
	for b, r := range e.chains {
		if b > stitch.Half && r == ChainCounts {
			return r // "ch 3 counts as dc" goes for taller stitches too
		}
	}
	return ByConvention
}

// guess works a round of which only its own count is known: "around" is taken
// to come out even.
func (e *expander) guess(nodes []Node, declared int, mask Doubt) *working {
	if declared <= 0 || declared > MaxRound {
		return nil
	}
	probe := plainFabric(MaxRound)
	for _, n := range nodes {
		r, ok := n.(*Repeat)
		if !ok {
			if w, ok := n.(*Work); ok && w.Places == ToEnd && w.Per > 0 && len(nodes) <= 3 {
				save := e.below
				e.below = plainFabric(declared / w.Per * w.Stitch.Legs())
				out := e.work(nodes, e.habit&mask)
				e.below = save
				if out.problem == "" && out.made() == declared {
					return out
				}
				return nil
			}
			continue
		}
		w := &working{below: probe, yarns: &e.yarns, main: e.main, lastPos: -1}
		w.run(r.Body)
		if w.problem != "" || w.made() == 0 || declared%w.made() != 0 {
			return nil
		}
		save := e.below
		e.below = plainFabric(declared / w.made() * w.used())
		out := e.work(nodes, e.habit&mask)
		e.below = save
		if out.problem == "" && out.made() == declared && out.uneven == 0 {
			return out
		}
		return nil
	}
	return nil
}

// fits reports whether a round came out as its line says and uses all that is
// there.
func (e *expander) fits(w *working, l *Line, declared int) bool {
	// "(24 dc, 12 ch-1 sp)" or a count that includes the chains is told by the
	// sense ChainsIn
	return e.usesUp(w) && (declared < 0 || w.made() == declared) && (w.said == 0 || w.made() == w.said)
}

// usesUp reports whether a round came out and uses all that is there.
func (e *expander) usesUp(w *working) bool {
	return w.problem == "" && w.uneven == 0 && (w.ring || w.lace || !e.below.known || w.used() == w.there())
}

// round works one round in the reading that the counts allow, and says how it
// came out. It returns nil if it cannot be worked at all.
func (e *expander) round(l *Line, body []Node, declared int, ranged bool) (*working, Word) {
	e.mended = nil
	mask := e.mask(body)
	habit := e.habit & mask
	if base := firstBase(body); base == stitch.Single && e.seen[sense{doubt: ChainIn, base: base}] == [2]int{} {
		habit &^= ChainIn // what was seen of taller stitches says nothing of it
	}
	free := mask // what may be read in the other sense
	for _, s := range senses(mask, body) {
		if in, ok := e.fixed[s]; ok {
			free &^= s.doubt
			if habit &^= s.doubt; in {
				habit |= s.doubt
			}
		}
	}
	if declared < 0 && e.begun && e.below.round < 0 && e.below.known && usesSpace(body) && !e.below.spaced {
		return nil, Unread // what spaces there are is not known after a round that went wrong
	}
	first := e.work(body, habit)
	if declared < 0 && e.fits(first, l, declared) && first.partly() {
		e.report(l, bodySpan(l), source.Warning, "unread", "say how often it is repeated, or the count at the end", "only a part of the round below is worked into")
		return nil, Unread
	}
	if w := e.bySpaces(l, body, first, habit, free); declared < 0 && w != nil {
		return w, OK
	}
	if e.fits(first, l, declared) {
		if declared >= 0 {
			e.note(mask, habit, body)
		} else if mask&More != 0 && !e.fits(e.work(body, habit^More), l, -1) {
			e.note(mask&More, habit, body) // what it uses shows it
		} else if e.ambiguous(l, body, free, habit, first.made()) {
			return first, Ambiguous
		}
		return first, OK
	}
	if free != 0 && !e.settled {
		var best, whole *working // whole uses up the round below, where only the last item is repeated
		bestSenses := Doubt(0)
		uses := first.uneven != 0 || e.fits(first, l, -1)
		for s := free; ; s = (s - 1) & free {
			if in := habit&^free | s; in != habit {
				w := e.work(body, in)
				if e.fits(w, l, declared) && (best == nil || nearer(in, bestSenses, habit)) {
					best, bestSenses = w, in
				}
				if !uses && (in^habit)&^(LastOnly|Counted) == 0 && e.usesUp(w) && whole == nil {
					whole = w
				}
			}
			if s == 0 {
				break
			}
		}
		if best != nil {
			if declared >= 0 {
				e.note(mask, bestSenses, body)
			} else {
				e.note(mask&More, bestSenses, body) // what it uses shows it
			}
			if said := readAs(bestSenses^habit, bestSenses); said != "" && !e.opt.Strict {
				e.report(l, bodySpan(l), source.Note, "settled", "", "by the counts it is read so that %s", said)
			}
			e.habit = e.habit&^mask | bestSenses
			return best, OK
		}
		if whole != nil {
			first = whole
		}
	}
	if e.begun && e.below.round < 0 && !e.below.spaced && usesSpace(body) {
		if w := e.counted(body, declared, habit); w != nil {
			return w, OK
		}
		return nil, Unread // what spaces there are is not known after a round that went wrong
	}
	if e.below.guessed {
		return nil, Unread
	}
	if first.problem != "" {
		if !e.begun && !first.ring && !e.below.known {
			return nil, Unread
		}
		if !e.below.known {
			if w := e.guess(body, declared, mask); w != nil {
				return w, OK
			}
			if e.begun || !e.opt.Strict {
				return nil, Unread
			}
		}
		e.report(l, bodySpan(l), source.Error, "work", "", "%s", first.problem)
		return nil, Unread
	}
	if l.Weak {
		sev := source.Warning
		if e.opt.Strict {
			sev = source.Error
		}
		e.report(l, bodySpan(l), sev, "unread", "say where in trade words, such as in next st", "the words of a place were not understood, and the counts do not agree")
		return nil, Unread
	}
	word := Mismatch
	if first.said > 0 {
		declared = first.said
	}
	repair := e.repair(l, body, declared)
	switch {
	case first.uneven != 0:
		word = Indivisible
		left := stitches(first.uneven) + " are"
		if first.uneven == 1 {
			left = "1 stitch is"
		}
		e.report(l, bodySpan(l), source.Error, "uneven", cmp.Or(repair, evenHint(first)),
			"a group that uses %s does not come out even: %s left over of %d", stitches(first.evenOf), left, first.there())
	case !first.ring && !first.lace && first.used() != first.there() && e.below.known:
		hint := cmp.Or(repair, fmt.Sprintf("it has to use all %d", first.there()))
		if first.used() > first.there() {
			e.report(l, bodySpan(l), source.Error, "count-used", hint, "it uses %s; the round below has %d", stitches(first.used()), first.there())
		} else {
			e.report(l, bodySpan(l), source.Error, "count-used", hint, "it uses %s of the %d of the round below", stitches(first.used()), first.there())
		}
	}
	if declared >= 0 && first.made() != declared {
		at := source.Span{}
		if l.Declared != nil {
			at = l.Declared.At
		} else if n := maybeCount(body); n != nil {
			at = n.Span()
		}
		is := "are"
		if declared == 1 {
			is = "is"
		}
		e.report(l, at, source.Error, "count-made", cmp.Or(repair, fmt.Sprintf("%d would be right, if the instruction is", first.made())),
			"it makes %s; %d %s declared", stitches(first.made()), declared, is)
	}
	return first, word
}

// counted works a round that says itself how often all of it is worked, on a round
// below of which nothing is known. It returns nil if it is not of that kind, or
// does not make what it declares.
func (e *expander) counted(body []Node, declared int, habit Doubt) *working {
	if declared < 0 || !timed(body) {
		return nil
	}
	below := e.below
	e.below = fabric{round: -1}
	w := e.work(body, habit)
	e.below = below
	if w.problem != "" || w.made() != declared {
		return nil
	}
	w.lace, w.over, w.pos, w.guessed = true, 0, 0, true
	return w
}

// bySpaces works a round, which first does not read so, in the sense that makes
// the chain spaces that it declares. It returns nil if none does.
func (e *expander) bySpaces(l *Line, body []Node, first *working, habit, free Doubt) *working {
	want := declaredSpaces(l)
	if want == 0 || first.spacesMade() == want {
		return nil
	}
	var best *working
	bestSenses := Doubt(0)
	for s := free; s != 0; s = (s - 1) & free {
		in := habit&^free | s
		if s&ChainsIn != 0 && habit&ChainsIn == 0 || best != nil && !nearer(in, bestSenses, habit) {
			continue // chains that are spaces are no stitches
		}
		if w := e.work(body, in); e.fits(w, l, -1) && w.spacesMade() == want {
			best, bestSenses = w, in
		}
	}
	return best
}

func evenHint(w *working) string {
	if w.evenOf == 0 {
		return ""
	}
	for d := 1; d < w.evenOf; d++ {
		for _, n := range []int{w.evenOf - d, w.evenOf + d} {
			if n > 1 && w.there()%n == 0 {
				return fmt.Sprintf("%d is a multiple of %d, not of %d", w.there(), n, w.evenOf)
			}
		}
	}
	return fmt.Sprintf("%d is not a multiple of %d", w.there(), w.evenOf)
}

// work works nodes on the round below in the senses given.
func (e *expander) work(nodes []Node, senses Doubt) *working {
	w := &working{
		below: e.below, senses: senses, chain: e.chainRule(nodes), joined: e.joined,
		yarns: &e.yarns, yarn: e.yarn, main: e.main, lastPos: -1,
		out: make([]Stitch, 0, len(e.below.elems)*5/4+16), rounds: e.numbered,
	}
	if e.now != nil {
		w.chainAs = e.now.ChainAs
	}
	if !e.begun && !e.below.known {
		w.ring = true
		w.below = fabric{round: -1, known: true}
	}
	if e.carry > 0 {
		w.chains(e.carry, nodes)
	}
	for _, n := range nodes {
		if s, ok := n.(*Start); ok && s.Kind == Foundation {
			k := 2
			for _, n := range nodes {
				if x, ok := n.(*Work); ok && x.Target.Where == FromHook {
					k = x.Target.Chain
				}
			}
			if k > 0 && s.Chains >= k && s.Chains <= MaxRound {
				w.below = foundationFabric(s.Chains, k, len(e.res.Rounds))
				w.ring, w.lace = false, true
			}
		}
	}
	if s := chainRing(nodes); s != nil && s.Chains > 0 && s.Chains <= MaxRound {
		w.below, w.ring, w.onChain = ringFabric(s.Chains, len(e.res.Rounds)), false, true
	}
	w.run(nodes)
	w.closeRound()
	w.closeUnsaid()
	w.closeMesh(nodes)
	if w.start != nil && w.start.Kind == ChainRing && len(w.out) == 0 && !hasWork(nodes) || onlyChains(nodes) && w.made() == 0 {
		w.ringAlone(nodes)
	}
	return w
}
