package notation

import (
	"roundelay/pattern/stitch"
	"slices"
	"strings"
)

// listIn reads a list that is worked into the place named before it, up to its
// stop: "in each loop 1 sc, 1 hdc, 3 dc, 1 hdc, 1 sc". It reads nothing unless
// all of the list is stitches and chains without places of their own.
func (p *parser) listIn(pl place) []Node {
	single := pl.one && !pl.each && pl.n <= 1 && pl.target.Where == Next // of these, only a list with "and" before its last
	if pl.n > 1 && !pl.each || !single && pl.target.Where != Space && pl.target.Where != Corner && pl.target.Where != Same && !(pl.target.Where == Between && pl.toEnd) && !(pl.toEnd && pl.each && pl.target.Where == Next) {
		return nil
	}
	start := p.pos
	var body []Node
	kinds, last := 0, false // last: "and" stood before the item
	for p.pos = p.past(0, sFill, sColon, sComma) + p.pos; ; {
		from, n := p.pos, 0
		if r := p.timesGroup(); r != nil && len(body) > 0 { // "2 dc, (ch 2, 2 dc) twice"
			body = append(body, r)
			if p.at(0).sym == sStop || !pl.each && !pl.toEnd {
				return body
			}
			p.pos = start
			return nil
		}
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
		if p.at(j).sym == sOpen && p.glossed(j) { // "(shell made)"
			last = true
		}
		switch t := p.at(j); {
		case last && !pl.each && !pl.toEnd && len(body) > 1 && kinds > 0 && kinds < len(body):
			return body
		case single && !(p.at(0).sym == sComma || p.at(0).sym == sAnd || p.at(0).sym == sPlus):
			p.pos = start
			return nil
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
		last = j > 0 && slices.ContainsFunc(p.toks[p.pos:p.pos+j], func(t token) bool { return t.sym == sAnd })
		p.pos += j
	}
	p.pos = start
	return nil
}

// timesGroup reads a bracket of stitches without places, and how often they are
// worked. It reads nothing if no such bracket stands next.
func (p *parser) timesGroup() Node {
	start := p.pos
	if p.peek().sym != sOpen || p.countAhead(0) || p.glossed(0) {
		return nil
	}
	p.pos++
	body := p.seq(1)
	if p.peek().sym == sClose && !slices.ContainsFunc(body, func(n Node) bool { w, ok := n.(*Work); return !ok || w.Target != (Target{}) }) {
		p.pos++
		if n, doubt, _, ok := p.times(); ok && n > 0 && doubt == 0 {
			return &Repeat{at: p.span(start), Body: body, Times: n}
		}
	}
	p.pos = start
	return nil
}

// glossed reports whether the bracket that stands i tokens on says what was made:
// "(shell made)".
func (p *parser) glossed(i int) bool {
	for k := i + 1; k < i+10; k++ {
		switch t := p.at(k); t.sym {
		case sTotal:
			if t.text == "made" && k > i+1 {
				return true
			}
		case sClose, sStop, sOpen:
			return false
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
	as := k + p.asUsual(k)
	if s := p.at(as).sym; !ok && name == "corner" && (s == sIn || s == sComma || s == sStar && as > k) {
		body, ok = p.usualCorner(), true
	}
	if !ok {
		return nil
	}
	p.pos += as
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

// asUsual returns how many tokens "as before", "as usual", "as in last rnd" is, i
// tokens on.
func (p *parser) asUsual(i int) int {
	if p.at(i).sym != sAs {
		return 0
	}
	j := p.past(i+1, sIn)
	switch t := p.at(j); {
	case t.text == "before", t.text == "usual", t.text == "above":
		return j + 1 - i
	case t.sym == sLast || t.text == "previous":
		j++
	}
	if j > i+1 && p.roundWord(j) {
		if j++; p.at(j).sym == sNumber {
			j++
		}
		return j - i
	}
	return 0
}

// usualCorner is the corner of a granny, where a text does not explain it (common
// practice): three stitches, two chains, three stitches.
func (p *parser) usualCorner() []Node {
	return []Node{&Work{Per: 1, Places: 3}, &Work{Stitch: stitch.Ch, Per: 1, Places: 2}, &Work{Per: 1, Places: 3}}
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
