package notation

import (
	"fmt"
	"strings"

	"roundelay/pattern/stitch"
)

// englishPhrases has the phrases of English in each [Style], in US terms. They are
// common practice; the short ones follow the rules for written rounds of pattern
// magazines and publishers: a repeat in brackets with how often it is worked in
// all, a group for one place in brackets with the place, the count at the end.
var englishPhrases = [...]phrases{
	Short: {
		round: "Rnd {a}", rounds: "Rnds {a}-{b} ({n} rounds)", afterLabel: ": ", count: "({n})", countLace: "({sts}, {sps})", sts: placeForms{one: "1 st", many: "{n} sts"}, sps: placeForms{one: "1 ch sp", many: "{n} ch sps"},
		then:   ", ",
		repeat: "({body}) x {n}",
		group:  "({body}) {place}", groupThen: ", ", one: "{st}", many: "{n} {st}",
		workPlain: "{st} {n}", work1: "{st} {place}", workOne: "{st} {place}", workN: "{n} {st} {place}",
		inc: "inc", incIn: "inc {place}", dec: "dec", decrease: "{st}", noun: "{st}",
		chain:     "ch {n}",
		magicRing: "magic ring", inMagicRing: "in magic ring", chainRing: "ch {n}, join with sl st to form a ring",
		join: "join with sl st in first st", joinTop: "join with sl st in top of ch-{n}", joinOver: "join with sl st in {nth} ch of ch-{n}", turn: "turn",
		with: "with {yarn}", loops: [3]string{BackLoop: "BLO", FrontLoop: "FLO"},
		loopMode: "working in {loop}", in: "in {place}", loopOf: "in {loop} of {place}", inLoops: "{work} in {loop}",
		countsAs: " (counts as {st})", countsOver: " (counts as {st} and ch {n})", notCounted: " (does not count as a st)",
		skip: placeForms{one: "skip next st", many: "skip next {n} sts"}, skipChain: placeForms{one: "skip next ch", many: "skip next {n} ch"},
		skipSpace: placeForms{one: "skip next ch-{ch} sp", many: "skip next {n} ch-{ch} sps"},
		next:      placeForms{"next st", "each of next {n} sts", "each st around"},
		space:     placeForms{"next ch-{ch} sp", "each of next {n} ch-{ch} sps", "each ch-{ch} sp around"},
		gap:       placeForms{one: "between next 2 sts", all: "between each st around"},
		nextChain: placeForms{"next ch", "each of next {n} ch", "each ch"},
		same:      "same st", sameChain: "same ch", sameSpace: "same sp", ring: "ring",
		fromHook: "{nth} ch from hook", lastChain: "last ch", otherSide: "working along other side of chain",
	},
	Full: {
		round: "Round {a}", rounds: "Rounds {a}-{b} ({n} rounds)", afterLabel: ": ", count: "({sts})", countLace: "({sts}, {sps})", sts: placeForms{one: "1 stitch", many: "{n} stitches"}, sps: placeForms{one: "1 chain space", many: "{n} chain spaces"},
		then: ", then ", capitals: true, stop: ".", verb: "work ",
		repeat: "({body}) {n} times",
		group:  "work ({body}) {place}", groupThen: ", ", one: "1 {st}", many: "{n} {st}",
		work1: "work 1 {st} {place}", workOne: "work a {st} {place}", workN: "work {n} {st} {place}",
		decrease: "{st}", noun: "work 1 {st}",
		chain:     "chain {n}",
		magicRing: "make a magic ring", inMagicRing: "in a magic ring", chainRing: "chain {n} and join with a slip stitch to form a ring",
		join: "join with a slip stitch in the first stitch", joinTop: "join with a slip stitch in the top of the chain-{n}", joinOver: "join with a slip stitch in the {nth} chain of the chain-{n}", turn: "turn",
		with: "change to {yarn}", loops: [3]string{BackLoop: "back loop only", FrontLoop: "front loop only"},
		loopMode: "work in the {loop}", in: "in {place}", loopOf: "in the {loop} of {place}", inLoops: "{work} in the {loop}",
		countsAs: " (counts as 1 {st})", countsOver: " (counts as 1 {st} and chain {n})", notCounted: " (does not count as a stitch)",
		skip: placeForms{one: "skip the next stitch", many: "skip the next {n} stitches"}, skipChain: placeForms{one: "skip the next chain", many: "skip the next {n} chains"},
		skipSpace:   placeForms{one: "skip the next chain-{ch} space", many: "skip the next {n} chain-{ch} spaces"},
		next:        placeForms{"the next stitch", "each of the next {n} stitches", "each stitch around"},
		space:       placeForms{"the next chain-{ch} space", "each of the next {n} chain-{ch} spaces", "each chain-{ch} space around"},
		gap:         placeForms{one: "between the next 2 stitches", all: "between each stitch around"},
		gapOfGroups: "between the next groups",
		nextChain:   placeForms{"the next chain", "each of the next {n} chains", "each chain"},
		behind:      "{place} of round {n}",
		onRound:     "work in the loops of round {n}",
		same:        "the same stitch", sameChain: "the same chain", sameSpace: "the same space", ring: "the ring",
		fromHook: "the {nth} chain from the hook", lastChain: "the last chain", otherSide: "rotate to work along the other side of the chain",
	},
	PlainWords: {
		round: "Round {a}", rounds: "Rounds {a} to {b}, {n} rounds", afterLabel: ": ", count: "You should have {sts}.", countLace: "You should have {sts} and {sps}.", sts: placeForms{one: "1 stitch", many: "{n} stitches"}, sps: placeForms{one: "1 chain space", many: "{n} chain spaces"},
		then: ". ", sentences: true, capitals: true, stop: ".",
		repeat: "do this {n} times in all. {body}. End of the {n} times",
		group:  "work a group {place}. {body}. End of the group", groupThen: ". ", one: "1 {st}", many: "{n} {st}",
		work1: "work 1 {st} {place}", workOne: "work a {st} {place}", workN: "work {n} {st} {place}",
		decrease: "{st}", noun: "work 1 {st}",
		chain:     "chain {n}",
		magicRing: "make a magic ring", inMagicRing: "in a magic ring", chainRing: "chain {n} and join with a slip stitch to form a ring",
		join: "join with a slip stitch in the first stitch", joinTop: "join with a slip stitch in the top of the chain {n}", turn: "turn",
		with: "change to {yarn}", loops: [3]string{BackLoop: "back loop only", FrontLoop: "front loop only"},
		loopMode: "work in the {loop}", in: "in {place}", loopOf: "in the {loop} of {place}", inLoops: "{work} in the {loop}",
		countsAs: ", which counts as 1 {st}", notCounted: ", which does not count as a stitch",
		skip: placeForms{one: "skip the next stitch", many: "skip the next {n} stitches"}, skipChain: placeForms{one: "skip the next chain", many: "skip the next {n} chains"},
		skipSpace:   placeForms{one: "skip the next chain {ch} space", many: "skip the next {n} chain {ch} spaces"},
		next:        placeForms{"the next stitch", "each of the next {n} stitches", "each stitch around"},
		space:       placeForms{"the next chain {ch} space", "each of the next {n} chain {ch} spaces", "each chain {ch} space around"},
		gap:         placeForms{one: "between the next 2 stitches", all: "between each stitch around"},
		gapOfGroups: "between the next groups",
		nextChain:   placeForms{"the next chain", "each of the next {n} chains", "each chain"},
		behind:      "{place} of round {n}",
		onRound:     "work in the loops of round {n}",
		same:        "the same stitch", sameChain: "the same chain", sameSpace: "the same space", ring: "the ring",
		fromHook: "the {nth} chain from the hook", lastChain: "the last chain", otherSide: "rotate to work along the other side of the chain",
	},
}

// spokenName returns the name of a compound stitch without signs, as "popcorn of
// 5 double crochet".
func spokenName(s stitch.Stitch, t stitch.Terms) string {
	of := stitch.Stitch{Base: s.Base}.Term(t)
	if s.Form == stitch.Picot {
		of = "chains"
	}
	term := s.Term(t)
	return fmt.Sprintf("%s of %d %s", term[strings.LastIndexByte(term, ' ')+1:], s.N, of)
}

// miss returns f in UK terms.
func (f placeForms) miss() placeForms {
	f.one = strings.Replace(f.one, "skip", "miss", 1)
	f.many = strings.Replace(f.many, "skip", "miss", 1)
	return f
}

// englishWords are the terms that are not stitches. Names are those of the Craft
// Yarn Council master list, Standards & Guidelines 2018-02-05, except as noted.
var englishWords = vocabulary{
	round:    term{"rnd(s)", "round(s)", "", "CYC master list"},
	stitch:   term{"st(s)", "stitch(es)", "", "CYC master list"},
	space:    term{"sp(s)", "space(s)", "", "CYC master list"},
	back:     term{"BLO", "back loop only", "", "CYC master list"},
	front:    term{"FLO", "front loop only", "", "CYC master list"},
	increase: term{"inc", "increase", "2 {sc} in one stitch", "CYC master list; note common practice"},
	decrease: term{"dec", "decrease", "2 {sc} closed together: draw up a loop in each of the next 2 stitches, draw the yarn through all 3 loops", "CYC master list; note common practice"},
	magic:    term{"", "magic ring", "lay the yarn in a ring, work the first stitches round it, then pull its tail to close it", "common practice"},
}

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
