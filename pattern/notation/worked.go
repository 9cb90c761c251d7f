package notation

import "roundelay/pattern/stitch"

// A Stitch is one stitch as it is worked: a round is a list of them.
type Stitch struct {
	Kind   stitch.Stitch
	Into   Into
	Loop   Loop
	Role   Role
	Yarn   uint8 // index into the yarns of the piece; 0 is the yarn it begins with
	Counts bool  // the next round can work into it as "each st around"
}

// Into is what a stitch is worked into: the stitches First to Last (indices,
// from 0, into all stitches of that round, chains and joins too) of the round
// Round, an index into the rounds of the piece.
type Into struct {
	Where       Place
	Round       int32 // -1 for the round itself (a picot, a stitch into a chain of the same round) and for nothing
	First, Last int32 // Last < First if the place has no stitches
}

// elsewhere reports whether in is a stitch of another piece.
func (in Into) elsewhere() bool { return in.Where == IntoStitch && in.Round < 0 && in.First < 0 }

// A Place is a kind of place that a stitch is worked into.
type Place uint8

// The places.
const (
	IntoNothing Place = iota // a chain
	IntoRing                 // the ring of the start
	IntoStitch               // the top of one stitch, or of each of several closed together
	IntoSpace                // round the chains First to Last
	IntoGap                  // between the stitches First and Last
	IntoChain                // a chain of the foundation, from above
	IntoUnder                // the other side of a chain of the foundation
)

// Role tells the stitches of a round apart that its instruction does not list.
type Role uint8

// The roles.
const (
	Plain         Role = iota
	StartingChain      // a chain at the start of a joined round
	Joining            // the slip stitch that closes it, or one that leads to where it begins
)

// A Round is one round as worked.
type Round struct {
	Number   int // as labelled, or counted on
	Stitches []Stitch
	Used     int // stitches of the round below that it uses; -1 if unknown
	Made     int // its count
	Below    int // index of the round it is worked into; -1 if it begins the piece
	Start    *Start
	Joined   bool
	Turned   bool // the work is turned at its end
	Line     *Line
}

// Count returns how many of its stitches count.
func (r *Round) Count() int {
	n := 0
	for i := range r.Stitches {
		if r.Stitches[i].Counts {
			n++
		}
	}
	return n
}

// StartsOver returns the stitch over which the next round starts: the one that
// the join is worked into, or else the first that counts.
func (r *Round) StartsOver() int {
	ss := r.Stitches
	for i := len(ss) - 1; i >= 0 && i >= len(ss)-2; i-- {
		if ss[i].Role == Joining && ss[i].Into.Where == IntoStitch {
			return int(ss[i].Into.First)
		}
	}
	for i := range ss {
		if ss[i].Counts {
			return i
		}
	}
	return 0
}

// ChainRule says whether a starting chain counts as a stitch.
type ChainRule uint8

// By convention (no for sc and hdc, yes for dc and taller), or as stated.
const (
	ByConvention ChainRule = iota
	ChainCounts
	ChainNotCounted
)
