package prose

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern/source"
)

// A Directive asks for a part of the pattern to be put where it stands. It is
// written as a fenced block, whose text is the caption:
//
//	```rounds piece=Ball from=2 to=6
//	The lower half.
//	```
type Directive struct {
	Kind    Kind
	At      source.Span // from the name to the last argument
	Piece   string      // the name of a piece; "" for the only or for every piece
	Size    string      // the name of a size; "" for the first
	From    int         // number of the first round; 0 for the first of all
	To      int         // number of the last round; 0 for the last of all
	View    string      // of a chart: "whole", "halves", "repeat" or "strip"; "" for the usual one
	Hand    string      // of a chart: "right" or "left"; "" for the usual one
	Caption string      // "" if there is none
}

// A Kind says what a directive puts in its place.
type Kind uint8

// The kinds of directives.
const (
	Rounds Kind = iota
	Chart
	Steps
	Materials
	Gauge
	Abbreviations
	Notes
	Finishing
	kinds // how many there are
)

func (k Kind) String() string { return directiveTable[k].name }

// Doc says in one line what the directive puts in its place.
func (k Kind) Doc() string { return directiveTable[k].doc }

// Arguments returns the names of the arguments that the directive takes.
func (k Kind) Arguments() []string { return directiveTable[k].args }

// Kinds returns all kinds of directives.
func Kinds() []Kind {
	all := make([]Kind, kinds)
	for i := range all {
		all[i] = Kind(i)
	}
	return all
}

// directiveTable says what each Kind is. A new directive is a constant above,
// a line here, and a part of the page in package site.
var directiveTable = [kinds]struct {
	name string
	doc  string
	args []string
}{
	Rounds:        {"rounds", "the written rounds of a piece, or some of them", []string{"piece", "from", "to", "size"}},
	Chart:         {"chart", "the chart of a piece", []string{"piece", "view", "hand", "size"}},
	Steps:         {"steps", "what is done between the rounds of a piece", []string{"piece", "from", "to"}},
	Materials:     {"materials", "yarn, hook and notions", nil},
	Gauge:         {"gauge", "the gauge", nil},
	Abbreviations: {"abbreviations", "the abbreviations that the rounds use", nil},
	Notes:         {"notes", "the notes of the pattern", nil},
	Finishing:     {"finishing", "the finishing of the pattern", nil},
}

// argumentTable says what each argument takes, and where it goes.
var argumentTable = map[string]struct {
	takes  string   // for messages
	values []string // the only values; nil for any
	set    func(*Directive, string) bool
}{
	"piece": {"the name of a piece", nil, func(d *Directive, v string) bool { d.Piece = v; return v != "" }},
	"size":  {"the name of a size", nil, func(d *Directive, v string) bool { d.Size = v; return v != "" }},
	"from":  {"the number of a round", nil, func(d *Directive, v string) bool { return number(&d.From, v) }},
	"to":    {"the number of a round", nil, func(d *Directive, v string) bool { return number(&d.To, v) }},
	"view":  {"a view", []string{"whole", "halves", "repeat", "strip"}, func(d *Directive, v string) bool { d.View = v; return true }},
	"hand":  {"a hand", []string{"right", "left"}, func(d *Directive, v string) bool { d.Hand = v; return true }},
}

func number(n *int, v string) bool {
	i, err := strconv.Atoi(v)
	*n = i
	return err == nil && i > 0
}

// plainBlocks are the names of fenced blocks that are shown as they are.
var plainBlocks = []string{"", "text"}

// A field is a run of an info string: a name, or a name with a value.
type field struct {
	at          source.Span
	name, value string
	hasValue    bool
}

// fields cuts an info string, which stands at the offset start of its file,
// into its fields. A value may stand in double quotes.
func fields(info string, start int) []field {
	var fs []field
	for i := 0; i < len(info); {
		if info[i] == ' ' || info[i] == '\t' {
			i++
			continue
		}
		f := field{at: source.Span{From: start + i}}
		rest := info[i:]
		n := len(rest)
		if j := strings.IndexAny(rest, " \t="); j >= 0 {
			n = j
		}
		f.name, rest = rest[:n], rest[n:]
		i += n
		if strings.HasPrefix(rest, "=") {
			f.hasValue = true
			value, size := fieldValue(rest[1:])
			f.value = value
			i += 1 + size
		}
		f.at.To = start + i
		fs = append(fs, f)
	}
	return fs
}

// fieldValue returns the value at the start of s and its length as written.
func fieldValue(s string) (value string, size int) {
	if rest, quoted := strings.CutPrefix(s, `"`); quoted {
		if value, _, closed := strings.Cut(rest, `"`); closed {
			return value, len(value) + 2
		}
	}
	if j := strings.IndexAny(s, " \t"); j >= 0 {
		return s[:j], j
	}
	return s, len(s)
}

// directive reads the info string and the text of a fenced block. It returns
// nil for a block that is no directive.
func (d *Document) directive(info string, at source.Span, caption string) *Directive {
	fs := fields(info, at.From)
	if len(fs) == 0 || slices.Contains(plainBlocks, fs[0].name) {
		return nil
	}
	var names []string
	for _, k := range Kinds() {
		names = append(names, k.String())
	}
	kind := slices.Index(names, fs[0].name)
	if kind < 0 {
		d.report(fs[0].at, fmt.Sprintf("unknown directive %s%s", fs[0].name, suggestion(fs[0].name, names)),
			"the directives are "+strings.Join(names, ", ")+"; for a block that is shown as it is write ```text")
		return nil
	}
	dir := &Directive{Kind: Kind(kind), At: at, Caption: caption}
	d.arguments(dir, fs[1:])
	return dir
}

// arguments gives dir its arguments, and reports those that it does not take.
func (d *Document) arguments(dir *Directive, fs []field) {
	known := dir.Kind.Arguments()
	seen := map[string]bool{}
	for _, f := range fs {
		arg, ok := argumentTable[f.name]
		switch {
		case !ok || !slices.Contains(known, f.name):
			hint := fmt.Sprintf("%s takes no arguments", dir.Kind)
			if len(known) > 0 {
				hint = fmt.Sprintf("%s takes %s, each as name=value", dir.Kind, strings.Join(known, ", "))
			}
			d.report(f.at, fmt.Sprintf("%s takes no argument %s%s", dir.Kind, f.name, suggestion(f.name, known)), hint)
		case seen[f.name]:
			d.report(f.at, fmt.Sprintf("argument %s stands twice", f.name), "keep one of them")
		case arg.values != nil && !slices.Contains(arg.values, f.value):
			d.report(f.at, fmt.Sprintf("%s is no value of %s%s", quoted(f.value), f.name, suggestion(f.value, arg.values)),
				f.name+" is one of "+strings.Join(arg.values, ", "))
		case !f.hasValue || !arg.set(dir, f.value):
			d.report(f.at, fmt.Sprintf("%s needs %s, not %s", f.name, arg.takes, quoted(f.value)),
				fmt.Sprintf("write %s=value; a value with spaces stands in double quotes", f.name))
		}
		seen[f.name] = true
	}
	if dir.To > 0 && dir.To < dir.From {
		d.report(dir.At, fmt.Sprintf("round %d comes before round %d", dir.To, dir.From), "from is the earlier round, to the later")
	}
}

func quoted(s string) string {
	if s == "" {
		return "nothing"
	}
	return strconv.Quote(s)
}

// suggestion returns " (did you mean x?)" for the one of names nearest to name,
// or "" if none is near.
func suggestion(name string, names []string) string {
	if n := source.Nearest(name, names); n != "" {
		return fmt.Sprintf(" (did you mean %s?)", n)
	}
	return ""
}
