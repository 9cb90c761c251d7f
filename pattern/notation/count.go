package notation

import (
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
	"strings"
)

// count reads a declared count at the current token: "(18)", "[18 sts]",
// "= 18 sc", "- 18 sts", ". 18 sts.", "18 sts in total", "(12 dc, 12 ch-1 sp)".
// after is the sign before it: sOpen says that the current token is a bracket.
// before is what the instruction holds so far; without instructions a number of
// stitches is one.
func (p *parser) count(after sym, before []Node) bool {
	i := p.pos
	switch after {
	case sOpen:
		if !p.countAhead(0) {
			return false
		}
		d := p.counts(1)
		p.pos = i
		if d == nil {
			return false
		}
		p.skipBracket()
		d.At = source.Span(p.span(i))
		p.declare(d)
		return true
	case 0: // "30 sts" or "30 sc total" as an item of its own
		if len(before) == 0 || !p.bareCount(0, before) {
			return false
		}
	case sEqual, sHave:
		for p.peek().sym == sFill || p.peek().sym == sOpen || p.peek().sym == sColon || p.peek().sym == sTotal || p.peek().sym == sSt && p.at(1).sym != sNumber || p.peek().sym == sOf || p.peek().sym == sEqual || p.peek().sym == sAround {
			if p.end() {
				break
			}
			p.pos++
		}
		if p.peek().sym != sNumber || p.peek().decimal || p.timesAt(1) || strings.HasPrefix(p.toks[max(i-1, 0)].text, "end") && p.chainAt(1) {
			p.pos = i
			return false // "ending with 6 ch, 1 ss in first dc"
		}
	default:
		for p.peek().sym == sFill || p.peek().sym == sTotal && p.at(1).sym == sNumber || p.peek().sym == sDash {
			if p.end() {
				break
			}
			p.pos++
		}
		if len(before) == 0 || onlyYarn(before) || !p.bareCount(after, before) {
			p.pos = i
			return false
		}
	}
	from := p.pos
	d := p.counts(0)
	if d == nil || after == sEqual && len(before) == 0 && p.peek().sym == sIn { // "R1 = 6 sc in ring"
		p.pos = i
		return false
	}
	p.atEnd()
	for p.peek().sym == sTotal || p.peek().sym == sFill || p.peek().sym == sAround || p.peek().sym == sClose && after == sEqual && p.toks[max(i-1, 0)].sym != sOpen && p.depthAt(i) == 0 {
		if p.end() {
			break
		}
		p.pos++
	}
	d.At = source.Span(p.span(from))
	p.declare(d)
	return true
}

// chainAt reports whether chains or slip stitches are named i tokens on, and no
// space of them.
func (p *parser) chainAt(i int) bool {
	if p.at(i).sym == sDash {
		i++
	}
	s := p.at(i)
	_, k := p.spaceAheadAt(i)
	return s.sym == sStitch && s.val.stitch.Base <= stitch.Slip && s.val.stitch.Base != stitch.NoBase && k == 0
}

// countFirst reads a count that stands before the instruction: "Round 2 = 18 sts:
// (sc, inc) 6 times".
func (p *parser) countFirst() {
	if p.peek().sym == sNumber && p.at(1).sym == sSt && p.at(2).sym == sColon && p.pos+3 < len(p.toks) {
		p.count(sHave, nil)
		p.pos++
	}
}

// atEnd passes over "at end of rnd 3" after a count.
func (p *parser) atEnd() { p.pos += p.endPhrase(0) }

// endPhrase returns how many tokens "at end of rnd 3" takes from i on; 0 if it
// does not stand there.
func (p *parser) endPhrase(i int) int {
	j := p.past(i, sFill, sIn, sWord)
	if p.at(j).sym != sEnd && !(p.at(j).sym == sAround) {
		return 0
	}
	k := p.past(j+1, sOf, sFill, sLast)
	if !p.roundWord(k) {
		return 0
	}
	if k++; p.at(k).sym == sStop && p.at(k).glued && p.at(k+1).sym == sNumber {
		k++
	}
	if p.at(k).sym == sNumber {
		k++
	}
	return k - i
}

// depthAt returns how many brackets are open at the token i.
func (p *parser) depthAt(i int) int {
	d := 0
	for _, t := range p.toks[:i] {
		switch t.sym {
		case sOpen:
			d++
		case sClose:
			d--
		}
	}
	return d
}

// declare keeps a count; of several on one line the last is the round's.
func (p *parser) declare(d *Declared) { p.line.Declared = d }

// bareCount reports whether a number without brackets is a count: "30 sts" at
// the end of the line, and "30 sc" there after a stop or a dash.
func (p *parser) bareCount(after sym, before []Node) bool {
	t := p.peek()
	if t.sym != sNumber || t.decimal || t.ordinal {
		return false
	}
	if (after == sStop || after == sDash || after == sEqual) && p.countsToEnd() {
		return true
	}
	i := 1
	generic, named := false, false
	for ; ; i++ {
		if k := p.endPhrase(i); k > 0 && (generic || named) {
			i += k - 1
			continue
		}
		switch p.at(i).sym {
		case sSt:
			generic = true
			continue
		case sTotal, sSide:
			if n := p.at(i + 1).sym; p.at(i).text == "worked" && n == sFill { // "1 tr worked loosely"
				return false
			}
			return p.pos+i < len(p.toks)
		case sForm, sSpace, sLoop:
			named = true
			continue
		case sWord: // "14 bluebells."
			if p.pos+i == len(p.toks)-1 || p.at(i+1).sym == sStop && p.pos+i+2 >= len(p.toks) {
				return after == sStop && i == 1
			}
		case sStitch:
			if named || p.at(i).val.stitch == stitch.Ch && after != sStop {
				return false
			}
			named = true
			continue
		case sFill, sAround:
			if p.pos+i < len(p.toks) {
				continue
			}
		case sDash: // "-- 12 sts --"
			if p.pos+p.past(i, sDash) >= len(p.toks) && (generic || named) && p.pos+i < len(p.toks) {
				i = len(p.toks) - p.pos
			}
		}
		break
	}
	if p.pos+i < len(p.toks) && p.at(i).sym != sStop && p.at(i).sym != sClose && !(p.at(i).sym == sComma && (p.pos+i+1 >= len(p.toks) || p.at(i+1).sym == sCounts)) && !(p.at(i).sym == sOpen && (generic || named)) {
		return false
	}
	switch {
	case generic:
		return true
	case named && after == sStop && p.at(i).sym == sComma: // "Fifteen doubles, counting the chain."
		return p.at(i+1).sym == sCounts
	case named && p.at(i).sym == sOpen: // "12 pa (the 3 ch count as 1 dc)"
		return after == sStop && p.countsAsToEnd(i)
	case named:
		return after == sStop || after == sDash || after == sEqual || after == sColon || after == sComma && t.num > 3 && toTheEnd(before)
	}
	if after == 0 { // "6 x [sc, inc] 18"
		_, group := before[len(before)-1].(*Repeat)
		return group && i == 1
	}
	if after == sStop && p.line.Declared != nil {
		return false // "(24) Change to white in rnd. 7."
	}
	// a bare number: after a separator
	return after != 0 && after != sAnd && after != sPlus
}

// perhapsCount marks the last stitches of an instruction where they can be its
// count as well: "..., rep from * 5 times more, 18 dc".
func (p *parser) perhapsCount(nodes []Node) {
	if p.line.Declared != nil {
		return
	}
	for k := len(nodes) - 1; k > 0; k-- {
		switch n := nodes[k].(type) {
		case *Aside, *Turn, *Join:
			continue
		case *Work:
			if works(nodes[:k]) && n.Per == 1 && n.Target == (Target{}) && n.Stitch.Form == stitch.Plain && n.Stitch.Base > stitch.Slip && n.Places > 1 && p.saidLast(n.at) {
				n.Doubt |= Counted
			}
		}
		return
	}
}

// saidLast reports whether what stands at s is a number and a name after a comma,
// or after how often a group goes, and the end of its sentence.
func (p *parser) saidLast(s at) bool {
	for i, t := range p.toks {
		if t.from != s.From || i == 0 {
			continue
		}
		j := i + 2
		for s := p.toksAt(j).sym; j < len(p.toks) && (s == sIn || s == sFill || s == sRound || s == sTotal); s = p.toksAt(j).sym { // "18 sc in round"
			j++
		}
		end := p.toksAt(j)
		before := p.toks[i-1].sym
		return t.sym == sNumber && (before == sComma || before == sNumber || before == sTimes || before == sClose || before == sOnce) && p.toksAt(i+1).sym == sStitch && p.toks[i+1].to == s.To &&
			(end.sym == sStop || end.sym == sComma && (p.toksAt(j+1).sym == sJoin || p.toksAt(j+1).sym == sStitch))
	}
	return false
}

// maybeCount returns the stitches that perhapsCount has marked; nil if there are
// none.
func maybeCount(nodes []Node) *Work {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Doubt&Counted != 0 {
				return n
			}
		case *Repeat:
			if w := maybeCount(n.Body); w != nil {
				return w
			}
		}
	}
	return nil
}

// countsAt reports whether nothing but counts by kind follows from the token at i
// to the end.
func (p *parser) countsAt(i int) bool {
	save := p.pos
	defer func() { p.pos = save }()
	p.pos += i
	if p.countsToEnd() {
		return true
	}
	j := p.past(1, sStitch, sSt)
	return j > 1 && (p.pos+j >= len(p.toks) || p.at(j).sym == sStop && p.pos+j+1 >= len(p.toks))
}

// toTheEnd reports whether the last of nodes is worked to the end of the round.
func toTheEnd(nodes []Node) bool {
	switch n := nodes[len(nodes)-1].(type) {
	case *Work:
		return n.Places == ToEnd && n.Leave == 0
	case *In:
		return n.Places == ToEnd
	case *Repeat:
		return n.Times == ToEnd && n.Leave == 0 && n.Doubt&Bare == 0
	case *Evenly:
		return n.To == 0
	}
	return false
}

// countsToEnd reports whether what is left of the line is nothing but counts by
// kind: "16 dc, 16 ch-1 spaces".
func (p *parser) countsToEnd() bool {
	kinds := 0
	for i := 0; p.pos+i < len(p.toks); i++ {
		switch t := p.at(i); t.sym {
		case sNumber:
			if t.decimal || t.ordinal {
				return false
			}
			switch p.at(i + 1).sym {
			case sStitch, sSt, sForm, sSpace, sCorner, sLoop, sX:
				kinds++
			}
		case sStitch, sSt, sSpace, sForm, sLoop, sCorner, sDash, sTotal, sFill, sX:
		case sComma, sPlus, sAnd:
			if p.at(i+1).sym != sNumber && p.at(i+1).sym != sAnd {
				return false
			}
		case sStop:
			if p.pos+i+1 < len(p.toks) {
				return false
			}
		default:
			return false
		}
	}
	return kinds > 1
}

// countsAsToEnd reports whether all that is left from i tokens on is a bracket
// that says what the chain counts as.
func (p *parser) countsAsToEnd(i int) bool {
	said := false
	for ; p.pos+i < len(p.toks); i++ {
		switch p.at(i).sym {
		case sCounts:
			said = true
		case sClose:
			return said && p.pos+i >= len(p.toks)-2
		}
	}
	return false
}

// countAhead reports whether a bracket that holds a count stands i tokens on.
func (p *parser) countAhead(i int) bool {
	if p.at(i).sym != sOpen {
		return false
	}
	j := i + 1
	for p.at(j).sym == sFill || p.at(j).sym == sTotal || p.at(j).sym == sHave || p.at(j).sym == sEqual || p.at(j).sym == sSt && p.at(j+1).sym != sIn || p.at(j).sym == sColon || p.at(j).sym == sOf || p.at(j).sym == sDash {
		j++
	}
	if p.at(j).sym != sNumber || p.at(j).decimal || p.at(j).ordinal {
		return false
	}
	kinds, numbers := 0, 0
	seen := map[stitch.Stitch]bool{}
	for ; p.pos+j < len(p.toks); j++ {
		t := p.at(j)
		if k := p.endPhrase(j); k > 0 && numbers > 0 {
			j += k - 1
			continue
		}
		switch t.sym {
		case sNumber:
			numbers++
		case sStitch:
			kinds++
			if seen[t.val.stitch] && t.val.stitch != stitch.Ch && p.at(j-1).sym == sNumber {
				return false // "(3 tr, 2 ch, 3 tr)"
			}
			seen[t.val.stitch] = true
			if t.val.stitch == stitch.Ch && p.at(j+1).sym == sNumber && p.at(j+2).sym != sSpace && p.at(j+2).sym != sLoop {
				return false // "(2 dc, ch 2, 2 dc)"
			}
		case sCounts: // "(44 sts counting each ch of the handles)"
			for p.pos+j < len(p.toks) && p.at(j).sym != sClose {
				j++
			}
			return numbers == 1 && p.at(j).sym == sClose
		case sRound, sRow: // "(24 sts each round)"
			if p.at(j-1).sym != sEach && p.at(j-1).sym != sIn {
				return false
			}
		case sWord: // "(36 sts, 6 points)"
			if p.at(j-1).sym != sNumber || numbers < 2 {
				return false
			}
		case sSt, sTotal, sFill, sAround, sSpace, sLoop, sForm, sCorner, sEach, sSide, sInc, sDec, sHave:
			if t.sym == sForm {
				kinds++
			}
		case sComma, sPlus, sAnd, sStop, sDash, sEqual:
		case sClose:
			next := p.pos + j + 1
			save := p.pos
			p.pos = next
			_, _, _, times := p.times()
			p.pos = next
			follow := p.toksAt(next + p.past(0, sAll, sFill))
			p.pos = save
			if next >= len(p.toks) {
				times = false
			}
			if times && !(follow.sym == sOpen) {
				return false
			}
			if follow.sym == sIn || follow.sym == sSame || follow.sym == sCorner || follow.sym == sBetween {
				return false
			}
			if numbers == 1 && kinds == 0 {
				return true
			}
			// "(3 sc)" in the middle of a list is a group
			if p.toksAt(next).sym == sComma && p.beginsItem(next+1) || p.beginsItem(next) {
				return false
			}
			if incs := p.hasInc(i, j); incs && (p.line == nil || p.line.Declared == nil) {
				return false // "(2 sc, 1 inc)" at the end
			}
			return true
		default:
			return false
		}
	}
	return numbers == 1 // a bracket that the end of the line closes
}

func (p *parser) hasInc(i, j int) bool {
	for ; i < j; i++ {
		if s := p.at(i).sym; s == sInc || s == sDec {
			return true
		}
	}
	return false
}

func (p *parser) toksAt(i int) token {
	if i < len(p.toks) {
		return p.toks[i]
	}
	return token{sym: sStop}
}

// beginsItem reports whether an instruction begins at the token i.
func (p *parser) beginsItem(i int) bool {
	a, b := p.toksAt(i), p.toksAt(i+1)
	switch a.sym {
	case sStitch, sInc, sDec, sSkip, sStar, sForm:
		return true
	case sNumber:
		return b.sym == sStitch || b.sym == sInc || b.sym == sDec || b.sym == sForm
	case sOpen:
		return !p.countAhead(i-p.pos) && p.beginsItem(i+1)
	}
	return false
}

// counts reads "24 dc, 12 ch-1 sp" from the token skip places on, up to
// what is no count.
func (p *parser) counts(skip int) *Declared {
	p.pos += skip
	d := &Declared{Total: -1}
	sum, any := 0, false
	for !p.end() {
		t := p.peek()
		if k := p.endPhrase(0); k > 0 && any {
			p.pos += k
			continue
		}
		switch t.sym {
		case sFill, sTotal, sHave, sEqual, sColon, sOf, sAround:
			p.pos++
			continue
		case sSt:
			p.pos++
			continue
		case sComma, sPlus, sAnd, sDash:
			if p.at(1).sym == sNumber && !p.at(1).decimal || p.at(1).sym == sTotal {
				p.pos++
				continue
			}
		case sNumber:
			if t.decimal || t.ordinal {
				return nil
			}
			n := t.num
			p.pos++
			any = true
			if groupsOf[p.peek().text] && !p.end() { // "(12 groups, 36 dc)": no stitches
				p.pos++
				d.Groups = n
				if p.peek().sym == sOf && p.at(1).sym == sNumber && (p.at(2).sym == sStitch || p.at(2).sym == sSt) { // "4 groups of 3 dc"
					sum += n * min(p.at(1).num, maxNumber)
					p.pos += 3
				}
				continue
			}
			for p.peek().sym == sFill && !p.end() {
				p.pos++
			}
			if p.peek().sym == sX && p.numberedSpace(1) > 0 {
				p.pos++
			}
			if k := p.numberedSpace(0); k > 0 { // "12 1-ch spaces", "6 x 1ch-sp"
				d.Spaces, d.Chain = d.Spaces+n, p.peek().num
				p.pos += k
				continue
			}
			switch k := p.peek(); {
			case k.sym == sSpace || k.sym == sCorner || k.sym == sLoop:
				d.Spaces += n
				p.pos++
				continue
			case k.sym == sStitch && k.val.stitch == stitch.Ch:
				if chain, m := p.spaceAhead(); m > 0 {
					d.Spaces, d.Chain = d.Spaces+n, chain
					p.pos += m
					continue
				}
				p.pos++
				if p.peek().sym == sDash && p.at(1).sym == sNumber { // "12 ch-1"
					d.Spaces, d.Chain = d.Spaces+n, p.at(1).num
					p.pos += 2
					if p.peek().sym == sSpace || p.peek().sym == sLoop {
						p.pos++
					}
					continue
				}
				d.Kinds = append(d.Kinds, Count{N: n, Kind: stitch.Ch})
				continue
			case k.sym == sStitch:
				p.pos++
				if p.peek().sym == sNumber && p.at(1).sym == sTog {
					p.pos += 2
				} else if p.peek().sym == sForm || p.peek().sym == sInc || p.peek().sym == sDec {
					p.pos++
				}
				d.Kinds = append(d.Kinds, Count{N: n, Kind: k.val.stitch})
				sum += n
				continue
			case k.sym == sForm:
				p.pos++
				w, _, _ := p.form(k.val.form, stitch.Stitch{}, 0)
				if k.val.form == stitch.Shell {
					w.Stitch = stitch.Stitch{}
				}
				d.Kinds = append(d.Kinds, Count{N: n, Kind: w.Stitch})
				if k.val.form != stitch.Shell && k.val.form != stitch.Picot {
					sum += n // shells and picots are not counted in stitches
				}
				continue
			case k.sym == sInc || k.sym == sDec:
				p.pos++
				continue
			case k.sym == sWord && !p.end(): // points, bluebells: no stitches
				p.pos++
				continue
			}
			d.Total = n
			continue
		}
		break
	}
	if !any || d.Groups > 0 && d.Total < 0 && sum == 0 && d.Spaces == 0 {
		return nil
	}
	shells := false
	for _, k := range d.Kinds {
		shells = shells || k.Kind == stitch.Stitch{}
	}
	switch {
	case shells:
		d.Total = -1 // how many stitches a shell is, the count does not say
	case d.Total < 0 && sum > 0:
		d.Total = sum
	}
	if len(d.Kinds) < 2 && d.Spaces == 0 && !(len(d.Kinds) == 1 && d.Kinds[0].Kind == stitch.Ch) {
		d.Kinds = nil
	}
	return d
}

// skipBracket passes over a bracket and all that it holds.
func (p *parser) skipBracket() {
	depth := 0
	for ; !p.end(); p.pos++ {
		switch p.peek().sym {
		case sOpen:
			depth++
		case sClose:
			depth--
			if depth == 0 {
				p.pos++
				return
			}
		}
	}
}
