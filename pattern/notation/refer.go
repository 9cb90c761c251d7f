package notation

import (
	"strconv"
	"strings"
)

// asPiece reads "as for the shell", "same as leg 1": words that name another
// piece.
func (p *parser) asPiece() Node {
	i := p.pos
	var words []string
	for p.pos++; !p.end(); p.pos++ {
		switch t := p.peek(); {
		case t.sym == sFill, t.sym == sSide, t.sym == sOf, t.sym == sTo, givenWords[t.text]:
			continue
		}
		switch t := p.peek(); t.sym {
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

// givenWords stand between "as" and the name of a piece: "as given for the shell".
var givenWords = map[string]bool{"given": true, "worked": true, "made": true, "described": true, "done": true, "directed": true, "instructions": true, "directions": true}

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
		s.Between, s.Further, _ = p.between()
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
	if p.peek().sym == sOf && s.First == p.line.First && s.Last == p.line.Last { // "rep rounds 1-3 of basket"
		if n := p.asPiece(); n != nil {
			return n
		}
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
	if n, further, ok := p.between(); ok {
		s.Between, s.Further = n, further
		s.at = p.span(i)
		return s
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

// between reads how many plain stitches stand between the increases or decreases
// of a round that is else like another: "but with 3 dc between increases", "with 1
// more sc between incs". It reports false if no such words stand here.
func (p *parser) between() (n int, further, ok bool) {
	j := p.past(0, sComma, sWith, sHave, sFill, sAnd, sOnly, sWord)
	t := p.at(j)
	if j > 6 || t.sym != sNumber || t.decimal || t.ordinal || t.num == 0 {
		return 0, false, false
	}
	n = min(t.num, maxNumber)
	for j++; p.at(j).sym == sMore || p.at(j).sym == sStitch || p.at(j).sym == sSt || fewer[p.at(j).text]; j++ {
		further = further || p.at(j).sym == sMore || fewer[p.at(j).text]
		if fewer[p.at(j).text] {
			n = -n
		}
	}
	if s := p.at(j).sym; s != sBetween && !(p.at(j).text == "before" && further) {
		return 0, false, false
	}
	j = p.past(j+1, sFill, sEach, sOther)
	if s := p.at(j).sym; s != sInc && s != sDec {
		return 0, false, false
	}
	p.pos += j + 1
	return n, further, true
}

// fewer are the words for fewer stitches between others.
var fewer = map[string]bool{"less": true, "fewer": true}

// respaced returns a round with another number of plain stitches between its
// increases or decreases, or with so many more; nil if it has no such group.
func respaced(body []Node, between int, further bool) []Node {
	out, found := clone(body), false
	for k, n := range out {
		r, ok := n.(*Repeat)
		if !ok || len(r.Body) != 2 {
			continue
		}
		for i, n := range r.Body {
			plain, ok := n.(*Work)
			if !ok || plain.Per != 1 || plain.Places < 1 || plain.Stitch.IsDecrease() || !shaping(r.Body[1-i]) {
				continue
			}
			group, run := *r, *plain
			if run.Places = between; further {
				run.Places = plain.Places + between
			}
			if run.Places < 1 {
				return nil
			}
			group.Body = clone(r.Body)
			group.Body[i], out[k], found = &run, &group, true
		}
	}
	if !found {
		return nil
	}
	return out
}

// shaping reports whether a node is one increase or decrease.
func shaping(n Node) bool {
	w, ok := n.(*Work)
	return ok && w.Places == 1 && (w.Per > 1 || w.Stitch.IsDecrease())
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
	if a, b, ok := p.slashed(); ok {
		p.pos++
		return a, b, true
	}
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

// slashed returns the numbers of rounds that "6/7" names, which are one after the
// other.
func (p *parser) slashed() (first, last int, ok bool) {
	t := p.peek()
	if t.sym != sNumber || !t.decimal {
		return 0, 0, false
	}
	_, end, ok := strings.Cut(p.raw(p.pos), "/")
	if !ok {
		return 0, 0, false
	}
	last, to := number(end, 0)
	return t.num, last, to == len(end) && last == t.num+1
}
