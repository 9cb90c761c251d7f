package notation

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"roundelay/pattern/stitch"
)

// languages are the languages that rounds are read in. English comes first: it
// is what a text is taken for that gives no sign of another.
var languages = []*language{
	english, german, french, spanish, portuguese, dutch, italian, swedish, danish, norwegian, russian,
}

// words gives the scanned tokens of a text their meanings in the language that
// it is written in, and returns the code of that.
func words(text string, toks []token, terms stitch.Terms) ([]token, string) {
	langs := detect(toks)
	l := langs[0]
	if l == english {
		return understand(toks, terms, langs), l.code
	}
	toks = l.prepare(text, toks)
	g := l.legend(text, toks)
	return l.settle(text, l.reword(text, understand(toks, terms, langs)), g), l.code
}

// A hint says which languages have a word, and how much it tells.
type hint struct {
	in     uint16 // a bit for each of languages
	weight int
}

// hints has the words that are one whole entry, by word.
var hints = sync.OnceValue(func() map[string]hint {
	m := make(map[string]hint)
	for bit, l := range languages {
		for word, list := range l.phrases {
			p := list[len(list)-1]
			if len(p.rest) > 0 || p.sym == sColour && l != english {
				continue
			}
			h := m[word]
			h.in |= 1 << bit
			w := 2
			switch p.sym {
			case sStitch, sInc, sDec, sRound, sMagic, sTog, sDouble, sEven, sSt, sRow:
				w = 6
			case sFill, sColour, sMeasure, sStuff, sFasten, sNumber:
				w = 1
			}
			if utf8.RuneCountInString(word) == 1 {
				w = 1
			}
			h.weight = max(h.weight, w)
			m[word] = h
		}
	}
	return m
})

// detect tells which language a text is written in, by the words that English
// does not have. It returns the languages to read it in, best first; the last
// is always English. Words of one letter count only beside longer ones.
func detect(toks []token) []*language {
	known := hints()
	var score, against [16]int
	var longer uint16
	for i := range toks {
		if toks[i].sym != sWord {
			continue
		}
		if (i == 0 || toks[i-1].line != toks[i].line) && i+1 < len(toks) && toks[i+1].sym == sNumber && !roundWord(english, toks[i].text) { // "g1:"
			for bit, l := range languages {
				if roundWord(l, toks[i].text) {
					score[bit] += 2
				}
			}
		}
		h, ok := known[toks[i].text]
		if !ok {
			continue
		}
		for bit := 1; bit < len(languages); bit++ {
			switch {
			case h.in&1 == 0 && h.in&(1<<bit) != 0:
				score[bit] += h.weight
			case h.in&1 != 0 && h.in&(1<<bit) == 0:
				against[bit] += h.weight
			}
		}
		if h.in&1 == 0 && h.weight > 1 {
			longer |= h.in
		}
	}
	best, lead := 0, 0
	for bit := 1; bit < len(languages); bit++ {
		if d := score[bit] - against[bit]; d > lead && longer&(1<<bit) != 0 {
			best, lead = bit, d
		}
	}
	if best == 0 {
		return languages[:1]
	}
	return []*language{languages[best], english}
}

// roundWord reports whether a word says round or row in l.
func roundWord(l *language, word string) bool {
	m := l.meaning(word)
	return m == sRound || m == sRow
}

// meaning returns what a single word means in l, sWord if nothing.
func (l *language) meaning(word string) sym {
	if list := l.phrases[word]; len(list) > 0 {
		if p := list[len(list)-1]; len(p.rest) == 0 {
			return p.sym
		}
	}
	return sWord
}

// prepare joins what belongs to a number or to a shorthand with digits inside:
// "2.", "2ª", "1er", "2:a" become ordinals, "1/2" the word for half.
func (l *language) prepare(text string, toks []token) []token {
	out := toks[:0:len(toks)]
	for i := 0; i < len(toks); {
		t := toks[i]
		n := 1
		switch {
		case t.sym == sNumber && t.decimal && l.half != "" && text[t.from:t.to] == "1/2" && i+1 < len(toks) && toks[i+1].sym == sWord:
			t.sym, t.text, t.decimal = sWord, l.half, false
		case t.sym == sNumber && t.num == 2 && !t.decimal && inOne(toks, i): // 2i1
			t.sym, t.text, t.to = sInc, "2in1", toks[i+2].to
			n = 3
		case t.sym == sNumber && !t.decimal:
			if n = l.ordinalAt(toks, i, len(out) > 0 && out[len(out)-1].line == t.line); n > 1 {
				t.ordinal, t.to = true, toks[i+n-1].to
			}
		case t.sym == sWord && i+1 < len(toks) && toks[i+1].glued && toks[i+1].sym == sNumber && l.timesOf(t.text) != "": // dimx6
			t.text = l.timesOf(t.text)
		case l == dutch && t.text == "t" && i+2 < len(toks) && toks[i+1].glued && toks[i+1].text == "/" && toks[i+2].text == "m":
			t.text, t.to = "tot", toks[i+2].to // t/m
			n = 3
		case t.sym == sWord && i+2 < len(toks) && toks[i+1].glued && toks[i+2].glued && toks[i+1].sym == sNumber && toks[i+2].text == "н" && (t.text == "с" || t.text == "сс"):
			t.text += toks[i+1].text + "н" // С2Н
			t.to = toks[i+2].to
			n = 3
		}
		out = append(out, t)
		i += n
	}
	return out
}

// timesOf returns a word that a letter x of times was written to, without it: dim
// of "dimx6". It returns "" if there is none.
func (l *language) timesOf(word string) string {
	short, ok := strings.CutSuffix(word, "x")
	if !ok {
		short, ok = strings.CutSuffix(word, "х")
	}
	if !ok || l.meaning(word) != sWord {
		return ""
	}
	switch l.meaning(short) {
	case sInc, sDec, sStitch:
		return short
	}
	return ""
}

// inOne reports whether the number at i is of stitches in one: "2i1".
func inOne(toks []token, i int) bool {
	return i+2 < len(toks) && toks[i+1].glued && toks[i+2].glued && toks[i+2].sym == sNumber && toks[i+2].num == 1 &&
		hasWord("i|in|en|em|dans|ds|в", toks[i+1].text)
}

// ordinalAt returns how many tokens from the number at i on make it an ordinal;
// 1 if it is none. inside says that it is not the first token of its line.
func (l *language) ordinalAt(toks []token, i int, inside bool) int {
	at := func(k int) token {
		if k < len(toks) && toks[k].line == toks[i].line {
			return toks[k]
		}
		return token{sym: sSign}
	}
	next := at(i + 1)
	if !next.glued {
		return 1
	}
	if next.text == "º" {
		return 2
	}
	if next.sym == sStop && at(i+2).text == "º" && at(i+2).glued {
		return 3
	}
	if next.sym == sStop && at(i+2).glued && at(i+2).sym == sWord && hasWord("o|a|er|ra", at(i+2).text) && hasWord(l.ordinals, at(i+2).text) { // "1.o giro"
		return 3
	}
	end, n := next, 2
	if (next.sym == sColon || next.sym == sDash) && at(i+2).glued {
		end, n = at(i+2), 3
	}
	if end.sym == sWord && l.ordinals != "" && hasWord(l.ordinals, end.text) {
		switch after := at(i + n); after.sym {
		case sStop:
			switch m := l.meaning(at(i + n + 1).text); {
			case after.glued && (m == sAnd || m == sTo || m == sRound || m == sRow || m == sStitch || m == sSt): // "13ra. y 14ta. vuelta"
				return n + 1
			}
			return n
		case sWord, sDash, sColon, sStar, sComma, sPlus:
			return n
		}
		return 1
	}
	if !l.stops || next.sym != sStop || next.text != "." {
		return 1
	}
	after := at(i + 2)
	switch m := l.meaning(after.text); {
	case after.sym == sWord && (m == sRound || m == sRow):
		return 2
	case after.sym == sDash || after.sym == sPlus || after.sym == sWord && (m == sTo || m == sAnd):
		k := i + 3
		if at(k).sym == sStop && at(k).glued { // "13. u. 14. Tour"
			k++
		}
		if at(k).sym == sNumber && at(k+1).sym == sStop && at(k+1).glued { // "7.-9. Rd", "5. und 6. M"
			return 2
		}
	case after.sym == sWord && inside && i > 0:
		before := toks[i-1]
		switch l.meaning(before.text) {
		case sIn, sEach, sNext, sTo, sFrom, sAnd, sOf, sFill, sOver:
			return 2
		}
		if before.sym == sOpen || before.sym == sEqual || before.sym == sPlus && (m == sSt || m == sStitch) {
			return 2
		}
	}
	return 1
}

// hasWord reports whether w is one of the words of list, apart by "|".
func hasWord(list, w string) bool {
	for list != "" {
		var one string
		one, list, _ = strings.Cut(list, "|")
		if one == w {
			return true
		}
	}
	return false
}

// settle puts the tokens of a text in l into the order and the meanings that
// the grammar reads.
func (l *language) settle(text string, toks []token, g legend) []token {
	stokje := false
	for _, t := range toks {
		stokje = stokje || l == dutch && strings.HasPrefix(t.text, "stk") || strings.HasPrefix(t.text, "stokje")
	}
	out := make([]token, 0, len(toks))
	prev := func(n int) token {
		if n <= len(out) {
			return out[len(out)-n]
		}
		return token{sym: sStop}
	}
	lead := 0 // what comes before it only leads to the number of a round
	for i, t := range toks {
		next := token{sym: sStop}
		if i+1 < len(toks) && toks[i+1].line == t.line {
			next = toks[i+1]
		}
		for len(g.at) > 0 && g.at[0].To <= t.from {
			g.at = g.at[1:]
		}
		if len(g.at) > 0 && t.from >= g.at[0].From {
			t.sym, t.val, t.num = sWord, value{}, 0 // explained, not worked
		} else if p, ok := g.means[text[t.from:t.to]]; ok && !(t.sym == sRound && (next.sym == sNumber || prev(1).ordinal)) {
			t.sym, t.val, t.num = p.sym, p.val, p.num
		}
		if len(out) == 0 || prev(1).line != t.line {
			lead = max(lead, i+beforeLabel(toks[i:]))
		}
		if l.letterLabel(toks, i, prev(1), prev(2)) {
			t.sym, t.val, t.num = sRound, value{}, 0
		}
		if s := prev(1).sym; (s == sRound || s == sRow) && hasWord("n|nr|no|num|numero", t.text) {
			k := i + 1
			for k < len(toks) && k < i+3 && (toks[k].sym == sStop || toks[k].text == "º") {
				k++
			}
			if k < len(toks) && toks[k].sym == sNumber && toks[k].line == t.line {
				lead = k // "Vuelta n.º 2"
			}
		}
		if i < lead {
			continue // "De la vuelta 2 a la 5:"
		}
		switch t.sym {
		case sOpen:
			if k := chainGloss(toks[i:]); k > 0 && namesChain(prev(1)) {
				toks[i+k].sym = sCounts
			}
		case sDouble:
			switch prev(1).sym {
			case sSt, sStitch, sNumber, sNext, sEach:
			default: // "dubbla nästa m"
				t.sym = sInc
			}
		case sTimes, sOnce:
			// "6-mal: 1 fM, 1 zun"
			k := len(out)
			if t.sym == sTimes && prev(1).sym == sNumber {
				k--
			}
			if k > 1 && out[k-1].sym == sColon && out[k-1].line == t.line && (t.sym == sOnce || k < len(out)) && (next.sym == sColon || next.sym == sNumber) {
				at := t.from
				if k < len(out) {
					at = out[k].from
				}
				out = append(out, token{})
				copy(out[k+1:], out[k:])
				out[k] = token{sym: sRep, from: at, to: at, line: t.line}
			}
		case sAround:
			if s := prev(1).sym; t.text == "varvet" && (prev(1).ordinal || (s == sFirst || s == sLast) && (len(out) < 2 || prev(2).line != t.line)) {
				t.sym = sRound // "2:a varvet:"
			}
		case sEach:
			if t.num > 1 { // varannan: every second
				out = append(out, t)
				t = token{sym: sNumber, text: t.text, num: t.num, from: t.to, to: t.to, line: t.line, ordinal: true}
			}
		case sOther: // "de l'autre côté : 5 ms", "auf der anderen Seite weiterhäkeln: 2 fM": the work just goes on
			t.sym = sFill
			for k := len(out) - 1; k >= max(0, len(out)-4) && out[k].line == t.line; k-- {
				if out[k].sym != sFill {
					if out[k].sym == sIn {
						out[k].sym = sFill
					}
					break
				}
			}
			k := i + 1
			for k < len(toks) && toks[k].sym == sFill && toks[k].line == t.line {
				k++
			}
			if k < len(toks) && toks[k].line == t.line && (toks[k].sym == sColon || toks[k].sym == sComma) {
				lead = k + 1
			}
		case sOver:
			for k := 1; k <= 4 && prev(k).line == t.line; k++ {
				if prev(k).sym == sSkip { // "spring 1 m over"
					t.sym = sFill
				}
			}
		case sTo:
			if p := prev(1).sym; l == russian && t.text == "по" && p != sNumber && p != sRound && p != sRow { // "по 2 сбн"
				t.sym = sFill
			}
		case sRound:
			if n := prev(1); t.text == "v" && n.sym == sNumber && !n.ordinal && prev(2).line == t.line && (prev(2).sym == sRep || prev(2).sym == sX || prev(2).sym == sClose || prev(2).sym == sStar) {
				t.sym = sTimes // "rep 6 v"
			}
		case sMore:
			if k := i + 2; next.sym == sNumber && !next.ordinal && k < len(toks) && toks[k].line == t.line && (toks[k].sym == sStitch || toks[k].sym == sInc || toks[k].sym == sDec) {
				t.sym = sFill // "e faça mais 11 pontos altos"
			}
			if k := i + 2; next.sym == sNumber && next.num == 1 && k < len(toks) && toks[k].line == t.line && toks[k].sym == sRound && prev(1).sym != sRep {
				t.sym = sFill // "haak nog een toer vasten"
			}
		case sNumber:
			if t.num == 1 && !t.ordinal && (next.sym == sMagic || next.sym == sRing) && text[t.from] > '9' { // "un anillo mágico"
				continue
			}
			if t.num < 0 {
				t.num, t.ordinal = -t.num, true
			}
			// "cada 3 p", "alle 3 M": every third
			if e := prev(1); e.sym == sEach && e.num == 1 && !t.ordinal && t.num > 1 && t.num < maxNumber && e.line == t.line {
				t.ordinal = true
			}
			// "каждые 9 и 10 петли вместе": and its second
			if b := prev(2); (prev(1).sym == sAnd || prev(1).sym == sPlus) && b.sym == sNumber && b.ordinal && b.num == t.num-1 && prev(3).sym == sEach && next.sym != sTimes && next.sym != sX {
				t.ordinal = true
			}
			if t.num == 1 && t.ordinal && next.sym == sSpace { // "até o 1º espaço"
				t.sym = sFirst
			}
			if t.num == 1 && !t.ordinal && next.sym == sStitch && next.line == t.line {
				after := token{sym: sStop}
				if i+2 < len(toks) && toks[i+2].line == t.line {
					after = toks[i+2]
				}
				// "1 Km" at the very end closes the round
				last := after.sym == sFasten
				if s := after.sym; (s == sAnd || s == sComma) && i+3 < len(toks) && toks[i+3].line == t.line {
					last = toks[i+3].sym == sFasten
				}
				if s := after.sym; next.val.stitch == stitch.SlSt && (s == sStop || s == sEqual || s == sOpen || s == sDash || last) {
					continue
				}
			}
		case sFrom:
			if k := i + 2; next.ordinal && k < len(toks) && toks[k].line == t.line && namesChain(toks[k]) { // "a partir da 2ª corr da agulha"
				t.sym = sIn
			}
			if s := prev(1).sym; t.text == "из" && (s == sStitch || s == sForm) && (next.sym == sNumber && next.num == 1 || next.sym == sSame || next.sym == sNext || next.sym == sEach) {
				t.sym = sIn // "2 ССН из одной петли"
			}
		case sIn:
			if hasWord("dentro|adentro|dedans|erin|darin|inuti|внутри|внутрь", t.text) { // "y dentro 8 pb": there, not in something
				k := i + 1
				for k < len(toks) && toks[k].sym == sFill && toks[k].line == t.line {
					k++
				}
				if k < len(toks) && (toks[k].sym == sNumber && !toks[k].ordinal || toks[k].sym == sStitch) {
					t.sym = sFill
				}
			}
		case sSame:
			if l.increases(out) { // "1 pb, 2 pb en el mismo punto"
				t.sym = sNext
			}
		case sDash:
			if prev(1).sym == sNumber && t.glued && next.sym == sTimes && next.glued { // 6-mal
				continue
			}
		case sStop:
			if t.text == "." && t.glued && prev(1).text == "u" && prev(1).sym == sAnd {
				continue
			}
			if t.text == "." && t.glued && next.sym == sColon && next.glued && prev(1).sym != sNumber { // "En cada arco de 5 cad.: 1 p. b."
				continue
			}
			if t.text == "." && t.glued && next.line == t.line && (afterAbbreviation(text, prev(1), next) || (next.sym == sNumber || next.sym == sComma) && placeFirst(out)) {
				continue
			}
		case sEqual:
			if prev(1).sym == sOpen && namesChain(prev(2)) { // "3 Lm (= 1. Stb)"
				t.sym = sCounts
			}
		case sComma, sColon:
			// "en m.p., * 8 m.p., ..." only names the stitch of the round
			if prev(1).sym == sStitch && !namesChain(prev(1)) && (prev(2).sym == sIn || prev(2).sym == sWith) && prev(2).line == t.line && (next.sym == sNumber || next.sym == sStar || next.sym == sOpen) {
				if s := prev(3).sym; s == sColon || s == sStop || s == sDash || s == sFill || prev(3).line != t.line {
					out[len(out)-1].sym, out[len(out)-2].sym = sFill, sFill
				}
			}
		case sStitch:
			if l == french && t.text == "ch" && prev(1).sym == sIn && (next.sym == sSt || next.sym == sStitch || next.sym == sStop) { // chaque
				t.sym, t.val, t.num = sEach, value{}, 1
			}
			if t.val.stitch == stitch.DC && l == dutch && t.text == "st" {
				p := prev(1).sym
				if p == sNumber {
					p = prev(2).sym
				}
				if stokje || p == sIn || p == sEach || p == sNext || p == sSame || p == sFirst || p == sLast {
					t.sym, t.val = sSt, value{}
				}
			}
		}
		out = append(out, t)
		out = l.order(out, next)
	}
	return out
}

// letterLabel reports whether the letter i is short for round, whatever else it
// is short for: "C5 a C9 - 24pb".
func (l *language) letterLabel(toks []token, i int, before, before2 token) bool {
	t := toks[i]
	if l != portuguese && l != spanish || t.text != "c" || i+2 >= len(toks) {
		return false
	}
	n := toks[i+1]
	if n.sym != sNumber || !n.glued || n.decimal || n.line != t.line {
		return false
	}
	first := i == 0 || toks[i-1].line != t.line
	second := (before.sym == sTo || before.sym == sDash || before.sym == sAnd) && before2.sym == sNumber && before2.line == t.line
	if !first && !second {
		return false
	}
	switch after := toks[i+2]; after.sym {
	case sDash, sColon, sEqual, sOpen, sTo, sAnd:
		return after.line == t.line
	case sStop:
		return after.line == t.line && second
	}
	return l.meaning(toks[i+2].text) == sTo
}

// chainGloss tells a bracket that says what the chain before it stands for: "4 cad
// (1 pa + 1 cad)", "3 correntinhas (1º ponto alto)", "4 L. (für 1 St. und 1 L.)".
// toks begin with the bracket. It returns the token that can be made to say so, 0
// if it is another bracket.
func chainGloss(toks []token) int {
	at := func(k int) token {
		if k < len(toks) && toks[k].line == toks[0].line {
			return toks[k]
		}
		return token{sym: sStop}
	}
	k := 1
	for s := at(k).sym; s == sFill || s == sEqual || s == sWith; s = at(k).sym {
		k++
	}
	said := k
	switch t := at(k); {
	case t.sym == sNumber && t.num == 1, t.sym == sFirst:
		k++
	default:
		return 0
	}
	for at(k).sym == sStop && at(k).glued {
		k++
	}
	if t := at(k); t.sym != sStitch || t.val.stitch.Base <= stitch.Slip {
		return 0
	}
	k++
	for at(k).sym == sStop && at(k).glued {
		k++
	}
	if s := at(k).sym; s == sPlus || s == sAnd || s == sComma {
		if at(k+1).sym != sNumber || !namesChain(at(k+2)) {
			return 0
		}
		k += 3
		for at(k).sym == sStop && at(k).glued {
			k++
		}
	}
	if at(k).sym != sClose {
		return 0
	}
	switch at(k + 1).sym {
	case sTimes, sX, sNumber, sIn, sRep, sOnce, sStar: // a group that is worked
		return 0
	}
	return max(said, 1)
}

// beforeLabel returns how many words at the start of a line only lead to its
// label: "De la vuelta 2 a la 5:", "со 2 по 5 ряд:".
func beforeLabel(toks []token) int {
	at := func(k int) token {
		if k < len(toks) && toks[k].line == toks[0].line {
			return toks[k]
		}
		return token{sym: sStop}
	}
	k := 0
	for s := at(k).sym; s == sOf || s == sFrom || s == sFill || s == sIn; s = at(k).sym {
		k++
	}
	if k == 0 || k > 3 {
		return 0
	}
	round := func(k int) bool { return at(k).sym == sRound || at(k).sym == sRow }
	label := round(k) && at(k+1).sym == sNumber || at(k).sym == sNumber && (at(k+1).sym == sTo || at(k+1).sym == sDash) && at(k+2).sym == sNumber
	if toks[0].sym != sOf && toks[0].sym != sFrom { // "In der 2. Runde:"
		label = round(k) && at(k+1).sym == sNumber && at(k+2).sym == sColon || at(k).sym == sNumber && round(k+1) && at(k+2).sym == sColon
	}
	if !label {
		return 0
	}
	return k
}

// increases reports whether out ends with stitches that go into one and the same
// place, not into the place of the stitches before: "2 fM in" of "1 fM, 2 fM in
// dieselbe M".
func (l *language) increases(out []token) bool {
	k := len(out) - 1
	for k >= 0 && (out[k].sym == sFill || out[k].sym == sIn) {
		k--
	}
	if k < 1 || k == len(out)-1 || out[k].sym != sStitch || namesChain(out[k]) || out[k-1].sym != sNumber || out[k-1].num < 2 || out[k-1].ordinal {
		return false
	}
	k -= 2
	if k < 1 || out[k].line != out[k+1].line {
		return true
	}
	switch out[k].sym {
	case sOpen, sStar, sColon, sStop, sBar:
		return true
	case sComma, sPlus, sAnd, sDash:
		b := out[k-1]
		plain := false // the stitches before have no place of their own
		if b.sym == sStitch && !namesChain(b) && k > 1 {
			switch out[k-2].sym {
			case sNumber, sOpen, sStar, sComma, sColon:
				plain = !out[k-2].ordinal
			}
		}
		return plain || b.sym == sInc || b.sym == sDec || b.sym == sClose || b.sym == sNumber
	}
	return false
}

// afterAbbreviation reports whether a stop between two tokens only shortens the
// first: "1 aum. en cada p."
func afterAbbreviation(text string, before, after token) bool {
	switch before.sym {
	case sNext, sEach, sSame, sLast, sSkip: // "in das folg. Stb.": nouns have capitals in German
		switch after.sym {
		case sSt, sStitch, sSpace, sCorner:
			return true
		}
	}
	r, _ := utf8.DecodeRuneInString(text[after.from:])
	if unicode.IsUpper(r) {
		return false
	}
	switch before.sym {
	case sRep:
		return true
	case sStitch, sInc, sDec, sSt:
		switch after.sym {
		case sIn, sEach, sNext, sSame, sOver, sTog, sDouble, sTimes, sX, sAround, sBLO, sFLO, sRep, sDec, sInc, sSkip:
			return true
		}
	case sNext, sEach, sBLO, sFLO, sSkip, sTog:
		return after.sym != sNumber || before.sym != sTog
	}
	return false
}

// placeFirst reports whether out ends with a place that comes before what is
// worked there, so that a stop after it only shortens its last word: "In jedes
// Stb. 2 Stb."
func placeFirst(out []token) bool {
	k := len(out) - 1
	if k < 2 {
		return false
	}
	line := out[k].line
	switch out[k].sym {
	case sSt, sStitch, sSpace, sCorner, sRing, sNext:
	default:
		return false
	}
	if n := out[k-1]; out[k].sym == sStitch && n.sym == sNumber && !n.ordinal && k > 1 {
		switch out[k-2].sym {
		case sSt, sStitch, sSpace, sCorner: // what is worked there stands already: "in jeden Bogen 8 fM. 96 fM."
			return false
		}
	}
	for k--; k >= max(0, len(out)-12) && out[k].line == line; k-- {
		switch out[k].sym {
		case sFill, sEach, sSame, sFirst, sOf, sNext, sNumber, sSt, sStitch, sSpace:
			continue
		case sIn:
			if k == 0 || out[k-1].line != line {
				return true
			}
			switch out[k-1].sym {
			case sComma, sStop, sColon, sDash, sStar, sAnd, sClose:
				return true
			}
		}
		return false
	}
	return false
}

// order moves a token that has just been taken to where English has it.
func (l *language) order(out []token, next token) []token {
	n := len(out)
	t := out[n-1]
	at := func(k int) token { // the token k before the last
		if k < n && out[n-1-k].line == t.line {
			return out[n-1-k]
		}
		return token{sym: sStop}
	}
	if t.sym == sSt || t.sym == sStitch && !namesChain(t) {
		switch {
		case (at(1).sym == sNumber && at(1).num == 1 && !at(1).ordinal || at(1).sym == sSame) && at(2).sym == sIn && at(3).sym == sStitch && !namesChain(at(3)) &&
			at(4).sym == sNumber && at(4).num == 2 && (at(5).sym == sX || at(5).sym == sTimes) && at(6).sym == sNumber && next.sym != sTog:
			// "6x 2 v in 1 st" is six increases
			return replace(out, 7, at(6), token{sym: sInc, text: t.text, line: t.line})
		case at(1).sym == sNumber && at(1).num == 2 && at(2).sym == sAnd && at(3).sym == sNumber && at(3).num == 2 && at(4).sym == sTog:
			// "virka ihop 2 och 2 m" goes on with 2 and 2
			return replace(out, 5, at(3), t, at(4))
		case t.sym == sSt && at(1).sym == sNumber && !at(1).ordinal && (at(2).sym == sInc || at(2).sym == sDec) && at(3).sym == sEvenly && next.sym != sEach && next.sym != sIn:
			// "равномерно прибавить 8 петель"
			return replace(out, 4, at(1), at(2), at(3))
		case (at(1).sym == sIn || at(1).sym == sOver) && at(2).sym == t.sym && at(2).val.stitch == t.val.stitch && at(3).sym != sNumber && at(3).sym != sEach && at(3).sym != sIn && at(3).sym != sNext:
			// "vareta sobre vareta" goes on as before
			even := token{sym: sEven, text: at(1).text, line: t.line}
			if at(3).sym == sComma && at(4).sym == sEven { // it says so already
				return replace(out, 3, token{sym: sFill, text: at(1).text, line: t.line})
			}
			if t.sym == sSt {
				return replace(out, 3, even)
			}
			return replace(out, 3, even, t)
		case at(1).sym == sNumber && !at(1).ordinal && at(1).num >= 2 && at(2).sym == sTog && next.sym != sTog:
			// "virka ihop 2 m" is 2 stitches together
			if s := at(3).sym; s != sSt && s != sStitch && s != sNumber {
				return replace(out, 3, at(1), t, at(2))
			}
		case at(1).ordinal && (at(2).sym == sAnd || at(2).sym == sPlus) && at(3).ordinal && at(4).sym == sEach && at(5).sym == sTog:
			// "virka ihop var 9:e och 10:e m"
			return replace(out, 6, at(4), at(3), at(2), at(1), t, at(5))
		}
	}
	switch t.sym {
	case sNumber:
		// "virka ihop alla m två och två" is a decrease all round
		if t.num == 2 && (at(1).sym == sAnd || at(1).sym == sTo || at(1).sym == sFrom || at(1).sym == sOf) && at(2).sym == sNumber && at(2).num == 2 && at(3).sym == sSt && at(4).sym == sEach && at(5).sym == sTog {
			return replace(out, 6, token{sym: sDec, text: at(5).text, line: t.line}, token{sym: sAround, text: t.text, line: t.line})
		}
	case sStitch:
		// "espacio de 2 cad" is a ch-2 space
		if namesChain(t) && at(1).sym == sNumber && !at(1).ordinal && (at(2).sym == sOf || at(2).sym == sFrom || at(2).sym == sWith) && (at(3).sym == sSpace || at(3).sym == sCorner) {
			return replace(out, 4, t, at(1), at(3))
		}
	case sEach:
		// "aumentar 1 punto cada 2 puntos"
		if at(1).sym == sSt && at(2).sym == sNumber && at(2).num == 1 && (at(3).sym == sInc || at(3).sym == sDec) {
			return replace(out, 3, t)
		}
	case sSpace:
		// "in den 3-Lm-Bogen", "i 2 lm-buen" is in the ch-3 space
		k := 1
		if at(k).sym == sDash {
			k++
		}
		if namesChain(at(k)) {
			c := k
			k++
			tight := at(k).sym == sDash
			if tight {
				k++
			}
			before := at(k + 1).sym
			if at(k).sym == sNumber && !at(k).ordinal && (tight || before == sIn || before == sEach || before == sNext || before == sSame) {
				return replace(out, k+1, at(c), at(k), t)
			}
		}
	case sX, sTimes, sOnce, sAround:
		// "ab * noch 30 mal" repeats, without the word
		k := 1
		for s := at(k).sym; s == sMore || s == sFill || s == sNumber && !at(k).ordinal || s == sComma || s == sTo || s == sStar || s == sDash; s = at(k).sym {
			k++
		}
		if at(k).sym == sFrom && at(k-1).sym == sStar {
			for j := k + 1; at(j).sym == sFill || at(j).sym == sComma || at(j).sym == sAnd; j++ {
				k = j
			}
			if at(k+1).sym != sRep && k < n && (at(k).sym == sFrom || at(k).sym == sComma || at(k).sym == sFill || at(k).sym == sAnd) {
				for j := k; j > 0; j-- {
					if at(j).sym == sFrom {
						out[n-1-j].sym = sRep
						break
					}
				}
			}
		}
	case sNext:
		if at(1).sym == sEach && at(1).num <= 1 && (next.sym == sSpace || next.sym == sSt || next.sym == sStitch || next.sym == sCorner || next.sym == sStop && next.glued && next.text == ".") { // "in jeden folgenden Bogen"
			out[n-1].sym = sFill
			return out
		}
		// "nelle 3 maglie seguenti" is in the next 3 stitches
		k := 1
		for ; k < 12; k++ {
			if s := at(k).sym; s != sSt && s != sStitch && s != sSpace && s != sCorner && s != sFill && s != sOf && s != sDash && (s != sNumber || at(k).ordinal) {
				break
			}
		}
		if s := at(k).sym; k > 1 && s == sEach && at(k).num <= 1 {
			number := false
			for j := 1; j < k; j++ {
				number = number || at(j).sym == sNumber
			}
			if !number { // "dans chaque m suivante"
				out[n-1].sym = sFill
				return out
			}
		}
		if s := at(k).sym; k > 1 && (s == sIn || s == sOver || s == sSkip || s == sEach || s == sAnd && at(k+1).sym == sIn) && next.sym != sSt && (at(1).sym == sSt || at(1).sym == sStitch || at(1).sym == sSpace || at(1).sym == sCorner) {
			move(out, n-k, t)
		}
	case sTog:
		// "die 3. und 4. M immer zusammen" is every 3rd and 4th
		f := 1
		for at(f).sym == sFill {
			f++
		}
		if a, b := at(f+1), at(f+3); (at(f).sym == sSt || at(f).sym == sStitch) && a.ordinal && (at(f+2).sym == sAnd || at(f+2).sym == sPlus) && b.ordinal && b.num == a.num-1 && f+4 < n {
			if at(f+4).sym == sFill {
				out[n-5-f].sym, out[n-5-f].num = sEach, 1
			}
			if f > 1 {
				return replace(out, f, t)
			}
		}
		for k := 3; k <= 4; k++ { // "cerrar 2 puntos juntos" closes stitches, not the round
			if at(k).sym == sJoin && (at(1).sym == sSt || at(1).sym == sStitch) && at(2).sym == sNumber {
				out[n-1-k].sym = sFill
			}
		}
		// "6x 2 M zusammenhäkeln" is six decreases
		if s := at(1); (s.sym == sSt || s.sym == sStitch && !namesChain(s)) && at(2).sym == sNumber && at(2).num >= 2 && at(2).num <= 3 && (at(3).sym == sX || at(3).sym == sTimes) && at(4).sym == sNumber {
			t.sym, t.val = sDec, value{stitch: stitch.Stitch{Base: s.val.stitch.Base, Form: stitch.Together, N: uint8(at(2).num)}}
			return replace(out, 4, t)
		}
	case sEvenly:
		if (at(1).sym == sTimes || at(1).sym == sX) && at(2).sym == sNumber && (at(3).sym == sInc || at(3).sym == sDec) { // "diminuer 6 fois régulièrement"
			return replace(out, 4, at(2), at(3), t)
		}
		if at(1).sym == sStitch && at(2).sym == sNumber && (at(3).sym == sInc || at(3).sym == sDec) { // "meerder 6 v gelijkmatig"
			out[n-2].sym = sSt
		}
	case sInc, sDec:
		if at(1).sym == sNumber && at(1).num == 1 && (at(2).sym == sTimes || at(2).sym == sX) && at(3).sym == sNumber { // "8 fois 1 dim"
			switch at(4).sym {
			case sStitch, sSt, sInc, sDec, sClose, sStar:
			default:
				return replace(out, 3, t)
			}
		}
		if at(1).sym == sEvenly && (at(2).sym == sX || at(2).sym == sTimes) && at(3).sym == sNumber { // "6x gleichmäßig verteilt zunehmen"
			return replace(out, 4, at(3), t, at(1))
		}
		if l.verbLast && at(1).sym == sEvenly && at(2).sym == sSt && at(3).sym == sNumber { // "6 M gleichmäßig verteilt zunehmen"
			return replace(out, 3, t, at(1))
		}
		if at(1).sym == sNumber && !at(1).ordinal && at(2).sym == sEvenly { // "gleichmäßig verteilt 6 zun"
			return replace(out, 3, at(1), t, at(2))
		}
		if l.verbLast && at(1).sym == sSt {
			if at(2).sym == sNumber && !at(2).ordinal && at(3).sym != sEach && at(3).sym != sIn && at(3).sym != sNext { // "6 M zunehmen"
				return l.order(replace(out, 2, t), next)
			}
			if t.sym == sInc && (at(2).sym == sEach || at(2).sym == sNext || at(2).sym == sNumber) {
				out[n-1].sym = sDouble // "jede 2. M zunehmen"
			}
		}
	case sRing:
		if s := at(1).sym; (s == sTo || s == sNumber && at(2).sym == sTo) && next.sym != sJoin {
			k := 1
			if s == sNumber {
				k = 2
			}
			for j := k + 1; j < min(n, 40); j++ {
				switch at(j).sym {
				case sJoin:
					return out
				case sComma, sStop, sColon, sOpen, sClose:
				default:
					continue
				}
				break
			}
			if !l.verbLast || !verbAhead(next) {
				out[n-1-k].sym = sJoin // "8 Lm zum Ring"
				if c := at(k + 1); c.sym == sStitch && c.val.stitch == stitch.SlSt {
					out[n-1-k].sym, out[n-2-k].sym = sTo, sJoin
				}
			}
		}
	case sRep, sSkip, sJoin:
		if t.sym == sRep { // "ab * noch 10x wdh" has been read without it
			k := 1
			for s := at(k).sym; s == sMore || s == sNumber || s == sFill || s == sTimes || s == sX || s == sOnce || s == sAround || s == sStar || s == sTo || s == sDash; s = at(k).sym {
				k++
			}
			if at(k).sym == sRep && at(k-1).sym == sStar {
				out[n-1].sym = sFill
				return out
			}
		}
		if l.verbLast || t.sym == sRep && t.num == 1 {
			out = front(out, t, next)
		}
		if t.sym == sRep { // "das Ganze 5x wiederholen" says it twice
			for k := n - 1; k > 0 && out[k].line == t.line; k-- {
				if out[k].sym == sRep {
					if out[k-1].sym == sRep && out[k-1].line == t.line {
						out[k-1].sym = sFill
					}
					break
				}
			}
		}
	}
	return out
}

func namesChain(t token) bool { return t.sym == sStitch && t.val.stitch == stitch.Ch }

func verbAhead(next token) bool { return next.sym == sJoin || next.sym == sWith }

// front moves a verb at the end of out before the phrase that it ends.
func front(out []token, verb, next token) []token {
	n := len(out)
	if verb.sym == sRep {
		switch next.sym {
		case sFrom, sStar, sAround, sRound, sRow, sTimes, sMore, sOnce:
			return out
		case sNumber:
			return out
		}
	}
	k := n - 1
scan:
	for k > 0 && (out[k-1].line == verb.line || k < n-1 && out[k-1].line+1 == out[k].line && (out[k-1].sym == sFrom || out[k-1].sym == sFill)) {
		b := out[k-1]
		switch b.sym {
		case sFill, sNumber, sOf:
		case sSt, sFirst, sLast, sNext:
			if verb.sym == sRep && b.sym != sLast {
				break scan
			}
		case sStitch:
			join := verb.sym == sJoin && (b.val.stitch == stitch.SlSt || k > 1 && (out[k-2].ordinal || out[k-2].sym == sFirst || out[k-2].sym == sFill || out[k-2].sym == sLast))
			if !join && verb.sym != sSkip {
				break scan
			}
		case sSpace, sEach:
			if verb.sym != sSkip {
				break scan
			}
		case sWith, sIn, sRing, sTop, sBegin:
			if verb.sym != sJoin {
				break scan
			}
		case sTo:
		case sRound, sRow:
			if verb.sym == sSkip {
				break scan
			}
		case sStar:
			if verb.sym != sRep || k < 2 || out[k-2].sym != sFrom && out[k-2].sym != sTo && out[k-2].sym != sDash {
				break scan
			}
		case sFrom, sMore, sTimes, sX, sOnce, sAround, sEnd, sDash:
			if verb.sym != sRep {
				break scan
			}
			if b.sym == sDash && (k < 2 || out[k-2].sym != sStar) {
				break scan
			}
		default:
			break scan
		}
		k--
	}
	if verb.sym == sJoin {
		// "4 Lm mit 1 Km zum Ring schließen": the chain stays outside
		for j := k; j+1 < n-1; j++ {
			if out[j].sym == sNumber && !out[j].ordinal && out[j+1].sym == sStitch && out[j+1].val.stitch == stitch.Ch {
				k = j + 2
			}
		}
	}
	if verb.sym == sSkip && k < n-1 && out[k].sym == sFill {
		for k < n-1 && out[k].sym == sFill {
			k++
		}
	}
	if k == n-1 {
		return out
	}
	move(out, k, verb)
	return out
}

// replace puts the words given in place of the last n tokens of out. The places
// in the text stay where they were; the last word takes those that are left.
func replace(out []token, n int, by ...token) []token {
	first := len(out) - n
	end := out[len(out)-1].to
	for i, t := range by {
		place := out[first+i]
		t.from, t.to, t.glued = place.from, place.to, place.glued
		out[first+i] = t
	}
	out = out[:first+len(by)]
	out[len(out)-1].to = end
	return out
}

// move puts the last token t of out at k. The words move, their places in the
// text stay.
func move(out []token, k int, t token) {
	for j := len(out) - 1; j >= k; j-- {
		o := out[j]
		if j > k {
			out[j] = out[j-1]
		} else {
			out[j] = t
		}
		out[j].from, out[j].to, out[j].glued = o.from, o.to, o.glued
	}
}
