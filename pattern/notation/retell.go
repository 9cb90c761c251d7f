package notation

import "roundelay/pattern/stitch"

// retold puts the words of a sentence into the order and the words of an
// instruction.
func retold(toks []token) []token {
	t := &teller{toks: toks, out: make([]token, 0, len(toks)+4)}
	for i := 0; i < len(toks); {
		n := t.retell(i)
		if n == 0 {
			t.out = append(t.out, toks[i])
			n = 1
		}
		i += n
	}
	return t.out
}

// A teller rewrites a sentence token by token.
type teller struct {
	toks, out []token
	ring      bool // a ring was spoken of
	chain     bool // a chain was, and no ring after it
	chains    int  // of the chain, how many
}

// at returns the token i, a stop where there is none.
func (t *teller) at(i int) token {
	if i >= 0 && i < len(t.toks) {
		return t.toks[i]
	}
	return token{sym: sStop}
}

// past returns the first token from i on that says something.
func (t *teller) past(i int) int {
	for t.at(i).sym == sFill {
		i++
	}
	return i
}

// last returns the token written last.
func (t *teller) last() token {
	if n := len(t.out); n > 0 {
		return t.out[n-1]
	}
	return token{sym: sStop}
}

// made returns a token that stands for words of the text before tok.
func made(s sym, tok token) token {
	return token{sym: s, from: tok.from, to: tok.from, line: tok.line}
}

// retell writes the token i and what belongs to it in another way. It returns how
// many tokens it took, 0 if they stay as they are.
func (t *teller) retell(i int) int {
	tok := t.at(i)
	switch tok.sym {
	case sMagic, sRing:
		t.ring = true
	case sLoop: // "make a loop with 5 single crochets in it"
		if !t.ring && !t.chain && len(t.out) == 0 {
			t.ring = true
			tok.sym = sMagic
			t.out = append(t.out, tok)
			return 1
		}
	case sStitch:
		if tok.val.stitch == stitch.Ch {
			return t.chainOf(i)
		}
		if t.at(i+1).sym == sSt { // "twelve double crochet stitches"
			t.out = append(t.out, tok)
			return 2
		}
	case sIn:
		return t.into(i)
	case sWith:
		if t.ring && t.at(i+1).sym == sNumber {
			return 1
		}
	case sDec: // "narrow every third and fourth stitch together"
		each := t.past(i + 1)
		for j := each + 1; t.at(each).sym == sEach && j < each+7; j++ {
			if t.at(j).sym == sTog {
				return 1
			}
		}
	case sEach:
		return t.gets(i)
	case sWord:
		if tok.text == "turns" && t.at(i-1).text == "by" { // "one treble and two trebles by turns"
			tok.sym = sAround
			t.out = append(t.out, tok)
			return 1
		}
		return t.corrected(i)
	case sAnd: // "and so on"
		if t.at(i+1).text == "so" && t.at(i+2).text == "on" {
			if s := t.at(i + 3).sym; s == sComma || s == sStop || s == sHave || s == sTo {
				tok.sym, tok.to = sAround, t.at(i+2).to
				t.out = append(t.out, tok)
				return 3
			}
		}
	case sFill:
		if t.chain && tok.text == "made" && t.at(t.past(i+1)).sym == sRing { // "a chain made into a ring"
			tok.sym = sJoin
			t.out = append(t.out, tok)
			return 1
		}
		// "increase in every stitch for twelve"
		if n := t.at(i + 1); tok.text == "for" && n.sym == sNumber && !n.ordinal && len(t.out) > 0 {
			if s := t.at(i + 2).sym; s == sStop || s == sComma {
				t.out = append(t.out, made(sHave, n), n)
				return 2
			}
		}
	case sBack: // "by turns, back to sixteen"
		if n := t.at(i + 2); t.at(i+1).sym == sTo && n.sym == sNumber && !n.ordinal {
			t.out = append(t.out, made(sHave, n), n)
			return 3
		}
	case sTo: // "till you have 18"
		if t.at(i+1).sym == sHave {
			return 1
		}
	case sUntil:
		return t.until(i)
	case sNumber:
		return t.number(i)
	case sRound: // "go round and round for four rounds"
		if n := t.last().sym; tok.text == "round" && n != sNumber && n != sLast && n != sAs && t.at(i+1).sym != sNumber {
			return 1
		}
	case sMore:
		return t.again(i)
	}
	return 0
}

// chainOf reads "a chain of four", and notes the chain.
func (t *teller) chainOf(i int) int {
	t.chain = true
	for _, n := range []token{t.at(i - 1), t.at(i + 1), t.at(i + 2)} {
		if n.sym == sNumber && !n.ordinal {
			t.chains = min(n.num, maxNumber)
			break
		}
	}
	if t.at(i+1).sym != sOf || t.at(i+2).sym != sNumber {
		return 0
	}
	n, ch := t.at(i+2), t.at(i)
	n.from, n.to, ch.from, ch.to = ch.from, ch.to, n.from, n.to
	t.out = append(t.out, n, ch)
	if t.at(i+3).sym == sSt {
		return 4
	}
	return 3
}

// into reads "put 5 sc into it", "in the first stitch of it", "into the round",
// after a ring or a chain was spoken of.
func (t *teller) into(i int) int {
	in, j := t.at(i), t.past(i+1)
	if t.ring && t.at(i+1).text == "it" {
		ring := t.at(i + 1)
		ring.sym = sRing
		t.out = append(t.out, in, ring)
		return 2
	}
	if ring := t.at(j); t.chain && ring.sym == sRound { // of a chain that was joined
		ring.sym = sRing
		t.out = append(t.out, in, ring)
		t.ring = true
		return j + 1 - i
	}
	first := t.at(j + 1)
	if !t.chain || t.ring || t.at(j).sym != sFirst || first.sym != sSt && first.sym != sLoop && !namesChain(first) {
		return 0
	}
	// the first chain is the one farthest from the hook
	t.chain, t.ring = false, true
	hook := made(sHook, first)
	hook.to = first.to
	nth := made(sNumber, first)
	nth.num, nth.ordinal = max(t.chains, 2), true
	ch := made(sStitch, first)
	ch.val = st(stitch.Ch)
	t.out = append(t.out, in, nth, ch, made(sFrom, first), hook)
	if t.at(j+2).sym == sOf && t.at(j+3).text == "it" {
		j += 2
	}
	return j + 2 - i
}

// gets reads "every second stitch gets two" and "every one".
func (t *teller) gets(i int) int {
	if n := t.at(i + 1); n.sym == sNumber && n.text == "one" && !t.names(i+2) { // "two into every one"
		n.sym = sSt
		t.out = append(t.out, t.at(i), n)
		return 2
	}
	j := i + 1
	for t.at(j).sym == sNumber && t.at(j).ordinal || t.at(j).sym == sSt || t.at(j).sym == sFill {
		j++
	}
	switch t.at(j).text {
	case "gets", "takes", "receives", "has":
		if n := t.at(j + 1); n.sym == sNumber && !n.ordinal {
			t.out = append(t.out, n, made(sIn, t.at(i)))
			t.out = append(t.out, t.toks[i:j]...)
			return j + 2 - i
		}
	}
	return 0
}

// names reports whether the token i is what a number before it is of.
func (t *teller) names(i int) bool {
	switch t.at(i).sym {
	case sStitch, sSt, sInc, sDec, sTog, sForm, sSpace, sLoop, sTimes, sX, sMore, sRound, sRow, sDouble, sEven:
		return true
	}
	return false
}

// corrected takes back what a word of correction takes back: "one double one, I
// mean two in one".
func (t *teller) corrected(i int) int {
	n := len(t.out)
	if t.at(i).text != "mean" || n < 2 || t.out[n-1].text != "i" {
		return 0
	}
	for n--; n > 0 && (t.out[n-1].sym == sComma || t.out[n-1].sym == sDash); n-- {
	}
	for n > 0 && t.out[n-1].sym != sAnd && t.out[n-1].sym != sComma {
		n--
	}
	t.out = t.out[:n]
	return 1
}

// until reads "until 5 are left" as a count. Until something is as high or long
// as it should be says that the round is worked again and again.
func (t *teller) until(i int) int {
	tok, j := t.at(i), t.past(i+1)
	k := t.past(j + 1)
	if t.at(k).sym == sSt {
		k = t.past(k + 1)
	}
	if t.at(k).text == "are" {
		k++
	}
	switch {
	case t.at(i+1).sym == sHave:
		return 1
	case t.at(j).sym == sNumber && t.at(k).sym == sTotal:
		tok.sym = sHave
		t.out = append(t.out, tok, t.at(j), t.at(k))
		return k + 1 - i
	case len(t.out) > 0:
		for j = i + 1; j < len(t.toks) && t.at(j).sym != sStop; j++ {
		}
		return j - i
	}
	return 0
}

// number reads numbers that do not say what they are of: "one, then two in the
// next" is of stitches, ", 24, " at the end a count; "one plain round" is one
// round.
func (t *teller) number(i int) int {
	n := t.at(i)
	if n.ordinal || n.decimal {
		return 0
	}
	next := t.at(i + 1)
	if next.sym == sOf && t.at(i+2).text == "them" { // "sixteen of them"
		t.out = append(t.out, made(sHave, n), n)
		return 3
	}
	if next.text == "are" && t.at(i+2).sym == sTotal { // "so that twelve are left"
		t.out = append(t.out, n, t.at(i+2))
		return 3
	}
	if j := t.past(i + 1); j > i+1 && t.at(j).sym == sTotal { // "draw up the ten that remain"
		t.out = append(t.out, made(sComma, n), made(sHave, n), n, t.at(j))
		return j + 1 - i
	}
	if next.sym == sTimes && t.at(i+2).sym == sNumber && t.at(i+3).sym == sTog { // "eight times two together"
		t.out = append(t.out, t.at(i+2), t.at(i+3), n, next)
		return 4
	}
	if next.sym == sEven && t.at(i+2).sym == sRound || next.sym == sMore && t.at(i+2).sym == sRound {
		if next.sym == sEven {
			t.out = append(t.out, next)
		}
		t.out = append(t.out, n, t.at(i+2))
		return 3
	}
	if next.sym != sComma && next.sym != sAnd && next.sym != sStop {
		return 0
	}
	j := i + 1
	for s := t.at(j).sym; s == sComma || s == sAnd || s == sFill; s = t.at(j).sym {
		j++
	}
	if m := t.at(j); next.sym != sStop && m.sym == sNumber && !m.ordinal {
		if s := t.at(j + 1).sym; s == sIn || s == sTog {
			of := made(sSt, next)
			t.out = append(t.out, n, of)
			return 1
		}
	}
	if s := t.last().sym; n.num >= 4 && (s == sComma || s == sDash) && next.sym != sAnd && !t.numberAfter(i+1) {
		t.out = append(t.out, made(sHave, n), n)
		return 1
	}
	return 0
}

// numberAfter reports whether another number stands from i on.
func (t *teller) numberAfter(i int) bool {
	for ; i < len(t.toks); i++ {
		if t.toks[i].sym == sNumber {
			return true
		}
	}
	return false
}

// again reads "plain again" and "and again, five left".
func (t *teller) again(i int) int {
	tok := t.at(i)
	if tok.text != "again" {
		return 0
	}
	if t.last().sym == sEven {
		return 1
	}
	if !onlyAnd(t.out) {
		return 0
	}
	rep, last, round := tok, made(sLast, tok), made(sRound, tok)
	rep.sym = sRep
	last.from, last.to, round.from, round.to = tok.to, tok.to, tok.to, tok.to
	t.out = append(t.out, rep, last, round)
	return 1
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
