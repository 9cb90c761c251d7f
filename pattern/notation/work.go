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

// An elem is one place of the round below.
type elem struct {
	first, last int32 // the stitches it is made of
	chain       bool  // a chain of a space
	counts      bool  // "each st" is worked into it
	run         int32 // of a chain: how many more of its space come after it
	into        int32 // stitches worked into one place have one number
	group       int32 // stitches worked into one place together, such as a shell, have one number; 0 for a stitch alone
	place       Place
}

// A fabric is the round below, as places to work into, in the order in which
// they are met.
type fabric struct {
	elems    []elem
	round    int32 // index of the round; -1 if it is only a number of stitches
	stitches int   // how many of elems are no chains
	known    bool  // false: nothing is known of it, not even its count
	spaced   bool  // it has chain spaces
	grouped  bool  // some of elems are of a group
	inner    bool  // some chain spaces are inside a group: corners, shells

	runs [10]bool // there are spaces of so many chains
}

// places returns the places of a round. A turned round is met from its end.
func places(r *Round, index int) fabric {
	f := fabric{elems: make([]elem, 0, len(r.Stitches)), round: int32(index), known: true}
	for i := range r.Stitches {
		s := &r.Stitches[i]
		e := elem{first: int32(i), last: int32(i), place: IntoStitch}
		switch {
		case s.Role == Joining, s.Kind.Form == stitch.Picot:
			continue
		case s.Role == StartingChain:
			if !s.Counts {
				continue
			}
		case s.Kind == stitch.Ch:
			e.chain, f.spaced = true, true
		}
		e.counts = s.Counts
		if e.counts {
			f.stitches++
		}
		f.elems = append(f.elems, e)
	}
	if r.Turned {
		for i, j := 0, len(f.elems)-1; i < j; i, j = i+1, j-1 {
			f.elems[i], f.elems[j] = f.elems[j], f.elems[i]
		}
	}
	f.group(r.Stitches)
	run := int32(0)
	for i := len(f.elems) - 1; i >= 0; i-- {
		if !f.elems[i].chain {
			run = 0
			continue
		}
		f.elems[i].run = run
		run++
		if int(run) < len(f.runs) && (i == 0 || !f.elems[i-1].chain) {
			f.runs[run] = true
		}
	}
	return f
}

// group numbers the elems that were worked into one place together, three
// stitches or more, or two with chains between them.
func (f *fabric) group(stitches []Stitch) {
	alone := func(e elem) bool {
		s := stitches[e.first]
		return s.Role == StartingChain || s.Into.Where == IntoRing || s.Into.Where == IntoNothing
	}
	for i := range f.elems {
		if i == 0 {
			continue
		}
		a, b := &stitches[f.elems[i-1].first], &stitches[f.elems[i].first]
		f.elems[i].into = f.elems[i-1].into
		if a.Into != b.Into && a.Role != StartingChain {
			f.elems[i].into++
		}
	}
	id := int32(0)
	for i := 0; i < len(f.elems); {
		if f.elems[i].chain || alone(f.elems[i]) {
			i++
			continue
		}
		into := stitches[f.elems[i].first].Into
		end, posts, chains := i+1, 1, 0
		for j := i + 1; j < len(f.elems); j++ {
			if f.elems[j].chain {
				continue
			}
			if alone(f.elems[j]) || stitches[f.elems[j].first].Into != into {
				break
			}
			chains += j - end
			end, posts = j+1, posts+1
		}
		if posts >= 3 || posts == 2 && chains > 0 {
			id++
			for j := i; j < end; j++ {
				f.elems[j].group = id
			}
			f.grouped = true
			f.inner = f.inner || chains > 0
		}
		i = end
	}
	if f.grouped || !f.spaced {
		return
	}
	// "the centre dc of next group", where chains part the groups
	for i := 0; i < len(f.elems); {
		end := i
		for end < len(f.elems) && !f.elems[end].chain {
			end++
		}
		if end-i >= 3 {
			id++
			f.grouped = true
			for j := i; j < end; j++ {
				f.elems[j].group = id
			}
		}
		i = max(end, i+1)
	}
}

// plainFabric is a round below of which only the count is known.
func plainFabric(n int) fabric {
	n = min(n, MaxRound)
	f := fabric{elems: make([]elem, n), round: -1, stitches: n, known: true}
	for i := range f.elems {
		f.elems[i] = elem{first: int32(i), last: int32(i), place: IntoStitch, counts: true}
	}
	return f
}

// ringFabric is a ring of n chains that are worked into one by one.
func ringFabric(n, index int) fabric {
	f := fabric{round: int32(index), known: true, stitches: n}
	for i := range n {
		f.elems = append(f.elems, elem{first: int32(i), last: int32(i), place: IntoChain, counts: true})
	}
	return f
}

// foundationFabric is both sides of a foundation chain of n, from the k-th chain from the hook.
func foundationFabric(n, k, index int) fabric {
	f := fabric{round: int32(index), known: true}
	for i := n - k; i >= 0; i-- {
		f.elems = append(f.elems, elem{first: int32(i), last: int32(i), place: IntoChain, counts: true})
	}
	for i := 1; i <= n-k; i++ {
		f.elems = append(f.elems, elem{first: int32(i), last: int32(i), place: IntoUnder, counts: true})
	}
	f.stitches = len(f.elems)
	return f
}

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
	deep      int  // how many groups stand round what is being worked
	pending   int  // elems of the place that the round begins in, if nothing was worked into it yet
	inSpace   bool // that place is a space
	travelled bool // the round begins where slip stitches or a new yarn led to
}

// maxSteps bounds the work on one round, whatever it makes.
const maxSteps = 20 * MaxRound

// partly reports whether a round of spaces or groups leaves a good part of the
// round below: it was not read as it was meant.
func (w *working) partly() bool {
	n := len(w.below.elems)
	return w.lace && !w.ring && !w.far.known && w.below.round >= 0 && n >= 6 && w.pos < n*2/3 && w.start == nil
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
	w.centred = w.below.grouped && !w.below.spaced
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

// named reports whether a space as t names it begins at the elem i: of those
// inside groups if there are some and a corner or shell is asked for, of as many
// chains as t says if there are some.
func (f *fabric) named(i int, t Target) bool {
	e := f.elems[i]
	switch {
	case !e.chain:
		return false
	case t.Where == Corner && f.inner:
		return e.group != 0
	case t.Chain > 0 && t.Chain < len(f.runs) && f.runs[t.Chain]:
		return int(e.run)+1 == t.Chain && (i == 0 || !f.elems[i-1].chain || f.elems[i-1].run == 0)
	}
	return true
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

// behind takes the next stitch of the earlier round that is worked into.
func (w *working) behind() Into {
	w.lace = w.lace || w.pos == 0
	e := w.far.elems
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

// space takes the next chain space.
func (w *working) space(t Target) Into {
	if w.ring && len(w.below.elems) == 0 {
		return Into{Where: IntoRing, Round: -1, Last: -1}
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

// place takes the place that t names.
func (w *working) place(t Target) Into {
	if t.Behind > 0 && w.reach(t) {
		return w.behind()
	}
	switch t.Where {
	case Ring:
		w.lastInto = Into{Where: IntoRing, Round: -1, Last: -1}
		return w.lastInto
	case Space, Corner:
		return w.space(t)
	case Between:
		if w.ring && len(w.below.elems) == 0 {
			return Into{Where: IntoRing, Round: -1, Last: -1}
		}
		e := w.below.elems
		if t.Chain > 0 {
			if w.below.spaced {
				return w.space(Target{})
			}
			for w.pos < len(e) && e[w.pos].into == e[(w.pos+1)%len(e)].into {
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

// run works a list of instructions.
func (w *working) run(nodes []Node) {
	for i := 0; i < len(nodes); i++ {
		if w.problem != "" {
			return
		}
		if k := together(nodes[i:]); k > 0 && w.below.spaced {
			w.interleave(nodes[i : i+k])
			i += k - 1
			continue
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
	if n.Doubt&w.senses&(TwoInOne|TwoTight) != 0 {
		per, count = n.Places, 1
	}
	target := n.Target
	if n.Doubt&w.senses&SameNext != 0 {
		target = Target{}
	}
	legs := n.Stitch.Legs()
	if n.Stitch == stitch.Ch {
		from := len(w.out)
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
	w.lace = w.lace || n.Target.Where == Between && count != ToEnd
	if count == ToEnd && n.Target.Behind > 0 {
		for w.more(n.Target) && w.problem == "" && w.far.known {
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
			for w.more(n.Target) && w.problem == "" {
				into := w.place(n.Target)
				w.stitches(n, per, into)
			}
			return
		}
		left := w.left(n.Target.Where == Any) - max(n.Leave, w.uses(rest), 0)
		if !w.below.known {
			w.fail("the count of the round below is not known")
			return
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
		(leadsToChain(rest) || (n.Target.Where == Space || n.Target.Where == Corner) && w.below.spaced || n.Target.Where == Center || n.Doubt&Leading != 0 && w.senses&Leading != 0) {
		w.lead(n, count, rest)
		return
	}
	for range count {
		if n.Doubt&Free != 0 && w.senses&Free == 0 {
			w.next(false)
		}
		into := w.place(target)
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

// interleave works nodes as their places come. Spaces that none of them names
// are passed over.
func (w *working) interleave(nodes []Node) {
	w.lace = true
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

// lead works slip stitches that only lead to where the round begins. What they
// pass over comes last in the round.
func (w *working) lead(n *Work, count int, rest []Node) {
	for range count {
		w.emit(Stitch{Kind: n.Stitch, Into: w.place(n.Target), Role: Joining})
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

// taken passes over the place that the round begins in, once something is
// worked into it.
func (w *working) taken() {
	w.pos = max(w.pos, w.pending)
	w.pending = 0
}

// from returns f as it is met from the elem at on, all round.
func (f fabric) from(at int) fabric {
	e := f.elems
	f.elems = append(append(make([]elem, 0, len(e)), e[at:]...), e[:at]...)
	return f
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
	case where == Between && t.Chain > 0 && !w.below.spaced:
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
		switch {
		case w.chain == ChainCounts:
			counts = true
		case w.chain == ChainNotCounted:
			counts = false
		default:
			counts = byRule != (w.senses&ChainIn != 0)
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
		if counts && !w.inSpace && w.senses&JoinIn == 0 && len(w.below.elems) > 0 {
			w.next(true) // it stands on the stitch joined to
		}
	}
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

// in works a group into one place, or into each of several.
func (w *working) in(n *In, rest []Node) {
	count := n.Places
	spaces := n.Target.Where == Space || n.Target.Where == Corner || n.Target.Where == Between || n.Target.Where == Center
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
			w.uneven = max(1, w.left(false))
			return
		}
		if w.pos == was && w.farPos == far {
			w.fail("the repeated group uses no stitches, so it cannot be worked around")
			return
		}
	}
	w.fail("the round makes more than %d stitches", MaxRound)
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
		}
		if (t.Where == Space || t.Where == Corner) && places > 0 {
			n = min(n+places, MaxRound)
		}
	}
	return n
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
		if t.Where == Space || t.Where == Corner || t.Where == Center || t.Behind > 0 {
			return t, true
		}
	}
	return Target{}, false
}

func usesSpace(body []Node) bool {
	_, ok := placeOf(body)
	return ok
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
			switch where {
			case Next, First, LastCh, Any:
				if n.Stitch.Legs() == 0 {
					continue
				}
				if count == ToEnd {
					return -1
				}
				u = count * n.Stitch.Legs()
			case Ring, Joined, TopChain:
				continue
			case Same:
				u = n.Stitch.Legs() - 1
				if u < 0 {
					u = 0
				}
			default:
				return -1
			}
		case *In:
			switch n.Target.Where {
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
			if n.Target.Where == Space {
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

// endsInChains reports whether a group ends with chains.
func endsInChains(body []Node) bool {
	if len(body) == 0 {
		return false
	}
	w, ok := body[len(body)-1].(*Work)
	return ok && w.Stitch == stitch.Ch
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
		case *Join, *Aside, *Turn:
		default:
			return false
		}
	}
	return chains
}
