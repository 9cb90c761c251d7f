package notation

import (
	"roundelay/pattern/stitch"
	"strings"
)

// keys makes the words that are keys of yarns colours, and single capital
// letters where they stand for yarns.
func (r *reader) keys(toks []token) {
	letters := r.letters(toks)
	for i := range toks {
		t := &toks[i]
		switch {
		case t.sym == sWord && r.colours[t.text]:
			t.sym = sColour
		case letters[r.file.Text[t.from:t.to]] && (len(t.text) > 1 || besideStitches(toks, i)):
			t.sym = sColour
		case (t.sym == sFill || t.sym == sWord || t.sym == sSt || t.sym == sMeasure) && len(t.text) == 1 && r.colours[t.text]:
			if raw := r.file.Text[t.from:t.to]; raw == strings.ToUpper(raw) {
				t.sym = sColour
			}
		case t.sym == sFill && t.text == "a" && i > 0 && (toks[i-1].sym == sColour || toks[i-1].sym == sWith) && r.file.Text[t.from:t.to] == "A":
			t.sym = sColour
		}
	}
}

// letters finds the single capital letters that a text uses for yarns: those
// that stand, twice or more, right before or after a number of stitches.
func (r *reader) letters(toks []token) map[string]bool {
	count := map[string]int{}
	rounds := false // R stands for round
	for i, t := range toks {
		rounds = rounds || t.text == "r" && i+1 < len(toks) && toks[i+1].sym == sNumber && (i == 0 || toks[i-1].line != t.line)
	}
	for i, t := range toks {
		if raw := r.file.Text[t.from:t.to]; yarnLetters(t, raw) && !(rounds && raw == "R") && besideStitches(toks, i) {
			count[raw]++
		}
	}
	letters, most := map[string]bool{}, 0
	for _, n := range count {
		most = max(most, n)
	}
	for l, n := range count {
		letters[l] = (n >= 2 || len(l) > 1 && most >= 2) && len(count) >= 2
	}
	return letters
}

// yarnLetters reports whether a token is one capital letter, or two or three that
// mean nothing else: "10 LG, 10 W".
func yarnLetters(t token, raw string) bool {
	if t.sym == sNumber || raw == "X" || len(raw) > 1 && t.sym != sWord || len(raw) > 3 || raw == "" {
		return false
	}
	for i := range len(raw) {
		if raw[i] < 'A' || raw[i] > 'Z' {
			return false
		}
	}
	return true
}

// besideStitches reports whether the word i stands where the letter of a yarn
// would: alone in brackets, before a number, or after stitches.
func besideStitches(toks []token, i int) bool {
	sym := func(j int) sym {
		if j < 0 || j >= len(toks) || toks[j].line != toks[i].line {
			return sStop
		}
		return toks[j].sym
	}
	before, after := sym(i-1), sym(i+1)
	switch {
	case (before == sColon || before == sStop) && after == sDash && i > 0 && toks[i-1].line == toks[i].line && !toks[i+1].glued:
		return true // "Row 5: B - sc around"
	case before == sOpen && after == sClose, before == sStop && after == sColon && i > 0 && toks[i-1].line == toks[i].line:
		return true
	case i > 0 && toks[i-1].text == "yarn" && toks[i-1].line == toks[i].line:
		return true
	case after == sNumber && (before == sComma || before == sOpen || before == sStar || before == sColon || before == sStop && i > 0 && toks[i-1].line == toks[i].line):
		return !(before == sStop && !toks[i+1].glued && sym(i+2) == sColon)
	case (after == sStitch || after == sInc || after == sDec) && (before == sComma || before == sOpen || before == sStar || before == sColon || before == sStop && i > 0 && toks[i-1].line == toks[i].line):
		return true // "A sc 3, B sc 6"
	case before == sIn && after == sNumber && sym(i+2) == sStitch:
		return true // "in A 6 sc"
	case before == sIn && (after == sClose || after == sComma || after == sStop || after == sOpen || after == sAround):
		return true
	case (before == sStitch || before == sInc || before == sDec || before == sNumber) && (after == sComma || after == sClose || after == sStop || after == sStar):
		return true
	case before == sWith || before == sColour:
		return true
	}
	return false
}

// explains keeps what a line says of how a stitch is made: "Shell: (2 dc, ch 2,
// 2 dc) in same sp".
func (r *reader) explains(toks []token) {
	if len(toks) > maxTokens {
		return
	}
	toks = toks[decoration(toks):]
	name, i := defName(toks)
	if name == "" || i >= len(toks) {
		return
	}
	for i < len(toks)-1 && (toks[i].sym == sStar || toks[i].text == "are" || toks[i].text == "is" || toks[i].text == "means") {
		i++
	}
	if s := toks[i].sym; s != sColon && s != sEqual && s != sDash && s != sOpen {
		return
	}
	if toks[i].sym != sOpen {
		i++
	}
	l := &Line{}
	p := r.parser(append([]token(nil), toks[i:]...))
	p.line = l
	nodes := p.tidy(p.seq(0))
	if l.Unread.IsValid() || len(nodes) == 0 {
		return
	}
	switch n := nodes[0].(type) {
	case *In:
		r.defs[name] = n.Body
	case *Repeat:
		if n.Doubt&Bare != 0 {
			r.defs[name] = n.Body
		}
	case *Work:
		if n.Target.Where == Same || n.Target.Where == Space || n.Per > 1 {
			r.defs[name] = []Node{&Work{at: n.at, Stitch: n.Stitch, Per: n.Per, Places: 1}}
		}
	}
}

// defined finds what a sentence inside a line says of how a stitch is made.
func (r *reader) defined(toks []token) {
	for i := 1; i < len(toks); i++ {
		if s := toks[i-1].sym; s == sStop || s == sStar {
			end := i
			for end < len(toks) && toks[end].sym != sStop {
				end++
			}
			r.explains(toks[i:end])
		}
	}
}

// defName reads the name of a stitch that a text may explain itself, and how
// many tokens it is.
func defName(toks []token) (string, int) {
	name := ""
	for i, t := range toks {
		switch {
		case t.sym == sForm && t.val.form == stitch.Shell:
			return name + "shell", i + 1
		case t.sym == sCorner:
			return name + "corner", i + 1
		case (t.sym == sFirst || t.sym == sBegin) && i == 0:
			name = "beginning "
		default:
			return "", 0
		}
	}
	return "", 0
}
