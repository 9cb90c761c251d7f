package chart

import (
	"fmt"
	"math"

	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// limit draws the ends of the part of the rings that is shown: a dashed line
// after its last stitch, and one before its first unless the round starts there.
func (sc *scene) limit(l *layout) {
	for _, r := range l.rings {
		if r.ghost {
			continue
		}
		low, high := l.bandEdges(r)
		for _, k := range [...]int{r.shown.from, r.shown.to} {
			if k < 1 || k >= len(r.places) || k == r.shown.from && r.round.Stitches[k-1].Role == notation.StartingChain {
				continue
			}
			turn := (r.places[k-1].turn + r.places[k].turn) / 2
			from, _ := l.at(r, turn, low)
			to, _ := l.at(r, turn, high)
			var p path
			p.move(from)
			p.line(to)
			sc.over = append(sc.over, line{path: p, ink: limitInk})
		}
	}
}

// timesText says how often a part is worked.
func timesText(times int) string { return fmt.Sprintf("× %d", times) }

// frameRepeat sets the picture round what is drawn of the rings, and says how
// often it is worked.
func (sc *scene) frameRepeat(ls []*layout, times int, opt *Options) {
	sc.least = 24
	sc.fit(0.9)
	size := textSize(max(sc.least, sc.high.X-sc.low.X))
	for i, l := range ls {
		text := timesText(times)
		if len(ls) > 1 {
			text += ": " + caption(l, i == 0, opt)
		}
		at := point{sc.low.X + 0.6, l.middle.Y - l.reach().Y - 0.8*size}
		sc.words = append(sc.words, words{at, atStart, size, numberInk, text})
		sc.high.X = max(sc.high.X, at.X+size*textWidth(text)+0.6)
		sc.low.Y = min(sc.low.Y, at.Y-1.4*size)
	}
}

// fit sets the corners of the picture round everything in it.
func (sc *scene) fit(margin float64) {
	low, high := point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	grow := func(p point, by float64) {
		low = point{min(low.X, p.X-by), min(low.Y, p.Y-by)}
		high = point{max(high.X, p.X+by), max(high.Y, p.Y+by)}
	}
	see := func(lines []line, marks []mark, texts []words) {
		for _, ln := range lines {
			for i := range ln.path {
				for _, p := range ln.path[i].points() {
					grow(p, penWidth)
				}
			}
		}
		for _, m := range marks {
			grow(m.at, math.Hypot(m.glyph.w, m.glyph.h)/2)
		}
		for _, w := range texts {
			wide := w.size * textWidth(w.text)
			left := w.at.X - wide*float64(w.anchor)/2
			grow(point{left, w.at.Y}, 0)
			grow(point{left + wide, w.at.Y - w.size}, 0)
		}
	}
	see(sc.under, nil, nil)
	for i := range sc.rings {
		r := &sc.rings[i]
		see(r.lines, r.marks, r.words)
	}
	see(sc.over, sc.marks, sc.words)
	sc.low = point{low.X - margin, low.Y - margin}
	sc.high = point{high.X + margin, high.Y + margin}
}

// stripLength is the most stitches in a line of a strip, and shortStrip the least
// that a narrow one is cut down to.
const (
	stripLength = 14
	shortStrip  = 5
)

// lineEnd returns where the line of a strip ends that begins the part p of a
// round: the lines are about as long as each other, and what is worked into one
// place stays together with its chains, if that leaves half a line.
func lineEnd(r *notation.Round, p part, most int) int {
	n := p.to - p.from
	lines := (n + most - 1) / most
	end := p.from + (n+lines-1)/lines
	for k := end; k < p.to && k > p.from+most/2; k-- {
		if s := &r.Stitches[k]; s.Kind != stitch.Ch && s.Into != lastInto(r.Stitches[:k]) {
			return k
		}
	}
	return end
}

// lastInto returns what the last stitch that is not a chain is worked into.
func lastInto(ss []notation.Stitch) notation.Into {
	for i := len(ss) - 1; i >= 0; i-- {
		if ss[i].Kind != stitch.Ch {
			return ss[i].Into
		}
	}
	return notation.Into{}
}

// strips draws each round straight over what it is worked into, in as many
// lines as it takes, one below the other; where the rounds fall into equal
// parts, the first part of each.
func (sc *scene) strips(rounds []*notation.Round, set setting, say []string) []*layout {
	times, parts := repeats(rounds)
	var ls []*layout
	y := 0.0
	for i, r := range rounds {
		if isFoundation(r) {
			continue
		}
		at := -1 // its ring in the scene
		for from := parts[i].from; from < parts[i].to; {
			to := lineEnd(r, part{from, parts[i].to}, set.line)
			lineSet := set
			lineSet.bare = from > parts[i].from
			if to < parts[i].to || times > 1 { // the end of the round is not in it
				lineSet.done = nil
			}
			l := newStrip(strip(rounds, i, part{from, to}), lineSet)
			top := l.rings[len(l.rings)-1]
			y += top.out + 1.1
			l.middle = point{0, y}
			ls = append(ls, l)
			sc.under = append(sc.under, l.bands(sc.yarns)...)
			for _, r := range l.rings {
				ring := l.composeRing(r, sc.yarns)
				if r.ghost || at < 0 {
					if !r.ghost {
						at = len(sc.rings)
						ring.say = say[i]
					}
					sc.rings = append(sc.rings, ring)
					continue
				}
				sc.rings[at].lines = append(sc.rings[at].lines, ring.lines...)
				sc.rings[at].marks = append(sc.rings[at].marks, ring.marks...)
			}
			sc.parts = append(sc.parts, section{point{0, y - top.out - 0.9}, point{0, y + 0.2}})
			if from == parts[i].from && times > 1 {
				end := l.straight
				if top.backwards { // its label is there
					end += top.startGap
				}
				at, _ := l.at(top, end, top.in+top.height/2+0.25)
				sc.words = append(sc.words, words{point{at.X - 0.2, at.Y + 0.5}, atEnd, 0.8, numberInk, timesText(times)})
			}
			from = to
		}
		y += 0.5
	}
	sc.least = 19
	sc.fit(0.9)
	for i := range sc.parts {
		sc.parts[i].low.X, sc.parts[i].high.X = sc.low.X, sc.high.X
	}
	return ls
}
