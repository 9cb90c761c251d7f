package site

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"
	"unicode"
	"unicode/utf8"

	"roundelay/pattern"
	"roundelay/pattern/stitch"
)

// capital makes the first letter of s a capital.
func capital(s string) string {
	if s == "" {
		return s
	}
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[size:]
}

// day writes a date as "4 May 2026"; "" for no date.
func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2 January 2006")
}

// number writes a number with at most two decimals, without needless zeros.
func number(x float64) string {
	return strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64)
}

const mmPerInch = 25.4

// nbsp keeps a number and its unit in one line.
const nbsp = "\u00a0"

// length writes a length of a few centimetres in both units, as
// "5 cm (2 in)": to half a centimetre and to a quarter of an inch.
func length(mm float64) string {
	return number(math.Round(mm/5)/2) + nbsp + "cm (" + quarters(mm/mmPerInch) + nbsp + "in)"
}

// quarters writes a number to the nearest quarter, as "2¾".
func quarters(x float64) string {
	q := int(math.Round(x * 4))
	whole, part := strconv.Itoa(q/4), []string{"", "¼", "½", "¾"}[q%4]
	if q/4 == 0 && part != "" {
		whole = ""
	}
	return whole + part
}

// over writes the length of a gauge as it was stated: a whole number of
// centimetres or of inches, or millimetres.
func over(mm float64) string {
	if in := mm / mmPerInch; math.Abs(in-math.Round(in)) < 1e-6 {
		return number(in) + nbsp + "in"
	}
	if cm := mm / 10; math.Abs(cm*2-math.Round(cm*2)) < 1e-6 {
		return number(cm) + nbsp + "cm"
	}
	return number(mm) + nbsp + "mm"
}

func hookMM(h pattern.Hook) string { return number(h.MM) + nbsp + "mm" }

// hook writes a hook as "3.25 mm (US D-3)".
func hook(h pattern.Hook) string {
	switch {
	case h.MM == 0:
		return ""
	case h.US != "":
		return fmt.Sprintf("%s (US %s)", hookMM(h), h.US)
	}
	return hookMM(h)
}

// yarnClasses are the names of the weight classes 0 to 7, by the Craft Yarn
// Council's Standard Yarn Weight System.
var yarnClasses = [...]string{"lace", "super fine", "fine", "light", "medium", "bulky", "super bulky", "jumbo"}

// yarnClass writes a weight class as "class 3 (light)"; "" if it is unstated.
func yarnClass(weight int) string {
	if weight < 0 || weight >= len(yarnClasses) {
		return ""
	}
	return fmt.Sprintf("class %d (%s)", weight, yarnClasses[weight])
}

// yarnAmount writes how much of a yarn is used, with what can be worked out
// from its run length; "" if no amount is stated.
func yarnAmount(y pattern.Yarn) string {
	grams, metres := y.Grams, y.Metres
	switch {
	case grams > 0 && metres > 0:
		return fmt.Sprintf("%s"+nbsp+"g (%s"+nbsp+"m)", number(grams), number(metres))
	case grams > 0 && y.MetresPer100g > 0:
		return fmt.Sprintf("%s"+nbsp+"g (about %.0f"+nbsp+"m)", number(grams), grams*y.MetresPer100g/100)
	case grams > 0:
		return number(grams) + nbsp + "g"
	case metres > 0 && y.MetresPer100g > 0:
		return fmt.Sprintf("%s"+nbsp+"m (about %.0f"+nbsp+"g)", number(metres), metres*100/y.MetresPer100g)
	case metres > 0:
		return number(metres) + nbsp + "m"
	}
	return ""
}

// worked says how the rounds of a pattern go over into each other.
func worked(p *pattern.Pattern) string {
	var styles []pattern.Style
	for _, piece := range p.Sizes[0].Pieces {
		if !slices.Contains(styles, piece.Style) {
			styles = append(styles, piece.Style)
		}
	}
	switch {
	case len(styles) == 0:
		return ""
	case len(styles) > 1:
		return "spiral and joined rounds"
	case styles[0] == pattern.Joined:
		return "joined rounds"
	}
	return "spiral rounds"
}

// names says which system of stitch names is used, by the stitch that tells
// the systems apart.
func names(t stitch.Terms) string {
	return fmt.Sprintf("%s: %s is %s", t, stitch.SC.Term(t), stitch.SC.Abbr(t))
}

func otherTerms(t stitch.Terms) stitch.Terms {
	if t == stitch.UK {
		return stitch.US
	}
	return stitch.UK
}

// stitches writes a count as "6 stitches".
func stitches(n int) string {
	if n == 1 {
		return "1 stitch"
	}
	return strconv.Itoa(n) + " stitches"
}
