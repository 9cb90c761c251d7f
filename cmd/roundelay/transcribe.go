package main

import (
	"flag"
	"path/filepath"

	"roundelay/pattern"
)

var transcribe = &command{
	name:  "transcribe",
	usage: "FILE [--terms US|UK] [-o FILE]",
	short: "a pattern file made of a written pattern",
	long: `Reads the written pattern in FILE, as text or Markdown, and writes a pattern.toml
of it. Every line of the text is in it: as a value, as a round, as a step between
rounds, or as a comment. Rounds that don't come out stay as their author wrote
them; what is wrong with them is told on standard error and stands above them.`,
	setup: func(flags *flag.FlagSet) func(streams, []string) error {
		terms := choose(flags, "terms", "", "the terms of the text, told from it if left out", "US", "UK")
		out := flags.String("o", "", "the `FILE` to write, standard output if left out")
		return func(std streams, names []string) error {
			name, err := one(names, "text")
			if err != nil {
				return err
			}
			if filepath.Ext(name) == ".toml" {
				return usageError(name + " is a pattern file already")
			}
			f, err := readText(name)
			if err != nil {
				return err
			}
			text, findings := pattern.Transcribe(f, pattern.TranscribeOptions{Terms: termsNamed[*terms], Stated: *terms != ""})
			if err := findings.Print(std.err); err != nil {
				return err
			}
			if text != nil {
				if err := output(std, *out, text); err != nil {
					return err
				}
			}
			if findings.Err() != nil {
				return errFindings
			}
			return nil
		}
	},
}
