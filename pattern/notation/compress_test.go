package notation

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// letters writes parts as "(a3 b)6".
func letters(parts []part) string {
	var b strings.Builder
	for i, p := range parts {
		if i > 0 {
			b.WriteByte(' ')
		}
		if p.body != nil {
			fmt.Fprintf(&b, "(%s)%d", letters(p.body), p.n)
			continue
		}
		b.WriteRune(rune(p.action))
		if p.n > 1 {
			fmt.Fprint(&b, p.n)
		}
	}
	return b.String()
}

// spread undoes compress.
func spread(parts []part) []int {
	var s []int
	for _, p := range parts {
		for range p.n {
			if p.body != nil {
				s = append(s, spread(p.body)...)
			} else {
				s = append(s, p.action)
			}
		}
	}
	return s
}

func actions(s string) []int {
	var a []int
	for _, r := range s {
		a = append(a, int(r))
	}
	return a
}

func TestCompress(t *testing.T) {
	r := strings.Repeat
	for _, c := range []struct{ in, want string }{
		{"", ""},
		{"s", "s"},
		{"ssss", "s4"},
		{r("si", 6), "(s i)6"},
		{r("ssi", 6), "(s2 i)6"},
		{r("sis", 8), "(s i s)8"},
		{"iisii", "i2 s i2"},
		{r("s", 7) + "i" + r("s", 7), "s7 i s7"},

		// a repeat that begins between the sides of the round
		{"s" + r("iss", 5) + "is", "(s i s)6"},
		{"ss" + r("issss", 5) + "iss", "(s2 i s2)6"},
		{"s" + r("issss", 5) + "isss", "(s i s3)6"},
		{"hh" + r("si", 6) + "d", "h2 (s i)6 d"},
		{"hs" + r("iss", 5) + "isd", "h (s i s)6 d"},

		// a repeat that begins inside a run
		{"ssssss" + "i" + r("ssssi", 3), "s2 (s4 i)4"},
		{"i" + r("ssssi", 3) + "ssssss", "(i s4)4 s2"},

		// done twice: written out unless there is enough of it
		{"sisi", "s i s i"},
		{"sisissss", "s i s i s4"},
		{"sidsid", "(s i d)2"},

		// nested, where it is really shorter
		{r(r("si", 3)+"dd", 2), "((s i)3 d2)2"},
		{r(r("ab", 3)+r("cd", 3), 4), "((a b)3 (c d)3)4"},
		{r(r(r("ab", 3)+"c", 3)+"d", 3), "((a b a b a b c)3 d)3"},
	} {
		got := letters(compress(actions(c.in), false))
		if got != c.want {
			t.Errorf("compress(%s) = %s, want %s", c.in, got, c.want)
		}
	}
}

// TestCompressFromBack takes the last of repeats that are as short.
func TestCompressFromBack(t *testing.T) {
	in := actions("i" + strings.Repeat("si", 11))
	if got, want := letters(compress(in, false)), "(i s)11 i"; got != want {
		t.Errorf("from the front: %s, want %s", got, want)
	}
	if got, want := letters(compress(in, true)), "i (s i)11"; got != want {
		t.Errorf("from the back: %s, want %s", got, want)
	}
}

// TestCompressLosesNothing spreads out again what it compressed.
func TestCompressLosesNothing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		var s []int
		for len(s) < 1+rnd.IntN(60) {
			body := make([]int, 1+rnd.IntN(5))
			for i := range body {
				body[i] = 'a' + rnd.IntN(3)
			}
			s = append(s, slices.Repeat(body, 1+rnd.IntN(5))...)
		}
		back := rnd.IntN(2) == 1
		parts := compress(s, back)
		if got := spread(parts); !slices.Equal(got, s) {
			t.Fatalf("%s was compressed to %s", fmt.Sprint(s), letters(parts))
		}
		if again := compress(s, back); letters(again) != letters(parts) {
			t.Fatalf("two forms of one sequence: %s and %s", letters(parts), letters(again))
		}
	}
}

func BenchmarkCompress(b *testing.B) {
	for _, n := range []int{60, 600, 6000, 60000} {
		plain := slices.Repeat([]int{'s'}, n)
		repeats := slices.Repeat(actions("ssssi"), n/5)
		split := append(append(actions("ss"), slices.Repeat(actions("issss"), n/5)...), 'd')
		rnd := rand.New(rand.NewPCG(3, 4))
		picture := make([]int, n)
		for i := range picture {
			picture[i] = 'a' + rnd.IntN(3)
		}
		for _, in := range []struct {
			name string
			s    []int
		}{{"plain", plain}, {"repeats", repeats}, {"split", split}, {"picture", picture}} {
			b.Run(fmt.Sprintf("%s=%d", in.name, n), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					compress(in.s, false)
				}
			})
		}
	}
}
