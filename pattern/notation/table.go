package notation

import "slices"

// table makes the cells of a Markdown table row one run of tokens, and bars
// elsewhere the stars that they stand for.
func (r *reader) table(toks []token) []token {
	bars := 0
	for _, t := range toks {
		if t.sym == sBar {
			bars++
		}
	}
	angles(toks)
	if bars == 0 {
		return toks
	}
	if toks[0].sym == sBar {
		toks = toks[1:]
		for len(toks) > 0 && toks[len(toks)-1].sym == sBar {
			toks = toks[:len(toks)-1]
		}
		return countCell(toks)
	}
	if bars%2 == 0 {
		for i := range toks {
			if toks[i].sym == sBar {
				toks[i].sym = sStar
			}
		}
	}
	return toks
}

// angles makes brackets of "<sc in sp, ch 7> 6 times".
func angles(toks []token) {
	open := -1
	for i := range toks {
		switch t := &toks[i]; {
		case t.text == "<":
			open = i
		case t.text == ">" && open >= 0 && (i > open+2 || i == open+2 && toks[open+1].sym == sNumber):
			toks[open].sym, t.sym = sOpen, sClose
			open = -1
		}
	}
}

// countCell makes the sign before the count of a table row one of equality. The
// count is the first of the cells with nothing but a number at the end of the
// row; what comes after it is the change, or a number of the row's own.
func countCell(toks []token) []token {
	at, end := -1, len(toks)
	first := slices.IndexFunc(toks, func(t token) bool { return t.sym == sBar }) // after the label
	for i := len(toks) - 1; i > max(1, first); i-- {
		if toks[i].sym != sBar {
			continue
		}
		cell := toks[i+1 : end]
		signed := len(cell) > 1 && (cell[0].sym == sDash || cell[0].sym == sPlus)
		if len(cell) > 0 && !signed && (cell[0].sym != sNumber || len(cell) > 3) {
			break
		}
		if len(cell) > 0 && !signed {
			at = i
		}
		end = i
	}
	if at < 0 {
		return toks
	}
	next := at + 1
	for next < len(toks) && toks[next].sym != sBar {
		next++
	}
	toks[at].sym = sEqual
	return toks[:next]
}

// decoration returns how many tokens at the start of a line are bullets,
// heading signs or emphasis.
func decoration(toks []token) int {
	i := 0
	for i < len(toks) && (toks[i].sym == sDash || toks[i].sym == sStar || toks[i].sym == sSign || toks[i].sym == sPlus && toks[i].text == "+") {
		i++
	}
	return i
}
