package chart

import (
	"fmt"
	"strconv"
	"strings"
	"sync"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// worked makes rounds for tests, without the reader of written rounds: each
// spec is a round in a small notation of its own.
//
//	sc          one stitch into the next stitch ("sc2tog" and such: the next two)
//	dc.3        three into the next stitch
//	sc.b sc.f   through the back or the front loop only
//	dc^         into what the next stitch of the round below is worked into
//	ch          a chain; CH: one of the starting chain; CH!: the last one, counted
//	sk          skip a stitch
//	sp          the next chain space; what stands in the braces goes into it
//	st          the same for the next stitch
//	gap         between the next two stitches
//	join        a slip stitch into the first stitch
//	turn        turn the work
//	yarn1       change yarn
//	n*x         n times the token or the group in parentheses
func worked(specs ...string) []*notation.Round {
	var rounds []*notation.Round
	w := &worker{kinds: kinds()}
	for i, spec := range specs {
		r := &notation.Round{Number: i + 1, Below: i - 1}
		if strings.HasPrefix(spec, "oval ") {
			n, _ := strconv.Atoi(spec[5:])
			r.Number = 0
			r.Start = &notation.Start{Kind: notation.Foundation, Chains: n}
			for range n {
				r.Stitches = append(r.Stitches, notation.Stitch{Kind: stitch.Ch})
			}
			rounds = append(rounds, r)
			continue
		}
		if i > 0 && rounds[0].Number == 0 {
			r.Number = i
		}
		if i == 0 {
			r.Start = &notation.Start{Kind: notation.MagicRing}
			if n, ok := strings.CutPrefix(strings.Fields(spec)[0], "ring"); ok {
				r.Start.Kind = notation.ChainRing
				r.Start.Chains, _ = strconv.Atoi(n)
				spec = strings.TrimPrefix(spec, "ring"+n)
			}
		}
		w.r, w.below, w.at, w.side, w.loop = r, nil, 0, notation.IntoStitch, notation.BothLoops
		if i > 0 {
			w.below = rounds[i-1]
			w.reverse = w.below.Turned != (w.reverse && !w.below.Turned) && w.below.Turned
		}
		w.bases, w.spaces = bases(w.below)
		w.space = 0
		if w.below != nil && w.below.Start != nil && w.below.Start.Kind == notation.Foundation {
			w.side = notation.IntoChain
			n := len(w.below.Stitches)
			w.bases = nil
			for k := range n {
				w.bases = append(w.bases, int32(n-1-k))
			}
		}
		if w.below != nil && w.below.Turned { // worked back over what was made
			for a, b := 0, len(w.bases)-1; a < b; a, b = a+1, b-1 {
				w.bases[a], w.bases[b] = w.bases[b], w.bases[a]
			}
		}
		rest := w.run(tokens(spec))
		if len(rest) > 0 {
			panic(fmt.Sprintf("unread: %q", rest))
		}
		r.Made, r.Used = r.Count(), w.at
		rounds = append(rounds, r)
	}
	return rounds
}

// kinds are the stitches by their names.
var kinds = sync.OnceValue(func() map[string]stitch.Stitch {
	m := map[string]stitch.Stitch{}
	for s := range stitch.All() {
		m[s.ID()] = s
	}
	return m
})

type worker struct {
	kinds   map[string]stitch.Stitch
	r       *notation.Round
	below   *notation.Round
	bases   []int32    // of the round below, in working order
	spaces  [][2]int32 // its chain spaces
	at      int
	space   int
	side    notation.Place
	loop    notation.Loop
	yarn    uint8
	held    *notation.Into // inside braces
	reverse bool
}

// bases returns the counted stitches of r and its chain spaces.
func bases(r *notation.Round) (stitches []int32, spaces [][2]int32) {
	if r == nil {
		return nil, nil
	}
	for i := range r.Stitches {
		s := &r.Stitches[i]
		if s.Counts {
			stitches = append(stitches, int32(i))
		}
		if s.Kind == stitch.Ch && s.Role == notation.Plain {
			if n := len(spaces); n > 0 && spaces[n-1][1] == int32(i-1) {
				spaces[n-1][1]++
			} else {
				spaces = append(spaces, [2]int32{int32(i), int32(i)})
			}
		}
	}
	return stitches, spaces
}

func tokens(spec string) []string {
	for _, c := range []string{"(", ")", "{", "}", "*"} {
		spec = strings.ReplaceAll(spec, c, " "+c+" ")
	}
	return strings.Fields(spec)
}

// run works tokens up to a closing bracket and returns what follows.
func (w *worker) run(ts []string) []string {
	for len(ts) > 0 {
		t := ts[0]
		switch {
		case t == ")" || t == "}":
			return ts
		case len(ts) > 1 && ts[1] == "*":
			n, err := strconv.Atoi(t)
			if err != nil {
				panic(t)
			}
			body := ts[2:]
			var rest []string
			for range n {
				if body[0] == "(" {
					rest = w.run(body[1:])[1:]
				} else {
					w.token(body[0])
					rest = body[1:]
				}
			}
			if n == 0 {
				panic("0 times")
			}
			ts = rest
		case (t == "sp" || t == "st" || t == "gap") && len(ts) > 1 && ts[1] == "{":
			into := notation.Into{Where: notation.IntoSpace, Round: int32(w.r.Below)}
			switch t {
			case "sp":
				into.First, into.Last = w.spaces[w.space][0], w.spaces[w.space][1]
				w.space++
			case "st":
				into.Where, into.First, into.Last = notation.IntoStitch, w.bases[w.at], w.bases[w.at]
				w.at++
			case "gap":
				into.Where, into.First, into.Last = notation.IntoGap, w.bases[w.at], w.bases[w.at+1]
				w.at++
			}
			w.held = &into
			ts = w.run(ts[2:])[1:]
			w.held = nil
		default:
			w.token(t)
			ts = ts[1:]
		}
	}
	return nil
}

func (w *worker) token(t string) {
	add := func(s notation.Stitch) { s.Yarn = w.yarn; w.r.Stitches = append(w.r.Stitches, s) }
	switch t {
	case "sk":
		w.at++
		return
	case "turn":
		w.r.Turned = true
		return
	case "under":
		w.side = notation.IntoUnder
		for a, b := 0, len(w.bases)-1; a < b; a, b = a+1, b-1 {
			w.bases[a], w.bases[b] = w.bases[b], w.bases[a]
		}
		w.at = 0
		return
	case "ch":
		add(notation.Stitch{Kind: stitch.Ch})
		return
	case "CH":
		add(notation.Stitch{Kind: stitch.Ch, Role: notation.StartingChain})
		return
	case "CH!":
		add(notation.Stitch{Kind: stitch.Ch, Role: notation.StartingChain, Counts: true})
		if w.below != nil && w.held == nil {
			w.at++
		}
		return
	case "join":
		first := int32(0)
		for !w.r.Stitches[first].Counts {
			first++
		}
		add(notation.Stitch{Kind: stitch.SlSt, Role: notation.Joining, Into: notation.Into{Where: notation.IntoStitch, Round: -1, First: first, Last: first}})
		w.r.Joined = true
		return
	}
	if n, ok := strings.CutPrefix(t, "yarn"); ok {
		k, _ := strconv.Atoi(n)
		w.yarn = uint8(k)
		return
	}
	t, far := strings.CutSuffix(t, "^")
	name, after, _ := strings.Cut(t, ".")
	kind, ok := w.kinds[name]
	if !ok {
		panic("unknown " + t)
	}
	times := 1
	s := notation.Stitch{Kind: kind, Counts: kind.Form != stitch.Picot}
	switch after {
	case "b":
		s.Loop = notation.BackLoop
	case "f":
		s.Loop = notation.FrontLoop
	case "":
	default:
		times, _ = strconv.Atoi(after)
	}
	switch {
	case kind.Form == stitch.Picot:
		s.Into.Round = -1
	case w.held != nil:
		s.Into = *w.held
	case w.below == nil:
		s.Into = notation.Into{Where: notation.IntoRing, Round: -1, Last: -1}
	default:
		a, b := w.bases[w.at], w.bases[w.at+kind.Legs()-1]
		s.Into = notation.Into{Where: w.side, Round: int32(w.r.Below), First: min(a, b), Last: max(a, b)}
		w.at += kind.Legs()
		if far {
			s.Into = w.below.Stitches[a].Into
		}
	}
	for range times {
		add(s)
	}
}

// piece makes a piece of rounds.
func piece(style pattern.Style, rounds []*notation.Round) *pattern.Piece {
	return &pattern.Piece{Name: "Piece", Key: "piece", Style: style, Rounds: rounds, Yarns: []int{0, 1, 2, 3}}
}

// ball returns the specs of a ball: evenly increased to n, plain rounds, and
// evenly decreased.
func ball(first, steps, plain int) []string {
	specs := []string{fmt.Sprintf("%d*sc", first)}
	for k := 1; k < steps; k++ {
		if k%2 == 0 && k > 1 {
			specs = append(specs, fmt.Sprintf("%d*(%s sc.2 %s)", first, times(k/2, "sc"), times(k-1-k/2, "sc")))
		} else {
			specs = append(specs, fmt.Sprintf("%d*(%s sc.2)", first, times(k-1, "sc")))
		}
	}
	for range plain {
		specs = append(specs, fmt.Sprintf("%d*sc", first*steps))
	}
	for k := steps; k > 1; k-- {
		specs = append(specs, fmt.Sprintf("%d*(%s sc2tog)", first, times(k-2, "sc")))
	}
	return specs
}

func times(n int, t string) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d*%s", n, t)
}
