package shape

import "math"

// A Fit is how well a shape matches its target. For a piece that is not filled
// it is that of its rest shape, in which every round leans as it was worked;
// laid down or hung up it evens out.
type Fit struct {
	// RMS and Max are distances: of a ball, from the best ball in it (see
	// [Sphere]) over the radius of that; of other shapes, between the surfaces
	// of shape and target over the greatest radius of the target, root mean
	// square from each to the other and greatest, after the best shift along
	// the axis.
	RMS, Max float64

	// Size is the size over that of the target, less 1: of a ball that of the
	// best ball, of other shapes the width.
	Size float64
}

// A judge rates finished shapes against a target.
type judge struct {
	target Profile
	ballMM float64 // its radius if the target is a ball, else 0
}

func newJudge(target Profile) judge {
	j := judge{target: target}
	r := target.AcrossMM() / 2
	closed := target[0].R == 0 && target[len(target)-1].R == 0
	if s := target.Sphere(); closed && s.RMS < 1e-3 && math.Abs(s.RadiusMM/r-1) < 1e-3 {
		j.ballMM = r
	}
	return j
}

// fit rates a finished shape.
func (j judge) fit(p Profile) Fit {
	if j.ballMM > 0 {
		s := p.Sphere()
		return Fit{RMS: s.RMS, Max: s.Max, Size: s.RadiusMM/j.ballMM - 1}
	}
	rms, far := deviation(p, j.target)
	across := j.target.AcrossMM()
	return Fit{RMS: 2 * rms / across, Max: 2 * far / across, Size: p.AcrossMM()/across - 1}
}

// cost returns what the search makes least, but for what [strain] and [excess]
// add for a piece that is not filled.
func (j judge) cost(f Fit) float64 {
	return percent2(f.RMS) + percent2(f.Size)/4
}

// strain returns the mean square strain, in %², of hoops of the given counts
// and of links that lie along 1 + long times their length, on a target that
// wants the ideal counts: at the size 1 + s of the target that makes it least
// when s² is added. To first order a hoop with a part a too many stitches
// is then strained by s - a, a link by s + long.
func strain(counts []int, ideal []float64, long float64) float64 {
	var weight, sum, square float64
	for i, n := range counts {
		a := float64(n)/ideal[i] - 1
		weight += ideal[i]
		sum += ideal[i] * a
		square += ideal[i] * a * a
	}
	mean := sum / weight
	s := (mean - long) / 3
	return 1e4*(square/weight-mean*mean) + percent2(s-mean) + percent2(s+long) + percent2(s)
}

// excess returns ¼ of the mean square, in %², of what the slopes of s have
// above RippleExcess.
func excess(s Schedule) float64 {
	slopes := s.Slopes()
	sum := 0.0
	for _, q := range slopes {
		sum += percent2(max(0, q.Excess()-RippleExcess))
	}
	return sum / float64(len(slopes)) / 4
}

// percent2 returns the square of x in per cent.
func percent2(x float64) float64 { return 1e4 * x * x }
