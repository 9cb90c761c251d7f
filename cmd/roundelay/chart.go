package main

import (
	"bytes"
	"flag"

	"roundelay/chart"
)

var drawChart = &command{
	name:  "chart",
	usage: "FILE [--piece P] [--size S] [--view whole|halves|repeat|strip] [--hand right|left] [-o FILE]",
	short: "the ring chart of one piece, as SVG",
	long: `Draws the chart of one piece of the pattern in FILE, a pattern.toml, as an SVG
drawing that stands alone. It goes to standard output, or into the file named
by -o. It is the first piece, unless --piece names another.

The view whole has all rounds, from the middle outwards; halves has the rounds up
to the widest, and below them the others inwards; repeat has only the first of
the equal parts that all rounds fall into; strip lays the rounds straight, one
over the other. Without --view, a solid that closes is drawn in halves, and all
else whole. For the left hand a chart is read the other way round.`,
	setup: func(flags *flag.FlagSet) func(streams, []string) error {
		which := choosePiece(flags)
		view := choose(flags, "view", chart.Auto.String(), "what is drawn, and how it is laid out", "whole", "halves", "repeat", "strip")
		hand := choose(flags, "hand", chart.Right.String(), "the hand that holds the hook, right if left out", "right", "left")
		out := flags.String("o", "", "the `FILE` for the drawing")
		return func(std streams, names []string) error {
			name, err := one(names, "pattern")
			if err != nil {
				return err
			}
			p, err := loadPattern(std, name)
			if err != nil {
				return err
			}
			piece, err := which.one(p)
			if err != nil {
				return err
			}
			opt := chart.Options{Terms: p.Terms}
			if opt.View, err = chart.ParseView(*view); err != nil {
				return err
			}
			if opt.Hand, err = chart.ParseHand(*hand); err != nil {
				return err
			}
			var svg bytes.Buffer
			if err := chart.Draw(&svg, p, piece, opt); err != nil {
				return err
			}
			return output(std, *out, svg.Bytes())
		}
	},
}
