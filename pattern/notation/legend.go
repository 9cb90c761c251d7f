package notation

import (
	"unicode/utf8"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// A legend is what a text says of its own abbreviations.
type legend struct {
	means map[string]phrase // by the letters as written: one text may use v and V
	at    []source.Span     // where it is said, in order
}

// legend gathers the abbreviations that a text explains, as "v = vareta" or
// "pb - punto bajo". A sign of equality can change what l knows; a dash or a
// colon only where nothing else is said: "п – прибавка, у – убавка".
func (l *language) legend(text string, toks []token) legend {
	var g legend
	for i := 0; i+1 < len(toks); i++ {
		t := toks[i]
		if t.sym != sWord || i > 0 && toks[i-1].line == t.line && toks[i-1].sym == sNumber {
			continue
		}
		j := i + 1
		if toks[j].sym == sStop && toks[j].glued && j+1 < len(toks) {
			j++
		}
		said := toks[j].sym == sEqual
		hyphen := toks[j].sym == sDash && toks[j].glued && j+1 < len(toks) && toks[j+1].glued
		sign := said || toks[j].sym == sDash && !hyphen || toks[j].sym == sColon
		if sign {
			j++
		}
		if j >= len(toks) || toks[j].line != t.line || toks[j].sym != sWord && !(sign && toks[j].sym == sNumber) {
			continue
		}
		if l.partOfWords(toks, i) {
			continue // "h. St. = halbes Stäbchen" says nothing of St.
		}
		p, n := phrase{}, 0
		if sign {
			p, n = l.shaping(toks, j)
		}
		if n == 0 && toks[j].sym == sWord {
			p, n = l.match(toks, j)
		}
		if n == 0 || toks[j+n-1].to-toks[j].from <= t.to-t.from {
			continue
		}
		switch p.sym {
		case sStitch, sInc, sDec, sSt, sMagic:
		case sForm, sRound, sRow, sRep, sTog, sSpace:
			if !sign {
				continue
			}
		default:
			continue
		}
		short := utf8.RuneCountInString(t.text) <= 5
		if !sign && !short {
			continue
		}
		own := phrase{sym: l.meaning(t.text)}
		if own.sym != sWord {
			list := l.phrases[t.text]
			own = list[len(list)-1]
		}
		same := own.sym == p.sym && own.val.stitch.Base == p.val.stitch.Base || own.sym == sDec && p.sym == sDec ||
			(own.sym == sInc || own.sym == sDec) && p.sym != sInc && p.sym != sDec // how it is worked, not another meaning
		said = said || sign && listed(toks, i, j+n)
		if !same && !said {
			continue
		}
		if !same && short && p.sym != sRound && p.sym != sRow && p.sym != sRep {
			if g.means == nil {
				g.means = make(map[string]phrase)
			}
			g.means[text[t.from:t.to]] = p
		}
		g.at = append(g.at, source.Span{From: t.from, To: toks[j+n-1].to})
		i = j + n - 1
	}
	return g
}

// partOfWords reports whether the word i is the end of several that mean
// something together.
func (l *language) partOfWords(toks []token, i int) bool {
	for k := i - 1; k >= 0 && k >= i-4 && toks[k].line == toks[i].line; k-- {
		switch toks[k].sym {
		case sStop, sDash:
			continue
		case sWord:
			if p, n := l.match(toks, k); n > 1 && k+n > i && len(p.rest) > 0 {
				return true
			}
		default:
			return false
		}
	}
	return false
}

// listed reports whether the tokens from i up to end are all that is said
// between the start of a line, or a comma, and the next comma, or the end of the
// line.
func listed(toks []token, i, end int) bool {
	apart := func(k int) bool {
		if k < 0 || k >= len(toks) || toks[k].line != toks[i].line {
			return true
		}
		switch toks[k].sym {
		case sComma, sOpen, sClose:
			return true
		case sStop:
			return k > i || toks[k].text == ";" || k == 0 || !toks[k].glued
		}
		return false
	}
	return apart(i-1) && apart(end)
}

// shaping reads how an increase or a decrease is worked from the token i on: "2
// M zusammenhäkeln", "2 fm i samma m", "dos puntos tejidos juntos", "1 M
// verdoppeln". It returns how many tokens it takes, 0 for none.
func (l *language) shaping(toks []token, i int) (phrase, int) {
	const most = 10 // tokens
	var syms []sym
	number, j := 0, i
	var kind stitch.Stitch
	for j < len(toks) && j-i < most && toks[j].line == toks[i].line {
		if t := toks[j]; t.sym == sNumber {
			if t.decimal || t.ordinal {
				return phrase{}, 0
			}
			if len(syms) == 0 {
				number = t.num
			}
			syms = append(syms, sNumber)
			j++
			continue
		} else if t.sym != sWord {
			break
		}
		p, n := l.match(toks, j)
		if n == 0 {
			return phrase{}, 0
		}
		switch p.sym {
		case sFill, sOf:
		case sNumber:
			if len(syms) == 0 {
				number = p.num
			}
			syms = append(syms, sNumber)
		case sStitch:
			kind = p.val.stitch
			syms = append(syms, sSt)
		case sSame, sFirst, sNext: // "in the same st" is in one
			if len(syms) == 0 || syms[len(syms)-1] != sNumber {
				syms = append(syms, sNumber)
			}
		default:
			syms = append(syms, p.sym)
		}
		j += n
	}
	is := func(want ...sym) bool {
		if len(want) != len(syms) {
			return false
		}
		for k, s := range want {
			if syms[k] != s {
				return false
			}
		}
		return true
	}
	switch {
	case is(sNumber, sSt, sTog), is(sTog, sNumber, sSt), is(sNumber, sTog), is(sSt, sTog):
		if is(sTog, sNumber, sSt) || is(sSt, sTog) {
			number = 2
		}
		if number < 2 || number > stitch.MaxTogether {
			return phrase{}, 0
		}
		return phrase{sym: sDec, val: st(stitch.Stitch{Base: kind.Base, Form: stitch.Together, N: uint8(number)})}, j - i
	case is(sDouble), is(sSt, sDouble), is(sNumber, sSt, sDouble) && number == 1,
		number == 2 && (is(sNumber, sSt, sIn, sNumber, sSt) || is(sNumber, sSt, sIn, sNumber) || is(sNumber, sIn, sNumber, sSt) || is(sNumber, sSt, sIn, sSt)):
		return phrase{sym: sInc}, j - i
	}
	return phrase{}, 0
}
