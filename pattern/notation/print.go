package notation

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern/stitch"
)

// Style is how much of a written round is said in words.
type Style uint8

// The styles.
const (
	Short      Style = iota // "Rnd 3: (sc 1, inc) x 6 (18)"
	Full                    // every stitch and place named in full, repeats in brackets
	PlainWords              // short sentences without brackets, signs or abbreviations, to be read aloud
)

// Wording is the words that rounds are written in. The zero Wording is US
// terms, short.
type Wording struct {
	Terms    stitch.Terms // of English
	Language string       // one of Languages, also as "de-AT"; any other is English. Only English has styles
	Style    Style
	Breaks   []int // numbers of rounds after which no range goes on, as something is done there
}

// language returns the language without its country.
func (w Wording) language() string {
	code, _, _ := strings.Cut(w.Language, "-")
	return code
}

// Written is one written round, or a range of rounds worked alike.
type Written struct {
	First, Last int    // round numbers
	Label       string // "Rnd 3", or "Rnds 7-12 (6 rounds)"
	Text        string // what to do
	Count       string // "(18)"
	Change      int    // stitches more (or, if negative, fewer) than the round below; of a first round, its count

	between string // what stands after Label
}

// String returns the whole line, as "Rnd 3: (sc 1, inc) x 6 (18)".
func (w Written) String() string {
	s := w.Label + w.between + w.Text
	if w.Count != "" {
		s += " " + w.Count
	}
	return s
}

// Print writes rounds, which must be those of one piece in their order. yarns
// are the names of the piece's yarns, as [Stitch.Yarn] counts them.
//
// What is written depends on nothing but the stitches: repeats are found again
// (see compress), places are told from where the work then is, and rounds that
// are worked alike and keep the count become a range. Repeats say how often they
// are worked in all, never how often more; "around" stands only where one
// action fills the whole round.
func Print(rounds []*Round, yarns []string, w Wording) []Written {
	return newPrinter(w).write(rounds, yarns, w.Breaks)
}

// A printer writes nodes in one wording.
type printer struct {
	*phrases
	style      Style
	english    bool
	names      names
	inSingle   bool                  // all since the single crochet last named was single crochet
	shortNames bool                  // "inc" and "dec" are clear: those of single crochet
	begun      int                   // chains of the starting chain
	seen       map[Abbreviation]bool // nil if nobody asks
}

func newPrinter(w Wording) *printer {
	p := &printer{style: w.Style}
	if _, ok := tongues[w.language()]; ok {
		p.style = Short
	} else {
		p.english = true
	}
	p.phrases, p.names = lookup(w)
	return p
}

// called returns what a stitch is called in the style.
func (p *printer) called(s stitch.Stitch) string {
	if p.style == Short {
		return p.names.short(s)
	}
	return p.names.full(s)
}

func (p *printer) write(rounds []*Round, yarns []string, breaks []int) []Written {
	var out []Written
	inHand := uint8(0)
	for i, r := range rounds {
		if isFoundation(rounds, i) && i+1 < len(rounds) {
			continue // told with the round that is worked into it
		}
		var nodes []Node
		nodes, inHand = instruct(rounds, i, inHand, yarns)
		p.shortNames = onlySingles(r) && (p.inSingle || namesSingle(nodes))
		p.inSingle = p.shortNames || p.inSingle && onlySingles(r)
		line := Written{
			First: r.Number, Last: r.Number,
			Text:    p.instruction(nodes),
			Count:   p.counted(r),
			Change:  r.Made,
			between: p.afterLabel,
		}
		if r.Below >= 0 && r.Below < len(rounds) && !isFoundation(rounds, r.Below) {
			line.Change -= rounds[r.Below].Made
		}
		if n := len(out); n > 0 && out[n-1].goesOn(line) && !slices.Contains(breaks, out[n-1].Last) {
			out[n-1].Last = line.Last
			continue
		}
		out = append(out, line)
	}
	for i := range out {
		out[i].Label = p.label(out[i].First, out[i].Last)
	}
	return out
}

// counted writes the count of a round.
func (p *printer) counted(r *Round) string {
	form := p.count
	spaces := places(r, 0).spaces(0)
	if spaces > 0 {
		form = p.countLace
		p.saw(p.words.stitch)
		p.saw(p.words.space)
	}
	return fill(form, "n", strconv.Itoa(r.Made), "sts", p.sts.of(r.Made, 0), "sps", p.sps.of(spaces, 0))
}

// goesOn reports whether next is worked like w and follows it, and neither
// changes the count.
func (w Written) goesOn(next Written) bool {
	return next.First == w.Last+1 && next.Text == w.Text && next.Count == w.Count && w.Change == 0 && next.Change == 0
}

// onlySingles reports whether all stitches of r but chains and slip stitches
// are single crochet.
func onlySingles(r *Round) bool {
	return !slices.ContainsFunc(r.Stitches, func(s Stitch) bool {
		return s.Kind.Base != stitch.Single && s.Kind.Base != stitch.Chain && s.Kind.Base != stitch.Slip
	})
}

// namesSingle reports whether an instruction has single crochet that is no
// increase, so that its name is said.
func namesSingle(nodes []Node) bool {
	return slices.ContainsFunc(nodes, func(n Node) bool {
		switch n := n.(type) {
		case *Work:
			return n.Stitch == stitch.SC && n.Per != 2
		case *inRing:
			return n.work.Stitch == stitch.SC
		case *Repeat:
			return namesSingle(n.Body)
		}
		return false
	})
}

func (p *printer) label(first, last int) string {
	p.saw(p.words.round)
	if first == last {
		return fill(p.round, "a", strconv.Itoa(first))
	}
	return fill(p.rounds, "a", strconv.Itoa(first), "b", strconv.Itoa(last), "n", strconv.Itoa(last-first+1))
}

// list writes nodes one after the other.
func (p *printer) list(nodes []Node) string {
	var b strings.Builder
	goesOn := false // the verb of the action before holds for this one too
	for i, n := range nodes {
		if i > 0 {
			b.WriteString(p.then)
		}
		s := p.action(n)
		if p.style == Short && !consumes(nodes[:i]) {
			s = bareRepeat(s)
		}
		if rest, ok := strings.CutPrefix(s, p.verb); ok && p.verb != "" {
			if goesOn {
				s = rest
			}
			goesOn = true
		} else {
			goesOn = false
		}
		if p.sentences {
			s = capital(s)
		}
		b.WriteString(s)
	}
	return b.String()
}

// bareRepeat takes the brackets off a repeat of one word: "dec x 6". With other
// stitches before it they stay, since "sc 3, dec x 6" can be read as all of it
// six times.
func bareRepeat(s string) string {
	if body, times, ok := strings.Cut(s, ")"); ok && strings.HasPrefix(body, "(") && strings.HasPrefix(times, " x ") && !strings.ContainsAny(body[1:], " ,(") {
		return body[1:] + times
	}
	return s
}

// instruction writes what to do in a round.
func (p *printer) instruction(nodes []Node) string {
	s := p.list(nodes)
	if !p.capitals || s == "" {
		return s
	}
	return capital(s) + p.stop
}

// capital makes the first letter of s a capital, past an opening bracket.
func capital(s string) string {
	i := 0
	if strings.HasPrefix(s, "(") {
		i = 1
	}
	if i < len(s) && s[i] >= 'a' && s[i] <= 'z' {
		return s[:i] + string(s[i]-'a'+'A') + s[i+1:]
	}
	return s
}

func (p *printer) action(n Node) string {
	switch n := n.(type) {
	case *Work:
		return p.work(n)
	case *In:
		if n.Target.Where == Between && n.Places > 1 {
			one := *n
			one.Places = 1
			return p.times(p.action(&one), n.Places)
		}
		return fill(p.group, "body", p.inOnePlace(n.Body), "place", p.placeIn(loopOf(n.Body), n.Target, n.Places))
	case *Repeat:
		return fill(p.repeat, "body", p.list(n.Body), "n", strconv.Itoa(n.Times))
	case *Skip:
		return p.skipped(n)
	case *Start:
		switch n.Kind {
		case MagicRing:
			p.saw(p.words.magic)
			return p.magicRing
		case ChainRing:
			p.sawStitch(stitch.Ch)
			p.sawStitch(stitch.SlSt)
			return fill(p.chainRing, "n", strconv.Itoa(n.Chains))
		}
		return p.chains(n.Chains)
	case *inRing:
		p.saw(p.words.magic)
		return fill(p.workN, "n", strconv.Itoa(n.work.Per), "st", p.name(n.work.Stitch), "place", p.inMagicRing)
	case *onRound:
		p.saw(p.words.round)
		return fill(cmp.Or(p.onRound, "in loops of rnd {n}"), "n", strconv.Itoa(n.number))
	case *otherSide:
		return p.otherSide
	case *startingChain:
		return p.startingChain(n)
	case *Join:
		p.sawStitch(stitch.SlSt)
		switch {
		case n.Into.Where == TopChain && p.begun > n.Into.Chain && p.joinOver != "":
			return fill(p.joinOver, "nth", p.nth(n.Into.Chain), "n", strconv.Itoa(p.begun))
		case n.Into.Where == TopChain:
			return fill(p.joinTop, "n", strconv.Itoa(n.Into.Chain))
		}
		p.saw(p.words.stitch)
		return p.join
	case *Turn:
		return p.turn
	case *Yarn:
		return fill(p.with, "yarn", n.Key)
	case *LoopMode:
		return fill(p.loopMode, "loop", p.loop(n.Loop))
	}
	return ""
}

func (p *printer) startingChain(c *startingChain) string {
	p.begun = c.chains
	switch {
	case c.over > 0 && p.countsOver == "": // in two steps
		p.begun -= c.over
		return p.chains(p.begun) + fill(p.countsAs, "st", p.name(c.as)) + p.then + p.begin(p.chains(c.over))
	case c.over > 0:
		return p.chains(c.chains) + fill(p.countsOver, "st", p.name(c.as), "n", strconv.Itoa(c.over))
	case c.notCounted:
		return p.chains(c.chains) + p.notCounted
	case c.as == stitch.Stitch{}:
		return p.chains(c.chains)
	}
	return p.chains(c.chains) + fill(p.countsAs, "st", p.name(c.as))
}

func (p *printer) chains(n int) string {
	p.sawStitch(stitch.Ch)
	return fill(p.chain, "n", strconv.Itoa(n))
}

// work writes stitches of one kind.
func (p *printer) work(w *Work) string {
	if w.Stitch == stitch.Ch {
		return p.chains(w.Places)
	}
	n, one := strconv.Itoa(w.Places), w.Places == 1
	short := p.shortNames && p.inc != "" && w.Target == Target{}
	switch {
	case short && w.Stitch == stitch.SC && w.Per == 2 && (one || p.incIn != ""):
		p.saw(p.words.increase)
		p.sawStitch(stitch.SC)
		if one {
			return p.inLoop(p.inc, w.Loop)
		}
		return fill(p.incIn, "place", p.placeIn(w.Loop, w.Target, w.Places))
	case short && w.Stitch == stitch.SC2Tog && w.Per == 1:
		p.saw(p.words.decrease)
		p.sawStitch(stitch.SC)
		return p.times(p.inLoop(p.dec, w.Loop), w.Places)
	}
	if w.Target.Where == Between && w.Places > 1 { // no short form says how many
		one := *w
		one.Places = 1
		return p.times(p.work(&one), w.Places)
	}
	st := p.name(w.Stitch)
	switch {
	case w.Stitch.Form == stitch.Picot || w.Stitch.Form == stitch.Invisible && w.Per == 1:
		return p.times(p.inLoop(fill(p.noun, "st", st), w.Loop), w.Places)
	case w.Stitch.IsDecrease() && w.Per == 1:
		return p.times(p.inLoop(fill(p.decrease, "st", st), w.Loop), w.Places)
	case compound(w.Stitch) && w.Per == 1:
		return fill(p.workOne, "st", st, "place", p.placeIn(w.Loop, w.Target, w.Places))
	case compound(w.Stitch): // several in one place: a group, as the name begins with a number
		return fill(p.group, "body", p.inOnePlace([]Node{w}), "place", p.placeIn(w.Loop, w.Target, w.Places))
	case w.Per > 1:
		return fill(p.workN, "n", strconv.Itoa(w.Per), "st", st, "place", p.placeIn(w.Loop, w.Target, w.Places))
	case p.workPlain != "" && w.Target == Target{} && w.Places != ToEnd:
		return p.inLoop(fill(p.workPlain, "st", st, "n", n), w.Loop)
	}
	return fill(p.work1, "st", st, "place", p.placeIn(w.Loop, w.Target, w.Places))
}

// compound reports whether the name of s begins with a number: "5-dc popcorn".
func compound(s stitch.Stitch) bool { return s.Form >= stitch.Cluster }

// placeIn says in which n places, and in which loop of them.
func (p *printer) placeIn(l Loop, t Target, n int) string {
	place := p.place(t, n)
	switch {
	case t.Where == Between:
		return place
	case l != BothLoops:
		return fill(p.loopOf, "loop", p.loop(l), "place", place)
	}
	return fill(p.in, "place", place)
}

// inLoop says the loop after what is done.
func (p *printer) inLoop(s string, l Loop) string {
	if l == BothLoops {
		return s
	}
	return fill(p.inLoops, "work", s, "loop", p.loop(l))
}

// times says that s is done n times in all.
func (p *printer) times(s string, n int) string {
	if n == 1 {
		return s
	}
	return fill(p.repeat, "body", p.begin(s), "n", strconv.Itoa(n))
}

// begin gives s a capital where every action has one.
func (p *printer) begin(s string) string {
	if p.sentences {
		return capital(s)
	}
	return s
}

func (p *printer) loop(l Loop) string {
	if l == BackLoop {
		p.saw(p.words.back)
	} else {
		p.saw(p.words.front)
	}
	return p.loops[l]
}

// loopOf returns the loop that the stitches of a group are worked into; the
// printer is given groups with one loop only.
func loopOf(group []Node) Loop {
	for _, n := range group {
		if w, ok := n.(*Work); ok && w.Loop != BothLoops {
			return w.Loop
		}
	}
	return BothLoops
}

// inOnePlace writes the stitches of a group worked into one place.
func (p *printer) inOnePlace(nodes []Node) string {
	var parts []string
	for _, n := range nodes {
		w, ok := n.(*Work)
		switch {
		case !ok:
			parts = append(parts, p.action(n))
		case w.Stitch == stitch.Ch:
			parts = append(parts, p.chains(w.Places))
		case w.Stitch.Form == stitch.Picot:
			parts = slices.Concat(parts, slices.Repeat([]string{fill(p.noun, "st", p.name(w.Stitch))}, w.Places))
		case compound(w.Stitch):
			parts = slices.Concat(parts, slices.Repeat([]string{p.name(w.Stitch)}, w.Per))
		case w.Per == 1:
			parts = append(parts, fill(p.one, "st", p.name(w.Stitch)))
		default:
			parts = append(parts, fill(p.many, "n", strconv.Itoa(w.Per), "st", p.name(w.Stitch)))
		}
	}
	for i := range parts {
		parts[i] = p.begin(parts[i])
	}
	return strings.Join(parts, p.groupThen)
}

// place names n places of one kind, the next ones from where the work is.
func (p *printer) place(t Target, n int) string {
	var f placeForms
	switch t.Where {
	case Space:
		p.sawStitch(stitch.Ch)
		p.saw(p.words.space)
		f = p.space
	case Between:
		p.saw(p.words.stitch)
		p.saw(p.words.space)
		f = p.gap
		if t.Chain > 0 {
			return cmp.Or(p.gapOfGroups, "between next groups")
		}
	case Ring:
		return p.ring
	case FromHook:
		p.sawStitch(stitch.Ch)
		return fill(p.fromHook, "nth", p.nth(t.Chain))
	case LastCh:
		p.sawStitch(stitch.Ch)
		return p.lastChain
	case Same:
		switch {
		case t.Kind == stitch.Ch:
			p.sawStitch(stitch.Ch)
			return p.sameChain
		case t.Chain > 0:
			p.saw(p.words.space)
			return p.sameSpace
		}
		p.saw(p.words.stitch)
		return p.same
	default:
		f = p.next
		p.saw(p.words.stitch)
		if t.Kind == stitch.Ch {
			p.sawStitch(stitch.Ch)
			f = p.nextChain
		}
	}
	if t.Where == Elsewhere {
		return fill(cmp.Or(p.apart, "{place} of the other piece"), "place", f.of(n, 0))
	}
	if t.Behind > 0 {
		p.saw(p.words.round)
		return fill(cmp.Or(p.behind, "{place} of rnd {n}"), "place", f.of(n, 0), "n", strconv.Itoa(t.Behind))
	}
	return f.of(n, t.Chain)
}

// of fills in the form for n places, of so many chains each.
func (f placeForms) of(n, chains int) string {
	form := f.many
	switch n {
	case 1:
		form = f.one
	case ToEnd:
		form = f.all
	}
	if chains <= 0 { // of a space that is not there
		form = strings.NewReplacer("-{ch}", "", "{ch}-", "", " {ch}", "").Replace(form)
	}
	return fill(form, "n", strconv.Itoa(n), "ch", strconv.Itoa(chains))
}

// skipped writes what is passed over.
func (p *printer) skipped(n *Skip) string {
	switch {
	case n.Target.Where == Space:
		p.sawStitch(stitch.Ch)
		p.saw(p.words.space)
		return p.skipSpace.of(n.N, n.Target.Chain)
	case n.Target.Kind == stitch.Ch:
		p.sawStitch(stitch.Ch)
		return p.skipChain.of(n.N, 0)
	}
	p.saw(p.words.stitch)
	return p.skip.of(n.N, 0)
}

// nth writes a number that names a place in an order.
func (p *printer) nth(n int) string {
	if p.ordinal != "" {
		return fill(p.ordinal, "n", strconv.Itoa(n))
	}
	end := "th"
	if n/10%10 != 1 {
		switch n % 10 {
		case 1:
			end = "st"
		case 2:
			end = "nd"
		case 3:
			end = "rd"
		}
	}
	return strconv.Itoa(n) + end
}

// name returns the name of s.
func (p *printer) name(s stitch.Stitch) string {
	p.sawStitch(s)
	return p.called(s)
}

// fill puts values in the places of a form: of "{n} {st}" those of n and st.
func fill(form string, values ...string) string {
	pairs := make([]string, len(values))
	for i := 0; i < len(values); i += 2 {
		pairs[i], pairs[i+1] = "{"+values[i]+"}", values[i+1]
	}
	return strings.NewReplacer(pairs...).Replace(form)
}
