package notation

import "roundelay/pattern/stitch"

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
			if f := p.peek(); f.sym == sForm && f.val.form == stitch.Cluster { // "tr3tog cluster"
				p.pos++
			}
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
		case next.sym == sNumber && next.glued && p.at(1).sym == sInc && p.at(1).glued: // "dc2inc"
			p.pos += 2
			w.Per = min(max(next.num, 2), stitch.MaxTogether)
			return w, max(n, 1), true
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
		if p.peek().sym == sOnce && p.at(1).sym == sEach {
			p.pos++
		}
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
		if p.peek().sym == sOnce && p.at(1).sym == sEach { // "decreasing once every 4 sts"
			p.pos++
		}
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
	if s := p.peek().sym; s == sOver || s == sNext && p.at(1).sym == sNumber && p.at(1).num == 2 && p.at(2).sym != sTog || s == sIn && (p.at(1).sym == sNext || p.at(1).sym == sFill && p.at(2).sym == sNext) {
		pl := p.place()
		if !pl.ok || pl.toEnd || pl.n > 3 || pl.each || pl.target.Where != Next && pl.target.Where != LastCh {
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
