package notation

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// ReadOptions say how a text is to be read.
type ReadOptions struct {
	Terms  stitch.Terms
	Stated bool     // Terms are stated, and not to be told from the text
	Strict bool     // every line has to be a round or go on from one; then Terms are stated too
	Yarns  []string // keys and colours that the text may use for yarns
}

// A Text is a text with the rounds found in it.
type Text struct {
	Items    []Item
	Findings source.Findings
	Terms    stitch.Terms // as stated, or told from the text
	Evidence string       // what told the terms
	Language string       // that it is written in, as two letters: "en", "de"
}

// An Item is a written round, or a note: any other line of the text.
type Item struct {
	At   source.Span
	Line *Line // nil for a note
	Note string
}

// Lines returns the written rounds of t, in order.
func (t *Text) Lines() []*Line {
	var ls []*Line
	for _, it := range t.Items {
		if it.Line != nil {
			ls = append(ls, it.Line)
		}
	}
	return ls
}

// A Part is the rounds of one piece, as a text has them.
type Part struct {
	Name  string // of the heading above it; may be empty
	Lines []*Line
}

// Parts splits the rounds of t where the numbers begin anew.
func (t *Text) Parts() []Part {
	var parts []Part
	heading := ""
	next, read := nextNumbers(t.Lines()), 0
	for _, it := range t.Items {
		if it.Line == nil {
			if h := headingOf(it.Note); h != "" {
				heading = h
			}
			continue
		}
		l := it.Line
		read++
		last := len(parts) - 1
		fresh := last < 0
		if !fresh {
			lines := parts[last].Lines
			last := lastNumber(lines)
			fresh = l.First >= 0 && l.First <= 1 && last >= 1 && (l.First == 1 || begins(l)) ||
				l.First == 1 && last < 0 && begins(l) // after rounds without numbers
			switch {
			case l.First < 0 && last >= 1 && begins(l) && next[read-1] == 1:
				fresh = true // "Begin by dc6 into ring", and round 1 below it
			case fresh && !begins(l) && len(lines) == 1 && lines[0].Label == "" && begins(lines[0]):
				fresh = false
			}
			if l.Perhaps && fresh && next[read-1] == max(last, 0)+1 {
				fresh = false // the rounds go on past it
			}
		}
		if fresh {
			parts = append(parts, Part{Name: heading})
			last++
		}
		parts[last].Lines = append(parts[last].Lines, l)
	}
	return parts
}

// refer gives the lines that repeat those of another piece the lines that are
// meant.
func (t *Text) refer() {
	if !slices.ContainsFunc(t.Items, func(it Item) bool { return it.Line != nil && it.Line.AsNamed != "" }) {
		return
	}
	parts := t.Parts()
	for i, part := range parts {
		for _, l := range part.Lines {
			if l.AsNamed == "" || l.First < 0 {
				continue
			}
			for j := i - 1; j >= 0 && l.As == nil; j-- {
				if !headed(parts[j].Name, l.AsNamed) {
					continue
				}
				for _, of := range parts[j].Lines {
					if of.First >= 0 && of.Last >= l.First && of.First <= l.Last {
						l.As = append(l.As, of)
					}
				}
			}
		}
	}
}

// headed reports whether a heading has all the words, a number of them excepted.
func headed(heading, words string) bool {
	heading = strings.ToLower(heading)
	for _, w := range strings.Fields(words) {
		if _, err := strconv.Atoi(w); err == nil {
			continue
		}
		if !strings.Contains(heading, strings.TrimSuffix(w, "s")) {
			return false
		}
	}
	return true
}

// begins reports whether a line begins a piece.
func begins(l *Line) bool {
	for _, n := range l.Body {
		switch n := n.(type) {
		case *Start:
			return true
		case *Work:
			if n.Target.Where == Ring {
				return true
			}
		}
	}
	return false
}

func lastNumber(ls []*Line) int {
	n := -1
	for _, l := range ls {
		n = max(n, l.Last)
	}
	return n
}

// headingOf returns the words of a note that can stand above a piece.
func headingOf(note string) string {
	h := strings.TrimSpace(strings.Trim(strings.TrimSpace(note), "#*_=-: \t"))
	if h == "" || len(h) > 60 || strings.ContainsAny(h, ".|") {
		return ""
	}
	return h
}

// maxTokens is the most words and signs that one round may have. The longest
// published one has some hundreds.
const maxTokens = 2000

// Read finds the rounds in f. In a strict text every line that is not empty has
// to be a round, or to go on from one.
func Read(f *source.File, opt ReadOptions) *Text {
	r := reader{file: f, opt: opt, text: &Text{}, colours: map[string]bool{}, defs: map[string][]Node{}}
	for _, y := range opt.Yarns {
		if y != "" {
			r.colours[fold(y)] = true
		}
	}
	toks := scan(f.Text)
	r.text.Terms = opt.Terms
	if !opt.Strict && !opt.Stated && opt.Terms == stitch.US {
		r.text.Terms, r.text.Evidence = terms(toks)
	}
	figures(toks)
	letterCodes(f.Text, toks)
	toks, r.text.Language = words(f.Text, toks, r.text.Terms)
	if r.text.Language == english.code {
		toks = wordy(toks)
	}
	toks = spoken(withoutStops(f.Text, toks))
	capitals(f.Text, toks)
	r.keys(toks)
	r.lines(toks)
	r.flush()
	r.text.refer()
	r.tell()
	return r.text
}

type reader struct {
	file    *source.File
	opt     ReadOptions
	text    *Text
	colours map[string]bool

	open      []token // the tokens of the round being gathered, its label first
	start     []token // an opening (a ring, a chain) that waits for its round
	tentative bool    // the open round is one only if the counts agree
	prose     bool    // the open round stands inside a paragraph
	list      bool    // the open round is given as a list of its own below its label
	last      *Line   // the round read last
	main      stitch.Base
	defs      map[string][]Node // stitches that the text explains
	blank     bool              // an empty line came last

	telling   []token       // of the lines of a paragraph that are no rounds by themselves
	tellingAt []source.Span // those lines
	resume    int           // the round of an earlier piece up to which this one is like it
	number    int           // of the round read last, as labelled or counted on
	toldTo    int           // where the last round ends that was told in one of them
}

// keys makes the words that are keys of yarns colours, and single capital
// letters where they stand for yarns.
func (r *reader) keys(toks []token) {
	letters := r.letters(toks)
	for i := range toks {
		t := &toks[i]
		switch {
		case t.sym == sWord && r.colours[t.text]:
			t.sym = sColour
		case len(t.text) == 1 && letters[r.file.Text[t.from:t.to]] && besideStitches(toks, i):
			t.sym = sColour
		case (t.sym == sFill || t.sym == sWord || t.sym == sSt || t.sym == sMeasure) && len(t.text) == 1 && r.colours[t.text]:
			if raw := r.file.Text[t.from:t.to]; raw == strings.ToUpper(raw) {
				t.sym = sColour
			}
		case t.sym == sFill && t.text == "a" && i > 0 && (toks[i-1].sym == sColour || toks[i-1].sym == sWith) && r.file.Text[t.from:t.to] == "A":
			t.sym = sColour
		}
	}
}

// letters finds the single capital letters that a text uses for yarns: those
// that stand, twice or more, right before or after a number of stitches.
func (r *reader) letters(toks []token) map[string]bool {
	count := map[string]int{}
	rounds := false // R stands for round
	for i, t := range toks {
		rounds = rounds || t.text == "r" && i+1 < len(toks) && toks[i+1].sym == sNumber && (i == 0 || toks[i-1].line != t.line)
	}
	for i, t := range toks {
		if len(t.text) == 1 && t.sym != sNumber {
			if raw := r.file.Text[t.from:t.to]; len(raw) == 1 && raw >= "A" && raw <= "Z" && raw != "X" && !(rounds && raw == "R") && besideStitches(toks, i) {
				count[raw]++
			}
		}
	}
	letters := map[string]bool{}
	for l, n := range count {
		letters[l] = n >= 2 && len(count) >= 2
	}
	return letters
}

// besideStitches reports whether the word i stands where the letter of a yarn
// would: alone in brackets, before a number, or after stitches.
func besideStitches(toks []token, i int) bool {
	sym := func(j int) sym {
		if j < 0 || j >= len(toks) || toks[j].line != toks[i].line {
			return sStop
		}
		return toks[j].sym
	}
	before, after := sym(i-1), sym(i+1)
	switch {
	case (before == sColon || before == sStop) && after == sDash && i > 0 && toks[i-1].line == toks[i].line && !toks[i+1].glued:
		return true // "Row 5: B - sc around"
	case before == sOpen && after == sClose, before == sStop && after == sColon && i > 0 && toks[i-1].line == toks[i].line:
		return true
	case i > 0 && toks[i-1].text == "yarn" && toks[i-1].line == toks[i].line:
		return true
	case after == sNumber && (before == sComma || before == sOpen || before == sStar || before == sColon || before == sStop && i > 0 && toks[i-1].line == toks[i].line):
		return !(before == sStop && !toks[i+1].glued && sym(i+2) == sColon)
	case before == sIn && (after == sClose || after == sComma || after == sStop):
		return true
	case (before == sStitch || before == sInc || before == sDec || before == sNumber) && (after == sComma || after == sClose || after == sStop || after == sStar):
		return true
	case before == sWith || before == sColour:
		return true
	}
	return false
}

// lines goes through the physical lines of the text.
func (r *reader) lines(toks []token) {
	text := r.file.Text
	at := 0
	for start := 0; start < len(text); {
		end := start + strings.IndexByte(text[start:], '\n')
		if end < start {
			end = len(text)
		}
		from := at
		for at < len(toks) && toks[at].from < end {
			at++
		}
		line := toks[from:at:at]
		if strings.TrimSpace(text[start:end]) == "" {
			r.blank = true
			r.tell()
		} else {
			r.line(line, source.Span{From: start, To: end})
			r.blank = false
		}
		start = end + 1
	}
}

// line takes one physical line that is not empty.
func (r *reader) line(toks []token, at source.Span) {
	toks = emphasisedCount(r.table(toks))
	if len(toks) == 0 {
		r.tell()
		r.note(at)
		return
	}
	// several rounds may share a line
	for first := true; len(toks) > 0; first = false {
		lead := decoration(toks)
		p := r.parser(toks[lead:])
		l, ok := p.label()
		if ok && l.word && r.opens(toks[lead+p.pos:]) { // "Foundation: ch 4, join"
			r.flush()
			r.tell()
			r.start = append(r.start, toks[lead+p.pos:]...)
			return
		}
		if ok && l.strong && !l.sep && first && r.tells() && p.peek().text == "is" {
			ok = false // "Round four is two plain and two in one"
		}
		if ok && !l.strong && first && l.first != r.number+1 && len(r.telling) > 0 && r.midSentence(toks) {
			ok = false // "so that there are\n18. Work three rounds"
		}
		if ok && r.isRound(p, l, first) {
			r.flush()
			r.tell()
			cut := r.nextLabel(toks, lead+p.pos, l, first)
			r.open, r.prose = append([]token(nil), toks[lead:cut]...), !first
			toks = toks[cut:]
			continue
		}
		i := r.firstLabel(toks)
		if n := len(r.open); i == 0 && !first && n > 0 && r.open[n-1].sym == sStop && r.tellsOf(toks) {
			i = len(toks) // what follows the last label of a paragraph
		}
		if i > 0 {
			r.lead(toks[:i], at)
			toks = toks[i:]
			continue
		}
		switch {
		case len(r.telling) > 0 && r.midSentence(toks):
			r.pend(toks, at)
		case r.goesOn(toks):
			if n := decoration(toks); n > 0 && n < len(toks) && toks[0].sym == sDash && !toks[n].glued {
				toks = append([]token{{sym: sStop, text: ".", from: toks[0].from, to: toks[0].from}}, toks[n:]...) // an item of a list
				r.list = true
			}
			r.open = append(r.open, toks...)
		case r.opens(toks):
			r.flush()
			r.tell()
			r.start = append(r.start, toks...)
		case r.unlabelled(toks) && !r.toldOtherwise(toks):
			r.flush()
			r.tell()
			r.open = append([]token(nil), toks...)
		case !r.tells() && r.perhaps(toks):
			r.flush()
			r.open = append([]token(nil), toks...)
			r.tentative = true
			r.flush()
		default:
			r.flush()
			r.explains(toks)
			r.defined(toks)
			if n, _ := resumes(toks); n > 0 {
				r.resume = n
			}
			r.pend(toks, at)
		}
		return
	}
}

// explains keeps what a line says of how a stitch is made: "Shell: (2 dc, ch 2,
// 2 dc) in same sp".
func (r *reader) explains(toks []token) {
	if len(toks) > maxTokens {
		return
	}
	toks = toks[decoration(toks):]
	name, i := defName(toks)
	if name == "" || i >= len(toks) {
		return
	}
	for i < len(toks)-1 && (toks[i].sym == sStar || toks[i].text == "are" || toks[i].text == "is" || toks[i].text == "means") {
		i++
	}
	if s := toks[i].sym; s != sColon && s != sEqual && s != sDash && s != sOpen {
		return
	}
	if toks[i].sym != sOpen {
		i++
	}
	l := &Line{}
	p := r.parser(append([]token(nil), toks[i:]...))
	p.line = l
	nodes := p.tidy(p.seq(0))
	if l.Unread.IsValid() || len(nodes) == 0 {
		return
	}
	switch n := nodes[0].(type) {
	case *In:
		r.defs[name] = n.Body
	case *Repeat:
		if n.Doubt&Bare != 0 {
			r.defs[name] = n.Body
		}
	case *Work:
		if n.Target.Where == Same || n.Target.Where == Space || n.Per > 1 {
			r.defs[name] = []Node{&Work{at: n.at, Stitch: n.Stitch, Per: n.Per, Places: 1}}
		}
	}
}

// defined finds what a sentence inside a line says of how a stitch is made.
func (r *reader) defined(toks []token) {
	for i := 1; i < len(toks); i++ {
		if s := toks[i-1].sym; s == sStop || s == sStar {
			end := i
			for end < len(toks) && toks[end].sym != sStop {
				end++
			}
			r.explains(toks[i:end])
		}
	}
}

// defName reads the name of a stitch that a text may explain itself, and how
// many tokens it is.
func defName(toks []token) (string, int) {
	name := ""
	for i, t := range toks {
		switch {
		case t.sym == sForm && t.val.form == stitch.Shell:
			return name + "shell", i + 1
		case t.sym == sCorner:
			return name + "corner", i + 1
		case (t.sym == sFirst || t.sym == sBegin) && i == 0:
			name = "beginning "
		default:
			return "", 0
		}
	}
	return "", 0
}

// firstLabel returns where the first label inside a line begins that goes on
// from the rounds before; 0 if there is none.
func (r *reader) firstLabel(toks []token) int {
	last := r.lastNumber()
	like, likeAt := resumes(toks)
	for i := 1; i < len(toks); i++ {
		if s := toks[i-1].sym; s != sStop && s != sClose && s != sColon && s != sBar && s != sDash {
			continue
		}
		p := r.parser(toks[i:])
		l, ok := p.label()
		if !ok || !l.strong || !l.sep {
			continue
		}
		if like > 0 && likeAt < i && l.first == like+1 && r.isRound(p, l, false) {
			return i // "as the small mat to the end of the 4th round, and then: 5th round: ..."
		}
		if toks[i-1].sym == sDash {
			continue
		}
		told := r.tells() && l.first == 2 && last == 0 && beginsPiece(toks[:i]) // "Make a ring of 8. Second round, ..."
		if (l.first == 1 || l.first == last+1 || told || r.namesNext(toks[i-1], l)) && r.isRound(p, l, false) {
			return i
		}
	}
	return 0
}

// namesNext reports whether a label after a full stop leads to the next round
// without a number: "Last round, ...".
func (r *reader) namesNext(before token, l label) bool {
	return before.sym == sStop && l.first < 0 && l.rounds == 0 && r.tells() && r.last != nil
}

// lastNumber returns the number of the last round before the current line.
func (r *reader) lastNumber() int {
	if len(r.open) > 0 {
		if l, ok := r.parser(r.open).label(); ok && l.last >= 0 {
			return l.last
		}
	}
	return r.number
}

// lead takes what stands on a line before its first label.
func (r *reader) lead(toks []token, at source.Span) {
	if n, _ := resumes(toks); n > 0 {
		r.flush()
		r.resume = n
	}
	if n := len(r.open); (n == 0 || r.open[n-1].sym == sStop && toks[0].capital) && r.tellsOf(toks) {
		r.flush()
		r.tell()
		r.take(r.toldIn(toks))
		return
	}
	switch {
	case r.goesOn(toks):
		r.open = append(r.open, toks...)
	case r.opens(toks):
		r.flush()
		r.tell()
		r.start = append(r.start, toks...)
	default:
		r.flush()
		r.tell()
	}
}

// table makes the cells of a Markdown table row one run of tokens, and bars
// elsewhere the stars that they stand for.
func (r *reader) table(toks []token) []token {
	bars := 0
	for _, t := range toks {
		if t.sym == sBar {
			bars++
		}
	}
	angles(toks)
	if bars == 0 {
		return toks
	}
	if toks[0].sym == sBar {
		toks = toks[1:]
		for len(toks) > 0 && toks[len(toks)-1].sym == sBar {
			toks = toks[:len(toks)-1]
		}
		return countCell(toks)
	}
	if bars%2 == 0 {
		for i := range toks {
			if toks[i].sym == sBar {
				toks[i].sym = sStar
			}
		}
	}
	return toks
}

// angles makes brackets of "<sc in sp, ch 7> 6 times".
func angles(toks []token) {
	open := -1
	for i := range toks {
		switch t := &toks[i]; {
		case t.text == "<":
			open = i
		case t.text == ">" && open >= 0 && i > open+2:
			toks[open].sym, t.sym = sOpen, sClose
			open = -1
		}
	}
}

// countCell makes the sign before the count of a table row one of equality. The
// count is the first of the cells with nothing but a number at the end of the
// row; what comes after it is the change, or a number of the row's own.
func countCell(toks []token) []token {
	at, end := -1, len(toks)
	for i := len(toks) - 1; i > 1; i-- {
		if toks[i].sym != sBar {
			continue
		}
		cell := toks[i+1 : end]
		signed := len(cell) > 1 && (cell[0].sym == sDash || cell[0].sym == sPlus)
		if len(cell) > 0 && !signed && (cell[0].sym != sNumber || len(cell) > 3) {
			break
		}
		if len(cell) > 0 && !signed {
			at = i
		}
		end = i
	}
	if at < 0 {
		return toks
	}
	next := at + 1
	for next < len(toks) && toks[next].sym != sBar {
		next++
	}
	toks[at].sym = sEqual
	return toks[:next]
}

// decoration returns how many tokens at the start of a line are bullets,
// heading signs or emphasis.
func decoration(toks []token) int {
	i := 0
	for i < len(toks) && (toks[i].sym == sDash || toks[i].sym == sStar || toks[i].sym == sSign || toks[i].sym == sPlus && toks[i].text == "+") {
		i++
	}
	return i
}

func (r *reader) parser(toks []token) *parser {
	return &parser{text: r.file.Text, toks: toks, colours: r.colours, main: r.main, defs: r.defs}
}

// isRound reports whether what follows the label that p has read makes it the
// label of a round.
func (r *reader) isRound(p *parser, l label, first bool) bool {
	rest := p.toks[p.pos:]
	if len(rest) > maxTokens {
		rest = rest[:maxTokens]
	}
	works, words, asked := false, 0, false
	for i, t := range rest {
		switch t.sym {
		case sSign:
			asked = asked || t.text == "?"
		case sStitch, sInc, sDec, sEven, sTog, sForm, sMagic, sDouble, sAround:
			works = true
		case sSt:
			works = works || l.strong || t.text == "plain"
		case sRep, sAs:
			works = works || i+1 < len(rest)
		case sSame: // "2. The same, with beads"
			works = works || i <= 1 && i+1 < len(rest) && (rest[i+1].sym == sComma || rest[i+1].sym == sStop || rest[i+1].sym == sEqual)
		case sWord, sMeasure:
			words++
		}
	}
	switch {
	case l.strong && l.sep:
		return works || len(rest) == 0 || r.opt.Strict || words == 0
	case l.strong:
		return len(rest) == 0 || works && (rest[0].sym != sWord || r.opt.Strict) || onlyCount(rest)
	case !l.sep:
		return false
	}
	// a bare number: the instruction has to begin at once
	if last := r.lastNumber(); last > 0 && l.first == last+1 && bareCountOnly(rest) {
		return true // "6-8. 24"
	}
	if !works || len(rest) == 0 {
		return false
	}
	switch rest[0].sym {
	case sWord, sMeasure, sSide, sRound, sRow:
		if p.toks[p.pos-1].sym != sColon && !(r.goesOnFrom(l) && p.named()) {
			return false
		}
	}
	if asked {
		return false
	}
	if rest[0].sym == sAs && l.last > l.first {
		return true // "1-4: same as small bowl"
	}
	if words*4 <= len(rest) {
		return true
	}
	// what stands after the first sentence may be a remark
	end, stitches, words := 0, 0, 0
	for ; end < len(rest) && rest[end].sym != sStop; end++ {
		switch rest[end].sym {
		case sWord, sMeasure:
			words++
		case sEven, sTog, sAround, sInc, sDec, sStitch:
			stitches++
		}
	}
	return stitches > 0 && words == 0 && end < len(rest) && p.toks[p.pos-1].sym != sFill
}

// goesOnFrom reports whether the label goes on, soon after the round before.
func (r *reader) goesOnFrom(l label) bool {
	if len(r.open) > 0 {
		before, ok := r.parser(r.open).label()
		return ok && before.last > 0 && l.first > before.last && l.first <= before.last+20
	}
	return r.last != nil && r.last.Last > 0 && l.first > r.last.Last && l.first <= r.last.Last+20
}

// named reports whether a word or two and a colon stand before the instruction:
// "Handles: 7 sc, ch 6".
func (p *parser) named() bool {
	k := p.past(0, sWord, sFill)
	return k <= 3 && p.at(k).sym == sColon && p.beginsItem(p.pos+k+1)
}

// bareCountOnly reports whether toks are nothing but a number of stitches, and
// the loop that they are worked into perhaps.
func bareCountOnly(toks []token) bool {
	if len(toks) > 0 && (toks[0].sym == sBLO || toks[0].sym == sFLO) {
		toks = toks[1:]
	}
	if n := len(toks); n == 2 && toks[1].sym == sStop {
		toks = toks[:1]
	}
	return len(toks) == 1 && toks[0].sym == sNumber && !toks[0].decimal && !toks[0].ordinal
}

func onlyCount(toks []token) bool {
	return len(toks) > 0 && toks[0].sym == sOpen
}

// nextLabel returns where the next label on the same line begins, or the end of
// the line.
func (r *reader) nextLabel(toks []token, from int, l label, first bool) int {
	for i := from + 1; i < len(toks); i++ {
		if !first && toks[i].capital && toks[i-1].sym == sStop && leadsOn(toks[i:]) && r.tellsOf(toks[i:i+sentence(toks[i:])]) {
			return i // a round that is told in a sentence
		}
		if s := toks[i-1].sym; s != sStop && s != sClose && s != sComma && s != sBar && s != sNumber && s != sSt && !toks[i-1].stopped {
			continue
		}
		p := r.parser(toks[i:])
		next, ok := p.label()
		if ok && next.strong && next.sep && (next.first == max(l.last, l.first)+1 || r.namesNext(toks[i-1], next)) && r.isRound(p, next, false) {
			return i
		}
	}
	return len(toks)
}

// goesOn reports whether a line without a label goes on from the round that is
// open.
func (r *reader) goesOn(toks []token) bool {
	if len(r.open) == 0 || len(r.open) > maxTokens {
		return false
	}
	depth, body := 0, 0
	p := r.parser(r.open)
	l, labelled := p.label()
	labelled = labelled && (l.strong || l.sep)
	if body = len(r.open); labelled {
		body -= p.pos
	}
	for _, t := range r.open {
		switch t.sym {
		case sOpen:
			depth++
		case sClose:
			depth--
		}
	}
	works, words, counts := weigh(toks)
	last := r.open[len(r.open)-1].sym
	if r.blank && body > 0 {
		return false
	}
	switch {
	case body == 0:
		return works > 0 || counts || toks[0].sym == sAs
	case depth > 0, last == sComma, last == sAnd, last == sIn, last == sNext, last == sDash, last == sPlus, last == sFrom, last == sEach, last == sSame, last == sCounts,
		last == sNumber && r.open[len(r.open)-1].num < 20 && body > 2 && (r.open[len(r.open)-2].sym == sComma || r.open[len(r.open)-2].sym == sAnd) && toks[0].sym == sStitch:
		return works+len(toks)-words > 0 && (words <= works+2 || depth > 0)
	case toks[0].sym == sOpen && r.parser(toks).countAhead(0):
		return true
	case counts && works == 0 && words == 0:
		return true
	}
	if !labelled {
		return false // without labels each line is a round of its own
	}
	lead := decoration(toks)
	if r.list && lead > 0 {
		return works > 0 && words <= works
	}
	if lead > 0 && toks[0].sym != sStar || r.declared() {
		return false
	}
	return works > 0 && words == 0
}

// declared reports whether the open round has its count.
func (r *reader) declared() bool {
	l := &Line{}
	p := r.parser(append([]token(nil), r.open...))
	p.line = l
	p.label()
	p.body()
	return l.Declared != nil
}

// weigh counts the tokens of a line that belong to instructions and the words
// that belong to none; counts says that it begins with a count.
func weigh(toks []token) (works, words int, counts bool) {
	for _, t := range toks {
		switch t.sym {
		case sStitch, sInc, sDec, sTog, sEven, sForm, sMagic, sDouble, sRep, sTimes, sX, sSkip, sJoin, sTurn, sAround, sOnce, sEach, sBLO, sFLO:
			works++
		case sWord, sMeasure, sStuff, sFasten:
			words++
		}
	}
	if len(toks) > 0 {
		switch toks[0].sym {
		case sOpen, sEqual, sNumber, sHave:
			counts = len(toks) <= 6
		}
	}
	return works, words, counts
}

// opens reports whether a line without a label begins a piece: a magic ring, a
// chain joined to a ring, a foundation chain.
func (r *reader) opens(toks []token) bool {
	works, words, _ := weigh(toks)
	if works == 0 || words > 6 {
		return false
	}
	magic, chain, ring, number, other := false, false, false, false, false
	for i, t := range toks {
		switch t.sym {
		case sMeasure:
			return false // "(keyring) 4 cm"
		case sMagic:
			magic = true
		case sRing:
			ring = true
		case sNumber:
			number = true
		case sStitch:
			if t.val.stitch == stitch.Ch {
				if i <= 3 {
					chain = true
				}
			} else if t.val.stitch != stitch.SlSt {
				other = true
			}
		case sInc, sDec, sForm:
			other = true
		}
	}
	if other || words > works+3 {
		return false
	}
	return magic && words <= 3 || chain && number && (ring || words <= 2)
}

// unlabelled reports whether a line without a label is a round all the same: it
// is an instruction and nothing else, and goes round or says its count.
func (r *reader) unlabelled(toks []token) bool {
	works, words, _ := weigh(toks)
	if r.opt.Strict {
		return true
	}
	if len(toks) > maxTokens || works < 1 || words > 0 || r.last == nil && len(r.open) == 0 && len(r.start) == 0 && !beginsPiece(toks) {
		return false
	}
	if len(toks) > 1 && toks[0].sym == sForm && toks[1].sym == sColon {
		return false // how a stitch is made
	}
	l := &Line{First: -1, Last: -1}
	p := r.parser(append([]token(nil), toks...))
	p.line = l
	p.body()
	if l.Unread.IsValid() {
		return false
	}
	if l.Rounds == 0 {
		l.Rounds = roundsIn(toks)
	}
	for _, n := range l.Body {
		switch n := n.(type) {
		case *SameAs:
			return true
		case *Evenly:
			return l.Declared != nil || l.Rounds > 0
		case *Work:
			if l.Declared != nil || n.Places == ToEnd && n.Stitch != stitch.SlSt || n.Target.Where == Ring || n.Target.Where == FromHook {
				return true
			}
		case *Start:
			return hasWork(l.Body)
		case *Repeat:
			if l.Declared != nil || n.Times == ToEnd && n.Doubt&Bare == 0 {
				return true
			}
		case *In:
			return l.Declared != nil
		}
	}
	return false
}

// perhaps reports whether a sentence could be a round: it works stitches and
// says a count. Whether it is one, the counts decide.
func (r *reader) perhaps(toks []token) bool {
	works, words, _ := weigh(toks)
	if r.opt.Strict || works < 1 || words > 2*works+6 || len(toks) > 80 || r.last == nil && !beginsPiece(toks) {
		return false
	}
	l := &Line{First: -1, Last: -1}
	p := r.parser(append([]token(nil), toks...))
	p.line = l
	p.body()
	if l.Unread.IsValid() || l.Declared == nil && roundsIn(toks) == 0 && !beginsPiece(toks) {
		return false
	}
	for _, t := range toks {
		if t.sym == sEqual {
			return false // "inc = 2 sc in one st"
		}
	}
	begins := l.Declared == nil && roundsIn(toks) == 0 || r.last == nil
	for _, n := range l.Body {
		if begins {
			if w, ok := n.(*Work); ok && w.Places >= 4 && (w.Target.Where == Ring || w.Target.Where == FromHook) {
				return true
			}
			continue
		}
		switch n := n.(type) {
		case *Evenly, *Repeat, *In, *SameAs:
			return true
		case *Work:
			if n.Stitch != stitch.Ch && n.Stitch != stitch.SlSt {
				return true
			}
		}
	}
	return false
}

// beginsPiece reports whether a line works into a ring or into a chain from the
// hook.
func beginsPiece(toks []token) bool {
	for _, t := range toks {
		if t.sym == sMagic || t.sym == sRing || t.sym == sHook {
			return true
		}
	}
	return false
}

func (r *reader) note(at source.Span) {
	note := r.file.Text[at.From:at.To]
	if r.opt.Strict {
		r.text.Findings = append(r.text.Findings, source.Finding{
			File: r.file, At: trim(r.file.Text, at), Severity: source.Error, Code: "not-a-round",
			Message: "this is not a round", Hint: "write it as Rnd 3: (sc 1, inc) x 6 (18); put remarks into a step or into the prose",
		})
	}
	r.text.Items = append(r.text.Items, Item{At: at, Note: strings.TrimRight(note, "\r")})
}

// trim cuts spaces off both ends of a span.
func trim(text string, s source.Span) source.Span {
	for s.From < s.To && (text[s.From] == ' ' || text[s.From] == '\t' || text[s.From] == '\r') {
		s.From++
	}
	for s.To > s.From && (text[s.To-1] == ' ' || text[s.To-1] == '\t' || text[s.To-1] == '\r') {
		s.To--
	}
	return s
}

// flush parses the round that was gathered.
func (r *reader) flush() {
	if len(r.open) == 0 {
		return
	}
	toks := r.open
	r.open, r.list = nil, false
	l := &Line{File: r.file, First: -1, Last: -1, Perhaps: r.tentative, Prose: r.prose}
	r.prose = false
	r.tentative = false
	l.At = source.Span{From: toks[0].from, To: toks[len(toks)-1].to}
	p := r.parser(toks)
	p.line = l
	if lab, ok := p.label(); ok && (lab.strong || lab.sep) {
		l.First, l.Last, l.Rounds, l.Row, l.Colour, l.LabelAt = lab.first, lab.last, lab.rounds, lab.row, lab.colour, lab.at
		l.Label = r.file.Text[lab.at.From:lab.at.To]
		if r.resume > 0 && l.First == r.resume+1 && l.First <= r.number {
			l.Resume = r.resume
		}
		r.resume = 0
	} else {
		p.pos = 0
	}
	if strings.HasSuffix(r.file.Text[:l.At.From], "*") {
		for !p.end() && p.peek().sym == sStar && p.peek().glued { // emphasis round the label
			p.pos++
		}
	}
	body := p.toks[p.pos:]
	if len(r.start) > 0 {
		body = append(append(r.start, token{sym: sComma, from: toks[0].from, to: toks[0].from}), body...)
		r.start = nil
	}
	long := len(body) > maxTokens
	p.toks, p.pos = body[:min(len(body), maxTokens)], 0
	if l.Colour != "" {
		l.Body = append(l.Body, &Yarn{at: at(l.LabelAt), Key: l.Colour})
	}
	p.body()
	if long {
		l.Body = nil
		if l.Why != tooDeep {
			l.Unread, l.Why = l.At, fmt.Sprintf("the round is longer than %d words and signs", maxTokens)
		}
	}
	if l.First < 0 && l.Rounds == 0 && len(l.Body) > 0 {
		if s, ok := l.Body[0].(*SameAs); ok && s.Last >= s.First {
			l.Rounds = min(s.Times, MaxRound) * min(s.Last-s.First+1, MaxRound)
		}
	}
	if l.First < 0 && l.Rounds == 0 {
		l.Rounds = roundsIn(body)
	}
	r.text.Items = append(r.text.Items, Item{At: l.At, Line: l})
	r.read(l)
	r.main = p.main
}

// roundsIn reads "for 6 rounds" out of an instruction.
func roundsIn(toks []token) int {
	for i := 1; i+1 < len(toks); i++ {
		if toks[i].sym == sNumber && !toks[i].decimal && !toks[i].ordinal && (toks[i+1].sym == sRound || toks[i+1].sym == sRow) && toks[i-1].sym != sRound {
			return toks[i].num
		}
	}
	return 0
}
