package pattern

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"roundelay/pattern/notation"
	"roundelay/pattern/shape"
	"roundelay/pattern/stitch"
)

// estimate loads a pattern of one size and returns its estimate.
func estimate(t testing.TB, text string) *Estimate {
	t.Helper()
	p, findings := Load(fstest.MapFS{"pattern.toml": &fstest.MapFile{Data: []byte("title = \"T\"\nterms = \"US\"\n" + text)}}, "pattern.toml")
	if err := findings.Err(); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	e, err := p.Estimate(p.Sizes[0])
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// counted returns rounds of single crochet with the given counts, written out.
func counted(counts ...int) string {
	var b strings.Builder
	for _, line := range notation.Print((&worker{kind: stitch.SC}).work(0, counts), nil, notation.Wording{}) {
		fmt.Fprintln(&b, line)
	}
	return b.String()
}

const gauge20 = "[gauge]\nstitches = 20\nrounds = 20\nover = \"10 cm\"\n"

// The check ball has 5 x 5 mm stitches; its sizes were computed by two programs.
var checkBall = counted(6, 12, 18, 23, 28, 31, 34, 35, 36, 35, 34, 31, 28, 23, 18, 12, 6)

func TestEstimateBall(t *testing.T) {
	for _, c := range []struct {
		firmness        string
		across, high, v float64
		rms, most       float64 // per cent
	}{
		{"soft", 58.227838, 59.605200, 103260.654, 0.4236, 2.3994},
		{"normal", 59.947290, 60.971586, 112711.286, 0.2912, 1.7346},
		{"firm", 62.828590, 63.612876, 129616.617, 0.2114, 1.3111},
	} {
		e := estimate(t, gauge20+"[[piece]]\nname = \"Ball\"\nstuffed = true\nclosed = true\nfirmness = \""+c.firmness+"\"\nrounds = '''\n"+checkBall+"'''\n")
		p := e.Pieces[0]
		if !near(p.AcrossMM.Value, c.across, 1e-6) || !near(p.HeightMM.Value, c.high, 1e-6) || !near(p.VolumeMM3.Value, c.v, 1e-3) {
			t.Errorf("%s: %.6f x %.6f mm, %.3f mm³; want %.6f x %.6f, %.3f", c.firmness, p.AcrossMM.Value, p.HeightMM.Value, p.VolumeMM3.Value, c.across, c.high, c.v)
		}
		if p.Ball == nil || !near(100*p.Ball.RMS, c.rms, 1e-4) || !near(100*p.Ball.Max, c.most, 1e-4) {
			t.Errorf("%s: the ball in it is %+v", c.firmness, p.Ball)
		}
		if p.Stitches != 410 || p.Finish != Filled || len(p.Approximations) > 0 || len(p.Concerns()) > 0 {
			t.Errorf("%s: %d stitches, %s, taken %q, but %q", c.firmness, p.Stitches, p.Finish, p.Approximations, p.Concerns())
		}
		if !near(p.AroundMM.Value, math.Pi*c.across, 1e-5) || !near(p.AcrossMM.Low, 0.95*c.across, 1e-6) || !near(p.AcrossMM.High, 1.05*c.across, 1e-6) {
			t.Errorf("%s: around %v, across %v", c.firmness, p.AroundMM, p.AcrossMM)
		}
	}
}

// Yarn and filling of the check ball: 419 stitches' worth, each 6.1 widths.
func TestEstimateYarn(t *testing.T) {
	ball := "[[piece]]\nname = \"Ball\"\nstuffed = true\nclosed = true\nmake = %d\n%srounds = '''\n" + checkBall + "'''\n"
	for _, c := range []struct {
		name          string
		head, keys    string
		times         int
		metres, grams shape.Amount
		fillingG      shape.Amount
		basis         YarnBasis
	}{
		{
			name: "by the stitch", times: 1,
			metres: shape.Amount{Value: 12.7795 + 0.3, Low: 10.2236 + 0.3, High: 1.1*15.3354 + 0.3}, fillingG: shape.Amount{Value: 2.8178, Low: 1.6907, High: 4.5085},
		},
		{
			name: "two of it, with a label", times: 2, head: "[[yarn]]\nkey = \"MC\"\nmetres_per_100g = 250\n", keys: "filling_grams = 3.5\n",
			metres:   shape.Amount{Value: 26.159, Low: 21.0472, High: 2 * (1.1*15.3354 + 0.3)},
			grams:    shape.Amount{Value: 10.4636, Low: 8.4189, High: 0.8 * (1.1*15.3354 + 0.3)},
			fillingG: shape.Amount{Value: 3.5, Low: 3.5, High: 3.5},
		},
		{
			name: "by the class", times: 1, head: "[[yarn]]\nkey = \"MC\"\nweight = 3\n", // 12 wraps: (3·5 + 2·5 + 4.2·25.4/12) mm each; 200 to 300 m
			metres:   shape.Amount{Value: 14.4999, Low: 11.6599, High: 1.1*17.0399 + 0.3},
			grams:    shape.Amount{Value: 5.79996, Low: 3.88663, High: (1.1*17.0399 + 0.3) / 2},
			fillingG: shape.Amount{Value: 2.8178, Low: 1.6907, High: 4.5085},
		},
		{
			name: "by a swatch", times: 1, head: "[swatch]\nwidth = \"10 cm\"\nheight = \"10 cm\"\ngrams = 12\n",
			metres: shape.Amount{Value: 12.7795 + 0.3, Low: 10.2236 + 0.3, High: 15.3354 + 0.3},
			grams:  shape.Amount{Value: 12.57, Low: 12.57 * 0.92, High: 12.57 * 1.08}, fillingG: shape.Amount{Value: 2.8178, Low: 1.6907, High: 4.5085},
			basis: BySwatch,
		},
		{
			name: "by the scales", times: 1, head: "[[yarn]]\nkey = \"MC\"\nmetres_per_100g = 250\nweighed_before = 50\nweighed_after = 44\n",
			metres: shape.Amount{Value: 15, Low: 15, High: 15}, grams: shape.Amount{Value: 6, Low: 6, High: 6},
			fillingG: shape.Amount{Value: 2.8178, Low: 1.6907, High: 4.5085}, basis: Weighed,
		},
	} {
		e := estimate(t, gauge20+c.head+fmt.Sprintf(ball, c.times, c.keys))
		same := func(a, b shape.Amount) bool {
			return near(a.Value, b.Value, 1e-4) && near(a.Low, b.Low, 1e-4) && near(a.High, b.High, 1e-4)
		}
		y := e.Yarns[0]
		if len(e.Yarns) != 1 || !same(y.Metres, c.metres) || !same(y.Grams, c.grams) || y.Basis != c.basis {
			t.Errorf("%s: %.4f m, %.4f g, %s; want %.4f m, %.4f g, %s", c.name, y.Metres, y.Grams, y.Basis, c.metres, c.grams, c.basis)
		}
		if f := e.Pieces[0].FillingG; !same(f, c.fillingG) {
			t.Errorf("%s: filling %.4f g, want %.4f", c.name, f, c.fillingG)
		}
	}
}

// A size that was weighed calibrates the others.
func TestEstimateWeighedSizes(t *testing.T) {
	p, findings := Load(fstest.MapFS{"pattern.toml": &fstest.MapFile{Data: []byte("title = \"T\"\nterms = \"US\"\n" + gauge20 + `
[[yarn]]
key = "MC"
metres_per_100g = 250
weighed_before = 50
weighed_after = 44
[[piece]]
name = "Ball"
stuffed = true
rounds = '''
` + checkBall + `'''
[[size]]
name = "one"
[[size]]
name = "two"
[[size.piece]]
name = "Ball"
make = 2
`)}}, "pattern.toml")
	if len(findings) > 0 {
		t.Fatal(findings)
	}
	for i, want := range []struct {
		grams shape.Amount
		basis YarnBasis
	}{
		{shape.Amount{Value: 6, Low: 6, High: 6}, Weighed},
		{shape.Amount{Value: 12, Low: 12 * 0.92, High: 12 * 1.08}, ByWeighed},
	} {
		e, err := p.Estimate(p.Sizes[i])
		if err != nil {
			t.Fatal(err)
		}
		y := e.Yarns[0]
		if y.Basis != want.basis || !near(y.Grams.Value, want.grams.Value, 1e-9) || !near(y.Grams.Low, want.grams.Low, 1e-9) || !near(y.Metres.Value, y.Grams.Value*2.5, 1e-9) {
			t.Errorf("size %s: %v g, %v m, %s; want %v g, %s", p.Sizes[i].Name, y.Grams, y.Metres, y.Basis, want.grams, want.basis)
		}
	}
}

func TestStints(t *testing.T) {
	e := estimate(t, gauge20+`
[[yarn]]
key = "A"
[[yarn]]
key = "B"
[[piece]]
name = "Stripes"
yarn = "B"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnds 2-3: sc in each st around (6)
Rnd 4: with A, sc 2, with B, sc 4 (6)
Rnd 5: with A, sc in each st around (6)
Rnd 6: with B, inc in each st around (12)
'''
`)
	const each = 6.1 * 5 / 1000
	want := []struct {
		key         string
		first, last int
		stitches    int
		left        int // stitches of it and all later ones
	}{
		{"B", 1, 4, 22, 34}, {"A", 4, 5, 8, 8}, {"B", 6, 6, 12, 12},
	}
	if len(e.Stints) != len(want) {
		t.Fatalf("there are %d stints: %+v", len(e.Stints), e.Stints)
	}
	for i, w := range want {
		s := e.Stints[i]
		if e.Yarns[s.Yarn].Yarn.Key != w.key || s.First != w.first || s.Last != w.last || s.Stitches != w.stitches {
			t.Errorf("stint %d is %+v, want %+v", i, s, w)
		}
		if !near(s.Metres.Value, each*float64(w.stitches), 1e-9) || !near(s.Left.Value, each*float64(w.left), 1e-9) {
			t.Errorf("stint %d takes %g m, then %g m", i, s.Metres.Value, s.Left.Value)
		}
	}
	for i, stitches := range []float64{8, 34} {
		if got, want := e.Yarns[i].Metres.Value, each*stitches+0.3; !near(got, want, 1e-9) {
			t.Errorf("yarn %s takes %g m, want %g", e.Yarns[i].Yarn.Key, got, want)
		}
	}
}

// The rest length and height of rounds of several kinds, at 5 x 5 mm sc.
func TestEstimateRounds(t *testing.T) {
	const high = 5.0
	for _, c := range []struct {
		name   string
		chain  string
		rounds string
		around []float64 // of each round, over the width of a stitch
		height []float64 // over the height of single crochet
	}{
		{"spiral", "", "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)", []float64{6, 12}, []float64{1, 1}},
		{"a chain that counts", "counts", "Rnd 1: ch 3, 11 dc in magic ring, join with sl st in top of ch 3 (12)", []float64{12}, []float64{1.72 / 0.909}},
		{"a chain that does not", "does not count", "Rnd 1: ch 3, 12 dc in magic ring, join with sl st in first dc (12)", []float64{12}, []float64{1.72 / 0.909}},
		{"mixed heights", "", "Rnd 1: 6 sc in magic ring (6)\nRnd 2: (sc 1, dc 1) x 3 (6)", []float64{6, 6}, []float64{1, (1 + 1.72/0.909) / 2}},
		{"chain spaces", "", "Rnd 1: 6 sc in magic ring (6)\nRnd 2: (sc 1, ch 2) x 6 (6 sc, 6 ch-2 sp)", []float64{6, 18}, []float64{1, 1}},
		{"a slip stitch edge", "", "Rnd 1: 6 sc in magic ring (6)\nRnd 2: sl st in each st around (6)", []float64{6, 6}, []float64{1, 0.2}},
		{"from a ring of chains", "", "Rnd 1: ch 12, join with sl st to form a ring, sc in each ch around (12)\nRnd 2: sc in each st around (12)", []float64{12, 12}, []float64{1, 1}},
		{
			"loops", "", "Rnd 1: 6 sc in magic ring (6)\nRnd 2: (sc 1, ch 7) x 6 (6 sc, 6 ch-7 sp)",
			[]float64{6, 6 * (1 + 14/math.Pi)}, []float64{1, (1 + 14/math.Pi*7/math.Pi) / (1 + 14/math.Pi)},
		},
	} {
		keys := ""
		if c.chain != "" {
			keys = "style = \"joined\"\nchain = \"" + c.chain + "\"\n"
		}
		e := estimate(t, gauge20+"[[piece]]\nname = \"Piece\"\n"+keys+"rounds = '''\n"+c.rounds+"\n'''\n")
		p := e.Pieces[0]
		if len(p.Rounds) != len(c.around) {
			t.Errorf("%s: %d rounds", c.name, len(p.Rounds))
			continue
		}
		for i, r := range p.Rounds {
			if !near(r.AroundMM, 5*c.around[i], 1e-9) || !near(r.HeightMM, high*c.height[i], 1e-9) {
				t.Errorf("%s: round %d is %g mm around and %g mm high, want %g and %g", c.name, i+1, r.AroundMM, r.HeightMM, 5*c.around[i], high*c.height[i])
			}
		}
	}
}

func TestEstimateFinish(t *testing.T) {
	for _, c := range []struct {
		name    string
		keys    string
		rounds  string
		finish  Finish
		across  float64 // 0 for any
		height  float64
		concern string // in the words of Concerns; "" for none
	}{
		{"a disc", "", counted(6, 12, 18, 24, 30, 36), LaidFlat, 0, 0, ""},
		{"a disc that is said to stand", "flat = false\n", counted(6, 12, 18, 24, 30, 36), Standing, 57.2958, 0, ""},
		{"a disc with a plain edge", "", counted(6, 12, 18, 24, 30, 36, 36), LaidFlat, 0, 0, "cups by 35°"},
		{"a bowl", "", counted(6, 12, 18, 24, 24, 24, 24), Standing, 38.1972, 0, ""},
		{"a ruffle", "", counted(6, 12, 24, 48), LaidFlat, 0, 0, "rounds 3 to 4 will ruffle"},
		{"a shallow cone said to be flat", "flat = true\n", counted(5, 9, 13, 17, 21), LaidFlat, 0, 0, "cups by"},
		// All of its rounds lie flat, the last one within the one before.
		{"a disc with a turned-in rim", "", counted(7, 14, 21, 28, 35, 28), LaidFlat, 0, 0, "round 6 may pucker"},
		// Bound off with shells, it is no wider than its wall and their height.
		{"a bowl with a frill", "", counted(6, 12, 18, 24, 24, 24, 24) + "Rnd 8: 5 dc in each st around (120)\n", Standing, 38.1972 + 2*1.15*1.12*5*1.72/0.909, 0, "round 8 will ruffle"},
		{"rounds of dc that lie flat in practice", "", "Rnd 1: 12 dc in magic ring (12)\nRnd 2: 2 dc in each st around (24)\nRnd 3: (dc 1, 2 dc in next st) x 12 (36)\n", LaidFlat, 0, 0, ""},
		{"a ring of chains and its edge", "", "Rnd 1: ch 12, join with sl st to first ch (12)\nRnd 2: ch 1, sc in each ch around, join with sl st to first sc (12)\n", Standing, 19.0986, 5, ""},
		{"a tube", "", "Rnd 1: ch 12, join with sl st to form a ring, sc in each ch around (12)\nRnds 2-4: sc in each st around (12)\n", Standing, 19.0986, 20, ""},
	} {
		e := estimate(t, gauge20+"[[piece]]\nname = \"Piece\"\n"+c.keys+"rounds = '''\n"+c.rounds+"'''\n")
		p := e.Pieces[0]
		if p.Finish != c.finish || c.across > 0 && !near(p.AcrossMM.Value, c.across, 1e-4) || c.height > 0 && !near(p.HeightMM.Value, c.height, 1e-4) {
			t.Errorf("%s: %s, %g x %g mm; want %s, %g x %g", c.name, p.Finish, p.AcrossMM.Value, p.HeightMM.Value, c.finish, c.across, c.height)
		}
		if got := strings.Join(p.Concerns(), "; "); !strings.Contains(got, c.concern) || c.concern == "" && got != "" {
			t.Errorf("%s: concerns are %q, want %q", c.name, got, c.concern)
		}
	}
}

// An oval is two halves of a disc with its straight middle between them.
func TestEstimateOval(t *testing.T) {
	e := estimate(t, gauge20+`[[piece]]
name = "Oval"
rounds = '''
Rnd 1: ch 7, sc in 2nd ch from hook, sc in each of next 4 ch, 3 sc in last ch, working along other side of chain, sc in each of next 4 ch, 2 sc in next ch (14)
Rnd 2: inc, sc 4, inc x 3, sc 4, inc x 2 (20)
Rnd 3: sc 1, inc, sc 4, (sc 1, inc) x 3, sc 4, (sc 1, inc) x 2 (26)
'''
`)
	p := e.Pieces[0]
	const middle = 25.0 // 5 chains
	if p.MiddleMM != middle || !near(p.AcrossMM.Value-p.WideMM.Value, middle, 1e-9) || !near(p.AroundMM.Value, math.Pi*p.WideMM.Value+2*middle, 1e-9) {
		t.Errorf("middle %g mm, %g x %g mm, %g mm around", p.MiddleMM, p.AcrossMM.Value, p.WideMM.Value, p.AroundMM.Value)
	}
	if p.Finish != LaidFlat || p.WideMM.Value < 24 || p.WideMM.Value > 30 {
		t.Errorf("%s, %g mm wide", p.Finish, p.WideMM.Value)
	}
	if len(p.Approximations) != 1 {
		t.Errorf("taken: %q", p.Approximations)
	}
}

// Advice: where half is made, and when to fill.
func TestEstimateAdvice(t *testing.T) {
	e := estimate(t, gauge20+"[[piece]]\nname = \"Ball\"\nstuffed = true\nclosed = true\nrounds = '''\n"+checkBall+"'''\n")
	p := e.Pieces[0]
	if p.HalfRound != 9 || p.HalfStitch != 18 {
		t.Errorf("half is made with stitch %d of round %d", p.HalfStitch, p.HalfRound)
	}
	if p.StuffRound != 14 || !near(p.OpeningMM, 23*5/math.Pi, 1e-9) {
		t.Errorf("filled after round %d, through %g mm", p.StuffRound, p.OpeningMM)
	}
	// Rounds 1 to 3 add 6 each: 17° short of flat, so the disc is between 6/2π
	// stitches and 1 height a round.
	if mm := p.DiscMM(3); mm <= 18*5/math.Pi || mm >= 30 {
		t.Errorf("a disc of 3 rounds is %g mm across", mm)
	}
	for _, n := range []int{0, 1, 12, 99} {
		if mm := p.DiscMM(n); mm != 0 {
			t.Errorf("%d rounds make a disc of %g mm", n, mm)
		}
	}
	for _, c := range []struct {
		openings []float64
		want     int
	}{
		{[]float64{10, 20, 30, 40, 60, 40, 30, 20}, 5},
		{[]float64{10, 20, 30, 20, 10}, 3}, // narrow: 0.6 of the widest
		{[]float64{10, 20, 30, 40}, 3},
		{[]float64{10}, 0},
	} {
		if got := lastToFill(c.openings); got != c.want {
			t.Errorf("openings %v: filled after the one of index %d, want %d", c.openings, got, c.want)
		}
	}
}

// With stitches that are small against the ball, what is planned and estimated
// comes to the handbook's ball.
func TestEstimateHandbook(t *testing.T) {
	for _, c := range []struct {
		s      Solid
		volume func(d, h float64) float64 // of the solid, of its width and height
	}{
		{Solid{Form: "ball", AcrossMM: 60, Filled: true}, func(d, h float64) float64 { return math.Pi / 6 * d * d * h }},
		{Solid{Form: "ellipsoid", AcrossMM: 60, HeightMM: 75, Filled: true}, func(d, h float64) float64 { return math.Pi / 6 * d * d * h }},
		{Solid{Form: "cone", AcrossMM: 60, HeightMM: 70}, func(d, h float64) float64 { return math.Pi / 12 * d * d * h }},
		{Solid{Form: "cylinder", AcrossMM: 60, HeightMM: 70, Start: "open", End: "open"}, func(d, h float64) float64 { return math.Pi / 4 * d * d * h }},
	} {
		f := gauged(stitch.SC, 100, 105)
		p, err := NewPlan(c.s, f, Spiral)
		if err != nil {
			t.Fatal(err)
		}
		pattern, _, _ := loaded(t, f, p.TOML("Piece", Spiral, stitch.US))
		e, err := pattern.Estimate(pattern.Sizes[0])
		if err != nil {
			t.Fatal(err)
		}
		got := e.Pieces[0]
		across, high := got.AcrossMM.Value, got.HeightMM.Value
		if want := c.volume(across, high); math.Abs(got.VolumeMM3.Value/want-1) > 0.02 {
			t.Errorf("%s: %.0f mm³ at %.2f x %.2f mm, want %.0f", c.s.Describe(), got.VolumeMM3.Value, across, high, want)
		}
		if wantHigh := max(c.s.HeightMM, 60); math.Abs(across/60-1) > 0.02 || math.Abs(high/wantHigh-1) > 0.03 {
			t.Errorf("%s: %.2f x %.2f mm, want 60 x %g", c.s.Describe(), across, high, wantHigh)
		}
	}
}

func TestEstimateRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"[[piece]]\nname = \"Ball\"\nrounds = '''\nRnd 1: 6 sc in magic ring (6)\n'''\n", "without a gauge"},
		{gauge20 + "[[piece]]\nname = \"Ball\"\n", "no rounds"},
	} {
		p, _ := Load(fstest.MapFS{"pattern.toml": &fstest.MapFile{Data: []byte("title = \"T\"\nterms = \"US\"\n" + c.text)}}, "pattern.toml")
		if _, err := p.Estimate(p.Sizes[0]); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
}

func BenchmarkEstimate(b *testing.B) {
	for _, mm := range []float64{75, 300, 1400} {
		f := gauged(stitch.SC, 22, 24)
		plan, err := NewPlan(Solid{Form: "ball", AcrossMM: mm, Filled: true}, f, Spiral)
		if err != nil {
			b.Fatal(err)
		}
		p, _, _ := loaded(b, f, plan.TOML("Ball", Spiral, stitch.US))
		b.Run(fmt.Sprintf("rounds=%d", len(plan.Rounds)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := p.Estimate(p.Sizes[0]); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A frill around a filled piece is no part of its body.
func TestEstimateFrill(t *testing.T) {
	ball := func(frill string) *PieceEstimate {
		before := counted(6, 12, 18, 24, 24, 24)
		rounds := before + frill + "Rnd 9: (sc 2, dec) x 6 (18)\nRnd 10: (sc 1, dec) x 6 (12)\nRnd 11: dec x 6 (6)\n"
		return estimate(t, gauge20+"[[piece]]\nname = \"Ball\"\nstuffed = true\nclosed = true\nrounds = '''\n"+rounds+"'''\n").Pieces[0]
	}
	bare := ball("Rnds 7-8: sc in each st around (24)\n")
	frilled := ball("Rnd 7: 4 sc in each st around (96)\nRnd 8: sc4tog x 24 (24)\n")
	if len(bare.Approximations) > 0 || len(frilled.Approximations) != 1 {
		t.Errorf("taken: %q and %q", bare.Approximations, frilled.Approximations)
	}
	if a, b := bare.AcrossMM.Value, frilled.AcrossMM.Value; b < a || b > 1.4*a {
		t.Errorf("%.1f mm across, and %.1f mm with a frill", a, b)
	}
}

// What is worn is as wide as it is empty, and domed by what it is put over.
func TestEstimateWorn(t *testing.T) {
	rounds := counted(6, 12, 18, 24, 30, 36, 36, 36, 36, 36, 36)
	of := func(name string) *PieceEstimate {
		return estimate(t, gauge20+"[[piece]]\nname = \""+name+"\"\nrounds = '''\n"+rounds+"'''\n").Pieces[0]
	}
	cup, hat := of("Cup"), of("Doll's hat")
	if cup.Worn || !hat.Worn || hat.Finish != Standing {
		t.Errorf("the cup is worn: %t, the hat: %t, %s", cup.Worn, hat.Worn, hat.Finish)
	}
	if a, b := cup.AcrossMM.Value, hat.AcrossMM.Value; !near(a, b, 1e-9) {
		t.Errorf("the cup is %g mm across, the hat %g", a, b)
	}
	if low, high, over := cup.HeightMM.Value, hat.HeightMM.Value, hat.Profile.LengthMM(); high <= 1.05*low || high >= over {
		t.Errorf("the cup is %.1f mm high, the hat %.1f, %.1f over the curve", low, high, over)
	}
	for name, is := range map[string]bool{"Teapot cosy": true, "Pufferfish": false, "Kappe": false, "Lotsmössa": true, "Hatch": false, "Шапка": true, "Mat": false} {
		if worn.MatchString(name) != is {
			t.Errorf("%s is worn: %t", name, !is)
		}
	}
}

// A piece that is narrow at both ends is filled unless it says that it is not.
func TestEstimateUnsaid(t *testing.T) {
	ball := counted(6, 12, 18, 24, 24, 24, 24, 18, 12, 6)
	for _, c := range []struct {
		name, keys, rounds string
		finish             Finish
		taken              int
	}{
		{"a ball that says nothing", "", ball, Filled, 1},
		{"a ball that is stuffed", "stuffed = true\n", ball, Filled, 0},
		{"a ball that is not", "stuffed = false\n", ball, Standing, 0},
		{"a cup", "", counted(6, 12, 18, 24, 24, 24, 24), Standing, 0},
		{"a wide neck", "", counted(6, 12, 18, 24, 24, 24, 18, 12), Standing, 0},
		{"a disc", "", counted(6, 12, 18, 24), LaidFlat, 0},
		{"a hat from its brim", "closed = true\n", "Rnd 1: ch 24, join with sl st to form a ring, sc in each ch around (24)\nRnds 2-4: sc in each st around (24)\nRnd 5: (sc 2, dec) x 6 (18)\nRnd 6: (sc 1, dec) x 6 (12)\nRnd 7: dec x 6 (6)\n", Standing, 0},
	} {
		p := estimate(t, gauge20+"[[piece]]\nname = \"Piece\"\n"+c.keys+"rounds = '''\n"+c.rounds+"'''\n").Pieces[0]
		if p.Finish != c.finish || len(p.Approximations) != c.taken || (p.StuffRound > 0) != (c.finish == Filled) {
			t.Errorf("%s: %s, stuffed after %d, taken %q", c.name, p.Finish, p.StuffRound, p.Approximations)
		}
	}
}
