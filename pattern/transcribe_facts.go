package pattern

import (
	"cmp"
	"html"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"roundelay/pattern/notation"
	"roundelay/pattern/source"
)

// facts is what a text says besides its rounds.
type facts struct {
	title         remark
	given         string // the line that the title was cut from
	author        string
	level         string
	size          string
	gauge         gaugeSaid
	hook          string // "5 mm (US H-8)"
	inferred      bool   // the millimetres are those of the US name
	yarn          bool   // it says something of the yarn
	weights       []int  // weight classes, each once
	fibres        []string
	metresPer100g float64

	materials, notes, finishing []string

	// The lines that the facts were told from, and those that are kept as they are.
	said map[section][]string
}

// A gaugeSaid is a gauge as a text gives it; "" is what it does not give.
type gaugeSaid struct{ stitch, stitches, rounds, over string }

// A section is what a line of the front matter is about.
type section uint8

const (
	noSection section = iota
	materialsSection
	yarnSection
	hookSection
	gaugeSection
	abbreviationsSection
	notesSection
	finishingSection
	roundsSection
	sizeSection
	levelSection
	termsSection
	licenceSection
	authorSection
)

// sectionNames are the words that lines of the front matter begin with. They are
// common practice, in the languages that rounds can be read in.
var sectionNames = []struct {
	section section
	begins  *regexp.Regexp
}{
	{licenceSection, first(`©|\(c\)|copyright|licen[cs]e|all rights reserved|cc[ -]by|lizenz`)},
	{abbreviationsSection, first(`abbreviations?|conventions|legend|key|(?:special )?stitches(?: used)?|abkürzungen|abreviaturas|abreviações|abréviations|abbreviazioni|afkortingen|förkortningar|forkortelser|условные обозначения|сокращения`)},
	{materialsSection, first(`materials?( needed)?|you(?: wi|['’])ll need|you need|what you need|(?:it is )?required|needs|supplies|notions|it takes|materialien|du brauchst|materiales|fournitures|matériel|materiais|materiali|materialen|benodigdheden|du behöver|materialer|материалы|нужно`)},
	{yarnSection, first(`yarns?|threads?|wool|garne?|wolle|hilos?|lana|fils?|laine|fios?|filato|draad|пряжа`)},
	{hookSection, first(`(?:crochet )?hooks?|häkelnadel|nadel|ganchillo|crochet n|agulha|uncinetto|haaknaald|virknål|hæklenål|heklenål|крючок`)},
	{gaugeSection, first(`gauge|tension|maschenprobe|muestra|échantillon|amostra|campione|stekenverhouding|masktäthet|hæklefasthed|heklefasthet|плотность`)},
	{finishingSection, first(`finishing|assembly|making up|to make up|to finish|putting it together|fertigstellung|zusammennähen|acabado|montaje|montage|assemblage|finitions|montagem|acabamento|afwerking|montering|сборка`)},
	{sizeSection, first(`(?:finished )?(?:size|measurements?|dimensions?)|größe|tamaño|taille|tamanho|misure|afmeting|storlek|størrelse|размер`)},
	{levelSection, first(`(?:skill |difficulty )?level|difficulty|skill|schwierigkeit(?:sgrad)?|nivel|niveau|nível|livello`)},
	{authorSection, first(`author|(?:pattern|design(?:ed)?|written|made) by`)},
	{notesSection, regexp.MustCompile(`(?i)^(?:(?:pattern )?notes?|hints?|tips?|hinweise?|notas?|opmerkingen)\s*(?::|$)`)},
	{termsSection, regexp.MustCompile(`(?i)^\(?(?:terms\b|(?:us|uk|american|british)(?: crochet)? (?:terms|terminology)\b)`)},
	{roundsSection, regexp.MustCompile(`(?i)^(?:the )?(?:pattern|instructions?|directions?|rounds|method|anleitung|patrón|instrucciones|receita|patron|patroon|mönster|opskrift|oppskrift|описание)\s*:?$`)},
}

// first finds words where a line begins. Other than \\b, it takes letters of all
// alphabets for letters.
func first(words string) *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(?:` + words + `)(?:$|[^\pL\pN])`)
}

// anywhere finds words anywhere in a line.
func anywhere(words string) *regexp.Regexp {
	return regexp.MustCompile(`(?i)(?:^|[^\pL\pN])(?:` + words + `)(?:$|[^\pL\pN])`)
}

// sectionOf returns what a line is about by its first words.
func sectionOf(text string) section {
	s, _ := cutSection(text)
	return s
}

// cutSection returns what a line is about and what it says of it.
func cutSection(text string) (section, string) {
	for _, n := range sectionNames {
		if m := n.begins.FindStringIndex(text); m != nil {
			return n.section, strings.TrimSpace(strings.TrimLeft(text[m[1]:], " :.-–—="))
		}
	}
	return noSection, text
}

// The words of front matter, by what they say; common practice.
var (
	yarnWords   = anywhere(`yarns?|threads?|wool|cotton|acrylic|skeins?|balls? of|strands?|garn|wolle|hilo|lana|fil|laine|fio|filato|worsted|dk|aran|4[- ]ply|пряжа`)
	hookWords   = anywhere(`hooks?|\p{L}*nadel|ganchillo|aguja|crochet (?:n.?|\d+[.,]\d+.*)|agulha|uncinetto|haaknaald|virknål|hæklenål|heklenål|крючок`)
	gaugeWords  = anywhere(`gauge|tension|maschenprobe|échantillon|muestra|amostra|campione`)
	workedWords = regexp.MustCompile(`(?i)\b(?:spiral|rounds?|joined|not? turn|right side|counts?|stitch marker|worked)\b`)
	termsWords  = regexp.MustCompile(`(?i)\b(?:us|uk|american|british)(?: crochet)? (?:terms|terminology)\b|^\((?:us|uk)\)|\bterms: ?(?:us|uk)\b`)
	glossWords  = regexp.MustCompile(`(?i)\b(?:ch|sc|dc|hdc|tr|htr|sl st|ss|inc|dec|fm|ms|pb|mb|zun|abn|aug|aum|dim)\b[^.;,]{0,12}[=:–—]`)
	millimetres = regexp.MustCompile(`(?i)(\d+(?:[.,]\d+)?)\s*mm\b`)
	bareHook    = regexp.MustCompile(`(?i)(?:hook|nadel|ganchillo|aguja|crochet|agulha|haaknaald|крючок)\s*(?:size|nr\.?|no\.?|n[°º]|№|:)?\s*(\d{1,2}[.,]\d+)\b|\b(\d{1,2}[.,]\d+)\s+hook`)
	hookLetter  = regexp.MustCompile(`(?i:hook:?\s+(?:size\s+)?|size\s+)([B-L])(?:[-/ ]?(\d+(?:[ -]1/2)?))?\b|\b([B-L])(?:-(\d+(?:[ -]1/2)?))?(?:/\d[\d.]*\s*mm)?\s+(?i:(?:size )?(?:steel )?(?:crochet )?hook)|\b([B-L])(?:-(\d+(?:[ -]1/2)?))?(?:/|\s*\()\s*\d[\d.,]*\s*mm`)
	notHook     = regexp.MustCompile(`(?i)eye|bead|augen|ojos|olhos|yeux|occhi|глаз`)
	metresFirst = regexp.MustCompile(`(?i)\b(\d{1,4})\s*m(?:et(?:er|re)s?)?\s*/\s*(\d{1,4})\s*gr?\b`)
	gramsFirst  = regexp.MustCompile(`(?i)\b(\d{1,4})\s*gr?\s*/\s*(\d{1,4})\s*m\b`)
	fibreWords  = regexp.MustCompile(`(?i)\b(cotton|wool|acrylic|velvet|silk|alpaca|linen|mohair|bamboo)\b`)
	gaugeBoth   = regexp.MustCompile(`(?i)(\d+(?:[.,]\d+)?)\s*(\p{L}+(?: (?:crochet|st))?)?\.?\s*(?:and|x|×|by|,|/|&|und|y|et|e|en|och|og)\s*(\d+(?:[.,]\d+)?)\s*(?:rounds?|rnds?|rows?|rds?|runden|reihen|vueltas|rangs|tours|carreiras|toeren|varv|omg)\.?\s*(?:=|to|over|in|per|on|auf|en|sur|em|på)?\s*(?:a )?(\d+(?:[.,]\d+)?)\s*(?:(cm|mm|inch(?:es)?|ins?)\b|(["”″]))`)
	gaugeOne    = regexp.MustCompile(`(?i)(\d+(?:[.,]\d+)?)\s*(\p{L}+(?: (?:crochet|st))?)\.?\s*(?:=|to|over|in|per|auf)\s*(\d+(?:[.,]\d+)?)\s*(?:(cm|mm|inch(?:es)?|ins?)\b|(["”″]))`)
	making      = regexp.MustCompile(`(?i)[(,–—-]?\s*\b(?:make|work|hacer|faire|fazer|fare|maak)\s+(\d{1,3}|one|two|three|four|five|six|eight|ten)(?: of these| alike)?\b\s*\)?|\(\s*[x×]?\s*(\d{1,3})\s*[x×]?\s*\)|\b[x×]\s?(\d{1,3})$`)
	howMany     = regexp.MustCompile(`(?i)\((\d{1,2}|two|three|four|five|six|eight|ten)(?:\)|, | the same| st\b| stk\b)`)
	levelWords  = regexp.MustCompile(`(?i)\b(basic|beginners?|easy|simple|intermediate|advanced|complex|experienced)\b`)
)

var levelNamed = map[string]string{
	"basic": "basic", "beginner": "basic", "beginners": "basic", "easy": "easy", "simple": "easy",
	"intermediate": "intermediate", "advanced": "complex", "complex": "complex", "experienced": "complex",
}

var spelled = map[string]int{"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8, "ten": 10}

// weightNamed are the names of the weight classes. Source: Craft Yarn Council
// Standard Yarn Weight System as reprinted in a US crochet magazine of October
// 2018, p. 64; 4-ply as fingering and "aran" as medium are common practice.
// Longer names come first.
var weightNamed = []struct {
	name  *regexp.Regexp
	class int
}{
	{regexp.MustCompile(`(?i)\bsuper (?:bulky|chunky)\b`), 6},
	{regexp.MustCompile(`(?i)\bsuper fine\b`), 1},
	{regexp.MustCompile(`(?i)\bjumbo\b`), 7},
	{regexp.MustCompile(`(?i)\b(?:bulky|chunky)\b`), 5},
	{regexp.MustCompile(`(?i)\b(?:dk|double knitting|light worsted)\b`), 3},
	{regexp.MustCompile(`(?i)\b(?:worsted|aran|afghan)\b`), 4},
	{regexp.MustCompile(`(?i)\bsport\b`), 2},
	{regexp.MustCompile(`(?i)\b(?:fingering|sock|4[- ]ply)\b`), 1},
	{regexp.MustCompile(`(?i)\blace[- ]?weight\b`), 0},
}

var weightNumber = regexp.MustCompile(`(?i)(?:#\s?|\bweight:?\s|\bcategory\s)([0-7])\b`)

// hookSizes are the hooks by their US names. Source: conversion charts of five
// shops and reference pages, which agree on these; a letter alone is the first
// with it.
var hookSizes = []struct {
	us string
	mm string
}{
	{"B-1", "2.25"}, {"C-2", "2.75"}, {"D-3", "3.25"}, {"E-4", "3.5"}, {"F-5", "3.75"}, {"G-6", "4"},
	{"H-8", "5"}, {"I-9", "5.5"}, {"J-10", "6"}, {"K-10 1/2", "6.5"}, {"L-11", "8"},
}

// gather tells the facts from all that stands outside the rounds.
func (t *scribe) gather() {
	t.facts.said = map[section][]string{}
	state := noSection
	for _, r := range t.front {
		state = t.take(r, state)
	}
	for _, p := range t.parts {
		for _, r := range p.intro {
			t.look(r.text)
		}
	}
	state = noSection
	for _, r := range t.back {
		if s := sectionOf(r.text); s == noSection && (state == noSection || r.head != notHeading) {
			state = finishingSection
			t.facts.list(&t.facts.finishing, r.text, finishingSection)
			continue
		}
		state = t.take(r, state)
	}
	if len(t.facts.weights) > 1 {
		t.facts.weights = nil // which is meant is not said
	}
}

// take takes a line of the front matter, which stands in a section if the lines
// above it said so, and returns the section that the next line stands in.
func (t *scribe) take(r remark, state section) section {
	f := &t.facts
	s, body := cutSection(r.text)
	inline := s != noSection && body != ""
	if s == noSection {
		if r.head != notHeading {
			state = noSection
		}
		s = state
	} else if !inline {
		state = s
	} else if s != yarnSection && s != hookSection && s != gaugeSection { // these may stand in a list of materials
		state = noSection
	}
	found := t.look(r.text)
	keep := func(s section) { f.said[s] = append(f.said[s], r.text) }
	switch {
	case s != noSection && !inline && body == "":
		keep(s)
	case s == materialsSection:
		all := !inline
		for _, item := range items(body, inline) {
			switch {
			case hookWords.MatchString(item), yarnWords.MatchString(item), !fitsLine(item), len(f.materials) >= 100:
				all = false
			default:
				f.materials = append(f.materials, item)
			}
		}
		if !all {
			keep(cmp.Or(found, materialsSection))
		}
	case s == notesSection && !inline:
		f.list(&f.notes, r.text, notesSection)
	case s == finishingSection && !inline:
		f.list(&f.finishing, r.text, finishingSection)
	case s == sizeSection && inline && fitsLine(body):
		f.size = cmp.Or(f.size, body)
		keep(s)
	case s == authorSection && inline && fitsLine(body) && f.author == "":
		f.author = strings.TrimRight(body, ".")
		keep(s)
	case s == levelSection && inline:
		if m := levelWords.FindString(body); m != "" {
			f.level = cmp.Or(f.level, levelNamed[strings.ToLower(m)])
		}
		keep(s)
	case s != noSection:
		keep(s)
	case found != noSection:
		keep(found)
	case termsWords.MatchString(r.text):
		keep(termsSection)
	case glossWords.MatchString(r.text):
		keep(abbreviationsSection)
	case workedWords.MatchString(r.text):
		f.list(&f.notes, r.text, notesSection)
	default:
		keep(noSection)
	}
	return state
}

// list adds a text to a list of lines, or to the comments if it does not fit.
func (f *facts) list(to *[]string, text string, s section) {
	if !fitsLine(text) || len(*to) >= 100 {
		f.said[s] = append(f.said[s], text)
		return
	}
	*to = append(*to, text)
}

// items splits a list inside a line.
func items(text string, inline bool) []string {
	if !inline {
		return []string{text}
	}
	var out []string
	for _, s := range itemEnd.Split(text, -1) {
		if s = strings.Trim(s, " ."); hasWords(s) {
			out = append(out, s)
		}
	}
	return out
}

var itemEnd = regexp.MustCompile(`[,;]\s`)

// look tells the facts that a line has anywhere, and returns what table it is
// about.
func (t *scribe) look(text string) section {
	if len(text) > 2000 {
		return noSection
	}
	f := &t.facts
	found := noSection
	if g, ok := gaugeIn(text); ok {
		if f.gauge == (gaugeSaid{}) {
			f.gauge = g
		}
		found = gaugeSection
	} else if gaugeWords.MatchString(text) {
		found = gaugeSection
	}
	if yarnWords.MatchString(text) {
		found, f.yarn = yarnSection, true
		for _, w := range weightsIn(text) {
			if !slices.Contains(f.weights, w) {
				f.weights = append(f.weights, w)
			}
		}
		for _, w := range fibreWords.FindAllString(text, -1) {
			if w = strings.ToLower(w); !slices.Contains(f.fibres, w) {
				f.fibres = append(f.fibres, w)
			}
		}
		for _, label := range []struct {
			re            *regexp.Regexp
			grams, metres int
		}{{gramsFirst, 1, 2}, {metresFirst, 2, 1}} {
			if m := label.re.FindStringSubmatch(text); m != nil && f.metresPer100g == 0 {
				g, _ := strconv.ParseFloat(m[label.grams], 64)
				l, _ := strconv.ParseFloat(m[label.metres], 64)
				if per := l / g * 100; g > 0 && per >= 1 && per <= 5000 {
					f.metresPer100g = per
				}
			}
		}
	}
	if hookWords.MatchString(text) {
		if found == noSection {
			found = hookSection
		}
		if f.hook == "" {
			f.hook, f.inferred = hookIn(text)
		}
	}
	return found
}

// weightsIn returns the weight classes that a line names.
func weightsIn(text string) []int {
	var out []int
	if m := weightNumber.FindStringSubmatch(text); m != nil {
		n, _ := strconv.Atoi(m[1])
		return []int{n}
	}
	for _, w := range weightNamed {
		if w.name.MatchString(text) {
			out = append(out, w.class)
			text = w.name.ReplaceAllString(text, " ")
		}
	}
	return out
}

// hookIn returns the hook that a line names, as the key takes it, and whether
// its millimetres are those of the US name.
func hookIn(text string) (size string, inferred bool) {
	mm := ""
	near := -1
	hooks := hookWords.FindAllStringIndex(text, -1)
	for _, m := range millimetres.FindAllStringSubmatchIndex(text, -1) {
		if notHook.MatchString(text[max(0, m[0]-10):min(len(text), m[1]+16)]) {
			continue
		}
		for _, h := range hooks {
			d := max(m[0]-h[1], h[0]-m[1], 0)
			if near < 0 || d < near {
				near, mm = d, text[m[2]:m[3]]
			}
		}
	}
	if m := bareHook.FindStringSubmatch(text); mm == "" && m != nil {
		mm = cmp.Or(m[1], m[2])
	}
	us := ""
	if m := hookLetter.FindStringSubmatch(text); m != nil {
		name := cmp.Or(m[1], m[3], m[5])
		number := strings.ReplaceAll(cmp.Or(m[2], m[4], m[6]), "-", " ")
		for _, h := range hookSizes {
			letter, n, _ := strings.Cut(h.us, "-")
			if letter == strings.ToUpper(name) && (number == "" || number == n) {
				if us = h.us; mm == "" {
					mm, inferred = h.mm, true
				}
				if decimal(mm) != h.mm {
					us = "" // makers do not agree on the size of that name
				}
			}
		}
	}
	if mm == "" {
		return "", false
	}
	size = decimal(mm) + " mm"
	if us != "" {
		size += " (US " + us + ")"
	}
	if _, err := parseHook(size); err != nil {
		return "", false
	}
	return size, inferred
}

// decimal writes a number with a point and without noughts at its end.
func decimal(s string) string {
	x, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil {
		return s
	}
	return number(x)
}

// gaugeIn reads "20 sc and 22 rounds = 10 cm", or "5 sts = 1 in".
func gaugeIn(text string) (gaugeSaid, bool) {
	unit := func(name, sign string) string {
		switch name = strings.ToLower(name); {
		case sign != "", strings.HasPrefix(name, "in"):
			return " in"
		}
		return " " + name
	}
	if m := gaugeBoth.FindStringSubmatch(text); m != nil {
		return gaugeSaid{stitch: m[2], stitches: decimal(m[1]), rounds: decimal(m[3]), over: decimal(m[4]) + unit(m[5], m[6])}, true
	}
	if m := gaugeOne.FindStringSubmatch(text); m != nil {
		return gaugeSaid{stitch: m[2], stitches: decimal(m[1]), over: decimal(m[3]) + unit(m[4], m[5])}, true
	}
	return gaugeSaid{}, false
}

// namePieces names the pieces by their headings and tells how many are made.
func (t *scribe) namePieces() {
	taken := map[string]bool{}
	for i, p := range t.parts {
		name := strings.Trim(p.heading.text, " :.")
		if m := making.FindStringSubmatch(name); m != nil {
			if rest := strings.Trim(strings.Replace(name, m[0], "", 1), " :.,-–—("); hasWords(rest) {
				name = balanced(strings.ReplaceAll(rest, " ,", ","))
			}
			p.makes(cmp.Or(m[1], m[2], m[3]))
		} else if m := howMany.FindStringSubmatch(name); m != nil {
			p.makes(m[1])
		}
		for _, r := range p.intro {
			if m := making.FindStringSubmatch(r.text); m != nil && len(strings.Trim(strings.Replace(r.text, m[0], "", 1), " .:!")) == 0 {
				p.makes(cmp.Or(m[1], m[2], m[3]))
			}
		}
		if !fitsLine(name) || !hasWords(name) {
			name = ""
		}
		if name == "" && len(t.parts) == 1 {
			name = t.facts.title.text
		}
		if name == "" {
			name = "Piece " + strconv.Itoa(i+1)
		}
		p.name = name
		for n := 2; taken[pieceKey(p.name, i)]; n++ {
			p.name = name + " " + strconv.Itoa(n)
		}
		taken[pieceKey(p.name, i)] = true
	}
}

// balanced returns s with its round brackets in pairs.
func balanced(s string) string {
	switch open, closed := strings.Count(s, "("), strings.Count(s, ")"); {
	case open > closed:
		return s + strings.Repeat(")", open-closed)
	case open < closed:
		return strings.Replace(s, ")", "", closed-open)
	}
	return s
}

// makes keeps how many of a piece are made.
func (p *part) makes(word string) {
	n := spelled[strings.ToLower(word)]
	if n == 0 {
		n, _ = strconv.Atoi(word)
	}
	if n >= 1 && n <= 100 {
		p.make = n
	}
}

var (
	chainTalk   = regexp.MustCompile(`(?i)\bch(?:ains?)?\b|\bchain`)
	chainDenied = regexp.MustCompile(`(?i)\b(?:does|do|is|are) ?n[o'’]t? .{0,20}(?:count|stitch|st\b)|\bnever counts?|\bno stitch|isn['’]t|not count`)
	chainCounts = regexp.MustCompile(`(?i)\bcounts? as|\bcounts? for|\bstands? for`)
)

// chainSaid returns what the remarks above a piece say of the starting chain.
func (t *scribe) chainSaid(p *part) notation.ChainRule {
	for _, rs := range [][]remark{p.intro, t.front} {
		for _, r := range rs {
			for _, s := range sentences(r.text) {
				switch {
				case !chainTalk.MatchString(s):
				case chainDenied.MatchString(s):
					return notation.ChainNotCounted
				case chainCounts.MatchString(s):
					return notation.ChainCounts
				}
			}
		}
	}
	return notation.ByConvention
}

// yarnTold finds what a round says of its yarn where the yarn has no name that
// could be told for one.
var yarnTold = regexp.MustCompile(`(?i)\b(?:(?:re)?join|attach|with|change to|take) (?:the )?(?:next |new |main |contrast )?(?:(?:yarn|colou?r) [A-Z]\b|(?:yarn|colou?r)s?\b)[^.,;*()]*`)

// stepWordsIn finds what a sentence says to do, in the languages that rounds can
// be read in; common practice.
var stepWordsIn = []struct {
	do string
	re *regexp.Regexp
}{
	{"stuff", anywhere(`stuff(?:ing)?|fill(?:ing)?|(?:aus)?stopfen|füllen|rellen\p{L}*|rembourr\p{L}*|bourre\p{L}*|encha|encher|(?:op)?vullen|imbottire|imbottite|riempi\p{L}*|stoppa|fyll|fyld|наби(?:в|ть)\p{L}*|наполни\p{L}*`)},
	{"close", anywhere(`close|draw (?:\p{L}+ )?(?:up|together|tight)|gather|pull (?:it )?(?:tight|shut|closed)|thread .{0,30} through|zusammenziehen|zuziehen|cerrar|fermer|fechar|sluit\p{L}*|chiude\p{L}*|dra ihop|luk|lukk|стян\p{L}*|затян\p{L}*`)},
	{"eyes", anywhere(`eyes?|augen|ojos|yeux|olhos|ogen|occhi|ögon|ögonen|øjne|øyne|глаз\p{L}*`)},
	{"yarn", anywhere(`change (?:to|colou?rs?|yarns?)|switch to|(?:join|attach|tie in|take up) .{0,20}(?:yarn|colou?r)|(?:with|using) (?:yarn |colou?r )?(?-i:[A-Z]{1,2})|farbwechsel|farbe wechseln|cambi\p{L}* (?:(?:de )?colore?|a \p{L}+)|changer de couleur|trocar de cor|mudar de cor|kleur wisselen|byt färg|skift farve|bytt farge|сменить цвет`)},
	{"fasten off", anywhere(`fasten off|(?-i:FO)|finish off|cut (?:the )?(?:yarn|thread)|break (?:off|yarn|the yarn)|cast off|faden abschneiden|abketten|cortar (?:el |la )?(?:hilo|hebra)|rematar|couper le fil|arrêter le fil|cortar o fio|arrematar|knip|afhechten|tagliare il filo|ta av|klipp|klip|отрез\p{L}*|закреп\p{L}*`)},
	{"mark", anywhere(`(?:place|put|move|insert) .{0,20}marker|mark (?:the|this)`)},
	{"turn", anywhere(`turn (?:the )?(?:work|piece|it|inside|right side)`)},
}

// stepOf returns what a sentence says to do, in the words that a step takes: the
// first of it.
func stepOf(text string) string {
	do, at := "note", len(text)
	for _, w := range stepWordsIn {
		for _, m := range w.re.FindAllStringIndex(text, -1) {
			if m[0] < at && !denied.MatchString(text[:m[0]]) {
				do, at = w.do, m[0]
			}
		}
	}
	return do
}

// mentions reports whether a sentence says to do a thing, first or later.
func mentions(text, do string) bool {
	for _, w := range stepWordsIn {
		if w.do == do {
			m := w.re.FindStringIndex(text)
			return m != nil && !denied.MatchString(text[:m[0]])
		}
	}
	return false
}

// denied is what stands before a thing that is not to be done.
var denied = regexp.MustCompile(`(?i)(?:\bnot|n['’]t|\bnever|\bno|\bwithout|\bnicht|\bohne|\bsin|\bsans|\bsem|\bне)(?: \p{L}+){0,2} ?$`)

// remark makes a remark of a run of the text.
func (t *scribe) remark(at source.Span) remark {
	raw := strings.TrimSpace(t.file.Text[at.From:at.To])
	text := plainLine(raw)
	bare := strings.TrimSpace(making.ReplaceAllString(text, ""))
	head := notHeading
	switch {
	case strings.HasPrefix(raw, "#"), isShort(text) && (boldLine.MatchString(raw) || bare != text || capitalLetters(bare) >= 3):
		head = sureHeading
	case isShort(text) && strings.HasSuffix(bare, ":"):
		head = maybeHeading
	}
	return remark{at: at, text: text, head: head}
}

// boldLine is a line in bold, with a remark in brackets after it.
var boldLine = regexp.MustCompile(`^(?:\*\*[^*]+\*\*|__[^_]+__)(?:\s*\([^)]*\))?:?$`)

// plainLine returns a line without what only decorates it: bullets, signs of
// headings, emphasis, character entities.
func plainLine(raw string) string {
	s := html.UnescapeString(raw)
	s = strings.Map(func(c rune) rune {
		switch {
		case c == '\u00ad', c == '\ufeff', c == '\u200b':
			return -1
		case unicode.IsSpace(c), unicode.IsControl(c):
			return ' '
		}
		return c
	}, strings.ToValidUTF8(s, "\ufffd"))
	s = strings.NewReplacer("**", "", "__", "").Replace(s)
	return strings.TrimRight(strings.TrimLeft(oneLine(s), " #*_>-•·=+|"), " #*_=|")
}

// oneLine returns a text in one line.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

func hasWords(s string) bool {
	return strings.ContainsFunc(s, func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) })
}

// fitsLine reports whether a key that takes one line takes s.
func fitsLine(s string) bool { return utf8.RuneCountInString(s) <= maxLine }

// isShort reports whether s is short enough for a heading, and no sentence.
func isShort(s string) bool {
	return utf8.RuneCountInString(s) <= 50 && !strings.ContainsAny(strings.TrimRight(s, ":"), ".!?;|=")
}

// capitalLetters returns how many letters s has if all of them are capitals.
func capitalLetters(s string) int {
	n := 0
	for _, c := range s {
		if unicode.IsLower(c) {
			return 0
		}
		if unicode.IsUpper(c) {
			n++
		}
	}
	return n
}
