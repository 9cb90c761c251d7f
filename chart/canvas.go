package chart

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	svg "github.com/ajstarks/svgo/float"
)

// unit is the number of units of an SVG file to the width of a single crochet.
// Places are told in whole ones: half of one is a hundredth of a symbol.
const unit = 50

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

// append writes an attribute, escaped.
func (a attr) append(b []byte) []byte {
	b = append(append(append(b, ' '), a.name...), `="`...)
	return append(append(b, escaper.Replace(clean(a.value))...), '"')
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
	middle point // of the rings, from there
}

func newCanvas() *canvas {
	c := &canvas{}
	c.svg = svg.New(&c.buf)
	return c
}

func (c *canvas) WriteTo(w io.Writer) (int64, error) { return c.buf.WriteTo(w) }

// tag writes the tag that begins an element. svgo would put each attribute of
// some on a line of its own, and spaces behind those of others.
func (c *canvas) tag(name string, end string, as ...attr) {
	c.tmp = append(append(c.tmp[:0], '<'), name...)
	for _, a := range as {
		if a.value != "" {
			c.tmp = a.append(c.tmp)
		}
	}
	c.tmp = append(c.tmp, end...)
	c.svg.Writer.Write(c.tmp)
}

// The ends of tags.
const (
	tagEnd  = ">"
	tagShut = "/>\n"
)

// document draws what f draws inside an svg element for the picture from low to
// high. On a page there is no prolog and no size: the page's style gives it.
func (c *canvas) document(low, high point, inline bool, f func(), as ...attr) {
	w, h := (high.X-low.X)*unit, (high.Y-low.Y)*unit
	all := []attr{{"class", "chart"}, {"viewBox", viewBox(low, high)}}
	if !inline {
		io.WriteString(c.svg.Writer, xml.Header)
		all = append(all, attr{"xmlns", "http://www.w3.org/2000/svg"}, attr{"width", numeral(w * naturalScale)}, attr{"height", numeral(h * naturalScale)})
	}
	c.tag("svg", tagEnd+"\n", append(all, as...)...)
	f()
	c.svg.End()
}

// inline draws what f draws in a picture among words, a width of a single crochet as
// large as they are.
func (c *canvas) inline(low, high point, f func()) {
	size := high.minus(low)
	c.tag("svg", tagEnd+"\n", attr{"viewBox", viewBox(low, high)}, attr{"width", numeral(size.X) + "em"}, attr{"height", numeral(size.Y) + "em"}, attr{"aria-hidden", "true"})
	f()
	c.svg.End()
}

// viewBox is the part of the picture from low to high.
func viewBox(low, high point) string {
	size := high.minus(low)
	return strings.Join([]string{numeral(low.X * unit), numeral(low.Y * unit), numeral(size.X * unit), numeral(size.Y * unit)}, " ")
}

// words writes words as they are.
func (c *canvas) words(s string) { io.WriteString(c.svg.Writer, escaper.Replace(clean(s))) }

// naturalScale is the size, in CSS pixels, of a unit in a chart that stands
// alone.
const naturalScale = 20. / unit

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
	c.tag("g", tagEnd, as...)
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
	c.tag("rect", tagShut, append([]attr{{"x", numeral(low.X * unit)}, {"y", numeral(low.Y * unit)},
		{"width", numeral((high.X - low.X) * unit)}, {"height", numeral((high.Y - low.Y) * unit)}, {"rx", numeral(radius * unit)}}, as...)...)
}

// path draws p to a whole unit.
func (c *canvas) path(p path, as ...attr) { c.pathTo(1, p, as...) }

// pathTo draws p to the nearest 1/parts of a unit.
func (c *canvas) pathTo(parts int64, p path, as ...attr) {
	if len(p) == 0 {
		return
	}
	c.tag("path", ` d="`, as...)
	c.tmp = append(pathData(c.tmp[:0], p, c.origin, parts), `"/>`+"\n"...)
	c.svg.Writer.Write(c.tmp)
}

// pathData writes p, told from an origin, as the data of a path: as steps from
// point to point, which are shorter than places. The steps are between rounded
// places, so that what is rounded off does not add up.
func pathData(b []byte, p path, origin point, parts int64) []byte {
	scale := unit * float64(parts)
	round := func(a point) [2]int64 {
		return [2]int64{finite((a.X - origin.X) * scale), finite((a.Y - origin.Y) * scale)}
	}
	var at, start, before [2]int64
	last := byte('z')
	for i := range p {
		s := &p[i]
		op := s.op | 0x20 // small: relative
		points := s.points()
		if op == 'l' && last == 'm' {
			last = 'l' // what follows a move without a letter is a line
		}
		if op == 'c' && (last == 'c' || last == 's') { // goes on as the one before ended, but for what is rounded
			first := round(points[0])
			if near(first[0], 2*at[0]-before[0]) && near(first[1], 2*at[1]-before[1]) {
				op, points = 's', points[1:]
			}
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
		for k, a := range points {
			to = round(a)
			if k == len(points)-2 {
				before = to
			}
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

// near reports whether two lengths are as good as equal.
func near(a, b int64) bool { return max(a-b, b-a) <= 1 }

// finite rounds v.
func finite(v float64) int64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		panic(fmt.Sprintf("chart: %v has no place in a picture", v))
	}
	return int64(math.Round(v))
}

// text writes words side by side on one line, all in one element.
func (c *canvas) text(line []words, as ...attr) {
	for i, w := range line {
		x := attr{"x", numeral(math.Round((w.at.X - c.origin.X) * unit))}
		if i == 0 {
			c.tag("text", tagEnd, append([]attr{x, {"y", numeral(math.Round((w.at.Y - c.origin.Y) * unit))}}, as...)...)
		} else {
			c.tag("tspan", tagEnd, x)
		}
		c.words(w.text)
		if i > 0 {
			io.WriteString(c.svg.Writer, "</tspan>")
		}
	}
	io.WriteString(c.svg.Writer, "</text>\n")
}

// tenths returns a length in units, to a tenth.
func tenths(v float64) string { return string(decimal(nil, v*unit, 10)) }

// exact is how near to its place a symbol is drawn, in units.
const exact = 0.015 * unit

// use places a symbol. It is written by hand into svgo's own writer: a chart
// has one for each stitch, and svgo's own takes twenty times as long. So is the
// place: all symbols that stand square on a ring and equally far out are the one at
// the top of it, turned about its middle.
func (c *canvas) use(m mark) {
	b := append(c.tmp[:0], `<use href="#`...)
	b = append(b, m.glyph.id...) // a name of ours: letters, digits and hyphens
	if m.ink != ringInk && m.ink != m.glyph.ink {
		b = append(b, `" class="`...)
		b = append(b, inkTable[m.ink].class...)
	}
	at := m.at.minus(c.origin).times(unit)
	// A degree is told as finely as it takes: half a step is a part of what is
	// exact.
	parts := int64(10)
	if reach := at.distance(c.middle.times(unit)); reach*math.Pi/180/20 > exact {
		parts = 100
	}
	deg := math.Round(math.Remainder(m.angle*180/math.Pi, 360)*float64(parts)) / float64(parts)
	if deg < -100 {
		deg += 360 // is shorter
	}
	turn := deg * math.Pi / 180
	if centre, ok := c.centre(at, turn); ok && !m.flip {
		b = append(b, `" transform="rotate(`...)
		b = decimal(b, deg, parts)
		b = append(b, ' ')
		b = decimal(b, centre.X, 10)
		b = append(b, ' ')
		b = decimal(b, centre.Y, 10)
		b = append(b, ")\"/>"...)
		c.svg.Writer.Write(b)
		c.tmp = b
		return
	}
	at = at.turned(-turn)
	if m.flip {
		at.X = -at.X
	}
	for k, v := range [...]float64{at.X, at.Y} {
		if n := finite(v); n != 0 {
			b = append(b, [...]string{`" x="`, `" y="`}[k]...)
			b = strconv.AppendInt(b, n, 10)
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
	b = append(b, "\"/>"...)
	c.svg.Writer.Write(b)
	c.tmp = b
}

// centre returns the point, in units or tenths, about which a turn takes the origin
// of the group to a place: the middle of the rings, where that does.
func (c *canvas) centre(at point, turn float64) (point, bool) {
	takes := func(centre point) bool {
		return centre.minus(centre.turned(turn)).distance(at) <= exact
	}
	if middle := c.middle.times(unit); takes(middle) {
		return middle, turn != 0
	}
	cot := 1 / math.Tan(turn/2)
	x, y := (at.X-cot*at.Y)/2, (at.Y+cot*at.X)/2
	const most = 9999                             // a place is told in fewer figures then
	if math.Abs(x) > most || math.Abs(y) > most { // or infinite
		return point{}, false
	}
	centre := point{math.Round(x), math.Round(y)}
	if !takes(centre) {
		centre = point{math.Round(x*10) / 10, math.Round(y*10) / 10}
	}
	return centre, takes(centre)
}

// glyph defines a symbol.
func (c *canvas) glyph(g *glyph) {
	const parts = 10
	as := []attr{{"id", g.id}}
	if g.ink != ringInk {
		as = append(as, attr{"class", inkTable[g.ink].class})
	}
	c.open(point{}, as...)
	c.pathTo(parts, g.pen)
	c.pathTo(parts, g.thin, attr{"stroke-width", numeral(thinWidth * unit)})
	c.pathTo(parts, g.filled, attr{"class", filledClass})
	c.shut()
}

// hidden draws definitions in an svg element of their own that takes no room.
func (c *canvas) hidden(f func()) {
	c.tag("svg", tagEnd+"\n", attr{"class", "symbols"}, attr{"width", "0"}, attr{"height", "0"}, attr{"style", "position:absolute"}, attr{"aria-hidden", "true"})
	f()
	c.svg.End()
}
