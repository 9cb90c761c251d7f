package pattern

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"roundelay/pattern/notation"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// gauged returns a fabric of so many stitches and rounds to 10 cm.
func gauged(s stitch.Stitch, stitches, rounds float64) Fabric {
	return Fabric{Gauge: Gauge{Stitch: s, Stitches: stitches, Rounds: rounds, OverMM: 100}, Low: 1, High: 1, LowTall: 1, HighTall: 1}
}

// loaded returns the only piece of a pattern with the given pieces in TOML, and
// what the loader finds wrong with it.
func loaded(t testing.TB, f Fabric, pieces string) (*Pattern, *Piece, source.Findings) {
	t.Helper()
	head := fmt.Sprintf("title = \"T\"\nterms = \"US\"\n[gauge]\nstitch = %q\nstitches = %v\nrounds = %v\nover = \"%v mm\"\n",
		f.Gauge.Stitch.Abbr(stitch.US), f.Gauge.Stitches, f.Gauge.Rounds, f.Gauge.OverMM)
	p, findings := Load(fstest.MapFS{"pattern.toml": &fstest.MapFile{Data: []byte(head + pieces)}}, "pattern.toml")
	if p == nil || len(p.Sizes) != 1 || len(p.Sizes[0].Pieces) != 1 {
		t.Fatalf("can't be loaded: %v\n%s", findings, pieces)
	}
	return p, p.Sizes[0].Pieces[0], findings
}

var solids = []Solid{
	{Form: "ball", AcrossMM: 40, Filled: true},
	{Form: "ball", AcrossMM: 75, Filled: true, Symmetric: true},
	{Form: "ball", AcrossMM: 75, Filled: true, Firmness: Firm, Multiple: 1},
	{Form: "ball", AcrossMM: 90, Filled: true, Firmness: Soft, First: 7},
	{Form: "ball", AcrossMM: 80, Filled: true, Widest: 54},
	{Form: "ball", AcrossMM: 80, Filled: true, Rounds: 27},
	{Form: "egg", AcrossMM: 60, HeightMM: 80, Filled: true},
	{Form: "ellipsoid", AcrossMM: 90, HeightMM: 50, Filled: true},
	{Form: "ellipsoid", AcrossMM: 50, HeightMM: 90, Filled: true},
	{Form: "cone", AcrossMM: 60, HeightMM: 70},
	{Form: "cone", AcrossMM: 60, HeightMM: 70, End: "flat", Filled: true},
	{Form: "dome", AcrossMM: 80, HeightMM: 40},
	{Form: "dome", AcrossMM: 80, HeightMM: 40, End: "domed", Filled: true},
	{Form: "cylinder", AcrossMM: 50, HeightMM: 80, Filled: true},
	{Form: "cylinder", AcrossMM: 50, HeightMM: 80, Start: "open", End: "open"},
	{Form: "cylinder", AcrossMM: 50, HeightMM: 80, Start: "domed", End: "open", Filled: true},
	{Form: "disc", AcrossMM: 100},
	{Form: "cup", AcrossMM: 90, BaseMM: 70, HeightMM: 50},
	{Form: "basket", AcrossMM: 120, HeightMM: 80},
}

var fabrics = []Fabric{
	gauged(stitch.SC, 22, 24), gauged(stitch.SC, 20, 20), gauged(stitch.SC, 14, 16), gauged(stitch.HDC, 18, 13), gauged(stitch.DC, 18, 10),
}

// What is printed for a plan is loaded without a finding, expands to the
// stitches of the plan, and comes out at the size that was promised.
func TestPlanLoads(t *testing.T) {
	for _, s := range solids {
		for _, f := range fabrics {
			for _, style := range []Style{Spiral, Joined} {
				if p := checkPlan(t, s, f, style); p == nil && (f.Gauge.Stitch == stitch.SC) {
					t.Errorf("%s at %s: there is no plan", s.Describe(), f)
				}
			}
		}
	}
}

// checkPlan plans a solid and checks the plan through and through. It returns
// nil if no counts fit.
func checkPlan(t *testing.T, s Solid, f Fabric, style Style) *Plan {
	t.Helper()
	p, err := NewPlan(s, f, style)
	if err != nil {
		return nil
	}
	what := fmt.Sprintf("%s at %s, %d", s.Describe(), f, style)
	text := p.TOML("A \"piece\"\\ in\tHörnum", style, stitch.US)
	pattern, piece, findings := loaded(t, f, text)
	if len(findings) > 0 {
		t.Fatalf("%s: %v\n%s", what, findings, text)
	}
	checkRounds(t, what, p, piece)
	if piece.Stuffed != s.Filled || piece.Firmness != s.Firmness || piece.Style != style || piece.Closed != p.Work.Schedule.Closed {
		t.Errorf("%s: loaded as stuffed %t %s, style %d, closed %t", what, piece.Stuffed, piece.Firmness, piece.Style, piece.Closed)
	}
	for _, v := range piece.Verdicts {
		if v.Word != notation.OK {
			t.Errorf("%s: a round is %s:\n%s", what, v.Word, text)
		}
	}
	e, err := pattern.Estimate(pattern.Sizes[0])
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	// The plan of an empty piece keeps the length of a round that ripples.
	ripples := slices.Contains(e.Pieces[0].Approximations, gathered)
	got, want := e.Pieces[0].AcrossMM.Value, p.Work.Shape.AcrossMM()
	if e.Pieces[0].Finish != LaidFlat && (got > want*(1+1e-6) || !ripples && got < want*(1-1e-6)) {
		t.Errorf("%s: it is estimated to be %g mm across; it was planned to be %g", what, got, want)
	}
	for i, n := range p.Work.Counts {
		before := p.Work.Start
		if i > 0 {
			before = p.Work.Counts[i-1]
		}
		if before > 0 && (n > 2*before || 2*n < before) {
			t.Errorf("%s: round %d goes from %d to %d", what, i+1, before, n)
		}
		if s.Multiple > 0 && n%s.Multiple != 0 {
			t.Errorf("%s: round %d has %d stitches, no multiple of %d", what, i+1, n, s.Multiple)
		}
	}
	if s.Widest > 0 && slices.Max(p.Work.Counts) != s.Widest || s.Rounds > 0 && len(p.Work.Counts) != s.Rounds || s.First > 0 && p.Work.Counts[0] != s.First {
		t.Errorf("%s: counts are %d", what, p.Work.Counts)
	}
	if back := slices.Clone(p.Work.Counts); s.Symmetric {
		if slices.Reverse(back); !slices.Equal(back, p.Work.Counts) {
			t.Errorf("%s: counts are %d", what, p.Work.Counts)
		}
	}
	return p
}

// checkRounds checks that a piece has the stitches of a plan.
func checkRounds(t *testing.T, what string, p *Plan, piece *Piece) {
	t.Helper()
	if len(piece.Rounds) != len(p.Rounds) {
		t.Fatalf("%s: it has %d rounds, the plan %d", what, len(piece.Rounds), len(p.Rounds))
	}
	for i, r := range piece.Rounds {
		want := p.Rounds[i]
		if r.Number != want.Number || r.Made != want.Made || r.Used != want.Used && want.Number > 0 || r.Count() != want.Count() {
			t.Errorf("%s: round %d uses %d and makes %d; the plan has %d, %d and %d", what, r.Number, r.Used, r.Made, want.Number, want.Used, want.Made)
		}
		same := func(a, b notation.Stitch) bool {
			if a.Role == notation.Joining && b.Role == notation.Joining {
				return true // what it is joined to is not planned
			}
			return a == b
		}
		if !slices.EqualFunc(r.Stitches, want.Stitches, same) {
			t.Errorf("%s: round %d has other stitches than the plan:\n%v\n%v\n%s", what, r.Number, r.Stitches, want.Stitches, p.Written(stitch.US))
			return
		}
	}
}

// A planned ball is rounder than both recipes of common practice, and near to
// the wanted size.
func TestPlannedBallsAreRounder(t *testing.T) {
	for _, f := range []Fabric{gauged(stitch.SC, 28, 30), gauged(stitch.SC, 22, 24), gauged(stitch.SC, 20, 22), gauged(stitch.SC, 20, 20), gauged(stitch.SC, 13, 14), gauged(stitch.SC, 10, 9)} {
		for mm := 40.0; mm <= 150; mm += 10 {
			s := Solid{Form: "ball", AcrossMM: mm, Filled: true}
			p, err := NewPlan(s, f, Spiral)
			if err != nil {
				t.Errorf("%s: %v", s.Describe(), err)
				continue
			}
			ramp, alternating := p.CommonBalls()
			for name, common := range map[string]float64{"ramp": ramp.Fit.RMS, "alternating": alternating.Fit.RMS} {
				if got := p.Work.Fit.RMS; !(got < common) {
					t.Errorf("%s at %s: off by %.2f %%, the recipe %s by %.2f %%", s.Describe(), f, 100*got, name, 100*common)
				}
			}
			// A ball of few rounds can't have every size.
			if math.Abs(p.Work.Fit.Size) > max(0.05, f.Gauge.HeightMM()/mm/2) {
				t.Errorf("%s at %s: the size is off by %.1f %%", s.Describe(), f, 100*p.Work.Fit.Size)
			}
		}
	}
}

func TestPlanRefuses(t *testing.T) {
	fine := gauged(stitch.SC, 22, 24)
	for _, c := range []struct {
		s    Solid
		key  string // "" if the solid itself is sound
		want string
	}{
		{Solid{}, "form", `there is no form ""`},
		{Solid{Form: "bal"}, "form", `there is no form "bal"`},
		{Solid{Form: "ball"}, "across", "ball needs across"},
		{Solid{Form: "egg", AcrossMM: 60}, "height", "egg needs across and height"},
		{Solid{Form: "ball", AcrossMM: 60, HeightMM: 70}, "height", "ball has no height"},
		{Solid{Form: "cone", AcrossMM: 60, HeightMM: 70, Start: "flat"}, "start", "cone has no start"},
		{Solid{Form: "cup", AcrossMM: 60, HeightMM: 70, Symmetric: true}, "symmetric", "cup is not the same from both ends"},
		{Solid{Form: "points"}, "points", "points needs points"},
		{Solid{Form: "ball", AcrossMM: 60, First: 7, Multiple: 6}, "", "multiples of 6"},
		{Solid{Form: "ball", AcrossMM: 5, Filled: true}, "", "larger"},
		{Solid{Form: "ball", AcrossMM: 9999999, Filled: true}, "", "must be"},
		{Solid{Form: "ball", AcrossMM: 60, Filled: true, Widest: 600}, "", "too abruptly"},
	} {
		_, err := NewPlan(c.s, fine, Spiral)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", c.s, err, c.want)
			continue
		}
		key := ""
		if wrong := (*SolidError)(nil); errors.As(err, &wrong) {
			key = wrong.Key
		}
		if key != c.key {
			t.Errorf("%+v: the key %q is blamed, want %q", c.s, key, c.key)
		}
	}
}

// Whatever can be planned is written so that it is read back as it was planned.
func FuzzPlan(f *testing.F) {
	for i, s := range solids {
		f.Add(uint8(i), s.AcrossMM, s.HeightMM, 22.0, 24.0, uint8(s.Multiple), uint8(s.First), i%2 == 0, s.Filled)
	}
	f.Fuzz(func(t *testing.T, form uint8, across, height, stitches, rounds float64, multiple, first uint8, joined, filled bool) {
		in := func(v, low, high float64) bool { return v >= low && v <= high }
		if !in(across, 1, 200) || !in(height, 0, 200) || !in(stitches, 5, 50) || !in(rounds, 5, 50) {
			t.Skip()
		}
		s := Solid{Form: Forms[int(form)%len(Forms)], AcrossMM: across, HeightMM: height, Multiple: int(multiple % 13), First: int(first % 13), Filled: filled}
		kind := []stitch.Stitch{stitch.SC, stitch.HDC, stitch.DC}[int(form)%3]
		checkPlan(t, s, gauged(kind, stitches, rounds), map[bool]Style{false: Spiral, true: Joined}[joined])
	})
}

func BenchmarkPlan(b *testing.B) {
	for _, mm := range []float64{75, 300, 1400} {
		s := Solid{Form: "ball", AcrossMM: mm, Filled: true}
		f := gauged(stitch.SC, 22, 24)
		p, err := NewPlan(s, f, Spiral)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprintf("rounds=%d", len(p.Work.Counts)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := NewPlan(s, f, Spiral); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
