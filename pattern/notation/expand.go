package notation

import (
	"cmp"
	"fmt"
	"math/bits"
	"strings"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// MaxPiece is the most stitches that a piece may have.
const MaxPiece = 1_000_000

// Options say how lines are to be worked.
type Options struct {
	Yarns   []string  // the keys of the yarns; Yarns[0] is the one that the piece begins with
	AnyYarn bool      // yarns that are not in Yarns are taken too
	Chain   ChainRule // what is stated of the starting chain
	Joined  bool      // rounds are joined, even if a line does not say so
	Strict  bool      // what was not understood is an error, not a note
	After   []*Round  // rounds of the piece that are worked already; the lines go on from the last of them
}

// A Word is the verdict on a line, in the word that reports use.
type Word string

// The verdicts.
const (
	OK          Word = "ok"
	Mismatch    Word = "mismatch"    // made differs from declared, or used from what is there
	Indivisible Word = "indivisible" // "around" does not come out even
	Ambiguous   Word = "ambiguous"   // several readings, not settled by the counts
	Uncounted   Word = "uncounted"   // understood, nothing declared
	Unread      Word = "unread"      // not understood
)

// A Verdict is what is known of a line after it was worked.
type Verdict struct {
	Line     *Line
	Word     Word
	First    int // number of its first round, counted on where the line has no label
	Last     int
	Used     int // by its first round, of the round below; -1 if unknown
	Made     int // by its last round; -1 if unknown
	Declared int // -1 if it declares nothing
	Rounds   int // index of its first round in Result.Rounds, or -1
}

// A Result is lines worked one after the other.
type Result struct {
	Rounds   []*Round  // those of Options.After first
	Verdicts []Verdict // one for each line; a sentence that was no round has none
	Yarns    []string
	Findings source.Findings
}

// Expand works the lines of one piece, each on the one before.
//
// It works them twice where an author seems to mean the same words in two ways:
// what most rounds show to be meant is then held against the others, so that a
// wrong count is not explained away by reading one round in another sense.
func Expand(lines []*Line, opt Options) *Result {
	e := expand(lines, opt, nil)
	if held := e.held(); len(held) > 0 {
		e = expand(lines, opt, held)
	}
	return e.res
}

func expand(lines []*Line, opt Options, held map[sense]bool) *expander {
	e := &expander{
		opt:     opt,
		res:     &Result{},
		yarns:   yarnList{keys: opt.Yarns, open: opt.AnyYarn},
		joined:  opt.Joined,
		byNum:   map[int]*Line{},
		roundAt: map[int]int{},
		chains:  map[stitch.Base]ChainRule{},
		seen:    map[sense][2]int{},
		fixed:   held,
	}
	if len(e.yarns.keys) == 0 {
		e.yarns.keys = []string{""}
	}
	if len(lines) > 0 && lines[0].First > 1 && !begins(lines[0]) {
		e.begun = true // the beginning is not there; nothing is known of the round below
	}
	for _, l := range lines {
		if l.Chain == ByConvention {
			continue
		}
		if base := cmp.Or(l.ChainAs, firstBase(l.Body)); e.chains[base] == ByConvention {
			e.chains[base] = l.Chain
		}
	}
	e.after(opt.After)
	next := nextNumbers(lines)
	for i, l := range lines {
		e.next = next[i]
		e.line(l, lines[i+1:])
	}
	e.res.Yarns = e.yarns.keys
	return e
}

// A sense is a doubt, where it depends on the stitch together with that.
type sense struct {
	doubt Doubt
	base  stitch.Base
}

// steady are the doubts that an author settles in one way throughout. How often
// a group goes, on the other hand, is meant now so, now so.
const steady = ChainIn | JoinIn | TwoInOne | TwoTight | More

// senses lists the steady doubts of a round.
func senses(mask Doubt, body []Node) []sense {
	var out []sense
	for d := Doubt(1); d != 0 && d <= mask; d <<= 1 {
		if d&mask&steady == 0 {
			continue
		}
		s := sense{doubt: d}
		if d&(ChainIn|JoinIn) != 0 {
			s.base = firstBase(body)
		}
		out = append(out, s)
	}
	return out
}

// note counts in which sense a round came out.
func (e *expander) note(mask, in Doubt, body []Node) {
	for _, s := range senses(mask, body) {
		n := e.seen[s]
		if in&s.doubt != 0 {
			n[1]++
		} else {
			n[0]++
		}
		e.seen[s] = n
	}
}

// held returns the doubts of which both senses were met, one of them much more
// often, with that one.
func (e *expander) held() map[sense]bool {
	held := map[sense]bool{}
	for s, n := range e.seen {
		switch {
		case n[0] > 0 && n[1] > 0 && n[0] >= 2*n[1]:
			held[s] = false
		case n[0] > 0 && n[1] > 0 && n[1] >= 2*n[0]:
			held[s] = true
		}
	}
	return held
}

type expander struct {
	opt     Options
	res     *Result
	yarns   yarnList
	chains  map[stitch.Base]ChainRule // what lines say of the starting chain, by the stitch it stands for
	seen    map[sense][2]int          // how often each sense was met: not taken, taken
	fixed   map[sense]bool            // senses that are not in doubt any more
	now     *Line                     // the line that is being worked
	joined  bool
	below   fabric // what the next round is worked on
	begun   bool   // the piece has a round
	habit   Doubt  // how the author was seen to mean what can be read twice
	carry   int    // chains told at the end of the round before
	yarn    uint8
	number  int // of the last round
	made    int // stitches so far
	byNum   map[int]*Line
	roundAt map[int]int // index in res.Rounds of the last round with a number
	main    stitch.Base
	shaped  int  // by how many stitches the last round that was shaped grew
	settled bool // the rounds of a range are all read in the sense of habit
	next    int  // the number of the label that comes next; 0 if none does
	told    bool // the round before is one of running prose, or has no number
}

// after takes over rounds that are worked already.
func (e *expander) after(rounds []*Round) {
	if len(rounds) == 0 {
		return
	}
	last := rounds[len(rounds)-1]
	e.res.Rounds = append(e.res.Rounds, rounds...)
	e.below = places(last, len(rounds)-1)
	e.begun = true
	e.number = last.Number
	e.joined = e.joined || last.Joined
	if n := len(last.Stitches); n > 0 {
		e.yarn = last.Stitches[n-1].Yarn
	}
	for _, r := range rounds {
		if r.Line != nil {
			e.byNum[r.Number] = r.Line
			e.main = firstBase(r.Line.Body)
		}
	}
}

func (e *expander) report(l *Line, at source.Span, sev source.Severity, code, hint, format string, args ...any) {
	if fs := e.res.Findings; len(fs) > 0 && fs[len(fs)-1].Code == code && fs[len(fs)-1].At == at && fs[len(fs)-1].File == l.File {
		return // a range tells it once
	}
	round := max(l.First, 0)
	if l.First < 0 {
		round = e.number + 1
	}
	e.res.Findings = append(e.res.Findings, source.Finding{
		File: l.File, At: at, Severity: sev, Code: code, Round: round,
		Message: fmt.Sprintf(format, args...), Hint: hint,
	})
}

// believes reports whether a sentence that may be a round is taken for one. One
// that declares its count is, if the counts agree. One that declares none has to
// stand where a round is wanted: after another that is told in a sentence, or
// where the number of the next label leaves room for it.
func (e *expander) believes(l *Line) bool {
	if l.First == 1 && e.begun || l.First > 1 && l.First != e.number+1 {
		return false
	}
	room := e.next >= e.number+1+max(l.Rounds, 1)
	switch {
	case e.agrees(l):
		return l.Declared != nil || !e.begun || e.told || room || e.next == 0 && l.Rounds > 0
	case !l.Firm || !e.begun || !e.below.known || !e.told && !room || e.next > 0 && !room:
		return false
	}
	return e.comesOut(l) // if it declares a count, that is wrong
}

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

// doubted notes a sentence that is a round by its words, whose instruction and
// count do not agree: it may be meant in a way that is not known here.
func (e *expander) doubted(l *Line) {
	v := Verdict{Line: l, Word: Unread, First: e.number + 1, Last: e.number + max(l.Rounds, 1), Used: -1, Made: -1, Declared: declaredBy(l), Rounds: -1}
	if v.Last-v.First >= MaxRound {
		return
	}
	e.report(l, l.At, source.Warning, "unread", "write it in trade shorthand, such as (sc 3, inc) x 6", "the words of this round were not understood, or not so that they agree with the counts")
	e.resync(v.Declared)
	e.number = v.Last
	e.res.Verdicts = append(e.res.Verdicts, v)
}

// comesOut reports whether a round uses all that is there, whatever it makes.
func (e *expander) comesOut(l *Line) bool {
	bodies := e.same(l, l.Body, e.number+1)
	if len(bodies) != 1 {
		return false
	}
	e.now = l
	w := e.work(bodies[0], e.habit&e.mask(bodies[0]))
	return e.fits(w, l, -1) && w.made() > 0 && (!w.lace || usesSpace(l.Body))
}

// agrees reports whether a sentence that may be a round is one: it uses all that
// is there and makes what it says.
func (e *expander) agrees(l *Line) bool {
	if e.carry > 0 || len(l.Body) == 0 {
		return false
	}
	e.now = l
	mask := e.mask(l.Body)
	for s := mask; ; s = (s - 1) & mask {
		w := e.work(l.Body, s)
		switch {
		case w.ring && e.begun, !w.ring && !e.below.known, w.lace && !w.ring && !usesSpace(l.Body):
		case l.Declared == nil && !w.ring && w.made() != w.there():
		case e.fits(w, l, declaredBy(l)) && (w.made() > 0):
			return true
		}
		if s == 0 {
			return false
		}
	}
}

func declaredBy(l *Line) int {
	if l.Declared == nil {
		return -1
	}
	return l.Declared.Total
}

// declaredSpaces returns how many chain spaces a line says it has; 0 if unsaid.
func declaredSpaces(l *Line) int {
	if l.Declared == nil {
		return 0
	}
	return l.Declared.Spaces
}

// line works one line.
func (e *expander) line(l *Line, rest []*Line) {
	if l.Perhaps && !e.believes(l) {
		if l.Likely && e.told {
			e.doubted(l)
		}
		return
	}
	e.told = l.Prose || l.First < 0
	e.now = l
	v := Verdict{Line: l, Used: -1, Made: -1, Declared: -1, Rounds: -1, First: l.First, Last: l.Last}
	if l.Declared != nil {
		v.Declared = l.Declared.Total
	}
	if l.First < 0 {
		v.First, v.Last = e.number+1, e.number+1
		if l.Rounds > 1 {
			v.Last = v.First + l.Rounds - 1
		}
	}
	e.resume(l)
	if l.Label == "" && !e.begun && e.number == 0 && v.First == v.Last && len(rest) > 0 && rest[0].First == 1 && rest[0].Label != "" && begins(l) {
		v.First, v.Last = 0, 0 // "Begin by dc6 into ring" above round 1
	}
	e.labels(l, &v)
	body := l.Body
	if l.First >= 0 && l.First == l.Last && l.Rounds > 1 && !e.opt.Strict { // "Row 3 - sc around - 6 rows"
		v.Last = v.First + l.Rounds - 1
	}
	count := v.Last - v.First + 1
	if count > MaxRound {
		e.report(l, l.LabelAt, source.Error, "range", "name the rounds that there are", "rounds %d to %d are more than a piece has", v.First, v.Last)
		v.Word = Unread
		e.res.Verdicts = append(e.res.Verdicts, v)
		return
	}
	bodies := e.same(l, body, v.First)
	if len(bodies) == 1 && !works(bodies[0]) && !hasChains(bodies[0]) {
		e.unread(l, &v)
		return
	}
	if l.Unread.IsValid() && (e.opt.Strict || v.Declared < 0 || len(body) == 0) || bodies == nil {
		e.unread(l, &v)
		return
	}
	if len(bodies) == 1 {
		if n := e.until(bodies[0], l, v.Declared); n > 1 {
			count, v.Last = n, v.First+n-1
		}
		bodies[0] = e.thus(bodies[0], count, v.Declared)
	}
	v.Word = OK
	if count > 1 && len(bodies) == 1 {
		e.settle(l, bodies[0], count, v.Declared)
		defer func() { e.settled = false }()
	}
	for k := range count {
		body := bodies[k%len(bodies)]
		last := k == count-1
		declared := -1
		if last {
			declared = v.Declared
		}
		told := len(e.res.Findings)
		w, word := e.round(l, body, declared, v.Last > v.First)
		if l.Unread.IsValid() && word != OK {
			e.res.Findings = e.res.Findings[:told] // what was not understood may be why
		}
		if w == nil {
			if l.Unread.IsValid() {
				e.unread(l, &v)
				return
			}
			v.Word = Unread
			e.resync(v.Declared)
			e.number = v.Last
			e.res.Verdicts = append(e.res.Verdicts, v)
			return
		}
		if l.Unread.IsValid() && word != OK {
			e.unread(l, &v)
			return
		}
		r := e.keep(l, w, v.First+k)
		if k == 0 {
			v.Rounds = len(e.res.Rounds) - 1
			v.Used = r.Used
		}
		if last {
			v.Made = r.Made
		}
		if word != OK && v.Word == OK {
			v.Word = word
		}
		if e.made > MaxPiece {
			e.report(l, l.At, source.Error, "too-many", "split the piece, or mend the range", "the piece has more than %d stitches", MaxPiece)
			v.Word = Unread
			break
		}
		if (word == Mismatch || word == Indivisible) && last && !e.goesOnFrom(r, v.Declared, rest) {
			e.resync(v.Declared)
		}
	}
	if v.Word == OK && v.Declared < 0 {
		v.Word = Uncounted
	}
	e.number = v.Last
	for n := v.First; n <= v.Last; n++ {
		e.byNum[n] = l
	}
	e.res.Verdicts = append(e.res.Verdicts, v)
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

// resume goes back to the round that a line is worked on: "as the small mat to
// the end of the 4th round".
func (e *expander) resume(l *Line) {
	if l.Resume < 1 || l.First != l.Resume+1 {
		return
	}
	if i, ok := e.roundAt[l.Resume]; ok {
		e.below = places(e.res.Rounds[i], i)
		e.number, e.carry, e.begun = l.Resume, 0, true
	}
}

// goesOnFrom reports whether the count that a line declares is the misprint,
// not its instruction: the next round is worked on what the instruction of r
// makes, and cannot be worked on the declared count.
func (e *expander) goesOnFrom(r *Round, declared int, rest []*Line) bool {
	if declared < 0 || r.Made == declared || len(rest) == 0 || r.Used < 0 {
		return false
	}
	next := rest[0]
	for i := 1; i < len(rest) && i < 4 && next.Declared == nil && plainRound(next.Body); i++ {
		next = rest[i] // plain rounds that declare nothing decide nothing
	}
	bodies := e.same(next, next.Body, r.Number+1)
	if len(bodies) != 1 || next.Unread.IsValid() || next.Declared == nil && plainRound(bodies[0]) {
		return false
	}
	now, below := e.now, e.below
	e.now = next
	onMade := e.fitting(next, bodies[0])
	e.below = plainFabric(declared)
	e.below.round = -1
	onDeclared := e.fitting(next, bodies[0])
	e.now, e.below = now, below
	return onMade && !onDeclared
}

// plainRound reports whether an instruction works a stitch into each, and
// nothing else.
func plainRound(nodes []Node) bool {
	plain := false
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Stitch == stitch.Ch {
				continue
			}
			if n.Places != ToEnd || n.Per != 1 || n.Stitch.IsDecrease() {
				return false
			}
			plain = true
		case *Evenly:
			plain = n.N == 0 && n.To == 0
		case *Aside, *Yarn, *Join, *Turn, *LoopMode:
		default:
			return false
		}
	}
	return plain
}

// fitting reports whether a round comes out on the round below in one of its
// readings.
func (e *expander) fitting(l *Line, body []Node) bool {
	mask := e.mask(body)
	for s := mask; ; s = (s - 1) & mask {
		if e.fits(e.work(body, s), l, declaredBy(l)) {
			return true
		}
		if s == 0 {
			return false
		}
	}
}

// unread notes a line that was not understood. The count goes on from the
// declared one.
func (e *expander) unread(l *Line, v *Verdict) {
	sev := source.Warning
	if e.opt.Strict {
		sev = source.Error
	}
	at := l.Unread
	why := l.Why
	switch {
	case !at.IsValid():
		at, why = l.At, "the line has no instruction that could be read"
	case why == "":
		why = fmt.Sprintf("%q was not understood", clip(l.File.Text[at.From:at.To], 60))
	}
	e.report(l, at, sev, "unread", "write it in trade shorthand, such as (sc 3, inc) x 6", "%s", why)
	v.Word, v.Used, v.Made = Unread, -1, -1
	e.resync(v.Declared)
	e.number = v.Last
	e.res.Verdicts = append(e.res.Verdicts, *v)
}

func clip(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n]) + "…"
	}
	return s
}

// resync makes the round below one of n stitches, of which nothing else is
// known.
func (e *expander) resync(n int) {
	e.begun = true
	e.carry = 0
	if n < 0 {
		e.below = fabric{round: -1}
		return
	}
	e.below = plainFabric(n)
	e.below.round = -1
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
	case !e.begun && e.number == 0:
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
	if at < 0 {
		if len(body) == 0 {
			if l.Declared != nil && l.Declared.Total == e.below.stitches && e.below.known && e.begun {
				return [][]Node{{&Evenly{}}}
			}
			return nil
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
		if !ok {
			e.report(l, s.Span(), source.Error, "same-as", fmt.Sprintf("the rounds before this one are %d to %d", 1, e.number), "there is no round %d to repeat", n)
			return nil
		}
		for _, bd := range e.same(line, line.Body, n) {
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

// doubts returns the ways in which nodes can be read twice.
func doubts(nodes []Node) Doubt {
	var d Doubt
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			d |= n.Doubt
		case *Join:
			d |= n.Doubt
		case *In:
			d |= doubts(n.Body)
		case *Repeat:
			d |= n.Doubt | doubts(n.Body)
		}
	}
	return d
}

// readAs says what it means to read a round in other senses than those that the
// author was seen to use; senses without a word of their own say nothing.
func readAs(changed, in Doubt) string {
	var said []string
	for _, s := range []struct {
		doubt   Doubt
		yes, no string
	}{
		{TwoInOne | TwoTight, "two stitches named together are worked into one", "two stitches named together are worked one into each of two"},
		{More, "the repeats come after a first time", "the repeats are counted in all"},
		{ChainsIn, "the chains count as stitches", "the chains do not count as stitches"},
		{LastOnly, "only the last of the list is repeated", "all of the list is repeated"},
		{SameNext, "the same stitch is the next one", ""},
	} {
		switch {
		case changed&s.doubt == 0:
		case in&s.doubt != 0 && s.yes != "":
			said = append(said, s.yes)
		case in&s.doubt == 0 && s.no != "":
			said = append(said, s.no)
		}
	}
	return strings.Join(said, ", and ")
}

// ambiguous reports whether a round that declares no count comes out in another
// reading too, with another count, and nothing before it shows which is meant.
func (e *expander) ambiguous(l *Line, body []Node, free, habit Doubt, made int) bool {
	for _, d := range []Doubt{TwoTight, More} {
		if free&d == 0 || e.seen[sense{doubt: d}] != [2]int{} {
			continue
		}
		if w := e.work(body, habit^d); e.fits(w, l, -1) && w.made() != made {
			e.report(l, bodySpan(l), source.Warning, "ambiguous", "say the count at the end of the round",
				"it can be read as making %s or %s, and no count says which", stitches(made), stitches(w.made()))
			return true
		}
	}
	return false
}

// maxSettled is the most rounds of a range that are tried in each sense.
const maxSettled = 60

// settle finds the sense in which every round of a range comes out, since all
// of them are one instruction, and makes it the habit.
func (e *expander) settle(l *Line, body []Node, count, declared int) {
	mask := e.mask(body)
	if mask == 0 || count > maxSettled {
		return
	}
	below := e.below
	defer func() { e.below, e.settled = below, true }()
	best, found := e.habit&mask, false
	for s := mask; ; s = (s - 1) & mask {
		if s == e.habit&mask || !found || nearer(s, best, e.habit&mask) {
			e.below = below
			ok := true
			for k := 0; k < count && ok; k++ {
				w := e.work(body, s)
				want := -1
				if k == count-1 {
					want = declared
				}
				if ok = e.fits(w, l, want); ok {
					e.below = places(&Round{Stitches: w.out, Turned: w.turned}, 0)
				}
			}
			if ok && (!found || nearer(s, best, e.habit&mask)) {
				best, found = s, true
			}
		}
		if s == 0 {
			break
		}
	}
	if found {
		e.habit = e.habit&^mask | best
	}
}

// mask returns the ways in which a round can be read twice on the round below.
func (e *expander) mask(body []Node) Doubt {
	mask := doubts(body)
	if startsWithChain(body) || e.carry > 0 {
		if e.chainRule(body) == ByConvention {
			mask |= ChainIn
		}
		mask |= JoinIn
	}
	for _, el := range e.below.elems {
		if el.chain {
			mask |= ChainsIn
			break
		}
	}
	if hasChains(body) {
		mask |= ChainsIn
	}
	if startsWithChain(body) {
		mask |= Cut
	}
	return mask
}

// round works one round in the reading that the counts allow, and says how it
// came out. It returns nil if it cannot be worked at all.
func (e *expander) round(l *Line, body []Node, declared int, ranged bool) (*working, Word) {
	mask := e.mask(body)
	habit := e.habit & mask
	free := mask // what may be read in the other sense
	for _, s := range senses(mask, body) {
		if in, ok := e.fixed[s]; ok {
			free &^= s.doubt
			if habit &^= s.doubt; in {
				habit |= s.doubt
			}
		}
	}
	if declared < 0 && e.begun && e.below.round < 0 && e.below.known && usesSpace(body) && !e.below.spaced {
		return nil, Unread // what spaces there are is not known after a round that went wrong
	}
	first := e.work(body, habit)
	if declared < 0 && e.fits(first, l, declared) && first.partly() {
		e.report(l, bodySpan(l), source.Warning, "unread", "say how often it is repeated, or the count at the end", "only a part of the round below is worked into")
		return nil, Unread
	}
	if want := declaredSpaces(l); declared < 0 && want > 0 && first.spacesMade() != want {
		for s := free; s != 0; s = (s - 1) & free {
			if w := e.work(body, habit&^free|s); e.fits(w, l, -1) && w.spacesMade() == want {
				return w, OK
			}
		}
	}
	if e.fits(first, l, declared) {
		if declared >= 0 {
			e.note(mask, habit, body)
		} else if mask&More != 0 && !e.fits(e.work(body, habit^More), l, -1) {
			e.note(mask&More, habit, body) // what it uses shows it
		} else if e.ambiguous(l, body, free, habit, first.made()) {
			return first, Ambiguous
		}
		return first, OK
	}
	if free != 0 && !e.settled {
		var best, whole *working // whole uses up the round below, where only the last item is repeated
		bestSenses := Doubt(0)
		uses := first.uneven != 0 || e.fits(first, l, -1)
		for s := free; ; s = (s - 1) & free {
			if in := habit&^free | s; in != habit {
				w := e.work(body, in)
				if e.fits(w, l, declared) && (best == nil || nearer(in, bestSenses, habit)) {
					best, bestSenses = w, in
				}
				if !uses && (in^habit)&^LastOnly == 0 && e.fits(w, l, -1) && whole == nil {
					whole = w
				}
			}
			if s == 0 {
				break
			}
		}
		if best != nil {
			if declared >= 0 {
				e.note(mask, bestSenses, body)
			}
			if said := readAs(bestSenses^habit, bestSenses); said != "" && !e.opt.Strict {
				e.report(l, bodySpan(l), source.Note, "settled", "", "by the counts it is read so that %s", said)
			}
			e.habit = e.habit&^mask | bestSenses
			return best, OK
		}
		if whole != nil {
			first = whole
		}
	}
	if e.begun && e.below.round < 0 && usesSpace(body) {
		return nil, Unread // what spaces there are is not known after a round that went wrong
	}
	if first.problem != "" {
		if !e.begun && !first.ring && !e.below.known {
			return nil, Unread
		}
		if !e.below.known {
			if w := e.guess(body, declared, mask); w != nil {
				return w, OK
			}
			if e.begun || !e.opt.Strict {
				return nil, Unread
			}
		}
		e.report(l, bodySpan(l), source.Error, "work", "", "%s", first.problem)
		return nil, Unread
	}
	if l.Weak {
		sev := source.Warning
		if e.opt.Strict {
			sev = source.Error
		}
		e.report(l, bodySpan(l), sev, "unread", "say where in trade words, such as in next st", "the words of a place were not understood, and the counts do not agree")
		return nil, Unread
	}
	word := Mismatch
	repair := e.repair(l, body, declared)
	switch {
	case first.uneven != 0:
		word = Indivisible
		left := stitches(first.uneven) + " are"
		if first.uneven == 1 {
			left = "1 stitch is"
		}
		e.report(l, bodySpan(l), source.Error, "uneven", cmp.Or(repair, evenHint(first)),
			"a group that uses %s does not come out even: %s left over of %d", stitches(first.evenOf), left, first.there())
	case !first.ring && !first.lace && first.used() != first.there() && e.below.known:
		hint := cmp.Or(repair, fmt.Sprintf("it has to use all %d", first.there()))
		if first.used() > first.there() {
			e.report(l, bodySpan(l), source.Error, "count-used", hint, "it uses %s; the round below has %d", stitches(first.used()), first.there())
		} else {
			e.report(l, bodySpan(l), source.Error, "count-used", hint, "it uses %s of the %d of the round below", stitches(first.used()), first.there())
		}
	}
	if declared >= 0 && first.made() != declared {
		at := source.Span{}
		if l.Declared != nil {
			at = l.Declared.At
		}
		is := "are"
		if declared == 1 {
			is = "is"
		}
		e.report(l, at, source.Error, "count-made", cmp.Or(repair, fmt.Sprintf("%d would be right, if the instruction is", first.made())),
			"it makes %s; %d %s declared", stitches(first.made()), declared, is)
	}
	return first, word
}

func evenHint(w *working) string {
	if w.evenOf == 0 {
		return ""
	}
	for d := 1; d < w.evenOf; d++ {
		for _, n := range []int{w.evenOf - d, w.evenOf + d} {
			if n > 1 && w.there()%n == 0 {
				return fmt.Sprintf("%d is a multiple of %d, not of %d", w.there(), n, w.evenOf)
			}
		}
	}
	return fmt.Sprintf("%d is not a multiple of %d", w.there(), w.evenOf)
}

func bodySpan(l *Line) source.Span {
	var s source.Span
	for _, n := range l.Body {
		s = s.Join(n.Span())
	}
	if !s.IsValid() {
		return l.At
	}
	return s
}

// nearer reports whether the senses a are nearer to what the author was seen to
// mean than b.
func nearer(a, b, habit Doubt) bool {
	x, y := bits.OnesCount16(uint16(a^habit)), bits.OnesCount16(uint16(b^habit))
	return x < y || x == y && a < b
}

func startsWithChain(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Start, *Aside, *Yarn, *LoopMode:
			continue
		case *Work:
			return n.Stitch == stitch.Ch
		}
		return false
	}
	return false
}

func hasChains(nodes []Node) bool {
	for i, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Stitch == stitch.Ch && i > 0 {
				return true
			}
		case *In:
			if hasChains(n.Body) || len(n.Body) > 0 && startsWithChain(n.Body) {
				return true
			}
		case *Repeat:
			if hasChains(n.Body) || len(n.Body) > 0 && startsWithChain(n.Body) {
				return true
			}
		}
	}
	return false
}

// chainRule says how the starting chain of nodes, the instruction of e.now,
// counts. What its own line says goes before what another line says; "ch 3
// counts as dc" said of another line is not said of the single chain before sc.
func (e *expander) chainRule(nodes []Node) ChainRule {
	switch {
	case e.now != nil && e.now.Chain != ByConvention:
		return e.now.Chain
	case e.opt.Chain != ByConvention:
		return e.opt.Chain
	}
	base := firstBase(nodes)
	r := e.chains[base]
	switch {
	case r == ChainCounts && base <= stitch.Half:
		return ByConvention // said where it is so; elsewhere the counts tell
	case r != ByConvention || base <= stitch.Half:
		return r
	}
	for b, r := range e.chains {
		if b > stitch.Half && r == ChainCounts {
			return r // "ch 3 counts as dc" goes for taller stitches too
		}
	}
	return ByConvention
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

// work works nodes on the round below in the senses given.
func (e *expander) work(nodes []Node, senses Doubt) *working {
	w := &working{
		below: e.below, senses: senses, chain: e.chainRule(nodes), joined: e.joined,
		yarns: &e.yarns, yarn: e.yarn, main: e.main, lastPos: -1,
		out: make([]Stitch, 0, len(e.below.elems)*5/4+16), rounds: e.numbered,
	}
	if e.now != nil {
		w.chainAs = e.now.ChainAs
	}
	if !e.begun && !e.below.known {
		w.ring = true
		w.below = fabric{round: -1, known: true}
	}
	if e.carry > 0 {
		w.chains(e.carry, nodes)
	}
	for _, n := range nodes {
		if s, ok := n.(*Start); ok && s.Kind == Foundation {
			k := 2
			for _, n := range nodes {
				if x, ok := n.(*Work); ok && x.Target.Where == FromHook {
					k = x.Target.Chain
				}
			}
			if k > 0 && s.Chains >= k && s.Chains <= MaxRound {
				w.below = foundationFabric(s.Chains, k, len(e.res.Rounds))
				w.ring, w.lace = false, true
			}
		}
	}
	if s := chainRing(nodes); s != nil && s.Chains > 0 && s.Chains <= MaxRound {
		w.below, w.ring, w.onChain = ringFabric(s.Chains, len(e.res.Rounds)), false, true
	}
	w.run(nodes)
	w.closeRound()
	w.closeMesh(nodes)
	if w.start != nil && w.start.Kind == ChainRing && len(w.out) == 0 && !hasWork(nodes) || onlyChains(nodes) && w.made() == 0 {
		w.ringAlone(nodes)
	}
	return w
}

// closeRound takes a last slip stitch in the "next" stitch, where none is left,
// as the one that joins: "*ch 2, 2 dc in same st, ch 2, sl st in next st; rep from
// * 5 more times" ends where it began.
func (w *working) closeRound() {
	if w.over != 1 || len(w.out) == 0 {
		return
	}
	if s := &w.out[len(w.out)-1]; s.Kind == stitch.SlSt && s.Role == Plain && s.Into.First < 0 && s.Into.Round == w.below.round {
		*s = Stitch{Kind: stitch.SlSt, Into: Into{Where: IntoNothing, Round: -1, Last: -1}, Yarn: s.Yarn, Role: Joining}
		w.over, w.closed = 0, true
	}
}

// closeMesh takes the last skip of a mesh as told where the round ends with the
// chains over it: "*ch 5, skip 1, sc in next; rep 4 more times, ch 5, join".
func (w *working) closeMesh(nodes []Node) {
	if w.ring || w.problem != "" || w.over > 0 || w.below.round < 0 {
		return
	}
	left := w.there() - w.used()
	if left == 0 || left != lastSkip(nodes) {
		return
	}
	for i := len(w.out) - 1; i >= 0; i-- {
		switch s := w.out[i]; {
		case s.Role == Joining:
			continue
		case s.Kind == stitch.Ch && s.Role == Plain:
			w.pos = len(w.below.elems)
			w.uneven = 0
		}
		return
	}
}

// lastSkip returns how many stitches the last skip of nodes passes over.
func lastSkip(nodes []Node) int {
	n := 0
	for _, m := range nodes {
		switch m := m.(type) {
		case *Skip:
			n = m.N
		case *Repeat:
			if s := lastSkip(m.Body); s > 0 {
				n = s
			}
		}
	}
	return n
}

// ringAlone makes a round of nothing but chains: a ring that is counted as the
// first round, to be worked into chain by chain.
func (w *working) ringAlone(nodes []Node) {
	n := 0
	if w.start != nil {
		n = w.start.Chains
		w.start = nil
	}
	if n > MaxRound {
		w.fail("the round makes more than %d stitches", MaxRound)
		return
	}
	for range n {
		w.emit(Stitch{Kind: stitch.Ch, Into: Into{Where: IntoNothing, Round: -1, Last: -1}})
	}
	for i := range w.out {
		if w.out[i].Kind == stitch.Ch {
			w.out[i].Role, w.out[i].Counts = Plain, true
		}
	}
	w.lace = true
}

// chainRing returns the ring of chains that nodes begin with, if they work into
// its chains one by one: "2 sc in each ch", "sc in each st around".
func chainRing(nodes []Node) *Start {
	var s *Start
	for _, n := range nodes {
		switch n := n.(type) {
		case *Start:
			if n.Kind != ChainRing {
				return nil
			}
			s = n
		case *Work:
			if n.Stitch == stitch.Ch {
				continue
			}
			if s != nil && (n.Target.Where == Ring || n.Target.Where == Space) {
				return nil
			}
			if s != nil && (n.Places == ToEnd || n.Target.Kind == stitch.Ch || s.Chains >= 10) {
				return s
			}
			return nil
		case *In:
			if s != nil && (n.Target.Where == Next || n.Target.Where == Any) {
				return s
			}
			return nil
		case *Repeat:
			if s == nil {
				return nil
			}
			if in := chainRing(append([]Node{s}, n.Body...)); in != nil || n.Times == ToEnd && n.Doubt&Bare == 0 && !ringed(n.Body) {
				return s
			}
			return nil
		}
	}
	return nil
}

// ringed reports whether nodes work into the ring.
func ringed(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Target.Where == Ring || n.Target.Where == Space {
				return true
			}
		case *In:
			if n.Target.Where == Ring || n.Target.Where == Space {
				return true
			}
		}
	}
	return false
}

// fits reports whether a round came out as its line says and uses all that is
// there.
func (e *expander) fits(w *working, l *Line, declared int) bool {
	if w.problem != "" || w.uneven != 0 {
		return false
	}
	if !w.ring && !w.lace && e.below.known && w.used() != w.there() {
		return false
	}
	if declared < 0 || w.made() == declared {
		return true
	}
	// "(24 dc, 12 ch-1 sp)" or a count that includes the chains is told by the
	// sense ChainsIn
	return false
}

// guess works a round of which only its own count is known: "around" is taken
// to come out even.
func (e *expander) guess(nodes []Node, declared int, mask Doubt) *working {
	if declared <= 0 || declared > MaxRound {
		return nil
	}
	probe := plainFabric(MaxRound)
	for _, n := range nodes {
		r, ok := n.(*Repeat)
		if !ok {
			if w, ok := n.(*Work); ok && w.Places == ToEnd && w.Per > 0 && len(nodes) <= 3 {
				save := e.below
				e.below = plainFabric(declared / w.Per * w.Stitch.Legs())
				out := e.work(nodes, e.habit&mask)
				e.below = save
				if out.problem == "" && out.made() == declared {
					return out
				}
				return nil
			}
			continue
		}
		w := &working{below: probe, yarns: &e.yarns, main: e.main, lastPos: -1}
		w.run(r.Body)
		if w.problem != "" || w.made() == 0 || declared%w.made() != 0 {
			return nil
		}
		save := e.below
		e.below = plainFabric(declared / w.made() * w.used())
		out := e.work(nodes, e.habit&mask)
		e.below = save
		if out.problem == "" && out.made() == declared && out.uneven == 0 {
			return out
		}
		return nil
	}
	return nil
}

// keep adds a worked round to the result and makes it the round below.
func (e *expander) keep(l *Line, w *working, number int) *Round {
	if w.start != nil && (w.start.Kind == Foundation || w.onChain) && w.below.round == int32(len(e.res.Rounds)) {
		f := &Round{Number: 0, Used: 0, Made: w.start.Chains, Below: -1, Start: w.start, Line: l}
		for range w.start.Chains {
			f.Stitches = append(f.Stitches, Stitch{Kind: stitch.Ch, Into: Into{Round: -1, Last: -1}, Yarn: w.yarn})
		}
		e.res.Rounds = append(e.res.Rounds, f)
	}
	r := &Round{
		Number: number, Stitches: w.out, Used: w.used(), Made: w.made(), Below: -1,
		Start: w.start, Joined: w.closed, Turned: w.turned, Line: l,
	}
	switch {
	case w.ring:
		r.Used = 0
	case !w.below.known && !w.lace && r.Used > 0:
		// the round below was not understood; what this one uses of it was
	case w.centred && w.below.known && !w.partly():
		r.Used, r.Below = w.there(), int(w.below.round)
	case w.lace || !w.below.known:
		r.Used = -1
		if w.below.round >= 0 {
			r.Below = int(w.below.round)
		}
	default:
		r.Below = int(w.below.round)
	}
	if w.senses&ChainsIn != 0 {
		for i := range r.Stitches {
			if s := &r.Stitches[i]; s.Kind == stitch.Ch && s.Role == Plain {
				s.Counts = true
			}
		}
	}
	e.res.Rounds = append(e.res.Rounds, r)
	e.roundAt[number] = len(e.res.Rounds) - 1
	e.below = places(r, len(e.res.Rounds)-1)
	if r.Used > 0 && r.Made != r.Used {
		e.shaped = r.Made - r.Used
	}
	e.begun = true
	e.carry = w.carry
	e.yarn = w.yarn
	e.made += len(r.Stitches)
	e.joined = e.joined || w.closed
	if b := firstBase(l.Body); b != stitch.NoBase {
		e.main = b
	}
	return r
}
