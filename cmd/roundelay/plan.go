package main

import (
	"errors"
	"flag"
	"fmt"
	"strconv"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/shape"
	"roundelay/pattern/stitch"
)

var plan = &command{
	name:  "plan",
	usage: "--form FORM --across LENGTH --gauge 22x24 [...]",
	short: "works out rounds for a solid, such as a ball",
	long: `Works out the rounds of a solid at a gauge, and prints them as a piece for a
pattern.toml. The comments above it tell how near it comes to what was asked
for, why each round has its count, and what common practice would have given.

The forms:

` + indent(pattern.FormWords()) + `
Solids that are shut at both ends are filled; --firmness none leaves them empty,
and fills others if it is something else. Counts at most double or halve from
one round to the next. Lengths have their unit: 75mm, "7.5 cm", 3in. A gauge is
stitches x rounds, or stitches alone; without one it is estimated from --hook or
--weight.

    roundelay plan --form ball --across 75mm --gauge 22x24
    roundelay plan --form points --points "0 at 0, 60mm at 25mm, 0 at 70mm" --hook 3mm`,
	setup: func(flags *flag.FlagSet) func(streams, []string) error {
		var w wish
		flags.StringVar(&w.solid.Form, "form", "", "the `form` of the solid")
		lengthFlag(flags, &w.solid.AcrossMM, "across", "how wide it is at the widest place")
		lengthFlag(flags, &w.solid.HeightMM, "height", "how high it is")
		lengthFlag(flags, &w.solid.BaseMM, "base", "how wide the base of a cup or basket is; its rim if left out")
		flags.Func("points", "`widths` at heights of the form points, from its start: \"0 at 0, 60mm at 25mm\"", w.setPoints)
		flags.Var(choice{[]string{"open", "flat", "domed"}, &w.solid.Start}, "start", "how it begins, where the form leaves it open: `open|flat|domed`")
		flags.Var(choice{[]string{"open", "flat", "domed"}, &w.solid.End}, "end", "how it ends, where the form leaves it open: `open|flat|domed`")
		flags.Var(choice{[]string{"none", "soft", "normal", "firm"}, &w.firmness}, "firmness", "how hard it is filled: `none|soft|normal|firm`")
		flags.Func("gauge", "stitches and rounds of the gauge, as `22x24`; without the rounds they are estimated", w.setGauge)
		w.gauge.OverMM = 100
		lengthFlag(flags, &w.gauge.OverMM, "over", "the length that the gauge goes over; 10 cm if left out")
		flags.StringVar(&w.stitch, "stitch", "", "the `stitch` of the gauge and of the piece; single crochet if left out")
		lengthFlag(flags, &w.hookMM, "hook", "diameter of the hook, to estimate the gauge from")
		w.weight = -1
		wholeFlag(flags, &w.weight, "weight", "weight `class` of the yarn, 0 to 7, to estimate the gauge from", 0, 7)
		wholeFlag(flags, &w.solid.First, "first", "`stitches` of the first round", 1, shape.MaxPlanCount)
		wholeFlag(flags, &w.solid.Multiple, "multiple", "the `number` that every count is a multiple of", 1, shape.MaxPlanCount)
		wholeFlag(flags, &w.solid.Widest, "widest", "`stitches` of the widest round", 1, shape.MaxPlanCount)
		wholeFlag(flags, &w.solid.Rounds, "rounds", "how many `rounds`", 1, shape.MaxRounds)
		flags.BoolVar(&w.solid.Symmetric, "symmetric", false, "the counts have to be the same backwards")
		style := choose(flags, "style", "spiral", "how one round goes over to the next", "spiral", "joined")
		terms := choose(flags, "terms", "US", "the terms of the rounds and of --stitch", "US", "UK")
		name := flags.String("name", "", "the `name` of the piece; its form if left out")
		return func(std streams, names []string) error {
			if len(names) > 0 {
				return usageError("it takes flags only, not " + names[0])
			}
			w.terms = termsNamed[*terms]
			w.style = map[string]pattern.Style{"spiral": pattern.Spiral, "joined": pattern.Joined}[*style]
			p, err := w.plan()
			if err != nil {
				return err
			}
			title := *name
			if title == "" {
				title = strings.ToUpper(w.solid.Form[:1]) + w.solid.Form[1:]
			}
			return output(std, "", []byte(p.TOML(title, w.style, w.terms)))
		}
	},
}

// A wish is what the flags of plan say.
type wish struct {
	solid    pattern.Solid
	firmness string // "" for what is usual
	gauge    pattern.Gauge
	stitch   string
	hookMM   float64
	weight   int // of the yarn; -1 if it is not given
	terms    stitch.Terms
	style    pattern.Style
}

func (w *wish) plan() (*pattern.Plan, error) {
	switch w.firmness {
	case "":
		w.solid.Filled = w.solid.Shut()
	case "none":
	default:
		w.solid.Filled = true
		w.solid.Firmness = map[string]pattern.Firmness{"soft": pattern.Soft, "normal": pattern.Normal, "firm": pattern.Firm}[w.firmness]
	}
	s := &pattern.Size{Hook: pattern.Hook{MM: w.hookMM}, Yarns: []pattern.Yarn{{Weight: w.weight}}}
	if w.gauge.Stitches > 0 {
		w.gauge.Stitch = stitch.SC
		if w.stitch != "" {
			w.gauge.Stitch = pattern.StitchNamed(w.stitch, w.terms)
		}
		if w.gauge.Stitch == (stitch.Stitch{}) {
			return nil, usageError(fmt.Sprintf("--stitch: there is no stitch %q in %s terms", w.stitch, w.terms))
		}
		s.Gauge = &w.gauge
	} else if w.stitch != "" {
		return nil, usageError("--stitch needs --gauge: an estimated gauge is that of single crochet")
	}
	fabric, ok := s.Fabric(&pattern.Piece{Stuffed: w.solid.Filled, Yarns: []int{0}})
	if !ok {
		return nil, usageError("at what gauge? add --gauge 22x24, or --hook 3mm or --weight 3 for an estimate")
	}
	p, err := pattern.NewPlan(w.solid, fabric, w.style)
	if wrong := (*pattern.SolidError)(nil); errors.As(err, &wrong) {
		message := dashed(wrong.Key) + ": " + wrong.Message
		if wrong.Hint != "" {
			message += "; " + wrong.Hint
		}
		return nil, usageError(message)
	}
	if err != nil {
		return nil, usageError(err.Error())
	}
	return p, nil
}

func (w *wish) setPoints(s string) error {
	w.solid.Points = nil
	for _, part := range strings.Split(s, ",") {
		p, err := pattern.ParsePoint(part)
		if err != nil {
			return err
		}
		w.solid.Points = append(w.solid.Points, p)
	}
	return nil
}

func (w *wish) setGauge(s string) error {
	sts, rounds, both := strings.Cut(strings.ReplaceAll(strings.ToLower(s), "×", "x"), "x")
	sound := func(s string, n *float64) bool {
		var err error
		*n, err = strconv.ParseFloat(strings.TrimSpace(s), 64)
		return err == nil && *n >= 0.1 && *n <= 500
	}
	if !sound(sts, &w.gauge.Stitches) || both && !sound(rounds, &w.gauge.Rounds) {
		return errors.New("it takes stitches x rounds, as 22x24, or stitches alone, as 22; each 0.1 to 500")
	}
	return nil
}

// lengthFlag declares a flag that takes a length with its unit.
func lengthFlag(flags *flag.FlagSet, mm *float64, name, usage string) {
	flags.Func(name, "`length`: "+usage, func(s string) (err error) {
		*mm, err = pattern.ParseLengthMM(s)
		return err
	})
}

// wholeFlag declares a flag that takes a whole number from low to high.
func wholeFlag(flags *flag.FlagSet, n *int, name, usage string, low, high int) {
	flags.Func(name, usage, func(s string) error {
		v, err := strconv.Atoi(s)
		if err != nil || v < low || v > high {
			return fmt.Errorf("it takes a whole number from %d to %d", low, high)
		}
		*n = v
		return nil
	})
}

// indent moves lines to the right.
func indent(s string) string {
	return "    " + strings.ReplaceAll(strings.TrimSuffix(s, "\n"), "\n", "\n    ") + "\n"
}
