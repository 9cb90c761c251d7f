package proof

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"roundelay/pattern/prose"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// wordPoints look at the words around the rounds.
var wordPoints = []*Point{
	{
		Code: "promise", Severity: source.Warning, Alone: true, Run: promise,
		Doc: `nothing is promised about how safe it is

A pattern is not a tested product: what a reader makes of it depends on her yarn,
her seams and her stuffing, and the law of the place where it is given or sold
decides. Say what to watch for instead.`,
	},
	{
		Code: "under-three", Severity: source.Error, Run: underThree,
		Doc: `a thing for the smallest children has no parts that come off

Eyes, buttons, beads and bells can be pulled off and swallowed; for children
under three they are embroidered. Source: 16 CFR 1501 (small parts); EN 71-1.`,
	},
	{
		Code: "rights-conflict", Severity: source.Warning, Run: rightsConflict,
		Doc: `licence and finished items do not contradict each other

"You may sell what you make" and "for personal use only" can't both hold.`,
	},
	{
		Code: "other-terms", Severity: source.Warning, Run: otherTerms,
		Doc: `the words use the stitch names that the pattern declares

A UK pattern whose notes say single crochet leaves a reader guessing which of the
two was meant.`,
	},
	{
		Code: "units", Severity: source.Warning, Run: units,
		Doc: `inches and centimetres say the same

One of the two was changed and the other forgotten.`,
	},
	{
		Code: "size-differs", Severity: source.Warning, Run: sizeDiffers,
		Doc: `summary and pictures name the size that is stated

The same thing can't be 6 cm across in one place and 4 cm in another.`,
	},
	{
		Code: "spelling", Severity: source.Note, Run: spelling,
		Doc: `one spelling goes through

Colour and color in one pattern look like two hands at work.`,
	},
}

var (
	promiseWords = regexp.MustCompile(`(?i)\b((?:(?:baby|child|toddler|pet|cot|completely|perfectly|totally)[\s-]+)?safe(?:ly)?\b|compl(?:y|ies|iant)\b|certified\b|suitable from birth\b|(?:CE|UKCA)[\s-]marked\b)`)
	// What the words are part of where they promise nothing.
	noPromiseBefore = regexp.MustCompile(`(?i)\b(not|never|un|isn't|dishwasher|machine|microwave|dryer|washer|wash|keep|keeps|kept|food|colou?r)[\s-]*$`)
	noPromiseAfter  = regexp.MustCompile(`(?i)^[\s-]*(place|distance|in (its|the)|until|at home)\b`)
)

func promise(p *pass) {
	for _, t := range p.texts() {
		for _, m := range promiseWords.FindAllStringIndex(t.words, maxMatches) {
			if noPromiseBefore.MatchString(t.words[max(0, m[0]-20):m[0]]) || noPromiseAfter.MatchString(t.words[m[1]:min(len(t.words), m[1]+20)]) {
				continue
			}
			p.report(source.Finding{
				File: t.file, At: t.span(source.Span{From: m[0], To: m[1]}),
				Message: fmt.Sprintf("%q promises what a pattern can't", t.words[m[0]:m[1]]),
				Hint:    "say what to watch for, and leave the judgement to the law where the reader lives",
			})
		}
	}
}

var (
	// forSmallest is who children under three are, in words of the key for.
	forSmallest = regexp.MustCompile(`(?i)\b(bab(y|ies)|newborns?|infants?|toddlers?|birth|cots?|prams?|under (3|three|2|two|1|one)|from (0|1|2|one|two)\b|months?)\b`)
	notSmallest = regexp.MustCompile(`(?i)\b(not (for|under)|over (3|three)|(3|three) years?|36 months|parents?)\b`)
	looseParts  = regexp.MustCompile(`(?i)\b(safety eyes?|plastic eyes?|glass eyes?|googly eyes?|eyes?|buttons?|beads?|bells?|magnets?|wires?|pellets?|batter(y|ies)|button cells?|squeakers?)\b`)
)

func underThree(p *pass) {
	if !forSmallest.MatchString(p.For) || notSmallest.MatchString(p.For) {
		return
	}
	for _, t := range p.texts() {
		if t.key != "materials" && t.step == nil && t.key != "finishing" || embroideryWord.MatchString(t.words) {
			continue
		}
		for _, m := range looseParts.FindAllStringIndex(t.words, maxMatches) {
			word := t.words[m[0]:m[1]]
			if strings.HasPrefix(strings.ToLower(word), "eye") && (t.step == nil || t.step.Do != "eyes") && t.key != "materials" {
				continue // where the eyes of the face sit, not what they are made of
			}
			p.report(source.Finding{
				File: t.file, At: t.span(source.Span{From: m[0], To: m[1]}),
				Message: fmt.Sprintf("it is for %q, and %s can come off and choke", p.For, strings.ToLower(word)),
				Hint:    "embroider it instead, or say that it is not for children under 3",
			})
			break
		}
	}
}

var (
	maySell    = regexp.MustCompile(`(?i)\b(may|can|free to|welcome to|allowed to)\b[^.]*\bsell\b`)
	mayNotSell = regexp.MustCompile(`(?i)\b(may not|can't|cannot|must not|do not|don't|not)\b[^.]{0,20}\b(sell|be sold)\b|\bpersonal use only\b|\bnot for sale\b|\bnon-?commercial\b`)
)

func rightsConflict(p *pass) {
	if !maySell.MatchString(p.FinishedItems) || mayNotSell.MatchString(p.FinishedItems) {
		return
	}
	for _, t := range p.texts() {
		if t.key == "finished_items" {
			continue
		}
		if m := mayNotSell.FindStringIndex(t.words); m != nil {
			p.report(source.Finding{
				File: t.file, At: t.span(source.Span{From: m[0], To: m[1]}),
				Message: fmt.Sprintf("%q contradicts the line about finished items: %q", t.words[m[0]:m[1]], p.FinishedItems),
				Hint:    "keep one of the two; if this is about the pattern and not what is made from it, say so",
			})
		}
	}
}

// foreignNames are the stitch names that only the other terms have. Source: the
// table of US and UK names; what both have, as dc, tells nothing.
var foreignNames = map[stitch.Terms]*regexp.Regexp{
	stitch.UK: regexp.MustCompile(`(?i)\b(single crochets?|half double crochets?|sc|hdc)\b`),
	stitch.US: regexp.MustCompile(`(?i)\b(half treble( crochet)?s?|htr)\b`),
}

func otherTerms(p *pass) {
	names := foreignNames[p.Terms]
	other := stitch.UK
	if p.Terms == stitch.UK {
		other = stitch.US
	}
	for _, t := range p.texts() {
		for _, m := range names.FindAllStringIndex(t.words, maxMatches) {
			if strings.Contains(t.words[m[1]:min(len(t.words), m[1]+30)], other.String()) || strings.Contains(t.words[max(0, m[0]-30):m[0]], other.String()) {
				continue // told as the name in the other terms
			}
			p.report(source.Finding{
				File: t.file, At: t.span(source.Span{From: m[0], To: m[1]}),
				Message: fmt.Sprintf("%q is a name in %s terms; the pattern is written in %s terms", t.words[m[0]:m[1]], other, p.Terms),
				Hint:    fmt.Sprintf("write the %s name", p.Terms),
			})
		}
	}
}

// near reports whether two lengths are the same as a maker rounds them: within
// a tenth, or 2 mm. Source: our own proposal.
func near(a, b float64) bool { return math.Abs(a-b) <= max(2, 0.1*max(a, b)) }

func units(p *pass) {
	texts := p.texts()
	for i := range texts {
		t := &texts[i]
		for _, c := range p.claims(t) {
			if c.Kind == prose.Measure && c.AlsoMM > 0 && !near(c.MM, c.AlsoMM) {
				p.report(source.Finding{
					File: t.file, At: t.span(c.At),
					Message: fmt.Sprintf("these are two lengths: %s and %s", lengthWords(c.MM), lengthWords(c.AlsoMM)),
					Hint:    "measure again, and correct the one that is wrong",
				})
			}
		}
	}
}

// lengthWords returns a length in both units.
func lengthWords(mm float64) string { return fmt.Sprintf("%.1f cm (%.1f in)", mm/10, mm/25.4) }

func sizeDiffers(p *pass) {
	stated := map[string][]float64{} // by what was measured
	for _, s := range p.Sizes {
		for _, c := range prose.Claims(s.FinishedSize) {
			if c.Kind == prose.Measure && c.What != "" {
				stated[c.What] = append(stated[c.What], c.MM)
			}
		}
	}
	texts := p.texts()
	for i := range texts {
		t := &texts[i]
		if t.key != "summary" && t.key != "photo.alt" {
			continue
		}
		for _, c := range p.claims(t) {
			lengths := stated[c.What]
			if c.Kind != prose.Measure || len(lengths) == 0 || slices.ContainsFunc(lengths, func(mm float64) bool { return near(mm, c.MM) }) {
				continue
			}
			p.report(source.Finding{
				File: t.file, At: t.span(c.At),
				Message: fmt.Sprintf("it is %s %s here, and %s in the finished size", lengthWords(c.MM), c.What, lengthWords(lengths[0])),
				Hint:    "measure again, and correct the one that is wrong",
			})
		}
	}
}

// spellings are words that two spellings of English have apart.
var spellings = []struct{ one, other *regexp.Regexp }{
	{regexp.MustCompile(`(?i)\bcolour\w*`), regexp.MustCompile(`(?i)\bcolor\w*`)},
	{regexp.MustCompile(`(?i)\bgrey\w*`), regexp.MustCompile(`(?i)\bgray\w*`)},
	{regexp.MustCompile(`(?i)\bcentre\w*`), regexp.MustCompile(`(?i)\bcenter\w*`)},
	{regexp.MustCompile(`(?i)\bfibre\w*`), regexp.MustCompile(`(?i)\bfiber\w*`)},
}

func spelling(p *pass) {
	for _, s := range spellings {
		var first, other string
		for _, t := range p.texts() {
			one, two := s.one.FindStringIndex(t.words), s.other.FindStringIndex(t.words)
			if first == "" && one != nil && (two == nil || one[0] < two[0]) {
				first = t.words[one[0]:one[1]]
			} else if first == "" && two != nil {
				first, one, two = t.words[two[0]:two[1]], two, one
				s.one, s.other = s.other, s.one
			}
			if first == "" || other != "" || two == nil {
				continue
			}
			other = t.words[two[0]:two[1]]
			p.report(source.Finding{
				File: t.file, At: t.span(source.Span{From: two[0], To: two[1]}),
				Message: fmt.Sprintf("%q is spelt as in another English than %q before", other, first),
				Hint:    "keep to one spelling",
			})
		}
	}
}
