package pattern

import (
	"math"
	"strings"
	"testing"
)

// A square in single crochet grows by 8 a round and lies flat where a disc would
// ruffle; a granny square has its corners in chain spaces.
func TestEstimateCorners(t *testing.T) {
	const square = `Rnd 1: 8 sc in magic ring (8)
Rnd 2: (3 sc in next st, sc 1) x 4 (16)
Rnd 3: (sc 1, 3 sc in next st, sc 2) x 4 (24)
Rnd 4: (sc 2, 3 sc in next st, sc 3) x 4 (32)
Rnd 5: (sc 3, 3 sc in next st, sc 4) x 4 (40)
`
	const granny = `Rnd 1: ch 4, join with sl st to form a ring, ch 3, 2 dc in ring, ch 2, (3 dc in ring, ch 2) x 3, join with sl st in top of ch-3 (12 dc, 4 ch-2 sp)
Rnd 2: sl st in next 2 dc and in ch-2 sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, ch 1, *(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1; repeat from * 2 more times, join (24 dc, 4 ch-1 sp, 4 ch-2 sp)
Rnd 3: sl st in next 2 dc and in ch-2 sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, ch 1, 3 dc in next ch-1 sp, ch 1, *(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1, 3 dc in next ch-1 sp, ch 1; repeat from * 2 more times, join (36 dc, 8 ch-1 sp, 4 ch-2 sp)
`
	const hexagon = `Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (3 sc in next st, sc 1) x 6 (24)
Rnd 4: (sc 1, 3 sc in next st, sc 2) x 6 (36)
Rnd 5: (sc 2, 3 sc in next st, sc 3) x 6 (48)
`
	for _, c := range []struct {
		name, gauge, rounds string
		corners             int
		low, high           float64 // across, in millimetres
	}{
		// From the sides: 40 sc of 5 mm are 4 of 50 mm. From the rounds: 5 of 5 mm
		// on either side, 50 mm.
		{"a square", gauge20, square, 4, 49.9, 50.1},
		// 3 rounds on either side, 63 mm; or 56 places of 5.6 mm, 4 of 78.
		{"a granny square", "[gauge]\nstitch = \"dc\"\nstitches = 18\nrounds = 9.5\nover = \"10 cm\"\n", granny, 4, 63, 78},
		{"a hexagon that ruffles", gauge20, hexagon, 6, 48, 51}, // 5 rounds on either side
		{"a disc", gauge20, counted(6, 12, 18, 24, 30, 36), 0, 57, 60},
		{"a flower", gauge20, "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\nRnd 3: (5 dc in next st, sc 1) x 6 (36)\n", 0, 0, 99},
		{"a bowl", gauge20, counted(6, 12, 18, 24, 24, 24, 24), 0, 0, 99},
	} {
		chain := "style = \"joined\"\nchain = \"counts\"\n"
		if c.name != "a granny square" {
			chain = ""
		}
		e := estimate(t, c.gauge+"[[piece]]\nname = \"Piece\"\n"+chain+"rounds = '''\n"+c.rounds+"'''\n")
		p := e.Pieces[0]
		if p.Corners.Count != c.corners || p.AcrossMM.Value < c.low || p.AcrossMM.Value > c.high {
			t.Errorf("%s: %d corners, %.1f mm across; want %d, %g to %g", c.name, p.Corners.Count, p.AcrossMM.Value, c.corners, c.low, c.high)
		}
		if c.corners == 0 {
			continue
		}
		n := float64(c.corners)
		if around := p.AcrossMM.Value * n * math.Tan(math.Pi/n); !near(p.AroundMM.Value, around, 1e-9) || p.Finish != LaidFlat {
			t.Errorf("%s, %s: %.1f mm around, want %.1f", c.name, p.Finish, p.AroundMM.Value, around)
		}
		if p.DiscMM(3) != 0 {
			t.Errorf("%s is measured as a disc", c.name)
		}
		if got := strings.Join(p.Concerns(), "; "); c.corners == 4 && strings.Contains(got, "ruffle") {
			t.Errorf("%s: %s", c.name, got)
		}
	}
}
