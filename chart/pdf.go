package chart

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"roundelay/pattern"
	"roundelay/pattern/stitch"
)

// A Sheet is paper to print a chart on.
type Sheet struct {
	Paper    Paper
	SymbolMM float64 // least height of a single crochet; 0 for 3.5, what can be read in the lap
	Large    bool    // for those who see little: symbols of at least 8.5, and after the chart the rounds in words of 24 point
}

// largePT is the size of large print, in points, and largeMM that of symbols
// among it: 22 to 24 point are asked for by accessiblepatternsindex.com, 24, one
// column and margins of an inch by snooptiggercrafts.com (2020, low vision
// pattern checklist).
const (
	largePT       = 24
	largeMM       = 8.5
	largeMarginMM = 25.4
)

// A Paper is a size of paper, upright.
type Paper uint8

// The papers.
const (
	A4 Paper = iota
	Letter
)

var papers = [...]struct {
	name     string
	w, h, mm float64 // mm is the margin
}{
	A4:     {"A4", 210, 297, 12},
	Letter: {"Letter", 215.9, 279.4, 12.7},
}

// String returns the name of a paper as printers know it.
func (p Paper) String() string { return papers[p].name }

// ParsePaper returns the paper of a name, A4 or Letter.
func ParsePaper(name string) (Paper, error) {
	var names []string
	for i := range papers {
		if papers[i].name == name {
			return Paper(i), nil
		}
		names = append(names, papers[i].name)
	}
	return 0, fmt.Errorf("no paper is called %q; there are %s", name, strings.Join(names, ", "))
}

// overlapMM is how much of a picture neighbouring sheets both show.
const overlapMM = 12

// PDF writes the chart of a piece for printing. A chart that would have smaller
// symbols than the sheet asks for is not shrunk: its halves, or the lines of a
// strip, and its key go to pages of their own, and what is larger than a page
// over several, which overlap, with marks to lay them together by.
func PDF(w io.Writer, p *pattern.Pattern, piece *pattern.Piece, sheet Sheet, opt Options) error {
	least := sheet.SymbolMM
	if least == 0 {
		least = 3.5
	}
	if sheet.Large {
		least = max(least, largeMM)
	}
	const most = 10 // mm to a width of a single crochet: small charts need not fill the page
	least /= stemHeight[stitch.Single]
	doc := newSheets(sheet.Paper)
	opt.mute = true
	opt.line = int(doc.room.X/least) - 8 // beside label and margins
	sc, err := newScene(p, piece, opt)
	if err != nil {
		return err
	}
	doc.SetTitle(sc.title, true)
	doc.SetSubject(sc.desc, true)
	if whole := (section{sc.low, sc.high}); doc.fitting(whole) >= least {
		doc.draw(sc, min(doc.fitting(whole), most), whole)
	} else if err := doc.drawParts(sc, least, piece, opt); err != nil {
		return err
	}
	if sheet.Large {
		doc.writeRounds(piece.Name, sentences(p, piece, opt))
	}
	var b bytes.Buffer
	if err := doc.Output(&b); err != nil {
		return fmt.Errorf("draw the chart of %s: %w", piece.Name, err)
	}
	if _, err := b.WriteTo(w); err != nil {
		return fmt.Errorf("write the chart of %s: %w", piece.Name, err)
	}
	return nil
}

// sheets are pages that are being drawn.
type sheets struct {
	*fpdf.Fpdf
	margin float64
	room   point // within the margins
}

func newSheets(on Paper) *sheets {
	paper := papers[on]
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.w, Ht: paper.h}})
	doc.SetCreationDate(time.Unix(0, 0).UTC()) // the same chart, the same bytes
	doc.SetModificationDate(time.Unix(0, 0).UTC())
	doc.SetCatalogSort(true)
	doc.SetAutoPageBreak(false, 0)
	doc.AddUTF8FontFromBytes("text", "", goregular.TTF)
	doc.AddUTF8FontFromBytes("text", "B", gobold.TTF)
	doc.SetLineCapStyle("round")
	doc.SetLineJoinStyle("round")
	return &sheets{doc, paper.mm, point{paper.w - 2*paper.mm, paper.h - 2*paper.mm}}
}

// fitting returns the largest scale at which a section fits on a page.
func (doc *sheets) fitting(s section) float64 {
	return min(doc.room.X/(s.high.X-s.low.X), doc.room.Y/(s.high.Y-s.low.Y))
}

// drawParts draws the parts of a scene and its key, as many on a page as fit.
func (doc *sheets) drawParts(sc *scene, least float64, piece *pattern.Piece, opt Options) error {
	parts := sc.parts
	if len(parts) == 0 {
		parts = []section{{sc.low, sc.high}}
	}
	scale := math.Inf(1)
	for _, s := range parts {
		scale = min(scale, doc.fitting(s))
	}
	scale = max(scale, least)
	var key *scene // on pages of its own, and in no larger words than all others
	keyScale := min(least, largePT/pointsPerMM)
	if n := len(sc.parts); n > 0 && !opt.NoKey {
		under := section{point{sc.low.X, parts[n-1].high.Y}, sc.high}
		if fitting := doc.fitting(under); fitting >= least {
			scale = min(scale, fitting)
			parts = append(parts[:n:n], under)
		} else {
			key = sc.keyAlone(doc.room.X/keyScale, opt)
		}
	}
	pages := doc.pack(parts, scale)
	count := 0
	for _, s := range pages {
		columns, rows := doc.tiles(s, scale)
		count += columns * rows
	}
	const most = 200
	if count > most {
		return fmt.Errorf("the chart of %s would take %d pages; ask for smaller symbols or another view", piece.Name, count)
	}
	for _, s := range pages {
		doc.draw(sc, scale, s)
	}
	if key != nil {
		for _, s := range doc.pack(key.parts, keyScale) {
			doc.draw(key, keyScale, s)
		}
	}
	return nil
}

// pack puts sections that stand one below the other together, as many as are no
// higher than a page.
func (doc *sheets) pack(parts []section, scale float64) []section {
	var pages []section
	for i, s := range parts {
		if i > 0 {
			if both := pages[len(pages)-1].with(s); (both.high.Y-both.low.Y)*scale <= doc.room.Y {
				pages[len(pages)-1] = both
				continue
			}
		}
		pages = append(pages, s)
	}
	return pages
}

// draw draws a section of a scene on a page, or on several if it is too large.
func (doc *sheets) draw(sc *scene, scale float64, s section) {
	columns, rows := doc.tiles(s, scale)
	for k := range columns * rows {
		column, row := k%columns, k/columns
		// What is left over is to the left and right. Where two pages meet is no
		// label.
		step := doc.room.minus(point{overlapMM, overlapMM})
		size := s.high.minus(s.low).times(scale)
		rest := step.X*float64(columns) + overlapMM - size.X
		left := rest / 2
		if columns%2 == 0 {
			left -= min(left, 4*scale)
		}
		at := point{float64(column)*step.X - left, float64(row) * step.Y}
		low := point{doc.margin, doc.margin}
		high := low.plus(doc.room)
		low = point{max(low.X, low.X-at.X), max(low.Y, low.Y-at.Y)}
		high = point{min(high.X, doc.margin-at.X+size.X), min(high.Y, doc.margin-at.Y+size.Y)}
		f := &flat{
			look:   func(i ink) string { return inkTable[i].print },
			scale:  scale,
			origin: point{doc.margin - at.X - s.low.X*scale, doc.margin - at.Y - s.low.Y*scale},
			ring:   oddInk,
			low:    low,
			high:   high,
		}
		if columns*rows > 1 {
			ink := &touch{}
			f.pen = ink
			if sc.paint(f); !ink.drawn {
				continue // a corner with nothing in it
			}
		}
		doc.AddPage()
		if columns*rows > 1 {
			doc.pageMarks(column, row, columns, rows)
		}
		doc.ClipRect(low.X, low.Y, high.X-low.X, high.Y-low.Y, false)
		f.pen = &vector{doc.Fpdf}
		sc.paint(f)
		doc.ClipEnd()
	}
}

// A touch is a pen that only notes whether anything is drawn, but for the grounds
// of yarns.
type touch struct{ drawn bool }

func (t *touch) stroke(path, [3]float64, float64, []float64) { t.drawn = true }
func (t *touch) fill(_ path, _ [3]float64, opacity float64)  { t.drawn = t.drawn || opacity == 1 }
func (t *touch) text(string, point, float64, anchor, bool, [3]float64) {
	t.drawn = true
}

// writeRounds writes rounds in large print, none of them over two pages if it
// fits on one.
func (doc *sheets) writeRounds(title string, rounds []string) {
	const line, apart = largePT / pointsPerMM * 1.35, largePT / pointsPerMM * 0.7
	doc.AddPage()
	doc.SetMargins(largeMarginMM, largeMarginMM, largeMarginMM)
	doc.SetXY(largeMarginMM, largeMarginMM)
	doc.SetTextColor(0, 0, 0)
	width, height := doc.GetPageSize()
	width -= 2 * largeMarginMM
	write := func(style, text string) {
		doc.SetFont("text", style, largePT)
		lines := doc.SplitText(text, width)
		if need := float64(len(lines)) * line; doc.GetY()+need > height-largeMarginMM && need < height-2*largeMarginMM {
			doc.AddPage()
			doc.SetXY(largeMarginMM, largeMarginMM)
		}
		for _, l := range lines {
			if doc.GetY()+line > height-largeMarginMM {
				doc.AddPage()
				doc.SetXY(largeMarginMM, largeMarginMM)
			}
			doc.CellFormat(width, line, l, "", 1, "L", false, 0, "")
		}
		doc.SetY(doc.GetY() + apart)
	}
	write("B", title)
	for _, r := range rounds {
		if r != "" {
			write("", r)
		}
	}
}

// A section is a part of a picture.
type section struct{ low, high point }

// with returns the section that holds two.
func (s section) with(t section) section {
	return section{point{min(s.low.X, t.low.X), min(s.low.Y, t.low.Y)}, point{max(s.high.X, t.high.X), max(s.high.Y, t.high.Y)}}
}

// tiles returns how many pages a section takes, side by side and one below the
// other.
func (doc *sheets) tiles(s section, scale float64) (columns, rows int) {
	return tiles((s.high.X-s.low.X)*scale, doc.room.X), tiles((s.high.Y-s.low.Y)*scale, doc.room.Y)
}

// tiles returns how many pages with room for so much, overlapping, hold a
// length.
func tiles(length, room float64) int {
	return max(1, int(math.Ceil((length-overlapMM)/(room-overlapMM)-1e-9)))
}

// pageMarks marks a page of several: its place, and the corners of what the
// next pages show again.
func (doc *sheets) pageMarks(column, row, columns, rows int) {
	margin, room := doc.margin, doc.room
	doc.SetFont("text", "", 8)
	doc.SetTextColor(90, 90, 90)
	doc.Text(margin, margin-4, fmt.Sprintf("column %d of %d, row %d of %d; pages overlap by %d mm, at the marks", column+1, columns, row+1, rows, overlapMM))
	doc.SetDrawColor(90, 90, 90)
	doc.SetLineWidth(0.2)
	doc.SetDashPattern(nil, 0)
	for _, x := range [...]float64{margin + overlapMM, margin + room.X - overlapMM} {
		doc.Line(x, margin-3, x, margin)
		doc.Line(x, margin+room.Y, x, margin+room.Y+3)
	}
	for _, y := range [...]float64{margin + overlapMM, margin + room.Y - overlapMM} {
		doc.Line(margin-3, y, margin, y)
		doc.Line(margin+room.X, y, margin+room.X+3, y)
	}
}

// A vector is a pen that draws on a page.
type vector struct{ *fpdf.Fpdf }

// CubicTo is what a page calls by another name.
func (v *vector) CubicTo(x1, y1, x2, y2, x, y float64) { v.CurveBezierCubicTo(x1, y1, x2, y2, x, y) }

func bytesOf(c [3]float64) (r, g, b int) {
	return int(math.Round(c[0] * 255)), int(math.Round(c[1] * 255)), int(math.Round(c[2] * 255))
}

func (v *vector) stroke(p path, c [3]float64, width float64, dash []float64) {
	v.SetDrawColor(bytesOf(c))
	v.SetLineWidth(width)
	v.SetDashPattern(dash, 0)
	p.trace(v)
	v.DrawPath("D")
}

func (v *vector) fill(p path, c [3]float64, opacity float64) {
	v.SetFillColor(bytesOf(c))
	v.SetAlpha(opacity, "Normal")
	p.trace(v)
	v.DrawPath("F")
	v.SetAlpha(1, "Normal")
}

// pointsPerMM is the size of a typographer's point.
const pointsPerMM = 72 / 25.4

func (v *vector) text(s string, at point, size float64, a anchor, bold bool, c [3]float64) {
	style := ""
	if bold {
		style = "B"
	}
	v.SetFont("text", style, size*pointsPerMM)
	v.SetTextColor(bytesOf(c))
	v.Text(at.X-v.GetStringWidth(s)*float64(a)/2, at.Y, s)
}
