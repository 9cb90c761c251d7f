package site

import (
	"fmt"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/proof"
)

// text returns the pattern as plain text, to be read aloud or carried along:
// one round to a line, in whole words, with its credit at both ends.
func (w *work) text() []byte {
	p, own := w.p, w.plainWords()
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	list := func(title string, lines []string) {
		if len(lines) == 0 {
			return
		}
		line("\n%s\n", w.say(title))
		for _, s := range lines {
			line("%s", oneLine(s))
		}
	}
	line("%s", p.Title)
	if p.Author != "" {
		line(w.say("by %s"), p.Author)
	}
	if p.Summary != "" {
		line("%s", p.Summary)
	}
	var strip []string
	for _, f := range w.facts(p, own) {
		strip = append(strip, f.Name+": "+strings.Join(f.Values, "; ")+".")
	}
	list("In brief", strip)
	var lines []string
	for _, c := range proof.Cautions(p) {
		s := c.Text
		if c.Rule != "" {
			s += " Rule: " + c.Rule + "."
		}
		lines = append(lines, s)
	}
	list("Cautions", lines)
	if m := w.materialsOf(p); m != nil {
		lines = nil
		for _, y := range m.Yarns {
			var parts []string
			for _, s := range []string{y.Name, y.What, y.Amount} {
				if s != "" {
					parts = append(parts, s)
				}
			}
			lines = append(lines, w.say("Yarn")+" "+strings.Join(parts, ", ")+".")
		}
		list("Materials", append(lines, m.Others...))
	}
	if g := w.gaugeOf(p, own); g != nil {
		lines = []string{g.Say}
		if g.Check != "" {
			lines = append(lines, g.Check)
		}
		list("Gauge", lines)
	}
	list("Notes", p.Notes)
	w.each(func(size *pattern.Size, piece *pattern.Piece) {
		list(w.name(size, piece), append([]string{w.pieceWords(piece)}, w.textRounds(piece)...))
	})
	list("Finishing", p.Finishing)
	if p.Care != "" {
		list("Care", []string{p.Care})
	}
	lines = nil
	if p.Licence != "" {
		lines = append(lines, w.say("Licence of the pattern: %s.", p.Licence))
	}
	if p.FinishedItems != "" {
		lines = append(lines, w.say("Finished items")+": "+p.FinishedItems)
	}
	list("Licence and credit", append(lines, w.say("Credit line")+": "+w.credit()+"."))
	return []byte(strings.ReplaceAll(b.String(), nbsp, " "))
}

// plainWords returns the wording of the plain text: in whole words, which only
// English has.
func (w *work) plainWords() notation.Wording {
	return notation.Wording{Terms: w.p.Terms, Language: w.code, Style: notation.PlainWords}
}

// textRounds returns every round of a piece, and every step, as a line.
func (w *work) textRounds(piece *pattern.Piece) []string {
	words := w.plainWords()
	for _, r := range piece.Rounds {
		words.Breaks = append(words.Breaks, r.Number)
	}
	var out []string
	steps := func(after int) {
		for _, s := range piece.StepsAfter(after) {
			row := w.stepRow(s)
			if row.DoWord != "" {
				row.Step = row.DoWord + ": " + row.Step
			}
			out = append(out, row.Step)
		}
	}
	steps(0)
	for _, line := range notation.Print(piece.Rounds, w.p.YarnNames(piece, words.Style), words) {
		out = append(out, line.String())
		steps(line.Last)
	}
	return out
}

// oneLine writes text of several lines in one.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
