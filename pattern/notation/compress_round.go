package notation

import (
	"slices"

	"roundelay/pattern/stitch"
)

// An action is what is done in one place, a chain, or a place passed over. Two
// actions that are equal are written alike.
type action struct {
	stitch stitch.Stitch // NoBase: a place is passed over; or see group
	per    int           // stitches in the place
	target Target
	loop   Loop
	yarn   uint8
	group  string // names a group of stitches in one place (see instructor.groups)
	other  bool   // from here on along the other side of the chain
}

// instruct returns the instruction of rounds[i], as short as [compress] makes
// it, for a reader who has the yarn in her hand that the round below ended with.
// yarns are their names.
func instruct(rounds []*Round, i int, inHand uint8, yarns []string) ([]Node, uint8) {
	in := newInstructor(rounds, i)
	in.inHand, in.yarns = inHand, yarns
	return in.nodes(), in.inHand
}

// An instructor finds the instruction of one round.
type instructor struct {
	round  *Round
	rounds []*Round // of the piece, this one and those before it
	yarns  []string
	inHand uint8

	below    fabric
	elems    map[Into]int // where in below.elems a single stitch, or chain, is
	fromHook int          // of a piece worked along both sides of a chain: where it begins; else 0
	turned   bool         // it is worked along the second side now
	begins   int          // the elem where the round begins, past the one that the starting chain stands in
	next     int          // the elem that comes next
	place    Into         // where the last stitch was worked
	placed   bool
	fromBack bool // of repeats that are as short as each other the last is taken
	loop     Loop // that all stitches of the round are worked into, if they are

	actions []action // every different one
	groups  map[string][]Stitch
}

func newInstructor(rounds []*Round, i int) *instructor {
	in := &instructor{round: rounds[i], rounds: rounds[:i+1], groups: map[string][]Stitch{}}
	below := in.round.Below
	switch {
	case isFoundation(rounds, below) && rounds[below].Start.Kind == ChainRing:
		in.below = ringFabric(len(rounds[below].Stitches), below)
	case isFoundation(rounds, below):
		n := len(rounds[below].Stitches)
		in.fromHook = 2
		if first := lead(in.round.Stitches, func(s Stitch) bool { return s.Into.Where != IntoChain }); first < len(in.round.Stitches) {
			in.fromHook = n - int(in.round.Stitches[first].Into.First)
		}
		in.below = foundationFabric(n, in.fromHook, below)
	case below >= 0 && below < len(rounds):
		in.below = places(rounds[below], below)
	default:
		in.below = plainFabric(highest(in.round.Stitches))
	}
	in.index()
	return in
}

// index notes where in the round below each of its stitches is.
func (in *instructor) index() {
	in.elems = make(map[Into]int, len(in.below.elems))
	for at, e := range in.below.elems {
		in.elems[Into{e.place, 0, e.first, e.first}] = at
	}
}

// leading returns the nodes of slip stitches that lead to where the round
// begins. From then on the round below is met from there.
func (in *instructor) leading(slips, rest []Stitch) []Node {
	var nodes []Node
	for _, s := range slips {
		t := in.target(s, func(t Target) { nodes = append(nodes, &Skip{N: 1, Target: t}) })
		if n := len(nodes); n > 0 && t == (Target{}) {
			if w, ok := nodes[n-1].(*Work); ok && w.Target == t {
				w.Places++
				continue
			}
		}
		nodes = append(nodes, &Work{Stitch: s.Kind, Per: 1, Places: 1, Target: t})
	}
	from := in.next
	space := in.place.Where == IntoSpace
	chain := len(rest) > 0 && rest[0].Role == StartingChain
	if at, ok := in.elem(IntoStitch, in.place.First); ok && (space || chain) {
		from = at
	}
	next := in.next - from
	in.below = in.below.from(from)
	in.index()
	// the place that the round begins in is passed once something stands in it
	in.next = 0
	for _, s := range rest {
		if s.Role == StartingChain && (!s.Counts || space) {
			continue
		}
		if s.Role == StartingChain || s.Into == in.place {
			in.next = next
		}
		break
	}
	return nodes
}

// isFoundation reports whether rounds[i] is the chain that a piece begins with,
// worked along both its sides or, joined to a ring, chain by chain.
func isFoundation(rounds []*Round, i int) bool {
	return i >= 0 && i < len(rounds) && rounds[i].Below < 0 && rounds[i].Start != nil &&
		(rounds[i].Start.Kind == Foundation || rounds[i].Start.Kind == ChainRing && i+1 < len(rounds) && rounds[i+1].Below == i) &&
		!slices.ContainsFunc(rounds[i].Stitches, func(s Stitch) bool { return s.Kind != stitch.Ch })
}

// highest returns how many stitches a round below must have that is known by
// nothing but what is worked into it.
func highest(stitches []Stitch) int {
	n := int32(0)
	for _, s := range stitches {
		if s.Into.Where == IntoStitch && s.Into.Round < 0 {
			n = max(n, s.Into.Last+1)
		}
	}
	return int(n)
}

func (in *instructor) nodes() []Node {
	var nodes []Node
	if in.round.Start != nil {
		start := *in.round.Start
		nodes = append(nodes, &start)
	}
	if b := in.round.Below; b >= 0 && b < len(in.rounds)-2 {
		nodes = append(nodes, &onRound{number: in.rounds[b].Number})
	}
	stitches := in.round.Stitches
	in.loop = commonLoop(stitches)
	if in.loop != BothLoops {
		nodes = in.changeYarn(nodes, stitches[0].Yarn)
		nodes = append(nodes, &LoopMode{Loop: in.loop})
	}
	for len(stitches) > 0 {
		n := 0
		switch stitches[0].Role {
		case StartingChain:
			n = lead(stitches, func(s Stitch) bool { return s.Role == StartingChain })
			nodes = in.changeYarn(nodes, stitches[0].Yarn)
			c := in.startingChain(stitches[:n], stitches[n:])
			n += c.over
			nodes = append(nodes, c)
		case Joining:
			if n = lead(stitches, func(s Stitch) bool { return s.Role == Joining && s.Into.Where != IntoNothing }); n > 0 {
				nodes = in.changeYarn(nodes, stitches[0].Yarn)
				nodes = append(nodes, in.leading(stitches[:n], stitches[n:])...)
				break
			}
			n = 1
			nodes = in.changeYarn(nodes, stitches[0].Yarn)
			nodes = append(nodes, &Join{Into: in.joinTarget()})
		default:
			n = lead(stitches, func(s Stitch) bool { return s.Role == Plain })
			last := !slices.ContainsFunc(stitches[n:], func(s Stitch) bool { return s.Role == Plain })
			nodes = append(nodes, in.worked(stitches[:n], last)...)
		}
		stitches = stitches[n:]
	}
	nodes = in.begin(nodes)
	if in.round.Turned {
		nodes = append(nodes, &Turn{})
	}
	return nodes
}

// begin says the start of a piece together with the first stitches where that is
// shorter: "6 sc in magic ring", "ch 2, 6 sc in 2nd ch from hook".
func (in *instructor) begin(nodes []Node) []Node {
	if in.round.Start == nil || len(nodes) < 2 {
		return nodes
	}
	if c, ok := nodes[1].(*startingChain); ok && len(nodes) > 2 && in.round.Start.Kind == SecondCh && !c.notCounted && c.chains == in.round.Start.Chains-1 {
		nodes = append(nodes[:1], nodes[2:]...) // the chains passed over stand for the first stitch
	}
	first, ok := nodes[1].(*Work)
	if !ok || first.Target.Where != Ring {
		return nodes
	}
	switch in.round.Start.Kind {
	case MagicRing:
		if !intoRing(nodes[2:]) {
			return append([]Node{&inRing{work: first}}, nodes[2:]...)
		}
	case SecondCh:
		first.Target = Target{Where: FromHook, Chain: in.round.Start.Chains}
		sameChain(nodes[2:])
	}
	return nodes
}

// intoRing reports whether stitches are worked into the ring.
func intoRing(nodes []Node) bool {
	return slices.ContainsFunc(nodes, func(n Node) bool {
		switch n := n.(type) {
		case *Repeat:
			return intoRing(n.Body)
		case *Work:
			return n.Target.Where == Ring
		}
		return false
	})
}

// sameChain says of stitches worked into the ring that they are worked into the
// chain where the first of them are.
func sameChain(nodes []Node) {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Repeat:
			sameChain(n.Body)
		case *Work:
			if n.Target.Where == Ring {
				n.Target = Target{Where: Same, Kind: stitch.Ch}
			}
		}
	}
}

// lead returns how many stitches at the front ok holds for.
func lead(stitches []Stitch, ok func(Stitch) bool) int {
	for i, s := range stitches {
		if !ok(s) {
			return i
		}
	}
	return len(stitches)
}

// commonLoop returns the loop that all stitches are worked into which are
// worked into stitches.
func commonLoop(stitches []Stitch) Loop {
	common, any := BothLoops, false
	for _, s := range stitches {
		if s.Role != Plain || s.Into.Where == IntoNothing {
			continue
		}
		if any && s.Loop != common {
			return BothLoops
		}
		common, any = s.Loop, true
	}
	return common
}

func (in *instructor) changeYarn(nodes []Node, yarn uint8) []Node {
	if yarn == in.inHand {
		return nodes
	}
	in.inHand = yarn
	return append(nodes, &Yarn{Key: in.yarnName(yarn)})
}

func (in *instructor) yarnName(yarn uint8) string {
	if int(yarn) < len(in.yarns) {
		return in.yarns[yarn]
	}
	return string(rune('A' + yarn))
}

// startingChain returns the chains at the start of a joined round. Where they
// count they stand in the first stitch of the round below, or in the place that
// was slip stitched to.
func (in *instructor) startingChain(chains, rest []Stitch) *startingChain {
	c := &startingChain{chains: len(chains)}
	top := slices.IndexFunc(chains, func(s Stitch) bool { return s.Counts })
	if top < 0 {
		first := slices.IndexFunc(rest, func(s Stitch) bool { return s.Kind.Base > stitch.Slip })
		byRule := true // if nothing follows that it would stand for, the reader cannot know
		if first >= 0 {
			_, byRule = stitch.Stitch{Base: rest[first].Kind.Base}.StartingChains()
		}
		c.notCounted = len(chains) > 1 || byRule
		return c
	}
	c.as = standsFor(len(chains), rest)
	if usual, _ := c.as.StartingChains(); usual == len(chains) { // "ch 4 (counts as dc and ch 1)"
		c.over = lead(rest, func(s Stitch) bool {
			return s == Stitch{Kind: stitch.Ch, Into: s.Into, Yarn: chains[0].Yarn} && s.Into.Where == IntoNothing
		})
		if usual+c.over > maxStartingChain {
			c.over = 0
		}
		c.chains += c.over
	}
	if !in.placed && in.next < len(in.below.elems) {
		e := in.below.elems[in.next]
		in.place, in.placed = Into{e.place, in.below.round, e.first, e.last}, true
		in.next++
		in.begins, in.fromBack = in.next, true
	}
	return c
}

// maxStartingChain is the most chains that are told as one starting chain.
const maxStartingChain = 8

// standsFor returns the stitch that so many chains stand for: of those that
// follow the first that is as tall, or else the next one if it is taller.
func standsFor(chains int, rest []Stitch) stitch.Stitch {
	var next stitch.Stitch
	for _, s := range rest {
		if s.Role != Plain || s.Kind.Base <= stitch.Slip {
			continue
		}
		base := stitch.Stitch{Base: s.Kind.Base}
		usual, _ := base.StartingChains()
		if usual == chains {
			return base
		}
		if next.Base == stitch.NoBase && usual > chains {
			next = base
		}
	}
	if next.Base != stitch.NoBase {
		return next
	}
	for _, s := range []stitch.Stitch{stitch.SC, stitch.HDC, stitch.DC, stitch.TR, stitch.DTR} {
		if n, _ := s.StartingChains(); n == chains {
			return s
		}
	}
	return stitch.Stitch{}
}

func (in *instructor) joinTarget() Target {
	chains, counts := 0, false
	for _, s := range in.round.Stitches {
		if s.Role == StartingChain {
			chains++
			counts = counts || s.Counts
		}
	}
	if counts {
		return Target{Where: TopChain, Chain: chains}
	}
	return Target{Where: Joined}
}

// worked returns the nodes of a stretch of stitches that are no starting chain
// and no joining; last says that none comes after it.
func (in *instructor) worked(stitches []Stitch, last bool) []Node {
	from := in.next
	ids := map[action]int{}
	var seq []int
	add := func(a action, n int) {
		id, ok := ids[a]
		if !ok {
			id = len(in.actions)
			ids[a] = id
			in.actions = append(in.actions, a)
		}
		for range n {
			seq = append(seq, id)
		}
	}
	for i := 0; i < len(stitches); {
		s := stitches[i]
		loop := s.Loop
		if in.loop != BothLoops {
			loop = BothLoops
		}
		a := action{stitch: s.Kind, per: 1, loop: loop, yarn: s.Yarn}
		if s.Into.Where == IntoNothing {
			a.loop = BothLoops
			add(a, 1)
			i++
			continue
		}
		a.target = in.target(s, func(t Target) { add(action{target: t, yarn: s.Yarn}, 1) })
		if s.Into.Where == IntoUnder && !in.turned {
			in.turned = true
			add(action{other: true, yarn: s.Yarn}, 1)
		}
		n := in.together(stitches[i:])
		if same := lead(stitches[i:i+n], func(t Stitch) bool { return t == s }); same == n {
			a.per = n
			if onePlace(a.target) { // however many there are, they are all worked there
				a.per = 1
				add(a, n)
			} else {
				add(a, 1)
			}
		} else {
			add(in.group(a, stitches[i:i+n]), 1)
		}
		i += n
	}
	if n := in.round.Used - (in.below.left(0) - in.below.left(in.next)); last && n > 0 {
		add(action{yarn: stitches[len(stitches)-1].Yarn}, n) // skipped at the end
	}
	parts := compress(seq, in.fromBack)
	nodes := in.toNodes(parts)
	if in.fillsRound(parts, from) {
		switch n := nodes[len(nodes)-1].(type) {
		case *Work:
			n.Places = ToEnd
		case *In:
			n.Places = ToEnd
		}
	}
	return nodes
}

// fillsRound reports whether the last of the parts is one action, done in each
// stitch of the round below from from on until they are used up, with nothing
// before it but stitches that share the place of the starting chain.
func (in *instructor) fillsRound(parts []part, from int) bool {
	if len(parts) == 0 || from != in.begins {
		return false
	}
	last := len(parts) - 1
	for i, p := range parts {
		a := in.actions[p.action]
		if p.body != nil || i < last && a.target.Where != Same {
			return false
		}
	}
	p := parts[last]
	a := in.actions[p.action]
	switch {
	case p.n < 2 || a.group == "" && a.stitch.Legs() != 1:
		return false
	case a.target.Where == Between:
		return a.target.Chain == 0 && last == 0 && p.n == len(in.below.elems)-from
	case a.target.Where == Space:
		return last == 0 && p.n == in.below.spaces(from)
	}
	return a.target == Target{} && in.below.left(in.next) == 0
}

// left returns how many stitches there are from an elem on.
func (f fabric) left(from int) int {
	n := 0
	for _, e := range f.elems[from:] {
		if e.counts {
			n++
		}
	}
	return n
}

// spaces returns how many chain spaces there are from an elem on.
func (f fabric) spaces(from int) int {
	n := 0
	for _, e := range f.elems[from:] {
		if e.chain && e.run == 0 {
			n++
		}
	}
	return n
}

// onePlace reports whether all stitches worked into t go to the same place,
// whatever is worked between them.
func onePlace(t Target) bool { return t.Where == Ring || t.Where == FromHook || t.Where == Same }

// together returns how many of the stitches, from the first on, are worked into
// the place of the first, with the chains between them.
func (in *instructor) together(stitches []Stitch) int {
	n := 1
	if in := stitches[0].Into; in.Where == IntoRing || in.elsewhere() {
		return 1
	}
	for i := 1; i < len(stitches); i++ {
		switch s := stitches[i]; {
		case s.Into == stitches[0].Into && s.Loop == stitches[0].Loop && s.Kind.Legs() == stitches[0].Kind.Legs():
			n = i + 1
		case s.Into.Where != IntoNothing:
			return n
		}
	}
	return n
}

// target returns the place of s as seen from where the work is now, and goes on
// to behind that place. It calls skip for every place that is passed over.
func (in *instructor) target(s Stitch, skip func(Target)) Target {
	again := in.placed && s.Into == in.place && s.Into.First >= 0
	in.place, in.placed = s.Into, true
	t := Target{}
	if s.Into.elsewhere() {
		return Target{Where: Elsewhere}
	}
	if r := int(s.Into.Round); s.Into.Where == IntoStitch && r >= 0 && r != in.round.Below && r < len(in.rounds)-1 {
		return Target{Behind: in.rounds[r].Number}
	}
	switch s.Into.Where {
	case IntoRing:
		return Target{Where: Ring}
	case IntoSpace:
		t = Target{Where: Space, Chain: int(s.Into.Last - s.Into.First + 1)}
	case IntoGap:
		t = Target{Where: Between}
	}
	if again {
		return Target{Where: Same, Chain: t.Chain}
	}
	first, ok := in.elem(s.Into.Where, s.Into.First)
	last, ok2 := in.elem(s.Into.Where, s.Into.Last)
	if !ok || !ok2 { // past the end of what is there
		return t
	}
	if t.Where == Between {
		last = first
	} else if first > last { // a round that was turned
		first, last = last, first
	}
	e := in.below.elems
	if t.Where == Between && first > in.next && !slices.ContainsFunc(e[in.next:first], func(x elem) bool { return x.into != e[first].into }) {
		t.Chain, in.next = 1, first // between groups
	}
	switch {
	case in.fromHook > 0 && first == 0:
		t = Target{Where: FromHook, Chain: in.fromHook}
	case in.fromHook > 0 && e[first].place == IntoChain && e[first].first == 0:
		t.Where = LastCh
	case in.fromHook > 0 || t.Where == Next && !e[first].counts:
		t.Kind = stitch.Ch
	}
	for in.next < first {
		switch passed := e[in.next]; {
		case t.Where == Space && passed.chain:
			skip(Target{Where: Space, Chain: int(passed.run) + 1})
			in.next += int(passed.run)
		case t.Where == Next && passed.counts:
			skip(Target{})
		case t.Kind == stitch.Ch && !slices.ContainsFunc(e[in.next:first], func(e elem) bool { return e.counts }):
			skip(Target{Where: Any, Kind: stitch.Ch})
		}
		in.next++
	}
	in.next = last + 1
	return t
}

// elem returns where in the round below a stitch, or chain, is.
func (in *instructor) elem(where Place, at int32) (int, bool) {
	if where != IntoChain && where != IntoUnder {
		where = IntoStitch
	}
	i, ok := in.elems[Into{where, 0, at, at}]
	return i, ok
}

// group returns a with the stitches, of more than one kind, worked in its place.
func (in *instructor) group(a action, stitches []Stitch) action {
	key := make([]byte, 0, 5*len(stitches))
	for _, s := range stitches {
		key = append(key, byte(s.Kind.Base), byte(s.Kind.Form), s.Kind.N, byte(s.Kind.Post), s.Yarn)
	}
	a.stitch, a.per, a.group = stitch.Stitch{}, 0, string(key)
	in.groups[a.group] = stitches
	return a
}

// toNodes writes parts as nodes, with a change of yarn wherever one is needed.
func (in *instructor) toNodes(parts []part) []Node {
	var nodes []Node
	for _, p := range parts {
		if p.body == nil {
			a := in.actions[p.action]
			nodes = in.changeYarn(nodes, a.yarn)
			nodes = append(nodes, in.toNode(a, p.n))
			continue
		}
		if first, last := in.firstYarn(p), in.lastYarn(p); first != last && first == in.inHand {
			in.inHand = noYarn // in hand the first time, not the next: say it in the body
		} else if first == last {
			nodes = in.changeYarn(nodes, first)
		}
		nodes = append(nodes, &Repeat{Body: in.toNodes(p.body), Times: p.n})
	}
	return nodes
}

// noYarn is the yarn in hand where it is now one, now another.
const noYarn = 255

func (in *instructor) firstYarn(p part) uint8 {
	for p.body != nil {
		p = p.body[0]
	}
	a := in.actions[p.action]
	if g := in.groups[a.group]; a.group != "" {
		return g[0].Yarn
	}
	return a.yarn
}

func (in *instructor) lastYarn(p part) uint8 {
	for p.body != nil {
		p = p.body[len(p.body)-1]
	}
	a := in.actions[p.action]
	if g := in.groups[a.group]; a.group != "" {
		return g[len(g)-1].Yarn
	}
	return a.yarn
}

// toNode returns the node of a done n times in a row.
func (in *instructor) toNode(a action, n int) Node {
	switch {
	case a.group != "":
		var body []Node
		stitches := in.groups[a.group]
		if slices.ContainsFunc(stitches, func(s Stitch) bool { return s.Yarn != a.yarn }) {
			in.inHand = noYarn
		}
		for i := 0; i < len(stitches); {
			s := stitches[i]
			same := lead(stitches[i:], func(t Stitch) bool { return t.Kind == s.Kind && t.Yarn == s.Yarn })
			body = in.changeYarn(body, s.Yarn)
			if s.Kind.Legs() == 0 {
				body = append(body, &Work{Stitch: s.Kind, Per: 1, Places: same})
			} else {
				body = append(body, &Work{Stitch: s.Kind, Per: same, Places: 1, Loop: a.loop})
			}
			i += same
		}
		return &In{Body: body, Target: a.target, Places: n}
	case a.other:
		return &otherSide{}
	case a.stitch == stitch.Stitch{}:
		return &Skip{N: n, Target: a.target}
	case onePlace(a.target):
		return &Work{Stitch: a.stitch, Per: a.per * n, Places: 1, Target: a.target, Loop: a.loop}
	}
	return &Work{Stitch: a.stitch, Per: a.per, Places: n, Target: a.target, Loop: a.loop}
}

// An inRing is a piece begun with stitches of one kind in a magic ring.
type inRing struct {
	at
	work *Work
}

// An onRound says that the round is worked on an earlier one, not on that below.
type onRound struct {
	at
	number int
}

// An otherSide turns to the other side of the chain that the piece begins with.
type otherSide struct{ at }

// A startingChain is the chain at the start of a joined round.
type startingChain struct {
	at
	chains     int           // all of them
	as         stitch.Stitch // what it counts as; NoBase: nothing
	over       int           // how many of them go on from there
	notCounted bool          // it does not count, and one could think it does
}
