package notation

import (
	"roundelay/pattern/stitch"
	"strings"
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
	nth    int  // every nth
	every  bool // "every", not "each"
	loop   Loop
	post   stitch.Post
	target Target
}

// A placing is a place being read.
type placing struct {
	*parser
	pl     place
	start  int  // the token at which it began
	done   int  // after the last token that belongs to it
	named  bool // a stitch or space was named: the place is whole
	chains bool // "under" was said: round chains
}

// take takes the current token into the place.
func (p *placing) take() {
	p.pos++
	p.done, p.pl.ok = p.pos, true
}

// place reads "in each of the next 3 sts", "in next ch-2 sp", "around",
// "in same st". Without a place it reads nothing.
func (p *parser) place() place {
	if k := p.past(1, sFill); p.peek().sym == sIn && p.at(k).sym == sEach && p.roundWord(k+1) {
		p.pos += k + 2 // "8 sc in each round" says nothing of where
		return place{}
	}
	r := &placing{parser: p, start: p.pos, done: p.pos}
	for !p.end() && r.word() {
	}
	if !r.pl.ok {
		p.pos = r.start
		return place{}
	}
	p.pos = r.done
	return r.whole()
}

// whole reads what follows a place, and settles how many it is.
func (p *placing) whole() place {
	if j := p.past(0, sFill, sIn, sOf, sFrom); p.named && j > 0 && p.roundWord(j) && p.at(j+1).sym == sNumber && !p.at(j+1).decimal { // "next sc of rnd 2"
		p.pl.target.Behind = p.at(j + 1).num
		p.pos += j + 2
	}
	if s := p.at(1).sym; p.named && p.pl.each && p.peek().sym == sBetween && (s == sStop || s == sComma || s == sOpen || s == sClose || s == sStar) { // "dc in each dc between"
		p.pos++
	}
	if s := p.pl.target; p.named && p.pl.nth == 0 && (s.Where == Next || s.Where == First && p.pl.one) && p.peek().sym == sOf && !p.pl.toEnd { // "in dc of next petal", "in each st of the shells"
		at := p.pos
		if p.groupNamed() && s.Where == First {
			p.pl.target = Target{Where: Center, Chain: 1, Kind: p.plainStitch()}
		} else if p.at(-1).sym != sForm && !groupWords[p.at(-1).text] && !groupsOf[p.at(-1).text] {
			p.pos = at
		}
	}
	if j := p.past(1, sFill, sNext, sEach); p.pl.target.Where == Space && p.pl.one && p.peek().sym == sOf && p.at(j).sym == sWord { // "loop of pineapple"
		p.pos += j + 1
	}
	if j := p.past(0, sOf, sFill); p.pl.loop != BothLoops && !p.named && p.pl.target == (Target{}) && p.roundWord(j) && p.at(j+1).sym == sNumber && !p.at(j+1).ordinal { // "in front loops of rnd 2"
		p.pl.target.Behind = p.at(j + 1).num
		p.pl.each = p.pl.each || !p.pl.one && p.pl.n == 0
		if p.pos += j + 2; p.peek().sym == sAround {
			p.pos++
		}
	}
	if j := p.past(0, sFill, sIn, sOf); p.pl.target.Where == Space && p.pl.each && j > 0 && p.at(j).sym == sEach && p.at(j+1).sym == sSide { // "in each of the two spaces along every side"
		p.pos += j + 2
		p.pl.n = 0
	}
	if p.pl.each && p.pl.n == 0 && (p.pl.target.Where == Between || p.pl.nth == 0 && !p.pl.one) {
		p.pl.toEnd = true
	}
	return p.pl
}

// word reads the next word of the place. It reports whether the place may go on.
func (p *placing) word() bool {
	t := p.peek()
	if k := p.past(0, sAround); p.apart && p.pos+k > p.start && p.pl.target.Where != Elsewhere {
		if n := p.pieceAhead(k); n > 0 {
			p.pl.target, p.named = Target{Where: Elsewhere}, true
			p.pos += k + n - 1
			p.take()
			return true
		}
	}
	switch t.sym {
	case sIn, sOver:
		if p.pl.ok && p.named {
			return false
		}
		p.chains = p.chains || t.sym == sIn && t.num == under
		p.pos++
		return true
	case sFill, sOf:
		if s := p.at(1).sym; (t.text == "that" || t.text == "this") && !p.named && !p.pl.each && p.pl.n == 0 && p.pl.target == (Target{}) && (s == sStitch || s == sSt || s == sSpace || s == sLoop || s == sCorner) { // "sc in that dc"
			p.pl.one = true
			p.pl.target.Where = Same
		}
		p.pos++
		p.named = p.named || t.text == "stitches" && p.roundWord(0) // "36 stitches of round 17"
		return true
	case sRound, sAround:
		return p.round()
	case sEach:
		if p.named {
			return false
		}
		p.pl.each, p.pl.every = true, t.text == "every"
		if t.num > 1 { // every other
			p.pl.nth = t.num
		}
		p.take()
	case sNext:
		if p.named {
			return false
		}
		p.pl.one = true
		p.take()
	case sSame:
		return p.same()
	case sFirst:
		if p.named && p.pl.target.Where != TopChain && p.pl.target.Where != Same {
			return false
		}
		p.pl.one = true
		if p.pl.target.Where == Next {
			p.pl.target.Where = First
		}
		p.take()
	case sLast:
		return p.last()
	case sNumber:
		return p.number()
	case sSt:
		if p.named && p.pl.target.Where != TopChain && p.pl.target.Where != Same {
			return false
		}
		p.named = true
		p.take()
	case sStitch:
		return p.stitch()
	case sInc, sDec, sForm:
		return p.made()
	case sSpace:
		return p.chainSpace()
	case sLoop:
		return p.chainLoop()
	case sBLO, sFLO:
		if t.sym == sBLO {
			p.pl.loop = BackLoop
		} else {
			p.pl.loop = FrontLoop
		}
		p.take()
	case sBack, sFront:
		return p.side()
	case sFrom:
		return p.from()
	case sOnly:
		p.take()
	case sWord: // "sc in point"
		if j := p.past(1, sOf, sFill, sNext, sEach, sSame, sFirst); t.text == "tip" && !p.named && p.at(j).sym == sForm && p.at(j).val.form != stitch.Shell { // "sc in tip of next cluster"
			return p.topOfForm(j)
		}
		if !pointWords[t.text] || p.named || p.pos == p.start {
			return false
		}
		p.pl.target.Where = Corner
		p.named = true
		p.take()
	case sRing, sMagic:
		if p.named {
			return false
		}
		p.pl.target.Where = Ring
		p.named = true
		p.take()
	case sJoin:
		if p.pl.target.Where == Same || p.pl.target.Where == First {
			p.pl.target.Where = Joined
			p.take()
			return true
		}
		return false
	case sAs:
		return p.asJoin()
	case sTop:
		if j := p.past(1, sOf, sFill, sNext, sEach); !p.named && j > 1 && p.at(j).sym == sForm && p.at(j).val.form != stitch.Shell && p.at(j-1).sym != sOf { // "sc in top of next cluster"
			return p.topOfForm(j)
		}
		p.pl.target.Where = TopChain
		p.named = true
		p.take()
		p.chainOf()
		p.done = p.pos
	case sBegin:
		if p.pl.target.Where == TopChain || p.pl.one {
			p.take()
			return true
		}
		return false
	case sCorner:
		if p.named && p.pl.target.Where != Same {
			return false
		}
		if p.pl.target.Where != Same {
			p.pl.target.Where = Corner
		}
		p.pl.each = p.pl.each || t.text == "corners" && !p.pl.one && p.pl.n == 0 // "(2 dc, ch 2, 2 dc) in corners"
		p.named = true
		p.take()
		if t := p.peek(); t.sym == sSt || t.sym == sStitch && t.val.stitch.Base > stitch.Slip && p.at(1).sym != sNumber && p.at(1).sym != sIn { // "3 sc in each corner sc"
			p.take()
		}
	case sCentre:
		return p.centre()
	case sBetween:
		return p.between()
	case sTo, sUntil:
		if l, ok := p.toLast(); ok {
			p.pl.toEnd, p.pl.leave, p.pl.ok = true, l, true
			p.done = p.pos
		}
		return false
	case sAll:
		return p.all()
	case sTotal: // "in all 8 sts" is no count
		if p.pos == p.start && strings.EqualFold(p.raw(p.pos), "in all") {
			return p.all()
		}
		if t.text == "remaining" && p.pos == p.start && p.at(-1).sym == sStitch && p.at(-2).sym != sNumber { // "dec 1, sc remaining"
			p.pl.toEnd, p.pl.rest = true, true
			p.take()
			return false
		}
		if !p.pl.each || p.named {
			return false
		}
		p.pos++ // "in each remaining sc"
	case sAnd:
		return p.and()
	case sRest:
		if s := p.at(1).sym; s == sLoop && p.at(1).text[len(p.at(1).text)-1] != 's' || s == sSpace && p.at(1).text == "space" { // "sc in remaining loop of pineapple"
			p.pl.one = true
			p.pos++
			return true
		}
		p.pl.toEnd, p.pl.rest = true, true
		p.take()
		return false
	case sOther:
		p.take()
	case sComma:
		if p.at(1).sym == sAround && p.pos > p.start {
			p.pos++
			return true
		}
		return false
	default:
		return false
	}
	return true
}

// topOfForm reads "tip of next cluster", whose last word is j tokens on: the
// cluster is a stitch like others.
func (p *placing) topOfForm(j int) bool {
	for _, t := range p.toks[p.pos : p.pos+j] {
		p.pl.each = p.pl.each || t.sym == sEach
		if t.sym == sFirst {
			p.pl.target.Where = First
		}
	}
	p.pl.one = !p.pl.each
	p.pos += j
	p.named = true
	p.take()
	return true
}

// round reads "around", "round the front of next st", "around post".
func (p *placing) round() bool {
	t := p.peek()
	// "round the front of next st", "round each of next 20 sts"
	j := 1
	for p.at(j).sym == sFill {
		j++
	}
	switch p.at(j).sym {
	case sFront, sBack:
		p.pl.post = stitch.Front
		if p.at(j).sym == sBack {
			p.pl.post = stitch.Back
		}
		p.pos += j + 1
		if p.peek().sym == sPost {
			p.pos++
		}
		return true
	case sPost:
		p.pos += j + 1
		return true
	case sStitch:
		if prev := p.at(-1); !p.pl.ok && prev.sym == sStitch && prev.val.stitch.Post != stitch.Top { // "FPdc around the FPdc"
			p.pos += j
			p.pl.one = true
			return true
		}
	case sEach, sNext, sFirst, sSame, sLast:
		if prev := p.at(-1); !p.pl.ok && (t.sym == sRound || p.at(j).sym != sEach || prev.sym == sStitch && prev.val.stitch.Post != stitch.Top) {
			p.pos++
			return true
		}
	}
	if i := p.past(1, sFill); !p.named && p.roundWord(i) && p.at(i+1).sym == sNumber && (p.at(i+2).sym == sStitch || p.at(i+2).sym == sSt) { // "around a round 2 sc below"
		p.pl.target.Behind = p.at(i + 1).num
		p.pl.one, p.named = true, true
		p.pos += i + 2
		p.take()
		if p.peek().text == "below" {
			p.take()
		}
		return true
	}
	if t.sym == sRound {
		if p.pl.ok && !p.named && p.at(1).sym == sNumber && (p.at(2).sym == sStitch || p.at(2).sym == sSt) { // "next Rnd 1 sc"
			p.pl.target.Behind = p.at(1).num
			p.pos += 2
			return true
		}
		return false
	}
	p.pl.toEnd = true
	p.take()
	p.pl.leave = p.except()
	p.done = p.pos
	return false
}

// same reads "same", "base of".
func (p *placing) same() bool {
	t := p.peek()
	if p.named {
		return false
	}
	p.pl.one = true
	p.pl.target.Where = Same
	p.take()
	if t.num == base {
		p.named = true
		p.chainOf()
		p.done = p.pos
	}
	return true
}

// last reads "last", "last sc made".
func (p *placing) last() bool {
	if p.named {
		return false
	}
	p.pl.one = true
	p.pl.target.Where = LastCh
	p.take()
	if j := p.past(0, sSt, sStitch, sFill); p.at(j).sym == sTotal { // "in the last sc made"
		p.pl.target.Where = Same
		p.named = true
		p.pos += j
		p.take()
	}
	return true
}

// number reads a number: of places, of a space, of the stitch counted from the hook.
func (p *placing) number() bool {
	t := p.peek()
	if k := p.numberedSpace(0); k > 0 && !p.named {
		if p.pl.target.Where != Same {
			p.pl.target = Target{Where: Space, Chain: t.num}
		}
		p.pos += k - 1
		p.named = true
		p.take()
		return true
	}
	if t.ordinal || p.at(1).sym == sStitch && p.at(2).sym == sFrom {
		if n, ok := p.fromHook(); ok {
			p.pl.target = Target{Where: FromHook, Chain: n}
			p.named, p.pl.ok, p.pl.one = true, true, true
			p.done = p.pos
			return true
		}
		if p.pl.each {
			p.pl.nth = t.num
			p.take()
			return true
		}
		if p.at(1).sym == sStitch && p.at(1).val.stitch == stitch.Ch && (p.opening || p.branching && t.num == 2) && p.at(2).sym != sOf { // "5 sc in 2nd ch"
			p.pl.target = Target{Where: FromHook, Chain: t.num}
			p.named, p.pl.one = true, true
			p.pos++
			p.take()
			return true
		}
		if p.at(1).sym == sStitch && p.at(1).val.stitch == stitch.Ch { // 3rd ch of ch-3
			p.pl.target.Where = TopChain
			p.named, p.pl.one = true, true
			p.take()
			p.chainOf()
			p.done = p.pos
			return true
		}
		if j := p.past(1, sOf, sFill, sBegin); p.at(1).sym == sOf && (namesChain(p.at(j)) || p.at(j).sym == sNumber && namesChain(p.at(j+1))) { // "3rd of 4 ch"
			p.pl.target.Where = TopChain
			p.named, p.pl.one = true, true
			p.pos += j
			p.take()
			if p.peek().sym == sStitch {
				p.take()
			}
			p.chainOf()
			p.done = p.pos
			return true
		}
		if p.pos == p.start && !(t.num == 1 && p.at(-1).sym == sTo) || p.named {
			return false
		}
		if p.at(1).sym == sOf { // "on the 4th of the 7 treble"
			save := p.pos
			p.pos++
			if p.groupNamed() {
				p.pl.target, p.pl.one, p.pl.ok, p.named = Target{Where: Center, Chain: t.num, Kind: p.plainStitch()}, true, true, true
				p.done = p.pos
				return true
			}
			p.pos = save
		}
		if s := p.at(1).sym; s == sStitch || s == sSt { // "in 3rd dc of next shell"
			save := p.pos
			p.pos += 2
			if p.groupNamed() {
				p.pl.target, p.pl.one, p.pl.ok, p.named = Target{Where: Center, Chain: t.num, Kind: p.plainStitch()}, true, true, true
				p.done = p.pos
				return true
			}
			p.pos = save
		}
		switch p.at(1).sym {
		case sSt, sSpace, sStitch, sLoop:
			p.pl.one = true
			if t.num == 1 {
				p.pl.target.Where = First
			}
			p.take()
			return true
		case sComma, sStop, sClose, sRep, sWith, sStar, sColon, sAnd, sAround:
			if t.num > 1 && !p.pl.ok { // "one in the first, two in the second"
				p.pl.one, p.named = true, true
				p.take()
				return true
			}
		}
		return false
	}
	if p.named || p.pl.n > 0 || t.decimal || (p.pos == p.start) {
		return false
	}
	if p.pl.each && (p.at(1).sym == sTimes) {
		return false
	}
	if ch := p.at(1); p.chains && namesChain(ch) { // "under every 6 ch"
		p.pl.target = Target{Where: Space, Chain: t.num}
		p.named = true
		p.pos++
		p.take()
		return true
	}
	// a number that begins the next instruction: "in next st 3 sc"
	if next := p.at(1).sym; (p.pl.target.Where == Same) || (next == sTimes || next == sX) && !p.pl.one ||
		(next == sStitch || next == sInc || next == sDec) && !p.pl.one && !p.pl.each && p.at(-1).sym != sIn && p.at(-1).sym != sFill && p.at(-1).sym != sOf && p.at(-1).sym != sOver {
		return false
	}
	p.pl.n = t.num
	p.take()
	return true
}

// stitch reads the name of a stitch, or of a chain space.
func (p *placing) stitch() bool {
	t := p.peek()
	c := t.val.stitch
	if c == stitch.Ch {
		if n, k := p.spaceAhead(); k > 0 {
			if p.named && p.pl.target.Where != Same {
				return false
			}
			if p.pl.target.Where != Same && p.pl.target.Where != TopChain {
				p.pl.target = Target{Where: Space, Chain: n}
			}
			p.pos += k - 1
			p.named = true
			p.take()
			return true
		}
	}
	if c == stitch.Ch && !p.named && (p.pl.one || p.pl.each) && p.pl.target.Where == Next && p.at(1).sym == sDash && p.at(1).glued && p.at(2).sym == sNumber && p.at(2).glued && !p.begins(3) { // "dc in next ch-2"
		p.pl.target = Target{Where: Space, Chain: p.at(2).num}
		p.named = true
		p.pos += 2
		p.take()
		return true
	}
	if p.pl.target.Where == TopChain || p.pl.target.Where == Joined {
		p.take()
		p.chainOf()
		p.done = p.pos
		return true
	}
	if p.named || !p.pl.one && !p.pl.each && p.at(-1).sym != sIn && p.pl.n == 0 && !(p.at(-1).sym == sFill && p.pos > p.start+1) {
		return false
	}
	p.named = true
	if p.pl.target.Kind = c; c == stitch.Ch && p.chains {
		p.pl.target = Target{Where: Space}
	}
	p.take()
	return true
}

// made reads what stitches of the round below are called together: "inc", "shell".
func (p *placing) made() bool {
	t := p.peek()
	if p.named || !p.pl.one && !p.pl.each && p.at(-1).sym != sOver && !(t.sym == sForm && (p.at(-1).sym == sTo || p.at(-1).sym == sIn) && p.at(1).sym == sSpace) {
		if !(t.sym == sForm && p.named && p.at(-1).sym == sStitch) {
			return false
		}
	}
	p.named = true
	if t.val.form == stitch.Shell {
		p.pl.target.Where = Corner // the space inside it
	}
	p.take()
	if p.peek().sym == sSpace {
		p.take()
	}
	return true
}

// chainSpace reads "sp", "sp of next shell".
func (p *placing) chainSpace() bool {
	if p.named && p.pl.target.Where != Same && p.pl.target.Where != Corner {
		return false
	}
	if p.pl.target.Where != Same {
		p.pl.target.Where = Space
	} else {
		p.pl.target.Chain = 1 // the same space
	}
	p.named = true
	p.take()
	if s := p.at(p.past(0, sOf, sFill, sNext, sEach, sLast, sFirst, sSame)); p.peek().sym == sOf && s.sym == sForm { // "in sp of next shell"
		if p.pl.target.Where == Space {
			p.pl.target.Where = Corner
		}
		p.pos += p.past(0, sOf, sFill, sNext, sEach, sLast, sFirst, sSame)
		p.take()
	}
	return true
}

// chainLoop reads "loop", "loop of the chain".
func (p *placing) chainLoop() bool {
	if p.named || p.pos == p.start {
		return false
	}
	if p.pl.target.Where == Same {
		p.pl.target.Chain = 1 // the same space
	} else {
		p.pl.target.Where, p.pl.target.Loop = Space, true
	}
	p.named = true
	p.take()
	if j := p.past(0, sOf, sFill); j > 0 && p.at(0).sym == sOf && p.at(j).sym == sStitch && p.at(j).val.stitch == stitch.Ch { // "in every loop of the chain"
		p.pl.target = Target{Kind: stitch.Ch}
		p.pos += j
		p.take()
	}
	return true
}

// side reads "back post", "front loop".
func (p *placing) side() bool {
	t := p.peek()
	if p.at(1).sym == sPost {
		p.pl.post = stitch.Front
		if t.sym == sBack {
			p.pl.post = stitch.Back
		}
		p.pos++
		p.take()
		return true
	}
	if l, ok := p.loop(); ok {
		p.pl.loop = l
		p.pl.ok = true
		p.done = p.pos
		return true
	}
	return false
}

// from reads "from front" after a post.
func (p *placing) from() bool {
	if s := p.at(1).sym; !p.pl.ok || s != sFront && s != sBack {
		return false
	}
	p.pl.post = stitch.Front
	if p.at(1).sym == sBack {
		p.pl.post = stitch.Back
	}
	p.pos++
	p.take()
	return false
}

// asJoin passes over "as join", "as ch 3" after "same st".
func (p *placing) asJoin() bool {
	if p.pl.target.Where != Same { // "same st as join", "same st as ch 3"
		return false
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
	p.done = p.pos
	return true
}

// centre reads "centre dc of next shell".
func (p *placing) centre() bool {
	p.pl.target = Target{Where: Center}
	p.pl.one = true
	p.take()
	if n := p.peek(); n.sym == sNumber && n.text == "one" && !p.begins(1) && p.at(1).sym != sTimes {
		p.pl.target, p.named = Target{}, true // "miss 2, 3 tr in the centre one": the next
		p.take()
	}
	if s := p.peek().sym; s == sSt || s == sStitch && p.at(1).sym != sNumber || s == sNumber && !p.peek().ordinal && p.at(1).sym == sStitch {
		if s == sNumber {
			p.pos++
		}
		if k := p.peek(); k.sym == sSt {
			p.pl.target.Kind = p.plainStitch()
		} else if k.val.stitch != stitch.Ch {
			p.pl.target.Kind = k.val.stitch
		}
		p.take()
	}
	p.groupNamed()
	p.done = p.pos
	p.named = true
	return true
}

// between reads "between next 2 dc", "between groups".
func (p *placing) between() bool {
	if p.named && (p.pl.target.Where != Space || p.pl.target.Chain > 0) {
		return false
	}
	p.pl.target.Where = Between
	p.take()
	for p.peek().sym == sNext || p.peek().sym == sNumber || p.peek().sym == sFill || p.peek().sym == sSt || p.peek().sym == sStitch || p.peek().sym == sForm || p.peek().sym == sEach && p.at(-1).sym == sBetween || groupsOf[p.peek().text] && !p.end() || p.peek().sym == sDash && p.peek().glued && p.at(1).glued || p.peek().sym == sOf && groupsOf[p.at(-1).text] && !p.roundWord(1) {
		if verbs[p.peek().text] {
			break
		}
		if k := p.past(2, sNumber, sFill); p.at(1).sym == sAnd && p.at(2).sym == sNext && (p.at(k+1).sym == sStitch || p.at(k+1).sym == sSt) && p.peek().sym != sNext { // "between ch 3 and next dc"
			p.pos += k + 1
		}
		if p.peek().sym == sEach {
			p.pl.each = true
		}
		if groupsOf[p.peek().text] || p.peek().sym == sForm {
			p.pl.target.Chain = 1 // between groups, not stitches
		}
		p.take()
	}
	p.named = true
	return true
}

// all reads "all", "all sts".
func (p *placing) all() bool {
	if p.at(1).sym == sSame || p.at(1).sym == sIn || p.at(1).sym == sAround {
		p.pos++
		return true
	}
	if s := p.at(1).sym; s == sSt || s == sStitch || s == sNumber && (p.at(2).sym == sSt || p.at(2).sym == sStitch) {
		p.pl.each = true
		p.take()
		return true
	}
	return false
}

// and reads a second kind of place: "each st and ch".
func (p *placing) and() bool {
	// "in each st and ch around", "in each sc and each ch"
	if p.pl.each && p.named && p.at(1).sym == sIn && p.at(2).sym == sEach && namesChain(p.at(3)) { // "in jede M und in jede Lm"
		if _, k := p.spaceAheadAt(3); k == 0 && (p.at(4).sym != sNumber || p.begins(5)) {
			p.pl.target = Target{Where: Any}
			p.pos += 3
			p.take()
			return true
		}
	}
	if p.pl.each && p.named && (p.at(1).sym == sStitch || p.at(1).sym == sForm || p.at(1).sym == sSpace || p.at(1).sym == sEach && (p.at(2).sym == sStitch || p.at(2).sym == sSpace)) && !p.instructionAhead(1) {
		j := 1
		if p.at(j).sym == sEach {
			j++
		}
		_, k := p.spaceAheadAt(j)
		if k == 0 && (p.at(j+1).sym == sNumber || p.at(j+1).sym == sIn && j == 1) { // "in each corner and dc in each dc"
			return false
		}
		if p.at(j).sym == sForm || k == 0 && p.at(j).sym == sStitch && p.at(j).val.stitch != stitch.Ch { // "each dc and popcorn": each stitch
			p.pl.target.Kind = stitch.Stitch{}
			p.pos += j
			p.take()
			return true
		}
		p.pl.target = Target{Where: Any}
		if k > 0 || p.at(j).sym == sSpace {
			p.pl.target.Chain = 1 // one for each space, however many its chains
		}
		p.pos += j + max(k, 1) - 1
		p.take()
		return true
	}
	return false
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
var groupsOf = map[string]bool{"group": true, "groups": true, "pair": true, "pairs": true, "set": true, "sets": true, "trio": true, "trios": true, "block": true, "blocks": true, "bunch": true, "bunches": true}

// verbs begin the instruction that is worked in a place named before it.
var verbs = map[string]bool{"work": true, "make": true, "crochet": true, "do": true, "put": true, "place": true}

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
