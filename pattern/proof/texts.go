package proof

import (
	"regexp"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/prose"
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

	claims  []prose.Claim // once claimed is set
	claimed bool
}

// span returns the place in the file of a part of the words.
func (t text) span(s source.Span) source.Span {
	if t.base < 0 {
		return t.at
	}
	return source.Span{From: t.base + s.From, To: t.base + s.To}
}

// texts returns all that the maker wrote in words: the lists and lines of the
// pattern file, the steps, and the prose. Words that several sizes share come
// once.
func (p *pass) texts() []text {
	if p.words == nil {
		p.words = p.findTexts()
	}
	return p.words
}

func (p *pass) findTexts() []text {
	if p.alone {
		return []text{{file: p.File, words: p.File.Text}}
	}
	var all []text
	for _, k := range []struct {
		key   string
		lines []string
	}{
		{"title", []string{p.Title}}, {"summary", []string{p.Summary}}, {"for", []string{p.For}},
		{"finished_items", []string{p.FinishedItems}}, {"finished_size", []string{p.FinishedSize}},
		{"care", []string{p.Care}}, {"materials", p.Materials}, {"notes", p.Notes}, {"finishing", p.Finishing},
	} {
		for _, words := range k.lines {
			if words != "" {
				all = append(all, p.locate(k.key, words))
			}
		}
	}
	for i := range p.Photos {
		all = append(all, text{file: p.File, base: -1, at: p.Photos[i].At, words: p.Photos[i].Alt, key: "photo.alt"})
	}
	type say struct {
		at    source.Span
		words string
	}
	seen := map[say]bool{}
	for _, piece := range p.pieces() {
		for i := range piece.Steps {
			s := &piece.Steps[i]
			if s.Say == "" || seen[say{s.At, s.Say}] {
				continue
			}
			seen[say{s.At, s.Say}] = true
			t := text{file: p.File, base: -1, at: s.At, words: flat(s.Say), key: "piece.step.say", piece: piece, step: s}
			if j := strings.Index(p.File.Text[s.At.From:], s.Say); j >= 0 {
				t.base = s.At.From + j
			}
			all = append(all, t)
		}
	}
	if p.prose != nil {
		all = append(all, text{file: p.Pattern.Prose, words: p.prose.Words()})
	}
	return all
}

// claims returns what a text says about the pattern; of the prose, outside the
// rounds written out in it.
func (p *pass) claims(t *text) []prose.Claim {
	if !t.claimed {
		t.claimed = true
		if t.key == "" && p.prose != nil {
			t.claims = p.prose.Claims(p.passages)
		} else {
			t.claims = prose.Claims(t.words)
		}
	}
	return t.claims
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

// maxMatches is how many places in one text a point looks at.
const maxMatches = 1000

// mentions reports whether any of the texts matches.
func (p *pass) mentions(pattern *regexp.Regexp) bool {
	for _, t := range p.texts() {
		if pattern.MatchString(t.words) {
			return true
		}
	}
	return false
}
