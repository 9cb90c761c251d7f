package notation

import (
	"roundelay/pattern/stitch"
	"slices"
	"strings"
)

// aside passes over words that are no instruction, to the end of their
// sentence, and keeps them. If they name stitches they were meant as one, and
// are unread.
func (p *parser) aside(nodes *[]Node) {
	i := p.pos
	stitches := false
	free := false // words that by themselves make a remark, stitch names and all
	for ; !p.end(); p.pos++ {
		t := p.peek()
		if t.sym == sStop || t.sym == sClose || t.sym == sOpen && p.countAhead(0) || t.sym == sEqual {
			break
		}
		if t.sym == sColon && p.pos > i && p.pos < i+4 && !stitches && !free && len(*nodes) == 0 && p.labelEnded(i) {
			break // "Handles: sc 7, ch 6"
		}
		if t.sym == sStar && p.pos > i && p.at(-1).sym == sDash { // "into the gaps between the groups - *3 dc ..."
			break
		}
		if t.sym == sColon && !stitches && (p.mentions(i, sOther) || !free && p.instructs(i)) {
			break // "down the other side: sc 6", "now divide for the legs: skip 16"
		}
		if t.sym == sDash && p.pos > i && p.at(1).sym == sNumber && p.countsAt(1) { // "Fasten off B—36 dc, 6 ch-2 sps."
			break
		}
		if t.sym == sOpen && p.pos > i {
			p.skipBracket()
			p.pos--
			continue
		}
		free = free || p.pos == i && t.text == "instead" // "ch 4 instead of ch 1"
		switch t.sym {
		case sFasten, sMark, sStuff, sCounts, sHook, sMeasure, sUntil:
			free = true
		case sStitch, sInc, sDec, sTog, sSkip, sRep, sForm:
			stitches = true
		}
		if t.sym == sStar && stitches && !free && p.inGroup() {
			break // the star that ends a group
		}
		if t.sym == sComma && (!free && !stitches && p.pos > i || p.toks[i].text == "instead") {
			break
		}
		if (t.sym == sComma || t.sym == sAnd) && free && (p.instructionAhead(1) || p.plainAhead(1)) {
			break
		}
		if t.sym == sAnd && !stitches && p.pos > i && (p.instructionAhead(p.past(1, sFill)) || p.at(1).sym == sStitch) {
			break
		}
	}
	if p.pos == i {
		return
	}
	p.countsAs(i)
	if stitches && !free || p.inGroup() && !free && p.unknownOnly(i) && !p.tint(i) {
		p.unread(i, "")
		return
	}
	if !free && p.peek().sym != sStar && (p.mentions(i, sCorner) || p.mentions(i, sSpace)) {
		p.line.Weak = true // "the corners as before"
	}
	if !free && len(*nodes) > 0 && i > 0 && p.unknownIn(i) {
		switch p.toks[i-1].sym {
		case sStitch, sSt, sNumber, sInc, sDec:
			p.line.Weak = true // "12 sc on leg 2": a place that is not known
		}
	}
	*nodes = append(*nodes, &Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]})
}

// instructs reports whether words from the token i up to a colon lead to an
// instruction, and do not remark on one.
func (p *parser) instructs(i int) bool {
	for _, t := range p.toks[i:p.pos] {
		if t.sym == sAs || t.sym == sNot || remarkWords[t.text] {
			return false
		}
	}
	return p.beginsItem(p.pos + 1)
}

// remarkWords begin a remark.
var remarkWords = map[string]bool{"note": true, "notes": true, "nb": true, "tip": true, "hint": true, "example": true, "eg": true, "e": true, "optional": true, "meaning": true, "means": true, "remember": true, "ie": true, "alternatively": true, "or": true}

// labelEnded reports whether a sign stands between the label of the line and the
// token i.
func (p *parser) labelEnded(i int) bool {
	from, to := p.line.LabelAt.To, p.toks[i].from
	return p.line.LabelAt.IsValid() && from < to && strings.ContainsAny(p.text[from:to], ":.-–—)|=")
}

// unknownIn reports whether one of the tokens from i to the current one is an
// unknown word.
func (p *parser) unknownIn(i int) bool {
	return slices.ContainsFunc(p.toks[i:p.pos], func(t token) bool { return t.sym == sWord })
}

// tint reports whether the words from i to the current one can be a colour: one
// word right after stitches, "3 dc crimson", or a number of one that was met so.
func (p *parser) tint(i int) bool {
	if p.pos != i+1 || p.toks[i].sym != sWord || i == 0 {
		return false
	}
	switch p.toks[i-1].sym {
	case sStitch, sSt, sInc, sDec, sNumber:
		return true
	}
	return false
}

// unknownOnly reports whether all tokens from i to the current one are unknown
// words: inside a group they stand for a stitch.
func (p *parser) unknownOnly(i int) bool {
	for _, t := range p.toks[i:p.pos] {
		if t.sym != sWord && t.sym != sNumber {
			return false
		}
	}
	return true
}

// instructionAhead reports whether what stands i tokens on begins an
// instruction: a number and a stitch, or a stitch and a number.
func (p *parser) instructionAhead(i int) bool {
	a, b := p.at(i), p.at(i+1)
	return a.sym == sNumber && (b.sym == sStitch || b.sym == sInc || b.sym == sDec) || a.sym == sStitch && b.sym == sNumber || a.sym == sInc || a.sym == sDec || a.sym == sStar || a.sym == sTurn
}

// plainAhead reports whether a stitch and no more stands i tokens on, to be worked
// all round: "until it is long enough, just sc".
func (p *parser) plainAhead(i int) bool {
	i = p.past(i, sFill)
	s := p.at(i)
	next := p.at(i + 1).sym
	return s.sym == sStitch && s.val.stitch.Base > stitch.Slip && (next == sStop || next == sOpen || next == sAround)
}

// countsAs notes "ch 3 counts as dc" and its denial.
func (p *parser) countsAs(i int) {
	for j := i; j < p.pos; j++ {
		if p.toks[j].sym != sCounts {
			continue
		}
		rule := ChainCounts
		if p.toks[j].num < 0 { // "does not count"
			rule = ChainNotCounted
		}
		for k := max(0, j-4); k < min(p.pos, j+3); k++ {
			if p.toks[k].sym == sNot {
				rule = ChainNotCounted
			}
		}
		p.line.Chain = rule
		for k := j + 1; k < min(p.pos, j+4); k++ {
			if b := p.toks[k].val.stitch.Base; p.toks[k].sym == sStitch && b > stitch.Slip && rule == ChainCounts {
				p.line.ChainAs = b
				break
			}
		}
	}
}
