package site

import (
	"bytes"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"roundelay/chart"
	"roundelay/pattern"
	"roundelay/pattern/stitch"
	"roundelay/templates"
)

// charts draws every piece: for its own file, for the pages in each system of
// names, for a narrow screen straight, and for the left hand.
func (w *work) charts() error {
	w.drawn = map[drawingKey]*drawing{}
	var failed error
	w.each(func(size *pattern.Size, piece *pattern.Piece) {
		if failed != nil {
			return
		}
		for _, hand := range []chart.Hand{chart.Right, chart.Left} {
			if failed == nil {
				failed = w.draw(w.chartFile(size, piece, hand), func(b io.Writer) error {
					return chart.Draw(b, w.p, piece, chart.Options{Terms: w.p.Terms, Language: w.code, Hand: hand})
				})
			}
			if failed == nil {
				failed = w.draw(w.stripFile(size, piece, hand), func(b io.Writer) error {
					return chart.Draw(b, w.p, piece, chart.Options{View: chart.Strip, NoKey: true, Terms: w.p.Terms, Language: w.code, Hand: hand})
				})
			}
		}
		for _, key := range []drawingKey{{piece, stitch.US, chart.Right}, {piece, stitch.UK, chart.Right}, {piece, w.p.Terms, chart.Left}} {
			if failed == nil {
				var d drawing
				opt := chart.Options{Terms: key.terms, Language: w.code, Hand: key.hand, Inline: true, NoKey: true}
				if failed = chart.Draw(&d.chart, w.p, piece, opt); failed == nil {
					failed = chart.Key(&d.key, w.p, piece, opt)
				}
				w.drawn[key] = &d
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
	hand  chart.Hand
}

// A drawing is the chart of a piece, as SVG, and what its symbols mean, as HTML.
type drawing struct{ chart, key bytes.Buffer }

// chart returns the chart of a piece as it stands on a page.
func (w *work) chart(size *pattern.Size, piece *pattern.Piece, v variant) *chartPart {
	hand := chart.Right
	if v.left {
		hand = chart.Left
	}
	d := w.drawn[drawingKey{piece, v.terms, hand}]
	return &chartPart{
		SVG:  html(d.chart.Bytes()),
		Key:  html(d.key.Bytes()),
		Tall: isTall(d.chart.Bytes()),
		File: w.chartFile(size, piece, hand),
		Name: w.name(size, piece),
		Strip: picture{
			Src: w.stripFile(size, piece, hand),
			Alt: w.say("The rounds of the %s, each straight over the one below", w.name(size, piece)),
		},
	}
}

// stripFile is the name of the chart that shows a piece straight, round by round.
func (w *work) stripFile(size *pattern.Size, piece *pattern.Piece, hand chart.Hand) string {
	return strings.TrimSuffix(w.chartFile(size, piece, hand), ".svg") + "-straight.svg"
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

func (w *work) chartFile(size *pattern.Size, piece *pattern.Piece, hand chart.Hand) string {
	name := "chart-" + w.key(size, piece)
	if hand == chart.Left {
		return "left-" + name + ".svg"
	}
	return name + ".svg"
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
