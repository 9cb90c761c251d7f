// Package stitch is the table of stitches: what each is called in US and UK
// terms, how many stitches it uses and makes, how tall it stands, and the name
// of its symbol.
//
// A stitch is a post ([Base]) worked in some form ([Form]): single crochet,
// two single crochets together, a popcorn of five double crochets. The tables
// are in table.go.
package stitch

import (
	"fmt"
	"iter"
	"strconv"
)

// A Stitch is one kind of stitch. It is a plain value: two are the same stitch
// if they are equal. The zero Stitch is no stitch.
type Stitch struct {
	Base Base
	Form Form
	N    uint8 // how many posts (or, of a picot, chains); 0 where Form takes no number
	Post Post  // round the post of the stitch below instead of into its top
}

// The stitches most often met.
var (
	Ch     = Stitch{Base: Chain}
	SlSt   = Stitch{Base: Slip}
	SC     = Stitch{Base: Single}
	HDC    = Stitch{Base: Half}
	DC     = Stitch{Base: Double}
	TR     = Stitch{Base: Treble}
	DTR    = Stitch{Base: DoubleTreble}
	SC2Tog = Stitch{Base: Single, Form: Together, N: 2}
	InvDec = Stitch{Base: Single, Form: Invisible, N: 2}
)

// A Base is the post of a stitch, by its US name.
type Base uint8

// The posts, from low to high, then the less usual ones.
const (
	NoBase Base = iota
	Chain
	Slip
	Single
	Half
	Double
	Treble
	DoubleTreble
	TripleTreble
	ExtendedSingle
	ExtendedHalf
	ExtendedDouble
	ExtendedTreble
	ReverseSingle
	bases // how many there are, with NoBase
)

// A Form is the way in which posts make up one stitch.
type Form uint8

// The forms. Together and Invisible use N stitches of the round below; all
// others use one (a Picot none).
const (
	Plain     Form = iota
	Together       // N posts, each into a stitch of its own, closed together
	Invisible      // Together, through the front loops only
	Cluster        // N posts into one stitch, closed together
	Popcorn        // N finished posts into one stitch, first and last drawn together
	Puff           // N long loops into one stitch, closed together
	Bobble         // N posts into one stitch closed together, standing out on the right side
	Picot          // N chains closed to a ring
	Shell          // N finished posts into one stitch; as worked it is N stitches
	forms          // how many there are
)

// A Post says round which side of the post below a stitch is worked.
type Post uint8

// Into the top, as usual, or round the post from the front or the back.
const (
	Top Post = iota
	Front
	Back
)

// MaxTogether is the most stitches that one stitch closes together.
const MaxTogether = 9

// Terms are the two systems of English stitch names.
type Terms uint8

// The systems of names.
const (
	US Terms = iota
	UK
)

func (t Terms) String() string {
	if t == UK {
		return "UK"
	}
	return "US"
}

// Legs returns how many stitches of the round below s uses.
func (s Stitch) Legs() int {
	switch {
	case s.Base == NoBase, s.Form == Picot, s == Ch:
		return 0
	case s.Form == Together, s.Form == Invisible:
		return int(s.N)
	}
	return 1
}

// Tops returns how many stitches s makes for the next round to be worked into.
// Chains and picots make none unless the pattern counts them.
func (s Stitch) Tops() int {
	switch {
	case s.Base == NoBase, s.Form == Picot, s == Ch:
		return 0
	case s.Form == Shell:
		return int(s.N)
	}
	return 1
}

// Height returns how tall s stands, as a multiple of a single crochet of the
// same yarn and hook.
func (s Stitch) Height() float64 { return baseTable[s.Base].height }

// StartingChains returns how many chains stand in for s at the start of a
// round, and whether by convention they count as its first stitch.
func (s Stitch) StartingChains() (n int, counts bool) {
	b := baseTable[s.Base]
	return b.chains, b.counts
}

// Slashes returns how many short strokes the symbol of s has across its stem:
// the yarn-overs before inserting, with hdc told from dc by having none.
func (s Stitch) Slashes() int { return baseTable[s.Base].slashes }

// ID returns the name of s in symbols and data, such as "sc", "sc2tog",
// "invdec", "fpdc" or "dc5pop". It does not depend on the terms.
func (s Stitch) ID() string {
	id := baseTable[s.Base].id
	switch s.Post {
	case Front:
		id = "fp" + id
	case Back:
		id = "bp" + id
	}
	switch s.Form {
	case Plain:
		return id
	case Together:
		return id + strconv.Itoa(int(s.N)) + "tog"
	case Invisible:
		switch {
		case s.Base == Single && s.N == 2:
			return "invdec"
		default:
			return id + strconv.Itoa(int(s.N)) + "inv"
		}
	case Picot:
		return "picot" + strconv.Itoa(int(s.N))
	}
	return id + strconv.Itoa(int(s.N)) + formTable[s.Form].id
}

// Abbr returns the short name of s, such as "sc" (US) or "dc" (UK) for the same
// stitch, "sc2tog", "invdec", "FPdc" or "5-dc popcorn".
func (s Stitch) Abbr(t Terms) string { return s.name(baseTable[s.Base].abbr[t], "FP", "BP", t, false) }

// Term returns the name of s in full, such as "single crochet",
// "single crochet 2 together" or "front post double crochet".
func (s Stitch) Term(t Terms) string {
	return s.name(baseTable[s.Base].term[t], "front post ", "back post ", t, true)
}

func (s Stitch) name(base, front, back string, t Terms, full bool) string {
	switch s.Post {
	case Front:
		base = front + base
	case Back:
		base = back + base
	}
	switch s.Form {
	case Plain:
		return base
	case Together:
		if full {
			return fmt.Sprintf("%s %d together", base, s.N)
		}
		return fmt.Sprintf("%s%dtog", base, s.N)
	case Invisible:
		if full {
			if s.Base == Single && s.N == 2 {
				return "invisible decrease"
			}
			return fmt.Sprintf("invisible decrease of %d %s", s.N, base)
		}
		if s.Base == Single && s.N == 2 {
			return "invdec"
		}
		return fmt.Sprintf("inv%s%dtog", base, s.N)
	case Picot:
		return fmt.Sprintf("%s-%d picot", base, s.N)
	}
	return fmt.Sprintf("%d-%s %s", s.N, base, formTable[s.Form].name)
}

// Source returns where the row of s comes from.
func (s Stitch) Source() string { return baseTable[s.Base].source + "; " + formTable[s.Form].source }

// IsDecrease reports whether s closes several stitches to one.
func (s Stitch) IsDecrease() bool { return s.Legs() > 1 }

// Valid reports whether s is a stitch of the table.
func (s Stitch) Valid() bool {
	if s.Base == NoBase || s.Base >= bases || s.Form >= forms || s.Post > Back {
		return false
	}
	f := formTable[s.Form]
	if s.N < f.min || s.N > f.max {
		return false
	}
	if s.Form != Plain && f.base != nil && !f.base(s.Base) {
		return false
	}
	return s.Post == Top || baseTable[s.Base].post && f.post
}

// All returns every stitch of the table, the plain ones first.
func All() iter.Seq[Stitch] {
	return func(yield func(Stitch) bool) {
		for form := Plain; form < forms; form++ {
			for base := NoBase + 1; base < bases; base++ {
				for post := Top; post <= Back; post++ {
					for n := formTable[form].min; n <= formTable[form].max; n++ {
						if s := (Stitch{base, form, n, post}); s.Valid() && !yield(s) {
							return
						}
					}
				}
			}
		}
	}
}
