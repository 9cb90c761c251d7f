package notation

import (
	"strings"

	"roundelay/pattern/stitch"
)

// A rewording puts what stands at toks[i] into words that the grammar reads. It
// returns how many tokens it takes and what stands for them; 0 if it does not
// apply.
type rewording func(l *language, text string, toks []token, i int) (int, []token)

// rewordings are the turns of phrase that other languages have and English has
// not, before the words are put in order. From memory of the trade's habits.
var rewordings = []rewording{
	ringOfRounds, chainOfStitches, covered, nextTogether, formed, halfInList, allInOne, twoByTwo, onlyShaping, inPlainStitch, endingInChains, thatMakes, chainsOfEach, takenInOne,
}

// reword applies the rewordings to the tokens of a text, once each.
func (l *language) reword(text string, toks []token) []token {
	out := make([]token, 0, len(toks))
next:
	for i := 0; i < len(toks); {
		for _, r := range rewordings {
			if n, by := r(l, text, toks, i); n > 0 {
				from, to := toks[i].from, toks[i+n-1].to
				for k := range by {
					by[k].line = toks[i].line
					if k > 0 && by[k].from < by[k-1].to { // places in the text stay in order
						by[k].from = by[k-1].to
						by[k].to = max(by[k].to, by[k].from)
					}
				}
				if len(by) > 0 {
					by[0].from, by[len(by)-1].to = from, to
					if k := len(by) - 1; by[k].from > to {
						by[k].from = to
					}
				}
				out = append(out, by...)
				i += n
				continue next
			}
		}
		out = append(out, toks[i])
		i++
	}
	return out
}

// onLine returns the token k, a stop where it is not on the line of the token i.
func onLine(toks []token, i, k int) token {
	if k >= 0 && k < len(toks) && toks[k].line == toks[i].line {
		return toks[k]
	}
	return token{sym: sStop}
}

// pastFill returns the first token from k on that is none of syms.
func pastFill(toks []token, i, k int, syms ...sym) int {
next:
	for k < len(toks) && toks[k].line == toks[i].line {
		for _, s := range syms {
			if toks[k].sym == s {
				k++
				continue next
			}
		}
		break
	}
	return k
}

// pastStop returns the first token from k on that is no stop of an abbreviation.
func pastStop(toks []token, i, k int) int {
	for k < len(toks) && toks[k].line == toks[i].line && toks[k].sym == sStop && toks[k].glued {
		k++
	}
	return k
}

// endsHere reports whether an instruction ends before the token k.
func endsHere(toks []token, i, k int) bool {
	switch onLine(toks, i, k).sym {
	case sStop, sComma, sOpen, sClose, sEqual, sDash, sAnd, sAround, sFasten:
		return true
	}
	return false
}

// ringOfRounds reads the word for a ring as one for a round where it has a
// number: "1-й круг: ...", "Kreis 3: ...".
func ringOfRounds(l *language, text string, toks []token, i int) (int, []token) {
	t := toks[i]
	if t.sym != sRing {
		return 0, nil
	}
	before, after := onLine(toks, i, i-1), onLine(toks, i, i+1)
	first := func(k int) bool { return k == 0 || toks[k-1].line != t.line }
	sep := func(k int) bool {
		s := onLine(toks, i, k).sym
		return k < len(toks) && toks[k].line == t.line && (s == sColon || s == sStop || s == sDash || s == sEqual)
	}
	k := i - 1 // the first number of "2-5 круг"
	for k > 1 && (toks[k-1].sym == sDash || toks[k-1].sym == sTo) && toks[k-2].sym == sNumber && toks[k-2].line == t.line {
		k -= 2
	}
	switch {
	case before.sym == sNumber && before.ordinal:
	case before.sym == sNumber && sep(i+1) && first(k):
	case first(i) && after.sym == sNumber && !after.decimal && (sep(i+2) || (onLine(toks, i, i+2).sym == sDash || onLine(toks, i, i+2).sym == sTo) && onLine(toks, i, i+3).sym == sNumber && sep(i+4)):
	default:
		return 0, nil
	}
	t.sym = sRound
	return 1, []token{t}
}

// chainOfStitches reads "chaînette de 10 mailles" and "цепочка из 8 петель" as 10
// and 8 chains.
func chainOfStitches(l *language, text string, toks []token, i int) (int, []token) {
	t := toks[i]
	if t.sym == sNumber && t.num == 1 && !t.ordinal && i+1 < len(toks) && toks[i+1].line == t.line { // "une chaînette de 10 mailles"
		if n, by := chainOfStitches(l, text, toks, i+1); n > 0 {
			return n + 1, by
		}
		return 0, nil
	}
	if !namesChain(t) && !(l == russian && t.sym == sFill && strings.HasPrefix(t.text, "цепо")) {
		return 0, nil
	}
	if before := onLine(toks, i, i-1); before.sym == sNumber && (before.num != 1 || before.ordinal) {
		return 0, nil
	}
	k := pastFill(toks, i, i+1, sOf, sFrom, sFill, sWith, sIn)
	n, st := onLine(toks, i, k), onLine(toks, i, k+1)
	if n.sym != sNumber || n.ordinal || n.decimal || st.sym != sSt {
		return 0, nil
	}
	st.sym, st.val = sStitch, value{stitch: stitch.Stitch{Base: stitch.Chain}}
	return k + 2 - i, []token{n, st}
}

// allInOne reads "2 varetas juntas en el punto siguiente": both go into one
// stitch, and none is made of them.
func allInOne(l *language, text string, toks []token, i int) (int, []token) {
	if toks[i].sym != sTog || onLine(toks, i, i-2).sym != sNumber {
		return 0, nil
	}
	if s := onLine(toks, i, i-1); s.sym != sStitch || s.val.stitch.Base <= stitch.Slip {
		return 0, nil
	}
	if onLine(toks, i, i+1).sym != sIn {
		return 0, nil
	}
	one, place := false, false
	for k := i + 2; k < i+7; k++ {
		switch t := onLine(toks, i, k); t.sym {
		case sFill, sOf:
			continue
		case sNumber:
			if t.num != 1 || t.ordinal {
				return 0, nil
			}
			one = true
			continue
		case sNext, sSame:
			one = true
			continue
		case sSt, sStitch, sSpace:
			if place || strings.HasSuffix(t.text, "s") && l != dutch {
				return 0, nil // "en los puntos siguientes"
			}
			place = true
			continue
		}
		break
	}
	if !one || !place {
		return 0, nil
	}
	t := toks[i]
	t.sym = sFill
	return 1, []token{t}
}

// twoByTwo reads "все столбики провязать вместе по 2" and "alle M zu zweit
// zusammenhäkeln": two together, all round.
func twoByTwo(l *language, text string, toks []token, i int) (int, []token) {
	t := toks[i]
	if t.sym != sEach || t.num > 1 {
		return 0, nil
	}
	k := pastFill(toks, i, i+1, sFill, sOf)
	if s := onLine(toks, i, k).sym; s != sSt && s != sStitch {
		return 0, nil
	}
	twos, tog := 0, false
	for k++; k < i+12; k++ {
		s := onLine(toks, i, k)
		switch {
		case s.sym == sTog && !tog:
			tog = true
		case s.sym == sNumber && s.num == 2 && !s.ordinal && !s.decimal && twos < 2:
			twos++
		case s.sym == sFill || twos > 0 && !tog && (s.sym == sSt || s.sym == sStitch):
		case (s.sym == sOf || s.sym == sTo || s.sym == sWith || s.sym == sIn || s.sym == sAnd) && k < len(toks) && onLine(toks, i, k+1).num == 2:
		default:
			if !tog || twos == 0 {
				return 0, nil
			}
			return k - i, []token{{sym: sDec, text: t.text, from: t.from, to: t.to}, {sym: sAround, text: t.text, from: t.to, to: t.to}}
		}
	}
	return 0, nil
}

// onlyShaping reads "solo disminuciones" as decreases all round.
func onlyShaping(l *language, text string, toks []token, i int) (int, []token) {
	if toks[i].sym != sOnly {
		return 0, nil
	}
	k := pastFill(toks, i, i+1, sFill, sOf)
	t := onLine(toks, i, k)
	if t.sym != sInc && t.sym != sDec || !endsHere(toks, i, k+1) {
		return 0, nil
	}
	return k + 1 - i, []token{t, {sym: sAround, text: t.text, from: t.to, to: t.to}}
}

// inPlainStitch reads "a punto basso" and "todo a p.b." as in that stitch.
func inPlainStitch(l *language, text string, toks []token, i int) (int, []token) {
	t := toks[i]
	if t.sym != sTo || onLine(toks, i, i+1).sym != sStitch || onLine(toks, i, i+1).val.stitch.Base <= stitch.Slip {
		return 0, nil
	}
	switch b := onLine(toks, i, i-1); b.sym {
	case sFill, sEven, sEach, sColon, sDash, sStop, sComma, sRound, sAround:
	default:
		return 0, nil
	}
	if !endsHere(toks, i, i+2) {
		return 0, nil
	}
	t.sym = sIn
	return 1, []token{t}
}

// endingInChains reads "terminer par 6 ml et 1 mc": the chains come before the
// join.
func endingInChains(l *language, text string, toks []token, i int) (int, []token) {
	t := toks[i]
	if t.sym != sJoin {
		return 0, nil
	}
	k := pastFill(toks, i, i+1, sWith, sFill)
	if n := onLine(toks, i, k); n.sym != sNumber || n.ordinal || !namesChain(onLine(toks, i, k+1)) {
		return 0, nil
	}
	k += 2
	k = pastStop(toks, i, k)
	if s := onLine(toks, i, k).sym; s != sAnd && s != sComma && s != sPlus {
		return 0, nil
	}
	t.sym = sEnd
	return 1, []token{t}
}

// thatMakes reads the Portuguese "Dá 8 leques" as a count.
func thatMakes(l *language, text string, toks []token, i int) (int, []token) {
	t := toks[i]
	if l != portuguese || t.text != "da" || onLine(toks, i, i+1).sym != sNumber || text[t.from:t.to] != "Dá" && text[t.from:t.to] != "dá" {
		return 0, nil
	}
	t.sym = sHave
	return 1, []token{t}
}

// chainsOfEach reads "las cadenetas de cada asa" as each space.
func chainsOfEach(l *language, text string, toks []token, i int) (int, []token) {
	if !namesChain(toks[i]) || onLine(toks, i, i-1).sym == sNumber {
		return 0, nil
	}
	of, each, what := onLine(toks, i, i+1), onLine(toks, i, i+2), onLine(toks, i, i+3)
	if of.sym != sOf && of.sym != sFrom || each.sym != sEach || each.num > 1 || what.sym != sWord && what.sym != sSpace {
		return 0, nil
	}
	what.sym = sSpace
	return 4, []token{each, what}
}

// takenInOne reads "2 Stb. mit 1 fM zusammenfassen" without the stitch that they
// become.
func takenInOne(l *language, text string, toks []token, i int) (int, []token) {
	if toks[i].sym != sWith {
		return 0, nil
	}
	k := pastStop(toks, i, i+3)
	n, s, tog := onLine(toks, i, i+1), onLine(toks, i, i+2), onLine(toks, i, k)
	if n.sym != sNumber || n.num != 1 || s.sym != sStitch || s.val.stitch.Base <= stitch.Slip || tog.sym != sTog {
		return 0, nil
	}
	return k + 1 - i, []token{tog}
}

// coverWords begin the words for covering a space with stitches.
var coverWords = []string{"couvr", "recouv", "garn", "rempl", "cubr", "rellen", "cobr", "preench", "copr", "ricopr", "riemp", "fyll", "vul", "omhaak", "behaak", "fulle", "umhak", "behak", "uberhak", "обвя", "заполн"}

// covers reports whether a token says to cover something with stitches.
func covers(t token) bool {
	for _, w := range coverWords {
		if strings.HasPrefix(t.text, w) {
			return true
		}
	}
	return false
}

// covered reads "couvrir chaque arceau de 8 ms" and "jeden Bogen mit 8 fM
// behäkeln" as stitches in each space.
func covered(l *language, text string, toks []token, i int) (int, []token) {
	switch onLine(toks, i, i-1).sym {
	case sStop, sColon, sDash, sComma, sAnd, sStar:
	default:
		return 0, nil
	}
	k, verb := i, false
	for covers(onLine(toks, i, k)) || k > i && onLine(toks, i, k).sym == sFill {
		k, verb = k+1, true
	}
	if onLine(toks, i, k).sym != sEach {
		return 0, nil
	}
	each := k
	for ; k < each+6 && onLine(toks, i, k).sym != sSpace; k++ {
		switch onLine(toks, i, k).sym {
		case sEach, sFill, sNext, sNumber, sStitch, sDash, sOf:
		default:
			return 0, nil
		}
	}
	if onLine(toks, i, k).sym != sSpace {
		return 0, nil
	}
	if n := onLine(toks, i, k+2); onLine(toks, i, k+1).sym == sOf && n.sym == sNumber && namesChain(onLine(toks, i, k+3)) {
		k += 3
	}
	place := toks[each : k+1]
	for k++; covers(onLine(toks, i, k)); k++ {
		verb = true
	}
	with := onLine(toks, i, k).sym == sWith || onLine(toks, i, k).sym == sOf
	if with {
		k++
	}
	if n := onLine(toks, i, k); n.sym != sNumber || n.ordinal || n.decimal || onLine(toks, i, k+1).sym != sStitch || namesChain(onLine(toks, i, k+1)) || !verb && !with {
		return 0, nil
	}
	by := append([]token{{sym: sIn, text: toks[i].text, from: toks[i].from, to: toks[i].from}}, place...)
	by = append(by, toks[k], toks[k+1])
	if k += 2; covers(onLine(toks, i, k)) {
		k++
	}
	return k - i, by
}

// nextTogether reads "die 2 folgenden Stb. mit 1 fM zusammenfassen".
func nextTogether(l *language, text string, toks []token, i int) (int, []token) {
	n, next, s := toks[i], onLine(toks, i, i+1), onLine(toks, i, i+2)
	if n.sym != sNumber || n.ordinal || n.decimal || n.num < 2 || n.num > stitch.MaxTogether || next.sym != sNext || s.sym != sSt && s.sym != sStitch {
		return 0, nil
	}
	k := pastStop(toks, i, i+3)
	if m, by := takenInOne(l, text, toks, min(k, len(toks)-1)); m > 0 {
		return k + m - i, []token{n, toks[k+2], by[0]}
	}
	if onLine(toks, i, k).sym != sTog {
		return 0, nil
	}
	return k + 1 - i, []token{n, s, toks[k]}
}

// formed drops what the stitches before make together: "7 pa no ponto, formando um
// leque".
func formed(l *language, text string, toks []token, i int) (int, []token) {
	t := toks[i]
	if t.sym != sWord && t.sym != sFill || !hasWord("formando|formant|formare|formar|bildend|bildar|образуя|vormend", t.text) {
		return 0, nil
	}
	k := pastFill(toks, i, i+1, sFill)
	if n := onLine(toks, i, k); n.sym == sNumber && n.num == 1 {
		k++
	}
	if s := onLine(toks, i, k).sym; s != sForm && s != sSpace || !endsHere(toks, i, k+1) && onLine(toks, i, k+1).sym != sStar {
		return 0, nil
	}
	t.sym = sFill
	return k + 1 - i, []token{t}
}

// halfInList reads "полустолбик" between taller stitches of a list as the half
// treble that it is there; alone it is a slip stitch.
func halfInList(l *language, text string, toks []token, i int) (int, []token) {
	t := toks[i]
	if l != russian || t.sym != sStitch || t.val.stitch != stitch.SlSt || !strings.HasPrefix(t.text, "полустолб") {
		return 0, nil
	}
	before, after := onLine(toks, i, i-2), onLine(toks, i, i+2)
	if onLine(toks, i, i-1).sym == sNumber {
		before = onLine(toks, i, i-3)
	}
	if after.sym == sNumber {
		after = onLine(toks, i, i+3)
	}
	if onLine(toks, i, i+1).sym != sComma || before.sym != sStitch || after.sym != sStitch || namesChain(before) || namesChain(after) {
		return 0, nil
	}
	t.val.stitch = stitch.HDC
	return 1, []token{t}
}
