package notation

import "roundelay/pattern/stitch"

// isRound reports whether what follows the label that p has read makes it the
// label of a round.
func (r *reader) isRound(p *parser, l label, first bool) bool {
	rest := p.toks[p.pos:]
	if len(rest) > maxTokens {
		rest = rest[:maxTokens]
	}
	works, words, asked := false, 0, false
	for i, t := range rest {
		switch t.sym {
		case sSign:
			asked = asked || t.text == "?"
		case sStitch, sInc, sDec, sEven, sTog, sForm, sMagic, sDouble, sAround:
			works = true
		case sColour: // "10 LG, 10 W, 10 LG"
			works = works || i > 0 && rest[i-1].sym == sNumber && i+1 < len(rest) && rest[i+1].sym == sComma
		case sSt:
			works = works || l.strong || t.text == "plain"
		case sRep, sAs:
			works = works || i+1 < len(rest)
		case sSame: // "2. The same, with beads"
			works = works || i <= 1 && i+1 < len(rest) && (rest[i+1].sym == sComma || rest[i+1].sym == sStop || rest[i+1].sym == sEqual)
		case sWord, sMeasure:
			words++
		}
	}
	switch {
	case l.strong && l.sep:
		return works || len(rest) == 0 || r.opt.Strict || words == 0
	case l.strong:
		return len(rest) == 0 || works && (rest[0].sym != sWord || r.opt.Strict) || onlyCount(rest)
	case !l.sep:
		return false
	}
	// a bare number: the instruction has to begin at once
	if last := r.lastNumber(); last > 0 && l.first == last+1 && bareCountOnly(rest) {
		return true // "6-8. 24"
	}
	if !works || len(rest) == 0 {
		return false
	}
	switch rest[0].sym {
	case sWord, sMeasure, sSide, sRound, sRow:
		if s := p.toks[p.pos-1].sym; s != sColon && s != sBar && !(r.goesOnFrom(l) && p.named()) {
			return false
		}
	}
	if asked {
		return false
	}
	if p.toks[p.pos-1].sym == sBar && words*2 <= len(rest) {
		return true // the cells of a table
	}
	if rest[0].sym == sAs && l.last > l.first {
		return true // "1-4: same as small bowl"
	}
	if words*4 <= len(rest) {
		return true
	}
	// what stands after the first sentence may be a remark
	end, stitches, words := 0, 0, 0
	for ; end < len(rest) && rest[end].sym != sStop; end++ {
		switch rest[end].sym {
		case sWord, sMeasure:
			words++
		case sEven, sTog, sAround, sInc, sDec, sStitch:
			stitches++
		}
	}
	return stitches > 0 && words == 0 && end < len(rest) && p.toks[p.pos-1].sym != sFill
}

// goesOnFrom reports whether the label goes on, soon after the round before.
func (r *reader) goesOnFrom(l label) bool {
	if len(r.open) > 0 {
		before, ok := r.parser(r.open).label()
		return ok && before.last > 0 && l.first > before.last && l.first <= before.last+20
	}
	return r.last != nil && r.last.Last > 0 && l.first > r.last.Last && l.first <= r.last.Last+20
}

// named reports whether a word or two and a colon stand before the instruction:
// "Handles: 7 sc, ch 6".
func (p *parser) named() bool {
	k := p.past(0, sWord, sFill, sColour)
	return k <= 3 && (p.at(k).sym == sColon || p.at(k).sym == sStop) && (p.beginsItem(p.pos+k+1) || p.at(k+1).sym == sStar)
}

// bareCountOnly reports whether toks are nothing but a number of stitches, and
// the loop that they are worked into perhaps.
func bareCountOnly(toks []token) bool {
	if len(toks) > 0 && (toks[0].sym == sBLO || toks[0].sym == sFLO) {
		toks = toks[1:]
	}
	if n := len(toks); n == 2 && toks[1].sym == sStop {
		toks = toks[:1]
	}
	return len(toks) == 1 && toks[0].sym == sNumber && !toks[0].decimal && !toks[0].ordinal
}

func onlyCount(toks []token) bool {
	return len(toks) > 0 && toks[0].sym == sOpen
}

// nextLabel returns where the next label on the same line begins, or the end of
// the line.
func (r *reader) nextLabel(toks []token, from int, l label, first bool) int {
	for i := from + 1; i < len(toks); i++ {
		if !first && toks[i].capital && toks[i-1].sym == sStop && leadsOn(toks[i:]) && r.tellsOf(toks[i:i+sentence(toks[i:])]) {
			return i // a round that is told in a sentence
		}
		if !l.strong && l.sep && l.first > 0 && r.bareLabel(toks, i, max(l.last, l.first)+1) {
			return i
		}
		if s := toks[i-1].sym; s != sStop && s != sClose && s != sComma && s != sBar && s != sNumber && s != sSt && s != sStitch && !toks[i-1].stopped {
			continue
		}
		p := r.parser(toks[i:])
		next, ok := p.label()
		if ok && next.strong && next.sep && (next.first == max(l.last, l.first)+1 || r.namesNext(toks[i-1], next) || r.skipsOn(toks[:i], p, next, l)) && r.isRound(p, next, false) {
			return i
		}
	}
	return len(toks)
}

// bareLabel reports whether the token i is a label without a word, of the round
// want, inside a line: "1. 4 sc in ring 2. 4 sc 3. (sc, inc) x 2".
func (r *reader) bareLabel(toks []token, i, want int) bool {
	t := toks[i]
	if t.sym != sNumber || t.num != want || t.ordinal || t.decimal || t.glued || i == 0 || i+2 >= len(toks) || !toks[i+1].glued {
		return false
	}
	end := i + 1
	if toks[end].sym == sDash && toks[end+1].sym == sNumber && i+4 < len(toks) { // "3-4."
		end += 2
	}
	if toks[end].text != "." || !toks[end].glued || toks[end+1].glued {
		return false
	}
	before := token{}
	if i > 1 {
		before = toks[i-2]
	}
	switch toks[i-1].sym {
	case sStop, sClose, sComma, sRing, sMagic, sSt, sTimes, sAround, sColour, sEven:
	case sStitch, sInc, sDec: // "4 sc 3." but not "inc 6."
		if before.sym != sNumber {
			return false
		}
	case sNumber: // "x6 4."
		if before.sym != sX && before.sym != sStar {
			return false
		}
	default:
		return false
	}
	p := r.parser(toks[i:])
	l, ok := p.label()
	return ok && l.sep && l.first == want && r.isRound(p, l, false)
}

// skipsOn reports whether a label with a colon, right after the count of the round
// before, leaves a number out or says one again: "... (24) Rnd 14: ..." after 12.
func (r *reader) skipsOn(before []token, p *parser, next, l label) bool {
	n := len(before)
	end := before[n-1].sym
	if end == sStop && n > 1 {
		end = before[n-2].sym
	}
	return l.first > 0 && next.first >= l.first && next.first <= max(l.last, l.first)+3 && p.toks[p.pos-1].sym == sColon &&
		(end == sClose || end == sNumber || end == sSt)
}

// goesOn reports whether a line without a label goes on from the round that is
// open.
func (r *reader) goesOn(toks []token) bool {
	if len(r.open) == 0 || len(r.open) > maxTokens {
		return false
	}
	depth, body := 0, 0
	p := r.parser(r.open)
	l, labelled := p.label()
	labelled = labelled && (l.strong || l.sep)
	if body = len(r.open); labelled {
		body -= p.pos
	}
	for _, t := range r.open {
		switch t.sym {
		case sOpen:
			depth++
		case sClose:
			depth--
		}
	}
	works, words, counts := weigh(toks)
	last := r.open[len(r.open)-1].sym
	if r.blank && body > 0 || body > 0 && last != sComma && depth == 0 && goesOnWith(toks) {
		return false
	}
	switch {
	case body == 0:
		return works > 0 || counts || toks[0].sym == sAs
	case depth > 0, last == sComma, last == sAnd, last == sIn, last == sNext, last == sDash, last == sPlus, last == sFrom, last == sEach, last == sSame, last == sCounts,
		last == sNumber && r.open[len(r.open)-1].num < 20 && body > 2 && (r.open[len(r.open)-2].sym == sComma || r.open[len(r.open)-2].sym == sAnd) && toks[0].sym == sStitch:
		return works+len(toks)-words > 0 && (words <= works+2 || depth > 0)
	case toks[0].sym == sOpen && r.parser(toks).countAhead(0):
		return true
	case counts && works == 0 && words == 0:
		return true
	}
	if !labelled {
		return false // without labels each line is a round of its own
	}
	lead := decoration(toks)
	if r.list && lead > 0 {
		return works > 0 && words <= works
	}
	if lead > 0 && toks[0].sym != sStar || r.declared() {
		return false
	}
	return works > 0 && words == 0
}

// goesOnWith reports whether a line says to go on with a yarn, and nothing else:
// "Continue in black".
func goesOnWith(toks []token) bool {
	if toks[0].sym != sRep || len(toks) < 3 || toks[1].sym != sIn && toks[1].sym != sWith {
		return false
	}
	for _, t := range toks[2:] {
		switch t.sym {
		case sColour, sFill, sWord, sStop, sOnly, sFrom:
		default:
			return false
		}
	}
	return true
}

// declared reports whether the open round has its count.
func (r *reader) declared() bool {
	l := &Line{}
	p := r.parser(append([]token(nil), r.open...))
	p.line = l
	p.label()
	p.body()
	return l.Declared != nil
}

// weigh counts the tokens of a line that belong to instructions and the words
// that belong to none; counts says that it begins with a count.
func weigh(toks []token) (works, words int, counts bool) {
	for _, t := range toks {
		switch t.sym {
		case sStitch, sInc, sDec, sTog, sEven, sForm, sMagic, sDouble, sRep, sTimes, sX, sSkip, sJoin, sTurn, sAround, sOnce, sEach, sBLO, sFLO:
			works++
		case sWord, sMeasure, sStuff, sFasten:
			words++
		}
	}
	if len(toks) > 0 {
		switch toks[0].sym {
		case sOpen, sEqual, sNumber, sHave:
			counts = len(toks) <= 6
		}
	}
	return works, words, counts
}

// opener returns the token at which a line without a label begins a piece, at
// its first sentence or a later one: "Leave a long tail. Ch 22. Join with a sl st
// to make a circle." It is -1 if none does.
func opener(toks []token) int {
	if opens(toks) {
		return 0
	}
	for i := 1; i+1 < len(toks); i++ {
		if toks[i-1].sym == sStop && toks[i].sym == sStitch && toks[i].val.stitch == stitch.Ch && toks[i+1].sym == sNumber && opens(toks[i:]) {
			return i
		}
	}
	return -1
}

// opens reports whether a line without a label begins a piece: a magic ring, a
// chain joined to a ring, a foundation chain.
func opens(toks []token) bool {
	works, words, _ := weigh(toks)
	if works == 0 || words > 14 {
		return false
	}
	magic, chain, ring, join, number, counts, other := false, false, false, false, false, false, false
	lead := 0 // words that say with what it is begun, and where
	for i, t := range toks {
		switch t.sym {
		case sFill, sWith, sColour, sComma, sBegin, sIn, sCentre, sHave:
			lead++
		case sMeasure:
			return false // "(keyring) 4 cm"
		case sMagic:
			magic = true
		case sRing:
			ring = true
		case sCounts:
			counts = true // "the 2 chains at the beginning do not count"
		case sJoin:
			join = true
		case sNumber:
			number = true
		case sStitch:
			if t.val.stitch == stitch.Ch {
				if i-lead <= 1 || i <= 3 {
					chain = true
				}
			} else if t.val.stitch != stitch.SlSt {
				other = true
			}
		case sInc, sDec, sForm:
			other = true
		}
	}
	if other || counts && !ring && !magic {
		return false
	}
	if words > min(works+3, 6) {
		return chain && number && ring && join // "chain 30, being careful not to twist, join in a ring"
	}
	return magic && words <= 3 || chain && number && (ring || words <= 2)
}

// unlabelled reports whether a line without a label is a round all the same: it
// is an instruction and nothing else, and goes round or says its count.
func (r *reader) unlabelled(toks []token) bool {
	works, words, _ := weigh(toks)
	if r.opt.Strict {
		return true
	}
	if len(toks) > maxTokens || works < 1 || words > 0 || r.last == nil && len(r.open) == 0 && len(r.start) == 0 && !beginsPiece(toks) {
		return false
	}
	if len(toks) > 1 && toks[0].sym == sForm && toks[1].sym == sColon {
		return false // how a stitch is made
	}
	l := &Line{First: -1, Last: -1}
	p := r.parser(append([]token(nil), toks...))
	p.line = l
	p.body()
	if l.Unread.IsValid() {
		return false
	}
	if l.Rounds == 0 {
		l.Rounds = roundsIn(toks)
	}
	for _, n := range l.Body {
		switch n := n.(type) {
		case *SameAs:
			return true
		case *Evenly:
			return l.Declared != nil || l.Rounds > 0
		case *Work:
			if l.Declared != nil || n.Places == ToEnd && n.Stitch != stitch.SlSt || n.Target.Where == Ring || n.Target.Where == FromHook {
				return true
			}
		case *Start:
			return hasWork(l.Body)
		case *Repeat:
			if l.Declared != nil || n.Times == ToEnd && n.Doubt&Bare == 0 {
				return true
			}
		case *In:
			return l.Declared != nil
		}
	}
	return false
}

// perhaps reports whether a sentence could be a round: it works stitches and
// says a count. Whether it is one, the counts decide.
func (r *reader) perhaps(toks []token) bool {
	works, words, _ := weigh(toks)
	if r.opt.Strict || works < 1 || words > 2*works+6 || len(toks) > 80 || r.last == nil && !beginsPiece(toks) {
		return false
	}
	l := &Line{First: -1, Last: -1}
	p := r.parser(append([]token(nil), toks...))
	p.line = l
	p.body()
	if l.Unread.IsValid() || l.Declared == nil && roundsIn(toks) == 0 && !beginsPiece(toks) {
		return false
	}
	for _, t := range toks {
		if t.sym == sEqual {
			return false // "inc = 2 sc in one st"
		}
	}
	begins := l.Declared == nil && roundsIn(toks) == 0 || r.last == nil
	for _, n := range l.Body {
		if begins {
			if w, ok := n.(*Work); ok && w.Places >= 4 && (w.Target.Where == Ring || w.Target.Where == FromHook) {
				return true
			}
			continue
		}
		switch n := n.(type) {
		case *Evenly, *Repeat, *In, *SameAs:
			return true
		case *Work:
			if n.Stitch != stitch.Ch && n.Stitch != stitch.SlSt {
				return true
			}
		}
	}
	return false
}

// beginsPiece reports whether a line works into a ring or into a chain from the
// hook.
func beginsPiece(toks []token) bool {
	for _, t := range toks {
		if t.sym == sMagic || t.sym == sRing || t.sym == sHook {
			return true
		}
	}
	return false
}

// roundsIn reads "for 6 rounds" out of an instruction.
func roundsIn(toks []token) int {
	for i := 1; i+1 < len(toks); i++ {
		if toks[i].sym == sNumber && !toks[i].decimal && !toks[i].ordinal && (toks[i+1].sym == sRound || toks[i+1].sym == sRow) && toks[i-1].sym != sRound {
			return toks[i].num
		}
	}
	return 0
}
