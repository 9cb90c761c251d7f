package pattern

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"roundelay/pattern/notation"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// TranscribeOptions say how a written pattern is to be read.
type TranscribeOptions struct {
	Terms  stitch.Terms
	Stated bool // Terms are stated, and not to be told from the text
}

// Transcribe makes a pattern file of a written pattern.
//
// Rounds are written in the notation of [notation.Print], in the terms of the
// text, one line for each line of it, with the count that it declares; rounds in
// another language become US terms. A line that does not come out, or that was
// not understood, stays as its author wrote it, with a comment above the rounds
// that says what is wrong: nothing is mended. Each line is read back as
// [Load] will read it, and is left as its author wrote it, too, where it would
// come out otherwise.
//
// No line of the text is lost. What stands between rounds is a step; facts of
// the front matter that a key takes are values, with the line that they were
// told from as a comment; all else is a comment where it belongs. Keys that a
// published pattern needs and that the text does not give stand commented out.
//
// The findings are those about the text, and a note for each line that could not
// be kept to what it says. The file is nil if the text is too large.
func Transcribe(f *source.File, opt TranscribeOptions) ([]byte, source.Findings) {
	if len(f.Text) > maxFile {
		return nil, source.Findings{{
			File: f, Severity: source.Error, Code: "file-size",
			Message: "the file is larger than 1 MiB", Hint: "put what is not part of the pattern elsewhere",
		}}
	}
	t := &scribe{file: f, budget: maxReadBack, text: notation.Read(f, notation.ReadOptions{Terms: opt.Terms, Stated: opt.Stated})}
	t.findings = append(t.findings, t.text.Findings...)
	t.divide()
	t.told = slices.DeleteFunc(slices.Clone(t.findings), func(f source.Finding) bool { return !f.At.IsValid() })
	slices.SortStableFunc(t.told, func(a, b source.Finding) int { return cmp.Compare(a.At.From, b.At.From) })
	t.gather()
	t.nameYarns()
	t.namePieces()
	for _, p := range t.parts {
		p.settle(t)
	}
	out := t.write()
	t.findings.Sort()
	return out, t.findings
}

// A remark is a line of the text, or what is left of one, that is no round.
type remark struct {
	at   source.Span
	text string // without what only decorates it
	head headiness
	rest bool // it is what is left of a line with a round, and no heading
}

// headiness is how much a remark looks like a heading.
type headiness uint8

const (
	notHeading   headiness = iota
	maybeHeading           // a few words and a colon
	sureHeading            // it is marked as one, or in capitals, or says how many to make
)

// A scribe is a pattern file being made.
type scribe struct {
	file     *source.File
	text     *notation.Text
	parts    []*part
	front    []remark // before the first piece
	back     []remark // after the last one, from a heading on
	yarns    []yarnName
	facts    facts
	findings source.Findings
	told     source.Findings // those about places in the text, in order
	budget   int             // how many lines may still be read back
}

// A yarnName is a yarn that the rounds name.
type yarnName struct {
	name   string // as the rounds name it; "" for the yarn that a piece begins with and does not name
	key    string
	colour string
}

// A part is one piece.
type part struct {
	heading remark // zero if it has none
	name    string
	make    int
	intro   []remark // between its heading and its first round
	entries []entry
	outro   []remark // after its last round
	result  *notation.Result
	chain   notation.ChainRule
	style   Style
	trouble []string // what is to be said of its rounds in comments
	dropped []string // remarks for which there is no room as steps
	steps   []Step
	begins  string // the name of the yarn that it is said to begin with
	yarn    string // the key of the yarn it begins with; "" for the first
}

// An entry is a line of rounds, with the ways in which it could be written.
type entry struct {
	line    *notation.Line
	verdict notation.Verdict
	ways    []string // one line each, or several of them; the best comes first
	way     int      // the one that is taken
	own     int      // the one that is the author's own; -1 if there is none
	after   []remark // what stands between it and the next entry
}

// divide sorts all that stands in the text into pieces.
func (t *scribe) divide() {
	type thing struct {
		at   source.Span
		line *notation.Line
		rest bool // what is left of a line with a round
	}
	var things []thing
	covered := make([]bool, len(t.file.Text))
	cover := func(s source.Span) {
		for i := max(0, s.From); i < min(s.To, len(covered)); i++ {
			covered[i] = true
		}
	}
	piece, verdicts := t.expand()
	for _, it := range t.text.Items {
		cover(it.At)
		if piece[it.Line] == nil {
			things = append(things, thing{at: it.At}) // a note, or a sentence that was no round
			continue
		}
		things = append(things, thing{at: it.At, line: it.Line})
		for _, n := range it.Line.Body {
			cover(n.Span()) // the ring of a round may stand on a line before it
		}
	}
	for i := 0; i < len(covered); i++ {
		if covered[i] || t.file.Text[i] == '\n' {
			continue
		}
		s := source.Span{From: i, To: i}
		for s.To < len(covered) && !covered[s.To] && t.file.Text[s.To] != '\n' {
			s.To++
		}
		i = s.To
		things = append(things, thing{at: s, rest: true})
	}
	slices.SortStableFunc(things, func(a, b thing) int { return cmp.Compare(a.at.From, b.at.From) })

	var now *part
	var waiting []remark
	for _, it := range things {
		if it.line == nil {
			if r := t.remark(it.at); hasWords(r.text) {
				if r.rest = it.rest; r.rest {
					r.head = notHeading
				}
				waiting = append(waiting, r)
			}
			continue
		}
		p := piece[it.line]
		switch {
		case p == now:
			last := &p.entries[len(p.entries)-1]
			last.after = append(last.after, waiting...)
		case now == nil:
			t.front, p.heading, p.intro = headed(t.titled(waiting), true)
		default:
			now.outro, p.heading, p.intro = headed(waiting, false)
		}
		waiting, now = nil, p
		p.entries = append(p.entries, entry{line: it.line, verdict: verdicts[it.line], own: -1})
	}
	if now == nil {
		t.front = t.titled(waiting)
		return
	}
	for i, r := range waiting {
		if r.head != notHeading || sectionOf(r.text) != noSection {
			waiting, t.back = waiting[:i], waiting[i:]
			break
		}
	}
	now.outro = waiting
}

// expand works the rounds of every piece. It returns the piece and the verdict of
// each line that is a round.
func (t *scribe) expand() (map[*notation.Line]*part, map[*notation.Line]notation.Verdict) {
	piece := map[*notation.Line]*part{}
	verdicts := map[*notation.Line]notation.Verdict{}
	for _, p := range t.text.Parts() {
		res := notation.Expand(p.Lines, notation.Options{AnyYarn: true})
		t.findings = append(t.findings, res.Findings...)
		if len(res.Verdicts) == 0 {
			continue
		}
		made := &part{result: res, make: 1}
		t.parts = append(t.parts, made)
		for _, v := range res.Verdicts {
			piece[v.Line], verdicts[v.Line] = made, v
		}
	}
	return piece, verdicts
}

// toldOf returns the findings about a line.
func (t *scribe) toldOf(l *notation.Line) source.Findings {
	at := func(offset int) int {
		i, _ := slices.BinarySearchFunc(t.told, offset, func(f source.Finding, o int) int { return cmp.Compare(f.At.From, o) })
		return i
	}
	from := at(l.At.From)
	return t.told[from:max(from, at(l.At.To))]
}

// titled takes the title off the front of the text.
func (t *scribe) titled(rs []remark) []remark {
	if len(rs) == 0 || rs[0].rest || sectionOf(rs[0].text) != noSection || !fitsLine(rs[0].text) {
		return rs
	}
	t.facts.title = rs[0]
	if name, ok := strings.CutPrefix(rs[0].text, "title: "); ok {
		t.facts.title.text = name
		t.facts.given = rs[0].text
	}
	return rs[1:]
}

// headed splits the remarks above a piece at its heading: what stands before it,
// itself, and what follows it. In the front of the text a heading has to look
// like one, or to be a few words right above the rounds.
func headed(rs []remark, front bool) (before []remark, heading remark, after []remark) {
	for _, least := range []headiness{sureHeading, maybeHeading, notHeading} {
		for i := len(rs) - 1; i >= 0; i-- {
			r := rs[i]
			if r.rest || r.head < least || sectionOf(r.text) != noSection || stepOf(r.text) != "note" {
				continue
			}
			if least == notHeading && (!isShort(r.text) || front && (i < len(rs)-1 || strings.Count(r.text, " ") > 2)) {
				continue
			}
			return rs[:i], r, rs[i+1:]
		}
	}
	return rs, remark{}, nil
}

// nameYarns gives a key to every yarn that the rounds name.
func (t *scribe) nameYarns() {
	for _, p := range t.parts {
		for _, name := range p.result.Yarns {
			if name != "" && !slices.ContainsFunc(t.yarns, func(y yarnName) bool { return y.name == name }) {
				t.yarns = append(t.yarns, yarnName{name: name})
			}
		}
	}
	unnamed := len(t.yarns) == 0 && t.facts.yarn
	for _, p := range t.parts {
		p.begins = t.beginning(p)
		unnamed = unnamed || len(p.result.Yarns) > 1 && p.begins == "" && p.unnamed()
	}
	// the first piece that says what it begins with says what most begin with
	for _, p := range t.parts {
		if i := slices.IndexFunc(t.yarns, func(y yarnName) bool { return y.name == p.begins }); p.begins != "" && i >= 0 {
			t.yarns = slices.Insert(slices.Delete(t.yarns, i, i+1), 0, yarnName{name: p.begins})
			break
		}
	}
	if unnamed {
		t.yarns = slices.Insert(t.yarns, 0, yarnName{})
	}
	taken := map[string]bool{}
	for i := range t.yarns {
		y := &t.yarns[i]
		y.key = y.name
		switch {
		case y.name == "":
			y.key = "MC"
		case len(y.name) <= 2:
			y.key = strings.ToUpper(y.name)
			y.colour = t.colourOf(y.key)
		default:
			y.colour = y.name
		}
		for n := 1; !isName(y.key) || taken[strings.ToLower(y.key)]; n++ {
			y.key = fmt.Sprintf("yarn_%d", n)
		}
		taken[strings.ToLower(y.key)] = true
	}
	for _, p := range t.parts {
		if first := p.firstYarn(t); len(t.yarns) > 1 && first != t.yarns[0].key {
			p.yarn = first
		}
	}
}

// beginning returns the name of the yarn that what stands above a piece says it
// begins with; "" if it says none.
func (t *scribe) beginning(p *part) string {
	for _, r := range slices.Concat(p.intro, t.front) {
		if m := beginsWith.FindStringSubmatch(r.text); m != nil {
			for _, y := range t.yarns {
				if strings.EqualFold(y.name, m[1]) {
					return y.name
				}
			}
		}
	}
	return ""
}

var beginsWith = regexp.MustCompile(`(?i)^(?:(?:start|begin|work) )?(?:with|using|in) (?:yarn |colou?r )?(\pL+)(?:$|[^\pL\pN])`)

// unnamed reports whether a stitch of a piece is worked with a yarn that the
// rounds do not name.
func (p *part) unnamed() bool {
	for _, r := range p.result.Rounds {
		if slices.ContainsFunc(r.Stitches, func(s notation.Stitch) bool { return p.result.Yarns[s.Yarn] == "" }) {
			return true
		}
	}
	return false
}

// yarnKey returns the key of a yarn by the name that the rounds of a piece have
// for it.
func (t *scribe) yarnKey(p *part, name string) string {
	if name == "" {
		name = p.begins
	}
	for _, y := range t.yarns {
		if y.name == name {
			return y.key
		}
	}
	return ""
}

// firstYarn returns the key of the yarn that a piece begins with.
func (p *part) firstYarn(t *scribe) string {
	for _, r := range p.result.Rounds {
		for _, s := range r.Stitches {
			if key := t.yarnKey(p, p.result.Yarns[s.Yarn]); key != "" {
				return key
			}
		}
	}
	if len(t.yarns) == 0 {
		return ""
	}
	return t.yarns[0].key
}
