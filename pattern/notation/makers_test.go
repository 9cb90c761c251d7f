package notation

import (
	"fmt"
	"testing"

	"roundelay/pattern/source"
)

// TestMakers reads rounds as makers of toys, hats and baskets write them, over
// so many single crochets. The forms are from memory of the trade's habits.
func TestMakers(t *testing.T) {
	for _, c := range []reading{
		// legs joined
		{12, "Rnd 2: ch 3, join with sc to leg 1, sc 11 around leg 1, 3 sc along the ch, sc 12 around leg 2, 3 sc along other side of ch (30)", -1, 30},
		{12, "Rnd 2: From leg 2, ch 3, join to leg 1 with a sc in any st, 11 sc more around leg 1, 3 sc along the ch, 12 sc around leg 2, 3 sc along other side of the ch. (30 sts)", -1, 30},
		{12, "Rnd 2: ch 3, 12 sc on leg 1, 3 sc on the ch, 12 sc on leg 2, 3 sc on the other side of the ch (30)", -1, 30},
		{12, "Rnd 2: 12 sc on leg 2, ch 3, 12 sc on leg 1, 3 sc on ch, (30)", -1, 30},
		{12, "Rnd 2: Ch 2, sl st to first leg to join, sc in each of the 12 sts of the first leg, sc in each of the 2 ch, sc in each of the 12 sts of the second leg, sc in each of the 2 ch on the other side. (28)", -1, 28},
		{12, "Rnd 2: ch 2, sc in each st around leg 1, sc across the ch 2, sc in each st around the other leg, sc across the other side of the ch 2 (28)", -1, 28},
		{12, "Rnd 2: Join legs: ch 4, insert hook into first leg and sc 12 around, sc 4 in chain, sc 12 around second leg, sc 4 along opposite side of chain. 32 sts.", -1, 32},
		{12, "Rnd 2: join the legs by working 12 sc around the first leg and 12 sc around the second (24)", -1, 24},
		{30, "Rnd 2: 12 sc, 3 sc on the chain, 15 sc (30)", 30, 30},
		// other pieces caught
		{18, "Rnd 2: sc 3, attach arm w/ next 3, sc 6, attach arm w/ next 3, sc 3 [18]", 18, 18},
		{18, "Rnd 2: sc 3, sc 4 through both layers, sc 11 (18)", 18, 18},
		{18, "Rnd 2: sc 3, sc next 4 sts thru ear and head, sc 11 (18)", 18, 18},
	} {
		lines := Read(source.NewFile("maker", fmt.Sprintf("Rnd 1: %d sc in magic ring\n%s\n", c.below, c.line)), ReadOptions{}).Lines()
		got := Expand(lines, Options{AnyYarn: true}).Verdicts
		if len(got) != 2 {
			t.Errorf("%d rounds, want 2: %s", len(got), c.line)
			continue
		}
		if v := got[1]; v.Used != c.used || v.Made != c.made || v.Word != OK && v.Word != Uncounted {
			t.Errorf("used %d made %d %s, want %d and %d: %s", v.Used, v.Made, v.Word, c.used, c.made, c.line)
		}
	}
}
