package site

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

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

// TestCautions has, for each caution, a pattern that brings it out, and one
// that brings out none.
func TestCautions(t *testing.T) {
	const flat = "title = 'x'\nterms = 'US'\nfor = '%FOR'\nmaterials = ['%PARTS']\n[gauge]\nstitches = 22\nrounds = 24\nover = '10 cm'\n" +
		"[[piece]]\nname = 'P'\nrounds = '''\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\nRnd 3: (sc 1, inc) x 6 (18)\nRnd 4: (sc 2, inc) x 6 (24)\nRnd 5: (sc 3, inc) x 6 (30)\n%MORE'''\n%STEP"
	const grow = "Rnd 6: (sc 4, inc) x 6 (36)\n"
	const growMore = grow + "Rnd 7: (sc 5, inc) x 6 (42)\nRnd 8: (sc 6, inc) x 6 (48)\n"
	const stuff = "[[piece.step]]\nafter = 5\ndo = 'stuff'\n"
	for _, test := range []struct {
		name, use, parts, more, step string
		want                         []string // the first words of the cautions
	}{
		{name: "a flat mat", use: "a shelf", parts: "a needle"},
		{name: "a coaster", use: "a coaster", want: []string{"Near heat"}},
		{name: "eyes", use: "a shelf", parts: "Bead eyes", want: []string{"Small parts"}},
		{name: "a cord", use: "a shelf", parts: "A cord, 30 cm", want: []string{"Long cords"}},
		{name: "for a cat", use: "cats", want: []string{"Watch your pet"}},
		{name: "small and stuffed", use: "5 years", step: stuff,
			want: []string{"This comes out about 38\u00a0mm across, 10\u00a0mm high: small enough", "This is a pattern", "Check seams"}},
		{name: "nearly small", use: "5 years", more: grow, step: stuff,
			want: []string{"This comes out about 45\u00a0mm across, 12\u00a0mm high, not far", "This is a pattern", "Check seams"}},
		{name: "large and stuffed", use: "5 years", more: growMore, step: stuff,
			want: []string{"This is a pattern", "Check seams"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			parts := test.parts
			if parts == "" {
				parts = "A needle"
			}
			text := strings.NewReplacer("%FOR", test.use, "%PARTS", parts, "%MORE", test.more, "%STEP", test.step).Replace(flat)
			book, _ := load(t, fstest.MapFS{"pattern.toml": {Data: []byte(text)}})
			var got []string
			for i, c := range cautions(book.Patterns[0], new(builder).estimate(book.Patterns[0])) {
				if i < len(test.want) && strings.HasPrefix(c.Say, test.want[i]) {
					got = append(got, test.want[i])
				} else {
					got = append(got, c.Say)
				}
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("cautions (-want +got):\n%s", diff)
			}
		})
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
