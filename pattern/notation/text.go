package notation

import (
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
	"slices"
	"strconv"
	"strings"
)

// ReadOptions say how a text is to be read.
type ReadOptions struct {
	Terms  stitch.Terms
	Stated bool     // Terms are stated, and not to be told from the text
	Strict bool     // every line has to be a round or go on from one; then Terms are stated too
	Yarns  []string // keys and colours that the text may use for yarns
}

// A Text is a text with the rounds found in it.
type Text struct {
	Items    []Item
	Findings source.Findings
	Terms    stitch.Terms // as stated, or told from the text
	Evidence string       // what told the terms
	Language string       // that it is written in, as two letters: "en", "de"
}

// An Item is a written round, or a note: any other line of the text.
type Item struct {
	At   source.Span
	Line *Line // nil for a note
	Note string
}

// Lines returns the written rounds of t, in order.
func (t *Text) Lines() []*Line {
	var ls []*Line
	for _, it := range t.Items {
		if it.Line != nil {
			ls = append(ls, it.Line)
		}
	}
	return ls
}

// A Part is the rounds of one piece, as a text has them.
type Part struct {
	Name  string // of the heading above it; may be empty
	Lines []*Line
}

// Parts splits the rounds of t where the numbers begin anew.
func (t *Text) Parts() []Part {
	var parts []Part
	heading := ""
	next, read := nextNumbers(t.Lines()), 0
	for _, it := range t.Items {
		if it.Line == nil {
			if h := headingOf(it.Note); h != "" {
				heading = h
			}
			continue
		}
		l := it.Line
		read++
		last := len(parts) - 1
		fresh := last < 0
		if !fresh {
			lines := parts[last].Lines
			last := lastNumber(lines)
			fresh = l.First >= 0 && l.First <= 1 && last >= 1 && (l.First == 1 || begins(l)) ||
				l.First == 1 && last < 0 && begins(l) || // after rounds without numbers
				l.Held != 0 && l.First > 1 && l.First <= last // the other half of a piece that was split
			switch {
			case l.First < 0 && last >= 1 && begins(l) && next[read-1] == 1:
				fresh = true // "Begin by dc6 into ring", and round 1 below it
			case fresh && !begins(l) && len(lines) == 1 && lines[0].Label == "" && begins(lines[0]):
				fresh = false
			}
			if l.Perhaps && fresh && next[read-1] == max(last, 0)+1 {
				fresh = false // the rounds go on past it
			}
		}
		if fresh && last >= 0 && l.First == 1 && parts[last].Name == heading && needsBelow(l) {
			fresh, l.Anew = false, true // "BEADING: Rnd 1: Ch 4, skip next sc"
		}
		if fresh {
			parts = append(parts, Part{Name: heading})
			last++
		}
		parts[last].Lines = append(parts[last].Lines, l)
	}
	return parts
}

// refer gives the lines that repeat those of another piece the lines that are
// meant.
func (t *Text) refer() {
	if !slices.ContainsFunc(t.Items, func(it Item) bool { return it.Line != nil && it.Line.AsNamed != "" }) {
		return
	}
	parts := t.Parts()
	for i, part := range parts {
		for _, l := range part.Lines {
			if l.AsNamed == "" || l.First < 0 {
				continue
			}
			found := false
			for j := i - 1; j >= 0 && l.As == nil; j-- {
				if !headed(parts[j].Name, l.AsNamed) {
					continue
				}
				found = true
				for _, of := range parts[j].Lines {
					if of.First >= 0 && of.Last >= l.First && of.First <= l.Last {
						l.As = append(l.As, of)
					}
				}
			}
			for j := i; !found && j >= max(0, i-1) && l.As == nil; j-- { // a piece that was split: both halves have the same numbers
				for k := 0; k < len(parts[j].Lines) && parts[j].Lines[k] != l; k++ {
					if of := parts[j].Lines[k]; of.First >= 0 && of.Last >= l.First && of.First <= l.Last && of.AsNamed == "" {
						l.As = append(l.As, of)
					}
				}
			}
		}
	}
}

// headed reports whether a heading has all the words, a number of them excepted.
func headed(heading, words string) bool {
	heading = strings.ToLower(heading)
	for _, w := range strings.Fields(words) {
		if _, err := strconv.Atoi(w); err == nil {
			continue
		}
		if !strings.Contains(heading, strings.TrimSuffix(w, "s")) {
			return false
		}
	}
	return true
}

// needsBelow reports whether a round can only be worked on stitches that are
// there: it skips some, or goes all round, and makes no ring.
func needsBelow(l *Line) bool {
	if begins(l) {
		return false
	}
	for _, n := range l.Body {
		switch n := n.(type) {
		case *Yarn, *Aside, *Turn, *LoopMode:
		case *Join:
			return n.Opening
		case *Skip:
			return true
		case *Work:
			if n.Stitch != stitch.Ch {
				return n.Places == ToEnd && n.Target.Where == Next
			}
		case *Repeat:
			return n.Times == ToEnd && n.Doubt&Bare == 0
		default:
			return false
		}
	}
	return false
}

// begins reports whether a line begins a piece.
func begins(l *Line) bool {
	for _, n := range l.Body {
		switch n := n.(type) {
		case *Start:
			return true
		case *Work:
			if n.Target.Where == Ring {
				return true
			}
		}
	}
	return false
}

func lastNumber(ls []*Line) int {
	n := -1
	for _, l := range ls {
		n = max(n, l.Last)
	}
	return n
}

// headingOf returns the words of a note that can stand above a piece.
func headingOf(note string) string {
	h := strings.TrimSpace(strings.Trim(strings.TrimSpace(note), "#*_=-: \t"))
	if h == "" || len(h) > 60 || strings.ContainsAny(h, ".|") {
		return ""
	}
	return h
}
