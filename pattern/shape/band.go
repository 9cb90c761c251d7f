package shape

import "math"

// halfBand is the number of diagonals below the main one that a [band] keeps.
const halfBand = 3

// A band is a symmetric matrix with all entries within halfBand of the
// diagonal, or its Cholesky factor: row i holds the entries (i, i-d) at d.
type band [][halfBand + 1]float64

// add adds v to the entry (i, j) and, by symmetry, (j, i). It does nothing if i
// or j is negative.
func (b band) add(i, j int, v float64) {
	switch {
	case i < 0 || j < 0:
	case i >= j:
		b[i][i-j] += v
	default:
		b[j][j-i] += v
	}
}

// factor sets b to the Cholesky factor L of a + shift·I, L Lᵀ; the diagonal of
// b holds 1/L(i,i). It reports whether a + shift·I is positive definite.
func (b band) factor(a band, shift float64) bool {
	for i := range a {
		row := a[i]
		// Row i against the rows before it: halfBand is 3, so written out.
		var l1, l2, l3 float64
		if i >= 3 {
			l3 = row[3] * b[i-3][0]
		}
		if i >= 2 {
			l2 = (row[2] - l3*b[i-2][1]) * b[i-2][0]
		}
		if i >= 1 {
			l1 = (row[1] - l2*b[i-1][1] - l3*b[i-1][2]) * b[i-1][0]
		}
		pivot := row[0] + shift - l1*l1 - l2*l2 - l3*l3
		if !(pivot > 1e-15*math.Abs(row[0])) {
			return false
		}
		b[i] = [halfBand + 1]float64{1 / math.Sqrt(pivot), l1, l2, l3}
	}
	return true
}

// solve sets x to the solution of L Lᵀ x = y, b being the factor L.
func (b band) solve(x, y []float64) {
	n := len(b)
	for i := range n {
		s := y[i]
		for d := 1; d <= min(halfBand, i); d++ {
			s -= b[i][d] * x[i-d]
		}
		x[i] = s * b[i][0]
	}
	for i := n - 1; i >= 0; i-- {
		s := x[i]
		for d := 1; d <= min(halfBand, n-1-i); d++ {
			s -= b[i+d][d] * x[i+d]
		}
		x[i] = s * b[i][0]
	}
}
