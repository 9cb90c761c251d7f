package notation

import (
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// A Line is one written round, or a range of rounds worked alike.
type Line struct {
	File     *source.File
	At       source.Span // label, instruction and count
	LabelAt  source.Span // zero if the line has no label
	Label    string      // as written: "Rnd 7-12"; "" if it has none
	First    int         // number of the first round of the line; -1 if none is given
	Last     int         // number of the last one; First, if it is one round
	Rounds   int         // how many rounds the line says it is, as in "(6 rounds)"; 0 if unsaid
	Row      bool        // it says row, not round
	Anew     bool        // its number begins again at 1, on the same piece: an edging, a brim
	Body     []Node      // what to do, in order; empty if nothing was understood
	Declared *Declared   // nil if the line declares no count
	Unread   source.Span // the first words of the instruction that were not understood; zero if all were
	Why      string      // what is wrong with Unread, when something more than unknown words
	Colour   string      // colour or yarn letter that the label names: "Rnd 4 (CC)"
	Weak     bool        // words of a place were not understood; where the counts disagree, that may be why
	Perhaps  bool        // a sentence that may be a round: it is one if the counts agree
	Resume   int         // the round that it is worked on, of an earlier piece, where the text says so; 0 if it goes on
	Onto     int         // the earlier round that it is worked on, where a remark before it says so; 0 for the one before
	Held     int         // how many stitches of earlier rounds were left for it, where a remark says so; -1 if it does not say how many
	Joins    bool        // it joins pieces that are held together; how many stitches those have may not be known
	Prose    bool        // it is told in a sentence, or stands inside a paragraph
	Firm     bool        // of such a sentence: every word of its instruction was understood, and it is of a whole round
	Likely   bool        // of such a sentence: it names the next round, stitches and their count
	As       []*Line     // the lines of another piece that it repeats: "rnds 1-5 as for the body"
	AsNamed  string      // the words that name that piece, folded; "" if it names none
	Chain    ChainRule   // what the line says of its starting chain
	ChainAs  stitch.Base // the stitch that it says the starting chain counts as; NoBase if it says none
}

// A Declared is the count that a written round ends with.
type Declared struct {
	At     source.Span
	Total  int     // the count as one number; -1 if only counts by kind are given
	Kinds  []Count // counts by kind, as in "(24 dc, 12 ch-1 sp)"
	Groups int     // how many groups of stitches; 0 if unsaid
	Spaces int     // how many chain spaces; 0 if unsaid
	Chain  int     // the chains of each space; 0 if unsaid
}

// A Count is a number of stitches of one kind.
type Count struct {
	N    int
	Kind stitch.Stitch
}

// A Node is one instruction. The set is closed: [*Work], [*In], [*Repeat],
// [*Skip], [*Start], [*Join], [*Turn], [*Yarn], [*LoopMode], [*Evenly],
// [*SameAs], [*Aside].
type Node interface {
	Span() source.Span
	node()
}

// at is the place of a node; it makes its type a Node.
type at source.Span

func (a at) Span() source.Span { return source.Span(a) }
func (at) node()               {}

// ToEnd as a number of places or repeats says: until the round below is used up.
const ToEnd = -1

// Work is stitches of one kind: Per of them in each of Places places.
//
//	"sc 3"                    Per 1, Places 3
//	"inc"                     Per 2, Places 1
//	"2 sc in each st around"  Per 2, Places ToEnd
//	"dec" x 3                 Per 1, Places 3, each of them two stitches wide
type Work struct {
	at
	Stitch stitch.Stitch
	Per    int
	Places int // ToEnd: until Leave stitches are left
	Leave  int
	Target Target
	Loop   Loop
	Within bool  // of a starting chain: it is a part of the cluster that comes next, and no stitch
	Doubt  Doubt // TwoInOne: Places could as well be the stitches in one place
}

// In is a group worked into one place: "(2 dc, ch 2, 2 dc) in next ch-2 sp".
type In struct {
	at
	Body   []Node
	Target Target
	Places int // how many such places one after the other; ToEnd for all
}

// Repeat is a group worked several times.
type Repeat struct {
	at
	Body  []Node
	Times int // in all; ToEnd: until Leave stitches are left
	Leave int
	Stop  int    // nodes of Body that the last repeat works, where it is cut short ("ending last rep at **"); 0 if it is whole
	Or    []Node // Body in the other sense of Nth; nil if there is none
	Rest  bool   // what is left when no whole repeat fits is worked plain ("inc in every 5th st")
	Doubt Doubt  // More: Times could as well be counted after a first pass; Bare: no repeat is written, it may go once
}

// Skip passes over stitches or spaces of the round below.
type Skip struct {
	at
	N      int
	Target Target // Next (stitches) or Space
}

// Start begins a piece.
type Start struct {
	at
	Kind   StartKind
	Chains int // of ChainRing and Foundation
}

// Join closes a round with a slip stitch.
type Join struct {
	at
	Doubt   Doubt // SlipIn, of a slip stitch that may be a stitch of the round
	Into    Target
	Opening bool // it joins a yarn where the round begins, and closes nothing
}

// Turn turns the work over.
type Turn struct{ at }

// Yarn changes to another yarn, named by its key or colour.
type Yarn struct {
	at
	Key string
}

// LoopMode changes the loops that what follows is worked into, to the end of
// the round or until it is changed again.
type LoopMode struct {
	at
	Loop Loop
}

// Evenly works the round plain, with N increases or decreases spread evenly.
type Evenly struct {
	at
	Stitch stitch.Stitch // the plain stitch, or NoBase if it is unsaid
	N      int           // increases, or if negative decreases
	To     int           // how many stitches there are then; 0 if N says it
	Thus   bool          // as many as in the round before: "continue in this manner"
}

// SameAs repeats the instruction of earlier rounds on the stitches there are
// now.
type SameAs struct {
	at
	First, Last int  // round numbers
	Times       int  // how often; 1 if unsaid
	Between     int  // "but with 3 dc between increases": how many there are now; 0 if as there
	Further     bool // Between is how many more, or if negative fewer, there are
}

// Aside is a remark inside an instruction. It makes no stitches.
type Aside struct {
	at
	Text string
}

// A StartKind is a way to begin.
type StartKind uint8

// The ways to begin.
const (
	MagicRing  StartKind = iota
	ChainRing            // chains joined to a ring
	SecondCh             // stitches worked into the second chain from the hook
	Foundation           // a chain worked along both its sides
)

// A Target says what stitches are worked into.
type Target struct {
	Where Where
	Loop  bool          // of Space: it is called a loop
	Chain int           // of Space: its chains, 0 if unsaid; of FromHook: which chain
	Kind  stitch.Stitch // of Next: the kind that the place must be, if the text names one

	Behind int // the number of an earlier round that it is in, behind the round below; 0 for that
}

// Where is a kind of place to work into.
type Where uint8

// The kinds of places.
const (
	Next      Where = iota // the next stitch
	Same                   // where the last stitch was worked
	Ring                   // the ring at the start
	Space                  // the next chain space
	Between                // between the next two stitches
	FromHook               // a chain counted from the hook
	Any                    // the next stitch or chain
	Joined                 // where the join was worked: the first stitch
	LastCh                 // the last chain of the foundation
	Corner                 // the space of the next corner
	TopChain               // the top of the starting chain
	Center                 // the middle stitch of the next group (shell, corner)
	First                  // the first stitch: Next, where a round begins
	Elsewhere              // a stitch of another piece, or of the chain between two
)

// Loop says which loops of a stitch are worked into.
type Loop uint8

// Both loops as usual, or one only.
const (
	BothLoops Loop = iota
	BackLoop
	FrontLoop
)

// A Doubt is a way in which a text can be read twice.
type Doubt uint16

// The doubts; they are settled by counting.
const (
	NoDoubt  Doubt = 0
	TwoInOne Doubt = 1 << (iota - 1) // "2sc": two in one stitch, not one in each of two
	More                             // "repeat 5 times": after the first pass, not in all
	Bare                             // "sc 3, inc" alone: all round, not once
	ChainIn                          // the starting chain counts as a stitch
	ChainsIn                         // every chain counts as a stitch
	JoinIn                           // the stitch joined into is worked again
	LastOnly                         // "sc 2, inc x 6": only the last item is repeated, not all of them
	SameNext                         // "2 sc in the same st": both in the next stitch, not in the one worked last
	Cut                              // the last pass "around" ends where the starting chain stands for the rest of it
	TwoTight                         // "2sc", "sc2", without a space: two in one stitch, not one in each of two
	Free                             // a stitch into an earlier round takes no place in the round below
	SlipIn                           // the slip stitch at the end is a stitch of the round, and joins nothing
	Mesh                             // "ch 6, skip 6" in a list: a chain space, not an opening whose chains are stitches of the round
	Leading                          // slip stitches before the round: they lead to where it begins and are none of its stitches
	Counted                          // "..., rep 5 times more, 18 dc": the last stitches named are the count
	Nth                              // "dec every 4 sts": the group is Or, not Body
)
