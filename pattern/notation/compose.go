package notation

import (
	"slices"
	"strings"
	"unicode"

	"roundelay/pattern/stitch"
)

// compose makes the nodes of n stitches w in the place pl. tight says that
// number and name stand together ("2sc").
func (p *parser) compose(start, n int, w Work, pl place, tight bool) []Node {
	if pl.target.Where == Elsewhere {
		pl.toEnd = false
	}
	if pl.toEnd && !pl.each && pl.leave == 0 && !pl.rest && (pl.target.Where == Next || pl.one) && p.listed {
		pl.toEnd, p.around = false, true // "sc 3, inc around": said of the list
		pl.ok = pl.one || pl.n > 0
	}
	w.at = p.span(start)
	w.Loop = pl.loop
	if pl == (place{ok: true, loop: pl.loop}) { // "sc 8 in BLO" names no place
		pl.ok = false
	}
	if pl.post != stitch.Top {
		w.Stitch.Post = pl.post
	}
	w.Target = pl.target
	if w.Target.Where == First {
		w.Target.Where = Next
	}
	k := max(n, 1)
	dec := w.Stitch.Form == stitch.Together || w.Stitch.Form == stitch.Invisible
	none := w.Stitch == stitch.Ch || w.Stitch.Form == stitch.Picot
	spread := false
	if k == 1 && (dec || w.Per > 1) {
		times := p.timesEvenly()
		k, spread = max(times, 1), times > 0
	}
	switch {
	case none:
		w.Places = k
		w.Target = Target{}
	case p.peek().sym == sEvenly || p.evenlyAhead() || spread || (dec || w.Per > 1) && p.inRound(0):
		p.takeEvenly()
		if t := p.peek(); t.sym == sNumber && k == 1 && p.at(1).sym == sTimes { // "decrease evenly 6 times"
			k = t.num
			p.pos += 2
		}
		e := &Evenly{at: p.span(start), N: k * max(pl.n, 1)}
		switch {
		case dec:
			e.N = -e.N
		case w.Per == 1:
			// "work 30 sc evenly": stitches, not increases
			if n == 0 { // "sc evenly around"
				return []Node{&Evenly{at: p.span(start), Stitch: w.Stitch}}
			}
			w.at = p.span(start)
			if w.Target.Where == Ring {
				w.Per, w.Places = 1, k
				return []Node{&w}
			}
			return []Node{&Evenly{at: p.span(start), Stitch: w.Stitch, To: k}}
		}
		return []Node{e}
	case pl.nth > 0 && w.Per*k == 1 && !dec && w.Stitch.Base != stitch.NoBase && !p.mentions(0, sInc) && p.saidFirst(start): // "sc in every other st": the others are missed
		w.Places, w.Target = 1, Target{}
		return []Node{&Repeat{at: w.at, Body: []Node{&Skip{at: w.at, N: pl.nth - 1}, &w}, Times: ToEnd}}
	case pl.nth > 0, pl.every && pl.n > 1 && (dec || w.Per > 1) && k == 1:
		return []Node{everyNth(w, k, pl, dec)}
	case pl.toEnd:
		w.Places, w.Leave = ToEnd, pl.leave
		if w.Per == 1 && !dec {
			w.Per = k
		} else if k > 1 {
			w.Per *= k
		}
		if dec {
			w.Per = 1
		}
		if !pl.each && pl.n == 0 && n > 1 && w.Per == k && !(pl.rest && n <= 3) { // "6 sc around": six in all
			w.Per, w.Places, w.Leave = 1, n, 0
		}
	case !pl.ok:
		w.Places = k
		if w.Per == 1 && !dec && (n == 2 || n == 3) && w.Stitch.Base != stitch.Slip {
			w.Doubt = TwoInOne
			if tight {
				w.Doubt = TwoTight
			}
		}
	case pl.target.Where == Elsewhere:
		switch w.Places = k; {
		case pl.n > 0:
			w.Per, w.Places = w.Per*max(n, 1), pl.n
			if n == pl.n {
				w.Per /= n
			}
		case n == 0 && (pl.target.Kind == stitch.Ch || pl.each || !pl.one && p.mentions(start, sAround)):
			w.Places = ToEnd
		}
	case pl.target.Where == Ring || pl.target.Where == FromHook:
		w.Per, w.Places = w.Per*k, 1
		if pl.target.Where == Ring {
			w.Per, w.Places = 1, w.Per
		}
	case pl.target.Where == Space || pl.target.Where == Corner || pl.target.Where == Between:
		w.Per, w.Places = w.Per*k, max(pl.n, 1)
	case pl.target.Where == Same && w.Per*k > 1 && pl.target.Chain == 0:
		w.Per, w.Places = w.Per*k, 1
		w.Doubt = SameNext
	case pl.target.Where == Same || pl.target.Where == Joined || pl.target.Where == TopChain || pl.target.Where == Center:
		w.Per, w.Places = w.Per*k, 1
	case dec:
		w.Places = k
		if pl.n > 0 && pl.n >= int(w.Stitch.N)*2 && n <= 1 {
			w.Places = pl.n / int(w.Stitch.N)
		} else if pl.each && pl.n > 0 {
			w.Places = pl.n
		}
	case pl.n > 1 || pl.each:
		m := max(pl.n, 1)
		switch {
		case pl.each:
			w.Per, w.Places = w.Per*k, m
		case n <= 1 || w.Per > 1:
			w.Places = m
		case n == m:
			w.Places = m
		default:
			w.Per, w.Places = k, m
		}
	default: // one place
		w.Per, w.Places = w.Per*k, 1
		if w.Per == 2*k && k > 1 { // "3 inc in next": not six in one
			w.Per, w.Places = 2, k
		}
	}
	return []Node{&w}
}

// saidFirst reports whether no word of the line stands between its label, or the
// token before, and the token i: none that was taken into another.
func (p *parser) saidFirst(i int) bool {
	from := p.line.LabelAt.To
	if i > 0 {
		from = p.toks[i-1].to
	}
	to := p.toks[i].from
	return from < to && !strings.ContainsFunc(p.text[from:to], unicode.IsLetter)
}

// everyNth makes an increase or decrease in every nth stitch all round. Where it is
// a decrease, or n is a number of stitches, two readings are common: "decrease every
// 4 sts" leaves two plain, or four.
func everyNth(w Work, k int, pl place, dec bool) Node {
	r := &Repeat{at: w.at, Times: ToEnd, Rest: true}
	if w.Per*k > 1 && !dec {
		w.Per *= k
	} else if !dec {
		w.Per = 2
	}
	w.Places, w.Target = 1, Target{}
	group := func(plain int) []Node {
		if plain <= 0 {
			return []Node{&w}
		}
		return []Node{&Work{at: w.at, Per: 1, Places: plain}, &w}
	}
	switch {
	case pl.nth > 0 && !dec:
		r.Body = group(pl.nth - 1)
	case pl.nth > 0: // the nth stitch and the one after it
		r.Body, r.Or, r.Doubt = group(pl.nth-1), group(pl.nth-2), Nth
	case dec:
		r.Body, r.Or, r.Doubt = group(pl.n-2), group(pl.n), Nth
	default:
		r.Body, r.Or, r.Doubt = group(pl.n-1), group(pl.n), Nth
	}
	return r
}

// evenlyAhead reports whether "evenly" follows, words between.
func (p *parser) evenlyAhead() bool {
	for i := 0; i < 7; i++ {
		switch p.at(i).sym {
		case sEvenly:
			return true
		case sEach:
			if p.roundWord(i + 1) { // "inc 8 sts in each round"
				return true
			}
			return false
		case sAround, sFill, sSt, sIn, sTimes:
			continue
		case sComma:
			if p.at(i+1).sym == sEvenly {
				return true
			}
		}
		return false
	}
	return false
}

// timesEvenly reads the number of "dec 6 times evenly" and "inc twice in this
// round", up to the words that say it is somewhere in the round; 0 if it is not
// there.
func (p *parser) timesEvenly() int {
	t, j := p.peek(), 1
	if t.sym == sNumber && p.at(1).sym == sTimes {
		j = 2
	} else if t.sym != sOnce {
		return 0
	}
	if j = p.past(j, sFill, sComma); p.at(j).sym != sEvenly && !p.inRound(j) && !(p.at(j).sym == sAround && p.at(j-1).sym == sTimes) {
		return 0
	}
	p.pos += j
	return t.num
}

// inRound reports whether "in this round", somewhere in it, stands i tokens on.
func (p *parser) inRound(i int) bool {
	if t := p.at(i); t.sym == sTotal {
		return strings.HasSuffix(strings.ToLower(p.raw(p.pos+i)), " round")
	}
	j := p.past(i+1, sFill)
	return p.at(i).sym == sIn && (p.at(j).sym == sRound || p.at(j).sym == sRow) && p.at(j+1).sym != sNumber
}

func (p *parser) takeEvenly() {
	for !p.end() {
		switch p.peek().sym {
		case sEvenly, sAround, sFill, sSt, sIn, sTimes, sEach, sRound, sRow:
			p.pos++
			continue
		case sComma:
			if p.at(1).sym == sEvenly {
				p.pos++
				continue
			}
		case sTotal:
			if p.inRound(0) {
				p.pos++
				continue
			}
		}
		return
	}
}

// allRound reports whether w is plain stitches of a whole round: "1 sc in each
// st", or "sc" with no number.
func (p *parser) allRound(w *Work) bool {
	if w.Per != 1 || w.Stitch.Base <= stitch.Slip || w.Stitch.Form != stitch.Plain {
		return false
	}
	if w.Places == ToEnd {
		return true
	}
	i, _ := slices.BinarySearchFunc(p.toks, w.From, func(t token, at int) int { return t.from - at })
	return w.Places == 1 && i < len(p.toks) && p.toks[i].sym == sStitch
}
