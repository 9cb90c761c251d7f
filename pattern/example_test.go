package pattern_test

import (
	"fmt"
	"os"
	"testing/fstest"

	"roundelay/pattern"
)

const buoy = `title = "Mooring buoy"
terms = "US"

[[yarn]]
key = "MC"
colour = "coral"

[[piece]]
name = "Ball"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (sc 1, inc) x 6 (18)
'''

[[piece.step]]
after = 3
do = "mark"
say = "Move the marker up."
`

func ExampleLoad() {
	book := fstest.MapFS{"buoy/pattern.toml": {Data: []byte(buoy)}}
	p, findings := pattern.Load(book, "buoy/pattern.toml")
	fmt.Printf("%s (%s), %d findings\n", p.Title, p.Slug, len(findings))
	for _, piece := range p.Sizes[0].Pieces {
		fmt.Printf("%s: %d stitches, at most %d in a round\n", piece.Name, piece.Stitches(), piece.Widest())
		for _, r := range piece.Rounds {
			fmt.Printf("round %d uses %d and makes %d\n", r.Number, r.Used, r.Made)
			for _, step := range piece.StepsAfter(r.Number) {
				fmt.Println("then:", step.Say)
			}
		}
	}
	// Output:
	// Mooring buoy (buoy), 0 findings
	// Ball: 36 stitches, at most 18 in a round
	// round 1 uses 0 and makes 6
	// round 2 uses 6 and makes 12
	// round 3 uses 12 and makes 18
	// then: Move the marker up.
}

func ExampleLoad_findings() {
	text := "titel = \"Mooring buoy\"\nterms = \"US\"\n\n[[piece]]\nname = \"Ball\"\nrounds = '''\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (13)\n'''\n"
	_, findings := pattern.Load(fstest.MapFS{"pattern.toml": {Data: []byte(text)}}, "pattern.toml")
	findings.Print(os.Stdout)
	// Output:
	// pattern.toml:1:1: error: there is no key titel here [unknown-key]
	//     titel = "Mooring buoy"
	//     ^
	//     did you mean title?
	// pattern.toml:8:30: error: it makes 12 stitches; 13 are declared [count-made]
	//     Rnd 2: inc in each st around (13)
	//                                  ^
	//     12 would be right, if the instruction is
}

func ExampleLoadBook() {
	book, findings := pattern.LoadBook(os.DirFS("../testdata/book"), ".")
	fmt.Printf("%s, %d findings\n", book.Title, len(findings))
	for _, p := range book.Patterns[:3] {
		fmt.Println(p.Slug)
	}
	// Output:
	// The story-time shelf, 0 findings
	// mooring-buoy
	// pebble
	// limpet
}

func ExampleParseLengthMM() {
	for _, s := range []string{"75 mm", "10cm", "3 1/2 in", "4"} {
		mm, err := pattern.ParseLengthMM(s)
		fmt.Printf("%.1f %v\n", mm, err)
	}
	// Output:
	// 75.0 <nil>
	// 100.0 <nil>
	// 88.9 <nil>
	// 0.0 "4" has no unit
}
