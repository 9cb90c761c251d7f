// Package pattern is the model of a pattern worked in the round: its pieces,
// sizes, yarns and steps, loaded from a TOML file and expanded to stitches.
package pattern

import (
	"time"

	"roundelay/pattern/notation"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// A Book is a shelf of patterns that are published together.
type Book struct {
	File     *source.File // book.toml; of a pattern on its own, that pattern's file
	Title    string
	Summary  string
	Author   string
	Address  string // where it is published, ending in a slash; "" if that isn't stated
	Language string // as a tag, such as "en-GB"
	Licence  string
	Patterns []*Pattern // in the order of the book; those that could be read
}

// A Pattern is one pattern file.
type Pattern struct {
	File  *source.File
	Dir   string // its folder in the file system that it was loaded from
	Slug  string // name of its folder and page: lower case letters, digits and hyphens
	Title string

	Summary       string
	Author        string
	Version       string
	Date          time.Time
	Terms         stitch.Terms // the terms that the file is written in
	Level         string       // a project level, as in standards: basic, easy, intermediate, complex
	For           string       // who the finished thing is for
	Licence       string
	FinishedItems string // what may be done with things made from the pattern
	Contact       string
	FinishedSize  string // as the maker states it
	Photos        []Photo
	Gauge         *Gauge // nil if none is stated
	Hook          Hook
	Swatch        *Swatch // weighed or measured for yarn; nil if none was
	Yarns         []Yarn
	Materials     []string // notions: stuffing, marker, needle, eyes
	Notes         []string
	Finishing     []string
	Care          string
	Changes       []Change // newest first
	Sizes         []*Size  // at least one; the only one of a pattern without sizes has no name
	Allowed       []Allowance
	Prose         *source.File // prose.md; nil if there is none
}

// A Size is a pattern in one size, expanded. What a size does not state itself
// is as in the pattern.
type Size struct {
	Name         string
	At           source.Span // its header; zero for the only size of a pattern without sizes
	FinishedSize string      // as the maker states it
	Gauge        *Gauge      // nil if none is stated
	Hook         Hook
	Yarns        []Yarn // those of the pattern in the same order, with the amounts for this size
	Pieces       []*Piece
}

// A Piece is worked in rounds without a break.
type Piece struct {
	Name     string
	Key      string // Name in lower case letters, digits and hyphens
	At       source.Span
	Style    Style
	Make     int  // how many to make; at least 1
	Closed   bool // the last round is gathered
	Stuffed  bool
	Hollow   bool     // it is said not to be stuffed
	Firmness Firmness // how hard it is filled
	FillingG float64  // filling in grams as the maker weighed it; 0 if she did not
	Flat     *bool    // whether it lies flat; nil if that is left to be told from its rounds
	Cornered bool     // its chart is drawn with the corners that its rounds have
	Chain    notation.ChainRule
	Plan     *Plan              // nil if its rounds are written in the file
	Lines    []*notation.Line   // as written, or as planned
	Verdicts []notation.Verdict // one for each of Lines: whether what it says comes out
	Rounds   []*notation.Round  // as worked; Rounds[0] is round 0 where the piece starts from a chain worked along both sides
	Steps    []Step             // in the order they are done
	Yarns    []int              // the yarn (index into Pattern.Yarns) of each notation.Stitch.Yarn; the first is the one it begins with; empty if the pattern states no yarn
}

// Style says how one round goes over to the next.
type Style uint8

// The styles.
const (
	Spiral Style = iota
	Joined
)

// A Step is something to do between rounds.
type Step struct {
	After int    // number of the round after which it is done; 0 before the first
	Do    string // "stuff", "close", "eyes", "yarn", "turn", "mark", "fasten off" or "note"
	Say   string // the maker's words; may be empty, save of a note
	At    source.Span
}

// A Gauge is stitches and rounds over a length, with the stitch it was measured
// in. One of the two may be unstated; the other is then told from the usual shape
// of the stitch.
type Gauge struct {
	Stitch   stitch.Stitch
	Stitches float64 // 0 if unstated
	Rounds   float64 // 0 if unstated
	OverMM   float64
}

// WidthMM returns the width of a stitch.
func (g *Gauge) WidthMM() float64 {
	if g.Stitches == 0 {
		return g.HeightMM() / usualHeight(g.Stitch)
	}
	return g.OverMM / g.Stitches
}

// HeightMM returns the height of a round.
func (g *Gauge) HeightMM() float64 {
	if g.Rounds == 0 {
		return g.WidthMM() * usualHeight(g.Stitch)
	}
	return g.OverMM / g.Rounds
}

// A Hook is a hook by its diameter in millimetres, with its US name beside it.
type Hook struct {
	MM float64 // 0 if none is stated
	US string
}

// A Yarn is one yarn or colour.
type Yarn struct {
	Key           string // "MC": the name that the rounds use
	Colour        string
	Hex           string // "#c9563c"; "" if none
	Weight        int    // CYC class, 0 to 7; -1 if unstated
	Fibre         string
	MetresPer100g float64 // 0 if unstated
	Grams         float64 // amount stated by the maker; 0 if none
	Metres        float64
	WrapsPerInch  float64 // 0 if unstated
	BeforeG       float64 // of the ball, weighed before the thing was made; 0 if it was not weighed
	AfterG        float64 // and after
}

// A Photo is a picture with its words.
type Photo struct {
	File string // relative to the pattern's folder, with slashes
	Alt  string
	At   source.Span
}

// A Change is one correction or revision.
type Change struct {
	Version string
	Date    time.Time
	Say     string
}

// YarnNames returns what the yarns of a piece are called in its rounds: by
// their keys in the short style, else by their colours.
func (p *Pattern) YarnNames(piece *Piece, style notation.Style) []string {
	names := make([]string, len(piece.Yarns))
	for i, y := range piece.Yarns {
		names[i] = p.Yarns[y].Key
		if colour := p.Yarns[y].Colour; style != notation.Short && colour != "" {
			names[i] = colour
		}
	}
	return names
}

// Stitches returns the sum of the counts of all rounds.
func (p *Piece) Stitches() int {
	sum := 0
	for _, r := range p.Rounds {
		sum += r.Made
	}
	return sum
}

// Widest returns the greatest count of a round; 0 if there are no rounds.
func (p *Piece) Widest() int {
	widest := 0
	for _, r := range p.Rounds {
		widest = max(widest, r.Made)
	}
	return widest
}

// StepsAfter returns what is done after the round of that number, or, for 0,
// before the first.
func (p *Piece) StepsAfter(round int) []Step {
	var out []Step
	for _, s := range p.Steps {
		if s.After == round {
			out = append(out, s)
		}
	}
	return out
}

// An Allowance is a finding that the maker means to be as it is, with her
// reason.
type Allowance struct {
	Code   string // of the check
	Reason string
	Round  int // only findings about this round; 0 for all
	At     source.Span
}
