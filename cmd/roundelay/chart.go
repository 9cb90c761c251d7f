package main

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"roundelay/chart"
	"roundelay/pattern"
)

// chartForms are the ways in which a chart is written down.
var chartForms = []string{"svg", "png", "pdf"}

var drawChart = &command{
	name:  "chart",
	usage: "FILE [--piece P] [--view whole|halves|repeat|strip] [--hand right|left] [-o FILE]",
	short: "the ring chart of one piece, as SVG, PNG or PDF",
	long: `Draws the chart of one piece of the pattern in FILE, a pattern.toml, as a drawing
that stands alone. It goes to standard output, or into the file named by -o. It
is the first piece, unless --piece names another.

The view whole has all rounds, from the middle outwards; halves has the rounds up
to the widest, and below them the others inwards; repeat has only the first of
the equal parts that all rounds fall into; strip lays the rounds straight, one
over the other, for a narrow screen. The view auto, which it is without --view,
draws a solid that closes in halves, and all else whole. With --fold, three and
more plain rounds in a row are drawn as one ring. For the left hand a chart is
read the other way round. Rings are round, or oval round a foundation chain; with
--outline shape they have the corners that the increases make, so that a square is
drawn square, and so they have if the piece says outline = "shape". What closes in
halves has round ones, and a strip none.

The drawing is SVG, unless the name of the file ends in .png or .pdf or --format
says otherwise: PNG for places that take no SVG, PDF for printing. On paper the
symbols are never smaller than --symbol says; a chart that does not fit on one
sheet goes over several, with marks to lay them together by. With --large they are
8.5 mm high, and the rounds follow in words of 24 point.`,
	setup: func(flags *flag.FlagSet) func(streams, []string) error {
		which := choosePiece(flags)
		view := choose(flags, "view", chart.Auto.String(), "what is drawn, and how it is laid out, auto if left out", "whole", "halves", "repeat", "strip", "auto")
		hand := choose(flags, "hand", chart.Right.String(), "the hand that holds the hook, right if left out", "right", "left")
		outline := choose(flags, "outline", "", "the shape of the rings, as the piece says if left out", chart.Round.String(), chart.Shape.String())
		form := choose(flags, "format", "", "how it is written, by the name of the file if left out", chartForms...)
		paper := choose(flags, "paper", chart.A4.String(), "the paper of a PDF, A4 if left out", chart.A4.String(), chart.Letter.String())
		out := flags.String("o", "", "the `FILE` for the drawing")
		fold := flags.Bool("fold", false, "draw three and more plain rounds, one like the other, as one ring")
		plus := flags.Bool("plus", false, "draw single crochet as + instead of x")
		guide := flags.Int("guide", 0, "draw a line across each ring after every `N` stitches, to count by")
		drift := flags.Bool("drift", false, "draw a dotted line through where the starts of rounds lie in the fabric, if it is not turned")
		large := flags.Bool("large", false, "a PDF in large print, with the rounds in words after the chart")
		symbolMM := flags.Float64("symbol", 3.5, "the least height of a single crochet on paper, in `MM`, 3.5 if left out")
		widthPX := flags.Int("width", 1200, "the width of a PNG in pixels, `PX`, 1200 if left out")
		return func(std streams, names []string) error {
			name, err := one(names, "pattern")
			if err != nil {
				return err
			}
			f, err := chartForm(*form, *out)
			if err != nil {
				return err
			}
			if err := onlyFor(flags, f, map[string]string{"paper": "pdf", "symbol": "pdf", "large": "pdf", "width": "png"}); err != nil {
				return err
			}
			if *symbolMM <= 0 {
				return usageError(fmt.Sprintf("--symbol %g: a height is more than 0 mm", *symbolMM))
			}
			opt := chart.Options{Fold: *fold, Plus: *plus, Guide: *guide, Drift: *drift}
			if opt.View, err = chart.ParseView(*view); err != nil {
				return err
			}
			if opt.Hand, err = chart.ParseHand(*hand); err != nil {
				return err
			}
			if *outline != "" {
				if opt.Outline, err = chart.ParseOutline(*outline); err != nil {
					return err
				}
			}
			sheet := chart.Sheet{SymbolMM: *symbolMM, Large: *large}
			if sheet.Paper, err = chart.ParsePaper(*paper); err != nil {
				return err
			}
			p, err := loadPattern(std, name)
			if err != nil {
				return err
			}
			opt.Terms = p.Terms
			piece, err := which.one(p)
			if err != nil {
				return err
			}
			draw := map[string]func(io.Writer, *pattern.Pattern, *pattern.Piece) error{
				"svg": func(w io.Writer, p *pattern.Pattern, piece *pattern.Piece) error {
					return chart.Draw(w, p, piece, opt)
				},
				"png": func(w io.Writer, p *pattern.Pattern, piece *pattern.Piece) error {
					return chart.PNG(w, p, piece, *widthPX, opt)
				},
				"pdf": func(w io.Writer, p *pattern.Pattern, piece *pattern.Piece) error {
					return chart.PDF(w, p, piece, sheet, opt)
				},
			}[f]
			var drawing bytes.Buffer
			if err := draw(&drawing, p, piece); err != nil {
				return err
			}
			return output(std, *out, drawing.Bytes())
		}
	},
}

// chartForm returns how a chart is written into a file: as was asked for, or
// else as the name of the file says.
func chartForm(asked, file string) (string, error) {
	end := strings.ToLower(strings.TrimPrefix(filepath.Ext(file), "."))
	switch {
	case asked != "":
		return asked, nil
	case file == "":
		return "svg", nil
	}
	for _, f := range chartForms {
		if f == end {
			return f, nil
		}
	}
	return "", usageError(fmt.Sprintf("-o %s: a chart is %s; end its name in one of them, or say which by --format", file, listed([]string{".svg", ".png", ".pdf"}, "or")))
}

// onlyFor refuses flags that were given but that mean nothing for the form.
func onlyFor(flags *flag.FlagSet, form string, forms map[string]string) error {
	var err error
	flags.Visit(func(f *flag.Flag) {
		if of, ok := forms[f.Name]; ok && of != form && err == nil {
			err = usageError(fmt.Sprintf("%s is for %s, and this chart is %s; say --format %s, or leave it out", dashed(f.Name), strings.ToUpper(of), strings.ToUpper(form), of))
		}
	})
	return err
}
