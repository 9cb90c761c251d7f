package notation

import (
	"testing"

	"roundelay/pattern/source"
)

// TestLace reads small patterns with spaces, groups, corners and earlier rounds
// to work into, and old ways to say it, worked out by hand. A round is what it
// uses and makes, -1 where it goes into spaces.
func TestLace(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		want       [][2]int
	}{
		{"centres of groups", `
Rnd 1: 12 sc in ring
Rnd 2: *5 dc in next st, sc in next st; rep from * around
Rnd 3: Sl st to center dc of first shell, *sc in center dc of next shell, ch 7; rep from * around
Rnd 4: 9 sc in each ch-7 loop`, [][2]int{{0, 12}, {12, 36}, {36, 6}, {-1, 54}}},
		{"a granny by its corners", `
Rnd 1: Ch 4, join; ch 3, 2 dc in ring, ch 2, (3 dc in ring, ch 2) 3 times, join.
Rnd 2: Sl st to corner sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, *ch 1, (3 dc, ch 2, 3 dc) in next corner sp; rep from * 2 more times, ch 1, join.
Rnd 3: Join new color in any corner sp. With 1 group of 3 dc between corners. Join.
Rnd 4: Ch 1, sc in each dc and in each ch-1 sp, 3 sc in each corner sp, join.`, [][2]int{{0, 12}, {-1, 24}, {-1, 36}, {-1, 56}}},
		{"behind the round below", `
Rnd 1: ch 5, join. (sc in ring, ch 3) 6 times, join
Rnd 2: (sc, hdc, 2 dc, hdc, sc) in each ch-3 sp
Rnd 3: *sc around the post of next Rnd 1 sc from behind, ch 4; rep from * 5 more times
Rnd 4: (sc, hdc, 4 dc, hdc, sc) in each ch-4 sp`, [][2]int{{0, 6}, {-1, 36}, {-1, 6}, {-1, 48}}},
		{"a basket with handles", `
Rnd 1: 48 sc in ring
Rnd 2: Sc in next 9 sc, ch 6, skip 6 sc, sc in next 18 sc, ch 6, skip 6 sc, sc in last 9 sc
Rnd 3: Sc in each st around`, [][2]int{{0, 48}, {48, 48}, {48, 48}}},
		{"picots by their slip stitch", `
Rnd 1: 36 sc in ring
Rnd 2: *skip 1, (3 dc, ch 2, sl st in 2nd ch from hook, 3 dc) in next, skip 1, sl st in next* x 9`, [][2]int{{0, 36}, {36, 63}}},
		{"a purse of the 1850s", `
Make a chain of 5, and unite it in a round.
1st round.—Work 12 d.c. under the chain.
2nd.—2 d.c. in every loop. 24 stitches.
3rd.—1 long, 1 chain, in every loop.
4th.—D.c. on every long, and one under every chain, 48 in all.
5th.—* 5 ch., miss 2, 1 d.c. on the 3rd, * 16 times.
6th.—Under every chain 1 d.c., 5 long, 1 d.c.`, [][2]int{{0, 12}, {12, 24}, {24, 24}, {-1, 48}, {48, 16}, {-1, 112}}},
		{"a cap in plain", `
First round.—Ten plain in the ring.
Second round.—Two in every stitch (20).
Third round.—One plain in the 1st stitch, two in the 2nd; repeat all round (30).
Fourth and fifth rounds.—Continue to increase in the same ten places on each round, and you will have fifty stitches.
Sixth round.—Plain, without widening.
Seventh round.—Miss every 5th stitch (40).`, [][2]int{{0, 10}, {10, 20}, {20, 30}, {30, 50}, {50, 50}, {50, 40}}},
		{"after a round not read, the spaces that it declares", `
Rnd 1: 36 sc in ring
Rnd 2: in every third place of the moon, dither (36 dc, 12 ch-1 sps)
Rnd 3: ch 1, sc in same st and in each st and ch around (48)
Rnd 4: in every third place of the moon, dither (36 dc, 12 ch-1 sps)
Rnd 5: 3 dc in each ch-1 sp around (36)`, [][2]int{{0, 36}, {-1, -1}, {36, 48}, {-1, -1}, {-1, 36}}},
		{"a list that could be a count", `
Rnd 1: 15 sc in ring
Rnd 2: *ch 3, skip 2, sl st in next; rep from * 4 times more
Rnd 3: into each loop work (1 sc, 1 hdc, 3 dc, 1 hdc, 1 sc)`, [][2]int{{0, 15}, {15, 5}, {-1, 35}}},
		{"a ring begun in the middle of a paragraph", `
Start at the neck. Leave a long tail. Ch 22. Join with a sl st to make a circle. Continue in a spiral.
R1: sc in all 22 ch (22)
R2: sc in all 22 st (22)`, [][2]int{{22, 22}, {22, 22}}},
		{"a ring of chains with a caution", `
Make a chain of 30 sts, being careful not to twist, join in a ring.
Rnd 1: ch 1, sc in each ch around (30)
Rnd 2: 5 sc, 4 x 2 sc, 17 sc`, [][2]int{{30, 30}, {30, 30}}},
		{"how often, in few words", `
R: 1 - 6 sc in MR (6)
R: 2 - inc rep 6 (12)
R: 3 - (1 sc, inc) rep 6 (18)
R: 4 - sc in next 2 sts, inc, (sc in next 2 sts, inc) 5 more times (24)`, [][2]int{{0, 6}, {6, 12}, {12, 18}, {18, 24}}},
		{"letters of yarns before their stitches", `
Rnd. 01. in A 6 sc in MR (6)
Rnd. 02. inc around (12)
Rnd. 03. A sc 3, B sc 6, A sc 3 (12)`, [][2]int{{0, 6}, {6, 12}, {12, 12}}},
		{"rounds of one line without a count between", `
R1: mr 5 (5)  R2: 5 sc  R3: 5 sc`, [][2]int{{0, 5}, {5, 5}, {5, 5}}},
		{"joined to the third of four chains, and a count after a dash", `
UK terms
Rd 1. 4ch, ss to join into ring. 3ch, 15tr in ring, ss to join - 16tr
Rd 2. 4ch (counts as 1tr, 1ch), [1tr in next st, 1ch] rep to end, ss to 3rd of 4ch - 16tr, 16 1ch-sps.
Rd 3. Ss in next ch sp, 3ch, 2tr in same sp, [3tr in next sp] rep to end, ss to join - 48tr.`, [][2]int{{0, 16}, {16, 16}, {-1, 48}}},
		{"taken together, and told rows of a band", `
1st Row—12 s. c. in ring.
2nd Row—* 1 s. c. in each of 2 stitches, take the next 2 together, repeat from * around (9 s. c.).
Then for the band work 3 rows plain on these stitches.
Fasten off, and sew it over two rounds of black cloth.`, [][2]int{{0, 12}, {12, 9}, {9, 9}}},
		{"rounds of a stitch, and a colour before the round", `
1st round.—Work 12 s.c. in the ring.
2nd.—Scarlet. * 2 s.c. in one, 1 in each of the 2 following; repeat all round (16).
Work 5 rounds more of s.c. for the edge, and press under a damp cloth.`, [][2]int{{0, 12}, {12, 16}, {16, 16}}},
		{"loops settle how often", `
Rnd 1: 36 sc in ring
Rnd 2: ch 1, sc in first sc, *ch 5, sk 2 sc, sc in next sc; rep from * 10 times, ch 5, join in first sc. [12 lps made.]
Rnd 3: 3 sc in each lp around (36 sc)`, [][2]int{{0, 36}, {36, 12}, {-1, 36}}},
		{"counts of groups", `
Rnd 1: Ch 3, 2 dc in ring, ch 2, *3 dc in ring, ch 2, repeat from * 2 more times. Join. You will have 4 groups of 3 dc.
Rnd 2: Slip stitch over to the corner space. Ch 3, 2 dc, ch 2, 3 dc all in the same space. *In next ch-2 space, 3 dc, ch 2, 3 dc. Repeat from * around and join. There should be 8 groups.`, [][2]int{{0, 12}, {-1, 24}}},
		{"gaps between shells with a space in each", `
Rnd 1: Ch 3, 11 dc in ring, join. 12 dc.
Rnd 2: Ch 3, (dc, ch 2, 2 dc) in same st, *skip next st, (2 dc, ch 2, 2 dc) in next st; rep from * around, join. 24 dc, 6 ch-2 sps.
Rnd 3: Sl st in next dc and in ch-2 sp, (ch 3, dc, ch 2, 2 dc) in same sp, 2 dc between shells, *(2 dc, ch 2, 2 dc) in next ch-2 sp, 2 dc between shells; rep from * around, join. Fasten off B—36 dc, 6 ch-2 sps.`, [][2]int{{0, 12}, {12, 24}, {-1, 36}}},
		{"groups between groups", `
UK terms
Rd 1. 4ch, ss to join into ring. 3ch, 15tr in ring, ss to join - 16tr
Rd 2. 4ch (counts as 1tr, 1ch), [1tr in next st, 1ch] rep to end, ss to 3rd of 4ch - 16tr, 16 1ch-sps.
Rd 3. Using 3rd colour join to any sp, 3ch, 2tr in same sp, [3tr in next sp] rep to end, ss to join - 48tr.
Rd 4. Using 4th colour join between any two groups, (3ch, 2tr, 2ch, 3tr) in same place, *[3tr between next 2 groups] 3 times, (3tr, 2ch, 3tr) between next 2 groups; rep from * twice more, [3tr between next 2 groups] 3 times, ss to join. 60tr.`, [][2]int{{0, 16}, {16, 16}, {-1, 48}, {-1, 60}}},
		{"numbers that begin anew on the same piece", `
Rnd 1: 64 sc in ring (64)
BEADING: Rnd 1: Ch 4 (counts as 1 dc and ch 1), skip next sc, * 1 dc in next sc, ch 1, skip next sc, rep from * around, join to 3rd st of ch 4 - 32 dc.
Rnd 2: Ch 1, sc in each dc and ch-1 sp around - 64 sc.`, [][2]int{{0, 64}, {64, 32}, {32, 64}}},
		{"a count after increases said in a word", `
Rnd 1: 42 sc in ring.
Rnd 2: Increase 8 sc evenly around, 50 sc.
Rnd 3: 8 sc, (4 sc, inc) rep 7, 7 sc (57)`, [][2]int{{0, 42}, {42, 50}, {50, 57}}},
		{"stops of abbreviations", `
Rd. 1: Ch. 2, 8 sc. in 2nd ch. from hook. (8 sc.)
Rds. 2 & 3: 2 sc. in each sc. (32 sc. at end of Rd. 3)
Rd. 4: *1 sc. in next, 2 sc. in next, repeat from * (48 sc.)`, [][2]int{{0, 8}, {8, 32}, {32, 48}}},
		{"pieces like others", `
SHELL
R1: 6 sc in MR (6)
R2: inc in each (12)

BELLY
R1-R2: as for the shell (12)
R3: (sc, inc) x 6 (18)`, [][2]int{{0, 6}, {6, 12}, {0, 12}, {12, 18}}},
		{"between groups", `
Rnd 1: 12 sc in ring
Rnd 2: 3 dc in each st around
Rnd 3: 3 dc in each space between groups`, [][2]int{{0, 12}, {12, 36}, {-1, 36}}},
		{"gaps between pairs and groups", `
Rnd 1: 12 dc in ring
Rnd 2: 2 dc in each gap between the sts of Rnd 1
Rnd 3: 3 dc in each space between pairs
Rnd 4: In the gaps between groups - *(3 dc, ch 2, 3 dc) for the corner, 3 dc in next gap, 3 dc in next gap* 4 times
Rnd 5: *Corner as before in the ch-2 sp, 3 dc in each of the next 3 gaps* 4 times
Rnd 6: Sc in each dc, 3 sc in each corner`, [][2]int{{0, 12}, {12, 24}, {-1, 36}, {-1, 48}, {-1, 60}, {-1, 72}}},
		{"each gap, where no chains are", `
Rnd 1: 10 dc in ring
Rnd 2: 2 dc in each st
Rnd 3: 3 dc in each space
Rnd 4: Sc between the dc, one in every gap`, [][2]int{{0, 10}, {10, 20}, {-1, 30}, {30, 30}}},
		{"long stitches", `
Rnd 1: 12 dc in ring
Rnd 2: 2 dc in each st
Rnd 3: *Sc in each of next 2 dc, 1 long sc down into the dc of Rnd 1; rep from * around (36)
Rnd 4: *3 dc in next st, skip 2; rep from * around
Rnd 5: *Sc in each of 3 dc, long dc over the dc into Rnd 2* 12 times (48)
Rnd 6: *Sc in next 3 sts, spike st in next st; rep from * around
Rnd 7: *Sc in next 4 sts, FPtr around a round four sc below without skipping any sc; rep from * around (60)`, [][2]int{{0, 12}, {12, 24}, {24, 36}, {36, 36}, {36, 48}, {48, 48}, {48, 60}}},
		{"loops that are stitches, and what is said of a list", `
With white, make a chain of five stitches and unite it.
First row.—Crochet two in every loop of the chain.
Second row.—Work two into every loop.
Third row.—One plain, two into the next loop, and so on to the end.
Fourth row.—Red and white alternately, three stitches of red, two of white; repeat all round.
Fifth row.—Dc in every loop.`, [][2]int{{5, 10}, {10, 20}, {20, 30}, {30, 30}, {30, 30}}},
		{"a number after its stitch", `
Begin in the centre, with scarlet, by making a chain of 5, which unite.
1st Round.--Dc, 8, in the circle.
2nd.--2 dc in every stitch; 16 in the round.
3rd.--* 1 long treble, 1 chain, miss 1, * 8 times.
4th.--Under every chain, 2 dc.`, [][2]int{{0, 8}, {8, 16}, {16, 8}, {-1, 16}}},
		{"last loops held back", `
Rnd 1: Ch 3, 23 dc in ring, join.
Rnd 2: Ch 5, *skip 1 dc, dc in next dc, ch 2; rep from * around, join.
Rnd 3: Sl st in next sp, ch 3, 4 dc in same sp, *ch 1, 5 dc in next sp; rep from * around, ch 1, join.
Rnd 4: Ch 3, holding back on hook the last loop of each dc make dc in next 4 dc, thread over and draw through all loops on hook (cluster made), *ch 9, cluster over next 5 dc; rep from * around, ch 9, join.
Rnd 5: Sl st in sp, ch 3, leaving the last loop of each on hook work 2 dc into same sp, yarn over and pull through all 3 loops (a 3 dc cluster made), *ch 4, 3 dc cluster into next sp; rep from * around, ending with ch 4, sl st in top of first cluster.
Rnd 6: Sl st in sp, ch 3, dc2tog in same sp, ch 3, *dc3tog in next sp, ch 3; rep from * around, join.
Rnd 7: Work 3 dc in each sp leaving last loop of each on hook, yo and draw through all loops, ch 5, join (12)`, [][2]int{{0, 24}, {24, 12}, {-1, 60}, {60, 12}, {-1, 12}, {-1, 12}, {-1, 12}}},
		{"a pineapple", `
1st rnd: Ch 3, 17 dc in ring. Join with sl st to top of ch-3 (18 dc, counting the ch).
2nd rnd: Ch 5, * dc in next dc, ch 2. Repeat from * around, joining with sl st to 3rd of 5 ch.
3rd rnd: Sl st in sp, ch 3, 2 dc in same sp, 3 dc in each sp around. Join (54 dc).
4th rnd: Ch 3, dc in same place as sl st, ch 2, 2 dc in same place (shell made), * ch 2, skip 3 dc, 5 tr in next dc, ch 2, skip 4 dc, in next dc make 2 dc, ch 2 and 2 dc (another shell made). Repeat from * around, ending with ch 2, skip 3 dc, 5 tr in next dc, ch 2. Join.
5th rnd: Sl st to sp of shell, ch 3, in same sp make dc, ch 2 and 2 dc (shell over shell made), * ch 2, (tr in next tr, ch 1) 4 times; tr in next tr, ch 2, shell over next shell. Repeat from * around, ending with ch 2. Join.
6th rnd: Shell over shell, * ch 3, sc in next ch-1 sp, (ch 3, sc in next ch-1 sp) 3 times; ch 3, shell over shell. Repeat from * around. Join.
7th rnd: Shell over shell, * ch 3, skip next ch-3, sc in next loop, (ch 3, sc in next loop) twice; ch 3, shell over shell. Repeat from * around. Join.
8th rnd: Shell over shell, * ch 4, skip next ch-3, sc in next ch-3, ch 3, sc in next ch-3, ch 4, shell over shell. Repeat from * around. Join.
9th rnd: Shell over shell, * ch 5, sc in remaining loop of pineapple, ch 5, shell over shell. Repeat from * around. Join.
10th rnd: Ch 1, * 3 sc in sp of shell, 6 sc in each of next 2 loops. Repeat from * around. Join (90 sc).`, [][2]int{{0, 18}, {18, 18}, {-1, 54}, {54, 54}, {-1, 54}, {-1, 48}, {-1, 42}, {-1, 36}, {-1, 30}, {-1, 90}}},
		{"to the centre of a group, and on in the same place", `
1st Row: 4 ch, 31 dbl tr into ring, 1 ss into 4th of 4 ch.
2nd Row: 3 ch, 1 tr into each of next 3 tr, * 2 ch, miss 1, 1 tr into each of next 3 tr; repeat from * ending with 2 ch, 1 ss into 3rd of 3 ch.
3rd Row: 7 dc into each sp, 1 ss into first dc.
4th Row: 3 ch, 1 tr into each of next 2 dc, * 2 ch, miss 2 dc, 1 tr into each of next 5 dc; repeat from * ending with 2 ch, miss 2 dc, 1 tr into each of next 2 dc, 1 ss into 3rd of 3 ch.`, [][2]int{{0, 32}, {32, 25}, {-1, 56}, {56, 40}}},
		{"groups in the count, and from the gap on", `
Beginning ch 3 always counts as a dc.
Round 1: Ch 4, join to make a ring. Ch 3, 11 dc in ring. Join with a sl st to top of ch 3. (12 dc)
Round 2: Sl st between ch 3 and next dc. Ch 3, dc in same place, 2 dc between each dc around. Join. (24 dc)
Round 3: Sl st to the space between two pairs. Ch 3, 2 dc in same space, 3 dc in each space between pairs around. Join. (12 groups, 36 dc)
Round 4: Sl st to next space. Ch 3, 2 dc in same space, 3 dc in each space around. Join. (12 groups)`, [][2]int{{0, 12}, {12, 24}, {-1, 36}, {-1, 36}}},
		{"abbreviations with stops, letters for figures", `
Rnd. l. 8 s.c. in ring.
Rnd. 2. 2 s.c. in each s.c. 16 s.c.
Rnd. 3. *1 s.c. in next s.c., 2 s.c. in next; repeat from * around. 24 s.c.`, [][2]int{{0, 8}, {8, 16}, {16, 24}}},
		{"chains between, and a chain that is no stitch of a space", `
Rnd 1: ch 3, 11 dc in ring, join (12)
Rnd 2: ch 4, dc in next, (ch 1, dc in next) around, ch 1 (12 dc)
Rnd 3: puff stitch in each ch 1 space, ch 2 between them (12 puffs)
Rnd 4: 3 sc in each ch-2 sp (36)
Rnd 5: ch 1, *sc in next st, ch 4, sk 2; rep from * around, join (12 arches)`, [][2]int{{0, 12}, {12, 12}, {-1, 12}, {-1, 36}, {36, 12}}},
		{"a starting chain that is no stitch, in a space", `
Rnd 1: Into a magic ring: ch 3, 16 dc. Slip stitch to first dc. (16)
Rnd 2: Ch 1, sc in same st, ch 2, sk 1, [sc in next st, ch 2, sk 1] 7 times. Join. (8 sc, 8 ch-2 sps)
Rnd 3: Sl st into ch-2 sp, ch 3, 4 dc in each ch-2 sp around. Join. (32 dc)`, [][2]int{{0, 16}, {16, 8}, {-1, 32}}},
		{"the 4th of a group", `
1st Round.—20 treble under the chain.
2nd Round.—1 dc, 6 chain, miss 3; repeat all round. 5 loops.
3rd Round.—Under every loop, 1 dc, 7 treble, 1 dc. 45 stitches.
4th Round.—1 dc on the 4th of the 7 treble, 7 chain; repeat the same all round.
5th Round.—Slip to the loop, 3 chain, 3 treble under the same loop, 4 treble in each loop; join.`, [][2]int{{0, 20}, {20, 5}, {-1, 45}, {45, 5}, {-1, 20}}},
		{"over to the corner", `
**Start:** Ch 4, sl st into first ch to form a ring.
**R1.** Ch 3, 2 dc in ring, ch 2, (3 dc in ring, ch 2) 3 times. Sl st to top of ch 3. *12 dc*
**R2.** Sl st over to the corner sp. Ch 3, (dc, ch 2, 2 dc) in same sp, dc in each of the next 3 dc, *(2 dc, ch 2, 2 dc) in corner sp, dc in each of the next 3 dc; rep from \* 2 more times. Join. *28 dc*`, [][2]int{{0, 12}, {-1, 28}}},
		{"clusters completed, tips, and spaces kept for the end", `
1st round: Ch 1, 16 s c in ring, sl st in first s c.
2nd round: Ch 4, holding back on hook the last loop of each tr make 2 tr in same place as sl st, thread over and draw through all loops on hook (cluster made), * ch 5, skip 1 s c, holding back the last loop of each tr make 3 tr in next s c and complete cluster as before. Repeat from * around, ending with ch 5, sl st in tip of first cluster. 8 clusters.
3rd round: S c in tip of each cluster, 4 s c in each ch-5 loop. 40 s c.
4th round: * ch 5, skip 4 s c, s c in next s c. Repeat from * around. 8 loops.
5th round: Sl st to next loop, ch 3, 4 dc in same loop, * (ch 3, sc in next loop) 3 times, ch 3, 5 dc in next loop. Repeat from * around, ending with (ch 3, sc in next loop) 3 times, ch 3, sl st to top of ch-3.`, [][2]int{{0, 16}, {16, 8}, {-1, 40}, {40, 8}, {-1, 16}}},
		{"that stitch, a stitch of the next petal, shells to sum up", `
Round 1: 24 sc in ring
Round 2: Ch 1, sc in same st, ch 3, skip 2 sts, *sc in next st, ch 3, skip 2 sts; rep from * around. Join. {8 sc, 8 ch-3 loops}
Round 3: Sl st into first loop. Work (sc, hdc, dc, hdc, sc) in each ch-3 loop around. Join to first sc. {8 petals, 40 sts}
Round 4: Sl st in next 2 sts, which brings you to the dc of the first petal. Ch 1, sc in that dc, ch 5, *skip 4 sts, sc in dc of next petal, ch 5; rep from * around. Join. {8 sc, 8 ch-5 loops}
Round 5: 3 sc in each loop.
Round 6: *Sc, skip 1, 4 dc in next; rep around.
Round 7: Finish with sc in each st of the shells and in each sc between; 40 sc.`, [][2]int{{0, 24}, {24, 8}, {-1, 40}, {40, 8}, {-1, 24}, {24, 40}, {40, 40}}},
		{"stitches of corners", `
Round 1: 12 sc in ring
Round 2: *Sc in next 2 sts, 3 sc in next st; rep from * 3 more times (20)
Round 3: Sc in each sc around, 3 sc in each corner sc. (28)
Round 4: 1 sc in each st, 3 sc in each corner stitch. (36)`, [][2]int{{0, 12}, {12, 20}, {20, 28}, {28, 36}}},
		{"groups in a shell's space, and the last of them", `
1st rnd: 24 sc in ring.
2nd rnd: * ch 3, skip 3, in next sc make 2 dc, ch 2 and 2 dc (shell made). Repeat from * around. Join.
3rd rnd: Sl st to next loop, ch 1, sc in same loop, * ch 4, in sp of next shell make 2 dc, (ch 2, 2 dc) twice, ch 4, sc in next ch-3 loop. Repeat from * around, ending with ch 4, in sp of last shell make 2 dc, (ch 2, 2 dc) twice, ch 4. Join.`, [][2]int{{0, 24}, {24, 24}, {-1, 42}}},
		{"on after a round that went wrong", `
R1: Ch 4, join, ch 3, 2 dc in ring, ch 2, (3 dc in ring, ch 2) 3 times, join (12 dc)
R2: Sl st to corner sp, ch 3, (dc, ch 2, 2 dc) in same sp, dc in next 3 dc, *(2 dc, ch 2, 2 dc) in corner sp, dc in next 3 dc; rep from * 2 more times, join (28 dc)
R3: Sl st in corner, (2 dc, ch 2, 2 dc) in each corner and dc in each dc between (44 dc)`, [][2]int{{0, 12}, {-1, 28}, {-1, 44}}},
		{"a last slip stitch that counts", `
Rnd 1: 11 sc in ring
Rnd 2: (sc2tog) 5 times, sl st (6)`, [][2]int{{0, 11}, {11, 6}}},
	} {
		var got [][2]int
		for _, part := range Read(source.NewFile("lace", tt.text), ReadOptions{}).Parts() {
			for _, v := range Expand(part.Lines, Options{AnyYarn: true}).Verdicts {
				got = append(got, [2]int{v.Used, v.Made})
				if v.Word != OK && v.Word != Uncounted && (v.Word != Unread || v.Declared < 0) {
					t.Errorf("%s: %s: %s", tt.name, v.Line.Label, v.Word)
				}
			}
		}
		if len(got) != len(tt.want) {
			t.Errorf("%s: %d rounds, want %d: %v", tt.name, len(got), len(tt.want), got)
			continue
		}
		for i, want := range tt.want {
			if got[i] != want {
				t.Errorf("%s: round %d uses and makes %v, want %v", tt.name, i+1, got[i], want)
			}
		}
	}
}
