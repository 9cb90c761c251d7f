package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
)

// A command is one verb.
type command struct {
	name  string
	usage string // what follows the name, as "FILE [-o FILE]"
	short string // one line for the list of verbs; no capital, no full stop
	long  string // for those who ask for help with it; wrapped, without a line break at its end

	// setup declares the flags and returns what the verb does once they are
	// read; names are the arguments that are not flags.
	setup func(flags *flag.FlagSet) func(std streams, names []string) error
}

// commands are the verbs in the order in which a maker meets them.
// It is a function because help, a part of the table's users, reads it.
func commands() []*command {
	return []*command{begin, build, preview, proofread, drawChart, write, size, plan, transcribe}
}

// errHelp ends the reading of flags where help is asked for among them.
var errHelp = flag.ErrHelp

func find(name string) *command {
	for _, c := range commands() {
		if c.name == name {
			return c
		}
	}
	return nil
}

func verbs() []string {
	names := []string{"help"}
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return names
}

// do runs the command with what follows its name on the command line.
func (c *command) do(std streams, args []string) error {
	flags := c.flagSet()
	act := c.setup(flags)
	names, err := parse(flags, args)
	if err != nil {
		return err
	}
	return act(std, names)
}

func (c *command) flagSet() *flag.FlagSet {
	flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
	flags.SetOutput(io.Discard) // complaints are worded here
	return flags
}

// parse reads flags wherever they stand, before, between or after the names,
// and returns the names. What follows "--" is a name.
func parse(flags *flag.FlagSet, args []string) (names []string, err error) {
	for len(args) > 0 {
		if args[0] == "--" {
			return append(names, args[1:]...), nil
		}
		if !isFlag(args[0]) {
			names, args = append(names, args[0]), args[1:]
			continue
		}
		// A flag set reads on after a flag up to the first name; the loop
		// takes that name and starts it again.
		if err := flags.Parse(args); err != nil {
			return nil, flagError(flags, err)
		}
		rest := flags.Args()
		if read := len(args) - len(rest); args[read-1] == "--" {
			return append(names, rest...), nil
		}
		args = rest
	}
	return names, nil
}

// isFlag tells a flag from a name; "-" alone is a name.
func isFlag(arg string) bool { return len(arg) > 1 && arg[0] == '-' }

// flagError rewords what package flag says, and suggests the flag that was
// perhaps meant.
func flagError(flags *flag.FlagSet, err error) error {
	if errors.Is(err, flag.ErrHelp) {
		return errHelp
	}
	if name, ok := strings.CutPrefix(err.Error(), "flag provided but not defined: -"); ok {
		var known []string
		flags.VisitAll(func(f *flag.Flag) { known = append(known, dashed(f.Name)) })
		return usageError("there is no flag " + dashed(name) + didYouMean(dashed(name), known))
	}
	if value, rest, ok := strings.Cut(err.Error(), " for flag -"); ok {
		name, why, _ := strings.Cut(rest, ": ")
		return usageError(fmt.Sprintf("%s for %s: %s", value, dashed(name), why))
	}
	return usageError(err.Error())
}

// dashed writes a flag's name as people write it: -o, --format.
func dashed(name string) string {
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}

// A choice is a flag whose value is one of a few words.
type choice struct {
	words []string
	value *string
}

func (c choice) String() string {
	if c.value == nil {
		return ""
	}
	return *c.value
}

func (c choice) Set(s string) error {
	for _, w := range c.words {
		if strings.EqualFold(s, w) {
			*c.value = w
			return nil
		}
	}
	return fmt.Errorf("it takes %s%s", listed(c.words, "or"), didYouMean(s, c.words))
}

// choose declares a flag that takes one of the words, and is first if it is
// left out.
func choose(flags *flag.FlagSet, name, first, usage string, words ...string) *string {
	value := first
	flags.Var(choice{words, &value}, name, usage+": `"+strings.Join(words, "|")+"`")
	return &value
}

// listed writes words as "a, b or c".
func listed(words []string, or string) string {
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " " + or + " " + words[last]
}

// one returns the one name that a verb takes.
func one(names []string, what string) (string, error) {
	switch len(names) {
	case 0:
		return "", usageError("which " + what + "?")
	case 1:
		return names[0], nil
	}
	return "", usageError(fmt.Sprintf("one %s at a time, not %d: %s", what, len(names), strings.Join(names, " ")))
}
