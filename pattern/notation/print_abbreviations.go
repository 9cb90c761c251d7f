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
		if a.Abbr != "" || a.Note != "" {
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
	p.seen[Abbreviation{abbr, t.name, fill(t.note, "sc", p.called(stitch.SC))}] = true
}

// sawStitch notes a stitch, and those that its name is made of.
func (p *printer) sawStitch(s stitch.Stitch) {
	if p.seen == nil {
		return
	}
	if plain := (stitch.Stitch{Base: s.Base}); s != plain && (!p.english || compound(s)) {
		p.sawStitch(plain)
		if !p.english {
			return // the rest of the name is in full
		}
	}
	t := term{abbr: p.names.short(s), name: p.names.full(s)}
	if p.english {
		t.note = fill(stitchNotes[s.Form].note, "n", strconv.Itoa(int(s.N)), "st", p.called(stitch.Stitch{Base: s.Base}))
	}
	p.saw(t)
}

// A term is a word of written rounds that is no stitch of its own.
type term struct {
	abbr, name string
	note       string // {sc}: the name of the single crochet
	source     string
}

// Term returns the name of a stitch in full, in the wording.
func (w Wording) Term(s stitch.Stitch) string {
	_, names := lookup(w)
	return names.full(s)
}

// Abbr returns the abbreviation of a stitch in the wording.
func (w Wording) Abbr(s stitch.Stitch) string {
	_, names := lookup(w)
	return names.short(s)
}
