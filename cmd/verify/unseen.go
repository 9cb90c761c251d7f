package main

import (
	"fmt"
	"strings"
	"testing/fstest"

	"roundelay/chart"
	"roundelay/pattern"
)

// An unseen is a pattern that is not in the demo book, made here: larger, or of
// another shape.
type unseen struct {
	name   string
	style  string // of its piece
	rounds []string
	drawn  []chart.Options
}

// unseens are the patterns that are drawn beside those of the demo book.
var unseens = []unseen{
	{"ball of 31 rounds", "spiral", ballRounds(6, 11, 11), []chart.Options{{View: chart.Auto}, {View: chart.Repeat}, {View: chart.Strip}}},
	{"ball of 60 rounds", "spiral", ballRounds(6, 20, 22), []chart.Options{{View: chart.Halves}}},
	{"ball that starts with 8", "joined", ballRounds(8, 6, 3), []chart.Options{{View: chart.Whole}, {View: chart.Halves}}},
	{"oval of 7 chains", "spiral", ovalRounds(7, 4), []chart.Options{{View: chart.Whole}}},
	{"oval of 24 chains", "spiral", ovalRounds(24, 9), []chart.Options{{View: chart.Whole}}},
	{"granny of 3 rounds", "joined", grannyRounds(3), []chart.Options{{View: chart.Whole}, {Outline: chart.Shape}, {View: chart.Strip}}},
	{"granny of 9 rounds", "joined", grannyRounds(9), []chart.Options{{View: chart.Whole}, {Outline: chart.Shape}, {Outline: chart.Shape, Hand: chart.Left}, {View: chart.Strip}}},
	{"hexagon of 12 rounds", "spiral", linedRounds(6, 12), []chart.Options{{Outline: chart.Shape}}},
	{"octagon of 8 rounds", "spiral", linedRounds(8, 8), []chart.Options{{Outline: chart.Shape}}},
	{"doily of 6 shells", "joined", doilyRounds(6), []chart.Options{{View: chart.Whole}, {View: chart.Repeat}, {View: chart.Strip}}},
	{"doily of 16 shells", "joined", doilyRounds(16), []chart.Options{{View: chart.Whole}, {View: chart.Repeat}, {View: chart.Strip}}},
	{"disc that goes over into a square", "spiral", []string{
		"12 dc in magic ring (12)", "inc in each st around (24)", "(dc 1, inc) x 12 (36)",
		"((2 dc, ch 2, 2 dc) in next st, dc 8) x 4 (48 dc, 4 ch-2 sp)",
		"(dc 2, (2 dc, ch 2, 2 dc) in next ch-2 sp, dc 10) x 4 (64 dc, 4 ch-2 sp)",
	}, []chart.Options{{View: chart.Whole}}},
	{"disc with spikes", "spiral", []string{
		"12 sc in magic ring (12)", "inc in each st around (24)", "(sc 1, inc) x 12 (36)",
		"(sc 1, dc in next st of rnd 2, skip next st, sc 1) x 12 (36)", "sc in each st around (36)",
	}, []chart.Options{{View: chart.Whole}, {View: chart.Whole, Hand: chart.Left}}},
	{"ribs round posts", "spiral", []string{
		"16 dc in magic ring (16)", "inc in each st around (32)", "(FPdc 1, BPdc 1) x 16 (32)", "(FPdc 1, BPdc 1) x 16 (32)",
	}, []chart.Options{{View: chart.Whole}, {View: chart.Strip}}},
	{"snowflake", "spiral", []string{
		"10 sc in magic ring (10)", "5 dc in each st around (50)", "(dc5tog, ch 5) x 10 (10 sts, 10 ch-5 sp)",
		"(4 sc, ch-4 picot, 4 sc) in each ch-5 sp around (80)",
	}, []chart.Options{{View: chart.Strip}}},
	{"disc of 100 rounds", "spiral", ballRounds(6, 100, 0)[:100], []chart.Options{{View: chart.Whole}}},
}

// load returns the pattern of an unseen, read from the text that a maker would
// write.
func (u *unseen) load() (*pattern.Pattern, error) {
	var b strings.Builder
	fmt.Fprintf(&b, "title = \"Unseen\"\nterms = \"US\"\n[[piece]]\nname = \"Piece\"\nstyle = %q\nrounds = '''\n", u.style)
	for i, r := range u.rounds {
		fmt.Fprintf(&b, "Rnd %d: %s\n", i+1, r)
	}
	b.WriteString("'''\n")
	p, findings := pattern.Load(fstest.MapFS{"pattern.toml": {Data: []byte(b.String())}}, "pattern.toml")
	return p, findings.Err()
}

// ballRounds returns the rounds of a ball: increased by first in each round,
// worked even, and decreased.
func ballRounds(first, steps, even int) []string {
	rounds := []string{fmt.Sprintf("%d sc in magic ring (%[1]d)", first), fmt.Sprintf("inc in each st around (%d)", 2*first)}
	for k := 3; k <= steps; k++ {
		half := (k - 2) / 2 // every second round starts within a plain part, so that no corners show
		if k%2 == 1 || half == 0 {
			rounds = append(rounds, fmt.Sprintf("(sc %d, inc) x %d (%d)", k-2, first, first*k))
			continue
		}
		rounds = append(rounds, fmt.Sprintf("sc %d, inc, (sc %d, inc) x %d, sc %d (%d)", half, k-2, first-1, k-2-half, first*k))
	}
	for range even {
		rounds = append(rounds, fmt.Sprintf("sc in each st around (%d)", first*steps))
	}
	for k := steps - 1; k > 1; k-- {
		rounds = append(rounds, fmt.Sprintf("(sc %d, dec) x %d (%d)", k-1, first, first*k))
	}
	return append(rounds, fmt.Sprintf("dec x %d (%[1]d)", first))
}

// linedRounds returns the rounds of a disc with n increases in each round, one
// over the other.
func linedRounds(n, rounds int) []string {
	out := []string{fmt.Sprintf("%d sc in magic ring (%[1]d)", n), fmt.Sprintf("inc in each st around (%d)", 2*n)}
	for k := 3; k <= rounds; k++ {
		out = append(out, fmt.Sprintf("(sc %d, inc) x %d (%d)", k-2, n, n*k))
	}
	return out
}

// ovalRounds returns the rounds of an oval round a chain of n.
func ovalRounds(n, rounds int) []string {
	out := []string{fmt.Sprintf("ch %d, sc in 2nd ch from hook, sc in next %d ch, 3 sc in last ch, working along other side of chain, sc in next %[2]d ch, 2 sc in next ch (%d)", n, n-3, 2*n)}
	for k := 1; k < rounds; k++ {
		ends := fmt.Sprintf("(sc %d, inc)", k-1)
		if k == 1 {
			ends = "inc"
		}
		out = append(out, fmt.Sprintf("%s x 1, sc %d, %[1]s x 3, sc %[2]d, %[1]s x 2 (%[3]d)", ends, n-3, 2*n+6*k))
	}
	return out
}

// grannyRounds returns the rounds of a square with chain spaces at its corners.
func grannyRounds(rounds int) []string {
	out := []string{"ch 3 (counts as dc), 2 dc in magic ring, (ch 2, 3 dc in ring) x 3, ch 2, join with sl st in top of ch 3 (12 dc, 4 ch-2 sp)"}
	const corner = "(2 dc, ch 2, 2 dc) in next ch-2 sp"
	for k := 1; k < rounds; k++ {
		before, after := fmt.Sprintf("dc %d, ", 2*k), fmt.Sprintf("dc %d, ", 2*(k-1))
		if k == 1 {
			after = ""
		}
		out = append(out, fmt.Sprintf("ch 3 (counts as dc), %s%s, (dc %d, %[2]s) x 3, %[4]sjoin with sl st in top of ch 3 (%[5]d dc, 4 ch-2 sp)", before, corner, 4*k-1, after, 12+16*k))
	}
	return out
}

// doilyRounds returns the rounds of n shells on loops of chains.
func doilyRounds(n int) []string {
	const join = ", join with sl st in first %s (%s)"
	return []string{
		fmt.Sprintf("ch 1, %d sc in magic ring"+join, n, "sc", fmt.Sprint(n)),
		fmt.Sprintf("ch 1, (sc 1, ch 3) x %d"+join, n, "sc", fmt.Sprintf("%d sc, %[1]d ch-3 sp", n)),
		fmt.Sprintf("ch 1, 5 dc in each ch-3 sp around"+join, "dc", fmt.Sprint(5*n)),
		fmt.Sprintf("ch 1, (sc in next st, ch 5, skip 4) x %d"+join, n, "sc", fmt.Sprintf("%d sc, %[1]d ch-5 sp", n)),
		fmt.Sprintf("ch 1, (sc, hdc, 5 dc, hdc, sc) in each ch-5 sp around"+join, "sc", fmt.Sprint(9*n)),
	}
}
