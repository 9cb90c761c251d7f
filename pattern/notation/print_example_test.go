package notation_test

import (
	"fmt"

	"roundelay/pattern/notation"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

func ExamplePrint() {
	text := notation.Read(source.NewFile("buoy.txt", `
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: *sc in next st, 2 sc in next st, rep from * around (18)
Rnd 4: sc 18
Rnd 5: sc 18`), notation.ReadOptions{})
	rounds := notation.Expand(text.Lines(), notation.Options{}).Rounds
	for _, w := range []notation.Wording{
		{},
		{Terms: stitch.UK},
		{Style: notation.PlainWords},
		{Language: "de"},
	} {
		for _, line := range notation.Print(rounds, nil, w)[2:] {
			fmt.Println(line)
		}
	}
	// Output:
	// Rnd 3: (sc 1, inc) x 6 (18)
	// Rnds 4-5 (2 rounds): sc in each st around (18)
	// Rnd 3: (dc 1, inc) x 6 (18)
	// Rnds 4-5 (2 rounds): dc in each st around (18)
	// Round 3: Do this 6 times in all. Work 1 single crochet in the next stitch. Work 2 single crochet in the next stitch. End of the 6 times. You should have 18 stitches.
	// Rounds 4 to 5, 2 rounds: Work 1 single crochet in each stitch around. You should have 18 stitches.
	// Rd 3: (1 fM, zun) x 6 (18)
	// Rd 4-5 (2 Runden): 1 fM in jede M der Rd (18)
}
