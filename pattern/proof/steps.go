package proof

import (
	"fmt"
	"regexp"
	"slices"

	"roundelay/pattern"
	"roundelay/pattern/source"
)

// stepPoints look at what is done between the rounds.
var stepPoints = []*Point{
	{
		Code: "close-step", Severity: source.Warning, Run: closeStep,
		Doc: `a closed piece says how it is closed

The last hole is where readers get stuck most often: through which loops, with
how long a tail.`,
	},
	{
		Code: "stuff-step", Severity: source.Warning, Run: stuffStep,
		Doc: `a closed piece says when it is stuffed

After the last round it is too late.`,
	},
	{
		Code: "stuff-late", Severity: source.Warning, Run: stuffLate,
		Doc: `stuffing comes while the opening is wide enough

Through a narrow opening no finger goes to press the filling against the wall.`,
	},
	{
		Code: "stuff-early", Severity: source.Warning, Run: stuffEarly,
		Doc: `stuffing comes when most of the piece is made

What is stuffed while it is still a bowl falls out again, and stands in the way of
the hook.`,
	},
	{
		Code: "eyes-late", Severity: source.Warning, Run: eyesLate,
		Doc: `eyes come before the stuffing and before closing

The washer of an eye is pushed on from the inside.`,
	},
	{
		Code: "closing-count", Severity: source.Error, Run: closingCount,
		Doc: `the closing words name as many stitches as the last round has

"Through the 8 stitches" after a last round of 6 makes a reader look for two
stitches that are not there.`,
	},
	{
		Code: "colour-change", Severity: source.Warning, Run: colourChange,
		Doc: `it is said where the yarn is changed

The new colour is drawn through in the last pull of the stitch before; a reader
who changes a stitch later gets a dot of the old colour in the new stripe.`,
	},
}

// firstStep returns the first step of a piece that does something; nil if there
// is none.
func firstStep(piece *pattern.Piece, do string) *pattern.Step {
	for i := range piece.Steps {
		if piece.Steps[i].Do == do {
			return &piece.Steps[i]
		}
	}
	return nil
}

func closeStep(p *pass) {
	for _, piece := range p.pieces() {
		if last := lastRound(piece); piece.Closed && last != nil && firstStep(piece, "close") == nil {
			p.report(source.Finding{
				At: piece.At, Round: last.Number,
				Message: fmt.Sprintf("the piece %q is closed, but no step closes it", piece.Name),
				Hint:    fmt.Sprintf("add a [[piece.step]] with after = %d and do = \"close\", that says through which loops of the last %d stitches the tail goes", last.Number, last.Made),
			})
		}
	}
}

func stuffStep(p *pass) {
	for _, piece := range p.pieces() {
		if !piece.Stuffed || firstStep(piece, "stuff") != nil {
			continue
		}
		hint := `add a [[piece.step]] with do = "stuff", while the opening is still wide, that says how firmly`
		p.report(source.Finding{At: piece.At, Message: fmt.Sprintf("the piece %q is stuffed, but no step says when", piece.Name), Hint: hint})
	}
}

// narrowOpening is how many stitches an opening has that no finger goes
// through, and fingerMM how wide one is that a finger does. Source: our own
// proposal; eight stitches of toy gauge are about 12 mm across.
const (
	narrowOpening = 8
	fingerMM      = 18
)

func stuffLate(p *pass) {
	for size, piece := range p.pieces() {
		s := firstStep(piece, "stuff")
		if s == nil {
			continue
		}
		if c := firstStep(piece, "close"); c != nil && c.After < s.After {
			p.report(source.Finding{
				At: s.At, Round: s.After,
				Message: fmt.Sprintf("it is stuffed after round %d, but closed after round %d", s.After, c.After),
				Hint:    "stuff before closing",
			})
			continue
		}
		r := roundNumber(piece, s.After)
		if !piece.Closed || r == nil || r.Made == 0 || !narrowed(piece, r.Number) {
			continue
		}
		opening := fmt.Sprintf("has only %d stitches", r.Made)
		hint := "stuff some rounds earlier, and top up here"
		narrow := r.Made <= narrowOpening
		if pe := p.pieceEstimate(size, piece); pe != nil {
			mm := openingMM(pe, r.Number)
			narrow = mm < fingerMM && r.Number > pe.StuffRound
			opening = fmt.Sprintf("is only %.0f mm wide", mm)
			hint = fmt.Sprintf("stuff after round %d, through %.0f mm, and top up here", pe.StuffRound, pe.OpeningMM)
		}
		if narrow {
			p.report(source.Finding{
				At: s.At, Round: s.After,
				Message: fmt.Sprintf("it is stuffed after round %d, when the opening %s", s.After, opening),
				Hint:    hint,
			})
		}
	}
}

// pieceEstimate returns what a piece comes out as; nil if that can't be told.
func (p *pass) pieceEstimate(s *pattern.Size, piece *pattern.Piece) *pattern.PieceEstimate {
	e := p.estimate(s)
	if e == nil {
		return nil
	}
	return e.Pieces[slices.Index(s.Pieces, piece)]
}

// openingMM returns how wide the opening above a round is.
func openingMM(pe *pattern.PieceEstimate, number int) float64 {
	mm := 0.0
	for _, r := range pe.Rounds {
		if r.Round.Number == number {
			mm = r.OpeningMM
		}
	}
	return mm
}

// stuffFrom is the part of its stitches that a piece has when it is stuffed for
// the last time, at least. Source: our own proposal.
const stuffFrom = 0.4

// bitByBit are words for stuffing that goes on with the rounds.
var bitByBit = regexp.MustCompile(`(?i)\b(as you (go|work)|bit by bit|little by little|top(ping)? up|(add|adding|put) more|every (few|\w+) rounds|from (here|now) on|keep|continue|begin|start)\b`)

func stuffEarly(p *pass) {
	for size, piece := range p.pieces() {
		var last *pattern.Step
		for i := range piece.Steps {
			if s := &piece.Steps[i]; s.Do == "stuff" {
				last = s
			}
		}
		all := piece.Stitches()
		if last == nil || all == 0 || bitByBit.MatchString(last.Say) {
			continue
		}
		made := 0
		for _, r := range piece.Rounds {
			if r.Number <= last.After {
				made += r.Made
			}
		}
		if float64(made) >= stuffFrom*float64(all) {
			continue
		}
		hint := "stuff when more of it is made, while the opening is still wide"
		if pe := p.pieceEstimate(size, piece); pe != nil {
			hint = fmt.Sprintf("after round %d the opening is still %.0f mm wide: stuff there, or say that it is stuffed as you go", pe.StuffRound, pe.OpeningMM)
		}
		p.report(source.Finding{
			At: last.At, Round: last.After,
			Message: fmt.Sprintf("it is stuffed after round %d, with %.0f %% of its stitches still to come", last.After, 100*float64(all-made)/float64(all)),
			Hint:    hint,
		})
	}
}

// narrowed reports whether a round before that of the number has more stitches.
func narrowed(piece *pattern.Piece, number int) bool {
	r := roundNumber(piece, number)
	for _, before := range piece.Rounds {
		if before.Number < number && before.Made > r.Made {
			return true
		}
	}
	return false
}

// backedEyes are eyes that are fixed from the inside.
var backedEyes = regexp.MustCompile(`(?i)\b(safety|washers?|backs?|backed|posts?|snap|press)\b`)

func eyesLate(p *pass) {
	for _, piece := range p.pieces() {
		e := firstStep(piece, "eyes")
		if e == nil {
			continue
		}
		embroidered := embroideryWord.MatchString(e.Say)
		if c := firstStep(piece, "close"); c != nil && !embroidered && stepIndex(piece, c) < stepIndex(piece, e) {
			p.report(source.Finding{
				At: e.At, Round: e.After,
				Message: "the eyes come after the piece is closed",
				Hint:    "place them before, while you can reach the inside, or say that they are embroidered",
			})
			continue
		}
		if s := firstStep(piece, "stuff"); s != nil && backedEyes.MatchString(e.Say) && stepIndex(piece, s) < stepIndex(piece, e) {
			p.report(source.Finding{
				At: e.At, Round: e.After,
				Message: "eyes with a back come after the stuffing",
				Hint:    "place them before stuffing: the back is pushed on from the inside",
			})
		}
	}
}

var embroideryWord = regexp.MustCompile(`(?i)\b(embroider\w*|stitch(ed)? on|french knots?|satin stitch)\b`)

// stepIndex returns the place of a step among those of its piece.
func stepIndex(piece *pattern.Piece, s *pattern.Step) int {
	for i := range piece.Steps {
		if &piece.Steps[i] == s {
			return i
		}
	}
	return -1
}

func colourChange(p *pass) {
	if p.mentions(changeWord) {
		return
	}
	for _, piece := range p.pieces() {
		for i, r := range piece.Rounds {
			if !changesYarn(piece, i) || r.Line == nil || firstStep(piece, "yarn") != nil {
				continue
			}
			p.report(source.Finding{
				File: r.Line.File, At: r.Line.At, Round: r.Number,
				Message: "the yarn is changed here, and nothing says how",
				Hint:    `say it in notes, or add a [[piece.step]] with do = "yarn" before the round`,
			})
			return
		}
	}
}

var changeWord = regexp.MustCompile(`(?i)\b(chang\w*|switch\w*)\b`)

// changesYarn reports whether the yarn changes at the start of the round of an
// index, or in it.
func changesYarn(piece *pattern.Piece, i int) bool {
	stitches := piece.Rounds[i].Stitches
	for j := range stitches {
		switch {
		case j > 0 && stitches[j].Yarn != stitches[j-1].Yarn:
			return true
		case j == 0 && i > 0:
			before := piece.Rounds[i-1].Stitches
			if len(before) > 0 && before[len(before)-1].Yarn != stitches[0].Yarn {
				return true
			}
		}
	}
	return false
}
