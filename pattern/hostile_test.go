package pattern

import (
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// What a hostile file asks for is bounded: each of these is refused, or read,
// without more than a moment's work and a bounded number of findings.
func TestHostile(t *testing.T) {
	rounds := func(text string) string {
		return "title = 'x'\nterms = 'US'\n[[piece]]\nname = 'x'\nrounds = '''\n" + text + "\n'''\n"
	}
	fill := func(line string) string { return strings.Repeat(line, (maxFile-1000)/len(line)) }
	sizes := "title = 'x'\nterms = 'US'\n[numbers]\nn = 1\n"
	for i := range 50 {
		sizes += "[[piece]]\nname = 'x" + strings.Repeat("x", i) + "'\nrounds = '''\nRnd 1: 20000 sc in magic ring\nRnds 2-{9998+n}: sc in each st around\n'''\n"
	}
	for i := range 20 {
		sizes += "[[size]]\nname = 'x" + strings.Repeat("x", i) + "'\n[size.numbers]\nn = " + number(float64(i)) + "\n"
	}
	for name, text := range map[string]string{
		"a repeat of 10^9":           rounds("Rnd 1: (6 sc) x 1000000000 in magic ring"),
		"10^9 stitches":              rounds("Rnd 1: 1000000000 sc in magic ring"),
		"10^18 rounds":               rounds("Rnd 1: 6 sc in magic ring\nRnds 2-1000000000000000000: sc in each st around"),
		"nested repeats":             rounds("Rnd 1: " + strings.Repeat("(", 12) + "sc" + strings.Repeat(") x 999", 12)),
		"brackets 10,000 deep":       rounds("Rnd 1: " + strings.Repeat("(", 10000) + "sc" + strings.Repeat(")", 10000)),
		"many rounds":                rounds(fill("Rnd 2: sc in each st around (6)\n")),
		"one long round":             rounds("Rnd 1: " + fill("sc, ")),
		"one long round of brackets": rounds("Rnd 1: " + fill("(sc 3, inc) x 6, ")),
		"one long word":              rounds("Rnd 1: " + fill("s")),
		"many braces":                "[numbers]\nn = 1\n" + rounds(fill("{")),
		"many sums":                  "[numbers]\nn = 1\n" + rounds(fill("{n+1} sc, ")),
		"many bad sums":              "[numbers]\nn = 1\n" + rounds(fill("{n+} sc, ")),
		"sizes and pieces":           sizes,
		"many unknown keys":          fill("[[piece]]\nx = 1\n"),
		"many pieces":                fill("[[piece]]\n"),
		"unknown keys on one line":   "x = {" + fill("a.b.c.d = 1, ") + "z = 1}",
		"a long list":                "notes = [" + fill("'', ") + "]",
		"a long title":               "title = '" + fill("x") + "'",
		"a long key":                 fill("x") + " = 1",
		"line ends":                  "x = 1" + fill("\n"),
		"carriage returns":           "x = '''" + fill("\r") + "'''",
		"quotes":                     "x = " + fill("'"),
		"comments":                   fill("#\n"),
		"too large":                  "title = '" + strings.Repeat("x", maxFile) + "'",
	} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			_, findings := Load(fstest.MapFS{patternFile: {Data: []byte(text)}}, patternFile)
			t.Logf("%v, %d findings", time.Since(start).Round(time.Millisecond), len(findings))
			if len(findings) == 0 || len(findings) > maxFindings+1 {
				t.Errorf("%d findings", len(findings))
			}
			checkInside(t, findings, nil)
		})
	}
}
