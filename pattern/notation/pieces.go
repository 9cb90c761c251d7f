package notation

import (
	"strings"

	"roundelay/pattern/stitch"
)

// pieceWords are what makers call the parts of a toy that one round goes round
// together, such as its legs (common practice).
var pieceWords = map[string]bool{
	"leg": true, "foot": true, "ear": true, "arm": true, "horn": true, "hump": true, "wing": true, "fin": true, "claw": true, "paw": true,
	"boot": true, "shoe": true, "toe": true, "finger": true, "thumb": true, "lobe": true, "bump": true, "tube": true, "tentacle": true, "antler": true,
	"half": true, "piece": true, "flipper": true, "hoof": true, "thigh": true, "trouser": true,
}

// whichPiece are the words that tell pieces of one kind apart.
var whichPiece = map[string]bool{"other": true, "left": true, "right": true, "remaining": true}

// namesPieces reports whether a round is worked onto other pieces: "12 sc around
// leg 1".
func (p *parser) namesPieces() bool {
	led := false // a word stood there that leads to a place
	for _, t := range p.toks {
		switch t.sym {
		case sIn, sAround, sOf, sTo, sFrom:
			led = true
		case sComma, sStop, sOpen, sClose, sColon, sEqual:
			led = false
		default:
			if led = led || t.text == "along" || t.sym == sFill && t.text == "stitches"; led && pieceWords[t.text] {
				return true
			}
		}
	}
	return false
}

// pieceAhead returns how many tokens the name of another piece takes from the
// i-th on: "leg 1", "the second leg", "the other"; 0 if none stands there.
func (p *parser) pieceAhead(i int) int {
	if !p.apart {
		return 0
	}
	j, which := i, false
	for ; j < i+5; j++ {
		t := p.at(j)
		if t.sym != sFill && t.sym != sFirst && t.sym != sLast && !(t.sym == sNumber && t.ordinal) && !whichPiece[t.text] || pieceWords[t.text] {
			break
		}
		which = which || t.sym != sFill
	}
	if !pieceWords[p.at(j).text] {
		switch s := p.at(j).sym; {
		case which && (s == sComma || s == sStop || s == sOpen || s == sClose || s == sEqual): // "12 sc around the other"
			return j - i
		}
		return 0
	}
	if n := p.at(j + 1); n.sym == sNumber && !n.decimal && !p.begins(j+2) { // "leg 1"
		j++
	}
	return j + 1 - i
}

// alongChain reads "along the ch", "on the other side of the chain" after n
// stitches: the chains between two pieces, one by one.
func (p *parser) alongChain(n int) place {
	j, along := 0, false
	for ; j < 8; j++ {
		t := p.at(j)
		if t.sym == sIn || t.sym == sFill || t.sym == sOf || t.sym == sSide || t.sym == sAround || t.sym == sOver || t.sym == sOther {
			along = along || t.sym == sAround || t.sym == sOver || t.sym == sOther || alongWords[t.text]
			continue
		}
		break
	}
	of := 0
	if t := p.at(j); t.sym == sNumber && !t.ordinal && namesChain(p.at(j+1)) { // "other side of 3 ch"
		of, j = t.num, j+1
	}
	if _, space := p.spaceAheadAt(j); !along || !namesChain(p.at(j)) || space > 0 || !p.apart && n == 0 || p.at(j+1).sym == sFrom {
		return place{}
	}
	for j++; p.at(j).sym == sNumber && !p.begins(j+1) || p.at(j).sym == sDash && p.at(j).glued; j++ { // "across the ch 2"
		of = max(of, p.at(j).num)
	}
	p.pos += j
	return place{ok: true, n: of, target: Target{Where: Elsewhere, Kind: stitch.Ch}}
}

var alongWords = map[string]bool{"along": true, "down": true, "up": true, "on": true, "onto": true, "upon": true}

// joinsPiece reads "join to leg 1 with a sc in any st", "join the legs by", up to
// the instruction that follows. It returns the stitch that joins, if there is one.
func (p *parser) joinsPiece() []Node {
	if !p.apart {
		return nil
	}
	i, named := p.pos, false
	joins := stitch.Stitch{}
	for p.pos++; !p.end(); p.pos++ {
		t := p.peek()
		if t.sym == sComma || t.sym == sStop || t.sym == sColon || t.sym == sOpen || t.sym == sClose || t.sym == sAnd || t.sym == sNumber && !t.ordinal && p.begins(1) || t.sym == sStitch && t.val.stitch == stitch.Ch {
			break
		}
		if t.sym == sStitch && t.val.stitch.Base > stitch.Slip {
			joins = t.val.stitch
		}
		named = named || pieceWords[strings.TrimSuffix(t.text, "s")]
	}
	if !named {
		p.pos = i
		return nil
	}
	if joins.Base != stitch.NoBase {
		return []Node{&Work{at: p.span(i), Stitch: joins, Per: 1, Places: 1, Target: Target{Where: Elsewhere}}}
	}
	return []Node{&Aside{at: p.span(i), Text: p.text[p.toks[i].from:p.toks[p.pos-1].to]}}
}

// onPieces settles what is worked onto other pieces. Stitches into chains are
// into those between the pieces; chains that are worked into from one side only
// are stitches of the round on the other.
func onPieces(nodes []Node) {
	apart := false
	chains, into := 0, 0
	for _, n := range nodes {
		if w, ok := n.(*Work); ok {
			apart = apart || w.Target.Where == Elsewhere && w.Target.Kind != stitch.Ch
			if w.Stitch == stitch.Ch {
				chains = w.Places
			}
		}
	}
	for _, n := range nodes {
		w, ok := n.(*Work)
		switch {
		case !ok || w.Target.Kind != stitch.Ch || w.Target.Where != Elsewhere && w.Target.Where != Next:
		case !apart && w.Target.Where == Elsewhere:
			w.Target.Where = Next
		case apart:
			if w.Target.Where = Elsewhere; w.Places == 1 && w.Per > 1 {
				w.Per, w.Places = 1, w.Per
			}
			if w.Places == ToEnd && chains > 0 {
				w.Places = chains
			}
			into += max(w.Places, 0)
		}
	}
	for _, n := range nodes {
		if w, ok := n.(*Work); ok && apart && w.Stitch == stitch.Ch && w.Places > 1 && into < 2*w.Places {
			w.Doubt |= Mesh
		}
	}
}

// onRound reads that the round is worked on an earlier one: "in back loops of rnd
// 12:", "join white in the front loops of round 5,". It reports whether that stood
// there.
func (p *parser) onRound() bool {
	const most = 14 // words
	loops := false
	for j := 0; j < most; j++ {
		switch t := p.at(j); t.sym {
		case sBLO, sFLO, sLoop, sBack, sFront:
			loops = true
		case sIn, sFill, sJoin, sWith, sColour, sWord, sTo, sOf, sTotal, sStuff:
			if p.pos+j >= len(p.toks) {
				return false
			}
		case sRound, sRow:
			n := p.at(j + 1)
			switch s := p.at(j + 2).sym; {
			case !loops || n.sym != sNumber || n.ordinal || p.pos+j+2 >= len(p.toks) || s != sComma && s != sColon && s != sStop && s != sDash:
				return false
			case p.line.First >= 0 && n.num >= p.line.First:
				return false
			}
			p.line.Onto = n.num
			p.pos += j + 2
			return true
		default:
			return false
		}
	}
	return false
}

// ground reads a remark that says on what the rounds after it are worked: the
// loops of an earlier round, "join grey in the back loops of round 17", or
// stitches that were left, "rejoin yarn at the 8 skipped sts". It returns the
// number of that round, and how many stitches were left, -1 if it is unsaid.
func ground(toks []token) (onto, held int) {
	joins, loops, left := false, false, false
	number := -1
	for i, t := range toks {
		switch {
		case t.sym == sJoin && t.text != "close", t.sym == sStuff && t.text == "attach" && yarnAhead(toks[i+1:]), t.text == "rejoin", t.text == "rejoining", t.text == "reattach":
			joins = true
		case t.sym == sLoop, t.sym == sBLO, t.sym == sFLO:
			loops = loops || joins
		case t.sym == sSkip, t.sym == sRest, leftWords[t.text]:
			left = left || joins
			if i > 0 && left && toks[i-1].sym == sNumber {
				number = toks[i-1].num
			}
		case loops && (t.sym == sRound || t.sym == sRow) && i+1 < len(toks) && toks[i+1].sym == sNumber:
			return toks[i+1].num, 0
		case loops && t.sym == sNumber && i > 0 && (toks[i-1].sym == sOf || toks[i-1].sym == sFLO || toks[i-1].sym == sBLO) && (i+1 == len(toks) || toks[i+1].sym == sStop || toks[i+1].sym == sClose): // "the free loops of 20)"
			return t.num, 0
		case left && t.sym == sNumber && i+1 < len(toks) && toks[i+1].sym == sSt:
			number = t.num
		case left && t.sym == sSt:
			return 0, number
		}
	}
	return 0, 0
}

// yarnAhead reports whether a yarn is named at once: "attach the white yarn to".
func yarnAhead(toks []token) bool {
	for _, t := range toks[:min(len(toks), 4)] {
		if t.sym == sColour || t.text == "yarn" || t.text == "thread" || t.text == "cotton" || t.text == "wool" {
			return true
		}
	}
	return false
}

var leftWords = map[string]bool{"remaining": true, "rem": true, "left": true, "skipped": true, "unused": true, "held": true, "missed": true, "unworked": true}

// layers passes over the layers that a stitch goes through: "through both
// layers", "thru ear and head", "into both arm and body".
func (p *parser) layers() {
	j := p.past(0, sIn)
	if t := p.at(j); t.sym != sFill || t.text != "through" && t.text != "thru" && (t.text != "both" || j == 0) {
		return
	}
	words := 0
	for ; p.pos+j < len(p.toks); j++ {
		t := p.at(j)
		if t.sym == sAnd || t.sym == sPlus {
			if p.at(j+1).sym != sWord && p.at(j+1).sym != sFill {
				break
			}
			continue
		}
		if t.sym != sWord && t.sym != sFill && t.sym != sOf && t.sym != sSide && t.sym != sTog || t.text == "for" {
			break
		}
		words++
	}
	if words > 0 && p.at(j-1).sym != sIn {
		p.pos += j
	}
}

// held passes over how pieces are held to be joined: "hold both together and", "with
// wrong sides together,". It reports whether that stood there.
func (p *parser) held() bool {
	const most = 12 // words
	for j := 0; j < most; j++ {
		switch t := p.at(j); t.sym {
		case sTog:
			if j == 0 || p.at(j-1).sym == sNumber {
				return false
			}
			p.pos += j + 1
			return true
		case sNumber:
			if p.begins(j+1) || p.at(j+1).sym == sSt {
				return false
			}
		case sWord, sFill, sSide, sWith, sOf, sStuff, sAll, sOther:
		default:
			return false
		}
	}
	return false
}

// attached reads stitches that catch another piece as they are worked: "attach
// arm with next 3", "join the ear over the next 4 sts".
func (p *parser) attached() []Node {
	i, j, named := p.pos, 1, false
	for ; j < 7; j++ {
		t := p.at(j)
		if t.sym != sFill && t.sym != sWord && t.sym != sFirst && !(t.sym == sNumber && (t.ordinal || pieceWords[p.at(j-1).text])) {
			break
		}
		named = named || pieceWords[t.text]
	}
	if s := p.at(j).sym; !named || s != sWith && s != sIn && s != sOver {
		return nil
	}
	j = p.past(j+1, sFill, sNext, sIn, sPlus)
	n := p.at(j)
	if n.sym != sNumber || n.ordinal || n.decimal {
		return nil
	}
	w := &Work{Per: 1, Places: n.num}
	if j++; p.at(j).sym == sSt || p.at(j).sym == sStitch && p.at(j).val.stitch.Base > stitch.Slip {
		w.Stitch.Base = p.at(j).val.stitch.Base
		j++
	}
	if s := p.at(j).sym; s != sComma && s != sStop && s != sOpen && s != sClose && s != sEqual && s != sAnd {
		return nil
	}
	p.pos += j
	w.at = p.span(i)
	return []Node{w}
}
