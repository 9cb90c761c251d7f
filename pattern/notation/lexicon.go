package notation

import (
	"strings"

	"roundelay/pattern/stitch"
)

// A sym is what a token means, whatever language it is written in.
type sym uint8

const (
	sWord   sym = iota // a word that means nothing here
	sNumber            // 6, six
	sSign              // a sign; its text tells which
	sStar              // *
	sOpen              // ( [ {
	sClose             // ) ] }
	sComma             // ,
	sStop              // . ; !
	sColon             // :
	sDash              // -
	sPlus              // +
	sEqual             // = or an arrow
	sBar               // |

	sFill   // work, the, then: says nothing that is not said otherwise
	sStitch // val.stitch: sc, sl st, ch
	sForm   // val.form: cluster, popcorn, picot
	sInc
	sDec    // val.stitch may be set: invisible decrease
	sTog    // together
	sDouble // worked twice: German verdoppeln
	sSt     // stitch, whatever its kind
	sSpace  // space, loop of chains
	sRing   // ring
	sMagic  // magic ring
	sIn
	sEach
	sNext
	sSame
	sFirst
	sLast
	sAnd
	sOf
	sTo
	sFrom
	sAround // to the end of the round
	sEnd    // end, of the round
	sRep
	sTimes // times, x
	sX     // the letter x
	sOnce  // once, twice: num times
	sMore
	sJoin
	sTurn
	sSkip
	sLoop  // loop of a stitch
	sBLO   // back loop
	sFLO   // front loop
	sBack  // back
	sFront // front
	sOnly  // only
	sPost  // post
	sWith
	sColour // a colour or a yarn letter
	sRound
	sRow
	sTotal // total, in all, made
	sHave  // you should have
	sEven  // work even
	sEvenly
	sHook
	sOver
	sBetween
	sTop
	sAll
	sOther // the other side
	sSide
	sCorner
	sFasten
	sCounts // counts as
	sNot
	sUntil
	sBegin
	sAs
	sMark    // marker
	sOmit    // omit, ending
	sFinal   // final, last, as a label
	sFound   // foundation, as a label
	sStep    // step, as a label
	sPart    // a word that makes a heading of a label: sizes, hooks
	sMeasure // cm, mm, g, yards: what is counted is no stitch
	sStuff   // stuff, eyes: a thing to do, with words of its own
	sCentre  // centre, middle
	sRest    // the rest: to the end of the round
	sWorkOff // work off so many stitches as one
	sOrdinal // a number word that names a place in an order; becomes sNumber
)

const (
	under = 1 // as the number of an sIn: a chain is worked round, not into
	base  = 1 // as the number of an sSame: what follows stands on the place
)

// A value is what a stitch word names.
type value struct {
	stitch stitch.Stitch
	uk     stitch.Stitch // in UK terms, where it differs
	form   stitch.Form
}

func sign(r rune) sym {
	switch r {
	case '*':
		return sStar
	case '(', '[', '{':
		return sOpen
	case ')', ']', '}':
		return sClose
	case ',':
		return sComma
	case '.', ';', '!':
		return sStop
	case ':':
		return sColon
	case '-':
		return sDash
	case '+', '&', '/':
		return sPlus
	case '=':
		return sEqual
	case '|':
		return sBar
	}
	return sSign
}

// An entry gives the words of one meaning: alternatives apart by "|".
type entry struct {
	words string
	sym   sym
	val   value
	num   int
}

// A language is the words of one language; [languages] has them all.
type language struct {
	code    string // of two letters
	source  string
	entries []entry

	ordinals string // endings of numbers that name a place in an order, apart by "|": "1er", "2:a"
	stops    bool   // a stop after a number names a place in an order: "2. Rd"
	verbLast bool   // the verb may end its phrase: "2 M übergehen", "ab * noch 3 x wiederholen"
	half     string // what "1/2" stands for before the name of a stitch: "1/2 bride"

	phrases map[string][]phrase // by first word, longest first
}

type phrase struct {
	rest []string // the words after the first
	sym  sym
	val  value
	num  int
}

func st(s stitch.Stitch) value        { return value{stitch: s} }
func usuk(us, uk stitch.Stitch) value { return value{stitch: us, uk: uk} }

// index builds the table of phrases.
func (l *language) index() *language {
	l.phrases = make(map[string][]phrase)
	for _, e := range l.entries {
		for _, w := range strings.Split(e.words, "|") {
			fields := strings.Fields(w)
			for i, f := range fields {
				fields[i] = fold(f)
			}
			p := phrase{rest: fields[1:], sym: e.sym, val: e.val, num: e.num}
			list := l.phrases[fields[0]]
			at := 0
			for at < len(list) && len(list[at].rest) >= len(p.rest) {
				at++
			}
			list = append(list, phrase{})
			copy(list[at+1:], list[at:])
			list[at] = p
			l.phrases[fields[0]] = list
		}
	}
	return l
}

// match finds the longest phrase that starts at toks[i]. It returns how many
// tokens it takes, 0 for none. A hyphen, a stop or a line end may stand between
// the words of a phrase.
func (l *language) match(toks []token, i int) (phrase, int) {
	list, ok := l.phrases[toks[i].text]
	if !ok {
		return phrase{}, 0
	}
next:
	for _, p := range list {
		at := i + 1
		number := p.sym == sNumber || p.sym == sOrdinal // "Forty. Sixth row" is no 46th
		for _, w := range p.rest {
			for k := 0; k < 2 && at+1 < len(toks) && (toks[at].sym == sDash || toks[at].sym == sStop && !number || toks[at].text == "/" && toks[at+1].glued) && toks[at].glued; k++ { // "m.-chaînette" has two, "ст. б/н" as well
				at++
			}
			if at >= len(toks) || toks[at].sym != sWord || toks[at].text != w || toks[at].line != toks[at-1].line && (number || roundWords[w]) {
				continue next
			}
			at++
		}
		return p, at - i
	}
	return phrase{}, 0
}

// roundWords begin a label where they begin a line: "join" above "Round 2" is no
// "join round".
var roundWords = map[string]bool{"round": true, "rnd": true, "row": true}

// understand gives the tokens of a text their meanings in the languages, tried
// in order, and joins the words of a phrase to one token.
func understand(toks []token, terms stitch.Terms, langs []*language) []token {
	out := toks[:0:len(toks)]
	for i := 0; i < len(toks); {
		t := toks[i]
		if i+1 < len(toks) && isOrdinal(t, toks[i+1]) && (toks[i+1].text != "st" || i+2 < len(toks) && toks[i+2].sym == sWord || i == 0 || toks[i-1].line != t.line) {
			t.ordinal, t.to = true, toks[i+1].to
			out = append(out, t)
			i += 2
			continue
		}
		if t.sym != sWord {
			out = append(out, t)
			i++
			continue
		}
		n := 0
		for _, l := range langs {
			var p phrase
			if p, n = l.match(toks, i); n > 0 {
				t.sym, t.val, t.num = p.sym, p.val, p.num
				break
			}
		}
		if n == 0 && len(t.text) > 2 && strings.HasSuffix(t.text, "s") {
			short := t
			short.text = t.text[:len(t.text)-1]
			one := []token{short}
			for _, l := range langs {
				if p, m := l.match(one, 0); m > 0 && (p.sym == sStitch || p.sym == sForm || p.sym == sInc || p.sym == sDec || p.sym == sCorner) {
					t.sym, t.val, t.num, n = p.sym, p.val, p.num, 1
					break
				}
			}
		}
		if n == 0 {
			n = 1
		}
		if t.sym == sOrdinal {
			t.sym, t.ordinal = sNumber, true
		}
		if terms == stitch.UK && t.val.uk != (stitch.Stitch{}) {
			t.val.stitch = t.val.uk
		}
		t.to = toks[i+n-1].to
		out = append(out, t)
		i += n
	}
	return out
}

// isOrdinal reports whether end is what makes the number t name a place in an
// order: 2nd, but not 2st, which is two stitches.
func isOrdinal(t, end token) bool {
	if t.sym != sNumber || t.decimal || !end.glued || !ordinals[end.text] {
		return false
	}
	want := "th"
	if t.num/10%10 != 1 {
		switch t.num % 10 {
		case 1:
			want = "st"
		case 2:
			want = "nd"
		case 3:
			want = "rd"
		}
	}
	return end.text == want || end.text == "º" || end.text == "d" && strings.HasSuffix(want, "d")
}

// ordinals are the endings of numbers that name a place in an order; "2d" and
// "3d" stand in old texts.
var ordinals = map[string]bool{"st": true, "nd": true, "rd": true, "d": true, "th": true, "º": true}
