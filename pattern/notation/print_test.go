package notation

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"roundelay/pattern/golden"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// A hand makes rounds by hand, stitch by stitch, for the printer to write.
type hand struct {
	rounds []*Round
	round  *Round
	next   int // in the round below
	yarn   uint8
	loop   Loop
}

// begin begins a round on the one before it.
func (w *hand) begin() *hand {
	w.round = &Round{Number: len(w.rounds) + 1, Below: len(w.rounds) - 1}
	w.rounds = append(w.rounds, w.round)
	w.next = 0
	return w
}

// ring begins a piece with n stitches in a magic ring.
func (w *hand) ring(n int, k stitch.Stitch) *hand {
	w.begin()
	w.round.Start = &Start{Kind: MagicRing}
	for range n {
		w.put(Stitch{Kind: k, Into: Into{Where: IntoRing, Round: -1, Last: -1}, Counts: true})
	}
	return w
}

func (w *hand) put(s Stitch) {
	s.Yarn = w.yarn
	w.round.Stitches = append(w.round.Stitches, s)
	if s.Counts {
		w.round.Made++
	}
}

func (w *hand) below() []Stitch { return w.rounds[w.round.Below].Stitches }

// place takes legs stitches of the round below.
func (w *hand) place(legs int) Into {
	in := Into{Where: IntoStitch, Round: int32(w.round.Below), First: -1}
	for i := range w.below()[w.next:] {
		if at := w.next + i; w.below()[at].Counts {
			if in.First < 0 {
				in.First = int32(at)
			}
			in.Last = int32(at)
			w.round.Used++
			if legs--; legs == 0 {
				w.next = at + 1
				return in
			}
		}
	}
	panic("the round below is used up")
}

// work works one stitch in each of n places.
func (w *hand) work(n int, k stitch.Stitch) *hand {
	for range n {
		w.in(1, k)
	}
	return w
}

// in works stitches per of a kind in one place.
func (w *hand) in(per int, k stitch.Stitch) *hand {
	at := w.place(k.Legs())
	for range per {
		w.put(Stitch{Kind: k, Into: at, Loop: w.loop, Counts: true})
	}
	return w
}

// startingChain works n chains that count if they are as tall as a stitch.
func (w *hand) startingChain(n int, counts bool) *hand {
	for i := range n {
		w.put(Stitch{Kind: stitch.Ch, Role: StartingChain, Into: Into{Round: -1, Last: -1}, Counts: counts && i == n-1})
	}
	if counts && w.round.Below >= 0 {
		w.place(1)
	}
	return w
}

// join joins the round to its beginning.
func (w *hand) join() *hand {
	w.round.Joined = true
	w.put(Stitch{Kind: stitch.SlSt, Role: Joining, Into: Into{Round: -1, Last: -1}})
	return w
}

// times does f n times.
func (w *hand) times(n int, f func()) *hand {
	for range n {
		f()
	}
	return w
}

var inc = func(w *hand) { w.in(2, stitch.SC) }

// pieces are the pieces of the golden files.
var pieces = map[string]func() []*Round{
	"ball": func() []*Round {
		w := &hand{}
		w.ring(6, stitch.SC)
		w.begin().times(6, func() { inc(w) })
		for n := 1; n < 5; n++ {
			w.begin().times(6, func() { w.work(n, stitch.SC); inc(w) })
		}
		w.begin().times(6, func() { w.work(1, stitch.SC); inc(w); w.work(4, stitch.SC) })
		for range 6 {
			w.begin().work(42, stitch.SC)
		}
		w.begin().times(6, func() { w.work(5, stitch.SC); w.work(1, stitch.SC2Tog) })
		w.begin().work(1, stitch.SC).times(5, func() { w.work(1, stitch.InvDec).work(4, stitch.SC) }).work(1, stitch.InvDec).work(3, stitch.SC)
		w.begin().work(3, stitch.SC).work(12, stitch.SC2Tog).work(3, stitch.SC)
		w.begin().times(9, func() { w.work(1, stitch.SC2Tog) })
		return w.rounds
	},
	"coaster": func() []*Round {
		w := &hand{}
		w.ring(0, stitch.DC).startingChain(3, true)
		for range 11 {
			w.put(Stitch{Kind: stitch.DC, Into: Into{Where: IntoRing, Round: -1, Last: -1}, Counts: true})
		}
		w.join()
		first := Into{IntoStitch, 0, 2, 2}
		w.begin().startingChain(3, true)
		w.put(Stitch{Kind: stitch.DC, Into: first, Counts: true})
		w.work(0, stitch.DC).times(11, func() { w.in(2, stitch.DC) }).join()
		w.begin().startingChain(3, true).in(2, stitch.DC).times(11, func() { w.work(1, stitch.DC).in(2, stitch.DC) }).join()
		w.begin().startingChain(1, false).work(36, stitch.SC).join()
		return w.rounds
	},
	"lace": func() []*Round {
		text := Read(source.NewFile("lace", `
			Rnd 1: ch 4, join with sl st to form a ring, ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3 (12)
			Rnd 2: ch 1, (sc 1, ch 3, skip next st) x 6, join with sl st in first st (6)
			Rnd 3: (2 dc, ch 2, 2 dc) in each ch-3 sp around (24)
			Rnd 4: (dc 1, 5-dc popcorn in next st, 3 sc in next ch-2 sp, dc 2) x 6 (42)
			Rnd 5: (FPdc 1, BPdc 1, ch-3 picot) x 21 (42)
			Rnd 6: sc between each st around (42)`), ReadOptions{Strict: true})
		return Expand(text.Lines(), Options{Strict: true}).Rounds
	},
	"oval": func() []*Round {
		text := Read(source.NewFile("oval", `
			Rnd 1: ch 6, sc in 2nd ch from hook, sc in next 3 ch, 3 sc in last ch, working along other side of chain, sc in next 3 ch, 2 sc in next ch (12)
			Rnd 2: inc, sc 3, inc in each of next 3 sts, sc 3, inc in each of next 2 sts (18)
			Rnd 3: sc 2, hdc 5, sc 11, turn (18)`), ReadOptions{Strict: true})
		return Expand(text.Lines(), Options{Strict: true}).Rounds
	},
	"stripes": func() []*Round {
		w := &hand{}
		w.ring(6, stitch.SC)
		w.yarn = 1
		w.begin().times(6, func() { inc(w) })
		w.yarn = 0
		w.begin().times(4, func() { w.work(2, stitch.SC); w.yarn = 1; inc(w); w.yarn = 0 })
		w.loop = BackLoop
		w.begin().work(16, stitch.SC)
		w.begin()
		w.times(4, func() { w.loop = FrontLoop; w.work(1, stitch.SC); w.loop = BothLoops; w.work(3, stitch.SC) })
		return w.rounds
	},
}

var wordings = []struct {
	name string
	Wording
}{
	{"US short", Wording{}},
	{"UK short", Wording{Terms: stitch.UK}},
	{"US full", Wording{Style: Full}},
	{"UK full", Wording{Terms: stitch.UK, Style: Full}},
	{"US in plain words", Wording{Style: PlainWords}},
	{"UK in plain words", Wording{Terms: stitch.UK, Style: PlainWords}},
}

func TestPrint(t *testing.T) {
	for name, piece := range pieces {
		var b strings.Builder
		for _, w := range wordings {
			fmt.Fprintf(&b, "%s\n\n", w.name)
			for _, line := range Print(piece(), []string{"MC", "CC"}, w.Wording) {
				fmt.Fprintln(&b, line)
			}
			b.WriteByte('\n')
			for _, a := range Abbreviations(piece(), w.Wording) {
				fmt.Fprintf(&b, "%s: %s; %s\n", a.Abbr, a.Term, a.Note)
			}
			b.WriteByte('\n')
		}
		golden.Check(t, "print/"+name+".txt", []byte(b.String()))
	}
}

// TestChange checks the change against the round below.
func TestChange(t *testing.T) {
	var got []string
	for _, line := range Print(pieces["ball"](), nil, Wording{}) {
		got = append(got, fmt.Sprintf("%d-%d%+d", line.First, line.Last, line.Change))
	}
	want := "1-1+6 2-2+6 3-3+6 4-4+6 5-5+6 6-6+6 7-7+6 8-13+0 14-14-6 15-15-6 16-16-12 17-17-9"
	if s := strings.Join(got, " "); s != want {
		t.Errorf("got %s, want %s", s, want)
	}
}

// TestOneMeaning checks the marks of what is printed: repeats are told in all,
// numbers stand apart from stitches, and what is to be heard has no signs and no
// abbreviations.
func TestOneMeaning(t *testing.T) {
	var (
		more   = regexp.MustCompile(`(?i)\b(more|rep|repeat)\b|\*`)
		glued  = regexp.MustCompile(`[0-9](sc|hdc|dc|tr|htr|ch|sts?)\b|\b(sc|hdc|dc|tr|htr|ch)[0-9]\b`)
		spoken = regexp.MustCompile(`^[A-Za-z0-9 ,.:]*$`)
		short  = regexp.MustCompile(`(?i)\b(sc|hdc|dc|tr|htr|dtr|ch|sl|sts?|sps?|inc|dec|rnds?|x|BLO|FLO|tog|invdec)\b`)
	)
	check := func(rounds []*Round) {
		for _, w := range wordings {
			for _, line := range Print(rounds, yarnKeys, w.Wording) {
				s := line.String()
				if more.MatchString(s) || glued.MatchString(s) {
					t.Fatalf("%s: %s", w.name, s)
				}
				if w.Style == PlainWords && (!spoken.MatchString(s) || short.MatchString(s)) {
					t.Fatalf("%s: %s", w.name, s)
				}
			}
		}
	}
	for _, piece := range pieces {
		check(piece())
	}
	for seed := range uint64(100) {
		if rounds := randomPiece(rand.New(rand.NewPCG(seed, 3))); rounds != nil {
			check(rounds)
		}
	}
}

func BenchmarkPrint(b *testing.B) {
	for _, n := range []int{60, 600, 6000} {
		w := new(hand).ring(6, stitch.SC)
		for w.round.Made < n {
			each := w.round.Made/6 - 1
			w.begin().times(6, func() { w.work(each, stitch.SC); inc(w) })
			if each > 20 { // go up in long steps
				w.begin().times(w.rounds[w.round.Below].Made, func() { inc(w) })
			}
		}
		for range 20 {
			w.begin().times(w.rounds[w.round.Below].Made/6, func() { w.work(2, stitch.SC); w.in(1, stitch.DC); w.work(3, stitch.SC) })
		}
		stitches := 0
		for _, r := range w.rounds {
			stitches += len(r.Stitches)
		}
		b.Run(fmt.Sprintf("around=%d", w.round.Made), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Print(w.rounds, nil, Wording{})
			}
			b.ReportMetric(float64(stitches*b.N)/b.Elapsed().Seconds(), "stitches/s")
		})
	}
}

// TestLanguages writes one piece in every language.
func TestLanguages(t *testing.T) {
	for _, name := range []string{"coaster", "ball", "lace"} {
		var b strings.Builder
		for _, lang := range Languages() {
			fmt.Fprintf(&b, "%s\n\n", lang)
			w := Wording{Language: lang}
			for _, line := range Print(pieces[name](), []string{"MC", "CC"}, w) {
				fmt.Fprintln(&b, line)
			}
			b.WriteByte('\n')
			for _, a := range Abbreviations(pieces[name](), w) {
				fmt.Fprintf(&b, "%s: %s; %s\n", a.Abbr, a.Term, a.Note)
			}
			b.WriteByte('\n')
		}
		golden.Check(t, "print/languages-"+name+".txt", []byte(b.String()))
	}
}

// TestLanguageTable tests the words of the languages against the published
// ones.
func TestLanguageTable(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("testdata", "languages.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for line := range strings.Lines(string(b)) {
		row := strings.Split(strings.TrimRight(line, "\n"), "\t")
		tongue, ok := tongues[row[0]]
		if !ok {
			continue
		}
		rows++
		word := func(t term) post { return post{t.abbr, t.name, t.source} }
		concepts := map[string]post{
			"chain": tongue.posts[stitch.Chain], "slip stitch": tongue.posts[stitch.Slip], "sc": tongue.posts[stitch.Single],
			"hdc": tongue.posts[stitch.Half], "dc": tongue.posts[stitch.Double], "tr": tongue.posts[stitch.Treble],
			"increase": word(tongue.words.increase), "decrease": word(tongue.words.decrease), "magic ring": word(tongue.words.magic),
			"round": word(tongue.words.round), "stitch": word(tongue.words.stitch),
		}
		got, ok := concepts[row[1]]
		if !ok {
			continue
		}
		plural := strings.NewReplacer("(n)", "", "(s)", "")
		if plural.Replace(got.term) != row[2] || !strings.Contains(plural.Replace(got.abbr), row[3]) && row[3] != "db" && row[3] != "R" && row[3] != "v" || !strings.HasPrefix(got.basis, row[4]) {
			t.Errorf("%s %s is %q %q (%s), want %q %q (%s)", row[0], row[1], got.term, got.abbr, got.basis, row[2], row[3], row[4])
		}
	}
	if rows < 9*10 {
		t.Errorf("only %d rows", rows)
	}
}

// TestLanguageNames checks that in no language two stitches share a name.
func TestLanguageNames(t *testing.T) {
	for lang, tongue := range tongues {
		seen := map[string]stitch.Base{}
		for base := range tongue.posts {
			abbr := tongue.abbr(stitch.Stitch{Base: base})
			if other, ok := seen[abbr]; ok {
				t.Errorf("%s: %q is both %v and %v", lang, abbr, base, other)
			}
			seen[abbr] = base
		}
	}
}

// TestBreaks checks that a range ends where something is done between rounds.
func TestBreaks(t *testing.T) {
	w := new(hand).ring(6, stitch.SC)
	for range 5 {
		w.begin().work(6, stitch.SC)
	}
	var got []string
	for _, line := range Print(w.rounds, nil, Wording{Breaks: []int{4}}) {
		got = append(got, line.Label)
	}
	want := "Rnd 1|Rnds 2-4 (3 rounds)|Rnds 5-6 (2 rounds)"
	if strings.Join(got, "|") != want {
		t.Errorf("got %s, want %s", strings.Join(got, "|"), want)
	}
}
