package proof_test

import (
	"fmt"
	"os"
	"testing/fstest"

	"roundelay/pattern"
	"roundelay/pattern/proof"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// A pattern file is loaded, and what was found then is handed on: Check lets
// the maker allow it.
func ExampleCheck() {
	fsys := fstest.MapFS{
		"bead/pattern.toml": {Data: []byte(`title = "Bead"
terms = "US"

[[piece]]
name = "Bead"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (13)
'''
`)},
		"bead/prose.md": {Data: []byte("Then comes\n\nRnd 2: (inc, sc 1) x 3 (9)\n")},
	}
	p, found := pattern.Load(fsys, "bead/pattern.toml")
	report := proof.Check(p, found)
	for _, f := range report.Findings {
		if f.Severity == source.Error {
			fmt.Println(f)
		}
	}
	// Output:
	// bead/pattern.toml:8:30: error: it makes 12 stitches; 13 are declared [count-made]
	// bead/prose.md:3:1: error: round 2: prose makes 9, chart 12; first difference at stitch 3: prose sc, chart inc [prose-round]
}

func ExampleCheckText() {
	report := proof.CheckText(source.NewFile("bead.txt", `US terms

Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnds 3-4: sc in each st around (12)
`), stitch.US)
	for _, row := range report.Rounds {
		fmt.Println(row.Label, row.Used, row.Made, row.Verdict)
	}
	report.WriteText(os.Stdout)
	// Output:
	// Rnd 1 0 6 ok
	// Rnd 2 6 12 ok
	// Rnds 3-4 12 12 ok
	// bead.txt: 4 rounds, ok
}

func ExampleCautions() {
	fsys := fstest.MapFS{"bead/pattern.toml": {Data: []byte(`title = "Bead"
terms = "US"

[gauge]
stitches = 22
rounds = 24
over = "10 cm"

[[piece]]
name = "Bead"
stuffed = true
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: dec x 6 (6)
'''
`)}}
	p, _ := pattern.Load(fsys, "bead/pattern.toml")
	for _, c := range proof.Cautions(p) {
		fmt.Println(c.Text)
	}
	// Output:
	// This comes out about 16 mm across and 8 mm high: as small as the parts on which a young child can choke. Not for children under 3.
	// This is a pattern, not a tested product. If you sell or give away what you make as a toy, the toy law of the place decides what it must withstand; in the EU and the UK a soft toy for cuddling counts as one for under 3, whatever its label says.
	// Look over seams and parts before each use.
}
