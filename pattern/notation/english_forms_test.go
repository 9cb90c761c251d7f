package notation

import (
	"fmt"
	"testing"

	"roundelay/pattern/source"
)

// TestEnglishForms reads ways to say a round in English, each on a ring of so
// many single crochets (in UK terms double crochets), worked out by hand. Of
// several lines the last is what is wanted.
func TestEnglishForms(t *testing.T) {
	for _, c := range []struct {
		uk         bool
		below      int
		lines      string
		used, made int
		word       Word
	}{
		// the count after a comma, and stitches that look like it
		{true, 12, "2nd round: * 1 dc into next dc, 2 dc into next dc, rep from * 5 times more, 18 dc.", 12, 18, OK},
		{true, 12, "Round 2: (1 dc, 2 dc in next) 6 times, 18 dc.", 12, 18, OK},
		{true, 12, "Round 2: dc2tog 6 times, 6 dc", 12, 6, OK},
		{false, 12, "Rnd 2: * Sc in next sc, 2 sc in next sc, repeat from * 5 times more, 18 sc in round.", 12, 18, OK},
		{false, 12, "Rnd 2: (sc 1, inc) x6, 19 sc", 12, 18, Mismatch},
		{false, 12, "Rnd 2: (sc 1, inc) x 3, 6 sc", 12, 15, Uncounted},
		{false, 15, "Rnd 2: (sc 1, inc) x 3, 9 sc", 15, 18, Uncounted},
		// a round like another but for what stands between its increases
		{true, 18, "Round 2: (2 dc, 2 dc in next) 6 times (24 dc)\nRound 3: As 2nd round but with 3 dc between increasings, 30 dc.", 24, 30, OK},
		{false, 18, "Rnd 2: *sc in next 2 sc, 2 sc in next sc; rep from * around. 24 sc.\nRnd 3: As rnd 2, having 3 sc between incs. 30 sc.", 24, 30, OK},
		{false, 18, "Rnd 2: (inc, sc 2) x 6 (24)\nRnd 3: As last round, but with 3 stitches between increases.", 24, 30, Uncounted},
		{false, 36, "Rnd 2: (sc 4, dec) x 6 (30)\nRnd 3: Repeat rnd 2 with 1 less sc between decreases. 24", 30, 24, OK},
		{false, 18, "Rnd 2: (sc 2, inc) x 6 (24)\nRnd 3: As rnd 2, working 1 extra sc before each increase. (30)", 24, 30, OK},
		{false, 24, "Rnd 2: inc in every 4th st, 3 sc between increases (30)", 24, 30, OK},
		// everything else, evenly
		{false, 49, "Round 2) Decrease in the last two stitches, everything else sc. = 48", 49, 48, OK},
		{false, 48, "Rnd 2: Inc in the first st and in the last st, all the rest sc (50)", 48, 50, OK},
		{false, 48, "Rnd 2: sc2tog, sc 22, sc2tog, rest sc (46)", 48, 46, OK},
		{false, 48, "Rnd 2: sc2tog, sc 22, sc2tog, the rest plain (46)", 48, 46, OK},
		{false, 48, "Rnd 2: sc2tog, sc in all the others (47)", 48, 47, OK},
		{false, 48, "Rnd 2: dec 1, sc remaining (47)", 48, 47, OK},
		{false, 48, "Rnd 2: sc2tog 6 times evenly spaced (42)", 48, 42, OK},
		{false, 48, "Rnd 2: decrease evenly 6 times (42)", 48, 42, OK},
		{false, 48, "Rnd 2: sc around working 6 evenly spaced increases (54)", 48, 54, OK},
		{false, 48, "Rnd 2: sc around, dec once in round (47)", 48, 47, OK},
		{false, 48, "Rnd 2: Work round in sc (48)", 48, 48, OK},
		{false, 48, "Rnd 2: Work in sc, increasing 6 evenly. 54 sts", 48, 54, OK},
		// decreases written out step by step
		{false, 36, "Rnd 2: *Sc in next 4 sts, draw up a loop in each of next 2 sts, yo and draw through all 3 loops on hook; repeat from * around. (30)", 36, 30, OK},
		{false, 36, "Rnd 2: (Sc 4, insert hook in next st, pull up a loop, insert hook in next st, pull up a loop, yo, pull through all 3 loops) 6 times. 30 sc.", 36, 30, OK},
		{false, 20, "Rnd 2: *sc in 2, draw up a loop in each of the next 2 and work them off as one, repeat from * around (15)", 20, 15, OK},
		{false, 36, "Rnd 2: *Sc in next 4 sc, (insert hook in next sc and draw up a loop) twice, yarn over and draw through all loops on hook, repeat from * around.", 36, 30, Uncounted},
		{false, 12, "Rnd 2: *Draw up a lp in each of next 2 sc, yo and through 3 lps on hook; rep from * around (6 sc).", 12, 6, OK},
		// lost labels, ends of yarn, letters
		{false, 6, "Rnd 2: 2 sc in each st around. (12) Rnd 4: (Sc in next st, 2 sc in next st) around. (18)", 12, 18, OK},
		{false, 18, "Rnd 2: (Sc next 2 sts tog) around. (9) Leaving long end for sewing, fasten off. Sew opening closed.", 18, 9, OK},
		{false, 12, "R2: X, V, X, V, X, V, X, V, X, V, X, V (18)", 12, 18, OK},
		{true, 30, "Rnd 2 dc10 black, dc10 white, dc10 black\nRnds 3-7 as Rnd 2 (5 rnds)\nContinue in black", 30, 30, Uncounted},
		// how often, how many in one place, spread after the round
		{false, 12, "Rnd 2: *Sc once in next st, twice in following st; rep from * around. (18 sc)", 12, 18, OK},
		{false, 12, "Rnd 2: sc 1, sc 2x in next st, repeat around. 18.", 12, 18, OK},
		{false, 12, "Rnd 2: sc in every stitch, increasing 6 times (18)", 12, 18, OK},
		{false, 12, "Rnd 2: increase 6 times around (18)", 12, 18, OK},
		{false, 48, "Rnd 2: sc around, increasing twice in the round (50)", 48, 50, OK},
		{false, 12, "Round 2 = 18 sts: (sc, inc) 6 times", 12, 18, OK},
		{false, 12, "Rnd. 2- (sc,inc)6 (18)", 12, 18, OK},
		{false, 12, "Rnd 2: 6(sc, inc) (18)", 12, 18, OK},
		{false, 12, "Rnd 2: *sc next, inc next* x6 18sc", 12, 18, OK},
		{false, 12, "Round two, one sc in the first, two in the next, repeat round. Eighteen.", 12, 18, OK},
		{false, 12, "Rnd 2: sc in next st, inc in next st, repeat around for 18 sc.", 12, 18, OK},
		{true, 18, "Round 2: *2dc, dc2inc* 6 times (24sts)", 18, 24, OK},
		{false, 18, "Rnd 2: (sc 1, sc2tog)*6 -- 12 sts --", 18, 12, OK},
		{false, 18, "Rnd 2: double every stitch (36)", 18, 36, OK},
		{false, 24, "Rnd 2: sc to last 2 sts, dec. 23", 24, 23, OK},
		{false, 24, "Rnd 2: sc in each sc, do not increase", 24, 24, Uncounted},
		// the first stitch and its chain, or none
		{false, 12, "Rnd 2: Ch 3, dc in base of ch, 2 dc in each remaining st, sl st to 3rd ch. (24)", 12, 24, OK},
		{false, 24, "Rnd 2: Ch 3 (first dc), 2 dc in next, [dc in next, 2 dc in next] around, slst to 1st dc -36 dc", 24, 36, OK},
		{false, 24, "Rnd 2: Standing dc in any st, 2 dc in next, *dc, 2 dc in next* around. Join to first dc. (36)", 24, 36, OK},
		{false, 24, "Rnd 2: Join new colour with a standing hdc, 2 hdc in next st, *hdc in next st, 2 hdc in next st; rep from * around. (36)", 24, 36, OK},
		// stitches missed, two combined, given before
		{false, 24, "Rnd 2: sc in every other stitch (12)", 24, 12, OK},
		{false, 24, "Rnd 2: ch 1, sc in every other st around, join (12)", 24, 12, OK},
		{false, 24, "Rnd 2: increase 1 sc in every 2nd st (36)", 24, 36, OK},
		{false, 12, "Rnd 2: 2 sc in every other st (18)", 12, 18, OK},
		{false, 24, "Rnd 2: sc 2, combine next 2 sts, repeat around (18)", 24, 18, OK},
		{false, 24, "Rnd 2: sc in each st (24)\nRounds 3 to 5: as given for Rnd 2.", 24, 24, Uncounted},
		{false, 10, "On the following round increase in every other stitch, which gives you 15 sc,\nand on the next one increase in every third, and you have 20.", 15, 20, OK},
	} {
		text := fmt.Sprintf("Rnd 1: %d sc in magic ring (%d)\n%s\n", c.below, c.below, c.lines)
		if c.uk {
			text = fmt.Sprintf("UK terms.\n\nRound 1: %d dc into magic ring (%d)\n%s\n", c.below, c.below, c.lines)
		}
		got := Expand(Read(source.NewFile("forms", text), ReadOptions{}).Lines(), Options{AnyYarn: true}).Verdicts
		if len(got) < 2 {
			t.Errorf("%d rounds: %s", len(got), c.lines)
			continue
		}
		if v := got[len(got)-1]; v.Used != c.used || v.Made != c.made || v.Word != c.word {
			t.Errorf("used %d made %d, %s; want %d, %d, %s: %s", v.Used, v.Made, v.Word, c.used, c.made, c.word, c.lines)
		}
	}
}
