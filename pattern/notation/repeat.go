package notation

import "roundelay/pattern/source"

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
				} else if w.Doubt&TwoTight != 0 { // "2hdc x 24": two in each of 24
					return append(nodes[:from], &Repeat{at: span, Body: []Node{w}, Times: n})
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
		case *Evenly, *SameAs:
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
			if !p.end() && p.at(1).sym == sRep && p.at(2).sym != sRound && p.at(2).sym != sRow && p.at(p.past(2, sFill, sTo, sIn, sOf)).sym != sOther {
				p.pos++
				continue
			}
		case sRep:
			if rep || p.at(p.past(1, sFill, sTo, sIn, sOf)).sym == sOther { // "continue on the other side of the chain"
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
			if p.at(1).sym == sNumber && !p.at(1).ordinal && !p.at(1).decimal && !p.begins(2) && (p.at(2).sym != sIn || p.at(3).sym == sColour) && p.at(2).sym != sSt {
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
			if t.glued && p.pos == start && p.at(-1).sym == sClose && !t.decimal && p.at(1).sym == sOpen && p.countAhead(1) { // "(sc, inc)6 (18)"
				p.pos++
				return t.num, 0, 0, true
			}
			if rep && p.pos > start && p.at(-1).sym == sRep && !t.decimal && !t.ordinal && (p.ended(1) || p.at(1).sym == sComma && p.at(-2).sym == sClose) { // "(sc, inc) rep 6"
				p.pos++
				return t.num, More, 0, true
			}
			j := 1
			for p.at(j).sym == sMore || p.at(j).sym == sFill && j < 3 {
				j++
			}
			if s := p.at(1).sym; rep && !t.ordinal && !t.decimal && p.pos > 1 && p.toks[p.pos-1].sym == sRep && (s == sStop || s == sOpen || s == sEqual) { // "sc 3, inc, rep 6"
				p.pos++
				return t.num, More, 0, true
			}
			switch p.at(j).sym {
			case sTimes, sX:
				// "6 x sc": a number of stitches, not of repeats
				if p.at(j).sym == sX && (p.at(j+1).sym == sStitch || p.at(j+1).sym == sInc || p.at(j+1).sym == sDec) {
					break
				}
				if p.pos > start && p.multiplied(0) {
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
			if p.intoOne(1) { // "sc in next st, twice in the following st"
				break
			}
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
			if p.at(1).sym == sWith && p.at(2).sym == sNumber { // "continue around with 11 more sc"
				break
			}
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

// ended reports whether an instruction ends before the token at i: with the line,
// a stop, or a count.
func (p *parser) ended(i int) bool {
	if p.pos+i >= len(p.toks) {
		return true
	}
	switch p.at(i).sym {
	case sStop, sClose, sEqual, sTurn:
		return true
	case sDash:
		return !p.at(i).glued
	case sOpen:
		return p.countAhead(i)
	}
	return false
}

// oneBefore takes one time off a repeat, read from the token i on, whose first
// time stands before it: "sc 5, dec, (sc 5, dec) 5 more times".
func (p *parser) oneBefore(r *Repeat, before []Node, i int) {
	k := len(r.Body)
	if r.Times > 1 && len(before) >= k && p.mentions(i, sMore) && alike(before[len(before)-k:], r.Body) {
		r.Times--
	}
}

// multiplied reports whether "3 x 2 sc" stands at i: so many times what comes after.
func (p *parser) multiplied(i int) bool {
	return p.at(i).sym == sNumber && p.at(i+1).sym == sX && p.at(i+2).sym == sNumber && p.at(i+3).sym == sStitch
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
		case sSame: // "repeat the same all round"
			if p.at(1).sym == sAround {
				p.pos++
				continue
			}
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
