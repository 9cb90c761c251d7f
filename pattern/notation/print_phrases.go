package notation

import "roundelay/pattern/stitch"

// Phrases are the words round the stitches in one wording. In a form {n} stands
// for a number, {st} for the name of a stitch, {place} for a place; the others
// are told beside it.
type phrases struct {
	round, rounds    string // labels: of round {a}; of the {n} rounds {a} to {b}
	afterLabel       string
	count, countLace string     // of {n} or {sts} stitches; of {sts} and {sps}
	sts, sps         placeForms // {n} stitches, chain spaces, as counted
	then             string     // between actions
	stop             string     // ends an instruction
	capitals         bool       // an instruction begins with a capital
	sentences        bool       // and so does every action
	verb             string     // not said again where the action before began with it

	repeat     string // {body} done {n} times in all
	group      string // {body} worked into one {place}
	groupThen  string // between the stitches of a group
	one, many  string // a stitch of a group; {n} of them
	workPlain  string // one stitch in each of the next {n} places; "" if they are named as any other
	work1      string // one stitch in {place}
	workOne    string // the same, where the name of the stitch begins with a number
	workN      string // {n} stitches in {place}
	inc, incIn string // 2 sc in the next stitch, in {place}; "" if it is said as workN
	dec        string // 2 sc closed together; "" if it is said as decrease
	decrease   string // a stitch over several
	noun       string // a stitch that has no place, or whose place goes without saying
	chain      string // {n} chains
	with       string // {yarn}
	turn       string

	magicRing, chainRing string // a start: a ring; a ring of {n} chains
	inMagicRing          string // the place of stitches that begin a piece
	join, joinTop        string // into the first stitch; into the top of {n} chains
	joinOver             string // into the {nth} of {n} chains that go on; "": as joinTop
	countsAs, countsOver string // said of a starting chain: it counts as {st}; as {st} and {n} chains, "" if that is said in two steps
	notCounted           string
	onRound              string // the round is worked on the earlier round {n}; "": as in English shorthand
	otherSide            string // from here on along the second side of the chain

	in                               string // {place}
	next, nextChain                  placeForms
	behind                           string     // {place} of the earlier round {n}; "": as in English shorthand
	apart                            string     // {place} of another piece; "": as in English
	space                            placeForms // of {ch} chains
	gap                              placeForms // between stitches; said without in
	gapOfGroups                      string     // between groups; "": as in English shorthand
	same, sameChain, sameSpace, ring string
	fromHook                         string // the {nth} chain
	ordinal                          string // {nth}, of {n}; "": 1st, 2nd, 3rd
	lastChain                        string
	skip, skipChain, skipSpace       placeForms // passed over

	loops    [3]string
	loopMode string // {loop}: all that follows
	loopOf   string // in {loop} of {place}
	inLoops  string // {work} in {loop}

	words vocabulary
}

// PlaceForms name one place, {n} of them one after the other, and all that
// there are in the round below.
type placeForms struct{ one, many, all string }

// Vocabulary is the words of a wording that are explained in its list of
// abbreviations.
type vocabulary struct {
	round, stitch, space, back, front, increase, decrease, magic term
}

// Names tell what a stitch is called.
type names struct {
	short, full func(stitch.Stitch) string
}

// lookup returns the phrases and the names of a wording.
func lookup(w Wording) (*phrases, names) {
	if t, ok := tongues[w.language()]; ok {
		return t.marked(), names{t.abbr, t.term}
	}
	p := englishPhrases[w.Style]
	p.words = englishWords
	if w.Terms == stitch.UK { // CYC term table
		p.skip, p.skipChain, p.skipSpace = p.skip.miss(), p.skipChain.miss(), p.skipSpace.miss()
	}
	return &p, names{
		short: func(s stitch.Stitch) string { return s.Abbr(w.Terms) },
		full: func(s stitch.Stitch) string {
			if w.Style == PlainWords && compound(s) {
				return spokenName(s, w.Terms)
			}
			return s.Term(w.Terms)
		},
	}
}
