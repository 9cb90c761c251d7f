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
}

// instruct returns the instruction of rounds[i], as short as [compress] makes
// it, for a reader who has the yarn in her hand that the round below ended with.
// yarns are their names.
func instruct(rounds []*Round, i int, inHand uint8, yarns []string) ([]Node, uint8) {
	r := rounds[i]
	ins := instructor{rounds: rounds, round: r, yarns: yarns, inHand: inHand, groups: map[string][]Stitch{}}
	if r.Below >= 0 && r.Below < len(rounds) {
		ins.below = rounds[r.Below].Stitches
	}
	return ins.nodes(), ins.inHand
}

type instructor struct {
	rounds []*Round
	round  *Round
	below  []Stitch
	yarns  []string
	inHand uint8

	begins   int  // index into below of the first stitch to work into
	fromBack bool // of repeats that are as short as each other the last is taken
	next     int  // index into below of the next stitch to work into
	place    Into // where the last stitch was worked
	placed   bool

	actions []action // every different one
	groups  map[string][]Stitch
	loop    Loop // that all stitches of the round are worked into, if they are
}

func (in *instructor) nodes() []Node {
	var nodes []Node
	if in.round.Start != nil {
		start := *in.round.Start
		nodes = append(nodes, &start)
	}
	stitches := in.round.Stitches
	in.loop = commonLoop(stitches)
	if in.loop != BothLoops {
		nodes = in.changeYarn(nodes, stitches[0].Yarn)
		nodes = append(nodes, &LoopMode{Loop: in.loop})
	}
	for len(stitches) > 0 {
		n := 0
		switch role := stitches[0].Role; role {
		case StartingChain:
			n = lead(stitches, func(s Stitch) bool { return s.Role == StartingChain })
			nodes = in.changeYarn(nodes, stitches[0].Yarn)
			nodes = append(nodes, in.startingChain(stitches[:n], stitches[n:]))
		case Joining:
			n = 1
			nodes = in.changeYarn(nodes, stitches[0].Yarn)
			nodes = append(nodes, &Join{Into: in.joinTarget(stitches[0])})
		default:
			n = lead(stitches, func(s Stitch) bool { return s.Role == Plain })
			nodes = append(nodes, in.worked(stitches[:n])...)
		}
		stitches = stitches[n:]
	}
	if len(nodes) == 2 && in.round.Start != nil && in.round.Start.Kind == MagicRing {
		if w, ok := nodes[1].(*Work); ok && w.Target.Where == Ring {
			nodes = []Node{&inRing{work: w}}
		}
	}
	if in.round.Turned {
		nodes = append(nodes, &Turn{})
	}
	return nodes
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
func (in *instructor) startingChain(chains, rest []Stitch) Node {
	c := &startingChain{chains: len(chains)}
	top := slices.IndexFunc(chains, func(s Stitch) bool { return s.Counts })
	if top < 0 {
		c.notCounted = len(chains) > 1
		return c
	}
	c.as, c.over = standsFor(top+1, rest), len(chains)-top-1
	if in.placed {
		return c
	}
	if in.next = in.counted(0); in.next < len(in.below) {
		at := int32(in.next)
		in.place, in.placed = Into{IntoStitch, int32(in.round.Below), at, at}, true
		in.next++
		in.begins, in.fromBack = in.next, true
	}
	return c
}

// standsFor returns the stitch that so many chains stand for, best of the same
// height as those that follow.
func standsFor(chains int, rest []Stitch) stitch.Stitch {
	for _, s := range rest {
		if n, _ := s.Kind.StartingChains(); n == chains && s.Role == Plain {
			return stitch.Stitch{Base: s.Kind.Base}
		}
	}
	for _, s := range []stitch.Stitch{stitch.SC, stitch.HDC, stitch.DC, stitch.TR, stitch.DTR} {
		if n, _ := s.StartingChains(); n == chains {
			return s
		}
	}
	return stitch.Stitch{}
}

// counted returns the index of the first stitch from from on that counts, or
// how many stitches there are below.
func (in *instructor) counted(from int) int {
	for from < len(in.below) && !in.below[from].Counts {
		from++
	}
	return from
}

func (in *instructor) joinTarget(s Stitch) Target {
	first, last := int(s.Into.First), int(s.Into.Last)
	if first >= 0 && first <= last && last < len(in.round.Stitches) && in.round.Stitches[first].Role == StartingChain {
		n := lead(in.round.Stitches, func(s Stitch) bool { return s.Role == StartingChain })
		return Target{Where: TopChain, Chain: n}
	}
	return Target{Where: Joined}
}

// worked returns the nodes of a stretch of stitches that are no starting chain
// and no joining.
func (in *instructor) worked(stitches []Stitch) []Node {
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
		skipped := 0
		a.target, skipped = in.target(s)
		if skipped > 0 {
			add(action{yarn: s.Yarn}, skipped)
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
	parts := compress(seq, in.fromBack)
	nodes := in.toNodes(parts)
	if in.fillsRound(parts, from) {
		nodes[len(nodes)-1].(*Work).Places = ToEnd
	}
	return nodes
}

// fillsRound reports whether the last of the parts is one action, done in each
// stitch of the round below from from on until they are used up, with nothing
// before it but stitches that share the place of the starting chain.
func (in *instructor) fillsRound(parts []part, from int) bool {
	if len(parts) == 0 || from != in.begins || in.counted(in.next) < len(in.below) {
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
	return p.n > 1 && a.stitch.Legs() == 1 && a.group == "" && a.target.Where == Next
}

// onePlace reports whether all stitches worked into t go to the same place,
// whatever is worked between them.
func onePlace(t Target) bool { return t.Where == Ring || t.Where == FromHook || t.Where == Same }

// together returns how many of the stitches, from the first on, are worked into
// the place of the first, with the chains between them.
func (in *instructor) together(stitches []Stitch) int {
	n := 1
	if stitches[0].Into.Where == IntoRing {
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

// target returns the place of s as seen from where the work is now, goes on to
// behind that place, and says how many stitches are passed over before it.
func (in *instructor) target(s Stitch) (t Target, skipped int) {
	again := in.placed && s.Into == in.place
	in.place, in.placed = s.Into, true
	first, last := int(s.Into.First), int(s.Into.Last)
	switch s.Into.Where {
	case IntoRing:
		return Target{Where: Ring}, 0
	case IntoSpace:
		t = Target{Where: Space, Chain: last - first + 1}
	case IntoGap:
		t = Target{Where: Between}
	}
	if again {
		t.Where = Same
		return t, 0
	}
	switch t.Where {
	case Between:
		in.next = last
	default:
		for i := in.next; i < min(first, len(in.below)); i++ {
			if in.below[i].Counts {
				skipped++
			}
		}
		in.next = last + 1
	}
	if t.Where == Space {
		skipped = 0
	}
	return t, skipped
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
			body = append(body, &Work{Stitch: s.Kind, Per: same, Places: 1})
			i += same
		}
		return &In{Body: body, Target: a.target, Places: n}
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

// A startingChain is the chain at the start of a joined round.
type startingChain struct {
	at
	chains     int
	as         stitch.Stitch // what it counts as; NoBase: nothing
	over       int           // chains above those that stand for it
	notCounted bool          // it does not count, and one could think it does
}
