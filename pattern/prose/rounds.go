package prose

import (
	"roundelay/pattern/notation"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// A Passage is rounds that were written out by hand and belong together: those
// under one heading whose numbers go on.
type Passage struct {
	Heading string // as a reader sees it; "" if none comes before
	Lines   []*notation.Line
}

// Rounds returns the rounds written out by hand in the document, and what
// could not be read of them. Directives are left out.
func (d *Document) Rounds(terms stitch.Terms) ([]Passage, source.Findings) {
	text := notation.Read(d.File, notation.ReadOptions{Terms: terms, Stated: true})
	var passages []Passage
	var last *notation.Line
	var under *heading
	for _, line := range text.Lines() {
		if d.inBlock(line.At) {
			continue
		}
		h := d.headingBefore(line.At.From)
		if last == nil || h != under || line.First >= 0 && line.First <= last.First {
			p := Passage{}
			if h != nil {
				p.Heading = h.text
			}
			passages = append(passages, p)
		}
		p := &passages[len(passages)-1]
		p.Lines = append(p.Lines, line)
		last, under = line, h
	}
	var findings source.Findings
	for _, f := range text.Findings {
		if !d.inBlock(f.At) {
			findings = append(findings, f)
		}
	}
	return passages, findings
}

// Claims returns what the document says about the pattern, outside the rounds
// written out by hand.
func (d *Document) Claims(rounds []Passage) []Claim {
	words := []byte(d.words)
	for _, p := range rounds {
		for _, line := range p.Lines {
			for i := line.At.From; i < line.At.To; i++ {
				words[i] = ' '
			}
		}
	}
	return Claims(string(words))
}
