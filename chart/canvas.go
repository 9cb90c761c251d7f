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
	return fixed(b, int64(math.Round(v*float64(parts))), parts)
}

// fixed writes n/parts, as short as can be: .5 and not 0.50.
func fixed(b []byte, n, parts int64) []byte {
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	if whole := n / parts; whole > 0 || n == 0 {
		b = strconv.AppendInt(b, whole, 10)
	}
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

	origin point // of the open group
}

func newCanvas() *canvas {
	c := &canvas{}
	c.svg = svg.New(&c.buf)
	return c
}

func (c *canvas) WriteTo(w io.Writer) (int64, error) { return c.buf.WriteTo(w) }

// document draws what f draws inside an svg element for the picture from low to
// high. On a page there is no prolog and no size: the page's style gives it.
func (c *canvas) document(low, high point, inline bool, f func(), as ...attr) {
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
const naturalScale = 2

func (c *canvas) title(s string) { c.svg.Title(clean(s)) }

// desc writes a description, which is English, and says so where all else is not.
func (c *canvas) desc(s string, foreign bool) {
	if !foreign {
		c.svg.Desc(clean(s))
		return
	}
	fmt.Fprintf(c.svg.Writer, "<desc lang=\"en\">%s</desc>\n", escaper.Replace(clean(s)))
}

// style writes a style sheet, which is ours and has no "]]>" in it.
func (c *canvas) style(css string) { c.svg.Style("text/css", css) }

// open and shut begin and end a group, whose drawing is told from a point of
// its own.
func (c *canvas) open(origin point, as ...attr) {
	c.origin = point{rounded(origin.X), rounded(origin.Y)}
	if c.origin != (point{}) {
		as = append(as, attr{"transform", "translate(" + numeral(c.origin.X*unit) + " " + numeral(c.origin.Y*unit) + ")"})
	}
	c.svg.Group(attrs(as)...)
}

func (c *canvas) shut() {
	c.origin = point{}
	c.svg.Gend()
}

// rounded returns a length that can be written exactly.
func rounded(v float64) float64 { return math.Round(v*unit) / unit }

func (c *canvas) defs(f func()) {
	c.svg.Def()
	f()
	c.svg.DefEnd()
}

func (c *canvas) rect(low, high point, radius float64, as ...attr) {
	as = append([]attr{{"x", numeral(low.X * unit)}, {"y", numeral(low.Y * unit)},
		{"width", numeral((high.X - low.X) * unit)}, {"height", numeral((high.Y - low.Y) * unit)}, {"rx", numeral(radius * unit)}}, as...)
	c.tmp = append(c.tmp[:0], "<rect"...)
	for _, a := range attrs(as) {
		c.tmp = append(append(c.tmp, ' '), a...)
	}
	c.tmp = append(c.tmp, "/>\n"...)
	c.svg.Writer.Write(c.tmp)
}

// path draws p to a tenth of a unit, which is a hundredth of a symbol.
func (c *canvas) path(p path, as ...attr) { c.pathTo(10, p, as...) }

// pathTo draws p to the nearest 1/parts of a unit.
func (c *canvas) pathTo(parts int64, p path, as ...attr) {
	if len(p) > 0 {
		c.tmp = pathData(c.tmp[:0], p, c.origin, parts)
		c.svg.Path(string(c.tmp), attrs(as)...)
	}
}

// pathData writes p, told from an origin, as the data of a path: as steps from
// point to point, which are shorter than places. The steps are between rounded
// places, so that what is rounded off does not add up.
func pathData(b []byte, p path, origin point, parts int64) []byte {
	var at, start [2]int64
	last := byte('z')
	for i := range p {
		s := &p[i]
		op := s.op | 0x20 // small: relative
		if op == 'l' && last == 'm' {
			last = 'l' // what follows a move without a letter is a line
		}
		if op != last || op == 'm' || op == 'z' {
			b = append(b, op)
		}
		last = op
		if op == 'z' {
			at = start
			continue
		}
		var to [2]int64
		for _, a := range s.points() {
			scale := unit * float64(parts)
			to = [2]int64{finite((a.X - origin.X) * scale), finite((a.Y - origin.Y) * scale)}
			for k := range to {
				d := to[k] - at[k]
				if c := b[len(b)-1]; d >= 0 && (c >= '0' && c <= '9' || c == '.') {
					b = append(b, ' ')
				}
				b = fixed(b, d, parts)
			}
		}
		at = to
		if op == 'm' {
			start = at
		}
	}
	return b
}

// finite rounds v.
func finite(v float64) int64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		panic(fmt.Sprintf("chart: %v has no place in a picture", v))
	}
	return int64(math.Round(v))
}

func (c *canvas) text(w words, as ...attr) {
	all := []attr{{"x", tenths(w.at.X - c.origin.X)}, {"y", tenths(w.at.Y - c.origin.Y)}}
	if w.anchor != atStart {
		all = append(all, attr{"text-anchor", anchorNames[w.anchor]})
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

// tenths returns a length in units, to a tenth.
func tenths(v float64) string { return string(decimal(nil, v*unit, 10)) }

// closeIn is the distance from the middle up to which a tenth of a degree is told
// exactly enough: half of it is a fiftieth of a symbol there.
const closeIn = 22.9

// use places a symbol. It is written by hand into svgo's own writer: a chart
// has one for each stitch, and svgo's own takes twenty times as long.
func (c *canvas) use(m mark) {
	b := append(c.tmp[:0], `<use href="#`...)
	b = append(b, m.glyph.id...) // a name of ours: letters, digits and hyphens
	if m.ink != ringInk && m.ink != m.glyph.ink {
		b = append(b, `" class="`...)
		b = append(b, inkTable[m.ink].class...)
	}
	// Turned about the middle of its rings, a symbol that stands square on one
	// has only a height there. A hundredth of a degree is a small part of a gap
	// on the largest ring there is.
	parts := int64(100)
	if math.Hypot(m.at.X-c.origin.X, m.at.Y-c.origin.Y) < closeIn {
		parts = 10
	}
	deg := math.Round(math.Remainder(m.angle*180/math.Pi, 360)*float64(parts)) / float64(parts)
	if deg < -100 {
		deg += 360 // is shorter
	}
	at := point{m.at.X - c.origin.X, m.at.Y - c.origin.Y}.turned(-deg * math.Pi / 180)
	if m.flip {
		at.X = -at.X
	}
	const unseen = 0.015
	for k, v := range [...]float64{at.X, at.Y} {
		if n := finite(v * unit * 10); n != 0 && (k == 1 || math.Abs(v) > unseen) {
			b = append(b, [...]string{`" x="`, `" y="`}[k]...)
			b = fixed(b, n, 10)
		}
	}
	if deg != 0 || m.flip {
		b = append(b, `" transform="`...)
	}
	if deg != 0 {
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
	as := []attr{{"id", g.id}}
	if g.ink != ringInk {
		as = append(as, attr{"class", inkTable[g.ink].class})
	}
	c.open(point{}, as...)
	c.pathTo(100, g.pen)
	c.pathTo(100, g.thin, attr{"stroke-width", numeral(thinWidth * unit)})
	c.pathTo(100, g.filled, attr{"fill", "currentColor"}, attr{"stroke", "none"})
	c.shut()
}

// hidden draws definitions in an svg element of their own that takes no room.
func (c *canvas) hidden(f func()) {
	c.svg.Startraw(attrs([]attr{{"class", "symbols"}, {"width", "0"}, {"height", "0"}, {"style", "position:absolute"}, {"aria-hidden", "true"}})...)
	c.buf.Next(bytes.Index(c.buf.Bytes(), []byte("<svg")))
	f()
	c.svg.End()
}
