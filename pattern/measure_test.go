package pattern

import (
	"math"
	"testing"

	"roundelay/pattern/stitch"
)

func TestParseLengthMM(t *testing.T) {
	for text, want := range map[string]float64{
		"75 mm": 75, "75mm": 75, " 10 cm ": 100, "2.5 cm": 25, "0.1 m": 100, "4 in": 101.6, `4"`: 101.6, "4″": 101.6,
		"4 inches": 101.6, "1 Inch": 25.4, "3 1/2 in": 88.9, "1/2 in": 12.7, "10 m": 10000, ".5 cm": 5,
	} {
		if got, err := ParseLengthMM(text); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("ParseLengthMM(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]string{
		"":           `"" is not a length`,
		"cm":         `"cm" is not a length`,
		"10":         `"10" has no unit`,
		"10 km":      `"10 km" is not a length`,
		"ten cm":     `"ten cm" is not a length`,
		"10 cm wide": `"10 cm wide" is not a length`,
		"-3 mm":      `"-3 mm" is not a length`,
		"1e3 mm":     `"1e3 mm" is not a length`,
		"10,5 cm":    `"10,5 cm" is not a length`,
		"1.5 1/2 in": `"1.5 1/2 in" is not a length`,
		"1/0 in":     `"1/0 in" is not a length`,
		"1 2 in":     `"1 2 in" is not a length`,
		"1.2.3 cm":   `"1.2.3 cm" is not a length`,
		"0 mm":       `"0 mm" is out of range: more than 0 and at most 10 m`,
		"10.001 m":   `"10.001 m" is out of range: more than 0 and at most 10 m`,
	} {
		if got, err := ParseLengthMM(text); err == nil || err.Error() != want {
			t.Errorf("ParseLengthMM(%q) = %v, %v, want the error %s", text, got, err, want)
		}
	}
}

func TestParseHook(t *testing.T) {
	for text, want := range map[string]Hook{
		"3 mm":                 {MM: 3},
		"3.25mm (US D-3)":      {MM: 3.25, US: "D-3"},
		"6.5 mm (US K-10 1/2)": {MM: 6.5, US: "K-10 1/2"},
		"9 mm (M/N-13)":        {MM: 9, US: "M/N-13"},
		"4 MM ( US G-6 ) ":     {MM: 4, US: "G-6"},
	} {
		if got, err := parseHook(text); err != nil || got != want {
			t.Errorf("parseHook(%q) = %+v, %v, want %+v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "G-6", "US G-6 (4 mm)", "4", "4 cm", "1/8 in", "0.1 mm", "60 mm", "4 mm (", "4 mm ()", "4 mm (US )", "4 mm US G", "4 mm (US G-6) steel"} {
		if got, err := parseHook(text); err == nil {
			t.Errorf("parseHook(%q) = %+v, want an error", text, got)
		}
	}
}

func TestSlugOf(t *testing.T) {
	for name, want := range map[string]string{
		"Mooring buoy":        "mooring-buoy",
		"  Sea -- Urchin! 2 ": "sea-urchin-2",
		"Größe Ærø":           "grosse-aero",
		"Gull's nest":         "gulls-nest",
		"../../etc":           "etc",
		"灯台":                  "",
		"":                    "",
	} {
		if got := slugOf(name); got != want {
			t.Errorf("slugOf(%q) = %q, want %q", name, got, want)
		}
		if want != "" && !isSlug(want) {
			t.Errorf("%q is made from %q, but is no slug", want, name)
		}
	}
	for _, name := range []string{"", "Ball", "a_b", "a--b", "-a", "a-", "a/b", "..", "é", "a b"} {
		if isSlug(name) {
			t.Errorf("%q is taken for a slug", name)
		}
	}
}

func TestStitchNamed(t *testing.T) {
	for _, test := range []struct {
		name  string
		terms stitch.Terms
		want  stitch.Stitch
	}{
		{"sc", stitch.US, stitch.SC},
		{"Double Crochet", stitch.US, stitch.DC},
		{"dc", stitch.US, stitch.DC},
		{"dc", stitch.UK, stitch.SC},
		{"HTR", stitch.UK, stitch.HDC},
		{"sc", stitch.UK, stitch.Stitch{}},
		{"", stitch.US, stitch.Stitch{}},
	} {
		if got := StitchNamed(test.name, test.terms); got != test.want {
			t.Errorf("%q in %s terms is %q, want %q", test.name, test.terms, got.ID(), test.want.ID())
		}
	}
}
