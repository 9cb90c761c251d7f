package main

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"roundelay/chart"
	"roundelay/pattern"
	"roundelay/pattern/notation"
)

//go:embed charts.js
var chartChecks string

//go:embed resvg.js
var resvgScript string

// drawings are the ways in which every piece is drawn.
var drawings = []struct {
	name  string
	opt   chart.Options
	whole bool // every stitch is there, in rings from the middle outwards
}{
	{"", chart.Options{}, false},
	{"whole", chart.Options{View: chart.Whole}, true},
	{"whole, with plus signs, for the left hand", chart.Options{View: chart.Whole, Hand: chart.Left, Plus: true}, true},
	{"repeat", chart.Options{View: chart.Repeat}, false},
	{"strip", chart.Options{View: chart.Strip}, false},
}

// checkCharts draws every piece of the demo book in every size and every view,
// patterns that are not in it, and some of those that people wrote, and looks at the drawings in Chromium and by
// rsvg-convert and resvg.
func checkCharts(s *session, t *tally) error {
	b, findings := pattern.LoadBook(os.DirFS(s.root), book)
	if err := findings.Err(); err != nil {
		return err
	}
	var charts []drawn
	for _, p := range b.Patterns {
		for _, size := range p.Sizes {
			for _, piece := range size.Pieces {
				for _, d := range drawings {
					name := strings.Join(strings.Fields(p.Slug+" "+size.Name+" "+piece.Name+" "+d.name), " ")
					d.opt.Terms = p.Terms
					var svg bytes.Buffer
					if err := chart.Draw(&svg, p, piece, d.opt); err != nil {
						return fmt.Errorf("%s: %w", name, err)
					}
					c := drawn{name: name, svg: svg.Bytes(), opt: d.opt}
					if d.whole {
						c.rounds = piece.Rounds
					}
					charts = append(charts, c)
				}
			}
		}
	}
	for _, u := range unseens {
		p, err := u.load()
		if err != nil {
			return fmt.Errorf("%s: %w", u.name, err)
		}
		piece := p.Sizes[0].Pieces[0]
		for _, opt := range u.drawn {
			name := fmt.Sprintf("%s, %v, %v, %v hand", u.name, opt.View, opt.Outline, opt.Hand)
			var svg bytes.Buffer
			if err := chart.Draw(&svg, p, piece, opt); err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			c := drawn{name: name, svg: svg.Bytes(), opt: opt}
			if opt.View == chart.Whole || opt.Outline == chart.Shape {
				c.rounds = piece.Rounds
			}
			charts = append(charts, c)
		}
	}
	written, err := s.writtenCharts()
	if err != nil {
		return err
	}
	charts = append(charts, written...)
	return share(s, t, charts, func(tab *tab, c drawn, t *tally) error {
		if err := c.look(s, t, tab); err != nil {
			return fmt.Errorf("%s: %w", c.name, err)
		}
		return nil
	})
}

// A drawn is a chart to be looked at.
type drawn struct {
	name   string
	svg    []byte
	opt    chart.Options
	rounds []*notation.Round // all that it has to show, in rings; nil if that is not sure
	once   bool              // by Chromium alone
}

// wordless hides the words of a chart.
const wordless = "text { visibility: hidden }"

// look makes the checks of one chart.
func (c *drawn) look(s *session, sum *tally, tab *tab) error {
	sum.check(c.name+": well-formed", wellFormed(c.svg))
	file := filepath.Join(tab.b.profile, "chart.svg")
	if err := os.WriteFile(file, c.svg, 0o644); err != nil {
		return err
	}
	if err := tab.load(file, screen{width: 1280, height: 900}); err != nil {
		return err
	}
	if err := tab.eval(chartChecks, nil); err != nil {
		return err
	}
	checks := []string{"overlaps", "outside", "unseen", "words", "covered", "smallText"}
	if !c.once { // people also write what can't be drawn without
		checks = append(checks, "crossing")
	}
	for _, check := range checks {
		var complaints []string
		if err := tab.eval("verify."+check+"()", &complaints); err != nil {
			return err
		}
		sum.check(c.name+": "+check, complain(complaints))
	}
	sum.check(c.name+": quiet", complain(tab.noise))
	if c.rounds != nil {
		var shown []shownRound
		if err := tab.eval("verify.rounds()", &shown); err != nil {
			return err
		}
		sum.check(c.name+": every stitch in its round", sameStitches(shown, c.rounds))
		sum.check(c.name+": rings in order", inOrder(shown, c.opt.Hand))
	}
	if c.once {
		return nil
	}
	return c.drawAgain(s, sum, tab)
}

// drawAgain compares the chart in the tab with what rsvg-convert and resvg draw,
// without its words: each spaces letters in its own way.
func (c *drawn) drawAgain(s *session, sum *tally, tab *tab) error {
	var size struct{ Width, Height float64 }
	if err := tab.eval("verify.style("+strconv.Quote(wordless)+"), verify.size()", &size); err != nil {
		return err
	}
	shot, err := tab.picture(math.Ceil(size.Width), math.Ceil(size.Height))
	if err != nil {
		return err
	}
	chromiums, err := ink(shot)
	if err != nil {
		return err
	}
	file := filepath.Join(tab.b.profile, "wordless.svg")
	svg := bytes.Replace(c.svg, []byte("</defs>"), []byte("</defs><style>"+wordless+"</style>"), 1)
	if err := os.WriteFile(file, svg, 0o644); err != nil {
		return err
	}
	for _, other := range []struct {
		name string
		args []string
	}{
		{"rsvg-convert", []string{s.tools["rsvg-convert"], file}},
		{"resvg", []string{s.tools["node"], "-e", resvgScript, "--", s.tools["resvg"], file}},
	} {
		picture, err := exec.CommandContext(s.ctx, other.args[0], other.args[1:]...).Output()
		if err != nil {
			return fmt.Errorf("%s: %w", other.name, err)
		}
		theirs, err := ink(picture)
		if err == nil {
			err = alike(chromiums, theirs)
		}
		sum.check(c.name+": drawn alike by "+other.name, err)
	}
	return nil
}

// A shownRound is a round as a browser shows it.
type shownRound struct {
	Round, Count int
	Stitches     []shownStitch
}

// A shownStitch is a stitch by its kind and its place, from the middle of the
// chart.
type shownStitch struct {
	Kind string
	X, Y float64
}

// sameStitches compares a chart with the rounds it is drawn from: every stitch
// is there exactly once, in its round.
func sameStitches(shown []shownRound, rounds []*notation.Round) error {
	if len(shown) != len(rounds) {
		return fmt.Errorf("%d rounds are shown, the piece has %d", len(shown), len(rounds))
	}
	var wrong []error
	for i, r := range rounds {
		if shown[i].Round != r.Number || shown[i].Count != r.Made {
			wrong = append(wrong, fmt.Errorf("round %d with %d stitches is shown as round %d with %d", r.Number, r.Made, shown[i].Round, shown[i].Count))
		}
		more := map[string]int{} // by kind: how many more are shown
		for _, st := range shown[i].Stitches {
			more[st.Kind]++
		}
		for _, st := range r.Stitches {
			more[st.Kind.ID()]--
		}
		for kind, n := range more {
			if n != 0 {
				wrong = append(wrong, fmt.Errorf("round %d: %+d %s shown", r.Number, n, kind))
			}
		}
	}
	return errors.Join(wrong...)
}

// inOrder reports a ring that is not larger than the one before, or that does
// not run once round: anticlockwise for the right hand, clockwise for the left.
func inOrder(shown []shownRound, hand chart.Hand) error {
	var wrong []error
	below := 0.0
	for _, r := range shown {
		radius, turned, last := 0.0, 0.0, 0.0
		for i, st := range r.Stitches {
			radius += math.Hypot(st.X, st.Y) / float64(len(r.Stitches))
			angle := math.Atan2(-st.Y, st.X) // anticlockwise, as y points down
			if hand == chart.Left {
				angle = -angle
			}
			if i > 0 {
				turned += math.Remainder(angle-last, 2*math.Pi)
			}
			last = angle
		}
		if radius <= below {
			wrong = append(wrong, fmt.Errorf("round %d stands at %.1f from the middle, the one before at %.1f", r.Round, radius, below))
		}
		below = radius
		if n := len(r.Stitches); n > 2 && (turned < math.Pi || turned > 2*math.Pi) {
			wrong = append(wrong, fmt.Errorf("round %d runs %.0f degrees the right way from its first stitch to its last", r.Round, turned*180/math.Pi))
		}
	}
	return errors.Join(wrong...)
}

// How far two drawings of one chart may differ: letters and soft edges do.
const (
	softEdge = 2  // a point may be found this many pixels away
	strong   = 64 // of 255: this far from the paper, a point is inked
	faint    = 24 // this far, it may be the soft edge of one that is
	field    = 12 // the drawings are compared in squares of this many pixels
	maxOdd   = 8  // points in a square that need not be found
)

// alike reports whether two pictures show the same: the inked points of each are
// inked in the other too, within a soft edge, save a few in any square.
func alike(a, b *image.Gray) error {
	if d := a.Rect.Max.Sub(b.Rect.Max); d.X*d.X > 1 || d.Y*d.Y > 1 { // they may round
		return fmt.Errorf("one is %v, the other %v", a.Rect.Max, b.Rect.Max)
	}
	return errors.Join(lacks(a, b, "the second"), lacks(b, a, "the first"))
}

// lacks tells where ink of one picture is not in the other.
func lacks(ink, other *image.Gray, name string) error {
	paper := ink.GrayAt(ink.Rect.Dx()/2, 2).Y // the upper edge is bare
	inked := 0
	odd := map[image.Point]int{}
	for y := range ink.Rect.Max.Y {
		for x := range ink.Rect.Max.X {
			if differ(ink.GrayAt(x, y).Y, paper) < strong {
				continue
			}
			inked++
			if !near(other, x, y, paper) {
				odd[image.Pt(x/field, y/field)]++
			}
		}
	}
	if inked == 0 {
		return errors.New("nothing is drawn")
	}
	for at, n := range odd {
		if n <= maxOdd {
			delete(odd, at)
		}
	}
	if len(odd) == 0 {
		return nil
	}
	at := slices.SortedFunc(maps.Keys(odd), func(a, b image.Point) int { return odd[b] - odd[a] })[0]
	return fmt.Errorf("in %d places %s lacks ink of the other: %d points at %v", len(odd), name, odd[at], at.Mul(field))
}

func differ(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }

// near reports whether there is ink at or round (x, y).
func near(ink *image.Gray, x, y int, paper uint8) bool {
	for dy := -softEdge; dy <= softEdge; dy++ {
		for dx := -softEdge; dx <= softEdge; dx++ {
			if p := image.Pt(x+dx, y+dy); p.In(ink.Rect) && differ(ink.GrayAt(p.X, p.Y).Y, paper) >= faint {
				return true
			}
		}
	}
	return false
}

// ink returns a PNG picture in grey, on white where it can be seen through.
func ink(data []byte) (*image.Gray, error) {
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	g := image.NewGray(image.Rect(0, 0, img.Bounds().Dx(), img.Bounds().Dy()))
	draw.Draw(g, g.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(g, g.Rect, img, img.Bounds().Min, draw.Over)
	return g, nil
}
