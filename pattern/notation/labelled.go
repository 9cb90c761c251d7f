package notation

import (
	"fmt"
	"roundelay/pattern/source"
)

// nextNumbers returns for each line the number of the next label after it; 0 if
// there is none.
func nextNumbers(lines []*Line) []int {
	next := make([]int, len(lines))
	for i := len(lines) - 2; i >= 0; i-- {
		if next[i] = next[i+1]; lines[i+1].First > 0 && !lines[i+1].Perhaps {
			next[i] = lines[i+1].First
		}
	}
	return next
}

// labels checks that the number of a line goes on from the one before.
func (e *expander) labels(l *Line, v *Verdict) {
	if l.First < 0 {
		return
	}
	if l.Last == l.First-1 && !e.opt.Strict { // a second half that counts down
		v.First, v.Last = l.Last, l.First
	} else if l.Last < l.First {
		e.report(l, l.LabelAt, source.Error, "range", "put the lower number first", "the range ends before it begins: %d to %d", l.First, l.Last)
		v.Last = v.First
	}
	if n := v.Last - v.First + 1; l.Rounds > 0 && l.Rounds != n && (n > 1 || e.opt.Strict) {
		e.report(l, l.LabelAt, source.Error, "range-length", fmt.Sprintf("rounds %d to %d are %d rounds", l.First, l.Last, n),
			"the label names %d rounds, the line says %d", n, l.Rounds)
	}
	switch {
	case !e.begun && e.number == 0, l.Anew, l.Held != 0 && len(e.res.Verdicts) == 0:
	case l.First == e.number+1:
	case l.First > e.number+1:
		e.report(l, l.LabelAt, e.misnumbered(), "label-gap", fmt.Sprintf("number it %d, or add what is missing", e.number+1),
			"round %d follows round %d", l.First, e.number)
	default:
		e.report(l, l.LabelAt, e.misnumbered(), "label-order", fmt.Sprintf("number it %d", e.number+1),
			"round %d comes after round %d", l.First, e.number)
	}
}

// misnumbered is how grave a number out of order is. In a text of somebody's it
// may be meant: halves that count down, a second half that begins anew.
func (e *expander) misnumbered() source.Severity {
	if e.opt.Strict {
		return source.Error
	}
	return source.Warning
}

// same replaces "repeat rounds 3-4" by the instructions of those rounds. It
// returns the instructions of the rounds of the line, one after the other, or
// nil if they are not there.
func (e *expander) same(l *Line, body []Node, first int) [][]Node {
	at := -1
	for i, n := range body {
		if _, ok := n.(*SameAs); ok {
			at = i
			break
		}
	}
	if at < 0 && len(l.As) > 0 {
		var out [][]Node
		for _, of := range l.As {
			bodies := e.same(of, of.Body, of.First)
			for n := of.First; n <= of.Last && len(bodies) > 0 && len(out) < MaxRound; n++ {
				if n >= l.First && n <= l.Last {
					out = append(out, bodies[(n-of.First)%len(bodies)])
				}
			}
		}
		return out
	}
	even := func() [][]Node { // where as many are declared as there are, it goes even
		if l.Declared != nil && l.Declared.Total == e.below.stitches && e.below.known && e.begun {
			return [][]Node{{&Evenly{}}}
		}
		return nil
	}
	if at < 0 {
		if len(body) == 0 {
			return even()
		}
		return [][]Node{body}
	}
	s := body[at].(*SameAs)
	a, b := s.First, s.Last
	if a < 0 {
		a, b = first+a, first+b
	}
	var out [][]Node
	for n := a; n <= b; n++ {
		line, ok := e.byNum[n]
		if !ok && e.unseen[n] {
			return even() // it is there, and was not understood
		}
		if !ok {
			e.report(l, s.Span(), source.Error, "same-as", fmt.Sprintf("the rounds before this one are %d to %d", 1, e.number), "there is no round %d to repeat", n)
			return nil
		}
		for _, bd := range e.same(line, line.Body, n) {
			if s.Between != 0 {
				if bd = respaced(bd, s.Between, s.Further); bd == nil {
					return nil
				}
			}
			var whole []Node
			whole = append(whole, body[:at]...)
			for _, n := range bd {
				if _, ok := n.(*Start); !ok {
					whole = append(whole, n)
				}
			}
			whole = append(whole, body[at+1:]...)
			out = append(out, whole)
			if len(out) > MaxRound {
				return nil
			}
			if a == b {
				break
			}
		}
	}
	return out
}

// numbered returns the last round with a number.
func (e *expander) numbered(number int) (fabric, bool) {
	for i := len(e.res.Rounds) - 1; i >= 0; i-- {
		if r := e.res.Rounds[i]; r.Number == number {
			return places(r, i), true
		}
	}
	return fabric{}, false
}

// thus gives "continue in this manner" its number: the increases or decreases
// of the last round that had some, or those that lead to the declared count.
func (e *expander) thus(body []Node, rounds, declared int) []Node {
	for i, n := range body {
		v, ok := n.(*Evenly)
		if !ok || !v.Thus {
			continue
		}
		more := e.shaped
		if more == 0 && declared >= 0 && e.below.known && rounds > 0 {
			more = (declared - e.below.stitches) / rounds
		}
		if more == 0 {
			return body
		}
		body = clone(body)
		body[i] = &Evenly{at: v.at, Stitch: v.Stitch, N: more}
		return body
	}
	return body
}

// until returns how many rounds "continue in this manner until you have 66 sts"
// is, where nothing else says it; 0 if it is no such line.
func (e *expander) until(body []Node, l *Line, declared int) int {
	if l.First >= 0 || l.Rounds > 0 || declared < 0 || !e.below.known || e.shaped == 0 || len(body) == 0 {
		return 0
	}
	v, ok := body[0].(*Evenly)
	more := declared - e.below.stitches
	if !ok || !v.Thus || more%e.shaped != 0 {
		return 0
	}
	return min(more/e.shaped, MaxRound)
}
