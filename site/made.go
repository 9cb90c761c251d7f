package site

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"path"
	"strings"

	"roundelay/chart/solid"
	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/shape"
)

// Pictures of the finished thing, drawn from its stitches.
const (
	pictureFile     = "picture.svg"
	leftPictureFile = "picture-left.svg"
	socialFile      = "social.png" // for links to the page elsewhere
	thumbFile       = "small.png"  // in the list of patterns
)

// Sizes of the pictures, in pixels: the social one as wide for its height as
// most places show it.
const (
	socialWide, socialHigh = 1200, 630
	thumbSide              = 240
)

// estimate works out what each size comes out as. A size that nothing can be
// told about has none.
func (b *builder) estimate(p *pattern.Pattern) map[*pattern.Size]*pattern.Estimate {
	out := map[*pattern.Size]*pattern.Estimate{}
	for _, s := range p.Sizes {
		if e, err := p.Estimate(s); err == nil {
			out[s] = e
		}
	}
	return out
}

// lower writes a name within a sentence; only in English that takes lower case.
func (l language) lower(name string) string {
	if l != english {
		return name
	}
	return strings.ToLower(name)
}

// made returns the estimate of the size that is drawn on the page, the first;
// nil if there is none.
func (w *work) made() *pattern.Estimate { return w.estimates[w.p.Sizes[0]] }

// drawMade draws what the pattern makes: a picture for the page, in both hands,
// one for links to it, a small one, and the outline of every piece.
func (w *work) drawMade() error {
	e := w.made()
	if e == nil {
		return nil
	}
	type drawn struct {
		name string
		draw func(io.Writer) error
	}
	files := []drawn{
		{pictureFile, func(b io.Writer) error { return solid.SVG(b, e, w.p.Title, solid.Options{}) }},
		{leftPictureFile, func(b io.Writer) error { return solid.SVG(b, e, w.p.Title, solid.Options{Left: true}) }},
		{socialFile, func(b io.Writer) error { return solid.PNG(b, e, socialWide, socialHigh, solid.Options{}) }},
	}
	if len(w.p.Photos) == 0 {
		files = append(files, drawn{thumbFile, func(b io.Writer) error { return solid.PNG(b, e, thumbSide, thumbSide, solid.Options{}) }})
	}
	for _, file := range files {
		if err := w.draw(file.name, file.draw); err != nil {
			return err
		}
	}
	for _, s := range w.p.Sizes {
		e := w.estimates[s]
		if e == nil {
			continue
		}
		for _, pe := range e.Pieces {
			if err := w.draw(w.outlineFile(s, pe.Piece), func(b io.Writer) error {
				return solid.Profile(b, pe, e, w.name(s, pe.Piece)+", outline", solid.Options{})
			}); err != nil {
				return err
			}
		}
	}
	return nil
}

// draw makes a file of the pattern from what f writes.
func (w *work) draw(name string, f func(io.Writer) error) error {
	return w.file(w.path(name), func() ([]byte, error) {
		var b bytes.Buffer
		err := f(&b)
		return b.Bytes(), err
	})
}

func (w *work) outlineFile(size *pattern.Size, piece *pattern.Piece) string {
	return "outline-" + w.key(size, piece) + ".svg"
}

// picture returns the drawn picture of the thing; nil if there is none.
func (w *work) picture(left bool) *picture {
	e := w.made()
	if e == nil {
		return nil
	}
	pic := &picture{Src: pictureFile, Drawn: true}
	if left {
		pic.Src = leftPictureFile
	}
	var parts []string
	for _, pe := range e.Pieces {
		parts = append(parts, w.lower(pe.Piece.Name)+" "+w.sizeWords(pe, false))
	}
	pic.Alt = w.say("%s, drawn from its stitches: %s.", w.p.Title, strings.Join(parts, "; "))
	return pic
}

// sizeWords says how large a piece comes out, with the range that it most
// likely lies in or without.
func (l language) sizeWords(e *pattern.PieceEstimate, bands bool) string {
	mm := func(a shape.Amount, what string) string {
		s := l.say(what, fmt.Sprintf("%.0f"+nbsp+"mm", a.Value))
		if bands {
			s += fmt.Sprintf(" (%.0f–%.0f)", a.Low, a.High)
		}
		return s
	}
	across := mm(e.AcrossMM, "%s across")
	if e.MiddleMM > 0 {
		across = mm(e.AcrossMM, "%s long") + ", " + mm(e.WideMM, "%s wide")
	}
	if e.Finish == pattern.LaidFlat {
		return across + ", " + l.say("lying flat")
	}
	return across + ", " + mm(e.HeightMM, "%s high")
}

// social returns the address of the picture for links to the page: in full,
// where the book has an address.
func (w *work) social() *socialPicture {
	pic := w.picture(false)
	if pic == nil {
		return nil
	}
	out := &socialPicture{Address: socialFile, Alt: pic.Alt, Width: socialWide, Height: socialHigh}
	if w.book.Address != "" {
		out.Address = w.book.Address + path.Join(w.p.Slug, socialFile)
	}
	return out
}

// A socialPicture is shown by places that link to a page.
type socialPicture struct {
	Address, Alt  string
	Width, Height int
}

// Made is what a pattern comes to, by the estimates.
type made struct {
	Picture *picture // beside photos; nil where it stands at the head of the page
	Basis   string
	Sizes   []madeSize
}

type madeSize struct {
	Name   string // "" of the only size
	Stated string
	Pieces []madePiece
	Yarns  []string
	Basis  string // of the amounts of yarn
}

type madePiece struct {
	Name, Say string
	Outline   picture
	Concerns  []string
}

// comesTo returns the part of the page about size and yarn; nil if nothing can
// be told.
func (w *work) comesTo(v variant) *made {
	out := &made{}
	if len(w.p.Photos) > 0 {
		out.Picture = w.picture(v.left)
	}
	for _, s := range w.p.Sizes {
		e := w.estimates[s]
		if e == nil {
			continue
		}
		if out.Basis == "" {
			out.Basis = w.fabricWords(e.Pieces[0].Fabric, v.wording())
		}
		ms := madeSize{Stated: cmp.Or(s.FinishedSize, w.p.FinishedSize)}
		if len(w.p.Sizes) > 1 {
			ms.Name = capital(s.Name)
		}
		for _, pe := range e.Pieces {
			mp := madePiece{
				Name: pe.Piece.Name,
				Say:  w.sizeWords(pe, true) + ".",
				Outline: picture{Src: w.outlineFile(s, pe.Piece),
					Alt: w.say("Outline of the %s: %s.", w.lower(w.name(s, pe.Piece)), w.sizeWords(pe, false))},
			}
			if pe.Finish == pattern.Filled {
				mp.Say += " " + w.say("Filling: %s.", w.amount(pe.FillingG, "g"))
			}
			if pe.Piece.Make > 1 {
				mp.Say += " " + w.say("Made %d times.", pe.Piece.Make)
			}
			for _, c := range pe.Concerns() {
				mp.Concerns = append(mp.Concerns, capital(c)+".")
			}
			ms.Pieces = append(ms.Pieces, mp)
		}
		for _, y := range e.Yarns {
			if y.Metres.Value == 0 {
				continue
			}
			say := capital(cmp.Or(y.Yarn.Colour, y.Yarn.Key, w.say("yarn"))) + ": " + w.amount(y.Metres, "m")
			if y.Grams.Value > 0 {
				say += ", " + w.amount(y.Grams, "g")
			}
			ms.Yarns = append(ms.Yarns, say+".")
			ms.Basis = w.say(y.Basis.String())
		}
		out.Sizes = append(out.Sizes, ms)
	}
	if len(out.Sizes) == 0 {
		return nil
	}
	return out
}

// amount writes an amount with its range, if it has one: "9 g (7–11)". What is
// under 10 is told to a half.
func (l language) amount(a shape.Amount, unit string) string {
	step := 1.0
	if a.Value < 10 {
		step = 0.5
	}
	round := func(x float64) string { return l.number(math.Round(x/step) * step) }
	s := round(a.Value) + nbsp + unit
	switch low, high := round(a.Low), round(a.High); {
	case a.Value < step/2:
		return l.say("less than %s", l.number(step)+nbsp+unit)
	case low != high:
		s += " (" + low + "–" + high + ")"
	}
	return l.say("about %s", s)
}

// fabricWords says what gauge an estimate goes by.
func (l language) fabricWords(f pattern.Fabric, words notation.Wording) string {
	if f.Basis == pattern.Stated {
		return l.statedGauge(f.Gauge, words)
	}
	return f.Words(words.Terms)
}
