package site

import (
	"regexp"
	"strings"

	"roundelay/pattern/stitch"
)

// direction finds words that mean the other direction to the other hand. The
// right side of the fabric is no direction.
var direction = regexp.MustCompile(`(?i)\b(counter-?clockwise|anti-?clockwise|clockwise|right to left|left to right|(?:to|from) the (?:right|left)|(?:right|left)[- ]hand(?:ed|er)?)\b`)

// otherHand writes words for a right hand for a left one.
func otherHand(s string, terms stitch.Terms) string {
	return direction.ReplaceAllStringFunc(s, func(found string) string {
		low := strings.ToLower(found)
		swapped := "clockwise"
		switch {
		case low == "clockwise" && terms == stitch.UK:
			swapped = "anticlockwise"
		case low == "clockwise":
			swapped = "counterclockwise"
		case !strings.HasSuffix(low, "clockwise"):
			swapped = strings.NewReplacer("left", "right", "right", "left").Replace(low)
		}
		if found[:1] != low[:1] {
			return capital(swapped)
		}
		return swapped
	})
}

// otherHands does so for every line of a list.
func otherHands(list []string, terms stitch.Terms) []string {
	var out []string
	for _, s := range list {
		out = append(out, otherHand(s, terms))
	}
	return out
}
