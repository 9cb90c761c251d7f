package notation

import (
	"strings"
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
	start := r.start // a chain that waits for its first round
	lost := false    // a sentence works stitches and was not understood
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
			l := r.told(start, s[:n])
			switch {
			case l == nil:
				lost = lost || r.last != nil && namesWork(s[:n])
			case lost && l.Declared == nil && plainRound(l.Body):
				// of what it is a round is not known
			default:
				rounds = append(rounds, l)
				r.start = nil
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
	return saysNext(toks) || toks[0].text == "take" || worksOn(toks[:1])
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

// sentence returns how many tokens the first sentence of toks is, and the one
// after it that says its count: "Six times. That leaves 18."
func sentence(toks []token) int {
	n := oneSentence(toks)
	if k := oneSentence(toks[n:]); saysCount(toks[n : n+k]) {
		n += k
	}
	return n
}

// saysCount reports whether a sentence says how many stitches there are, and
// nothing else.
func saysCount(toks []token) bool {
	have, numbers := false, 0
	for _, t := range toks {
		switch t.sym {
		case sHave:
			have = true
		case sTotal:
			have = true
		case sNumber:
			numbers++
		case sFill, sSt, sStop, sColon, sAround, sAnd:
		default:
			return false
		}
	}
	return (have || len(toks) <= 2) && numbers == 1
}

// oneSentence returns how many tokens the first sentence of toks is.
func oneSentence(toks []token) int {
	for i := 1; i < len(toks); i++ {
		last, t := toks[i-1], toks[i]
		switch {
		case last.sym == sStop && last.text != ";" || last.sym == sSign && last.text == "?":
			if t.capital || t.line != last.line || !last.glued || i < 2 || toks[i-2].sym != sWord || len(toks[i-2].text) > 3 {
				return i
			}
		case last.stopped && t.capital:
			return i
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
		case sHave, sTotal, sUntil:
			whole = true
		case sBack: // "back to sixteen"
			whole = whole || i+1 < len(toks) && toks[i+1].sym == sTo
		case sEven:
			whole = whole || i == 0 || toks[i-1].sym != sNumber // "two plain"
		case sAround:
			whole = whole || i == 0 || toks[i-1].sym != sTimes // "next time around"
		case sRound:
			whole = whole || i > 0 && toks[i-1].sym == sNumber && !toks[i-1].ordinal
		case sComma, sStop, sDash:
			next := i + 1
			for next < len(toks) && toks[next].text == "and" {
				next++
			}
			if whole && next < len(toks) && (saysNext(toks[next:]) || next > i+1 && saysRounds(toks[next:], false)) {
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
	for i := 0; i < len(toks) && i < 4; i++ { // "on the next one", "in the following round"
		switch t := toks[i]; {
		case t.sym == sNext && i > 0 && i+1 < len(toks):
			return toks[i+1].sym == sRound || toks[i+1].text == "one" && (i+2 >= len(toks) || toks[i+2].sym != sSt && toks[i+2].sym != sStitch)
		case t.sym != sIn && t.sym != sFill:
			return false
		}
	}
	return false
}

// saysRounds reports whether the first clause of toks gives a number of rounds, or
// of rows where the text calls its rounds so:
// "work one plain round", "for the tail work four more rounds".
func saysRounds(toks []token, rows bool) bool {
	for i, t := range toks {
		switch t.sym {
		case sComma, sStop, sHave:
			return false
		case sRound, sRow:
			if t.sym == sRow && !rows {
				continue
			}
			if i > 0 && toks[i-1].sym == sNumber && !toks[i-1].ordinal {
				return true
			}
			return i > 1 && toks[i-2].sym == sNumber && !toks[i-2].ordinal && (toks[i-1].sym == sEven || toks[i-1].sym == sMore)
		}
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
			if t.val.stitch != stitch.Ch && t.val.stitch != stitch.SlSt { // "make a slip knot and chain 2"
				return false
			}
			chain = chain || t.val.stitch == stitch.Ch
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
	if len(toks) > maxTold || len(start) > maxTold || len(start) > 0 && start[len(start)-1].to > toks[0].from {
		return nil
	}
	l := &Line{File: r.file, First: -1, Last: -1, Perhaps: true, Prose: true, Row: r.last != nil && r.last.Row}
	from := toks[0].from
	label := l.roundNamed(toks)
	lead := label + roundsOn(l, toks[label:])
	if lead == len(toks) {
		lead = label + leadIn(toks[label:])
	}
	words := 0
	for _, t := range toks[label:lead] {
		if t.sym == sWord {
			words++
		}
	}
	if lead == len(toks) || doubtful(toks) || joinsOnly(toks) {
		return nil
	}
	if len(start) > 0 {
		from = start[0].from
		start = understood(start[leadIn(start):])
	}
	body := append(start, toks[lead:]...)
	if len(start) > 0 {
		body[len(start)-1].sym = sComma
	}
	body = retold(body)
	if l.Rounds == 0 && untilMeasured(toks[lead:]) {
		l.Rounds = 1 // or more: how many is not said
	}
	l.At = source.Span{From: from, To: toks[len(toks)-1].to}
	p := r.parser(body)
	p.line = l
	if len(l.Body) == 0 {
		p.body()
	}
	if shapes(body) && everyRound(toks) { // "increase six in every row": how many rounds are told is not known
		l.Body, l.Unread = nil, l.At
	}
	l.Likely = r.last != nil && (l.Declared != nil && l.Declared.Total >= 3 && namesStitches(body) && (label > 0 || saysNext(toks)) ||
		shapes(body) && (label > 0 || worksOn(toks[:1])))
	if l.Likely && (l.Unread.IsValid() || len(l.Body) == 0) {
		return l
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
	case core <= 2 && words <= 2 && manyOf(l.Body) && namesStitches(body): // "eight times two together finishes it off"
	case l.Likely:
	case core > 0 || words > 2 || !goesRound(l) || !namesStitches(body) && !plainRound(l.Body):
		return nil
	}
	l.Firm = words <= 4 && (core == 0 && goesRound(l) || core <= 2 && l.Declared == nil && manyOf(l.Body))
	return l
}

// joinsOnly reports whether a sentence closes the round before and works nothing:
// "Join to the first cluster."
func joinsOnly(toks []token) bool {
	for _, t := range toks {
		switch t.sym {
		case sNumber, sEach, sAround, sInc, sDec, sEven:
			return false
		case sHave, sTotal, sStop:
			return toks[0].sym == sJoin
		}
	}
	return toks[0].sym == sJoin
}

// shapes reports whether toks say to increase or to decrease.
func shapes(toks []token) bool {
	for _, t := range toks {
		if t.sym == sInc || t.sym == sDec {
			return true
		}
	}
	return false
}

// everyRound reports whether toks speak of every round: "six in every row".
func everyRound(toks []token) bool {
	for i := 1; i < len(toks); i++ {
		if (toks[i].sym == sRound || toks[i].sym == sRow) && toks[i-1].sym == sEach {
			return true
		}
	}
	return false
}

// untilMeasured reports whether toks say to work until something has a measure.
func untilMeasured(toks []token) bool {
	until := false
	for _, t := range toks {
		until = until || t.sym == sUntil
		if until && (t.sym == sMeasure || t.sym == sSign && t.text == "\"") {
			return true
		}
	}
	return false
}

// understood returns the tokens of toks that mean something.
func understood(toks []token) []token {
	var out []token
	for _, t := range toks {
		if t.sym != sWord {
			out = append(out, t)
		}
	}
	return out
}

// doubtful reports whether toks hold words that speak of rounds and tell none.
func doubtful(toks []token) bool {
	if toks[0].sym == sFasten && !namesStitches(toks) {
		return true // "fasten off, and sew the work over two rounds of card"
	}
	for i, t := range toks {
		if t.sym == sEqual || t.text == "?" || unsure[t.text] {
			return true
		}
		if t.text == "always" && !(i+1 < len(toks) && (toks[i+1].text == "began" || toks[i+1].text == "started")) {
			return true
		}
	}
	return false
}

// toldOtherwise reports whether a line that reads as a round is one sentence or
// several that have to be read as such.
func (r *reader) toldOtherwise(toks []token) bool {
	return r.tells() && ((&Line{File: r.file}).roundNamed(toks) > 0 || doubtful(toks[:min(3, len(toks))]) || shapes(toks) && everyRound(toks) || r.several(toks))
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

// roundsOn reads "continue in a tube on 10 stitches for 22 rounds" and "go
// around 4 times with no changes" into l. It returns where that ends; the number
// of toks if it is not there.
func roundsOn(l *Line, toks []token) int {
	if namesStitches(toks) {
		return len(toks)
	}
	rounds, even, end := 0, false, 0
	for i, t := range toks {
		switch {
		case t.sym == sEven:
			even, end = true, i+1
		case t.sym != sNumber && t.sym != sOnce || t.ordinal || t.decimal || i+1 >= len(toks):
		case toks[i+1].sym == sSt && rounds == 0:
			l.Declared = &Declared{At: source.Span{From: t.from, To: toks[i+1].to}, Total: t.num}
		case i > 0 && (toks[i-1].sym == sAround || toks[i-1].sym == sRound) && (toks[i+1].sym == sTimes || t.sym == sOnce):
			rounds, end = t.num, i+2
		case worksOn(toks[:i]) && saysRounds(toks[i:min(i+3, len(toks))], l.Row):
			rounds, even, end = t.num, true, i+2
			for toks[end-1].sym != sRound && toks[end-1].sym != sRow {
				end++
			}
		}
	}
	if rounds < 1 || !even {
		l.Declared = nil
		return len(toks)
	}
	l.Body, l.Rounds = []Node{&Evenly{at: at{From: toks[0].from, To: toks[end-1].to}}}, min(rounds, maxNumber)
	return end - 1
}

// namesStitches reports whether toks name stitches or ways to work them.
func namesStitches(toks []token) bool {
	for _, t := range toks {
		switch t.sym {
		case sStitch, sInc, sDec, sTog, sForm, sSkip, sMagic, sRing, sEach, sAs, sDouble:
			return true
		case sRep:
			if t.text != "continue" {
				return true
			}
		}
	}
	return false
}

// namesWork reports whether a sentence names stitches, not chains alone, and a
// number of them, and does not tell what counts as what.
func namesWork(toks []token) bool {
	stitches, number := false, false
	for _, t := range toks {
		switch t.sym {
		case sStitch:
			stitches = stitches || t.val.stitch.Base > stitch.Slip
		case sNumber:
			number = number || !t.ordinal
		case sCounts, sEqual:
			return false
		}
	}
	return stitches && number
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
	"means that": true, "called": true, "usually": true, "often": true, "sometimes": true, "gauge": true, "tension": true, "because": true, "wrong": true,
}

// roundNamed reads the words of a sentence that name the round that it tells
// into the label of l: "In the next round", "For the second round you", "Round
// four is", "The fifth and sixth rounds are", "In the fourth,". It returns how
// many tokens they are, 0 if none is named.
func (l *Line) roundNamed(toks []token) int {
	at := func(i int) token {
		if i < len(toks) {
			return toks[i]
		}
		return token{sym: sStop}
	}
	i := 0
	for ; i < 6; i++ {
		if s := at(i).sym; s != sFill && s != sIn && s != sAnd && s != sComma && s != sWord {
			break
		}
	}
	from, end := i, 0
	first, last := -1, -1
	switch t := at(i); {
	case t.sym == sNext || t.sym == sLast:
		end = i + 1
		if at(end).sym == sTimes && (at(end+1).sym == sAround || at(end+1).sym == sRound) { // "next time round"
			end += 2
			break
		}
		if at(end).text == "one" && i > 0 && toks[i-1].sym == sFill && at(end+1).sym != sSt && at(end+1).sym != sStitch && at(end+1).sym != sTimes { // "on the next one"
			end++
			break
		}
		if at(end).sym != sRound && at(end).sym != sRow {
			return 0
		}
		end++
	case t.sym == sRound || t.sym == sRow:
		if at(i+1).sym != sNumber || at(i+1).ordinal && i == 0 || at(i+1).decimal || at(i+2).sym == sTimes {
			return 0
		}
		first = at(i + 1).num
		for end = i + 2; at(i).text != "round"; { // "rounds 4, 5 and 6"
			k := end
			for s := at(k).sym; s == sDash || s == sTo || s == sAnd || s == sComma; s = at(k).sym {
				k++
			}
			if k == end || at(k).sym != sNumber || at(k).num <= max(first, last) {
				break
			}
			last, end = at(k).num, k+1
		}
		if s := at(end).sym; i == 0 && s != sFill && at(end).text != "are" {
			return 0
		}
	case t.sym == sFirst || t.sym == sNumber && t.ordinal:
		first = max(t.num, 1)
		for end = i + 1; ; end++ { // "fifth, sixth and seventh"
			if s := at(end).sym; s != sComma && s != sAnd && s != sTo {
				break
			}
			if n := at(end + 1); n.sym == sNumber && n.ordinal && n.num > max(first, last) {
				last = n.num
				end++
			} else if n.sym != sAnd {
				break
			}
		}
		switch {
		case at(end).sym == sRound || at(end).sym == sRow:
			end++
		case at(end).sym == sTimes && (at(end+1).sym == sAround || at(end+1).sym == sRound): // "third time round"
			end += 2
		case i > 0 && at(0).sym == sIn && first > 1 && (at(end).sym == sComma || at(end).sym == sInc || at(end).sym == sDec || at(end).sym == sFill): // "In the fourth, increase"
		default:
			return 0
		}
	default:
		return 0
	}
	if first >= 0 {
		l.First, l.Last = first, max(first, last)
		l.LabelAt = source.Span{From: toks[from].from, To: toks[end-1].to}
		l.Label = l.File.Text[l.LabelAt.From:l.LabelAt.To]
	}
	for s := at(end).sym; end < len(toks) && (s == sFill || s == sComma || s == sColon || at(end).text == "are"); s = at(end).sym {
		end++
	}
	return end
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
		case sTog, sEven, sMagic, sSkip, sRep, sForm, sEach, sStar, sAround, sRing, sOpen:
			return i
		case sStitch:
			if t.val.stitch != stitch.SlSt { // "slip off"
				return i
			}
		case sInc, sDec: // "begin to decrease: take two plain"
			if at(i+1) != sColon {
				return i
			}
		case sLoop: // "make a loop with 5 single crochets in it"
			if s := at(i + 1); s == sWith || s == sAnd {
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
			next := i + 1
			for at(next) == sFill {
				next++
			}
			switch at(next) {
			case sStitch, sSt, sInc, sDec, sIn, sTog, sEven, sRound, sForm, sDouble, sNext:
				return i
			case sTimes: // "eight times two together"
				if at(next+1) == sNumber {
					return i
				}
			case sComma, sAnd: // "one, then two in the next"
				j := i + 2
				for s := at(j); s == sComma || s == sAnd || s == sFill; s = at(j) {
					j++
				}
				if s := at(j + 1); at(j) == sNumber && (s == sIn || s == sTog) {
					return i
				}
			}
		}
	}
	return len(toks)
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
			round = round || n.Places == ToEnd
		case *In:
			round = round || n.Places == ToEnd
		case *Repeat:
			round = round || n.Doubt&Bare == 0 && (n.Times == ToEnd || l.Declared != nil)
		case *Start:
			return false
		}
	}
	return round || manyOf(l.Body)
}

// manyOf reports whether one of nodes is worked many times in a row.
func manyOf(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Places >= manyTimes && n.Stitch != stitch.Ch && n.Target.Where != Ring {
				return true
			}
		case *In:
			if n.Places >= manyTimes {
				return true
			}
		case *Repeat:
			if n.Doubt&Bare == 0 && n.Times >= manyTimes || n.Doubt&Bare != 0 && manyOf(n.Body) {
				return true
			}
		}
	}
	return false
}

// capitals notes the words that begin with a capital letter, and those that end
// with a stop.
func capitals(text string, toks []token) {
	for i := range toks {
		t := &toks[i]
		r, _ := utf8.DecodeRuneInString(text[t.from:])
		t.capital = unicode.IsUpper(r)
		t.stopped = t.sym != sStop && t.to > t.from && text[t.to-1] == '.'
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
		case t.text == "double" && i+2 < len(toks) && toks[i+1].sym == sEach && toks[i+2].sym == sSt: // "double every stitch"
			t.sym, t.val = sInc, value{}
		case t.text == "double" && i+1 < len(toks) && toks[i+1].text == "up": // "double up: two in every stitch"
			t.sym = sFill
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
	return r.tells() && !toks[0].capital && last.sym != sStop && last.sym != sColon && last.sym != sClose && decoration(toks) == 0
}

// resumes returns the number of the round up to which a sentence says that the
// work is like that of another piece: "Work as the small mat to the end of the
// 4th round", and where it says so. It is 0 if it says nothing of the kind.
func resumes(toks []token) (round, i int) {
	as := false
	for i, t := range toks {
		switch t.sym {
		case sAs, sSame:
			as = true
		case sRound, sRow:
			if !as || i == 0 {
				continue
			}
			if n := toks[i-1]; n.sym == sNumber && n.ordinal { // "to the end of the 4th round"
				return n.num, i
			}
			if i+1 < len(toks) && toks[i+1].sym == sNumber && saysTo(toks[:i]) { // "up to round 4"
				return toks[i+1].num, i
			}
		}
	}
	return 0, 0
}

// saysTo reports whether toks end with "to", "through" or "to the end of".
func saysTo(toks []token) bool {
	for i := len(toks) - 1; i >= 0; i-- {
		switch t := toks[i]; {
		case t.sym == sTo, t.sym == sUntil, t.text == "through", t.text == "thru", t.sym == sAround && strings.HasPrefix(t.text, "to"):
			return true
		case t.sym != sFill && t.sym != sEnd && t.sym != sOf:
			return false
		}
	}
	return false
}
