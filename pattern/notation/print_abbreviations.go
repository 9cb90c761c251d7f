package notation

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern/stitch"
)

// An Abbreviation is one line of the list that explains what written rounds use.
type Abbreviation struct {
	Abbr string // "" for a term that is used in full
	Term string
	Note string // how it is worked, where a pattern usually says so; else ""
}

// Abbreviations returns what the rounds use when they are written in the
// wording, each once, in alphabetical order. In the styles without
// abbreviations it returns the terms that need a note.
func Abbreviations(rounds []*Round, w Wording) []Abbreviation {
	p := newPrinter(w)
	p.seen = map[Abbreviation]bool{}
	p.write(rounds, nil, w.Breaks)
	var list []Abbreviation
	for a := range p.seen {
		if w.Style == Short || a.Note != "" {
			list = append(list, a)
		}
	}
	slices.SortFunc(list, func(a, b Abbreviation) int {
		return cmp.Or(
			cmp.Compare(strings.ToLower(a.Abbr), strings.ToLower(b.Abbr)),
			cmp.Compare(strings.ToLower(a.Term), strings.ToLower(b.Term)))
	})
	return list
}

// saw notes a term of the table for the list of abbreviations.
func (p *printer) saw(t term) {
	if p.seen == nil {
		return
	}
	abbr := t.abbr
	if p.style != Short {
		abbr = ""
	}
	sc := p.names(stitch.SC)
	p.seen[Abbreviation{abbr, t.name, fill(t.note, "sc", sc)}] = true
}

// sawStitch notes a stitch, and those that its name is made of.
func (p *printer) sawStitch(s stitch.Stitch) {
	if p.seen == nil {
		return
	}
	if s.Form != stitch.Plain && s.Form != stitch.Together && s.Form != stitch.Invisible {
		p.sawStitch(stitch.Stitch{Base: s.Base})
	}
	t := term{abbr: p.names(s), name: p.terms(s)}
	if n, ok := stitchNotes[s.Form]; ok {
		t.note = fill(n.note, "n", strconv.Itoa(int(s.N)), "loops", strconv.Itoa(int(s.N)+1), "st", p.names(stitch.Stitch{Base: s.Base}))
	}
	p.saw(t)
}

// A term is a word of written rounds that is no stitch of its own.
type term struct {
	abbr, name string
	note       string // {sc}: the name of the single crochet
	source     string
}

// The terms that are not stitches. Names are those of the Craft Yarn Council
// master list, Standards & Guidelines 2018-02-05, except as noted.
var (
	roundTerm    = term{"rnd(s)", "round(s)", "", "CYC master list"}
	stitchTerm   = term{"st(s)", "stitch(es)", "", "CYC master list"}
	spaceTerm    = term{"sp(s)", "space(s)", "", "CYC master list"}
	backTerm     = term{"BLO", "back loop only", "", "CYC master list"}
	frontTerm    = term{"FLO", "front loop only", "", "CYC master list"}
	increaseTerm = term{"inc", "increase", "2 {sc} in one stitch", "CYC master list; note common practice"}
	decreaseTerm = term{"dec", "decrease", "2 {sc} closed together: draw up a loop in each of the next 2 stitches, draw the yarn through all 3 loops", "CYC master list; note common practice"}
	magicTerm    = term{"", "magic ring", "lay the yarn in a ring, work the first stitches round it, then pull its tail to close it", "common practice"}
)

// stitchNotes say how a stitch of a form is worked: {n} is how many posts,
// {loops} one more, {st} the post. Common practice.
var stitchNotes = map[stitch.Form]struct{ note, source string }{
	stitch.Together:  {"{n} {st} closed together: work each of them, in a stitch of its own, up to the last step, then draw the yarn through all loops", "common practice"},
	stitch.Invisible: {"put the hook through the front loops only of the next {n} stitches, then finish as one {st}", "53stitches.com; theodoreandrose.com"},
	stitch.Cluster:   {"{n} {st} in one stitch, each worked up to the last step, closed together", "common practice"},
	stitch.Popcorn:   {"{n} {st} in one stitch; take the hook out, put it through the top of the first of them and draw the last loop through", "common practice"},
	stitch.Puff:      {"draw up {n} long loops in one stitch, then draw the yarn through them all", "common practice"},
	stitch.Bobble:    {"{n} {st} in one stitch, each worked up to the last step, closed together, pushed out on the right side", "common practice"},
	stitch.Picot:     {"chain {n}, slip stitch in the first of them", "common practice"},
	stitch.Shell:     {"{n} {st} in one stitch", "common practice"},
}
