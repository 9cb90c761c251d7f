package notation

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A token is a word, a number or a sign of the text, with what it means.
type token struct {
	sym      sym
	text     string // folded: lower case, no accents, no look-alikes
	num      int    // of a number, or the number that a word stands for
	val      value  // what a stitch word names
	from, to int    // bytes of the text
	glued    bool   // nothing stands between it and the token before
	line     int    // counts the lines of the text from 0
	ordinal  bool   // of a number: "4th"
	decimal  bool   // of a number: part of "2.5"; never a count
	capital  bool   // it begins with a capital letter
	stopped  bool   // it is a word that ends with a stop of its own: "d.c."
}

// maxNumber bounds the numbers that are read; larger ones become it. No count,
// repeat or round number comes near it.
const maxNumber = 1 << 30

// scan splits text into tokens. Every byte of a token is inside the text, the
// tokens are in order, and no two overlap. What carries no meaning (spaces,
// emoji, soft hyphens, emphasis) is passed over.
func scan(text string) []token {
	toks := make([]token, 0, len(text)/3+8)
	line, glued := 0, false
	for i := 0; i < len(text); {
		r, w := utf8.DecodeRuneInString(text[i:])
		start := i
		switch {
		case r == '\n':
			line++
			i += w
			glued = false
			continue
		case r == '\u00ad' || r == '\ufe0f' || r == '\u200b' || r == '\u200d' || r == '\ufeff' || r == '\u2060':
			i += w // joins what stands round it
			continue
		case r == '&':
			if s, n := entity(text[i:]); n > 0 {
				i += n
				if s != 0 {
					toks = append(toks, token{sym: sign(s), text: string(s), from: start, to: i, glued: glued, line: line})
					glued = true
				} else {
					glued = false
				}
				continue
			}
			fallthrough
		default:
			if unicode.IsSpace(r) || r == '\\' || r == '_' && !nextIsLetter(text[i+w:]) {
				i += w
				glued = false
				continue
			}
		}
		if r == '<' {
			if n := tag(text[i:]); n > 0 {
				i += n
				glued = false
				continue
			}
		}
		if r == '/' && strings.HasPrefix(text[i:], "//") && (i == 0 || text[i-1] != ':') { // "RND 1 // 6 sc in ring // 6"
			i += 2
			toks = append(toks, token{sym: sEqual, text: "=", from: start, to: i, glued: glued, line: line})
			glued = true
			continue
		}
		switch {
		case r >= '0' && r <= '9':
			n, to := number(text, i)
			toks = append(toks, token{sym: sNumber, text: text[i:to], num: n, from: i, to: to, glued: glued, line: line})
			i = to
			// 3/4 and 2.5 are measures, not counts
			if i+1 < len(text) && (text[i] == '.' || text[i] == '/' || text[i] == ',') && isDigit(text[i+1]) && (text[i] != ',' || decimalComma(text, i)) {
				toks[len(toks)-1].decimal = true
				_, i = number(text, i+1)
				toks[len(toks)-1].to = i
			}
		case unicode.IsLetter(r) && r != 'ª' && r != 'º':
			to := word(text, i)
			w := fold(text[i:to])
			// d.c., s.c., p.m.a.: single letters with stops are one word
			if utf8.RuneCountInString(w) == 1 {
				w, to = initials(text, to, w)
			}
			toks = append(toks, token{sym: sWord, text: w, from: i, to: to, glued: glued, line: line})
			i = to
		default:
			i += w
			s := signOf(r)
			if s == 0 {
				glued = false
				continue
			}
			toks = append(toks, token{sym: sign(s), text: string(s), from: start, to: i, glued: glued, line: line})
		}
		glued = true
	}
	return toks
}

// codes are the letters of East Asian toy charts and what they stand for (a
// term chart of several languages, and a shop's chart: X plain, V increase, A
// decrease; T, F and E the taller stitches).
var codes = map[string]string{"X": "sc", "V": "inc", "A": "dec", "T": "hdc", "F": "dc", "E": "tr"}

// letterCodes makes the letters of a text that is written in them the words
// that they stand for.
func letterCodes(text string, toks []token) {
	coded := func(i int) bool {
		t := toks[i]
		if t.to != t.from+1 || t.sym != sWord || codes[text[t.from:t.to]] == "" {
			return false
		}
		if i+1 < len(toks) && toks[i+1].sym == sNumber && toks[i+1].line == t.line {
			return false // "X 6"
		}
		before := toks[max(i-1, 0)]
		if i > 1 && (before.sym == sColon || before.sym == sStop || before.sym == sClose || before.sym == sDash) && toks[i-2].sym == sNumber && i+1 < len(toks) && toks[i+1].sym == sComma {
			return before.line == t.line // "R4: X, V"
		}
		return i > 0 && (before.sym == sNumber && t.glued || before.sym == sOpen || before.sym == sComma) && before.line == t.line
	}
	shaped, plain := 0, 0
	for i := range toks {
		if coded(i) {
			if c := text[toks[i].from]; c == 'X' {
				plain++
			} else if c == 'V' || c == 'A' {
				shaped++
			}
		}
	}
	if plain < 2 || shaped < 2 {
		return
	}
	for i := range toks {
		if coded(i) {
			toks[i].text = codes[text[toks[i].from:toks[i].to]]
		}
	}
}

// figures makes letters that stand for figures, l for 1 and O for 0, the numbers
// that they are where one is wanted: after round, in a count, beside a figure.
func figures(toks []token) {
	for i := range toks {
		t := &toks[i]
		if t.sym != sWord || strings.Trim(t.text, "lo") != "" || t.text[0] != 'l' || len(t.text) > 2 {
			continue
		}
		before, after := sStop, sStop
		if i > 0 {
			before = toks[i-1].sym
		}
		next := token{}
		if i+1 < len(toks) {
			next = toks[i+1]
			after = next.sym
		}
		n := 1
		switch t.text {
		case "ll":
			n = 11
		case "lo":
			n = 10
		}
		if k := i - 1; k > 0 && toks[k].text == "." && toks[k].glued && toks[k-1].line == t.line { // "Rnd. l"
			before = toks[k-1].sym
			toks[k].text = toks[k-1].text
			defer func(k int) { toks[k].text = "." }(k)
		}
		round := before == sWord && (toks[i-1].text == "rnd" || toks[i-1].text == "round" || toks[i-1].text == "row" || toks[i-1].text == "r")
		switch {
		case after == sNumber && next.glued && next.num < 10 && len(t.text) == 1:
			// l2: the figure takes the letter in
			toks[i+1].num += 10
			toks[i+1].from = t.from
			t.sym, t.text = sSign, "" // nothing is left of the letter
		case round || before == sOpen && after == sClose || before == sWord && len(t.text) == 1 && (toks[i-1].text == "ch" || toks[i-1].text == "sk"):
			t.sym, t.num = sNumber, n
		}
	}
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// decimalComma tells 2,5 from the list 7,8,9: a decimal comma has no third number.
func decimalComma(text string, i int) bool {
	_, to := number(text, i+1)
	return to < len(text) && (strings.HasPrefix(text[to:], " mm") || strings.HasPrefix(text[to:], " cm") ||
		strings.HasPrefix(text[to:], "mm") || strings.HasPrefix(text[to:], "cm"))
}

func nextIsLetter(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return unicode.IsLetter(r)
}

// number reads the digits at i; an O or o inside or at their end is a 0, an l
// between them a 1.
func number(text string, i int) (n, to int) {
	for to = i; to < len(text); to++ {
		b := text[to]
		switch {
		case isDigit(b):
		case (b == 'O' || b == 'o') && to > i && !(to+1 < len(text) && isLetterByte(text[to+1])):
			b = '0'
		case b == 'l' && to > i && to+1 < len(text) && (isDigit(text[to+1]) || text[to+1] == ' ' || text[to+1] == ')'):
			b = '1'
		default:
			return n, to
		}
		if n < maxNumber {
			n = min(n*10+int(b-'0'), maxNumber)
		}
	}
	return n, to
}

func isLetterByte(b byte) bool { return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b >= 0x80 }

// word returns the end of the word at i: letters, marks on them, and
// apostrophes between letters.
func word(text string, i int) int {
	for i < len(text) {
		r, w := utf8.DecodeRuneInString(text[i:])
		switch {
		case unicode.IsLetter(r) && r != 'ª' && r != 'º' || unicode.IsMark(r):
		case r == '\u00ad':
		case (r == '\'' || r == '’') && nextIsLetter(text[i+w:]):
		case (r == 'ª' || r == 'º'):
			return i
		default:
			return i
		}
		i += w
	}
	return i
}

// initials goes on from a word of one letter over ".c.": it returns the letters
// without their stops and where they end.
func initials(text string, to int, w string) (string, int) {
	at := to
	for {
		if at+1 >= len(text) || text[at] != '.' || !isASCIILetter(text[at+1]) {
			break
		}
		end := word(text, at+1)
		if end != at+2 {
			break
		}
		w += fold(text[at+1 : end])
		at = end
	}
	if at == to {
		return w, to
	}
	if at < len(text) && text[at] == '.' {
		at++
	}
	return w, at
}

func isASCIILetter(b byte) bool { return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' }

// entity reads an HTML entity. It returns the sign it stands for (0 for a
// space) and its length, or a length of 0 if there is none.
func entity(s string) (rune, int) {
	end := strings.IndexByte(s[:min(len(s), 10)], ';')
	if end < 0 {
		return 0, 0
	}
	switch s[1:end] {
	case "nbsp", "#160", "#xa0", "ensp", "emsp", "thinsp":
		return 0, end + 1
	case "times", "#215", "#xd7":
		return '*', end + 1
	case "ndash", "mdash", "#8211", "#8212", "minus":
		return '-', end + 1
	case "amp", "#38":
		return '&', end + 1
	case "rarr", "#8594":
		return '=', end + 1
	case "bull", "middot", "hellip", "quot", "#39", "apos", "rsquo", "lsquo", "ldquo", "rdquo", "#8217":
		return 0, end + 1
	}
	return 0, 0
}

// tags are the HTML tags that web copies of patterns have left in their text.
var tags = map[string]bool{
	"p": true, "br": true, "b": true, "strong": true, "i": true, "em": true, "u": true, "span": true, "div": true, "a": true, "li": true, "ul": true, "ol": true,
	"h1": true, "h2": true, "h3": true, "h4": true, "h5": true, "h6": true, "td": true, "tr": true, "th": true, "table": true, "sup": true, "sub": true, "hr": true, "font": true,
}

// tag returns the length of the HTML tag that s begins with; 0 if it begins with
// none.
func tag(s string) int {
	const most = 200 // bytes
	if len(s) < 3 || s[0] != '<' {
		return 0
	}
	end := strings.IndexByte(s[:min(len(s), most)], '>')
	if end < 0 {
		return 0
	}
	name, _, _ := strings.Cut(strings.ToLower(strings.Trim(s[1:end], "/ ")), " ")
	if !tags[name] || strings.ContainsAny(s[1:end], "<\n") {
		return 0
	}
	return end + 1
}

// signOf returns the plain sign that r is written for, or 0 if it is none.
func signOf(r rune) rune {
	switch r {
	case '(', ')', '[', ']', '{', '}', '*', ',', '.', ':', ';', '-', '+', '=', '&', '/', '|', '!', '?', '#', '%', '<', '>', '"', '@', '^':
		return r
	case '×', '✕', '✖', '⨯', '╳', '∗', '＊', '✱':
		return '*'
	case '~', '–', '—', '―', '−', '‐', '‑', '‒', '─', '⁃':
		return '-'
	case '➡', '→', '⇒', '➔', '➜', '▶', '►':
		return '='
	case '（':
		return '('
	case '）':
		return ')'
	case '，', '、':
		return ','
	case '：':
		return ':'
	case '；':
		return ';'
	case '［', '【':
		return '['
	case '］', '】':
		return ']'
	case 'ª', 'º', '°':
		return 'º'
	case '…':
		return '.'
	case '·', '•', '∙':
		return '·'
	case '“', '”', '„', '«', '»', '″':
		return '"'
	case '½', '¼', '¾':
		return '%' // a part of a measure; never of a count
	}
	return 0
}

// latin maps letters that look like Latin ones to them.
var latin = map[rune]rune{
	'а': 'a', 'в': 'b', 'с': 'c', 'е': 'e', 'ё': 'e', 'к': 'k', 'м': 'm', 'н': 'h', 'о': 'o', 'р': 'p', 'т': 't', 'у': 'y', 'х': 'x',
	'ѕ': 's', 'і': 'i', 'ј': 'j', 'ԁ': 'd', 'ν': 'v', 'ο': 'o', 'α': 'a', 'ρ': 'p',
}

// plain maps accented Latin letters to plain ones.
var plain = func() map[rune]string {
	m := map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'đ': "d", 'ł': "l", 'ı': "i", 'İ': "i", 'ё': "е"}
	for to, from := range map[string]string{
		"a": "àáâãäåāăą", "c": "çćč", "e": "èéêëēėęě", "g": "ğ", "i": "ìíîïīį", "n": "ñńň",
		"o": "òóôõöōő", "s": "śšş", "u": "ùúûüūůű", "y": "ýÿ", "z": "źžż",
	} {
		for _, r := range from {
			m[r] = to
		}
	}
	return m
}()

// cyrillic returns a Cyrillic word in lower case, with its own letters for the
// Latin ones that look like them.
func cyrillic(w string) string {
	return strings.Map(func(r rune) rune {
		r = unicode.ToLower(r)
		if r == 'ё' {
			return 'е'
		}
		if r < utf8.RuneSelf {
			for c, l := range latin {
				if l == r && unicode.Is(unicode.Cyrillic, c) && c >= 'а' && c <= 'я' {
					return c
				}
			}
		}
		return r
	}, w)
}

// fold returns a word in lower case, without accents, look-alike letters of
// another script (in a word that has Latin letters too) and soft hyphens.
func fold(w string) string {
	ascii, upper := true, false
	for i := 0; i < len(w); i++ {
		ascii = ascii && w[i] < utf8.RuneSelf && w[i] != '\''
		upper = upper || w[i] >= 'A' && w[i] <= 'Z'
	}
	if ascii {
		if upper {
			return strings.ToLower(w)
		}
		return w
	}
	mixed := strings.ContainsFunc(w, func(r rune) bool { return r < utf8.RuneSelf && unicode.IsLetter(r) })
	if mixed && strings.ContainsFunc(w, func(r rune) bool { return unicode.Is(unicode.Cyrillic, r) && latin[unicode.ToLower(r)] == 0 }) {
		return cyrillic(w)
	}
	var b strings.Builder
	for _, r := range w {
		r = unicode.ToLower(r)
		if l, ok := latin[r]; ok && mixed {
			r = l
		}
		if s, ok := plain[r]; ok {
			b.WriteString(s)
			continue
		}
		switch {
		case r == '’':
			r = '\''
		case r == '\u00ad' || unicode.IsMark(r):
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}
