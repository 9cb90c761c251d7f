package site

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/notation"
)

// advice returns what is to be said about the rounds of a piece, by the number
// of the round: what has been worked out, not the maker's words.
func (w *work) advice(size *pattern.Size, piece *pattern.Piece) map[int][]string {
	out := map[int][]string{}
	add := func(round int, format string, args ...any) {
		out[round] = append(out[round], fmt.Sprintf(format, args...))
	}
	for _, c := range clips(piece) {
		add(c.first, "%s", c.say)
	}
	e := w.estimates[size]
	i := slices.Index(size.Pieces, piece)
	if e == nil || i < 0 {
		if half := halfWay(piece); half >= 0 {
			add(half, "Half-way: half of all stitches are made in round %d.", half)
		}
		return out
	}
	pe := e.Pieces[i]
	reasons(pe, add)
	begun := false
	for _, s := range e.Stints {
		if s.Piece != pe {
			continue
		}
		if begun {
			y := e.Yarns[s.Yarn].Yarn
			add(s.First, "Enough yarn? From round %d to the end this piece takes %s of %s.", s.First, english.amount(s.Left, "m"), cmp.Or(y.Colour, y.Key, "yarn"))
		}
		begun = true
	}
	if len(piece.Rounds) >= minHalf && pe.HalfRound > 0 {
		add(pe.HalfRound, "Half-way: half of all stitches are made with stitch %d of round %d.", pe.HalfStitch, pe.HalfRound)
	}
	if pe.StuffRound > 0 {
		add(pe.StuffRound, "Last call to stuff: after round %d the opening is still about %.0f"+nbsp+"mm wide; later it is hard to reach all of the inside.", pe.StuffRound, pe.OpeningMM)
	}
	return out
}

// A manner is how a round stands on the one below.
type manner uint8

const (
	flatOut manner = iota
	slopingOut
	upright
	drawingIn
)

// uprightRad is how far a round may lean that is said to go straight up, and
// flatRad how near to flat one lies that is said to (judgement).
const uprightRad, flatRad = 6 * math.Pi / 180, 25 * math.Pi / 180

// reasons says of the first round of each manner what it does to the shape; the
// first round of all is left out.
func reasons(pe *pattern.PieceEstimate, add func(int, string, ...any)) {
	said := map[manner]bool{}
	staggered := false
	for i := range pe.Rounds {
		r := &pe.Rounds[i]
		if i == 0 {
			continue
		}
		above, lean := pe.Rounds[i-1].Round, r.Slope.AngleRad() // from flat
		now := slopingOut
		switch {
		case r.Round.Made == above.Made && math.Abs(float64(r.Slope)) < math.Sin(uprightRad):
			now = upright
		case r.Slope < 0:
			now = drawingIn
		case lean < flatRad:
			now = flatOut
		}
		n := r.Round.Number
		if !said[now] {
			switch now {
			case flatOut:
				say := "Why: from here it lies flat, or nearly so"
				if more := r.Round.Made - above.Made; more > 0 {
					say += fmt.Sprintf(": %d more a round", more)
				}
				add(n, "%s.", say)
			case slopingOut:
				add(n, "Why: from here it slopes like a cone, about %.0f° from flat.", lean*180/math.Pi)
			case upright:
				add(n, "Why: as many stitches as before make a wall that stands up.")
			case drawingIn:
				add(n, "Why: from here it draws in.")
			}
			said[now] = true
		}
		if k := shapings(r.Round); !staggered && k > 1 && k == shapings(above) && between(r.Round, above) {
			staggered = true
			add(n, "Why: the %s sit between those of the round before, so that no corners form.", shapingWord(r.Round))
		}
	}
}

// increases returns the index of the first stitch of each increase of a round:
// two or more stitches into the same one.
func increases(r *notation.Round) []int {
	var out []int
	for i := 1; i < len(r.Stitches); i++ {
		a, b := r.Stitches[i-1].Into, r.Stitches[i].Into
		if b.Where == notation.IntoStitch && a == b && b.First == b.Last && (i < 2 || r.Stitches[i-2].Into != a) {
			out = append(out, i-1)
		}
	}
	return out
}

func decreases(r *notation.Round) []int {
	var out []int
	for i := range r.Stitches {
		if r.Stitches[i].Kind.IsDecrease() {
			out = append(out, i)
		}
	}
	return out
}

// shapings returns how many increases a round has, or, as a negative number,
// how many decreases; 0 if it has both or none.
func shapings(r *notation.Round) int {
	up, down := len(increases(r)), len(decreases(r))
	switch {
	case down == 0:
		return up
	case up == 0:
		return -down
	}
	return 0
}

func shapingWord(r *notation.Round) string {
	if shapings(r) < 0 {
		return "decreases"
	}
	return "increases"
}

// between reports whether every increase of a round is worked apart from all of
// those of the round below, by a quarter of the way from one to the next or
// more.
func between(r, below *notation.Round) bool {
	at := increases(r)
	under := map[int32]bool{} // stitches of the round below that belong to its increases
	for _, i := range increases(below) {
		under[int32(i)], under[int32(i)+1] = true, true
	}
	least := len(below.Stitches) / (4 * len(at))
	if least < 1 {
		return false
	}
	for _, i := range at {
		foot := r.Stitches[i].Into.First
		for d := -int32(least) + 1; d < int32(least); d++ {
			if under[foot+d] {
				return false
			}
		}
	}
	return true
}

// A clip is where markers save the counting.
type clip struct {
	first int // number of the round
	say   string
}

// minClipped is over how many rounds increases have to stand above each other
// for markers to be worth it.
const minClipped = 3

// clips finds the stretches of rounds in which every increase is worked into
// the same stitch, the first or the second, of an increase of the round below.
func clips(piece *pattern.Piece) []clip {
	var out []clip
	rounds := piece.Rounds
	for i := 0; i < len(rounds); i++ {
		best, which := i, 0
		for k := range 2 {
			j := i
			for ; j+1 < len(rounds) && follows(rounds[j+1], rounds[j], k); j++ {
			}
			if j > best {
				best, which = j, k
			}
		}
		if best-i < minClipped {
			continue
		}
		var at []string
		for _, k := range increases(rounds[i]) {
			at = append(at, strconv.Itoa(countTo(rounds[i], k+which)))
		}
		out = append(out, clip{rounds[i].Number, fmt.Sprintf("Clip and forget: clip a marker into the %s stitch of each increase, stitches %s. In rounds %d to %d, whenever you meet one, increase into it and move it up into the %[1]s new stitch.",
			[...]string{"first", "second"}[which], words(at), rounds[i+1].Number, rounds[best].Number)})
		i = best
	}
	return out
}

// follows reports whether every increase of a round stands on stitch which, 0 or
// 1, of one of the round below.
func follows(r, below *notation.Round, which int) bool {
	a, b := increases(r), increases(below)
	if len(a) == 0 || len(a) != len(b) || len(decreases(r)) > 0 || below.Made == len(b)*2 {
		return false // where all are increases there is nothing to find
	}
	for k := range a {
		if int(r.Stitches[a[k]].Into.First) != b[k]+which {
			return false
		}
	}
	return true
}

// countTo returns the number of stitch i of a round among those that count.
func countTo(r *notation.Round, i int) int {
	n := 0
	for k := 0; k <= i; k++ {
		if r.Stitches[k].Counts {
			n++
		}
	}
	return n
}

// words joins the parts of a list: "3, 6 and 9".
func words(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}
