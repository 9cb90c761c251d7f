package shape

import (
	"fmt"
	"math"
)

// Usual stretches of a filled piece (judgement: fibre filling presses the
// harder the denser it is packed, but by how much is not known).
const (
	SoftStretch   = 0.02
	NormalStretch = 0.05
	FirmStretch   = 0.10

	usualStretch = NormalStretch
	MaxStretch   = 0.5 // beyond it a linear spring is no fabric
)

// How far a solved size may be off, as a fraction either way (judgement). For a
// ball at a stretch of 0.05 a factor of 2 in the ratio of stiffness changes the
// height over the width from 1.017 to 0.949 or 1.086, the width by 1.4 % and
// the volume by 0.1 %; the volume grows by 3 times the stretch.
const (
	AcrossBand = 0.05
	HeightBand = 0.07
	VolumeBand = 0.10
)

// Stuffing says how much filling a piece gets.
type Stuffing struct {
	// Stretch is the mean strain of the fabric, above 0 and at most MaxStretch:
	// ½ (mean strain of the links + mean strain of the hoops), each by area.
	Stretch float64

	// VolumeMM3, if not 0, is the wanted volume; Stretch is then not used.
	VolumeMM3 float64

	// Ratio is the stiffness of the fabric across the rounds over that along
	// them, from 0.001 to +Inf; 0 means 1 (judgement: not measured).
	Ratio float64
}

// Stuffed is the shape of a filled piece.
type Stuffed struct {
	Profile Profile
	Stretch float64

	// PressurePerMM is the pressure of the filling over the stiffness of the
	// fabric across the rounds, a force per width.
	PressurePerMM float64
}

// Stuff returns the shape of the piece s when filled: the balance of an
// axially symmetric net of linear springs, one for each link and each hoop,
// under an even pressure inside. An end that is not drawn shut counts as closed
// by a flat weightless lid. (Derived. As the stretch goes to 0 the shape goes
// to that of [Schedule.Rest], where no slope is beyond ±1.)
//
// It returns an error if s or how is outside the limits, if the empty piece is
// already stretched (or as large) as wanted, or if no balance is found.
func Stuff(s Schedule, how Stuffing) (*Stuffed, error) { return stuffNear(s, how, Stuffed{}) }

// stuffNear is Stuff that begins from a filled shape of much the same schedule,
// which is quicker; the zero Stuffed is none.
func stuffNear(s Schedule, how Stuffing, near Stuffed) (*Stuffed, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if how.Ratio == 0 {
		how.Ratio = 1
	}
	if !(how.Ratio >= 0.001) {
		return nil, fmt.Errorf("ratio of stiffness is %g: it must be 0 (the usual 1) or at least 0.001", how.Ratio)
	}
	f := newMembrane(s, how.Ratio)
	f.near = near
	var p float64
	var err error
	switch {
	case how.VolumeMM3 > 0:
		if most := s.mostMM3(); how.VolumeMM3 > most {
			return nil, fmt.Errorf("volume is %g mm³: the fabric holds at most %.0f mm³, as a ball at a stretch of %g", how.VolumeMM3, most, MaxStretch)
		}
		p, err = f.fill(how.VolumeMM3, "volume", func() (float64, []float64) { return f.volume(), f.volumeGrad })
	case how.VolumeMM3 != 0:
		return nil, fmt.Errorf("volume is %g mm³: it must be above 0", how.VolumeMM3)
	case how.Stretch > 0 && how.Stretch <= MaxStretch:
		p, err = f.fill(how.Stretch, "stretch", func() (float64, []float64) { return f.stretch(), f.lambdaGrad })
	default:
		return nil, fmt.Errorf("stretch is %g: it must be above 0 and at most %g", how.Stretch, MaxStretch)
	}
	if err != nil {
		return nil, err
	}
	return &Stuffed{Profile: f.at, Stretch: f.stretch(), PressurePerMM: p}, nil
}

// mostMM3 returns a volume that no shape of the fabric of s exceeds at a stretch
// of MaxStretch: that of a ball of so much area, with the lids.
func (s Schedule) mostMM3() float64 {
	first, last := s.hoop(0), s.hoop(s.edges())
	area := s.FabricMM2() + (first*first+last*last)/(4*math.Pi)
	r := (1 + MaxStretch) * math.Sqrt(area/(4*math.Pi))
	return 4.0 / 3 * math.Pi * r * r * r
}
