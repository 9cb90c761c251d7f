package proof

import (
	"fmt"
	"regexp"

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

Through an opening of eight stitches or fewer no finger goes.`,
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
// through. Source: our own proposal; eight stitches of toy gauge are about 12 mm
// across.
const narrowOpening = 8

func stuffLate(p *pass) {
	for _, piece := range p.pieces() {
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
		if r := roundNumber(piece, s.After); piece.Closed && r != nil && r.Made <= narrowOpening && r.Made > 0 && narrowed(piece, r.Number) {
			p.report(source.Finding{
				At: s.At, Round: s.After,
				Message: fmt.Sprintf("it is stuffed after round %d, when the opening has only %d stitches", s.After, r.Made),
				Hint:    "stuff some rounds earlier, and top up here",
			})
		}
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
