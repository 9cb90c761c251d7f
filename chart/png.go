package chart

import (
	"bytes"
	"fmt"
	"io"
	"math"

	"git.sr.ht/~sbinet/gg"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"roundelay/pattern"
)

// maxPixels is the most pixels of a picture, so that a long narrow chart does
// not take all memory.
const maxPixels = 64 << 20

// PNG writes the chart of a piece as a PNG picture of some width in pixels, for
// places that take no SVG.
func PNG(w io.Writer, p *pattern.Pattern, piece *pattern.Piece, widthPX int, opt Options) error {
	opt.mute = true
	sc, err := newScene(p, piece, opt)
	if err != nil {
		return err
	}
	if widthPX < 16 {
		return fmt.Errorf("a chart is at least 16 pixels wide, not %d", widthPX)
	}
	scale := float64(widthPX) / (sc.high.X - sc.low.X)
	height := math.Ceil((sc.high.Y - sc.low.Y) * scale)
	if float64(widthPX)*height > maxPixels {
		return fmt.Errorf("the chart of %s would be %d by %.0f pixels; make it narrower", piece.Name, widthPX, height)
	}
	dc := gg.NewContext(widthPX, int(height))
	paper := rgb(inkTable[paperInk].light)
	dc.SetRGB(paper[0], paper[1], paper[2])
	dc.Clear()
	dc.SetLineCapRound()
	dc.SetLineJoinRound()
	sc.paint(&flat{
		pen:    &raster{dc: dc},
		look:   func(i ink) string { return inkTable[i].light },
		scale:  scale,
		origin: sc.low.times(-scale),
		ring:   oddInk,
	})
	var b bytes.Buffer
	if err := dc.EncodePNG(&b); err != nil {
		return fmt.Errorf("draw the chart of %s: %w", piece.Name, err)
	}
	if _, err := b.WriteTo(w); err != nil {
		return fmt.Errorf("write the chart of %s: %w", piece.Name, err)
	}
	return nil
}

// A raster is a pen that draws pixels.
type raster struct {
	dc   *gg.Context
	face face
}

// A face is a font at a size.
type face struct {
	size float64
	bold bool
}

func (r *raster) stroke(p path, c [3]float64, width float64, dash []float64) {
	r.dc.SetRGB(c[0], c[1], c[2])
	r.dc.SetLineWidth(width)
	r.dc.SetDash(dash...)
	p.trace(r.dc)
	r.dc.Stroke()
}

func (r *raster) fill(p path, c [3]float64, opacity float64) {
	r.dc.SetRGBA(c[0], c[1], c[2], opacity)
	p.trace(r.dc)
	r.dc.Fill()
}

func (r *raster) text(s string, at point, size float64, a anchor, bold bool, c [3]float64) {
	if f := (face{size, bold}); f != r.face {
		font := goregular.TTF
		if bold {
			font = gobold.TTF
		}
		if err := r.dc.LoadFontFaceFromBytes(font, size); err != nil {
			panic(fmt.Sprintf("chart: a font of ours does not load: %v", err))
		}
		r.face = f
	}
	r.dc.SetRGB(c[0], c[1], c[2])
	r.dc.DrawStringAnchored(s, at.X, at.Y, float64(a)/2, 0)
}
