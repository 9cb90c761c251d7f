package notation

import (
	"slices"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// maxDepth is how deep brackets may be nested. Published rounds need 3.
const maxDepth = 40

const tooDeep = "brackets nested more than 40 deep"

// A parser reads the instruction of one line.
type parser struct {
	text      string
	toks      []token
	pos       int
	main      stitch.Base // the stitch that "inc" and "st" stand for
	line      *Line
	colours   map[string]bool   // keys that name a yarn, folded
	sep       sym               // the separator last passed; 0 at the start
	listed    bool              // the list being read holds stitches already
	around    bool              // the last item was followed by "around", said of its list
	rounds    int               // rounds that the instruction speaks of
	starred   bool              // a star is open round the bracket being read
	opening   bool              // nothing but chains was read so far
	branching bool              // a chain was read last
	group     place             // said of the last two items together
	apart     bool              // other pieces are named: "12 sc around leg 1"
	defs      map[string][]Node // stitches that the text explains: "shell", "beginning shell", "corner"
}

func (p *parser) peek() token {
	if p.pos < len(p.toks) {
		return p.toks[p.pos]
	}
	return token{sym: sStop, from: len(p.text), to: len(p.text)}
}

func (p *parser) at(i int) token {
	if p.pos+i < len(p.toks) && p.pos+i >= 0 {
		return p.toks[p.pos+i]
	}
	return token{sym: sStop}
}

func (p *parser) end() bool { return p.pos >= len(p.toks) }

// span returns the place from the token at i to the one before the current.
func (p *parser) span(i int) at {
	if i >= p.pos || i >= len(p.toks) {
		return at{}
	}
	return at{From: p.toks[i].from, To: p.toks[p.pos-1].to}
}

// unread says that the tokens from i to the current one were not understood.
func (p *parser) unread(i int, why string) {
	if s := source.Span(p.span(i)); !p.line.Unread.IsValid() && s.IsValid() {
		p.line.Unread, p.line.Why = s, why
	}
}

// body reads the whole instruction.
func (p *parser) body() {
	l := p.line
	p.apart = p.namesPieces()
	p.countFirst()
	p.heading()
	for !p.end() {
		before := p.pos
		l.Body = append(l.Body, p.seq(0)...)
		if !p.end() && p.peek().sym == sClose {
			p.pos++
			at := p.pos - 1
			if n, doubt, leave, ok := p.times(); ok && len(l.Body) > 0 { // a lost opening bracket
				l.Body = p.repeat(l.Body, 0, n, leave, doubt)
				continue
			}
			p.unread(at, "a closing bracket that was never opened")
		} else if p.pos == before {
			p.pos++
		}
	}
	l.Body = p.tidy(l.Body)
	p.perhapsCount(l.Body)
	l.Body = bare(l.Body, l.Chain)
	if d := l.Declared; d != nil && d.Total < 0 && len(d.Kinds) == 0 && d.Spaces > 0 && !chained(l.Body) {
		d.Total, d.Spaces = d.Spaces, 0 // "32 loops on the round", of stitches
	}
	if l.Rounds == 0 && (l.First < 0 || l.First == l.Last) {
		l.Rounds = p.rounds
	}
}

// heading passes over words before a colon that say nothing of stitches: "same
// again: ", "a round of dc: ", "working over the ring now: ".
func (p *parser) heading() {
	for j := 0; j < 12 && p.pos+j < len(p.toks); j++ {
		t := p.at(j)
		switch t.sym {
		case sColon:
			if j > 0 {
				l := p.line
				p.pos += j + 1
				l.Body = append(l.Body, &Aside{at: p.span(p.pos - j - 1), Text: p.text[p.toks[p.pos-j-1].from:p.toks[p.pos-1].to]})
			}
			return
		case sStitch:
			if j == 0 || p.at(j-1).sym != sOf {
				return
			}
		case sWord, sFill, sSame, sMore, sSide, sOf, sRound, sRow, sAs, sOver, sAnd, sComma, sSign, sRing, sBack, sFront, sTo, sBegin, sFound, sIn, sSpace, sBetween, sSt:
		default:
			return
		}
	}
}

// past returns how far on the first token is that means none of the syms.
func (p *parser) past(i int, syms ...sym) int {
	for p.pos+i < len(p.toks) && slices.Contains(syms, p.at(i).sym) {
		i++
	}
	return i
}

// mentions reports whether one of the tokens from i to the current one means s.
func (p *parser) mentions(i int, s sym) bool {
	for ; i < p.pos && i < len(p.toks); i++ {
		if p.toks[i].sym == s {
			return true
		}
	}
	return false
}

// raw returns the text of token i as written.
func (p *parser) raw(i int) string { return p.text[p.toks[i].from:p.toks[i].to] }

// clause passes over the tokens up to the next separator, bracket or start of
// another instruction.
func (p *parser) clause() {
	for p.pos++; !p.end(); p.pos++ {
		switch t := p.peek(); t.sym {
		case sStop, sComma, sClose, sOpen, sTurn, sEqual, sColon, sBar:
			return
		case sDash:
			// "ch-1" is one word; " - " ends the clause
			if !(t.glued && p.at(1).glued) {
				return
			}
		case sAnd:
			return
		case sStitch:
			// "join with sl st to first sc. " against "join, ch 1": the second needs its comma
			if t.val.stitch == stitch.Ch && p.at(-1).sym != sOf && p.at(-1).sym != sFirst && p.at(-1).sym != sNumber && p.at(-1).sym != sFill && p.at(-1).sym != sTop && p.at(-1).sym != sLast && p.at(-1).sym != sIn && p.at(-1).sym != sDash && p.at(-1).sym != sTo && p.at(-1).sym != sNext && p.at(-1).sym != sBegin {
				return
			}
		}
	}
}

// ring makes a chain that was just read, and a join, the ring at the start.
func (p *parser) ring(nodes []Node, i int) []Node {
	if len(nodes) > 0 {
		if w, ok := nodes[len(nodes)-1].(*Work); ok && w.Stitch == stitch.Ch {
			// the chain becomes the ring: taken out in tidy
			return []Node{&Start{at: at(source.Span(w.at).Join(source.Span(p.span(i)))), Kind: ChainRing, Chains: w.Places}}
		}
	}
	return []Node{&Start{at: p.span(i), Kind: ChainRing}}
}

// plainStitch is the stitch that the line is worked in.
func (p *parser) plainStitch() stitch.Stitch { return stitch.Stitch{Base: p.main} }
