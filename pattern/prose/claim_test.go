package prose

import (
	"fmt"
	"strings"
	"testing"
)

func TestMeasures(t *testing.T) {
	for text, want := range map[string]string{
		"7 cm across":                                  "across 70",
		"7 cm (2¾ in) across, stuffed":                 "across 70 = 70",
		"9 inches in diameter":                         "across 229",
		"Height: 20 cm. Width about 8.5 cm":            "tall 200; across 85",
		"6 cm across and about 2.5 cm thick":           "across 60; tall 25",
		"18\" around, 7\" deep":                        "around 457; tall 178",
		"circumference 54 cm":                          "around 540",
		"12 cm in circumference, 5 cm in height":       "around 120; tall 50",
		"6 in square":                                  "across 152",
		"Leave a tail of 20 cm. Hook 3 mm.":            "",
		"Length 10 cm, of which 4 cm are the handle":   "long 100",
		"It holds 4 cups; the height is up to you":     "",
		"A disc of stiff felt, 4.5 cm in diameter":     "across 45",
		"Finished diameter approx 4½ in":               "across 114",
		"13 cm (5⅛ in) tall, 5.5 cm (2⅛ in) across it": "tall 130 = 130; across 55 = 54",
	} {
		var got []string
		for _, c := range Claims(text) {
			if c.Kind != Measure {
				continue
			}
			s := fmt.Sprintf("%s %.0f", c.What, c.MM)
			if c.AlsoMM > 0 {
				s += fmt.Sprintf(" = %.0f", c.AlsoMM)
			}
			got = append(got, s)
		}
		if s := strings.Join(got, "; "); s != want {
			t.Errorf("%q: %q, want %q", text, s, want)
		}
	}
}
