package pattern

import (
	"fmt"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"roundelay/pattern/notation"
	"roundelay/pattern/source"
)

// A tomlWriter writes a pattern file.
type tomlWriter struct{ strings.Builder }

// comment writes a line that is no part of the values.
func (w *tomlWriter) comment(format string, args ...any) {
	fmt.Fprintf(w, "# %s\n", printable(fmt.Sprintf(format, args...)))
}

// comments writes lines of the text as they are.
func (w *tomlWriter) comments(lines []string) {
	for _, l := range lines {
		w.comment("%s", l)
	}
}

// line writes a key with a text; "" is left out.
func (w *tomlWriter) line(key, value string) {
	if value != "" {
		fmt.Fprintf(w, "%s = %s\n", key, quoted(value))
	}
}

// lines writes a key with a list of texts.
func (w *tomlWriter) lines(key string, values []string) {
	if len(values) == 0 {
		return
	}
	fmt.Fprintf(w, "%s = [\n", key)
	for _, v := range values {
		fmt.Fprintf(w, "    %s,\n", quoted(v))
	}
	w.WriteString("]\n")
}

// missing writes a key that the text does not give.
func (w *tomlWriter) missing(key string) { fmt.Fprintf(w, "# %s = \"\"  # not in the text\n", key) }

// quoted returns s as a basic string of TOML.
func quoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, c := range strings.ToValidUTF8(s, "\ufffd") {
		switch {
		case c == '"', c == '\\':
			b.WriteByte('\\')
			b.WriteRune(c)
		case unicode.IsControl(c):
			fmt.Fprintf(&b, `\u%04X`, c)
		default:
			b.WriteRune(c)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// printable returns s as it may stand in a comment: in one line, without control
// characters.
func printable(s string) string {
	return strings.TrimSpace(strings.Map(func(c rune) rune {
		if unicode.IsControl(c) {
			return ' '
		}
		return c
	}, strings.ToValidUTF8(s, "\ufffd")))
}

// literal returns a line as it may stand between three single quotes.
func literal(s string) string { return strings.ReplaceAll(printable(s), "'''", "’’’") }

// languageNames are the languages that rounds can be read in.
var languageNames = map[string]string{
	"da": "Danish", "de": "German", "es": "Spanish", "fr": "French", "it": "Italian", "nb": "Norwegian",
	"nl": "Dutch", "no": "Norwegian", "pt": "Portuguese", "ru": "Russian", "sv": "Swedish",
}

// write writes the file.
func (t *scribe) write() []byte {
	w := &tomlWriter{}
	f := &t.facts
	w.comment("Transcribed from %s. Read it through, and fill in what the text does not say.", path.Base(filepath.ToSlash(t.file.Name)))
	if slices.ContainsFunc(t.parts, (*part).faulty) {
		w.comment("Rounds that do not come out are as their author wrote them, with what is wrong above.")
	}
	w.WriteByte('\n')
	if f.title.text == "" {
		w.missing("title")
	}
	if f.given != "" {
		w.comment("%s", f.given)
	}
	w.line("title", f.title.text)
	w.line("author", f.author)
	w.comments(f.said[authorSection])
	w.comments(f.said[termsSection])
	why := ""
	if t.text.Evidence != "" {
		why = "  # " + printable(t.text.Evidence)
	}
	if name := languageNames[t.text.Language]; name != "" {
		why = "  # the text is in " + name + "; its rounds are written here in these terms"
	}
	fmt.Fprintf(w, "terms = %s%s\n", quoted(t.text.Terms.String()), why)
	w.comments(f.said[levelSection])
	w.line("level", f.level)
	w.comments(f.said[sizeSection])
	w.line("finished_size", f.size)
	w.comments(f.said[licenceSection])
	w.missing("licence")
	w.comments(f.said[materialsSection])
	w.lines("materials", f.materials)
	w.comments(f.said[notesSection])
	w.lines("notes", f.notes)
	w.comments(f.said[finishingSection])
	w.lines("finishing", f.finishing)
	for _, s := range []section{abbreviationsSection, noSection, roundsSection} {
		w.comments(f.said[s])
	}
	t.writeGauge(w)
	t.writeHook(w)
	t.writeYarns(w)
	for _, p := range t.parts {
		p.write(t, w)
	}
	if len(t.parts) == 0 {
		w.WriteString("\n# [[piece]]\n")
		w.missing("name")
		w.comment("rounds = ''' ... '''  # no rounds were found in the text")
		t.findings = append(t.findings, source.Finding{
			File: t.file, Severity: source.Warning, Code: "no-rounds",
			Message: "no rounds can be read in this text", Hint: "write one a line, as in Rnd 1: 6 sc in magic ring (6)",
		})
	}
	return []byte(w.String())
}

func (t *scribe) writeGauge(w *tomlWriter) {
	w.WriteByte('\n')
	g := t.facts.gauge
	w.comments(t.facts.said[gaugeSection])
	off := ""
	switch _, err := ParseLengthMM(g.over); {
	case g == gaugeSaid{}:
		w.comment("[gauge]  # not in the text")
		return
	case err != nil:
		off = "# "
	}
	fmt.Fprintf(w, "%s[gauge]\n", off)
	stitch := StitchNamed(g.stitch, t.text.Terms)
	switch {
	case stitch.Valid() && g.stitch != "":
		fmt.Fprintf(w, "%sstitch = %s\n", off, quoted(stitch.Abbr(t.text.Terms)))
	default:
		w.comment("stitch = \"\"  # not in the text; without it, it is single crochet")
	}
	fmt.Fprintf(w, "%sstitches = %s\n", off, g.stitches)
	if g.rounds == "" {
		w.comment("rounds =   # not in the text; without it, it is estimated from the stitches")
	} else {
		fmt.Fprintf(w, "%srounds = %s\n", off, g.rounds)
	}
	fmt.Fprintf(w, "%sover = %s\n", off, quoted(g.over))
}

func (t *scribe) writeHook(w *tomlWriter) {
	w.WriteByte('\n')
	w.comments(t.facts.said[hookSection])
	if t.facts.hook == "" {
		w.comment("[hook]  # no size in millimetres in the text")
		w.comment(`size = ""`)
		return
	}
	w.WriteString("[hook]\n")
	if t.facts.inferred {
		w.comment("the text gives the US name; the millimetres are those of that name")
	}
	w.line("size", t.facts.hook)
}

func (t *scribe) writeYarns(w *tomlWriter) {
	f := &t.facts
	w.WriteByte('\n')
	w.comments(f.said[yarnSection])
	if len(t.yarns) == 0 {
		w.comment("[[yarn]]  # not in the text")
	}
	for i, y := range t.yarns {
		if i > 0 {
			w.WriteByte('\n')
		}
		w.WriteString("[[yarn]]\n")
		if y.name == "" {
			w.comment("the text has no short name for it")
		}
		w.line("key", y.key)
		w.line("colour", y.colour)
		if len(f.weights) == 1 {
			fmt.Fprintf(w, "weight = %d\n", f.weights[0])
		}
		if len(f.fibres) == 1 {
			w.line("fibre", f.fibres[0])
		}
		if f.metresPer100g > 0 {
			fmt.Fprintf(w, "metres_per_100g = %s\n", number(f.metresPer100g))
		}
	}
}

func (p *part) write(t *scribe, w *tomlWriter) {
	w.WriteString("\n[[piece]]\n")
	if p.heading.text != "" && p.heading.text != p.name {
		w.comment("%s", p.heading.text)
	}
	if p.heading.text == "" && p.name != t.facts.title.text {
		w.comment("the text does not name this piece")
	}
	w.line("name", p.name)
	w.line("style", [...]string{Spiral: "spiral", Joined: "joined"}[p.style])
	switch p.chain {
	case notation.ChainCounts:
		w.line("chain", "counts")
	case notation.ChainNotCounted:
		w.line("chain", "does not count")
	}
	if p.make != 1 {
		fmt.Fprintf(w, "make = %d\n", p.make)
	}
	if len(t.yarns) > 1 && len(p.result.Yarns) == 1 && p.begins == "" {
		w.missing("yarn")
	}
	w.line("yarn", p.yarn)
	if p.saysOnly("stuff", 0) {
		w.WriteString("stuffed = true\n")
	}
	if p.saysOnly("close", p.entries[len(p.entries)-1].verdict.Last) {
		w.WriteString("closed = true\n")
	}
	w.comments(p.dropped)
	w.comments(p.trouble)
	w.WriteString("rounds = '''\n")
	for _, e := range p.entries {
		for _, l := range strings.Split(e.ways[e.way], "\n") {
			w.WriteString(literal(l))
			w.WriteByte('\n')
		}
	}
	w.WriteString("'''\n")
	for _, s := range p.steps {
		fmt.Fprintf(w, "\n[[piece.step]]\nafter = %d\n", s.After)
		if s.Do != "note" {
			w.line("do", s.Do)
		}
		w.line("say", s.Say)
	}
}

// faulty reports whether a line of a piece does not come out.
func (p *part) faulty() bool {
	return slices.ContainsFunc(p.entries, func(e entry) bool {
		return e.verdict.Word != notation.OK && e.verdict.Word != notation.Uncounted
	})
}

// saysOnly reports whether a thing is said to be done from a round on, but not as
// the first of a step, so that the step does not show it.
func (p *part) saysOnly(do string, from int) bool {
	said := false
	for _, s := range p.steps {
		if s.Do == do {
			return false
		}
		said = said || s.After >= from && mentions(s.Say, do)
	}
	return said
}

// colourOf returns the colour that the text gives a yarn with a short name.
func (t *scribe) colourOf(key string) string {
	k := regexp.QuoteMeta(key)
	for _, re := range []*regexp.Regexp{
		regexp.MustCompile(`(\p{L}[\p{L}-]+(?: \p{L}[\p{L}-]+)?) \(` + k + `\)`),
		regexp.MustCompile(`\b` + k + `\s*[=:–—-]\s*(\p{L}[\p{L}-]+(?: \p{L}[\p{L}-]+)?)`),
	} {
		for _, r := range t.front {
			if m := re.FindStringSubmatch(r.text); m != nil && len(r.text) < 2000 {
				words := strings.Fields(strings.ToLower(m[1]))
				for len(words) > 1 && (words[0] == "yarn" || words[0] == "and" || words[0] == "in" || words[0] == "colour" || words[0] == "color") {
					words = words[1:]
				}
				return strings.Join(words, " ")
			}
		}
	}
	return ""
}
