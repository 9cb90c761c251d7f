package pattern

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"roundelay/pattern/notation"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// maxReadBack bounds how many lines of a text are read again while the ways to
// write them are looked for.
const maxReadBack = 20_000

// settle decides how the rounds of a piece are written, and what is said beside
// them.
func (p *part) settle(t *scribe) {
	joined := 0
	for _, r := range p.result.Rounds {
		if r.Joined {
			joined++
		}
	}
	if joined*2 > len(p.result.Rounds) {
		p.style = Joined
	}
	for _, e := range p.entries {
		if e.line.Chain != notation.ByConvention {
			p.chain = e.line.Chain
			break
		}
	}
	p.compose(t)
	p.readBack(t)
	p.say(t)
}

// compose finds the ways in which each line can be written.
func (p *part) compose(t *scribe) {
	names := make([]string, len(p.result.Yarns))
	for i, name := range p.result.Yarns {
		names[i] = t.yarnKey(p, name)
	}
	printed := map[int][]string{} // by the index of the round, its instruction and its count
	at := 0
	for _, w := range notation.Print(p.result.Rounds, names, notation.Wording{Terms: t.text.Terms}) {
		for n := w.First; n <= w.Last; n++ {
			for at < len(p.result.Rounds) && p.result.Rounds[at].Number != n {
				at++ // a foundation is told with the round that is worked into it
			}
			if at < len(p.result.Rounds) {
				printed[at] = []string{w.Text, w.Count}
				at++
			}
		}
	}
	for i := range p.entries {
		e := &p.entries[i]
		v := e.verdict
		own := label(v.First, v.Last, false) + ownWords(t.file, e.line)
		canonical := p.canonical(v, printed)
		wrong := v.Word != notation.OK && v.Word != notation.Uncounted || t.toldOf(e.line).Count(source.Error) > 0
		switch {
		case canonical == "":
			e.ways, e.own = []string{own}, 0
		case wrong || strings.Contains(canonical, "\n"):
			e.ways, e.own = []string{own, canonical}, 0
		default:
			e.ways, e.own = []string{canonical, own}, 1
		}
		if counted := p.counted(v, printed); canonical != "" && v.Declared < 0 && counted != "" {
			e.ways = append(e.ways, counted)
		}
		if wrong && v.Declared >= 0 { // a count that is told in another language
			e.ways = append(e.ways, fmt.Sprintf("%s (%d)", own, v.Declared))
		}
		if wrong {
			e.ways = append(e.ways, e.literally(t, p)...)
		}
	}
}

// canonical writes a line from its stitches: rounds that are written alike as
// one line. It returns "" for a line that was not worked.
func (p *part) canonical(v notation.Verdict, printed map[int][]string) string {
	if v.Rounds < 0 || v.Word == notation.Unread {
		return ""
	}
	count := ""
	if v.Declared >= 0 {
		count = fmt.Sprintf(" (%d)", v.Declared)
		if w := printed[v.Rounds+v.Last-v.First]; v.Declared == v.Made && w != nil && w[1] != "" {
			count = " " + w[1]
		}
	}
	return p.lines(v, printed, count)
}

// counted writes a line with its count, though it declares none.
func (p *part) counted(v notation.Verdict, printed map[int][]string) string {
	if v.Made < 0 || v.Rounds < 0 {
		return ""
	}
	return p.lines(v, printed, fmt.Sprintf(" (%d)", v.Made))
}

func (p *part) lines(v notation.Verdict, printed map[int][]string, count string) string {
	var out []string
	first := v.First
	for n := v.First; n <= v.Last; n++ {
		w, next := printed[v.Rounds+n-v.First], printed[v.Rounds+n+1-v.First]
		switch {
		case w == nil || w[0] == "":
			return ""
		case n < v.Last && next != nil && next[0] == w[0] && next[1] == w[1]:
			continue
		}
		line := label(first, n, true) + w[0]
		if n == v.Last {
			line += count
		}
		out = append(out, line)
		first = n + 1
	}
	return strings.Join(out, "\n")
}

// literally writes what a line that does not come out says, where what it says
// can't be told from its own words alone any more: its group with the repeat
// that it leaves out, or its stitches as they are worked on as many as they use.
func (e *entry) literally(t *scribe, p *part) []string {
	l, v := e.line, e.verdict
	count := ""
	if l.Declared != nil {
		count = " (" + strings.Trim(oneLine(t.file.Text[l.Declared.At.From:l.Declared.At.To]), " ()[]{}.") + ")"
	}
	var ways []string
	var bare *notation.Repeat // the group that has no mark of a repeat
	others := false
	for _, n := range l.Body {
		switch n := n.(type) {
		case *notation.Aside:
		case *notation.Repeat:
			if n.Doubt&notation.Bare != 0 {
				bare = n
			}
		default:
			others = true
		}
	}
	if bare != nil && !others {
		at := bare.Span()
		ways = append(ways, label(v.First, v.Last, false)+"("+oneLine(t.file.Text[at.From:at.To])+") around"+count)
	}
	if v.First == v.Last && v.Used > 0 && v.Word == notation.Mismatch && v.Rounds >= 0 {
		below := notation.Read(source.NewFile("", fmt.Sprintf("Rnd %d: %d sc in magic ring", v.First-1, v.Used)), notation.ReadOptions{Strict: true})
		started := notation.Expand(below.Lines(), notation.Options{Strict: true})
		if done := notation.Expand([]*notation.Line{l}, notation.Options{AnyYarn: true, After: started.Rounds}); len(done.Rounds) == 2 {
			names := make([]string, len(done.Yarns))
			for i, name := range done.Yarns {
				names[i] = t.yarnKey(p, name)
			}
			written := notation.Print(done.Rounds, names, notation.Wording{Terms: t.text.Terms})
			ways = append(ways, label(v.First, v.Last, true)+written[len(written)-1].Text+count)
		}
	}
	return ways
}

// label writes the label of a line, as [notation.Print] does.
func label(first, last int, long bool) string {
	switch {
	case first == last:
		return fmt.Sprintf("Rnd %d: ", first)
	case long:
		return fmt.Sprintf("Rnds %d-%d (%d rounds): ", first, last, last-first+1)
	}
	return fmt.Sprintf("Rnds %d-%d: ", first, last)
}

// ownWords returns what the author wrote after the label, as one line.
func ownWords(f *source.File, l *notation.Line) string {
	from := l.At.From
	if l.LabelAt.IsValid() {
		from = l.LabelAt.To
	}
	if from > l.At.To {
		from = l.At.From
	}
	words := f.Text[from:l.At.To]
	if start := strings.LastIndexByte(f.Text[:l.At.From], '\n') + 1; strings.HasPrefix(strings.TrimSpace(f.Text[start:]), "|") {
		words = cells(words)
	}
	words = strings.TrimLeftFunc(oneLine(words), func(c rune) bool {
		return strings.ContainsRune(" :.)-–—,|", c) || unicode.Is(unicode.So, c) || c == '→'
	})
	for _, mark := range []string{"**", "__"} {
		if strings.Count(words, mark) == 1 {
			words = strings.TrimLeft(strings.Replace(words, mark, "", 1), " :.")
		}
	}
	// the ring or chain that it begins with may stand on a line before it
	if len(l.Body) > 0 {
		if s := l.Body[0].Span(); s.IsValid() && s.To <= l.At.From {
			words = strings.TrimRight(oneLine(f.Text[s.From:s.To]), " .,") + ", " + words
		}
	}
	return words
}

// cells writes the cells of a row of a table as one instruction; the last one, if
// it is a number, is the count.
func cells(row string) string {
	var out []string
	for _, c := range strings.Split(row, "|") {
		if c = strings.TrimSpace(c); c != "" {
			out = append(out, c)
		}
	}
	if n := len(out); n > 1 && out[n-1][0] >= '0' && out[n-1][0] <= '9' {
		out[n-1] = "(" + out[n-1] + ")"
	}
	return strings.Join(out, " ")
}

// readBack takes, line by line, the first way to write it that the loader reads
// as the line was read in the text.
func (p *part) readBack(t *scribe) {
	p.chain = p.bestChain(t)
	tried := map[int]bool{}
	for {
		wrong := p.wrong(t)
		t.budget -= len(p.entries)
		next := -1
		for _, i := range wrong {
			if !tried[i] {
				next = i
				break
			}
		}
		if next < 0 || t.budget < 0 {
			break
		}
		e := &p.entries[next]
		if e.way+1 < len(e.ways) {
			e.way++
			continue
		}
		// none is read as it was; the best of them stays
		e.way = 0
		tried[next] = true
	}
	for _, i := range p.wrong(t) {
		e := &p.entries[i]
		if e.own >= 0 {
			e.way = e.own
		}
	}
	for _, i := range p.wrong(t) {
		e := &p.entries[i]
		p.trouble = append(p.trouble, fmt.Sprintf("%s, line %d: it is not read here as in the text, where it %s", RoundWords(e.verdict.First, e.verdict.Last), t.lineOf(e.line.At.From), comesOut(e.verdict)))
		t.findings = append(t.findings, source.Finding{
			File: t.file, At: e.line.At, Severity: source.Warning, Code: "read-back", Round: max(0, e.verdict.First),
			Message: "in the pattern file this line does not come out as in the text", Hint: "write it anew there, in trade shorthand",
		})
	}
}

// bestChain returns the rule for starting chains with which most lines come out
// as in the text: what is said of them, or, if that changes what the author's
// rounds make, none.
func (p *part) bestChain(t *scribe) notation.ChainRule {
	said := p.chain
	if said == notation.ByConvention {
		said = t.chainSaid(p)
	}
	if said == notation.ByConvention {
		return said
	}
	p.chain = said
	with := len(p.wrong(t))
	p.chain = notation.ByConvention
	if len(p.wrong(t)) < with {
		return notation.ByConvention
	}
	return said
}

// comesOut says what is known of a line.
func comesOut(v notation.Verdict) string {
	if v.Made < 0 {
		return "was not understood"
	}
	return fmt.Sprintf("makes %d", v.Made)
}

// wrong returns the entries that the loader does not read as they were read in
// the text.
func (p *part) wrong(t *scribe) []int {
	var lines []string
	var first []int // by the line of the rounds, its entry
	for i, e := range p.entries {
		for _, l := range strings.Split(e.ways[e.way], "\n") {
			lines = append(lines, literal(l))
			first = append(first, i)
		}
	}
	f := source.NewFile("", strings.Join(lines, "\n")+"\n")
	w := workshop{loader: &loader{reader: reader{file: f}, p: &Pattern{Terms: t.text.Terms, Yarns: t.loaded()}}}
	index := 0
	for i, y := range t.yarns {
		if y.key == p.yarn {
			index = i
		}
	}
	done := w.work(f, &Piece{Chain: p.chain, Style: p.style}, index)
	got := make([][]notation.Verdict, len(p.entries))
	for _, v := range done.verdicts {
		if n := f.Pos(v.Line.At.From).Line; n >= 1 && n <= len(first) {
			got[first[n-1]] = append(got[first[n-1]], v)
		}
	}
	var out []int
	for i, e := range p.entries {
		if !agree(e.verdict, got[i]) {
			out = append(out, i)
		}
	}
	return out
}

// agree reports whether the verdicts on the lines that stand for one line say the
// same as the verdict on it.
func agree(v notation.Verdict, got []notation.Verdict) bool {
	if len(got) == 0 {
		return false
	}
	first, last := got[0], got[len(got)-1]
	word := last.Word
	for _, g := range got {
		if g.Word != notation.OK && g.Word != notation.Uncounted {
			word = g.Word
			break
		}
	}
	return first.First == v.First && last.Last == v.Last && first.Used == v.Used && last.Made == v.Made &&
		last.Declared == v.Declared && word == v.Word
}

// loaded returns the yarns as they will be loaded.
func (t *scribe) loaded() []Yarn {
	var ys []Yarn
	for _, y := range t.yarns {
		ys = append(ys, Yarn{Key: y.key, Colour: y.colour, Weight: -1})
	}
	return ys
}

func (t *scribe) lineOf(offset int) int { return t.file.Pos(offset).Line }

// say makes the steps of a piece and what is said of its rounds in comments.
func (p *part) say(t *scribe) {
	numbers := map[int]bool{0: true}
	for _, e := range p.entries {
		for n := e.verdict.First; n <= e.verdict.Last && n-e.verdict.First <= maxStepped; n++ {
			numbers[n] = true
		}
	}
	for _, r := range p.intro {
		if stepOf(r.text) != "note" && numbers[0] {
			p.step(t, 0, r, numbers)
		} else {
			p.dropped = append(p.dropped, r.text)
		}
	}
	for _, e := range p.entries {
		v := e.verdict
		for _, f := range t.toldOf(e.line) {
			if f.Severity == source.Note {
				continue
			}
			p.trouble = append(p.trouble, fmt.Sprintf("%s, line %d of the text: %s", RoundWords(v.First, v.Last), t.lineOf(f.At.From), f.Message))
		}
		if e.way != e.own {
			p.asides(t, e, numbers)
			if v.Word != notation.OK && v.Word != notation.Uncounted {
				p.trouble = append(p.trouble, fmt.Sprintf("%s, line %d of the text: %s", RoundWords(v.First, v.Last), t.lineOf(e.line.At.From), oneLine(t.file.Text[e.line.At.From:e.line.At.To])))
			}
		}
		for _, r := range e.after {
			p.step(t, v.Last, r, numbers)
		}
	}
	if n := len(p.entries); n > 0 {
		for _, r := range p.outro {
			p.step(t, p.entries[n-1].verdict.Last, r, numbers)
		}
	}
}

// asides makes steps of the remarks inside a line that is written anew, and a
// comment of all of it where words of it were not understood.
func (p *part) asides(t *scribe, e entry, numbers map[int]bool) {
	v := e.verdict
	begun, yarn := false, false
	for _, n := range e.line.Body {
		a, ok := n.(*notation.Aside)
		if !ok {
			if w, ok := n.(*notation.Work); ok && w.Stitch == stitch.Ch {
				continue
			}
			switch n.(type) {
			case *notation.Yarn:
				yarn = true
			case *notation.LoopMode:
			default:
				begun = true
			}
			continue
		}
		r := t.remark(a.Span())
		switch {
		case !hasWords(r.text):
		case strings.IndexAny(a.Text, "([{") == 0, stepOf(r.text) == "note":
			p.trouble = append(p.trouble, fmt.Sprintf("%s, line %d of the text: %s", RoundWords(v.First, v.Last), t.lineOf(r.at.From), oneLine(a.Text)))
		case begun:
			p.step(t, v.Last, r, numbers)
		default:
			p.step(t, v.First-1, r, numbers)
		}
	}
	if m := yarnTold.FindStringIndex(t.file.Text[e.line.At.From:e.line.At.To]); m != nil && !yarn {
		p.step(t, v.First-1, t.remark(source.Span{From: e.line.At.From + m[0], To: e.line.At.From + m[1]}), numbers)
	}
	if e.line.Unread.IsValid() {
		at := e.line.Unread
		p.trouble = append(p.trouble, fmt.Sprintf("%s, line %d of the text: %q was not understood in: %s", RoundWords(v.First, v.Last), t.lineOf(at.From),
			oneLine(t.file.Text[at.From:at.To]), oneLine(t.file.Text[e.line.At.From:e.line.At.To])))
	}
}

// maxSteps is how many steps a piece may have.
const maxSteps = 200

// step adds what a remark says to do after a round.
func (p *part) step(t *scribe, after int, r remark, numbers map[int]bool) {
	if !numbers[after] || after > maxStepped || len(p.steps) >= maxSteps || len(r.text) > maxText {
		p.dropped = append(p.dropped, fmt.Sprintf("after round %d: %s", after, r.text))
		return
	}
	end := p.entries[len(p.entries)-1].verdict.Last
	for _, s := range sentences(r.text) {
		if len(p.steps) >= maxSteps {
			p.dropped = append(p.dropped, fmt.Sprintf("after round %d: %s", after, s))
			continue
		}
		do := stepOf(s)
		if do == "close" && after < end {
			do = "note"
		}
		if n := len(p.steps); n > 0 && do == "note" && p.steps[n-1].Do == "note" && p.steps[n-1].After == after && p.steps[n-1].At == r.at {
			p.steps[n-1].Say += " " + s
			continue
		}
		p.steps = append(p.steps, Step{After: after, Do: do, Say: s, At: r.at})
	}
}

// sentences splits a line where a sentence ends and a capital begins the next.
func sentences(s string) []string {
	var out []string
	for {
		m := sentenceEnd.FindStringSubmatchIndex(s)
		if m == nil {
			return append(out, strings.TrimSpace(s))
		}
		out = append(out, strings.TrimSpace(s[:m[3]]))
		s = s[m[3]:]
	}
}

// sentenceEnd finds the end of a sentence; the point after a number, as in
// "13. Runde", is none.
var sentenceEnd = regexp.MustCompile(`[^\d\s]([.!?])\s+\p{Lu}`)
