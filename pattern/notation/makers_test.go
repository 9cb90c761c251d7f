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
		{12, "Rnd 2: On leg 2: 12sc, ch2, then on leg 1: 12sc, 2sc into ch [28]", -1, 28},
		{12, "Rnd 2: Now we join the legs: chain 3, sc into the first leg and continue around with 11 more sc, sc in each of the 3 ch, sc 12 on second leg, sc in each of the 3 chains on the opposite side. (30)", -1, 30},
		{18, "Rnd 2: 4 sc, place ear 1 in front and sc through both ear and head for 3 sts, 4 sc, crochet 3 sc through second ear and head, 4 sc [18]", 18, 18},
		{24, "Rnd 2: crab st in each st around (24)", 24, 24},
		// tentacles, curls, fingers
		{16, "Rnd 2: FLO *ch 15, sc in 2nd ch and down, sl st in next st, sl st in next*, x 8 (8 arms)", 16, 16},
		{16, "Rnd 2: *ch 10, sc in 2nd ch from hook and in each ch across, sl st in next 2 sts; rep from * around", 16, 16},
		{16, "Rnd 2: (ch 6, sl st in 2nd ch from hook, sl st in next 4 ch, skip 1, sc in next st) x 8 (8)", 16, 8},
		{16, "Rnd 2: sc 4, ch 4, sl st in second ch from hook and next 2 ch (thumb made), sc 12 (16)", 16, 16},
		{16, "Rnd 2: sc in next 2, *ch 8, sl st back down the chain, sc in next 2* 7 times (16)", 16, 16},
		{16, "Rnd 2: 4 sc, ch 5 and sl st back over it for the hand, 12 sc", 16, 16},
		{16, "Rnd 2: {ch 6, starting in 2nd ch from hook 5 sl st, sc in next 2} x 8", 16, 16},
		{16, "Rnd 2: 5 sc, [ch 3, hdc in 3rd ch from hook], 6 sc, [ch 3, hdc in 3rd ch from hook], 5 sc (16)", 16, 16},
		{16, "Rnd 2: sc 7, ch 2, dc in 2nd ch from hook (nose), sc 9 (16)", 16, 16},
		{30, "Rnd 2: *1sc, 1dc worked loosely so that it pops forward* rep 15 times. [30]", 30, 30},
		// short ways of writing
		{24, "Rnd 2: (sc, hdc, dc) in next 3 sts, (dc, hdc, sc) in next 3 sts, sc 18", 24, 24},
		{24, "Rnd 2: loop stitch in each st (24)", 24, 24},
		{24, "Rnd 2: sc 8, 5dc-bob for toe, sc 15 (24)", 24, 24},
		{24, "Rnd 2: 2hdc x 24 (48)", 24, 48},
		{24, "Rnd 2: sc3 inc1 rep 6 (30)", 24, 30},
		{12, "Rnd 2: ch 4, (dc 1, ch 1) x 11, join with sl st in third ch (12 dc, 12 ch-1 sp)", 12, 12},
		{24, "Rnd 2: Sc around. Mark the last st. <24>", 24, 24},
		{24, "Rnd 2: sc in each st across the back, ch 1, do not turn (24)", 24, 24},
		// stitches left for another piece
		{24, "Rnd 2: sc 12, leave the remaining 12 sts unworked (12)", 24, 12},
		{24, "Rnd 2: sc 12, leave remaining sts unworked (12)", 24, 12},
		{24, "Rnd 2: sc in next 12 sts, skip the remaining 12 sts (12)", 24, 12},
		{24, "Rnd 2: sc in first 12 sts, leaving last 12 sts unworked (12)", 24, 12},
		// pieces held together
		{12, "Rnd 2: hold both together & sc thru both all around, 3 sc in every 4th st (18)", 12, 18},
		{12, "Rnd 2: With wrong sides together, sc 12 through both, stuffing as you go (12)", 12, 12},
		{12, "Rnd 2: Place both discs together and sc through both layers in each st around (12)", 12, 12},
		// counts after a comma, signs before them
		{12, "Rnd 2: *sc in next st, 2 sc in next; rep from * 5 more times, 18 sc", 12, 18},
		{12, "2nd round: * 1 sc into next sc, 2 sc into next sc, rep from * 5 times more, 18 sc.", 12, 18},
		{12, "Rnd 2 // *sc in next st, inc* 6 times // 18 sts", 12, 18},
		{12, "Rnd 2 // sc in each st // 12", 12, 12},
		// yarns by letters and names
		{36, "Rnd 2: 12 DG, 12 CR, 12 DG", 36, 36},
		{36, "Rnd 2: (sc 4, dec) x 3 in DG, (sc 4, dec) x 3 in CR (30)", 36, 30},
		{36, "Rnd 2: sc in white around (36)", 36, 36},
		{36, "Rnd 2: in cream. 36sc", 36, 36},
		{36, "Rnd 2: BLO. 36 sc. [36]", 36, 36},
		// every so many
		{18, "Rnd 2: Decrease every 3 sts (12)", 18, 12},
		{24, "Rnd 2: Decrease every 4 sts (18)", 24, 18},
		{24, "Rnd 2: dec every 4 sts (20)", 24, 20},
		{24, "Rnd 2: decrease in every 4th st (18)", 24, 18},
		{20, "Rnd 2: decrease in every 4th st (16)", 20, 16},
		{18, "Rnd 2: sc around, increasing every 3 sts (24)", 18, 24},
		{24, "Rnd 2: sc, decreasing once every 4 sts (18)", 24, 18},
		// counts in bold
		{12, "**Rnd 2:** *sc 1, inc* 6 times **(18 sc)**", 12, 18},
		{12, "Rnd 2: sc 1, inc, repeat around. *18 sts*", 12, 18},
		{12, "Rnd 2: 2 sc in each st. **24 sts**.", 12, 24},
		{12, "**Rnd 2: (sc 1, inc) x 6 (18)**", 12, 18},
		{12, "Rnd 2: *sc 1, (2 sc) in next*", 12, 18},
		// tags of web pages, tails, remarks before stitches
		{12, "<p><b>Round 2</b> (ears): <em>*sc 1, inc* 6 times</em> (18)</p>", 12, 18},
		{12, "Rnd 2: dec around. (6) Leaving long end for sewing, fasten off.", 12, 6},
		{12, "Rnd 2: until it measures 3 inches, just sc", 12, 12},
		{12, "Rnd 2: ch 2 instead of ch 1 (counts as hdc), hdc in next 11 sts (12)", 12, 12},
		{12, "Rnd 2: in the back loops only work 12 sc = 12", 12, 12},
		{12, "Rnd 2: decrease in the last two stitches, everything else sc (11)", 12, 11},
		// other pieces caught
		{18, "Rnd 2: sc 3, attach arm w/ next 3, sc 6, attach arm w/ next 3, sc 3 [18]", 18, 18},
		{18, "Rnd 2: sc 3, sc 4 through both layers, sc 11 (18)", 18, 18},
		{18, "Rnd 2: sc 3, sc next 4 sts thru ear and head, sc 11 (18)", 18, 18},
	} {
		lines := Read(source.NewFile("maker", fmt.Sprintf("Yarns: DG dark green, CR cream\nRnd 1: %d sc in magic ring\n%s\n", c.below, c.line)), ReadOptions{}).Lines()
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

// TestMakersTexts reads pieces whose lines hang together in ways of their own:
// what the last of them uses and makes.
func TestMakersTexts(t *testing.T) {
	for _, c := range []struct {
		text       string
		used, made int
	}{
		// muzzles, feet and soles on a chain
		{"Ch 5.\nRnd 1: start in second ch from hook, sc in next 3 st, 3 sc in last st, continue on the other side of the chain, sc in next 2 st, 2 sc in last st [10]", -1, 10},
		{"Rnd 1: ch 6, starting in 2nd ch from hook, sc in next 4 ch, 3 sc in last ch, working on other side, sc in next 3, 2 sc in last [12]", -1, 12},
		{"R1: 6 ch. Starting from the second chain: inc, 3 sc, 4 in one, (continue on the other side of the chain) 3 sc, inc (14)", -1, 14},
		{"Ch 6\nRnd 1: sc 4 starting from second ch from hook, 3 sc in last ch, working on other side, sc in next 3, 2 sc in last (12)", -1, 12},
		{"Ch 9\nR1: 2sc in 2nd ch from hook, sc 6, 4 sc in last ch; down the other side: sc 6, 2 sc in the same ch as first 2 sc (20)", -1, 20},
		{"Ch 11.\nRnd 1: Sc in 2nd ch from hook and in next 8 chs, 3 sc in last ch; working in rem lps on opposite side of foundation ch, sc in next 8 chs, 2 sc in last ch: 22 sc.", -1, 22},
		// rounds on an earlier one
		{"1) 6 sc in ring = 6\n2) inc x6 = 12\n3) blo [sc 1, inc] x6 = 18\nLAMP join D in the free front loops of 2)\n4) sc 12 = 12", 12, 12},
		{"Rnd 1: 6 sc in ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: BLO dec x 6 (6)\nFasten off. Join grey in the front loops of Rnd 2.\nRnd 4: 2 sc in each loop (24)", 12, 24},
		{"Rnd 1: 6 sc in ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: sc 6, skip 6 (6)\nRnd 4: dec x 3 (3)\nLeg 2: rejoin yarn at the 6 skipped sts.\nRnd 3: sc around (6)\nRnd 4: as for leg 1", 6, 3},
		{"1. Foundation: ch 4, join to a ring with a sl st.\n2. 8 sc in ring (8)\n3. inc x 8", 8, 16},
		{"Rnd 1: 10 sc in ring (10)\nRnd 2: Ch 3 (is a dc). Dc in the same st. 2 dc in each remaining sc, join (20)", 10, 20},
		{"Rnd 1: 10 dc in ring, ch 3 counts as dc (10)\nRound 2\nCh 1. *CL in next dc, sc in next 3 dc, 2 sc in next dc* all round.\n12 sts", 10, 12},
		{"Ch 8\nRnd 1: in 2nd ch from hook work 2 sc, sc 5, 4 sc in last ch, continue along the other side of the starting chain: sc 5, 2 sc in last (18)", -1, 18},
		{"Row 1: Ch 2, in the 1st ch you made work 7 sc. = 7\nRow 2: inc = 14", 7, 14},
		{"**R1** ➜ 6 sc in a magic ring (6)\n**R2** ➜ inc (12)", 6, 12},
		{"Rnd 1: 12 sc in ring\nRnd 2: *sc in next st, 2 sc in next st*, rep from * around (18)\nRnd 3: As 2nd round but with 2 sc between increases, 24 sc", 18, 24},
		{"Rnd 1: 12 sc in ring\nRnd 2: (sc 1, inc) x 6 (18)\nRnd 3: same as round 2 but having 2 sc between incs (24)", 18, 24},
		{"Rnd 1: 12 sc in ring\nRnd 2: ch 4 (counts as dc + ch 1), sk next st, *dc in next st, ch 1, sk next st; rep from * around, join (6)\nRnd 3: sl st into ch-1 sp, ch 4 (dc + ch 1), *dc in next ch-1 sp, ch 1; rep from * around, sl st to 3rd ch of ch-4 (6)", -1, 6},
		{"R1: MR, 6X (6)\nR2: 6V (12)\nR3: 12X\nR4: X, V, (X, V)*5 (18)\nR5: (X, A)*6 (12)", 18, 12},
		{"SHELL\nRound 1. 8 sc in ring. 8 sts.\nRound 2. Inc in each st. 16 sts.\n\nBELLY\nRounds 1 through 2. Work as given for the shell, using white. 16 sts.", 0, 16},
		{"Row 1: ch 7, sc in second ch from hook, sc in each ch, turn (6)", -1, 6},
		{"Rnd 1: Ch 10, sc in 2nd ch from hook and in each ch across to last ch, 3 sc in last ch; working on other side of ch, sc in each ch across to last ch, 2 sc in last ch (20)", -1, 20},
		{"Rnd 1: 12 sc in ring\nRnd 2: BLO (sc 1, inc) x 6 (18)\nRnd 3: Working in the unused front loops of Rnd 1: *sc in next st, 5 dc in next; rep from * around (36)", 12, 36},
		{"Rnd 1: 12 sc in ring\nRnd 2: BLO (sc 1, inc) x 6 (18)\nRnd 3: join white in front loops of rnd 1, 2 sc in each loop around (24)", 12, 24},
		{"Rnd 1: 12 sc in ring\nRnd 2: BLO (sc 1, inc) x 6 (18)\nRnd 3: 2 sc in each front loop of rnd 1 around (24)", -1, 24},
		{"Rnd 1: 12 sc in ring\nRnd 2: BLO (sc 1, inc) x 6 (18)\nRnd 3: sc in FLO of round 1 (12)", -1, 12},
		{"Base\nRnd 1: 8 sc in ring (8)\nRnd 2: inc (16)\n\nLid\nRnds 1-2: Repeat rounds 1-2 of base (16)", 0, 16},
		{"BEAK\norange. 1. 4 sc in ring 2. 4 sc 3. (sc, inc)x2 (6) 4. 6 sc. Leave the thread for sewing.", 6, 6},
		{"1. 6 sc in ring, 2. 6 inc (12), 3-4. 12 sc, 5. (sc, dec)x4 (8), fasten off", 12, 8},
		{"Rnd 1: 12 sc in ring\nRnd 2: inc x 12 (24)\nAttach safety eyes, then go on with the remaining stitches.\nRnd 3: (sc 2, inc) x 8 (32)", 24, 32},
		{"Rnd 1: 12 sc in ring\nRnd 2: sc 6, leave the remaining 6 sts unworked (6)\nRnd 3: dec x 3 (3)\nSecond leg: Rejoin yarn to the 6 unworked sts of Rnd 1.\nRnd 2: sc around (6)", 6, 6},
		{"| Rnd | Do | Count |\n| 1 | 6 sc in ring | 6 |\n| 2 | 6 inc | 12 |\n| 3-5 | 12 sc | 12 |\n", 12, 12},
	} {
		parts := Read(source.NewFile("maker", c.text), ReadOptions{}).Parts()
		got := Expand(parts[len(parts)-1].Lines, Options{AnyYarn: true}).Verdicts
		if v := got[len(got)-1]; v.Used != c.used || v.Made != c.made || v.Word != OK && v.Word != Uncounted {
			t.Errorf("used %d made %d %s, want %d and %d: %s", v.Used, v.Made, v.Word, c.used, c.made, c.text)
		}
	}
}

// TestMakersSlips reads rounds whose count is wrong by one: no reading of them is
// found that would make it right.
func TestMakersSlips(t *testing.T) {
	for _, line := range []string{
		"Rnd 2: sc in each st across the back, ch 1, do not turn (25)",
		"Rnd 2: ch 1, hdc in each st around, join (25)",
		"Rnd 2: Sc around. Mark the last st. <25>",
		"Rnd 2: 6 sc, attach the arm with the next 3, 15 sc (25)",
		"Rnd 2: sc 12, leave the remaining 12 sts unworked (13)",
		"Rnd 2: Decrease every 4 sts (19)",
		"Rnd 2: 12 sc around the first leg, 12 sc around the second leg (25)",
		"Rnd 2: (ch 6, sl st in 2nd ch from hook, sl st in next 4 ch, sc in next 3 sts) x 8 (25)",
		"Rnd 2 // *sc in next 3 sts, inc* 6 times // 31",
	} {
		lines := Read(source.NewFile("maker", "Rnd 1: 24 sc in magic ring\n"+line+"\n"), ReadOptions{}).Lines()
		got := Expand(lines, Options{AnyYarn: true}).Verdicts
		if v := got[len(got)-1]; v.Word != Mismatch && v.Word != Indivisible {
			t.Errorf("used %d made %d %s, want a mismatch: %s", v.Used, v.Made, v.Word, line)
		}
	}
}
