package pattern

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"roundelay/pattern/source"
)

// maxFindings is how many findings about one file are kept.
const maxFindings = 200

// A reader gathers the findings about one file.
type reader struct {
	file     *source.File
	keys     []Key
	findings source.Findings
}

// report adds a finding; all after the first maxFindings are dropped.
func (r *reader) report(f source.Finding) {
	switch n := len(r.findings); {
	case n < maxFindings:
		if f.File == nil {
			f.File = r.file
		}
		r.findings = append(r.findings, f)
	case n == maxFindings:
		r.findings = append(r.findings, source.Finding{
			File: r.file, Severity: source.Error, Code: "too-many",
			Message: fmt.Sprintf("there are more than %d findings; the rest is left out", maxFindings),
		})
	}
}

// fault reports an error at a place.
func (r *reader) fault(at source.Span, code, hint, message string, args ...any) {
	r.report(source.Finding{
		At: at, Severity: source.Error, Code: code, Hint: hint,
		Message: fmt.Sprintf(message, args...),
	})
}

// A table is a table of the file. Once it was checked, its values are those that
// have the kind and the bounds that their keys demand.
type table struct {
	*node
	path string // "piece.step"; "" for the file
}

// under returns the path of a key in a table.
func under(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// check compares a table with the keys, says what is wrong, and marks it bad.
func (r *reader) check(t table) {
	known := map[string]*Key{}
	var names []string
	for i := range r.keys {
		if k := &r.keys[i]; under(t.path, k.Name()) == k.Path {
			known[k.Name()] = k
			names = append(names, k.Name())
		}
	}
	meant := map[string]bool{} // keys that are there, if only misspelt or with a wrong value
	for _, name := range t.names() {
		k := known[name]
		if k == nil {
			meant[r.unknown(t, name, names)] = true
			continue
		}
		meant[name] = true
		n := t.table[name]
		n.bad = !r.sound(k, n)
	}
	for _, name := range names {
		if k := known[name]; k.Required && !meant[name] {
			at, where := t.at, "this "+t.path[strings.LastIndexByte(t.path, '.')+1:]
			if t.path == "" {
				at, where = source.Span{}, "the file"
			}
			r.fault(at, "missing-key", "add "+k.example(), "%s has no %s", where, name)
		}
	}
}

// unknown reports a key that there is none of in a table, and returns the one
// that was probably meant; "" if there is none.
func (r *reader) unknown(t table, name string, known []string) string {
	at := t.table[name].keyAt
	where := "here"
	if t.path != "" {
		where = "in " + r.header(t.path)
	}
	// A key in a table where it doesn't belong is mostly one that was meant for
	// the table above, but stands after the header of the next.
	for _, k := range r.keys {
		if k.Name() == name {
			home := strings.TrimSuffix(strings.TrimSuffix(k.Path, name), ".")
			hint := fmt.Sprintf("%s belongs in %s", name, r.header(home))
			if home == "" {
				hint = fmt.Sprintf("%s belongs at the top of the file, before the first line with [brackets]", name)
			}
			r.fault(at, "unknown-key", hint, "there is no key %s %s", shortened(name), where)
			return ""
		}
	}
	near := source.Nearest(name, known)
	hint := "the keys are " + listed(known, "and")
	if near != "" {
		hint = fmt.Sprintf("did you mean %s?", near)
	}
	r.fault(at, "unknown-key", hint, "there is no key %s %s", shortened(name), where)
	return near
}

// header returns how a table is headed: "[gauge]" or "[[piece]]".
func (r *reader) header(path string) string {
	for _, k := range r.keys {
		if k.Path == path && k.Kind == Tables {
			return "[[" + path + "]]"
		}
	}
	return "[" + path + "]"
}

// sound reports whether a value is what its key demands, and says so if it is
// not. Tables are checked through and through, and are sound if they are tables.
func (r *reader) sound(k *Key, n *node) bool {
	name := k.Name()
	wrong := func(want string) bool {
		example := k.example()
		if _, isText := n.value.(string); !isText && n.kind == plain && (k.Kind == Line || k.Kind == Text) {
			example = fmt.Sprintf(`%s = "%s"`, name, shortened(r.file.Text[n.at.From:n.at.To]))
		}
		r.fault(n.at, "wrong-type", "write "+example, "%s is %s; it should be %s", name, n.describe(), want)
		return false
	}
	switch k.Kind {
	case Line, Text, Word, Colour, Length:
		s, ok := n.value.(string)
		if !ok {
			if k.Kind == Word {
				return wrong(listed(k.Words, "or") + ", in quotes")
			}
			return wrong("text, in quotes")
		}
		return r.soundText(k, n, s)
	case Lines:
		if n.kind != listNode {
			return wrong("a list of texts")
		}
		if len(n.list) > int(k.Max) {
			r.fault(n.at, "too-many", "", "%s has %d lines; there may be %g", name, len(n.list), k.Max)
			return false
		}
		ok := true
		for _, item := range n.list {
			if s, isText := item.value.(string); !isText {
				r.fault(item.at, "wrong-type", "", "this line of %s is %s; it should be text, in quotes", name, item.describe())
				ok = false
			} else if !r.soundText(k, item, s) {
				ok = false
			}
		}
		return ok
	case Whole:
		v, ok := n.value.(int64)
		if !ok {
			return wrong("a whole number")
		}
		return r.inRange(k, n, float64(v))
	case Sum:
		switch v := n.value.(type) {
		case int64:
			return r.inRange(k, n, float64(v))
		case string:
			return true // worked out for each size
		}
		return wrong("a whole number")
	case Number:
		switch v := n.value.(type) {
		case int64:
			return r.inRange(k, n, float64(v))
		case float64:
			return r.inRange(k, n, v)
		}
		return wrong("a number")
	case Flag:
		if _, ok := n.value.(bool); !ok {
			return wrong("true or false")
		}
	case Date:
		v, ok := n.value.(time.Time)
		if !ok {
			return wrong("a day, without quotes")
		}
		if v.Year() < 1 {
			r.fault(n.at, "bad-value", "", "%s has no year", name)
			return false
		}
	case Numbers:
		if n.kind != tableNode {
			return wrong("a table of numbers")
		}
		r.soundNumbers(k, n)
	case Table:
		if n.kind != tableNode {
			return wrong("a table")
		}
		r.check(table{n, k.Path})
	case Tables:
		if n.kind != listNode {
			return wrong("a list of tables")
		}
		if len(n.list) > int(k.Max) {
			r.fault(n.list[int(k.Max)].at, "too-many", "", "there are %d of %s; there may be %g", len(n.list), r.header(k.Path), k.Max)
			n.list = n.list[:int(k.Max)]
		}
		for _, item := range n.list {
			if item.kind != tableNode {
				r.fault(item.at, "wrong-type", "write [["+k.Path+"]] with double brackets, once for each", "%s holds %s; it should hold tables", name, item.describe())
				return false
			}
		}
		for _, item := range n.list {
			r.check(table{item, k.Path})
		}
	}
	return true
}

// soundText checks the text of a key, or of a line of it.
func (r *reader) soundText(k *Key, n *node, s string) bool {
	name := k.Name()
	bad := func(hint, message string, args ...any) bool {
		r.fault(n.at, "bad-value", hint, message, args...)
		return false
	}
	if i := strings.IndexFunc(s, func(c rune) bool { return unicode.IsControl(c) && !strings.ContainsRune("\n\r\t", c) }); i >= 0 {
		return bad("take it out", "%s has a control character, %+q", name, []rune(s[i:])[0])
	}
	most := maxText
	if k.Kind != Text {
		most = maxLine
		if strings.ContainsAny(s, "\n\r") {
			return bad("", "%s has more than one line", name)
		}
	}
	if strings.TrimSpace(s) == "" {
		return bad("write it, or take the key out", "%s is empty", name)
	}
	if c := utf8.RuneCountInString(s); c > most {
		return bad("", "%s is %d characters long; it may have %d", name, c, most)
	}
	switch k.Kind {
	case Word:
		if !slices.Contains(k.Words, s) {
			hint := "it may be " + listed(k.Words, "or")
			if near := source.Nearest(s, k.Words); near != "" {
				hint = fmt.Sprintf("did you mean %q? %s", near, hint)
			}
			return bad(hint, "%s can't be %q", name, shortened(s))
		}
	case Colour:
		if !isHex(s) {
			return bad(`write # and six of the digits 0-9 and a-f, as in "#c9563c"`, "%s can't be %q", name, shortened(s))
		}
	case Length:
		if _, err := ParseLengthMM(s); err != nil {
			return bad(`write a number and mm, cm or in, as in "10 cm"`, "%s: %v", name, err)
		}
	}
	return true
}

// soundNumbers checks a table of numbers under names of the maker's choice.
func (r *reader) soundNumbers(k *Key, n *node) {
	for _, name := range n.names() {
		v := n.table[name]
		whole, isWhole := v.value.(int64)
		switch {
		case !isName(name):
			r.fault(v.keyAt, "bad-value", "begin with a letter and use letters, digits and _, at most 32", "a number can't be called %q", shortened(name))
		case !isWhole:
			r.fault(v.at, "wrong-type", "write "+name+" = 6", "%s is %s; it should be a whole number", name, v.describe())
		case r.inRange(&Key{Path: name, Min: k.Min, Max: k.Max}, v, float64(whole)):
			continue
		}
		v.bad = true
	}
}

func (r *reader) inRange(k *Key, n *node, v float64) bool {
	if !(v >= k.Min && v <= k.Max) { // NaN is not in range
		r.fault(n.at, "out-of-range", fmt.Sprintf("it may be %s to %s", number(k.Min), number(k.Max)), "%s can't be %s", k.Name(), number(v))
		return false
	}
	return true
}

// names returns the keys of a table in the order of the file.
func (n *node) names() []string {
	return slices.SortedFunc(maps.Keys(n.table), func(a, b string) int {
		return cmp.Or(cmp.Compare(n.table[a].keyAt.From, n.table[b].keyAt.From), cmp.Compare(a, b))
	})
}

// describe says what kind of value n is.
func (n *node) describe() string {
	switch n.kind {
	case tableNode:
		return "a table"
	case listNode:
		return "a list"
	}
	switch n.value.(type) {
	case string:
		return "text"
	case int64:
		return "a whole number"
	case float64:
		return "a number with a point"
	case bool:
		return "true or false"
	}
	return "a day or a time"
}

// Values of a table that was checked. Each returns the zero value for a key
// that is not there.

func (t table) text(name string) string {
	s, _ := t.value(name).(string)
	return strings.TrimSpace(s)
}

func (t table) lines(name string) []string {
	var out []string
	for _, item := range t.get(name).list {
		out = append(out, strings.TrimSpace(item.value.(string)))
	}
	return out
}

func (t table) whole(name string) (int, bool) {
	v, ok := t.value(name).(int64)
	return int(v), ok
}

func (t table) number(name string) float64 {
	switch v := t.value(name).(type) {
	case int64:
		return float64(v)
	case float64:
		return v
	}
	return 0
}

func (t table) flag(name string) (value, given bool) {
	value, given = t.value(name).(bool)
	return value, given
}

func (t table) date(name string) time.Time {
	v, ok := t.value(name).(time.Time)
	if !ok {
		return time.Time{}
	}
	return time.Date(v.Year(), v.Month(), v.Day(), 0, 0, 0, 0, time.UTC)
}

func (t table) value(name string) any { return t.get(name).value }

// get returns the value of a key; an empty one if it is not there or was found
// wrong.
func (t table) get(name string) *node {
	if n := t.table[name]; n != nil && !n.bad {
		return n
	}
	return &node{}
}

// given reports whether a key is there, if only with a wrong value.
func (t table) given(name string) bool { return t.table[name] != nil }

// place returns the place of a value; that of the table if it has none.
func (t table) place(name string) source.Span {
	if n := t.table[name]; n != nil {
		return n.at
	}
	return t.at
}

// sub returns a table in a table.
func (t table) sub(name string) (table, bool) {
	n := t.get(name)
	return table{n, under(t.path, name)}, n.kind == tableNode
}

// subs returns the tables of a list.
func (t table) subs(name string) []table {
	var out []table
	for _, item := range t.get(name).list {
		out = append(out, table{item, under(t.path, name)})
	}
	return out
}

// shortened returns s, cut to what fits in a message.
func shortened(s string) string {
	const most = 40
	if r := []rune(s[:min(len(s), 4*most)]); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// listed returns words as a list for a sentence: "a, b or c".
func listed(words []string, and string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " " + and + " " + words[last]
}

// number returns v as a person would write it.
func number(v float64) string {
	if math.Abs(v) >= 1e9 {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func isHex(s string) bool {
	if len(s) != 7 || s[0] != '#' {
		return false
	}
	_, err := strconv.ParseUint(s[1:], 16, 32)
	return err == nil
}
