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
	SymbolMM float64 // least height of a single crochet; 0 for 3.5, what can be read in the lap; large print is 8.5 (24 point)
}

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
// symbols than the sheet asks for is not shrunk but goes over several pages,
// which overlap, with marks to lay them together by.
func PDF(w io.Writer, p *pattern.Pattern, piece *pattern.Piece, sheet Sheet, opt Options) error {
	sc, err := newScene(p, piece, opt)
	if err != nil {
		return err
	}
	least := sheet.SymbolMM
	if least == 0 {
		least = 3.5
	}
	paper := papers[sheet.Paper]
	room := Point{paper.w - 2*paper.mm, paper.h - 2*paper.mm}
	const most = 10 // mm to a width of a single crochet: small charts need not fill the page
	symbol := stemHeight[stitch.Single]
	// As one page, else cut between the halves, else in pages of its size.
	sections := []section{{sc.low, sc.high}}
	scale := min(fitting(sections, room), most)
	if scale*symbol < least && len(sc.breaks) > 0 {
		sections = sc.sections()
		scale = min(fitting(sections, room), most)
	}
	scale = max(scale, least/symbol)
	pages := 0
	for _, s := range sections {
		columns, rows := s.tiles(scale, room)
		pages += columns * rows
	}
	const maxPages = 200
	if pages > maxPages {
		return fmt.Errorf("the chart of %s would take %d pages; ask for smaller symbols or another view", piece.Name, pages)
	}

	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.w, Ht: paper.h}})
	doc.SetCreationDate(time.Unix(0, 0).UTC()) // the same chart, the same bytes
	doc.SetModificationDate(time.Unix(0, 0).UTC())
	doc.SetCatalogSort(true)
	doc.SetTitle(sc.title, true)
	doc.SetSubject(sc.desc, true)
	doc.SetAutoPageBreak(false, 0)
	doc.AddUTF8FontFromBytes("text", "", goregular.TTF)
	doc.AddUTF8FontFromBytes("text", "B", gobold.TTF)
	doc.SetLineCapStyle("round")
	doc.SetLineJoinStyle("round")
	for _, s := range sections {
		columns, rows := s.tiles(scale, room)
		for k := range columns * rows {
			column, row := k%columns, k/columns
			doc.AddPage()
			if columns*rows > 1 {
				pageMarks(doc, paper.mm, room, column, row, columns, rows)
			}
			shown := Point{min(room.X, (s.high.X-s.low.X)*scale), min(room.Y, (s.high.Y-s.low.Y)*scale)}
			doc.ClipRect(paper.mm, paper.mm, shown.X, shown.Y, false)
			at := Point{float64(column) * (room.X - overlapMM), float64(row) * (room.Y - overlapMM)}
			sc.paint(&flat{
				pen:    &vector{doc},
				look:   func(i ink) string { return inkTable[i].print },
				scale:  scale,
				origin: Point{paper.mm - at.X - s.low.X*scale, paper.mm - at.Y - s.low.Y*scale},
				ring:   oddInk,
				low:    Point{paper.mm, paper.mm},
				high:   Point{paper.mm, paper.mm}.plus(shown),
			})
			doc.ClipEnd()
		}
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

// A section is a part of a picture that begins on a page of its own.
type section struct{ low, high Point }

// sections cuts a scene at its breaks.
func (sc *scene) sections() []section {
	var out []section
	low := sc.low
	for _, y := range sc.breaks {
		out = append(out, section{low, Point{sc.high.X, y}})
		low.Y = y
	}
	return append(out, section{low, sc.high})
}

// fitting returns the largest scale at which each section fits on a page.
func fitting(sections []section, room Point) float64 {
	scale := math.Inf(1)
	for _, s := range sections {
		scale = min(scale, room.X/(s.high.X-s.low.X), room.Y/(s.high.Y-s.low.Y))
	}
	return scale
}

// tiles returns how many pages a section takes, side by side and one below the
// other.
func (s section) tiles(scale float64, room Point) (columns, rows int) {
	return tiles((s.high.X-s.low.X)*scale, room.X), tiles((s.high.Y-s.low.Y)*scale, room.Y)
}

// tiles returns how many pages with room for so much, overlapping, hold a
// length.
func tiles(length, room float64) int {
	return max(1, int(math.Ceil((length-overlapMM)/(room-overlapMM)-1e-9)))
}

// pageMarks marks a page of several: its place, and the corners of what the
// next pages show again.
func pageMarks(doc *fpdf.Fpdf, margin float64, room Point, column, row, columns, rows int) {
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
type vector struct{ doc *fpdf.Fpdf }

func (v *vector) trace(p Path) {
	for _, s := range p {
		switch s.op {
		case 'M':
			v.doc.MoveTo(s.to[0].X, s.to[0].Y)
		case 'L':
			v.doc.LineTo(s.to[0].X, s.to[0].Y)
		case 'C':
			v.doc.CurveBezierCubicTo(s.to[0].X, s.to[0].Y, s.to[1].X, s.to[1].Y, s.to[2].X, s.to[2].Y)
		case 'Z':
			v.doc.ClosePath()
		}
	}
}

func bytesOf(c [3]float64) (r, g, b int) {
	return int(math.Round(c[0] * 255)), int(math.Round(c[1] * 255)), int(math.Round(c[2] * 255))
}

func (v *vector) stroke(p Path, c [3]float64, width float64, dash []float64) {
	v.doc.SetDrawColor(bytesOf(c))
	v.doc.SetLineWidth(width)
	v.doc.SetDashPattern(dash, 0)
	v.trace(p)
	v.doc.DrawPath("D")
}

func (v *vector) fill(p Path, c [3]float64, opacity float64) {
	v.doc.SetFillColor(bytesOf(c))
	v.doc.SetAlpha(opacity, "Normal")
	v.trace(p)
	v.doc.DrawPath("F")
	v.doc.SetAlpha(1, "Normal")
}

// pointsPerMM is the size of a typographer's point.
const pointsPerMM = 72 / 25.4

func (v *vector) text(s string, at Point, size float64, a anchor, bold bool, c [3]float64) {
	style := ""
	if bold {
		style = "B"
	}
	v.doc.SetFont("text", style, size*pointsPerMM)
	v.doc.SetTextColor(bytesOf(c))
	v.doc.Text(at.X-v.doc.GetStringWidth(s)*float64(a)/2, at.Y, s)
}
