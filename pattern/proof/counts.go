package proof

import (
	"fmt"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// countPoints are about the arithmetic. Those without Run are looked at when
// the rounds are worked; they stand here for what they mean, and so that they
// can be allowed.
var countPoints = []*Point{
	{
		Code: "count-used", Severity: source.Error, Alone: true,
		Doc: `a round uses all stitches of the round below, and no more

A reader who runs out of stitches, or has some left over, takes it for her own
mistake and unpicks what was right.`,
	},
	{
		Code: "count-made", Severity: source.Error, Alone: true,
		Doc: `a round makes as many stitches as it declares

The count at the end of a round is what a reader checks herself by.`,
	},
	{
		Code: "uneven", Severity: source.Error, Alone: true,
		Doc: `"around" comes out even

A group that uses 5 stitches can't be worked around 24: four are left over.`,
	},
	{
		Code: "label-gap", Severity: source.Error, Alone: true,
		Doc: `no round number is left out

A reader who can't find round 6 thinks that a line was lost.`,
	},
	{
		Code: "label-order", Severity: source.Error, Alone: true,
		Doc: `round numbers run on

After rounds 7 to 12 comes round 13.`,
	},
	{
		Code: "range", Severity: source.Error, Alone: true,
		Doc: `a range names rounds that a piece can have

A slip of the finger makes 300 rounds of 30, and a range that ends before it
begins has none.`,
	},
	{
		Code: "range-length", Severity: source.Error, Alone: true,
		Doc: `a range is as long as it says

Rounds 5 to 8 are four rounds, not three.`,
	},
	{
		Code: "same-as", Severity: source.Error, Alone: true,
		Doc: `rounds that are repeated exist

"Repeat rounds 3 and 4" sends a reader back up the page.`,
	},
	{
		Code: "work", Severity: source.Error, Alone: true,
		Doc: `a round can be worked

Where nothing is known of what it is worked into, no count can be right.`,
	},
	{
		Code: "unread", Severity: source.Error, Alone: true,
		Doc: `a round can be read

What a program can't read at all a reader may read in two ways. In a written
pattern that has no pattern file it is a warning.`,
	},
	{
		Code: "count-unsaid", Severity: source.Warning, Alone: true, Run: countUnsaid,
		Doc: `every round ends with its count

It is the one thing that readers ask for most: without it she finds a slip many
rounds later.`,
	},
	{
		Code: "steep", Severity: source.Warning, Alone: true, Run: steep,
		Doc: `no round more than doubles or halves the stitches

Three stitches in each of a round's make it ruffle, and three together leave
holes. Where that is meant, say so.`,
	},
}

// addRows adds what is known of each written line of the pattern and, of the
// prose, of each round written out there.
func (p *pass) addRows() {
	for s, piece := range p.pieces() {
		for i := range piece.Verdicts {
			p.out.addRow(p.pieceName(s, piece), &piece.Verdicts[i])
		}
	}
}

func (r *Report) addRow(piece string, v *notation.Verdict) {
	file, _ := v.Line.File.Root(v.Line.At.From)
	r.Rounds = append(r.Rounds, Row{
		File: file, Piece: piece, Label: v.Line.Label, Line: v.Line.File.Pos(v.Line.At.From).Line,
		First: v.First, Last: v.Last, Used: v.Used, Made: v.Made, Declared: v.Declared, Verdict: string(v.Word),
	})
}

func countUnsaid(p *pass) {
	for _, piece := range p.pieces() {
		for _, v := range piece.Verdicts {
			if v.Word != notation.Uncounted || v.Rounds == 0 && v.First == v.Last {
				continue // the stitches into the ring are their own count
			}
			p.report(source.Finding{
				File: v.Line.File, At: v.Line.At, Round: v.First,
				Message: "the round ends without a count",
				Hint:    fmt.Sprintf("write (%d) at its end, if that is right", v.Made),
			})
		}
	}
}

func steep(p *pass) {
	for _, piece := range p.pieces() {
		for _, r := range piece.Rounds {
			if r.Line == nil || r.Below < 0 || r.Used <= 0 {
				continue
			}
			below := piece.Rounds[r.Below].Made
			message, hint := "", ""
			switch {
			case below == 0 || piece.Rounds[r.Below].Number == 0 || lace(r):
				continue
			case r.Made > 2*below:
				message, hint = fmt.Sprintf("it makes %d stitches on %d, more than twice as many", r.Made, below), "spread the increases over two rounds"
			case 2*r.Made < below:
				message, hint = fmt.Sprintf("it leaves %d stitches of %d, less than half", r.Made, below), "spread the decreases over two rounds"
			default:
				continue
			}
			p.report(source.Finding{File: r.Line.File, At: r.Line.At, Round: r.Number, Message: message, Hint: hint})
		}
	}
}

// lace reports whether a round has chains or is worked into spaces: then the
// stitches alone say little about its size.
func lace(r *notation.Round) bool {
	for i := range r.Stitches {
		s := &r.Stitches[i]
		if s.Role == notation.Plain && s.Kind == stitch.Ch || s.Into.Where == notation.IntoSpace || s.Into.Where == notation.IntoGap {
			return true
		}
	}
	return false
}

// An op is what a reader does in one place: stitches worked into the same one,
// or one stitch that closes several.
type op struct {
	kind stitch.Stitch
	n    int // stitches in the one place
	loop notation.Loop
	into notation.Into
}

// ops returns what a reader does in a round, in order, without the chain at
// its start that does not count and without the join.
func ops(r *notation.Round) []op {
	var all []op
	for i := range r.Stitches {
		s := &r.Stitches[i]
		if s.Role == notation.Joining || s.Role == notation.StartingChain && !s.Counts {
			continue
		}
		if last := len(all) - 1; last >= 0 && all[last].kind == s.Kind && all[last].loop == s.Loop &&
			all[last].into == s.Into && s.Into.Where == notation.IntoStitch {
			all[last].n++
			continue
		}
		all = append(all, op{s.Kind, 1, s.Loop, s.Into})
	}
	return all
}

// same reports whether two ops are the same for a reader.
func (o op) same(other op) bool {
	return o.kind == other.kind && o.n == other.n && o.loop == other.loop && o.into.Where == other.into.Where
}

// words names an op as the rounds do.
func (o op) words(t stitch.Terms) string {
	name := o.kind.Abbr(t)
	switch {
	case o.n == 2 && o.kind == stitch.SC:
		name = "inc"
	case o.n == 2:
		name += " inc"
	case o.n > 2:
		name = fmt.Sprintf("%d %s in one", o.n, name)
	}
	switch o.loop {
	case notation.BackLoop:
		name += " BLO"
	case notation.FrontLoop:
		name += " FLO"
	}
	return name
}

// A shaping is how many increases and decreases each round of a piece has.
type shaping struct{ increases, decreases []int }

// shaping counts the increases and decreases of a piece, once.
func (p *pass) shaping(piece *pattern.Piece) *shaping {
	if s := p.shapings[piece]; s != nil {
		return s
	}
	s := &shaping{make([]int, len(piece.Rounds)), make([]int, len(piece.Rounds))}
	for i, r := range piece.Rounds {
		for _, o := range ops(r) {
			switch {
			case o.kind.IsDecrease():
				s.decreases[i]++
			case o.n > 1:
				s.increases[i]++
			}
		}
	}
	if p.shapings == nil {
		p.shapings = map[*pattern.Piece]*shaping{}
	}
	p.shapings[piece] = s
	return s
}

// pieceRounds returns how many rounds a piece has, by their numbers.
func pieceRounds(piece *pattern.Piece) int {
	n := 0
	for _, r := range piece.Rounds {
		if r.Number > 0 {
			n++
		}
	}
	return n
}
