package pattern

import (
	"roundelay/pattern/source"
)

// work reads the rounds in f and works them, once package notation can. The piece begins with the yarn of
// index first.
func (w *workshop) work(f *source.File, p *Piece, first int) *worked {
	return &worked{}
}
