package solid

import (
	"fmt"
	"html"
	"io"
	"math"
	"strings"

	"roundelay/pattern"
)

// Sizes of the drawing of an outline, in units.
const (
	outlineRoom = 560 // for the longer side of the piece
	outlineEdge = 120 // around it, for the measures
	textSize    = 30
)

// Profile writes the outline of a piece, as it stands, with the bands of its
// yarns and its measures in millimetres, as SVG. A disc is seen from above.
func Profile(w io.Writer, e *pattern.PieceEstimate, yarns *pattern.Estimate, title string, opt Options) error {
	colours := yarnColours(yarns, opt)
	s := newSurface(e)
	flat := e.Finish == pattern.LaidFlat
	across, high := 2*s.widest+s.length, 2*s.middle
	if flat {
		high = 2 * s.widest
	}
	scale := outlineRoom / math.Max(across, high)
	width, height := across*scale+2*outlineEdge, high*scale+2*outlineEdge
	x := func(mm float64) string { return decimal(width/2 + mm*scale) }
	z := func(edge int) float64 { // downwards from the top of the picture
		v := s.z[edge]
		if s.startUp {
			v = -v
		}
		return outlineEdge + (high-(v-s.low))*scale
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%s" height="%s" role="img">`+"\n",
		decimal(width), decimal(height), decimal(width), decimal(height))
	fmt.Fprintf(&b, "<title>%s</title>\n", html.EscapeString(clean(title)))
	b.WriteString(outlineStyle)
	fill := func(i int) colour { // of what lies below edge i
		at := min(max(i-1, 0), len(e.Rounds)-1)
		return colours[mostly(e, at)]
	}
	b.WriteString(`<g class="round">` + "\n")
	if flat {
		for i := len(s.r) - 1; i > 0; i-- {
			if s.corners > 0 {
				fmt.Fprintf(&b, `<path fill="%s" d="%s"/>`+"\n", fill(i), polygon(width/2, height/2, s.r[i]*scale, s.corners))
				continue
			}
			fmt.Fprintf(&b, `<circle cx="%s" cy="%s" r="%s" fill="%s"/>`+"\n", x(0), decimal(height/2), decimal(s.r[i]*scale), fill(i))
		}
	} else {
		half := s.length / 2
		for i := 1; i < len(s.r); i++ {
			fmt.Fprintf(&b, `<path fill="%s" d="M%s %sL%s %sL%s %sL%s %sz"/>`+"\n", fill(i),
				x(-s.r[i-1]-half), decimal(z(i-1)), x(s.r[i-1]+half), decimal(z(i-1)), x(s.r[i]+half), decimal(z(i)), x(-s.r[i]-half), decimal(z(i)))
		}
	}
	b.WriteString("</g>\n")

	// Measures stand outside, between the lines that they reach to.
	left, right := width/2-across*scale/2, width/2+across*scale/2
	top, bottom := float64(outlineEdge), height-outlineEdge
	below := bottom + 0.4*outlineEdge
	fmt.Fprintf(&b, `<path class="line" d="M%s %sV%sM%s %sV%s"/>`+"\n", decimal(left), decimal(bottom-outlineEdge*0.1), decimal(below+10), decimal(right), decimal(bottom-outlineEdge*0.1), decimal(below+10))
	arrow(&b, left, below, right, below)
	fmt.Fprintf(&b, `<text x="%s" y="%s" text-anchor="middle">%s across</text>`+"\n", x(0), decimal(below+1.35*textSize), millimetres(across))
	if !flat {
		beside := right + 0.3*outlineEdge
		fmt.Fprintf(&b, `<path class="line" d="M%s %sH%sM%s %sH%s"/>`+"\n", x(0), decimal(top), decimal(beside+10), x(0), decimal(bottom), decimal(beside+10))
		arrow(&b, beside, top, beside, bottom)
		fmt.Fprintf(&b, `<text text-anchor="middle" transform="translate(%s %s)rotate(-90)">%s high</text>`+"\n", decimal(beside+1.25*textSize), decimal((top+bottom)/2), millimetres(high))
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// polygon returns the path of a regular polygon that is r from its middle to a
// side, one of which lies below.
func polygon(x, y, r float64, sides int) string {
	var b strings.Builder
	far := r / math.Cos(math.Pi/float64(sides))
	for k := range sides {
		sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / float64(sides))
		fmt.Fprintf(&b, "%c%s %s", "ML"[min(k, 1)], decimal(x+far*sin), decimal(y+far*cos))
	}
	return b.String() + "z"
}

const outlineStyle = `<style>.round{stroke:#1f2428;stroke-opacity:.35;stroke-width:1.5}` +
	`.line{fill:none;stroke:#1f2428;stroke-width:1.5}.arrow,text{fill:#1f2428}text{font:30px Seravek,"Gill Sans",Candara,Optima,"DejaVu Sans",sans-serif}` +
	`@media (prefers-color-scheme:dark){.line,.round{stroke:#e7e4da}.arrow,text{fill:#e7e4da}}</style>` + "\n"

// arrow draws a line with heads at both ends, along an axis.
func arrow(b *strings.Builder, x1, y1, x2, y2 float64) {
	fmt.Fprintf(b, `<path class="line" d="M%s %sL%s %s"/>`, decimal(x1), decimal(y1), decimal(x2), decimal(y2))
	const long, wide = 16.0, 5.0
	dx, dy := math.Copysign(1, x2-x1), 0.0
	if x1 == x2 {
		dx, dy = 0, 1
	}
	head := func(x, y, dx, dy float64) {
		fmt.Fprintf(b, `<path class="arrow" d="M%s %sL%s %sL%s %sz"/>`, decimal(x), decimal(y),
			decimal(x+long*dx-wide*dy), decimal(y+long*dy+wide*dx), decimal(x+long*dx+wide*dy), decimal(y+long*dy-wide*dx))
	}
	head(x1, y1, dx, dy)
	head(x2, y2, -dx, -dy)
	b.WriteByte('\n')
}

// mostly returns the yarn that most stitches of a round are worked in.
func mostly(e *pattern.PieceEstimate, round int) int {
	counts := map[int]int{}
	best := 0
	for i, s := range e.Rounds[round].Round.Stitches {
		yarn := 0
		if int(s.Yarn) < len(e.Piece.Yarns) {
			yarn = e.Piece.Yarns[s.Yarn]
		}
		if counts[yarn]++; i == 0 || counts[yarn] > counts[best] {
			best = yarn
		}
	}
	return best
}

// millimetres writes a length: to a millimetre, as no estimate is better.
func millimetres(mm float64) string { return fmt.Sprintf("%.0f mm", mm) }

// decimal writes a number with at most one decimal.
func decimal(v float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", math.Round(v*10)/10), ".0")
}
