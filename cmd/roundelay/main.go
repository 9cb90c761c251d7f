// Roundelay turns crochet patterns worked in the round into pages that can be
// published: checked rounds, ring charts, written rounds and the maker's prose.
//
// Run "roundelay help" for the verbs.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"roundelay/pattern/source"
)

// Exit statuses. They are part of the interface: scripts rely on them.
const (
	exitSound    = 0
	exitFindings = 1 // a finding of severity error
	exitUsage    = 2 // a wrong command line, or input that can't be read
)

// Streams are what a command reads and writes. What was asked for goes to out;
// findings, progress and complaints go to err.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// A usageError is a command line that can't be understood.
type usageError string

func (e usageError) Error() string { return string(e) }

// errFindings ends a command whose findings are printed already.
var errFindings = errors.New("findings")

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run does what the arguments ask for, and returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	std := streams{stdin, stdout, stderr}
	if len(args) == 0 {
		printHelp(stderr)
		return exitUsage
	}
	name, args := args[0], args[1:]
	switch name {
	case "help", "-h", "-help", "--help":
		return help(std, args)
	}
	c := find(name)
	if c == nil {
		fmt.Fprintf(stderr, "roundelay: there is no verb %q%s\nRun 'roundelay help' for the verbs.\n", name, didYouMean(name, verbs()))
		return exitUsage
	}
	return status(c, c.do(std, args), std)
}

// status tells how a command ended, where it did not end well, and returns the
// exit status for it.
func status(c *command, err error, std streams) int {
	var usage usageError
	var findings source.Findings
	switch {
	case err == nil:
		return exitSound
	case errors.Is(err, errHelp):
		c.printHelp(std.out)
		return exitSound
	case errors.Is(err, errFindings):
		return exitFindings
	case errors.As(err, &findings):
		findings.Print(std.err)
		return exitFindings
	case errors.As(err, &usage):
		fmt.Fprintf(std.err, "roundelay %s: %s\nRun 'roundelay help %s' for how to use it.\n", c.name, usage, c.name)
		return exitUsage
	}
	fmt.Fprintf(std.err, "roundelay %s: %v\n", c.name, err)
	return exitUsage
}
