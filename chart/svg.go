package chart

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/stitch"
)

// fonts asks for a book face with figures of one width and one height.
const fonts = `"Palatino Linotype",Palatino,"URW Palladio L","P052","Book Antiqua",Georgia,"DejaVu Serif",serif`

// Style returns the style sheet of charts, for pages that hold charts drawn
// inline. A chart that stands alone has it inside.
func Style() string {
	return style(":is(.chart,.chart-key) ", func(ink) bool { return true }, true)
}

// filledClass is of symbols, and parts of them, in solid ink; backClass is of the
// words of rings that are read the other way.
const (
	filledClass = "f"
	backClass   = "b"
)

// style returns the style sheet of a chart drawn in some inks. Its rules are for
// what is inside a scope; without one, for all of a file. back is for rings that run
// the other way.
func style(scope string, has func(ink) bool, back bool) string {
	selector := func(i ink) string {
		class := strings.ReplaceAll(inkTable[i].class, " ", ".")
		switch {
		case i == textInk:
			return scope + "text"
		case i == countInk:
			return scope + "." + class + "," + scope + "tspan"
		case scope != "" && (i == incInk || i == decInk): // of symbols too, which stand nowhere: no scope reaches them
			return scope + "." + class + ",g." + class
		}
		return scope + "." + class
	}
	var b strings.Builder
	rule := func(selector, body string) { fmt.Fprintf(&b, "%s{%s}\n", selector, body) }
	root := ".chart"
	if scope != "" {
		root += ",.chart-key svg"
	}
	rule(root, "fill:none;stroke-linecap:round;stroke-linejoin:round;stroke-width:"+numeral(penWidth*unit)+
		";font-family:"+fonts+";font-variant-numeric:lining-nums tabular-nums")
	rule("path."+filledClass+","+scope+"text,"+scope+"tspan", "fill:currentColor;stroke:none")
	rule(selector(numberInk), "font-weight:bold")
	// On rings the number, and in the same line after it the count.
	label, count := scope+"g text", scope+"g tspan"
	rule(label, "font-size:"+numeral(labelSize*unit)+"px;font-weight:bold")
	rule(count, "font-size:"+numeral(countSize*unit)+"px;font-weight:400;text-anchor:end")
	if back {
		rule(scope+"g ."+backClass, "text-anchor:end")
		rule(scope+"g ."+backClass+" tspan", "text-anchor:start")
	}
	// each writes a rule for all inks that it gives the same body. An ink of two
	// classes, such as those of legs, has what either gives it, the latter first.
	each := func(body func(ink) string) {
		var bodies []string
		of := map[string][]string{}
		for i := oddInk; i < inks; i++ {
			if t := body(i); t != "" && has(i) && (inkTable[i].dash != nil || !strings.Contains(inkTable[i].class, " ")) {
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
	rule(selector(paperInk), "fill:currentColor;stroke:none")
	if has(bandInk) {
		rule(selector(bandInk), "stroke:none")
	}
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

// Symbols writes a hidden drawing that holds the symbols of the stitches and
// all marks, for a page whose charts are drawn inline: once on the page, before
// them.
func Symbols(w io.Writer, stitches []stitch.Stitch, opt Options) error {
	c := newCanvas()
	glyphs := slices.Clone(allMarks)
	for _, s := range stitches {
		glyphs = append(glyphs, drawGlyph(s, crosses(opt.Plus)))
	}
	c.hidden(func() { c.symbols(glyphs) })
	_, err := c.WriteTo(w)
	return err
}

// Key writes the key of a chart as an HTML list of the class chart-key, for a page
// whose charts are drawn inline and without one: its words are as large as those of
// the page, however narrow the chart is shown. Style has its style.
func Key(w io.Writer, p *pattern.Pattern, piece *pattern.Piece, opt Options) error {
	opt.mute, opt.NoKey = true, false
	sc, err := newScene(p, piece, opt)
	if err != nil {
		return err
	}
	c := newCanvas()
	c.tag("ul", tagEnd+"\n", attr{"class", "chart-key"})
	for i := range sc.entries {
		e := &sc.entries[i]
		symbol := &scene{over: joined(e.drawn(opt.Hand)), words: e.words}
		symbol.fit(0.05)
		const least = 2.2 // so that symbols stand one below the other
		wide := max(least/2, -symbol.low.X, symbol.high.X)
		symbol.low.X, symbol.high.X = -wide, wide
		c.tag("li", tagEnd)
		c.inline(symbol.low, symbol.high, func() { symbol.paint(&svgPainter{canvas: c}) })
		c.words(e.text)
		io.WriteString(c.svg.Writer, "</li>\n")
	}
	io.WriteString(c.svg.Writer, "</ul>\n")
	if _, err := c.WriteTo(w); err != nil {
		return fmt.Errorf("write the key of %s: %w", piece.Name, err)
	}
	return nil
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

// glyphs returns the symbols that the scene places, without those of ghosts.
func (sc *scene) glyphs() []*glyph {
	seen := map[*glyph]bool{}
	var out []*glyph
	see := func(marks []mark, ghost bool) {
		for i := range marks {
			if g := marks[i].glyph; !seen[g] && !(ghost && g.isStitch()) {
				seen[g] = true
				out = append(out, g)
			}
		}
	}
	for i := range sc.rings {
		see(sc.rings[i].marks, sc.rings[i].ghost)
	}
	see(sc.marks, false)
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
	has[legInk] = has[legInk] || has[incLegInk] || has[decLegInk]
	return has
}

// svg writes the scene as SVG.
func (sc *scene) svg(c *canvas, opt Options) {
	n := 0
	for i := range sc.rings {
		n += len(sc.rings[i].marks)
	}
	c.buf.Grow(4096 + 64*n)
	p := &svgPainter{canvas: c, reach: "0", textSize: sc.textSize()}
	if opt.Inline {
		p.reach = "-1"
	}
	as := []attr{{"role", "graphics-document document"}, {"aria-roledescription", opt.say("chart of rounds")}}
	if opt.tongue() > 0 {
		as = append(as, attr{"lang", opt.Language})
	}
	if p.textSize > 0 {
		as = append(as, attr{"font-size", tenths(p.textSize)})
	}
	c.document(sc.low, sc.high, opt.Inline, func() {
		c.title(sc.title)
		c.desc(sc.desc, opt.tongue() > 0)
		if !opt.Inline {
			has := sc.inks()
			c.style(style("", func(i ink) bool { return has[i] }, sc.back()))
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

	textSize float64 // of words that say none of their own

	inRing, ghost bool

	strokes, thin, filled path // of the symbols of a ghost

	label []words // of the ring: its number, its count, the letter of its yarn
}

func (p *svgPainter) begin(r *sceneRing) {
	as := []attr{{"class", inkTable[r.ink].class}, {"data-round", strconv.Itoa(r.round)}, {"data-count", strconv.Itoa(r.count)},
		{"role", "graphics-symbol img"}, {"tabindex", p.reach}}
	if r.ghost {
		as = []attr{{"class", inkTable[r.ink].class}, {"data-repeats", strconv.Itoa(r.round)}, {"aria-hidden", "true"}}
	}
	p.inRing, p.ghost = true, r.ghost
	p.open(r.top, as...)
	p.middle = point{rounded(r.middle.X), rounded(r.middle.Y)}.minus(p.origin)
	if r.say != "" {
		p.title(r.say)
	}
}

func (p *svgPainter) end() {
	p.path(p.strokes)
	p.path(p.thin, attr{"class", inkTable[legInk].class})
	p.path(p.filled, attr{"class", filledClass})
	p.strokes, p.thin, p.filled = p.strokes[:0], p.thin[:0], p.filled[:0]
	if len(p.label) > 0 {
		class := ""
		if p.label[0].anchor != atStart {
			class = backClass
		}
		p.text(p.label, attr{"class", class})
		p.label = p.label[:0]
	}
	p.inRing = false
	p.shut()
}

func (p *svgPainter) line(ln line) {
	class := inkTable[ln.ink].class
	switch {
	case ln.colour != "":
		p.path(ln.path, attr{"class", class}, attr{"fill", ln.colour}, attr{"fill-opacity", numeral(bandOpacity(ln.colour))})
	case ln.fill:
		p.path(ln.path, attr{"class", class + " " + filledClass})
	default:
		p.path(ln.path, attr{"class", class})
	}
}

func (p *svgPainter) mark(m mark) {
	if p.ghost && m.glyph.isStitch() { // a use is a stitch worked
		strokes, thin, filled := m.parts()
		p.strokes, p.thin, p.filled = append(p.strokes, strokes...), append(p.thin, thin...), append(p.filled, filled...)
		return
	}
	p.use(m)
}

func (p *svgPainter) words(w words) {
	if p.inRing && (w.ink == numberInk || w.ink == countInk) {
		p.label = append(p.label, w)
		return
	}
	as := []attr{{"class", inkTable[w.ink].class}, {"font-size", tenths(w.size)}}
	if w.anchor != atStart {
		as = append(as, attr{"text-anchor", anchorNames[w.anchor]})
	}
	if w.size == p.textSize {
		as[1].value = ""
	}
	p.text([]words{w}, as...)
}

// back reports whether a ring runs the other way.
func (sc *scene) back() bool {
	for i := range sc.rings {
		if ws := sc.rings[i].words; len(ws) > 0 && ws[0].anchor != atStart {
			return true
		}
	}
	return false
}

// textSize returns the size of most of the words beside the rings.
func (sc *scene) textSize() float64 {
	for _, w := range sc.words {
		if w.ink == textInk {
			return w.size
		}
	}
	return 0
}
