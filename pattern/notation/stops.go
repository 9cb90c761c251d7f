package notation

import (
	"unicode"
	"unicode/utf8"

	"roundelay/pattern/stitch"
)

// withoutStops takes out the stops of abbreviations: "Ch. 3, 1 dc. in next st."
// says no more than "Ch 3, 1 dc in next st." A stop ends a sentence where a
// capital or a number follows, except that the number of "Ch. 3" and "Sk. 2"
// comes after.
func withoutStops(text string, toks []token) []token {
	out := toks[:0]
	for i, t := range toks {
		if t.sym == sInc && t.text == "add" { // "(1 sc, add) x 6", but "add eyes"
			switch before := toks[max(i-1, 0)]; before.sym {
			case sNumber, sComma, sOpen, sStar, sAnd:
			default:
				t.sym = sWord
			}
		}
		if t.sym == sStop && t.text == "." && t.glued && len(out) > 0 && i+1 < len(toks) && (toks[i+1].line == t.line || goesOnBelow(text, toks[i+1])) &&
			shortens(text, out, toks[i+1], i+2 >= len(toks) || toks[i+2].line != t.line) {
			continue
		}
		out = append(out, t)
	}
	return out
}

// goesOnBelow reports whether a line begins with a word that goes on from the line
// above: "18 d.c., sl.st." and below it "to first d.c."
func goesOnBelow(text string, t token) bool {
	switch t.sym {
	case sTo, sIn, sOver, sTog, sEach, sNext:
		return text[t.from] >= 'a' && text[t.from] <= 'z'
	}
	return false
}

// shortens reports whether the stop between the last of toks and next belongs
// to an abbreviation.
// lone says that next ends its line, and so is a count: "sc to last 2 sts, dec. 23".
func shortens(text string, toks []token, next token, lone bool) bool {
	last := toks[len(toks)-1]
	if last.to-last.from > 5 {
		return false
	}
	switch last.sym {
	case sStitch, sInc, sDec, sSt, sSpace, sRep, sSkip, sForm, sTog, sNext, sLoop:
	default:
		return false
	}
	switch next.sym {
	case sWord, sStop:
		return false
	case sComma, sClose:
		return true
	case sNumber:
		if next.ordinal || next.decimal || lone && last.sym != sStitch || !(last.val.stitch == stitch.Ch && last.sym == sStitch || last.sym == sSkip || last.sym == sInc || last.sym == sDec) {
			return false
		}
		if len(toks) == 1 {
			return true
		}
		switch before := toks[len(toks)-2]; before.sym {
		case sComma, sStop, sStar, sColon, sOpen, sDash, sAnd, sFill:
			return true
		default:
			return before.line != last.line
		}
	}
	r, _ := utf8.DecodeRuneInString(text[next.from:])
	return unicode.IsLower(r)
}
