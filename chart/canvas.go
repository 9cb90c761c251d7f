package chart

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	svg "github.com/ajstarks/svgo/float"
)

// unit is the number of units of an SVG file to the width of a single crochet.
const unit = 10

// An attr is an attribute of an element; its value is not yet escaped.
type attr struct{ name, value string }

// escaper makes any text fit for the value of an attribute.
var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "\n", "&#10;", "\r", "&#13;", "\t", "&#9;")

// clean drops what an XML file may not hold.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t', r == '\n', r == '\r', r >= 0x20 && r < 0xFFFE, r > 0xFFFF:
			return r
		}
		return -1
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

func attrs(as []attr) []string {
	out := make([]string, len(as))
	for i, a := range as {
		out[i] = a.name + `="` + escaper.Replace(clean(a.value)) + `"`
	}
	return out
}

// num writes a number with at most two decimals, without -0.
func num(b []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		panic(fmt.Sprintf("chart: %v has no place in a picture", v))
	}
	return decimal(b, v, 100)
}

// decimal writes v to the nearest 1/parts, a power of ten up to 100.
func decimal(b []byte, v float64, parts int64) []byte {
	n := int64(math.Round(v * float64(parts)))
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	b = strconv.AppendInt(b, n/parts, 10)
	if n %= parts; n != 0 {
		b = append(b, '.')
		for n != 0 {
			parts /= 10
			b = append(b, byte('0'+n/parts))
			n %= parts
		}
	}
	return b
}

func numeral(v float64) string { return string(num(nil, v)) }

// A canvas writes SVG, scaled from widths of a single crochet to units. All
// strings are escaped and all numbers rounded here; svgo sees nothing raw. It
// writes to a buffer, which is written out once, at the end.
type canvas struct {
	svg *svg.SVG
	buf bytes.Buffer
	tmp []byte

	// wholeDegrees rounds the angles of symbols to a degree, which no eye can
	// see, to keep a large chart small.
	wholeDegrees bool
}

func newCanvas() *canvas {
	c := &canvas{}
	c.svg = svg.New(&c.buf)
	return c
}

func (c *canvas) WriteTo(w io.Writer) (int64, error) { return c.buf.WriteTo(w) }

// document draws what f draws inside an svg element for the picture from low to
// high. On a page there is no prolog and no size: the page's style gives it.
func (c *canvas) document(low, high Point, inline bool, f func(), as ...attr) {
	w, h := (high.X-low.X)*unit, (high.Y-low.Y)*unit
	all := []attr{{"class", "chart"}, {"viewBox", strings.Join([]string{numeral(low.X * unit), numeral(low.Y * unit), numeral(w), numeral(h)}, " ")}}
	if !inline {
		all = append(all, attr{"width", numeral(w * naturalScale)}, attr{"height", numeral(h * naturalScale)})
	}
	c.svg.Startraw(attrs(append(all, as...))...)
	if inline {
		at := bytes.Index(c.buf.Bytes(), []byte("<svg"))
		c.buf.Next(at)
	}
	f()
	c.svg.End()
}

// naturalScale is the size, in CSS pixels, of a unit in a chart that stands
// alone.
const naturalScale = 1.5

func (c *canvas) title(s string) { c.svg.Title(clean(s)) }
func (c *canvas) desc(s string)  { c.svg.Desc(clean(s)) }

// style writes a style sheet, which is ours and has no "]]>" in it.
func (c *canvas) style(css string) { c.svg.Style("text/css", css) }

// open and shut begin and end a group.
func (c *canvas) open(as ...attr) { c.svg.Group(attrs(as)...) }
func (c *canvas) shut()           { c.svg.Gend() }

func (c *canvas) defs(f func()) {
	c.svg.Def()
	f()
	c.svg.DefEnd()
}

func (c *canvas) rect(low, high Point, radius float64, as ...attr) {
	as = append([]attr{{"x", numeral(low.X * unit)}, {"y", numeral(low.Y * unit)},
		{"width", numeral((high.X - low.X) * unit)}, {"height", numeral((high.Y - low.Y) * unit)}, {"rx", numeral(radius * unit)}}, as...)
	c.tmp = append(c.tmp[:0], "<rect"...)
	for _, a := range attrs(as) {
		c.tmp = append(append(c.tmp, ' '), a...)
	}
	c.tmp = append(c.tmp, "/>\n"...)
	c.svg.Writer.Write(c.tmp)
}

func (c *canvas) path(p Path, as ...attr) {
	if len(p) > 0 {
		c.svg.Path(string(pathData(nil, p)), attrs(as)...)
	}
}

// pathData writes p as the data of a path.
func pathData(b []byte, p Path) []byte {
	for _, s := range p {
		b = append(b, s.op)
		for k, a := range s.points() {
			if k > 0 {
				b = append(b, ' ')
			}
			b = num(b, a.X*unit)
			b = append(b, ' ')
			b = num(b, a.Y*unit)
		}
	}
	return b
}

func (c *canvas) text(w words, as ...attr) {
	all := []attr{{"x", numeral(w.at.X * unit)}, {"y", numeral(w.at.Y * unit)}, {"font-size", numeral(w.size * unit)}}
	if w.anchor != atStart {
		all = append(all, attr{"text-anchor", [...]string{"start", "middle", "end"}[w.anchor]})
	}
	c.tmp = append(c.tmp[:0], "<text"...)
	for _, a := range attrs(append(all, as...)) {
		c.tmp = append(append(c.tmp, ' '), a...)
	}
	c.tmp = append(c.tmp, '>')
	c.tmp = append(c.tmp, escaper.Replace(clean(w.text))...)
	c.tmp = append(c.tmp, "</text>\n"...)
	c.svg.Writer.Write(c.tmp)
}

// use places a symbol. It is written by hand into svgo's own writer: a chart
// has one for each stitch, and svgo's own takes twenty times as long.
func (c *canvas) use(m mark) {
	b := append(c.tmp[:0], `<use href="#`...)
	b = append(b, m.glyph.id...) // a name of ours: letters, digits and hyphens
	if m.ink != ringInk {
		b = append(b, `" class="`...)
		b = append(b, inkTable[m.ink].class...)
	}
	b = append(b, `" transform="translate(`...)
	b = decimal(b, m.at.X*unit, 10)
	b = append(b, ' ')
	b = decimal(b, m.at.Y*unit, 10)
	b = append(b, ')')
	deg, parts := math.Remainder(m.angle*180/math.Pi, 360), int64(10)
	if c.wholeDegrees {
		parts = 1
	}
	if math.Round(deg*float64(parts)) != 0 {
		b = append(b, "rotate("...)
		b = decimal(b, deg, parts)
		b = append(b, ')')
	}
	if m.flip {
		b = append(b, "scale(-1 1)"...)
	}
	b = append(b, "\"/>\n"...)
	c.svg.Writer.Write(b)
	c.tmp = b
}

// glyph defines a symbol.
func (c *canvas) glyph(g *glyph) {
	c.open(attr{"id", g.id})
	c.path(g.pen)
	c.path(g.thin, attr{"stroke-width", numeral(thinWidth * unit)})
	c.path(g.filled, attr{"fill", "currentColor"}, attr{"stroke", "none"})
	c.shut()
}

// hidden draws definitions in an svg element of their own that takes no room.
func (c *canvas) hidden(f func()) {
	c.svg.Startraw(attrs([]attr{{"width", "0"}, {"height", "0"}, {"style", "position:absolute"}, {"aria-hidden", "true"}})...)
	c.buf.Next(bytes.Index(c.buf.Bytes(), []byte("<svg")))
	f()
	c.svg.End()
}
