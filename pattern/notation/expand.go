package notation

import (
	"cmp"
	"fmt"

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
		unseen:  map[int]bool{},
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
	unseen  map[int]bool // rounds by number that were not understood
	roundAt map[int]int  // index in res.Rounds of the last round with a number
	main    stitch.Base
	shaped  int      // by how many stitches the last round that was shaped grew
	settled bool     // the rounds of a range are all read in the sense of habit
	next    int      // the number of the label that comes next; 0 if none does
	mended  *working // the last round as its repair makes it; nil if it has none
	told    bool     // the round before is one of running prose, or has no number
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

// doubted notes a sentence that is a round by its words, whose instruction and
// count do not agree: it may be meant in a way that is not known here.
func (e *expander) doubted(l *Line) {
	v := Verdict{Line: l, Word: Unread, First: e.number + 1, Last: e.number + max(l.Rounds, 1), Used: -1, Made: -1, Declared: declaredBy(l), Rounds: -1}
	if v.Last-v.First >= MaxRound {
		return
	}
	e.report(l, l.At, source.Warning, "unread", "write it in trade shorthand, such as (sc 3, inc) x 6", "the words of this round were not understood, or not so that they agree with the counts")
	e.resync(l, v.Declared)
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
			e.resync(l, v.Declared)
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
			if w.said > 0 {
				v.Declared = w.said
			}
		}
		if word != OK && v.Word == OK {
			v.Word = word
		}
		if e.made > MaxPiece {
			e.report(l, l.At, source.Error, "too-many", "split the piece, or mend the range", "the piece has more than %d stitches", MaxPiece)
			v.Word = Unread
			break
		}
		if (word == Mismatch || word == Indivisible) && last && !e.goesOnFrom(l, r, v.Declared, rest) {
			e.resync(l, v.Declared)
			e.below = e.asMended(e.below)
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

// resume goes back to the round that a line is worked on: "as the small mat to
// the end of the 4th round", "join grey in the back loops of round 17".
func (e *expander) resume(l *Line) {
	switch i, ok := e.roundAt[l.Onto]; {
	case l.Onto > 0 && ok:
		e.below, e.carry = places(e.res.Rounds[i], i), 0
	case l.Held > 0 && e.begun:
		e.below, e.carry = plainFabric(l.Held), 0
	case l.Held < 0 && e.begun, l.Joins && e.begun && e.below.known && !e.fitting(l, l.Body):
		e.resync(l, -1)
	}
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
func (e *expander) goesOnFrom(l *Line, r *Round, declared int, rest []*Line) bool {
	if declared < 0 || r.Made == declared || len(rest) == 0 {
		return false
	}
	next := rest[0]
	for i := 1; i < len(rest) && i < 4 && next.Declared == nil && plainRound(next.Body); i++ {
		next = rest[i] // plain rounds that declare nothing decide nothing
	}
	bodies := e.same(next, next.Body, r.Number+1)
	if len(bodies) == 1 && r.Used < 0 && timed(bodies[0]) {
		return false // it comes out on any round below
	}
	if len(bodies) != 1 || next.Unread.IsValid() || next.Declared == nil && plainRound(bodies[0]) {
		return false
	}
	now, below := e.now, e.below
	e.now = next
	onMade := e.fitting(next, bodies[0])
	e.below = declaredFabric(l, declared)
	onDeclared := e.fitting(next, bodies[0])
	e.now, e.below = now, below
	return onMade && !onDeclared
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
	for n := v.First; n <= v.Last && n < v.First+MaxRound; n++ {
		e.unseen[n] = true
	}
	e.resync(l, v.Declared)
	e.number = v.Last
	e.res.Verdicts = append(e.res.Verdicts, *v)
}

func clip(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n]) + "…"
	}
	return s
}

// asMended returns the round below as the repair of a broken round makes it, where
// that has chain spaces, which the declared count alone says nothing of.
func (e *expander) asMended(below fabric) fabric {
	if e.mended == nil {
		return below
	}
	f := places(&Round{Stitches: e.mended.out, Turned: e.mended.turned}, -1)
	if !f.spaced {
		return below
	}
	f.guessed = true
	return f
}

// resync makes the round below one of n stitches, of which nothing else is
// known but what l declares.
func (e *expander) resync(l *Line, n int) {
	e.begun = true
	e.carry = 0
	if n < 0 {
		e.below = fabric{round: -1}
		return
	}
	e.below = declaredFabric(l, n)
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
	guessed := w.guessed || e.below.guessed && w.lace
	e.below = places(r, len(e.res.Rounds)-1)
	e.below.guessed = guessed
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
