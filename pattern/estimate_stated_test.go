package pattern

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// ramp returns n, 2n, ... up to times n, then that plain times more.
func ramp(n, times, plain int) []int {
	var out []int
	for i := range times + plain {
		out = append(out, n*min(i+1, times))
	}
	return out
}

// mirrored returns counts with those below the last one again, downwards.
func mirrored(counts []int) []int {
	out := counts
	for i := len(counts) - 1; i >= 0; i-- {
		if counts[i] < counts[len(counts)-1] {
			out = append(out[:len(out):len(out)], counts[i])
		}
	}
	return out
}

// The size that makers state for all kinds of things worked in the round is what
// the gauge comes to in their arithmetic (common practice): the widest round,
// its stitches times their width, is the way around; a disc reaches as far out
// as its rounds are high; a square has a side of a quarter of its edge. No piece
// was measured for this.
func TestEstimateStated(t *testing.T) {
	around := func(stitches int, per4in float64) float64 { return float64(stitches) * over4inMM / per4in / math.Pi }
	out := func(rounds int, per4in float64) float64 { return 2 * float64(rounds) * over4inMM / per4in }
	const ball, cup = "stuffed = true\nclosed = true\n", ""
	for _, c := range []struct {
		name     string
		kind     stitch.Stitch
		sts, rds float64 // over 4 in; 0 rounds are not stated
		keys     string
		counts   []int
		want     float64
	}{
		{"a ball by the usual recipe", stitch.SC, 20, 20, ball, mirrored(ramp(6, 6, 5)), around(36, 20)},
		{"the same at the usual shape of a stitch", stitch.SC, 20, 22, ball, mirrored(ramp(6, 6, 7)), around(36, 20)},
		{"the same by the stitches alone", stitch.SC, 20, 0, ball, mirrored(ramp(6, 6, 7)), around(36, 20)},
		{"a bauble, 6 in around", stitch.SC, 16, 17, ball, mirrored(ramp(6, 4, 4)), 6 * 25.4 / math.Pi},
		{"a juggling ball", stitch.SC, 24, 26, ball, mirrored(ramp(6, 5, 6)), around(30, 24)},
		{"a ball begun with 8", stitch.SC, 18, 20, ball, mirrored(ramp(8, 5, 7)), around(40, 18)},
		{"a large ball in thick yarn", stitch.SC, 7, 8, ball, mirrored(ramp(6, 8, 9)), around(48, 7)},
		{"an egg", stitch.SC, 22, 24, ball, []int{6, 12, 18, 24, 30, 30, 30, 30, 27, 27, 24, 24, 21, 18, 15, 12, 6}, around(30, 22)},
		{"a pebble", stitch.SC, 22, 24, ball, mirrored(ramp(6, 7, 2)), around(42, 22)},
		{"a filled tower", stitch.SC, 22, 24, ball, mirrored(ramp(6, 5, 22)), around(30, 22)},
		{"a fish", stitch.SC, 20, 21, ball, []int{6, 9, 12, 15, 18, 21, 24, 24, 24, 24, 21, 18, 15, 12, 9, 6}, around(24, 20)},
		{"a doll's head, open at the neck", stitch.SC, 22, 24, "stuffed = true\n", []int{6, 12, 18, 24, 30, 36, 42, 42, 42, 42, 42, 42, 42, 42, 36, 30, 24, 18}, around(42, 22)},
		{"a hat of dc, 12 a round", stitch.DC, 13, 8, cup, ramp(12, 5, 9), around(60, 13)},
		{"the same by the stitches alone", stitch.DC, 13, 0, cup, ramp(12, 5, 9), around(60, 13)},
		{"a child's hat of hdc, 8 a round", stitch.HDC, 14, 10, cup, ramp(8, 8, 9), around(64, 14)},
		{"a baby hat of hdc, 10 a round", stitch.HDC, 15, 11, cup, ramp(10, 5, 8), around(50, 15)},
		{"a hat of sc", stitch.SC, 15, 16, cup, ramp(6, 12, 20), around(72, 15)},
		{"a beret of dc", stitch.DC, 14, 8, cup, append(ramp(12, 8, 3), 84, 72, 64, 64, 64), around(96, 14)},
		{"a basket of thick yarn", stitch.SC, 8, 9, cup, ramp(6, 12, 10), around(72, 8)},
		{"a bowl begun with 8 hdc", stitch.HDC, 10, 7, cup, ramp(8, 6, 6), around(48, 10)},
		{"a coaster of sc", stitch.SC, 16, 17, cup, ramp(6, 8, 0), around(48, 16)},
		{"a coaster of sc by its rounds", stitch.SC, 16, 17, cup, ramp(6, 8, 0), out(8, 17)},
		{"a coaster of sc, the rounds unstated", stitch.SC, 16, 0, cup, ramp(6, 8, 0), around(48, 16)},
		{"a coaster of sc, the stitches unstated", stitch.SC, 0, 17, cup, ramp(6, 8, 0), out(8, 17)},
		{"a mat of hdc", stitch.HDC, 13, 10, cup, ramp(8, 9, 0), around(72, 13)},
		{"a mat of hdc by its rounds", stitch.HDC, 13, 10, cup, ramp(8, 9, 0), out(9, 10)},
		{"a coaster of dc", stitch.DC, 13, 8, cup, ramp(12, 4, 0), (around(48, 13) + out(4, 8)) / 2}, // the two are 17 % apart
		{"a rug of dc", stitch.DC, 8, 5, cup, ramp(12, 10, 0), (around(120, 8) + out(10, 5)) / 2},
		{"a rug of sc, 6 a round, edged plain", stitch.SC, 10, 11, cup, ramp(6, 20, 1), around(120, 10)},
	} {
		var rounds strings.Builder
		for _, line := range notation.Print((&worker{kind: c.kind}).work(0, c.counts), nil, notation.Wording{}) {
			fmt.Fprintln(&rounds, line)
		}
		gauge := fmt.Sprintf("[gauge]\nstitch = %q\nover = \"4 in\"\n", c.kind.Abbr(stitch.US))
		if c.sts > 0 {
			gauge += fmt.Sprintf("stitches = %g\n", c.sts)
		}
		if c.rds > 0 {
			gauge += fmt.Sprintf("rounds = %g\n", c.rds)
		}
		e := estimate(t, gauge+"[[piece]]\nname = \"Piece\"\n"+c.keys+"rounds = '''\n"+rounds.String()+"'''\n").Pieces[0]
		off := e.AcrossMM.Value/c.want - 1
		if a := e.AcrossMM; e.Finish == LaidFlat && c.rds == 0 && a.High-a.Low < 0.12*a.Value {
			t.Errorf("%s: %.1f to %.1f mm across is too sure without rounds", c.name, a.Low, a.High)
		}
		t.Logf("%-44s %6.1f mm, stated %6.1f: %+.1f %%", c.name, e.AcrossMM.Value, c.want, 100*off)
		if math.Abs(off) > 0.10 {
			t.Errorf("%s: %.1f mm across, %s; its maker would say %.1f, which is %+.0f %% off", c.name, e.AcrossMM.Value, e.Finish, c.want, 100*off)
		}
	}
}
