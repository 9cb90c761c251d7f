package pattern_test

import (
	"fmt"
	"strings"
	"testing/fstest"

	"roundelay/pattern"
	"roundelay/pattern/stitch"
)

func ExamplePattern_Estimate() {
	shelf := fstest.MapFS{"pebble/pattern.toml": {Data: []byte(`title = "Pebble"
terms = "US"

[gauge]
stitches = 20
rounds = 20
over = "10 cm"

[[yarn]]
key = "MC"
metres_per_100g = 250

[[piece]]
name = "Stone"
stuffed = true
closed = true
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (sc 1, inc) x 6 (18)
Rnds 4-5: sc in each st around (18)
Rnd 6: (sc 1, dec) x 6 (12)
Rnd 7: dec x 6 (6)
'''
`)}}
	p, _ := pattern.Load(shelf, "pebble/pattern.toml")
	e, err := p.Estimate(p.Sizes[0])
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, piece := range e.Pieces {
		fmt.Printf("%s, %s: %.0f x %.0f mm, gauge %s\n", piece.Piece.Name, piece.Finish, piece.AcrossMM.Value, piece.HeightMM.Value, piece.Fabric)
		fmt.Printf("%.1f g of filling, put in after round %d at the latest\n", piece.FillingG.Value, piece.StuffRound)
	}
	for _, y := range e.Yarns {
		fmt.Printf("%s: %.1f m (%.1f to %.1f), %s\n", y.Yarn.Key, y.Metres.Value, y.Metres.Low, y.Metres.High, y.Basis)
	}
	// Output:
	// Stone, filled: 30 x 24 mm, gauge 20 sc and 20 rounds to 10 cm, as stated
	// 0.3 g of filling, put in after round 6 at the latest
	// MC: 3.2 m (2.6 to 4.1), an estimate from the stitches
}

func ExampleNewPlan() {
	gauge := pattern.Fabric{Gauge: pattern.Gauge{Stitch: stitch.SC, Stitches: 20, Rounds: 20, OverMM: 100}, Low: 1, High: 1, LowTall: 1, HighTall: 1}
	p, err := pattern.NewPlan(pattern.Solid{Form: "ball", AcrossMM: 40, Filled: true, Multiple: 6}, gauge, pattern.Spiral)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.Work.Counts)
	for _, line := range strings.Split(p.Written(stitch.US), "\n")[:5] {
		fmt.Println(line)
	}
	for _, s := range p.Steps {
		fmt.Printf("after round %d: %s\n", s.After, s.Do)
	}
	// Output:
	// [6 12 18 18 24 24 24 18 18 12 6]
	// Rnd 1: 6 sc in magic ring (6)
	// Rnd 2: inc in each st around (12)
	// Rnd 3: (inc, sc 1) x 6 (18)
	// Rnd 4: sc in each st around (18)
	// Rnd 5: (sc 2, inc) x 6 (24)
	// after round 9: stuff
	// after round 11: close
}
