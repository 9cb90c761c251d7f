package notation

import (
	"fmt"
	"strconv"
	"strings"

	"roundelay/pattern/source"
)

// A figure is a number in an instruction that may be mistyped.
type figure struct {
	n    *int
	at   source.Span // of the node that it stands in
	last bool        // it is the last such number there, not the first
}

// figures lists the numbers of an instruction.
func (l *Line) figures(nodes []Node, out []figure) []figure {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Places > 0 {
				out = append(out, figure{&n.Places, n.Span(), false})
			}
			if n.Per > 1 {
				out = append(out, figure{&n.Per, n.Span(), false})
			}
		case *In:
			out = l.figures(n.Body, out)
		case *Repeat:
			out = l.figures(n.Body, out)
			if n.Times > 0 {
				out = append(out, figure{&n.Times, n.Span(), true})
			}
		case *Skip:
			if n.N > 0 {
				out = append(out, figure{&n.N, n.Span(), false})
			}
		case *Evenly:
			if n.N != 0 {
				out = append(out, figure{&n.N, n.Span(), false})
			}
		}
	}
	return out
}

// maxFigures bounds how many numbers of a round are tried.
const maxFigures = 24

// repair looks for one number of the instruction that, changed by one or two,
// makes the round use what is there and make what it declares. It returns the
// words that would be right, or "".
func (e *expander) repair(l *Line, body []Node, declared int) string {
	if declared < 0 || !e.below.known {
		return ""
	}
	figures := l.figures(body, nil)
	if len(figures) > maxFigures {
		return ""
	}
	mask := e.mask(body)
	for _, d := range []int{1, -1, 2, -2} {
		for _, f := range figures {
			was := *f.n
			if was+d < 1 || was > 1000 {
				continue
			}
			words := l.with(f, was, was+d)
			if words == "" && f.last {
				words = l.with(f, was-1, was+d-1) // "3 times more" is 4 in all
			}
			if words == "" {
				continue
			}
			*f.n = was + d
			w := e.work(body, e.habit&mask)
			ok := e.fits(w, l, declared)
			*f.n = was
			if ok {
				e.mended = w
				return fmt.Sprintf("%q in place of %q would be right", words, l.written(f))
			}
		}
	}
	return ""
}

// with returns the words of the node that a figure stands in, with another
// number in its place; "" if the number is not written there.
func (l *Line) with(f figure, was, is int) string {
	if !f.at.IsValid() || f.at.To > len(l.File.Text) {
		return ""
	}
	words := l.written(f)
	old := strconv.Itoa(was)
	at := -1
	for i := 0; i+len(old) <= len(words); i++ {
		if !strings.HasPrefix(words[i:], old) || i > 0 && isDigit(words[i-1]) || i+len(old) < len(words) && isDigit(words[i+len(old)]) {
			continue
		}
		at = i
		if !f.last {
			break
		}
	}
	if at < 0 {
		return ""
	}
	return words[:at] + strconv.Itoa(is) + words[at+len(old):]
}

// stitches names a number of stitches.
func stitches(n int) string {
	if n == 1 {
		return "1 stitch"
	}
	return fmt.Sprintf("%d stitches", n)
}

// written returns the words of the node that a figure stands in.
func (l *Line) written(f figure) string {
	return strings.TrimSpace(l.File.Text[f.at.From:f.at.To])
}
