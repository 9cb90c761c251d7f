package chart

import (
	"fmt"
	"math/rand/v2"
	"strings"

	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// generators return the specs of pieces of many kinds, at random.
var generators = []func(*rand.Rand) []string{randomRounds, randomSquare, randomDoily, randomOval, randomTurned, randomBall}

// randomRounds returns the specs of a piece that works everything of each round
// below, in one way or another.
func randomRounds(rng *rand.Rand) []string {
	lace, joined := rng.IntN(2) == 0, rng.IntN(2) == 0
	first := 5 + rng.IntN(8)
	specs := []string{fmt.Sprintf("%d*%s", first, pick(rng, "sc", "dc", "hdc"))}
	if joined {
		specs[0] = "CH " + specs[0] + " join"
	}
	for range 2 + rng.IntN(6) {
		rounds := worked(specs...)
		below := rounds[len(rounds)-1]
		var b strings.Builder
		if joined {
			b.WriteString(pick(rng, "CH ", "CH CH CH ", "CH CH "))
		}
		grow := rng.IntN(3)
		for i := 0; i < len(below.Stitches); i++ {
			s := &below.Stitches[i]
			space := s.Kind == stitch.Ch && s.Role == notation.Plain
			if space {
				for i+1 < len(below.Stitches) && below.Stitches[i+1].Kind == stitch.Ch {
					i++
				}
				switch rng.IntN(4) {
				case 0:
					fmt.Fprintf(&b, "sp{%d*dc} ", 1+rng.IntN(4))
				case 1:
					b.WriteString("sp{2*dc ch ch 2*dc} ")
				case 2:
					b.WriteString("sp{sc} ")
				case 3:
					b.WriteString("sp{sc hdc dc hdc sc} ")
				}
				continue
			}
			if !s.Counts {
				continue
			}
			next := i+1 < len(below.Stitches) && below.Stitches[i+1].Counts
			switch k := rng.IntN(10); {
			case k < 2 && grow > 0:
				b.WriteString(pick(rng, "sc.2 ", "dc.2 ", "dc.3 ", "hdc.2 ", "dc.5 ", "st{dc ch dc} "))
			case k < 3 && next && grow != 2:
				b.WriteString(pick(rng, "sc2tog ", "dc2tog ", "invdec "))
				i++
			case k < 4 && lace && next:
				b.WriteString(pick(rng, "sc ch ch sk ", "dc ch sk ", "sc ch ch ch ch ch sk "))
				i++
			case k < 5:
				b.WriteString(pick(rng, "sc.b ", "sc.f ", "dc4cl ", "fpdc ", "dc5pop ", "sc picot3 "))
			default:
				b.WriteString(pick(rng, "sc ", "sc ", "sc ", "sc ", "dc ", "hdc ", "tr "))
			}
		}
		if joined {
			b.WriteString("join")
		}
		specs = append(specs, b.String())
		if w := worked(specs...); len(w[len(w)-1].Stitches) > 150 || w[len(w)-1].Made < 4 {
			break
		}
	}
	return specs
}

// randomSquare returns a piece with corners: squares with spaces at them, groups
// of three, or three stitches in one.
func randomSquare(rng *rand.Rand) []string {
	n, rounds := 3+rng.IntN(6), 2+rng.IntN(4)
	switch rng.IntN(3) {
	case 0:
		return spaced(n, rounds, rng.IntN(2))
	case 1:
		return cluster(n, rounds)
	}
	return cornered(pick(rng, "sc", "hdc", "dc"), n, rounds, rng.IntN(2))
}

// randomDoily returns loops of chains with shells in them, and more of these on
// top.
func randomDoily(rng *rand.Rand) []string {
	n := 4 + rng.IntN(12)
	specs := []string{fmt.Sprintf("CH %d*%s join", n, pick(rng, "sc", "dc", "hdc"))}
	for range 1 + rng.IntN(3) {
		chains := times(2+rng.IntN(5), "ch")
		shell := pick(rng, "5*dc", "sc hdc 3*dc hdc sc", "3*dc ch 3*dc", "2*dc ch ch 2*dc", "sc", "sc ch ch ch sc", "4*tr")
		specs = append(specs, fmt.Sprintf("CH %d*(sc %s) join", n, chains), fmt.Sprintf("CH %d*(sk sp{%s}) join", n, shell))
		rounds := worked(specs...)
		// One stitch over each shell, for the next loops to stand on.
		per := rounds[len(rounds)-1].Made / n
		skips := strings.Repeat("sk ", per-1)
		specs = append(specs, fmt.Sprintf("CH %d*(sc ch ch %s) join", n, skips))
		if per == 1 {
			specs[len(specs)-1] = fmt.Sprintf("CH %d*sc join", n)
		}
	}
	return specs
}

// randomOval returns rounds about a chain.
func randomOval(rng *rand.Rand) []string {
	n := 4 + rng.IntN(12)
	specs := []string{fmt.Sprintf("oval %d", n), fmt.Sprintf("sk %d*sc sc.3 under sk %d*sc sc.2", n-2, n-3)}
	side := n - 3
	kind := pick(rng, "sc", "hdc", "dc")
	for k := range rng.IntN(4) {
		ends := fmt.Sprintf("%s %s.2 ", times(k, kind), kind)
		specs = append(specs, fmt.Sprintf("%s %s %s %s %s", ends, times(side, kind), strings.Repeat(ends, 3), times(side, kind), strings.Repeat(ends, 2)))
	}
	return specs
}

// randomTurned returns rounds some of which are worked back after a turn.
func randomTurned(rng *rand.Rand) []string {
	n := 5 + rng.IntN(6)
	specs := []string{fmt.Sprintf("%d*%s", n, pick(rng, "sc", "dc"))}
	for k := range 2 + rng.IntN(4) {
		if rng.IntN(2) == 0 {
			specs[len(specs)-1] += " turn"
		}
		kind := pick(rng, "sc", "hdc", "dc", "sc.b")
		specs = append(specs, fmt.Sprintf("%d*(%s sc.2)", n, times(k, kind)))
	}
	return specs
}

// randomBall returns a ball that closes.
func randomBall(rng *rand.Rand) []string { return ball(4+rng.IntN(5), 2+rng.IntN(5), rng.IntN(5)) }

func pick(rng *rand.Rand, of ...string) string { return of[rng.IntN(len(of))] }
