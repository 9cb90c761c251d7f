package solid

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"roundelay/pattern"
	"roundelay/pattern/source"
)

const head = `
title = "Thing"
terms = "US"
[gauge]
stitch = "sc"
stitches = 20
rounds = 22
over = "10 cm"
[[yarn]]
key = "MC"
hex = "#c9563c"
[[yarn]]
key = "CC"
hex = "#f2ede0"
`

// estimate returns the estimate of a pattern that goes on after head.
func estimate(t testing.TB, pieces string) *pattern.Estimate {
	t.Helper()
	p, findings := pattern.Load(fstest.MapFS{"pattern.toml": {Data: []byte(head + pieces)}}, "pattern.toml")
	if p == nil || findings.Count(source.Error) > 0 {
		t.Fatalf("the pattern is not sound:\n%v", findings)
	}
	e, err := p.Estimate(p.Sizes[0])
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func piece(facts, rounds string) string {
	return "[[piece]]\nname = \"Piece\"\n" + facts + "\nrounds = '''\n" + rounds + "\n'''\n"
}

var (
	ball = piece("stuffed = true\nclosed = true", `Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (sc 1, inc) x 6 (18)
Rnd 4: (sc 2, inc) x 6 (24)
Rnds 5-6: sc in each st around (24)
Rnds 7-8: with CC, sc in each st around (24)
Rnd 9: with MC, (sc 2, dec) x 6 (18)
Rnd 10: (sc 1, dec) x 6 (12)
Rnd 11: dec x 6 (6)`)
	disc = piece("", `Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (sc 1, inc) x 6 (18)
Rnd 4: (sc 2, inc) x 6 (24)`)
	net = piece("style = \"joined\"", `Rnd 1: ch 3, 11 dc in magic ring, join with sl st in top of ch-3 (12)
Rnd 2: ch 4, (dc 1, ch 1) x 11, join with sl st in third ch (12 dc, 12 ch-1 sp)`)
	knob = piece("stuffed = true\nclosed = true", `Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (sc 1, bobble) x 6 (12)
Rnd 4: dec x 6 (6)`)
)

func TestSVG(t *testing.T) {
	for name, pieces := range map[string]string{"ball": ball, "disc": disc, "net": net, "knob": knob, "two": ball + strings.ReplaceAll(disc, "Piece", "Other")} {
		t.Run(name, func(t *testing.T) {
			e := estimate(t, pieces)
			var first, again bytes.Buffer
			for _, b := range []*bytes.Buffer{&first, &again} {
				if err := SVG(b, e, `A "ball" & <more>`, Options{}); err != nil {
					t.Fatal(err)
				}
			}
			if !bytes.Equal(first.Bytes(), again.Bytes()) {
				t.Error("drawn twice, it differs")
			}
			wellFormed(t, first.Bytes())
			s, err := newScene(e, Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range s.facets {
				for _, p := range f.corners {
					if !(p.x >= s.low.x-1e-9 && p.x <= s.high.x+1e-9 && p.y >= s.low.y-1e-9 && p.y <= s.high.y+1e-9) {
						t.Fatalf("%v lies outside the picture, %v to %v", p, s.low, s.high)
					}
				}
			}
		})
	}
}

func wellFormed(t *testing.T, data []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

// Of a disc all stitches are seen, each as the two legs of a V in its colour.
func TestEveryStitch(t *testing.T) {
	e := estimate(t, disc)
	s, err := newScene(e, Options{})
	if err != nil {
		t.Fatal(err)
	}
	strands := 0
	for _, f := range s.facets {
		if !f.ground {
			strands++
		}
	}
	if want := 2 * (6 + 12 + 18 + 24); strands != want {
		t.Errorf("%d legs of stitches are drawn, not %d", strands, want)
	}
	plain, err := newScene(e, Options{Plain: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range plain.facets {
		if !f.ground {
			t.Fatal("a plain picture has a stitch in it")
		}
	}
}

// The rounds of a spiral run into each other without a gap, and its stitches
// stand above those that they are worked into.
func TestSpiral(t *testing.T) {
	e := estimate(t, ball)
	d := newDrawing(e.Pieces[0], yarnColours(e, Options{}), false)
	for i, r := range d.rings[:len(d.rings)-2] {
		next := d.rings[i+1]
		if math.Abs(r.turn(1)-next.turn(0)) > 1e-9 || math.Abs(r.upper(1)-next.upper(0)) > 1e-9 {
			t.Errorf("round %d ends at %.3f turns, %.3f up; the next begins at %.3f, %.3f", i+1, r.turn(1), r.upper(1), next.turn(0), next.upper(0))
		}
		for _, at := range []float64{0, 0.3, 0.99} {
			up := next.turn(at) - 1 // one turn before
			want := r.upper((up - r.start) / r.span)
			if got := next.lower(at); math.Abs(got-want) > 1e-9 {
				t.Errorf("round %d at %.2f stands on %.3f, and what is below reaches %.3f", i+2, at, got, want)
			}
		}
	}
	// Round 6 is plain: each stitch stands over one of round 5.
	below, above := d.rings[4], d.rings[5]
	for k := range above.cells {
		a := above.turn((above.cells[k].from + above.cells[k].to) / 2)
		b := below.turn((below.cells[k].from + below.cells[k].to) / 2)
		if off := math.Abs(math.Remainder(a-b, 1)) * 24; off > 0.25 {
			t.Errorf("stitch %d of round 6 stands %.2f stitches beside its own", k+1, off)
		}
	}
	// A change of colour makes a step of one round where it begins.
	change := d.rings[6]
	if step := change.lower(0.999) - change.lower(0); math.Abs(step-1) > 0.05 {
		t.Errorf("the step at the change of colour is %.2f rounds", step)
	}
}

func TestJoined(t *testing.T) {
	e := estimate(t, net)
	d := newDrawing(e.Pieces[0], yarnColours(e, Options{}), false)
	seams, holes := 0, 0
	for _, r := range d.rings {
		if r.lower(0) != r.lower(1) || r.upper(0) != r.upper(1) {
			t.Errorf("a joined round rises from %.2f to %.2f", r.upper(0), r.upper(1))
		}
		for _, c := range r.cells {
			if c.seam {
				seams++
			}
			if c.hole {
				holes++
			}
		}
	}
	if seams != 2 || holes < 11 {
		t.Errorf("%d seams and %d holes, not 2 and 11 or more", seams, holes)
	}
}

func TestKnobs(t *testing.T) {
	e := estimate(t, knob)
	d := newDrawing(e.Pieces[0], yarnColours(e, Options{}), false)
	d.scene()
	if n := len(d.bumps); n == 0 || n%3 != 0 || n > 18 {
		t.Errorf("%d parts of knobs are drawn; of 6 bobbles those in sight have 3 each", n)
	}
}

func TestStartUp(t *testing.T) {
	wall := strings.Replace(disc, "(24)\n'''", "(24)\nRnds 5-12: sc in each st around (24)\n'''", 1)
	cone := piece("", `Rnd 1: 6 sc in magic ring (6)
Rnd 2: (sc 1, inc) x 3 (9)
Rnd 3: (sc 2, inc) x 3 (12)
Rnd 4: (sc 3, inc) x 3 (15)
Rnd 5: (sc 4, inc) x 3 (18)`)
	oval := piece("", `Rnd 1: ch 11, sc in 2nd ch from hook, sc in each of next 8 ch, 3 sc in last ch, working along other side of chain, sc in each of next 8 ch, 2 sc in next ch (22)
Rnd 2: inc, sc 8, inc x 3, sc 8, inc x 2 (28)
Rnd 3: sc 1, inc, sc 8, (sc 1, inc) x 3, sc 8, (sc 1, inc) x 2 (34)
Rnds 4-9: sc in each st around (34)`)
	pear := piece("stuffed = true\nclosed = true", `Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnds 3-8: sc in each st around (12)
Rnd 9: inc x 12 (24)
Rnds 10-14: sc in each st around (24)
Rnd 15: dec x 12 (12)
Rnd 16: dec x 6 (6)`)
	for _, test := range []struct {
		name, pieces string
		want         bool
	}{
		{"a cup stands on its start", wall, false},
		{"a cap stands on its rim", strings.Replace(wall, `name = "Piece"`, `name = "Watch cap"`, 1), true},
		{"an oval basket stands on its start", oval, false},
		{"a cone stands on its rim", cone, true},
		{"a pear stands on its wide end", pear, true},
		{"a disc shows its right side", disc, true},
	} {
		if got := startUp(estimate(t, test.pieces).Pieces[0]); got != test.want {
			t.Errorf("%s: start up is %v", test.name, got)
		}
	}
}

// Around an oval a place moves by the same way for the same part of a turn, and
// ends where it began.
func TestOval(t *testing.T) {
	s := &surface{r: []float64{20, 20}, z: []float64{0, 1}, nr: []float64{1, 1}, nz: []float64{0, 0}, length: 50}
	const n = 720
	step := (2*math.Pi*20 + 2*50) / n
	last, _ := s.at(0, 0, 0)
	for i := 1; i <= n; i++ {
		p, normal := s.at(0, float64(i)/n, 0)
		d := p.minus(last)
		if got := math.Sqrt(d.dot(d)); math.Abs(got-step) > 0.01*step {
			t.Fatalf("at %d of %d it moves by %.4f mm, not %.4f", i, n, got, step)
		}
		if d.cross(normal).z < 0 { // clockwise
			t.Fatalf("at %d of %d the normal points inwards", i, n)
		}
		last = p
	}
}

func TestColours(t *testing.T) {
	e := estimate(t, ball)
	has := func(opt Options, what func(colour) bool) (some, all bool) {
		s, err := newScene(e, opt)
		if err != nil {
			t.Fatal(err)
		}
		all = true
		for _, f := range s.facets {
			some = some || what(f.colour)
			all = all && what(f.colour)
		}
		return some, all
	}
	green := func(c colour) bool { return c[1] > c[0]+20 && c[1] > c[2]+20 }
	if some, _ := has(Options{}, green); some {
		t.Error("a coral ball has green in it")
	}
	if some, all := has(Options{Colours: []string{"#208040"}}, green); !some || all {
		t.Errorf("a green ball with a white belt: some green %v, all green %v", some, all)
	}
	if _, all := has(Options{Grey: true}, func(c colour) bool { return c[0] == c[1] && c[1] == c[2] }); !all {
		t.Error("a grey picture has colours in it")
	}
	for s, ok := range map[string]bool{"#c9563c": true, "#c9563": false, "c9563c0": false, "": false, "#gggggg": false} {
		if _, got := parseColour(s); got != ok {
			t.Errorf("%q is a colour: %v", s, got)
		}
	}
}

func TestPNG(t *testing.T) {
	e := estimate(t, ball)
	draw := func(opt Options) image.Image {
		var b bytes.Buffer
		if err := PNG(&b, e, 200, 160, opt); err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		if img.Bounds().Dx() != 200 || img.Bounds().Dy() != 160 {
			t.Fatalf("it is %v", img.Bounds())
		}
		return img
	}
	right, left := draw(Options{}), draw(Options{Left: true})
	near, different := 0, 0
	for y := range 160 {
		for x := range 200 {
			r1, g1, _, _ := right.At(x, y).RGBA()
			r2, g2, _, _ := left.At(199-x, y).RGBA()
			if d := math.Abs(float64(r1)-float64(r2)) + math.Abs(float64(g1)-float64(g2)); d > 0x3000 {
				different++
			} else {
				near++
			}
		}
	}
	if different*50 > near {
		t.Errorf("%d of %d pixels of the left hand's picture are not the mirror image", different, near+different)
	}
	if r, g, b, _ := right.At(100, 62).RGBA(); !(r > g+0x1000 && r > b+0x1000) {
		t.Errorf("above its belt the coral ball is %x %x %x", r>>8, g>>8, b>>8)
	}
	if r, g, b, _ := right.At(2, 2).RGBA(); [3]uint32{r >> 8, g >> 8, b >> 8} != [3]uint32{uint32(paper[0]), uint32(paper[1]), uint32(paper[2])} {
		t.Error("the corner is not paper")
	}
	for _, size := range [][2]int{{0, 100}, {100, -1}, {MaxSide + 1, 100}} {
		if err := PNG(io.Discard, e, size[0], size[1], Options{}); err == nil {
			t.Errorf("a picture of %v pixels is drawn", size)
		}
	}
	if err := SVG(io.Discard, &pattern.Estimate{}, "", Options{}); err == nil {
		t.Error("a picture of nothing is drawn")
	}
}

func TestProfile(t *testing.T) {
	for _, test := range []struct {
		pieces string
		high   bool
	}{{ball, true}, {disc, false}} {
		e := estimate(t, test.pieces)
		var b bytes.Buffer
		if err := Profile(&b, e.Pieces[0], e, "An outline", Options{}); err != nil {
			t.Fatal(err)
		}
		wellFormed(t, b.Bytes())
		p := e.Pieces[0]
		if want := fmt.Sprintf(">%.0f mm across<", p.AcrossMM.Value); !strings.Contains(b.String(), want) {
			t.Errorf("it does not say %s", want)
		}
		if want := fmt.Sprintf(">%.0f mm high<", p.HeightMM.Value); strings.Contains(b.String(), want) != test.high {
			t.Errorf("says %s: %v", want, !test.high)
		}
	}
}

// tower is a piece of so many rounds and stitches in each.
func tower(t testing.TB, rounds, stitches int) *pattern.Estimate {
	return estimate(t, piece("stuffed = true\nclosed = true", fmt.Sprintf("Rnd 1: %d sc in magic ring (%d)\nRnds 2-%d: sc in each st around (%d)", stitches, stitches, rounds, stitches)))
}

// However large a piece is, its picture stays small.
func TestBound(t *testing.T) {
	s, err := newScene(tower(t, 900, 90), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if most := maxRings * bands; len(s.facets) == 0 || len(s.facets) > most {
		t.Errorf("%d facets; at most %d were meant", len(s.facets), most)
	}
}

func BenchmarkSVG500Rounds(b *testing.B) {
	e := tower(b, 500, 60)
	for b.Loop() {
		if err := SVG(io.Discard, e, "Tower", Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPNG500Rounds(b *testing.B) {
	e := tower(b, 500, 60)
	for b.Loop() {
		if err := PNG(io.Discard, e, 1200, 630, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPNGBall(b *testing.B) {
	e := estimate(b, ball)
	for b.Loop() {
		if err := PNG(io.Discard, e, 1200, 630, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// A square has straight sides, each as far from the middle as a round of its
// corners makes it, with a corner where three stitches go into one.
func TestCorners(t *testing.T) {
	e := estimate(t, piece("", `Rnd 1: 8 sc in magic ring (8)
Rnd 2: (3 sc in next st, sc 1) x 4 (16)
Rnd 3: (sc 1, 3 sc in next st, sc 2) x 4 (24)
Rnd 4: (sc 2, 3 sc in next st, sc 3) x 4 (32)`))
	d := newDrawing(e.Pieces[0], yarnColours(e, Options{}), false)
	side := e.Pieces[0].AcrossMM.Value / 2
	last := d.rings[len(d.rings)-1]
	for k := range 8 {
		turn := d.surface.corner + float64(k)/8
		want := side * []float64{math.Sqrt2, 1}[k%2]
		if p, _ := d.surface.at(float64(last.edge), turn, 0); math.Abs(math.Hypot(p.x, p.y)-want) > 1e-9 {
			t.Errorf("%d eighths on from a corner it is %.2f mm to the middle, want %.2f", k, math.Hypot(p.x, p.y), want)
		}
	}
	bends := 0
	last.parts(func(from, to float64, _ int) {
		if _, ok := d.bend(last, from, to); ok {
			bends++
		}
	})
	if bends < 3 { // a corner may fall between two parts
		t.Errorf("the outline has %d corners", bends)
	}
	var b bytes.Buffer
	if err := Profile(&b, e.Pieces[0], e, "Square", Options{}); err != nil || strings.Contains(b.String(), "<circle") {
		t.Errorf("its outline, %v, has circles:\n%s", err, b.String())
	}
}

// The shadow lies where the piece stands: that of a square is a square, that of
// an oval is turned with it.
func TestShadows(t *testing.T) {
	square := estimate(t, piece("", `Rnd 1: 8 sc in magic ring (8)
Rnd 2: (3 sc in next st, sc 1) x 4 (16)
Rnd 3: (sc 1, 3 sc in next st, sc 2) x 4 (24)`))
	oval := estimate(t, piece("", `Rnd 1: ch 11, sc in 2nd ch from hook, sc in each of next 8 ch, 3 sc in last ch, working along other side of chain, sc in each of next 8 ch, 2 sc in next ch (22)
Rnds 2-6: sc in each st around (22)`))
	for name, e := range map[string]*pattern.Estimate{"square": square, "oval": oval} {
		d := newDrawing(e.Pieces[0], yarnColours(e, Options{}), false)
		last := float64(len(d.surface.r) - 1)
		foot := d.surface.outline(d.surface.r[int(last)])
		for i, p := range foot {
			q, _ := d.surface.at(last, d.surface.corner+float64(i)/float64(len(foot)), 0)
			if math.Hypot(p.x-q.x, p.y-q.y) > 1e-9 {
				t.Fatalf("%s: place %d of the outline is at %.2f, %.2f, of the piece at %.2f, %.2f", name, i, p.x, p.y, q.x, q.y)
			}
		}
	}
}
