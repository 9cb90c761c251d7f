package notation

import (
	"slices"

	"roundelay/pattern/stitch"
)

// bracket reads a bracketed group and what follows it. It reports whether it
// took anything.
func (p *parser) bracket(nodes *[]Node, depth, list int) bool {
	i := p.pos
	if p.count(sOpen, *nodes) {
		return true
	}
	if n, doubt, leave, ok := p.times(); ok && len(*nodes) > 0 { // "(6 times)"
		*nodes = p.repeat(*nodes, list, n, leave, doubt)
		return true
	}
	// (counts as dc), (see notes), (RS): remarks
	if p.remark() {
		p.shellMade(i, *nodes)
		*nodes = append(*nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
		return true
	}
	starred := p.starred
	p.starred = false
	glossed := p.sep == 0 && len(*nodes) > 0 && p.at(-1).sym != sComma && p.at(-1).sym != sStar && p.at(-1).sym != sClose
	p.pos++
	p.sep = 0
	unread, why := p.line.Unread, p.line.Why
	body := p.seq(depth + 1)
	if p.peek().sym != sClose || p.end() {
		if p.end() {
			// a bracket that was never closed: it ends with the line
			p.sep = 0
			if len(body) == 0 {
				return true
			}
			p.unread(i, "a bracket that is never closed")
			*nodes = append(*nodes, body...)
			return true
		}
	} else {
		p.pos++
	}
	p.sep = 0
	if len(body) == 0 {
		return true
	}
	if onlyAsides(body) {
		p.line.Unread, p.line.Why = unread, why
		*nodes = append(*nodes, body...)
		return true
	}
	// a gloss: "dc 5 together (beginning cluster)", "2 dc, ch 2, 2 dc in next sp (shell made)"
	if before := p.toks[max(i-1, 0)].sym; len(*nodes) > 0 && before != sComma && before != sStar && before != sStop && p.namesOnly(i) {
		p.shellMade(i, *nodes)
		p.line.Unread, p.line.Why = unread, why
		*nodes = append(*nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
		return true
	}
	// a gloss: "ch 4 (dc + ch 1)"
	if w, ok := lastNode(*nodes).(*Work); ok && i > 0 && (p.toks[i-1].sym == sStitch || p.toks[i-1].sym == sNumber) && w.Stitch == stitch.Ch && leadsToChain(*nodes) && !p.timesAhead() && standsForChains(w.Places, body) && !p.mentions(i, sIn) && !p.mentions(i, sNext) {
		p.line.Chain = ChainCounts
		*nodes = append(*nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
		return true
	}
	// a gloss: "1 picot (ch 3, sl st in 1st ch)"
	if w, ok := lastNode(*nodes).(*Work); (glossed || ok && i > 0 && p.toks[i-1].sym == sForm) && ok && w.Stitch.Form == stitch.Picot && onlyWork(body) {
		*nodes = append(*nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
		return true
	}
	// a gloss: "inc in every 3rd st (sc 2, inc)"
	if r, ok := lastNode(*nodes).(*Repeat); glossed && ok && r.Rest {
		*nodes = append(*nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
		return true
	}
	// a gloss: "inc (2 sc in next st)"
	if glossed && len(body) == 1 && sameWork((*nodes)[len(*nodes)-1], body[0]) {
		*nodes = append(*nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
		return true
	}
	after := p.pos
	for p.peek().sym == sFill || p.peek().sym == sAll {
		p.pos++
	}
	if s := p.peek().sym; s == sIn || s == sSame || s == sBetween || s == sCorner && p.pos > after { // "(3 dc, ch 2, 3 dc) for the corner"
		if pl := p.place(); pl.ok {
			*nodes = append(*nodes, p.in(i, body, pl))
			if starred && (p.peek().sym == sStar && p.peek().glued || p.repOfStar()) {
				return true // the star that ends the group round it, or "rep from *"
			}
			if n, doubt, leave, ok := p.times(); ok {
				*nodes = p.repeat(*nodes, max(list, 0), n, leave, doubt)
			}
			return true
		}
	}
	p.pos = after
	var n, leave int
	var doubt Doubt
	ok := false
	if !starred || !p.repOfStar() {
		n, doubt, leave, ok = p.times()
	}
	switch {
	case ok:
		r := &Repeat{at: p.span(i), Body: body, Times: n, Leave: leave, Doubt: doubt}
		p.oneBefore(r, *nodes, i)
		*nodes = append(*nodes, r)
	default:
		*nodes = append(*nodes, &Repeat{at: p.span(i), Body: body, Times: ToEnd, Doubt: Bare})
	}
	return true
}

// shellMade keeps what the bracket from token i to the current one calls a shell,
// the stitches that nodes end with: "(shell made)".
func (p *parser) shellMade(i int, nodes []Node) {
	if p.defs["shell"] != nil || !slices.ContainsFunc(p.toks[i:p.pos], func(t token) bool { return t.sym == sForm && t.val.form == stitch.Shell }) {
		return
	}
	if n, ok := lastNode(nodes).(*In); ok {
		p.defs["shell"] = n.Body
		return
	}
	var body []Node // the starting chain, and all that is in the same place
	same := 0
	for k := len(nodes) - 1; k >= 0; k-- {
		w, ok := nodes[k].(*Work)
		if !ok || w.Stitch != stitch.Ch && w.Target.Where != Same {
			return
		}
		if w.Stitch == stitch.Ch && k == 0 {
			if same > 1 {
				body[0] = &Work{Stitch: body[0].(*Work).Stitch, Per: body[0].(*Work).Per + 1, Places: 1}
				p.defs["shell"] = body
			}
			return
		}
		if w.Stitch == stitch.Ch {
			body = append([]Node{w}, body...)
			continue
		}
		same++
		if same > 1 {
			nodes[len(nodes)-1].(*Work).Doubt &^= SameNext // the first of them was in the same place
		}
		body = append([]Node{&Work{at: w.at, Stitch: w.Stitch, Per: w.Per, Places: 1}}, body...)
	}
}

// timesAhead reports whether what stands before the current token is worked
// several times.
func (p *parser) timesAhead() bool {
	i := p.pos
	_, _, _, ok := p.times()
	p.pos = i
	return ok
}

// standsForChains reports whether so many chains stand for nodes: a stitch, and the
// chains that go on from it.
func standsForChains(n int, nodes []Node) bool {
	for i, m := range nodes {
		w, ok := m.(*Work)
		switch {
		case !ok || w.Places != 1 && i == 0 || w.Per != 1 || w.Target != (Target{}):
			return false
		case i == 0:
			usual, _ := w.Stitch.StartingChains()
			if w.Stitch.Base < stitch.Half || usual > n {
				return false
			}
			n -= usual
		case i > 1 || w.Stitch != stitch.Ch:
			return false
		default:
			n -= w.Places
		}
	}
	return n == 0
}

func lastNode(nodes []Node) Node {
	if len(nodes) == 0 {
		return nil
	}
	return nodes[len(nodes)-1]
}

func onlyWork(nodes []Node) bool {
	for _, n := range nodes {
		if _, ok := n.(*Work); !ok {
			return false
		}
	}
	return len(nodes) > 0
}

// namesOnly reports whether the bracket from token i to the current one holds
// the name of a compound stitch and no numbers.
func (p *parser) namesOnly(i int) bool {
	form := false
	for _, t := range p.toks[i:p.pos] {
		switch t.sym {
		case sForm:
			form = true
		case sOpen, sClose, sFirst, sBegin, sFill, sWord, sSt, sTotal, sMore:
		default:
			return false
		}
	}
	return form
}

// oneEach reports whether nodes are single stitches of more than one kind, each of
// which can be worked in a place of its own.
func oneEach(nodes []Node) bool {
	kinds := false
	first := stitch.Stitch{}
	for i, n := range nodes {
		w, ok := n.(*Work)
		if !ok || w.Stitch == stitch.Ch || w.Per != 1 || w.Places != 1 || w.Target != (Target{}) || w.Stitch.Legs() != 1 {
			return false
		}
		if i == 0 {
			first = w.Stitch
		}
		kinds = kinds || w.Stitch != first
	}
	return kinds
}

// in makes a group that is worked into one place, or into each of several.
func (p *parser) in(i int, body []Node, pl place) Node {
	if pl.n > 1 && !pl.each && len(body) == pl.n && pl.target == (Target{}) && oneEach(body) { // "(sc, hdc, dc) in next 3 sts"
		return &Repeat{at: p.span(i), Body: body, Times: 1}
	}
	n := &In{at: p.span(i), Body: body, Target: pl.target, Places: max(pl.n, 1)}
	if n.Target.Where == First {
		n.Target.Where = Next
	}
	if pl.toEnd {
		n.Places = ToEnd
	}
	for _, b := range body {
		if w, ok := b.(*Work); ok {
			w.Doubt &^= TwoInOne | TwoTight // all of them go into the one place
		}
	}
	if pl.loop != BothLoops { // "(2 dc, ch 2, 2 dc) in BLO of next st"
		for _, b := range body {
			if w, ok := b.(*Work); ok && w.Loop == BothLoops {
				w.Loop = pl.loop
			}
		}
	}
	return n
}

func onlyAsides(ns []Node) bool {
	for _, n := range ns {
		if _, ok := n.(*Aside); !ok {
			return false
		}
	}
	return true
}

// sameWork reports whether a and b do the same.
func sameWork(a, b Node) bool {
	v, ok := a.(*Work)
	if !ok {
		return false
	}
	if r, ok := b.(*Repeat); ok && len(r.Body) == 1 {
		b = r.Body[0]
	}
	w, ok := b.(*Work)
	if !ok {
		return false
	}
	if v.Stitch.IsDecrease() && w.Stitch.Form == stitch.Cluster {
		return true // "dc5tog (cluster)"
	}
	same := v.Per == w.Per && v.Places == w.Places && v.Stitch.N == w.Stitch.N
	return same && (v.Per > 1 || v.Stitch.IsDecrease())
}

// chainBefore reports whether "ch 3" or "3 ch" stands before the token i.
func (p *parser) chainBefore(i int) bool {
	for j := i - 1; j >= 0 && j >= i-2; j-- {
		if t := p.toks[j]; t.sym == sStitch {
			return t.val.stitch == stitch.Ch
		}
	}
	return false
}

// remark reads a bracket that says something about the work and is no work
// itself.
func (p *parser) remark() bool {
	i := p.pos
	depth, works, words := 0, false, false
	for ; !p.end(); p.pos++ {
		t := p.peek()
		switch t.sym {
		case sOpen:
			depth++
		case sClose:
			depth--
			if depth == 0 {
				p.pos++
				if works && !words {
					p.pos = i
					return false
				}
				if words || !works {
					p.countsAs(i)
					p.roundsSaid(i)
					return true
				}
			}
		case sStitch, sInc, sDec, sTog, sForm, sSkip:
			works = true
		case sIn:
			if p.at(-1).sym == sNumber && p.at(1).sym == sNumber {
				works = true // "(2in1)"
			}
		case sFirst: // "ch 3 (first dc)"
			if s := p.at(1).sym; p.pos == i+1 && (s == sStitch || s == sSt) && p.at(2).sym == sClose && p.chainBefore(i) {
				p.line.Chain, words = ChainCounts, true
			}
		case sCounts:
			words = true
		case sTotal:
			if t.text == "made" && p.pos > i+1 { // "(a 3 tr cluster made)"
				words = true
			}
		case sBegin:
			if p.pos == i+1 && p.at(-2).sym != sStar && p.at(-2).sym != sComma { // "(starting ch-4 and 2 tr)"
				words = true
			}
		case sEqual:
			if p.pos == i+1 {
				words = true // "(= 1 dc)"
			}
		case sFill:
			if p.pos == i+1 && t.text == "is" { // "ch 3 (is a dc)"
				words = true
				p.line.Chain = ChainCounts
			}
		case sFasten, sMark, sStuff, sMeasure, sSide:
			if !works {
				words = true
			}
		}
		if p.pos-i > 60 {
			break
		}
	}
	p.pos = i
	return false
}

// roundsSaid notes "(6 rounds)".
func (p *parser) roundsSaid(i int) {
	for j := i; j+1 < p.pos; j++ {
		if p.toks[j].sym == sNumber && !p.toks[j].decimal && (p.toks[j+1].sym == sRound || p.toks[j+1].sym == sRow) {
			p.line.Rounds = p.toks[j].num
			return
		}
	}
}
