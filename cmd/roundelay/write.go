package main

import (
	"bytes"
	"cmp"
	"flag"
	"fmt"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

var write = &command{
	name:  "write",
	usage: "FILE [--terms US|UK|de|...] [--style short|full|plain] [--piece P] [--size S]",
	short: "the written rounds, in the terms and style a reader wants",
	long: `Writes out the rounds of the pattern in FILE, a pattern.toml, with what is to be
done between them. They are written anew from the stitches: repeats are put in
brackets where a reader is best served by them.

The style short has abbreviations; full has every term in full; plain is short
sentences without brackets or signs, to be read aloud.

The terms may also be those of another language, in the style short: da, de, es,
fr, it, nb, nl, pt or sv. What is to be done between rounds stays as the maker
wrote it, and many of the words are from memory: have a reader of the language
look them over before you publish.`,
	setup: func(flags *flag.FlagSet) func(streams, []string) error {
		terms := choose(flags, "terms", "", "the terms, those of the pattern if left out",
			append([]string{"US", "UK"}, notation.Languages()[1:]...)...)
		style := choose(flags, "style", "short", "the style, short if left out", "short", "full", "plain")
		which := choosePiece(flags)
		return func(std streams, names []string) error {
			name, err := one(names, "pattern")
			if err != nil {
				return err
			}
			p, err := loadPattern(std, name)
			if err != nil {
				return err
			}
			words := notation.Wording{Terms: p.Terms, Style: styles[*style]}
			if t, ok := termsNamed[*terms]; ok {
				words.Terms = t
			} else if words.Language = *terms; *terms != "" && words.Style != notation.Short {
				return usageError(fmt.Sprintf("the terms %s are written in the style short only", *terms))
			}
			text, err := writeRounds(p, which, words)
			if err != nil {
				return err
			}
			return output(std, "", text)
		}
	},
}

var styles = map[string]notation.Style{"short": notation.Short, "full": notation.Full, "plain": notation.PlainWords}

var termsNamed = map[string]stitch.Terms{"US": stitch.US, "UK": stitch.UK}

// writeRounds writes the rounds of the pieces that are meant, with the name of
// each where there are several.
func writeRounds(p *pattern.Pattern, which *choiceOfPiece, words notation.Wording) ([]byte, error) {
	sizes, err := which.sizes(p)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	for _, s := range sizes {
		pieces, err := which.pieces(s)
		if err != nil {
			return nil, err
		}
		for _, piece := range pieces {
			if len(sizes)*len(pieces) > 1 {
				if b.Len() > 0 {
					b.WriteByte('\n')
				}
				title := piece.Name
				if s.Name != "" {
					title += ", " + s.Name
				}
				fmt.Fprintf(&b, "%s\n\n", title)
			}
			writePiece(&b, p, piece, words)
		}
	}
	return b.Bytes(), nil
}

// writePiece writes the rounds of a piece, and each step where it is done.
func writePiece(b *bytes.Buffer, p *pattern.Pattern, piece *pattern.Piece, words notation.Wording) {
	for _, s := range piece.Steps {
		words.Breaks = append(words.Breaks, s.After)
	}
	steps := func(after int) {
		for _, s := range piece.StepsAfter(after) {
			fmt.Fprintln(b, cmp.Or(s.Say, s.Do))
		}
	}
	steps(0)
	for _, line := range notation.Print(piece.Rounds, p.YarnNames(piece, words.Style), words) {
		fmt.Fprintln(b, line)
		steps(line.Last)
	}
}
