package notation

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// TestPublishedRounds works the round texts of testdata/rounds.tsv, whose
// sources stand in its first line, on as many stitches as they are said to go
// into: they use all of them and make what is said, in every style in which
// they are printed again.
func TestPublishedRounds(t *testing.T) {
	table, err := os.ReadFile("testdata/rounds.tsv")
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(string(table)), "\n")[2:]
	if len(rows) < 15 {
		t.Fatalf("only %d rows", len(rows))
	}
	for _, row := range rows {
		cells := strings.Split(row, "\t")
		text := cells[0]
		into, err := strconv.Atoi(cells[1])
		if err != nil {
			t.Fatal(err)
		}
		makes, err := strconv.Atoi(cells[2])
		if err != nil {
			t.Fatal(err)
		}
		res := workOn(into, text, makes)
		last := res.Verdicts[len(res.Verdicts)-1]
		if last.Word != OK || last.Used != into || last.Made != makes || len(res.Findings) > 0 {
			t.Errorf("%s: %s, uses %d and makes %d, want %d and %d: %v", text, last.Word, last.Used, last.Made, into, makes, res.Findings)
			continue
		}
		checkReadBack(t, res.Rounds, res.Yarns)
	}
}

// workOn works a round on a ring of so many single crochets.
func workOn(below int, text string, declared int) *Result {
	f := source.NewFile("round", fmt.Sprintf("Rnd 1: %d sc in magic ring (%d)\nRnd 2: %s (%d)\n", below, below, text, declared))
	return Expand(Read(f, ReadOptions{Strict: true}).Lines(), Options{Strict: true})
}

// TestFlatCircles works flat circles of sc, hdc and dc by the first counts and
// increases that are usual: 6, 8 and 12, so that round k has k times the first
// (garturstitchfarmshop.com, crocheting a flat circle, with the counts of rounds
// 1 to 5; the first counts also craftymaria.blogspot.com 2009-06 and
// crochetrebellion.com/circle).
func TestFlatCircles(t *testing.T) {
	for _, c := range []struct {
		stitch stitch.Stitch
		counts []int
	}{
		{stitch.SC, []int{6, 12, 18, 24, 30}},
		{stitch.HDC, []int{8, 16, 24, 32, 40}},
		{stitch.DC, []int{12, 24, 36, 48, 60}},
	} {
		abbr, first := c.stitch.Abbr(stitch.US), c.counts[0]
		var b strings.Builder
		fmt.Fprintf(&b, "Rnd 1: %d %s in magic ring\nRnd 2: 2 %s in each st around\n", first, abbr, abbr)
		for k := 3; k <= len(c.counts); k++ {
			fmt.Fprintf(&b, "Rnd %d: *%s in next %d sts, 2 %s in next st; rep from * around\n", k, abbr, k-2, abbr)
		}
		res := Expand(Read(source.NewFile(abbr, b.String()), ReadOptions{}).Lines(), Options{})
		if len(res.Rounds) != len(c.counts) || len(res.Findings) > 0 {
			t.Fatalf("%s: %d rounds, %v", abbr, len(res.Rounds), res.Findings)
		}
		for k, r := range res.Rounds {
			if r.Made != c.counts[k] {
				t.Errorf("%s: round %d makes %d, want %d", abbr, k+1, r.Made, c.counts[k])
			}
		}
	}
}
