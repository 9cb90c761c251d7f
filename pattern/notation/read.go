package notation

import (
	"cmp"
	"fmt"
	"strings"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

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
		toks = longhand(wordy(toks))
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
	onto      int           // the earlier round that the next one is worked on
	held      int           // stitches left by earlier rounds, for the next one; -1 if their number is unsaid
	resume    int           // the round of an earlier piece up to which this one is like it
	number    int           // of the round read last, as labelled or counted on
	toldTo    int           // where the last round ends that was told in one of them
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
		if ok && l.word && opens(toks[lead+p.pos:]) { // "Foundation: ch 4, join"
			r.flush()
			r.tell()
			r.start = append(r.start, unstarred(toks[lead+p.pos:])...)
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
		case opener(toks) >= 0:
			r.flush()
			r.tell()
			r.start = append(r.start, toks[opener(toks):]...)
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
			if onto, held := ground(toks); onto != 0 || held != 0 {
				r.onto, r.held = onto, held
			}
			r.pend(toks, at)
		}
		return
	}
}

// unstarred returns toks without stars before them that end the emphasis of a
// label.
func unstarred(toks []token) []token {
	for len(toks) > 0 && toks[0].sym == sStar && toks[0].glued {
		toks = toks[1:]
	}
	return toks
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
		if toks[i].num == 1 && r.bareLabel(toks, i, 1) { // "orange. 1. 4 sc in ring 2. 4 sc"
			for j := i + 3; j < min(len(toks), i+maxTold); j++ {
				if toks[j].num == 2 && r.bareLabel(toks, j, 2) {
					return i
				}
			}
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
	case opener(toks) >= 0:
		r.flush()
		r.tell()
		r.start = append(r.start, toks[opener(toks):]...)
	default:
		r.flush()
		r.tell()
	}
}

func (r *reader) parser(toks []token) *parser {
	return &parser{text: r.file.Text, toks: toks, colours: r.colours, main: r.main, defs: r.defs}
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
	l.Onto, l.Held = cmp.Or(l.Onto, r.onto), r.held
	r.onto, r.held = 0, 0
	r.text.Items = append(r.text.Items, Item{At: l.At, Line: l})
	r.read(l)
	r.main = p.main
}
