package notation

import (
	"unicode"
	"unicode/utf8"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// maxTold is the most words and signs that a sentence may have to be a round.
// The longest that was met has 60.
const maxTold = 120

// shortLine is how many bytes a line has at least that its sentence fills.
const shortLine = 45

// pend keeps a line that is no round by itself until its paragraph is there:
// rounds may be told in the sentences of it.
func (r *reader) pend(toks []token, at source.Span) {
	if len(r.telling) > 0 && !r.midSentence(toks) {
		toks[0].capital = true // it begins a sentence, whatever its letter
	}
	r.telling = append(r.telling, toks...)
	r.tellingAt = append(r.tellingAt, at)
}

// tell finds the rounds that are told in the sentences of the lines kept. The
// lines in which there are none are notes.
func (r *reader) tell() {
	toks, at := r.telling, r.tellingAt
	r.telling, r.tellingAt = nil, nil
	rounds := r.toldIn(toks)
	for _, span := range at {
		free := span.From >= r.toldTo
		for len(rounds) > 0 && rounds[0].At.From < span.To {
			r.take(rounds[:1])
			rounds = rounds[1:]
			free = false
		}
		if free {
			r.note(span)
		}
	}
}

// take adds rounds that are told in sentences to the text.
func (r *reader) take(rounds []*Line) {
	for _, l := range rounds {
		r.text.Items = append(r.text.Items, Item{At: l.At, Line: l})
		r.toldTo = l.At.To
	}
}

// toldIn reads the rounds that are told in sentences.
func (r *reader) toldIn(toks []token) []*Line {
	var rounds []*Line
	if !r.tells() {
		return nil
	}
	var start []token // a chain that waits for its first round
	for len(toks) > 0 {
		n := sentence(toks)
		s := toks[:n]
		toks = toks[n:]
		if isStartingChain(s) {
			start = s
			continue
		}
		for len(s) > 0 {
			n := clause(s)
			if l := r.told(start, s[:n]); l != nil {
				rounds = append(rounds, l)
				r.read(l)
			}
			start, s = nil, s[n:]
		}
	}
	return rounds
}

// tellsOf reports whether the sentences that toks begin with tell a round.
func (r *reader) tellsOf(toks []token) bool {
	if !r.tells() {
		return false
	}
	n := sentence(toks)
	var start []token
	if n < len(toks) && isStartingChain(toks[:n]) {
		start, toks = toks[:n], toks[n:]
		n = sentence(toks)
	}
	return r.told(start, toks[:clause(toks[:n])]) != nil
}

// leadsOn reports whether a sentence begins as one that tells the next round.
func leadsOn(toks []token) bool {
	return saysNext(toks) || toks[0].text == "take"
}

// read notes that a round was read.
func (r *reader) read(l *Line) {
	r.last = l
	if l.Last >= 0 {
		r.number = l.Last
	} else {
		r.number += max(l.Rounds, 1)
	}
	if b := firstBase(l.Body); b != stitch.NoBase {
		r.main = b
	}
}

// tells reports whether the text may tell its rounds in sentences. The words
// that lead to them are known in English only.
func (r *reader) tells() bool { return r.text.Language == english.code && !r.opt.Strict }

// sentence returns how many tokens the first sentence of toks is.
func sentence(toks []token) int {
	for i := 1; i < len(toks); i++ {
		last, t := toks[i-1], toks[i]
		switch {
		case last.sym == sStop && last.text != ";" || last.sym == sSign && last.text == "?":
			if t.capital || t.sym == sNumber && t.line != last.line {
				return i
			}
		case t.line != last.line && t.capital:
			switch last.sym {
			case sComma, sAnd, sIn, sFill, sOf, sEach, sNext, sDash, sNumber:
			default:
				return i
			}
		}
	}
	return len(toks)
}

// clause returns how many tokens of a sentence are told of its first round:
// "..., 10 left, and then two together all around until 5 are left".
func clause(toks []token) int {
	whole := false // what went before tells a round to its end
	for i, t := range toks {
		switch t.sym {
		case sHave, sTotal, sAround, sRound, sUntil:
			whole = true
		case sComma, sStop, sDash:
			next := i + 1
			for next < len(toks) && toks[next].text == "and" {
				next++
			}
			if whole && next < len(toks) && saysNext(toks[next:]) {
				return i + 1
			}
		}
	}
	return len(toks)
}

// saysNext reports whether toks begin with a word that leads to the next round.
func saysNext(toks []token) bool {
	switch toks[0].text {
	case "then", "again", "now", "after", "next":
		return true
	}
	return false
}

// isStartingChain reports whether a sentence makes a chain and nothing else:
// "For the body take the brown yarn and chain 2."
func isStartingChain(toks []token) bool {
	chain, number := false, false
	for _, t := range toks {
		switch t.sym {
		case sStitch:
			if t.val.stitch != stitch.Ch {
				return false
			}
			chain = true
		case sNumber:
			number = true
		case sInc, sDec, sTog, sForm, sEven, sRep, sAround, sRound, sRow, sHook, sMeasure, sEach:
			return false
		}
	}
	return chain && number
}

// told reads the round that is told in a sentence, on the chain that the one
// before made. It returns nil if there is none.
func (r *reader) told(start, toks []token) *Line {
	if len(toks) > maxTold || len(start) > maxTold {
		return nil
	}
	l := &Line{File: r.file, First: -1, Last: -1, Perhaps: true, Prose: true}
	from := toks[0].from
	label := roundNamed(toks)
	if label > 0 {
		if i := numberIn(toks[:label]); i >= 0 {
			l.First, l.Last = toks[i].num, toks[i].num
			l.LabelAt = source.Span{From: toks[0].from, To: toks[label-1].to}
			l.Label = r.file.Text[l.LabelAt.From:l.LabelAt.To]
		}
	}
	lead := label + roundsOn(l, toks[label:])
	if lead == len(toks) {
		lead = label + leadIn(toks[label:])
	}
	words, doubt := 0, doubtful(toks)
	for _, t := range toks[label:lead] {
		if t.sym == sWord {
			words++
		}
	}
	if doubt || lead == len(toks) {
		return nil
	}
	body := append(append([]token(nil), start...), toks[lead:]...)
	if len(start) > 0 {
		from = start[0].from
		body[len(start)-1].sym = sComma
	}
	body = retold(body)
	l.At = source.Span{From: from, To: toks[len(toks)-1].to}
	p := r.parser(body)
	p.line = l
	if len(l.Body) == 0 {
		p.body()
	}
	if l.Unread.IsValid() || len(l.Body) == 0 {
		return nil
	}
	if l.Rounds == 0 {
		l.Rounds = roundsIn(body)
	}
	end := len(body)
	if l.Declared != nil {
		for end > 0 && body[end-1].to > l.Declared.At.To {
			end--
		}
	}
	core := 0 // words of the instruction itself that were not understood
	for _, t := range body[:end] {
		if t.from >= toks[lead].from && (t.sym == sWord || t.sym == sMeasure) {
			core++
		}
	}
	works, _, _ := weigh(body)
	begins := beginsAnew(l.Body)
	switch {
	case begins:
		if core > 4 {
			return nil
		}
		if r.last != nil {
			l.First, l.Last = 1, 1
		}
	case r.last == nil && len(r.open) == 0:
		return nil
	case l.Declared != nil:
		if core > 2*works+6 {
			return nil
		}
	case l.Rounds > 0 && core <= 4 && plainRound(l.Body):
	case core > 0 || words > 2 || !goesRound(l) || !namesStitches(body) && !plainRound(l.Body):
		return nil
	}
	l.Firm = core == 0 && words <= 4 && goesRound(l)
	return l
}

// doubtful reports whether toks hold words that speak of rounds and tell none.
func doubtful(toks []token) bool {
	for _, t := range toks {
		if t.sym == sEqual || t.text == "?" || unsure[t.text] {
			return true
		}
	}
	return false
}

// toldOtherwise reports whether a line that reads as a round is one sentence or
// several that have to be read as such.
func (r *reader) toldOtherwise(toks []token) bool {
	return r.tells() && (roundNamed(toks) > 0 || doubtful(toks[:min(3, len(toks))]) || r.several(toks))
}

// several reports whether a line tells more than one round, or one and a part
// of the next.
func (r *reader) several(toks []token) bool {
	if !r.tells() || len(toks) > maxTokens {
		return false
	}
	told := 0
	for rest := toks; len(rest) > 0; {
		n := clause(rest[:sentence(rest)])
		if r.told(nil, rest[:n]) != nil {
			told++
		}
		rest = rest[n:]
	}
	switch toks[len(toks)-1].sym {
	case sAnd, sComma, sIn, sEach, sNext:
		return told > 0 && sentence(toks) < len(toks)
	}
	return told > 1
}

// roundsOn reads "continue in a tube on 10 stitches for 22 rounds" into l. It
// returns where that ends; the number of toks if it is not there.
func roundsOn(l *Line, toks []token) int {
	if namesStitches(toks) {
		return len(toks)
	}
	for i := 0; i+1 < len(toks); i++ {
		t, next := toks[i], toks[i+1]
		if t.sym != sNumber || t.ordinal || t.decimal {
			continue
		}
		span := at{From: t.from, To: next.to}
		switch next.sym {
		case sSt:
			l.Declared = &Declared{At: source.Span(span), Total: t.num}
		case sRound:
			if worksOn(toks[:i]) {
				l.Body, l.Rounds = []Node{&Evenly{at: span}}, min(t.num, maxNumber)
				return i + 1
			}
		}
	}
	l.Declared = nil
	return len(toks)
}

// namesStitches reports whether toks name stitches or ways to work them.
func namesStitches(toks []token) bool {
	for _, t := range toks {
		switch t.sym {
		case sStitch, sInc, sDec, sTog, sForm, sEven, sSkip, sMagic, sRing, sEach, sAs, sDouble:
			return true
		case sRep:
			if t.text != "continue" {
				return true
			}
		}
	}
	return false
}

// worksOn reports whether toks say to work: "continue", "work".
func worksOn(toks []token) bool {
	for _, t := range toks {
		switch t.text {
		case "work", "make", "crochet", "continue", "go", "do", "keep":
			return true
		}
	}
	return false
}

// unsure are the words of [doubtful].
var unsure = map[string]bool{
	"if": true, "means": true, "could": true, "would": true, "might": true, "instead": true, "can": true, "never": true,
	"means that": true, "called": true, "always": true, "usually": true, "often": true, "sometimes": true, "gauge": true, "tension": true, "because": true, "wrong": true,
}

// roundNamed returns how many tokens of a sentence name the round that it tells:
// "In the next round", "For the second round you", "Round four is". It is 0 if
// none is named.
func roundNamed(toks []token) int {
	for i := 0; i < len(toks) && i < 8; i++ {
		switch t := toks[i]; t.sym {
		case sFill, sIn, sAnd, sNext, sLast, sFirst, sComma, sWord:
		case sNumber:
			if !t.ordinal {
				return 0
			}
		case sRound, sRow:
			before := sStop
			if i > 0 {
				before = toks[i-1].sym
			}
			n := i + 1
			switch {
			case before == sNext || before == sLast || before == sFirst || before == sNumber:
			case n < len(toks) && toks[n].sym == sNumber && n+1 < len(toks) && toks[n+1].sym == sFill:
				n++
			default:
				return 0
			}
			for n < len(toks) && (toks[n].sym == sFill || toks[n].sym == sComma || toks[n].sym == sColon) {
				n++
			}
			return n
		default:
			return 0
		}
	}
	return 0
}

// numberIn returns where the number of a round stands in the words that name it;
// -1 if it has none.
func numberIn(toks []token) int {
	for i, t := range toks {
		if t.sym == sNumber {
			return i
		}
	}
	return -1
}

// leadIn returns how many tokens stand before the instruction of a sentence:
// "Now the blunt end, which is quick:", "Then for the dimple I".
func leadIn(toks []token) int {
	at := func(i int) sym {
		if i < len(toks) {
			return toks[i].sym
		}
		return sStop
	}
	for i, t := range toks {
		switch t.sym {
		case sStitch, sInc, sDec, sTog, sEven, sMagic, sSkip, sRep, sForm, sEach, sStar, sAround:
			return i
		case sRing:
			return i
		case sLoop: // "make a loop with 5 single crochets in it"
			if at(i+1) == sWith {
				return i
			}
		case sOnce, sSame:
			if at(i+1) == sAround || at(i+1) == sMore {
				return i
			}
		case sMore: // "and again, five left"
			if s := at(i + 1); onlyAnd(toks[:i]) && (s == sComma || s == sStop || s == sHave) {
				return i
			}
		case sIn:
			j := i + 1
			for at(j) == sFill {
				j++
			}
			if s := at(j); s == sEach || s == sRing || s == sMagic || s == sBLO || s == sFLO {
				return i
			}
		case sNumber:
			switch at(i + 1) {
			case sStitch, sSt, sInc, sDec, sIn, sTog, sEven, sRound, sForm, sDouble, sNext:
				return i
			}
		}
	}
	return len(toks)
}

// onlyAnd reports whether toks say nothing but "and then".
func onlyAnd(toks []token) bool {
	for _, t := range toks {
		if t.sym != sAnd && t.sym != sFill {
			return false
		}
	}
	return true
}

// retold puts the words of a sentence into the order of an instruction.
func retold(toks []token) []token {
	ring, chain, chains := false, false, 0
	out := make([]token, 0, len(toks)+2)
	at := func(i int) token {
		if i >= 0 && i < len(toks) {
			return toks[i]
		}
		return token{sym: sStop}
	}
	past := func(i int) int {
		for at(i).sym == sFill {
			i++
		}
		return i
	}
	for i := 0; i < len(toks); i++ {
		t := toks[i]
		switch t.sym {
		case sMagic, sRing:
			ring = true
		case sLoop: // "make a loop with 5 single crochets in it"
			if !ring && !chain && len(out) == 0 {
				ring = true
				t.sym = sMagic
			}
		case sStitch:
			if t.val.stitch == stitch.Ch {
				chain = true
				for _, n := range []token{at(i - 1), at(i + 1), at(i + 2)} {
					if n.sym == sNumber && !n.ordinal {
						chains = min(n.num, maxNumber)
						break
					}
				}
				if at(i+1).sym == sOf && at(i+2).sym == sNumber { // "a chain of four"
					n := at(i + 2)
					n.from, n.to, t.from, t.to = t.from, t.to, n.from, n.to
					out = append(out, n, t)
					i += 2
					continue
				}
			}
		case sIn:
			if at(i+1).text == "it" && ring { // "put 5 sc into it"
				out = append(out, t)
				t = at(i + 1)
				t.sym = sRing
				i++
				break
			}
			if j := past(i + 1); chain && !ring && at(j).sym == sFirst && (at(j+1).sym == sSt || at(j+1).sym == sLoop || at(j+1).sym == sStitch && at(j+1).val.stitch == stitch.Ch) {
				// "in the first stitch of it put eight": the one farthest from the hook
				last := at(j + 1).to
				if i = j + 1; at(i+1).sym == sOf && at(i+2).text == "it" {
					i += 2
				}
				for _, m := range []token{t, {sym: sNumber, num: max(chains, 2), ordinal: true}, {sym: sStitch, val: st(stitch.Ch)}, {sym: sFrom}, {sym: sHook}} {
					m.from, m.to, m.line = t.from, last, t.line
					if m.sym != sIn {
						m.from = last
					} else {
						m.to = last
					}
					out = append(out, m)
				}
				chain, ring = false, true
				continue
			}
		case sWith:
			if ring && at(i+1).sym == sNumber {
				continue
			}
		case sAnd: // "and so on"
			if at(i+1).text == "so" && at(i+2).text == "on" {
				if s := at(i + 3).sym; s == sComma || s == sStop {
					t.sym, t.to = sAround, at(i+2).to
					i += 2
				}
			}
		case sWord: // "one double one, I mean two in one"
			if n := len(out); t.text == "mean" && n > 1 && out[n-1].text == "i" {
				for n--; n > 0 && (out[n-1].sym == sComma || out[n-1].sym == sDash); n-- {
				}
				for n > 0 && out[n-1].sym != sAnd && out[n-1].sym != sComma {
					n--
				}
				out = out[:n]
				continue
			}
		case sUntil: // "until 5 are left"
			j := past(i + 1)
			k := past(j + 1)
			if at(k).sym == sSt {
				k = past(k + 1)
			}
			if at(k).text == "are" {
				k++
			}
			if at(j).sym != sNumber || at(k).sym != sTotal {
				if len(out) > 0 {
					return out // "until the wall stands 2 inches": so many rounds
				}
				break
			}
			t.sym = sHave
			out = append(out, t, at(j))
			t, i = at(k), k
		case sRound: // "go round and round for four rounds"
			if n := len(out); t.text == "round" && (n == 0 || out[n-1].sym != sNumber && out[n-1].sym != sLast && out[n-1].sym != sAs) && at(i+1).sym != sNumber {
				continue
			}
		case sMore: // "plain again", "and again, five left"
			if t.text == "again" {
				if len(out) > 0 && out[len(out)-1].sym == sEven {
					continue
				}
				if onlyAnd(out) {
					t.sym = sRep
					last, round := t, t
					last.sym, round.sym = sLast, sRound
					last.from, last.to, round.from, round.to = t.to, t.to, t.to, t.to
					out = append(out, t, last)
					t = round
				}
			}
		}
		out = append(out, t)
	}
	return out
}

// beginsAnew reports whether nodes begin a piece with stitches in a ring.
func beginsAnew(nodes []Node) bool {
	start := false
	for _, n := range nodes {
		switch n := n.(type) {
		case *Start:
			start = true
		case *Work:
			if n.Stitch != stitch.Ch && (start || n.Target.Where == Ring || n.Target.Where == FromHook) {
				return n.Places >= 3
			}
		}
	}
	return false
}

// manyTimes is how often something is worked at least that goes all round
// without saying so: "two together 5 times".
const manyTimes = 3

// goesRound reports whether the instruction of l is of a whole round.
func goesRound(l *Line) bool {
	round := false
	for _, n := range l.Body {
		switch n := n.(type) {
		case *SameAs, *Evenly:
			round = true
		case *Work:
			round = round || n.Places == ToEnd || n.Places >= manyTimes
		case *In:
			round = round || n.Places == ToEnd || n.Places >= manyTimes
		case *Repeat:
			round = round || n.Doubt&Bare == 0 && (n.Times == ToEnd || n.Times >= manyTimes || l.Declared != nil)
			if w, ok := n.Body[0].(*Work); ok && len(n.Body) == 1 {
				round = round || w.Places >= manyTimes
			}
		case *Start:
			return false
		}
	}
	return round
}

// capitals notes the words that begin with a capital letter.
func capitals(text string, toks []token) {
	for i := range toks {
		r, _ := utf8.DecodeRuneInString(text[toks[i].from:])
		toks[i].capital = unicode.IsUpper(r)
	}
}

// wordy puts words of English patterns that have few figures into the forms of
// those that have many: "a hundred and eight" is one number.
func wordy(toks []token) []token {
	out := toks[:0]
	for i := 0; i < len(toks); i++ {
		t := toks[i]
		switch {
		case t.sym == sNumber && t.num == 100 && !isDigit(t.text[0]):
			k := i + 1
			if k < len(toks) && toks[k].text == "and" {
				k++
			}
			if k < len(toks) && toks[k].sym == sNumber && toks[k].num < 100 && toks[k].line == t.line && !isDigit(toks[k].text[0]) {
				t.num, t.ordinal, t.to = t.num+toks[k].num, toks[k].ordinal, toks[k].to
				i = k
			}
		case t.sym == sIn && len(out) > 1 && i+1 < len(toks) && toks[i+1].sym == sEach && i+1 == lastOf(toks, i):
			// "work 4 rounds even, 24 stitches in each" is a count; "2 stitches in each" is none
			if st, n := out[len(out)-1], out[len(out)-2]; st.sym == sSt && n.sym == sNumber && n.num >= 6 {
				t.sym, toks[i+1].sym = sFill, sFill
			}
		}
		out = append(out, t)
	}
	return out
}

// lastOf returns the last token of the sentence and line of the token i.
func lastOf(toks []token, i int) int {
	for j := i + 1; j < len(toks) && j < i+3; j++ {
		if toks[j].line != toks[i].line || toks[j].sym == sStop {
			return j - 1
		}
	}
	if len(toks) < i+3 {
		return len(toks) - 1
	}
	return -1
}

// midSentence reports whether a line goes on with the sentence that the lines
// kept have begun.
func (r *reader) midSentence(toks []token) bool {
	last := r.telling[len(r.telling)-1]
	if line := r.tellingAt[len(r.tellingAt)-1]; line.To-line.From < shortLine {
		return false
	}
	return r.tells() && !toks[0].capital && toks[0].sym != sNumber && last.sym != sStop && last.sym != sColon && last.sym != sClose && decoration(toks) == 0
}
