package notation

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"roundelay/pattern/stitch"
)

// MaxRound is the most stitches that one round may have. No published round
// comes near it; an instruction that makes more is refused.
const MaxRound = 20_000

// A working is one instruction being worked on the round below.
type working struct {
	below   fabric
	senses  Doubt
	chain   ChainRule   // how the starting chain counts, if that is stated
	chainAs stitch.Base // the stitch it counts as, if that is stated
	joined  bool
	yarns   *yarnList
	yarn    uint8
	loop    Loop
	main    stitch.Base

	out      []Stitch
	pos      int // the next elem
	over     int // stitches used that are not there
	lastInto Into
	lastPos  int  // elem of lastInto; -1 if none
	ring     bool // the round begins the piece: "next" is the ring
	begun    bool // something but starting chains was worked
	centred  bool // only the middles of groups were worked into, which go over all stitches there are
	guessed  bool // what it was worked into is not known
	lace     bool // spaces were worked into: used says little
	chained  bool // it has a starting chain
	closed   bool // joined with a slip stitch
	turned   bool
	start    *Start
	carry    int // chains at the end of the round, for the next one

	uneven  int // what "around" leaves over; 0 if it comes out even
	evenOf  int // stitches of one repeat of it
	problem string
	steps   int

	rounds func(number int) (fabric, bool) // an earlier round, as places to work into
	far    fabric                          // the earlier round that is being worked into, behind the one below
	farPos int                             // the next elem of far

	farNumber int // of far, as the text names it

	onChain   bool // the round is worked into the chains of a ring, not round them
	unsaid    int  // stitches passed over at the end that the text does not name
	first     Node // the first instruction that works more than chains
	deep      int  // how many groups stand round what is being worked
	pending   int  // elems of the place that the round begins in, if nothing was worked into it yet
	inSpace   bool // that place is a space
	apart     bool // stitches of other pieces are worked into
	said      int  // the count that the instruction itself ends with, read so; 0 if none
	travelled bool // the round begins where slip stitches or a new yarn led to
}

// maxSteps bounds the work on one round, whatever it makes.
const maxSteps = 20 * MaxRound

// partly reports whether a round of spaces or groups leaves a good part of the
// round below: it was not read as it was meant.
func (w *working) partly() bool {
	n := len(w.below.elems)
	return w.lace && !w.apart && !w.ring && !w.far.known && w.below.round >= 0 && n >= 6 && w.pos < n*2/3 && w.start == nil
}

// used returns how many stitches of the round below are used.
func (w *working) used() int {
	n := w.over
	for _, e := range w.below.elems[:w.pos] {
		if e.counts || w.senses&ChainsIn != 0 {
			n++
		}
	}
	return n
}

// there returns how many stitches there are to use.
func (w *working) there() int {
	if w.senses&ChainsIn != 0 {
		return len(w.below.elems)
	}
	return w.below.stitches
}

func (w *working) made() int {
	n := 0
	for i := range w.out {
		if w.out[i].Counts || w.senses&ChainsIn != 0 && w.out[i].Kind == stitch.Ch && w.out[i].Role == Plain {
			n++
		}
	}
	return n
}

// spacesMade returns how many chain spaces the round has.
func (w *working) spacesMade() int {
	n := 0
	open := false
	for _, s := range w.out {
		chain := s.Kind == stitch.Ch && s.Role == Plain
		if chain && !open {
			n++
		}
		open = chain
	}
	return n
}

func (w *working) fail(format string, args ...any) {
	if w.problem == "" {
		w.problem = fmt.Sprintf(format, args...)
	}
}

func (w *working) emit(s Stitch) {
	if len(w.out) >= MaxRound {
		w.fail("the round makes more than %d stitches", MaxRound)
		return
	}
	s.Yarn = w.yarn
	w.out = append(w.out, s)
}

// run works a list of instructions.
func (w *working) run(nodes []Node) {
	for i := 0; i < len(nodes); i++ {
		if w.problem != "" {
			return
		}
		if k := together(nodes[i:]); k > 0 && (w.below.spaced || w.below.grouped && atCorners(nodes[i:i+k])) {
			w.interleave(nodes[i : i+k])
			i += k - 1
			continue
		}
		if sl, ok := nodes[i].(*Work); w.first == nil && w.deep == 0 && hasWork(nodes[i:i+1]) && !(ok && sl.Stitch == stitch.SlSt) {
			w.first = nodes[i]
		}
		w.node(nodes[i], nodes[i+1:])
	}
}

func (w *working) node(n Node, rest []Node) {
	if w.steps++; w.steps > maxSteps {
		w.fail("the round takes more than %d steps to work", maxSteps)
		return
	}
	switch n := n.(type) {
	case *Work:
		w.work(n, rest)
	case *In:
		w.in(n, rest)
	case *Repeat:
		w.repeat(n, rest)
	case *Skip:
		if n.Target.Where == Space {
			for range min(n.N, MaxRound) {
				w.space(n.Target)
			}
			return
		}
		if n.N == ToEnd {
			w.pos = len(w.below.elems)
			return
		}
		last := w.lastInto
		for range min(n.N, MaxRound) {
			w.next(n.Target.Where == Any)
		}
		w.lastInto = last
		w.begun = true
	case *Start:
		w.start = n
		switch n.Kind {
		case Foundation:
			w.lace = true
		case ChainRing:
			if w.below.round >= 0 && w.onChain {
				break // its chains are worked into, one by one
			}
			w.ring = true
			w.below = fabric{round: -1, known: true}
			w.pos = 0
		default:
			w.ring = true
			w.below = fabric{round: -1, known: true}
			w.pos = 0
		}
	case *Join:
		w.join(n)
	case *Turn:
		w.turned = !hasWork(rest) // a half turn at the end of a chain is no turn of the round
	case *Yarn:
		if k, ok := w.yarns.index(n.Key); ok {
			w.yarn = k
		}
	case *LoopMode:
		w.loop = n.Loop
	case *Evenly:
		w.evenly(n)
	case *SameAs:
		w.fail("a round that repeats others cannot stand inside an instruction")
	case *Aside:
	}
}

func (w *working) join(n *Join) {
	if n.Opening {
		if n.Into.Where == Space || n.Into.Where == Corner || n.Into.Where == Center {
			w.emit(Stitch{Kind: stitch.SlSt, Into: w.place(n.Into), Role: Joining})
			w.begin(true)
		}
		return
	}
	if n.Doubt&w.senses&SlipIn != 0 {
		w.work(&Work{at: n.at, Stitch: stitch.SlSt, Per: 1, Places: 1}, nil)
		return
	}
	w.closed = true
	into := Into{Where: IntoNothing, Round: -1, Last: -1}
	w.emit(Stitch{Kind: stitch.SlSt, Into: into, Role: Joining})
}

// work works stitches of one kind.
func (w *working) work(n *Work, rest []Node) {
	per, count := n.Per, n.Places
	if n.Doubt&w.senses&Counted != 0 {
		w.said = count
		return
	}
	if n.Doubt&w.senses&(TwoInOne|TwoTight) != 0 {
		per, count = n.Places, 1
	}
	target := n.Target
	if n.Doubt&w.senses&SameNext != 0 {
		target = Target{}
	}
	legs := n.legs()
	if n.Stitch == stitch.Ch {
		from := len(w.out)
		if chain := w.chain; n.Within {
			w.chain = ChainNotCounted
			w.chains(count, rest)
			w.chain = chain
			return
		}
		w.chains(count, rest)
		if n.Doubt&Mesh != 0 && w.senses&Mesh == 0 {
			for i := from; i < len(w.out); i++ {
				w.out[i].Counts = true
			}
		}
		return
	}
	if n.Stitch.Form == stitch.Picot {
		for range min(count, MaxRound) {
			w.emit(Stitch{Kind: n.Stitch, Into: Into{Where: IntoNothing, Round: -1, Last: -1}})
		}
		return
	}
	w.lace = w.lace || n.Target.Where == Between && count != ToEnd && n.Stitch != stitch.SlSt
	if count == ToEnd && n.Target.Behind > 0 && w.reach(n.Target) {
		for w.more(n.Target) && w.problem == "" {
			w.stitches(n, per, w.place(n.Target))
		}
		return
	}
	if count == ToEnd {
		switch n.Target.Where {
		case Space, Corner, Between, Any, Center:
			if !w.below.known {
				w.fail("the round below is not known")
				return
			}
			if w.ring && len(w.below.elems) == 0 {
				w.fail("around a ring: the number of stitches is not said")
				return
			}
			for w.more(n.Target) && w.problem == "" {
				into := w.place(n.Target)
				w.stitches(n, per, into)
			}
			return
		}
		if n.Target.Where == Elsewhere && w.below.known { // the pieces are alike
			w.work(&Work{at: n.at, Stitch: n.Stitch, Per: n.Per, Places: w.below.stitches, Target: n.Target, Loop: n.Loop}, rest)
			return
		}
		left := w.left(n.Target.Where == Any) - max(n.Leave, w.uses(rest), 0)
		if !w.below.known {
			w.fail("the count of the round below is not known")
			return
		}
		if side := w.chainSide(rest); n.Target.Kind == stitch.Ch && side > 0 {
			left = side
		}
		if left < 0 {
			left = 0
		}
		count = left / legs
		if left%legs != 0 && w.uneven == 0 {
			w.uneven, w.evenOf = left%legs, legs
		}
		if left == 0 && len(w.below.elems) == 0 {
			if w.ring {
				w.fail("around a ring: the number of stitches is not said")
			}
		}
	}
	if count > MaxRound || per > MaxRound || count*per > MaxRound {
		w.fail("the round makes more than %d stitches", MaxRound)
		return
	}
	if n.Stitch == stitch.SlSt && !w.begun && w.deep == 0 && count > 0 && n.Places != ToEnd &&
		(leadsToChain(rest) || leadsToSame(rest) || (n.Target.Where == Space || n.Target.Where == Corner) && w.below.spaced || n.Target.Where == Center || n.Doubt&Leading != 0 && w.senses&Leading != 0) {
		w.lead(n, count, rest)
		return
	}
	for range count {
		into := w.place(target)
		if n.Doubt&Free != 0 && w.senses&Free == 0 { // it takes the next place, too
			last, at := w.lastInto, w.lastPos
			w.next(false)
			w.lastInto, w.lastPos = last, at
		}
		for range legs - 1 {
			second := w.next(false)
			if second.First >= 0 {
				if second.First < into.First {
					into.First = second.First
				} else {
					into.Last = second.Last
				}
			}
		}
		w.stitches(n, per, into)
		if w.problem != "" {
			return
		}
	}
}

// interleave works nodes as their places come. Spaces that none of them names
// are passed over.
func (w *working) interleave(nodes []Node) {
	w.lace = w.lace || w.below.spaced
	middles := w.below.middles() // the corners, where no chains are
	longest := int32(0)
	for _, e := range w.below.elems {
		if e.chain {
			longest = max(longest, e.run+1)
		}
	}
	for w.pos < len(w.below.elems) && w.problem == "" {
		e := w.below.elems[w.pos]
		chains := e.run + 1
		corner := e.chain && (w.below.inner && e.group != 0 || !w.below.inner && chains == longest)
		var best Node
		fit := 0
		for _, n := range nodes {
			t, ok := allRound(n)
			is := 0
			switch {
			case !ok:
			case !e.chain:
				if t.Where == Next {
					is = 1
				} else if t.Where == Corner && !w.below.spaced && middles[w.pos] {
					is = 3
				}
			case t.Where == Corner && corner:
				is = 3
			case t.Where == Space && t.Chain == int(chains):
				is = 2
			case t.Where == Space && t.Chain == 0:
				is = 1
			}
			if is > fit {
				best, fit = n, is
			}
		}
		if best == nil && e.chain && !e.counts {
			w.pos += int(chains)
			continue
		}
		into := Into{}
		if e.chain && fit > 0 {
			into = w.space(Target{})
		} else {
			into = w.next(false)
		}
		switch n := best.(type) {
		case *Work:
			w.stitches(n, n.Per, into)
		case *In:
			w.begun = true
			w.inside(n.Body, into)
		}
	}
}

// begin makes the place that was taken last the one where the round begins.
// A starting chain that follows stands in it.
func (w *working) begin(chain bool) {
	w.travelled = true
	from := w.pos
	space := w.lastInto.Where == IntoSpace
	if (space || chain) && w.lastPos >= 0 {
		from = w.lastPos
	}
	w.pending = w.pos - from
	w.below = w.below.from(from)
	w.pos, w.lastPos = 0, 0
	w.inSpace = space
}

// stitches makes per stitches in one place.
func (w *working) stitches(n *Work, per int, into Into) {
	w.begun = true
	loop := n.Loop
	if loop == BothLoops {
		loop = w.loop
	}
	counts := n.Stitch.Tops() > 0 && !(n.Stitch == stitch.SlSt && n.Target.Where == Same) // a loop of chains is fastened back
	for range per {
		w.emit(Stitch{Kind: n.Stitch, Into: into, Loop: loop, Counts: counts})
	}
}

// chains works n chains. At the start of a joined round they stand for its
// first stitch.
func (w *working) chains(n int, rest []Node) {
	if n > MaxRound {
		w.fail("the round makes more than %d stitches", MaxRound)
		return
	}
	nothing := Into{Where: IntoNothing, Round: -1, Last: -1}
	if w.closed && !hasWork(rest) { // the chain of the next round, told at the end of this one
		w.carry += n
		return
	}
	stand := 0
	counts := false
	if !w.begun && !w.chained && w.deep == 0 && (len(w.out) == 0 || w.travelled) && n <= 8 {
		base := cmp.Or(w.chainAs, firstBase(rest), w.main)
		usual, byRule := stitch.Stitch{Base: base}.StartingChains()
		byRule = byRule && n > 1 // "ch 1, cluster in next": no height
		switch {
		case w.chain == ChainCounts:
			counts = true
		case w.chain == ChainNotCounted:
			counts = false
		default:
			counts = byRule != (w.senses&ChainIn != 0) && (n > 1 || usual < 2)
		}
		stand = n
		if usual > 0 && n > usual {
			switch {
			case base == stitch.Single && n >= 3 && !w.joined:
				stand = 0 // a loop of chains
			case base == stitch.Single && n == 2:
			case n > usual+1 || (w.chain == ChainCounts || spacedGroup(rest)) && n > usual:
				stand = usual // "ch 5" for a dc and a space of two
				if base == stitch.Single && w.chain != ChainCounts {
					stand = 0
				}
			}
		}
	}
	for i := range n {
		s := Stitch{Kind: stitch.Ch, Into: nothing}
		if i < stand {
			s.Role = StartingChain
			s.Counts = counts && i == stand-1
		}
		w.emit(s)
	}
	if stand > 0 {
		w.chained = true
		if _, ok := nextWork(rest).(*Repeat); ok && counts && w.inSpace {
			w.taken() // it stands in the space that slip stitches led to
		}
		if counts && !w.inSpace && w.senses&JoinIn == 0 && len(w.below.elems) > 0 {
			w.next(true) // it stands on the stitch joined to
		}
		if counts && w.inSpace && n > stand && goesBySpaces(rest) {
			w.taken() // "ch 4, *dc in next ch-1 sp, ch 1": the space it stands in has its stitch
		}
	}
}

// in works a group into one place, or into each of several.
func (w *working) in(n *In, rest []Node) {
	count := n.Places
	spaces := n.Target.Where == Space || n.Target.Where == Corner || n.Target.Where == Between || n.Target.Where == Center
	if count == ToEnd && spaces && !w.below.known && len(w.below.elems) == 0 && !w.ring {
		w.fail("the spaces of the round below are not known")
		return
	}
	if count == ToEnd && !spaces {
		if !w.below.known {
			w.fail("the count of the round below is not known")
			return
		}
		count = max(0, w.left(n.Target.Where == Any)-max(w.uses(rest), 0))
	}
	for i := 0; i < count || count == ToEnd && w.more(n.Target); i++ {
		if i > MaxRound {
			w.fail("the round makes more than %d stitches", MaxRound)
			return
		}
		into := w.place(n.Target)
		w.begun = true
		w.inside(n.Body, into)
		if w.problem != "" {
			return
		}
	}
}

// onlyJoins reports whether stitches do no more than lead to where the round
// begins.
func onlyJoins(stitches []Stitch) bool {
	return !slices.ContainsFunc(stitches, func(s Stitch) bool { return s.Role != Joining })
}

// inside works all of nodes into one place.
func (w *working) inside(nodes []Node, into Into) {
	for i, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Stitch == stitch.Ch && i == 0 && !w.chained && onlyJoins(w.out) {
				w.begun = false
				w.chains(n.Places, []Node{&Work{Stitch: stitch.Stitch{Base: baseOf(nodes, w.main)}}})
				w.begun = true
				continue
			}
			if n.Stitch == stitch.Ch {
				for range min(n.Places, MaxRound) {
					w.emit(Stitch{Kind: stitch.Ch, Into: Into{Where: IntoNothing, Round: -1, Last: -1}})
				}
				continue
			}
			k := n.Per * max(n.Places, 1)
			if k > MaxRound {
				w.fail("the round makes more than %d stitches", MaxRound)
				return
			}
			if n.Stitch.Form == stitch.Picot {
				w.emit(Stitch{Kind: n.Stitch, Into: Into{Where: IntoNothing, Round: -1, Last: -1}})
				continue
			}
			w.stitches(n, k, into)
		case *Repeat:
			times := n.Times
			if times == ToEnd {
				times = 1
			}
			for range min(times, MaxRound) {
				w.inside(n.Body, into)
				if w.problem != "" {
					return
				}
			}
		case *In:
			w.inside(n.Body, into)
		case *Yarn, *LoopMode, *Turn, *Aside:
			w.node(n, nil)
		}
	}
}

// repeat works a group several times.
func (w *working) repeat(n *Repeat, rest []Node) {
	w.deep++
	defer func() { w.deep-- }()
	times, body := n.Times, n.Body
	if n.Doubt&w.senses&Nth != 0 {
		body = n.Or
	}
	if n.Doubt&Bare != 0 && w.senses&Bare != 0 {
		if times == ToEnd {
			times = 1
		} else {
			times = ToEnd
		}
	}
	if n.Doubt&More != 0 && w.senses&More != 0 && times > 0 {
		times++
	}
	if n.Doubt&LastOnly != 0 && w.senses&LastOnly != 0 && len(body) > 1 {
		w.run(body[:len(body)-1])
		body = body[len(body)-1:]
	}
	if times == ToEnd {
		w.around(n, body, rest)
		return
	}
	if times > MaxRound {
		w.fail("a group is worked %d times; a round has at most %d stitches", times, MaxRound)
		return
	}
	for i := range times {
		if n.Stop > 0 && i == times-1 && n.Stop <= len(body) {
			w.run(body[:n.Stop])
			break
		}
		w.run(body)
		if w.problem != "" {
			return
		}
	}
}

// around works a group until the round below is used up.
func (w *working) around(n *Repeat, body, rest []Node) {
	if !w.below.known {
		w.fail("the count of the round below is not known")
		return
	}
	tail := max(w.uses(rest), n.Leave, 0)
	per := w.uses(body)
	if per > 0 {
		left := w.left(false) - tail
		short := 0 // what the last pass leaves out
		if n.Stop > 0 && n.Stop < len(body) {
			short = per - w.uses(body[:n.Stop])
		}
		times := max(0, (left+short)/per)
		if over := left + short - times*per; over > 0 && !n.Rest && over == skipsFirst(body) && (onlyChains(rest) || endsInChains(body) && !hasWork(rest)) {
			// "*ch 2, miss 1, 1 dc; rep to end, ch 2, join": the last skip goes unsaid
			defer func() { w.pos = min(w.pos+over, len(w.below.elems)) }()
		} else if cut := w.cut(body, over); over > 0 && !n.Rest && cut > 0 && w.chained && w.senses&Cut != 0 {
			// the starting chain stands for the last stitch of the last pass
			defer func() { w.run(body[:cut]) }()
		} else if over > 0 && over == skipUnsaid(body, rest) {
			w.unsaid = over
		} else if over != 0 && !n.Rest {
			w.uneven, w.evenOf = max(over, 0), per
		}
		for i := range times {
			if short > 0 && i == times-1 {
				w.run(body[:n.Stop])
				break
			}
			w.run(body)
			if w.problem != "" {
				return
			}
		}
		if n.Rest {
			if over := left - times*per; over > 0 {
				w.work(&Work{Stitch: stitch.Stitch{Base: baseOf(body, w.main)}, Per: 1, Places: over}, nil)
			}
		}
		return
	}
	// spaces: go on while there are some
	kept := w.lastSpaces(spacesIn(rest))
	for range MaxRound {
		if w.pos >= kept {
			return
		}
		if w.pos >= len(w.below.elems) || tail > 0 && w.left(false) <= tail {
			return
		}
		if in, ok := placeOf(body); ok && !w.more(in) {
			if w.below.spaced && w.meets(body) && isChain(body[0]) && !hasChains(rest) && !onlyChains(rest) {
				w.node(body[0], body[1:]) // back to the stitch that the round began with
			} else if first := w.uses(body[:len(body)-1]); w.meets(body) && first > 0 && first <= w.left(false)-tail {
				w.run(body[:len(body)-1]) // back to the group that the round began with
			}
			return
		}
		was, over, far := w.pos, w.over, w.farPos
		mark := len(w.out)
		if n.Stop > 0 && n.Stop < len(body) { // the last pass ends there
			w.run(body[:n.Stop])
			if in, ok := placeOf(body); w.pos >= len(w.below.elems) || ok && !w.more(in) {
				return
			}
			w.run(body[n.Stop:])
		} else {
			w.run(body)
		}
		if w.problem != "" {
			return
		}
		if w.over > over {
			// it went past the end: the last pass was not there to be worked
			w.out, w.pos, w.over = w.out[:mark], was, over
			if w.meets(body) {
				if w.run(body[:len(body)-1]); w.over == over {
					return // its last stitch is the one that the round begins with
				}
				w.out, w.pos, w.over = w.out[:mark], was, over
			}
			if !w.endsOn(rest) {
				w.uneven = max(1, w.left(false))
			}
			return
		}
		if w.pos == was && w.farPos == far {
			w.fail("the repeated group uses no stitches, so it cannot be worked around")
			return
		}
	}
	w.fail("the round makes more than %d stitches", MaxRound)
}

// endsOn reports whether the end of the round, that is told after a repeat, works
// into spaces that are left.
func (w *working) endsOn(rest []Node) bool {
	if !usesSpace(rest) {
		return false
	}
	probe := *w
	probe.out = slices.Clip(w.out)
	probe.run(rest)
	in, _ := placeOf(rest)
	return probe.problem == "" && probe.over == w.over && !probe.more(in)
}

// lastSpaces returns the elem from which on there are no more than n chain
// spaces; past the end, if n is 0.
func (w *working) lastSpaces(n int) int {
	e := w.below.elems
	if n == 0 {
		return len(e) + 1
	}
	for i := len(e) - 1; i >= 0; i-- {
		if e[i].chain && e[i].run == 0 {
			if n--; n < 0 {
				return i + 1
			}
		}
	}
	return 0
}

// meets reports whether the last stitch of a group is of the kind that the round
// began with, so that the last pass may end at it.
func (w *working) meets(body []Node) bool {
	if in, ok := body[len(body)-1].(*In); ok && len(body) > 1 {
		first, ok := w.first.(*In)
		return ok && (first.Target.Where == in.Target.Where && alike(first.Body, in.Body) || w.travelled && first.Target.Where == Same && in.Target.Where == Corner)
	}
	last, ok := body[len(body)-1].(*Work)
	if !ok || len(body) < 2 || last.Places != 1 || last.Per != 1 {
		return false
	}
	for _, s := range w.out {
		switch {
		case s.Role == Joining, s.Role == StartingChain && !s.Counts:
			continue
		case s.Role == StartingChain:
			return last.Stitch.Base > stitch.Half
		}
		return s.Kind == last.Stitch
	}
	return false
}

// cut returns how many nodes of a group use n stitches; 0 if none do just that.
func (w *working) cut(body []Node, n int) int {
	for i := 1; i < len(body) && n > 0; i++ {
		if w.uses(body[:i]) == n {
			return i
		}
	}
	return 0
}

// legs returns how many stitches of the round below one stitch of n takes: all
// legs of a cluster in a space go into that space.
func (n *Work) legs() int {
	switch n.Target.Where {
	case Space, Corner, Between, Ring:
		return min(n.Stitch.Legs(), 1)
	case Same:
		if n.Target.Chain > 0 {
			return min(n.Stitch.Legs(), 1)
		}
	}
	return n.Stitch.Legs()
}

// uses returns how many stitches of the round below nodes use, or -1 if that
// depends on the round below.
func (w *working) uses(nodes []Node) int {
	sum := 0
	for _, n := range nodes {
		u := 0
		switch n := n.(type) {
		case *Work:
			count := n.Places
			if n.Doubt&w.senses&Counted != 0 {
				continue
			}
			if n.Doubt&w.senses&(TwoInOne|TwoTight) != 0 {
				count = 1
			}
			where := n.Target.Where
			if n.Doubt&w.senses&SameNext != 0 {
				where = Next
			}
			if n.Target.Behind > 0 && n.Doubt&Free == 0 {
				return -1
			}
			if n.Doubt&w.senses&Free != 0 {
				continue
			}
			switch w.taking(n.Target, where) {
			case Next, First, LastCh, Any:
				if n.legs() == 0 {
					continue
				}
				if count == ToEnd {
					return -1
				}
				u = count * n.legs()
			case Ring, Joined, TopChain, Elsewhere:
				continue
			case Same:
				u = n.legs() - 1
				if u < 0 {
					u = 0
				}
			default:
				return -1
			}
		case *In:
			switch w.taking(n.Target, n.Target.Where) {
			case Next, First, LastCh, Any:
				if n.Places == ToEnd {
					return -1
				}
				u = n.Places
			case Same, Ring, Joined, TopChain:
				continue
			default:
				return -1
			}
		case *Join:
			if n.Doubt&w.senses&SlipIn != 0 {
				u = 1
			}
		case *Skip:
			if w.taking(n.Target, n.Target.Where) == Space || n.N == ToEnd {
				return -1
			}
			u = n.N
		case *Repeat:
			times, body := n.Times, n.Body
			if n.Doubt&Bare != 0 && w.senses&Bare != 0 {
				if times == ToEnd {
					times = 1
				} else {
					times = ToEnd
				}
			}
			if times == ToEnd {
				return -1
			}
			if n.Doubt&More != 0 && w.senses&More != 0 {
				times++
			}
			b := w.uses(body)
			if b < 0 {
				return -1
			}
			if n.Doubt&LastOnly != 0 && w.senses&LastOnly != 0 {
				u = b + (times-1)*max(w.uses(body[len(body)-1:]), 0)
			} else {
				u = min(b*min(times, MaxRound+1), 4*MaxRound)
				if n.Stop > 0 && n.Stop < len(body) {
					u -= b - w.uses(body[:n.Stop])
				}
			}
		case *Evenly:
			return -1
		}
		sum = min(sum+u, 4*MaxRound)
	}
	return sum
}

// evenly works the round plain with increases or decreases spread over it, the
// t-th of k at the place floor(t n / k) of n.
func (w *working) evenly(n *Evenly) {
	if !w.below.known {
		w.fail("the count of the round below is not known")
		return
	}
	if n.Thus {
		w.fail("no round before says how many")
		return
	}
	left := w.left(false)
	k := n.N
	if n.To > 0 && len(w.below.elems) == 0 {
		w.work(&Work{Stitch: n.Stitch, Per: 1, Places: n.To, Target: Target{Where: Ring}}, nil)
		return
	}
	if n.To > 0 {
		k = n.To - left
	}
	base := n.Stitch.Base
	if base == stitch.NoBase {
		base = baseOf(nil, w.main)
	}
	plain := stitch.Stitch{Base: base}
	if k >= 0 {
		if k > left {
			w.fail("%d increases are more than the %d stitches there are", k, left)
			return
		}
		t := 0
		for i := range left {
			per := 1
			if t < k && i == t*left/max(k, 1) {
				per, t = 2, t+1
			}
			w.work(&Work{Stitch: plain, Per: per, Places: 1}, nil)
		}
		return
	}
	k = -k
	to := left - k
	if to < k {
		w.fail("%d decreases need %d stitches; there are %d", k, 2*k, left)
		return
	}
	t := 0
	dec := stitch.Stitch{Base: base, Form: stitch.Together, N: 2}
	for i := range to {
		s := plain
		if t < k && i == t*to/k {
			s, t = dec, t+1
		}
		w.work(&Work{Stitch: s, Per: 1, Places: 1}, nil)
	}
}

// A yarnList is the yarns of a piece, by the keys that the rounds use.
type yarnList struct {
	keys  []string
	asked []string // keys that were not known
	open  bool     // keys that are not known are added
}

// index returns the number of the yarn with the key.
func (l *yarnList) index(key string) (uint8, bool) {
	for i, k := range l.keys {
		if strings.EqualFold(k, key) {
			return uint8(i), true
		}
	}
	if !l.open || len(l.keys) >= 250 {
		l.asked = append(l.asked, key)
		return 0, false
	}
	l.keys = append(l.keys, key)
	return uint8(len(l.keys) - 1), true
}
