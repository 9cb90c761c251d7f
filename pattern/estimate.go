package pattern

import (
	"errors"
	"fmt"
	"math"

	"roundelay/pattern/notation"
	"roundelay/pattern/shape"
	"roundelay/pattern/stitch"
)

// An Estimate is what one size of a pattern will come out as: how large, and
// how much yarn and filling it takes. All of it is reckoned from the stitches
// as worked and the gauge; nothing is measured.
type Estimate struct {
	Size   *Size
	Pieces []*PieceEstimate // one for each of Size.Pieces, in their order
	Yarns  []YarnEstimate   // one for each of Size.Yarns; of a pattern that states no yarn, one for the yarn there has to be
	Stints []Stint          // piece by piece, in the order in which they are begun
}

// A Finish is what a finished piece is taken to look like.
type Finish uint8

// The finishes.
const (
	Filled   Finish = iota
	Standing        // not filled, and as it stands by itself
	LaidFlat        // not filled, and spread on a table
)

// String returns "filled", "standing" or "lying flat".
func (f Finish) String() string { return [...]string{"filled", "standing", "lying flat"}[f] }

// A PieceEstimate is what one piece comes out as, made once.
type PieceEstimate struct {
	Piece    *Piece
	Fabric   Fabric
	Finish   Finish
	Schedule shape.Schedule // of its rounds, the straight middle of an oval taken out
	Profile  shape.Profile  // of the finished piece; of an oval, of its two ends put together
	MiddleMM float64        // length of the straight middle of an oval; 0 for a round piece
	Corners  Corners        // of a square and the like; zero for a round piece
	Worn     bool           // open, and by its name worn or put over something that fills it

	AcrossMM  shape.Amount // of an oval, its length; of a piece with corners, from side to side
	WideMM    shape.Amount // of an oval, its width; else as AcrossMM
	HeightMM  shape.Amount
	AroundMM  shape.Amount // the widest place
	VolumeMM3 shape.Amount // as full as it can be; 0 of a piece that lies flat
	FillingG  shape.Amount // 0 if it is not filled; without a band where the maker weighed it

	Ball     *shape.Sphere // the ball in a filled and gathered round piece; nil for others
	Stitches int
	Rounds   []RoundEstimate // of all rounds but the chain it begins from, in order

	// Half of all stitches are made in the round HalfRound (a number, as
	// labelled) with the stitch HalfStitch, from 1; both are 0 without stitches.
	HalfRound, HalfStitch int

	// StuffRound is the number of the last round after which filling goes in
	// with ease, and OpeningMM how wide the opening then is; both are 0 if the
	// piece is not filled.
	StuffRound int
	OpeningMM  float64

	Approximations []string // what was simplified, in words; for people
}

// A RoundEstimate is how one round stands on the one below.
type RoundEstimate struct {
	Round     *notation.Round
	AroundMM  float64     // rest length of its top edge
	HeightMM  float64     // mean height of its stitches
	Slope     shape.Slope // 0 of the first round, which the start draws in as it needs
	TiltRad   float64     // by how much it tilts where its stitches differ in height
	OpeningMM float64     // across the opening above it, empty
}

// Estimate returns what a size comes out as. It returns an error if there is
// nothing to tell the size of a stitch by, or if there are no rounds.
func (p *Pattern) Estimate(s *Size) (*Estimate, error) {
	e, err := p.reckon(s)
	if err != nil {
		return nil, err
	}
	return e, e.calibrate(p)
}

// reckon returns what a size comes out as, before anything that was weighed is
// taken into account.
func (p *Pattern) reckon(s *Size) (*Estimate, error) {
	if len(s.Pieces) == 0 {
		return nil, errors.New("there are no rounds whose size could be told")
	}
	e := &Estimate{Size: s}
	for _, piece := range s.Pieces {
		pe, err := s.piece(piece, worn.MatchString(piece.Name) || len(s.Pieces) == 1 && worn.MatchString(p.Title))
		if err != nil {
			return nil, fmt.Errorf("the piece %q: %w", piece.Name, err)
		}
		e.Pieces = append(e.Pieces, pe)
	}
	e.reckonYarns(p)
	return e, nil
}

// worn finds names of things that are worn or put over something, in the
// languages that rounds can be read in; common practice.
var worn = anywhere(`\pL*hats?|(?:night)?caps?|\pL*beanies?|bonnets?|berets?|tams?|helmets?|hoods?|cos(?:y|ies)|coz(?:y|ies)|warmers?|lids?|covers?|bells?|` +
	`\pL*mütze|\pL*hut|gorr\pL+|boina|chapeau|toucas?|cappell\pL+|berrett\pL+|muts(?:je)?|\pL*mössa|\pL*hue|\pL*lue|шап\pL+`)

// MaxEstimated is the most rounds of a piece whose size is reckoned.
const MaxEstimated = shape.MaxRounds

// piece returns what a piece comes out as. It may be one that is worn.
func (s *Size) piece(p *Piece, worn bool) (*PieceEstimate, error) {
	fabric, ok := s.Fabric(p)
	if !ok {
		return nil, fmt.Errorf("its size can't be told without a gauge; add [gauge] with stitches, rounds and over, or at least [hook] with its size or the weight of the yarn")
	}
	e := &PieceEstimate{Piece: p, Fabric: fabric, Stitches: p.Stitches(), Worn: worn && !p.filled() && !p.Closed}
	e.reckonRounds()
	if len(e.Rounds) == 0 {
		return nil, fmt.Errorf("it has no rounds whose size could be told")
	}
	if err := e.Schedule.Validate(); err != nil {
		return nil, err
	}
	e.takeMiddle()
	e.takeCorners()
	if len(e.Rounds) <= MaxEstimated {
		e.slopes()
	}
	e.gather()
	e.finish()
	e.measure()
	e.advise()
	return e, nil
}

// reckonRounds sets Rounds and Schedule. Rounds that have neither length nor
// height, such as a chain to begin from, are not among them.
func (e *PieceEstimate) reckonRounds() {
	p := e.Piece
	e.Schedule.Closed = p.Closed
	if len(p.Rounds) > 0 {
		if start := p.Rounds[0].Start; start != nil && start.Kind == notation.ChainRing {
			e.Schedule.StartMM = float64(start.Chains) * e.Fabric.Gauge.WidthMM()
		}
	}
	for _, r := range p.Rounds {
		if isFoundation(r) {
			if r.Start.Kind == notation.Foundation {
				// Around both sides of the chain; the one chain more at each
				// end is what the stitches turn round.
				e.Schedule.StartMM = 2 * e.chainMiddleMM(r)
			}
			continue
		}
		if n := ringOf(r); n > 0 && len(e.Rounds) == 0 {
			e.Schedule.StartMM = float64(n) * e.Fabric.Gauge.WidthMM()
			continue
		}
		if around, height := e.Fabric.round(r); around > 0 && height > 0 {
			e.Rounds = append(e.Rounds, RoundEstimate{Round: r, AroundMM: around, HeightMM: height})
			e.Schedule.Rounds = append(e.Schedule.Rounds, shape.Round{Count: r.Made, AroundMM: around, HeightMM: height})
		}
	}
}

// isFoundation reports whether a round is the chain that a piece begins from.
func isFoundation(r *notation.Round) bool { return r.Number == 0 && r.Start != nil }

// ringOf returns how many chains a round is that is nothing else: a ring of them
// to begin from, which has no height. It returns 0 for other rounds.
func ringOf(r *notation.Round) int {
	chains := 0
	for i := range r.Stitches {
		switch s := &r.Stitches[i]; {
		case s.Role != notation.Plain:
		case s.Kind != stitch.Ch:
			return 0
		default:
			chains++
		}
	}
	return chains
}

// chainMiddleMM returns the length of the straight part of a chain that is
// worked along both sides: from the first worked chain to the last.
func (e *PieceEstimate) chainMiddleMM(r *notation.Round) float64 {
	return max(0, float64(r.Start.Chains-2)) * e.Fabric.Gauge.WidthMM()
}

// slopes sets the slopes, tilts and openings.
func (e *PieceEstimate) slopes() {
	for i, q := range e.Schedule.Slopes()[:len(e.Rounds)] {
		r := &e.Rounds[i]
		if i > 0 {
			r.Slope = q
		}
		r.OpeningMM = 2 * r.AroundMM / e.turn()
		if heights := e.Fabric.heights(r.Round); heights != nil {
			r.TiltRad = shape.TiltRad(heights, r.OpeningMM/2)
		}
	}
}

// Loops of so many chains and more stand up in half circles (judgement).
const archChains = 5

// round returns the rest length of the top edge of a round and the mean height
// of its stitches.
//
// All stitches are as wide as the gauge says, those of a chain too; a starting
// chain is so only if it counts, joins and picots are not. A loop of archChains
// chains or more stands as a half circle: 2/π of its length wide, and 1/π high
// (derived). Chains otherwise have no say in the height, unless there is nothing
// else.
func (f Fabric) round(r *notation.Round) (aroundMM, heightMM float64) {
	w := f.Gauge.WidthMM()
	var wide, chains, tall float64 // widths in stitches; sum of heights
	for i := 0; i < len(r.Stitches); i++ {
		s := &r.Stitches[i]
		switch {
		case s.Role == notation.Joining, s.Kind.Form == stitch.Picot:
		case s.Role == notation.StartingChain:
			if s.Counts {
				chains++
			}
		case s.Kind == stitch.Ch:
			n := chainRun(r.Stitches[i:])
			i += n - 1
			if n < archChains {
				chains += float64(n)
				break
			}
			chord := 2 / math.Pi * float64(n)
			wide += chord
			tall += chord * float64(n) * w / math.Pi
		default:
			wide++
			tall += f.Stitch(s.Kind).HeightMM
		}
	}
	if wide == 0 {
		return chains * w, f.Stitch(stitch.Ch).HeightMM
	}
	return (wide + chains) * w, tall / wide
}

// chainRun returns how many chains the stitches begin with.
func chainRun(stitches []notation.Stitch) int {
	for i, s := range stitches {
		if s.Kind != stitch.Ch || s.Role != notation.Plain {
			return i
		}
	}
	return len(stitches)
}

// heights returns the heights of the stitches of a round that stand in it, if
// they differ.
func (f Fabric) heights(r *notation.Round) []float64 {
	var out []float64
	differ := false
	for i := range r.Stitches {
		s := &r.Stitches[i]
		if s.Role != notation.Plain || s.Kind == stitch.Ch || s.Kind.Form == stitch.Picot {
			continue
		}
		out = append(out, f.Stitch(s.Kind).HeightMM)
		differ = differ || out[len(out)-1] != out[0]
	}
	if !differ {
		return nil
	}
	return out
}

// takeMiddle takes the straight middle out of an oval, which leaves its two
// ends: together they are a round piece. Where a later round is too short for
// that, the oval is taken as round instead.
func (e *PieceEstimate) takeMiddle() {
	first := e.Piece.Rounds[0]
	if !isFoundation(first) || first.Start.Kind != notation.Foundation {
		return
	}
	middle := e.chainMiddleMM(first)
	for _, r := range e.Schedule.Rounds {
		if r.AroundMM-2*middle < 2*e.Fabric.Gauge.WidthMM() {
			e.approximate("it begins as an oval and is taken as round, as large around")
			return
		}
	}
	e.MiddleMM, e.Schedule.StartMM = middle, 0
	for i := range e.Schedule.Rounds {
		e.Schedule.Rounds[i].AroundMM -= 2 * middle
	}
	// The chain lies in the middle of the first round, which stands off it to
	// both sides and not up.
	r := &e.Schedule.Rounds[0]
	r.HeightMM = min(r.HeightMM, r.AroundMM/(2*math.Pi))
	e.approximate("the straight middle of the oval keeps its length, and its ends are taken as two halves of a round piece")
}

// takeCorners makes a round piece of one with corners that is not filled: one as
// wide as it is from side to side. Filling rounds the corners.
func (e *PieceEstimate) takeCorners() {
	c := FindCorners(e.Piece.Rounds)
	if !c.Sharp || e.Piece.filled() || e.MiddleMM > 0 {
		return
	}
	e.Corners = c
	round := 2 * math.Pi / shape.PolygonTurn(c.Count)
	e.Schedule.StartMM *= round
	for i := range e.Schedule.Rounds {
		e.Schedule.Rounds[i].AroundMM *= round
	}
	e.approximate(fmt.Sprintf("its %d corners are taken as sharp; across is from side to side", c.Count))
}

// turn returns the way around the piece over the distance from its middle to its
// side.
func (e *PieceEstimate) turn() float64 {
	if e.Corners.Count == 0 {
		return 2 * math.Pi
	}
	return shape.PolygonTurn(e.Corners.Count)
}

// frill is the slope beyond which a round stands off a filled piece as a frill, if
// the round after it is as short as before: the filling does not smooth it out
// (judgement).
const frill = 2

// gathered is said of a piece that has had length taken out.
const gathered = "rounds that ripple are taken to reach as far out as their stitches"

// gather takes the length out of rounds that ripple: such a round reaches no
// farther out than its stitches do.
func (e *PieceEstimate) gather() {
	before := e.Schedule.StartMM
	shorter := false
	rounds := e.Schedule.Rounds
	for i := range rounds {
		r := &rounds[i]
		if i == 0 && before == 0 { // the start draws it in as it needs
			before = r.AroundMM
			continue
		}
		limit := shape.RuffleExcess * e.Rounds[i].ease(e.Fabric)
		if e.Piece.filled() {
			limit = frill
		}
		reach := before + 2*math.Pi*limit*r.HeightMM
		if r.AroundMM > reach && !(e.Piece.filled() && i+1 < len(rounds) && rounds[i+1].AroundMM > reach) {
			r.AroundMM, shorter = reach, true
		}
		before = r.AroundMM
	}
	if shorter {
		e.approximate(gathered)
	}
}

// tallEase is by how much more rounds of stitches taller than single crochet may
// grow and still lie flat, against the rounds of their gauge (common practice: 10
// hdc or 12 dc a round lie flat as 6 sc do; published gauges, which are of rows,
// give 8.4 and 10.2 against 5.7).
const tallEase = 1.12

// ease returns by how much more a round may grow than its height says.
func (r *RoundEstimate) ease(f Fabric) float64 {
	if r.HeightMM > 1.2*f.Stitch(stitch.SC).HeightMM {
		return tallEase
	}
	return 1
}

// Ruffle returns how the round ripples.
func (r *RoundEstimate) Ruffle(f Fabric) shape.Ruffle {
	return (r.Slope / shape.Slope(r.ease(f))).Ruffle()
}

func (e *PieceEstimate) approximate(words string) {
	e.Approximations = append(e.Approximations, words)
}

// drawnIn is how much wider than its first and its last round a piece is that is
// taken to be filled, and leastHole how many stitches the last round may have
// (judgement).
const (
	drawnIn   = 3
	leastHole = 12
)

// filled reports whether a piece is stuffed: it says so; or it says nothing, and
// begins and ends so narrow against its middle that it is hard to think of it as
// empty.
func (p *Piece) filled() bool {
	if p.Stuffed || p.Hollow || len(p.Rounds) == 0 {
		return p.Stuffed
	}
	first, last := p.Rounds[0], p.Rounds[len(p.Rounds)-1]
	narrow := func(r *notation.Round) bool { return r.Made > 0 && r.Made <= leastHole && drawnIn*r.Made <= p.Widest() }
	return first.Number > 0 && narrow(first) && narrow(last)
}

// finish sets Finish and Profile.
func (e *PieceEstimate) finish() {
	e.Finish, e.Profile = Standing, e.Schedule.Rest()
	switch {
	case e.Piece.filled():
		e.Finish = Filled
		if !e.Piece.Stuffed {
			e.approximate("it is narrow at both ends and is taken as filled; write stuffed = false if it is not")
		}
		stuffed, err := shape.Stuff(e.Schedule, shape.Stuffing{Stretch: e.Piece.Firmness.Stretch()})
		if err != nil {
			e.approximate("its filled shape can't be worked out (" + err.Error() + "); this is that of the empty piece")
			return
		}
		e.Profile = stuffed.Profile
	case e.liesFlat():
		if laid, err := e.Schedule.Laid(); err == nil {
			e.Finish, e.Profile = LaidFlat, laid
		}
	case e.Worn:
		// It is as wide as it is empty, and domed by what it is put over.
		if on, err := shape.Stuff(e.Schedule, shape.Stuffing{Stretch: shape.SoftStretch}); err == nil {
			e.Profile = on.Profile.Scaled(e.Profile.AcrossMM() / on.Profile.AcrossMM())
		}
	}
	e.Worn = e.Worn && e.Finish == Standing
}

// flatReach is how far out the rim of a piece that lies flat reaches, over the
// length of its fabric from the middle (judgement: at 5 sc a round, which cup
// at 37°, it is 0.8; a rim of one plain round keeps a disc a disc).
const flatReach = 0.8

// liesFlat reports whether an open piece is a disc: it says so, or its rounds
// make one.
func (e *PieceEstimate) liesFlat() bool {
	if e.Piece.Closed || e.Piece.Flat != nil {
		return !e.Piece.Closed && *e.Piece.Flat
	}
	return isDisc(e.Schedule) || e.Profile.HeightMM() < leastHeight*e.Profile.AcrossMM()
}

// leastHeight is how high a piece stands over its width, at least (judgement).
const leastHeight = 0.1

// isDisc reports whether the rim of some rounds is their widest place and lies
// far out.
func isDisc(s shape.Schedule) bool {
	start := s.StartMM / (2 * math.Pi)
	out, along := 0.0, start
	for _, r := range s.Rounds {
		out, along = max(out, r.AroundMM/(2*math.Pi)), along+r.HeightMM
	}
	rim := s.Rounds[len(s.Rounds)-1].AroundMM / (2 * math.Pi)
	return len(s.Rounds) > 1 && rim > start && rim >= 0.95*out && rim >= flatReach*along
}

// DiscMM returns how wide the first n of Rounds are together when they are laid
// on the table, to check the gauge by while the piece is small. It returns 0 if
// they make no disc, or an oval one.
func (e *PieceEstimate) DiscMM(n int) float64 {
	if n < 1 || n > len(e.Schedule.Rounds) || e.MiddleMM > 0 || e.Corners.Count > 0 {
		return 0
	}
	s := shape.Schedule{StartMM: e.Schedule.StartMM, Rounds: e.Schedule.Rounds[:n]}
	if !isDisc(s) {
		return 0
	}
	laid, err := s.Laid()
	if err != nil {
		return 0
	}
	return laid.AcrossMM()
}

// measure sets the sizes.
func (e *PieceEstimate) measure() {
	f := e.Fabric
	band := func(v, part, low, high float64) shape.Amount {
		return shape.Amount{Value: v, Low: v * (1 - part) * low, High: v * (1 + part) * high}
	}
	across, low, high := e.Profile.AcrossMM(), f.Low, f.High
	if e.Finish == LaidFlat { // it goes by the height of its rounds as much as by their length
		low, high = (f.Low+f.LowTall)/2, (f.High+f.HighTall)/2
	}
	e.WideMM = band(across, shape.AcrossBand, low, high)
	e.AcrossMM = band(across+e.MiddleMM, shape.AcrossBand, low, high)
	e.AroundMM = band(e.turn()/2*across+2*e.MiddleMM, shape.AcrossBand, low, high)
	e.HeightMM = band(e.Profile.HeightMM(), shape.HeightBand, f.LowTall, f.HighTall)
	if e.Finish == LaidFlat {
		return
	}
	v := e.Profile.VolumeMM3()*e.turn()/(2*math.Pi) + e.MiddleMM*sectionMM2(e.Profile)
	least, most := f.Low*f.Low*f.LowTall, f.High*f.High*f.HighTall
	e.VolumeMM3 = band(v, shape.VolumeBand, least, most)
	if e.Finish != Filled {
		return
	}
	density := e.Piece.Firmness.FillingKgPerM3()
	e.FillingG = shape.Filling(v, density)
	e.FillingG.Low *= least
	e.FillingG.High *= most
	if g := e.Piece.FillingG; g > 0 {
		e.FillingG = shape.Amount{Value: g, Low: g, High: g}
	}
	if e.Piece.Closed && e.MiddleMM == 0 && e.Schedule.StartMM == 0 {
		ball := e.Profile.Sphere()
		e.Ball = &ball
	}
}

// sectionMM2 returns the area of the section of a profile through its axis.
func sectionMM2(p shape.Profile) float64 {
	sum := 0.0
	for i := 1; i < len(p); i++ {
		sum += (p[i].R + p[i-1].R) * (p[i].Z - p[i-1].Z)
	}
	return math.Abs(sum)
}

// advise sets what is said about when to do what, and what was simplified.
func (e *PieceEstimate) advise() {
	if round, st := e.Schedule.Halfway(); round > 0 {
		e.HalfRound, e.HalfStitch = e.Rounds[round-1].Round.Number, st
	}
	if e.Piece.filled() {
		openings := make([]float64, len(e.Rounds))
		for i, r := range e.Rounds {
			openings[i] = r.OpeningMM
		}
		i := lastToFill(openings)
		e.StuffRound, e.OpeningMM = e.Rounds[i].Round.Number, openings[i]
	}
	loops, tilted, apart := false, false, false
	for i, r := range e.Rounds {
		for j := range r.Round.Stitches {
			loops = loops || chainRun(r.Round.Stitches[j:]) >= archChains
		}
		tilted = tilted || r.TiltRad > tiltLimitRad
		apart = apart || i > 0 && r.Round.Below >= 0 && e.Piece.Rounds[r.Round.Below] != e.Rounds[i-1].Round && !isFoundation(e.Piece.Rounds[r.Round.Below])
	}
	if loops {
		e.approximate("loops of chains are taken to stand in half circles")
	}
	if tilted {
		e.approximate("rounds of low and high stitches are taken as even, of their mean height")
	}
	if apart {
		e.approximate("a round that is worked into an earlier one is taken to stand on the one before it")
	}
}

// tiltLimitRad is the tilt that is worth a word (judgement).
const tiltLimitRad = 3 * math.Pi / 180

// narrowFill is the opening through which a piece is filled whose widest place
// is not [shape.EasyOpeningMM] wide, over that (judgement).
const narrowFill = 0.6

// lastToFill returns the index of the last round after which a piece is filled
// with ease, by the openings above its rounds in millimetres.
func lastToFill(openings []float64) int {
	widest := 0.0
	for _, mm := range openings {
		widest = max(widest, mm)
	}
	easy := min(shape.EasyOpeningMM, narrowFill*widest)
	for i := len(openings) - 1; i > 0; i-- {
		if openings[i] >= easy {
			return i
		}
	}
	return 0
}
