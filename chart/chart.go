package chart

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// Options say how a chart is drawn. The zero Options draw the whole piece for
// the right hand, in the view that suits it, in a file that stands alone.
type Options struct {
	View    View
	Hand    Hand
	Outline Outline      // of a strip, which is straight, it says nothing
	Plus    bool         // single crochet as + instead of x; both are printed
	Inline  bool         // for an HTML page: no XML prolog, no size, no symbols and style of its own (see Symbols and Style)
	NoKey   bool         // leave the key out
	Fold    bool         // draw three and more plain rounds, one like the other, as one ring
	Drift   bool         // a dotted line through where the starts of rounds lie in the fabric, which leans if the work is not turned
	Guide   int          // a line across each ring after every so many stitches, to count by; 0 for none
	Terms   stitch.Terms // of the key and the descriptions

	// Language is that of the key, the captions and the sentences, one of
	// notation.Languages, also as "de-AT"; any other is English.
	Language string

	mute bool // no sentences are needed
	line int  // the most stitches in a line of a strip; 0 for as many as suit a phone
}

// A Hand is the hand that holds the hook. For the left one a chart is read
// clockwise and drawn as the mirror image, figures and letters apart.
type Hand uint8

// The hands.
const (
	Right Hand = iota
	Left
)

var handNames = [...]string{"right", "left"}

func (h Hand) String() string { return handNames[h] }

// ParseHand returns the hand of a name, right or left.
func ParseHand(name string) (Hand, error) {
	if i := slices.Index(handNames[:], name); i >= 0 {
		return Hand(i), nil
	}
	return 0, fmt.Errorf("no hand is called %q; there are %s", name, strings.Join(handNames[:], ", "))
}

// A View says what of a piece is drawn, and how it is laid out.
type View uint8

// The views.
const (
	Auto   View = iota // Halves for a solid that closes, else Whole
	Whole              // all rounds, from the middle outwards
	Halves             // the rounds up to the widest outwards, and below them the others inwards
	Repeat             // as Auto, but only the first of the equal parts that all rounds fall into
	Strip              // each round, or the first of such parts, straight over what it is worked into
)

var viewNames = [...]string{"auto", "whole", "halves", "repeat", "strip"}

func (v View) String() string { return viewNames[v] }

// ParseView returns the view of a name.
func ParseView(name string) (View, error) {
	if i := slices.Index(viewNames[:], name); i >= 0 {
		return View(i), nil
	}
	return 0, fmt.Errorf("no view is called %q; there are %s", name, strings.Join(viewNames[:], ", "))
}

// maxStitches is the most stitches that a chart is drawn of.
const maxStitches = 1_000_000

// Draw writes the chart of a piece as SVG. It writes nothing if it returns an
// error for a piece that can't be drawn.
func Draw(w io.Writer, p *pattern.Pattern, piece *pattern.Piece, opt Options) error {
	sc, err := newScene(p, piece, opt)
	if err != nil {
		return err
	}
	c := newCanvas()
	sc.svg(c, opt)
	if _, err := c.WriteTo(w); err != nil {
		return fmt.Errorf("write the chart of %s: %w", piece.Name, err)
	}
	return nil
}

func newScene(p *pattern.Pattern, piece *pattern.Piece, opt Options) (*scene, error) {
	n := 0
	for _, r := range piece.Rounds {
		n += len(r.Stitches)
	}
	switch {
	case n == 0:
		return nil, fmt.Errorf("%s has no rounds to draw: its chart needs at least one round that is understood", piece.Name)
	case opt.Guide < 0:
		return nil, fmt.Errorf("a guide after every %d stitches can't be drawn; it takes 1 or more", opt.Guide)
	case n > maxStitches:
		return nil, fmt.Errorf("%s has %d stitches; a chart holds at most %d", piece.Name, n, maxStitches)
	}
	sc := &scene{yarns: yarnLooks(p, piece), least: leastWidth}
	set := setting{cross: crosses(opt.Plus), letters: len(sc.yarns) > 0, guide: opt.Guide, line: stripLength, done: map[int][]string{}}
	if opt.line > 0 {
		set.line = max(shortStrip, min(opt.line, stripLength))
	}
	for _, step := range piece.Steps {
		set.done[step.After] = append(set.done[step.After], step.Do)
	}
	say := make([]string, len(piece.Rounds))
	if !opt.mute {
		say = sentences(p, piece, opt)
	}
	rounds := piece.Rounds
	if opt.Fold {
		var index []int
		rounds, index, set.last = fold(rounds)
		all := say
		say = make([]string, len(rounds))
		for i, r := range rounds {
			say[i] = all[index[i]]
			if last, ok := set.last[r.Number]; ok {
				say[i] += " " + opt.say("Rounds %d to %d are worked like this one.", r.Number+1, last)
			}
		}
	}
	if opt.View != Strip && (opt.Outline == Shape || opt.Outline == AsStated && piece.Cornered) {
		if set.outline = findOutline(rounds); set.outline.corners == 0 && !isFoundation(rounds[0]) && opt.Outline == Shape {
			return nil, fmt.Errorf("the rounds of %s do not grow at corners, one over the other; its outline can only be round", piece.Name)
		}
	}
	if opt.Drift {
		set.drifts = driftsOf(rounds)
	}
	var ls []*layout
	switch opt.View {
	case Strip:
		ls = sc.strips(rounds, set, say)
	case Repeat:
		times, parts := repeats(rounds)
		if times == 1 {
			return nil, fmt.Errorf("the rounds of %s have no repeat in common; another view shows them all", piece.Name)
		}
		ls = layouts(rounds, Auto, set)
		for i, l := range ls {
			if i > 0 { // below all that is drawn of the first, with room for words
				sc.fit(0)
				l.middle.Y = sc.high.Y + 3 + l.reach().Y
			}
			for _, r := range l.rings {
				r.shown = parts[r.index]
			}
			sc.add(l, say)
			sc.limit(l)
		}
		sc.frameRepeat(ls, times, &opt)
	default:
		ls = layouts(rounds, opt.View, set)
		for _, l := range ls {
			sc.add(l, say)
		}
		sc.frame(ls, &opt)
	}
	sc.title = opt.say("%s: ring chart", piece.Name)
	sc.desc = describe(ls, piece, opt)
	if opt.Hand == Left {
		sc.mirror()
	}
	if !opt.NoKey {
		sc.key(ls, piece, opt)
	}
	slices.SortStableFunc(sc.under, func(a, b line) int { // bands beside each other, and lines over all of them
		return cmp.Or(cmp.Compare(a.ink, b.ink), strings.Compare(a.colour, b.colour))
	})
	sc.under, sc.over = joined(sc.under), joined(sc.over)
	return sc, nil
}

// add draws the rings of a layout into a scene.
func (sc *scene) add(l *layout, say []string) {
	for _, r := range l.rings {
		ring := l.composeRing(r, sc.yarns)
		ring.say = say[r.index]
		sc.rings = append(sc.rings, ring)
	}
	sc.under = append(sc.under, l.bands(sc.yarns)...)
	if l.drifts != nil {
		sc.under = append(sc.under, l.drift())
	}
	l.composeSteps(sc.rings[len(sc.rings)-len(l.rings):])
	l.composeHub(sc)
}

// layouts lays rounds out in the view asked for: as one disc or as two.
func layouts(rounds []*notation.Round, view View, set setting) []*layout {
	widest := widest(rounds)
	if view != Halves || widest+1 >= len(rounds) {
		l := newLayout(rounds, set)
		if view == Whole || set.outline.corners > 0 || !closes(l, widest) {
			return []*layout{l}
		}
	}
	set.outline = outline{} // what closes has no corners
	opening := newLayout(rounds[:widest+1], set)
	closing := newClosing(rounds, widest+1, set)
	const apart = 2
	size := textSize(max(leastWidth, 2*opening.reach().X))
	closing.middle.Y = opening.reach().Y + apart + 1.5*size + closing.reach().Y
	return []*layout{opening, closing}
}

// closes reports whether the rounds laid out in l are a solid that closes: on
// one disc its last rings are wide and nearly empty.
func closes(l *layout, widest int) bool {
	const empty = 3
	n := len(l.rings)
	last := l.rings[n-1]
	return n-widest > 2 && last.room >= empty && 2*last.round.Made <= l.rings[widest].round.Made
}

// widest returns the index of the last of the rounds with the most stitches.
func widest(rounds []*notation.Round) int {
	at := 0
	for i, r := range rounds {
		if r.Made >= rounds[at].Made {
			at = i
		}
	}
	return at
}

// used returns the kinds of stitches in rounds, in the order in which they
// first come.
func used(rounds []*notation.Round) []stitch.Stitch {
	seen := map[stitch.Stitch]bool{}
	var out []stitch.Stitch
	var last stitch.Stitch
	for _, r := range rounds {
		for i := range r.Stitches {
			if k := r.Stitches[i].Kind; k != last {
				last = k
				if !seen[k] {
					seen[k] = true
					out = append(out, k)
				}
			}
		}
	}
	return out
}
