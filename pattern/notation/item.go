package notation

import (
	"slices"
	"strings"

	"roundelay/pattern/stitch"
)

// item reads one instruction: stitches, how many, and where. before is what
// the list holds so far.
func (p *parser) item(before []Node) []Node {
	start := p.pos
	var pl place
	// the place may come first: "in each st 2 sc"; "every 2nd st doubled"
	if s := p.peek().sym; s == sIn || s == sEach || s == sNext || s == sBetween {
		pl = p.place()
		for pl.ok && (p.peek().sym == sFill || p.peek().sym == sComma && pl.nth > 0 || (p.peek().sym == sColon || p.peek().sym == sComma) && (pl.target.Where == Ring || pl.target.Where == FromHook) || p.peek().sym == sComma && pl.each && pl.toEnd && pl.n == 0 && p.at(1).sym == sNumber && p.at(2).sym == sStitch) {
			p.pos++
		}
		if pl.ok && p.peek().sym == sDouble {
			p.pos++
			return p.compose(start, 1, Work{Per: 2, Places: 1}, pl, true)
		}
		if pl.nth > 0 && (p.peek().sym == sAnd || p.peek().sym == sPlus) && p.at(1).ordinal && p.at(1).num == pl.nth+1 { // "every 5th and 6th st together"
			save := p.pos
			p.pos += 2
			if p.peek().sym == sSt || p.peek().sym == sStitch {
				p.pos++
			}
			if p.peek().sym == sTog {
				p.pos++
				return p.compose(start, 1, Work{Stitch: stitch.Stitch{Form: stitch.Together, N: 2}, Per: 1, Places: 1}, pl, true)
			}
			p.pos = save
		}
		if !pl.ok {
			p.pos = start
			return nil
		}
		if j := p.past(0, sFill, sColon, sComma); pl.target.Where == Ring && (p.at(j).sym == sStar || p.at(j).sym == sOpen) && len(before) == 0 { // "in a magic ring: *2 dc, ch 1* 6 times"
			kind := ChainRing
			for _, t := range p.toks[start:p.pos] {
				if t.sym == sMagic {
					kind = MagicRing
				}
			}
			p.pos += j
			return []Node{&Start{at: p.span(start), Kind: kind}}
		}
		if !pl.each && !pl.one && !pl.toEnd && pl.n == 0 && pl.target == (Target{}) {
			pl = place{} // "on the other side": says nothing of how many
		}
		if pl.ok && p.peek().sym == sTog && pl.n >= 2 { // "work next 2 sc tog"
			p.pos++
			w := Work{Stitch: stitch.Stitch{Base: pl.target.Kind.Base, Form: stitch.Together, N: uint8(min(pl.n, stitch.MaxTogether))}, Per: 1, Places: 1}
			return p.compose(start, 1, w, place{}, false)
		}
		if body := p.listIn(pl); body != nil {
			return []Node{p.in(start, body, pl)}
		}
		if pl.ok && p.peek().sym == sOpen && !p.countAhead(0) { // "in each loop work (sc, hdc, sc)"
			i := p.pos
			p.pos++
			body := p.seq(1)
			if p.peek().sym == sClose {
				p.pos++
			}
			if len(body) > 0 {
				return []Node{p.in(i, body, pl)}
			}
			p.pos = start
			return nil
		}
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
	if t := p.peek(); t.sym == sNumber {
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
			p.pos++
		}
	}
	if t := p.peek(); n > 0 && t.sym == sColour && !p.begins(1) { // "5 R, 5 Y"
		switch p.at(1).sym {
		case sComma, sStop, sClose, sAround, sStar, sEqual, sRep:
			y := &Yarn{at: p.span(p.pos - 1), Key: p.raw(p.pos)}
			p.pos++
			return append([]Node{y}, p.compose(start, n, Work{Per: 1, Places: 1}, place{}, false)...)
		}
	}
	w, num, ok := p.kind(n)
	if !ok && n > 0 && (p.bareNumber() || !works(before) && p.pos+1 >= len(p.toks) && p.peek().sym == sStop) { // "5. BLO 24"
		return p.compose(start, n, Work{Per: 1, Places: 1}, place{}, false)
	}
	if !ok {
		p.pos = start
		return nil
	}
	tight := glued && n > 0
	if num == 0 {
		num = n
	}
	// the number may come after: "sc 3", "inc x 6" is read by times
	if num == 0 {
		if t := p.peek(); t.sym == sNumber && !t.ordinal && !t.decimal && !p.timesAt(1) && !p.begins(1) {
			num = t.num
			tight = t.glued
			p.pos++
			if p.peek().sym == sDash && p.peek().glued && p.at(1).sym == sSpace {
				p.pos = start
				return nil
			}
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
			if pl := p.place(); pl.each && pl.toEnd && afterStitches(before) {
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
	if !pl.ok {
		pl = p.place()
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
	for p.peek().sym == sAnd || p.peek().sym == sComma {
		save := p.pos
		p.pos++
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

// listIn reads a list that is worked into the place named before it, up to its
// stop: "in each loop 1 sc, 1 hdc, 3 dc, 1 hdc, 1 sc". It reads nothing unless
// all of the list is stitches and chains without places of their own.
func (p *parser) listIn(pl place) []Node {
	if pl.n > 1 && !pl.each || pl.target.Where != Space && pl.target.Where != Corner && pl.target.Where != Same && !(pl.target.Where == Between && pl.toEnd) && !(pl.toEnd && pl.each && pl.target.Where == Next) {
		return nil
	}
	start := p.pos
	var body []Node
	kinds := 0
	for p.pos = p.past(0, sFill, sColon, sComma) + p.pos; ; {
		from, n := p.pos, 0
		if t := p.peek(); t.sym == sNumber && !t.decimal && !t.ordinal {
			n = t.num
			p.pos++
			if p.peek().sym == sDash {
				p.pos++
			}
		}
		w, num, ok := p.kind(n)
		if !ok || w.Stitch.Base == stitch.NoBase && w.Stitch.Form == stitch.Plain || w.Per > 1 {
			break
		}
		if num == 0 {
			num = n
		}
		if p.peek().sym == sDash && p.peek().glued {
			p.pos++
		}
		if t := p.peek(); num == 0 && t.sym == sNumber && !t.ordinal && !t.decimal && !p.begins(1) && !p.timesAt(1) {
			num = t.num
			p.pos++
		}
		w.at, w.Places = p.span(from), max(num, 1)
		body = append(body, &w)
		if w.Stitch != stitch.Ch {
			kinds++
		}
		j := p.past(0, sComma, sAnd, sPlus, sFill)
		switch t := p.at(j); {
		case p.pos+j >= len(p.toks), t.sym == sStop, t.sym == sClose, p.slipAhead(j), t.sym == sEqual, t.sym == sStar && j == 0, t.sym == sRep, t.sym == sAround, t.sym == sJoin, t.sym == sOpen && p.countAhead(j):
			if len(body) < 2 || kinds == 0 || pl.toEnd && pl.target.Where == Next && kinds == len(body) && t.sym != sStop {
				p.pos = start
				return nil
			}
			return body
		case j == 0 && !(t.sym == sNumber && p.begins(1)):
			p.pos = start
			return nil
		}
		p.pos += j
	}
	p.pos = start
	return nil
}

// slipAhead reports whether a slip stitch, or a number of them, stands j tokens on.
func (p *parser) slipAhead(j int) bool {
	if p.at(j).sym == sNumber {
		j++
	}
	return p.at(j).sym == sStitch && p.at(j).val.stitch == stitch.SlSt
}

// afterStitches reports whether nodes end with stitches that name no place.
func afterStitches(nodes []Node) bool {
	if len(nodes) == 0 {
		return false
	}
	w, ok := nodes[len(nodes)-1].(*Work)
	return ok && w.Stitch.Base > stitch.Slip && w.Target == Target{} && w.Places > 0 && w.Per == 1
}

// slip reads what follows a slip stitch if it closes the round ("to top of
// ch-3", "in first sc to join") or makes a ring of the chain before.
func (p *parser) slip(start int, before []Node) []Node {
	i := p.pos
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
	case p.mentions(i, sRing) || p.mentions(i, sMagic):
		if len(before) > 0 {
			if w, ok := before[len(before)-1].(*Work); ok && w.Stitch == stitch.Ch {
				return p.ring(before, start)
			}
		}
	case pl.target.Where == FromHook:
		p.pos = j
		return p.compose(start, 1, Work{Stitch: stitch.SlSt, Per: 1, Places: 1}, pl, false)
	case p.mentions(i, sJoin) || p.mentions(i, sTop) || p.peek().sym == sJoin:
		return []Node{&Join{at: p.span(start), Into: pl.target}}
	case pl.target.Where == First && (p.end() || p.peek().sym == sStop || p.peek().sym == sOpen || p.peek().sym == sEqual || p.peek().sym == sTurn):
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

// inGroup reports whether a bracket or a star stands open before the current
// token.
func (p *parser) inGroup() bool {
	open, stars := 0, 0
	for _, t := range p.toks[:p.pos] {
		switch t.sym {
		case sOpen:
			open++
		case sStar:
			stars++
		case sClose:
			open--
		}
	}
	return open > 0 || stars%2 == 1
}

// explained reads a stitch that the text explains itself, such as its shell.
func (p *parser) explained(start int, before []Node, pl place) []Node {
	name, k := defName(p.toks[p.pos:])
	body, ok := p.defs[name]
	if !ok && name == "corner" && (p.at(k).sym == sIn || p.at(k).sym == sComma) {
		body, ok = p.usualCorner(), true
	}
	if !ok {
		return nil
	}
	p.pos += k
	if !pl.ok {
		pl = p.place()
	}
	if !pl.ok && strings.HasPrefix(name, "beginning ") && hasJoin(before) { // "sl st to shell space, beginning shell"
		pl = place{ok: true, one: true, target: Target{Where: Same, Chain: 1}}
	}
	if !pl.ok && name == "corner" {
		pl = place{ok: true, one: true, target: Target{Where: Corner}}
	}
	return []Node{p.in(start, body, pl)}
}

// hasJoin reports whether nodes lead to where the round begins.
func hasJoin(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Join:
			return true
		case *Work:
			if n.Stitch == stitch.SlSt {
				return true
			}
		}
	}
	return false
}

// usualCorner is the corner of a granny, where a text does not explain it (common
// practice): three stitches, two chains, three stitches.
func (p *parser) usualCorner() []Node {
	return []Node{&Work{Per: 1, Places: 3}, &Work{Stitch: stitch.Ch, Per: 1, Places: 2}, &Work{Per: 1, Places: 3}}
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

// kind reads the name of a stitch. n is the number before it, which may turn
// out to be a part of the name ("5 dc popcorn"); num is the number of stitches
// where the name settles it.
func (p *parser) kind(n int) (w Work, num int, ok bool) {
	w.Per, w.Places = 1, 1
	t := p.peek()
	switch t.sym {
	case sStitch:
		w.Stitch = t.val.stitch
		p.pos++
		if p.peek().sym == sStitch && p.peek().val.stitch == w.Stitch && p.at(-1).from == p.peek().from {
			p.pos++
		}
		switch next := p.peek(); {
		case next.sym == sNumber && p.at(1).sym == sTog && !next.decimal: // sc2tog, sc 2 tog
			if next.num < 2 || next.num > stitch.MaxTogether {
				return w, 0, false
			}
			w.Stitch.Form, w.Stitch.N = stitch.Together, uint8(next.num)
			p.pos += 2
			p.overNext()
		case next.sym == sTog:
			p.pos++
			legs := 2
			if p.peek().sym == sNumber && !p.timesAt(1) && p.peek().num >= 2 && p.peek().num <= 3 && n == 0 {
				legs = p.peek().num
				p.pos++
			}
			w.Stitch.Form, w.Stitch.N = stitch.Together, uint8(legs)
			if n == 2 || n == 3 { // "2 fM zusammen": the number is of the legs
				w.Stitch.N = uint8(n)
				return w, 1, true
			}
			p.overNext()
		case next.sym == sInc && !(next.num == 0 && p.separateInc()):
			p.pos++
			w.Per = 2
		case next.sym == sDec && w.Stitch.Base != stitch.Chain && !p.separateInc():
			p.pos++
			w.Stitch.Form, w.Stitch.N = stitch.Together, 2
			if next.val.stitch.Form == stitch.Invisible {
				w.Stitch.Form = stitch.Invisible
			}
			p.overNext()
		case next.sym == sForm || next.sym == sDash && p.at(1).sym == sForm && next.glued:
			if next.sym == sDash {
				p.pos++
				next = p.peek()
			}
			p.pos++
			return p.form(next.val.form, w.Stitch, n)
		case next.sym == sDash && p.at(1).sym == sNumber && p.at(2).sym == sForm: // ch-3 picot
			f := p.at(2).val.form
			k := p.at(1).num
			p.pos += 3
			w, _, ok = p.form(f, w.Stitch, k)
			return w, max(n, 1), ok
		case next.sym == sNumber && p.at(1).sym == sForm:
			f := p.at(1).val.form
			p.pos += 2
			w, _, ok = p.form(f, w.Stitch, next.num)
			return w, max(n, 1), ok
		}
		if !w.Stitch.Valid() { // an extended stitch has no decrease of its own
			return w, 0, false
		}
		if w.Stitch.Base > stitch.Slip && p.main != w.Stitch.Base && w.Stitch.Post == stitch.Top {
			p.main = w.Stitch.Base
		}
		return w, 0, true
	case sPost: // "post hdc": front or back is not said
		if p.at(1).sym != sStitch {
			return w, 0, false
		}
		w.Stitch = p.at(1).val.stitch
		w.Stitch.Post = stitch.Front
		p.pos += 2
		return w, 0, w.Stitch.Valid()
	case sForm:
		p.pos++
		if p.peek().sym == sOf && p.at(1).sym == sNumber && p.at(2).sym == sStitch { // "popcorn of 5 double crochet"
			k, s := p.at(1).num, p.at(2).val.stitch
			p.pos += 3
			w, _, ok := p.form(t.val.form, s, k)
			return w, max(n, 1), ok
		}
		return p.form(t.val.form, stitch.Stitch{}, 0)
	case sInc:
		p.pos++
		w.Per = 2
		w.Stitch = stitch.Stitch{} // the stitch of the line, set in tidy
		if s := p.peek(); (s.sym == sSt) && p.at(1).sym != sEach {
			p.pos++
		}
		if n == 0 && p.peek().sym == sNumber && p.at(1).sym == sStitch && p.at(2).sym == sEvenly { // "increase 8 sc evenly"
			w.Stitch.Base = p.at(1).val.stitch.Base
			num = p.peek().num
			p.pos += 2
			return w, num, true
		}
		return w, 0, true
	case sDec:
		p.pos++
		w.Stitch = t.val.stitch
		if w.Stitch == (stitch.Stitch{}) {
			w.Stitch = stitch.Stitch{Form: stitch.Together, N: 2}
		}
		if p.peek().sym == sSt {
			p.pos++
		}
		if n == 0 && p.peek().sym == sNumber && p.at(1).sym == sStitch && (p.at(2).sym == sAround || p.at(2).sym == sEvenly || p.peek().num == 1 && p.commaBefore()) {
			w.Stitch.Base = p.at(1).val.stitch.Base // "dec 6 sc around"
			num = p.peek().num
			p.pos += 2
			if p.peek().sym == sAround {
				p.pos++
			}
			return w, num, true
		}
		p.overNext()
		return w, 0, true
	case sWorkOff: // "work off next 2 sc as 1 sc"
		p.pos++
		pl := p.place()
		if pl.n < 2 || pl.n > stitch.MaxTogether {
			return w, 0, false
		}
		w.Stitch = stitch.Stitch{Base: pl.target.Kind.Base, Form: stitch.Together, N: uint8(pl.n)}
		if p.peek().sym == sAs && p.at(1).sym == sNumber {
			p.pos += 2
			if p.peek().sym == sStitch || p.peek().sym == sSt {
				p.pos++
			}
		} else if p.peek().sym == sTog {
			p.pos++
		}
		return w, 1, true
	case sTog: // 2tog
		if n < 2 || n > stitch.MaxTogether {
			return w, 0, false
		}
		p.pos++
		w.Stitch = stitch.Stitch{Form: stitch.Together, N: uint8(n)}
		return w, 1, true
	case sSt:
		if n == 0 && p.at(1).sym != sDouble {
			return w, 0, false
		}
		p.pos++
		w.Stitch = stitch.Stitch{}
		if p.peek().sym == sTog {
			p.pos++
			w.Stitch = stitch.Stitch{Form: stitch.Together, N: uint8(min(max(n, 2), stitch.MaxTogether))}
			return w, 1, true
		}
		if p.peek().sym == sDouble { // "1 M verdoppeln"
			p.pos++
			w.Per = 2
		}
		return w, 0, true
	case sEven: // "3 plain, 2 in the next"
		if n == 0 || t.text != "plain" || p.roundWord(1) {
			return w, 0, false
		}
		p.pos++
		w.Stitch = stitch.Stitch{}
		if s := p.peek(); s.sym == sSt || s.sym == sStitch && s.val.stitch.Base > stitch.Slip {
			w.Stitch.Base = s.val.stitch.Base
			p.pos++
		}
		return w, 0, true
	case sDash: // 3-in-1
		if n == 0 || !t.glued || p.at(1).sym != sIn || p.at(2).sym != sDash || p.at(3).sym != sNumber || p.at(3).num != 1 {
			return w, 0, false
		}
		p.pos += 4
		w.Per, w.Stitch = n, stitch.Stitch{}
		return w, 1, true
	case sIn, sNext:
		// "2 in next st", "6 in ring": the stitch is the one of the line
		if n == 0 {
			return w, 0, false
		}
		if t.sym == sIn && p.at(1).sym == sNumber && p.at(1).num == 1 && !p.at(1).ordinal && p.at(2).sym != sSt && n >= 2 { // 2in1, "three in one"
			p.pos += 2
			w.Per = n
			w.Stitch = stitch.Stitch{}
			return w, 1, true
		}
		w.Stitch = stitch.Stitch{}
		return w, 0, true
	}
	return w, 0, false
}

// separateInc reports whether the increase that comes next has its own number
// and so is an item by itself: "sc inc 2" after "(sc inc)".
func (p *parser) separateInc() bool {
	// "(sc inc) x 6" without a comma is two items; "dc inc in next st" is one
	next := p.at(1).sym
	if next == sIn || next == sNext || next == sEach || next == sOver {
		return false
	}
	for i := p.pos - 1; i >= 0 && p.toks[i].sym != sOpen && p.toks[i].sym != sStar; i-- {
		if p.toks[i].sym == sComma {
			return false
		}
	}
	for i := p.pos + 1; i < len(p.toks) && p.toks[i].sym != sClose && p.toks[i].sym != sStar; i++ {
		if p.toks[i].sym == sComma {
			return false
		}
	}
	return true
}

// commaBefore reports whether the list being read sets its items apart by
// commas, so that "dec 1 sc" is one item.
func (p *parser) commaBefore() bool {
	for i := p.pos - 1; i >= 0 && p.toks[i].sym != sOpen && p.toks[i].sym != sStar; i-- {
		if p.toks[i].sym == sComma {
			return true
		}
	}
	return false
}

// overNext passes over "over next 2 sts" after a decrease.
func (p *parser) overNext() {
	i := p.pos
	if s := p.peek().sym; s == sOver || s == sIn && (p.at(1).sym == sNext || p.at(1).sym == sFill && p.at(2).sym == sNext) {
		pl := p.place()
		if !pl.ok || pl.toEnd || pl.n > 3 || pl.each {
			p.pos = i
		}
	}
}

// form makes the compound stitch of posts of one kind; n is the number of posts,
// 0 if it is unsaid.
func (p *parser) form(f stitch.Form, s stitch.Stitch, n int) (Work, int, bool) {
	w := Work{Per: 1, Places: 1}
	usual := map[stitch.Form]stitch.Stitch{
		stitch.Cluster: {Base: stitch.Double, N: 3},
		stitch.Popcorn: {Base: stitch.Double, N: 5},
		stitch.Puff:    {Base: stitch.Half, N: 3},
		stitch.Bobble:  {Base: stitch.Double, N: 5},
		stitch.Picot:   {Base: stitch.Chain, N: 3},
		stitch.Shell:   {Base: stitch.Double, N: 5},
	}[f]
	u := usual
	if s.Base != stitch.NoBase {
		u.Base = s.Base
	}
	if n > 0 {
		u.N = uint8(min(n, stitch.MaxTogether))
	}
	if f == stitch.Puff {
		u.Base = stitch.Half
	}
	if f == stitch.Picot {
		u.Base = stitch.Chain
	}
	if f == stitch.Shell {
		w.Stitch = stitch.Stitch{Base: u.Base}
		w.Per = int(u.N)
		return w, 1, true
	}
	u.Form = f
	if !u.Valid() {
		return w, 0, false
	}
	w.Stitch = u
	if n > 0 {
		return w, 1, true
	}
	return w, 0, true
}

// compose makes the nodes of n stitches w in the place pl. tight says that
// number and name stand together ("2sc").
func (p *parser) compose(start, n int, w Work, pl place, tight bool) []Node {
	if pl.toEnd && !pl.each && pl.leave == 0 && !pl.rest && pl.target.Where == Next && p.listed {
		pl.toEnd, p.around = false, true // "sc 3, inc around": said of the list
		pl.ok = pl.one || pl.n > 0
	}
	w.at = p.span(start)
	w.Loop = pl.loop
	if pl == (place{ok: true, loop: pl.loop}) { // "sc 8 in BLO" names no place
		pl.ok = false
	}
	if pl.post != stitch.Top {
		w.Stitch.Post = pl.post
	}
	w.Target = pl.target
	if w.Target.Where == First {
		w.Target.Where = Next
	}
	k := max(n, 1)
	dec := w.Stitch.Form == stitch.Together || w.Stitch.Form == stitch.Invisible
	none := w.Stitch == stitch.Ch || w.Stitch.Form == stitch.Picot
	switch {
	case none:
		w.Places = k
		w.Target = Target{}
	case p.peek().sym == sEvenly || p.evenlyAhead():
		p.takeEvenly()
		e := &Evenly{at: p.span(start), N: k * max(pl.n, 1)}
		switch {
		case dec:
			e.N = -e.N
		case w.Per == 1:
			// "work 30 sc evenly": stitches, not increases
			if n == 0 { // "sc evenly around"
				return []Node{&Evenly{at: p.span(start), Stitch: w.Stitch}}
			}
			w.at = p.span(start)
			if w.Target.Where == Ring {
				w.Per, w.Places = 1, k
				return []Node{&w}
			}
			return []Node{&Evenly{at: p.span(start), Stitch: w.Stitch, To: k}}
		}
		return []Node{e}
	case pl.nth > 0:
		if dec {
			pl.nth++ // every nth decreased: n-1 plain, then two together
		}
		per := w
		if per.Per*k > 1 && !dec {
			per.Per = per.Per * k
		} else if !dec {
			per.Per = 2
		}
		per.Places, per.Target = 1, Target{}
		body := []Node{&per}
		plain := pl.nth - 1
		if dec {
			plain = pl.nth - 2
		}
		if plain > 0 {
			body = []Node{&Work{at: w.at, Per: 1, Places: plain}, &per}
		}
		return []Node{&Repeat{at: w.at, Body: body, Times: ToEnd, Rest: true}}
	case pl.toEnd:
		w.Places, w.Leave = ToEnd, pl.leave
		if w.Per == 1 && !dec {
			w.Per = k
		} else if k > 1 {
			w.Per *= k
		}
		if dec {
			w.Per = 1
		}
		if !pl.each && pl.n == 0 && n > 1 && w.Per == k { // "6 sc around": six in all
			w.Per, w.Places, w.Leave = 1, n, 0
		}
	case !pl.ok:
		w.Places = k
		if w.Per == 1 && !dec && (n == 2 || n == 3) && w.Stitch.Base != stitch.Slip {
			w.Doubt = TwoInOne
			if tight {
				w.Doubt = TwoTight
			}
		}
	case pl.target.Where == Ring || pl.target.Where == FromHook:
		w.Per, w.Places = w.Per*k, 1
		if pl.target.Where == Ring {
			w.Per, w.Places = 1, w.Per
		}
	case pl.target.Where == Space || pl.target.Where == Corner || pl.target.Where == Between:
		w.Per, w.Places = w.Per*k, max(pl.n, 1)
	case pl.target.Where == Same && w.Per*k > 1 && pl.target.Chain == 0:
		w.Per, w.Places = w.Per*k, 1
		w.Doubt = SameNext
	case pl.target.Where == Same || pl.target.Where == Joined || pl.target.Where == TopChain || pl.target.Where == Center:
		w.Per, w.Places = w.Per*k, 1
	case dec:
		w.Places = k
		if pl.n > 0 && pl.n >= int(w.Stitch.N)*2 && n <= 1 {
			w.Places = pl.n / int(w.Stitch.N)
		} else if pl.each && pl.n > 0 {
			w.Places = pl.n
		}
	case pl.n > 1 || pl.each:
		m := max(pl.n, 1)
		switch {
		case pl.each:
			w.Per, w.Places = w.Per*k, m
		case n <= 1 || w.Per > 1:
			w.Places = m
		case n == m:
			w.Places = m
		default:
			w.Per, w.Places = k, m
		}
	default: // one place
		w.Per, w.Places = w.Per*k, 1
		if w.Per == 2*k && k > 1 { // "3 inc in next": not six in one
			w.Per, w.Places = 2, k
		}
	}
	return []Node{&w}
}

// evenlyAhead reports whether "evenly" follows, words between.
func (p *parser) evenlyAhead() bool {
	for i := 0; i < 7; i++ {
		switch p.at(i).sym {
		case sEvenly:
			return true
		case sEach:
			if p.roundWord(i + 1) { // "inc 8 sts in each round"
				return true
			}
			return false
		case sAround, sFill, sSt, sIn, sTimes:
			continue
		case sComma:
			if p.at(i+1).sym == sEvenly {
				return true
			}
		}
		return false
	}
	return false
}

func (p *parser) takeEvenly() {
	for !p.end() {
		switch p.peek().sym {
		case sEvenly, sAround, sFill, sSt, sIn, sTimes, sEach, sRound, sRow:
			p.pos++
			continue
		case sComma:
			if p.at(1).sym == sEvenly {
				p.pos++
				continue
			}
		}
		return
	}
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
		case sNext, sFill, sOf, sFirst, sEach:
			p.pos++
			continue
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
	s.at = p.span(i)
	return s
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

// sameAs reads "repeat round 4", "rep rnds 2 and 3 twice", "as round 4".
func (p *parser) sameAs() Node {
	i := p.pos
	for p.peek().sym == sRep || p.peek().sym == sAs || p.peek().sym == sFill || p.peek().sym == sTo && p.pos > i {
		p.pos++
	}
	last := false
	if p.peek().sym == sLast {
		last = true
		p.pos++
		if p.peek().sym == sNumber && (p.at(1).sym == sRound || p.at(1).sym == sRow) {
			s := &SameAs{First: -p.peek().num, Last: -1, Times: 1}
			p.pos += 2
			s.at = p.span(i)
			return s
		}
	}
	s := &SameAs{Times: 1}
	if t := p.peek(); t.sym == sNumber && (p.roundWord(1) || t.ordinal) { // "as 13th rnd"
		s.First, s.Last = t.num, t.num
		p.pos++
		if p.roundWord(0) {
			p.pos++
		}
		s.at = p.span(i)
		return s
	}
	if t := p.peek(); t.sym == sNumber && !t.decimal && p.pos == i+1 && i == 0 && (p.at(1).sym == sStop || p.at(1).sym == sOpen && p.countAhead(1) || p.at(1).sym == sComma && p.at(2).sym == sNumber && p.pos+3 >= len(p.toks)) { // "9-16. Repeat 8."
		p.pos++
		s.First, s.Last = t.num, t.num
		s.at = p.span(i)
		return s
	}
	if !p.roundWord(0) {
		p.pos = i
		return nil
	}
	p.pos++
	if p.peek().sym == sStop && p.peek().glued && p.at(1).sym == sNumber {
		p.pos++
	}
	if p.peek().sym == sNumber && p.at(1).sym == sDash && !p.at(1).glued && !p.at(2).glued == (p.at(2).sym != sDash) && p.at(p.past(1, sDash)+1).sym != sRound { // "same as Rnd 7 -- 60"
		s.First, s.Last = p.peek().num, p.peek().num
		p.pos++
		s.at = p.span(i)
		return s
	}
	if last || p.peek().sym == sStop || p.peek().sym == sClose || p.peek().sym == sFill {
		s.First, s.Last = -1, -1
	} else {
		first, lastN, ok := p.numbers()
		if !ok {
			p.pos = i
			return nil
		}
		s.First, s.Last = first, lastN
	}
	save := p.pos
	if n, _, _, ok := p.times(); ok && n > 0 {
		s.Times = n
		for _, t := range p.toks[save:p.pos] {
			if t.sym == sMore {
				s.Times = max(n-1, 1) // "three more times" is three rounds
			}
		}
	} else {
		p.pos = save
	}
	s.at = p.span(i)
	for j := 1; j < 8 && p.at(0).sym == sHave && p.at(j).sym != sStop && p.at(j).sym != sComma; j++ { // "as for rnd 3 having 2 groups between corners"
		if p.at(j).sym == sBetween && p.at(2).text != "groups" && p.at(2).text != "group" {
			p.pos += j + 1
			p.unread(i, "what is other than in the round that it repeats was not understood")
			p.pos -= j + 1
		}
	}
	for j := 0; j < 4; j++ { // "same as round 4, but ..."
		if t := p.at(j); t.sym == sWord && (t.text == "but" || t.text == "except" || t.text == "instead") {
			p.pos += j + 1
			p.unread(i, "what is other than in the round that it repeats was not understood")
			p.pos -= j + 1
		}
	}
	return s
}

// alsoRounds reads that the rounds after this one are worked like it: "Repeat for
// rounds 8-12."
func (p *parser) alsoRounds() bool {
	l, start := p.line, p.pos
	if l.First < 0 || l.First != l.Last {
		return false
	}
	p.pos += p.past(1, sFill, sIn, sTo, sWith, sOver, sAnd, sComma, sAs)
	if p.roundWord(0) {
		p.pos++
		for p.peek().sym == sStop && p.peek().glued {
			p.pos++
		}
		if first, last, ok := p.numbers(); ok && first == l.First+1 && last >= first && (p.end() || p.peek().sym == sStop || p.peek().sym == sOpen) {
			l.Last = last
			return true
		}
	}
	p.pos = start
	return false
}

// numbers reads "7", "7-12", "7 to 12", "7 & 8", "7, 8 & 9".
func (p *parser) numbers() (first, last int, ok bool) {
	if p.peek().sym != sNumber || p.peek().decimal {
		return 0, 0, false
	}
	first = p.peek().num
	last = first
	p.pos++
	if p.peek().text == ")" && p.at(1).sym == sDash && p.at(2).sym == sNumber && p.at(3).text == ")" && p.at(2).num > first { // "6)-10)"
		last = p.at(2).num
		p.pos += 3
		return first, last, true
	}
	for {
		i := 0
		switch p.peek().sym {
		case sDash, sPlus, sTo, sAnd, sComma:
			i = 1
		case sFill:
			if t := p.peek().text; t != "through" && t != "thru" {
				return first, last, true
			}
			i = 1
		default:
			return first, last, true
		}
		for p.roundWord(i) || i > 0 && p.at(i).sym == sStop && p.at(i).glued && p.roundWord(i-1) || p.at(i).sym == sAnd || p.at(i).sym == sPlus || p.at(i).sym == sDash && i < 2 {
			i++
		}
		down := p.at(i).num == last-1 && first == last && i <= 2 && p.peek().sym != sComma && p.peek().sym != sTo
		if p.at(i).sym != sNumber || p.at(i).decimal || p.at(i).num <= last && !down {
			return first, last, true
		}
		// "4 - 2 sc, inc": the number belongs to a stitch; "R6-9 sc" is a range
		tight := p.peek().sym == sDash && p.peek().glued && (p.at(1).glued || p.roundWord(1))
		switch s := p.peek().sym; {
		case s == sTo:
			tight = true // "13 to 15 sc around"
		case (s == sAnd || s == sPlus || s == sComma) && p.at(i).num == last+1:
			tight = p.at(i+2).sym == sAround || p.at(i+2).sym == sEven || p.at(i+2).sym == sIn && p.at(i+3).sym == sEach
		}
		if !tight && p.begins(i+1) || p.at(i+1).sym == sSt || p.at(i+1).sym == sTimes || p.at(i+1).sym == sX {
			return first, last, true
		}
		if p.peek().sym == sComma && p.at(i).num != last+1 {
			return first, last, true
		}
		last = p.at(i).num
		p.pos += i + 1
	}
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

// allRound reports whether w is plain stitches of a whole round: "1 sc in each
// st", or "sc" with no number.
func (p *parser) allRound(w *Work) bool {
	if w.Per != 1 || w.Stitch.Base <= stitch.Slip || w.Stitch.Form != stitch.Plain {
		return false
	}
	if w.Places == ToEnd {
		return true
	}
	i, _ := slices.BinarySearchFunc(p.toks, w.From, func(t token, at int) int { return t.from - at })
	return w.Places == 1 && i < len(p.toks) && p.toks[i].sym == sStitch
}
