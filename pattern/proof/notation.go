package proof

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// notationPoints look at how the rounds are written. They are about one form
// for one thing, and about what a literal reader could read in another way.
var notationPoints = []*Point{
	{
		Code: "label-form", Severity: source.Warning, Alone: true, Run: labelForm,
		Doc: `round labels have one form

Rnd 3, R4 and Round 5 on one page make a reader wonder whether they are
different things.`,
	},
	{
		Code: "row", Severity: source.Warning, Alone: true, Run: rowLabel,
		Doc: `rounds are not called rows

A row is turned at its end; a reader who turns a ball has it inside out.`,
	},
	{
		Code: "count-form", Severity: source.Note, Alone: true, Run: countForm,
		Doc: `counts have one form

(18), [24] and "30 sts" say the same; one form throughout is read at a glance.`,
	},
	{
		Code: "brackets", Severity: source.Warning, Alone: true, Run: brackets,
		Doc: `a bracket is closed by one of its own kind

(sc 1, inc] leaves open whether something was cut out between.`,
	},
	{
		Code: "two-readings", Severity: source.Warning, Alone: true, Run: twoReadings,
		Doc: `no instruction can be read in two ways

"2sc" is two in one stitch for some makers and one in each of two for others;
"repeat 5 times" may be five in all or five more. The counts settle it for a
program, after the fact.`,
	},
	{
		Code: "number-order", Severity: source.Warning, Alone: true, Run: numberOrder,
		Doc: `numbers stand on one side of the stitch

"sc 3" in one round and "3 sc" in the next mean the same only if nothing else is
meant by it.`,
	},
	{
		Code: "two-names", Severity: source.Warning, Alone: true, Run: twoNames,
		Doc: `a decrease has one name

A reader who meets dec in one round and sc2tog in the next looks for what is
different about them.`,
	},
	{
		Code: "nested", Severity: source.Warning, Alone: true, Run: nested,
		Doc: `no repeat stands in a repeat

A reader can keep one number of repeats in her head beside the stitches.`,
	},
	{
		Code: "long-line", Severity: source.Note, Alone: true, Run: longLine,
		Doc: `no round is longer than a line of a page

A round that is read in one breath is not worked in one: split it where the eye
can come back to it.`,
	},
}

// eachLine calls f for each written line of a pattern with its verdict. A line
// that several sizes share comes once for each.
func (p *pass) eachLine(f func(*pattern.Piece, *notation.Verdict)) {
	for _, piece := range p.pieces() {
		for i := range piece.Verdicts {
			f(piece, &piece.Verdicts[i])
		}
	}
}

var labelWord = regexp.MustCompile(`(?i)^[^\d]*`)

// form returns the word of a label, with one for the plural and none for the
// case: "Rnds 7-12" has the form of "Rnd 3".
func form(label string) string {
	word := strings.ToLower(strings.Trim(labelWord.FindString(label), " .:*_#|-"))
	return strings.TrimSuffix(word, "s")
}

// odd reports each thing that has another form than the first has.
func (p *pass) odd(what string, formOf func(*notation.Line) (name, shown string, at source.Span)) {
	first, firstShown, reported := "", "", map[string]bool{}
	p.eachLine(func(_ *pattern.Piece, v *notation.Verdict) {
		name, shown, at := formOf(v.Line)
		switch {
		case name == "":
		case first == "":
			first, firstShown = name, shown
		case name != first && !reported[name]:
			reported[name] = true
			p.report(source.Finding{
				File: v.Line.File, At: at, Round: max(v.First, 0),
				Message: fmt.Sprintf("%s %q has another form than %q before", what, shown, firstShown),
				Hint:    "keep to one form",
			})
		}
	})
}

func labelForm(p *pass) {
	p.odd("the label", func(l *notation.Line) (string, string, source.Span) {
		if l.First < 0 || l.Row || !countFigure.MatchString(l.Label) {
			return "", "", l.LabelAt // "Next rnd" has no number to go on
		}
		return form(l.Label) + " ", l.Label, l.LabelAt
	})
}

func rowLabel(p *pass) {
	done := false
	p.eachLine(func(piece *pattern.Piece, v *notation.Verdict) {
		if !v.Line.Row || done || turned(piece) {
			return
		}
		done = true
		p.report(source.Finding{
			File: v.Line.File, At: v.Line.LabelAt, Round: max(v.First, 0),
			Message: fmt.Sprintf("%q says row, in a piece that is worked in rounds", v.Line.Label),
			Hint:    "write Rnd, or say that the work is turned",
		})
	})
}

func turned(piece *pattern.Piece) bool {
	for _, r := range piece.Rounds {
		if r.Turned {
			return true
		}
	}
	return false
}

var (
	countFigure = regexp.MustCompile(`\d+`)
	countUnit   = regexp.MustCompile(`(?i)\b(sts?|stitches)\b`)
)

func countForm(p *pass) {
	p.odd("the count", func(l *notation.Line) (string, string, source.Span) {
		if l.Declared == nil || len(l.Declared.Kinds) > 0 || l.Declared.Spaces > 0 || !l.Declared.At.IsValid() {
			return "", "", source.Span{}
		}
		shown := l.File.Text[l.Declared.At.From:l.Declared.At.To]
		name := countUnit.ReplaceAllString(countFigure.ReplaceAllString(shown, "0"), "sts")
		return strings.Join(strings.Fields(name), " "), shown, l.Declared.At
	})
}

// walk calls f for every instruction in nodes, with how many repeats it stands
// in.
func walk(nodes []notation.Node, depth int, f func(n notation.Node, depth int)) {
	for _, n := range nodes {
		f(n, depth)
		switch n := n.(type) {
		case *notation.Repeat:
			walk(n.Body, depth+1, f)
		case *notation.In:
			walk(n.Body, depth, f)
		}
	}
}

func twoReadings(p *pass) {
	found := map[string]*source.Finding{} // by what is wrong
	var order []string
	p.eachLine(func(_ *pattern.Piece, v *notation.Verdict) {
		if v.Word == notation.Unread {
			return
		}
		walk(v.Line.Body, 0, func(n notation.Node, _ int) {
			message, hint := p.doubt(n, v.Line.File)
			if message == "" {
				return
			}
			round := max(v.First, 0)
			if f := found[message]; f != nil {
				if also := fmt.Sprintf("round %d", round); f.Round != round && !strings.HasSuffix(f.Message, also) {
					f.Message += ", also in " + also
				}
				return
			}
			order = append(order, message)
			found[message] = &source.Finding{
				File: v.Line.File, At: n.Span(), Round: round,
				Message: fmt.Sprintf("%q %s", shortened(v.Line.File, n.Span()), message), Hint: hint,
			}
		})
	})
	for _, message := range order {
		p.report(*found[message])
	}
}

// doubt says in which two ways an instruction can be read, and how to write it
// instead; "" if there is only one.
func (p *pass) doubt(n notation.Node, f *source.File) (message, hint string) {
	switch n := n.(type) {
	case *notation.Work:
		if n.Doubt&(notation.TwoInOne|notation.TwoTight) != 0 && numberFirst.MatchString(shortened(f, n.Span())) {
			name := n.Stitch.Abbr(p.Terms)
			return "can be read as so many stitches in one, or one in each of so many",
				fmt.Sprintf("write \"%s %d\" or \"%d %s in next st\"", name, n.Places, n.Places, name)
		}
	case *notation.Repeat:
		twice := isRepeat(n.Body)
		switch {
		case n.Doubt&notation.More != 0 && repeatWord.MatchString(shortened(f, n.Span())):
			return "can be read as so many times in all, or so many times more",
				`write the group in brackets with x and the number in all, or write "more times"`
		case n.Doubt&notation.LastOnly != 0:
			return "can be read as repeating all of it, or only the last part", "put what is repeated into brackets"
		case n.Doubt&notation.Bare != 0 && n.Times == notation.ToEnd && !twice:
			return "can be read as worked once, or all around", `write how often it is worked, or "around"`
		}
	}
	return "", ""
}

// isRepeat reports whether nodes are one repeat and nothing else.
func isRepeat(nodes []notation.Node) bool {
	if len(nodes) != 1 {
		return false
	}
	_, ok := nodes[0].(*notation.Repeat)
	return ok
}

var repeatWord = regexp.MustCompile(`(?i)\brep`)

// The two ways to write a number of stitches, each in a place of its own.
var (
	numberFirst = regexp.MustCompile(`^\d+\s*\pL+$`)
	stitchFirst = regexp.MustCompile(`^\pL+\s*\d+$`)
)

// closing has, for each opening bracket, the one that closes it.
var closing = map[byte]byte{'(': ')', '[': ']', '{': '}'}

func brackets(p *pass) {
	p.eachLine(func(_ *pattern.Piece, v *notation.Verdict) {
		text := v.Line.File.Text[v.Line.At.From:v.Line.At.To]
		var open []int
		for i := range len(text) {
			switch c := text[i]; c {
			case '(', '[', '{':
				open = append(open, i)
			case ')', ']', '}':
				if len(open) == 0 {
					continue
				}
				o := open[len(open)-1]
				open = open[:len(open)-1]
				if closing[text[o]] == c {
					continue
				}
				p.report(source.Finding{
					File: v.Line.File, At: source.Span{From: v.Line.At.From + o, To: v.Line.At.From + i + 1}, Round: max(v.First, 0),
					Message: fmt.Sprintf("%q is closed by %q", text[o:o+1], text[i:i+1]),
					Hint:    fmt.Sprintf("write \"%c\", or close what is open before", closing[text[o]]),
				})
				return
			}
		}
	})
}

// maxShown is how much of the rounds a message quotes.
const maxShown = 40

// shortened returns the text at a place, cut where it is long.
func shortened(f *source.File, at source.Span) string {
	r := []rune(strings.Join(strings.Fields(f.Text[at.From:at.To]), " "))
	if len(r) > maxShown {
		return string(r[:maxShown]) + "…"
	}
	return string(r)
}

func numberOrder(p *pass) {
	p.odd("in the round,", func(l *notation.Line) (name, shown string, at source.Span) {
		walk(l.Body, 0, func(n notation.Node, _ int) {
			w, ok := n.(*notation.Work)
			if !ok || w.Stitch == stitch.Ch || name != "" {
				return
			}
			text := shortened(l.File, w.Span())
			switch {
			case numberFirst.MatchString(text):
				name, shown, at = "number first", text, w.Span()
			case stitchFirst.MatchString(text):
				name, shown, at = "stitch first", text, w.Span()
			}
		})
		return name, shown, at
	})
}

// decreaseName is the name that a text has for a decrease.
var decreaseName = regexp.MustCompile(`(?i)\b(dec|decreases?|[a-z]+\s?[2-9]\s?tog)\b`)

func twoNames(p *pass) {
	type use struct{ name, shown string }
	first := map[stitch.Stitch]use{} // of each decrease
	p.eachLine(func(_ *pattern.Piece, v *notation.Verdict) {
		walk(v.Line.Body, 0, func(n notation.Node, _ int) {
			w, ok := n.(*notation.Work)
			if !ok || !w.Stitch.IsDecrease() {
				return
			}
			shown := decreaseName.FindString(shortened(v.Line.File, w.Span()))
			name := strings.ReplaceAll(strings.TrimSuffix(strings.ToLower(shown), "s"), " ", "")
			before, known := first[w.Stitch]
			switch {
			case name == "":
			case !known:
				first[w.Stitch] = use{name, shown}
			case name != before.name:
				p.report(source.Finding{
					File: v.Line.File, At: w.Span(), Round: max(v.First, 0),
					Message: fmt.Sprintf("%q and %q are the same decrease", shown, before.shown),
					Hint:    "keep to one name",
				})
				first[w.Stitch] = use{name, shown} // one finding for each change of mind
			}
		})
	})
}

func nested(p *pass) {
	p.eachLine(func(_ *pattern.Piece, v *notation.Verdict) {
		walk(v.Line.Body, 0, func(n notation.Node, depth int) {
			if r, ok := n.(*notation.Repeat); ok && depth == 1 {
				p.report(source.Finding{
					File: v.Line.File, At: r.Span(), Round: max(v.First, 0),
					Message: "a repeat stands in a repeat",
					Hint:    "write the inner one out",
				})
			}
		})
	})
}

// maxLine is the most characters of a round that fit a line beside a chart.
// Source: our own proposal; a line of a page is about as long.
const maxLine = 120

func longLine(p *pass) {
	p.eachLine(func(_ *pattern.Piece, v *notation.Verdict) {
		at := source.Span{From: v.Line.At.From, To: min(v.Line.At.To, len(v.Line.File.Text))}
		text := v.Line.File.Text[at.From:at.To]
		for line := range strings.Lines(text) {
			if n := utf8.RuneCountInString(strings.TrimSpace(line)); n > maxLine {
				p.report(source.Finding{
					File: v.Line.File, At: at, Round: max(v.First, 0),
					Message: fmt.Sprintf("the round is %d characters in one line", n),
					Hint:    fmt.Sprintf("break the line after a comma; %d characters are a long line", maxLine),
				})
				return
			}
		}
	})
}
