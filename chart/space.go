package chart

// smooth evens out targets on a closed ring. It returns the places x that
// minimise
//
//	Σ weight[j]·(x[j] − target[j])² + mu·Σ (x[j+1] − x[j] − want[j])²
//
// where j+1 after the last place is the first one, a turn later: want sums up
// to the length of the ring. At least one weight is above 0, none below. It
// takes time linear in the number of places: the equations are tridiagonal but
// for the two corners, which are a change of rank one.
func smooth(target, weight, want []float64, mu float64) []float64 {
	n := len(target)
	x := make([]float64, n)
	even := make([]float64, n) // places as far apart as wanted, from 0
	for j := 1; j < n; j++ {
		even[j] = even[j-1] + want[j-1]
	}
	switch n {
	case 0:
		return x
	case 1:
		x[0] = target[0]
		return x
	case 2: // each is the other's neighbour on both sides
		a, b := weight[0]+2*mu, weight[1]+2*mu
		e0, e1 := weight[0]*target[0], weight[1]*(target[1]-even[1])
		det := a*b - 4*mu*mu
		x[0] = (b*e0 + 2*mu*e1) / det
		x[1] = (a*e1+2*mu*e0)/det + even[1]
		return x
	}
	// Solve twice, for the right-hand side and for the corners (z), with the
	// first and last diagonal element changed to take the corners out.
	diag := func(j int) float64 {
		d := weight[j] + 2*mu
		switch j {
		case 0:
			return 2 * d
		case n - 1:
			return d + mu*mu/(weight[0]+2*mu)
		}
		return d
	}
	corner := -(weight[0] + 2*mu)
	z, up := make([]float64, n), make([]float64, n)
	d := diag(0)
	x[0], z[0] = weight[0]*target[0]/d, corner/d
	for j := 1; j < n; j++ {
		up[j-1] = -mu / d
		d = diag(j) + mu*up[j-1]
		zj := 0.0
		if j == n-1 {
			zj = -mu
		}
		x[j] = (weight[j]*(target[j]-even[j]) + mu*x[j-1]) / d
		z[j] = (zj + mu*z[j-1]) / d
	}
	for j := n - 2; j >= 0; j-- {
		x[j] -= up[j] * x[j+1]
		z[j] -= up[j] * z[j+1]
	}
	k := -mu / corner
	f := (x[0] + k*x[n-1]) / (1 + z[0] + k*z[n-1])
	for j := range x {
		x[j] += even[j] - f*z[j]
	}
	return x
}

// A pool is a run of places pushed together: its mean, weight and length.
type pool struct {
	mean, weight float64
	n            int
}

// space moves places apart on a closed ring of the length period, as little as
// can be: it returns the places y that minimise Σ weight[j]·(y[j] − x[j])²
// subject to y[j+1] − y[j] >= gap[j], where j+1 after the last place is the
// first one, a turn later. The weights are above 0 and the gaps sum up to at
// most the period.
//
// With the gaps taken off, the places must not decrease and must span at most
// the slack of the ring. Pooling adjacent violators gives the best places
// without the span; if they span too much, the best ones are these clipped to
// [a, a+slack] where a balances what is cut off on both sides. Everything is
// linear in the number of places.
func space(x, weight, gap []float64, period float64) []float64 {
	slack := period
	for _, g := range gap {
		slack -= g
	}
	slack = max(slack, 0)

	var pools []pool
	off := 0.0
	for j := range x {
		p := pool{x[j] - off, weight[j], 1}
		for len(pools) > 0 && pools[len(pools)-1].mean >= p.mean {
			q := pools[len(pools)-1]
			pools = pools[:len(pools)-1]
			w := p.weight + q.weight
			p = pool{(p.mean*p.weight + q.mean*q.weight) / w, w, p.n + q.n}
		}
		pools = append(pools, p)
		off += gap[j]
	}

	y := make([]float64, 0, len(x))
	if len(pools) == 0 {
		return y
	}
	low, high := pools[0].mean, pools[len(pools)-1].mean
	if high-low > slack {
		low = balance(pools, slack)
		high = low + slack
	}
	off = 0
	for _, p := range pools {
		at := min(max(p.mean, low), high)
		for range p.n {
			y = append(y, at+off)
			off += gap[len(y)-1]
		}
	}
	return y
}

// balance returns the a at which the pools below a, drawn up to it, weigh as
// much as those above a+slack, drawn down to that: the root of an increasing
// function that is linear between the pools' means and the means less slack.
func balance(pools []pool, slack float64) float64 {
	var lowSum, lowWeight, highSum, highWeight float64
	for _, p := range pools {
		highSum += p.weight * (p.mean - slack)
		highWeight += p.weight
	}
	low, high := 0, 0 // pools[:low] are below a, pools[high:] above a+slack
	for {
		a := (lowSum + highSum) / (lowWeight + highWeight)
		nextLow, nextHigh := low < len(pools), high < len(pools)
		switch {
		case nextHigh && (!nextLow || pools[high].mean-slack <= pools[low].mean):
			if a <= pools[high].mean-slack {
				return a
			}
			highSum -= pools[high].weight * (pools[high].mean - slack)
			highWeight -= pools[high].weight
			high++
			if high == len(pools) {
				highSum, highWeight = 0, 0
			}
		case nextLow:
			if a <= pools[low].mean {
				return a
			}
			lowSum += pools[low].weight * pools[low].mean
			lowWeight += pools[low].weight
			low++
		default:
			return a
		}
	}
}
