package notation

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"roundelay/pattern/source"
)

// BenchmarkRead reads and works whole texts, in round lines a second.
func BenchmarkRead(b *testing.B) {
	var ball strings.Builder
	ball.WriteString("Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\n")
	for n := 3; n <= 12; n++ {
		fmt.Fprintf(&ball, "Rnd %d: *sc in next %d sts, 2 sc in next st, rep from * around (%d)\n", n, n-2, 6*n)
	}
	for n := 13; n <= 40; n++ {
		fmt.Fprintf(&ball, "Rnd %d: sc in each st around (72)\n", n)
	}
	texts := map[string]string{"ball": ball.String(), "corpus": ""}
	files, err := filepath.Glob("../../testdata/corpus/*.txt")
	if err != nil {
		b.Fatal(err)
	}
	for _, f := range files {
		t, err := os.ReadFile(f)
		if err != nil {
			b.Fatal(err)
		}
		texts["corpus"] += string(t) + "\n\n"
	}
	for _, name := range []string{"ball", "corpus"} {
		b.Run(name, func(b *testing.B) {
			f := source.NewFile(name, texts[name])
			lines := 0
			b.SetBytes(int64(len(f.Text)))
			b.ReportAllocs()
			for b.Loop() {
				for _, part := range Read(f, ReadOptions{}).Parts() {
					res := Expand(part.Lines, Options{AnyYarn: true})
					lines += len(res.Verdicts)
				}
			}
			b.ReportMetric(float64(lines)/b.Elapsed().Seconds(), "lines/s")
		})
	}
}

// BenchmarkReadHostile reads one round of many words: time per byte has to stay
// flat as it grows.
func BenchmarkReadHostile(b *testing.B) {
	for _, n := range []int{100, 1000, 10_000} {
		for name, part := range map[string]string{
			"brackets": "(sc, ", "stars": "*sc, inc, rep from * ", "doubts": "2sc, sc2, (3sc) repeat 5 times, ", "labels": "R2: sc. ",
			"told": "\n\nMake a magic ring with 6 sc. Then two in each stitch, 12 in all, and then two rounds plain. Now one sc in the next, and then two in it, ",
		} {
			b.Run(fmt.Sprintf("%s=%d", name, n), func(b *testing.B) {
				f := source.NewFile(name, "Rnd 1: 6 sc in magic ring (6)\nRnd 2: "+strings.Repeat(part, n)+"\n")
				b.SetBytes(int64(len(f.Text)))
				for b.Loop() {
					Expand(Read(f, ReadOptions{}).Lines(), Options{})
				}
			})
		}
	}
}
