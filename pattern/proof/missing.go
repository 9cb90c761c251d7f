package proof

import (
	"fmt"
	"regexp"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// missingPoints look for what a reader needs before she can begin. Source of
// what a pattern must have: the advice of publishers and editors merged, as
// common practice; most asked for are gauge, size, amounts and terms.
var missingPoints = []*Point{
	{
		Code: "terms", Severity: source.Warning, Alone: true, Run: termsUnsaid,
		Doc: `the names of the stitches are said to be US or UK

The same names mean different stitches in the two systems: a UK dc is a US sc.
A reader who guesses wrong finds out when the piece is the wrong size.`,
	},
	{
		Code: "hook", Severity: source.Warning, Run: func(p *pass) {
			for _, s := range p.Sizes {
				if s.Hook.MM == 0 {
					p.report(source.Finding{Message: "the hook is not stated in millimetres", Hint: `write [hook] and size = "3 mm"`})
				}
			}
		},
		Doc: `the hook is stated in millimetres

Letters and numbers of hooks differ between makers and countries; millimetres
do not.`,
	},
	{
		Code: "gauge", Severity: source.Warning, Run: func(p *pass) {
			for _, s := range p.Sizes {
				switch g := s.Gauge; {
				case g == nil:
					p.report(source.Finding{
						Message: "there is no gauge, so a reader can't know what size hers will be",
						Hint:    `write [gauge] with stitches, rounds and over = "10 cm", measured in rounds`,
					})
				case g.Rounds == 0:
					p.report(source.Finding{Message: "the gauge has no rounds; how high the piece comes out is estimated", Hint: "count the rounds over the same length and write rounds ="})
				case g.Stitches == 0:
					p.report(source.Finding{Message: "the gauge has no stitches; how wide the piece comes out is estimated", Hint: "count the stitches over the same length and write stitches ="})
				}
			}
		},
		Doc: `there is a gauge

With the gauge a reader finds out after a few rounds, not at the end, that hers
comes out larger, and changes the hook. A toy needs it too: loose stitches show
the stuffing.`,
	},
	{
		Code: "finished-size", Severity: source.Warning, Run: func(p *pass) {
			for _, s := range p.Sizes {
				if s.FinishedSize == "" {
					p.report(source.Finding{At: s.At, Message: "the finished size is not stated", Hint: `write finished_size = "7 cm across", and say what was measured`})
				}
			}
		},
		Doc: `the finished size is stated

A reader decides by it whether to begin, and an editor checks the gauge against
it. Say whether it is across, around or over the curve.`,
	},
	{
		Code: "yarn-amount", Severity: source.Warning, Run: yarnAmount,
		Doc: `every yarn has its weight class and amount

"Small amount" is no amount: a reader can't tell whether her leftover will do.`,
	},
	{
		Code: "yarn-unused", Severity: source.Warning, Run: yarnUnused,
		Doc: `every yarn that is listed is used

A reader buys what is listed.`,
	},
	{
		Code: "notions", Severity: source.Warning, Run: notions,
		Doc: `what the steps need stands in the materials

A reader who has begun should not have to go out again for stuffing or eyes.`,
	},
	{
		Code: "rights", Severity: source.Warning, Run: rights,
		Doc: `author, licence and the line about finished items are there

Whether things made from the pattern may be sold is what readers ask most after
counts. The licence is about the pattern, the other line about what is made.`,
	},
	{
		Code: "version", Severity: source.Warning, Run: version,
		Doc: `version and date are there, and the change list is up to date

A reader with a printed sheet must be able to tell whether hers is the one that
was corrected.`,
	},
	{
		Code: "user", Severity: source.Warning, Run: func(p *pass) {
			if piece := firstPiece(p, func(piece *pattern.Piece) bool { return piece.Stuffed }); piece != nil && p.For == "" {
				p.report(source.Finding{
					Message: fmt.Sprintf("it is not said who it is for, and the piece %q is stuffed", piece.Name),
					Hint:    `write for = "3 years and over", or whoever it is for`,
				})
			}
		},
		Doc: `a stuffed thing says who it is for

What is fit for a shelf may not be fit for a cot.`,
	},
	{
		Code: "level", Severity: source.Note, Run: func(p *pass) {
			if p.Level == "" {
				p.report(source.Finding{Message: "the level is not stated", Hint: `write level = "basic", "easy", "intermediate" or "complex"`})
			}
		},
		Doc: `the level is stated in the trade's words

Basic, easy, intermediate or complex is said of the project, not of the person.
Source: Craft Yarn Council, project levels.`,
	},
	{
		Code: "care", Severity: source.Note, Run: func(p *pass) {
			if p.Care == "" {
				p.report(source.Finding{Message: "it is not said how to wash it", Hint: `write care = "..."`})
			}
		},
		Doc: `it is said how to wash and keep it

What is made is often given away, and whoever gets it does not know the yarn.`,
	},
	{
		Code: "marker", Severity: source.Note, Run: func(p *pass) {
			spiral := firstPiece(p, func(piece *pattern.Piece) bool { return piece.Style == pattern.Spiral })
			if spiral != nil && !p.mentions(markerWord) {
				p.report(source.Finding{
					At:      spiral.At,
					Message: fmt.Sprintf("the piece %q is worked in a spiral, and no marker is mentioned", spiral.Name),
					Hint:    "say in the notes which stitch of the round the marker goes into",
				})
			}
		},
		Doc: `a spiral has a word about the marker

Without a join nothing shows where a round begins. Some put the marker into the
first stitch and some into the last, which is one stitch apart.`,
	},
	{
		Code: "side", Severity: source.Note, Run: func(p *pass) {
			if !p.mentions(sideWord) && firstPiece(p, func(piece *pattern.Piece) bool { return len(piece.Rounds) > 0 }) != nil {
				p.report(source.Finding{Message: "it is not said which side faces out", Hint: "say in the notes that the right side faces out, or when to turn it"})
			}
		},
		Doc: `it is said which side faces out

A cup worked in rounds curls inside out by itself, and many readers go on like
that without knowing that there are two sides.`,
	},
	{
		Code: "photo-alt", Severity: source.Warning, Run: photoAlt,
		Doc: `every picture has its words

A reader who can't see the picture has only these. Five words is little enough
to say what it shows.`,
	},
	{
		Code: "special-stitch", Severity: source.Warning, Run: specialStitch,
		Doc: `a special stitch is explained

A bobble of one maker is the popcorn of another: say how yours is worked, before
the rounds that use it.`,
	},
	{
		Code: "chain-counts", Severity: source.Warning, Alone: true, Run: chainUnsaid,
		Doc: `it is said whether the chain at the start of a round counts

By convention the starting chain of double crochet and taller counts as the first
stitch; but many patterns have it otherwise, and a reader who takes it the wrong
way is off by one in every round.`,
	},
}

var (
	markerWord = regexp.MustCompile(`(?i)\bmarkers?\b|\bmark the (first|last)\b`)
	sideWord   = regexp.MustCompile(`(?i)\b(right|wrong) side\b|\bRS\b|\bWS\b|\bfac(es|ing) out\b|\binside out\b|\bright way out\b`)
	termsWord  = regexp.MustCompile(`\b(US|U\.S\.|UK|U\.K\.)|(?i:\b(American|British)\b)`)
)

// firstPiece returns the first piece for which is holds; nil if there is none.
func firstPiece(p *pass, is func(*pattern.Piece) bool) *pattern.Piece {
	for _, piece := range p.pieces() {
		if is(piece) {
			return piece
		}
	}
	return nil
}

func termsUnsaid(p *pass) {
	if !p.alone || p.read.Language != "en" || termsWord.MatchString(p.File.Text) ||
		firstPiece(p, func(piece *pattern.Piece) bool { return len(piece.Rounds) > 0 }) == nil {
		return // a pattern file can't be loaded without; other languages have one system of names
	}
	message := fmt.Sprintf("it is not said whether the stitches have US or UK names; they are read as %s", p.Terms)
	if p.read.Evidence != "" {
		message += ", for " + p.read.Evidence
	}
	p.report(source.Finding{Message: message, Hint: fmt.Sprintf("write %q before the first round", p.Terms.String()+" terms")})
}

func yarnAmount(p *pass) {
	for _, s := range p.Sizes {
		for _, y := range s.Yarns {
			at := p.yarnAt(y.Key)
			if y.Grams == 0 && y.Metres == 0 {
				p.report(source.Finding{At: at, Message: fmt.Sprintf("it is not said how much of yarn %s is needed", y.Key), Hint: "weigh what you used and write grams ="})
			}
			if y.Weight < 0 {
				p.report(source.Finding{At: at, Message: fmt.Sprintf("the weight class of yarn %s is not stated", y.Key), Hint: "write weight = and a class from 0 (lace) to 7 (jumbo)"})
			}
		}
	}
	if len(p.Yarns) == 0 {
		p.report(source.Finding{Message: "no yarn is listed", Hint: "write a [[yarn]] with key, colour, weight and grams for each"})
	}
}

// yarnAt returns the place of the key of a yarn in the pattern file.
func (p *pass) yarnAt(key string) source.Span {
	m := regexp.MustCompile(`(?m)^[ \t]*key[ \t]*=[ \t]*["']` + regexp.QuoteMeta(key) + `["']`).FindStringIndex(p.File.Text)
	if m == nil {
		return source.Span{}
	}
	line := p.File.Text[m[0]:m[1]]
	return source.Span{From: m[1] - len(strings.TrimLeft(line, " \t")), To: m[1]}
}

func yarnUnused(p *pass) {
	used := make([]bool, len(p.Yarns))
	for _, piece := range p.pieces() {
		for _, r := range piece.Rounds {
			for i := range r.Stitches {
				if y := int(r.Stitches[i].Yarn); y < len(piece.Yarns) && piece.Yarns[y] < len(used) {
					used[piece.Yarns[y]] = true
				}
			}
		}
	}
	for i, y := range p.Yarns {
		if !used[i] && !p.mentions(regexp.MustCompile(`(?i)\b`+regexp.QuoteMeta(y.Key)+`\b`)) && (y.Colour == "" || !p.mentions(regexp.MustCompile(`(?i)`+regexp.QuoteMeta(y.Colour)))) {
			p.report(source.Finding{
				At:      p.yarnAt(y.Key),
				Message: fmt.Sprintf("yarn %s is listed, but no round uses it", y.Key),
				Hint:    "take it out, or say in the rounds where it begins: with " + y.Key,
			})
		}
	}
}

// notionWords are the notions that a step needs, as they are named in
// materials. Source: common practice.
var notionWords = []struct {
	do, name string
	words    *regexp.Regexp
}{
	{"stuff", "stuffing", regexp.MustCompile(`(?i)\b(stuff\w*|fill\w*|fibre|fiber|wadding|scraps?)\b`)},
	{"eyes", "eyes", regexp.MustCompile(`(?i)\b(eyes?|thread|floss|embroider\w*|beads?|buttons?)\b`)},
	{"mark", "a marker", regexp.MustCompile(`(?i)\b(markers?|pins?|safety pins?|thread)\b`)},
}

func notions(p *pass) {
	materials := strings.Join(p.Materials, "\n")
	for _, n := range notionWords {
		for _, piece := range p.pieces() {
			for _, s := range piece.Steps {
				if s.Do == n.do && !n.words.MatchString(materials) {
					p.report(source.Finding{
						At: s.At, Round: s.After,
						Message: fmt.Sprintf("this step needs %s, and the materials list none", n.name),
						Hint:    "add it to materials",
					})
				}
			}
		}
	}
	if stuffed := firstPiece(p, func(piece *pattern.Piece) bool { return piece.Stuffed }); stuffed == nil {
		for _, t := range p.texts() {
			if m := stuffingWord.FindStringIndex(t.words); m != nil && t.key == "materials" {
				p.report(source.Finding{
					At:      t.span(source.Span{From: m[0], To: m[1]}),
					Message: "stuffing is listed, but no piece is stuffed",
					Hint:    "take it out, or add the step that says when to stuff",
				})
			}
		}
	}
}

var stuffingWord = regexp.MustCompile(`(?i)\bstuffing\b`)

func rights(p *pass) {
	if p.Author == "" {
		p.report(source.Finding{Message: "it is not said who made the pattern", Hint: "write author = here or in book.toml"})
	}
	if p.Licence == "" {
		p.report(source.Finding{Message: "the pattern has no licence", Hint: `write licence = here or in book.toml, as in "CC BY 4.0" or "All rights reserved"`})
	}
	if p.FinishedItems == "" {
		p.report(source.Finding{Message: "it is not said what may be done with things made from the pattern", Hint: `write finished_items = "You may sell what you make." or what you wish`})
	}
}

func version(p *pass) {
	if p.Version == "" {
		p.report(source.Finding{Message: "the pattern has no version", Hint: `write version = "1.0"`})
	}
	if p.Date.IsZero() {
		p.report(source.Finding{Message: "the pattern has no date", Hint: "write date = and the day of this version, without quotes"})
	}
	if len(p.Changes) == 0 || p.Version == "" {
		return
	}
	newest := p.Changes[0]
	switch {
	case newest.Version != "" && newest.Version != p.Version:
		p.report(source.Finding{
			At:      p.locate("version", p.Version).span(source.Span{To: len(p.Version)}),
			Message: fmt.Sprintf("this is version %s, but the newest change is of version %s", p.Version, newest.Version),
			Hint:    "add a [[change]] that says what is new, naming the rounds it touches, or correct the version",
		})
	case !p.Date.IsZero() && newest.Date.After(p.Date):
		p.report(source.Finding{
			Message: fmt.Sprintf("the pattern is dated %s, but the newest change %s", p.Date.Format("2006-01-02"), newest.Date.Format("2006-01-02")),
			Hint:    "write the day of the newest change as date",
		})
	}
}

// minAltWords is the least number of words that describe a picture. Source: our
// own proposal.
const minAltWords = 5

func photoAlt(p *pass) {
	words := func(alt string) bool { return len(strings.Fields(alt)) >= minAltWords }
	hint := fmt.Sprintf("say in %d words or more what it shows, and something that gives its size", minAltWords)
	for _, ph := range p.Photos {
		if !words(ph.Alt) {
			p.report(source.Finding{At: ph.At, Message: fmt.Sprintf("the words for %s are too few to picture it by", ph.File), Hint: hint})
		}
	}
	if p.prose == nil {
		return
	}
	for _, i := range p.prose.Images {
		if !words(i.Alt) {
			p.report(source.Finding{File: p.Pattern.Prose, At: i.At, Message: fmt.Sprintf("the words for %s are too few to picture it by", i.File), Hint: hint})
		}
	}
}

func specialStitch(p *pass) {
	seen := map[string]bool{}
	for _, piece := range p.pieces() {
		for _, r := range piece.Rounds {
			for i := range r.Stitches {
				name := specialNames[r.Stitches[i].Kind.Form]
				if name == "" || seen[name] {
					continue
				}
				seen[name] = true
				if p.mentions(regexp.MustCompile(`(?i)\b` + name)) {
					continue
				}
				at := piece.At
				if r.Line != nil {
					at = r.Line.At
				}
				p.report(source.Finding{
					File: lineFile(r.Line), At: at, Round: r.Number,
					Message: fmt.Sprintf("a %s is used, and nothing says how it is worked", name),
					Hint:    fmt.Sprintf("write in notes how your %s is worked", name),
				})
			}
		}
	}
}

// lineFile returns the file of a line; nil of none.
func lineFile(l *notation.Line) *source.File {
	if l == nil {
		return nil
	}
	return l.File
}

// specialNames are the forms that makers work in more than one way.
var specialNames = map[stitch.Form]string{
	stitch.Cluster: "cluster", stitch.Popcorn: "popcorn", stitch.Puff: "puff",
	stitch.Bobble: "bobble", stitch.Picot: "picot", stitch.Invisible: "invisible decrease",
}

var chainWord = regexp.MustCompile(`(?i)\bch(ain)?s?\b[^.\n]*\bcounts?\b|\bcounts?\b[^.\n]*\bch(ain)?s?\b`)

func chainUnsaid(p *pass) {
	for _, piece := range p.pieces() {
		if piece.Chain != notation.ByConvention {
			continue
		}
		for _, r := range piece.Rounds {
			k, ok := chainedFor(r)
			if !ok || r.Line == nil || r.Line.Chain != notation.ByConvention {
				continue
			}
			if _, counts := k.StartingChains(); !counts {
				continue
			}
			hint := `write chain = "counts" or chain = "does not count" under the piece`
			if p.alone {
				if p.found == 0 && chainWord.MatchString(p.File.Text) {
					return
				}
				hint = "say before the first round whether the chain counts as a stitch"
			}
			p.report(source.Finding{
				File: r.Line.File, At: r.Line.At, Round: r.Number,
				Message: fmt.Sprintf("it is not said whether the chain that the round starts with counts as a %s", k.Abbr(p.Terms)),
				Hint:    hint,
			})
			break
		}
	}
}

// chainedFor returns the stitch that the starting chain of a round stands
// beside or for.
func chainedFor(r *notation.Round) (stitch.Stitch, bool) {
	chained := false
	for i := range r.Stitches {
		switch r.Stitches[i].Role {
		case notation.StartingChain:
			chained = true
		case notation.Plain:
			if chained {
				return stitch.Stitch{Base: r.Stitches[i].Kind.Base}, true
			}
			return stitch.Stitch{}, false
		}
	}
	return stitch.Stitch{}, false
}
