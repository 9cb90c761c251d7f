package site

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
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

// day writes a date as "4 May 2026", in other languages "2026-05-04"; "" for no
// date.
func (l language) day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	if l != english {
		return t.Format(time.DateOnly)
	}
	return t.Format("2 January 2006")
}

// number writes a number with at most two decimals, without needless zeros.
func (l language) number(x float64) string {
	s := strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64)
	if l != english {
		s = strings.Replace(s, ".", ",", 1) // as all of them write it
	}
	return s
}

const mmPerInch = 25.4

// nbsp keeps a number and its unit in one line.
const nbsp = "\u00a0"

// length writes a length of a few centimetres in both units, as
// "5 cm (2 in)": to half a centimetre and to a quarter of an inch. Only English
// has inches.
func (l language) length(mm float64) string {
	cm := l.number(math.Round(mm/5)/2) + nbsp + "cm"
	if l != english {
		return cm
	}
	return cm + " (" + quarters(mm/mmPerInch) + nbsp + "in)"
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
func (l language) over(mm float64) string {
	if in := mm / mmPerInch; math.Abs(in-math.Round(in)) < 1e-6 {
		return l.number(in) + nbsp + "in"
	}
	if cm := mm / 10; math.Abs(cm*2-math.Round(cm*2)) < 1e-6 {
		return l.number(cm) + nbsp + "cm"
	}
	return l.number(mm) + nbsp + "mm"
}

func (l language) hookMM(h pattern.Hook) string { return l.number(h.MM) + nbsp + "mm" }

// hook writes a hook as "3.25 mm (US D-3)".
func (l language) hook(h pattern.Hook) string {
	switch {
	case h.MM == 0:
		return ""
	case h.US != "" && l == english:
		return fmt.Sprintf("%s (US %s)", l.hookMM(h), h.US)
	}
	return l.hookMM(h)
}

// yarnClasses are the names of the weight classes 0 to 7, by the Craft Yarn
// Council's Standard Yarn Weight System.
var yarnClasses = [...]string{"lace", "super fine", "fine", "light", "medium", "bulky", "super bulky", "jumbo"}

// yarnClass writes a weight class as "class 3 (light)", in other languages
// without the name; "" if it is unstated.
func (l language) yarnClass(weight int) string {
	if weight < 0 || weight >= len(yarnClasses) {
		return ""
	}
	class := l.say("class %d", weight)
	if l != english {
		return class
	}
	return class + " (" + yarnClasses[weight] + ")"
}

// yarnAmount writes how much of a yarn is used, with what can be worked out
// from its run length; "" if no amount is stated.
func (l language) yarnAmount(y pattern.Yarn) string {
	grams, metres := y.Grams, y.Metres
	switch {
	case grams > 0 && metres > 0:
		return fmt.Sprintf("%s"+nbsp+"g (%s"+nbsp+"m)", l.number(grams), l.number(metres))
	case grams > 0 && y.MetresPer100g > 0:
		return l.number(grams) + nbsp + "g (" + l.say("about %s", fmt.Sprintf("%.0f"+nbsp+"m", grams*y.MetresPer100g/100)) + ")"
	case grams > 0:
		return l.number(grams) + nbsp + "g"
	case metres > 0 && y.MetresPer100g > 0:
		return l.number(metres) + nbsp + "m (" + l.say("about %s", fmt.Sprintf("%.0f"+nbsp+"g", metres*100/y.MetresPer100g)) + ")"
	case metres > 0:
		return l.number(metres) + nbsp + "m"
	}
	return ""
}

// worked says how the rounds of a pattern go over into each other.
func (l language) worked(p *pattern.Pattern) string {
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
		return l.say("spiral and joined rounds")
	case styles[0] == pattern.Joined:
		return l.say("joined rounds")
	}
	return l.say("spiral rounds")
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
func (l language) stitches(n int) string {
	if n == 1 {
		return l.say("1 stitch")
	}
	return l.say("%d stitches", n)
}
