package site

import (
	"bytes"
	"regexp"
	"slices"
	"strconv"

	"roundelay/chart"
	"roundelay/pattern"
	"roundelay/pattern/stitch"
	"roundelay/templates"
)

// charts draws every piece: once for its own file, and once in each system of
// names for the pages.
func (w *work) charts() error {
	w.drawn = map[drawingKey]*bytes.Buffer{}
	var failed error
	w.each(func(size *pattern.Size, piece *pattern.Piece) {
		if failed != nil {
			return
		}
		failed = w.file(w.path(w.chartFile(size, piece)), func() ([]byte, error) {
			var b bytes.Buffer
			err := chart.Draw(&b, w.p, piece, chart.Options{Terms: w.p.Terms})
			return b.Bytes(), err
		})
		for _, terms := range []stitch.Terms{stitch.US, stitch.UK} {
			if failed == nil {
				b := new(bytes.Buffer)
				failed = chart.Draw(b, w.p, piece, chart.Options{Terms: terms, Inline: true})
				w.drawn[drawingKey{piece, terms}] = b
			}
		}
	})
	if failed != nil {
		return failed
	}
	var symbols bytes.Buffer
	if err := chart.Symbols(&symbols, w.kinds(), chart.Options{}); err != nil {
		return err
	}
	w.symbols = symbols.Bytes()
	return nil
}

// A drawingKey names the chart of a piece on a page.
type drawingKey struct {
	piece *pattern.Piece
	terms stitch.Terms
}

// chart returns the chart of a piece as it stands on a page.
func (w *work) chart(size *pattern.Size, piece *pattern.Piece, v variant) *chartPart {
	drawing := w.drawn[drawingKey{piece, v.terms}].Bytes()
	return &chartPart{
		SVG:  html(drawing),
		Tall: isTall(drawing),
		File: w.chartFile(size, piece),
		Name: w.name(size, piece),
	}
}

var viewBox = regexp.MustCompile(`viewBox="[-0-9.]+ [-0-9.]+ ([0-9.]+) ([0-9.]+)"`)

// isTall reports whether a chart is so much taller than wide that it fills a
// screen from top to bottom only if it is made too small to be read.
func isTall(drawing []byte) bool {
	box := viewBox.FindSubmatch(drawing)
	if box == nil {
		return false
	}
	width, err1 := strconv.ParseFloat(string(box[1]), 64)
	height, err2 := strconv.ParseFloat(string(box[2]), 64)
	return err1 == nil && err2 == nil && height > 1.35*width
}

func (w *work) chartFile(size *pattern.Size, piece *pattern.Piece) string {
	return "chart-" + w.key(size, piece) + ".svg"
}

// kinds returns the kinds of stitches in all pieces.
func (w *work) kinds() []stitch.Stitch {
	var out []stitch.Stitch
	w.each(func(_ *pattern.Size, piece *pattern.Piece) {
		for _, r := range piece.Rounds {
			for i := range r.Stitches {
				if k := r.Stitches[i].Kind; !slices.Contains(out, k) {
					out = append(out, k)
				}
			}
		}
	})
	return out
}

// styleSheet returns the style of the pages, and of the charts on them.
func styleSheet() []byte {
	return slices.Concat(templates.Style, []byte("\n/* Charts */\n\n"), []byte(chart.Style()))
}
