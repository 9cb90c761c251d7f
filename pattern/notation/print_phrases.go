package notation

import (
	"strings"

	"roundelay/pattern/stitch"
)

// Phrases are the words round the stitches in one wording. In a form {n} stands
// for a number, {st} for the name of a stitch, {place} for a place; the others
// are told where they occur.
type phrases struct {
	round, rounds                                                  string // label of round {a}; of the {n} rounds {a} to {b}
	afterLabel                                                     string
	count                                                          string // {n} stitches
	afterCount                                                     string
	then                                                           string // between actions
	sentences                                                      bool   // every action is a sentence
	capitals                                                       bool   // an instruction begins with a capital
	stop                                                           string // and ends with this
	verb                                                           string // not said again where the action before began with it
	inMagicRing                                                    string // the place of stitches that begin a piece
	repeat                                                         string // {body} done {n} times in all
	again                                                          string // the same for one stitch
	group                                                          string // {body} worked in {place}
	groupThen                                                      string // between the stitches of a group
	one, many                                                      string // a stitch, {n} stitches in a group
	workPlain                                                      string // one stitch in each of the next {n}; "": as any other place
	workOne                                                        string // a stitch whose name begins with a number, in {place}
	work1, workN                                                   string // one, {n} stitches in {place}
	inc, dec                                                       string // two sc in one stitch, two sc closed to one; "": by their full names
	decrease, noun                                                 string // a stitch over several; a stitch that has no place of its own
	chain                                                          string // {n} chains
	magicRing, chainRing                                           string
	join, joinTop                                                  string // into the first stitch; into the top of {n} chains
	turn                                                           string
	with                                                           string // {yarn}
	loops                                                          [3]string
	loopMode                                                       string // {loop}: all that follows
	in                                                             string // {place}
	loopOf                                                         string // {loop} of {place}
	inLoops                                                        string // {work} in {loop}
	countsAs, countsOver                                           string // said of a starting chain: it counts as {st}; as {st} and {n} chains
	notCounted                                                     string
	next, nextChain, space, gap                                    placeForms // space: of {ch} chains
	skip, skipChain, skipSpace                                     placeForms // passed over
	same, sameChain, ring, fromHook, lastChain, otherSide, ordinal string
}

// PlaceForms name one place, {n} of them one after the other, and all that
// there are in the round below.
type placeForms struct{ one, many, all string }

// englishPhrases has the phrases of English in each [Style], in US terms. They are
// common practice; the short ones follow the rules for written rounds of pattern
// magazines and publishers: a repeat in brackets with how often it is worked in
// all, a group for one place in brackets with the place, the count at the end.
var englishPhrases = [...]phrases{
	Short: {
		round: "Rnd {a}", rounds: "Rnds {a}-{b} ({n} rounds)", afterLabel: ": ", count: "({n})",
		then:   ", ",
		repeat: "({body}) x {n}", again: "({body}) x {n}",
		group: "({body}) {place}", groupThen: ", ", one: "{st}", many: "{n} {st}",
		workPlain: "{st} {n}", work1: "{st} {place}", workOne: "{st} {place}", workN: "{n} {st} {place}",
		inc: "inc", dec: "dec", decrease: "{st}", noun: "{st}",
		chain:     "ch {n}",
		magicRing: "magic ring", inMagicRing: "in magic ring", chainRing: "ch {n}, join with sl st to form a ring",
		join: "join with sl st in first st", joinTop: "join with sl st in top of ch-{n}", turn: "turn",
		with: "with {yarn}", loops: [3]string{BackLoop: "BLO", FrontLoop: "FLO"},
		loopMode: "working in {loop}", in: "in {place}", loopOf: "in {loop} of {place}", inLoops: "{work} in {loop}",
		countsAs: " (counts as {st})", countsOver: " (counts as {st} and ch {n})", notCounted: " (does not count as a st)",
		skip: placeForms{one: "skip next st", many: "skip next {n} sts"}, skipChain: placeForms{one: "skip next ch", many: "skip next {n} ch"},
		skipSpace: placeForms{one: "skip next ch-{ch} sp", many: "skip next {n} ch-{ch} sps"},
		next:      placeForms{"next st", "each of next {n} sts", "each st around"},
		space:     placeForms{"next ch-{ch} sp", "each of next {n} ch-{ch} sps", "each ch-{ch} sp around"},
		gap:       placeForms{one: "between next 2 sts", all: "between each st around"},
		nextChain: placeForms{"next ch", "each of next {n} ch", "each ch"},
		same:      "same st", sameChain: "same ch", ring: "ring",
		fromHook: "{nth} ch from hook", lastChain: "last ch", otherSide: "working along other side of chain",
	},
	Full: {
		round: "Round {a}", rounds: "Rounds {a}-{b} ({n} rounds)", afterLabel: ": ", count: "({n} stitches)",
		then: ", then ", capitals: true, stop: ".", verb: "work ",
		repeat: "({body}) {n} times", again: "({body}) {n} times",
		group: "work ({body}) {place}", groupThen: ", ", one: "1 {st}", many: "{n} {st}",
		work1: "work 1 {st} {place}", workOne: "work a {st} {place}", workN: "work {n} {st} {place}",
		decrease: "{st}", noun: "work 1 {st}",
		chain:     "chain {n}",
		magicRing: "make a magic ring", inMagicRing: "in a magic ring", chainRing: "chain {n} and join with a slip stitch to form a ring",
		join: "join with a slip stitch in the first stitch", joinTop: "join with a slip stitch in the top of the chain-{n}", turn: "turn",
		with: "change to {yarn}", loops: [3]string{BackLoop: "back loop only", FrontLoop: "front loop only"},
		loopMode: "work in the {loop}", in: "in {place}", loopOf: "in the {loop} of {place}", inLoops: "{work} in the {loop}",
		countsAs: " (counts as 1 {st})", countsOver: " (counts as 1 {st} and chain {n})", notCounted: " (does not count as a stitch)",
		skip: placeForms{one: "skip the next stitch", many: "skip the next {n} stitches"}, skipChain: placeForms{one: "skip the next chain", many: "skip the next {n} chains"},
		skipSpace: placeForms{one: "skip the next chain-{ch} space", many: "skip the next {n} chain-{ch} spaces"},
		next:      placeForms{"the next stitch", "each of the next {n} stitches", "each stitch around"},
		space:     placeForms{"the next chain-{ch} space", "each of the next {n} chain-{ch} spaces", "each chain-{ch} space around"},
		gap:       placeForms{one: "between the next 2 stitches", all: "between each stitch around"},
		nextChain: placeForms{"the next chain", "each of the next {n} chains", "each chain"},
		same:      "the same stitch", sameChain: "the same chain", ring: "the ring",
		fromHook: "the {nth} chain from the hook", lastChain: "the last chain", otherSide: "work along the other side of the chain",
	},
	PlainWords: {
		round: "Round {a}", rounds: "Rounds {a} to {b}, {n} rounds", afterLabel: ": ", count: "You should have {n} stitches.",
		then: ". ", sentences: true, capitals: true, stop: ".",
		repeat: "do this {n} times in all. {body}. End of the {n} times", again: "do this {n} times in all. {body}. End of the {n} times",
		group: "work a group {place}. {body}. End of the group", groupThen: ". ", one: "1 {st}", many: "{n} {st}",
		work1: "work 1 {st} {place}", workOne: "work a {st} {place}", workN: "work {n} {st} {place}",
		decrease: "{st}", noun: "work 1 {st}",
		chain:     "chain {n}",
		magicRing: "make a magic ring", inMagicRing: "in a magic ring", chainRing: "chain {n} and join with a slip stitch to form a ring",
		join: "join with a slip stitch in the first stitch", joinTop: "join with a slip stitch in the top of the chain {n}", turn: "turn",
		with: "change to {yarn}", loops: [3]string{BackLoop: "back loop only", FrontLoop: "front loop only"},
		loopMode: "work in the {loop}", in: "in {place}", loopOf: "in the {loop} of {place}", inLoops: "{work} in the {loop}",
		countsAs: ", which counts as 1 {st}", countsOver: ", which counts as 1 {st} and chain {n}", notCounted: ", which does not count as a stitch",
		skip: placeForms{one: "skip the next stitch", many: "skip the next {n} stitches"}, skipChain: placeForms{one: "skip the next chain", many: "skip the next {n} chains"},
		skipSpace: placeForms{one: "skip the next chain {ch} space", many: "skip the next {n} chain {ch} spaces"},
		next:      placeForms{"the next stitch", "each of the next {n} stitches", "each stitch around"},
		space:     placeForms{"the next chain {ch} space", "each of the next {n} chain {ch} spaces", "each chain {ch} space around"},
		gap:       placeForms{one: "between the next 2 stitches", all: "between each stitch around"},
		nextChain: placeForms{"the next chain", "each of the next {n} chains", "each chain"},
		same:      "the same stitch", sameChain: "the same chain", ring: "the ring",
		fromHook: "the {nth} chain from the hook", lastChain: "the last chain", otherSide: "work along the other side of the chain",
	},
}

// Names tells what a stitch is called.
type names func(stitch.Stitch) string

func namesFor(w Wording, style Style) names {
	if style == Short {
		return func(s stitch.Stitch) string { return s.Abbr(w.Terms) }
	}
	return func(s stitch.Stitch) string { return s.Term(w.Terms) }
}

func phrasesFor(w Wording) *phrases {
	p := englishPhrases[w.Style]
	if w.Terms == stitch.UK { // CYC term table
		for _, f := range []*placeForms{&p.skip, &p.skipChain, &p.skipSpace} {
			f.one = strings.Replace(f.one, "skip", "miss", 1)
			f.many = strings.Replace(f.many, "skip", "miss", 1)
		}
	}
	return &p
}
