package chart

import (
	"fmt"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/notation"
)

// sentences returns a sentence or a few for each round of a piece, in the order of
// the rounds: what a reader hears who can't see the chart. A foundation chain is
// told with the first round and has none of its own.
func sentences(p *pattern.Pattern, piece *pattern.Piece, opt Options) []string {
	breaks := make([]int, len(piece.Rounds))
	at := map[int]int{}
	for i, r := range piece.Rounds {
		breaks[i] = r.Number
		at[r.Number] = i
	}
	out := make([]string, len(piece.Rounds))
	wording := opt.wording()
	wording.Breaks = breaks // no ranges: each ring speaks for itself
	for _, w := range notation.Print(piece.Rounds, yarnNames(p, piece), wording) {
		for n := w.First; n <= w.Last; n++ {
			if i, ok := at[n]; ok {
				out[i] = strings.TrimSpace(fmt.Sprintf("%s. %s %s", w.Label, w.Text, w.Count))
			}
		}
	}
	return out
}

// yarnNames returns the names of the yarns of a piece, as its stitches count
// them.
func yarnNames(p *pattern.Pattern, piece *pattern.Piece) []string {
	var names []string
	for _, y := range piece.Yarns {
		if y >= 0 && y < len(p.Yarns) {
			names = append(names, p.Yarns[y].Key)
		} else {
			names = append(names, fmt.Sprintf("yarn %d", len(names)+1))
		}
	}
	return names
}

// describe says how to read the chart.
func describe(ls []*layout, piece *pattern.Piece, opt Options) string {
	how := "in a spiral"
	if piece.Style == pattern.Joined {
		how = "each joined"
	}
	n := len(piece.Rounds)
	if isFoundation(piece.Rounds[0]) {
		n--
	}
	way := "anticlockwise"
	if opt.Hand == Left {
		way = "clockwise, for the left hand"
	}
	d := fmt.Sprintf("%s, %s, read %s.", plural(n, "round"), how, way)
	if corners := ls[0].outline.corners; corners > 0 {
		d += fmt.Sprintf(" The rings have %d corners.", corners)
	}
	switch {
	case opt.View == Strip:
		return d + " Each round straight over what it is worked into, from " + map[Hand]string{Right: "right to left.", Left: "left to right."}[opt.Hand]
	case len(ls) == 1:
		return d + " From the middle outwards."
	}
	english := &Options{} // as all of it
	return fmt.Sprintf("%s Two discs: %s; %s.", d, strings.ToLower(caption(ls[0], true, english)), strings.ToLower(caption(ls[1], false, english)))
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	if strings.HasSuffix(what, "ch") {
		what += "e"
	}
	return fmt.Sprintf("%d %ss", n, what)
}
