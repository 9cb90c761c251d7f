package source

import (
	"strings"
	"testing"
)

func TestNearest(t *testing.T) {
	known := []string{"rounds", "chart", "stitches", "to", "title"}
	for _, test := range []struct{ word, want string }{
		{"ronds", "rounds"},
		{"Chart", "chart"},
		{"stiches", "stitches"},
		{"titel", "title"},
		{"t", "to"},
		{"seagull", ""},
		{"", ""},
		{strings.Repeat("t", 200), ""},
	} {
		if got := Nearest(test.word, known); got != test.want {
			t.Errorf("Nearest(%q) = %q, want %q", test.word, got, test.want)
		}
	}
	if got := Nearest("rounds", nil); got != "" {
		t.Errorf("Nearest among none = %q", got)
	}
}
