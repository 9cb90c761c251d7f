package proof

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/prose"
	"roundelay/pattern/source"
)

// A Point is one point of the editor's checklist: it looks for one kind of
// mistake.
type Point struct {
	Code     string // as printed in square brackets; lower case letters and hyphens
	Doc      string // first line a title; then why it matters to a reader
	Severity source.Severity
	Alone    bool        // it also looks at a written pattern that has no pattern file
	Run      func(*pass) // nil for what is found already when the rounds are worked
}

// Title returns the first line of the Doc.
func (p *Point) Title() string {
	title, _, _ := strings.Cut(p.Doc, "\n")
	return title
}

// Checklist is all points, in the order in which they are looked at.
var Checklist = slices.Concat(countPoints, prosePoints, stepPoints, missingPoints, computedPoints, wordPoints, notationPoints)

// A pass is the checklist going over one pattern.
type pass struct {
	*pattern.Pattern
	prose      *prose.Document // nil if there is none
	passages   []prose.Passage // the rounds written out by hand in it
	words      []text          // what texts returns; nil before
	shapings   map[*pattern.Piece]*shaping
	candidates []candidate                         // every piece in every size; nil before it is asked for
	estimates  map[*pattern.Size]*pattern.Estimate // those that estimate was asked for
	estimated  int                                 // how many rounds they have
	alone      bool                                // a written pattern that has no pattern file
	read       *notation.Text                      // that pattern
	point      *Point                              // that is being looked at
	found      int                                 // how often it was reported
	out        *Report
}

// maxEach is how many findings of one point a report has.
const maxEach = 100

// report adds a finding of the point. Its file, if it is left out, is that of
// the pattern. After maxEach of them it says so, and adds no more.
func (p *pass) report(f source.Finding) {
	if f.File == nil {
		f.File = p.File
	}
	switch p.found++; {
	case p.found == maxEach+1:
		f = source.Finding{
			File:    f.File,
			Message: fmt.Sprintf("there are more than %d findings of this kind; the rest is left out", maxEach),
			Hint:    "mend these first, or write an [[allow]] that says why it is meant",
		}
	case p.found > maxEach:
		return
	}
	f.Code, f.Severity = p.point.Code, p.point.Severity
	p.out.Findings = append(p.out.Findings, f)
}

// Check proofreads a pattern. found is what was found when it was loaded; the
// report has it too, save what the maker allowed.
func Check(p *pattern.Pattern, found source.Findings) Report {
	var r Report
	r.addFile(p.File)
	r.addFile(p.Prose)
	r.Findings = slices.Clone(found)
	ps := pass{Pattern: p, out: &r}
	if p.Prose != nil {
		ps.prose = prose.Parse(p.Prose)
		r.Findings = append(r.Findings, ps.prose.Findings...)
		var unread source.Findings
		ps.passages, unread = ps.prose.Rounds(p.Terms)
		r.Findings = append(r.Findings, unread...)
	}
	ps.addRows()
	ps.run()
	r.Findings.Sort() // sizes repeat each other's
	r.allow(p)
	r.Findings.Sort()
	return r
}

// run looks at every point.
func (p *pass) run() {
	for _, p.point = range Checklist {
		p.found = 0
		if p.point.Run != nil && (p.point.Alone || !p.alone) {
			p.point.Run(p)
		}
	}
}

// allow takes out the findings that the maker allowed.
func (r *Report) allow(p *pattern.Pattern) {
	used := make([]bool, len(p.Allowed))
	kept := r.Findings[:0:0]
	for _, f := range r.Findings {
		i := slices.IndexFunc(p.Allowed, func(a pattern.Allowance) bool {
			return a.Code == f.Code && (a.Round == 0 || a.Round == f.Round)
		})
		if i < 0 || pointOf(f.Code) == nil {
			kept = append(kept, f)
			continue
		}
		used[i] = true
		r.Allowed = append(r.Allowed, Allowed{f, p.Allowed[i].Reason})
	}
	for i, a := range p.Allowed {
		f := source.Finding{File: p.File, At: a.At, Severity: source.Warning, Code: "allow"}
		switch {
		case pointOf(a.Code) == nil:
			f.Severity = source.Error
			f.Message = fmt.Sprintf("there is no check %q that can be allowed", a.Code)
			f.Hint = "the code stands in square brackets at the end of a finding"
			var codes []string
			for _, p := range Checklist {
				codes = append(codes, p.Code)
			}
			if near := source.Nearest(a.Code, codes); near != "" {
				f.Hint = fmt.Sprintf("did you mean %s?", near)
			}
		case !used[i]:
			f.Message = fmt.Sprintf("there is nothing found of %s that it could allow", a.Code)
			f.Hint = "take this [[allow]] out"
		default:
			continue
		}
		kept = append(kept, f)
	}
	r.Findings = kept
}

// pointOf returns the point of a code; nil if there is none.
func pointOf(code string) *Point {
	for _, p := range Checklist {
		if p.Code == code {
			return p
		}
	}
	return nil
}

// pieces yields every piece in every size.
func (p *pass) pieces() iter.Seq2[*pattern.Size, *pattern.Piece] {
	return func(yield func(*pattern.Size, *pattern.Piece) bool) {
		for _, s := range p.Sizes {
			for _, piece := range s.Pieces {
				if !yield(s, piece) {
					return
				}
			}
		}
	}
}

// pieceName names a piece for a reader: with its size, if there are several.
func (p *pass) pieceName(s *pattern.Size, piece *pattern.Piece) string {
	if len(p.Sizes) > 1 {
		return fmt.Sprintf("%s, %s", piece.Name, s.Name)
	}
	return piece.Name
}

// lastRound returns the last round of a piece; nil if it has none.
func lastRound(piece *pattern.Piece) *notation.Round {
	if len(piece.Rounds) == 0 {
		return nil
	}
	return piece.Rounds[len(piece.Rounds)-1]
}

// roundNumber returns the round of that number; nil if the piece has none.
func roundNumber(piece *pattern.Piece, n int) *notation.Round {
	for _, r := range piece.Rounds {
		if r.Number == n {
			return r
		}
	}
	return nil
}
