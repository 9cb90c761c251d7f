package chart

import (
	"fmt"
	"slices"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/notation"
)

// An Outline says what shape the rings have.
type Outline uint8

// The outlines.
const (
	AsStated Outline = iota // as the piece says: round, if it says nothing
	Round                   // circles, or round a foundation chain ovals
	Shape                   // with the corners that the increases make: a square is drawn square
)

var outlineNames = [...]string{"as stated", "round", "shape"}

func (o Outline) String() string { return outlineNames[o] }

// ParseOutline returns the outline of a name, round or shape.
func ParseOutline(name string) (Outline, error) {
	if i := slices.Index(outlineNames[Round:], name); i >= 0 {
		return Round + Outline(i), nil
	}
	return 0, fmt.Errorf("no outline is called %q; there are %s", name, strings.Join(outlineNames[Round:], " and "))
}

// cornerRadius is that of the inner edge of a ring round its corners.
const cornerRadius = 1.0

// An outline is the shape of the rings of a piece with corners.
type outline struct {
	corners int
	first   int           // the first round with them
	held    []map[int]int // by round: by stitch, the corner at which it stands, counted anticlockwise
}

// findOutline finds the corners of a piece.
func findOutline(rounds []*notation.Round) outline {
	corners := pattern.FindCorners(rounds)
	n := corners.Count
	out := outline{corners: n, held: make([]map[int]int, len(rounds))}
	if n > 0 {
		out.first = slices.IndexFunc(corners.Rounds, func(middles [][]int) bool { return middles != nil })
	}
	back := false // worked clockwise, after a turn of the work
	for k, r := range rounds {
		if n > 0 && corners.Rounds[k] != nil {
			out.held[k] = hold(corners.Rounds[k], len(r.Stitches), back)
		}
		back = back != r.Turned
	}
	return out
}

// hold returns at which corner, counted anticlockwise, the middle stitches of the
// corners of a round stand, which has so many stitches.
func hold(middles [][]int, stitches int, backwards bool) map[int]int {
	held := map[int]int{}
	last := len(middles) - 1
	for k, middle := range middles {
		for _, i := range middle {
			// The start of the round is before the first corner and after the last.
			late := 2*i > stitches
			if k == 0 && late || k == last && !late {
				continue
			}
			held[i] = k
			if backwards {
				held[i] = last - k
			}
		}
	}
	return held
}
