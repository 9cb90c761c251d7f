package chart

import (
	"fmt"
	"io"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// Options say how a chart is drawn. The zero Options draw the whole piece for
// the right hand, in a file that stands alone.
type Options struct {
	Plus   bool         // single crochet as + instead of x; both are printed
	Inline bool         // for an HTML page: no XML prolog, no size, no symbols and style of its own (see Symbols and Style)
	NoKey  bool         // leave the key out
	Terms  stitch.Terms // of the key and the descriptions
}

// maxStitches is the most stitches that a chart is drawn of.
const maxStitches = 1_000_000

// Draw writes the chart of a piece as SVG. It writes nothing if it returns an
// error for a piece that can't be drawn.
func Draw(w io.Writer, p *pattern.Pattern, piece *pattern.Piece, opt Options) error {
	sc, err := newScene(p, piece, opt)
	if err != nil {
		return err
	}
	c := newCanvas()
	sc.svg(c, opt)
	if _, err := c.WriteTo(w); err != nil {
		return fmt.Errorf("write the chart of %s: %w", piece.Name, err)
	}
	return nil
}

func newScene(p *pattern.Pattern, piece *pattern.Piece, opt Options) (*scene, error) {
	n := 0
	for _, r := range piece.Rounds {
		n += len(r.Stitches)
	}
	switch {
	case n == 0:
		return nil, fmt.Errorf("%s has no rounds to draw: its chart needs at least one round that is understood", piece.Name)
	case n > maxStitches:
		return nil, fmt.Errorf("%s has %d stitches; a chart holds at most %d", piece.Name, n, maxStitches)
	}
	l := newLayout(piece.Rounds, crosses(opt.Plus))
	sc := l.compose()
	sc.frame(l, p, piece, opt)
	return sc, nil
}

// used returns the kinds of stitches in rounds, in the order in which they
// first come.
func used(rounds []*notation.Round) []stitch.Stitch {
	seen := map[stitch.Stitch]bool{}
	var out []stitch.Stitch
	var last stitch.Stitch
	for _, r := range rounds {
		for i := range r.Stitches {
			if k := r.Stitches[i].Kind; k != last {
				last = k
				if !seen[k] {
					seen[k] = true
					out = append(out, k)
				}
			}
		}
	}
	return out
}
