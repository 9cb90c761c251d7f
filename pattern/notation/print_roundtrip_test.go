package notation

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

var yarnKeys = []string{"MC", "CC", "Buoy"}

// readBack prints rounds, reads what was printed and works it.
func readBack(rounds []*Round, yarns []string, w Wording) (string, *Result) {
	var b strings.Builder
	for _, line := range Print(rounds, yarns, w) {
		fmt.Fprintln(&b, line)
	}
	text := Read(source.NewFile("printed", b.String()), ReadOptions{Terms: w.Terms, Strict: true, Yarns: yarns})
	res := Expand(text.Lines(), Options{Yarns: yarns, Strict: true})
	res.Findings = slices.DeleteFunc(append(text.Findings, res.Findings...), func(f source.Finding) bool {
		return strings.HasPrefix(f.Code, "label-") // a piece whose rounds are numbered oddly stays so
	})
	return b.String(), res
}

// different tells the first difference between two pieces, or "".
func different(got, want []*Round) string {
	for i := range max(len(got), len(want)) {
		if i >= len(got) || i >= len(want) {
			return fmt.Sprintf("%d rounds, want %d", len(got), len(want))
		}
		g, w := got[i], want[i]
		for j := range max(len(g.Stitches), len(w.Stitches)) {
			if j >= len(g.Stitches) || j >= len(w.Stitches) {
				return fmt.Sprintf("round %d has %d stitches, want %d", w.Number, len(g.Stitches), len(w.Stitches))
			}
			if g.Stitches[j] != w.Stitches[j] {
				return fmt.Sprintf("round %d, stitch %d is %+v, want %+v", w.Number, j, g.Stitches[j], w.Stitches[j])
			}
		}
		if (g.Start == nil) != (w.Start == nil) || g.Start != nil && (g.Start.Kind != w.Start.Kind || g.Start.Chains != w.Start.Chains) {
			return fmt.Sprintf("round %d starts with %+v, want %+v", w.Number, g.Start, w.Start)
		}
		if g.Number != w.Number || g.Made != w.Made || g.Turned != w.Turned || g.Joined != w.Joined {
			return fmt.Sprintf("round %d, made %d, turned %v, joined %v; want %d, %d, %v, %v", g.Number, g.Made, g.Turned, g.Joined, w.Number, w.Made, w.Turned, w.Joined)
		}
	}
	return ""
}

// checkReadBack checks that rounds, printed in each wording, read and worked
// again, are the same stitches.
func checkReadBack(t *testing.T, rounds []*Round, yarns []string) {
	t.Helper()
	for _, w := range wordings {
		text, res := readBack(rounds, yarns, w.Wording)
		d := different(res.Rounds, rounds)
		if d == "" && len(res.Findings) == 0 {
			continue
		}
		if res.Findings != nil {
			d += "\n" + res.Findings.Error()
		}
		t.Fatalf("%s:\n%s%s", w.name, text, d)
	}
}

func TestReadBack(t *testing.T) {
	for name, piece := range pieces {
		t.Run(name, func(t *testing.T) { checkReadBack(t, piece(), yarnKeys) })
	}
}

// TestReadBackLanguages checks that pieces of the usual kinds read back in every
// language.
func TestReadBackLanguages(t *testing.T) {
	for _, lang := range Languages()[1:] {
		for _, name := range []string{"ball", "coaster", "stripes"} {
			yarns := []string{"Foam", "Buoy"} // MC is a slip stitch in French
			rounds := pieces[name]()
			var b strings.Builder
			for _, line := range Print(rounds, yarns, Wording{Language: lang}) {
				fmt.Fprintln(&b, line)
			}
			text := Read(source.NewFile("printed", b.String()), ReadOptions{Yarns: yarns})
			res := Expand(text.Lines(), Options{Yarns: yarns})
			if d := different(res.Rounds, rounds); d != "" || len(res.Findings) > 0 {
				t.Errorf("%s\n%s%s %v", lang, b.String(), d, res.Findings)
			}
		}
	}
}

// TestReadBackRandom checks the same of pieces made by chance.
func TestReadBackRandom(t *testing.T) {
	for seed := range uint64(300) {
		rounds := randomPiece(rand.New(rand.NewPCG(seed, 1)))
		if rounds != nil {
			checkReadBack(t, rounds, yarnKeys)
		}
	}
}

func FuzzReadBack(f *testing.F) {
	for seed := range uint64(20) {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, seed uint64) {
		if rounds := randomPiece(rand.New(rand.NewPCG(seed, 2))); rounds != nil {
			checkReadBack(t, rounds, yarnKeys)
		}
	})
}

// A composer makes up instructions.
type composer struct {
	*rand.Rand
	base   stitch.Base
	joined bool
	colour bool
	posts  bool
}

// randomPiece works a piece of instructions made up by chance. It returns nil
// if they cannot be worked.
func randomPiece(rnd *rand.Rand) []*Round {
	c := composer{Rand: rnd, base: stitch.Single + stitch.Base(rnd.IntN(3)), joined: rnd.IntN(3) == 0, colour: rnd.IntN(4) == 0, posts: rnd.IntN(5) == 0}
	var lines []*Line
	file := source.NewFile("made up", "")
	made, spaces := 0, 0
	for n := 1; n <= 2+rnd.IntN(6); n++ {
		body := c.start()
		if n > 1 {
			body = c.round(made, spaces)
		}
		lines = append(lines, &Line{File: file, First: n, Last: n, Body: body})
		res := Expand(lines, Options{Yarns: yarnKeys, Strict: true})
		last := res.Verdicts[len(res.Verdicts)-1]
		if last.Word != Uncounted {
			return nil
		}
		made, spaces = last.Made, 0
		for i, s := range res.Rounds[len(res.Rounds)-1].Stitches {
			if s.Kind == stitch.Ch && s.Role == Plain && (i == 0 || res.Rounds[len(res.Rounds)-1].Stitches[i-1].Kind != stitch.Ch) {
				spaces++
			}
		}
		if made > 400 || made == 0 {
			return res.Rounds
		}
	}
	return Expand(lines, Options{Yarns: yarnKeys, Strict: true}).Rounds
}

func (c *composer) plain() stitch.Stitch {
	s := stitch.Stitch{Base: c.base}
	if c.IntN(8) == 0 {
		s.Base = stitch.Slip + stitch.Base(c.IntN(5))
	}
	if c.posts && s.Base > stitch.Slip && c.IntN(3) == 0 {
		s.Post = stitch.Front + stitch.Post(c.IntN(2))
	}
	return s
}

func (c *composer) start() []Node {
	n := 3 + c.IntN(10)
	work := func(t Target) *Work { return &Work{Stitch: stitch.Stitch{Base: c.base}, Per: 1, Places: n, Target: t} }
	switch c.IntN(5) {
	case 0:
		return []Node{&Start{Kind: SecondCh, Chains: 2}, work(Target{Where: Ring})}
	case 1:
		return []Node{&Start{Kind: ChainRing, Chains: 4}, work(Target{Where: Ring})}
	case 2: // along both sides of a chain
		in := func(per, places int) *Work {
			return &Work{Stitch: stitch.Stitch{Base: c.base}, Per: per, Places: places}
		}
		body := []Node{&Start{Kind: Foundation, Chains: n + 1}, in(1+c.IntN(2), 1)}
		body[1].(*Work).Target = Target{Where: FromHook, Chain: 2}
		body = append(body, in(1, n-2), in(2+c.IntN(2), 1), in(1, n-2))
		if c.IntN(2) == 0 {
			body = append(body, in(1+c.IntN(2), 1))
		}
		return body
	}
	body := []Node{&Start{Kind: MagicRing}, work(Target{Where: Ring})}
	switch c.IntN(4) {
	case 0:
		body = append(body, work(Target{Where: Ring}))
		body[2].(*Work).Stitch = stitch.Stitch{Base: c.base + 1} // slip stitches to a ring would close it
	case 1:
		body = append(body, &Join{})
	}
	return body
}

// round makes up a round that uses up a round of made stitches.
func (c *composer) round(made, spaces int) []Node {
	var body []Node
	tail := []Node(nil)
	if c.joined {
		n, counts := stitch.Stitch{Base: c.base}.StartingChains()
		body = append(body, &Work{Stitch: stitch.Ch, Per: 1, Places: n})
		if counts {
			made--
			if c.IntN(3) == 0 {
				body = append(body, &Work{Stitch: stitch.Stitch{Base: c.base}, Per: 1 + c.IntN(2), Places: 1, Target: Target{Where: Same}})
			}
		}
		tail = []Node{&Join{}}
	}
	switch k := c.IntN(10); {
	case spaces > 0 && k < 5:
		body = append(body, c.inSpaces(spaces)...)
	case k == 9 && c.IntN(3) == 0:
		between := Target{Where: Between}
		if c.IntN(2) == 0 {
			body = append(body, &Work{Stitch: c.plain(), Per: 1 + c.IntN(2), Places: ToEnd, Target: between})
		} else {
			body = append(body, &Work{Stitch: c.plain(), Per: 1 + c.IntN(2), Places: 1 + c.IntN(max(1, made-1)), Target: between})
		}
	case k == 8 && c.IntN(3) == 0:
		body = append(body, &Repeat{Body: []Node{c.one(1), &Work{Stitch: stitch.Stitch{Base: stitch.Chain, Form: stitch.Picot, N: 3}, Per: 1, Places: 1 + c.IntN(2)}}, Times: made})
	case k == 7 && made > 4 && c.IntN(3) == 0:
		n := c.IntN(3)
		body = append(body, &Repeat{Body: []Node{c.one(1), &Work{Stitch: stitch.Ch, Per: 1, Places: 2}, &Skip{N: 1}}, Times: (made - n) / 2}, &Skip{N: n + (made-n)%2})
	case k == 0:
		body = append(body, &Work{Stitch: c.plain(), Per: 1 + c.IntN(3), Places: ToEnd})
	case k == 1 && made%2 == 0:
		body = append(body, &Repeat{Body: []Node{&Skip{N: 1}, c.one(1), &Work{Stitch: stitch.Ch, Per: 1, Places: 1 + c.IntN(3)}}, Times: made / 2})
	case k == 6 && c.joined && c.base == stitch.Double && c.IntN(2) == 0: // "ch 4 (counts as dc and ch 1)"
		n := 1 + c.IntN(2)
		body = append(body[:0], &Work{Stitch: stitch.Ch, Per: 1, Places: 3 + n}, &Repeat{Body: []Node{&Work{Stitch: stitch.DC, Per: 1, Places: 1}, &Work{Stitch: stitch.Ch, Per: 1, Places: n}}, Times: made})
	default:
		if c.IntN(6) == 0 {
			body = append(body, &LoopMode{Loop: BackLoop})
		}
		body = append(body, c.list(made, 2)...)
	}
	body = append(body, tail...)
	if c.IntN(12) == 0 {
		body = append(body, &Turn{})
	}
	return body
}

// list makes up instructions that use n stitches.
func (c *composer) list(n, depth int) []Node {
	var nodes []Node
	for n > 0 {
		if c.colour && c.IntN(4) == 0 {
			nodes = append(nodes, &Yarn{Key: yarnKeys[c.IntN(len(yarnKeys))]})
		}
		if per := 1 + c.IntN(6); depth > 0 && n >= 2*per && c.IntN(3) > 0 {
			times := 2 + c.IntN(n/per-1)
			nodes = append(nodes, &Repeat{Body: c.list(per, depth-1), Times: times})
			n -= per * times
			continue
		}
		k := 1 + c.IntN(min(n, 5))
		nodes = append(nodes, c.one(k))
		n -= k
	}
	return nodes
}

// one makes up an instruction that uses n stitches.
func (c *composer) one(n int) Node {
	switch k := c.IntN(8); {
	case k == 0 && n >= 2:
		s := stitch.Stitch{Base: c.base, Form: stitch.Together, N: uint8(n)}
		if c.base == stitch.Single && n == 2 && c.IntN(2) == 0 {
			s = stitch.InvDec
		}
		return &Work{Stitch: s, Per: 1, Places: 1}
	case k == 1:
		return &Work{Stitch: stitch.Stitch{Base: c.base}, Per: 2 + c.IntN(2), Places: n}
	case k == 2 && c.IntN(3) == 0:
		return &In{Body: []Node{&Work{Stitch: c.plain(), Per: 1 + c.IntN(2), Places: 1}, &Work{Stitch: stitch.Ch, Per: 1, Places: 1 + c.IntN(3)}, &Work{Stitch: c.plain(), Per: 2, Places: 1}}, Places: n}
	case k == 3 && c.IntN(3) == 0:
		form := []stitch.Stitch{{Base: stitch.Double, Form: stitch.Popcorn, N: 5}, {Base: stitch.Double, Form: stitch.Bobble, N: 4}, {Base: stitch.Double, Form: stitch.Cluster, N: 3}, {Base: stitch.Half, Form: stitch.Puff, N: 3}}
		return &Work{Stitch: form[c.IntN(len(form))], Per: 1, Places: n}
	case k == 4 && c.IntN(3) == 0:
		return &Work{Stitch: stitch.Stitch{Base: c.base}, Per: 1, Places: n, Loop: BackLoop + Loop(c.IntN(2))}
	}
	return &Work{Stitch: c.plain(), Per: 1, Places: n}
}

// inSpaces makes up instructions that work into n chain spaces.
func (c *composer) inSpaces(n int) []Node {
	space := Target{Where: Space}
	switch c.IntN(4) {
	case 0:
		return []Node{&Work{Stitch: c.plain(), Per: 1 + c.IntN(3), Places: ToEnd, Target: space}}
	case 2:
		if n%2 == 0 {
			return []Node{&Repeat{Body: []Node{&Skip{N: 1, Target: space}, &Work{Stitch: c.plain(), Per: 3, Places: 1, Target: space}, &Work{Stitch: stitch.Ch, Per: 1, Places: 3}}, Times: n / 2}}
		}
		return []Node{&Repeat{Body: []Node{&Work{Stitch: c.plain(), Per: 1, Places: 1}, &Work{Stitch: c.plain(), Per: 2, Places: 1, Target: space}}, Times: n}}
	case 1:
		return []Node{&Repeat{Body: []Node{&Work{Stitch: c.plain(), Per: 1 + c.IntN(3), Places: 1, Target: space}, &Work{Stitch: stitch.Ch, Per: 1, Places: 1 + c.IntN(2)}}, Times: n}}
	}
	return []Node{&Repeat{Body: []Node{&In{Body: []Node{&Work{Stitch: c.plain(), Per: 2, Places: 1}, &Work{Stitch: stitch.Ch, Per: 1, Places: 2}, &Work{Stitch: c.plain(), Per: 2, Places: 1}}, Target: space, Places: 1}}, Times: n}}
}

// TestReadBackCorpus checks the same of every written pattern of the corpus
// that is in English and can be worked.
func TestReadBackCorpus(t *testing.T) {
	files, err := filepath.Glob("../../testdata/corpus/u[sk]-*")
	if err != nil || len(files) == 0 {
		t.Fatal("no corpus", err)
	}
	worked := 0
	for _, file := range files {
		if strings.HasSuffix(file, ".tsv") {
			continue
		}
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		terms := stitch.US
		if strings.HasPrefix(filepath.Base(file), "uk-") {
			terms = stitch.UK
		}
		text := Read(source.NewFile(file, string(b)), ReadOptions{Terms: terms})
		for i, part := range text.Parts() {
			res := Expand(part.Lines, Options{AnyYarn: true})
			if slices.ContainsFunc(res.Verdicts, func(v Verdict) bool { return v.Word != OK && v.Word != Uncounted || v.Made == 0 }) {
				continue
			}
			worked++
			t.Run(fmt.Sprintf("%s/%d", filepath.Base(file), i), func(t *testing.T) { checkReadBack(t, res.Rounds, res.Yarns) })
		}
	}
	t.Logf("%d pieces", worked)
}
