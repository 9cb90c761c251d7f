package notation

import "slices"

// maxLonghand is how many words and signs a decrease that is written out step by
// step has at most.
const maxLonghand = 60

// longhand makes decreases that are written out step by step the words that they
// are: "draw up a loop in each of next 2 sts, yo and draw through all 3 loops on
// hook" is two together (CYC master list, note common practice).
func longhand(toks []token) []token {
	out := toks[:0]
	for i := 0; i < len(toks); {
		rest := toks[i:min(i+maxLonghand, len(toks))]
		legs, n := writtenOut(rest)
		if n == 0 {
			out = append(out, toks[i])
			i++
			continue
		}
		// two tokens for the many: there are always that many
		number, tog := rest[0], rest[0]
		number.sym, number.num, number.to = sNumber, legs, rest[0].to
		number.ordinal, number.decimal = false, false
		tog.sym, tog.text, tog.from, tog.to, tog.glued, tog.capital = sTog, "together", rest[1].from, rest[n-1].to, false, false
		out = append(out, number, tog)
		i += n
	}
	return out
}

// writtenOut reads a decrease that is written out. It returns how many stitches
// it takes together and how many tokens it is; 0 and 0 if it is none.
func writtenOut(toks []token) (legs, n int) {
	if len(toks) < 8 || !drawsUp(toks[0]) && toks[0].text != "insert" && !(toks[0].sym == sOpen && (drawsUp(toks[1]) || toks[1].text == "insert")) {
		return 0, 0
	}
	w := &written{toks: toks}
	for w.leg() {
	}
	if w.legs < 2 || w.legs > 9 || w.open || !w.closes() {
		return 0, 0
	}
	return w.legs, w.pos
}

// A written is a decrease that is written out, being read.
type written struct {
	toks []token
	pos  int
	legs int  // loops drawn up so far
	open bool // a bracket is open
}

func (w *written) peek() token {
	if w.pos < len(w.toks) && w.toks[w.pos].line == w.toks[0].line {
		return w.toks[w.pos]
	}
	return token{sym: sStop}
}

// skip passes over tokens that mean one of the syms, and over yarn put over the
// hook.
func (w *written) skip(syms ...sym) {
	for {
		t := w.peek()
		yarn := t.text == "yo" || t.text == "yoh" || t.text == "yrh" || t.text == "yarn over" || t.text == "yarn" || t.text == "wool" || t.text == "thread"
		if w.pos >= len(w.toks) || t.line != w.toks[0].line || !yarn && !slices.Contains(syms, t.sym) || t.sym == sStop && t.text == "" {
			return
		}
		w.open = w.open || t.sym == sOpen
		w.pos++
		if yarn {
			for t := w.peek(); t.sym == sOver || t.sym == sAround || t.sym == sRound || t.sym == sHook || t.sym == sFill && t.text != "draw"; t = w.peek() {
				w.pos++
			}
		}
	}
}

// leg reads one step: a loop drawn up in a stitch, or in each of several.
func (w *written) leg() bool {
	start := w.pos
	w.skip(sComma, sAnd, sFill, sOpen)
	n, inserted := 1, false
	if w.peek().text == "insert" {
		w.pos++
		w.skip(sFill, sHook)
		if n = w.stitches(); n == 0 {
			w.pos = start
			return false
		}
		inserted = true
		w.skip(sComma, sAnd, sFill)
	}
	if !drawsUp(w.peek()) {
		w.pos = start
		return false
	}
	w.pos++
	w.skip(sFill)
	if w.peek().sym == sLoop {
		w.pos++
	} else if !inserted {
		w.pos = start
		return false
	}
	if w.peek().text == "through" {
		w.pos++
	}
	if !inserted {
		if n = w.stitches(); n == 0 {
			w.pos = start
			return false
		}
	}
	if w.peek().sym == sClose && w.open { // "(insert hook in next st, draw up a loop) twice"
		w.open = false
		w.pos++
	}
	switch t := w.peek(); {
	case t.sym == sOnce:
		n *= t.num
		w.pos++
	case t.sym == sNumber && w.pos+1 < len(w.toks) && w.toks[w.pos+1].sym == sTimes:
		n *= min(t.num, 10)
		w.pos += 2
	}
	w.legs += n
	return w.legs < 10
}

// stitches reads "in each of the next 2 sts", "in next sc" and "in same st", and
// returns how many they are; 0 if it is not there.
func (w *written) stitches() int {
	n, in := 0, false
	for {
		t := w.peek()
		switch t.sym {
		case sIn:
			in = true
		case sNumber:
			if t.decimal {
				return 0
			}
			if !t.ordinal {
				n = min(t.num, 10)
			}
		case sEach, sOf, sFill, sNext, sFirst, sFLO, sBLO, sFront, sLoop, sBack, sOther:
		case sSt, sStitch:
			w.pos++
			if !in {
				return 0
			}
			return max(n, 1)
		default:
			if in && n > 1 { // "in each of the next 2"
				return n
			}
			return 0
		}
		w.pos++
	}
}

// closes reads the last step: "yo and draw through all 3 loops on hook", "work
// them off as one".
func (w *written) closes() bool {
	w.skip(sComma, sAnd, sFill, sStop)
	t := w.peek()
	through := w.toks[w.pos-1].text == "through" // "yo and through 3 lps"
	if drawsUp(t) || through {
		if !through {
			w.pos++
		}
		w.skip(sFill)
		if s := w.peek().sym; s != sAll && s != sNumber && s != sLoop && w.peek().text != "both" && w.toks[w.pos-1].text != "through" {
			return false
		}
		w.skip(sFill, sAll, sNumber, sLoop)
		if w.peek().sym == sIn { // "on hook"
			w.pos++
			w.skip(sFill)
			if w.peek().sym == sHook {
				w.pos++
			}
		}
		return true
	}
	if t.text == "off" || t.text == "work off" || t.text == "working off" || t.text == "them" || w.pos > 0 && w.toks[w.pos-1].sym == sFill && (t.sym == sAs || t.sym == sTog) {
		w.skip(sFill)
	}
	switch t := w.peek(); t.sym {
	case sTog:
		w.pos++
		return true
	case sAs: // "as one"
		w.pos++
		if w.peek().sym == sNumber && w.peek().num == 1 {
			w.pos++
			if s := w.peek().sym; s == sSt || s == sStitch {
				w.pos++
			}
			return true
		}
	}
	return false
}

// drawsUp reports whether a word says to draw a loop.
func drawsUp(t token) bool {
	switch t.text {
	case "draw", "pull", "drawing", "pulling", "pull up", "draw up":
		return true
	}
	return false
}
