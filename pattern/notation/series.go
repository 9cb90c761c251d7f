package notation

import (
	"slices"
	"strings"

	"roundelay/pattern/stitch"
)

// A series is the instructions being read up to a closing bracket or the end of
// the line, with where an open repeat began.
type series struct {
	*parser
	depth   int // of brackets round it
	nodes   []Node
	star    int // the node at which a repeat marked by a star began; -1 if none is open
	starTok int // the token of that star
	stop    int // the node, from the star, at which the last pass stops; 0 if it is whole
	list    int // the node at which an unmarked repeat would begin
}

// seq reads instructions up to a closing bracket or the end.
func (p *parser) seq(depth int) []Node {
	s := &series{parser: p, depth: depth, star: -1}
	for !p.end() && p.peek().sym != sClose {
		if i := p.pos; !s.word(i) {
			p.pos = i
			s.stitches(i)
		}
	}
	if s.star >= 0 && s.star < len(s.nodes) { // a star with no end
		r := &Repeat{at: p.span(s.starTok), Body: clone(s.nodes[s.star:]), Times: ToEnd, Doubt: Bare, Stop: s.stop}
		s.nodes = append(s.nodes[:s.star], r)
	}
	return s.nodes
}

// word reads what is told by its first word. It reports false, and may have
// moved on, if the word is to be read as the beginning of stitches.
func (p *series) word(i int) bool {
	if t := p.peek(); t.text == "leave" || t.text == "leaving" {
		if n := p.leftUnworked(); n != nil {
			p.nodes = append(p.nodes, n)
			return true
		}
	}
	if p.depth == 0 && p.onRound() {
		p.nodes = append(p.nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
		return true
	}
	if p.depth == 0 && p.held() {
		p.line.Joins = true
		p.nodes = append(p.nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
		return true
	}
	if works(p.nodes) {
		if _, _, ok := p.between(); ok { // "inc in every 4th st, with 3 sc between increases": said once more
			p.nodes = append(p.nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
			return true
		}
	}
	if p.heldBack(i) {
		return true
	}
	if p.chainsBetween() {
		return true
	}
	switch t := p.peek(); t.sym {
	case sComma, sStop, sDash, sPlus, sEqual, sColon, sBar, sAnd:
		return p.separator(i)
	case sTotal: // "Total: 12"
		p.pos++
		if s := p.peek().sym; p.depth == 0 && (s == sColon || s == sEqual || s == sNumber) {
			p.count(sHave, p.nodes)
		}
		return true
	case sFill, sOf, sSign, sOther, sSide:
		if t.sym != sFill || !p.startsIn() {
			p.pos++
		}
		if t.text == "for" && p.depth == 0 && works(p.nodes) && p.at(0).sym == sNumber && p.at(1).sym == sStitch && p.at(2).sym == sStop { // "repeat around for 18 sc."
			p.count(sHave, p.nodes)
		}
		return true
	case sEnd:
		return p.ending(i)
	case sStar:
		return p.starMark(i)
	case sOpen:
		return p.opened(i)
	case sRep, sOmit, sAs:
		return p.again(i)
	case sAround:
		return p.allAround(i)
	case sX, sTimes, sOnce:
		return p.timesSaid(i)
	case sJoin:
		return p.joining(i)
	case sTurn:
		p.pos++
		p.nodes = append(p.nodes, &Turn{at: p.span(i)})
		p.list = len(p.nodes)
		return true
	case sMagic, sRing:
		return p.ringBegun(i)
	case sWith:
		return p.with(i)
	case sFirst: // "First color: ch 3"
		if p.startsIn() {
			return true
		}
		if p.at(1).sym == sColour && p.at(2).sym == sColon {
			p.pos += 3
			p.nodes = append(p.nodes, &Yarn{at: p.span(i), Key: p.text[p.toks[i].from:p.toks[i+1].to]})
			return true
		}
	case sColour:
		p.pos++
		p.nodes = append(p.nodes, &Yarn{at: p.span(i), Key: p.raw(i)})
		return true
	case sIn:
		return p.workingIn(i)
	case sBLO, sFLO, sBack, sFront:
		if l, ok := p.loop(); ok {
			p.nodes = append(p.nodes, &LoopMode{at: p.span(i), Loop: l})
			return true
		}
		p.pos = i
	case sEach:
		return p.eachRound(i)
	case sRound: // "work round in sc"
		if p.at(1).sym == sIn && p.at(2).sym == sStitch && !works(p.nodes) {
			p.pos++
			return true
		}
	case sBegin: // "starting in 2nd ch from hook"
		if p.startsIn() {
			return true
		}
		if s := p.at(1).sym; s == sIn || s == sNumber || s == sWith {
			p.pos++
			return true
		}
	case sFrom:
		return p.starsAgain(i)
	case sEven:
		return p.evenly(i)
	case sRest: // "2 dec, the rest plain"
		if p.at(1).sym == sEven && works(p.nodes) && !p.stitchAfter(1) {
			p.pos += 2
			p.nodes = append(p.nodes, &Work{at: p.span(i), Per: 1, Places: ToEnd})
			return true
		}
	case sSame: // "the same, with a bead on every stitch"
		if s := p.at(1).sym; !works(p.nodes) && p.depth == 0 && (s == sComma || s == sStop || s == sEqual) {
			p.pos++
			p.nodes = append(p.nodes, &SameAs{at: p.span(i), First: -1, Last: -1, Times: 1})
			return true
		}
	case sFasten, sMark, sStuff, sCounts, sUntil, sHook, sMeasure:
		if items := p.attached(); t.sym == sStuff && items != nil {
			p.nodes = append(p.nodes, items...)
			return true
		}
		p.aside(&p.nodes)
		return true
	case sHave:
		p.pos++
		if !p.count(sHave, p.nodes) && strings.HasSuffix(strings.ToLower(p.raw(i)), " to") && !p.instructionAhead(0) { // "which brings you to the dc of the first petal"
			for !p.end() && p.peek().sym != sStop && p.peek().sym != sClose {
				p.pos++
			}
		}
		return true
	case sSkip:
		if s := p.skip(); s != nil {
			p.nodes = append(p.nodes, s)
			return true
		}
		p.pos = i
	}
	return false
}

// stitches reads what begins at the token i and is not told by that word alone: a
// count, stitches and where they go, and how often.
func (p *series) stitches(i int) {
	t := p.peek()
	after := sym(0)
	if i > 0 && p.toks[i-1].stopped && t.sym == sNumber && len(p.nodes) > 0 && toTheEnd(p.nodes) {
		after = sStop // "2 s.c. in each s.c. 16 s.c.": the stop of the abbreviation ends the sentence
	}
	if p.depth == 0 && p.count(after, p.nodes) {
		return
	}
	if n := p.granny(); n != nil {
		p.nodes = append(openers(p.nodes), n)
		return
	}
	if t.sym == sNumber && (p.at(1).sym == sRound || p.at(1).sym == sRow) && p.depth == 0 { // "for 6 rounds"
		p.rounds = min(p.rounds+t.num, maxNumber) // "2 rows B and 2 rows A"
		p.pos += 2
		if j := p.past(0, sMore, sOf, sFill); j > 0 && !works(p.nodes) && p.at(j-1).sym == sOf && p.at(j).sym == sStitch && p.at(j).val.stitch.Base > stitch.Slip { // "5 rounds more of dc"
			p.pos += j + 1
			p.nodes = append(p.nodes, &Evenly{at: p.span(i), Stitch: stitch.Stitch{Base: p.at(-1).val.stitch.Base}})
		}
		return
	}
	if t.sym == sNumber && (p.at(1).sym == sX || p.at(1).sym == sTimes || p.at(1).sym == sStar) && p.at(2).sym == sOpen && !p.countAhead(2) { // "6 x (sc 1, inc)"
		p.pos += 2
		was := len(p.nodes)
		if p.bracket(&p.nodes, p.depth, p.list) && len(p.nodes) == was+1 {
			if r, ok := p.nodes[was].(*Repeat); ok && r.Doubt&Bare != 0 {
				r.Times, r.Doubt = t.num, 0
			} else {
				p.nodes[was] = &Repeat{at: p.span(i), Body: []Node{p.nodes[was]}, Times: t.num}
			}
			return
		}
		p.pos = i
	}
	if t.sym == sNumber && !t.decimal && !t.ordinal && p.at(1).sym == sOpen && !p.countAhead(1) && p.beginsItem(p.pos+2) { // "6(sc, inc)"
		p.pos++
		was := len(p.nodes)
		if p.bracket(&p.nodes, p.depth, p.list); len(p.nodes) == was+1 {
			if r, ok := p.nodes[was].(*Repeat); ok && r.Doubt&Bare != 0 {
				r.Times, r.Doubt = t.num, 0
			} else {
				p.nodes[was] = &Repeat{at: p.span(i), Body: []Node{p.nodes[was]}, Times: t.num}
			}
		}
		return
	}
	if p.multiplied(0) && (len(p.nodes) == p.list || p.at(-1).sym == sComma) {
		p.pos += 2
		if items := p.item(p.nodes); items != nil {
			p.nodes = append(p.nodes, &Repeat{at: p.span(i), Body: items, Times: t.num})
			return
		}
		p.pos = i
	}
	if t.sym == sIn && len(p.nodes) > 1 && isChain(p.nodes[len(p.nodes)-1]) && afterStitches(p.nodes[:len(p.nodes)-1]) { // "1 tr, 1 ch, in every stitch"
		if pl := p.place(); pl.ok && pl.each && pl.toEnd {
			k := len(p.nodes) - 2
			p.nodes = append(p.nodes[:k], p.in(i, clone(p.nodes[k:]), pl))
			p.star = min(p.star, k)
			return
		}
		p.pos = i
	}
	p.opening = p.depth == 0 && onlyChains(p.nodes)
	p.branching = isChain(lastNode(p.nodes))
	p.listed, p.around = consumes(p.nodes[min(max(p.list, p.star, 0), len(p.nodes)):]), false
	if items := p.item(p.nodes); items != nil {
		p.take(i, items)
		return
	}
	p.pos = i
	p.aside(&p.nodes)
	if p.pos == i {
		p.pos++
	}
}

// take adds the items read from the token i on, and reads how often they are
// worked.
func (p *series) take(i int, items []Node) {
	if e, ok := items[len(items)-1].(*Evenly); ok && e.N != 0 && len(p.nodes) > max(p.list, p.star) {
		// "sc around, increasing 6 sts evenly": one round, not two
		if w, ok := p.nodes[len(p.nodes)-1].(*Work); ok && w.Per == 1 && (w.Places == ToEnd || w.Places == 1 && w.Stitch != stitch.Ch) {
			e.Stitch = w.Stitch
			p.nodes = p.nodes[:len(p.nodes)-1]
		}
	}
	if r, ok := items[0].(*Repeat); ok && r.Rest && len(p.nodes) > max(p.list, p.star) {
		// "sc, working every 9th and 10th st together": one round, not two
		if w, ok := p.nodes[len(p.nodes)-1].(*Work); ok && p.allRound(w) {
			nameStitches(r.Body, w.Stitch.Base)
			p.nodes = p.nodes[:len(p.nodes)-1]
		}
	}
	p.nodes = append(p.nodes, items...)
	if p.group.ok {
		k := len(p.nodes) - 2
		p.nodes = append(p.nodes[:k], p.in(i, clone(p.nodes[k:]), p.group))
		p.group = place{}
		p.star = min(p.star, k)
		return
	}
	if p.around {
		p.around = false
		p.nodes = p.repeat(p.nodes, max(p.list, p.star), ToEnd, 0, 0)
		if p.star >= 0 {
			p.star = -1
		}
		return
	}
	if p.star >= 0 && (p.peek().sym == sStar && p.peek().glued || p.repAhead()) {
		return // the star that ends the group, or "rep from *", is of all since the star
	}
	if j := p.past(0, sComma, sStop); p.star >= 0 && p.at(j).sym == sStar && p.at(j+1).sym == sNumber {
		if s := p.at(j + 2).sym; s == sTimes || s == sX || s == sMore {
			return // "*...* 6 x": the star closes
		}
	}
	if n, doubt, leave, ok := p.times(); ok {
		p.nodes = p.repeat(p.nodes, max(p.list, p.star), n, leave, doubt)
		if n == ToEnd && p.star >= 0 {
			p.star = -1
		}
	}
	if n := p.nodes[len(p.nodes)-1]; isStart(n) && !(isChain(n) && consumes(p.nodes)) {
		p.list = len(p.nodes)
	}
}

// separator passes over a comma, a stop or the like, which may lead to a count
// or say how often what stands before it is worked.
func (p *series) separator(i int) bool {
	t := p.peek()
	p.pos++
	if p.depth == 0 && (t.sym != sColon || counted(p.nodes)) && t.sym != sBar && p.count(t.sym, p.nodes) {
		return true
	}
	if j := p.past(0, sFill); t.text == "." && j > 0 && p.depth == 0 && len(p.nodes) > p.list && p.at(j).sym == sNumber && p.at(j+1).sym == sTimes { // "1 sc, 2 together. Do this 6 times."
		p.pos += j
		if n, doubt, leave, ok := p.times(); ok {
			p.nodes = p.repeat(p.nodes, max(p.list, p.star), n, leave, doubt)
			p.star = -1
			return true
		}
	}
	if t.text == ";" && len(p.nodes) > p.list && (p.at(0).sym == sNumber && p.at(1).sym == sTimes || p.at(0).sym == sOnce) { // "1 plain, 2 in the next; 10 times"
		if n, doubt, leave, ok := p.times(); ok {
			p.nodes = p.repeat(p.nodes, max(p.list, p.star), n, leave, doubt)
			p.star = -1
			return true
		}
	}
	p.sep = t.sym
	return true
}

// chainsBetween reads "between them 5 ch", "with ch 5 between" after stitches that go
// all round: the chains come after each of them.
func (p *series) chainsBetween() bool {
	i := p.pos
	j := p.past(0, sWith, sAnd)
	before := p.at(j).sym == sBetween
	if !before && (j == 0 || p.at(0).sym == sAnd) || len(p.nodes) == 0 {
		return false
	}
	t, ok := allRound(p.nodes[len(p.nodes)-1])
	if !ok {
		return false
	}
	if before {
		j = p.past(j+1, sEach, sFill)
	}
	p.pos += j
	if s := p.peek().sym; s == sStitch || s == sNumber {
		if items := p.item(nil); len(items) == 1 && isChain(items[0]) && (before || p.peek().sym == sBetween) {
			if !before {
				p.pos += p.past(1, sEach, sFill, sSt, sStitch, sForm) // "between clusters"
			}
			k := len(p.nodes) - 1
			p.nodes = append(p.nodes[:k], p.in(i, []Node{p.nodes[k], items[0]}, place{ok: true, each: true, toEnd: true, target: t}))
			return true
		}
	}
	p.pos = i
	return false
}

// ending reads "end" before the stitches that end a round: "rep from * around, end
// ch 3, sk 2 dc".
func (p *series) ending(i int) bool {
	if s := p.at(1).sym; s == sStitch || s == sNumber || s == sSkip || s == sWith {
		p.pos++
		if s == sWith {
			p.pos++
		}
		return true
	}
	return false
}

// starMark reads a star: it opens a repeat, closes one, or marks where the last
// pass of one stops.
func (p *series) starMark(i int) bool {
	t := p.peek()
	double := p.at(1).sym == sStar && p.at(1).glued
	p.pos++
	if double {
		p.pos++
		if p.star >= 0 {
			p.stop = len(p.nodes) - p.star
			return true
		}
	}
	if !double && p.at(0).sym == sTo && p.at(1).sym == sStar { // "work * to * 8 times"
		p.pos += 2
		if n, doubt, leave, ok := p.times(); ok && len(p.nodes) > 0 {
			p.nodes = p.repeat(p.nodes, p.list, n, leave, doubt)
			p.star = min(p.star, len(p.nodes))
		}
		return true
	}
	if after := p.at(0); p.star < 0 && len(p.nodes) > p.list && t.glued && (!after.glued || after.sym == sComma || after.sym == sStop || after.sym == sClose) && after.sym != sNumber {
		p.star = p.list // the star that began the group is lost
		for p.star < len(p.nodes) && isStart(p.nodes[p.star]) {
			p.star++
		}
		p.starTok = i
	}
	if p.star < 0 {
		if len(p.nodes) > 0 {
			// a star that ends what an unwritten star began, or "* 6" after items
			p.pos = i
			if n, doubt, leave, ok := p.times(); ok {
				p.nodes = p.repeat(p.nodes, p.list, n, leave, doubt)
				return true
			}
			p.pos = i + 1
		}
		p.star, p.starTok = len(p.nodes), i
		p.sep = 0
		return true
	}
	if len(p.nodes) == p.star { // two stars with nothing between them
		return true
	}
	if p.peek().sym == sIn { // "*puff, ch 1* in each of the 16 sts"
		at := p.pos
		if pl := p.place(); pl.ok && pl.each && (pl.toEnd || pl.n > 0) {
			p.nodes = append(p.nodes[:p.star], p.in(p.starTok, clone(p.nodes[p.star:]), pl))
			p.star, p.stop, p.list = -1, 0, len(p.nodes)-1
			return true
		}
		p.pos = at
	}
	n, doubt, leave, ok := p.times()
	if !ok {
		if p.repAhead() {
			return true // "*...*, rep from * to *": the words that follow say how often
		}
		n, doubt = ToEnd, Bare
	}
	r := &Repeat{at: p.span(p.starTok), Body: clone(p.nodes[p.star:]), Times: n, Leave: leave, Doubt: doubt, Stop: p.stop}
	p.oneBefore(r, p.nodes[:p.star], i)
	p.nodes = append(p.nodes[:p.star], r)
	p.star, p.stop, p.list = -1, 0, len(p.nodes)-1
	return true
}

// opened reads what stands in brackets.
func (p *series) opened(i int) bool {
	if p.depth >= maxDepth {
		p.pos = len(p.toks)
		p.unread(i, tooDeep)
		return true
	}
	p.starred = p.star >= 0
	return p.bracket(&p.nodes, p.depth, p.list)
}

// again reads "rep from *", "repeat round 3", "as for the arm", "omit the last ch".
func (p *series) again(i int) bool {
	t := p.peek()
	if p.depth == 0 && works(p.nodes) && p.alsoRounds() {
		return true
	}
	if j := p.past(1, sFill, sTo, sIn, sOf); t.sym == sRep && p.at(j).sym == sOther { // "return true along the other side of the chain"
		p.pos += j + 1
		p.ofChain()
		return true
	}
	if s := p.at(2); t.sym == sRep && p.at(1).text == "round" && works(p.nodes) && (s.sym == sStop || s.sym == sComma || s.sym == sEqual || s.sym == sOpen && p.countAhead(2)) { // "one in the first, two in the next, repeat round."
		p.pos += 2
		p.nodes = p.repeat(p.nodes, max(p.list, p.star), ToEnd, 0, NoDoubt)
		p.star = -1
		return true
	}
	if n := p.sameAs(); n != nil {
		p.nodes = append(p.nodes, n)
		return true
	}
	p.pos = i
	if n := p.thus(); n != nil && p.depth == 0 && p.star < 0 && !works(p.nodes) {
		p.nodes = append(p.nodes, n)
		return true
	}
	p.pos = i
	if t.sym == sOmit {
		p.clause()
		if len(p.nodes) > 0 && strings.HasPrefix(t.text, "omit") {
			if r, ok := p.nodes[len(p.nodes)-1].(*Repeat); ok && r.Stop == 0 && len(r.Body) > 1 { // "omitting 1 dc at end of last repeat"
				if _, ok := r.Body[len(r.Body)-1].(*Work); ok {
					r.Stop = len(r.Body) - 1
				}
			}
		}
		return true
	}
	if t.sym == sAs {
		if len(p.nodes) == 0 {
			if n := p.asPiece(); p.depth == 0 && n != nil {
				p.nodes = append(p.nodes, n)
				return true
			}
			return false
		}
		p.clause() // "complete as for first popcorn"
		p.nodes = append(p.nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
		return true
	}
	from := p.list
	marked := p.star >= 0
	if marked {
		from = p.star
	}
	n, doubt, leave, ok := p.times()
	if !ok && p.pos == i {
		p.pos++
		p.repWords()
		n, doubt, ok = ToEnd, Bare, len(p.nodes) > 0
	}
	if ok && len(p.nodes) > from {
		if r, single := p.nodes[len(p.nodes)-1].(*Repeat); single && len(p.nodes)-from == 1 && r.Doubt&Bare != 0 && r.Stop == 0 {
			r.Times, r.Leave, r.Doubt = n, leave, doubt // "*...*, rep from * to * 5 times"
		} else if marked {
			if n == ToEnd {
				doubt &^= Bare // from the star on, and no more said: all round
			}
			r := &Repeat{at: p.span(p.starTok), Body: clone(p.nodes[from:]), Times: n, Leave: leave, Doubt: doubt, Stop: p.stop}
			p.nodes = append(p.nodes[:from], r)
		} else {
			p.nodes = p.repeat(p.nodes, from, n, leave, doubt)
		}
		if marked {
			p.star, p.stop = -1, 0
		}
		return true
	}
	if p.pos > i {
		return true
	}
	return false
}

// allAround reads "around" that stands alone: of all since the list began.
func (p *series) allAround(i int) bool {
	p.pos++
	if p.at(0).sym == sWith && p.at(1).sym == sNumber { // "continue around with 11 more sc"
		p.pos++
		return true
	}
	if n := len(p.nodes); n > 0 && p.star < 0 && allRoundNode(p.nodes[n-1]) {
		return true // "*...*, and so on, to the end of the round": said twice
	}
	if len(p.nodes) > p.list {
		p.nodes = p.repeat(p.nodes, max(p.list, p.star), ToEnd, 0, NoDoubt)
		if p.star >= 0 && p.list <= p.star {
			p.star = -1
		}
	}
	return true
}

// allRoundNode reports whether n is a group that goes all round by its words.
func allRoundNode(n Node) bool {
	r, ok := n.(*Repeat)
	return ok && r.Times == ToEnd && r.Doubt&Bare == 0
}

// timesSaid reads "6 times", "x 6", "once" that stand alone.
func (p *series) timesSaid(i int) bool {
	t := p.peek()
	if t.sym == sOnce && p.intoOne(1) { // "sc once in next st, twice in following st"
		return false
	}
	if n, doubt, leave, ok := p.times(); ok && len(p.nodes) > 0 {
		p.nodes = p.repeat(p.nodes, max(p.list, p.star), n, leave, doubt)
		return true
	}
	if p.pos = i; t.sym == sOnce && p.at(1).sym == sAround { // "once around plain"
		p.pos++
		return true
	}
	return false
}

// joining reads "join with sl st", "join to form a ring", "join CC in any corner".
func (p *series) joining(i int) bool {
	t := p.peek()
	if items := p.attached(); items != nil {
		p.nodes = append(p.nodes, items...)
		return true
	}
	if items := p.joinsPiece(); items != nil {
		p.nodes = append(p.nodes, items...)
		return true
	}
	p.clause()
	if t.text == "close" && p.mentions(i, sRing) && !p.mentions(i, sStitch) { // "close the hole": a thing to do at the end
		p.nodes = append(p.nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
		return true
	}
	j := &Join{at: p.span(i)}
	if p.mentions(i, sRing) {
		chainLast(p.nodes)
	}
	if (p.mentions(i, sRing) || p.mentions(i, sMagic)) && (len(p.nodes) == 0 || isStart(p.nodes[len(p.nodes)-1])) {
		p.nodes = append(p.nodes, p.ring(p.nodes, i)...)
		p.list = len(p.nodes)
		return true
	}
	if !works(p.nodes) { // "join CC in any corner": a new yarn
		after := p.pos
		p.nodes = append(p.nodes, p.yarn(i)...)
		j.Opening = true
		for k := i + 1; k < after; k++ {
			if p.pos = k; p.toks[k].sym == sIn || p.toks[k].sym == sTo || p.toks[k].sym == sBetween {
				if p.toks[k].sym == sTo {
					p.pos++
				}
				if pl := p.place(); pl.ok {
					j.Into = pl.target
					break
				}
			}
		}
		p.pos = after
	}
	p.nodes = append(p.nodes, j)
	for k := i + 1; k+1 < p.pos; k++ {
		if s := p.toks[k+1]; p.toks[k].text == "standing" && s.sym == sStitch { // "join with a standing hdc"
			p.nodes = append(p.nodes, &Work{at: at{From: s.from, To: s.to}, Stitch: s.val.stitch, Per: 1, Places: 1})
		}
	}
	p.list = len(p.nodes)
	return true
}

// ringBegun reads "magic ring" and a bare number of stitches in it.
func (p *series) ringBegun(i int) bool {
	t := p.peek()
	if t.sym == sRing && len(p.nodes) > 0 {
		return false
	}
	p.pos++
	p.nodes = append(p.nodes, &Start{at: p.span(i), Kind: MagicRing})
	p.list = len(p.nodes)
	if p.peek().sym == sNumber && p.at(1).sym != sStitch && p.at(1).sym != sInc {
		n := p.peek().num
		p.pos++
		p.nodes = append(p.nodes, &Work{at: p.span(i), Stitch: p.plainStitch(), Per: 1, Places: n, Target: Target{Where: Ring}})
	}
	return true
}

// with reads "with B", "with 1 ch between them", "using ch 3 for the first dc".
func (p *series) with(i int) bool {
	if ys := p.yarnPhrase(); ys != nil {
		p.nodes = append(p.nodes, ys...)
		return true
	}
	p.pos = i + 1
	if j := p.past(0, sFill, sNumber, sDash); p.at(j).sym == sStitch && p.at(j).val.stitch == stitch.Ch { // "using ch 3 for the first dc", "with 1 ch between them"
		for j++; p.at(j).sym != sStop && p.at(j).sym != sComma && p.at(j).sym != sClose && p.pos+j < len(p.toks); j++ {
			if s := p.at(j).sym; s == sCounts || s == sBetween {
				for !p.end() && p.peek().sym != sStop && p.peek().sym != sComma && p.peek().sym != sClose {
					p.pos++
				}
				p.nodes = append(p.nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
				break
			}
		}
	}
	return true
}

// startsIn reads in which chain the stitches begin, said apart from them:
// "starting in 2nd ch from hook, sc in next 4".
func (p *series) startsIn() bool {
	t := p.peek()
	if t.sym == sFill && !strings.HasPrefix(t.text, "start") && !strings.HasPrefix(t.text, "begin") || t.sym == sFirst && t.text != "beginning" {
		return false
	}
	i, j := p.pos, p.past(1, sIn, sFrom, sWith, sFill)
	n := p.at(j)
	if n.sym != sNumber || !n.ordinal || !namesChain(p.at(j+1)) {
		return false
	}
	p.pos += j
	if _, hook := p.fromHook(); !hook {
		p.pos += 2
	}
	p.nodes = append(p.nodes, &Skip{at: p.span(i), N: n.num - 1, Target: Target{Where: FromHook, Chain: n.num}})
	p.list = len(p.nodes)
	return true
}

// workingIn reads "working in BLO," and "working on other side of ch", said before
// the stitches.
func (p *series) workingIn(i int) bool {
	if j := p.past(1, sFill, sTotal, sLoop, sIn, sOver); p.at(j).sym == sOther { // "working on other side of ch, sc in next 4 ch"
		p.pos += j + 1
		p.ofChain()
		return true
	}
	if t := p.at(1); t.sym == sStitch && t.val.stitch.Base > stitch.Slip && !works(p.nodes) { // "work round in sc"
		p.pos += 2
		switch s := p.peek().sym; {
		case p.end(), s == sStop, s == sComma, s == sOpen && p.countAhead(0), s == sEqual, s == sAround, s == sDash:
			if s == sAround {
				p.pos++
			}
			p.nodes = append(p.nodes, &Work{at: p.span(i), Stitch: t.val.stitch, Per: 1, Places: ToEnd})
			return true
		}
		p.pos = i
	}
	p.pos++
	for p.peek().sym == sFill {
		p.pos++
	}
	if n := len(p.nodes); p.peek().sym == sColour && n > 0 && works(p.nodes[n-1:]) { // "sc in A around"
		p.pos++
		p.nodes = slices.Insert(p.nodes, n-1, Node(&Yarn{at: p.span(i), Key: p.raw(p.pos - 1)}))
		return true
	}
	if s := p.at(1).sym; p.peek().sym == sColour && (s == sNumber || s == sStitch || (s == sStop || s == sColon || s == sComma) && len(p.nodes) == 0) { // "in A 6 sc", "in white. 42 sc"
		p.pos++
		p.nodes = append(p.nodes, &Yarn{at: p.span(i), Key: p.raw(p.pos - 1)})
		return true
	}
	if s := p.peek().sym; s == sBLO || s == sFLO || s == sBack || s == sFront {
		l, ok := p.loop()
		j := p.past(0, sFill)
		if s := p.peek().sym; ok && (s == sComma || s == sStop || s == sColon || s == sOpen || s == sStar || p.at(j).sym == sNumber && p.begins(j+1)) {
			p.nodes = append(p.nodes, &LoopMode{at: p.span(i), Loop: l})
			return true
		}
	}
	p.pos = i
	return false
}

// ofChain passes over "of the foundation chain" after the other side.
func (p *series) ofChain() {
	switch j := p.past(0, sOf, sFill, sFound, sBegin); {
	case j > 0 && namesChain(p.at(j)):
		p.pos += j + 1
	case j > 0 && p.at(j-1).sym == sFound: // "of the starting chain", one word
		p.pos += j
	}
}

// eachRound passes over "Each round is closed with a sl st."
func (p *series) eachRound(i int) bool {
	if s := p.at(1).sym; (s == sRound || s == sRow) && (i == 0 || p.at(-1).sym == sStop || p.at(-1).sym == sClose) {
		for !p.end() && p.peek().sym != sStop && p.peek().sym != sClose {
			p.pos++
		}
		p.nodes = append(p.nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
		return true
	}
	return false
}

// starsAgain reads "then from * to ** once more".
func (p *series) starsAgain(i int) bool {
	if len(p.nodes) > 0 && p.at(1).sym == sStar {
		if r, ok := p.nodes[len(p.nodes)-1].(*Repeat); ok && r.Stop > 0 && r.Stop < len(r.Body) {
			p.pos++
			p.repWords()
			p.times()
			last := &Repeat{at: p.span(i), Body: clone(r.Body[:r.Stop]), Times: 1}
			r.Stop = 0
			p.nodes = append(p.nodes, last)
			return true
		}
	}
	return false
}

// evenly reads "work even", "plain d.c.".
func (p *series) evenly(i int) bool {
	p.pos++
	e := &Evenly{}
	if s := p.peek(); s.sym == sStitch && s.val.stitch.Base > stitch.Slip && !works(p.nodes) { // "plain d.c."
		e.Stitch = stitch.Stitch{Base: s.val.stitch.Base}
		p.pos++
	}
	p.place()
	e.at = p.span(i)
	p.nodes = append(p.nodes, e)
	return true
}
