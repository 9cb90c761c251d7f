package notation

import (
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// maxDepth is how deep brackets may be nested. Published rounds need 3.
const maxDepth = 40

const tooDeep = "brackets nested more than 40 deep"

// A parser reads the instruction of one line.
type parser struct {
	text    string
	toks    []token
	pos     int
	main    stitch.Base // the stitch that "inc" and "st" stand for
	line    *Line
	colours map[string]bool   // keys that name a yarn, folded
	sep     sym               // the separator last passed; 0 at the start
	listed  bool              // the list being read holds stitches already
	around  bool              // the last item was followed by "around", said of its list
	rounds  int               // rounds that the instruction speaks of
	starred bool              // a star is open round the bracket being read
	opening bool              // nothing but chains was read so far
	group   place             // said of the last two items together
	defs    map[string][]Node // stitches that the text explains: "shell", "beginning shell", "corner"
}

func (p *parser) peek() token {
	if p.pos < len(p.toks) {
		return p.toks[p.pos]
	}
	return token{sym: sStop, from: len(p.text), to: len(p.text)}
}

func (p *parser) at(i int) token {
	if p.pos+i < len(p.toks) && p.pos+i >= 0 {
		return p.toks[p.pos+i]
	}
	return token{sym: sStop}
}

func (p *parser) end() bool { return p.pos >= len(p.toks) }

// span returns the place from the token at i to the one before the current.
func (p *parser) span(i int) at {
	if i >= p.pos || i >= len(p.toks) {
		return at{}
	}
	return at{From: p.toks[i].from, To: p.toks[p.pos-1].to}
}

// unread says that the tokens from i to the current one were not understood.
func (p *parser) unread(i int, why string) {
	if s := source.Span(p.span(i)); !p.line.Unread.IsValid() && s.IsValid() {
		p.line.Unread, p.line.Why = s, why
	}
}

// body reads the whole instruction.
func (p *parser) body() {
	l := p.line
	p.heading()
	for !p.end() {
		before := p.pos
		l.Body = append(l.Body, p.seq(0)...)
		if !p.end() && p.peek().sym == sClose {
			p.pos++
			at := p.pos - 1
			if n, doubt, leave, ok := p.times(); ok && len(l.Body) > 0 { // a lost opening bracket
				l.Body = p.repeat(l.Body, 0, n, leave, doubt)
				continue
			}
			p.unread(at, "a closing bracket that was never opened")
		} else if p.pos == before {
			p.pos++
		}
	}
	l.Body = bare(p.tidy(l.Body), l.Chain)
	if d := l.Declared; d != nil && d.Total < 0 && len(d.Kinds) == 0 && d.Spaces > 0 && !chained(l.Body) {
		d.Total, d.Spaces = d.Spaces, 0 // "32 loops on the round", of stitches
	}
	if l.Rounds == 0 && (l.First < 0 || l.First == l.Last) {
		l.Rounds = p.rounds
	}
}

// heading passes over words before a colon that say nothing of stitches: "same
// again: ", "a round of dc: ", "working over the ring now: ".
func (p *parser) heading() {
	for j := 0; j < 12 && p.pos+j < len(p.toks); j++ {
		t := p.at(j)
		switch t.sym {
		case sColon:
			if j > 0 {
				l := p.line
				p.pos += j + 1
				l.Body = append(l.Body, &Aside{at: p.span(p.pos - j - 1), Text: p.text[p.toks[p.pos-j-1].from:p.toks[p.pos-1].to]})
			}
			return
		case sStitch:
			if j == 0 || p.at(j-1).sym != sOf {
				return
			}
		case sWord, sFill, sSame, sMore, sSide, sOf, sRound, sRow, sAs, sOver, sAnd, sComma, sSign, sRing, sBack, sFront, sTo, sBegin, sFound:
		default:
			return
		}
	}
}

// bare makes an instruction in which nothing says how often it is worked a
// group that may go once or all round: "sc 3, inc" is told from an uneven round
// by dividing.
func bare(nodes []Node, chain ChainRule) []Node {
	from, to := -1, -1
	// "ch 3, sk 3, sc 1": the chain belongs to the group
	whole := chain == ByConvention && skips(nodes) && !usualChain(nodes) && !slices.ContainsFunc(nodes, func(n Node) bool { _, ok := n.(*Join); return ok })
	for i, n := range nodes {
		switch n := n.(type) {
		case *Repeat:
			if n.Doubt&(Bare|LastOnly) == 0 || n.Doubt&LastOnly != 0 {
				return nodes
			}
			// "(sc 3, inc), sc 2": one group in brackets, not said how often
			if n.Times == ToEnd {
				return nodes
			}
		case *Evenly, *SameAs, *Start:
			return nodes
		case *Work:
			if n.Places == ToEnd || n.Target.Where == Ring || n.Target.Where == FromHook {
				return nodes
			}
			if n.Stitch == stitch.Ch && from < 0 && !whole {
				continue
			}
			if n.Stitch == stitch.SlSt && from < 0 && (n.Target.Where == Space || leadsToChain(nodes[i+1:])) {
				continue
			}
			if n.Stitch == stitch.SlSt && from < 0 && leadsToChain(nodes[i+1:]) {
				continue
			}
		case *In:
			if n.Places == ToEnd {
				return nodes
			}
		case *Skip:
		default:
			continue
		}
		if from < 0 {
			from = i
		}
		to = i + 1
	}
	if from < 0 {
		return nodes
	}
	r := &Repeat{at: at(nodes[from].Span().Join(nodes[to-1].Span())), Body: clone(nodes[from:to]), Times: 1, Doubt: Bare}
	return append(append(append([]Node{}, nodes[:from]...), r), nodes[to:]...)
}

// chained reports whether nodes make chains.
func chained(nodes []Node) bool { return startsWithChain(nodes) || hasChains(nodes) }

// usualChain reports whether nodes begin with as many chains as stand for their
// first stitch.
func usualChain(nodes []Node) bool {
	for i, n := range nodes {
		if w, ok := n.(*Work); ok && w.Stitch == stitch.Ch {
			usual, _ := stitch.Stitch{Base: firstBase(nodes[i+1:])}.StartingChains()
			return w.Places == usual
		}
	}
	return false
}

// skips reports whether one of nodes is a skip.
func skips(nodes []Node) bool {
	for _, n := range nodes {
		if _, ok := n.(*Skip); ok {
			return true
		}
	}
	return false
}

// works reports whether nodes make or use stitches.
func works(nodes []Node) bool {
	for _, n := range nodes {
		switch n.(type) {
		case *Work, *In, *Repeat, *Skip, *Evenly, *SameAs, *Start:
			return true
		}
	}
	return false
}

// counted reports whether a count may follow nodes after a colon.
func counted(nodes []Node) bool {
	return slices.ContainsFunc(nodes, func(n Node) bool { _, ok := n.(*SameAs); return ok }) || hasWork(nodes)
}

// alike reports whether a and b are the same stitches in the same places.
func alike(a, b []Node) bool {
	return slices.EqualFunc(a, b, func(a, b Node) bool {
		v, ok := a.(*Work)
		w, ok2 := b.(*Work)
		return ok && ok2 && v.Stitch == w.Stitch && v.Per == w.Per && v.Places == w.Places
	})
}

func clone(ns []Node) []Node { return append([]Node(nil), ns...) }

// consumes reports whether nodes use stitches of the round below.
func consumes(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Stitch != stitch.Ch && (n.Target.Where == Next || n.Target.Where == Space) {
				return true
			}
		case *In, *Repeat, *Skip:
			return true
		}
	}
	return false
}

// isStart reports whether an unmarked repeat cannot reach over n: the ring, the
// starting chain and what else opens a round.
func isStart(n Node) bool {
	switch n := n.(type) {
	case *Start, *Join, *Turn:
		return true
	case *Work:
		return n.Stitch == stitch.Ch
	}
	return false
}

func isChain(n Node) bool {
	w, ok := n.(*Work)
	return ok && w.Stitch == stitch.Ch
}

// past returns how far on the first token is that means none of the syms.
func (p *parser) past(i int, syms ...sym) int {
	for p.pos+i < len(p.toks) && slices.Contains(syms, p.at(i).sym) {
		i++
	}
	return i
}

// repAhead reports whether "repeat" comes next, after separators.
func (p *parser) repAhead() bool {
	for i := 0; ; i++ {
		switch p.at(i).sym {
		case sComma, sDash, sAnd, sFill, sColon:
			continue
		case sStop:
			if p.pos+i < len(p.toks) {
				continue
			}
			return false
		}
		return p.at(i).sym == sRep
	}
}

// repOfStar reports whether "repeat from *" comes next.
func (p *parser) repOfStar() bool {
	if !p.repAhead() {
		return false
	}
	i := p.past(0, sComma, sDash, sAnd, sFill, sColon, sStop)
	for j := 1; j <= 3; j++ {
		if s := p.at(i + j).sym; s == sFrom || s == sStar {
			return true
		}
	}
	return false
}

// mentions reports whether one of the tokens from i to the current one means s.
func (p *parser) mentions(i int, s sym) bool {
	for ; i < p.pos && i < len(p.toks); i++ {
		if p.toks[i].sym == s {
			return true
		}
	}
	return false
}

// raw returns the text of token i as written.
func (p *parser) raw(i int) string { return p.text[p.toks[i].from:p.toks[i].to] }

// clause passes over the tokens up to the next separator, bracket or start of
// another instruction.
func (p *parser) clause() {
	for p.pos++; !p.end(); p.pos++ {
		switch t := p.peek(); t.sym {
		case sStop, sComma, sClose, sOpen, sTurn, sEqual, sColon, sBar:
			return
		case sDash:
			// "ch-1" is one word; " - " ends the clause
			if !(t.glued && p.at(1).glued) {
				return
			}
		case sAnd:
			return
		case sStitch:
			// "join with sl st to first sc. " against "join, ch 1": the second needs its comma
			if t.val.stitch == stitch.Ch && p.at(-1).sym != sOf && p.at(-1).sym != sFirst && p.at(-1).sym != sNumber && p.at(-1).sym != sFill && p.at(-1).sym != sTop && p.at(-1).sym != sLast && p.at(-1).sym != sIn && p.at(-1).sym != sDash && p.at(-1).sym != sTo && p.at(-1).sym != sNext && p.at(-1).sym != sBegin {
				return
			}
		}
	}
}

// ring makes a chain that was just read, and a join, the ring at the start.
func (p *parser) ring(nodes []Node, i int) []Node {
	if len(nodes) > 0 {
		if w, ok := nodes[len(nodes)-1].(*Work); ok && w.Stitch == stitch.Ch {
			// the chain becomes the ring: taken out in tidy
			return []Node{&Start{at: at(source.Span(w.at).Join(source.Span(p.span(i)))), Kind: ChainRing, Chains: w.Places}}
		}
	}
	return []Node{&Start{at: p.span(i), Kind: ChainRing}}
}

// plainStitch is the stitch that the line is worked in.
func (p *parser) plainStitch() stitch.Stitch { return stitch.Stitch{Base: p.main} }

// repeat makes the nodes from the given one on a repeated group. Nodes that open
// a round stay outside.
func (p *parser) repeat(nodes []Node, from, n, leave int, doubt Doubt) []Node {
	from = max(from, 0)
	// "6 ch, miss 3, 1 dc in the next; repeat all round": the chain belongs to the group
	if n == ToEnd && from <= 1 && len(nodes) > 1 && isChain(nodes[0]) && skips(nodes[1:]) && !usualChain(nodes) {
		from = 0
	} else {
		for from < len(nodes) && isStart(nodes[from]) {
			from++
		}
	}
	if from >= len(nodes) {
		return nodes
	}
	last := nodes[len(nodes)-1]
	if r, ok := last.(*Repeat); ok && r.Doubt&Bare != 0 && r.Times == ToEnd && len(nodes)-from == 1 {
		r.Times, r.Leave, r.Doubt = n, leave, doubt
		return nodes
	}
	span := at(source.Span{From: nodes[from].Span().From, To: p.toks[p.pos-1].to})
	if len(nodes)-from == 1 {
		switch w := last.(type) {
		case *Work:
			if w.Places > 0 && w.Target.Where == Next && (n == ToEnd && w.Places == 1 || n > 0) && doubt&More == 0 {
				if n == ToEnd {
					w.Places, w.Leave = ToEnd, leave
				} else {
					w.Places = min(w.Places*min(n, maxNumber), maxNumber)
					w.Doubt &^= TwoInOne
				}
				w.at = span
				return nodes
			}
			if w.Places == ToEnd {
				if n > 1 && doubt == 0 {
					p.line.Rounds = n // "sc around x 3": three rounds
				}
				return nodes
			}
		case *Evenly:
			return nodes
		}
		return append(nodes[:from], &Repeat{at: span, Body: []Node{last}, Times: n, Leave: leave, Doubt: doubt})
	}
	if w, ok := last.(*Work); ok && n == ToEnd && w.Places == ToEnd {
		return nodes // "sc 3, inc in each st around": around was said of the last already
	}
	switch last.(type) {
	case *Work, *In, *Repeat:
		doubt |= LastOnly
	}
	return append(nodes[:from], &Repeat{at: span, Body: clone(nodes[from:]), Times: n, Leave: leave, Doubt: doubt})
}

// times reads how often a group is worked: "x 6", "6 times", "twice", "around",
// "to last 2 sts", "rep from * 5 more times".
func (p *parser) times() (n int, doubt Doubt, leave int, ok bool) {
	start := p.pos
	rep := false
	for {
		switch t := p.peek(); t.sym {
		case sComma, sDash, sFill, sAnd, sColon:
			if p.end() {
				p.pos = start
				return 0, 0, 0, false
			}
			p.pos++
			continue
		case sStop:
			if !p.end() && p.at(1).sym == sRep && p.at(2).sym != sRound && p.at(2).sym != sRow {
				p.pos++
				continue
			}
		case sRep:
			if rep {
				break
			}
			if p.at(1).sym == sRound || p.at(1).sym == sRow || p.at(1).sym == sLast && p.at(2).sym == sRound {
				break
			}
			rep = true
			p.pos++
			p.repWords()
			continue
		case sX, sStar:
			if p.at(1).sym == sNumber && !p.at(1).ordinal && !p.at(1).decimal && !p.begins(2) && p.at(2).sym != sIn && p.at(2).sym != sSt {
				n = p.at(1).num
				p.pos += 2
				if p.peek().sym == sTimes || p.peek().sym == sX {
					p.pos++
				}
				d, more := p.more(rep && t.sym != sX && t.sym != sStar)
				return n + more, d, 0, true
			}
		case sTimes: // "times 6"
			if p.at(1).sym == sNumber {
				n = p.at(1).num
				p.pos += 2
				return n, 0, 0, true
			}
		case sNumber:
			j := 1
			for p.at(j).sym == sMore || p.at(j).sym == sFill && j < 3 {
				j++
			}
			switch p.at(j).sym {
			case sTimes, sX:
				// "6 x sc": a number of stitches, not of repeats
				if p.at(j).sym == sX && (p.at(j+1).sym == sStitch || p.at(j+1).sym == sInc || p.at(j+1).sym == sDec) {
					break
				}
				n = t.num
				if j > 1 && p.mentionsMore(j) {
					p.pos += j + 1
					return n + 1, 0, 0, true
				}
				p.pos += j + 1
				d, more := p.more(rep)
				return n + more, d, 0, true
			}
		case sOnce:
			n = t.num
			p.pos++
			d, more := p.more(rep)
			return n + more, d, 0, true
		case sMore:
			if p.at(1).sym == sNumber && (p.at(2).sym == sTimes || p.at(2).sym == sX && !p.begins(3)) {
				n = p.at(1).num
				p.pos += 3
				return n + 1, 0, 0, true
			}
			if p.at(1).sym == sOnce {
				n = p.at(1).num
				p.pos += 2
				return n + 1, 0, 0, true
			}
		case sAround:
			p.pos++
			leave = p.except()
			return ToEnd, 0, leave, true
		case sOpen:
			if p.at(1).sym == sNumber && (p.at(2).sym == sTimes || p.at(2).sym == sX) && p.at(3).sym == sClose {
				n = p.at(1).num
				p.pos += 4
				d := NoDoubt
				if rep {
					d = More
				}
				return n, d, 0, true
			}
			if p.at(1).sym == sX && p.at(2).sym == sNumber && p.at(3).sym == sClose {
				n = p.at(2).num
				p.pos += 4
				return n, 0, 0, true
			}
			if p.at(1).sym == sOnce && p.at(2).sym == sClose {
				n = p.at(1).num
				p.pos += 3
				return n, 0, 0, true
			}
		case sTo, sUntil:
			if l, ok := p.toLast(); ok {
				return ToEnd, 0, l, true
			}
		case sIn, sEach: // "in each st around", of a whole list
			if rep && p.place().toEnd {
				return ToEnd, 0, 0, true
			}
		}
		break
	}
	if rep {
		if p.peek().sym == sStar { // a star left over: "rep from *"
			p.pos++
		}
		return ToEnd, Bare, 0, true
	}
	p.pos = start
	return 0, 0, 0, false
}

func (p *parser) mentionsMore(to int) bool {
	for i := 1; i < to; i++ {
		if p.at(i).sym == sMore {
			return true
		}
	}
	return false
}

// more reads what may follow a number of times: "more", "in all". It returns
// the doubt that is left, if the words were "repeat n times".
func (p *parser) more(rep bool) (Doubt, int) {
	switch p.peek().sym {
	case sMore:
		p.pos++
		return 0, 1
	case sTotal:
		p.pos++
		return 0, 0
	}
	if p.peek().sym == sComma && p.at(1).sym == sTotal {
		p.pos += 2
		return 0, 0
	}
	if rep {
		return More, 0
	}
	return 0, 0
}

// repWords passes over what names the group after "repeat": "from * to *",
// "between the stars", "instructions".
func (p *parser) repWords() {
	for {
		switch t := p.peek(); t.sym {
		case sStop: // "rep. from *"
			if t.glued && p.at(-1).sym == sRep && (p.at(1).sym == sFrom || p.at(1).sym == sStar || p.at(1).sym == sAround || p.at(1).sym == sNumber) {
				p.pos++
				continue
			}
		case sFrom, sFill, sBetween, sStar, sBegin, sAnd, sOf, sFirst:
			if p.end() {
				return
			}
			if t.sym == sStar && p.at(1).sym == sNumber && p.at(2).sym != sTimes && p.at(2).sym != sMore && p.at(2).sym != sX {
				return // "* 6"
			}
			p.pos++
			continue
		case sTo:
			if p.at(1).sym == sStar {
				p.pos += 2
				continue
			}
		case sWord:
			switch t.text {
			case "asterisk", "asterisks", "stars", "star", "brackets", "parentheses", "bracket", "instructions", "process", "steps", "step":
				p.pos++
				continue
			}
		}
		return
	}
}

// toLast reads "to last 2 sts", "until 2 sts remain", "to last st".
func (p *parser) toLast() (int, bool) {
	start := p.pos
	p.pos++
	n := 1
	last := false
	for ; !p.end(); p.pos++ {
		switch t := p.peek(); t.sym {
		case sLast:
			last = true
			continue
		case sNumber:
			if n = t.num; n >= maxNumber {
				p.pos = start
				return 0, false
			}
			if p.at(1).sym == sSt || p.at(1).sym == sStitch || last {
				continue
			}
		case sFill, sOf:
			continue
		case sSt:
			p.pos++
			if p.peek().sym == sTotal || p.peek().sym == sMore {
				p.pos++
				last = true
			}
			if last {
				return n, true
			}
		case sStitch:
			if last {
				p.pos++
				return n, true
			}
		}
		break
	}
	if last {
		return n, true
	}
	p.pos = start
	return 0, false
}

// except reads "except last 2 sts" after "around".
func (p *parser) except() int {
	if t := p.peek(); t.sym == sWord && (t.text == "except" || t.text == "excepting") {
		if l, ok := p.toLast(); ok {
			return l
		}
	}
	return 0
}

// asPiece reads "as for the shell", "same as leg 1": words that name another
// piece.
func (p *parser) asPiece() Node {
	i := p.pos
	var words []string
	for p.pos++; !p.end(); p.pos++ {
		switch t := p.peek(); t.sym {
		case sFill, sSide, sOf, sTo:
			continue
		case sWord, sStuff, sFirst, sCentre, sTop, sBack, sFront, sForm, sMeasure, sColour, sOther, sHook:
			words = append(words, t.text)
			continue
		case sNumber:
			if !t.decimal && len(words) == 1 {
				words = append(words, strconv.Itoa(t.num))
				continue
			}
		case sStop, sComma, sOpen, sEqual, sDash, sBar, sStar:
			if len(words) > 0 && len(words) <= 3 {
				p.line.AsNamed = strings.Join(words, " ")
				return &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]}
			}
		}
		p.pos = i
		return nil
	}
	if len(words) > 0 && len(words) <= 3 {
		p.line.AsNamed = strings.Join(words, " ")
		return &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]}
	}
	p.pos = i
	return nil
}

// granny reads how a round of a granny differs from the one before: "with 3
// groups of 3 dc between corners". Corners, and chains between the groups, are
// as usual.
func (p *parser) granny() Node {
	i := p.pos
	t := p.peek()
	if t.sym != sNumber || t.decimal || t.num > 60 || p.at(1).text != "groups" && p.at(1).text != "group" && p.at(1).sym != sForm {
		return nil
	}
	j, per, kind := 2, 3, stitch.Stitch{}
	if p.at(j).sym == sOf && p.at(j+1).sym == sNumber && p.at(j+2).sym == sStitch {
		per, kind = p.at(j+1).num, p.at(j+2).val.stitch
		j += 3
	}
	if p.at(j).sym != sBetween || p.at(p.past(j+1, sFill)).sym != sCorner {
		return nil
	}
	p.pos += p.past(j+1, sFill) + 1
	span := p.span(i)
	corner, ok := p.defs["corner"]
	if !ok {
		corner = p.usualCorner()
	}
	one := &Work{at: span, Stitch: stitch.Ch, Per: 1, Places: 1}
	group := &Work{at: span, Stitch: kind, Per: per, Places: 1, Target: Target{Where: Space}}
	return &Repeat{at: span, Times: ToEnd, Body: []Node{
		&In{at: span, Body: corner, Target: Target{Where: Corner}, Places: 1},
		&Repeat{at: span, Times: t.num, Body: []Node{one, group}},
		one,
	}}
}

// openers returns the nodes that open a round: yarns, joins of a new yarn,
// remarks.
func openers(nodes []Node) []Node {
	var out []Node
	for _, n := range nodes {
		switch n.(type) {
		case *Yarn, *Join, *Aside, *Turn:
			out = append(out, n)
		}
	}
	return out
}

// thus reads words that go on increasing, or decreasing, as in the round before:
// "continue in this manner, having 1 more sc between increases on each rnd".
func (p *parser) thus() Node {
	i := p.pos
	shapes, goes, end := false, false, i
	for j := i; j < len(p.toks); j++ {
		t := p.toks[j]
		if t.sym == sStop || t.sym == sUntil || t.sym == sEqual || t.sym == sStar || t.sym == sOpen || t.sym == sClose || t.sym == sRound && j < i+4 {
			break
		}
		if t.sym == sHave && j+1 < len(p.toks) && p.toks[j+1].sym == sNumber && (j+2 >= len(p.toks) || p.toks[j+2].sym != sMore) {
			break // "until there are 91"
		}
		switch {
		case t.sym == sInc, t.sym == sDec, t.sym == sNumber && j+1 < len(p.toks) && p.toks[j+1].sym == sMore:
			shapes = true
		case t.sym == sBetween, t.sym == sSame, t.sym == sWord && (t.text == "manner" || t.text == "thus"), t.text == "way", t.text == "thus", t.text == "so", t.text == "this":
			goes = true
		}
		end = j + 1
	}
	if !shapes || !goes || end-i < 3 {
		return nil
	}
	p.pos = end
	return &Evenly{at: p.span(i), Thus: true}
}

// aside passes over words that are no instruction, to the end of their
// sentence, and keeps them. If they name stitches they were meant as one, and
// are unread.
func (p *parser) aside(nodes *[]Node) {
	i := p.pos
	stitches := false
	free := false // words that by themselves make a remark, stitch names and all
	for ; !p.end(); p.pos++ {
		t := p.peek()
		if t.sym == sStop || t.sym == sClose || t.sym == sOpen && p.countAhead(0) || t.sym == sEqual {
			break
		}
		if t.sym == sColon && p.pos > i && p.pos < i+4 && !stitches && !free && len(*nodes) == 0 && p.labelEnded(i) {
			break // "Handles: sc 7, ch 6"
		}
		if t.sym == sOpen && p.pos > i {
			p.skipBracket()
			p.pos--
			continue
		}
		switch t.sym {
		case sFasten, sMark, sStuff, sCounts, sHook, sMeasure, sUntil:
			free = true
		case sStitch, sInc, sDec, sTog, sSkip, sRep, sForm:
			stitches = true
		}
		if t.sym == sComma && !free && !stitches && p.pos > i {
			break
		}
		if (t.sym == sComma || t.sym == sAnd) && free && p.instructionAhead(1) {
			break
		}
		if t.sym == sAnd && !stitches && p.pos > i && (p.instructionAhead(1) || p.at(1).sym == sStitch) {
			break
		}
	}
	if p.pos == i {
		return
	}
	p.countsAs(i)
	if stitches && !free || p.inGroup() && !free && p.unknownOnly(i) && !p.tint(i) {
		p.unread(i, "")
		return
	}
	if !free && (p.mentions(i, sCorner) || p.mentions(i, sSpace)) {
		p.line.Weak = true // "the corners as before"
	}
	if !free && len(*nodes) > 0 && i > 0 && p.unknownIn(i) {
		switch p.toks[i-1].sym {
		case sStitch, sSt, sNumber, sInc, sDec:
			p.line.Weak = true // "12 sc on leg 2": a place that is not known
		}
	}
	*nodes = append(*nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
}

// labelEnded reports whether a sign stands between the label of the line and the
// token i.
func (p *parser) labelEnded(i int) bool {
	from, to := p.line.LabelAt.To, p.toks[i].from
	return p.line.LabelAt.IsValid() && from < to && strings.ContainsAny(p.text[from:to], ":.-–—)|=")
}

// unknownIn reports whether one of the tokens from i to the current one is an
// unknown word.
func (p *parser) unknownIn(i int) bool {
	return slices.ContainsFunc(p.toks[i:p.pos], func(t token) bool { return t.sym == sWord })
}

// tint reports whether the words from i to the current one can be a colour: one
// word right after stitches, "3 dc crimson", or a number of one that was met so.
func (p *parser) tint(i int) bool {
	if p.pos != i+1 || p.toks[i].sym != sWord || i == 0 {
		return false
	}
	switch p.toks[i-1].sym {
	case sStitch, sSt, sInc, sDec, sNumber:
		return true
	}
	return false
}

// unknownOnly reports whether all tokens from i to the current one are unknown
// words: inside a group they stand for a stitch.
func (p *parser) unknownOnly(i int) bool {
	for _, t := range p.toks[i:p.pos] {
		if t.sym != sWord && t.sym != sNumber {
			return false
		}
	}
	return true
}

// instructionAhead reports whether what stands i tokens on begins an
// instruction: a number and a stitch, or a stitch and a number.
func (p *parser) instructionAhead(i int) bool {
	a, b := p.at(i), p.at(i+1)
	return a.sym == sNumber && (b.sym == sStitch || b.sym == sInc || b.sym == sDec) || a.sym == sStitch && b.sym == sNumber || a.sym == sInc || a.sym == sDec || a.sym == sStar || a.sym == sTurn
}

// countsAs notes "ch 3 counts as dc" and its denial.
func (p *parser) countsAs(i int) {
	for j := i; j < p.pos; j++ {
		if p.toks[j].sym != sCounts {
			continue
		}
		rule := ChainCounts
		if p.toks[j].num < 0 { // "does not count"
			rule = ChainNotCounted
		}
		for k := max(0, j-4); k < min(p.pos, j+3); k++ {
			if p.toks[k].sym == sNot {
				rule = ChainNotCounted
			}
		}
		p.line.Chain = rule
		for k := j + 1; k < min(p.pos, j+4); k++ {
			if b := p.toks[k].val.stitch.Base; p.toks[k].sym == sStitch && b > stitch.Slip && rule == ChainCounts {
				p.line.ChainAs = b
				break
			}
		}
	}
}
