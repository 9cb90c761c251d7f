package main

import (
	"flag"
	"fmt"
	"io"
	"strings"
)

const intro = `Roundelay turns crochet patterns worked in the round into a site of pages with
checked rounds, ring charts and written rounds.

If you are new here, start a book and build it:

    roundelay begin mybook
    roundelay build mybook -o out

then open out/index.html, and edit the files in mybook.

The verbs:

`

// help answers "roundelay help [VERB]".
func help(std streams, args []string) int {
	if len(args) == 0 {
		printHelp(std.out)
		return exitSound
	}
	c := find(args[0])
	if c == nil && args[0] == "help" {
		printHelp(std.out)
		return exitSound
	}
	if c == nil {
		fmt.Fprintf(std.err, "roundelay: there is no verb %q%s\n", args[0], didYouMean(args[0], verbs()))
		return exitUsage
	}
	c.printHelp(std.out)
	return exitSound
}

func printHelp(w io.Writer) {
	var b strings.Builder
	b.WriteString(intro)
	for _, c := range commands() {
		fmt.Fprintf(&b, "    %-10s %s\n", c.name, c.short)
	}
	b.WriteString("\nRun 'roundelay help VERB' for more about one of them.\n")
	io.WriteString(w, b.String())
}

func (c *command) printHelp(w io.Writer) {
	var b strings.Builder
	fmt.Fprintf(&b, "roundelay %s %s\n\n%s\n", c.name, c.usage, c.long)
	flags := c.flagSet()
	c.setup(flags)
	title := "\nFlags, before or after the names:\n\n"
	flags.VisitAll(func(f *flag.Flag) {
		b.WriteString(title)
		title = ""
		arg, text := flag.UnquoteUsage(f)
		fmt.Fprintf(&b, "    %s\n        %s\n", strings.TrimSpace(dashed(f.Name)+" "+arg), text)
	})
	fmt.Fprint(&b, `
Exit status: 0 if all is sound, 1 if there are errors in a pattern, 2 if the
command line is wrong or a file can't be read.
`)
	io.WriteString(w, b.String())
}
