package proof

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"roundelay/pattern/source"
)

// A Report is what proofreading found. The zero value is an empty report.
type Report struct {
	Files    []*source.File // all that were read, in order
	Rounds   []Row
	Findings source.Findings
	Allowed  []Allowed // findings that the maker means to be as they are
}

// An Allowed is a finding that is meant, with the maker's reason.
type Allowed struct {
	Finding source.Finding
	Reason  string
}

// A Row is one written line of rounds, as it was understood.
type Row struct {
	File        *source.File // as it was read, not a part of it
	Piece       string       // its name, and that of the size if there are several; "" if unknown
	Label       string       // as written
	Line        int          // of the file, from 1
	First, Last int          // round numbers
	Used        int          // stitches of the round below that each round uses, as a sum; -1 if unknown
	Made        int          // the count of the last of its rounds; -1 if unknown
	Declared    int          // the count that the line states; -1 if it states none
	Verdict     string       // a word of notation.Verdict
}

// Add puts what other holds into r.
func (r *Report) Add(other Report) {
	r.Files = append(r.Files, other.Files...)
	r.Rounds = append(r.Rounds, other.Rounds...)
	r.Findings = append(r.Findings, other.Findings...)
	r.Allowed = append(r.Allowed, other.Allowed...)
}

// file returns the index in r.Files of the file of that name; -1 if it is not
// there.
func (r *Report) file(name string) int {
	return slices.IndexFunc(r.Files, func(f *source.File) bool { return f.Name == name })
}

// addFile notes a file as read.
func (r *Report) addFile(f *source.File) {
	if f != nil && r.file(f.Name) < 0 {
		r.Files = append(r.Files, f)
	}
}

// WriteText writes a line for each file, that says how many rounds were read
// and what was found.
func (r *Report) WriteText(w io.Writer) error {
	var b strings.Builder
	for _, f := range r.Files {
		var words []string
		verdicts := map[string]int{}
		rounds := 0
		for _, row := range r.Rounds {
			if row.File.Name == f.Name {
				n := max(1, row.Last-row.First+1)
				rounds += n
				verdicts[row.Verdict] += n
			}
		}
		if rounds > 0 {
			words = append(words, plural(rounds, "round"))
		}
		for _, v := range []string{"mismatch", "indivisible", "ambiguous", "uncounted", "unread"} {
			if verdicts[v] > 0 {
				words = append(words, fmt.Sprintf("%d %s", verdicts[v], v))
			}
		}
		var findings source.Findings
		for _, f2 := range r.Findings {
			if f2.Pos().File == f.Name {
				findings = append(findings, f2)
			}
		}
		if len(findings) == 0 {
			words = append(words, "ok")
		}
		for _, s := range []source.Severity{source.Error, source.Warning, source.Note} {
			if n := findings.Count(s); n > 0 {
				words = append(words, plural(n, s.String()))
			}
		}
		if n := r.allowedIn(f); n > 0 {
			words = append(words, fmt.Sprintf("%d allowed", n))
		}
		fmt.Fprintf(&b, "%s: %s\n", f.Name, strings.Join(words, ", "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func (r *Report) allowedIn(f *source.File) int {
	n := 0
	for _, a := range r.Allowed {
		if a.Finding.Pos().File == f.Name {
			n++
		}
	}
	return n
}

// plural returns "1 round" or "2 rounds".
func plural(n int, word string) string {
	if n != 1 {
		word += "s"
	}
	return fmt.Sprintf("%d %s", n, word)
}

// The JSON form of a report. A finding about no round has round 0, and one
// about a file as a whole has line and column 0.
type (
	jsonReport struct {
		Files   []jsonFile  `json:"files"`
		Summary jsonSummary `json:"summary"`
	}
	jsonFile struct {
		Path     string        `json:"path"`
		Rounds   []jsonRound   `json:"rounds"`
		Findings []jsonFinding `json:"findings"`
	}
	jsonRound struct {
		Piece    string `json:"piece"`
		Label    string `json:"label"`
		Line     int    `json:"line"`
		First    int    `json:"first"`
		Last     int    `json:"last"`
		Used     *int   `json:"used"`
		Made     *int   `json:"made"`
		Declared *int   `json:"declared"`
		Verdict  string `json:"verdict"`
	}
	jsonFinding struct {
		Code     string          `json:"code"`
		Severity source.Severity `json:"severity"`
		Line     int             `json:"line"`
		Column   int             `json:"column"`
		Round    int             `json:"round"`
		Message  string          `json:"message"`
		Hint     string          `json:"hint"`
	}
	jsonSummary struct {
		Errors   int `json:"errors"`
		Warnings int `json:"warnings"`
		Notes    int `json:"notes"`
	}
)

// WriteJSON writes the report as one JSON object, with the files in the order
// in which they were read.
func (r *Report) WriteJSON(w io.Writer) error {
	out := jsonReport{
		Files: make([]jsonFile, len(r.Files)),
		Summary: jsonSummary{
			r.Findings.Count(source.Error), r.Findings.Count(source.Warning), r.Findings.Count(source.Note),
		},
	}
	for i, f := range r.Files {
		out.Files[i] = jsonFile{Path: f.Name, Rounds: []jsonRound{}, Findings: []jsonFinding{}}
	}
	for _, row := range r.Rounds {
		i := r.file(row.File.Name)
		if i < 0 {
			continue
		}
		out.Files[i].Rounds = append(out.Files[i].Rounds, jsonRound{
			Piece: row.Piece, Label: row.Label, Line: row.Line, First: row.First, Last: row.Last,
			Used: known(row.Used), Made: known(row.Made), Declared: known(row.Declared), Verdict: row.Verdict,
		})
	}
	for _, f := range r.Findings {
		p := f.Pos()
		i := r.file(p.File)
		if i < 0 {
			continue
		}
		out.Files[i].Findings = append(out.Files[i].Findings, jsonFinding{
			f.Code, f.Severity, p.Line, p.Column, f.Round, f.Message, f.Hint,
		})
	}
	return writeJSON(w, out)
}

// writeJSON writes v with one value a line.
func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// known returns nil for an unknown number.
func known(n int) *int {
	if n < 0 {
		return nil
	}
	return &n
}
