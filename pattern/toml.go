package pattern

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"roundelay/pattern/source"
)

// A node is a value of a TOML file with its place. It is a table, a list, or
// a plain value.
type node struct {
	keyAt source.Span // the key, or the header of a table; of an element of a list, the header or the element
	at    source.Span // the value; of a table under a header, the header
	value any         // string, int64, float64, bool or time.Time; nil for tables and lists
	table map[string]*node
	list  []*node
	kind  nodeKind
	bad   bool // its key does not take this value
}

type nodeKind uint8

const (
	plain nodeKind = iota
	tableNode
	listNode
)

// decodeTOML reads a file. The values are those of the TOML library, the places
// those of [locate]. It returns nil for a file that is not sound TOML, with one
// finding: the library stops at the first error.
func decodeTOML(f *source.File) (*node, *source.Finding) {
	root, stop := locate(f.Text)
	if stop.tooDeep {
		return nil, &source.Finding{
			File: f, At: stop.at, Severity: source.Error, Code: "toml-syntax",
			Message: fmt.Sprintf("brackets or dotted keys go more than %d deep here", maxDepth),
			Hint:    "a pattern needs no more than four",
		}
	}
	values := map[string]any{}
	if _, err := toml.Decode(f.Text, &values); err != nil {
		return nil, syntaxFinding(f, err, stop)
	}
	root.fill(values)
	return root, nil
}

// fill puts the values of the library into the tree of places. Where the two
// disagree the library is right and the place is that of the table around.
func (n *node) fill(value any) {
	switch v := value.(type) {
	case map[string]any:
		n.kind = tableNode
		if n.table == nil {
			n.table = map[string]*node{}
		}
		for name := range n.table {
			if _, ok := v[name]; !ok {
				delete(n.table, name)
			}
		}
		for name, value := range v {
			child := n.table[name]
			if child == nil {
				child = &node{keyAt: n.keyAt, at: n.at}
				n.table[name] = child
			}
			child.fill(value)
		}
	case []map[string]any:
		items := make([]any, len(v))
		for i := range v {
			items[i] = v[i]
		}
		n.fill(items)
	case []any:
		n.kind = listNode
		for len(n.list) < len(v) {
			n.list = append(n.list, &node{keyAt: n.keyAt, at: n.at})
		}
		n.list = n.list[:len(v)]
		for i := range v {
			n.list[i].fill(v[i])
		}
	default:
		n.kind, n.value = plain, v
	}
}

// syntaxFinding words an error of the library. Of its places only the offset is
// to be trusted: the line is the last one of a text of many lines, the column
// is wrong at the start of a line.
func syntaxFinding(f *source.File, err error, stop stop) *source.Finding {
	out := &source.Finding{File: f, Severity: source.Error, Code: "toml-syntax"}
	var pe toml.ParseError
	if !errors.As(err, &pe) {
		out.Message = err.Error()
		return out
	}
	from := max(0, min(pe.Position.Start, len(f.Text)-1))
	for from > 0 && !utf8.RuneStart(f.Text[from]) {
		from--
	}
	if from > 0 && f.Text[from] == '\n' {
		from-- // told as the end of the line that is wrong, not the start of the next
		if from > 0 && f.Text[from] == '\r' {
			from--
		}
	}
	out.At = source.Span{From: from, To: min(len(f.Text), from+max(1, pe.Position.Len))}
	out.Message = strings.TrimSuffix(pe.Message, ".")
	switch found := firstWord(f.Text[from:]); {
	case stop.open != "" && from >= stop.at.From:
		out.At = stop.at
		out.Message = fmt.Sprintf("the text that begins here with %s has no end", stop.open)
		out.Hint = "end it with " + stop.open
		if len(stop.open) == 1 {
			out.Message += " on its line"
			out.Hint += ", or put text of many lines between three quotes"
		}
	case strings.ContainsAny(out.Message, "“”„’‘"):
		out.Hint = `use straight quotes: "` + `like this"`
	case strings.HasPrefix(pe.Message, "expected value but found \""):
		out.Message = fmt.Sprintf("%s is not a value", found)
		out.Hint = fmt.Sprintf("text goes in quotes: %q", found)
	case strings.HasPrefix(pe.Message, "invalid escape"):
		out.Hint = "write two backslashes for one, or put the text between single quotes"
	case strings.Contains(pe.Message, "control characters"):
		out.Message, out.Hint = "there is a control character here", "take it out"
	case strings.Contains(pe.Message, "has already been defined"):
		out.Message = strings.TrimPrefix(out.Message, "Key ")
		out.Hint = "give it once; tables of which there are several are headed [[like this]] each time"
	case strings.HasPrefix(pe.Message, "expected value but found '\\n'"), strings.HasPrefix(pe.Message, "expected value but found '\\r'"):
		out.Message = "nothing stands after the ="
		out.Hint = "write the value after it, or take the line out"
	}
	return out
}

// firstWord returns the first word of s, at most 40 bytes of it.
func firstWord(s string) string {
	word := s
	if i := strings.IndexAny(s, " \t\r\n=#,]}"); i >= 0 {
		word = s[:i]
	}
	return shortened(word)
}
