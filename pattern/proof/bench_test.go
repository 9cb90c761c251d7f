package proof

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"roundelay/pattern"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// longPattern is a pattern with pieces of 40 rounds each, and prose that writes
// them all out.
func longPattern(pieces int) (toml, prose string) {
	var t, p strings.Builder
	t.WriteString("title = \"Long\"\nterms = \"US\"\n")
	for i := range pieces {
		fmt.Fprintf(&t, "\n[[piece]]\nname = \"Part %d\"\nrounds = '''\n", i+1)
		fmt.Fprintf(&p, "\n## Part %d\n\n", i+1)
		for n := 1; n <= 40; n++ {
			line := fmt.Sprintf("Rnd %d: (sc %d, inc) x 6 (%d)\n", n, n-2, 6*n)
			switch n {
			case 1:
				line = "Rnd 1: 6 sc in magic ring (6)\n"
			case 2:
				line = "Rnd 2: inc in each st around (12)\n"
			}
			t.WriteString(line)
			p.WriteString(line)
		}
		t.WriteString("'''\n")
	}
	return t.String(), p.String()
}

func BenchmarkCheck(b *testing.B) {
	for _, pieces := range []int{1, 4, 16} {
		toml, prose := longPattern(pieces)
		p, found := pattern.Load(fstest.MapFS{"long/pattern.toml": {Data: []byte(toml)}, "long/prose.md": {Data: []byte(prose)}}, "long/pattern.toml")
		if err := found.Err(); err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprintf("pieces=%d", pieces), func(b *testing.B) {
			b.SetBytes(int64(len(toml) + len(prose)))
			b.ReportAllocs()
			for b.Loop() {
				if r := Check(p, found); r.Findings.Err() != nil {
					b.Fatal(r.Findings)
				}
			}
		})
	}
}

func BenchmarkCheckText(b *testing.B) {
	for _, pieces := range []int{1, 16} {
		_, text := longPattern(pieces)
		f := source.NewFile("long.txt", text)
		b.Run(fmt.Sprintf("rounds=%d", 40*pieces), func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				if r := CheckText(f, stitch.US); r.Findings.Err() != nil {
					b.Fatal(r.Findings)
				}
			}
		})
	}
}
