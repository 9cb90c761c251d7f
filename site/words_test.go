package site

import (
	"strings"
	"testing"
	"testing/fstest"

	"roundelay/pattern"
	"roundelay/pattern/stitch"
)

func TestWords(t *testing.T) {
	for _, test := range []struct{ got, want string }{
		{english.length(52), "5 cm (2 in)"},
		{english.length(70), "7 cm (2¾ in)"},
		{english.length(17), "1.5 cm (¾ in)"},
		{english.over(100), "10 cm"},
		{english.over(101.6), "4 in"},
		{english.over(25), "2.5 cm"},
		{english.over(33), "33 mm"},
		{english.hook(pattern.Hook{MM: 3.25, US: "D-3"}), "3.25 mm (US D-3)"},
		{english.hook(pattern.Hook{}), ""},
		{english.yarnClass(3), "class 3 (light)"},
		{english.yarnClass(-1), ""},
		{english.yarnAmount(pattern.Yarn{Grams: 9, MetresPer100g: 270}), "9 g (about 24 m)"},
		{english.yarnAmount(pattern.Yarn{Grams: 9, Metres: 25, MetresPer100g: 270}), "9 g (25 m)"},
		{english.yarnAmount(pattern.Yarn{Metres: 27, MetresPer100g: 270}), "27 m (about 10 g)"},
		{english.yarnAmount(pattern.Yarn{}), ""},
		{english.signed(6), "+6"},
		{english.signed(-6), "−6"},
		{english.signed(0), "even"},
		{capital("étoile"), "Étoile"},
		{capital(""), ""},
		{english.stitches(1), "1 stitch"},
	} {
		if got := strings.ReplaceAll(test.got, nbsp, " "); got != test.want {
			t.Errorf("got %q, want %q", got, test.want)
		}
	}
}

func TestDisc(t *testing.T) {
	for _, test := range []struct{ name, rounds, want string }{
		{"flat", "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\nRnd 3: (sc 1, inc) x 6 (18)\nRnd 4: (sc 2, inc) x 6 (24)\n",
			"Check as you go: after round 4 the disc measures about 3.5 cm (1¼ in) across."},
		{"too soon a wall", "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\nRnd 3: (sc 1, inc) x 6 (18)\nRnd 4: sc in each st around (18)\n", ""},
		{"a cone", "Rnd 1: 3 sc in magic ring (3)\nRnd 2: inc in each st around (6)\nRnd 3: (sc 1, inc) x 3 (9)\nRnd 4: (sc 2, inc) x 3 (12)\n", ""},
		{"another stitch", "Rnd 1: 6 hdc in magic ring (6)\nRnd 2: 2 hdc in each st around (12)\nRnd 3: (hdc 1, 2 hdc in next st) x 6 (18)\nRnd 4: (hdc 2, 2 hdc in next st) x 6 (24)\n", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			book, _ := load(t, fstest.MapFS{"pattern.toml": {Data: []byte("title = 'x'\nterms = 'US'\n[[piece]]\nname = 'P'\nrounds = '''\n" + test.rounds + "'''\n")}})
			got := english.discWords(book.Patterns[0].Sizes[0].Pieces[0], &pattern.Gauge{Stitch: stitch.SC, Stitches: 22, Rounds: 24, OverMM: 100})
			if got = strings.ReplaceAll(got, nbsp, " "); got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
}
