package stitch

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// rows reads a published table: lines with # are its source, the first of the
// others is its head.
func rows(t *testing.T, name string) [][]string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	var out [][]string
	for line := range strings.Lines(string(text)) {
		if !strings.HasPrefix(line, "#") {
			out = append(out, strings.Split(strings.TrimRight(line, "\n"), "\t"))
		}
	}
	if len(out) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	return out[1:]
}

// named returns the stitch with that US abbreviation.
func named(t *testing.T, abbr string) Stitch {
	t.Helper()
	for s := range All() {
		if s.Abbr(US) == abbr {
			return s
		}
	}
	t.Fatalf("no stitch is abbreviated %q", abbr)
	return Stitch{}
}

// first returns the first name of a cell such as "trtr, ttr" or "treble crochet
// (also 'triple')".
func first(cell string) string {
	cell, _, _ = strings.Cut(cell, ",")
	cell, _, _ = strings.Cut(cell, " (")
	return cell
}

func TestNamesAgainstPublishedTable(t *testing.T) {
	compounds := map[string]Stitch{ // the table gives the name of the form, not of one stitch
		"bo":       {Base: Double, Form: Bobble, N: 5},
		"CL":       {Base: Double, Form: Cluster, N: 3},
		"pc":       {Base: Double, Form: Popcorn, N: 5},
		"ps, puff": {Base: Half, Form: Puff, N: 3},
		"sh":       {Base: Double, Form: Shell, N: 5},
	}
	for _, row := range rows(t, "abbreviations.tsv") {
		if s, ok := compounds[row[0]]; ok {
			for _, terms := range []Terms{US, UK} {
				name := strings.TrimSuffix(row[1+2*int(terms)], " stitch")
				if !strings.HasSuffix(s.Term(terms), " "+name) {
					t.Errorf("%s term of %s is %q, which should end in %q", terms, s.ID(), s.Term(terms), name)
				}
			}
			continue
		}
		s := named(t, row[0])
		for i, got := range []string{s.Abbr(US), s.Term(US), s.Abbr(UK), s.Term(UK)} {
			if want := first(row[i]); got != want {
				t.Errorf("%s: got %q, the published table has %q", row[0], got, want)
			}
		}
	}
}

// What the table gives as published has to be in the published table, on a page
// that was seen.
func TestSourceSaysMemory(t *testing.T) {
	seen := map[string]bool{}
	for _, row := range rows(t, "abbreviations.tsv") {
		if row[4] != "memory" {
			seen[row[0]] = true
		}
	}
	for s := range All() {
		if s.Form == Plain && s.Post == Top && !seen[s.Abbr(US)] && !strings.Contains(s.Source(), "memory") {
			t.Errorf("%s was not seen in a published list, and its source, %q, doesn't say so", s.Abbr(US), s.Source())
		}
	}
}

func TestEveryStitchIsWhole(t *testing.T) {
	id := regexp.MustCompile(`^[a-z0-9]+$`)
	ids, names := map[string]Stitch{}, map[string]Stitch{}
	unique := func(seen map[string]Stitch, key string, s Stitch) {
		t.Helper()
		if other, twice := seen[key]; twice {
			t.Errorf("%+v and %+v are both %q", other, s, key)
		}
		seen[key] = s
	}
	n := 0
	for s := range All() {
		n++
		if !s.Valid() {
			t.Errorf("%+v is in the table but not valid", s)
		}
		if !id.MatchString(s.ID()) {
			t.Errorf("ID %q can't stand in a symbol's name", s.ID())
		}
		unique(ids, s.ID(), s)
		for _, terms := range []Terms{US, UK} { // so US names go over to UK names one to one
			unique(names, terms.String()+" abbr "+strings.ToLower(s.Abbr(terms)), s)
			unique(names, terms.String()+" term "+s.Term(terms), s)
		}
		if s.Height() <= 0 {
			t.Errorf("%s has no height", s.ID())
		}
		if strings.HasPrefix(s.Source(), ";") || strings.HasSuffix(s.Source(), "; ") {
			t.Errorf("%s has no source", s.ID())
		}
		if s.IsDecrease() != (s.Legs() > s.Tops() && s.Legs() > 1) {
			t.Errorf("%s: IsDecrease is %t with %d legs and %d tops", s.ID(), s.IsDecrease(), s.Legs(), s.Tops())
		}
	}
	if n < 100 {
		t.Errorf("the table has %d stitches", n)
	}
}

func TestLegsAndTops(t *testing.T) {
	for _, test := range []struct {
		stitch     Stitch
		legs, tops int
		id, us, uk string
	}{
		{Ch, 0, 0, "ch", "ch", "ch"},
		{SlSt, 1, 1, "slst", "sl st", "sl st"},
		{SC, 1, 1, "sc", "sc", "dc"},
		{HDC, 1, 1, "hdc", "hdc", "htr"},
		{DC, 1, 1, "dc", "dc", "tr"},
		{TR, 1, 1, "tr", "tr", "dtr"},
		{DTR, 1, 1, "dtr", "dtr", "trtr"},
		{SC2Tog, 2, 1, "sc2tog", "sc2tog", "dc2tog"},
		{Stitch{Base: Single, Form: Together, N: 3}, 3, 1, "sc3tog", "sc3tog", "dc3tog"},
		{Stitch{Base: Double, Form: Together, N: 9}, 9, 1, "dc9tog", "dc9tog", "tr9tog"},
		{InvDec, 2, 1, "invdec", "invdec", "invdec"},
		{Stitch{Base: Single, Form: Invisible, N: 3}, 3, 1, "sc3inv", "invsc3tog", "invdc3tog"},
		{Stitch{Base: Double, Post: Front}, 1, 1, "fpdc", "FPdc", "FPtr"},
		{Stitch{Base: Single, Post: Back}, 1, 1, "bpsc", "BPsc", "BPdc"},
		{Stitch{Base: Double, Form: Together, N: 2, Post: Front}, 2, 1, "fpdc2tog", "FPdc2tog", "FPtr2tog"},
		{Stitch{Base: Double, Form: Cluster, N: 3}, 1, 1, "dc3cl", "3-dc cluster", "3-tr cluster"},
		{Stitch{Base: Double, Form: Popcorn, N: 5}, 1, 1, "dc5pop", "5-dc popcorn", "5-tr popcorn"},
		{Stitch{Base: Half, Form: Puff, N: 3}, 1, 1, "hdc3puff", "3-hdc puff", "3-htr puff"},
		{Stitch{Base: Double, Form: Bobble, N: 5}, 1, 1, "dc5bo", "5-dc bobble", "5-tr bobble"},
		{Stitch{Base: Double, Form: Shell, N: 5}, 1, 5, "dc5shell", "5-dc shell", "5-tr shell"},
		{Stitch{Base: Chain, Form: Picot, N: 3}, 0, 0, "picot3", "ch-3 picot", "ch-3 picot"},
	} {
		s := test.stitch
		if s.Legs() != test.legs || s.Tops() != test.tops {
			t.Errorf("%s uses %d and makes %d, want %d and %d", test.id, s.Legs(), s.Tops(), test.legs, test.tops)
		}
		if s.ID() != test.id || s.Abbr(US) != test.us || s.Abbr(UK) != test.uk {
			t.Errorf("names are %q, %q (US), %q (UK), want %q, %q, %q", s.ID(), s.Abbr(US), s.Abbr(UK), test.id, test.us, test.uk)
		}
	}
}

func TestValid(t *testing.T) {
	for _, test := range []struct {
		why    string
		stitch Stitch
		want   bool
	}{
		{"no stitch", Stitch{}, false},
		{"plain", SC, true},
		{"a number without a form", Stitch{Base: Single, N: 2}, false},
		{"one stitch together", Stitch{Base: Single, Form: Together, N: 1}, false},
		{"as many together as may be", Stitch{Base: Single, Form: Together, N: MaxTogether}, true},
		{"too many together", Stitch{Base: Single, Form: Together, N: MaxTogether + 1}, false},
		{"chains together", Stitch{Base: Chain, Form: Together, N: 2}, false},
		{"a puff of low posts", Stitch{Base: Single, Form: Puff, N: 3}, false},
		{"a chain round a post", Stitch{Base: Chain, Post: Front}, false},
		{"a bobble round a post", Stitch{Base: Double, Form: Bobble, N: 5, Post: Front}, false},
		{"a picot of posts", Stitch{Base: Double, Form: Picot, N: 3}, false},
		{"a base that there is none of", Stitch{Base: 200}, false},
		{"a form that there is none of", Stitch{Base: Single, Form: 200, N: 2}, false},
		{"a post that there is none of", Stitch{Base: Single, Post: 7}, false},
	} {
		if got := test.stitch.Valid(); got != test.want {
			t.Errorf("%s: Valid is %t, want %t", test.why, got, test.want)
		}
	}
}

func TestStartingChainsAgainstPublishedTable(t *testing.T) {
	for _, row := range rows(t, "starting_chains.tsv") {
		n, counts := named(t, row[0]).StartingChains()
		if strconv.Itoa(n) != row[1] {
			t.Errorf("%s starts with %d chains, published: %s", row[0], n, row[1])
		}
		if want := row[2]; (want == "yes" || want == "no") && counts != (want == "yes") {
			t.Errorf("%s: the starting chain counts: %t, published: %s", row[0], counts, want)
		}
	}
}

func TestSlashesAgainstPublishedTable(t *testing.T) {
	stitches := map[string]Stitch{
		"chain":        Ch,
		"slip stitch":  SlSt,
		"sc inc":       SC, // an increase is its stitches, with their feet joined
		"hdc inc":      HDC,
		"dc inc":       DC,
		"dc cluster 3": {Base: Double, Form: Cluster, N: 3},
		"puff 3 hdc":   {Base: Half, Form: Puff, N: 3},
		"popcorn 5 dc": {Base: Double, Form: Popcorn, N: 5},
		"shell 5 dc":   {Base: Double, Form: Shell, N: 5},
		"picot 3":      {Base: Chain, Form: Picot, N: 3},
	}
	for _, row := range rows(t, "symbols.tsv") {
		s, ok := stitches[first(row[0])]
		if !ok {
			s = named(t, row[0])
		}
		if got := strconv.Itoa(s.Slashes()); got != row[2] {
			t.Errorf("%s: %s slashes, published: %s", row[0], got, row[2])
		}
	}
}

// The heights of sc, hdc and dc are those of rows in published gauges: 7.26,
// 10.16 and 12.70 mm at 13 stitches to 4 in of class 4 yarn.
func TestHeightsAgainstPublishedGauges(t *testing.T) {
	for _, test := range []struct {
		stitch Stitch
		rowMM  float64
	}{{SC, 7.26}, {HDC, 10.16}, {DC, 12.70}} {
		want := test.rowMM / 7.26
		if got := test.stitch.Height(); math.Abs(got-want) > 0.005 {
			t.Errorf("%s is %.3f times as tall as sc, published: %.3f", test.stitch.ID(), got, want)
		}
	}
	order := []Stitch{SlSt, Ch, SC, HDC, DC, TR, DTR, {Base: TripleTreble}}
	for i := range order[1:] {
		if low, high := order[i], order[i+1]; low.Height() >= high.Height() {
			t.Errorf("%s is not lower than %s", low.ID(), high.ID())
		}
	}
}
