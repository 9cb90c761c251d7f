package solid

import (
	"cmp"
	"fmt"
	"html"
	"image"
	"image/color"
	"image/png"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern"
)

// shadowOpacity is that of each of the outlines that make a shadow.
const shadowOpacity = 0.045

// svg returns the scene as an SVG picture.
func (s *scene) svg(title string) []byte {
	scale := Width / (s.high.x - s.low.x)
	height := int(math.Ceil((s.high.y - s.low.y) * scale))
	var b []byte
	b = fmt.Appendf(b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img">`+"\n", Width, height, Width, height)
	b = fmt.Appendf(b, "<title>%s</title>\n", html.EscapeString(clean(title)))
	outline := func(b []byte, ps []point) []byte {
		x, y := 0, 0
		for i, p := range ps {
			px, py := int(math.Round((p.x-s.low.x)*scale)), int(math.Round((p.y-s.low.y)*scale))
			switch i {
			case 0:
				b = append(b, 'M')
				b = pair(b, px, py)
			default:
				if i == 1 {
					b = append(b, 'l')
				} else if px-x >= 0 {
					b = append(b, ' ')
				}
				b = pair(b, px-x, py-y)
			}
			x, y = px, py
		}
		return append(b, 'z')
	}
	b = fmt.Appendf(b, `<g fill="#000" fill-opacity="%s">`, strconv.FormatFloat(shadowOpacity, 'f', -1, 64))
	for _, sh := range s.shadows {
		b = append(b, `<path d="`...)
		b = outline(b, sh)
		b = append(b, `"/>`...)
	}
	b = append(b, "</g>\n"...)
	b = append(b, `<g stroke-width="1.6" stroke-linejoin="round">`+"\n"...)
	// Within a layer nothing hides anything, and what has one colour is one path.
	for from := 0; from < len(s.facets); {
		to := from
		var order []colour
		paths := map[colour][]byte{}
		for ; to < len(s.facets) && s.facets[to].layer == s.facets[from].layer; to++ {
			f := &s.facets[to]
			if paths[f.colour] == nil {
				order = append(order, f.colour)
			}
			paths[f.colour] = outline(paths[f.colour], f.corners)
		}
		for _, c := range order {
			b = fmt.Appendf(b, `<path fill="%s"`, c)
			if s.facets[from].ground {
				b = fmt.Appendf(b, ` stroke="%s"`, c)
			}
			b = append(append(append(b, ` d="`...), paths[c]...), "\"/>\n"...)
		}
		from = to
	}
	return append(b, "</g>\n</svg>\n"...)
}

// pair writes two whole numbers as short as SVG allows.
func pair(b []byte, x, y int) []byte {
	b = strconv.AppendInt(b, int64(x), 10)
	if y >= 0 {
		b = append(b, ' ')
	}
	return strconv.AppendInt(b, int64(y), 10)
}

// clean drops what an XML file may not hold.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' || r >= 0x20 && r < 0xFFFE || r > 0xFFFF {
			return r
		}
		return -1
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

// paper is the ground of a PNG picture.
var paper = colour{0xfb, 0xf6, 0xec}

// MaxSide is the most pixels of a side of a PNG picture.
const MaxSide = 4000

// fine is how many times finer than its pixels a PNG picture is drawn, along
// either side.
const fine = 2

// PNG writes a picture as SVG does, on paper, in the middle of a PNG picture of
// some size in pixels.
func PNG(w io.Writer, e *pattern.Estimate, widthPX, heightPX int, opt Options) error {
	if widthPX < 16 || heightPX < 16 || widthPX > MaxSide || heightPX > MaxSide {
		return fmt.Errorf("a picture has 16 to %d pixels a side, not %d by %d", MaxSide, widthPX, heightPX)
	}
	s, err := newScene(e, opt)
	if err != nil {
		return err
	}
	return png.Encode(w, s.paint(widthPX, heightPX))
}

// paint returns the scene in pixels.
func (s *scene) paint(widthPX, heightPX int) image.Image {
	c := newCanvas(widthPX*fine, heightPX*fine)
	const part = 0.86 // of the picture that the thing takes up at most
	scale := part * math.Min(float64(c.width)/(s.high.x-s.low.x), float64(c.height)/(s.high.y-s.low.y))
	dx := (float64(c.width) - scale*(s.low.x+s.high.x)) / 2
	dy := (float64(c.height) - scale*(s.low.y+s.high.y)) / 2
	var outline []point
	fill := func(ps []point, paint func(*colour)) {
		outline = outline[:0]
		for _, p := range ps {
			outline = append(outline, point{p.x*scale + dx, p.y*scale + dy})
		}
		c.fill(outline, paint)
	}
	for _, sh := range s.shadows {
		fill(sh, func(at *colour) { *at = at.lit(1 - shadowOpacity) })
	}
	for i := range s.facets {
		f := &s.facets[i]
		fill(f.corners, func(at *colour) { *at = f.colour })
	}
	return c.image()
}

// A canvas is a picture that is filled outline by outline.
type canvas struct {
	width, height int
	pixels        []colour
	crossings     []float64
}

func newCanvas(width, height int) *canvas {
	c := &canvas{width: width, height: height, pixels: make([]colour, width*height)}
	for i := range c.pixels {
		c.pixels[i] = paper
	}
	return c
}

// fill calls paint for every pixel whose middle lies within an outline, by the
// even-odd rule.
func (c *canvas) fill(outline []point, paint func(*colour)) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range outline {
		low, high = math.Min(low, p.y), math.Max(high, p.y)
	}
	top, bottom := max(int(math.Ceil(low-0.5)), 0), min(int(math.Ceil(high-0.5)), c.height)
	for y := top; y < bottom; y++ {
		middle := float64(y) + 0.5
		xs := c.crossings[:0]
		for i, p := range outline {
			q := outline[(i+1)%len(outline)]
			if (p.y <= middle) != (q.y <= middle) {
				xs = append(xs, p.x+(q.x-p.x)*(middle-p.y)/(q.y-p.y))
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			from, to := max(int(math.Ceil(xs[i]-0.5)), 0), min(int(math.Ceil(xs[i+1]-0.5)), c.width)
			for x := from; x < to; x++ {
				paint(&c.pixels[y*c.width+x])
			}
		}
		c.crossings = xs
	}
}

// image returns the canvas, each pixel the mean of fine times fine, in as many
// colours as a picture with a palette can have.
func (c *canvas) image() image.Image {
	width, height := c.width/fine, c.height/fine
	pixels := make([]colour, 0, width*height)
	for y := range height {
		for x := range width {
			var sum [3]int
			for dy := range fine {
				row := c.pixels[(y*fine+dy)*c.width+x*fine:]
				for _, p := range row[:fine] {
					for i := range sum {
						sum[i] += int(p[i])
					}
				}
			}
			const n = fine * fine
			pixels = append(pixels, colour{uint8(sum[0] / n), uint8(sum[1] / n), uint8(sum[2] / n)})
		}
	}
	return paletted(width, height, pixels)
}

// paletted returns a picture in the colours that are most frequent among its
// pixels; each other pixel has the nearest of them.
func paletted(width, height int, pixels []colour) image.Image {
	counts := map[colour]int{}
	for _, p := range pixels {
		counts[p]++
	}
	all := slices.SortedFunc(maps.Keys(counts), func(a, b colour) int {
		return cmp.Or(counts[b]-counts[a], slices.Compare(a[:], b[:]))
	})
	most := all[:min(len(all), 256)]
	out := image.NewPaletted(image.Rect(0, 0, width, height), nil)
	for _, p := range most {
		out.Palette = append(out.Palette, color.RGBA{p[0], p[1], p[2], 0xff})
	}
	index := make(map[colour]uint8, len(all))
	for _, p := range all {
		best, least := 0, math.MaxInt
		for i, q := range most {
			d := 0
			for k := range p {
				e := int(p[k]) - int(q[k])
				d += e * e
			}
			if d < least {
				best, least = i, d
			}
		}
		index[p] = uint8(best)
	}
	for i, p := range pixels {
		out.Pix[i] = index[p]
	}
	return out
}
