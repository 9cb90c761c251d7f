package notation

import (
	"roundelay/pattern/stitch"
)

// item reads one instruction: stitches, how many, and where. before is what
// the list holds so far.
func (p *parser) item(before []Node) []Node {
	start := p.pos
	var pl place
	if s := p.peek().sym; s == sIn || s == sEach || s == sNext || s == sBetween || s == sRest && p.stitchAfter(1) {
		nodes, first, ok := p.placeFirst(start, before)
		if nodes != nil || !ok {
			return nodes
		}
		pl = first
	}
	if pl.rest {
		p.pos += p.past(0, sFill, sWith, sColon, sDash, sEven)
	}
	if nodes := p.explained(start, before, pl); nodes != nil {
		return nodes
	}
	n, glued := 0, false
	if t := p.peek(); t.sym == sColour && p.at(1).sym == sNumber && !p.begins(2) && p.at(2).sym != sSt && p.at(2).sym != sTimes {
		// "W 5, R 3": five stitches in one yarn, three in another
		y := &Yarn{Key: p.raw(p.pos)}
		n := p.at(1).num
		p.pos += 2
		y.at = p.span(start)
		return append([]Node{y}, p.compose(start, n, Work{Per: 1, Places: 1}, p.place(), false)...)
	}
	if t := p.peek(); t.sym == sNumber || t.sym == sOnce && p.intoOne(1) {
		if t.decimal || t.ordinal {
			p.pos = start
			return nil
		}
		n = t.num
		p.pos++
		for p.peek().sym == sX && (p.at(1).sym == sStitch || p.at(1).sym == sInc || p.at(1).sym == sDec) || p.peek().sym == sMore || p.peek().sym == sFill {
			p.pos++
		}
		if p.peek().sym == sDash && (p.at(1).sym == sStitch || p.at(1).sym == sForm) { // 5-dc popcorn
			p.pos++
		}
		glued = p.peek().glued
	} else {
		for p.peek().sym == sFill {
			if p.peek().text == "complete" && p.at(p.past(1, sFill)).sym == sForm && opensRound(before) { // "ch 4, complete a cluster in same loop"
				before[len(before)-1].(*Work).Within = true
			}
			p.pos++
		}
	}
	if s := p.at(1).sym; n > 0 && p.peek().sym == sEvenly && (s == sInc || s == sDec) { // "6 evenly spaced increases"
		p.pos += 2
		if s == sDec {
			n = -n
		}
		p.takeEvenly()
		return []Node{&Evenly{at: p.span(start), N: n}}
	}
	if t := p.peek(); n > 0 && t.sym == sColour && !p.begins(1) { // "5 R, 5 Y"
		switch p.at(1).sym {
		case sComma, sStop, sClose, sAround, sStar, sEqual, sRep:
			y := &Yarn{at: p.span(p.pos - 1), Key: p.raw(p.pos)}
			p.pos++
			return append([]Node{y}, p.compose(start, n, Work{Per: 1, Places: 1}, place{}, false)...)
		}
	}
	if k := p.tintAhead(); n > 0 && k > 0 { // "two stitches of gold, two of blue"
		y := &Yarn{at: p.span(p.pos - 1), Key: p.raw(p.pos + k - 1)}
		p.pos += k
		return append([]Node{y}, p.compose(start, n, Work{Per: 1, Places: 1}, place{}, false)...)
	}
	w, num, ok := p.kind(n)
	if !ok && n > 0 && (p.bareNumber() || !works(before) && p.pos+1 >= len(p.toks) && p.peek().sym == sStop) { // "5. BLO 24"
		return p.compose(start, n, Work{Per: 1, Places: 1}, place{}, false)
	}
	if !ok {
		p.pos = start
		return nil
	}
	if w.Stitch.Form == stitch.Cluster && p.peek().sym == sOver { // "cluster over next 5 dc"
		at := p.pos
		if pl := p.place(); pl.n >= 2 && pl.n <= stitch.MaxTogether && !pl.toEnd {
			w.Stitch.Form, w.Stitch.N = stitch.Together, uint8(pl.n)
			if b := pl.target.Kind.Base; b > stitch.Slip && n == 0 {
				w.Stitch.Base = b
			}
			return p.compose(start, 1, w, place{}, false)
		}
		p.pos = at
	}
	tight := glued && n > 0
	if num == 0 {
		num = n
	}
	// the number may come after: "sc 3", "inc x 6" is read by times
	if num == 0 {
		if t := p.peek(); t.sym == sNumber && !t.ordinal && !t.decimal && !p.timesAt(1) && (!p.begins(1) || t.glued && !p.at(1).glued) {
			num = t.num
			tight = t.glued
			p.pos++
			if p.peek().sym == sDash && p.peek().glued && p.at(1).sym == sSpace {
				p.pos = start
				return nil
			}
		} else if t.sym == sComma && p.at(1).sym == sNumber && !p.at(1).ordinal && !p.at(1).decimal && p.at(2).sym == sComma && p.at(3).sym == sIn { // "Dc, 8, in the circle", of old books
			num = p.at(1).num
			p.pos += 3
		} else if t.sym == sOnce && p.intoOne(1) { // "sc twice in next st"
			num = t.num
			p.pos++
		} else if t.sym == sNumber && !t.ordinal && (p.at(1).sym == sTimes || p.at(1).sym == sX) && p.intoOne(2) { // "sc 2x in next st"
			num = t.num
			p.pos += 2
		} else if t.sym == sOf && w.Stitch == stitch.Ch && p.at(1).sym == sNumber && !p.at(1).ordinal && !p.at(1).decimal { // "a chain of 4 stitches"
			num = p.at(1).num
			if p.pos += 2; p.peek().sym == sSt {
				p.pos++
			}
		} else if t.sym == sDash && t.glued && w.Stitch == stitch.Ch && p.at(1).sym == sNumber { // ch-3
			num = p.at(1).num
			p.pos += 2
		}
	}
	if w.Stitch == stitch.Ch {
		num = max(num, 1)
		if p.peek().sym == sIn || p.peek().sym == sBetween {
			// chains are worked into nothing; with stitches before them they are a
			// group: "1 dc and 1 ch in every stitch"
			if in, ok := p.betweenThem(before); ok { // "puff in each ch-1 sp, ch 2 between them"
				p.group = in
			} else if pl := p.place(); pl.each && pl.toEnd && afterStitches(before) {
				p.group = pl
			}
		}
		return p.compose(start, num, w, place{}, false)
	}
	if t := p.peek(); t.sym == sStop && t.glued { // "1 tr. into next st": the stop of the abbreviation
		switch p.at(1).sym {
		case sIn, sOver, sTog:
			if p.at(1).line == t.line {
				p.pos++
			}
		}
	}
	if w.Stitch == stitch.SlSt {
		if n := p.slip(start, before); n != nil {
			return n
		}
	}
	if p.apart && p.peek().sym == sMore && (p.at(1).sym == sIn || p.at(1).sym == sAround || p.at(1).sym == sFill) { // "11 sc more around leg 1"
		p.pos++
	}
	p.layers()
	if !pl.ok {
		pl = p.alongChain(num)
	}
	if !pl.ok {
		pl = p.backAlong(before)
	}
	if !pl.ok {
		pl = p.place()
	}
	p.layers()
	if pl.target.Where == Between && !pl.each && pl.n == 0 && p.oneInEachGap() { // "sc between the hdc, one in every gap"
		pl.each, pl.toEnd = true, true
	}
	if p.peek().sym == sDouble {
		p.pos++
		w.Per = 2
		w.Stitch = p.plainStitch()
	}
	if p.peek().sym == sTog { // "sc next 2 sts together"
		p.pos++
		legs := max(pl.n, num, 2)
		if pl.n > 0 {
			num = max(num, 1)
		} else {
			num = 1
		}
		w.Stitch.Form, w.Stitch.N = stitch.Together, uint8(min(legs, stitch.MaxTogether))
		return p.compose(start, num, w, place{}, false)
	}
	nodes := p.compose(start, num, w, pl, tight)
	// "in same st and in each st around": the same stitch in a second place
	for p.peek().sym == sAnd || p.peek().sym == sComma || p.peek().text == "&" && !p.end() {
		save := p.pos
		p.pos++
		if t := p.peek(); pl.target.Where == FromHook && (t.text == "down" || t.sym == sBack) { // "sc in 2nd ch and down"
			p.pos++
			if j := p.past(0, sFill, sOver); namesChain(p.at(j)) {
				p.pos += j + 1
			}
			nodes = append(nodes, p.compose(start, num, w, place{ok: true, each: true, toEnd: true, target: Target{Kind: stitch.Ch}}, tight)...)
			break
		}
		if s := p.peek().sym; s != sIn && s != sEach && s != sNext {
			p.pos = save
			break
		}
		pl := p.place()
		if !pl.ok || p.begins(0) || pl.nth > 0 && (p.peek().sym == sAnd || p.peek().sym == sPlus) && p.at(1).ordinal || p.peek().sym == sNumber && p.begins(1) {
			p.pos = save
			break
		}
		nodes = append(nodes, p.compose(start, num, w, pl, tight)...)
	}
	return nodes
}

// tintAhead returns how many tokens "stitches of gold" or "of blue" is: a number of
// plain stitches in a colour. It is 0 if they do not stand next.
func (p *parser) tintAhead() int {
	j := p.past(0, sFill, sSt)
	if p.at(j).sym == sOf {
		j++
	} else if j == 0 || p.at(j-1).text != "stitches of" {
		return 0
	}
	if s := p.at(j).sym; s != sWord && s != sColour {
		return 0
	}
	switch p.at(j + 1).sym {
	case sComma, sStop, sClose, sAround, sStar, sEqual, sRep, sAnd:
		return j + 1
	}
	return 0
}

// betweenThem passes over "between them", "between clusters" after chains, where
// before ends with stitches that go all round, into the place that it returns:
// the chains come after each of them.
func (p *parser) betweenThem(before []Node) (place, bool) {
	if len(before) == 0 || p.peek().sym != sBetween {
		return place{}, false
	}
	t, ok := allRound(before[len(before)-1])
	j := p.past(1, sEach, sFill, sSt, sStitch, sForm)
	if end := p.at(j).sym; !ok || end != sStop && end != sOpen && end != sClose && end != sComma && end != sEqual && end != sJoin && end != sAround && end != sDash {
		return place{}, false
	}
	p.pos += j
	return place{ok: true, each: true, toEnd: true, target: t}, true
}

// oneInEachGap passes over ", one in every gap" after a place between stitches.
func (p *parser) oneInEachGap() bool {
	if p.at(0).sym != sComma || p.at(1).sym != sNumber || p.at(1).num != 1 || p.at(2).sym != sIn || p.at(3).sym != sEach || p.at(4).sym != sSpace {
		return false
	}
	p.pos += 5
	return true
}

// intoOne reports whether "in next st", "in the same st" or the like stands i
// tokens on.
func (p *parser) intoOne(i int) bool {
	if p.at(i).sym != sIn {
		return false
	}
	switch p.at(p.past(i+1, sFill)).sym {
	case sNext, sSame, sFirst, sLast, sEach:
		return true
	}
	return false
}

// stitchAfter reports whether a stitch comes from i tokens on, signs and words
// such as "plain" before it.
func (p *parser) stitchAfter(i int) bool {
	return p.at(p.past(i, sFill, sWith, sColon, sDash, sEven)).sym == sStitch
}

// placeFirst reads the place that stands before its stitches, "in each st 2 sc",
// "every 2nd st doubled", and the stitches too where their order is their own.
func (p *parser) placeFirst(start int, before []Node) (nodes []Node, pl place, ok bool) {
	pl = p.place()
	for pl.ok && (p.peek().sym == sFill || p.peek().sym == sTotal && pl.one || p.peek().sym == sComma && pl.nth > 0 || (p.peek().sym == sColon || p.peek().sym == sComma) && (pl.target.Where == Ring || pl.target.Where == FromHook || pl.target.Where == Elsewhere) || p.peek().sym == sColon && pl.one && pl.n > 0 || (p.peek().sym == sComma || p.peek().sym == sColon) && pl.each && pl.toEnd && pl.n == 0 && p.at(1).sym == sNumber && p.at(2).sym == sStitch) {
		p.pos++
	}
	if pl.ok && p.peek().sym == sDouble {
		p.pos++
		return p.compose(start, 1, Work{Per: 2, Places: 1}, pl, true), pl, true
	}
	if pl.nth > 0 && (p.peek().sym == sAnd || p.peek().sym == sPlus) && p.at(1).ordinal && p.at(1).num == pl.nth+1 { // "every 5th and 6th st together"
		save := p.pos
		p.pos += 2
		if p.peek().sym == sSt || p.peek().sym == sStitch {
			p.pos++
		}
		if p.peek().sym == sTog {
			p.pos++
			return p.compose(start, 1, Work{Stitch: stitch.Stitch{Form: stitch.Together, N: 2}, Per: 1, Places: 1}, pl, true), pl, true
		}
		p.pos = save
	}
	if !pl.ok {
		p.pos = start
		return nil, pl, false
	}
	if pl.target.Where == FromHook && p.placeAhead() { // "in 2nd ch from hook, sc in next 4"
		return []Node{&Skip{at: p.span(start), N: pl.target.Chain - 1, Target: pl.target}}, pl, true
	}
	if j := p.past(0, sFill, sColon, sComma); pl.target.Where == Ring && (p.at(j).sym == sStar || p.at(j).sym == sOpen) && len(before) == 0 { // "in a magic ring: *2 dc, ch 1* 6 times"
		kind := ChainRing
		for _, t := range p.toks[start:p.pos] {
			if t.sym == sMagic {
				kind = MagicRing
			}
		}
		p.pos += j
		return []Node{&Start{at: p.span(start), Kind: kind}}, pl, true
	}
	if !pl.each && !pl.one && !pl.toEnd && pl.n == 0 && pl.target == (Target{}) {
		pl = place{} // "on the other side": says nothing of how many
	}
	if pl.ok && p.peek().sym == sTog && pl.n >= 2 { // "work next 2 sc tog"
		p.pos++
		w := Work{Stitch: stitch.Stitch{Base: pl.target.Kind.Base, Form: stitch.Together, N: uint8(min(pl.n, stitch.MaxTogether))}, Per: 1, Places: 1}
		return p.compose(start, 1, w, place{}, false), pl, true
	}
	if body := p.listIn(pl); body != nil {
		return []Node{p.in(start, body, pl)}, pl, true
	}
	if pl.ok && p.peek().sym == sOpen && (!p.countAhead(0) || !works(before) && pl.toEnd) { // "in each loop work (sc, hdc, sc)"
		i := p.pos
		p.pos++
		body := p.seq(1)
		if p.peek().sym == sClose {
			p.pos++
		}
		if len(body) > 0 {
			return []Node{p.in(i, body, pl)}, pl, true
		}
		p.pos = start
		return nil, pl, false
	}
	return nil, pl, true
}

// placeAhead reports whether stitches with a place of their own come next.
func (p *parser) placeAhead() bool {
	j := p.past(0, sFill)
	if p.at(j).sym == sNumber {
		j++
	}
	if s := p.at(j).sym; s != sStitch && s != sInc {
		return false
	}
	if j++; p.at(j).sym == sNumber {
		j++
	}
	return p.at(j).sym == sIn || p.at(j).sym == sNext
}

// slipAhead reports whether a slip stitch, or a number of them, stands j tokens on.
func (p *parser) slipAhead(j int) bool {
	if p.at(j).sym == sNumber {
		j++
	}
	return p.at(j).sym == sStitch && p.at(j).val.stitch == stitch.SlSt
}

// slip reads what follows a slip stitch if it closes the round ("to top of
// ch-3", "in first sc to join") or makes a ring of the chain before.
func (p *parser) slip(start int, before []Node) []Node {
	if j := p.past(0, sOver, sFill, sBack); j > 0 && p.at(j).sym == sTo { // "sl st over to the corner sp"
		p.pos += j
	}
	i := p.pos
	if t := p.at(2); len(before) == 0 && (p.peek().sym == sTo || p.peek().sym == sIn) && namesChain(p.at(1)) && t.sym == sNumber && (p.at(3).sym == sComma || p.at(3).sym == sStop) { // "slip to chain 1, chain 3"
		p.pos += 3
		return p.compose(start, 1, Work{Stitch: stitch.SlSt, Per: 1, Places: 1}, place{ok: true, one: true, n: 1, target: Target{Where: Space, Chain: t.num}}, false)
	}
	if p.peek().sym == sTo || p.peek().sym == sWith {
		if _, ok := p.toLast(); ok {
			p.pos = i
		} else {
			p.pos++
		}
	}
	pl := p.place()
	j := p.pos
	p.pos--
	p.clause()
	switch {
	case pl.target.Where == Elsewhere: // "ch 2, sl st to first leg to join"
		return []Node{&Aside{at: p.span(start), Text: p.text[p.toks[start].from:p.toks[p.pos-1].to]}}
	case p.mentions(i, sRing) || p.mentions(i, sMagic):
		if len(before) > 0 {
			if w, ok := before[len(before)-1].(*Work); ok && w.Stitch == stitch.Ch {
				return p.ring(before, start)
			}
		}
	case pl.target.Where == FromHook && p.toksAt(j).sym == sAnd: // "in second ch from hook and next 2 ch"
		if p.pos = i; p.peek().sym == sTo {
			p.pos++
		}
		return nil
	case pl.target.Where == FromHook:
		p.pos = j
		return p.compose(start, 1, Work{Stitch: stitch.SlSt, Per: 1, Places: 1}, pl, false)
	case p.mentions(i, sJoin) || p.mentions(i, sTop) || p.peek().sym == sJoin || pl.target.Where == TopChain && works(before) && !(isChain(lastNode(before)) && p.inGroup()) && p.ended(j-p.pos):
		return []Node{&Join{at: p.span(start), Into: pl.target}}
	case pl.target.Where == First && (p.end() || p.peek().sym == sStop || p.peek().sym == sOpen || p.peek().sym == sEqual || p.peek().sym == sTurn || p.peek().sym == sDash && !p.peek().glued):
		return []Node{&Join{at: p.span(start), Into: pl.target}}
	}
	if p.pos = i; p.peek().sym == sTo {
		p.pos++
		if pl := p.place(); !pl.ok {
			p.pos = i
		} else if p.pos = j; true {
			return p.compose(start, 1, Work{Stitch: stitch.SlSt, Per: 1, Places: 1}, pl, false)
		}
	}
	return nil
}

// bareNumber reports whether the number just read is that many plain stitches:
// "(3, inc) x 6".
func (p *parser) bareNumber() bool {
	switch p.peek().sym {
	case sWord: // "3 dc crimson, 1 maize"
		return p.tinted(p.peek())
	case sComma, sStar:
		return p.peek().sym == sStar && p.inGroup() || p.beginsItem(p.pos+1) || p.inGroup()
	case sClose:
		return p.at(-2).sym == sComma
	case sOpen:
		return p.countAhead(0)
	}
	return false
}

// tinted reports whether the token is the name of a colour, as this line has
// used it after stitches: "3 dc crimson, 1 maize" has two.
func (p *parser) tinted(t token) bool {
	if t.sym != sWord {
		return false
	}
	for i := 1; i < len(p.toks); i++ {
		if p.toks[i].sym == sWord && (p.toks[i-1].sym == sStitch || p.toks[i-1].sym == sSt) && (p.toksAt(i+1).sym == sComma || p.toksAt(i+1).sym == sClose) {
			return true
		}
	}
	return false
}

// timesAt reports whether "times" stands i tokens on.
func (p *parser) timesAt(i int) bool {
	s := p.at(i).sym
	if s == sMore {
		s = p.at(i + 1).sym
	}
	if s == sX && p.at(i+1).sym == sNumber {
		return false // "sc 3 x 6"
	}
	return s == sTimes || s == sX && !(p.at(i+1).sym == sStitch || p.at(i+1).sym == sInc)
}

// begins reports whether the token i on is a stitch that a number before it
// belongs to.
func (p *parser) begins(i int) bool {
	switch p.at(i).sym {
	case sStitch, sInc, sDec, sForm, sTog, sDouble:
		return true
	case sDash:
		return p.at(i).glued && p.at(i+1).glued && (p.at(i+1).sym == sStitch || p.at(i+1).sym == sForm)
	}
	return false
}

// skip reads "skip next 2 sts", "sk 1", "miss next ch-1 sp".
func (p *parser) skip() Node {
	i := p.pos
	p.pos++
	noun := func() {
		if s := p.peek().sym; s == sSt || s == sStitch || s == sLoop {
			p.pos++
		}
	}
	if t := p.peek(); t.sym == sEach && t.num > 1 { // "skip every other st"
		p.pos++
		noun()
		return &Repeat{at: p.span(i), Body: []Node{&Work{at: p.span(i), Per: 1, Places: t.num - 1}, &Skip{at: p.span(i), N: 1}}, Times: ToEnd, Rest: true}
	}
	if p.peek().sym == sEach && p.at(1).sym == sNumber && p.at(1).ordinal && p.at(1).num > 1 { // "skipping every fourth stitch"
		n := p.at(1).num
		p.pos += 2
		noun()
		return &Repeat{at: p.span(i), Body: []Node{&Work{at: p.span(i), Per: 1, Places: n - 1}, &Skip{at: p.span(i), N: 1}}, Times: ToEnd, Rest: true}
	}
	s := &Skip{N: 1}
	for !p.end() {
		t := p.peek()
		switch t.sym {
		case sNext, sFill, sOf, sFirst, sEach, sTotal, sLast:
			p.pos++
			continue
		case sRest: // "skip the rest"
			s.N = ToEnd
			p.pos++
		case sNumber:
			if k := p.numberedSpace(0); k > 0 { // "miss 1ch-sp"
				s.Target = Target{Where: Space, Chain: t.num}
				p.pos += k
				break
			}
			if t.decimal || p.at(1).sym == sTimes {
				break
			}
			s.N = t.num
			p.pos++
			continue
		case sStitch:
			if n, k := p.spaceAhead(); k > 0 { // "skip next ch-1 sp"
				s.Target = Target{Where: Space, Chain: n}
				p.pos += k
				break
			}
			if t.val.stitch == stitch.Ch && p.at(1).sym == sDash && p.at(1).glued && p.at(2).sym == sNumber { // "skip next ch-3"
				s.Target = Target{Where: Space, Chain: p.at(2).num}
				p.pos += 3
				break
			}
			if t.val.stitch == stitch.Ch {
				s.Target.Where = Any
			}
			s.Target.Kind = t.val.stitch
			p.pos++
		case sSt, sForm, sLoop:
			p.pos++
		case sSpace:
			s.Target.Where = Space
			p.pos++
		}
		break
	}
	if s.Target.Where == Next || s.Target.Where == Any {
		p.groupNamed() // "skip last dc of the group"
	}
	s.at = p.span(i)
	return s
}

// leftUnworked reads "leave the remaining 12 sts unworked".
func (p *parser) leftUnworked() Node {
	i, s := p.pos, &Skip{N: 1}
	for j := 1; j < 8; j++ {
		switch t := p.at(j); t.sym {
		case sFill, sLast, sTotal, sNext, sSt, sStitch:
		case sRest:
			s.N = ToEnd
		case sNumber:
			s.N = t.num
		case sSkip:
			p.pos += j + 1
			s.at = p.span(i)
			return s
		default:
			return nil
		}
	}
	return nil
}

// yarnPhrase reads "with CC", "change to B", "in coral".
func (p *parser) yarnPhrase() []Node {
	i := p.pos
	p.pos++
	for p.peek().sym == sFill || p.peek().sym == sStitch && p.peek().val.stitch == stitch.SlSt || p.peek().sym == sTo || p.peek().sym == sColour && p.at(1).sym == sColour {
		if p.peek().sym == sFill && p.colours[p.peek().text] {
			break
		}
		p.pos++
	}
	t := p.peek()
	if t.sym == sNumber && t.ordinal && p.at(1).sym == sColour { // "using 2nd colour"
		p.pos += 2
		return []Node{&Yarn{at: p.span(i), Key: p.text[t.from:p.toks[p.pos-1].to]}}
	}
	if p.end() || t.sym == sStop || t.sym == sComma || t.sym == sClose || t.sym == sOpen || t.sym == sNumber && !p.colours[t.text] {
		return nil
	}
	if t.sym == sColour || p.colours[t.text] || t.sym == sWord {
		p.pos++
		key := p.raw(p.pos - 1)
		if t.sym == sColour && (t.text == "color" || t.text == "colour") && !p.end() && (p.peek().sym == sFill || p.peek().sym == sWord || p.peek().sym == sColour || p.peek().sym == sNumber) {
			key = p.raw(p.pos)
			p.pos++
		}
		return []Node{&Yarn{at: p.span(i), Key: key}}
	}
	return nil
}

func (p *parser) yarn(i int) []Node {
	for j := i; j < p.pos; j++ {
		if p.toks[j].sym == sColour {
			return []Node{&Yarn{at: p.span(i), Key: p.raw(j)}}
		}
	}
	return nil
}

// magicRing puts the start before an instruction that names the magic ring only
// as the place of its stitches: "6 sc in magic ring".
func (p *parser) magicRing(nodes []Node) []Node {
	inRing := false
	for _, n := range nodes {
		switch n := n.(type) {
		case *Start:
			return nodes
		case *Work:
			inRing = inRing || n.Target.Where == Ring
		case *In:
			inRing = inRing || n.Target.Where == Ring
		}
	}
	for _, t := range p.toks {
		if t.sym == sMagic && inRing {
			return append([]Node{&Start{at: at{From: t.from, To: t.to}, Kind: MagicRing}}, nodes...)
		}
	}
	return nodes
}
