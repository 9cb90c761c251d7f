package site

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"roundelay/chart/solid"
	"roundelay/pattern"
	"roundelay/pattern/notation"
)

// A palette is a choice of colours to try a pattern in.
type palette struct {
	name    string
	colours []string // for the yarns in turn
}

// palettes are the choices beside the maker's own. In each the first two
// colours differ in lightness, so that a stripe survives in grey.
var palettes = []palette{
	{"Harbour", []string{"#2f5575", "#f0e8d6", "#c4583f", "#e0ab3c", "#7f9aa3", "#3a3f44"}},
	{"Kelp", []string{"#687a45", "#ece2c4", "#a4552f", "#2f4a4a", "#c9a24a", "#8a8f7a"}},
	{"Dusk", []string{"#f1d5c3", "#6a4d78", "#d98a6b", "#2e4460", "#b9a7c4", "#7c4a52"}},
}

// trySide is the side of the pictures of the colour try, in pixels.
const trySide = 260

type coloursPage struct {
	page
	Name  string
	Tries []colourTry
}

// A colourTry is the thing in one choice of colours, and in the grey of it.
type colourTry struct {
	Name         string
	Yarns        []yarnRow
	Colour, Grey picture
	Say          string // how it does in grey; "" for one yarn
}

const coloursFile = "colours.html"

// tryColours makes the page that has the thing in four choices of colours. It
// reports whether there is one: not for a pattern that nothing can be told about.
func (w *work) tryColours() (bool, error) {
	e := w.made()
	if e == nil {
		return false, nil
	}
	out := coloursPage{page: w.builder.page(w.path(coloursFile), w.say("%s in other colours", w.p.Title)), Name: w.p.Title}
	out.Description = w.p.Title + " in four choices of colours, each beside its grey."
	for i, c := range append([]palette{{name: "As written"}}, palettes...) {
		t := colourTry{Name: c.name}
		var hexes []string
		for k, y := range e.Yarns {
			hex := y.Yarn.Hex
			if i > 0 {
				hex = c.colours[k%len(c.colours)]
			}
			hexes = append(hexes, hex)
			t.Yarns = append(t.Yarns, yarnRow{Hex: hex, Name: cmp.Or(y.Yarn.Key, "yarn")})
		}
		opt := solid.Options{Colours: hexes}
		name := "try-" + strconv.Itoa(i+1)
		t.Colour = picture{name + ".png", fmt.Sprintf("%s in the colours “%s”.", w.p.Title, c.name), trySide, trySide, true}
		t.Grey = picture{name + "-grey.png", "The same in grey.", trySide, trySide, true}
		for _, pic := range []picture{t.Colour, t.Grey} {
			if err := w.draw(pic.Src, func(b io.Writer) error { return solid.PNG(b, e, trySide, trySide, opt) }); err != nil {
				return false, err
			}
			opt.Grey = true
		}
		t.Say = apartInGrey(t.Yarns)
		out.Tries = append(out.Tries, t)
	}
	return true, w.file(w.path(coloursFile), func() ([]byte, error) { return w.execute("colours", out) })
}

// apartLightness is by how much the lightness (CIE L*, 0 to 100) of two yarns has
// to differ for them to be told apart in grey (judgement).
const apartLightness = 15

// apartInGrey says which yarns look alike without their colours; "" where there
// is only one, or where a colour is not stated.
func apartInGrey(yarns []yarnRow) string {
	var alike []string
	for i, a := range yarns {
		for _, b := range yarns[:i] {
			la, ok := lightness(a.Hex)
			lb, ok2 := lightness(b.Hex)
			if !ok || !ok2 {
				return ""
			}
			if math.Abs(la-lb) < apartLightness {
				alike = append(alike, b.Name+" and "+a.Name)
			}
		}
	}
	switch {
	case len(yarns) < 2:
		return ""
	case len(alike) == 0:
		return "In grey all yarns stay apart."
	}
	return "In grey these are hard to tell apart: " + strings.Join(alike, "; ") + "."
}

// lightness returns the lightness of a colour such as "#c9563c" (CIE 1976 L*, of
// sRGB by IEC 61966-2-1), from 0 to 100.
func lightness(hex string) (float64, bool) {
	n, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 24)
	if err != nil || len(hex) != 7 {
		return 0, false
	}
	linear := func(v uint64) float64 {
		x := float64(v&0xff) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	y := 0.2126*linear(n>>16) + 0.7152*linear(n>>8) + 0.0722*linear(n)
	if y <= 216.0/24389 {
		return y * 24389 / 27, true
	}
	return 116*math.Cbrt(y) - 16, true
}

type circlesPage struct {
	page
	Name, Say string
	Sheet     sheet
}

const circlesFile = "circles.html"

// circles makes the sheet with true-size circles to lay the work on. It reports
// whether there is one: only for a piece that begins flat, in a stated gauge.
func (w *work) circles() (bool, error) {
	pe, discs := w.discs()
	if len(discs) == 0 {
		return false, nil
	}
	out := circlesPage{page: w.builder.page(w.path(circlesFile), w.say("%s, circles to lay it on", w.p.Title)), Name: w.p.Title}
	out.Description = "Circles in true size for checking the gauge of " + w.p.Title + " as it grows."
	out.PrintFoot = w.p.Title + ", print at 100 %"
	out.Say = fmt.Sprintf("For the gauge of %s. After one of these rounds lay the beginning of the %s on its circle, flat and not stretched.",
		english.fabricWords(pe.Fabric, notation.Wording{Terms: w.p.Terms}), strings.ToLower(pe.Piece.Name))
	out.Sheet = newSheet(discs)
	return true, w.file(w.path(circlesFile), func() ([]byte, error) { return w.execute("circles", out) })
}

// A disc is how wide the work is after a round.
type disc struct {
	round    int
	acrossMM float64
}

// discRounds are the rounds after which a beginning is laid down and measured.
var discRounds = []int{4, 6, 8}

// maxDiscMM is the widest circle that goes on a sheet of paper, A4 or letter.
const maxDiscMM = 165

// discs returns the first piece that begins as a flat disc, and how wide that is.
func (w *work) discs() (*pattern.PieceEstimate, []disc) {
	e := w.made()
	if e == nil {
		return nil, nil
	}
	for _, pe := range e.Pieces {
		if pe.Fabric.Basis != pattern.Stated {
			continue
		}
		var out []disc
		for _, n := range discRounds {
			mm := pe.DiscMM(n)
			if mm == 0 || mm > maxDiscMM {
				break
			}
			out = append(out, disc{pe.Rounds[n-1].Round.Number, mm})
		}
		if len(out) > 0 {
			return pe, out
		}
	}
	return nil, nil
}

// A sheet is circles and rulers to be printed in true size, in millimetres.
type sheet struct {
	Width, Height, Middle float64
	Circles               []sheetCircle
	RulerAt               float64
	Millimetres, Inches   []float64 // where the rulers have their marks, from their start
}

type sheetCircle struct {
	Radius, TextAt float64
	Say            string
}

func newSheet(discs []disc) sheet {
	const edge = 4
	widest := discs[len(discs)-1].acrossMM
	s := sheet{Width: math.Ceil(max(widest, 4*mmPerInch) + 2*edge), RulerAt: math.Ceil(widest + 5*edge)}
	s.Height = s.RulerAt + 30
	s.Middle = widest/2 + edge
	for _, d := range discs {
		s.Circles = append(s.Circles, sheetCircle{round2(d.acrossMM / 2), round2(s.Middle + d.acrossMM/2 - 4), fmt.Sprintf("round %d: %.0f mm", d.round, d.acrossMM)})
	}
	s.Middle = round2(s.Middle)
	for i := range 11 {
		s.Millimetres = append(s.Millimetres, float64(edge+10*i))
	}
	for i := range 5 {
		s.Inches = append(s.Inches, round2(edge+float64(i)*mmPerInch))
	}
	return s
}

func round2(x float64) float64 { return math.Round(x*100) / 100 }
