package proof

import (
	"encoding/csv"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestCautions(t *testing.T) {
	const ball = `
[[piece]]
name = "Ball"
stuffed = true
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnds 3-4: sc in each st around (12)
Rnd 5: dec x 6 (6)
'''
`
	const gauge = "\n[gauge]\nstitches = 22\nrounds = 24\nover = \"10 cm\"\n"
	const flat = `
[[piece]]
name = "Disc"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
'''
`
	tower := strings.Replace(ball, "Rnds 3-4", "Rnds 3-14", 1)
	tower = strings.Replace(tower, "Rnd 5", "Rnd 15", 1)
	for _, test := range []struct {
		name, toml string
		want       []string // how each caution begins
	}{
		{"a flat thing", flat, nil},
		{"stuffed", ball, []string{"This is a pattern", "Look over seams"}},
		{"as small as a part", gauge + ball, []string{"This comes out about 19 mm across and 14 mm high: as small as the parts", "This is a pattern", "Look over seams"}},
		{"as narrow as a small ball, and long", strings.Replace(gauge, "22", "11", 1) + tower, []string{"This comes out about 38 mm across and 52 mm high: small enough", "This is a pattern", "Look over seams"}},
		{"a small ball", strings.NewReplacer("22", "9.5", "24", "10").Replace(gauge) + ball, []string{"This comes out about 43 mm across and 35 mm high: small enough", "This is a pattern", "Look over seams"}},
		{"by the hook", "\n[hook]\nsize = \"7 mm\"\n" + ball, []string{"This comes out about 41 mm across and 32 mm high by a gauge that is estimated from the hook: small", "This is a pattern", "Look over seams"}},
		{"a ball a little larger", strings.NewReplacer("22", "8", "24", "9").Replace(gauge) + ball, []string{"This comes out about 51 mm across and 37 mm high, not far above", "This is a pattern", "Look over seams"}},
		{"a large ball", strings.NewReplacer("22", "6", "24", "6").Replace(gauge) + ball, []string{"This is a pattern", "Look over seams"}},
		{"a narrow cord", gauge + "\n[[piece]]\nname = \"Tie\"\nrounds = '''\nRnd 1: 6 sc in magic ring (6)\nRnds 2-60: sc in each st around (6)\n'''\n", []string{"This comes out as a cord about 246 mm long"}},
		{"loose parts", "materials = [\"2 buttons\"]\n" + flat, []string{"Parts that come loose"}},
		{"embroidered eyes", "materials = [\"Thread to embroider the eyes\"]\n" + flat, nil},
		{"a hanging loop", "finishing = [\"Make a hanging loop of 20 chains.\"]\n" + flat, []string{"Cords longer than 220 mm and loops of more than 380 mm"}},
		{"for a cat", "for = \"the library cat\"\n" + flat, []string{"Watch your pet"}},
		{"for hot things", "summary = \"A coaster.\"\n" + flat, []string{"For hot things"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			p, found := load(t, "title = \"Buoy\"\nterms = \"US\"\n"+test.toml, "")
			if err := found.Err(); err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, c := range Cautions(p) {
				got = append(got, c.Text)
				if c.Rule == "" && c.Basis != Practice {
					t.Errorf("%q names no rule", c.Text)
				}
				if m := regexp.MustCompile(`(?i)\b(safe|compl(y|ies|iant))\b`).FindString(c.Text); m != "" {
					t.Errorf("%q says %s", c.Text, m)
				}
			}
			if len(got) == len(test.want) {
				for i := range got {
					if strings.HasPrefix(got[i], test.want[i]) {
						got[i] = test.want[i]
					}
				}
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// TestLimits checks the figures against the rows that were collected from the
// rules, with their basis.
func TestLimits(t *testing.T) {
	f, err := os.Open("testdata/safety.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comma, r.Comment, r.LazyQuotes = '\t', '#', true
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	words := map[Basis]string{Memory: "memory", Secondary: "secondary", Primary: "primary"}
	limits := map[string]Limit{}
	for _, l := range Limits {
		limits[l.Key] = l
	}
	seen := 0
	for _, row := range rows[1:] {
		if row[2] == "date" {
			continue
		}
		value, err := strconv.ParseFloat(row[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		l := limits[row[0]]
		if l.Value != value || l.Unit != row[2] || l.Rule != row[3] || words[l.Basis] != row[4] {
			t.Errorf("the row is %q, the limit %+v", row, l)
		}
		seen++
	}
	if seen != len(Limits) {
		t.Errorf("%d rows for %d limits", seen, len(Limits))
	}
}
