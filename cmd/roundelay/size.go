package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/shape"
)

var size = &command{
	name:  "size",
	usage: "FILE [--size S] [--format text|json]",
	short: "finished size, yarn and filling",
	long: `Works out what the pattern in FILE, a pattern.toml or a written pattern as text or
Markdown, comes out as: how large each piece is, what it takes to fill it, and
how much yarn all of it takes. Of a pattern in several sizes it is the first,
unless --size names another.

Everything is an estimate from the stitches and the gauge, with the range that
it most likely lies in; that of the yarn has a tenth more at its high end, for
what is cut off and for rounds worked anew. Without a [gauge] the gauge is
estimated as well, from the hook or the weight of the yarn, and the ranges are
wide.

A pattern with errors is reckoned as far as its rounds could be read; the errors
are told besides.

With --format json it is {"pieces": [...], "yarn": [...]}. The numbers of a piece
are for one of it, however many are made; those of a yarn are for all.`,
	setup: func(flags *flag.FlagSet) func(streams, []string) error {
		format := choose(flags, "format", "text", "the form of the answer, text if left out", "text", "json")
		which := &choiceOfPiece{}
		flags.StringVar(&which.size, "size", "", "the `name` of the size, where there are several")
		return func(std streams, names []string) error {
			name, err := one(names, "pattern")
			if err != nil {
				return err
			}
			p, findings, err := loadAny(name)
			if err != nil {
				return err
			}
			if err := findings.Print(std.err); err != nil {
				return err
			}
			sizes, err := which.sizes(p)
			if err != nil {
				return err
			}
			text, err := sizeOf(p, sizes[0], *format)
			wrong := findings.Err() != nil
			switch {
			case err != nil && wrong:
				return errFindings // which is why it can't be told
			case err != nil:
				return fmt.Errorf("%s: %w", p.File.Name, err)
			}
			if err := output(std, "", text); err != nil || !wrong {
				return err
			}
			return errFindings
		}
	},
}

// sizeOf returns what a size comes out as, in the form asked for.
func sizeOf(p *pattern.Pattern, s *pattern.Size, format string) ([]byte, error) {
	e, err := p.Estimate(s)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if format == "json" {
		err = writeSizeJSON(&b, e)
	} else {
		writeSize(&b, p, e)
	}
	return b.Bytes(), err
}

// A sizeJSON is an estimate as scripts read it. Its form is fixed.
type sizeJSON struct {
	Pieces []pieceJSON `json:"pieces"`
	Yarn   []yarnJSON  `json:"yarn"`
}

type pieceJSON struct {
	Name     string  `json:"name"`
	AcrossMM float64 `json:"across_mm"`
	HeightMM float64 `json:"height_mm"`
	AroundMM float64 `json:"around_mm"`
	VolumeML float64 `json:"volume_ml"`
	FillingG float64 `json:"filling_g"`
	Stitches int     `json:"stitches"`
}

type yarnJSON struct {
	Key        string  `json:"key"`
	Metres     float64 `json:"metres"`
	LowMetres  float64 `json:"low_metres"`
	HighMetres float64 `json:"high_metres"`
	Grams      float64 `json:"grams"`
}

func writeSizeJSON(b *bytes.Buffer, e *pattern.Estimate) error {
	out := sizeJSON{[]pieceJSON{}, []yarnJSON{}}
	for _, p := range e.Pieces {
		out.Pieces = append(out.Pieces, pieceJSON{
			Name: p.Piece.Name, AcrossMM: tenths(p.AcrossMM.Value), HeightMM: tenths(p.HeightMM.Value), AroundMM: tenths(p.AroundMM.Value),
			VolumeML: tenths(p.VolumeMM3.Value / 1000), FillingG: tenths(p.FillingG.Value), Stitches: p.Stitches,
		})
	}
	for _, y := range e.Yarns {
		out.Yarn = append(out.Yarn, yarnJSON{
			Key: y.Yarn.Key, Metres: tenths(y.Metres.Value), LowMetres: tenths(y.Metres.Low), HighMetres: tenths(y.Metres.High), Grams: tenths(y.Grams.Value),
		})
	}
	enc := json.NewEncoder(b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}

// tenths rounds v to what an estimate is good for.
func tenths(v float64) float64 { return math.Round(v*10) / 10 }

func writeSize(b *bytes.Buffer, p *pattern.Pattern, e *pattern.Estimate) {
	title := p.Title
	if e.Size.Name != "" {
		title += ", " + e.Size.Name
	}
	fmt.Fprintf(b, "%s: what it comes out as, by estimate\n", title)
	if s := e.Size.FinishedSize; s != "" {
		fmt.Fprintf(b, "The pattern says: %s\n", s)
	}
	for _, piece := range e.Pieces {
		writePieceSize(b, p, piece)
	}
	writeYarn(b, e)
}

func writePieceSize(b *bytes.Buffer, p *pattern.Pattern, e *pattern.PieceEstimate) {
	name := e.Piece.Name
	if e.Piece.Make > 1 {
		name += fmt.Sprintf(", each of %d", e.Piece.Make)
	}
	fmt.Fprintf(b, "\n%s, %s\n", name, e.Finish)
	line := func(what, format string, args ...any) {
		fmt.Fprintf(b, "  %-9s %s\n", what, fmt.Sprintf(format, args...))
	}
	if e.MiddleMM > 0 {
		line("long", "%s", rangeOf(e.AcrossMM, "mm"))
		line("wide", "%s", rangeOf(e.WideMM, "mm"))
	} else {
		line("across", "%s", rangeOf(e.AcrossMM, "mm"))
	}
	if e.Finish != pattern.LaidFlat {
		line("high", "%s", rangeOf(e.HeightMM, "mm"))
	}
	line("around", "%s", rangeOf(e.AroundMM, "mm"))
	if e.Finish != pattern.LaidFlat {
		line("holds", "%s", rangeOf(e.VolumeMM3.Times(1e-3), "ml"))
	}
	if e.Finish == pattern.Filled {
		line("filling", "%s, %s", rangeOf(e.FillingG, "g"), e.Piece.Firmness)
	}
	line("gauge", "%s", e.Fabric.Words(p.Terms))
	line("stitches", "%d; half of them are made with stitch %d of round %d", e.Stitches, e.HalfStitch, e.HalfRound)
	if ratio := e.HeightMM.Value / e.AcrossMM.Value; e.Ball != nil && ratio > 0.7 && ratio < 1.4 {
		line("shape", "%.2f times as high as wide; off the nearest ball by %.1f %% (rms), %.0f %% at most", ratio, 100*e.Ball.RMS, 100*e.Ball.Max)
	}
	if e.StuffRound > 0 {
		line("stuff", "after round %d at the latest, while the opening is %.0f mm wide", e.StuffRound, e.OpeningMM)
	}
	for _, words := range e.Concerns() {
		line("but", "%s", words)
	}
	for _, words := range e.Approximations {
		line("taken", "%s", words)
	}
}

func writeYarn(b *bytes.Buffer, e *pattern.Estimate) {
	b.WriteString("\nYarn\n")
	for _, y := range e.Yarns {
		name := strings.TrimSpace(y.Yarn.Key + " " + y.Yarn.Colour)
		grams := ""
		if y.Grams.Value > 0 {
			grams = ", " + rangeOf(y.Grams, "g")
		}
		fmt.Fprintf(b, "  %s: %s%s; %s\n", cmp.Or(name, "one yarn"), rangeOf(y.Metres, "m"), grams, y.Basis)
	}
	if len(e.Stints) <= len(e.Pieces) {
		return
	}
	b.WriteString("\nWhat is needed where a yarn is taken up\n")
	for _, s := range e.Stints {
		rounds := pattern.RoundWords(s.First, s.Last)
		left := ""
		if s.Left.Value > s.Metres.Value*1.001 {
			left = fmt.Sprintf("; with what comes later in the piece %s", rangeOf(s.Left, "m"))
		}
		fmt.Fprintf(b, "  %s, %s, %s: %s%s\n", s.Piece.Piece.Name, rounds, cmp.Or(e.Yarns[s.Yarn].Yarn.Key, "the yarn"), rangeOf(s.Metres, "m"), left)
	}
}

// rangeOf writes an amount with its range, to two figures or to whole numbers.
func rangeOf(a shape.Amount, unit string) string {
	if a.Low == a.High {
		return about(a.Value) + " " + unit
	}
	return fmt.Sprintf("about %s %s (%s to %s)", about(a.Value), unit, about(a.Low), about(a.High))
}

func about(v float64) string {
	if v < 9.95 {
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.0f", v)
}
