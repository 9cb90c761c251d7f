package chart

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern/stitch"
)

// fonts asks for a book face with figures of one width and one height.
const fonts = `"Palatino Linotype",Palatino,"URW Palladio L","P052","Book Antiqua",Georgia,"DejaVu Serif",serif`

// Style returns the style sheet of charts, for pages that hold charts drawn
// inline. A chart that stands alone has it inside.
func Style() string {
	return style(".chart ", func(ink) bool { return true })
}

// style returns the style sheet of a chart drawn in some inks. Its rules are for
// what is inside a scope; without one, for all of a file.
func style(scope string, has func(ink) bool) string {
	selector := func(i ink) string {
		at := scope + "." + strings.ReplaceAll(inkTable[i].class, " ", ".")
		if scope != "" && (i == incInk || i == decInk) { // symbols on a page are defined outside its charts
			at += ",.symbols ." + inkTable[i].class
		}
		return at
	}
	var b strings.Builder
	rule := func(selector, body string) { fmt.Fprintf(&b, "%s{%s}\n", selector, body) }
	rule(".chart", "fill:none;stroke-linecap:round;stroke-linejoin:round;stroke-width:"+numeral(penWidth*unit)+
		";font-family:"+fonts+";font-variant-numeric:lining-nums tabular-nums")
	rule(scope+"text", "fill:currentColor;stroke:none")
	rule(selector(numberInk), "font-weight:bold")
	for _, i := range [...]ink{numberInk, countInk} {
		rule(scope+"g ."+inkTable[i].class, "font-size:"+numeral(ringTextSize(i)*unit)+"px;text-anchor:"+anchorNames[ringTextAnchor(i)])
	}
	// each writes a rule for all inks that it gives the same body.
	each := func(body func(ink) string) {
		var bodies []string
		of := map[string][]string{}
		for i := oddInk; i < inks; i++ {
			if t := body(i); t != "" && has(i) {
				if of[t] == nil {
					bodies = append(bodies, t)
				}
				of[t] = append(of[t], selector(i))
			}
		}
		for _, t := range bodies {
			fmt.Fprintf(&b, "%s{%s}", strings.Join(of[t], ","), t)
		}
	}
	each(func(i ink) string {
		if inkTable[i].width == 0 {
			return ""
		}
		// Not once for the whole chart: not every program takes the colour of
		// the element that inherits it.
		return "stroke:currentColor"
	})
	b.WriteString("\n")
	each(func(i ink) string {
		body := ""
		if w := inkTable[i].width; w > 0 && w != penWidth {
			body = "stroke-width:" + numeral(w*unit)
		}
		for k, d := range inkTable[i].dash {
			body += [...]string{";stroke-dasharray:", " "}[min(k, 1)] + numeral(d*unit)
		}
		return strings.TrimPrefix(body, ";")
	})
	b.WriteString("\n")
	if has(bandInk) {
		rule(selector(bandInk), "stroke:none")
	}
	rule(selector(paperInk), "fill:currentColor;stroke:none")
	ground := func(pick func(ink) string) {
		each(func(i ink) string {
			if c := pick(i); c != "" {
				return "color:" + c
			}
			return ""
		})
	}
	ground(func(i ink) string { return inkTable[i].light })
	b.WriteString("\n@media (prefers-color-scheme:dark){")
	ground(func(i ink) string { return inkTable[i].dark })
	b.WriteString("}\n@media print{")
	ground(func(i ink) string { return inkTable[i].print })
	b.WriteString("}\n")
	return b.String()
}

// ringTextSize returns the size of the words of rings in an ink.
func ringTextSize(i ink) float64 {
	if i == numberInk {
		return labelSize
	}
	return countSize
}

// ringTextAnchor returns the anchor of the words of rings in an ink, unless they
// are for the left hand.
func ringTextAnchor(i ink) anchor {
	if i == numberInk {
		return atStart
	}
	return atEnd
}

// Symbols writes a hidden drawing that holds the symbols of the stitches and
// all marks, for a page whose charts are drawn inline: once on the page, before
// them.
func Symbols(w io.Writer, stitches []stitch.Stitch, opt Options) error {
	c := newCanvas()
	glyphs := slices.Clone(allMarks)
	for _, s := range stitches {
		g := drawGlyph(s, crosses(opt.Plus))
		glyphs = append(glyphs, g, paleGlyph(g))
	}
	c.hidden(func() { c.symbols(glyphs) })
	_, err := c.WriteTo(w)
	return err
}

// symbols defines each glyph once, in the order of their names.
func (c *canvas) symbols(glyphs []*glyph) {
	glyphs = slices.Clone(glyphs)
	slices.SortFunc(glyphs, func(a, b *glyph) int { return strings.Compare(a.id, b.id) })
	glyphs = slices.CompactFunc(glyphs, func(a, b *glyph) bool { return a.id == b.id })
	c.defs(func() {
		for _, g := range glyphs {
			c.glyph(g)
		}
	})
}

// glyphs returns the symbols that the scene places.
func (sc *scene) glyphs() []*glyph {
	seen := map[*glyph]bool{}
	var out []*glyph
	see := func(marks []mark) {
		for i := range marks {
			if g := marks[i].glyph; !seen[g] {
				seen[g] = true
				out = append(out, g)
			}
		}
	}
	for i := range sc.rings {
		see(sc.rings[i].marks)
	}
	see(sc.marks)
	return out
}

// inks returns the inks that the scene is drawn in, with those that others take
// their colours from.
func (sc *scene) inks() (has [inks]bool) {
	has[paperInk] = true
	all := func(lines []line, marks []mark, texts []words) {
		for _, ln := range lines {
			has[ln.ink] = true
		}
		for i := range marks {
			has[marks[i].ink] = true
		}
		for _, w := range texts {
			has[w.ink] = true
		}
	}
	all(sc.under, nil, nil)
	for i := range sc.rings {
		r := &sc.rings[i]
		has[r.ink] = true
		all(r.lines, r.marks, r.words)
	}
	all(sc.over, sc.marks, sc.words)
	for i, p := range inkParents {
		has[p] = has[p] || has[i]
	}
	return has
}

// svg writes the scene as SVG.
func (sc *scene) svg(c *canvas, opt Options) {
	n := 0
	for i := range sc.rings {
		n += len(sc.rings[i].marks)
	}
	c.buf.Grow(4096 + 66*n)
	p := &svgPainter{canvas: c, reach: "0"}
	if opt.Inline {
		p.reach = "-1"
	}
	as := []attr{{"role", "graphics-document document"}, {"aria-roledescription", opt.say("chart of rounds")}}
	if opt.tongue() > 0 {
		as = append(as, attr{"lang", opt.Language})
	}
	c.document(sc.low, sc.high, opt.Inline, func() {
		c.title(sc.title)
		c.desc(sc.desc, opt.tongue() > 0)
		if !opt.Inline {
			has := sc.inks()
			c.style(style("", func(i ink) bool { return has[i] }))
			c.symbols(sc.glyphs())
			c.rect(sc.low, sc.high, 1, attr{"class", inkTable[paperInk].class})
		}
		sc.paint(p)
	}, as...)
}

// An svgPainter draws a scene as SVG: a mark is a reference to its symbol, an
// ink a class, a ring a group that says itself in words.
type svgPainter struct {
	*canvas

	// reach is the tab index of rings. By itself a chart is gone through round
	// by round with the keyboard; on a page that would hold up a reader, and
	// only a script of the page may put the focus there.
	reach string

	inRing bool
}

func (p *svgPainter) begin(r *sceneRing) {
	as := []attr{{"class", inkTable[r.ink].class}, {"data-round", strconv.Itoa(r.round)}, {"data-count", strconv.Itoa(r.count)},
		{"role", "graphics-symbol img"}, {"tabindex", p.reach}}
	if r.ghost {
		as = []attr{{"class", inkTable[r.ink].class}, {"data-repeats", strconv.Itoa(r.round)}, {"aria-hidden", "true"}}
	}
	p.inRing = true
	p.open(r.middle, as...)
	if r.say != "" {
		p.title(r.say)
	}
}

func (p *svgPainter) end() {
	p.inRing = false
	p.shut()
}

func (p *svgPainter) line(ln line) {
	class := attr{"class", inkTable[ln.ink].class}
	switch {
	case ln.colour != "":
		p.path(ln.path, class, attr{"fill", ln.colour}, attr{"fill-opacity", numeral(bandOpacity(ln.colour))})
	case ln.fill:
		p.path(ln.path, class, attr{"style", "fill:currentColor;stroke:none"})
	default:
		p.path(ln.path, class)
	}
}

func (p *svgPainter) mark(m mark) { p.use(m) }

func (p *svgPainter) words(w words) {
	class := attr{"class", inkTable[w.ink].class}
	if p.inRing && w.size == ringTextSize(w.ink) { // the style sheet gives it
		if usual := ringTextAnchor(w.ink); w.anchor == usual {
			w.anchor = atStart
			p.text(w, class)
		} else {
			name := anchorNames[w.anchor]
			w.anchor = atStart
			p.text(w, class, attr{"style", "text-anchor:" + name})
		}
		return
	}
	p.text(w, class, attr{"font-size", tenths(w.size)})
}
