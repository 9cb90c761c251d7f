package prose

import (
	"fmt"
	"strings"
	"testing"
)

func (c Claim) String() string {
	return fmt.Sprintf("%d from=%d to=%d n=%d do=%s what=%s mm=%.4g also=%.4g", c.Kind, c.From, c.To, c.N, c.Do, c.What, c.MM, c.AlsoMM)
}

func TestClaims(t *testing.T) {
	for _, test := range []struct {
		text string
		want []Claim // without places
		at   string  // what the first one's place holds
	}{
		{"See round 7.", []Claim{{Kind: Reference, From: 7, To: 7}}, "round 7"},
		{"Between rounds 9 and 10.", []Claim{{Kind: Reference, From: 9, To: 10}}, "rounds 9 and 10"},
		{"sew to R1-R3 of the tower", []Claim{{Kind: Reference, From: 1, To: 3}}, "R1-R3"},
		{"Rnds 7–12 are plain", []Claim{{Kind: Reference, From: 7, To: 12}}, "Rnds 7–12"},
		{"Stuff it firmly after round 8.", []Claim{{Kind: Event, From: 8, Do: "stuff"}, {Kind: Reference, From: 8, To: 8}}, "Stuff it firmly after round 8"},
		{"Before Rnd. 11, fill the head.", []Claim{{Kind: Event, From: 10, Do: "stuff"}, {Kind: Reference, From: 11, To: 11}}, "Before Rnd. 11, fill"},
		{"Place the eyes after round 9", []Claim{{Kind: Event, From: 9, Do: "eyes"}, {Kind: Reference, From: 9, To: 9}}, ""},
		{"Stuff the head before R11 and the body after R21.", []Claim{{Kind: Reference, From: 11, To: 11}, {Kind: Reference, From: 21, To: 21}}, "R11"},
		{"There are 36 increases in all.", []Claim{{Kind: Increases, N: 36}}, "36 increases"},
		{"six increases each round", nil, ""},
		{"Round 5 has six increases.", []Claim{{Kind: Reference, From: 5, To: 5}, {Kind: Increases, From: 5, N: 6}}, "Round 5"},
		{"Eight decreases close it", []Claim{{Kind: Decreases, N: 8}}, "Eight decreases"},
		{"20 rounds in all", []Claim{{Kind: Total, N: 20}}, "20 rounds in all"},
		{"Thread the tail through the 6 stitches.", []Claim{{Kind: Through, N: 6}}, "through the 6 stitches"},
		{"through the front loops of the last six sts", []Claim{{Kind: Through, N: 6}}, ""},
		{"through all 8 remaining stitches", []Claim{{Kind: Through, N: 8}}, ""},
		{"Gather the last 6 stitches through their front loops.", []Claim{{Kind: Through, N: 6}}, "Gather the last 6 stitches"},
		{"pick up the front loop only of each of the last 6 stitches", []Claim{{Kind: Through, N: 6}}, ""},
		{"Sew it through the 18 stitches of round 31.", []Claim{{Kind: Through, From: 31, N: 18}, {Kind: Reference, From: 31, To: 31}}, ""},
		{"Before the last 6 stitches, push a pinch of stuffing in.", nil, ""},
		{"13 cm (5⅛ in) tall", []Claim{{Kind: Measure, What: "tall", MM: 130, AlsoMM: 130.2}}, ""},
		{"About 7 cm across and 6.5 cm tall.", []Claim{{Kind: Measure, What: "across", MM: 70}, {Kind: Measure, What: "tall", MM: 65}}, "7 cm across"},
		{"3 in (7.5 cm) wide", []Claim{{Kind: Measure, What: "across", MM: 76.2, AlsoMM: 75}}, "3 in (7.5 cm) wide"},
		{"2½ in / 6,5 cm high", []Claim{{Kind: Measure, What: "tall", MM: 63.5, AlsoMM: 65}}, ""},
		{"Leave a tail of 30 cm.", nil, ""},
		{"Work 3 in round 4", []Claim{{Kind: Reference, From: 4, To: 4}}, "round 4"},
		{"The year 2026 was round and good; for 5 of us", nil, ""},
	} {
		got := Claims(test.text)
		if test.at != "" && len(got) > 0 {
			if at := test.text[got[0].At.From:got[0].At.To]; at != test.at {
				t.Errorf("%s: the first claim stands at %q, want %q", test.text, at, test.at)
			}
		}
		if g, w := list(got), list(test.want); g != w {
			t.Errorf("%s\ngot  %s\nwant %s", test.text, g, w)
		}
	}
}

func list(claims []Claim) string {
	var b strings.Builder
	for _, c := range claims {
		fmt.Fprintf(&b, "{%s} ", c)
	}
	return b.String()
}

func TestClaimsEndAtBlocks(t *testing.T) {
	if got := Claims("Stuff it\n after round 8"); len(got) != 1 || got[0].Kind != Reference {
		t.Errorf("a claim goes over the end of a block: %v", got)
	}
}

// Lengths in other words, rounded to a millimetre.
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
