package shape

import (
	"errors"
	"math"
)

var errClosed = errors.New("the piece is closed: only an open piece can be laid flat")

// Laid returns the shape of an open piece that is spread out flat on a table:
// the radii of its edges with the least elastic energy, ½ Σ (area) (strain)²
// over links and hoops as in [Stuff], all in one plane. A disc with just the
// flat rate keeps its links and hoops as they are; one with fewer stitches has
// hoops that are stretched and links that give. (Derived.)
//
// It returns an error if s is outside the limits or closed.
func (s Schedule) Laid() (Profile, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if s.Closed {
		return nil, errClosed
	}
	// The energy is quadratic in the radii: its gradient is zero where
	// diag[i] r[i] + off[i] r[i-1] + off[i+1] r[i+1] = right[i].
	m := s.edges()
	diag, off, right := make([]float64, m+2), make([]float64, m+2), make([]float64, m+2)
	for i := 0; i <= m; i++ {
		hoop, height := s.hoop(i), 0.0
		if i > 0 {
			h := s.link(i)
			k := (s.hoop(i-1) + hoop) / 2 / h // area over h²
			diag[i] += k
			right[i] += k * h
			diag[i-1] += k
			right[i-1] -= k * h
			off[i] = -k
			height += h
		}
		if i < m {
			height += s.link(i + 1)
		}
		if hoop > 0 {
			k := hoop * height / 2 * 4 * math.Pi * math.Pi / (hoop * hoop)
			diag[i] += k
			right[i] += k * hoop / (2 * math.Pi)
		}
	}
	first := 0
	if s.StartMM == 0 { // drawn shut: its radius is 0
		first, off[1] = 1, 0
	}
	for i := first + 1; i <= m; i++ {
		f := off[i] / diag[i-1]
		diag[i] -= f * off[i]
		right[i] -= f * right[i-1]
	}
	p := make(Profile, m+1)
	for i := m; i >= first; i-- {
		p[i].R = right[i] / diag[i]
		if i < m {
			p[i].R -= off[i+1] / diag[i] * p[i+1].R
		}
		p[i].R = max(0, p[i].R)
	}
	return p, nil
}
