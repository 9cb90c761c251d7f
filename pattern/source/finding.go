package source

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A Severity says how much a finding matters.
type Severity uint8

// The severities, least first. An Error stops a build.
const (
	Note Severity = iota
	Warning
	Error
)

var severities = [...]string{"note", "warning", "error"}

func (s Severity) String() string { return severities[s] }

// MarshalText writes the severity as the word that is printed.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// A Finding is one thing that a person should know about a file.
type Finding struct {
	File     *File
	At       Span // in File; the zero Span is the file as a whole
	Severity Severity
	Code     string // the check that made it, such as "count-made"
	Round    int    // the number of the round it is about; 0 for none
	Message  string // what is wrong; no capital, no full stop
	Hint     string // what would make it right; may be empty
}

// Pos returns the place of the finding.
func (f Finding) Pos() Pos {
	if f.File == nil {
		return Pos{}
	}
	if f.At == (Span{}) {
		return Pos{File: f.File.Name}
	}
	return f.File.Pos(f.At.From)
}

// String returns the finding in one line, as
// "file:line:column: severity: message [code]".
func (f Finding) String() string {
	where := ""
	switch p := f.Pos(); {
	case p.IsValid():
		where = fmt.Sprintf("%s:%d:%d: ", p.File, p.Line, p.Column)
	case p.File != "":
		where = p.File + ": "
	}
	return fmt.Sprintf("%s%s: %s [%s]", where, f.Severity, printable(f.Message), f.Code)
}

// Findings is a list of findings. The zero value is an empty list. As an error
// it is returned by [Findings.Err] only.
type Findings []Finding

func (fs Findings) Error() string {
	var b strings.Builder
	for i, f := range fs {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(f.String())
	}
	return b.String()
}

// Err returns fs as an error if one of them is an error, else nil.
func (fs Findings) Err() error {
	if fs.Count(Error) == 0 {
		return nil
	}
	return fs
}

// Count returns how many of fs have the severity.
func (fs Findings) Count(s Severity) int {
	n := 0
	for _, f := range fs {
		if f.Severity == s {
			n++
		}
	}
	return n
}

// Sort puts fs in the order of the files' names and of the places in them, the
// graver first where two share a place, and drops exact repeats.
func (fs *Findings) Sort() {
	slices.SortStableFunc(*fs, func(a, b Finding) int {
		p, q := a.Pos(), b.Pos()
		return cmp.Or(
			cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Column, q.Column),
			cmp.Compare(b.Severity, a.Severity), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message))
	})
	*fs = slices.CompactFunc(*fs, func(a, b Finding) bool { return a.String() == b.String() })
}

// maxShown is the most characters of a source line that Print shows.
const maxShown = 120

// Print writes each finding in a line, with the source line, a caret under its
// place, and the hint.
func (fs Findings) Print(w io.Writer) error {
	var b strings.Builder
	for _, f := range fs {
		fmt.Fprintln(&b, f)
		if p := f.Pos(); p.IsValid() {
			root, _ := f.File.Root(f.At.From)
			line, col := []rune(root.Line(p.Line)), p.Column-1
			if cut := col - maxShown/2; cut > 0 && len(line) > maxShown {
				line, col = line[cut:], maxShown/2
			}
			line = line[:min(len(line), maxShown)]
			if len(strings.TrimSpace(string(line))) > 0 {
				fmt.Fprintf(&b, "    %s\n    %s^\n", printable(strings.ReplaceAll(string(line), "\t", " ")), strings.Repeat(" ", col))
			}
		}
		if f.Hint != "" {
			fmt.Fprintf(&b, "    %s\n", printable(f.Hint))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// printable replaces what would move a terminal's cursor or change its colours.
func printable(s string) string {
	if utf8.ValidString(s) && !strings.ContainsFunc(s, unicode.IsControl) {
		return s
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return '\uFFFD'
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}
