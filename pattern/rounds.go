package pattern

import (
	"fmt"
	"slices"
	"strings"

	"roundelay/pattern/notation"
	"roundelay/pattern/source"
)

// maxWorkedAll is the most stitches that a pattern may have in all its sizes
// and pieces.
const maxWorkedAll = notation.MaxPiece

// work reads the rounds in f and works them. The piece begins with the yarn of
// index first.
func (w *workshop) work(f *source.File, p *Piece, first int) *worked {
	var words []string // that may stand for a yarn
	for _, y := range w.p.Yarns {
		words = append(words, y.Key)
		words = append(words, strings.Fields(y.Colour)...)
	}
	text := notation.Read(f, notation.ReadOptions{Terms: w.p.Terms, Strict: true, Yarns: words})
	out := &worked{lines: text.Lines()}
	r := &reader{file: f}
	for _, l := range out.lines {
		w.look(r, l.Body, false)
	}

	out.yarns = w.yarnsFrom(first)
	var keys []string
	for _, i := range out.yarns {
		keys = append(keys, w.p.Yarns[i].Key)
	}
	res := notation.Expand(out.lines, notation.Options{Yarns: keys, Chain: p.Chain, Joined: p.Style == Joined, Strict: true})
	out.rounds, out.verdicts = res.Rounds, res.Verdicts
	for _, round := range out.rounds {
		w.stitches += len(round.Stitches)
	}
	out.findings = slices.Concat(text.Findings, r.findings, res.Findings)
	if len(out.rounds) == 0 && out.findings.Count(source.Error) == 0 {
		out.findings = append(out.findings, source.Finding{
			File: f, At: source.Span{To: len(f.Text)}, Severity: source.Error, Code: "no-rounds",
			Message: fmt.Sprintf("no rounds of the piece %q can be read here", shortened(p.Name)),
			Hint:    "write one a line, as in Rnd 1: 6 sc in magic ring (6)",
		})
	}
	return out
}

// look goes through instructions. It puts the key of a yarn where one is named
// by its colour, and reports the yarns that there are none of, and words that
// are no instructions: in brackets they are a remark, but bare ones may be a
// misspelt stitch, and inside a group that is repeated they have to be.
func (w *workshop) look(r *reader, nodes []notation.Node, inGroup bool) {
	for _, n := range nodes {
		switch n := n.(type) {
		case *notation.Yarn:
			if i := w.yarn(n.Key); i >= 0 {
				n.Key = w.p.Yarns[i].Key
			} else {
				w.unknownYarn(r, n.Span(), n.Key)
			}
		case *notation.Aside:
			if strings.IndexAny(n.Text, "([{") == 0 {
				break
			}
			f := source.Finding{
				At: n.Span(), Severity: source.Warning, Code: "remark",
				Message: fmt.Sprintf("%q is no instruction that is known; it is taken for a remark", shortened(n.Text)),
				Hint:    "mend it if it is a stitch; put a remark in brackets, or in the say of a [[piece.step]]",
			}
			if inGroup {
				f.Severity, f.Code = source.Error, "unread"
				f.Message = fmt.Sprintf("%q is no instruction that is known", shortened(n.Text))
			}
			r.report(f)
		case *notation.In:
			w.look(r, n.Body, true)
		case *notation.Repeat:
			w.look(r, n.Body, true)
		}
	}
}

// yarnsFrom returns the indices of all yarns: the one that a piece begins with
// first, the others as they are.
func (w *workshop) yarnsFrom(first int) []int {
	var all []int
	for i := range w.p.Yarns {
		all = append(all, i)
	}
	if len(all) > 0 {
		all = slices.Insert(slices.Delete(all, first, first+1), 0, first)
	}
	return all
}
