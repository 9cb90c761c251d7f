package chart

import (
	"math"
	"testing"
)

func TestContrast(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want float64
	}{
		{"#000000", "#ffffff", 21}, {"#ffffff", "#ffffff", 1},
		{"#767676", "#ffffff", 4.54}, // the grey that just passes for text, by common knowledge
	} {
		if got := contrast(rgb(tt.a), rgb(tt.b)); math.Abs(got-tt.want) > 0.01 {
			t.Errorf("contrast of %s and %s is %.2f, want %.2f", tt.a, tt.b, got, tt.want)
		}
	}
}

// TestInks checks that symbols stand out from paper, and words more.
func TestInks(t *testing.T) {
	paper := inkTable[paperInk]
	for i, want := range map[ink]float64{
		oddInk: 4.5, evenInk: 4.5, incInk: 4.5, decInk: 4.5, ghostInk: 3, stepInk: 3, arrowInk: 3, solidInk: 3,
		numberInk: 4.5, countInk: 4.5, textInk: 4.5, noteInk: 4.5,
	} {
		look := inkTable[i]
		for _, c := range [][2]string{{look.light, paper.light}, {look.dark, paper.dark}, {look.print, paper.print}} {
			if got := contrast(rgb(c[0]), rgb(c[1])); got < want {
				t.Errorf("%s: %s on %s has a contrast of %.2f, want %.1f", look.class, c[0], c[1], got, want)
			}
		}
	}
	// Odd from even rounds, by lightness alone.
	if got := contrast(rgb(inkTable[oddInk].light), rgb(inkTable[evenInk].light)); got < 2 {
		t.Errorf("odd and even rounds differ by %.2f", got)
	}
}

func TestBands(t *testing.T) {
	for _, hex := range []string{"#000000", "#ffffff", "#c9563c", "#f2ede0", "#123456", "#ffe600", "#00a651", "#808080"} {
		o := bandOpacity(hex)
		if got := bandContrast(hex, o); got < symbolContrast {
			t.Errorf("%s at %.2f leaves a contrast of %.2f", hex, o, got)
		}
		if o < 0.08 {
			t.Errorf("%s is laid on at %.2f, which can't be seen", hex, o)
		}
	}
}
