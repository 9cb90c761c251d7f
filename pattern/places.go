package pattern

import (
	"strconv"
	"strings"

	"roundelay/pattern/source"
)

// maxDepth is how deep brackets may be nested, and how many parts a dotted key
// may have. The TOML library has no such limit and needs seconds, or the whole
// stack, for what goes very deep.
const maxDepth = 16

// A stop says why locate did not come to the end of a file.
type stop struct {
	at      source.Span
	tooDeep bool
	open    string // the quotes of a text that has no end
}

// locate finds the place of every key and value of a TOML file. The library
// that checks and reads the file keeps those places to itself. What locate
// returns has no values; see [node.fill]. It goes as far as the file is sound,
// and where that is not to the end it may say why.
func locate(text string) (*node, stop) {
	l := &locator{text: text}
	root := newTable(source.Span{}, source.Span{})
	l.document(root)
	return root, l.stop
}

func newTable(keyAt, at source.Span) *node {
	return &node{kind: tableNode, keyAt: keyAt, at: at, table: map[string]*node{}}
}

type locator struct {
	text  string
	at    int
	depth int
	stop  stop
}

// A keyPart is one name of a dotted key.
type keyPart struct {
	name string
	at   source.Span
}

func (l *locator) document(root *node) {
	current := root
	for {
		l.blank(true)
		switch {
		case l.at >= len(l.text):
			return
		case l.text[l.at] == '[':
			next, ok := l.header(root)
			if !ok {
				return
			}
			current = next
		default:
			if !l.entry(current) {
				return
			}
		}
	}
}

// header reads [a.b] or [[a.b]] and returns the table it heads.
func (l *locator) header(root *node) (*node, bool) {
	from := l.at
	brackets := 1
	if strings.HasPrefix(l.text[l.at:], "[[") {
		brackets = 2
	}
	l.at += brackets
	parts, ok := l.key()
	if !ok || !strings.HasPrefix(l.text[l.at:], "]]"[:brackets]) {
		return nil, false
	}
	l.at += brackets
	at := source.Span{From: from, To: l.at}

	table := root
	last := parts[len(parts)-1]
	for _, p := range parts[:len(parts)-1] {
		table = table.descend(p, at)
	}
	if brackets == 1 {
		t := table.descend(last, at)
		if len(t.list) == 0 {
			t.keyAt, t.at = at, at
		}
		return t, true
	}
	list := table.table[last.name]
	if list == nil || list.kind != listNode {
		list = &node{kind: listNode, keyAt: at, at: at}
		table.table[last.name] = list
	}
	item := newTable(at, at)
	list.list = append(list.list, item)
	return item, true
}

// descend returns the table of that name in n, or the last one if there are
// several, and makes it where there is none.
func (n *node) descend(p keyPart, at source.Span) *node {
	child := n.table[p.name]
	if child != nil && child.kind == listNode && len(child.list) > 0 {
		child = child.list[len(child.list)-1]
	}
	if child == nil || child.kind != tableNode {
		child = newTable(at, at)
		n.table[p.name] = child
	}
	return child
}

// entry reads "key = value" into a table.
func (l *locator) entry(table *node) bool {
	parts, ok := l.key()
	if !ok || l.at >= len(l.text) || l.text[l.at] != '=' {
		return false
	}
	l.at++
	for _, p := range parts[:len(parts)-1] {
		table = table.descend(p, p.at)
	}
	last := parts[len(parts)-1]
	l.blank(false)
	value, ok := l.value()
	if value != nil {
		value.keyAt = source.Span{From: parts[0].at.From, To: last.at.To}
		if _, twice := table.table[last.name]; !twice {
			table.table[last.name] = value
		}
	}
	return ok
}

// key reads a key and the blanks round it.
func (l *locator) key() ([]keyPart, bool) {
	var parts []keyPart
	for {
		l.blank(false)
		from := l.at
		if from >= len(l.text) {
			return nil, false
		}
		var name string
		switch q := l.text[from]; q {
		case '"', '\'':
			if !l.quoted(q) {
				return nil, false
			}
			name = l.text[from+1 : l.at-1]
			if q == '"' {
				if s, err := strconv.Unquote(l.text[from:l.at]); err == nil {
					name = s
				}
			}
		default:
			for l.at < len(l.text) && !strings.ContainsRune(" \t\r\n.=[]{},#\"'", rune(l.text[l.at])) {
				l.at++
			}
			if name = l.text[from:l.at]; name == "" {
				return nil, false
			}
		}
		parts = append(parts, keyPart{name, source.Span{From: from, To: l.at}})
		if len(parts) > maxDepth {
			l.stop = stop{at: source.Span{From: from, To: l.at}, tooDeep: true}
			return nil, false
		}
		l.blank(false)
		if l.at >= len(l.text) || l.text[l.at] != '.' {
			return parts, true
		}
		l.at++
	}
}

// value reads a value. What it returns may be used even where it reports that
// the file can't be followed further.
func (l *locator) value() (*node, bool) {
	from := l.at
	if from >= len(l.text) {
		return nil, false
	}
	n := &node{}
	ok := true
	switch c := l.text[from]; c {
	case '"', '\'':
		ok = l.quoted(c)
	case '[', '{':
		if l.depth++; l.depth > maxDepth {
			l.stop = stop{at: source.Span{From: from, To: from + 1}, tooDeep: true}
			return nil, false
		}
		l.at++
		if c == '[' {
			ok = l.list(n)
		} else {
			n.kind, n.table = tableNode, map[string]*node{}
			ok = l.inline(n)
		}
		l.depth--
	default:
		for l.at < len(l.text) && !strings.ContainsRune(",]}#\r\n", rune(l.text[l.at])) {
			l.at++
		}
		l.at = from + len(strings.TrimRight(l.text[from:l.at], " \t"))
		ok = l.at > from
	}
	n.keyAt = source.Span{From: from, To: l.at}
	n.at = n.keyAt
	return n, ok
}

func (l *locator) list(n *node) bool {
	n.kind = listNode
	for {
		l.blank(true)
		if l.take(']') {
			return true
		}
		item, ok := l.value()
		if !ok {
			return false
		}
		n.list = append(n.list, item)
		l.blank(true)
		if l.take(']') {
			return true
		}
		if !l.take(',') {
			return false
		}
	}
}

func (l *locator) inline(n *node) bool {
	for {
		l.blank(true)
		if l.take('}') {
			return true
		}
		if !l.entry(n) {
			return false
		}
		l.blank(true)
		if l.take('}') {
			return true
		}
		if !l.take(',') {
			return false
		}
	}
}

func (l *locator) take(c byte) bool {
	if l.at < len(l.text) && l.text[l.at] == c {
		l.at++
		return true
	}
	return false
}

// blank passes over spaces and, if lines is set, over line ends and comments.
func (l *locator) blank(lines bool) {
	for l.at < len(l.text) {
		switch c := l.text[l.at]; {
		case c == ' ', c == '\t', lines && (c == '\n' || c == '\r'):
			l.at++
		case lines && c == '#':
			for l.at < len(l.text) && l.text[l.at] != '\n' {
				l.at++
			}
		default:
			return
		}
	}
}

// quoted passes over a text in quotes of kind q, of one line or of many.
func (l *locator) quoted(q byte) bool {
	from := l.at
	three := strings.Repeat(string(q), 3)
	if !strings.HasPrefix(l.text[l.at:], three) {
		for l.at++; l.at < len(l.text) && l.text[l.at] != '\n'; l.at++ {
			switch c := l.text[l.at]; {
			case c == q:
				l.at++
				return true
			case c == '\\' && q == '"':
				l.at++
			}
		}
		l.stop = stop{at: source.Span{From: from, To: from + 1}, open: string(q)}
		return false
	}
	for l.at += 3; l.at < len(l.text); l.at++ {
		switch {
		case strings.HasPrefix(l.text[l.at:], three):
			l.at += 3
			for extra := 0; extra < 2 && l.at < len(l.text) && l.text[l.at] == q; extra++ {
				l.at++ // one or two quotes may stand before the closing three
			}
			return true
		case l.text[l.at] == '\\' && q == '"':
			l.at++
		}
	}
	l.stop = stop{at: source.Span{From: from, To: from + 3}, open: three}
	return false
}

// inside returns the place of what stands between the quotes of the text at s,
// without the line end that may follow the opening ones.
func inside(text string, s source.Span) source.Span {
	n := 1
	if t := text[s.From:s.To]; len(t) >= 6 && t[0] == t[1] && t[1] == t[2] {
		n = 3
		s.From, s.To = s.From+n, s.To-n
		if strings.HasPrefix(text[s.From:s.To], "\r\n") {
			s.From += 2
		} else if strings.HasPrefix(text[s.From:s.To], "\n") {
			s.From++
		}
		return s
	}
	return source.Span{From: s.From + n, To: s.To - n}
}
