package main

import (
	"flag"
	"fmt"
	"net/url"
	"path/filepath"

	"roundelay/pattern/source"
	"roundelay/site"
)

var build = &command{
	name:  "build",
	usage: "[BOOK] [-o DIR]",
	short: "a site of pages from a book, or from one pattern",
	long: `Builds the site of BOOK into the folder DIR. BOOK is a folder with a book.toml
and a folder for each pattern, or one pattern.toml; without it, it is the folder
you are in.

The book is proofread first, and not built if there are errors. The site takes
its place whole or not at all: if anything goes wrong, what stood in DIR stays as
it was. Only files that roundelay wrote there are ever removed.`,
	setup: func(flags *flag.FlagSet) func(streams, []string) error {
		out := flags.String("o", "out", "the `DIR` for the site, \"out\" if left out")
		return func(std streams, names []string) error {
			if len(names) == 0 {
				names = []string{"."}
			}
			name, err := one(names, "book")
			if err != nil {
				return err
			}
			return buildBook(std, name, *out)
		}
	},
}

func buildBook(std streams, name, out string) error {
	l, err := load(name)
	if err != nil {
		return fmt.Errorf("%w\n\n%s", err, noBook)
	}
	r := l.proofread()
	r.Findings.Sort()
	// Notes are for proof. Warnings are, too, while there is worse.
	errs, warnings := severe(r.Findings, source.Error), severe(r.Findings, source.Warning)
	if len(errs) > 0 {
		if err := errs.Print(std.err); err != nil {
			return err
		}
		fmt.Fprintf(std.err, "\nNothing was built: %s to mend first.\n", counted(len(errs), "error"))
		return errFindings
	}
	if err := warnings.Print(std.err); err != nil {
		return err
	}
	p := newProgress(std.err)
	err = site.Build(l.Book, out, site.Options{Files: l.fsys, Progress: p.at})
	p.done()
	if err != nil {
		return err
	}
	page := filepath.Join(out, site.Index)
	fmt.Fprintf(std.out, "Built %s into %s. Open it: %s\n", counted(len(l.Patterns), "pattern"), out, fileURL(page))
	return nil
}

// severe returns the findings of one severity.
func severe(fs source.Findings, s source.Severity) (some source.Findings) {
	for _, f := range fs {
		if f.Severity == s {
			some = append(some, f)
		}
	}
	return some
}

// noBook tells what to do where there is no book.
const noBook = `Name the folder of a book (one with a book.toml in it), or a pattern.toml:

    roundelay build mybook

If you have no book yet, this begins one:

    roundelay begin mybook`

// fileURL returns the address of a file, for a browser.
func fileURL(name string) string {
	abs, err := filepath.Abs(name)
	if err != nil {
		return name
	}
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(abs)}).String()
}

// counted writes "1 error" or "2 errors".
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
