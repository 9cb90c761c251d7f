package pattern

import (
	"fmt"
	"strconv"
	"strings"

	"roundelay/pattern/stitch"
)

// maxLengthMM is the longest length that is read: ten metres.
const maxLengthMM = 10000

var unitsMM = map[string]float64{
	"mm": 1, "cm": 10, "m": 1000,
	"in": 25.4, "inch": 25.4, "inches": 25.4, `"`: 25.4, "″": 25.4,
}

// ParseLengthMM reads a length with its unit, such as "75 mm", "10cm", "4 in"
// or "3 1/2 in", and returns it in millimetres: more than 0, at most 10,000.
func ParseLengthMM(s string) (float64, error) {
	s = strings.TrimSpace(s)
	i := strings.LastIndexAny(s, "0123456789.") + 1
	unit, ok := unitsMM[strings.ToLower(strings.TrimSpace(s[i:]))]
	if i == len(s) && i > 0 {
		return 0, fmt.Errorf("%q has no unit", shortened(s))
	}
	n, isNumber := mixed(strings.TrimSpace(s[:i]))
	if !ok || !isNumber {
		return 0, fmt.Errorf("%q is not a length", shortened(s))
	}
	if mm := n * unit; mm > 0 && mm <= maxLengthMM {
		return mm, nil
	}
	return 0, fmt.Errorf("%q is out of range: more than 0 and at most 10 m", shortened(s))
}

// mixed reads "10", "2.5", "1/2" or "3 1/2".
func mixed(s string) (float64, bool) {
	if len(s) > 20 || strings.Trim(s, "0123456789./ ") != "" {
		return 0, false
	}
	whole, part, two := strings.Cut(s, " ")
	if !two && strings.Contains(s, "/") {
		whole, part, two = "0", s, true
	}
	n, err := strconv.ParseFloat(whole, 64)
	if err != nil {
		return 0, false
	}
	if !two {
		return n, true
	}
	over, under, ok := strings.Cut(strings.TrimSpace(part), "/")
	a, err1 := strconv.Atoi(over)
	b, err2 := strconv.Atoi(under)
	if !ok || err1 != nil || err2 != nil || b == 0 || strings.Contains(whole, ".") {
		return 0, false
	}
	return n + float64(a)/float64(b), true
}

// parseHook reads "3 mm" or "3.25 mm (US D-3)".
func parseHook(s string) (Hook, error) {
	size, us, named := strings.Cut(s, "(")
	var h Hook
	if named {
		us, named = strings.CutSuffix(strings.TrimSpace(us), ")")
		if us = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(us)+" ", "US ")); !named || us == "" || len(us) > 20 {
			return Hook{}, fmt.Errorf("what stands in brackets is not the US name of a hook")
		}
		h.US = us
	}
	mm, err := ParseLengthMM(size)
	if err != nil || !strings.HasSuffix(strings.ToLower(strings.TrimSpace(size)), "mm") {
		return Hook{}, fmt.Errorf("%q is not in millimetres", shortened(strings.TrimSpace(size)))
	}
	if mm < 0.4 || mm > 50 {
		return Hook{}, fmt.Errorf("a hook of %s mm is out of range: 0.4 mm to 50 mm", number(mm))
	}
	h.MM = mm
	return h, nil
}

// StitchNamed returns the stitch with that name or abbreviation in the terms,
// capitals or not. The zero Stitch is none.
func StitchNamed(name string, terms stitch.Terms) stitch.Stitch {
	for s := range stitch.All() {
		if strings.EqualFold(name, s.Abbr(terms)) || strings.EqualFold(name, s.Term(terms)) {
			return s
		}
	}
	return stitch.Stitch{}
}

// letters are the small letters of western alphabets without their accents.
var letters = strings.NewReplacer(
	"ä", "a", "à", "a", "á", "a", "â", "a", "ã", "a", "å", "a", "æ", "ae", "ç", "c",
	"è", "e", "é", "e", "ê", "e", "ë", "e", "ì", "i", "í", "i", "î", "i", "ï", "i", "ñ", "n",
	"ö", "o", "ò", "o", "ó", "o", "ô", "o", "õ", "o", "ø", "o", "œ", "oe", "ß", "ss",
	"ü", "u", "ù", "u", "ú", "u", "û", "u", "ÿ", "y", "'", "", "’", "",
)

// maxSlug is how long a slug may be.
const maxSlug = 60

// slugOf returns a name in lower case letters, digits and hyphens; "" if it has
// no letter of a western alphabet and no digit.
func slugOf(name string) string {
	var b strings.Builder
	for _, c := range letters.Replace(strings.ToLower(name)) {
		switch {
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
			b.WriteRune(c)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
		if b.Len() >= maxSlug {
			break
		}
	}
	return strings.Trim(b.String(), "-")
}

// isSlug reports whether s is a name for a folder, a page and an address: lower
// case letters, digits and single hyphens.
func isSlug(s string) bool { return s != "" && s == slugOf(s) }
