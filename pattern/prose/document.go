package prose

import (
	"fmt"
	"strings"

	"roundelay/pattern/source"
)

// The code of every finding of [Parse].
const Code = "prose"

// The bounds of a document; they keep the time that it takes to read small.
const (
	maxSize  = 256 << 10 // bytes
	maxDepth = 64        // quotations and lists in each other
	maxMarks = 2000      // * _ [ in a run of lines without a blank one
	maxCells = 100_000   // of tables
)

// A Document is a text in Markdown, read.
type Document struct {
	File       *source.File
	Directives []*Directive // in order
	Images     []Image      // in order
	Findings   source.Findings

	// words is the text as a reader sees it, in the places where it stands in
	// the file: as long as the file, with a space for each byte that is not
	// shown and a line break between blocks.
	words    string
	headings []heading
	blocks   []source.Span // the directives, from fence to fence
	markdown markdown
}

// An Image is a picture that the text shows.
type Image struct {
	At   source.Span
	File string // relative to the folder of the document
	Alt  string // its words
}

// A heading is a heading, or the bold words that a paragraph begins with.
type heading struct {
	at   source.Span
	text string
}

// Parse reads f. What it cannot read it reports in Findings, and leaves out;
// the document can be used all the same.
func Parse(f *source.File) *Document {
	d := &Document{File: f}
	text := f.Text
	if at, message, hint := bound(text); message != "" {
		d.report(at, message, hint)
		text = ""
	}
	d.parse(text)
	return d
}

func (d *Document) report(at source.Span, message, hint string) {
	d.Findings = append(d.Findings, source.Finding{
		File: d.File, At: at, Severity: source.Error, Code: Code, Message: message, Hint: hint,
	})
}

// bound returns what about text is too large to read, or "".
func bound(text string) (at source.Span, message, hint string) {
	if len(text) > maxSize {
		return at, fmt.Sprintf("the text is %d kB long, more than %d", len(text)>>10, maxSize>>10), "keep the story short, or share it out over several patterns"
	}
	var marks, rows, bars, cells int // in the block, and in all
	from := 0
	for line := range strings.Lines(text) {
		at = source.Span{From: from, To: from + len(line)}
		from = at.To
		if strings.TrimSpace(line) == "" {
			marks, rows, bars = 0, 0, 0
			continue
		}
		body := strings.TrimLeft(line, " \t>")
		depth := strings.Count(line[:len(line)-len(body)], ">")
		for len(body) > 1 && strings.ContainsRune("-+*>", rune(body[0])) && (body[1] == ' ' || body[1] == '\t' || body[0] == '>') {
			body = strings.TrimLeft(body[1:], " \t")
			depth++
		}
		marks += strings.Count(body, "*") + strings.Count(body, "_") + strings.Count(body, "[")
		rows++
		cells -= (rows - 1) * bars
		bars = max(bars, strings.Count(line, "|"))
		cells += rows * bars
		switch {
		case depth > maxDepth:
			return at, fmt.Sprintf("lists and quotations stand more than %d deep in each other", maxDepth), "take some of the marks at the start of the line away"
		case marks > maxMarks:
			return at, fmt.Sprintf("more than %d asterisks, underscores and brackets without a blank line between", maxMarks), "part the text by blank lines"
		case cells > maxCells:
			return at, fmt.Sprintf("the tables have more than %d cells", maxCells), "make the tables smaller"
		}
	}
	return source.Span{}, "", ""
}

// Words returns the text as a reader sees it: as long as the text of the file,
// so that every word has its place, with spaces for what is not shown (marks,
// addresses, code, directives) and a line break between blocks.
func (d *Document) Words() string { return d.words }

func (d *Document) inBlock(at source.Span) bool {
	for _, b := range d.blocks {
		if b.From <= at.From && at.From < b.To {
			return true
		}
	}
	return false
}

// headingBefore returns the last heading before an offset; nil if there is none.
func (d *Document) headingBefore(offset int) *heading {
	var last *heading
	for i := range d.headings {
		if d.headings[i].at.From < offset {
			last = &d.headings[i]
		}
	}
	return last
}

// Heading returns the heading that the text at an offset stands under, as a
// reader sees it; "" if none comes before.
func (d *Document) Heading(offset int) string {
	if h := d.headingBefore(offset); h != nil {
		return h.text
	}
	return ""
}
