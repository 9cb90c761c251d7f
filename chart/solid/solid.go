// Package solid draws what a pattern makes, before anyone has made it: the
// finished thing in perspective, from its own stitches, and its outline with
// its measures. Every stitch is a V in the colour of its yarn on the surface
// that [pattern.Pattern.Estimate] has worked out, so that stripes, the step
// where a spiral changes colour and the seam of joined rounds fall where they
// will fall.
//
// Lengths are millimetres until a picture is laid out; then they are units of
// the picture, with y downwards. Angles along a round are turns.
package solid

import (
	"errors"
	"fmt"
	"io"
	"math"

	"roundelay/pattern"
)

// Options say how a thing is drawn. The zero Options draw every stitch in the
// colours of its yarn, as a right hand makes it.
type Options struct {
	Left    bool     // as a left hand makes it: the mirror image
	Colours []string // of the yarns of the pattern, such as "#c9563c", in place of their own; "" keeps one
	Grey    bool     // in the grey that a printer without colours makes of it
	Plain   bool     // light and shade only, without single stitches: for small pictures
}

// MaxStitches is the most stitches on the near side of a thing that are drawn
// one by one; what has more is drawn as with Options.Plain.
const MaxStitches = 4000

// Width is that of an SVG picture, in units.
const Width = 1200

// SVG writes a picture of the pieces of a size, side by side in one scale, as
// SVG on no ground. It returns an error for an estimate without pieces.
func SVG(w io.Writer, e *pattern.Estimate, title string, opt Options) error {
	s, err := newScene(e, opt)
	if err != nil {
		return err
	}
	_, err = w.Write(s.svg(title))
	return err
}

// A colour is red, green and blue from 0 to 255.
type colour [3]uint8

func (c colour) String() string { return fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2]) }

// lit returns the colour under some light: 1 is the colour as it is, less is
// darker and more is paler.
func (c colour) lit(light float64) colour {
	for i, v := range c {
		x := float64(v) * light
		if light > 1 {
			x = float64(v) + (255-float64(v))*(light-1)
		}
		c[i] = uint8(math.Round(min(max(x, 0), 255)))
	}
	return c
}

// depth returns how much more light the yarn of a dark colour needs so that its
// stitches are seen.
func (c colour) depth() float64 { return 0.16 * math.Max(0, 1-float64(c.grey()[0])/110) }

// grey returns the grey of the same luma (Rec. 709, as printers and screens
// weigh it).
func (c colour) grey() colour {
	y := uint8(math.Round(0.2126*float64(c[0]) + 0.7152*float64(c[1]) + 0.0722*float64(c[2])))
	return colour{y, y, y}
}

// unnamed are the colours of yarns that state none.
var unnamed = []colour{{0xcf, 0xbd, 0x9b}, {0x5f, 0x7f, 0x86}, {0xb5, 0x6a, 0x4d}, {0x7d, 0x84, 0x5a}}

// parseColour reads a colour such as "#c9563c".
func parseColour(s string) (c colour, ok bool) {
	if len(s) != 7 {
		return c, false
	}
	n, err := fmt.Sscanf(s, "#%02x%02x%02x", &c[0], &c[1], &c[2])
	return c, err == nil && n == 3
}

// yarnColours returns the colour of each yarn of an estimate.
func yarnColours(e *pattern.Estimate, opt Options) []colour {
	out := make([]colour, len(e.Yarns))
	for i, y := range e.Yarns {
		c, ok := parseColour(y.Yarn.Hex)
		if !ok {
			c = unnamed[i%len(unnamed)]
		}
		if i < len(opt.Colours) {
			if own, ok := parseColour(opt.Colours[i]); ok {
				c = own
			}
		}
		if opt.Grey {
			c = c.grey()
		}
		out[i] = c
	}
	return out
}

// A point is a place in a picture, y downwards.
type point struct{ x, y float64 }

// A facet is a filled outline.
type facet struct {
	corners []point
	colour  colour
	layer   int  // facets of one layer hide nothing of each other
	ground  bool // touches its neighbours, so that no gap may show
}

// A scene is a picture laid out.
type scene struct {
	low, high point // its corners
	shadows   [][]point
	facets    []facet // from back to front
}

// newScene draws the pieces of a size side by side on one table.
func newScene(e *pattern.Estimate, opt Options) (*scene, error) {
	if len(e.Pieces) == 0 {
		return nil, errors.New("there is no piece to draw")
	}
	colours := yarnColours(e, opt)
	stitches := 0
	for _, p := range e.Pieces {
		stitches += p.Stitches
	}
	plain := opt.Plain || stitches > 2*MaxStitches
	s := &scene{}
	at := 0.0 // where the next piece begins
	for i, p := range e.Pieces {
		one := newDrawing(p, colours, plain).scene()
		if i > 0 {
			at += 0.12 * math.Max(s.high.x-s.low.x, one.high.x-one.low.x)
		}
		s.add(one, point{at - one.low.x, -one.high.y})
		at = s.high.x
	}
	if opt.Left {
		s.mirror()
	}
	return s, nil
}

// add puts another scene into s, moved by some way.
func (s *scene) add(one *scene, by point) {
	move := func(ps []point) {
		for i := range ps {
			ps[i] = point{ps[i].x + by.x, ps[i].y + by.y}
		}
	}
	low, high := []point{one.low}, []point{one.high}
	move(low)
	move(high)
	if len(s.facets) == 0 {
		s.low, s.high = low[0], high[0]
	}
	s.low = point{math.Min(s.low.x, low[0].x), math.Min(s.low.y, low[0].y)}
	s.high = point{math.Max(s.high.x, high[0].x), math.Max(s.high.y, high[0].y)}
	for _, sh := range one.shadows {
		move(sh)
		s.shadows = append(s.shadows, sh)
	}
	layer := 0 // above all that there is
	if n := len(s.facets); n > 0 {
		layer = s.facets[n-1].layer + 1
	}
	for _, f := range one.facets {
		move(f.corners)
		f.layer += layer
		s.facets = append(s.facets, f)
	}
}

// mirror swaps left and right.
func (s *scene) mirror() {
	sum := s.low.x + s.high.x
	flip := func(ps []point) {
		for i := range ps {
			ps[i].x = sum - ps[i].x
		}
	}
	for _, sh := range s.shadows {
		flip(sh)
	}
	for _, f := range s.facets {
		flip(f.corners)
	}
}
