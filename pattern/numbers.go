package pattern

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern/source"
)

// maxSum is how long a sum may be, in bytes; it bounds its brackets too.
const maxSum = 120

// withNumbers returns the part s of f with the sums in braces worked out, as a
// file whose places are those of f:
//
//	[numbers]
//	side = 6
//	Rnd 3: (sc {side-1}, inc) x 6 ({6*(side+1)})
//
// What stands in braces is a sum if it names one of the numbers, or if it can
// be read as a sum at all and names something. Other braces are left as they
// are, for makers who put counts in them, as in {30} or {30 sts}; and so are
// all braces if the pattern has no numbers.
func (r *reader) withNumbers(f *source.File, s source.Span, numbers map[string]int) *source.File {
	var edits []source.Edit
	if len(numbers) > 0 {
		for at := s.From; ; {
			open := strings.IndexByte(f.Text[at:s.To], '{')
			if open < 0 {
				break
			}
			open += at
			end := s.To
			if n := strings.IndexAny(f.Text[open+1:s.To], "{}\n"); n >= 0 {
				end = open + 1 + n
			}
			at = end
			text := f.Text[open+1 : end]
			if !isSum(text, numbers) {
				continue
			}
			if end == s.To || f.Text[end] != '}' {
				r.fault(source.Span{From: open, To: open + 1}, "bad-sum", "close it with }", "the brace that opens here is not closed on its line")
				continue
			}
			value, err := evaluate(text, numbers)
			if err != nil {
				r.sumFault(source.Span{From: open, To: end + 1}, open+1, err, numbers)
				value = 1
			}
			edits = append(edits, source.Edit{Span: source.Span{From: open, To: end + 1}, Text: strconv.Itoa(value)})
		}
	}
	return f.Section(s, edits...)
}

// textWithNumbers does the same for a text that stands at one place.
func (r *reader) textWithNumbers(text string, at source.Span, numbers map[string]int) string {
	part := reader{file: source.NewFile(r.file.Name, text)}
	out := part.withNumbers(part.file, source.Span{To: len(text)}, numbers).Text
	for _, f := range part.findings {
		f.File, f.At = r.file, at
		r.report(f)
	}
	return out
}

// sumFault reports what is wrong with a sum; start is the place of its first
// byte.
func (r *reader) sumFault(at source.Span, start int, err error, numbers map[string]int) {
	var se *sumError
	if !errors.As(err, &se) {
		r.fault(at, "bad-sum", "", "%v", err)
		return
	}
	hint := ""
	if se.name != "" {
		known := slices.Sorted(maps.Keys(numbers))
		hint = "the numbers are " + listed(known, "and") + "; a repeated group goes in ( ) or [ ]"
		if near := source.Nearest(se.name, known); near != "" {
			hint = fmt.Sprintf("did you mean %s?", near)
		}
	}
	r.fault(source.Span{From: start + se.offset, To: max(at.To, start+se.offset+1)}, "bad-sum", hint, "%s", se.message)
}

// isSum reports whether the text in braces is to be read as a sum.
func isSum(text string, numbers map[string]int) bool {
	for _, word := range strings.FieldsFunc(text, func(c rune) bool { return !isNameRune(c) }) {
		if _, ok := numbers[word]; ok {
			return true
		}
	}
	p := &sum{text: text, numbers: numbers}
	p.whole()
	return !p.broken && p.unknown
}

// evaluate works out a sum of whole numbers and names, with + - * / and
// brackets. A division has to come out even, and the result is 0 to maxNumber.
func evaluate(text string, numbers map[string]int) (int, error) {
	p := &sum{text: text, numbers: numbers}
	value := p.whole()
	if value < 0 || value > maxNumber {
		p.fail(0, "the sum comes to %d; it may be 0 to %d", value, maxNumber)
	}
	if p.err != nil {
		return 0, p.err
	}
	return value, nil
}

// A sumError is what is wrong with a sum.
type sumError struct {
	offset  int    // in the sum, bytes
	name    string // the unknown name, if it is that
	message string
}

func (e *sumError) Error() string { return e.message }

// maxWorked bounds what a sum comes to on the way, so that nothing overflows.
const maxWorked = 1_000_000_000

// A sum is a sum being read. The first error is kept; after one that is not
// about how the sum is written, reading goes on.
type sum struct {
	text    string
	at      int
	numbers map[string]int
	err     *sumError
	unknown bool // it has a name that is not among the numbers
	broken  bool // it can't be read as a sum
}

func (p *sum) fail(at int, message string, args ...any) {
	if p.err == nil {
		p.err = &sumError{offset: at, message: fmt.Sprintf(message, args...)}
	}
}

// whole reads all of the text.
func (p *sum) whole() int {
	if len(p.text) > maxSum {
		p.fail(0, "the sum is %d bytes long; it may have %d", len(p.text), maxSum)
		p.broken = true
		return 0
	}
	value := p.sum()
	if p.next(); p.at < len(p.text) {
		p.stuck("+, -, * or /")
	}
	return value
}

// stuck ends the reading where something else than what is wanted stands.
func (p *sum) stuck(want string) {
	if p.at < len(p.text) {
		p.fail(p.at, "the sum should go on with %s, not %q", want, shortened(p.text[p.at:]))
	} else {
		p.fail(p.at, "the sum ends where %s should follow", want)
	}
	p.broken = true
	p.at = len(p.text)
}

// next passes over blanks and returns the byte that follows; 0 at the end.
func (p *sum) next() byte {
	for p.at < len(p.text) && p.text[p.at] == ' ' {
		p.at++
	}
	if p.at == len(p.text) {
		return 0
	}
	return p.text[p.at]
}

func (p *sum) sum() int {
	value := p.product()
	for c := p.next(); c == '+' || c == '-'; c = p.next() {
		at := p.at
		p.at++
		if c == '+' {
			value = p.bounded(at, value+p.product())
		} else {
			value = p.bounded(at, value-p.product())
		}
	}
	return value
}

func (p *sum) product() int {
	value := p.factor()
	for c := p.next(); c == '*' || c == '/'; c = p.next() {
		at := p.at
		p.at++
		by := p.factor()
		switch {
		case c == '*':
			value = p.bounded(at, value*by)
		case p.broken:
			return 0
		case by == 0:
			p.fail(at, "the sum divides by 0")
			value = 0
		case value%by != 0 && p.err == nil:
			p.fail(at, "%d / %d does not come out even; %d is left over", value, by, value%by)
		default:
			value /= by
		}
	}
	return value
}

func (p *sum) factor() int {
	c := p.next()
	from := p.at
	switch {
	case c == '(':
		p.at++
		value := p.sum()
		if p.next() != ')' {
			p.stuck(")")
			return 0
		}
		p.at++
		return value
	case c == '-':
		p.at++
		return -p.factor()
	case c >= '0' && c <= '9':
		for p.at < len(p.text) && p.text[p.at] >= '0' && p.text[p.at] <= '9' {
			p.at++
		}
		value, err := strconv.Atoi(p.text[from:p.at])
		if err != nil {
			value = math.MaxInt
		}
		return p.bounded(from, value)
	case isNameRune(rune(c)):
		for p.at < len(p.text) && isNameRune(rune(p.text[p.at])) {
			p.at++
		}
		name := p.text[from:p.at]
		value, ok := p.numbers[name]
		if !ok {
			p.unknown = true
			if p.err == nil {
				p.err = &sumError{offset: from, name: name, message: "no number is called " + name}
			}
			return 1
		}
		return value
	}
	p.stuck("a number or a name")
	return 0
}

// bounded returns value, or 0 and fails if it is too large to go on with.
func (p *sum) bounded(at, value int) int {
	if value > maxWorked || value < -maxWorked {
		p.fail(at, "the sum comes to more than %d on the way", maxWorked)
		return 0
	}
	return value
}

// isName reports whether a number may be called s.
func isName(s string) bool {
	if s == "" || len(s) > 32 || s[0] >= '0' && s[0] <= '9' {
		return false
	}
	for _, c := range s {
		if !isNameRune(c) {
			return false
		}
	}
	return true
}

func isNameRune(c rune) bool {
	return c == '_' || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
}
