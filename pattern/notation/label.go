package notation

import "roundelay/pattern/source"

// A label is the name that a written round begins with.
type label struct {
	first, last int // -1 if it has no number
	rounds      int // "(6 rounds)", "next 6 rounds"
	row         bool
	strong      bool // it says round or row; a bare number does not
	sep         bool // a colon, stop or dash follows it
	colour      string
	word        bool // a word that does not say round: "Foundation:"
	at          source.Span
}

// label reads the label at the current token. It reads nothing if there is
// none.
func (p *parser) label() (l label, ok bool) {
	start := p.pos
	l.first, l.last = -1, -1
	fail := func() (label, bool) { p.pos = start; return label{}, false }
	if p.peek().sym == sStep { // "Step 4: Round 3"
		p.pos++
		if p.peek().sym == sNumber {
			p.pos++
		}
		if p.peek().sym == sColon || p.peek().sym == sDash || p.peek().sym == sStop && !p.end() {
			p.pos++
		}
		if p.peek().sym != sRound && p.peek().sym != sRow {
			return fail()
		}
	}
	t := p.peek()
	switch {
	case p.roundWord(0):
		l.strong, l.row = true, t.sym == sRow
		p.pos++
		for p.peek().sym == sStop && p.peek().glued && !p.end() || (p.peek().sym == sColon || p.peek().sym == sDash || p.peek().sym == sSign || p.peek().sym == sStop) && p.at(1).sym == sNumber && !p.begins(2) {
			p.pos++
		}
		if _, _, ok := p.slashed(); p.peek().sym != sNumber || p.peek().decimal && !ok {
			return fail()
		}
		l.first, l.last, _ = p.numbers()
		p.ordinal()
	case t.sym == sOpen && p.at(1).sym == sNumber && !p.at(1).decimal && p.at(2).sym == sClose && p.beginsItem(p.pos+3): // "(2) 6 inc (12)"
		l.first, l.last, l.sep = p.at(1).num, p.at(1).num, true
		p.pos += 3
	case t.sym == sFill && (t.text == "for" || t.text == "work") && p.at(1).sym == sNumber && p.roundWord(2) && p.at(3).sym == sColon:
		l.strong = true
		l.rounds = p.at(1).num
		p.pos += 3
	case t.sym == sNumber && p.at(1).sym == sDash && p.at(1).glued && p.at(2).glued && p.at(2).sym == sIn: // 3-in-1
		return fail()
	case t.sym == sNumber && !t.decimal:
		i := 1
		for p.at(i).sym == sStop && p.at(i).glued || p.at(i).sym == sWord && ordinals[p.at(i).text] || p.at(i).sym == sSign && p.at(i).text == "º" || p.at(i).sym == sSt && p.at(i).glued {
			i++
		}
		switch {
		case p.roundWord(i) && !p.numberAfterRound(i): // 4th rnd, 4 row, 4. Rd
			l.strong, l.row = true, p.at(i).sym == sRow
			l.first, l.last = t.num, t.num
			p.pos += i + 1
			if s := p.peek().sym; (s == sDash || s == sTo) && p.at(1).sym == sNumber && p.at(1).num > l.last && p.roundWord(2) { // "8 row - 14 row"
				l.last = p.at(1).num
				p.pos += 3
			}
		default:
			l.first, l.last, _ = p.numbers()
			if p.roundWord(0) && l.last > l.first {
				l.strong = true
				p.pos++
			}
		}
	case (t.sym == sNext || t.sym == sLast || t.sym == sFinal || t.sym == sFirst) && p.at(1).sym == sNumber && p.roundWord(2):
		l.strong = true
		l.rounds = p.at(1).num
		p.pos += 3
	case (t.sym == sNext || t.sym == sLast || t.sym == sFinal || t.sym == sFound || t.sym == sFirst || t.sym == sCentre) && p.roundWord(1):
		l.strong = true
		p.pos += 2
		switch t.sym {
		case sFirst:
			l.first, l.last = 1, 1
		case sFound:
			l.first, l.last = 0, 0
		}
	case t.sym == sLast && p.at(1).text == "one" && (p.at(2).sym == sColon || p.at(2).sym == sDash && !p.at(2).glued): // "last one - sc, dec"
		l.strong = true
		p.pos += 2
	case (t.sym == sFound || t.sym == sCentre || t.sym == sBegin) && p.at(1).sym == sColon:
		l.strong, l.word = true, true
		if t.sym == sFound {
			l.first, l.last = 0, 0
		}
		p.pos++
	default:
		return fail()
	}
	l.at = source.Span(p.span(start))
	// what may stand between number and separator
	for !p.end() {
		t := p.peek()
		if t.text == ";" && !l.strong { // "2; repeat from * around" goes on from a line above
			break
		}
		if t.sym == sColon || t.sym == sStop || t.sym == sEqual || t.sym == sBar {
			l.sep = true
			p.pos++
			if t.sym == sStop && p.peek().sym == sColon {
				p.pos++
			}
			break
		}
		if t.sym == sComma && p.at(1).sym == sNumber && p.roundWord(2) && p.at(3).sym == sColon { // "Rounds 7 to 12, 6 rounds:"
			l.rounds = p.at(1).num
			p.pos += 3
			l.at = source.Span(p.span(start))
			continue
		}
		if t.sym == sComma && l.strong {
			l.sep = true
			p.pos++
			break
		}
		if t.sym == sDash || t.text == "·" {
			l.sep = true
			p.pos++
			break
		}
		if t.sym == sClose && t.text == ")" {
			l.sep = true
			p.pos++
			break
		}
		if t.sym == sSide || t.sym == sFill && (t.text == "incl" || t.text == "inclusive" || t.text == "onward" || t.text == "onwards") {
			p.pos++
			continue
		}
		if raw := p.raw(p.pos); len(raw) == 1 && raw >= "A" && raw <= "Z" && p.at(1).sym == sColon && t.sym != sNumber { // "R4 Y:"
			l.colour = raw
			p.pos++
			continue
		}
		if t.sym == sWith && p.at(1).sym == sColour && (p.at(2).sym == sColon || p.at(2).sym == sStop) {
			l.colour = p.raw(p.pos + 1)
			p.pos += 2
			continue
		}
		if t.sym == sOpen {
			if n, c, ok := p.labelAside(); ok {
				if n > 0 {
					l.rounds = n
				}
				if c != "" {
					l.colour = c
				}
				l.at = source.Span(p.span(start))
				continue
			}
		}
		if t.sym == sPlus && t.text == "/" && p.at(1).sym == sNumber && p.roundWord(2) { // "7-12 /6 rows/"
			l.rounds = p.at(1).num
			p.pos += 3
			if p.peek().text == "/" {
				p.pos++
			}
			continue
		}
		break
	}
	if l.sep && p.peek().sym == sFound && p.at(1).sym == sColon { // "1. Foundation: ch 4, join"
		l.word = true
		p.pos += 2
	}
	for p.peek().sym == sDash && l.sep && !p.end() { // "Rnd 4: - "
		p.pos++
	}
	if raw := p.text[p.peek().from:p.peek().to]; l.sep && l.colour == "" && len(raw) == 1 && raw >= "A" && raw <= "Z" && p.at(1).sym == sColon && !p.end() { // "1) C: 6 sc"
		l.colour = raw
		p.pos += 2
	}
	return l, true
}

// roundWord reports whether the token i on says round or row.
func (p *parser) roundWord(i int) bool {
	t := p.at(i)
	if t.sym == sRound || t.sym == sRow {
		return true
	}
	return (t.sym == sWord || t.sym == sColour) && t.text == "r" && p.pos+i < len(p.toks)
}

// numberAfterRound reports whether the round word i on has its own number after
// it, so that the number before is not its.
func (p *parser) numberAfterRound(i int) bool {
	n := p.at(i + 1)
	return n.sym == sNumber && !p.begins(i+2) && p.at(i+2).sym != sSt && (p.at(i+2).sym == sColon || p.at(i+2).sym == sStop && p.pos+i+2 < len(p.toks))
}

func (p *parser) ordinal() {
	for t := p.peek(); t.glued && (t.sym == sWord && ordinals[t.text] || t.sym == sSign && t.text == "º"); t = p.peek() {
		p.pos++
	}
}

// labelAside reads what stands in brackets after a label: "(6 rounds)",
// "(RS)", "(Color A)".
func (p *parser) labelAside() (rounds int, colour string, ok bool) {
	i := p.pos
	for j := 1; j < 8; j++ {
		switch t := p.at(j); t.sym {
		case sNumber:
			if p.roundWord(j + 1) {
				rounds = t.num
			} else if !(j > 1 && p.at(j-1).sym == sColour) {
				return 0, "", false
			} else {
				colour = p.raw(i + j)
			}
		case sColour:
			colour = p.raw(i + j)
			if n := p.at(j + 1); n.sym != sClose && n.sym != sStop && (t.text == "color" || t.text == "colour") && p.pos+j+1 < len(p.toks) {
				colour = p.raw(i + j + 1)
			}
		case sSide, sRound, sRow, sFill, sWith, sWord:
			if t.sym == sWord && p.colours[t.text] {
				colour = p.raw(i + j)
			}
		case sClose:
			if j == 1 {
				return 0, "", false
			}
			p.pos += j + 1
			return rounds, colour, true
		default:
			return 0, "", false
		}
	}
	return 0, "", false
}
