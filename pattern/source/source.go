// Package source holds what every reader of text needs: a file with its
// lines, places in it, and findings about it that a person can act on.
package source

import (
	"sort"
	"strings"
	"unicode/utf8"
)

// A Span is a run of bytes in a [File]: From is the first, To the one after
// the last. The zero Span is no place.
type Span struct{ From, To int }

// IsValid reports whether s names a place.
func (s Span) IsValid() bool { return s.To > s.From }

// Join returns the least span that holds both s and t. A span that is no place
// adds nothing.
func (s Span) Join(t Span) Span {
	switch {
	case !s.IsValid():
		return t
	case !t.IsValid():
		return s
	}
	return Span{min(s.From, t.From), max(s.To, t.To)}
}

// A Pos is a place for people: the zero Pos is no place.
type Pos struct {
	File   string // as the person named it
	Offset int    // bytes, from 0
	Line   int    // from 1; 0 if unknown
	Column int    // characters, from 1; 0 if unknown
}

// IsValid reports whether p names a line.
func (p Pos) IsValid() bool { return p.Line > 0 }

// A File is a text with a name. A file may be a part of another one, or the
// other one with some runs of text replaced (see [File.Section]); its places
// are then told as places of the other.
type File struct {
	Name string
	Text string

	lines  []int // offset of the start of each line
	parent *File
	edits  []Edit // in order; From and To in parent
	from   int    // offset of the part in parent
}

// NewFile returns a file of its own.
func NewFile(name, text string) *File {
	return &File{Name: name, Text: text}
}

// An Edit replaces a run of a file by other text.
type Edit struct {
	Span
	Text string
}

// Section returns the part s of f as a file of its own, with the edits made;
// edits are spans of f, inside s, in order and apart from each other. Its
// places are told as places of f, so that a finding in the part points at what
// the person wrote.
func (f *File) Section(s Span, edits ...Edit) *File {
	var b strings.Builder
	at := s.From
	for _, e := range edits {
		b.WriteString(f.Text[at:e.From])
		b.WriteString(e.Text)
		at = e.To
	}
	b.WriteString(f.Text[at:s.To])
	return &File{Name: f.Name, Text: b.String(), parent: f, edits: edits, from: s.From}
}

// Root returns the file that f is, in the end, a part of, and the offset there
// of the given offset of f. A place inside replaced text is told as the start
// of what it replaced.
func (f *File) Root(offset int) (*File, int) {
	for f.parent != nil {
		offset = f.toParent(offset)
		f = f.parent
	}
	return f, offset
}

func (f *File) toParent(offset int) int {
	out, in := f.from, 0 // the same place in the parent and here
	for _, e := range f.edits {
		kept := e.From - out
		if offset < in+kept {
			return out + offset - in
		}
		in += kept
		if offset < in+len(e.Text) {
			return e.From
		}
		in += len(e.Text)
		out = e.To
	}
	return out + offset - in
}

// Pos returns the place of an offset, for people. An offset outside f is told
// as the nearest end of f.
func (f *File) Pos(offset int) Pos {
	offset = max(0, min(offset, len(f.Text)))
	f, offset = f.Root(offset)
	offset = max(0, min(offset, len(f.Text)))
	f.index()
	line := sort.SearchInts(f.lines, offset+1)
	start := f.lines[line-1]
	return Pos{
		File: f.Name, Offset: offset, Line: line,
		Column: utf8.RuneCountInString(f.Text[start:offset]) + 1,
	}
}

// Line returns the text of a line, without its end; lines count from 1. It
// returns "" for a line that f does not have.
func (f *File) Line(n int) string {
	f.index()
	if n < 1 || n > len(f.lines) {
		return ""
	}
	end := len(f.Text)
	if n < len(f.lines) {
		end = f.lines[n]
	}
	return strings.TrimRight(f.Text[f.lines[n-1]:end], "\r\n")
}

func (f *File) index() {
	if f.lines != nil {
		return
	}
	f.lines = []int{0}
	for i := 0; i < len(f.Text); i++ {
		if f.Text[i] == '\n' {
			f.lines = append(f.lines, i+1)
		}
	}
}
