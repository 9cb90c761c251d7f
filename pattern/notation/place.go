package notation

import (
	"roundelay/pattern/stitch"
)

// A place is what stands after "in": which stitches of the round below are
// worked into.
type place struct {
	ok     bool
	each   bool
	n      int  // how many; 0 if unsaid
	one    bool // next, first, same: one place named
	toEnd  bool
	rest   bool // "in the rest"
	leave  int
	nth    int // every nth
	loop   Loop
	post   stitch.Post
	target Target
}

// place reads "in each of the next 3 sts", "in next ch-2 sp", "around",
// "in same st". Without a place it reads nothing.
func (p *parser) place() (pl place) {
	start := p.pos
	named := false // a stitch or space was named: the place is whole
	round := false // "under" was said: round chains
	done := p.pos  // after the last token that belongs to the place
	take := func() { p.pos++; done = p.pos; pl.ok = true }
	if k := p.past(1, sFill); p.peek().sym == sIn && p.at(k).sym == sEach && p.roundWord(k+1) {
		p.pos += k + 2 // "8 sc in each round" says nothing of where
		return place{}
	}
loop:
	for !p.end() {
		t := p.peek()
		switch t.sym {
		case sIn, sOver:
			if pl.ok && named {
				break loop
			}
			round = round || t.sym == sIn && t.num == under
			p.pos++
			continue
		case sFill, sOf:
			p.pos++
			continue
		case sRound, sAround:
			// "round the front of next st", "round each of next 20 sts"
			j := 1
			for p.at(j).sym == sFill {
				j++
			}
			switch p.at(j).sym {
			case sFront, sBack:
				pl.post = stitch.Front
				if p.at(j).sym == sBack {
					pl.post = stitch.Back
				}
				p.pos += j + 1
				if p.peek().sym == sPost {
					p.pos++
				}
				continue
			case sPost:
				p.pos += j + 1
				continue
			case sStitch:
				if prev := p.at(-1); !pl.ok && prev.sym == sStitch && prev.val.stitch.Post != stitch.Top { // "FPdc around the FPdc"
					p.pos += j
					pl.one = true
					continue
				}
			case sEach, sNext, sFirst, sSame, sLast:
				if prev := p.at(-1); !pl.ok && (t.sym == sRound || p.at(j).sym != sEach || prev.sym == sStitch && prev.val.stitch.Post != stitch.Top) {
					p.pos++
					continue
				}
			}
			if t.sym == sRound {
				if pl.ok && !named && p.at(1).sym == sNumber && (p.at(2).sym == sStitch || p.at(2).sym == sSt) { // "next Rnd 1 sc"
					pl.target.Behind = p.at(1).num
					p.pos += 2
					continue
				}
				break loop
			}
			pl.toEnd = true
			take()
			pl.leave = p.except()
			done = p.pos
			break loop
		case sEach:
			if named {
				break loop
			}
			pl.each = true
			if t.num > 1 { // every other
				pl.nth = t.num
			}
			take()
		case sNext:
			if named {
				break loop
			}
			pl.one = true
			take()
		case sSame:
			if named {
				break loop
			}
			pl.one = true
			pl.target.Where = Same
			take()
			if t.num == base {
				named = true
				p.chainOf()
				done = p.pos
			}
		case sFirst:
			if named && pl.target.Where != TopChain && pl.target.Where != Same {
				break loop
			}
			pl.one = true
			if pl.target.Where == Next {
				pl.target.Where = First
			}
			take()
		case sLast:
			if named {
				break loop
			}
			pl.one = true
			pl.target.Where = LastCh
			take()
			if j := p.past(0, sSt, sStitch, sFill); p.at(j).sym == sTotal { // "in the last sc made"
				pl.target.Where = Same
				named = true
				p.pos += j
				take()
			}
		case sNumber:
			if k := p.numberedSpace(0); k > 0 && !named {
				if pl.target.Where != Same {
					pl.target = Target{Where: Space, Chain: t.num}
				}
				p.pos += k - 1
				named = true
				take()
				continue
			}
			if t.ordinal || p.at(1).sym == sStitch && p.at(2).sym == sFrom {
				if n, ok := p.fromHook(); ok {
					pl.target = Target{Where: FromHook, Chain: n}
					named, pl.ok, pl.one = true, true, true
					done = p.pos
					continue
				}
				if pl.each {
					pl.nth = t.num
					take()
					continue
				}
				if p.at(1).sym == sStitch && p.at(1).val.stitch == stitch.Ch && p.opening && p.at(2).sym != sOf { // "5 sc in 2nd ch"
					pl.target = Target{Where: FromHook, Chain: t.num}
					named, pl.one = true, true
					p.pos++
					take()
					continue
				}
				if p.at(1).sym == sStitch && p.at(1).val.stitch == stitch.Ch { // 3rd ch of ch-3
					pl.target.Where = TopChain
					named, pl.one = true, true
					take()
					p.chainOf()
					done = p.pos
					continue
				}
				if p.pos == start || named {
					break loop
				}
				if s := p.at(1).sym; s == sStitch || s == sSt { // "in 3rd dc of next shell"
					save := p.pos
					p.pos += 2
					if p.groupNamed() {
						pl.target, pl.one, pl.ok, named = Target{Where: Center, Chain: t.num, Kind: p.plainStitch()}, true, true, true
						done = p.pos
						continue
					}
					p.pos = save
				}
				switch p.at(1).sym {
				case sSt, sSpace, sStitch, sLoop:
					pl.one = true
					if t.num == 1 {
						pl.target.Where = First
					}
					take()
					continue
				case sComma, sStop, sClose, sRep, sWith, sStar, sColon, sAnd, sAround:
					if t.num > 1 && !pl.ok { // "one in the first, two in the second"
						pl.one, named = true, true
						take()
						continue
					}
				}
				break loop
			}
			if named || pl.n > 0 || t.decimal || (p.pos == start) {
				break loop
			}
			if pl.each && (p.at(1).sym == sTimes) {
				break loop
			}
			if ch := p.at(1); round && namesChain(ch) { // "under every 6 ch"
				pl.target = Target{Where: Space, Chain: t.num}
				named = true
				p.pos++
				take()
				continue
			}
			// a number that begins the next instruction: "in next st 3 sc"
			if next := p.at(1).sym; (pl.target.Where == Same) || (next == sTimes || next == sX) && !pl.one ||
				(next == sStitch || next == sInc || next == sDec) && !pl.one && !pl.each && p.at(-1).sym != sIn && p.at(-1).sym != sFill && p.at(-1).sym != sOf && p.at(-1).sym != sOver {
				break loop
			}
			pl.n = t.num
			take()
		case sSt:
			if named && pl.target.Where != TopChain && pl.target.Where != Same {
				break loop
			}
			named = true
			take()
		case sStitch:
			c := t.val.stitch
			if c == stitch.Ch {
				if n, k := p.spaceAhead(); k > 0 {
					if named && pl.target.Where != Same {
						break loop
					}
					if pl.target.Where != Same && pl.target.Where != TopChain {
						pl.target = Target{Where: Space, Chain: n}
					}
					p.pos += k - 1
					named = true
					take()
					continue
				}
			}
			if pl.target.Where == TopChain || pl.target.Where == Joined {
				take()
				p.chainOf()
				done = p.pos
				continue
			}
			if named || !pl.one && !pl.each && p.at(-1).sym != sIn && pl.n == 0 && !(p.at(-1).sym == sFill && p.pos > start+1) {
				break loop
			}
			named = true
			if pl.target.Kind = c; c == stitch.Ch && round {
				pl.target = Target{Where: Space}
			}
			take()
		case sInc, sDec, sForm:
			if named || !pl.one && !pl.each && p.at(-1).sym != sOver && !(t.sym == sForm && (p.at(-1).sym == sTo || p.at(-1).sym == sIn) && p.at(1).sym == sSpace) {
				if !(t.sym == sForm && named && p.at(-1).sym == sStitch) {
					break loop
				}
			}
			named = true
			if t.val.form == stitch.Shell {
				pl.target.Where = Corner // the space inside it
			}
			take()
			if p.peek().sym == sSpace {
				take()
			}
		case sSpace:
			if named && pl.target.Where != Same && pl.target.Where != Corner {
				break loop
			}
			if pl.target.Where != Same {
				pl.target.Where = Space
			} else {
				pl.target.Chain = 1 // the same space
			}
			named = true
			take()
			if s := p.at(p.past(0, sOf, sFill, sNext, sEach)); p.peek().sym == sOf && s.sym == sForm { // "in sp of next shell"
				if pl.target.Where == Space {
					pl.target.Where = Corner
				}
				p.pos += p.past(0, sOf, sFill, sNext, sEach)
				take()
			}
		case sLoop:
			if named || p.pos == start {
				break loop
			}
			pl.target.Where = Space
			named = true
			take()
			if j := p.past(0, sOf, sFill); j > 0 && p.at(0).sym == sOf && p.at(j).sym == sStitch && p.at(j).val.stitch == stitch.Ch { // "in every loop of the chain"
				pl.target = Target{Kind: stitch.Ch}
				p.pos += j
				take()
			}
		case sBLO, sFLO:
			if t.sym == sBLO {
				pl.loop = BackLoop
			} else {
				pl.loop = FrontLoop
			}
			take()
		case sBack, sFront:
			if p.at(1).sym == sPost {
				pl.post = stitch.Front
				if t.sym == sBack {
					pl.post = stitch.Back
				}
				p.pos++
				take()
				continue
			}
			if l, ok := p.loop(); ok {
				pl.loop = l
				pl.ok = true
				done = p.pos
				continue
			}
			break loop
		case sFrom: // "around post of next dc from front"
			if s := p.at(1).sym; !pl.ok || s != sFront && s != sBack {
				break loop
			}
			pl.post = stitch.Front
			if p.at(1).sym == sBack {
				pl.post = stitch.Back
			}
			p.pos++
			take()
			break loop
		case sOnly:
			take()
		case sWord: // "sc in point"
			if !pointWords[t.text] || named || p.pos == start {
				break loop
			}
			pl.target.Where = Corner
			named = true
			take()
		case sRing, sMagic:
			if named {
				break loop
			}
			pl.target.Where = Ring
			named = true
			take()
		case sJoin:
			if pl.target.Where == Same || pl.target.Where == First {
				pl.target.Where = Joined
				take()
				continue
			}
			break loop
		case sAs:
			if pl.target.Where != Same { // "same st as join", "same st as ch 3"
				break loop
			}
			p.pos++
			for !p.end() {
				switch p.peek().sym {
				case sJoin, sSt, sStitch, sFirst, sBegin, sFill, sNumber, sDash, sRing:
					if p.peek().sym == sDash && !p.peek().glued {
						break
					}
					p.pos++
					continue
				case sLast:
					p.pos++
					continue
				}
				break
			}
			done = p.pos
			continue
		case sTop:
			pl.target.Where = TopChain
			named = true
			take()
			p.chainOf()
			done = p.pos
		case sBegin:
			if pl.target.Where == TopChain || pl.one {
				take()
				continue
			}
			break loop
		case sCorner:
			if named && pl.target.Where != Same {
				break loop
			}
			if pl.target.Where != Same {
				pl.target.Where = Corner
			}
			named = true
			take()
		case sCentre:
			pl.target = Target{Where: Center}
			pl.one = true
			take()
			if n := p.peek(); n.sym == sNumber && n.text == "one" && !p.begins(1) && p.at(1).sym != sTimes {
				pl.target, named = Target{}, true // "miss 2, 3 tr in the centre one": the next
				take()
			}
			if s := p.peek().sym; s == sSt || s == sStitch && p.at(1).sym != sNumber || s == sNumber && !p.peek().ordinal && p.at(1).sym == sStitch {
				if s == sNumber {
					p.pos++
				}
				if k := p.peek(); k.sym == sSt {
					pl.target.Kind = p.plainStitch()
				} else if k.val.stitch != stitch.Ch {
					pl.target.Kind = k.val.stitch
				}
				take()
			}
			p.groupNamed()
			done = p.pos
			named = true
		case sBetween:
			if named && (pl.target.Where != Space || pl.target.Chain > 0) {
				break loop
			}
			pl.target.Where = Between
			take()
			for p.peek().sym == sNext || p.peek().sym == sNumber || p.peek().sym == sFill || p.peek().sym == sSt || p.peek().sym == sStitch || p.peek().sym == sForm || p.peek().sym == sEach && p.at(-1).sym == sBetween || groupsOf[p.peek().text] && !p.end() || p.peek().sym == sDash && p.peek().glued && p.at(1).glued || p.peek().sym == sOf && groupsOf[p.at(-1).text] {
				if p.peek().sym == sEach {
					pl.each = true
				}
				if groupsOf[p.peek().text] || p.peek().sym == sForm {
					pl.target.Chain = 1 // between groups, not stitches
				}
				take()
			}
			named = true
		case sTo, sUntil:
			if l, ok := p.toLast(); ok {
				pl.toEnd, pl.leave, pl.ok = true, l, true
				done = p.pos
			}
			break loop
		case sAll:
			if p.at(1).sym == sSame || p.at(1).sym == sIn || p.at(1).sym == sAround {
				p.pos++
				continue
			}
			if p.at(1).sym == sSt || p.at(1).sym == sStitch {
				pl.each = true
				take()
				continue
			}
			break loop
		case sAnd:
			// "in each st and ch around", "in each sc and each ch"
			if pl.each && named && p.at(1).sym == sIn && p.at(2).sym == sEach && namesChain(p.at(3)) { // "in jede M und in jede Lm"
				if _, k := p.spaceAheadAt(3); k == 0 && (p.at(4).sym != sNumber || p.begins(5)) {
					pl.target = Target{Where: Any}
					p.pos += 3
					take()
					continue
				}
			}
			if pl.each && named && (p.at(1).sym == sStitch || p.at(1).sym == sForm || p.at(1).sym == sSpace || p.at(1).sym == sEach && (p.at(2).sym == sStitch || p.at(2).sym == sSpace)) && !p.instructionAhead(1) {
				j := 1
				if p.at(j).sym == sEach {
					j++
				}
				_, k := p.spaceAheadAt(j)
				if k == 0 && p.at(j+1).sym == sNumber {
					break loop
				}
				if p.at(j).sym == sForm || k == 0 && p.at(j).sym == sStitch && p.at(j).val.stitch != stitch.Ch { // "each dc and popcorn": each stitch
					pl.target.Kind = stitch.Stitch{}
					p.pos += j
					take()
					continue
				}
				pl.target = Target{Where: Any}
				if k > 0 || p.at(j).sym == sSpace {
					pl.target.Chain = 1 // one for each space, however many its chains
				}
				p.pos += j + max(k, 1) - 1
				take()
				continue
			}
			break loop
		case sRest:
			pl.toEnd, pl.rest = true, true
			take()
			break loop
		case sOther:
			take()
		case sComma:
			if p.at(1).sym == sAround && p.pos > start {
				p.pos++
				continue
			}
			break loop
		default:
			break loop
		}
	}
	if !pl.ok {
		p.pos = start
		return place{}
	}
	p.pos = done
	if j := p.past(0, sFill, sIn, sOf, sFrom); named && j > 0 && p.roundWord(j) && p.at(j+1).sym == sNumber && !p.at(j+1).decimal { // "next sc of rnd 2"
		pl.target.Behind = p.at(j + 1).num
		p.pos += j + 2
	}
	if j := p.past(0, sFill, sIn, sOf); pl.target.Where == Space && pl.each && j > 0 && p.at(j).sym == sEach && p.at(j+1).sym == sSide { // "in each of the two spaces along every side"
		p.pos += j + 2
		pl.n = 0
	}
	if pl.each && pl.n == 0 && pl.nth == 0 && !pl.one && pl.target.Where != Between {
		pl.toEnd = true
	}
	if pl.each && pl.target.Where == Between && pl.n == 0 {
		pl.toEnd = true
	}
	return pl
}

// groupNamed passes over "of next shell", "of the first loop" after a stitch of
// it. It reports whether the words stood there.
func (p *parser) groupNamed() bool {
	j := p.past(0, sOf, sIn)
	if j == 0 {
		return false
	}
	group := func(t token) bool { return t.text == "group" || t.text == "groups" }
	for s := p.at(j); !group(s) && (s.sym == sFill || s.sym == sNext || s.sym == sFirst || s.sym == sEach || s.sym == sSame || s.sym == sMore); s = p.at(j) {
		j++
	}
	if p.at(j).sym == sNumber && !p.at(j).decimal && !p.at(j).ordinal { // "of the 5", "of 5-dc group"
		j++
		if p.at(j).sym == sDash && p.at(j+1).sym == sStitch {
			j++
		}
		if p.at(j).sym == sStitch || p.at(j).sym == sSt {
			j++
		}
	}
	switch t := p.at(j); {
	case t.sym == sForm, t.sym == sLoop, t.sym == sSpace, t.sym == sCorner, group(t), t.sym == sWord && groupWords[t.text]:
		j++
	case t.sym == sStitch && t.val.stitch == stitch.Ch:
		_, k := p.spaceAheadAt(j)
		j += max(k, 1)
	case p.at(j-1).sym == sStitch || p.at(j-1).sym == sNumber || p.at(j-1).sym == sSt:
	default:
		return false
	}
	p.pos += j
	return true
}

// groupWords are what makers call stitches worked together into one place.
var groupWords = map[string]bool{"petal": true, "petals": true, "point": true, "points": true, "v": true, "wedge": true, "leaf": true}

// groupsOf are words for stitches worked together, said of the gaps between them.
var groupsOf = map[string]bool{"group": true, "groups": true, "pair": true, "pairs": true, "sets": true}

// chainOf passes over "of starting ch-3" after "top".
func (p *parser) chainOf() {
	for !p.end() {
		switch t := p.peek(); t.sym {
		case sOf, sFill, sFirst, sBegin, sLast, sFound, sTurn, sJoin, sSame:
		case sStitch, sSt:
		case sDash:
			if !t.glued {
				return
			}
		case sNumber:
			if p.at(-1).sym != sDash && p.at(-1).sym != sStitch && p.at(1).sym != sStitch || p.at(-1).sym == sStitch && p.at(1).sym == sStitch {
				return
			}
		default:
			return
		}
		p.pos++
	}
}

// fromHook reads "2nd ch from hook".
func (p *parser) fromHook() (int, bool) {
	n := p.peek().num
	i := 1
	for ; i < 9; i++ {
		switch p.at(i).sym {
		case sHook:
			p.pos += i + 1
			return n, true
		case sStitch, sFrom, sFill, sOf, sSt, sLoop:
		case sStop:
			if !p.at(i).glued {
				return 0, false
			}
		default:
			return 0, false
		}
	}
	return 0, false
}

// spaceAhead reads "ch-2 sp", "ch sp", "ch2 space", "ch-3 loop" at the current
// token. It returns the chains, 0 if unsaid, and how many tokens it is.
func (p *parser) spaceAhead() (n, k int) { return p.spaceAheadAt(0) }

func (p *parser) spaceAheadAt(at int) (n, k int) {
	if p.at(at).sym != sStitch || p.at(at).val.stitch != stitch.Ch {
		return 0, 0
	}
	i := at + 1
	for p.at(i).sym == sDash || p.at(i).sym == sNumber {
		if p.at(i).sym == sNumber {
			if n != 0 {
				return 0, 0
			}
			n = p.at(i).num
		}
		i++
	}
	if s := p.at(i).sym; s == sSpace || s == sLoop || s == sCorner || s == sWord && pointWords[p.at(i).text] {
		if s == sCorner && p.at(i+1).sym == sSpace {
			i++
		}
		return n, i - at + 1
	}
	return 0, 0
}

// pointWords name the space of chains at a point.
var pointWords = map[string]bool{"pt": true, "pts": true, "point": true, "points": true, "tip": true, "peak": true}

// numberedSpace returns how many tokens "3-ch sp" or "1ch-sp" takes from i on.
func (p *parser) numberedSpace(i int) int {
	if p.at(i).sym != sNumber || p.at(i).ordinal || p.at(i).decimal {
		return 0
	}
	j := i + 1
	if p.at(j).sym == sDash {
		j++
	}
	if p.at(j).sym != sStitch || p.at(j).val.stitch != stitch.Ch {
		return 0
	}
	if j++; p.at(j).sym == sDash {
		j++
	}
	if s := p.at(j).sym; s != sSpace && s != sLoop && s != sCorner {
		return 0
	}
	if p.at(j).sym == sCorner && p.at(j+1).sym == sSpace {
		j++
	}
	return j + 1 - i
}

// loop reads "back loop", "front loops only" from single words.
func (p *parser) loop() (Loop, bool) {
	l := BackLoop
	switch p.peek().sym {
	case sFLO, sFront:
		l = FrontLoop
	}
	single := p.peek().sym == sBack || p.peek().sym == sFront
	p.pos++
	got := !single
	for !p.end() {
		switch p.peek().sym {
		case sLoop:
			got = true
			p.pos++
			continue
		case sOnly:
			p.pos++
			continue
		}
		break
	}
	return l, got
}
