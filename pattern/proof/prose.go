package proof

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/prose"
	"roundelay/pattern/source"
)

// prosePoints hold what the maker wrote by hand against the rounds.
var prosePoints = []*Point{
	{
		Code: "prose-round", Severity: source.Error, Run: proseRounds,
		Doc: `rounds written out in the prose are those of the pattern

The page shows both, and a reader can't know which is right. The rounds are
compared stitch by stitch, each on the round below as the pattern has it.`,
	},
	{
		Code: "prose-unread", Severity: source.Warning,
		Doc: `rounds written out in the prose can be read

What can't be read can't be compared with the pattern.`,
	},
	{
		Code: "prose-place", Severity: source.Error, Run: prosePlaces,
		Doc: `a directive names a piece, size and rounds that there are

The block would put nothing in its place.`,
	},
	{
		Code: "claim", Severity: source.Warning, Run: claims,
		Doc: `what the words say about the rounds is so

"See round 14" of a piece with 12 rounds, "36 increases" where there are 30,
"through the 8 stitches" after a last round of 6: rounds were changed, and the
words about them were not.`,
	},
	{
		Code: "step-differs", Severity: source.Warning, Run: stepDiffers,
		Doc: `the words and the steps name the same round

If the prose says to stuff after round 8 and the step after round 9, one of the
two was moved and the other forgotten.`,
	},
}

// A candidate is a piece that words may be about.
type candidate struct {
	size  *pattern.Size
	piece *pattern.Piece
}

// about returns the pieces that words are about: those that they name, or else
// all; and of these those of the sizes that they name. Each next words choose
// from what the ones before leave.
func (p *pass) about(words ...string) []candidate {
	if p.candidates == nil {
		for s, piece := range p.pieces() {
			p.candidates = append(p.candidates, candidate{s, piece})
		}
	}
	all := p.candidates
	for _, w := range words {
		all = named(all, w, func(c candidate) string { return c.piece.Name })
		all = named(all, w, func(c candidate) string { return c.size.Name })
	}
	return all
}

// named returns those of all whose name stands in words; all, if none does.
func named(all []candidate, words string, name func(candidate) string) []candidate {
	stands := map[string]bool{}
	var some []candidate
	for _, c := range all {
		n := name(c)
		in, known := stands[n]
		if !known {
			in = names(words, n)
			stands[n] = in
		}
		if in {
			some = append(some, c)
		}
	}
	if len(some) == 0 {
		return all
	}
	return some
}

// names reports whether words hold a name, or its plural, as words of their
// own, whatever the capitals.
func names(words, name string) bool {
	if name == "" {
		return false
	}
	words, name = strings.ToLower(words), strings.ToLower(name)
	for at := 0; ; {
		i := strings.Index(words[at:], name)
		if i < 0 {
			return false
		}
		from := at + i
		before, _ := utf8.DecodeLastRuneInString(words[:from])
		after, _ := utf8.DecodeRuneInString(strings.TrimPrefix(words[from+len(name):], "s"))
		if !isLetter(before) && !isLetter(after) {
			return true
		}
		at = from + len(name)
	}
}

func isLetter(r rune) bool { return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r)) }

// A comparison is a line of the prose worked on the rounds of a piece.
type comparison struct {
	line     *notation.Line
	verdict  notation.Verdict
	findings source.Findings // of the line itself
	differs  []difference    // of its rounds
}

// A difference is how a round of the prose differs from that of the pattern.
type difference struct {
	round   int
	message string
	hint    string
}

// maxCompared is how many lines of the prose are compared with the rounds of a
// piece; it keeps the time that this takes small.
const maxCompared = 5000

func proseRounds(p *pass) {
	left := maxCompared
	for _, passage := range p.passages {
		var best []comparison
		var with candidate
		least := -1
		for _, c := range p.about(passage.Heading) {
			if left -= len(passage.Lines); left < 0 {
				p.report(source.Finding{
					File: p.Pattern.Prose, At: passage.Lines[0].At,
					Message: "there are too many rounds in the prose, for too many pieces, to compare all of them",
					Hint:    "put the rounds of each piece under a heading with its name, or let a directive put them there",
				})
				return
			}
			compared := p.compare(passage, c.piece)
			differ := 0
			for _, cmp := range compared {
				differ += len(cmp.differs)
			}
			if least < 0 || differ < least {
				best, with, least = compared, c, differ
			}
		}
		for i := range best {
			c := &best[i]
			p.out.addRow(p.pieceName(with.size, with.piece), &c.verdict)
			for _, d := range c.differs {
				p.report(source.Finding{File: c.line.File, At: c.line.At, Round: d.round, Message: d.message, Hint: d.hint})
			}
			if len(c.differs) == 0 {
				p.out.Findings = append(p.out.Findings, c.findings...)
			}
		}
	}
}

// compare works the lines of a passage, each on the round of the piece that
// comes before it, and compares what they make with the rounds of the piece.
func (p *pass) compare(passage prose.Passage, piece *pattern.Piece) []comparison {
	var yarns []string
	for _, y := range piece.Yarns {
		if y < len(p.Yarns) {
			yarns = append(yarns, p.Yarns[y].Key)
		}
	}
	var out []comparison
	for _, line := range passage.Lines {
		c := comparison{line: line}
		opt := notation.Options{Yarns: slices.Clone(yarns), AnyYarn: true, Chain: piece.Chain, Joined: piece.Style == pattern.Joined}
		for i, r := range piece.Rounds {
			if r.Number >= line.First {
				break
			}
			opt.After = piece.Rounds[:i+1]
		}
		res := notation.Expand([]*notation.Line{line}, opt)
		c.verdict = res.Verdicts[0]
		for _, f := range res.Findings {
			switch f.Code {
			case "label-gap", "label-order":
				continue // a passage may leave rounds out
			case "unread":
				f.Code, f.Severity = "prose-unread", source.Warning
			}
			c.findings = append(c.findings, f)
		}
		if c.verdict.Word != notation.Unread {
			c.differs = p.differences(res.Rounds[len(opt.After):], piece)
		}
		out = append(out, c)
	}
	return out
}

// differences compares the rounds of the prose with those of the same numbers of
// a piece. Of a range it tells the first that differs.
func (p *pass) differences(rounds []*notation.Round, piece *pattern.Piece) []difference {
	for _, r := range rounds {
		if r.Number == 0 {
			continue
		}
		own := roundNumber(piece, r.Number)
		if own == nil {
			last := 0
			if l := lastRound(piece); l != nil {
				last = l.Number
			}
			return []difference{{
				r.Number,
				fmt.Sprintf("round %d: the piece %q has no such round; its last is round %d", r.Number, piece.Name, last),
				"correct the number, or add the round to the pattern",
			}}
		}
		a, b := ops(r), ops(own)
		n := 0
		for n < min(len(a), len(b)) && a[n].same(b[n]) {
			n++
		}
		if n == len(a) && n == len(b) {
			continue
		}
		word := func(ops []op) string {
			if n >= len(ops) {
				return "nothing more"
			}
			return ops[n].words(p.Terms)
		}
		return []difference{{
			r.Number,
			fmt.Sprintf("round %d: prose makes %d, chart %d; first difference at stitch %d: prose %s, chart %s", r.Number, r.Made, own.Made, made(a[:n])+1, word(a), word(b)),
			"make the two alike; the chart is drawn from " + p.whereIs(own),
		}}
	}
	return nil
}

// made returns how many stitches ops make.
func made(ops []op) int {
	n := 0
	for _, o := range ops {
		n += o.n * o.kind.Tops()
	}
	return n
}

// whereIs names the place of a round in the pattern file.
func (p *pass) whereIs(r *notation.Round) string {
	if r.Line == nil {
		return p.File.Name
	}
	at := r.Line.File.Pos(r.Line.At.From)
	return fmt.Sprintf("%s:%d", at.File, at.Line)
}

func prosePlaces(p *pass) {
	if p.prose == nil {
		return
	}
	for _, d := range p.prose.Directives {
		p.prosePlace(d)
	}
}

func (p *pass) prosePlace(d *prose.Directive) {
	var found []*pattern.Piece
	var sizes, pieces []string
	for i, s := range p.Sizes {
		sizes = append(sizes, s.Name)
		if !strings.EqualFold(d.Size, s.Name) && !(d.Size == "" && i == 0) {
			continue
		}
		for _, piece := range s.Pieces {
			pieces = append(pieces, piece.Name)
			if d.Piece == "" || strings.EqualFold(d.Piece, piece.Name) || d.Piece == piece.Key {
				found = append(found, piece)
			}
		}
	}
	no := func(message, hint string, args ...any) {
		p.report(source.Finding{File: p.Pattern.Prose, At: d.At, Message: fmt.Sprintf(message, args...), Hint: hint})
	}
	switch {
	case d.Size != "" && len(pieces) == 0:
		no("the pattern has no size %q", oneOf(d.Size, sizes), d.Size)
	case len(pieces) == 0: // that is said already
	case len(found) == 0:
		no("the pattern has no piece %q", oneOf(d.Piece, pieces), d.Piece)
	case (d.From > 0 || d.To > 0) && len(found) > 1:
		no("the rounds of which piece is not said", "add piece= and one of "+strings.Join(pieces, ", "))
	default:
		for _, n := range []int{d.From, d.To} {
			if last := lastRound(found[0]); n > 0 && last != nil && roundNumber(found[0], n) == nil {
				no("the piece %q has no round %d", fmt.Sprintf("its last is round %d", last.Number), found[0].Name, n)
			}
		}
	}
}

// oneOf says which of known was meant by a name, or lists them.
func oneOf(name string, known []string) string {
	if near := source.Nearest(name, known); near != "" {
		return fmt.Sprintf("did you mean %s?", near)
	}
	if known = slices.DeleteFunc(known, func(n string) bool { return n == "" }); len(known) > 0 {
		return "there are " + strings.Join(known, ", ")
	}
	return "leave it out"
}

// claimPieces returns the pieces that a claim of a text may be about.
func (p *pass) claimPieces(t *text, c prose.Claim) []candidate {
	under := ""
	switch {
	case t.piece != nil:
		under = t.piece.Name
	case t.key == "":
		under = p.prose.Heading(c.At.From)
	}
	return p.about(t.words[c.Sentence.From:c.Sentence.To], under)
}

func claims(p *pass) {
	texts := p.texts()
	for i := range texts {
		t := &texts[i]
		if t.key == "photo.alt" {
			continue
		}
		if p.found > maxEach {
			return
		}
		for _, c := range p.claims(t) {
			if c.Kind == prose.Event || c.Kind == prose.Measure || t.step != nil && t.step.Do == "close" && c.Kind == prose.Through {
				continue // other points look at these
			}
			if message, hint := p.wrong(c, p.claimPieces(t, c)); message != "" {
				p.report(source.Finding{File: t.file, At: t.span(c.At), Round: c.From, Message: message, Hint: hint})
			}
		}
	}
}

// wrong says what is wrong with a claim, if it holds for none of the pieces that
// it may be about.
func (p *pass) wrong(c prose.Claim, about []candidate) (message, hint string) {
	if len(about) == 0 {
		return "", ""
	}
	var is []string // what is right, of each piece
	for _, a := range about {
		if len(a.piece.Rounds) == 0 {
			return "", ""
		}
		right, holds := p.holds(c, a.piece)
		if holds {
			return "", ""
		}
		if !slices.Contains(is, right) {
			is = append(is, right)
		}
	}
	switch c.Kind {
	case prose.Reference:
		message = fmt.Sprintf("there is no round %d", c.To)
	case prose.Increases:
		message = fmt.Sprintf("%d increases are not what the rounds have", c.N)
	case prose.Decreases:
		message = fmt.Sprintf("%d decreases are not what the rounds have", c.N)
	case prose.Total:
		message = fmt.Sprintf("%d rounds are not as many as there are", c.N)
	case prose.Through:
		message = fmt.Sprintf("%d stitches are not as many as the round has", c.N)
	}
	return message, strings.Join(is, "; ")
}

// holds reports whether a claim holds of a piece, and returns what would be
// right.
func (p *pass) holds(c prose.Claim, piece *pattern.Piece) (right string, holds bool) {
	last := lastRound(piece)
	switch c.Kind {
	case prose.Reference:
		return fmt.Sprintf("the last round of %s is round %d", piece.Name, last.Number), c.From >= 1 && c.To <= last.Number
	case prose.Increases, prose.Decreases:
		shaping, word := p.shaping(piece).increases, "increase"
		if c.Kind == prose.Decreases {
			shaping, word = p.shaping(piece).decreases, "decrease"
		}
		sum, most, any := 0, 0, false
		for i, r := range piece.Rounds {
			n := shaping[i]
			sum += n
			most = max(most, n)
			any = any || n == c.N
			if r.Number == c.From {
				return fmt.Sprintf("round %d of %s has %s", c.From, piece.Name, plural(n, word)), n == c.N
			}
		}
		return fmt.Sprintf("%s has %s in all, at most %d in a round", piece.Name, plural(sum, word), most), c.From > 0 || any || sum == c.N
	case prose.Total:
		n := pieceRounds(piece)
		return fmt.Sprintf("%s has %s", piece.Name, plural(n, "round")), n == c.N
	case prose.Through:
		r := last
		if c.From > 0 {
			r = roundNumber(piece, c.From)
		}
		if r == nil {
			return "", true // that is the Reference
		}
		return fmt.Sprintf("round %d of %s has %s", r.Number, piece.Name, pluralStitches(r.Made)), r.Made == c.N
	}
	return "", true
}

func pluralStitches(n int) string {
	if n == 1 {
		return "1 stitch"
	}
	return fmt.Sprintf("%d stitches", n)
}

func closingCount(p *pass) {
	texts := p.texts()
	for i := range texts {
		t := &texts[i]
		if t.step == nil || t.step.Do != "close" {
			continue
		}
		for _, c := range p.claims(t) {
			r := roundNumber(t.piece, t.step.After)
			if c.Kind != prose.Through || c.From > 0 || r == nil || r.Made == c.N {
				continue
			}
			p.report(source.Finding{
				File: t.file, At: t.span(c.At), Round: r.Number,
				Message: fmt.Sprintf("the closing words name %s; round %d has %d", pluralStitches(c.N), r.Number, r.Made),
				Hint:    fmt.Sprintf("write %d, if the round is right", r.Made),
			})
		}
	}
}

func stepDiffers(p *pass) {
	texts := p.texts()
	for i := range texts {
		t := &texts[i]
		if t.step != nil {
			continue
		}
		for _, c := range p.claims(t) {
			if c.Kind != prose.Event {
				continue
			}
			after, same := stepsAfter(p.claimPieces(t, c), c)
			if same || len(after) == 0 {
				continue
			}
			p.report(source.Finding{
				File: t.file, At: t.span(c.At), Round: c.From,
				Message: fmt.Sprintf("%q is said of after round %d here, but the step comes after %s", c.Do, c.From, strings.Join(after, ", ")),
				Hint:    "make the two alike",
			})
		}
	}
}

// stepsAfter returns the rounds after which the pieces have a step that does
// what a claim says, and whether one of them is the round of the claim.
func stepsAfter(pieces []candidate, c prose.Claim) (after []string, same bool) {
	for _, a := range pieces {
		for _, s := range a.piece.Steps {
			if s.Do != c.Do {
				continue
			}
			if s.After == c.From {
				return nil, true
			}
			if word := fmt.Sprintf("round %d", s.After); !slices.Contains(after, word) {
				after = append(after, word)
			}
		}
	}
	return after, false
}
