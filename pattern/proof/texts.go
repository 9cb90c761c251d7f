package proof

import (
	"iter"
	"regexp"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/source"
)

// A text is words of the maker's, with their place.
type text struct {
	file  *source.File
	base  int         // offset in file of the words; -1 if they don't stand there as they are
	at    source.Span // where the words are from, if base is -1
	words string
	key   string         // the key of the pattern file that they stand under; "" in prose
	piece *pattern.Piece // the piece that they are about; nil if that is open
	step  *pattern.Step  // nil if they are no step
}

// span returns the place in the file of a part of the words.
func (t text) span(s source.Span) source.Span {
	if t.base < 0 {
		return t.at
	}
	return source.Span{From: t.base + s.From, To: t.base + s.To}
}

// texts yields all that the maker wrote in words: the lists and lines of the
// pattern file, the steps, and the prose. A text that stands in several sizes
// comes once for each.
func (p *pass) texts() iter.Seq[text] {
	return func(yield func(text) bool) {
		if p.alone {
			yield(text{file: p.File, words: p.File.Text})
			return
		}
		for _, k := range []struct {
			key   string
			lines []string
		}{
			{"title", []string{p.Title}}, {"summary", []string{p.Summary}}, {"for", []string{p.For}},
			{"finished_items", []string{p.FinishedItems}}, {"finished_size", []string{p.FinishedSize}},
			{"care", []string{p.Care}}, {"materials", p.Materials}, {"notes", p.Notes}, {"finishing", p.Finishing},
		} {
			for _, words := range k.lines {
				if words != "" && !yield(p.locate(k.key, words)) {
					return
				}
			}
		}
		for i := range p.Photos {
			t := text{file: p.File, base: -1, at: p.Photos[i].At, words: p.Photos[i].Alt, key: "photo.alt"}
			if !yield(t) {
				return
			}
		}
		for _, piece := range p.pieces() {
			for i := range piece.Steps {
				s := &piece.Steps[i]
				t := text{file: p.File, base: -1, at: s.At, words: flat(s.Say), key: "piece.step.say", piece: piece, step: s}
				if j := strings.Index(p.File.Text[s.At.From:], s.Say); j >= 0 {
					t.base = s.At.From + j
				}
				if s.Say != "" && !yield(t) {
					return
				}
			}
		}
		if p.prose != nil {
			yield(text{file: p.Pattern.Prose, words: p.prose.Words()})
		}
	}
}

// locate finds the words of a key in the pattern file.
func (p *pass) locate(key, words string) text {
	t := text{file: p.File, base: -1, words: flat(words), key: key}
	if m := regexp.MustCompile(`(?m)^[ \t]*` + key + `[ \t]*=`).FindStringIndex(p.File.Text); m != nil {
		if i := strings.Index(p.File.Text[m[1]:], words); i >= 0 {
			t.base = m[1] + i
		}
	}
	return t
}

// flat puts a space in the place of each line break, which in these words ends
// no sentence.
func flat(s string) string { return strings.ReplaceAll(s, "\n", " ") }

// mentions reports whether any of the texts matches.
func (p *pass) mentions(pattern *regexp.Regexp) bool {
	for t := range p.texts() {
		if pattern.MatchString(t.words) {
			return true
		}
	}
	return false
}
