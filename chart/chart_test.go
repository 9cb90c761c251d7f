package chart

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"roundelay/pattern"
	"roundelay/pattern/golden"
	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// TestGolden keeps a few small charts byte for byte.
func TestGolden(t *testing.T) {
	for _, name := range []string{"round1", "pebble", "granny", "oval"} {
		for _, s := range samples {
			if s.name == name {
				golden.Check(t, name+".svg", drawn(t, piece(s.style, worked(s.specs...)), Options{}))
			}
		}
	}
}

func TestSameBytes(t *testing.T) {
	p := piece(pattern.Joined, worked(samples[6].specs...))
	if !bytes.Equal(drawn(t, p, Options{}), drawn(t, p, Options{})) {
		t.Error("two drawings of one piece differ")
	}
}

// A quad is the box of a symbol as it stands in a chart.
type quad struct {
	id      string
	corners [4]point
}

func quadOf(g *glyph, at point, angle float64) quad {
	q := quad{id: g.id}
	for k, c := range [4]point{{-g.w / 2, -g.h / 2}, {g.w / 2, -g.h / 2}, {g.w / 2, g.h / 2}, {-g.w / 2, g.h / 2}} {
		q.corners[k] = at.plus(c.turned(angle))
	}
	return q
}

// apart reports whether a line parallel to a side of one of them parts a and b.
func apart(a, b *quad) bool {
	for _, q := range [2]*quad{a, b} {
		for k := range 2 {
			d := point{q.corners[k+1].X - q.corners[k].X, q.corners[k+1].Y - q.corners[k].Y}
			aLow, aHigh := span(a, d)
			bLow, bHigh := span(b, d)
			if aHigh < bLow || bHigh < aLow {
				return true
			}
		}
	}
	return false
}

func span(q *quad, d point) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range q.corners {
		v := c.X*d.X + c.Y*d.Y
		low, high = min(low, v), max(high, v)
	}
	return low, high
}

// overlaps returns the pairs of boxes that overlap.
func overlaps(quads []quad) [][2]string {
	const cell = 4.0
	grid := map[[2]int][]int{}
	for i := range quads {
		c := quads[i].corners[0].to(quads[i].corners[2], 0.5)
		key := [2]int{int(math.Floor(c.X / cell)), int(math.Floor(c.Y / cell))}
		grid[key] = append(grid[key], i)
	}
	var out [][2]string
	for key, is := range grid {
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				for _, j := range grid[[2]int{key[0] + dx, key[1] + dy}] {
					for _, i := range is {
						if i < j && !apart(&quads[i], &quads[j]) {
							out = append(out, [2]string{fmt.Sprintf("%s %.2f", quads[i].id, quads[i].corners[0]), fmt.Sprintf("%s %.2f", quads[j].id, quads[j].corners[0])})
						}
					}
				}
			}
		}
	}
	return out
}

// checkDrawing checks of a drawn chart that it is well formed, that every
// stitch is one use in the group of its round, that no two symbols or labels
// overlap and that nothing is outside the picture. It looks at the file alone.
func checkDrawing(t *testing.T, name string, src []byte, rounds []*notation.Round) {
	t.Helper()
	root := parseSVG(t, src)
	if root.attr["class"] != "chart" {
		t.Errorf("%s: class %q", name, root.attr["class"])
	}
	shown := 0
	for _, e := range root.children {
		if e.attr["data-round"] == "" {
			continue
		}
		if shown == len(rounds) {
			t.Fatalf("%s: more rings than rounds", name)
		}
		r := rounds[shown]
		shown++
		if e.attr["data-round"] != strconv.Itoa(r.Number) || e.attr["data-count"] != strconv.Itoa(r.Made) {
			t.Errorf("%s: round %d of %d is drawn as %v", name, r.Number, r.Made, e.attr)
		}
		got := map[string]int{}
		for _, u := range e.children {
			if u.name == "use" && strings.HasPrefix(u.attr["href"], "#st-") {
				got[u.attr["href"]]++
			}
		}
		want := map[string]int{}
		for _, s := range r.Stitches {
			want["#st-"+s.Kind.ID()]++
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: round %d (-stitches +uses):\n%s", name, r.Number, diff)
		}
	}
	if shown != len(rounds) {
		t.Errorf("%s: %d rings for %d rounds", name, shown, len(rounds))
	}
	checkTidy(t, name, root)
}

// checkTidy checks of a drawn chart that no two symbols or labels overlap, that
// nothing is outside the picture, and that every symbol is there once.
func checkTidy(t *testing.T, name string, root *element) {
	t.Helper()
	var low, size point
	if _, err := fmt.Sscan(root.attr["viewBox"], &low.X, &low.Y, &size.X, &size.Y); err != nil {
		t.Fatal(err)
	}
	inside := func(what string, p point) {
		if p.X*unit < low.X || p.Y*unit < low.Y || p.X*unit > low.X+size.X || p.Y*unit > low.Y+size.Y {
			t.Errorf("%s: %s at %.2f is outside the picture", name, what, p)
		}
	}
	ids := map[string]bool{}
	var quads []quad
	root.walk(func(e *element) {
		if id := e.attr["id"]; id != "" {
			if ids[id] {
				t.Errorf("%s: id %s twice", name, id)
			}
			ids[id] = true
		}
	})
	root.walk(func(e *element) {
		switch e.name {
		case "use":
			id := e.attr["href"][1:]
			if e.placed == nil && !ids[id] {
				t.Errorf("%s: no symbol %s", name, id)
			}
			g := symbolsByID()[strings.TrimPrefix(id, "pale-")]
			if g == nil {
				t.Fatalf("%s: unknown symbol %s", name, id)
			}
			at, angle := e.transform(t)
			q := quadOf(g, at, angle)
			for _, c := range q.corners {
				inside(id, c)
			}
			quads = append(quads, q)
		case "text", "tspan":
			var x, y, size float64
			for k, v := range map[string]*float64{"x": &x, "y": &y, "font-size": &size} {
				*v, _ = strconv.ParseFloat(e.attr[k], 64)
				*v /= unit
			}
			x, y = x+e.origin.X, y+e.origin.Y
			anchor := e.attr["text-anchor"]
			switch {
			case e.inRing:
				size = labelSize
				if e.name == "tspan" {
					size = countSize
				}
				if (e.name == "tspan") != (e.attr["class"] == backClass) {
					anchor = "end"
				}
			case size == 0:
				size, _ = strconv.ParseFloat(root.attr["font-size"], 64)
				size /= unit
			}
			w := size * textWidth(e.text)
			switch anchor {
			case "end":
				x -= w
			case "middle":
				x -= w / 2
			}
			g := &glyph{id: "text " + e.text, w: w, h: size * 0.72}
			q := quadOf(g, point{x + w/2, y - size*0.36}, 0)
			for _, c := range q.corners {
				inside(g.id, c)
			}
			quads = append(quads, q)
		case "path":
			if e.inDefs {
				return
			}
			for _, p := range e.path(t).flat() {
				inside("path", p)
			}
		}
	})
	if o := overlaps(quads); len(o) > 0 {
		t.Errorf("%s: %d pairs overlap, such as %v", name, len(o), o[0])
	}
}

func TestDrawing(t *testing.T) {
	options := []Options{{}, {View: Whole, Plus: true}, {View: Halves, Hand: Left}}
	check := func(name string, style pattern.Style, specs []string) {
		rounds := worked(specs...)
		for _, opt := range options {
			checkDrawing(t, name, drawn(t, piece(style, rounds), opt), rounds)
		}
	}
	for _, s := range samples {
		check(s.name, s.style, s.specs)
	}
	for _, n := range []int{1, 2, 3, 4, 5, 7, 12, 40} {
		check(fmt.Sprintf("first %d", n), pattern.Spiral, []string{fmt.Sprintf("%d*sc", n), fmt.Sprintf("%d*dc.2", n), fmt.Sprintf("%d*sc2tog", n)})
	}
	check("60 rounds", pattern.Spiral, ball(6, 20, 21))
	rng := rand.New(rand.NewPCG(7, 8))
	for k := range 600 {
		specs := generators[k%len(generators)](rng)
		rounds := worked(specs...)
		checkDrawing(t, fmt.Sprintf("generated %d %q", k, specs), drawn(t, piece(pattern.Spiral, rounds), options[rng.IntN(len(options))]), rounds)
	}
}

// TestRings checks radius and least angle of rings of one kind of square symbol
// against values worked out beforehand: gaps of 0.1 along and 0.15 between the
// rings, 0.15 of slack.
func TestRings(t *testing.T) {
	counts := []int{6, 12, 18, 24, 30, 30, 24}
	radius := []float64{1.623337, 2.874091, 4.096091, 5.311058, 6.523226, 7.691002, 8.856248}
	angle := []float64{0.910607, 0.455303, 0.303536, 0.227652, 0.182121, 0.152672, 0.131448}
	edge := 0.5
	for i, n := range counts {
		var sh shapes
		for range n {
			sh.add(shapeKey{1, 1, 0.5, 0}, 1, false)
		}
		in := sh.fit(track{}, edge+0.15, 0.15)
		if got := in + 0.5; math.Abs(got-radius[i]) > 1e-6 {
			t.Errorf("ring %d has radius %.6f, want %.6f", i+1, got, radius[i])
		}
		if got := (track{}).reach(sh.boxes[0].left, in) / in * 2; math.Abs(got-angle[i]) > 1e-6 {
			t.Errorf("ring %d has angle %.6f, want %.6f", i+1, got, angle[i])
		}
		edge = sh.outermost(track{}, in)
	}
}

func TestTrack(t *testing.T) {
	for _, tr := range []track{{}, {corners: 2, side: 0.6}, {corners: 2, side: 8}, {corners: 4, side: 5, tilt: math.Pi / 4, start: -3}, {corners: 6, side: 2, tilt: math.Pi / 6, start: 1}} {
		for _, d := range []float64{0.2, 1, 7} {
			for k := -30; k < 60; k++ {
				turn := float64(k) / 20 * tr.turns()
				if got := tr.turn(tr.run(turn, d), d); math.Abs(got-turn) > 1e-9 {
					t.Errorf("%+v, distance %g: turn %g comes back as %g", tr, d, turn, got)
				}
				p, _ := tr.at(turn, d)
				q, _ := tr.at(tr.turn(tr.run(turn, d)+0.01, d), d)
				if got := p.distance(q); math.Abs(got-0.01) > 1e-5 {
					t.Errorf("%+v, distance %g, turn %g: a step of 0.01 is %g long", tr, d, turn, got)
				}
				back, dist := tr.place(p)
				if off := math.Abs(math.Remainder(back-turn, tr.turns())); off > 1e-9 || math.Abs(dist-d) > 1e-9 {
					t.Errorf("%+v: %v is read at %g, %g, want %g, %g", tr, p, back, dist, turn, d)
				}
			}
		}
	}
}

// TestSymbols checks that every stitch has a symbol of its own that keeps
// inside its box and stands on its feet.
func TestSymbols(t *testing.T) {
	drawings := map[string]string{}
	for s := range stitch.All() {
		for _, cross := range []crosses{false, plusCross} {
			g := drawGlyph(s, cross)
			low, high := g.bounds()
			const tol = 1e-9
			if low.X < -g.w/2-tol || high.X > g.w/2+tol || low.Y < -g.h/2-tol || high.Y > g.h/2+tol {
				t.Errorf("%s reaches from %.3f to %.3f, its box is %.3f by %.3f", g.id, low, high, g.w, g.h)
			}
			if n := max(1, s.Legs()); len(g.feet) != n {
				t.Errorf("%s has %d feet, want %d", g.id, len(g.feet), n)
			}
			if cross == plusCross {
				continue
			}
			d := fmt.Sprint(g.pen, g.thin, g.filled)
			// More than five posts in one stitch are drawn as five; the key
			// says how many they are.
			if other, same := drawings[d]; same && !(s.N > 5 && s.Form > stitch.Invisible) {
				t.Errorf("%s looks like %s", g.id, other)
			}
			drawings[d] = g.id
		}
	}
}

// TestTurned checks that a round worked after a turn runs the other way.
func TestTurned(t *testing.T) {
	rounds := worked("8*sc turn", "4*(sc sc.2) turn", "12*sc")
	src := drawn(t, piece(pattern.Joined, rounds), Options{})
	checkDrawing(t, "turned", src, rounds)
	checkReadsBack(t, "turned", rounds)
}

func TestHostile(t *testing.T) {
	p := piece(pattern.Spiral, worked("6*sc"))
	p.Name = "<script>\"&'\x00\uFFFE</script>"
	root := parseSVG(t, drawn(t, p, Options{}))
	root.walk(func(e *element) {
		if e.name == "script" {
			t.Error("a name became an element")
		}
	})
	for name, r := range map[string]*notation.Round{
		"no stitches":       {Number: 2, Below: 0},
		"into what is not":  {Number: 2, Below: 0, Stitches: []notation.Stitch{{Kind: stitch.SC, Into: notation.Into{Where: notation.IntoStitch, Round: 7, First: 3, Last: 9}}}},
		"into itself":       {Number: 2, Below: 0, Stitches: []notation.Stitch{{Kind: stitch.SC, Into: notation.Into{Where: notation.IntoStitch, Round: 1}}}},
		"backwards":         {Number: 2, Below: 5, Stitches: []notation.Stitch{{Kind: stitch.SC, Into: notation.Into{Where: notation.IntoStitch, First: 4, Last: 2}}}},
		"past the end":      {Number: 2, Below: 0, Stitches: []notation.Stitch{{Kind: stitch.SC, Into: notation.Into{Where: notation.IntoSpace, First: 4, Last: 99}}}},
		"only a join":       {Number: 2, Below: 0, Joined: true, Stitches: []notation.Stitch{{Kind: stitch.SlSt, Role: notation.Joining, Into: notation.Into{Where: notation.IntoStitch, Round: -1, First: 5, Last: 5}}}},
		"only chains":       {Number: 2, Below: 0, Stitches: []notation.Stitch{{Kind: stitch.Ch}, {Kind: stitch.Ch}}},
		"a starting chain":  {Number: 2, Below: 0, Stitches: []notation.Stitch{{Kind: stitch.Ch, Role: notation.StartingChain, Counts: true}}},
		"a decrease of one": {Number: 2, Below: 0, Stitches: []notation.Stitch{{Kind: stitch.SC2Tog, Into: notation.Into{Where: notation.IntoStitch, Round: 0, First: 3, Last: 3}}}},
	} {
		r.Made = r.Count()
		rounds := append(worked("6*sc"), r)
		checkDrawing(t, name, drawn(t, piece(pattern.Joined, rounds), Options{}), rounds)
	}
	if err := Draw(io.Discard, &pattern.Pattern{}, piece(pattern.Spiral, nil), Options{}); err == nil {
		t.Error("a piece without rounds is drawn")
	}
}

// disc returns a flat disc of sc of about n stitches.
func disc(n int) []*notation.Round {
	var rounds []*notation.Round
	for total, k := 0, 1; total < n; k++ {
		r := &notation.Round{Number: k, Below: k - 2}
		shift := k % 2 * k / 2
		for j := 0; len(r.Stitches) < 6*k; j++ {
			s := notation.Stitch{Kind: stitch.SC, Counts: true, Into: notation.Into{Where: notation.IntoStitch, Round: int32(k - 2), First: int32(j), Last: int32(j)}}
			if k == 1 {
				s.Into = notation.Into{Where: notation.IntoRing, Round: -1, Last: -1}
			}
			r.Stitches = append(r.Stitches, s)
			if k > 1 && (j+shift)%(k-1) == 0 {
				r.Stitches = append(r.Stitches, s)
			}
		}
		r.Made = len(r.Stitches)
		total += r.Made
		rounds = append(rounds, r)
	}
	return rounds
}

func TestLargeDisc(t *testing.T) {
	rounds := disc(30_000)
	src := drawn(t, piece(pattern.Spiral, rounds), Options{})
	checkDrawing(t, "disc", src, rounds)
}

// TestSmall holds the size of a file, with all that is in it once, to so many
// bytes a stitch. A stitch by itself takes 50 to 54, a mark as many, a ring with its
// sentence and its label some 300, and the sheet of styles and the key 3000.
func TestSmall(t *testing.T) {
	for _, tt := range []struct {
		name   string
		rounds []*notation.Round
		most   float64
	}{
		{"a disc", disc(400), 85},
		{"a larger one", disc(1500), 71.5},
		{"a large one", disc(4000), 64.5},
		{"a very large one", disc(30_000), 58.5},
		{"a ball", worked(ball(6, 9, 12)...), 78},
		{"a large ball", worked(ball(6, 20, 22)...), 65.5},
	} {
		if per := bytesPerStitch(t, tt.rounds); per > tt.most {
			t.Errorf("%s takes %.1f bytes a stitch", tt.name, per)
		}
	}
}

// bytesPerStitch returns the size of a chart against the number of its stitches.
func bytesPerStitch(t testing.TB, rounds []*notation.Round) float64 {
	n := 0
	for _, r := range rounds {
		n += len(r.Stitches)
	}
	return float64(len(drawn(t, piece(pattern.Spiral, rounds), Options{}))) / float64(n)
}

func BenchmarkDraw(b *testing.B) {
	for _, n := range []int{400, 4_000, 30_000, 300_000} {
		rounds := disc(n)
		p := piece(pattern.Spiral, rounds)
		stitches := 0
		for _, r := range rounds {
			stitches += len(r.Stitches)
		}
		b.Run(fmt.Sprintf("layout/stitches=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				newLayout(rounds, setting{})
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(stitches), "ns/stitch")
		})
		b.Run(fmt.Sprintf("draw/stitches=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := Draw(io.Discard, &pattern.Pattern{}, p, Options{}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(bytesPerStitch(b, rounds), "B/stitch")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(stitches), "ns/stitch")
		})
	}
}

// TestInline checks that all that inline charts refer to is in Symbols, and
// that they define nothing themselves, so that a page may hold many.
func TestInline(t *testing.T) {
	for _, s := range samples {
		rounds := worked(s.specs...)
		var symbols bytes.Buffer
		if err := Symbols(&symbols, used(rounds), Options{}); err != nil {
			t.Fatal(err)
		}
		ids := map[string]bool{}
		parseSVG(t, symbols.Bytes()).walk(func(e *element) { ids[e.attr["id"]] = true })
		for _, v := range []View{Whole, Halves} {
			src := drawn(t, piece(s.style, rounds), Options{Inline: true, View: v})
			if !bytes.HasPrefix(src, []byte("<svg")) {
				t.Errorf("%s starts with %.20q", s.name, src)
			}
			parseSVG(t, src).walk(func(e *element) {
				if id := e.attr["id"]; id != "" {
					t.Errorf("%s: id %s", s.name, id)
				}
				if ref := e.attr["href"]; ref != "" && e.placed == nil && !ids[ref[1:]] {
					t.Errorf("%s: %s is not in the symbols", s.name, ref)
				}
			})
		}
	}
}

// TestLeftHand checks that the chart for the left hand is the mirror image of
// that for the right, stitch by stitch, and that its words read as before.
func TestLeftHand(t *testing.T) {
	for _, s := range samples {
		p := piece(s.style, worked(s.specs...))
		right := parseSVG(t, drawn(t, p, Options{}))
		left := parseSVG(t, drawn(t, p, Options{Hand: Left}))
		var uses, mirrored []*element
		var texts, others []string
		right.walk(func(e *element) {
			switch e.name {
			case "use":
				uses = append(uses, e)
			case "text", "tspan":
				texts = append(texts, e.text)
			}
		})
		left.walk(func(e *element) {
			switch e.name {
			case "use":
				mirrored = append(mirrored, e)
			case "text", "tspan":
				others = append(others, e.text)
			}
		})
		if diff := cmp.Diff(texts, others); diff != "" {
			t.Errorf("%s: words (-right +left):\n%s", s.name, diff)
		}
		for i, e := range uses {
			at, angle := e.transform(t)
			to, turned := mirrored[i].transform(t)
			off := 0.004
			if e.placed != nil { // read from strokes
				off = 0.05
			}
			if to != (point{-at.X, at.Y}) && to.distance(point{-at.X, at.Y}) > 0.041 || math.Abs(math.Remainder(angle+turned, 2*math.Pi)) > off {
				t.Errorf("%s: %v is mirrored as %v", s.name, e.attr, mirrored[i].attr)
			}
			if e.placed != nil {
				continue
			}
			handed := symbolsByID()[e.attr["href"][1:]].handed
			if handed != strings.HasSuffix(mirrored[i].attr["transform"], "scale(-1 1)") {
				t.Errorf("%s: %v is mirrored as %v", s.name, e.attr, mirrored[i].attr)
			}
		}
	}
}
