package chart

import (
	"bytes"
	"fmt"
	"image/png"
	"io"
	"regexp"
	"testing"

	"roundelay/pattern"
)

// TestPNG checks that what the scene places is inked in the picture there, and
// that paper is left where nothing is.
func TestPNG(t *testing.T) {
	for _, s := range samples {
		p := piece(s.style, worked(s.specs...))
		var a, b bytes.Buffer
		for _, w := range []io.Writer{&a, &b} {
			if err := PNG(w, &pattern.Pattern{}, p, 600, Options{}); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: two pictures differ", s.name)
		}
		img, err := png.Decode(&a)
		if err != nil {
			t.Fatal(err)
		}
		if got := img.Bounds().Dx(); got != 600 {
			t.Errorf("%s is %d pixels wide", s.name, got)
		}
		paper := img.At(1, 1)
		sc, err := newScene(&pattern.Pattern{}, p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		scale := 600 / (sc.high.X - sc.low.X)
		inked := func(p point, reach float64) bool {
			x0, y0, r := int((p.X-sc.low.X)*scale), int((p.Y-sc.low.Y)*scale), int(reach*scale)
			for x := x0 - r; x <= x0+r; x++ {
				for y := y0 - r; y <= y0+r; y++ {
					if img.At(x, y) != paper {
						return true
					}
				}
			}
			return false
		}
		for i := range sc.rings {
			for _, m := range sc.rings[i].marks {
				if !inked(m.at, m.glyph.h/2) {
					t.Errorf("%s: no ink for %s at %.1f", s.name, m.glyph.id, m.at)
				}
			}
		}
		if inked(point{sc.low.X + 0.5, sc.low.Y + 0.5}, 0.2) {
			t.Errorf("%s: ink in the corner", s.name)
		}
	}
	if err := PNG(io.Discard, &pattern.Pattern{}, piece(pattern.Spiral, worked("6*sc")), 1<<20, Options{}); err == nil {
		t.Error("a picture of a million pixels across is drawn")
	}
}

var pageObject = regexp.MustCompile(`/Type /Page\b`)

func TestPDF(t *testing.T) {
	draw := func(specs []string, sheet Sheet) []byte {
		var a, b bytes.Buffer
		for _, w := range []io.Writer{&a, &b} {
			if err := PDF(w, &pattern.Pattern{}, piece(pattern.Spiral, worked(specs...)), sheet, Options{}); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("two drawings of %.40q differ", specs)
		}
		return a.Bytes()
	}
	for _, tt := range []struct {
		name  string
		specs []string
		sheet Sheet
		pages int
	}{
		{"a small ball", ball(6, 4, 2), Sheet{}, 1},
		{"on Letter, which is shorter", ball(6, 4, 2), Sheet{Paper: Letter}, 2},     // a half each
		{"with large symbols", ball(6, 4, 2), Sheet{SymbolMM: 8.5}, 4},              // two for the opening half, of 20 widths of 11.9 mm
		{"in large print", ball(6, 4, 2), Sheet{Large: true}, 6},                    // and two of words
		{"a wide disc", ball(6, 29, 0)[:29], Sheet{}, 7},                            // three by two, and the key
		{"a disc with empty corners", ball(6, 20, 0)[:20], Sheet{SymbolMM: 20}, 63}, // ten by seven but for eight at the corners, and the key
	} {
		got := len(pageObject.FindAll(draw(tt.specs, tt.sheet), -1))
		if got != tt.pages {
			t.Errorf("%s takes %d pages, want %d", tt.name, got, tt.pages)
		}
	}
	if err := PDF(io.Discard, &pattern.Pattern{}, piece(pattern.Spiral, worked(ball(6, 40, 0)[:40]...)), Sheet{SymbolMM: 60}, Options{}); err == nil {
		t.Error("hundreds of pages are printed")
	}
}

func TestTiles(t *testing.T) {
	const room = 100
	for _, tt := range []struct {
		length float64
		want   int
	}{{50, 1}, {100, 1}, {100.5, 2}, {188, 2}, {188.5, 3}} {
		if got := tiles(tt.length, room); got != tt.want {
			t.Errorf("%g takes %d, want %d", tt.length, got, tt.want)
		}
		if n := float64(tiles(tt.length, room)); n*(room-overlapMM)+overlapMM < tt.length {
			t.Error(fmt.Sprint(tt.length, " is not all shown"))
		}
	}
}

// TestPDFParts checks that each page of several holds only its part: all pages
// together are little more than the same chart on one.
func TestPDFParts(t *testing.T) {
	size := func(symbolMM float64) int {
		var b bytes.Buffer
		if err := PDF(&b, &pattern.Pattern{}, piece(pattern.Spiral, disc(3000)), Sheet{SymbolMM: symbolMM}, Options{}); err != nil {
			t.Fatal(err)
		}
		return b.Len()
	}
	if one, many := size(1), size(5); many > 2*one {
		t.Errorf("%d bytes on one page, %d on many", one, many)
	}
}
