package main

import (
	"bytes"
	"flag"

	"roundelay/chart"
)

var drawChart = &command{
	name:  "chart",
	usage: "FILE [--piece P] [--size S] [-o FILE]",
	short: "the ring chart of one piece, as SVG",
	long: `Draws the chart of one piece of the pattern in FILE, a pattern.toml, as an SVG
drawing that stands alone. It goes to standard output, or into the file named
by -o.`,
	setup: func(flags *flag.FlagSet) func(streams, []string) error {
		which := choosePiece(flags)
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
			var svg bytes.Buffer
			if err := chart.Draw(&svg, p, piece, chart.Options{Terms: p.Terms}); err != nil {
				return err
			}
			return output(std, *out, svg.Bytes())
		}
	},
}
