package proof

import (
	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// CheckText proofreads a written pattern that has no pattern file. The names of
// its stitches are in the given terms; those that are given as US may show to be
// UK.
func CheckText(f *source.File, terms stitch.Terms) Report {
	var r Report
	r.addFile(f)
	read := notation.Read(f, notation.ReadOptions{Terms: terms})
	r.Findings = append(r.Findings, read.Findings...)
	size := &pattern.Size{}
	for _, part := range read.Parts() {
		worked := notation.Expand(part.Lines, notation.Options{AnyYarn: true})
		r.Findings = append(r.Findings, worked.Findings...)
		size.Pieces = append(size.Pieces, &pattern.Piece{
			Name: part.Name, At: part.Lines[0].At, Lines: part.Lines, Rounds: worked.Rounds, Verdicts: worked.Verdicts,
		})
	}
	ps := pass{
		Pattern: &pattern.Pattern{File: f, Terms: read.Terms, Sizes: []*pattern.Size{size}},
		alone:   true, read: read, out: &r,
	}
	ps.addRows()
	ps.run()
	r.Findings.Sort()
	return r
}
