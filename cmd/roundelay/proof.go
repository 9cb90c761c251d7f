package main

import (
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/proof"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

var proofread = &command{
	name:  "proof",
	usage: "PATH... [--format text|json|sarif] [--terms US|UK]",
	short: "what an editor would find in a book, a pattern or a text",
	long: `Proofreads each PATH: a folder with a book, a pattern.toml, or any written
pattern on its own, as text or Markdown. It counts every round for itself, and
tells where the counts, the rounds or the prose don't agree, with line and
column and what would make it right.

Findings go to standard error; a line for each file, or the whole report as JSON
or SARIF, goes to standard output.`,
	setup: func(flags *flag.FlagSet) func(streams, []string) error {
		format := choose(flags, "format", "text", "the form of the report, text if left out", "text", "json", "sarif")
		terms := choose(flags, "terms", "US", "the terms of a written pattern, US if left out; a pattern.toml states its own", "US", "UK")
		return func(std streams, paths []string) error {
			if len(paths) == 0 {
				return usageError("what is to be read? Name a book, a pattern.toml or a text; . is this folder")
			}
			var r proof.Report
			for _, path := range paths {
				more, err := proofPath(path, termsNamed[*terms])
				if err != nil {
					return err
				}
				r.Add(more)
			}
			r.Findings.Sort()
			if err := r.Findings.Print(std.err); err != nil {
				return err
			}
			if err := writeReport(std, &r, *format); err != nil {
				return err
			}
			if r.Findings.Err() != nil {
				return errFindings
			}
			return nil
		}
	},
}

func writeReport(std streams, r *proof.Report, format string) error {
	switch format {
	case "json":
		return r.WriteJSON(std.out)
	case "sarif":
		return r.WriteSARIF(std.out)
	}
	return r.WriteText(std.out)
}

// proofPath proofreads a book, a pattern or a written pattern.
func proofPath(path string, terms stitch.Terms) (proof.Report, error) {
	info, err := os.Stat(path)
	if err != nil {
		return proof.Report{}, unreadable(path, err)
	}
	if info.IsDir() || filepath.Ext(path) == ".toml" {
		l, err := load(path)
		if err != nil {
			return proof.Report{}, err
		}
		return l.proofread(), nil
	}
	dir, name := filepath.Split(path)
	f, problem := pattern.ReadText(os.DirFS(filepath.Clean(dir)), name)
	if problem != nil {
		problem.File.Name = path
		return proof.Report{Files: []*source.File{problem.File}, Findings: source.Findings{*problem}}, nil
	}
	f.Name = path
	return proof.CheckText(f, terms), nil
}

// proofread proofreads every pattern of a book. What was found when it was
// loaded is part of the report.
func (l *loaded) proofread() proof.Report {
	var r proof.Report
	rest := l.findings
	if l.Book != nil {
		if !strings.HasSuffix(l.File.Name, "pattern.toml") {
			r.Files = append(r.Files, l.File)
		}
		for _, p := range l.Patterns {
			var found, others source.Findings
			for _, f := range rest {
				if root, _ := f.File.Root(0); root == p.File || root == p.Prose {
					found = append(found, f)
				} else {
					others = append(others, f)
				}
			}
			r.Add(proof.Check(p, found))
			rest = others
		}
	}
	// What is left is about the book, or about files that could not be loaded.
	for _, f := range rest {
		root, _ := f.File.Root(0)
		if !slices.ContainsFunc(r.Files, func(known *source.File) bool { return known.Name == root.Name }) {
			r.Files = append(r.Files, root)
		}
	}
	r.Findings = append(r.Findings, rest...)
	return r
}
